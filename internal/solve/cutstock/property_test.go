package cutstock_test

import (
	"slices"
	"testing"

	"longgrain/internal/solve/cutstock"
)

// changes are what may be done to an instance and how the least cost must answer: not rise (-1), stay (0), not fall (+1).
var changes = []struct {
	name   string
	apply  func(g generator, in *cutstock.Instance)
	answer int
}{
	{"one more kind of stock", func(g generator, in *cutstock.Instance) {
		in.Stock = append(in.Stock, cutstock.Stock{Length: g.between(40, 120), Cost: g.between(20, 120), Available: cutstock.Unlimited})
	}, -1},
	{"one more piece of the first stock", func(_ generator, in *cutstock.Instance) {
		if in.Stock[0].Available != cutstock.Unlimited {
			in.Stock[0].Available++
		}
	}, -1},
	{"a longer first stock at the same price", func(g generator, in *cutstock.Instance) {
		in.Leftover = cutstock.Leftover{} // a leftover of a longer piece is worth less per length
		in.Stock[0].Length += g.between(1, 20)
	}, -1},
	{"one item fewer", func(_ generator, in *cutstock.Instance) {
		in.Leftover = cutstock.Leftover{} // with it, an item may be cheaper than the leftover it takes
		in.Items[0].Demand = max(0, in.Items[0].Demand-1)
	}, -1},
	{"a shorter usable leftover", func(_ generator, in *cutstock.Instance) { in.Leftover.MinLength /= 2 }, -1},
	{"a wider kerf", func(_ generator, in *cutstock.Instance) { in.Leftover = cutstock.Leftover{}; in.Kerf++ }, 1},
	{"more trim", func(_ generator, in *cutstock.Instance) { in.Leftover = cutstock.Leftover{}; in.Trim++ }, 1},
	{"items in another order", func(g generator, in *cutstock.Instance) {
		g.Shuffle(len(in.Items), func(a, b int) { in.Items[a], in.Items[b] = in.Items[b], in.Items[a] })
	}, 0},
	{"stock in another order", func(g generator, in *cutstock.Instance) {
		g.Shuffle(len(in.Stock), func(a, b int) { in.Stock[a], in.Stock[b] = in.Stock[b], in.Stock[a] })
	}, 0},
	{"one item listed in two lines", func(_ generator, in *cutstock.Instance) {
		last := &in.Items[len(in.Items)-1]
		in.Items = append(in.Items, cutstock.Item{Length: last.Length, Demand: last.Demand / 2})
		in.Items[len(in.Items)-2].Demand -= last.Demand / 2
	}, 0},
	{"lengths in a unit 1000 times finer", func(_ generator, in *cutstock.Instance) {
		in.Kerf, in.Trim, in.Leftover.MinLength = in.Kerf*1000, in.Trim*1000, in.Leftover.MinLength*1000
		for s := range in.Stock {
			in.Stock[s].Length *= 1000
		}
		for i := range in.Items {
			in.Items[i].Length *= 1000
		}
	}, 0},
}

func TestLeastCostAnswersChangesAsItMust(t *testing.T) {
	n := int64(1500)
	if testing.Short() {
		n = 200
	}
	for seed := range n {
		for _, c := range changes {
			g := newGenerator(seed)
			in := g.small()
			changed := clone(in)
			c.apply(g, &changed)
			// where a change also takes the leftover rule away, both sides go without it
			in.Leftover.SharePerMille = min(in.Leftover.SharePerMille, changed.Leftover.SharePerMille)
			before, after := solve(t, in, cutstock.Options{}), solve(t, changed, cutstock.Options{})
			a, b := costOrNone(before), costOrNone(after)
			if c.answer <= 0 && b > a || c.answer >= 0 && b < a {
				t.Errorf("seed %d, %s: cost goes from %d to %d (%s to %s)\n%+v", seed, c.name, a, b, before.Status, after.Status, in)
			}
		}
	}
}

func clone(in cutstock.Instance) cutstock.Instance {
	in.Stock, in.Items = slices.Clone(in.Stock), slices.Clone(in.Items)
	return in
}

// costOrNone is the proven least cost, or noPlan.
func costOrNone(sol cutstock.Solution) int64 {
	if sol.Status == cutstock.Infeasible {
		return noPlan
	}
	return sol.Cost
}

func TestWorkshopPlansAlwaysAddUp(t *testing.T) {
	n := int64(60)
	if testing.Short() {
		n = 15
	}
	for seed := range n {
		g := newGenerator(seed)
		in := g.workshop(1+g.Intn(4), g.Intn(5), 1+g.Intn(30))
		if g.Intn(2) == 0 {
			in.Leftover = cutstock.Leftover{MinLength: 3000, SharePerMille: g.between(0, 1000)}
		}
		if sol := solve(t, in, cutstock.Options{Effort: 10_000_000}); !sol.Solved() {
			t.Errorf("seed %d: %s", seed, sol.Status)
		} else if sol.Gap() > 0.05 {
			t.Errorf("seed %d: gap %.1f %%; want at most 5 %%", seed, 100*sol.Gap())
		}
	}
}
