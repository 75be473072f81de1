package guillotine

import "math/rand/v2"

// boardJob returns a seeded job like a furniture maker's: parts to be cut from six kinds of priced boards.
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
