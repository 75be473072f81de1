package cutstock

import (
	"cmp"
	"math"
	"slices"
)

// Pricing: the pattern of each kind whose prices add up to the most, with each type bounded by what is needed. Two
// methods: depth-first search with the ratio bound, which does not care how fine the unit of length is and is quick when few
// items fit a piece; and a table over capacities, which is quick when the capacity is a small number. The search
// goes first and gives way to the table when it visits too many nodes. Prices are whole numbers, so both are exact.
// Reference: S. Martello, P. Toth, Knapsack Problems (1990), sections 2.5.1 and 3.4 (search and table).

// priced is the answer for one kind.
type priced struct {
	items []entry
	value int64 // prices of the items plus the worth of the leftover, in price units
	bound int64 // no pattern of the kind is worth more; equal to value when the answer is exact
}

const (
	lateSteps  = 1 << 20 // steps of one search when the table is too large
	tableCells = 4 << 20 // largest table, in cells of one byte
	leastSteps = 200     // steps of one search however small the table is
	quickCells = 500_000 // a table larger than this is put off while a short search finds patterns
	quickSteps = 600     // steps of a short search
	coarseSize = 50_000  // cells of a coarse table
)

// pricer holds the scratch memory of the knapsack methods.
type pricer struct {
	p     *problem
	scale int64 // price units per unit of cost
	types []pricedType
	best  []int64 // table: best value within each capacity
	taken []bool  // table: whether pass n is taken at capacity c
	// state of a search
	kind  int
	worth float64 // price units per unit of free capacity that a leftover is worth at most, beyond base
	base  int64   // what the length lost when the capacity was rounded to whole units is worth at most
	steps int64   // left to the search
	value int64
	count []int64
	found []int64
	have  bool
}

// pricedType is a type with a positive price, in order of price per size.
type pricedType struct {
	item  int
	size  int64
	price int64
	most  int64
	ratio float64
	least int64 // smallest size among this and all later types
}

// load sets the prices and the needs for the following calls.
func (pr *pricer) load(prices []int64, need []int64) {
	pr.types = pr.types[:0]
	for i, w := range prices {
		if w > 0 && need[i] > 0 {
			size := pr.p.size[i]
			most := min(need[i], pr.p.kinds[0].capacity/size)
			pr.types = append(pr.types, pricedType{i, size, w, most, float64(w) / float64(size), 0})
		}
	}
	slices.SortFunc(pr.types, func(a, b pricedType) int {
		return cmp.Or(cmp.Compare(b.ratio, a.ratio), cmp.Compare(a.item, b.item))
	})
	least := int64(math.MaxInt64)
	for n := len(pr.types) - 1; n >= 0; n-- {
		least = min(least, pr.types[n].size)
		pr.types[n].least = least
	}
}

// price answers for every kind with free pieces. floor[k] is a value that a pattern of kind k must exceed to be of
// interest: answers that do not are not returned in full, only bounded by it. When the table is large, a short
// search that has found something of interest is answer enough; its bounds are then weak. When it has not, a coarse
// answer holds bounds only, a little above the truth.
func (pr *pricer) price(free, floor []int64, coarse bool) []priced {
	out := make([]priced, len(pr.p.kinds))
	passes, width := pr.passes(free)
	cells := int64(len(passes)) * width
	steps := min(max(cells/int64(2*len(free)), leastSteps), lateSteps)
	if cells > quickCells {
		if pr.searchAll(out, free, floor, min(steps, quickSteps)) || slices.ContainsFunc(out, priced.interesting) {
			return out
		}
		if coarse {
			pr.coarseBounds(out, free, passes, width)
			return out
		}
	}
	switch {
	case pr.searchAll(out, free, floor, steps):
	case cells <= tableCells:
		pr.table(passes, width)
		pr.readTable(out, free, passes, width)
	case steps < lateSteps:
		pr.searchAll(out, free, floor, lateSteps)
	}
	return out
}

