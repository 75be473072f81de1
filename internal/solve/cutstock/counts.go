package cutstock

import (
	"cmp"
	"container/heap"
	"math"
	"slices"
	"sort"
)

// Branching on stock counts. Idea: the cost of a plan is decided by how many pieces of each kind are taken, and there are
// few kinds. So search over boxes low <= pieces of each kind <= top, best bound first, each bounded by column generation;
// when the relaxation of a box takes whole numbers of pieces, that point is tried by a dive, cut out of the box and set
// aside for the exact fit test, which comes last. Closes the gap that comes from prices and limited stock, which is most of
// the gap when few pieces are bought; leaves to fit.go whether given pieces hold the items. Reference for branching on
// aggregates: F. Vanderbeck, On Dantzig-Wolfe decomposition in integer programming, Operations Research 48 (2000),
// doi:10.1287/opre.48.1.111.12453.
type countSearch struct {
	s        *solver
	open     boxHeap
	made     int
	explored int
	aside    []point // points the fit test has given up so far, by rising bound
}

// point is one combination of stock counts that may or may not hold the items.
type point struct {
	top   []int64
	bound int64
	tries int // dives and fit tests it has withstood
}

// firstDive and firstFit are the efforts of the first dive and fit test at a point, some milliseconds; each further try
// gets twice as much.
const (
	firstDive = 4_000_000
	firstFit  = 2_000_000
)

// diveEvery is how many boxes are bounded from one dive in a box with fractional counts to the next.
const diveEvery = 10

// box is a set of stock counts with a bound on the cost of plans that use them.
type box struct {
	low, top []int64
	bound    int64
	serial   int
}

// boxHeap yields the lowest bound first; among equals the box made last, so that the search goes deep before wide.
type boxHeap []box

func (h boxHeap) Len() int      { return len(h) }
func (h boxHeap) Swap(i, j int) { h[i], h[j] = h[j], h[i] }
func (h boxHeap) Less(i, j int) bool {
	return cmp.Or(cmp.Compare(h[i].bound, h[j].bound), cmp.Compare(h[j].serial, h[i].serial)) < 0
}
func (h *boxHeap) Push(x any) { *h = append(*h, x.(box)) }
func (h *boxHeap) Pop() any {
	old := *h
	b := old[len(old)-1]
	*h = old[:len(old)-1]
	return b
}

// wholeTolerance is how far a count of the relaxation may be from a whole number and pass as one; it covers the
// perturbation of the right sides.
const wholeTolerance = 1e-3

// run searches until the bound meets the cost or the budget is spent.
func (c *countSearch) run() {
	s := c.s
	all := s.p.task()
	c.push(box{low: all.low, top: all.free, bound: s.bound})
	for len(c.open) > 0 && !s.finished() {
		b := heap.Pop(&c.open).(box)
		s.raise(float64(c.lowest(b.bound)))
		if b.bound < s.stop() {
			c.explore(b)
		}
	}
	for len(c.aside) > 0 && len(c.open) == 0 && !s.finished() {
		s.raise(float64(c.lowest(s.stop())))
		pt := c.aside[0]
		c.aside = c.aside[1:]
		c.dive(pt, 0, pt.tries)
		if !c.refutes(pt) {
			c.setAside(pt)
		}
	}
	if len(c.open) > 0 || len(c.aside) > 0 {
		return
	}
	if s.known {
		s.raise(float64(s.best.cost))
	} else {
		s.none = true
	}
}

// lowest returns the lower one of a bound and the bounds of the points set aside.
func (c *countSearch) lowest(bound int64) int64 {
	if len(c.aside) > 0 {
		bound = min(bound, c.aside[0].bound)
	}
	return bound
}

// dive looks for a plan with the pieces of a point.
func (c *countSearch) dive(pt point, depth, deviations int) {
	d := diver{s: c.s, shake: pt.tries}
	c.s.p.budget.within(firstDive<<pt.tries, func() { d.dive(c.branchAt(pt), depth, deviations) })
}

// refutes reports whether the fit test proves that the pieces of a point allow no plan cheaper than the best one.
func (c *countSearch) refutes(pt point) bool {
	f := fitSearch{s: c.s}
	done := pt.bound >= c.s.stop()
	c.s.p.budget.within(firstFit<<pt.tries, func() { done = done || f.refutes(c.branchAt(pt)) })
	return done
}

