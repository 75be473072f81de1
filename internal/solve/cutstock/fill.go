package cutstock

import (
	"math"
	"slices"
)

// Constructive plans. Idea: fill one piece of stock after another and choose, at each step, the kind that costs least for
// the length it takes up. Helps because it is instant and often already optimal; leaves out any look ahead.
// Reference: D. S. Johnson et al., Worst-case performance bounds for simple one-dimensional packing algorithms, SIAM
// Journal on Computing 3 (1974), doi:10.1137/0203025 (first fit decreasing).

// filler fills an empty piece of the given capacity from what is needed.
type filler func(need []int64, capacity int64) []entry

// fillDecreasing fills with the longest types first.
func (p *problem) fillDecreasing(need []int64, capacity int64) []entry {
	var items []entry
	for t, n := range need {
		if n == 0 || p.size[t] > capacity {
			continue
		}
		q := min(n, capacity/p.size[t])
		items = append(items, entry{t, q})
		capacity -= q * p.size[t]
	}
	return items
}

// fillTight returns the fill that starts with the longest needed type that fits and then leaves the least waste that
// a bounded depth-first search finds.
func (p *problem) fillTight(need []int64, capacity int64) []entry {
	s := tightSearch{p: p, need: need, nodes: tightNodes, best: capacity + 1}
	for t, n := range need {
		if n > 0 && p.size[t] <= capacity {
			s.first = t
			break
		}
	}
	s.descend(s.first, capacity)
	p.budget.spend(int64(4 * (tightNodes - s.nodes)))
	return s.found
}

// tightNodes bounds the search of one fill: enough to try every fill of a workshop's board, little enough for thousands.
const tightNodes = 500

type tightSearch struct {
	p     *problem
	need  []int64
	nodes int
	first int
	stack []entry
	found []entry
	best  int64 // least free capacity so far
}

func (s *tightSearch) descend(t int, free int64) {
	s.nodes--
	if free < s.best {
		s.best = free
		s.found = slices.Clone(s.stack)
	}
	for ; t < len(s.need) && s.best > 0 && s.nodes > 0; t++ {
		if s.need[t] == 0 || s.p.size[t] > free {
			continue
		}
		for q := min(s.need[t], free/s.p.size[t]); q > 0 && s.best > 0 && s.nodes > 0; q-- {
			s.stack = append(s.stack, entry{t, q})
			s.descend(t+1, free-q*s.p.size[t])
			s.stack = s.stack[:len(s.stack)-1]
		}
		if t == s.first {
			return
		}
	}
}

// construct fills pieces until the task is done. It returns the runs, and false when the stock runs out first.
func (p *problem) construct(t task, fill filler) ([]run, bool) {
	var runs []run
	for t = t.clone(); !whole(t.need); {
		pt, ok := p.cheapestFill(t, fill)
		if !ok {
			return runs, false
		}
		times := t.free[pt.kind]
		for _, e := range pt.items {
			times = min(times, t.need[e.item]/e.qty)
		}
		t = t.without(pt, times)
		runs = append(runs, run{pt, times})
	}
	return runs, true
}

// cheapestFill returns the fill of a free piece that costs least for the length it takes up.
func (p *problem) cheapestFill(t task, fill filler) (pattern, bool) {
	best, least := pattern{}, math.Inf(1)
	for k := range p.kinds {
		if t.free[k] == 0 {
			continue
		}
		items := fill(t.need, p.kinds[k].capacity)
		if items == nil {
			continue
		}
		used := p.used(items)
		// the small addend lets the fuller of two free pieces win
		if score := (float64(p.net(k, used)) + 1e-3) / float64(used); score < least {
			best, least = pattern{k, items}, score
		}
	}
	return best, best.items != nil
}
