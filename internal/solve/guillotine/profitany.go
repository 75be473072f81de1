package guillotine

import "context"

// profitAny solves MaxProfit with any number of stages: bounds from prices, plans from tables that keep more and more
// ways per plate, ranked at profits less a share of the prices, so that scarce parts are kept for where they count.
type profitAny struct {
	*prices
	t *table
}

// shares of the prices to rank ways at.
var shares = []float64{0, 1, 0.5}

func (s *profitAny) round(ctx context.Context, round int) float64 {
	if s.closed() {
		return s.least
	}
	s.subgradient(ctx, 40<<round)
	for _, share := range shares {
		if s.closed() || ctx.Err() != nil {
			break
		}
		if s.pass(ctx, share, 1<<(2*round)) {
			s.least = float64(s.p.value)
		}
	}
	return s.least
}

// pass looks for a better plan with the given number of ways per plate and reports whether there is certainly none
// better than what is known afterwards.
func (s *profitAny) pass(ctx context.Context, share float64, width int) bool {
	priced, rank := make([]float64, len(s.price)), make([]float64, len(s.price))
	charge := 0.0
	for i, v := range s.p.earned {
		priced[i] = v - s.price[i]
		rank[i] = v - share*s.price[i] + 1e-6*v // a part whose price is its profit still counts a little
		charge += s.price[i] * float64(s.p.demand[i])
	}
	search := waySearch{value: rank, left: s.p.demand, width: width, stop: func() bool { return ctx.Err() != nil }}
	if s.t.lower == s.t.upper {
		search.filter = s.t.lower.filter(priced, float64(s.p.value)+1-1e-6-charge)
	}
	w, all := s.t.lower.ways(search)
	if w != nil {
		s.p.offer(w.piece())
	}
	return all && search.filter != nil
}
