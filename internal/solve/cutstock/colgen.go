package cutstock

import (
	"math"
	"slices"
)

// Column generation. Idea: solve the relaxation over the patterns at hand, ask the knapsack for patterns that its prices
// would make worth while, repeat until there are none. Gives the strongest bound known that needs no branching and the
// patterns from which plans are rounded. Prices are smoothed towards the best ones seen so far, which saves most of
// the swings of the plain method. Leaves out: whole numbers.
// References: P. C. Gilmore, R. E. Gomory (1961), doi:10.1287/opre.9.6.849; smoothing: A. Pessoa et al., Automation and
// combination of linear-programming based stabilization techniques in column generation, INFORMS Journal on
// Computing 30 (2018), doi:10.1287/ijoc.2017.0784; bound: A. A. Farley (1990), doi:10.1287/opre.38.5.922.
type colgen struct {
	p      *problem
	master *master
	pricer *pricer
	task   task
	bound  float64   // best bound of the task so far; -Inf before the first
	center []float64 // prices of the best bound
	proof  proof     // prices that prove the bound
	coarse bool      // bounds may be a little low, see pricer.price; never where leftovers magnify an excess, see priceBound
}

// proof holds prices, in units of cost, under which no pattern is worth more than it costs: using a pattern whose cost
// exceeds its worth by some amount lifts the bound by that amount.
type proof struct {
	items []float64 // of each type
	kinds []float64 // of taking a piece of each kind: lower limit less upper limit
}

// smoothing is the weight of the best prices so far in the prices offered to the knapsack. Between 0.3 and 0.8 it made
// little difference on the classic sets.
const smoothing = 0.6

// pivotsPerPricing is how often the master pivots before it is offered new patterns. Solving it to the end first costs
// two to three times the pivots, pricing after each pivot costs more in pricing than it saves (measured on bench/cutstock
// and the classic sets).
const pivotsPerPricing = 8

// complements is how often the items that were left aside are priced again.
const complements = 2

// noFloor is the floor of relax that is never reached.
const noFloor = math.MinInt64

// mostColumns is how many patterns are kept from task to task.
const mostColumns = 3000

// mostPrice is the largest whole-number price: 2^20 pieces of it still add up inside int64.
const mostPrice = 1 << 40

func newColgen(p *problem) *colgen {
	return &colgen{p: p, master: newMaster(p), pricer: &pricer{p: p}}
}

// relax bounds a task: it generates patterns until none improves the relaxation, or until the rounded bound equals the
// rounded value, or until the value is known to round up to no more than floor, a bound that holds anyway, or until the
// bound reaches stop, a cost of interest to nobody. With noFloor the bound is made as high as it can be, for those who use the
// prices that prove it. It returns false if the budget ran out before. A shake other than 0 picks another of several
// equally good solutions.
func (g *colgen) relax(t task, shake int, floor, stop int64) bool {
	g.task = t
	g.bound = math.Inf(-1)
	g.coarse = floor != noFloor && !g.p.anyWorth()
	g.master.thin(mostColumns)
	g.master.setTask(t, shake)
	return g.run(floor, stop)
}

// bounded reports whether the pieces of kind k are limited in the present task.
func (g *colgen) bounded(k int) bool {
	return g.p.kinds[k].limited || g.task.free[k] < g.p.kinds[k].limit
}

// run is relax from the present basis on.
func (g *colgen) run(floor, stop int64) bool {
	m := g.master
	m.solve(math.MaxInt) // prices are of no use before the patterns at hand are used
	for raised := 0; ; {
		settled := m.solve(pivotsPerPricing)
		improved, more := g.generate()
		if g.p.budget.done() {
			return false
		}
		if improved && g.p.roundUp(g.bound) >= stop {
			return true
		}
		if m.missing() < 1e-3 {
			value := g.p.roundUp(m.value()*(1-1e-9) - 1e-5)
			if value <= floor || settled && improved && g.p.roundUp(g.bound) >= value {
				return true
			}
		}
		if more || !settled {
			continue
		}
		if g.coarse && g.p.roundUp(m.value()) >= stop {
			g.coarse = false // the exact bound may reach stop
			continue
		}
		if m.missing() < 1e-3 || raised == 6 {
			return true
		}
		m.raiseStart()
		raised++
	}
}

// generate prices at smoothed prices, then at the master's own if that yields nothing. It reports whether the bound
// improved and whether columns were added.
func (g *colgen) generate() (improved, more bool) {
	own := g.master.y[:len(g.p.size)]
	if g.center != nil {
		mixed := make([]float64, len(own))
		for i := range mixed {
			mixed[i] = smoothing*g.center[i] + (1-smoothing)*own[i]
		}
		improved, more = g.offer(mixed)
		if more {
			return improved, true
		}
	}
	again, more := g.offer(own)
	return improved || again, more
}

