package hardware

import (
	"slices"
	"testing"

	"longgrain/internal/ground/unit"
)

func TestEveryToolJobIsKnown(t *testing.T) {
	known := []Job{Rip, Crosscut, Resaw, Curve, Taper, Flatten, Edge, Thickness, Groove, Rabbet, CutMortise,
		RoughMortise, CutTenon, CutDovetail, Pare, BoreFace, BoreEdge, BoreEnd, BoreLarge, CutBiscuitSlot,
		BorePocketHole, CutLooseTenon, RoundEdge, Chamfer, Sand, Drive, Mark, MeasureMoisture}
	for _, id := range ToolIDs() {
		tool, _ := LookupTool(id)
		for _, j := range tool.Jobs {
			if !slices.Contains(known, j) {
				t.Errorf("%s does unknown job %q", id, j)
			}
		}
	}
	for _, j := range known {
		if len(ToolsFor(j)) == 0 {
			t.Errorf("no tool does %q", j)
		}
	}
	if tool, ok := LookupTool("dowelling-guide"); !ok || !tool.Can(BoreEnd) || tool.Can(Rip) {
		t.Errorf("dowelling guide: %+v", tool)
	}
}

func TestClampForcesAreOrdered(t *testing.T) {
	for _, id := range ClampIDs() {
		c, ok := LookupClamp(id)
		if !ok || c.ForceLow > c.Force || c.Force > c.ForceHigh || c.OpeningLow > c.OpeningHigh || c.ReachLow > c.ReachHigh {
			t.Errorf("%s: %+v", id, c)
		}
	}
	if _, ok := LookupClamp("vice"); ok {
		t.Error("a vice was found")
	}
}

// Source: [asme-b18-6-1]: number 8 is 0.164 in, number 20 is 0.320 in.
func TestScrewGauges(t *testing.T) {
	if d := ShankDiameter(8); d != unit.Inch*164/1000 {
		t.Errorf("no. 8: %v", d.MM())
	}
	for _, s := range Screws() {
		if s.Gauge >= 0 && (s.Shank-ShankDiameter(s.Gauge)).Abs() > unit.Micrometre {
			t.Errorf("%s: %v mm in the table", s.Name, s.Shank.MM())
		}
		if s.Root >= s.Shank || s.Shank <= 0 {
			t.Errorf("%s: root %v, shank %v", s.Name, s.Root.MM(), s.Shank.MM())
		}
	}
}

func TestDowelSeries(t *testing.T) {
	metric, inch := 0, 0
	for _, d := range Dowels() {
		if d.Length <= 2*d.Diameter {
			t.Errorf("dowel %v x %v mm is too short", d.Diameter.MM(), d.Length.MM())
		}
		if d.Family == unit.Imperial {
			inch++
		} else {
			metric++
		}
	}
	if metric != 30 || inch != 8 {
		t.Errorf("%d metric and %d inch dowels", metric, inch)
	}
}

func TestPocketScrewsByStock(t *testing.T) {
	s, ok := PocketScrewFor(unit.Inch * 3 / 4)
	if !ok || s.Length != 32*unit.Millimetre {
		t.Errorf("3/4 in stock: %+v", s)
	}
	for _, thin := range []unit.Length{0, 6 * unit.Millimetre, 60 * unit.Millimetre} {
		if s, ok := PocketScrewFor(thin); ok {
			t.Errorf("%v mm: %+v", thin.MM(), s)
		}
	}
	for low := 12; low <= 40; low++ {
		if _, ok := PocketScrewFor(unit.MM(float64(low))); !ok {
			t.Errorf("no screw for %d mm", low)
		}
	}
}

func TestSmallTablesAreWhole(t *testing.T) {
	if b := Biscuits(); len(b) != 3 || b[2].ID != "20" || b[2].Length != 56*unit.Millimetre {
		t.Errorf("biscuits %+v", b)
	}
	if f := Fastenings(); len(f) != 4 {
		t.Errorf("%d fastenings", len(f))
	}
	for i, s := range SandingSteps() {
		if s.Step != i+1 || s.RateLow > s.RateHigh {
			t.Errorf("sanding step %+v", s)
		}
	}
}
