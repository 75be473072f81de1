package guillotine

import (
	"context"
	"math"
	"slices"
	"sort"
)

// profit2 solves MaxProfit with two stages in one direction of the first cut.
//
// Idea: charge a price for every copy of a part, so that the demand over the whole plate may be forgotten; what is left
// is the two-level knapsack of strips (a Lagrangian relaxation, its prices found by subgradient steps). With good
// prices few strips can be part of a better plan than the best one known: list them all, then search combinations of
// listed strips depth first, with the same relaxation as bound. It proves the optimum when the list and the search end
// within their limits; both grow with the number of parts per strip, so many tiny parts defeat it.
// Reference: Lagrangian bound with reduced-cost listing is a standard device; for this problem compare Belov,
// Scheithauer, A branch-and-cut-and-price algorithm for one-dimensional stock cutting and two-dimensional two-stage
// cutting, EJOR 171 (2006), doi:10.1016/j.ejor.2004.08.036.
type profit2 struct {
	*stripPlate
	in     Instance
	demand []int
	profit []float64
	best   int64  // profit of the best plan of any direction
	root   *piece // the best plan
	bound  float64

	price   []float64   // of a copy, by part
	value   []float64   // profit less price
	charge  float64     // sum of price times demand
	within  [][]float64 // within[c][l]: most value of strips no thicker than class c on l levels
	tables  [][]float64 // tables[o][p]: most value along p of options up to o
	listed  [][]listedStrip
	limit   int
	visited int
}

// listedStrip is a strip that a better plan may contain.
type listedStrip struct {
	value  float64 // at profit less price
	profit int64
	counts []chunk // options with their numbers
}

// search raises the bound and looks for better plans than best. It reports whether the direction was searched to the
// end, so that no plan in it beats the best.
func (s *profit2) search(ctx context.Context, steps, limit int) bool {
	s.subgradient(ctx, steps)
	if s.closed() {
		return true
	}
	if ctx.Err() != nil || !s.onSums {
		return false
	}
	s.limit, s.visited = limit, 0
	if !s.list(ctx) {
		return false
	}
	s.visited = 0
	return s.descend(ctx, len(s.classes)-1, 0, last(s.levels, s.thick, s.onSums), 0, 0, slices.Clone(s.demand), nil)
}

// closed reports whether the bound leaves no room for a better plan.
func (s *profit2) closed() bool { return s.bound < float64(s.best)+1-1e-6 }

// subgradient looks for the prices with the lowest bound. Step lengths follow Held, Wolfe, Crowder, Validation of
// subgradient optimization, Mathematical Programming 6 (1974).
func (s *profit2) subgradient(ctx context.Context, steps int) {
	price := make([]float64, len(s.demand))
	if s.price == nil {
		s.price = slices.Clone(price)
	}
	copy(price, s.price)
	value, counts := make([]float64, len(price)), make([]int, len(price))
	length, since := 1.0, 0
	for n := range steps {
		charge := 0.0
		for i := range price {
			value[i] = s.profit[i] - price[i]
			charge += price[i] * float64(s.demand[i])
		}
		got, root := s.relax(value, s.demand)
		if since++; got+charge < s.bound-1e-9 {
			s.bound, since = got+charge, 0
			copy(s.price, price)
		}
		if n%4 == 0 || root == nil {
			s.offer(s.build(value, s.demand))
		}
		if root == nil || ctx.Err() != nil {
			return
		}
		clear(counts)
		root.count(counts)
		norm := 0.0
		for i, c := range counts {
			if d := float64(c - s.demand[i]); d > 0 || price[i] > 0 {
				norm += d * d
			}
		}
		if norm == 0 { // the relaxed pattern is a plan and its value the bound
			s.offer(root)
			return
		}
		if s.closed() {
			return
		}
		if since > 12 {
			length, since = length/2, 0
			copy(price, s.price)
		}
		step := length * (got + charge - float64(s.best)) / norm
		for i, c := range counts {
			price[i] = min(s.profit[i], max(0, price[i]+step*float64(c-s.demand[i])))
		}
	}
}

