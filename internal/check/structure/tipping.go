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

// pullHeight is the height above which nobody pulls, mm. Source: [astm-f2057] 56 in, from memory.
const pullHeight = 1422.0

// TippingChecks returns the names of the checks of tipping.
func TippingChecks() []string {
	out := []string{pushTips}
	for _, w := range tippingWords {
		out = append(out, w.what)
	}
	return out
}

const pushTips = "tipping under a push at the top"

// tallFrom is the height from which the pull counts, mm: what is lower is not tall furniture. Source: [astm-f2057] scope, 27 in, read.
const tallFrom = 686.0

// tippingWords says what a row of the load table does to the stand of a piece.
var tippingWords = []struct{ action, what, advice string }{
	{"edge", "tipping under a load on the edge", "set the legs further out, or let the top stand out less"},
	{"child", "tipping with a child on the edge", "set the feet further out, fix it to the wall, and keep children off it"},
	{"pull", "tipping under a pull at the top", "fix it to the wall, or make it deeper or heavier low down"},
	{"lid", "tipping over an open lid", "give the lid stays that stop it upright, and make the box deeper or heavier low down"},
}

// tipping checks, over every side of the outline of the feet, the loads on the edges of what people load, and says how hard a push
// at the top tips the piece.
func tipping(a assembly.Assembly, f *frame, wanted float64) []Check {
	feet := footprint(a)
	if len(feet) < 3 {
		return nil
	}
	_, hi := a.Bounds()
	ways := f.stances()
	worst := make([]Check, len(tippingWords))
	push := Check{}
	for i := range feet {
		p, q := feet[i], feet[(i+1)%len(feet)]
		inward := geom.Vec{X: -(q.Y - p.Y), Y: q.X - p.X}.Unit()
		for _, stands := range ways {
			over := side{p, inward, stands.weight, stands.centre.Sub(p).Dot(inward)}
			for k, w := range tippingWords {
				for _, r := range rulesFor(a.Use, a.Setting, w.action) {
					for _, on := range f.tippingPlaces(w.action, stands, inward) {
						c := over.tippedBy(r, on.plane, on.hi.Z)
						c.What, c.Where, c.Advice = w.what, a.Name, w.advice
						c.Case += on.words + stands.words
						c.verdict(wanted)
						if worst[k].What == "" || c.Reserve < worst[k].Reserve || (c.Reserve == worst[k].Reserve && c.Capacity.Number < worst[k].Capacity.Number) {
							worst[k] = c
						}
					}
				}
			}
		}
		shut := ways[0]
		c := side{p, inward, shut.weight, shut.centre.Sub(p).Dot(inward)}.pushed(hi.Z)
		c.Where = a.Name
		if push.What == "" || c.Reserve < push.Reserve {
			push = c
		}
	}
	var out []Check
	for _, c := range worst {
		if c.What != "" {
			out = append(out, c)
		}
	}
	return append(out, push)
}

// tippingPlace is a surface on which a load is tried, with words for it.
type tippingPlace struct {
	plane
	words string
}

// tippingPlaces returns the surfaces on which a load of the kind is tried: the highest, for a child every one and the fronts of open drawers. A lid
// that stands open is pushed over at its upper edge, and nobody is on it.
func (f *frame) tippingPlaces(action string, s stance, inward geom.Vec) []tippingPlace {
	var out []tippingPlace
	if action == "lid" {
		if s.lid < 0 || inward.Dot(s.toward) > -0.7 {
			return nil
		}
		lo, hi := f.a.Parts[s.lid].Box().Bounds()
		hi.Z = lo.Z + math.Abs(hi.Sub(lo).Dot(s.toward))
		return []tippingPlace{{plane: plane{surface{part: s.lid}, lo, hi}}}
	}
	if action == "child" {
		for _, p := range f.flats() {
			if p.part != s.lid {
				out = append(out, tippingPlace{plane: p})
			}
		}
		for _, p := range s.open {
			out = append(out, tippingPlace{p, " of a drawer"})
		}
		return out
	}
	top, ok := f.loadedSurface()
	if !ok || top.part == s.lid || (action == "pull" && top.hi.Z < tallFrom) {
		return nil
	}
	return []tippingPlace{{plane: top}}
}

