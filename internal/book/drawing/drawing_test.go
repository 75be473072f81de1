package drawing

import (
	"testing"

	"longgrain/internal/design/assembly"
	"longgrain/internal/ground/unit"
	"longgrain/internal/trial"
)

const mm = unit.Millimetre

func playTable(t testing.TB) assembly.Assembly {
	t.Helper()
	return trial.Dowelled(trial.Assembly(t, trial.KeptTable))
}

const shelfTable = `
longgrain: 1
name: Table with a shelf
pattern: leg-and-apron-table
sizes: {below: shelf, length: 600 mm}
`

// tenoned joins every part that ends on another by a round-ended tenon, and grooves and bores the first
// apron on its inner face.
func tenoned(a assembly.Assembly) assembly.Assembly {
	added := map[int][]assembly.Feature{}
	for _, c := range a.Connections {
		if c.Purpose != assembly.Joint {
			continue
		}
		f := assembly.Feature{Kind: assembly.Tenon, Side: c.A.Side, Length: c.A.Area.SizeU() - 20*mm, Width: 6 * mm, Depth: 24 * mm, Rounded: true, For: c.Name}
		f.U, f.V = c.A.Area.Centre()
		g := assembly.Feature{Kind: assembly.Mortise, Side: c.B.Side, Length: f.Length, Width: f.Width, Depth: 26 * mm, Rounded: true, For: c.Name}
		g.U, g.V = c.B.Area.Centre()
		added[c.A.Part], added[c.B.Part] = append(added[c.A.Part], f), append(added[c.B.Part], g)
	}
	i, _ := a.PartNamed("apron front")
	added[i] = append(added[i],
		assembly.Feature{Kind: assembly.Bore, Side: assembly.FaceLow, U: 60 * mm, V: 20 * mm, Diameter: 9 * mm, Depth: 15 * mm, Tilt: -15},
		assembly.Feature{Kind: assembly.Groove, Side: assembly.FaceLow, V: 8 * mm, Length: a.Parts[i].Length, Width: 6 * mm, Depth: 7 * mm})
	return a.WithFeatures(added)
}

var sampleBoard = Board{
	Name: "Board 2", Length: 2438 * mm, Width: 140 * mm,
	Pieces: []BoardPiece{
		{0, 0, 50 * mm, 140 * mm, "trim", WastePiece},
		{53 * mm, 0, 744 * mm, 92 * mm, "B1 apron front", PartPiece},
		{53 * mm, 95 * mm, 744 * mm, 45 * mm, "D1 low rail front", PartPiece},
		{800 * mm, 0, 744 * mm, 92 * mm, "B2 apron back", PartPiece},
		{800 * mm, 95 * mm, 744 * mm, 45 * mm, "D2", PartPiece},
		{1547 * mm, 0, 404 * mm, 92 * mm, "C1", PartPiece},
		{1547 * mm, 95 * mm, 404 * mm, 45 * mm, "E1 low rail left", PartPiece},
		{1954 * mm, 0, 100 * mm, 140 * mm, "knot", FaultPiece},
		{2057 * mm, 0, 381 * mm, 140 * mm, "offcut", OffcutPiece},
	},
	Cuts: []BoardCut{
		{1, 51 * mm, 0, 51 * mm, 140 * mm}, {2, 798 * mm, 0, 798 * mm, 140 * mm}, {3, 1545 * mm, 0, 1545 * mm, 140 * mm},
		{4, 1952 * mm, 0, 1952 * mm, 140 * mm}, {5, 2055 * mm, 0, 2055 * mm, 140 * mm},
		{6, 53 * mm, 93 * mm, 797 * mm, 93 * mm}, {7, 800 * mm, 93 * mm, 1544 * mm, 93 * mm}, {8, 1547 * mm, 93 * mm, 1951 * mm, 93 * mm},
	},
}

var sampleTimes = Times{
	Title: "Order of work",
	Rows: []TimeRow{
		{"glue up the top", false, []TimeBar{{0.75, 0.8, WorkBar, 0, ""}, {0.8, 0.86, ClampedBar, 0, ""}, {0.86, 1.75, WaitBar, 0, "cure"}}},
		{"bore aprons and legs", false, []TimeBar{{0.8, 0.88, WorkBar, 0, "1.5 h"}}},
		{"end frames", false, []TimeBar{{1.75, 1.85, WorkBar, 0, ""}, {1.85, 2.2, ClampedBar, 0, ""}}},
		{"long aprons", false, []TimeBar{{2.75, 2.85, WorkBar, 0, ""}, {2.85, 3.2, ClampedBar, 0, "in clamps"}}},
		{"first coat", false, []TimeBar{{4.75, 4.8, WorkBar, 0, ""}, {4.8, 5.8, WaitBar, 0, ""}}},
		{"second coat", false, []TimeBar{{5.8, 5.85, WorkBar, 0, ""}, {5.85, 6.85, WaitBar, 0, ""}}},
	},
	Marks: []TimeMark{{0, "Mon"}, {1, "Tue"}, {2, "Wed"}, {3, "Thu"}, {4, "Fri"}, {5, "Sat"}, {6, "Sun"}, {7, ""}},
}

var sampleIntervals = Intervals{
	Title: "Joints compared", Axis: "moment, N·m",
	Rows: []Interval{
		{"2 dowels 10 × 60", 61, 34, 40, "0.85"},
		{"3 dowels 10 × 60", 96, 55, 40, "1.4"},
		{"mortise and tenon", 130, 78, 40, "1.9"},
		{"pocket screws", 48, 22, 40, ""},
	},
}

var sampleSeason = Season{
	Title:  "The top through the year",
	Months: [12]string{"Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"},
	Curves: []SeasonCurve{
		{"moisture content, %", [12]float64{6.1, 6.0, 6.6, 7.4, 8.6, 9.8, 10.6, 10.7, 10.1, 8.9, 7.4, 6.5}, 1},
		{"width of the top, mm", [12]float64{556.1, 556.0, 556.6, 557.3, 558.5, 559.8, 560.5, 560.6, 560.0, 558.9, 557.4, 556.5}, 1},
	},
}
