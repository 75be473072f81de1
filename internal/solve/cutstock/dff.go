package cutstock

import (
	"cmp"
	"math"
	"slices"
)

// Bounds by dual feasible functions. Idea: if f is superadditive, f(a) + f(b) <= f(a+b), then the items on a piece of
// capacity c have f summing to at most f(c) whatever they are, so the pieces taken must satisfy sum f(c_k) n_k >= sum f(size_i)
// demand_i, and the cheapest way to satisfy one such inequality is a bound. Costs next to nothing and often closes
// the case of many large items without a relaxation; leaves out the interplay of several inequalities, and leftover values.
// Reference: S. P. Fekete, J. Schepers, New classes of fast lower bounds for bin packing problems, Mathematical
// Programming 91 (2001), doi:10.1007/s101070100243.

// mostRounding is how many rounding functions are tried; later ones resemble the plain sum of sizes.
const mostRounding = 40

// coverBound returns the best bound of the plain sum of sizes and of both families of functions.
func (p *problem) coverBound() float64 {
	if p.anyWorth() {
		return 0
	}
	p.budget.spend(int64(2 * len(p.size) * (len(p.size) + mostRounding)))
	top := p.kinds[0].capacity
	bound := p.cheapestCover(func(x int64) int64 { return x })
	for _, cut := range p.size {
		if cut <= top/2 {
			bound = max(bound, p.cheapestCover(func(x int64) int64 { return keepLarge(x, cut, top) }))
		}
	}
	for k := range int64(mostRounding) {
		bound = max(bound, p.cheapestCover(func(x int64) int64 { return roundSteps(x, k+1, top) }))
	}
	return bound
}

// keepLarge rounds sizes that leave less than cut up to the whole, and sizes below cut down to nothing.
//
//	f(x) = c if x > c - cut;  x if cut <= x <= c - cut;  0 if x < cut
//
// x a size, 0..c; c the largest capacity; cut at most c/2. Source: Fekete and Schepers 2001, U^(epsilon).
func keepLarge(x, cut, c int64) int64 {
	switch {
	case x > c-cut:
		return c
	case x >= cut:
		return x
	}
	return 0
}

// roundSteps rounds sizes down to multiples of a share of the whole, unless they are such multiples.
//
//	f(x) = k x if (k+1) x is a multiple of c;  c floor((k+1) x / c) otherwise
//
// x a size, 0..c; c the largest capacity; k 1 or more. Source: Fekete and Schepers 2001, u^(k), times k c.
func roundSteps(x, k, c int64) int64 {
	if (k+1)*x%c == 0 {
		return k * x
	}
	return c * ((k + 1) * x / c)
}

// cheapestCover returns the least cost of pieces, fractions of pieces allowed unless there is only one kind, whose values
// under f reach those of the items.
func (p *problem) cheapestCover(f func(int64) int64) float64 {
	need := 0.0
	for i, s := range p.size {
		need += float64(f(s)) * float64(p.demand[i])
	}
	order := make([]int, 0, len(p.kinds))
	for k := range p.kinds {
		if f(p.kinds[k].capacity) > 0 {
			order = append(order, k)
		}
	}
	rate := func(k int) float64 { return float64(p.kinds[k].cost) / float64(f(p.kinds[k].capacity)) }
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(rate(a), rate(b)) })
	bound := 0.0
	for _, k := range order {
		value, cost := float64(f(p.kinds[k].capacity)), float64(p.kinds[k].cost)
		// the margin is for the rounding of need, a sum of whole numbers that may be large
		pieces, limit := need/value*(1-1e-12), float64(p.kinds[k].limit)
		if len(p.kinds) == 1 {
			pieces = math.Ceil(pieces)
		}
		if pieces <= limit {
			return bound + pieces*cost
		}
		bound += limit * cost
		need -= limit * value
	}
	return bound
}
