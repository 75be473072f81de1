package angle

import (
	"math"
	"testing"

	"longgrain/internal/ground/geom"
	"longgrain/internal/ground/unit"
)

// near is how exactly published settings are printed, degrees.
const near = 0.006

func close(a, b unit.Degrees, by float64) bool { return math.Abs(float64(a-b)) <= by }

// The figures are those that handbooks and tables of saw settings print for mouldings and hoppers: a side at 45° in four
// sides is the worked example of many of them, 38° from the wall is the common crown moulding.
func TestMitredSettingsMatchPublishedTables(t *testing.T) {
	for _, c := range []struct {
		slope       unit.Degrees
		n           int
		gauge, tilt unit.Degrees
	}{
		{45, 4, 35.26, 30.00},
		{52, 4, 31.62, 33.86},
		{52, 6, 19.57, 23.20}, // moulding 38° from the wall round six corners
		{52, 3, 46.84, 43.04}, // and round corners of 60°
		{90, 4, 0, 45},
		{0, 4, 45, 0},
		{0, 8, 22.5, 0},
		{90, 6, 0, 30},
	} {
		s := Mitred(c.slope, c.n)
		if !close(s.Gauge, c.gauge, near) || !close(s.Tilt, c.tilt, near) {
			t.Errorf("%v° in %d sides: %v, published %v and %v", c.slope, c.n, s, c.gauge, c.tilt)
		}
	}
}

// side returns the direction of the length, of the width and out of the face of side k of a form.
func side(slope unit.Degrees, n, k int) (along, across, out geom.Vec) {
	s, c := math.Sincos(float64(slope) * math.Pi / 180)
	a, b := math.Sincos(2 * math.Pi * float64(k) / float64(n))
	turn := func(v geom.Vec) geom.Vec { return geom.Vec{X: b*v.X - a*v.Y, Y: a*v.X + b*v.Y, Z: v.Z} }
	return turn(geom.Vec{X: 1}), turn(geom.Vec{Y: -c, Z: s}), turn(geom.Vec{Y: -s, Z: -c})
}

func TestSettingsFollowFromTheNormalsOfTheSides(t *testing.T) {
	for n := 3; n <= 9; n++ {
		for slope := unit.Degrees(5); slope < 90; slope += 5 {
			along, across, out := side(slope, n, 0)
			nextAlong, _, nextOut := side(slope, n, 1)
			// The mitre plane bisects: it holds what both directions have in common.
			mitre := along.Add(nextAlong).Unit()
			for _, c := range []struct {
				name  string
				cut   geom.Vec
				saw   Saw
				signs bool
			}{{"mitred", mitre, Mitred(slope, n), false}, {"butted", nextOut, Butted(slope, n), true}} {
				if c.cut.Dot(along) < 0 {
					c.cut = c.cut.Neg()
				}
				gauge := math.Atan(c.cut.Dot(across)/c.cut.Dot(along)) * 180 / math.Pi
				tilt := math.Asin(c.cut.Dot(out)) * 180 / math.Pi
				if !close(unit.Degrees(math.Abs(gauge)), unit.Degrees(math.Abs(float64(c.saw.Gauge))), 1e-9) || !close(unit.Degrees(math.Abs(tilt)), unit.Degrees(math.Abs(float64(c.saw.Tilt))), 1e-9) {
					t.Errorf("%s, %v° in %d sides: %v, by the normals %v and %v", c.name, slope, n, c.saw, gauge, tilt)
				}
			}
		}
	}
}

func TestAcrossAndBackAgree(t *testing.T) {
	for face := unit.Degrees(-60); face <= 60; face += 7.5 {
		for edge := unit.Degrees(-60); edge <= 60; edge += 7.5 {
			s := Across(face, edge)
			if back := s.OnEdge(); !close(back, edge, 1e-9) || s.Gauge != face {
				t.Fatalf("%v on the face and %v on the edge come back as %v and %v", face, edge, s.Gauge, back)
			}
			if m := Across(-face, edge); !close(m.Tilt, s.Tilt, 1e-12) || m.Gauge != -s.Gauge {
				t.Fatalf("the mirrored cut is not mirrored: %v, %v", s, m)
			}
		}
	}
	// A mitred hopper read with the bevel gauge gives the same settings.
	s := Mitred(60, 4)
	if again := Across(s.Gauge, s.OnEdge()); !close(again.Tilt, s.Tilt, 1e-12) {
		t.Errorf("read back as %v, set as %v", again, s)
	}
}

func TestSplayedLegs(t *testing.T) {
	for _, c := range []struct{ first, second, lean, sight unit.Degrees }{
		{0, 0, 0, 0},
		{10, 0, 10, 0},
		{0, 10, 10, 90},
		{-10, 0, 10, 180},
		{10, 10, 14.0, 45},     // tan lean = 0.17633 * 1.41421 = 0.24937
		{45, 45, 54.74, 45},    // the diagonal of a cube
		{5, 12, 12.945, 67.63}, // hypot(0.087489, 0.212557) = 0.229860
		{12, 22, 24.54, 62.25}, // hypot(0.212557, 0.404026) = 0.456527
	} {
		l := Splayed(c.first, c.second)
		if !close(l.Lean, c.lean, near) || !close(l.Sight, c.sight, near) {
			t.Errorf("%v and %v: %v, want %v and %v", c.first, c.second, l, c.lean, c.sight)
		}
	}
}

func TestAnglesOutsideTheirRangePanic(t *testing.T) {
	for name, f := range map[string]func(){
		"across": func() { Across(90, 0) }, "edge": func() { Saw{0, 90}.OnEdge() }, "mitred": func() { Mitred(30, 2) },
		"slope": func() { Butted(91, 4) }, "leg": func() { Splayed(0, -90) },
	} {
		func() {
			defer func() {
				if recover() == nil {
					t.Errorf("%s does not panic", name)
				}
			}()
			f()
		}()
	}
}
