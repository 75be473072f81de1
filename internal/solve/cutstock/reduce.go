package cutstock

import (
	"cmp"
	"slices"
)

// problem is an instance in the form the methods work on: kerf and trim are absorbed into sizes and capacities, equal
// items are merged, lengths are divided by their common divisor, stock that can hold nothing is gone.
type problem struct {
	in     *Instance
	budget *budget // of the run; every method counts its steps here
	size   []int64 // size of each type, longest first
	demand []int64 // pieces asked of each type, 1 or more
	items  int64   // pieces in all
	kinds  []kind  // widest first
	unit   int64   // greatest common divisor of all sizes with kerf, by which lengths are divided
	source [][]int // type -> items of the instance
	step   int64   // every plan's cost is a multiple of step
}

// kind is one or more stocks of equal length and price.
type kind struct {
	capacity int64
	cost     int64
	limit    int64 // pieces that can be of use: those available, at most one for each item
	limited  bool  // limit comes from the stock, not from the items
	stocks   []int // stocks of the instance, in their order
	usable   int64 // usable length, in units of the instance
	worth    bool  // some leftover of this kind is worth something
}

// reduce brings a checked instance without misfit, with some demand, into the form of the methods.
func reduce(in *Instance, b *budget) *problem {
	p := &problem{in: in, budget: b}
	byLength := map[int64]int{}
	order := make([]int, 0, len(in.Items))
	for i, it := range in.Items {
		if it.Demand > 0 {
			order = append(order, i)
		}
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(in.Items[b].Length, in.Items[a].Length) })
	for _, i := range order {
		it := in.Items[i]
		t, seen := byLength[it.Length]
		if !seen {
			t = len(p.size)
			byLength[it.Length] = t
			p.size = append(p.size, it.Length+in.Kerf)
			p.demand = append(p.demand, 0)
			p.source = append(p.source, nil)
			p.unit = gcd(p.unit, it.Length+in.Kerf)
		}
		p.demand[t] += it.Demand
		p.source[t] = append(p.source[t], i)
		p.items += it.Demand
	}
	for t := range p.size {
		p.size[t] /= p.unit
	}
	p.addKinds()
	for _, k := range p.kinds {
		p.step = gcd(p.step, k.cost)
		if k.worth {
			p.step = 1
		}
	}
	p.step = max(p.step, 1)
	return p
}

// addKinds merges equal stocks into kinds and drops those that can hold no item.
func (p *problem) addKinds() {
	in := p.in
	for s, st := range in.Stock {
		usable := in.UsableLength(s)
		capacity := (usable + in.Kerf) / p.unit
		if usable <= 0 || st.Available == 0 || capacity < p.size[len(p.size)-1] {
			continue
		}
		k := slices.IndexFunc(p.kinds, func(k kind) bool { return k.usable == usable && k.cost == st.Cost })
		if k < 0 {
			k = len(p.kinds)
			worth := in.LeftoverValue(s, usable) > 0
			p.kinds = append(p.kinds, kind{capacity: capacity, cost: st.Cost, usable: usable, worth: worth})
		}
		p.kinds[k].stocks = append(p.kinds[k].stocks, s)
		if st.Available == Unlimited {
			p.kinds[k].limit += p.items
		} else {
			p.kinds[k].limit += min(st.Available, p.items)
		}
	}
	for k := range p.kinds {
		p.kinds[k].limited = p.kinds[k].limit < p.items
		p.kinds[k].limit = min(p.kinds[k].limit, p.items)
	}
	slices.SortStableFunc(p.kinds, func(a, b kind) int {
		return cmp.Or(cmp.Compare(b.capacity, a.capacity), cmp.Compare(a.cost, b.cost))
	})
	if in.Leftover.SharePerMille == 0 {
		p.dropDominated()
	}
}

// dropDominated removes kinds that another kind without limit replaces at no higher cost. Only valid without
// leftover values, which make a shorter piece differ from a longer one.
func (p *problem) dropDominated() {
	kept := p.kinds[:0:0]
	for i, k := range p.kinds {
		dominated := slices.ContainsFunc(p.kinds[:i], func(o kind) bool { return !o.limited && o.cost <= k.cost })
		if !dominated {
			kept = append(kept, k)
		}
	}
	p.kinds = kept
}

// net returns the cost of a piece of kind k filled to used units: its price less the value of its leftover.
func (p *problem) net(k int, used int64) int64 {
	kd := &p.kinds[k]
	return kd.cost - p.leftoverValue(k, kd.capacity-used)
}

// leftoverValue returns what is left of a piece of kind k with free units of capacity is worth.
func (p *problem) leftoverValue(k int, free int64) int64 {
	kd := &p.kinds[k]
	if !kd.worth {
		return 0
	}
	remainder := max(0, kd.usable-(kd.capacity-free)*p.unit)
	return p.in.LeftoverValue(kd.stocks[0], remainder)
}

// anyWorth reports whether the leftover of any kind is worth something.
func (p *problem) anyWorth() bool {
	return slices.ContainsFunc(p.kinds, func(k kind) bool { return k.worth })
}

// roundUp returns the least multiple of the cost step that is not below x, and 0 for a negative x because no plan costs
// less. What is beyond any cost becomes farBeyond.
func (p *problem) roundUp(x float64) int64 {
	if !(x > 0) {
		return 0
	}
	if x >= float64(farBeyond) {
		return farBeyond
	}
	n := int64(x / float64(p.step))
	for float64(n)*float64(p.step) < x {
		n++
	}
	return n * p.step
}

// farBeyond is more than any plan costs and leaves room for a sum.
const farBeyond = int64(1) << 61

// task is what remains to be planned: the pieces needed of each type, and for each kind the pieces of stock that may
// and that must be taken.
type task struct {
	need []int64
	free []int64
	low  []int64
}

// task returns the whole problem as a task.
func (p *problem) task() task {
	t := task{need: slices.Clone(p.demand), free: make([]int64, len(p.kinds)), low: make([]int64, len(p.kinds))}
	for k := range p.kinds {
		t.free[k] = p.kinds[k].limit
	}
	return t
}

// clone returns a copy that can be changed.
func (t task) clone() task {
	return task{slices.Clone(t.need), slices.Clone(t.free), slices.Clone(t.low)}
}

// without returns the task that remains when n pieces of a pattern are cut.
func (t task) without(pt pattern, n int64) task {
	c := t.clone()
	for _, e := range pt.items {
		c.need[e.item] -= n * e.qty
	}
	c.free[pt.kind] -= n
	c.low[pt.kind] = max(0, c.low[pt.kind]-n)
	return c
}

// fits reports whether n pieces of a pattern can be cut without cutting anything too often.
func (t task) fits(pt pattern, n int64) bool {
	for _, e := range pt.items {
		if n*e.qty > t.need[e.item] {
			return false
		}
	}
	return n <= t.free[pt.kind]
}

// whole reports whether every demand is met, that is whether nothing is left in need.
func whole(need []int64) bool {
	for _, n := range need {
		if n > 0 {
			return false
		}
	}
	return true
}

// gcd returns the greatest common divisor; gcd(0, b) is b.
func gcd(a, b int64) int64 {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}
