package cutstock

import (
	"cmp"
	"slices"
)

// entry is a number of pieces of one type.
type entry struct {
	item int
	qty  int64
}

// pattern is one way to cut a piece of a kind of stock; entries are sorted by type, each with qty 1 or more.
type pattern struct {
	kind  int
	items []entry
}

// used returns the capacity a pattern takes.
func (p *problem) used(items []entry) int64 {
	sum := int64(0)
	for _, e := range items {
		sum += e.qty * p.size[e.item]
	}
	return sum
}

// run is a number of pieces of stock cut by the same pattern.
type run struct {
	pattern
	count int64
}

// plan is a list of runs with their cost.
type plan struct {
	runs []run
	cost int64
}

// newPlan turns runs that meet every demand into a plan: what is cut too often is left out, every piece moves to the
// cheapest kind that holds it, and the cost is added up. It returns false if the runs miss a demand or take more
// stock than there is.
func (p *problem) newPlan(runs []run) (plan, bool) {
	need := slices.Clone(p.demand)
	free := p.task().free
	var trimmed []run
	for _, r := range runs {
		trimmed = p.take(trimmed, r, need)
	}
	if !whole(need) {
		return plan{}, false
	}
	for _, r := range trimmed {
		free[r.kind] -= r.count
	}
	for _, f := range free {
		if f < 0 {
			return plan{}, false
		}
	}
	return p.cheapen(trimmed, free), true
}

// take appends to runs what of r is still needed and lowers need by it.
func (p *problem) take(runs []run, r run, need []int64) []run {
	for r.count > 0 {
		times := r.count
		var items []entry
		for _, e := range r.items {
			q := min(e.qty, need[e.item])
			if q > 0 {
				items = append(items, entry{e.item, q})
				times = min(times, need[e.item]/q)
			}
		}
		if items == nil {
			return runs
		}
		for _, e := range items {
			need[e.item] -= e.qty * times
		}
		runs = append(runs, run{pattern{r.kind, items}, times})
		r.count -= times
	}
	return runs
}

// cheapen moves every run to the kind that holds it at the least net cost, as far as the free pieces go.
func (p *problem) cheapen(runs []run, free []int64) plan {
	var out plan
	for changed := true; changed; {
		changed = false
		var next []run
		for _, r := range runs {
			used := p.used(r.items)
			for k := range p.kinds {
				if p.kinds[k].capacity < used || free[k] == 0 || p.net(k, used) >= p.net(r.kind, used) || r.count == 0 {
					continue
				}
				n := min(free[k], r.count)
				free[k] -= n
				free[r.kind] += n
				r.count -= n
				next = append(next, run{pattern{k, r.items}, n})
				changed = true
			}
			if r.count > 0 {
				next = append(next, r)
			}
		}
		runs = next
	}
	out.runs = runs
	for _, r := range runs {
		out.cost += r.count * p.net(r.kind, p.used(r.items))
	}
	return out
}

// layouts writes a plan in terms of the instance: types become items, kinds become stock.
func (p *problem) layouts(pl plan) []Layout {
	w := layoutWriter{p: p, left: make([]int64, len(p.in.Items)), stock: make([]int64, len(p.in.Stock))}
	for i, it := range p.in.Items {
		w.left[i] = it.Demand
	}
	for s, st := range p.in.Stock {
		w.stock[s] = st.Available
		if st.Available == Unlimited {
			w.stock[s] = p.items
		}
	}
	for _, r := range pl.runs {
		for r.count > 0 {
			r.count -= w.write(r)
		}
	}
	return mergeLayouts(w.out)
}

// layoutWriter hands out the items and the stock of an instance one layout after another.
type layoutWriter struct {
	p           *problem
	left, stock []int64
	out         []Layout
}

// write appends one layout for as many pieces of the run as can be cut from the same items and the same stock, and
// returns how many.
func (w *layoutWriter) write(r run) int64 {
	s := r.kindStock(w)
	times := min(r.count, w.stock[s])
	var cuts []Cut
	length, count := int64(0), int64(0)
	for _, e := range r.items {
		need := e.qty
		for _, i := range w.p.source[e.item] {
			if q := min(need, w.left[i]); q > 0 {
				cuts = append(cuts, Cut{i, q})
				times = min(times, w.left[i]/q)
				need -= q
				length += q * w.p.in.Items[i].Length
				count += q
			}
		}
	}
	for _, c := range cuts {
		w.left[c.Item] -= c.Count * times
	}
	w.stock[s] -= times
	w.out = append(w.out, Layout{Stock: s, Count: times, Cuts: cuts, Remainder: w.p.in.Remainder(s, length, count)})
	return times
}

// kindStock returns the first stock of the run's kind that has pieces left.
func (r run) kindStock(w *layoutWriter) int {
	stocks := w.p.kinds[r.kind].stocks
	for _, s := range stocks {
		if w.stock[s] > 0 {
			return s
		}
	}
	panic("cutstock: plan takes more stock than there is")
}

// mergeLayouts sorts layouts by stock and cuts and joins equal ones.
func mergeLayouts(list []Layout) []Layout {
	slices.SortStableFunc(list, func(a, b Layout) int {
		return cmp.Or(cmp.Compare(a.Stock, b.Stock), slices.CompareFunc(a.Cuts, b.Cuts, func(a, b Cut) int {
			return cmp.Or(cmp.Compare(a.Item, b.Item), cmp.Compare(b.Count, a.Count))
		}))
	})
	var out []Layout
	for _, lay := range list {
		if n := len(out); n > 0 && out[n-1].Stock == lay.Stock && slices.Equal(out[n-1].Cuts, lay.Cuts) {
			out[n-1].Count += lay.Count
			continue
		}
		out = append(out, lay)
	}
	return out
}
