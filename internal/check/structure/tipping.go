package structure

import (
	"fmt"
	"math"
	"slices"

	"longgrain/internal/design/assembly"
	"longgrain/internal/ground/geom"
	"longgrain/internal/ground/source"
	"longgrain/internal/ground/unit"
	"longgrain/internal/ground/working"
)

var citeStatics = source.At("timber-theory", "statics of a rigid body on its edge", source.Exact)

// floorGrip is the coefficient of friction of wooden feet on a floor: what pushes harder slides. Judgement.
const floorGrip = 0.4

// tipping checks, for every side of the outline of the feet, a load on the edge of the loaded surface beyond it, and
// says how hard a push at the top tips the piece.
func tipping(a assembly.Assembly, f *frame, wanted float64) []Check {
	feet := footprint(a)
	if len(feet) < 3 {
		return nil
	}
	_, hi := a.Bounds()
	top, hasTop := f.loadedSurface()
	weight := f.mass * unit.Gravity
	edgeLoad, push := Check{}, Check{}
	for i := range feet {
		p, q := feet[i], feet[(i+1)%len(feet)]
		inward := geom.Vec{X: -(q.Y - p.Y), Y: q.X - p.X}.Unit()
		s := f.centre.Sub(p).Dot(inward)
		for _, r := range rulesFor(a.Use, a.Setting, "edge") {
			if !hasTop {
				break
			}
			beyond := math.Inf(-1)
			for _, spot := range top.spots(r.inset) {
				beyond = math.Max(beyond, -spot.at.Sub(p).Dot(inward))
			}
			c := Check{What: "tipping under a load on the edge", Where: a.Name, Cite: r.cite,
				Case:     fmt.Sprintf("%.0f N down, %.0f mm inside the %s edge", r.force, r.inset, sideWord(inward)),
				Demand:   working.Value{Symbol: "F·a", Name: "overturning moment", Number: math.Max(0, r.force*beyond/1000), Unit: "N·m"},
				Capacity: working.Value{Symbol: "W·s", Name: "righting moment", Number: weight * s / 1000, Unit: "N·m"},
				Advice:   "set the legs further out, or let the top stand out less",
				Working: working.Working{{Title: "Tipping over the " + sideWord(inward) + " feet", Formula: "F a against W s",
					Inputs: []working.Value{{Symbol: "F", Number: r.force, Unit: "N", Cite: r.cite}, {Symbol: "a", Name: "load beyond the feet", Number: beyond, Unit: "mm"}, {Symbol: "W", Number: weight, Unit: "N"}, {Symbol: "s", Name: "centre of gravity inside the feet", Number: s, Unit: "mm"}},
					Result: working.Value{Symbol: "W·s", Number: weight * s / 1000, Unit: "N·m"}, Cite: citeStatics}},
			}
			c.verdict(wanted)
			if edgeLoad.What == "" || c.Reserve < edgeLoad.Reserve || (c.Reserve == edgeLoad.Reserve && c.Capacity.Number < edgeLoad.Capacity.Number) {
				edgeLoad = c
			}
		}
		tips := weight * s / hi.Z
		c := Check{What: "tipping under a push at the top", Where: a.Name, Cite: source.Choice("docs/methods/structure.md"),
			Case:     fmt.Sprintf("a push over the %s feet; wooden feet slide at %.1f of the weight", sideWord(inward), floorGrip),
			Demand:   working.Value{Symbol: "H", Name: "push at which it slides", Number: floorGrip * weight, Unit: "N"},
			Capacity: working.Value{Symbol: "W·s/z", Name: "push at which it tips", Number: tips, Unit: "N"},
			Advice:   "a wider stand or more weight low down; fix tall pieces to the wall",
		}
		c.Comfort = true
		c.verdict(1)
		if push.What == "" || c.Reserve < push.Reserve {
			push = c
		}
	}
	out := []Check{push}
	if edgeLoad.What != "" {
		out = append([]Check{edgeLoad}, out...)
	}
	return out
}

func sideWord(inward geom.Vec) string {
	switch {
	case inward.X > 0.7:
		return "left"
	case inward.X < -0.7:
		return "right"
	case inward.Y > 0.7:
		return "front"
	case inward.Y < -0.7:
		return "back"
	}
	return "slanting"
}

// footprint returns the convex outline of everything that stands on the floor, counter-clockwise seen from above.
func footprint(a assembly.Assembly) []geom.Vec {
	var points []geom.Vec
	for _, s := range a.Supports {
		p := a.Parts[s.Part]
		u, v := s.Side.UV()
		for _, at := range [][2]unit.Length{{0, 0}, {p.Size(u), 0}, {p.Size(u), p.Size(v)}, {0, p.Size(v)}} {
			points = append(points, p.OnSide(s.Side, at[0], at[1], 0))
		}
	}
	return hull(points)
}

// hull returns the convex hull in the plane, counter-clockwise (monotone chain).
func hull(points []geom.Vec) []geom.Vec {
	slices.SortFunc(points, func(a, b geom.Vec) int {
		if a.X != b.X {
			return compare(a.X, b.X)
		}
		return compare(a.Y, b.Y)
	})
	turn := func(o, a, b geom.Vec) float64 { return (a.X-o.X)*(b.Y-o.Y) - (a.Y-o.Y)*(b.X-o.X) }
	half := func(list []geom.Vec) []geom.Vec {
		var h []geom.Vec
		for _, p := range list {
			for len(h) >= 2 && turn(h[len(h)-2], h[len(h)-1], p) <= 1e-9 {
				h = h[:len(h)-1]
			}
			h = append(h, p)
		}
		return h[:max(0, len(h)-1)]
	}
	lower := half(points)
	slices.Reverse(points)
	return append(lower, half(points)...)
}

func compare(a, b float64) int {
	switch {
	case a < b:
		return -1
	case a > b:
		return 1
	}
	return 0
}
