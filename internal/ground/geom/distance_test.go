package geom

import (
	"math"
	"math/rand/v2"
	"testing"
)

func TestDistancesThatCanBeWorkedOutByHand(t *testing.T) {
	box := Box{Upright, Vec{10, 10, 5}}
	cases := []struct {
		name string
		a, b Solid
		want float64
	}{
		{"cylinders end to end", Bore{Vec{}, Vec{X: 10}, 10}, Bore{Vec{X: 13}, Vec{X: 20}, 8}, 3},
		{"cylinders side by side", Bore{Vec{}, Vec{X: 10}, 10}, Bore{Vec{Y: 12}, Vec{X: 10, Y: 12}, 8}, 3},
		// The rim of the flat end at (10, 0, 5) and the axis at (14, y, 8): √(4² + 3²) − 2.
		{"a rim and a side", Bore{Vec{}, Vec{X: 10}, 10}, Bore{Vec{X: 14, Y: -30, Z: 8}, Vec{X: 14, Y: 30, Z: 8}, 4}, 3},
		{"one inside the other", Bore{Vec{}, Vec{X: 10}, 10}, Bore{Vec{X: 2}, Vec{X: 4}, 2}, 0},
		{"a cylinder and the edge of a box", Bore{Vec{X: 13, Y: 14, Z: -9}, Vec{X: 13, Y: 14, Z: 9}, 4}, box, 3},
		{"a corner and a corner", box, Box{Pose{Vec{13, 14, 17}, Upright.Axes}, Vec{1, 2, 3}}, 13},
		{"faces that touch", box, Box{Pose{Vec{10, 2, 1}, Upright.Axes}, Vec{1, 2, 3}}, 0},
		// The half-round end has its middle at (4, 0) and radius 4; (12, 6) lies 10 from it.
		{"the round end of a mortise", Oblong{Vec{X: -20}, Vec{X: 4}, Vec{Z: 30}, 8}, Bore{Vec{X: 12, Y: 6}, Vec{X: 12, Y: 6, Z: 20}, 2}, 5},
		{"the straight side of a mortise", Oblong{Vec{X: -20}, Vec{X: 4}, Vec{Z: 30}, 8}, Bore{Vec{X: -8, Y: 9}, Vec{X: -8, Y: 9, Z: 20}, 2}, 4},
		{"a swept box", Swept{box, Vec{X: 100}}, Box{Pose{Vec{50, 13, 0}, Upright.Axes}, Vec{1, 1, 1}}, 3},
		{"a point of a hull", Hull{{}, {X: 10}, {Y: 10}, {Z: 10}}, Bore{Vec{X: 10, Y: 10, Z: 10}, Vec{X: 10, Y: 10, Z: 10}, 0}, 20 / math.Sqrt(3)},
	}
	for _, c := range cases {
		for _, g := range []Gap{Between(c.a, c.b), Between(c.b, c.a)} {
			if math.Abs(g.Distance-c.want) > 1e-6 {
				t.Errorf("%s: %v, want %v", c.name, g.Distance, c.want)
			}
			if math.Abs(g.A.Distance(g.B)-c.want) > 1e-6 {
				t.Errorf("%s: nearest points %v and %v", c.name, g.A, g.B)
			}
		}
	}
}

