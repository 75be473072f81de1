package spaceframe

import (
	"math"
	"testing"
)

const seeds = 40

// same reports two displacements alike to a share of size, turns measured over 1000 length units.
func same(a, b Vec6, size, tolerance float64) bool {
	for d := range 6 {
		lever := 1.0
		if d >= 3 {
			lever = 1000
		}
		if !(math.Abs(a[d]-b[d])*lever <= tolerance*size) {
			return false
		}
	}
	return true
}

func largest(r *CaseResult) float64 {
	size := 0.0
	for _, u := range r.Displacement {
		size = max(size, u.force().length())
	}
	return size
}

func solvedAll(t *testing.T, m Model, cases []Case) Result {
	t.Helper()
	r := Solve(m, cases, Options{})
	if r.Status != Solved {
		t.Fatalf("%v %v %v", r.Status, r.Findings, r.Cases)
	}
	return r
}

func TestRandomFramesAreVerified(t *testing.T) {
	for seed := range uint64(seeds) {
		m, cases := random(seed)
		r := solvedAll(t, m, cases)
		for i := range cases {
			if r.Cases[i].Residual > 1e-9 {
				t.Errorf("seed %d: residual %g", seed, r.Cases[i].Residual)
			}
			verified(t, m, cases[i], &r.Cases[i])
		}
	}
}

func TestMirroredFrameGivesMirroredAnswer(t *testing.T) {
	flip := func(v Vec) Vec { return Vec{-v[0], v[1], v[2]} } // of arrows
	spin := func(v Vec) Vec { return Vec{v[0], -v[1], -v[2]} }
	for seed := range uint64(seeds) {
		m, cases := random(seed)
		for i := range cases { // a member's local z turns over, so its local loads would
			for j := range cases[i].Point {
				cases[i].Point[j].Local = false
			}
			for j := range cases[i].Spread {
				cases[i].Spread[j].Local = false
			}
		}
		a := solvedAll(t, m, cases)
		w, mirrored := random(seed)
		for i := range w.Nodes {
			w.Nodes[i].At = flip(w.Nodes[i].At)
		}
		for i := range w.Members {
			b := &w.Members[i]
			b.YAxis, b.OffsetI, b.OffsetJ = flip(b.YAxis), flip(b.OffsetI), flip(b.OffsetJ)
		}
		for i := range mirrored {
			c := &mirrored[i]
			c.Gravity = flip(c.Gravity)
			for j, l := range c.Nodal {
				c.Nodal[j].Force, c.Nodal[j].Moment = flip(l.Force), spin(l.Moment)
			}
			for j, l := range c.Point {
				c.Point[j].Force, c.Point[j].Moment, c.Point[j].Local = flip(l.Force), spin(l.Moment), false
			}
			for j, l := range c.Spread {
				c.Spread[j].Start, c.Spread[j].End, c.Spread[j].Local = flip(l.Start), flip(l.End), false
			}
		}
		b := solvedAll(t, w, mirrored)
		for i := range a.Cases {
			for n, u := range a.Cases[i].Displacement {
				if got := b.Cases[i].Displacement[n]; !same(got, join(flip(u.force()), spin(u.moment())), largest(&a.Cases[i]), 1e-9) {
					t.Fatalf("seed %d node %s: %v mirrors %v", seed, m.Nodes[n].Name, got, u)
				}
			}
		}
	}
}

func TestDoubleLoadGivesDoubleAnswer(t *testing.T) {
	for seed := range uint64(seeds) {
		m, cases := random(seed)
		a := solvedAll(t, m, cases)
		for i := range cases {
			c := &cases[i]
			c.Gravity = c.Gravity.times(2)
			for j := range c.Nodal {
				c.Nodal[j].Force, c.Nodal[j].Moment = c.Nodal[j].Force.times(2), c.Nodal[j].Moment.times(2)
			}
			for j := range c.Point {
				c.Point[j].Force, c.Point[j].Moment = c.Point[j].Force.times(2), c.Point[j].Moment.times(2)
			}
			for j := range c.Spread {
				c.Spread[j].Start, c.Spread[j].End = c.Spread[j].Start.times(2), c.Spread[j].End.times(2)
			}
		}
		b := solvedAll(t, m, cases)
		for i := range a.Cases {
			for n, u := range a.Cases[i].Displacement {
				var twice Vec6
				twice.add(u, 2)
				if !same(b.Cases[i].Displacement[n], twice, largest(&b.Cases[i]), 1e-12) {
					t.Fatalf("seed %d node %s", seed, m.Nodes[n].Name)
				}
			}
		}
	}
}

func TestStifferSpringNeverSwaysMore(t *testing.T) {
	for seed := range uint64(seeds) {
		m, _ := random(seed)
		top := m.Members[len(m.Members)-1].I
		push := Case{Nodal: []NodalLoad{{Node: top, Force: Vec{30, 40, 0}}}}
		sway := func() float64 {
			r := solvedAll(t, m, []Case{push})
			return r.Cases[0].At(top).force().dot(push.Nodal[0].Force)
		}
		last := sway()
		for i := range m.Members {
			for _, s := range []Springs{m.Members[i].SpringsI, m.Members[i].SpringsJ} {
				for d := range DOF(6) {
					if k, given := s[d]; given {
						s[d] = 3*k + 1000
						now := sway()
						if now > last*(1+1e-12) {
							t.Fatalf("seed %d: member %s %s: sway grows from %.15g to %.15g", seed, m.Members[i].Name, d, last, now)
						}
						last = now
					}
				}
			}
		}
	}
}

