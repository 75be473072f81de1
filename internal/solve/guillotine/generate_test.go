package guillotine

import (
	"math/rand/v2"
	"strconv"
)

// repeatJob returns a seeded job of nine kinds of part with lengths that repeat, in steps of 5, as furniture has them;
// boards of three widths and two lengths.
func repeatJob(seed uint64) Instance {
	r := rand.New(rand.NewPCG(seed, 3))
	in := Instance{Kerf: 3, Cuts: Cutting{Stages: 2}}
	var lengths []int
	for range 5 {
		lengths = append(lengths, 200+5*r.IntN(250))
	}
	for i := range 9 {
		in.Parts = append(in.Parts, Part{ID: string(rune('A' + i)), W: lengths[r.IntN(5)], H: 30 + 5*r.IntN(18), Demand: 2 + 2*r.IntN(2)})
	}
	for k := range 6 {
		s := Stock{ID: string(rune('a' + k)), W: []int{3000, 4200}[k%2], H: []int{125, 175, 225}[k/2], Count: Unlimited, Trim: Margins{20, 20, 2, 2}}
		s.Cost = int64(s.W) * int64(s.H) / 1000 * (9 + int64(k)) / 10
		in.Stock = append(in.Stock, s)
	}
	return in
}

// boardJob returns a seeded job with every length different, harder than furniture: parts from six kinds of boards that
// differ in width and length.
func boardJob(seed uint64, kinds int) Instance {
	r := rand.New(rand.NewPCG(seed, 7))
	in := Instance{Kerf: 3, Cuts: Cutting{Stages: 2}}
	for i := range kinds {
		demand := 1 + r.IntN(4)
		in.Parts = append(in.Parts, Part{ID: string(rune('A' + i)), W: 250 + r.IntN(1500), H: 25 + r.IntN(110), Demand: demand})
	}
	widths := []int{89, 114, 140, 184, 235, 286}
	lengths := []int{2400, 3000, 3600, 4200, 4800, 5000}
	for k := range 6 {
		s := Stock{ID: string(rune('a' + k)), W: lengths[r.IntN(6)], H: widths[k], Count: Unlimited, Trim: Margins{20, 20, 2, 2}}
		s.Cost = int64(s.W) * int64(s.H) / 1000 * (9 + int64(k)) / 10
		in.Stock = append(in.Stock, s)
	}
	return in
}

// anyInstance returns a small seeded instance that may use every rule there is.
func anyInstance(seed uint64) Instance {
	r := rand.New(rand.NewPCG(seed, 11))
	in := Instance{Kerf: r.IntN(4)}
	in.Cuts = Cutting{Stages: []int{2, 3, Unlimited}[r.IntN(3)], First: Direction(r.IntN(3)), Last: LastCut(r.IntN(3))}
	for i := range 1 + r.IntN(5) {
		p := Part{ID: "p" + strconv.Itoa(i), W: 5 + r.IntN(40), H: 5 + r.IntN(30), Demand: r.IntN(5), MayTurn: r.IntN(2) == 0}
		p.Profit, p.Stack = int64(1+r.IntN(p.W*p.H)), r.IntN(3)
		in.Parts = append(in.Parts, p)
	}
	if r.IntN(3) == 0 {
		in.Objective = MaxProfit
	}
	for k := range 1 + r.IntN(3) {
		s := Stock{ID: "s" + strconv.Itoa(k), W: 45 + r.IntN(60), H: 45 + r.IntN(60), Cost: int64(r.IntN(100)), Count: 1 + r.IntN(6)}
		if r.IntN(2) == 0 {
			s.Count = Unlimited
		}
		if r.IntN(2) == 0 {
			s.Trim = Margins{r.IntN(4), r.IntN(4), r.IntN(4), r.IntN(4)}
		}
		for range r.IntN(4) - 1 {
			s.Defects = append(s.Defects, Rect{r.IntN(s.W - 5), r.IntN(s.H - 5), 1 + r.IntN(5), 1 + r.IntN(5)})
		}
		in.Stock = append(in.Stock, s)
		if in.Objective == MaxProfit {
			break
		}
	}
	if r.IntN(4) == 0 {
		in.Cuts.MinFirst, in.Cuts.MinSecond, in.Cuts.MinWaste = r.IntN(12), r.IntN(8), r.IntN(5)
		in.Cuts.MaxFirst = 30 + r.IntN(60)
		in.Cuts.AroundDefects = r.IntN(2) == 0
	}
	if r.IntN(3) == 0 {
		in.Leftover = Leftover{MinW: 10 + r.IntN(20), MinH: r.IntN(20), Permille: 100 * r.IntN(11), LastOnly: r.IntN(2) == 0}
	}
	in.InOrder = in.Objective == MinCost && r.IntN(4) == 0
	return in
}
