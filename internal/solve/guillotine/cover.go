package guillotine

import (
	"cmp"
	"context"
	"math"
	"math/rand/v2"
	"slices"
)

// oracle finds patterns for one kind of stock.
type oracle interface {
	// bound returns an upper bound on the value of any pattern.
	bound(value []float64, demand []int) float64
	// relaxed returns, after bound and before anything else, a pattern that has the value of the bound if it can. The
	// pattern may use more than the demand.
	relaxed() *piece
	// build returns a good pattern within left, nil if nothing fits.
	build(value []float64, left []int) *piece
	// widen makes build look farther in later rounds.
	widen(round int)
}

// pattern is a way to cut one piece of a stock kind.
type pattern struct {
	kind   int
	cost   int64 // net of the credit for leftovers
	counts []int
	area   float64 // of the parts
	root   *piece
}

// use is a pattern cut n times.
type use struct {
	p *pattern
	n int
}

// cover solves MinCost: column generation for the bound, sequential heuristics and rounding for the plan, improved by
// taking sheets away and planning their parts afresh.
type cover struct {
	in      Instance
	opt     Options
	demand  []int
	area    []float64 // of one copy of each part, blade included
	kinds   []kind
	unit    int64 // every cost is a multiple of it; 1 with credits
	rng     *rand.Rand
	width   int // candidates built per sheet
	plan    []use
	cost    int64 // of the plan, -1 without one
	bound   int64
	partial []use // most area placed while there is no plan
	lp      *master
	columns []*pattern
	seen    map[string]bool
	tight   bool // columns keep to the demand, see tighten
}

// kind is one kind of stock with its oracles, one per direction of the first cut.
type kind struct {
	stock   int
	cost    int64
	count   int // pieces on hand, never more than could be used
	area    float64
	oracles []oracle
}

// solveCover runs rounds of widening search until the plan is proven or the options or the context end it.
func solveCover(ctx context.Context, in Instance, opt Options) Solution {
	c := newCover(in, opt)
	for round := range opt.rounds() {
		c.widen(round)
		c.sequences(ctx, 1<<round)
		if c.done(ctx) {
			break
		}
		if !c.tight {
			c.generate(ctx, 10<<round)
		}
		if round >= 2 {
			c.tighten(ctx, 10<<round)
		}
		if c.done(ctx) {
			break
		}
		c.dive(ctx)
		c.recreate(ctx, 8<<round)
		if c.done(ctx) {
			break
		}
	}
	return c.solution()
}

func newCover(in Instance, opt Options) *cover {
	c := &cover{in: in, opt: opt, demand: in.demands(), cost: -1, rng: rand.New(rand.NewPCG(1, 2)), seen: map[string]bool{}}
	total := 0
	for _, p := range in.Parts {
		c.area = append(c.area, float64(p.W+in.Kerf)*float64(p.H+in.Kerf))
		total += p.Demand
	}
	for k, s := range in.Stock {
		n := s.Count
		if n == Unlimited || n > total {
			n = total
		}
		if n == 0 {
			continue
		}
		c.unit = gcd(c.unit, s.Cost)
		c.kinds = append(c.kinds, kind{stock: k, cost: s.Cost, count: n, area: float64(s.W) * float64(s.H)})
	}
	c.addOracles()
	if in.Leftover.Permille > 0 || c.unit == 0 {
		c.unit = 1
	}
	return c
}

