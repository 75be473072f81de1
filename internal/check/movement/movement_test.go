package movement

import (
	"math"
	"testing"

	"longgrain/internal/ground/source"
	"longgrain/internal/ground/unit"
	"longgrain/internal/trade/shop"
	"longgrain/internal/trade/wood"
)

func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if math.IsNaN(got) || math.Abs(got-want) > tolerance {
		t.Errorf("%s: got %.6g, want %.6g within %g", what, got, want, tolerance)
	}
}

func species(t *testing.T, id string) wood.Species {
	t.Helper()
	s, ok := wood.Lookup(id)
	if !ok {
		t.Fatalf("no species %q", id)
	}
	return s
}

// Source: [wood-handbook] chapter 13, worked example, read: a white fir board of 9.15 in, flat-sawn,
// grows from 8 to 11 % moisture by 0.067 in to 9.217 in. Printed to 0.001 in.
func TestHandbookExampleOfWhiteFir(t *testing.T) {
	c, _ := species(t, "white-fir").Change(wood.FlatSawn)
	w := unit.Inch * 915 / 100
	change := PanelMovement(w, c.Value, 8, 11)
	near(t, "change, in", float64(change)/float64(unit.Inch), 0.067, 0.0005)
	near(t, "final width, in", float64(w+change)/float64(unit.Inch), 9.217, 0.0005)
	// The same by total shrinkage, 7.0 %, from a width of 232 mm: 1.712 mm, docs/methods/movement.md.
	near(t, "by shrinkage, mm", ShrinkageMovement(232*unit.Millimetre, 7, 8, 11).MM(), 1.712, 0.001)
}

// Examples of docs/methods/movement.md.
func TestEasternWhitePineExamples(t *testing.T) {
	pine := species(t, "eastern-white-pine")
	c, _ := pine.Change(wood.FlatSawn)
	s, _ := pine.Shrinkage(wood.FlatSawn)
	near(t, "300 mm top by coefficient", PanelMovement(300*unit.Millimetre, c.Value, 6, 12).MM(), 3.82, 0.005)
	near(t, "300 mm top by shrinkage", ShrinkageMovement(300*unit.Millimetre, s.Value, 6, 12).MM(), 3.85, 0.005)
	near(t, "600 mm top", PanelMovement(600*unit.Millimetre, c.Value, 6, 12).MM(), 7.6, 0.05)
	near(t, "140 mm board from 19 to 8 %", ShrinkageMovement(140*unit.Millimetre, s.Value, 19, 8).MM(), -3.2, 0.05)
}

func TestShrinkageFormHasItsLimits(t *testing.T) {
	w := 1000 * unit.Millimetre
	// From fibre saturation to ovendry the loss is the total shrinkage.
	near(t, "green to ovendry", ShrinkageMovement(w, 6.1, 30, 0).MM(), -61, 1e-6)
	if ShrinkageMovement(w, 6.1, 60, 30) != 0 || ShrinkageMovement(w, 6.1, 35, 0) != ShrinkageMovement(w, 6.1, 30, 0) {
		t.Error("wood swells above fibre saturation")
	}
	// There and back again gives the first width.
	down := w + ShrinkageMovement(w, 6.1, 12, 6)
	near(t, "there and back", float64(down+ShrinkageMovement(down, 6.1, 6, 12)-w), 0, 2)
	if ShrinkageMovement(0, 6.1, 6, 12) != 0 || PanelMovement(w, 0.002, 9, 9) != 0 {
		t.Error("nothing moves")
	}
}

func seasons(winterRH, winterT, summerRH, summerT float64) shop.Climate {
	return shop.Climate{Weather: []shop.Weather{
		{Name: "winter", Humidity: unit.Percent(winterRH), Temperature: unit.Celsius(winterT)},
		{Name: "summer", Humidity: unit.Percent(summerRH), Temperature: unit.Celsius(summerT)},
	}}
}

// Cells of [wood-handbook] table 4-2, read: 70 °F and 35 % give 6.9 %, 70 °F and 65 % give 12.0 %.
func TestMoistureOfTheYearMeetsTheTable(t *testing.T) {
	y, steps, ok := YearIn(seasons(35, 21.1, 65, 21.1), 8, 1)
	if !ok || len(steps) != 2 {
		t.Fatal("no year")
	}
	near(t, "dry", float64(y.Dry), 6.9, 0.1)
	near(t, "damp", float64(y.Damp), 12.0, 0.1)
	half, steps, _ := YearIn(seasons(35, 21.1, 65, 21.1), 8, 0.5)
	near(t, "half the swing", float64(half.Damp-half.Dry), float64(y.Damp-y.Dry)/2, 1e-9)
	near(t, "same middle", float64(half.Damp+half.Dry), float64(y.Damp+y.Dry), 1e-9)
	if len(steps) != 3 {
		t.Errorf("%d steps", len(steps))
	}
	if _, _, ok := YearIn(shop.Climate{}, 8, 1); ok {
		t.Error("no climate has a year")
	}
}

