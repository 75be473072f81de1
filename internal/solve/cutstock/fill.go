package cutstock

import (
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
	return s.found
}

// tightNodes bounds the search of one fill: enough to try every fill of a workshop's board, little enough for thousands.
const tightNodes = 2000

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

// construct fills pieces until need is met. It returns the runs and false when the stock runs out first.
// free holds the pieces of each kind that may be taken. Both slices are changed.
func (p *problem) construct(need, free []int64, fill filler) ([]run, bool) {
	var runs []run
	for !whole(need) {
		best, bestItems, bestScore := -1, []entry(nil), 0.0
		for k := range p.kinds {
			if free[k] == 0 {
				continue
			}
			items := fill(need, p.kinds[k].capacity)
			if items == nil {
				continue
			}
			used := p.used(items)
			score := (float64(p.net(k, used)) + 1e-3) / float64(used)
			if best < 0 || score < bestScore {
				best, bestItems, bestScore = k, items, score
			}
		}
		if best < 0 {
			return runs, false
		}
		times := free[best]
		for _, e := range bestItems {
			times = min(times, need[e.item]/e.qty)
		}
		for _, e := range bestItems {
			need[e.item] -= times * e.qty
		}
		free[best] -= times
		runs = append(runs, run{pattern{best, bestItems}, times})
	}
	return runs, true
}

// limits returns the pieces of each kind that may be taken.
func (p *problem) limits() []int64 {
	free := make([]int64, len(p.kinds))
	for k := range p.kinds {
		free[k] = p.kinds[k].limit
	}
	return free
}