// interesting reports whether the answer holds a pattern.
func (a priced) interesting() bool { return a.items != nil }

// searchAll searches for every kind with free pieces that is not answered exactly yet, and reports whether all are now.
func (pr *pricer) searchAll(out []priced, free, floor []int64, steps int64) bool {
	exact := true
	for k := range pr.p.kinds {
		if free[k] > 0 && (out[k].bound == 0 || out[k].bound > out[k].value) {
			out[k] = pr.search(k, floor[k], steps)
			exact = exact && out[k].bound == out[k].value
		}
	}
	return exact
}

// search looks for the best pattern of kind k worth more than floor, and stops early after so many steps.
func (pr *pricer) search(k int, floor, steps int64) priced {
	kd := &pr.p.kinds[k]
	pr.kind, pr.steps, pr.value, pr.have = k, steps, floor, false
	pr.worth, pr.base = 0, 0
	if kd.worth {
		share := float64(pr.p.in.Leftover.SharePerMille) / 1000
		stock := pr.p.in.Stock[kd.stocks[0]]
		perLength := share * float64(kd.cost) / float64(stock.Length) * float64(pr.scale)
		pr.worth = perLength * float64(pr.p.unit)
		pr.base = int64(perLength*float64(max(0, kd.usable-kd.capacity*pr.p.unit))) + 1
	}
	pr.count = append(pr.count[:0], make([]int64, len(pr.types))...)
	pr.found = append(pr.found[:0], pr.count...)
	pr.dive(0, kd.capacity, 0)
	pr.p.budget.spend(4 * (steps - pr.steps))
	ans := priced{value: pr.value, bound: pr.value}
	if pr.have {
		ans.items = pr.entries(pr.found)
	}
	if pr.steps <= 0 {
		ans.bound = max(pr.value, pr.ratioBound(0, kd.capacity, 0))
	}
	return ans
}

// entries writes counts of priced types as a pattern.
func (pr *pricer) entries(count []int64) []entry {
	var items []entry
	for n, q := range count {
		if q > 0 {
			items = append(items, entry{pr.types[n].item, q})
		}
	}
	slices.SortFunc(items, func(a, b entry) int { return cmp.Compare(a.item, b.item) })
	return items
}

// ratioBound returns a value that filling free capacity with types n and later cannot exceed.
func (pr *pricer) ratioBound(n int, free, value int64) int64 {
	extra, whole := 0.0, free
	for ; n < len(pr.types) && free > 0; n++ {
		t := &pr.types[n]
		pr.steps--
		if t.least > whole || t.ratio <= pr.worth {
			break
		}
		if t.size > whole {
			continue
		}
		if t.most*t.size > free {
			return value + pr.base + int64((extra+float64(free)*t.ratio)*(1+1e-12)) + 1
		}
		extra += float64(t.most * t.price)
		free -= t.most * t.size
	}
	return value + pr.base + int64((extra+float64(free)*pr.worth)*(1+1e-12)) + 1
}

// dive extends the present counts by types n and later.
func (pr *pricer) dive(n int, free, value int64) {
	total := value
	if pr.worth > 0 {
		total += pr.p.leftoverValue(pr.kind, free) * pr.scale
	}
	if total > pr.value {
		pr.value, pr.have = total, true
		copy(pr.found, pr.count)
	}
	for ; n < len(pr.types) && pr.steps > 0; n++ {
		pr.steps--
		t := &pr.types[n]
		if t.least > free || value+pr.base+int64(float64(free)*max(t.ratio, pr.worth)*(1+1e-12))+1 <= pr.value {
			return
		}
		for q := min(t.most, free/t.size); q > 0 && pr.steps > 0; q-- {
			pr.count[n] = q
			rest := free - q*t.size
			if pr.ratioBound(n+1, rest, value+q*t.price) > pr.value {
				pr.dive(n+1, rest, value+q*t.price)
			}
		}
		pr.count[n] = 0
	}
}