func TestUnitsDoNotMatter(t *testing.T) {
	// From N, mm, t, s to kN, m, kt... : force 1e-3, length 1e-3, time 1, so mass = force time^2/length unchanged.
	const force, length = 1e-3, 1e-3
	for seed := range uint64(seeds) {
		m, cases := random(seed)
		a := solvedAll(t, m, cases)
		w, scaled := random(seed)
		spring := func(d DOF, k float64) float64 {
			if d < RX {
				return k * force / length
			}
			return k * force * length
		}
		for i := range w.Nodes {
			n := &w.Nodes[i]
			n.At = n.At.times(length)
			for d := range DOF(6) {
				n.Support.Hold[d] = spring(d, n.Support.Hold[d])
			}
		}
		for i := range w.Members {
			b := &w.Members[i]
			b.OffsetI, b.OffsetJ = b.OffsetI.times(length), b.OffsetJ.times(length)
			area := length * length
			b.Section = Section{b.Section.Area * area, b.Section.Iy * area * area, b.Section.Iz * area * area, b.Section.J * area * area, b.Section.Ay * area, b.Section.Az * area}
			b.Material = Material{b.Material.E * force / area, b.Material.G * force / area, b.Material.Density / (area * length)}
			for _, s := range []Springs{b.SpringsI, b.SpringsJ} {
				for d, k := range s {
					s[d] = spring(d, k)
				}
			}
		}
		for i := range scaled {
			c := &scaled[i]
			c.Gravity = c.Gravity.times(length)
			for j := range c.Nodal {
				c.Nodal[j].Force, c.Nodal[j].Moment = c.Nodal[j].Force.times(force), c.Nodal[j].Moment.times(force*length)
			}
			for j := range c.Point {
				p := &c.Point[j]
				p.At, p.Force, p.Moment = p.At*length, p.Force.times(force), p.Moment.times(force*length)
			}
			for j := range c.Spread {
				p := &c.Spread[j]
				p.From, p.To, p.Start, p.End = p.From*length, p.To*length, p.Start.times(force/length), p.End.times(force/length)
			}
		}
		b := solvedAll(t, w, scaled)
		for i := range a.Cases {
			for n, u := range b.Cases[i].Displacement {
				back := join(u.force().times(1/length), u.moment())
				if !same(back, a.Cases[i].Displacement[n], largest(&a.Cases[i]), 1e-9) {
					t.Fatalf("seed %d node %s: %v, want %v", seed, m.Nodes[n].Name, back, a.Cases[i].Displacement[n])
				}
			}
		}
	}
}

func TestMaterialStiffnessScalesDisplacement(t *testing.T) {
	m := portal(Rectangle(45, 45), Rectangle(20, 90), Springs{RY: 25e6}, false)
	c := []Case{{Nodal: []NodalLoad{{Node: "b", Force: Vec{75, 0, 0}}}}}
	sys, _ := Prepare(m, Options{})
	before := sys.Solve(c).Cases[0].At("b")[UX]
	for i := range m.Members {
		sys.SetMaterial(i, Material{E: 2 * pine.E, G: 2 * pine.G})
	}
	rail := sys.MemberIndex("rail")
	sys.SetEndSpring(rail, EndI, RY, 50e6)
	sys.SetEndSpring(rail, EndJ, RY, 50e6)
	near(t, "half", sys.Solve(c).Cases[0].At("b")[UX], before/2, 1e-12)
}

func TestTippingSearchAgreesWithStatics(t *testing.T) {
	// A rigid top on four feet stands exactly while the load is over the rectangle of the feet, and the answer is verified.
	for x := -520.0; x <= 520; x += 37 {
		for y := -310.0; y <= 310; y += 29 {
			m, c := topOnLegs(x, y, 0), pressed(1000)
			r := Solve(m, []Case{c}, Options{})
			inside := math.Abs(x) < 450 && math.Abs(y) < 250
			if (r.Status == Solved) != inside || !inside && r.Status != TipsOver {
				t.Errorf("load at %g, %g: %v %+v", x, y, r.Status, r.Cases[0].Findings)
			} else if inside {
				verified(t, m, c, &r.Cases[0])
			}
		}
	}
}

func TestSlidingSearchAgreesWithStatics(t *testing.T) {
	// A frame on equal feet slides away exactly when the push is more than friction times weight, whatever the direction.
	for angle := 0.0; angle < 6.2; angle += 0.37 {
		for _, share := range []float64{0.5, 0.9, 0.97, 1.03, 1.5} {
			m, c := topOnLegs(0, 0, 0.25), pressed(1000)
			push := 250 * share
			c.Nodal[0].Force[UX], c.Nodal[0].Force[UY] = push*math.Cos(angle), push*math.Sin(angle)
			r := Solve(m, []Case{c}, Options{})
			if share < 1 && r.Status != Solved || share > 1 && r.Status != SlidesAway {
				t.Errorf("push %g at %g: %v %v", push, angle, r.Status, r.Cases[0].Findings)
			} else if share < 1 {
				verified(t, m, c, &r.Cases[0])
			}
		}
	}
}
