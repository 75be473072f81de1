package guillotine

import "context"

// profitAny solves MaxProfit with any number of stages: bounds from prices, plans from tables that keep more and more
// ways per plate, ranked at profits less a share of the prices, so that scarce parts are kept for where they count.
type profitAny struct {
	*prices
	t *table
}

func newProfitAny(p *profit, t *table) *profitAny {
	return &profitAny{newPrices(p, t), t}
}

// shares of the prices to rank ways at.
var shares = []float64{0, 1, 0.5}

func (s *profitAny) round(ctx context.Context, round int) float64 {
	if s.closed() {
		return s.bound
	}
	s.subgradient(ctx, 40<<round)
	value := make([]float64, len(s.price))
	for _, share := range shares {
		if s.closed() || ctx.Err() != nil {
			break
		}
		for i, v := range s.p.earned {
			value[i] = v - share*s.price[i] + 1e-6*v
		}
		if w := s.t.lower.ways(value, s.p.demand, 1<<round, func() bool { return ctx.Err() != nil }); w != nil {
			s.p.offer(w.piece())
		}
	}
	return s.bound
}
