package guillotine

import (
	"context"
	"fmt"
	"math"
	"slices"
)

// Column generation: the linear programme over all patterns, with prices of the parts telling which pattern to add.
// Reference: Gilmore, Gomory 1965, see strips; the bound from unfinished prices is Farley's, A note on bounding a class
// of linear programming problems, Operations Research 38 (1990), doi:10.1287/opre.38.5.922.

// start makes the linear programme with the patterns of the plan.
func (c *cover) start() {
	missing := 1.0
	stock := make([]int, len(c.kinds))
	for i, k := range c.kinds {
		missing += 10 * float64(k.cost)
		stock[i] = k.count
	}
	c.lp = newMaster(c.demand, stock, missing)
	for _, u := range c.plan {
		c.addColumn(u.p)
	}
}

// addColumn adds the pattern to the linear programme unless it is there already.
func (c *cover) addColumn(p *pattern) bool {
	key := fmt.Sprint(p.kind, p.cost, p.counts)
	if c.seen[key] {
		return false
	}
	c.seen[key] = true
	col := lpColumn{cost: float64(p.cost), pattern: len(c.columns)}
	for i, n := range p.counts {
		if n > 0 {
			col.row, col.entry = append(col.row, i), append(col.entry, float64(n))
		}
	}
	col.row, col.entry = append(col.row, len(c.demand)+p.kind), append(col.entry, 1)
	c.columns = append(c.columns, p)
	c.lp.columns = append(c.lp.columns, col)
	return true
}

// generate adds patterns until none improves the linear programme or the iterations are used up, and raises the bound.
func (c *cover) generate(ctx context.Context, iterations int) {
	if c.lp == nil {
		c.start()
	}
	for range iterations {
		c.lp.solve()
		if ctx.Err() != nil || !c.priceAll() || c.done(ctx) {
			return
		}
	}
}

// priceAll finds the best pattern of every kind at the present prices, adds those that pay, and derives a bound from
// the values found. It reports whether a pattern was added.
func (c *cover) priceAll() bool {
	prices := make([]float64, len(c.demand))
	for i := range prices {
		prices[i] = max(0, c.lp.dual[i])
	}
	value := make([]float64, len(prices))
	most := make([]float64, len(c.kinds)) // best value of a pattern, by kind
	var found []*pattern
	for k := range c.kinds {
		share := c.creditShare(k)
		for i := range value {
			value[i] = prices[i] - share*float64(c.in.Parts[i].W)*float64(c.in.Parts[i].H)
		}
		for _, o := range c.kinds[k].oracles {
			most[k] = max(most[k], o.bound(value, c.demand))
			if root := o.relaxed(); root != nil && len(root.kids) > 0 {
				found = append(found, c.pattern(k, root))
			}
		}
	}
	c.raise(c.farley(prices, most))
	return c.addPaying(found)
}

// addPaying adds the patterns that improve the linear programme and reports whether there were any.
func (c *cover) addPaying(found []*pattern) bool {
	added := false
	for _, p := range found {
		rc := float64(p.cost) - p.worth(c.lp.dual[:len(c.demand)]) - c.lp.dual[len(c.demand)+p.kind]
		if rc < -1e-6*c.lp.scale() && c.addColumn(p) {
			added = true
		}
	}
	return added
}

// tighten goes on with two-stage patterns that keep to the demand: the best one at the present prices is a MaxProfit
// problem, small enough to be solved at every step. Where a part is wanted only a few times this bound is well above
// that of generate.
func (c *cover) tighten(ctx context.Context, iterations int) {
	for _, k := range c.kinds {
		if c.in.Cuts.Stages != 2 || c.in.needsSearch(c.in.Stock[k.stock]) {
			return
		}
	}
	if !c.tight {
		c.tight = true
		c.dropExcess()
	}
	for range iterations {
		c.lp.solve()
		if ctx.Err() != nil || !c.priceExactly(ctx) || c.done(ctx) {
			return
		}
	}
}

// dropExcess starts the linear programme afresh with the patterns known that keep to the demand.
func (c *cover) dropExcess() {
	known := c.columns
	c.columns, c.seen = nil, map[string]bool{}
	c.start()
	for _, p := range known {
		if fits(p, c.demand) {
			c.addColumn(p)
		}
	}
}

// priceUnits is how finely prices are counted when they become whole profits; they are rounded up, so the bound holds.
const priceUnits = 1e7

// pricingRounds is enough to prove nearly every plate of a workshop job.
const pricingRounds = 2

// priceExactly is priceAll with patterns that keep to the demand.
func (c *cover) priceExactly(ctx context.Context) bool {
	prices := make([]float64, len(c.demand))
	top := 1e-9
	for i := range prices {
		prices[i] = max(0, c.lp.dual[i])
		top = max(top, prices[i])
	}
	most := make([]float64, len(c.kinds))
	var found []*pattern
	for k, kd := range c.kinds {
		plate := Instance{Parts: slices.Clone(c.in.Parts), Stock: []Stock{c.in.Stock[kd.stock]}, Kerf: c.in.Kerf, Cuts: c.in.Cuts, Objective: MaxProfit}
		share := c.creditShare(k)
		for i := range plate.Parts {
			p := &plate.Parts[i]
			value := prices[i] - share*float64(p.W)*float64(p.H)
			if p.Profit = int64(math.Ceil(max(0, value) * priceUnits / top)); p.Profit == 0 {
				p.Demand = 0
			}
		}
		best := mostProfit(ctx, plate, Options{Rounds: pricingRounds})
		most[k] = float64(best.bound) * top / priceUnits
		if best.root != nil {
			found = append(found, c.pattern(k, best.root))
		}
	}
	c.raise(c.farley(prices, most))
	return c.addPaying(found)
}

