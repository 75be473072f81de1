package guillotine

import (
	"context"
	"math/rand/v2"
	"testing"
)

// brute enumerates what can be cut from a plate by trying every cut at every position, straight from the rules.
type brute struct {
	in   Instance
	memo map[bruteKey]map[int]bool
}

type bruteKey struct {
	w, h, stages int
	dir          Direction
}

// code packs counts, each capped by the demand, into one number. add returns false if the demand is exceeded.
func (b *brute) add(x, y int) (int, bool) {
	sum, scale := 0, 1
	for _, p := range b.in.Parts {
		n := x%8 + y%8
		if n > p.Demand {
			return 0, false
		}
		sum += n * scale
		x, y, scale = x/8, y/8, scale*8
	}
	return sum, true
}

func (b *brute) one(part int) int { return 1 << (3 * part) }

// plate returns the sets of parts that a plate gives; stages left and the direction of the next.
func (b *brute) plate(w, h, stages int, dir Direction) map[int]bool {
	key := bruteKey{w, h, stages, dir}
	if got, ok := b.memo[key]; ok {
		return got
	}
	out := map[int]bool{0: true}
	b.memo[key] = out
	free := b.in.Cuts.Stages == Unlimited
	if !free && stages == 0 {
		b.last(out, w, h, dir)
		return out
	}
	next := stages - 1
	if free {
		next = stages
		b.fitting(out, w, h)
	}
	for x := range b.plate(w, h, next, dir.across()) {
		out[x] = true
	}
	size := w
	if dir == Horizontal {
		size = h
	}
	for at := 1; at < size; at++ {
		rest := size - at - b.in.Kerf
		first, second := b.cut(w, h, at, next, dir.across(), dir), map[int]bool{0: true}
		if rest > 0 {
			second = b.cut(w, h, rest, stages, dir, dir)
		}
		for x := range first {
			for y := range second {
				if sum, ok := b.add(x, y); ok {
					out[sum] = true
				}
			}
		}
	}
	return out
}

// cut returns what a piece of the size in the direction gives.
func (b *brute) cut(w, h, size, stages int, next, dir Direction) map[int]bool {
	if dir == Horizontal {
		return b.plate(w, size, stages, next)
	}
	return b.plate(size, h, stages, next)
}

// fitting adds every part not larger than the plate.
func (b *brute) fitting(out map[int]bool, w, h int) {
	for _, s := range b.in.shapes() {
		if s.w-b.in.Kerf <= w && s.h-b.in.Kerf <= h {
			out[b.one(s.part)] = true
		}
	}
}

// last adds the parts a piece of the last stage gives, with at most one more cut in direction dir.
func (b *brute) last(out map[int]bool, w, h int, dir Direction) {
	for _, s := range b.in.shapes() {
		sw, sh := s.w-b.in.Kerf, s.h-b.in.Kerf
		trim := b.in.Cuts.Last == TrimmingCut
		if sw == w && sh == h || trim && dir == Horizontal && sw == w && sh <= h || trim && dir == Vertical && sh == h && sw <= w {
			out[b.one(s.part)] = true
		}
	}
}

// sets returns what a stock kind gives in any direction allowed.
func (b *brute) sets(s Stock) map[int]bool {
	out := map[int]bool{}
	for _, d := range b.in.Cuts.directions() {
		for x := range b.plate(s.usable().W, s.usable().H, max(0, b.in.Cuts.Stages), d) {
			out[x] = true
		}
	}
	return out
}

func (b *brute) profit(x int) int64 {
	total := int64(0)
	for _, p := range b.in.Parts {
		total += int64(x%8) * p.Profit
		x /= 8
	}
	return total
}

// cost returns the least cost of unlimited stock for all demand.
func (b *brute) cost() int64 {
	want := 0
	for i, p := range b.in.Parts {
		want += p.Demand << (3 * i)
	}
	best := map[int]int64{0: 0}
	for changed := true; changed; {
		changed = false
		for have, cost := range best {
			for _, s := range b.in.Stock {
				for x := range b.sets(s) {
					if sum, ok := b.add(have, x); ok {
						if old, known := best[sum]; !known || cost+s.Cost < old {
							best[sum], changed = cost+s.Cost, true
						}
					}
				}
			}
		}
	}
	return best[want]
}

// tinyInstance is small enough for brute.
func tinyInstance(seed uint64, stages int, goal Objective) Instance {
	r := rand.New(rand.NewPCG(seed, uint64(stages+10)))
	in := Instance{Kerf: r.IntN(2), Objective: goal, Cuts: Cutting{Stages: stages, First: Direction(r.IntN(3)), Last: LastCut(r.IntN(2))}}
	if stages == Unlimited {
		in.Cuts.First = NoCut
	}
	for range 2 + r.IntN(2) {
		p := Part{W: 2 + r.IntN(6), H: 2 + r.IntN(5), Demand: 1 + r.IntN(3), MayTurn: r.IntN(2) == 0}
		p.Profit = int64(p.W*p.H + r.IntN(5))
		in.Parts = append(in.Parts, p)
	}
	in.Stock = []Stock{{W: 9 + r.IntN(5), H: 8 + r.IntN(5), Cost: int64(5 + r.IntN(5)), Count: Unlimited}}
	if goal == MinCost {
		in.Stock = append(in.Stock, Stock{W: 8 + r.IntN(3), H: 8 + r.IntN(3), Cost: int64(3 + r.IntN(4)), Count: Unlimited})
	}
	return in
}

func TestSmallProfitsEqualBruteForce(t *testing.T) {
	for _, stages := range []int{2, 3, Unlimited} {
		for seed := range uint64(40) {
			in := tinyInstance(seed, stages, MaxProfit)
			b := &brute{in: in, memo: map[bruteKey]map[int]bool{}}
			want := int64(0)
			for x := range b.sets(in.Stock[0]) {
				want = max(want, b.profit(x))
			}
			sol := Solve(context.Background(), in, Options{})
			if sol.Value > want || sol.Bound < want {
				t.Errorf("stages %d seed %d: %v, brute force finds %d", stages, seed, sol, want)
			}
			if stages != 3 && sol.Value != want {
				t.Errorf("stages %d seed %d: %v, the optimum is %d", stages, seed, sol, want)
			}
		}
	}
}

func TestSmallCostsEqualBruteForce(t *testing.T) {
	for _, stages := range []int{2, 3, Unlimited} {
		for seed := range uint64(25) {
			in := tinyInstance(seed, stages, MinCost)
			if len(in.Check()) > 0 {
				continue
			}
			b := &brute{in: in, memo: map[bruteKey]map[int]bool{}}
			want := b.cost()
			sol := Solve(context.Background(), in, Options{})
			if sol.Status == NoPlan || sol.Bound > want || sol.Value < want {
				t.Errorf("stages %d seed %d: %v, brute force finds %d", stages, seed, sol, want)
			}
			if sol.Value != want {
				t.Errorf("stages %d seed %d: %v, the optimum is %d", stages, seed, sol, want)
			}
		}
	}
}