// offer keeps the plan if it is within the demand and better than the best. What fits the demand of a relaxed pattern
// counts too.
func (s *profit2) offer(root *piece) {
	if root == nil {
		return
	}
	root = root.within(slices.Clone(s.demand))
	counts := make([]int, len(s.demand))
	root.count(counts)
	profit := int64(0)
	for i, n := range counts {
		profit += int64(n) * s.in.Parts[i].Profit
	}
	if profit > s.best {
		s.best, s.root = profit, root
	}
}

// list makes the tables at the best prices and lists every strip of every class that a better plan may contain. It
// reports false if there are more than the limit.
func (s *profit2) list(ctx context.Context) bool {
	s.value, s.charge = make([]float64, len(s.price)), 0
	for i, p := range s.price {
		s.value[i] = s.profit[i] - p
		s.charge += p * float64(s.demand[i])
	}
	s.fillTables()
	s.listed = make([][]listedStrip, len(s.classes))
	total := 0
	for c, cl := range s.classes {
		if cl.thick > s.thick {
			continue
		}
		rest := s.within[len(s.classes)-1][cl.down[len(s.levels)-1]]
		need := float64(s.best) + 1 - 1e-6 - s.charge - rest
		s.listClass(ctx, c, need)
		if total += len(s.listed[c]); s.visited > s.limit || total > s.limit || ctx.Err() != nil {
			return false
		}
		sort.SliceStable(s.listed[c], func(a, b int) bool { return s.listed[c][a].value > s.listed[c][b].value })
	}
	return true
}

// fillTables computes tables and within.
func (s *profit2) fillTables() {
	s.filled, s.chunks, s.taken = 0, s.chunks[:0], s.taken[:0] // the shared table is lost
	clear(s.strips.best)
	s.tables, s.within = nil, nil
	clear(s.outer)
	first := 0
	for c, cl := range s.classes {
		if s.exact {
			clear(s.strips.best)
		}
		for o := first; o < cl.end; o++ {
			rest := 0
			if s.value[s.options[o].part] > 0 {
				rest = min(s.demand[s.options[o].part], s.along/s.options[o].along)
			}
			for n := 1; rest > 0; n *= 2 {
				n = min(n, rest)
				rest -= n
				s.addChunk(o, n, float64(n)*s.value[s.options[o].part])
			}
			s.tables = append(s.tables, slices.Clone(s.strips.best))
		}
		first = cl.end
		s.addClass(c, s.strips.best[len(s.points)-1])
		s.within = append(s.within, slices.Clone(s.outer))
	}
}

// listClass lists the strips of class c that have at least the value needed and hold a part as thick as the class.
func (s *profit2) listClass(ctx context.Context, c int, need float64) {
	first := 0
	if c > 0 {
		first = s.classes[c-1].end
	}
	low := 0
	if s.exact {
		low = first
	}
	var counts []chunk
	used := make([]int, len(s.demand))
	var visit func(o, p int, value float64, profit int64, thickest bool)
	visit = func(o, p int, value float64, profit int64, thickest bool) {
		if s.visited++; s.visited > s.limit || s.visited&1023 == 0 && ctx.Err() != nil {
			s.visited = math.MaxInt / 2
			return
		}
		if o < low || o < first && !thickest {
			if thickest && value >= need {
				s.listed[c] = append(s.listed[c], listedStrip{value, profit, slices.Clone(counts)})
			}
			return
		}
		if value+s.tables[o][p] < need {
			return
		}
		op := s.options[o]
		most := min(s.demand[op.part]-used[op.part], s.points[p]/op.along)
		for n := most; n >= 0; n-- {
			q := last(s.points, s.points[p]-n*op.along, true)
			if n > 0 {
				counts = append(counts, chunk{option: o, n: n})
				used[op.part] += n
			}
			visit(o-1, q, value+float64(n)*s.value[op.part], profit+int64(n)*s.in.Parts[op.part].Profit, thickest || n > 0 && o >= first)
			if n > 0 {
				counts = counts[:len(counts)-1]
				used[op.part] -= n
			}
		}
	}
	visit(s.classes[c].end-1, len(s.points)-1, 0, 0, false)
}