// creditShare returns what an area of leftover of the kind is credited at most, per unit of area.
func (c *cover) creditShare(k int) float64 {
	return float64(c.kinds[k].cost) * float64(c.in.Leftover.Permille) / 1000 / c.kinds[k].area
}

// netCost is what a piece of the kind costs if all of it comes back as leftover.
func (c *cover) netCost(k int) float64 {
	return float64(c.kinds[k].cost) * float64(1000-c.in.Leftover.Permille) / 1000
}

// farley returns a lower bound from prices of the parts and the most value a sheet of each kind can have.
//
//	t * sum p_i d_i - sum over limited k of n_k * max(0, t V_k - c_k),  t = min(1, min over unlimited k of c_k / V_k)
//
// p prices, d demand, V most value, c net cost, n pieces on hand. With a credit for leftovers V is the value at prices
// less the credit lost by using the area, which only falls faster than t. The bound is rounded up to what
// combinations of stock can cost.
//
// Source: Farley 1990 for one kind; the terms for limited stock are its dual feasible completion, derived in
// docs/methods/guillotine.md.
func (c *cover) farley(prices, most []float64) int64 {
	t, need := 1.0, 0.0
	for i, d := range c.demand {
		need += prices[i] * float64(d)
	}
	for k := range c.kinds {
		if c.in.Stock[c.kinds[k].stock].Count == Unlimited && most[k] > 0 {
			t = min(t, c.netCost(k)/most[k])
		}
	}
	sum := t * need
	for k, kd := range c.kinds {
		if c.in.Stock[kd.stock].Count != Unlimited {
			sum -= float64(kd.count) * max(0, t*most[k]-c.netCost(k))
		}
	}
	bound := int64(0)
	if sum > 0 && !math.IsInf(need, 0) {
		bound = int64(math.Ceil(sum - 1e-6*max(1, sum)))
	}
	if c.in.Leftover.Permille == 0 {
		bound = max(bound, c.combination(most, need))
	}
	return bound
}

// maxSums bounds the table of costs in combination.
const maxSums = 200_000

// combination returns the least cost of pieces of stock that can together have the value needed.
func (c *cover) combination(most []float64, need float64) int64 {
	limit := c.cost
	if limit < 0 || limit/c.unit > maxSums {
		return 0
	}
	need -= 1e-6 * need
	n := int(limit / c.unit)
	table := make([]float64, n+1) // by cost: the most value
	for k, kd := range c.kinds {
		price := int(kd.cost / c.unit)
		if price == 0 {
			need -= float64(kd.count) * most[k]
			continue
		}
		if c.in.Stock[kd.stock].Count == Unlimited {
			for s := price; s <= n; s++ {
				table[s] = max(table[s], table[s-price]+most[k])
			}
			continue
		}
		for rest, take := kd.count, 1; rest > 0; take *= 2 {
			take = min(take, rest)
			rest -= take
			for s := n; s >= take*price; s-- {
				table[s] = max(table[s], table[s-take*price]+float64(take)*most[k])
			}
		}
	}
	for s, v := range table {
		if v >= need {
			return int64(s) * c.unit
		}
	}
	return limit
}

// dive rounds the linear programme: whole sheets are kept, the largest fraction is rounded up, the rest is solved again.
// After every step the remaining parts are also planned sheet by sheet.
func (c *cover) dive(ctx context.Context) {
	if c.lp == nil {
		return
	}
	value := make([]float64, len(c.demand))
	for i := range value {
		value[i] = max(c.lp.dual[i], 1e-9*c.area[i])
	}
	var fixed []use
	for range 200 {
		left, stock := c.remains(fixed)
		c.finish(fixed, value, left, stock)
		if c.done(ctx) || sum(left) == 0 {
			return
		}
		step := c.fraction(left, stock)
		if len(step) == 0 {
			return
		}
		fixed = append(fixed, step...)
	}
}

// finish completes the fixed sheets and keeps the plan if it is the best.
func (c *cover) finish(fixed []use, value []float64, left, stock []int) {
	left, stock = append([]int(nil), left...), append([]int(nil), stock...)
	if plan, complete := c.construct(value, left, stock, nil); complete {
		c.accept(append(append([]use(nil), fixed...), plan...))
	}
}

// fraction solves the linear programme for the parts left over the patterns known and returns what to fix: the whole
// parts of its solution, or one sheet of the pattern with the largest fraction.
func (c *cover) fraction(left, stock []int) []use {
	lp := newMaster(left, stock, c.lp.columns[0].cost)
	for _, col := range c.lp.columns {
		if col.pattern >= 0 && fits(c.columns[col.pattern], left) {
			lp.columns = append(lp.columns, col)
		}
	}
	lp.solve()
	var out []use
	var best *pattern
	most := 0.0
	for i, j := range lp.basis {
		col := lp.columns[j]
		if col.pattern < 0 || lp.x[i] < 1e-6 {
			continue
		}
		if whole := int(lp.x[i] + 1e-6); whole > 0 {
			out = append(out, use{c.columns[col.pattern], whole})
		}
		if lp.x[i] > most {
			best, most = c.columns[col.pattern], lp.x[i]
		}
	}
	if len(out) == 0 && best != nil {
		return []use{{best, 1}}
	}
	return out
}

// fits reports whether the pattern wastes no part if cut once.
func fits(p *pattern, left []int) bool {
	for i, n := range p.counts {
		if n > left[i] {
			return false
		}
	}
	return true
}

func sum(list []int) int {
	total := 0
	for _, n := range list {
		total += n
	}
	return total
}
