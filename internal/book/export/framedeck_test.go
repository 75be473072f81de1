package export

import (
	"math"
	"testing"

	"longgrain/internal/solve/spaceframe"
)

// Two stubs in a row are as stiff as the springs, by the formulas of a short bar: pull E A/l, bending E I/l, shear G A/l, twist of a bar whose ends
// stay plane (G_y + G_z) I/l.
func TestStubsAreAsStiffAsTheSprings(t *testing.T) {
	springs := spaceframe.Springs{spaceframe.UX: 127209, spaceframe.UY: 9795, spaceframe.UZ: 8000, spaceframe.RX: 9.5e6, spaceframe.RY: 5.17e6, spaceframe.RZ: 5.45e7}
	for _, lost := range []float64{0, 1e-7, -5e-8} {
		bends, shears := stubsOf(springs, lost)
		of := func(b bar) (k spaceframe.Vec6) {
			area := b.b * b.h
			k[spaceframe.UX] = b.e * area / stubLength
			k[spaceframe.UY], k[spaceframe.UZ] = b.g*area/stubLength, b.g2*area/stubLength
			k[spaceframe.RY], k[spaceframe.RZ] = b.e*area*b.h*b.h/12/stubLength, b.e*area*b.b*b.b/12/stubLength
			k[spaceframe.RX] = (b.g*area*b.h*b.h + b.g2*area*b.b*b.b) / 12 / stubLength
			return k
		}
		one, other := of(bends), of(shears)
		for d, want := range springs {
			if d == spaceframe.RX {
				want = 1 / (1/want + lost)
			}
			if got := 1 / (1/one[d] + 1/other[d]); math.Abs(got/want-1) > 0.003 { // the stiff one gives a little too
				t.Errorf("%s with %g: %g, want %g", d, lost, got, want)
			}
		}
	}
}

// What CalculiX 2.20 answered to a cantilever of this deck with a stiff bracket at its end: 100 N on 300 mm of bracket turn the end, whose bending is
// taken off. 110 x 23 mm and 54 x 54 mm, E 10024, G 626.5 MPa.
func TestTwistOfTheSolversBricks(t *testing.T) {
	for _, c := range []struct{ b, h, l, sinks float64 }{
		{110, 23, 120, 1.60638 - 0.06061}, {110, 23, 700, 33.82168 - 10.27972}, {54, 54, 120, 1.47611 - 0.01599}, {54, 54, 700, 10.17093 - 1.65565},
	} {
		pinned := spaceframe.Springs{spaceframe.RX: 1e9}
		m := spaceframe.Model{Nodes: []spaceframe.Node{{Name: "a"}, {Name: "b", At: spaceframe.Vec{c.l}}}, Members: []spaceframe.Member{{Name: "m", I: "a", J: "b",
			Section: spaceframe.Rectangle(c.b, c.h), Material: spaceframe.Material{E: 10024, G: 626.5}, YAxis: spaceframe.Vec{0, 1}, SpringsI: pinned}}}
		d := &deck{model: m, at: map[string]int{"a": 0, "b": 1}, places: []spaceframe.Vec{{}, {c.l}}}
		d.member(0)
		const torque, arm = 100 * 300, 300
		bricks := c.l/(626.5*m.Members[0].Section.J) - d.twistLost(0)
		if got := torque * arm * bricks; math.Abs(got/c.sinks-1) > 0.015 {
			t.Errorf("%v x %v x %v mm: the bracket sinks %.4f mm by twist, CalculiX %.4f", c.b, c.h, c.l, got, c.sinks)
		}
	}
}