func gcd(a, b int64) int64 {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

// directions returns the directions the first cut may have.
func (c Cutting) directions() []Direction {
	if c.First == NoCut {
		return []Direction{Horizontal, Vertical}
	}
	return []Direction{c.First}
}

// widen makes the search of the round wider.
func (c *cover) widen(round int) {
	c.width = 1 + round
	for _, k := range c.kinds {
		for _, o := range k.oracles {
			o.widen(round)
		}
	}
}

// addOracles gives every kind an oracle per direction.
func (c *cover) addOracles() {
	var stock []Stock
	for _, k := range c.kinds {
		stock = append(stock, c.in.Stock[k.stock])
	}
	for k, list := range c.in.oracles(stock) {
		c.kinds[k].oracles = list
	}
}

func (c *cover) done(ctx context.Context) bool {
	return ctx.Err() != nil || c.cost >= 0 && c.cost == c.bound
}

// pattern wraps a piece cut from a kind.
func (c *cover) pattern(k int, root *piece) *pattern {
	p := &pattern{kind: k, cost: c.kinds[k].cost, counts: make([]int, len(c.demand)), root: root}
	root.count(p.counts)
	for i, n := range p.counts {
		p.area += float64(n) * c.area[i]
	}
	if c.in.Leftover.Permille > 0 && !c.in.Leftover.LastOnly {
		p.cost -= c.in.sheetCredit(c.in.sheet(c.kinds[k].stock, root), false)
	}
	return p
}

// worth is the value of the parts of a pattern.
func (p *pattern) worth(value []float64) float64 {
	sum := 0.0
	for i, n := range p.counts {
		sum += float64(n) * value[i]
	}
	return sum
}

// accept keeps the plan if it is the best so far.
func (c *cover) accept(plan []use) bool {
	cost := planCost(plan)
	if c.cost >= 0 && cost >= c.cost {
		return false
	}
	c.plan, c.cost = slices.Clone(plan), cost
	c.bound = min(c.bound, c.cost)
	c.opt.report(c.cost, c.bound)
	return true
}

// raise keeps the bound if it is the best so far.
func (c *cover) raise(bound int64) {
	if bound > c.bound {
		c.bound = bound
		c.opt.report(c.cost, c.bound)
	}
}

func planCost(plan []use) int64 {
	cost := int64(0)
	for _, u := range plan {
		cost += u.p.cost * int64(u.n)
	}
	return cost
}

// remains returns the demand and the stock the plan leaves.
func (c *cover) remains(plan []use) (left, stock []int) {
	left = slices.Clone(c.demand)
	for _, k := range c.kinds {
		stock = append(stock, k.count)
	}
	for _, u := range plan {
		stock[u.p.kind] -= u.n
		for i, n := range u.p.counts {
			left[i] = max(0, left[i]-u.n*n)
		}
	}
	return left, stock
}

// solution turns the best plan into sheets, leaving out parts made beyond the demand.
func (c *cover) solution() Solution {
	sol := Solution{Status: Feasible, Bound: c.bound}
	plan := c.plan
	if c.cost < 0 {
		sol.Status, plan = NoPlan, c.partial
	}
	left := slices.Clone(c.demand)
	slices.SortStableFunc(plan, func(a, b use) int { return a.p.kind - b.p.kind })
	for _, u := range plan {
		for range u.n {
			root := u.p.root.within(left)
			sol.Sheets = append(sol.Sheets, c.in.sheet(c.kinds[u.p.kind].stock, root))
		}
	}
	sol.Value = c.in.value(sol.Sheets)
	if sol.Status == NoPlan {
		sol.Missing, sol.Value = left, 0
	} else if sol.Value <= sol.Bound {
		sol.Status, sol.Bound = Optimal, sol.Value
	}
	return sol
}

// within returns the piece with parts beyond left made waste, and takes the parts from left.
func (p *piece) within(left []int) *piece {
	if p.cut == NoCut {
		if p.part < 0 {
			return p
		}
		if left[p.part] > 0 {
			left[p.part]--
			return p
		}
		return &piece{w: p.w, h: p.h, part: -1}
	}
	out := *p
	out.kids = nil
	for _, kid := range p.kids {
		out.kids = append(out.kids, kid.within(left))
	}
	return out.merged()
}

// merged turns a piece whose children are all waste into waste, and drops waste at the far end, which comes back as the
// rest of the plate.
func (p *piece) merged() *piece {
	kids := p.kids
	for len(kids) > 0 && kids[len(kids)-1].part < 0 && kids[len(kids)-1].cut == NoCut {
		kids = kids[:len(kids)-1]
	}
	if len(kids) == 0 {
		return &piece{w: p.w, h: p.h, part: -1}
	}
	p.kids = kids
	return p
}

// sequences builds plans sheet by sheet. The values of the parts start as their areas and are raised for parts that
// came off wasteful sheets.
// Reference: sequential value correction, Belov and Scheithauer, Setup and open-stacks minimization in one-dimensional
// stock cutting, INFORMS Journal on Computing 19 (2007), doi:10.1287/ijoc.1050.0132.
func (c *cover) sequences(ctx context.Context, passes int) {
	value := slices.Clone(c.area)
	for range passes {
		if c.done(ctx) {
			return
		}
		left, stock := c.remains(nil)
		plan, complete := c.construct(value, left, stock, nil)
		if complete {
			c.accept(plan)
		} else {
			c.keepPartial(plan)
		}
		c.correct(value, plan)
	}
}

// keepPartial remembers the incomplete plan with most area.
func (c *cover) keepPartial(plan []use) {
	if c.cost < 0 && planArea(plan) > planArea(c.partial) {
		c.partial = slices.Clone(plan)
	}
}

func planArea(plan []use) float64 {
	sum := 0.0
	for _, u := range plan {
		sum += u.p.area * float64(u.n)
	}
	return sum
}

// correct moves the value of each part towards what its sheets cost per area, a little more for large parts.
func (c *cover) correct(value []float64, plan []use) {
	for _, u := range plan {
		if u.p.area == 0 {
			continue
		}
		price := c.kinds[u.p.kind].area / u.p.area
		for i, n := range u.p.counts {
			if n > 0 {
				g := min(0.5, float64(n*u.n)/float64(2*c.demand[i]))
				value[i] = (1-g)*value[i] + g*price*math.Pow(c.area[i], 1.02)
			}
		}
	}
}

// construct fills sheets one after the other until left is used up. It prefers, per sheet, the kind of stock with the
// best value for money, or the cheapest one that finishes the job. skip, if given, marks kinds not to use. left and
// stock are changed.
func (c *cover) construct(value []float64, left, stock []int, skip []bool) (plan []use, complete bool) {
	rest := 0
	for _, n := range left {
		rest += n
	}
	for rest > 0 {
		p := c.nextSheet(value, left, stock, skip)
		if p == nil {
			return plan, false
		}
		n := stock[p.kind]
		for i, a := range p.counts {
			if a > 0 {
				n = min(n, left[i]/a)
			}
		}
		stock[p.kind] -= n
		for i, a := range p.counts {
			left[i] -= n * a
			rest -= n * a
		}
		plan = append(plan, use{p, n})
	}
	return plan, true
}

// candidate is a kind with an upper bound on what a sheet of it can be worth.
type candidate struct {
	kind  int
	bound float64
}

// candidates returns what is worth building, most promising first: the best values for money, and the cheapest sheets
// that may finish the job.
func (c *cover) candidates(value []float64, total float64, left, stock []int, skip []bool) []candidate {
	var all []candidate
	for k := range c.kinds {
		if stock[k] == 0 || skip != nil && skip[k] {
			continue
		}
		bound := 0.0
		for _, o := range c.kinds[k].oracles {
			bound = max(bound, o.bound(value, left))
		}
		if bound > 0 {
			all = append(all, candidate{k, min(bound, total)})
		}
	}
	rate := func(a candidate) float64 { return float64(c.kinds[a.kind].cost) / a.bound }
	slices.SortStableFunc(all, func(a, b candidate) int { return cmp.Compare(rate(a), rate(b)) })
	var out []candidate
	var chosen [2]int // clear kinds, and kinds whose bound overlooks their defects: those never push out a clear one
	for _, a := range all {
		group := 0
		if c.in.needsSearch(c.in.Stock[c.kinds[a.kind].stock]) {
			group = 1
		}
		if chosen[group]++; chosen[group] <= c.width {
			out = append(out, a)
		}
	}
	slices.SortStableFunc(all, func(a, b candidate) int { return cmp.Compare(c.kinds[a.kind].cost, c.kinds[b.kind].cost) })
	finishing := 0
	for _, a := range all {
		if a.bound >= total*(1-1e-9) && finishing < c.width {
			finishing++
			if !slices.Contains(out, a) {
				out = append(out, a)
			}
		}
	}
	return out
}

// nextSheet returns the pattern to cut next.
func (c *cover) nextSheet(value []float64, left, stock []int, skip []bool) *pattern {
	total := 0.0
	for i, n := range left {
		total += value[i] * float64(n)
	}
	var found []*pattern
	rate, cheapest := math.Inf(1), int64(math.MaxInt64)
	tried := make([]bool, len(c.kinds))
	copy(tried, skip)
	for len(found) == 0 {
		promising := c.candidates(value, total, left, stock, tried)
		if len(promising) == 0 {
			return nil
		}
		for _, a := range promising {
			tried[a.kind] = true // a kind whose bound overlooks its defects may give nothing: then the next is tried
			for _, o := range c.kinds[a.kind].oracles {
				root := o.build(value, left)
				if root == nil {
					continue
				}
				p := c.pattern(a.kind, root)
				found = append(found, p)
				rate = min(rate, float64(p.cost)/p.worth(value))
				cheapest = min(cheapest, p.cost)
			}
		}
	}
	var best *pattern
	bestCost, bestWorth := 0.0, 0.0
	for _, p := range found {
		w := p.worth(value)
		estimate := float64(p.cost)
		if rest := total - w; rest > 1e-9*total {
			estimate += max(rate*rest, float64(cheapest))
		}
		if best == nil || estimate < bestCost-1e-9 || estimate < bestCost+1e-9 && w > bestWorth {
			best, bestCost, bestWorth = p, estimate, w
		}
	}
	return best
}

// recreate takes a few sheets of the best plan away and plans their parts afresh with disturbed values.
func (c *cover) recreate(ctx context.Context, tries int) {
	if c.cost < 0 {
		return
	}
	current := split(c.plan)
	for range tries {
		if c.done(ctx) {
			return
		}
		kept, left, stock := c.ruin(current)
		value := c.disturbed()
		var skip []bool
		if c.rng.IntN(3) == 0 {
			skip = make([]bool, len(c.kinds))
			skip[c.rng.IntN(len(skip))] = true
		}
		plan, complete := c.construct(value, left, stock, skip)
		if !complete {
			continue
		}
		plan = append(split(plan), kept...)
		if cost, now := planCost(plan), planCost(current); cost < now || cost == now && concentration(plan) >= concentration(current) {
			current = plan
			c.accept(plan)
		}
	}
}

// split returns the plan with every sheet by itself.
func split(plan []use) []use {
	var out []use
	for _, u := range plan {
		for range u.n {
			out = append(out, use{u.p, 1})
		}
	}
	return out
}

// concentration is larger when some sheets are full and others nearly empty, which is how a sheet gets saved.
func concentration(plan []use) float64 {
	sum := 0.0
	for _, u := range plan {
		sum += u.p.area * u.p.area
	}
	return sum
}

// ruin removes one to four sheets and returns the others, with the demand and stock they leave.
func (c *cover) ruin(plan []use) (kept []use, left, stock []int) {
	kept = slices.Clone(plan)
	for range 1 + c.rng.IntN(min(4, len(kept))) {
		n := c.rng.IntN(len(kept))
		if m := c.rng.IntN(len(kept)); c.waste(kept[m].p) > c.waste(kept[n].p) {
			n = m // the more wasteful of two
		}
		kept = slices.Delete(kept, n, n+1)
		if len(kept) == 0 {
			break
		}
	}
	left, stock = c.remains(kept)
	return kept, left, stock
}

func (c *cover) waste(p *pattern) float64 { return c.kinds[p.kind].area - p.area }

// disturbed returns values of the parts, by area or by the prices of the linear programme, with noise.
func (c *cover) disturbed() []float64 {
	value := make([]float64, len(c.demand))
	prices := c.lp != nil && c.rng.IntN(2) == 0
	for i := range value {
		value[i] = c.area[i]
		if prices && c.lp.dual[i] > 0 {
			value[i] = c.lp.dual[i]
		}
		value[i] *= 0.8 + 0.4*c.rng.Float64()
	}
	return value
}