// pass offers the table mult pieces of a priced type as one.
type pass struct{ typ, mult int64 }

// passes splits the pieces of every type into powers of two and a rest, so that every number of pieces up to the most
// is a sum of passes, and returns the width of the table.
func (pr *pricer) passes(free []int64) ([]pass, int64) {
	top := int64(0)
	for k, kd := range pr.p.kinds {
		if free[k] > 0 {
			top = max(top, kd.capacity)
		}
	}
	var list []pass
	for n, t := range pr.types {
		left := min(t.most, top/t.size)
		for mult := int64(1); left > 0; mult *= 2 {
			q := min(mult, left)
			list = append(list, pass{int64(n), q})
			left -= q
		}
	}
	return list, top + 1
}

// table fills in the best value within each capacity.
func (pr *pricer) table(passes []pass, width int64) {
	pr.best = append(pr.best[:0], make([]int64, width)...)
	pr.taken = append(pr.taken[:0], make([]bool, int64(len(passes))*width)...)
	for n, ps := range passes {
		t := &pr.types[ps.typ]
		tablePass(pr.best, pr.taken[int64(n)*width:int64(n+1)*width], t.size*ps.mult, t.price*ps.mult)
	}
	pr.p.budget.spend(int64(len(passes)) * width)
}

// readTable answers for every kind with free pieces.
func (pr *pricer) readTable(out []priced, free []int64, passes []pass, width int64) {
	for k, kd := range pr.p.kinds {
		if free[k] == 0 {
			continue
		}
		at, value := kd.capacity, pr.best[kd.capacity]
		if kd.worth {
			for c := range kd.capacity + 1 {
				if v := pr.best[c] + pr.p.leftoverValue(k, kd.capacity-c)*pr.scale; v > value {
					at, value = c, v
				}
			}
		}
		pr.count = append(pr.count[:0], make([]int64, len(pr.types))...)
		for n := len(passes) - 1; n >= 0; n-- {
			if pr.taken[int64(n)*width+at] {
				pr.count[passes[n].typ] += passes[n].mult
				at -= passes[n].mult * pr.types[passes[n].typ].size
			}
		}
		out[k] = priced{items: pr.entries(pr.count), value: value, bound: value}
	}
}

// coarseBounds lowers the bounds of the answers to what a table over a coarser unit of length finds. Rounding the sizes
// and the capacity down keeps every pattern possible, so its values are never too low.
func (pr *pricer) coarseBounds(out []priced, free []int64, passes []pass, width int64) {
	unit := int64(len(passes))*width/coarseSize + 1
	width = width/unit + 1
	pr.best = append(pr.best[:0], make([]int64, width)...)
	always := int64(0) // worth of passes that have become too small to take up room
	for _, ps := range passes {
		t := &pr.types[ps.typ]
		size, price := t.size*ps.mult/unit, t.price*ps.mult
		if size == 0 {
			always += price
			continue
		}
		for c := width - 1; c >= size; c-- {
			pr.best[c] = max(pr.best[c], pr.best[c-size]+price)
		}
	}
	pr.p.budget.spend(int64(len(passes)) * width)
	for k, kd := range pr.p.kinds {
		if free[k] == 0 {
			continue
		}
		value := pr.best[kd.capacity/unit]
		for c := int64(0); kd.worth && c <= kd.capacity/unit; c++ {
			value = max(value, pr.best[c]+pr.p.leftoverValue(k, kd.capacity-c*unit)*pr.scale)
		}
		out[k].bound = max(out[k].value, min(out[k].bound, value+always))
	}
}

// tablePass offers one item of the given size and price to every capacity and marks where it is taken.
func tablePass(best []int64, taken []bool, size, price int64) {
	low := best[:int64(len(best))-size]
	high := best[size:]
	taken = taken[size:]
	for c := len(low) - 1; c >= 0; c-- {
		if v := low[c] + price; v > high[c] {
			high[c] = v
			taken[c] = true
		}
	}
}