func TestMovementCountsFromAsBuilt(t *testing.T) {
	pine := species(t, "eastern-white-pine")
	m, ok := Across(300*unit.Millimetre, pine, wood.FlatSawn, Year{Built: 8, Dry: 6, Damp: 12})
	if !ok {
		t.Fatal("no movement")
	}
	near(t, "swell", m.Swell.MM(), 300*0.00212*4, 1e-5)
	near(t, "shrink", m.Shrink.MM(), 300*0.00212*2, 1e-5)
	near(t, "total", m.Total().MM(), 3.82, 0.005)
	near(t, "radial swell", m.RadialSwell.MM(), 300*0.00071*4, 1e-5)
	if len(m.Working) != 2 || m.Working[0].Cite.Key != "wood-handbook" || m.Working[0].Inputs[3].Cite.Key == "" {
		t.Errorf("working %+v", m.Working)
	}
	wet, _ := Across(300*unit.Millimetre, pine, wood.FlatSawn, Year{Built: 15, Dry: 6, Damp: 12})
	if wet.Swell != 0 || wet.Shrink <= m.Total() {
		t.Errorf("built damp: %+v", wet)
	}
	if wet.Working[1].Cite.Confidence != source.Memory {
		t.Error("the shrinkage form is not marked as recalled")
	}
}

func TestMovementFollowsWidthAndCut(t *testing.T) {
	y := Year{Built: 8, Dry: 6, Damp: 12}
	for _, id := range wood.IDs() {
		s := species(t, id)
		one, ok := Across(200*unit.Millimetre, s, wood.Mixed, y)
		if !ok {
			if id != "european-oak" && id != "radiata-pine" && id != "douglas-fir-interior-south" {
				t.Errorf("%s does not move", id)
			}
			continue
		}
		two, _ := Across(400*unit.Millimetre, s, wood.Mixed, y)
		near(t, id+" twice the width", float64(two.Total()), 2*float64(one.Total()), 4)
		if one.RadialSwell > one.Swell || one.RadialShrink > one.Shrink {
			t.Errorf("%s moves more on the quarter: %+v", id, one)
		}
	}
}

func TestSlotGrowsWithTheDistanceFromTheFixedLine(t *testing.T) {
	m := Movement{Width: 600 * unit.Millimetre, Swell: 5 * unit.Millimetre, Shrink: 3 * unit.Millimetre}
	at := SlotFor(m, 300*unit.Millimetre, 4*unit.Millimetre)
	near(t, "outward", at.Outward.MM(), 2.5, 1e-9)
	near(t, "length", at.Length.MM(), 4+2.5+1.5+1, 1e-9)
	near(t, "outer end", at.Outer.MM(), 2.5+0.5+2, 1e-9)
	fixed := SlotFor(m, 0, 4*unit.Millimetre)
	near(t, "at the fixed line", fixed.Length.MM(), 5, 1e-9)
	if at.Outer+at.Inner != at.Length || len(at.Working) != 1 {
		t.Errorf("slot %+v", at)
	}
}

func TestButtonKeepsItsHold(t *testing.T) {
	m := Movement{Width: 600 * unit.Millimetre, Swell: 5 * unit.Millimetre, Shrink: 3 * unit.Millimetre}
	b := ButtonFor(m, 240*unit.Millimetre, 5*unit.Millimetre)
	near(t, "gap", b.Gap.MM(), 2.5, 1e-9)
	near(t, "tongue", b.Tongue.MM(), 1.2+5+0.5, 1e-9)
	if b.Groove != b.Gap+b.Tongue {
		t.Errorf("button %+v", b)
	}
}

func TestPanelStaysInItsGroove(t *testing.T) {
	m := Movement{Width: 400 * unit.Millimetre, Swell: 3 * unit.Millimetre, Shrink: 2 * unit.Millimetre}
	g := GrooveFor(m, 5*unit.Millimetre)
	near(t, "gap", g.Gap.MM(), 2, 1e-9)
	near(t, "depth", g.Depth.MM(), 2+1+5, 1e-9)
}

func TestCrossGrainConflictGrowsWithSpan(t *testing.T) {
	pine := species(t, "eastern-white-pine")
	y := Year{Built: 8, Dry: 6, Damp: 12}
	narrow, ok := CrossGrain(60*unit.Millimetre, pine, wood.Mixed, y)
	wide, _ := CrossGrain(180*unit.Millimetre, pine, wood.Mixed, y)
	if !ok || narrow.Ratio >= 1 || wide.Ratio != 2 {
		t.Errorf("ratios %v and %v", narrow.Ratio, wide.Ratio)
	}
	// Strain 0.00212 · 2; modulus 1.1 · 1.24e6 psi adjusted to 8 %, a thirtieth across.
	near(t, "stress does not depend on the span", float64(narrow.Stress), float64(wide.Stress), 1e-6)
	if narrow.Stress < 1 || narrow.Stress > 2 || narrow.Share <= 0 {
		t.Errorf("stress %v, share %v", narrow.Stress, narrow.Share)
	}
	beech, ok := CrossGrain(60*unit.Millimetre, species(t, "european-beech"), wood.Mixed, y)
	if !ok || beech.Stress != 0 || beech.Free <= narrow.Free {
		t.Errorf("beech %+v", beech)
	}
}

func TestMisusePanics(t *testing.T) {
	for name, f := range map[string]func(){
		"width":     func() { PanelMovement(-1, 0.002, 6, 12) },
		"shrinkage": func() { ShrinkageMovement(1, 0, 6, 12) },
		"lag":       func() { YearIn(shop.Climate{}, 8, 1.5) },
		"slot":      func() { SlotFor(Movement{}, 1, 1) },
		"cover":     func() { GrooveFor(Movement{}, -1) },
	} {
		func() {
			defer func() {
				if recover() == nil {
					t.Errorf("%s: no panic", name)
				}
			}()
			f()
		}()
	}
}