// branchAt is the whole task with the pieces of a point.
func (c *countSearch) branchAt(pt point) branch {
	return branch{task: task{need: c.s.p.demand, free: pt.top, low: make([]int64, len(pt.top))}}
}

// setAside keeps a point for another try.
func (c *countSearch) setAside(pt point) {
	if pt.bound < c.s.stop() {
		pt.tries++
		after := sort.Search(len(c.aside), func(i int) bool { return c.aside[i].bound > pt.bound })
		c.aside = slices.Insert(c.aside, after, pt)
	}
}

func (c *countSearch) push(b box) {
	c.made++
	b.serial = c.made
	heap.Push(&c.open, b)
}

// explore bounds a box and splits it, unless nothing cheaper than the best plan can be in it.
func (c *countSearch) explore(b box) {
	s := c.s
	if !c.tighten(&b) {
		return
	}
	g := s.lp
	ok := g.relax(task{s.p.demand, b.top, b.low}, 0, b.bound, s.stop())
	b.bound = max(b.bound, s.p.roundUp(g.bound))
	if !ok {
		c.push(b) // the budget is spent; the box stays open
		return
	}
	if b.bound >= s.stop() || g.bound > s.p.dearest() {
		return
	}
	s.offer(g.rounded())
	counts := g.counts()
	if c.explored++; c.explored%diveEvery == 0 {
		d := diver{s: s}
		s.p.budget.within(firstDive, func() { d.dive(branch{task: g.task}, deviateDepth, 0) })
	}
	if k := mostFractional(counts); k >= 0 {
		c.split(b, k, int64(counts[k]))
		return
	}
	at := make([]int64, len(counts))
	for k, n := range counts {
		at[k] = min(max(int64(n+0.5), b.low[k]), b.top[k])
	}
	c.settle(b, at)
}

// tighten lowers the upper limits to what a plan cheaper than the best can pay; false when not even the lower limits
// can be paid.
func (c *countSearch) tighten(b *box) bool {
	s := c.s
	if !s.known {
		return true
	}
	rest := s.stop() - s.p.step
	for k, n := range b.low {
		rest -= n * s.p.net(k, 0)
	}
	if rest < 0 {
		return false
	}
	b.top = slices.Clone(b.top)
	for k := range b.top {
		if each := s.p.net(k, 0); each > 0 {
			b.top[k] = min(b.top[k], b.low[k]+rest/each)
		}
	}
	return true
}

// split halves a box at n pieces of kind k.
func (c *countSearch) split(b box, k int, n int64) {
	upper, lower := b, b
	upper.low = slices.Clone(b.low)
	upper.low[k] = n + 1
	lower.top = slices.Clone(b.top)
	lower.top[k] = n
	c.push(lower)
	c.push(upper)
}

// settle tests the point that the relaxation of a box takes and cuts it out of the box.
func (c *countSearch) settle(b box, at []int64) {
	pt := point{at, b.bound, 0}
	c.dive(pt, deviateDepth-1, 1)
	if b.bound >= c.s.stop() {
		return
	}
	c.setAside(pt)
	for k, n := range at {
		below, above := b, b
		if n > b.low[k] {
			below.top = slices.Clone(b.top)
			below.top[k] = n - 1
			c.push(below)
		}
		if n < b.top[k] {
			above.low = slices.Clone(b.low)
			above.low[k] = n + 1
			c.push(above)
		}
		b.low, b.top = slices.Clone(b.low), slices.Clone(b.top)
		b.low[k], b.top[k] = n, n
	}
}

// counts returns the pieces of each kind that the relaxation takes.
func (g *colgen) counts() []float64 {
	counts := make([]float64, len(g.p.kinds))
	for r, v := range g.master.basis {
		if v >= 0 {
			counts[g.master.cols[v].kind] += g.master.x[r]
		}
	}
	return counts
}

// mostFractional returns the count farthest from a whole number, or -1 when all are whole.
func mostFractional(counts []float64) int {
	best, far := -1, wholeTolerance
	for k, n := range counts {
		if d := math.Abs(n - math.Round(n)); d > far {
			best, far = k, d
		}
	}
	return best
}