// side is one side of the outline of the feet over which a piece may tip.
type side struct {
	at, inward geom.Vec
	weight     float64 // N
	inside     float64 // centre of gravity inside the side, mm
}

// tippedBy compares the moments of a load on the edge of a surface over a side of the feet.
//
//	F a + H z against W s,  or  H z against W s + F b
//
// F presses on the edge, a beside or b inside the feet, H pulls outward at the height z; W is the weight, s inside the feet.
//
// Source: statics of a rigid body on its edge.
func (e side) tippedBy(r rule, on plane, z float64) Check {
	if r.force == 0 {
		z = math.Min(z, pullHeight)
	}
	beyond := math.Inf(-1)
	for _, spot := range on.spots(r.inset) {
		beyond = math.Max(beyond, -spot.at.Sub(e.at).Dot(e.inward))
	}
	over := (r.force*math.Max(0, beyond) + r.outward*z) / 1000
	right := (e.weight*e.inside + r.force*math.Max(0, -beyond)) / 1000
	c := Check{Cite: r.cite,
		Demand:   working.Value{Symbol: "M", Name: "overturning moment", Number: over, Unit: "N·m"},
		Capacity: working.Value{Symbol: "M_r", Name: "righting moment", Number: math.Max(0, right), Unit: "N·m"},
	}
	where := fmt.Sprintf("%.0f mm inside the %s edge", r.inset, sideWord(e.inward))
	if r.inset == 0 {
		where = fmt.Sprintf("on the %s edge", sideWord(e.inward))
	}
	switch {
	case r.force == 0:
		c.Case = fmt.Sprintf("%.4g N outward over the %s feet", r.outward, sideWord(e.inward))
	case r.outward == 0:
		c.Case = fmt.Sprintf("%.0f N down, %s", r.force, where)
	default:
		c.Case = fmt.Sprintf("%.0f N down, %s, and %.0f N outward", r.force, where, r.outward)
	}
	inputs := []working.Value{{Symbol: "F", Name: "load on the edge", Number: r.force, Unit: "N", Cite: r.cite}, {Symbol: "a", Name: "load beside the feet, inside when negative", Number: beyond, Unit: "mm"},
		{Symbol: "H", Name: "force outward", Number: r.outward, Unit: "N"}, {Symbol: "z", Name: "height of the force", Number: z, Unit: "mm"},
		{Symbol: "W", Number: e.weight, Unit: "N"}, {Symbol: "s", Name: "centre of gravity inside the feet", Number: e.inside, Unit: "mm"}}
	title, formula := "Tipping over the "+sideWord(e.inward)+" feet", "M = F a + H z,  M_r = W s"
	if beyond < 0 {
		formula = "M = H z,  M_r = W s − F a"
	}
	c.Working = working.Working{{Title: title, Formula: formula, Inputs: inputs, Result: c.Capacity, Cite: citeStatics}}
	return c
}

// pushed compares the push at the top that tips the piece with the one that makes it slide.
func (e side) pushed(z float64) Check {
	c := Check{What: pushTips, Cite: source.Choice("docs/methods/structure.md"),
		Case:     fmt.Sprintf("a push over the %s feet; wooden feet slide at %.1f of the weight", sideWord(e.inward), floorGrip),
		Demand:   working.Value{Symbol: "H", Name: "push at which it slides", Number: floorGrip * e.weight, Unit: "N"},
		Capacity: working.Value{Symbol: "W·s/z", Name: "push at which it tips", Number: math.Max(0, e.weight*e.inside/z), Unit: "N"},
		Advice:   "a wider stand or more weight low down; fix tall pieces to the wall",
	}
	c.comfort()
	return c
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