// offer prices the patterns at the given prices, updates the bound, and adds the patterns that the master's own
// prices find worth while.
func (g *colgen) offer(prices []float64) (improved, more bool) {
	p, m := g.p, g.master
	whole := g.round(prices)
	g.pricer.load(whole, g.task.need)
	floor := make([]int64, len(p.kinds))
	low := make([]int64, len(p.kinds))
	for k := range floor {
		floor[k] = g.pricer.units(float64(p.kinds[k].cost)-m.kindPrice(k), float64(farBeyond))
		low[k] = g.pricer.units(m.y[m.types+k], mostPrice)
	}
	found := g.pricer.price(g.task.free, floor, g.coarse)
	if b, pf := g.priceBound(whole, low, found); b > g.bound {
		g.proof = pf
		g.bound, improved = b, true
		g.center = append(g.center[:0], prices...)
	}
	more = g.admit(found)
	if len(p.kinds) > 1 {
		return improved, more
	}
	// patterns of the items that the first ones left aside save rounds of pricing
	rest := slices.Clone(g.task.need)
	for range complements {
		if !more {
			break
		}
		for _, f := range found {
			for _, e := range f.items {
				rest[e.item] = 0
			}
		}
		g.pricer.load(whole, rest)
		found = g.pricer.price(g.task.free, floor, g.coarse)
		if !g.admit(found) {
			break
		}
	}
	return improved, more
}

// admit adds the patterns that the master's own prices find worth while, and reports whether there are any.
func (g *colgen) admit(found []priced) bool {
	m, some := g.master, false
	for k, f := range found {
		if f.items == nil {
			continue
		}
		m.add(pattern{k, f.items})
		if last := len(m.cols) - 1; m.reduced(last) < -costTolerance*(1+m.cols[last].cost) {
			some = true
		} else {
			m.drop()
		}
	}
	return some
}

// round sets the pricer's scale and returns the prices as whole numbers of it, none below zero.
func (g *colgen) round(prices []float64) []int64 {
	top := 1.0
	for _, y := range prices {
		top = max(top, y)
	}
	for _, k := range g.p.kinds {
		top = max(top, float64(k.cost))
	}
	scale := max(1, math.Floor(mostPrice/top))
	g.pricer.scale = int64(scale)
	whole := make([]int64, len(prices))
	for i, y := range prices {
		whole[i] = g.pricer.units(y, mostPrice)
	}
	return whole
}

// units returns a price in whole price units, from 0 to most; rounding and capping prices leaves bounds valid.
func (pr *pricer) units(price, most float64) int64 {
	return int64(min(max(0, price)*float64(pr.scale), most))
}

// priceBound returns a lower bound on the cost of a task, given prices of the types and of the lower limits, and the most
// that a pattern of each kind is worth at these prices; and the prices that prove it.
//
//	bound = t * (sum_i w_i need_i + sum_k (z_k low_k - u_k free_k)) / scale,  t = min_k n_k / (n_k + d_k)
//
// w_i, z_k whole-number prices; v_k the most a pattern of kind k is worth, leftover included; c_k its cost in price units. A
// kind with an upper limit pays the excess u_k = max(0, v_k + z_k - c_k). For a kind without one all prices are scaled by
// t instead, with d_k its excess and n_k the least net cost of a piece, so that no pattern is worth more than it costs. When
// paying the excess for every item costs less than scaling, as it does where leftovers make n_k small, it is paid.
//
// Source: Farley 1990 for one kind of stock; the terms of limited kinds are the dual of their limits.
func (g *colgen) priceBound(w, z []int64, found []priced) (float64, proof) {
	scale := float64(g.pricer.scale)
	pf := proof{make([]float64, len(w)), make([]float64, len(z))}
	total, t := 0.0, 1.0
	for i, x := range w {
		total += float64(x) * float64(g.task.need[i])
	}
	for k, kd := range g.p.kinds {
		total += float64(z[k]) * float64(g.task.low[k])
		pf.kinds[k] = float64(z[k])
		excess := float64(found[k].bound) + float64(z[k]) - float64(kd.cost)*scale
		if g.task.free[k] == 0 || excess <= 0 {
			continue
		}
		fill := g.p.size[len(g.p.size)-1]
		if g.task.low[k] > 0 {
			fill = 0 // an empty piece is a pattern too
		}
		least := float64(g.p.net(k, fill)) * scale
		shrink := least / (least + excess)
		if paid := excess * float64(g.task.free[k]); g.bounded(k) || paid < (1-shrink)*total {
			total -= paid
			pf.kinds[k] -= excess
			continue
		}
		t = min(t, shrink)
	}
	for i, x := range w {
		pf.items[i] = t * float64(x) / scale
	}
	for k := range pf.kinds {
		pf.kinds[k] *= t / scale
	}
	return t * total / scale * (1 - 1e-11), pf
}
