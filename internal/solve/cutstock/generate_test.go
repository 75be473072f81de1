package cutstock_test

import (
	"fmt"
	"math/rand"

	"longgrain/internal/solve/cutstock"
)

// generator makes instances from a seed.
type generator struct{ *rand.Rand }

func newGenerator(seed int64) generator { return generator{rand.New(rand.NewSource(seed))} }

// between returns a number from low to high inclusive.
func (g generator) between(low, high int64) int64 { return low + g.Int63n(high-low+1) }

// small returns an instance that enumeration can solve: at most 5 types, 8 pieces and 3 stocks, some of them limited,
// every other one with leftover values.
func (g generator) small() cutstock.Instance {
	in := cutstock.Instance{Kerf: g.between(0, 3), Trim: g.between(0, 4)}
	for s := range g.between(1, 3) {
		st := cutstock.Stock{ID: fmt.Sprint("S", s+1), Length: g.between(40, 120), Available: cutstock.Unlimited}
		st.Cost = st.Length*g.between(8, 12)/10 + g.between(0, 5)
		if g.Intn(2) == 0 {
			st.Available = g.between(0, 3)
			st.Cost = g.between(0, st.Cost)
		}
		in.Stock = append(in.Stock, st)
	}
	left := g.between(2, 8)
	for i := range g.between(1, 5) {
		n := min(left, g.between(1, 3))
		in.Items = append(in.Items, cutstock.Item{ID: fmt.Sprint("I", i+1), Length: g.between(8, 60), Demand: n})
		left -= n
	}
	if g.Intn(2) == 0 {
		in.Leftover = cutstock.Leftover{MinLength: g.between(0, 30), SharePerMille: g.between(0, 1000)}
	}
	return in
}

// workshop returns a job like those of a small shop, in tenths of a millimetre: boards of some lengths, offcuts on hand,
// parts of the given number of types.
func (g generator) workshop(boards, offcuts, types int) cutstock.Instance {
	in := cutstock.Instance{Kerf: 30, Trim: 200}
	for b := range boards {
		length := 18000 + 6000*int64(b)
		in.Stock = append(in.Stock, cutstock.Stock{
			ID: fmt.Sprint("board ", b+1), Length: length, Cost: length * g.between(18, 23) / 100, Available: cutstock.Unlimited,
		})
	}
	for o := range offcuts {
		length := g.between(5000, 16000)
		in.Stock = append(in.Stock, cutstock.Stock{ID: fmt.Sprint("offcut ", o+1), Length: length, Cost: length / 20, Available: 1})
	}
	for i := range types {
		in.Items = append(in.Items, cutstock.Item{ID: fmt.Sprint("part ", i+1), Length: g.between(800, 15000), Demand: g.between(1, 4)})
	}
	return in
}
