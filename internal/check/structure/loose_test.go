package structure

import (
	"math"
	"strings"
	"testing"

	"longgrain/internal/ground/unit"
	"longgrain/internal/solve/spaceframe"
	"longgrain/internal/trial"
)

// A box of boards on edge is pushed at its rim: what its feet press differs by the moment of the push over their distance, and its
// joints carry the push.
//
// Source: statics, R = W/2 ± F z/a.
func TestABoxIsPushedAtItsRim(t *testing.T) {
	a := trial.Assembly(t, boardChest)
	f := newFrame(a, strongest(t, a), 9)
	heads := f.heads()
	if len(heads) != 4 {
		t.Fatalf("%d corners", len(heads))
	}
	resting := spaceframe.Case{Name: "at rest", Gravity: gravity}
	f.weighSurfaces(&resting)
	const push = 10.0 // nothing lifts
	for k, d := range []push2{{"right", 0, 800}, {"back", 1, 380}} {
		pushed := resting
		pushed.Nodal = nil
		var force spaceframe.Vec
		force[d.axis] = push / 4
		for _, h := range heads {
			pushed.Nodal = append(pushed.Nodal, h.load(force))
		}
		result := spaceframe.Solve(f.model, []spaceframe.Case{resting, pushed}, spaceframe.Options{})
		if result.Status != spaceframe.Solved {
			t.Fatal(result.Status)
		}
		high, side := 0.0, 0.0
		for i, n := range f.model.Nodes {
			side -= result.Cases[1].Reaction[i][d.axis]
			if n.At[d.axis] > 200 {
				high += result.Cases[1].Reaction[i][spaceframe.UZ] - result.Cases[0].Reaction[i][spaceframe.UZ]
			}
		}
		near(t, d.name+": held sideways", side, push, 1e-6)
		near(t, d.name+": pressed more on the far feet", high, push*400/d.apart, 1e-6)
		if k == 0 {
			continue
		}
		// With its feet as rigid as the floor a box of boards hardly racks: it moves less than a table of the same height.
		answer := Analyse(a, strongest(t, a), 1.3, 9)
		if len(answer.Sway) != 2 || answer.Sway[0].Demand.Number <= 0 || answer.Sway[0].Demand.Number > 2 {
			t.Errorf("sway %+v", answer.Sway)
		}
		pushes := 0
		for i, c := range answer.Cases {
			if c.Action == "push" && answer.Solved(i) {
				pushes++
			}
		}
		if pushes < 12 {
			t.Errorf("only %d pushes", pushes)
		}
	}
}

type push2 struct {
	name  string
	axis  int
	apart float64
}

// A board that stands on edge has its feet on the floor, wherever its centre line lies.
func TestFeetStandOnTheFloor(t *testing.T) {
	for use, text := range everyUse() {
		a := trial.Assembly(t, text)
		f := newFrame(a, strongest(t, a), 9)
		for _, n := range f.model.Nodes {
			if n.Support.Floor != nil && math.Abs(n.At[2]) > 1e-9 {
				t.Errorf("%s: %s stands %.0f mm above the floor", use, n.Name, n.At[2])
			}
		}
	}
}

// The lid of 20 x 420 mm stands up at the back: its middle is then half its depth and thickness behind, so the whole balances nearer to the
// back feet by m (d/2 + d/2 + t/2)/M, and 20 N at the upper edge turn it over 20 N times 400 + 420 mm.
//
// Source: statics of a rigid body on its edge.
func TestAnOpenLidTipsAsStaticsSays(t *testing.T) {
	a := trial.Assembly(t, boardChest)
	f := newFrame(a, strongest(t, a), 9)
	c, ok := check(tipping(a, f, 1.3), "tipping over an open lid")
	if !ok {
		t.Fatal("no check of the open lid")
	}
	lid, _ := a.PartNamed("lid")
	m := f.parts[lid].mass
	back := 400.0
	// All weights about the back edge of the feet, the lid's middle at y = 200 shut, 410 + 10 open.
	right := (f.mass*(back-f.centre.Y) - m*(410+10-200)) / 1000 * unit.Gravity
	near(t, "righting moment", c.Capacity.Number, right, 1e-9)
	near(t, "overturning moment", c.Demand.Number, 20*(0.400+0.420), 1e-9)
	if !strings.Contains(c.Case, "over the back feet, lid open (assumed upright)") {
		t.Error(c.Case)
	}
}

