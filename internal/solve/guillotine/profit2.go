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
	*prices
	*stripPlate
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

// round lowers the bound and looks for better plans than the best.
func (s *profit2) round(ctx context.Context, round int) float64 {
	if s.closed() {
		return s.least
	}
	s.subgradient(ctx, 100<<round)
	if s.closed() || ctx.Err() != nil || !s.onSums {
		return s.least
	}
	s.limit, s.visited = 20_000<<(2*round), 0
	if s.list(ctx) {
		s.visited = 0
		if s.descend(ctx, len(s.classes)-1, 0, len(s.levels)-1, 0, 0, slices.Clone(s.p.demand), nil) {
			s.least = float64(s.p.value) // searched to the end
		}
	}
	return s.least
}

// list makes the tables at the best prices and lists every strip of every class that a better plan may contain. It
// reports false if there are more than the limit.
func (s *profit2) list(ctx context.Context) bool {
	s.value, s.charge = make([]float64, len(s.price)), 0
	for i, p := range s.price {
		s.value[i] = s.p.earned[i] - p
		s.charge += p * float64(s.p.demand[i])
	}
	s.fillTables()
	s.listed = make([][]listedStrip, len(s.classes))
	total := 0
	for c, cl := range s.classes {
		if cl.thick > s.thick {
			continue
		}
		rest := s.within[len(s.classes)-1][cl.down[len(s.levels)-1]]
		need := float64(s.p.value) + 1 - 1e-6 - s.charge - rest
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
				rest = min(s.p.demand[s.options[o].part], s.along/s.options[o].along)
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
	used := make([]int, len(s.p.demand))
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
		most := min(s.p.demand[op.part]-used[op.part], s.points[p]/op.along)
		for n := most; n >= 0; n-- {
			q := last(s.points, s.points[p]-n*op.along, true)
			if n > 0 {
				counts = append(counts, chunk{option: o, n: n})
				used[op.part] += n
			}
			visit(o-1, q, value+float64(n)*s.value[op.part], profit+int64(n)*s.p.in.Parts[op.part].Profit, thickest || n > 0 && o >= first)
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
	if profit > s.p.value {
		s.p.offer(s.assemble(made))
	}
	for ; c >= 0; c, from = c-1, 0 {
		// the bound falls with c, so nothing thinner can help either
		if value+s.charge+s.within[c][level] < float64(s.p.value)+1-1e-6 {
			return true
		}
		down := s.classes[c].down[level]
		if down < 0 {
			continue
		}
		for n := from; n < len(s.listed[c]); n++ {
			strip := &s.listed[c][n]
			if value+strip.value+s.charge+s.within[c][down] < float64(s.p.value)+1-1e-6 {
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
