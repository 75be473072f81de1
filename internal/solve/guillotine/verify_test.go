package guillotine

import (
	"strings"
	"testing"
)

// goodPlan is a plate of 100 x 50 less a margin of 5 on the left: two strips, a trimmed part, waste and an offcut.
//
//	y 31..50  offcut 95 x 19
//	y 0..29   a 40x29 | b 30x20 under waste 30x7 | waste
func goodPlan() (Instance, Solution) {
	in := Instance{
		Parts:    []Part{{ID: "a", W: 40, H: 29, Demand: 1}, {ID: "b", W: 30, H: 20, Demand: 1}},
		Stock:    []Stock{{ID: "s", W: 100, H: 50, Cost: 100, Count: 1, Trim: Margins{Left: 5}, Defects: []Rect{{90, 10, 5, 5}}}},
		Kerf:     2,
		Cuts:     Cutting{Stages: 2, First: Horizontal},
		Leftover: Leftover{MinW: 50, MinH: 10, Permille: 500},
	}
	low := Plate{X: 5, Y: 0, W: 95, H: 29, Cut: Vertical, Part: -1, Children: []Plate{
		{X: 5, Y: 0, W: 40, H: 29, Use: Item, Part: 0},
		{X: 47, Y: 0, W: 30, H: 29, Cut: Horizontal, Part: -1, Children: []Plate{
			{X: 47, Y: 0, W: 30, H: 20, Use: Item, Part: 1},
			{X: 47, Y: 22, W: 30, H: 7, Part: -1},
		}},
		{X: 79, Y: 0, W: 21, H: 29, Part: -1},
	}}
	top := Plate{X: 5, Y: 31, W: 95, H: 19, Use: Offcut, Part: -1}
	root := Plate{X: 5, Y: 0, W: 95, H: 50, Cut: Horizontal, Part: -1, Children: []Plate{low, top}}
	// credit: floor(100 * 0.5 * 95 * 19 / (100 * 50)) = 18
	return in, Solution{Status: Feasible, Sheets: []Sheet{{Stock: 0, Root: root}}, Value: 82, Bound: 40}
}

func TestVerifyAcceptsGoodPlan(t *testing.T) {
	in, sol := goodPlan()
	if faults := Verify(in, sol); len(faults) > 0 {
		t.Error(faults)
	}
}

func TestVerifyFindsEveryBrokenRule(t *testing.T) {
	cases := []struct {
		name  string
		spoil func(in *Instance, sol *Solution)
		want  string
	}{
		{"kerf forgotten", func(in *Instance, _ *Solution) { in.Kerf = 1 }, "does not follow its neighbour"},
		{"kerf too wide", func(in *Instance, _ *Solution) { in.Kerf = 3 }, "does not follow its neighbour"},
		{"margin forgotten", func(in *Instance, _ *Solution) { in.Stock[0].Trim.Left = 4 }, "is not the stock less its margins"},
		{"far margin forgotten", func(in *Instance, _ *Solution) { in.Stock[0].Trim.Top = 1 }, "is not the stock less its margins"},
		{"one stage too many", func(in *Instance, _ *Solution) { in.Cuts.First = Vertical }, "in stage 4 of 2"},
		{"trimming not allowed", func(in *Instance, _ *Solution) { in.Cuts.Last = NoLastCut }, "after the last stage"},
		{"part of another size", func(in *Instance, _ *Solution) { in.Parts[0].H = 28 }, "should be 40 x 28"},
		{"part against the grain", func(in *Instance, sol *Solution) {
			in.Parts[0].W, in.Parts[0].H = 29, 40
			sol.Sheets[0].Root.Children[0].Children[0].Turned = true
		}, "turned against its grain"},
		{"part with a defect", func(in *Instance, _ *Solution) { in.Stock[0].Defects[0] = Rect{44, 28, 2, 2} }, "contains the defect"},
		{"cut through a defect", func(in *Instance, _ *Solution) {
			in.Cuts.AroundDefects, in.Stock[0].Defects[0] = true, Rect{90, 28, 5, 5}
		}, "passes through the defect"},
		{"part cut too often", func(in *Instance, _ *Solution) { in.Parts[0].Demand = 0 }, "is cut 1 times, 0 are wanted"},
		{"part missing", func(in *Instance, _ *Solution) { in.Parts[1].Demand = 2 }, "missing 0 times, 2 are wanted"},
		{"stock not on hand", func(in *Instance, _ *Solution) { in.Stock[0].Count = 0 }, "there are 0"},
		{"wrong cost", func(_ *Instance, sol *Solution) { sol.Value = 81 }, "the sheets add up to 82"},
		{"bound above cost", func(_ *Instance, sol *Solution) { sol.Bound = 83 }, "beats the bound"},
		{"optimal with a gap", func(_ *Instance, sol *Solution) { sol.Status = Optimal }, "called optimal"},
		{"offcut too small", func(in *Instance, _ *Solution) { in.Leftover.MinH = 20 }, "too small for an offcut"},
		{"waste too narrow", func(in *Instance, _ *Solution) { in.Cuts.MinWaste = 8 }, "narrower than 8"},
		{"strip too narrow", func(in *Instance, _ *Solution) { in.Cuts.MinFirst = 30 }, "outside 30"},
		{"strip too wide", func(in *Instance, _ *Solution) { in.Cuts.MaxFirst = 28 }, "outside 0 to 28"},
		{"second strip too narrow", func(in *Instance, _ *Solution) { in.Cuts.MinSecond = 31 }, "narrower than 31"},
		{"plate outside its parent", func(_ *Instance, sol *Solution) { sol.Sheets[0].Root.Children[1].H = 20 }, "at the far end"},
		{"unknown part", func(_ *Instance, sol *Solution) { sol.Sheets[0].Root.Children[0].Children[0].Part = 7 }, "does not exist"},
		{"unknown stock", func(_ *Instance, sol *Solution) { sol.Sheets[0].Stock = 3; sol.Status = NoPlan }, "does not exist"},
		{"stack out of order", func(in *Instance, sol *Solution) {
			in.InOrder, in.Parts[0].Stack, in.Parts[1].Stack = true, 1, 1
			in.Parts[0], in.Parts[1] = in.Parts[1], in.Parts[0]
			sol.Sheets[0].Root.Children[0].Children[0].Part = 1
			sol.Sheets[0].Root.Children[0].Children[1].Children[0].Part = 0
		}, "of the same stack"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			in, sol := goodPlan()
			c.spoil(&in, &sol)
			for _, f := range Verify(in, sol) {
				if strings.Contains(f.Message, c.want) {
					return
				}
			}
			t.Errorf("no fault contains %q: %v", c.want, Verify(in, sol))
		})
	}
}
