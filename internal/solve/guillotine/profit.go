package guillotine

import (
	"context"
	"math"
	"slices"
)

// profit keeps the best plan and bound of a MaxProfit instance.
type profit struct {
	in     Instance
	opt    Options
	demand []int
	earned []float64 // by part: profit of a copy
	root   *piece
	value  int64
	bound  int64
}

func newProfit(in Instance, opt Options) *profit {
	p := &profit{in: in, opt: opt, demand: in.demands()}
	u := in.Stock[0].usable()
	for _, part := range in.Parts {
		p.earned = append(p.earned, float64(part.Profit))
		p.bound += part.Profit * int64(min(part.Demand, u.W*u.H/(part.W*part.H))) // as if every part had a plate to itself
	}
	return p
}

// offer keeps what the demand allows of the pattern if it is better than the best plan.
func (p *profit) offer(root *piece) {
	if root == nil {
		return
	}
	root = root.within(slices.Clone(p.demand))
	counts := make([]int, len(p.demand))
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

// lower keeps the bound, computed in floating point, if it is better than before.
func (p *profit) lower(bound float64) {
	if math.IsInf(bound, 1) {
		return
	}
	if b := max(p.value, int64(math.Floor(bound+1e-6))); b < p.bound {
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

// prices charges a price for every copy of a part, so that the demand need not be kept: the Lagrangian relaxation
//
//	bound = max over patterns of sum (v_i - p_i) x_i  +  sum p_i d_i
//
// v profit, p >= 0 price, x copies in the pattern, d demand. Any prices give a valid bound.
type prices struct {
	p     *profit
	o     oracle
	price []float64 // of the best bound
	least float64   // least bound so far
}

func newPrices(p *profit, o oracle) *prices {
	return &prices{p: p, o: o, price: make([]float64, len(p.demand)), least: math.Inf(1)}
}

// round lowers the bound by better prices; the plans built on the way are all it offers.
func (s *prices) round(ctx context.Context, round int) float64 {
	if !s.closed() {
		s.o.widen(round)
		s.p.offer(s.o.build(s.p.earned, s.p.demand))
		s.subgradient(ctx, 50<<round)
	}
	return s.least
}

// closed reports whether the bound leaves no room for a better plan.
func (s *prices) closed() bool { return s.least < float64(s.p.value)+1-1e-6 }

// subgradient looks for the prices with the lowest bound. Step lengths follow Held, Wolfe, Crowder, Validation of
// subgradient optimization, Mathematical Programming 6 (1974).
func (s *prices) subgradient(ctx context.Context, steps int) {
	price := slices.Clone(s.price)
	value, counts := make([]float64, len(price)), make([]int, len(price))
	length, since := 1.0, 0
	for n := range steps {
		charge := 0.0
		for i := range price {
			value[i] = s.p.earned[i] - price[i]
			charge += price[i] * float64(s.p.demand[i])
		}
		got := s.o.bound(value, s.p.demand)
		root := s.o.relaxed()
		if since++; got+charge < s.least-1e-9 {
			s.least, since = got+charge, 0
			copy(s.price, price)
		}
		if n%4 == 0 || root == nil { // after relaxed, which build may spoil
			s.p.offer(s.o.build(value, s.p.demand))
		}
		if root == nil || ctx.Err() != nil {
			return
		}
		clear(counts)
		root.count(counts)
		norm := 0.0
		for i, c := range counts {
			if d := float64(c - s.p.demand[i]); d > 0 || price[i] > 0 {
				norm += d * d
			}
		}
		if norm == 0 { // the relaxed pattern is a plan and its value the bound
			s.p.offer(root)
			return
		}
		if s.closed() {
			return
		}
		if since > 12 {
			length, since = length/2, 0
			copy(price, s.price)
		}
		step := length * (got + charge - float64(s.p.value)) / norm
		for i, c := range counts {
			price[i] = min(s.p.earned[i], max(0, price[i]+step*float64(c-s.p.demand[i])))
		}
	}
}

// solveProfit solves MaxProfit, in every direction of the first cut allowed.
func solveProfit(ctx context.Context, in Instance, opt Options) Solution {
	return mostProfit(ctx, in, opt).solution()
}

func mostProfit(ctx context.Context, in Instance, opt Options) *profit {
	p := newProfit(in, opt)
	var searches []search
	for _, o := range in.oracles(in.Stock)[0] {
		switch o := o.(type) {
		case *stripPlate:
			searches = append(searches, &profit2{prices: newPrices(p, o), stripPlate: o})
		case *table:
			searches = append(searches, &profitAny{newPrices(p, o), o})
		default:
			searches = append(searches, newPrices(p, o))
		}
	}
	for round := range opt.rounds() {
		bound := 0.0
		open := false
		for _, s := range searches {
			bound = max(bound, s.round(ctx, round))
			open = open || !s.closed()
		}
		p.lower(bound)
		if !open || ctx.Err() != nil {
			break
		}
	}
	return p
}

// search looks for plans of one kind. round works a while, offers what it finds and returns the bound; closed reports
// that it cannot find better any more.
type search interface {
	round(ctx context.Context, round int) float64
	closed() bool
}
