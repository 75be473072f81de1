package structure

import (
	"strings"
	"testing"

	"longgrain/internal/ground/geom"
	"longgrain/internal/ground/unit"
	"longgrain/internal/trial"
)

// standing builds the frame of a table whose feet cover 0 to 540 mm both ways, and gives it a mass and a centre of
// gravity 's' inside the front feet, so that the closed forms can be used as they stand.
func standing(t *testing.T, height, out, mass, s float64) (Check, Check) {
	t.Helper()
	a := trial.Assembly(t, tableOf("table", 500, 500, height, 40, 20, 80, out))
	f := newFrame(a, rigidJoints(a), 9)
	f.mass, f.centre = mass, geom.Vec{X: 270, Y: s, Z: 300}
	got := tipping(a, f, 1.3)
	if len(got) != 2 {
		t.Fatalf("%d checks of tipping", len(got))
	}
	return got[0], got[1]
}

// 15 kg, centre of gravity 250 mm inside the feet, load 60 mm outside: without a force outward it tips at 613.1 N (with
// g = 9.81), and 20 N outward at 500 mm take 10 N·m of that.
//
// Source: statics, P = W s/a and H z.
func TestALoadBesideTheFeetTipsAsStaticsSays(t *testing.T) {
	c, _ := standing(t, 480, 110, 15, 250) // the rule puts the load 50 mm inside the edge: 60 mm beside the feet
	near(t, "load that tips it", c.Capacity.Number/0.060, 613.125/9.81*unit.Gravity, 1e-9)
	near(t, "overturning moment", c.Demand.Number, 600*0.060+20*0.500, 1e-9)
	if !strings.Contains(c.Case, "front") {
		t.Errorf("it tips over %q", c.Case)
	}
}

// 40 kg, centre of gravity 150 mm inside the front feet, pushed 1200 mm up: it tips at 49.05 N (with g = 9.81).
//
// Source: statics, H = W s/z.
func TestAPushAtTheTopTipsAsStaticsSays(t *testing.T) {
	_, c := standing(t, 1180, 10, 40, 150)
	near(t, "push that tips it", c.Capacity.Number, 49.05/9.81*unit.Gravity*1000/1000, 1e-9)
	near(t, "push at which it slides", c.Demand.Number, floorGrip*40*unit.Gravity, 1e-9)
}

// A load 10 mm inside the feet helps to hold the piece down against the force outward.
//
// Source: statics, W s + F b against H z.
func TestALoadInsideTheFeetHoldsItDown(t *testing.T) {
	c, _ := standing(t, 480, 40, 15, 270)
	near(t, "overturning moment", c.Demand.Number, 20*0.500, 1e-9)
	near(t, "righting moment", c.Capacity.Number, 15*unit.Gravity*0.270+600*0.010, 1e-9)
	if c.Verdict != "holds" {
		t.Errorf("%+v", c)
	}
}

// A push that the piece cannot stand against, with all the mass that the rule allows, is lowered and says so.
func TestAPushIsLoweredToWhatThePieceStands(t *testing.T) {
	a := trial.Assembly(t, stool)
	f := newFrame(a, rigidJoints(a), 9)
	lowered := 0
	for _, c := range f.cases() {
		if c.Action != "push" {
			continue
		}
		if c.Mass < 50 {
			t.Errorf("%s with %v kg on the seat", c.Name, c.Mass)
		}
		if c.Force < 299 {
			lowered++
			if !strings.Contains(c.Note, "lowered from 300 N") || c.Mass < 100 {
				t.Errorf("%s: %v kg, %q", c.Name, c.Mass, c.Note)
			}
		}
	}
	if lowered == 0 {
		t.Error("a stool of 2 kg stands against 300 N at its seat")
	}
}