// Random bodies: no points of the two lie nearer than the distance, and no plane square to any direction parts them further.
// Both bounds come without the search itself.
func TestDistanceLiesBetweenPlanesAndPoints(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 9))
	vec := func(k float64) Vec {
		return Vec{(rng.Float64() - 0.5) * k, (rng.Float64() - 0.5) * k, (rng.Float64() - 0.5) * k}
	}
	body := func() Solid {
		x := vec(1).Unit()
		y := x.Cross(vec(1)).Unit()
		pose := Pose{vec(80), [3]Vec{x, y, x.Cross(y)}}
		switch rng.IntN(4) {
		case 0:
			return Box{pose, Vec{1 + rng.Float64()*40, 1 + rng.Float64()*40, 1 + rng.Float64()*40}}
		case 1:
			return Bore{pose.Origin, pose.Out(Vec{X: 1 + rng.Float64()*50}), 4 + rng.Float64()*12}
		case 2:
			return Oblong{pose.Origin, pose.Out(Vec{X: rng.Float64() * 50}), y.Scale(5 + rng.Float64()*30), 4 + rng.Float64()*12}
		}
		return Hull{vec(80), vec(80), vec(80), vec(80), vec(80), vec(80)}
	}
	apart, meeting := 0, 0
	for range 3000 {
		a, b := body(), body()
		g := Between(a, b)
		if g.Distance == 0 {
			meeting++
			// No direction may part them.
			for range 200 {
				d := vec(1).Unit()
				if gap := b.Support(d.Neg()).Dot(d) - a.Support(d).Dot(d); gap > 1e-5 {
					t.Fatalf("%+v and %+v meet, but lie %v apart along %v", a, b, gap, d)
				}
			}
			continue
		}
		apart++
		// The plane square to the nearest points is a proof of the distance.
		d := g.B.Sub(g.A).Unit()
		if gap := b.Support(d.Neg()).Dot(d) - a.Support(d).Dot(d); gap < g.Distance-1e-5 || gap > g.Distance+1e-5 {
			t.Fatalf("%+v and %+v: %v, planes say %v", a, b, g.Distance, gap)
		}
		// And both points must belong to their bodies.
		for k, s := range []Solid{a, b} {
			p := [2]Vec{g.A, g.B}[k]
			for range 50 {
				d := vec(1).Unit()
				if p.Sub(s.Support(d)).Dot(d) > 1e-6 {
					t.Fatalf("%v lies outside %+v", p, s)
				}
			}
		}
	}
	if apart < 500 || meeting < 500 {
		t.Errorf("%d apart, %d meeting", apart, meeting)
	}
}

func TestHowFarToMoveApart(t *testing.T) {
	a, b := Bore{Vec{}, Vec{X: 30}, 10}, Bore{Vec{X: 20, Z: -30}, Vec{X: 20, Z: 30}, 8}
	// Crossing at right angles in one plane: 5 + 4 to clear, 3 of wood.
	if got := Apart(a, b, Vec{Y: 1}, 3); math.Abs(got-12) > 1e-5 {
		t.Errorf("sideways: %v", got)
	}
	// Drawn back, the end of a must come to 20 − 4 − 3.
	if got := Apart(a, b, Vec{X: -1}, 3); math.Abs(got-17) > 1e-5 {
		t.Errorf("back: %v", got)
	}
	if got := Apart(a, Moved{b, Vec{Y: 40}}, Vec{X: 1}, 3); got != 0 {
		t.Errorf("already apart: %v", got)
	}
}

func TestCornersOfACutBox(t *testing.T) {
	box := Box{Pose{Vec{1, 2, 3}, Upright.Axes}, Vec{10, 20, 30}}
	if got := Corners(box.Planes()); len(got) != 8 {
		t.Errorf("a box has %d corners", len(got))
	}
	// One corner cut off: three for one.
	cut := append(box.Planes(), Plane{Vec{1, 1, 1}.Unit(), (11 + 22 + 33 - 3) / math.Sqrt(3)})
	if got := Corners(cut); len(got) != 10 {
		t.Errorf("cut, it has %d corners", len(got))
	}
	if in := (Plane{Vec{X: 1}, 15}).Inside(box); in != 4 {
		t.Errorf("lies %v inside", in)
	}
	if g := box.Grown(2); g.Size != (Vec{14, 24, 34}) || g.Pose.Origin != (Vec{-1, 0, 1}) {
		t.Errorf("grown: %+v", g)
	}
	if g := box.Grown(-7); g.Size != (Vec{0, 6, 16}) {
		t.Errorf("shrunk: %+v", g)
	}
}