// A lid turns about its hinges, whatever else it rests on and in whatever order that is written.
func TestALidOpensAboutItsHinges(t *testing.T) {
	const back = "  - {between: [lid, back], purpose: top fastening}\n"
	text := strings.Replace(boardChest, back, "  - {between: [lid, left], purpose: top fastening}\n"+back+"  - {between: [lid, right], purpose: top fastening}\n", 1) +
		"joints:\n  - {between: [lid, left], kind: rests}\n  - {between: [lid, right], kind: rests}\n  - {between: [lid, back], kind: lid hinges}\n"
	if text[:len(boardChest)] == boardChest {
		t.Fatal("the chest is written otherwise now")
	}
	a := trial.Assembly(t, text)
	c, ok := check(tipping(a, newFrame(a, strongest(t, a), 9), 1.3), "tipping over an open lid")
	if !ok || !strings.Contains(c.Case, "over the back feet") {
		t.Errorf("%v, %q", ok, c.Case)
	}
}

// A drawer of 550 x 380 x 250 mm two thirds out: a child of 267 N on its front edge has a lever of 253 mm, and drawer and clothes weigh
// 253 mm further out.
//
// Source: statics of a rigid body on its edge.
func TestAnOpenDrawerTipsAsStaticsSays(t *testing.T) {
	a := trial.Assembly(t, drawerChest)
	f := newFrame(a, strongest(t, a), 9)
	c, ok := check(tipping(a, f, 1.3), "tipping with a child on the edge")
	if !ok {
		t.Fatal("no check of a child")
	}
	pull := 380 * 2.0 / 3
	mass, moment := 0.0, f.mass*f.centre.Y
	for i, p := range a.Parts {
		if p.Role == "drawer" {
			mass += f.parts[i].mass
		}
	}
	clothes := 136 * 0.55 * 0.38 * 0.25
	moment += -mass*pull + clothes*(190-pull)
	near(t, "righting moment", c.Capacity.Number, math.Max(0, moment*unit.Gravity/1000), 1e-6)
	near(t, "overturning moment", c.Demand.Number, 267*pull/1000, 1e-6)
	if !strings.Contains(c.Case, "on the front edge of a drawer, full drawers two thirds out (assumed)") {
		t.Error(c.Case)
	}
	if d := f.drawers; len(d) != 1 || len(d[0].parts) != 4 || len(d[0].carriers) != 1 || a.Parts[d[0].carriers[0]].Name != "shelf low" {
		t.Errorf("drawers %+v", d)
	}
}

// What the drawer weighs comes to the floor, through the shelf that it lies on.
func TestADrawerIsCarriedByWhatItLiesOn(t *testing.T) {
	a := trial.Assembly(t, drawerChest)
	f := newFrame(a, strongest(t, a), 9)
	c := spaceframe.Case{Name: "at rest", Gravity: gravity}
	f.weighSurfaces(&c)
	result := spaceframe.Solve(f.model, []spaceframe.Case{c}, spaceframe.Options{})
	sum := 0.0
	for i := range f.model.Nodes {
		sum += result.Cases[0].Reaction[i][spaceframe.UZ]
	}
	near(t, "weight on the floor", sum, f.mass*unit.Gravity, 1e-9)
}

func TestADrawerThatIsJoinedIsReported(t *testing.T) {
	text := strings.Replace(drawerChest, "between: [drawer left, drawer front]", "between: [drawer left, drawer front]}\n  - {between: [drawer back, shelf low]", 1)
	a := trial.Assembly(t, text)
	got := Analyse(a, nil, 1.3, 9)
	for _, found := range got.Findings {
		if strings.Contains(found.What, "one of them is a drawer and slides") {
			return
		}
	}
	t.Errorf("findings %v", got.Findings)
}

func check(all []Check, what string) (Check, bool) {
	for _, c := range all {
		if c.What == what {
			return c, true
		}
	}
	return Check{}, false
}
