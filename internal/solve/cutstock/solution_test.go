package cutstock_test

import (
	"math"
	"strings"
	"testing"

	"longgrain/internal/solve/cutstock"
)

// verified is an instance with an optimal plan written by hand: 10+300+4+300+4+372+10 = 1000 on the first board.
func verified() (cutstock.Instance, cutstock.Solution) {
	in := cutstock.Instance{
		Stock: []cutstock.Stock{{ID: "long", Length: 1000, Cost: 100, Available: 1}, {ID: "short", Length: 500, Cost: 60, Available: 2}},
		Items: []cutstock.Item{{ID: "A", Length: 300, Demand: 3}, {ID: "B", Length: 372, Demand: 1}},
		Kerf:  4, Trim: 10,
		Leftover: cutstock.Leftover{MinLength: 100, SharePerMille: 500},
	}
	sol := cutstock.Solution{
		Status: cutstock.Optimal,
		Layouts: []cutstock.Layout{
			{Stock: 0, Count: 1, Cuts: []cutstock.Cut{{Item: 1, Count: 1}, {Item: 0, Count: 2}}},
			{Stock: 1, Count: 1, Cuts: []cutstock.Cut{{Item: 0, Count: 1}}, Remainder: 176},
		},
		Cost: 150, Bound: 150, // 100 + 60 - floor(60 * 0.5 * 176/500)
	}
	return in, sol
}

func TestVerifyAcceptsAPlanAddedUpByHand(t *testing.T) {
	in, sol := verified()
	if err := cutstock.Verify(in, sol); err != nil {
		t.Error(err)
	}
	if got := solve(t, in, cutstock.Options{}); got.Cost != sol.Cost || got.Status != cutstock.Optimal {
		t.Errorf("solver: %s with cost %d; want optimal with %d", got.Status, got.Cost, sol.Cost)
	}
}

func TestVerifyFindsEachFault(t *testing.T) {
	for _, tc := range []struct {
		fault string
		spoil func(in *cutstock.Instance, sol *cutstock.Solution)
		want  string
	}{
		{"kerf too wide", func(in *cutstock.Instance, _ *cutstock.Solution) { in.Kerf = 5 }, "ends at 992"},
		{"trim too wide", func(in *cutstock.Instance, _ *cutstock.Solution) { in.Trim = 11 }, "the usable stock at 989"},
		{"item missing", func(in *cutstock.Instance, _ *cutstock.Solution) { in.Items[0].Demand = 4 }, `item "A": 3 pieces cut, 4`},
		{"item too many", func(in *cutstock.Instance, _ *cutstock.Solution) { in.Items[0].Demand = 2 }, `item "A": 3 pieces cut, 2`},
		{"stock not there", func(in *cutstock.Instance, _ *cutstock.Solution) { in.Stock[0].Available = 0 }, `stock "long": 1 pieces taken, 0`},
		{"cost wrong", func(_ *cutstock.Instance, sol *cutstock.Solution) { sol.Cost, sol.Bound = 149, 149 }, "adds up to 150"},
		{"remainder wrong", func(_ *cutstock.Instance, sol *cutstock.Solution) { sol.Layouts[1].Remainder = 180 }, "remainder is given as 180 and is 176"},
		{"bound above cost", func(_ *cutstock.Instance, sol *cutstock.Solution) { sol.Bound = 151 }, "bound 151"},
		{"optimal without proof", func(_ *cutstock.Instance, sol *cutstock.Solution) { sol.Bound = 140 }, "status optimal"},
		{"feasible though proven", func(_ *cutstock.Instance, sol *cutstock.Solution) { sol.Status = cutstock.Feasible }, "status feasible"},
		{"no such stock", func(_ *cutstock.Instance, sol *cutstock.Solution) { sol.Layouts[0].Stock = 2 }, "no stock 2"},
		{"no such item", func(_ *cutstock.Instance, sol *cutstock.Solution) { sol.Layouts[0].Cuts[0].Item = -1 }, "no item -1"},
		{"count zero", func(_ *cutstock.Instance, sol *cutstock.Solution) { sol.Layouts[0].Count = 0 }, "count 0"},
		{"empty layout", func(_ *cutstock.Instance, sol *cutstock.Solution) { sol.Layouts[0].Cuts = nil }, "nothing is cut"},
		{"cut of zero pieces", func(_ *cutstock.Instance, sol *cutstock.Solution) { sol.Layouts[0].Cuts[0].Count = 0 }, "0 cuts of"},
		{"layouts without a plan", func(_ *cutstock.Instance, sol *cutstock.Solution) { sol.Status = cutstock.Stopped }, "status stopped with 2 layouts"},
	} {
		t.Run(tc.fault, func(t *testing.T) {
			in, sol := verified()
			tc.spoil(&in, &sol)
			if err := cutstock.Verify(in, sol); err == nil || !strings.Contains(err.Error(), tc.want) {
				t.Errorf("Verify says %v; want %q", err, tc.want)
			}
		})
	}
}

func TestGapIsTheUnprovenShareOfTheCost(t *testing.T) {
	for _, tc := range []struct {
		sol  cutstock.Solution
		want float64
	}{
		{cutstock.Solution{Status: cutstock.Feasible, Cost: 200, Bound: 150}, 0.25},
		{cutstock.Solution{Status: cutstock.Optimal, Cost: 200, Bound: 200}, 0},
		{cutstock.Solution{Status: cutstock.Optimal}, 0},
	} {
		if got := tc.sol.Gap(); got != tc.want {
			t.Errorf("gap of %d over %d is %g; want %g", tc.sol.Cost, tc.sol.Bound, got, tc.want)
		}
	}
	if none := (&cutstock.Solution{Status: cutstock.Stopped}); !math.IsNaN(none.Gap()) {
		t.Errorf("gap without a plan is %g; want NaN", none.Gap())
	}
}
