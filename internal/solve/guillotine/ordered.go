package guillotine

import (
	"context"
	"math"
	"sync"
)

// pieces returns the plan of the node, one piece a plate.
func (s *planter) pieces(n *node) []*piece {
	var path []*node
	for ; n.parent != nil; n = n.parent {
		path = append(path, n)
	}
	out := make([]*piece, len(s.plates))
	var columns, rows, row []*piece
	for i := len(path) - 1; i >= 0; i-- {
		n := path[i]
		row = append(row, s.rowPiece(n)...)
		var next level = newPlate
		if i > 0 {
			next = path[i-1].opens
		}
		if next == inRow {
			continue
		}
		rows = append(rows, &piece{w: n.at.x1 - n.at.x0, h: n.at.y1 - n.at.y0, cut: Vertical, kids: row, part: -1})
		row = nil
		if next == newRow {
			continue
		}
		g := s.plates[n.at.plate]
		columns = append(columns, &piece{w: n.at.x1 - n.at.x0, h: g.h, cut: Horizontal, kids: rows, part: -1})
		rows = nil
		if next == newColumn {
			continue
		}
		out[n.at.plate] = &piece{w: g.w, h: g.h, cut: Vertical, kids: columns, part: -1}
		columns = nil
	}
	for k, p := range out {
		if p != nil && s.turned {
			out[k] = p.flip()
		}
	}
	return out
}

// rowPiece returns what the node adds to its row: waste up to the part, and the part or parts with waste below.
func (s *planter) rowPiece(n *node) []*piece {
	var out []*piece
	height := n.at.y1 - n.at.y0
	if n.px > n.start {
		out = append(out, &piece{w: n.px - n.start, h: height, part: -1})
	}
	var kids []*piece
	if n.py > n.at.y0 {
		kids = append(kids, &piece{w: n.shape.w, h: n.py - n.at.y0, part: -1})
	}
	kids = append(kids, n.shape.leaf())
	if n.upper != nil {
		kids = append(kids, n.upper.leaf())
	}
	return append(out, &piece{w: n.shape.w, h: height, cut: Horizontal, kids: kids, part: -1})
}

// flip exchanges the axes.
func (p *piece) flip() *piece {
	out := &piece{w: p.h, h: p.w, part: p.part, turned: p.turned}
	if p.cut != NoCut {
		out.cut = p.cut.across()
	}
	for _, kid := range p.kids {
		out.kids = append(out.kids, kid.flip())
	}
	return out
}

// variants to search with, all at once.
var variants = []variant{{bySize: true, deep: true}, {deep: true}}

// firstLength is how many plans of equal progress the first round opens.
const firstLength = 4

// solveOrdered solves MinCost when stock and parts come in order.
func solveOrdered(ctx context.Context, in Instance, opt Options) Solution {
	kinds, stock := in.sequence()
	best := Solution{Status: NoPlan, Bound: in.orderedBound(kinds), Missing: in.demands()}
	area := math.Inf(1) // used by the best plan
	for round := range opt.rounds() {
		for _, found := range in.searchAll(ctx, stock, firstLength<<round, area) {
			if found.best == nil {
				continue
			}
			area = min(area, found.bestValue)
			sol := Solution{Status: Feasible, Bound: best.Bound}
			for n, p := range found.pieces(found.best) {
				if p != nil {
					sol.Sheets = append(sol.Sheets, in.sheet(kinds[n], p))
				}
			}
			if sol.Value = in.value(sol.Sheets); best.Status == NoPlan || sol.Value < best.Value {
				best = sol
				opt.report(best.Value, best.Bound)
			}
		}
		if ctx.Err() != nil || best.Status != NoPlan && best.Value <= best.Bound {
			break
		}
	}
	if best.Status == Feasible && best.Value <= best.Bound {
		best.Status = Optimal
	}
	return best
}

// searchAll searches for plans of less area once per direction and variant, all at the same time. They share nothing,
// so the result does not depend on which ends first.
func (in Instance) searchAll(ctx context.Context, stock []Stock, length int, area float64) []*planter {
	var out []*planter
	var running sync.WaitGroup
	for _, d := range in.Cuts.directions() {
		for _, v := range variants {
			s := newPlanter(in, stock, d, in.demands())
			s.sequence, s.bestValue = true, area
			out = append(out, s)
			running.Go(func() { s.run(ctx, length, v) })
		}
	}
	running.Wait()
	return out
}

// sequence lists the pieces of stock in order, as many as could be needed, with their kinds.
func (in Instance) sequence() (kinds []int, stock []Stock) {
	total := sum(in.demands())
	for k, s := range in.Stock {
		n := s.Count
		if n == Unlimited {
			n = total
		}
		for range min(n, total-len(kinds)) {
			kinds, stock = append(kinds, k), append(stock, s)
		}
	}
	return kinds, stock
}

// orderedBound returns a lower bound on the cost: the stock that the area of the parts needs, less the credit for all
// area the parts do not take.
func (in Instance) orderedBound(kinds []int) int64 {
	need := 0.0
	for _, p := range in.Parts {
		need += float64(p.Demand) * float64(p.W) * float64(p.H)
	}
	cost, share := 0.0, float64(in.Leftover.Permille)/1000
	for _, k := range kinds {
		s := in.Stock[k]
		area := float64(s.W) * float64(s.H)
		used := min(need, area)
		if in.Leftover.LastOnly && need > area {
			cost += float64(s.Cost)
		} else {
			cost += float64(s.Cost) * (1 - share*(1-used/area))
		}
		if need -= used; need <= 0 {
			break
		}
	}
	return int64(math.Ceil(cost - 1e-9*max(1, cost)))
}
