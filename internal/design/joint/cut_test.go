package joint

import (
	"math"
	"slices"
	"testing"

	"longgrain/internal/design/assembly"
	"longgrain/internal/ground/geom"
	"longgrain/internal/ground/unit"
)

// mouth returns the outline of a hole or tenon on its side, in the world: the middle of a bore, the four corners of
// what is rectangular, in order of their coordinates.
func mouth(p assembly.Part, f assembly.Feature) []geom.Vec {
	if f.Kind == assembly.Bore {
		return []geom.Vec{p.OnSide(f.Side, f.U, f.V, 0)}
	}
	u0, v0 := f.U-f.Length/2, f.V-f.Width/2
	if f.Kind == assembly.Groove || f.Kind == assembly.Rebate {
		u0, v0 = f.U, f.V
	}
	var out []geom.Vec
	for _, u := range []unit.Length{0, f.Length} {
		for _, v := range []unit.Length{0, f.Width} {
			out = append(out, p.OnSide(f.Side, u0+u, v0+v, 0))
		}
	}
	slices.SortFunc(out, func(a, b geom.Vec) int {
		for _, d := range []float64{a.X - b.X, a.Y - b.Y, a.Z - b.Z} {
			if math.Abs(d) > 1e-6 {
				return int(math.Copysign(1, d))
			}
		}
		return 0
	})
	return out
}

// everyWay is a piece in which rails meet legs in every way: at both ends, flush at the top and flush at the
// bottom, along x and along y.
const everyWay = `
longgrain: 1
name: Every way
wood: {species: eastern white pine}
parts:
  - {name: a, length: 400 mm, width: 50 mm, thickness: 45 mm, along: z, across: x}
  - {name: b, length: 400 mm, width: 50 mm, thickness: 45 mm, at: [450 mm, 0 mm, 0 mm], along: z, across: x}
  - {name: c, length: 400 mm, width: 50 mm, thickness: 45 mm, at: [0 mm, 345 mm, 0 mm], along: z, across: x}
  - {name: high, length: 400 mm, width: 70 mm, thickness: 20 mm, at: [50 mm, 5 mm, 330 mm], along: x, across: z}
  - {name: low, length: 400 mm, width: 70 mm, thickness: 20 mm, at: [50 mm, 5 mm, 0 mm], along: x, across: z}
  - {name: side, length: 300 mm, width: 70 mm, thickness: 20 mm, at: [4 mm, 45 mm, 330 mm], along: y, across: z}
  - {name: flat, length: 300 mm, width: 46 mm, thickness: 20 mm, at: [2 mm, 45 mm, 150 mm], along: y, across: x}
connections:
  - between: [high, a]
  - between: [high, b]
  - between: [low, a]
  - between: [low, b]
  - between: [side, a]
  - between: [side, c]
  - between: [flat, a]
  - between: [flat, c]
`

// The joint is worked out for the rail flush with the top of its leg and cut at the one flush with the bottom: the pins
// keep their distance from the end of the leg.
func TestPinsAreTurnedRoundAtTheOtherEndOfALeg(t *testing.T) {
	a := build(t, everyWay)
	sites := sitesOf(t, a)
	high, low := sites[0], sites[2]
	if high.Connection.Group != low.Connection.Group {
		t.Fatal("the two rails are not alike")
	}
	if !high.NearHigh || high.NearLow || !low.NearLow || low.NearHigh {
		t.Fatalf("near the ends: %v %v, %v %v", high.NearLow, high.NearHigh, low.NearLow, low.NearHigh)
	}
	for _, j := range Possible(high, everything) {
		onHigh, _ := Cut(high, j)
		onLow, _ := Cut(low, j)
		for i := range onHigh {
			up := 400 - mouth(high.A, onHigh[i])[0].Z
			down := mouth(low.A, onLow[i])[0].Z
			if onHigh[i].Kind == assembly.Bore && j.Kind != CornerBlock && math.Abs(up-down) > 1e-6 {
				t.Errorf("%s: %v mm below the top and %v mm above the bottom", j.Describe(), up, down)
			}
		}
	}
}

func TestTheTwoEndsOfARailAreMirrors(t *testing.T) {
	a := build(t, playTable())
	sites := sitesOf(t, a)
	left, right := sites[0], sites[1]
	middle := a.Parts[left.Connection.A.Part].Box().Centre()
	for _, j := range Possible(left, everything) {
		l, lb := Cut(left, j)
		r, rb := Cut(right, j)
		for i := range l {
			for k, pair := range [][2]geom.Vec{
				{left.A.OnSide(l[i].Side, l[i].U, l[i].V, 0), right.A.OnSide(r[i].Side, r[i].U, r[i].V, 0)},
				{bottom(left.A, l[i]), bottom(right.A, r[i])},
			} {
				x := 2*middle.X - pair[0].X
				if math.Abs(x-pair[1].X) > 1e-6 || math.Abs(pair[0].Y-pair[1].Y) > 1e-6 || math.Abs(pair[0].Z-pair[1].Z) > 1e-6 {
					t.Errorf("%s, point %d: %v and %v are no mirrors", j.Describe(), k, pair[0], pair[1])
				}
			}
			if l[i].Tilt != -r[i].Tilt {
				t.Errorf("%s leans by %v and %v", j.Describe(), l[i].Tilt, r[i].Tilt)
			}
			if len(lb) > i && lb[i].Depth != rb[i].Depth {
				t.Errorf("%s is %v and %v deep", j.Describe(), lb[i].Depth, rb[i].Depth)
			}
		}
	}
}

func bottom(p assembly.Part, f assembly.Feature) geom.Vec { return p.OnSide(f.Side, f.U, f.V, f.Depth) }

func TestPinsStandAtWholeMarks(t *testing.T) {
	s := oneSite(t, corner("eastern white pine"))
	for _, mark := range []unit.Length{mm / 2, mm, unit.Inch / 32} {
		m := everything
		m.Mark = mark
		for _, j := range Possible(s, m) {
			if onA, _ := Cut(s, j); len(onA) == 0 || onA[0].Kind != assembly.Bore {
				continue // what is rectangular is marked at its edges, not its middle
			}
			for _, at := range j.spots {
				if at.u%mark != 0 {
					t.Errorf("%s with marks of %v: a pin at %v", j.Describe(), mark, at.u)
				}
			}
		}
	}
}