// descend tries every way to go on with strips no later in the list than strip `from` of class c. It reports whether it
// came to the end.
func (s *profit2) descend(ctx context.Context, c, from, level int, value float64, profit int64, left []int, made []*listedStrip) bool {
	if s.visited++; s.visited > s.limit || s.visited&1023 == 0 && ctx.Err() != nil {
		return false
	}
	if profit > s.best {
		s.offer(s.assemble(made))
	}
	for ; c >= 0; c, from = c-1, 0 {
		// the bound falls with c, so nothing thinner can help either
		if value+s.charge+s.within[c][level] < float64(s.best)+1-1e-6 {
			return true
		}
		down := s.classes[c].down[level]
		if down < 0 {
			continue
		}
		for n := from; n < len(s.listed[c]); n++ {
			strip := &s.listed[c][n]
			if value+strip.value+s.charge+s.within[c][down] < float64(s.best)+1-1e-6 {
				break
			}
			if !s.take(strip, left, 1) {
				continue
			}
			complete := s.descend(ctx, c, n, int(down), value+strip.value, profit+strip.profit, left, append(made, strip))
			s.take(strip, left, -1)
			if !complete {
				return false
			}
		}
	}
	return true
}

// take removes the parts of the strip from left if they are all there; sign -1 puts them back.
func (s *profit2) take(strip *listedStrip, left []int, sign int) bool {
	for n, c := range strip.counts {
		part := s.options[c.option].part
		left[part] -= sign * c.n
		if left[part] < 0 {
			for _, d := range strip.counts[:n+1] {
				left[s.options[d.option].part] += sign * d.n
			}
			return false
		}
	}
	return true
}

// assemble makes a plate of the strips.
func (s *profit2) assemble(made []*listedStrip) *piece {
	var kids []*piece
	for _, strip := range made {
		kids = append(kids, s.strip(strip.counts, nil))
	}
	return stack(s.cut, kids)
}

// solveProfit2 solves MaxProfit with two stages, in every direction allowed.
func solveProfit2(ctx context.Context, in Instance, opt Options) Solution {
	p := &profit{in: in, opt: opt}
	var searches []*profit2
	for _, d := range in.Cuts.directions() {
		plate := newStrips(in, []Rect{in.Stock[0].usable()}, d)[0]
		searches = append(searches, &profit2{stripPlate: plate, in: in, demand: in.demands(), profit: in.profits(), bound: math.Inf(1)})
	}
	for round := range opt.rounds() {
		open := false
		bound := 0.0
		for _, s := range searches {
			if s.best = p.value; !s.closed() {
				if s.search(ctx, 100<<round, 20_000<<(2*round)) {
					s.bound = float64(max(s.best, p.value))
				}
			}
			if s.root != nil {
				p.accept(s.root)
				s.root = nil
			}
			bound = max(bound, s.bound)
			open = open || !s.closed()
		}
		p.lower(bound)
		if !open || ctx.Err() != nil {
			break
		}
	}
	return p.solution()
}

func (in Instance) profits() []float64 {
	var out []float64
	for _, p := range in.Parts {
		out = append(out, float64(p.Profit))
	}
	return out
}

// profit keeps the best plan and bound of a MaxProfit instance.
type profit struct {
	in    Instance
	opt   Options
	root  *piece
	value int64
	bound int64
}

// accept keeps the plan if it is better.
func (p *profit) accept(root *piece) {
	counts := make([]int, len(p.in.Parts))
	root.count(counts)
	value := int64(0)
	for i, n := range counts {
		value += int64(n) * p.in.Parts[i].Profit
	}
	if value > p.value {
		p.value, p.root = value, root
		p.opt.report(p.value, p.bound)
	}
}

// lower keeps the bound if it is better than before; it was computed in floating point.
func (p *profit) lower(bound float64) {
	if math.IsInf(bound, 1) {
		return
	}
	if b := max(p.value, int64(math.Floor(bound+1e-6))); p.bound == 0 || b < p.bound {
		p.bound = b
		p.opt.report(p.value, p.bound)
	}
}

func (p *profit) solution() Solution {
	sol := Solution{Status: Feasible, Value: p.value, Bound: p.bound}
	if p.root != nil {
		sol.Sheets = []Sheet{p.in.sheet(0, p.root)}
	}
	if p.value == p.bound {
		sol.Status = Optimal
	}
	return sol
}
