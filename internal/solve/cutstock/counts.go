package cutstock

import (
	"cmp"
	"container/heap"
	"math"
	"slices"
)

// Branching on stock counts. Idea: the cost of a plan is decided by how many pieces of each kind are taken, and there are
// few kinds. So search over boxes low <= pieces of each kind <= top, best bound first, each bounded by column generation;
// a box whose relaxation takes whole numbers of pieces is tried by a dive, and a box of a single point by the exact fit
// test. Closes the gap that comes from prices and limited stock, which is most of the gap when few pieces are bought;
// leaves to fit.go whether given pieces hold the items. Reference for branching on aggregates: F. Vanderbeck, On
// Dantzig-Wolfe decomposition in integer programming, Operations Research 48 (2000), doi:10.1287/opre.48.1.111.12453.
type countSearch struct {
	s      *solver
	pool   []pattern
	open   boxHeap
	made   int
	refute int64 // lowest bound among boxes that were given up; math.MaxInt64 when there are none
}

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
	c.refute = math.MaxInt64
	all := s.p.task()
	c.push(box{low: all.low, top: all.free, bound: s.bound})
	for len(c.open) > 0 && !s.finished() {
		b := heap.Pop(&c.open).(box)
		s.raise(float64(min(b.bound, c.refute)))
		if b.bound < s.stop() {
			c.explore(b)
		}
	}
	if len(c.open) == 0 && !s.budget.done() {
		s.raise(float64(min(s.stop(), c.refute)))
		s.none = !s.known && c.refute == math.MaxInt64
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
	g := newColgen(s.p, s.budget, task{s.p.demand, b.top, b.low})
	c.fill(g)
	ok := g.run(s.stop())
	c.collect(g)
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
	if k := mostFractional(counts); k >= 0 {
		c.split(b, k, int64(counts[k]))
		return
	}
	point := make([]int64, len(counts))
	for k, n := range counts {
		point[k] = min(max(int64(n+0.5), b.low[k]), b.top[k])
	}
	c.settle(b, point)
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

// settle finds out about a box whose relaxation takes exactly the pieces of point: a dive looks for a plan with them;
// when it fails, the point is cut out of the box, and a box that is the point goes to the fit test.
func (c *countSearch) settle(b box, point []int64) {
	s := c.s
	at := task{need: s.p.demand, free: point, low: make([]int64, len(point))}
	d := diver{s: s, pool: c.pool}
	d.dive(branch{task: at}, deviateDepth-1, 1)
	c.pool = d.pool
	if b.bound >= s.stop() {
		return
	}
	if !c.exact(at, b.bound) {
		c.refute = min(c.refute, b.bound)
	}
	for k, n := range point {
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

func (c *countSearch) exact(at task, bound int64) bool { return false }

// fill gives a relaxation the patterns of the pool that its task allows.
func (c *countSearch) fill(g *colgen) {
	for _, pt := range c.pool {
		if g.task.fits(pt, 1) {
			g.master.add(pt)
		}
	}
	g.given = len(g.master.cols)
}

// collect adds the patterns a relaxation has generated to the pool.
func (c *countSearch) collect(g *colgen) {
	for _, col := range g.master.cols[g.given:] {
		c.pool = append(c.pool, col.pattern)
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
