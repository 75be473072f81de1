package web

import (
	"fmt"
	"math"

	"longgrain/internal/check/movement"
	"longgrain/internal/design/assembly"
	"longgrain/internal/ground/geom"
	"longgrain/internal/ground/unit"
	"longgrain/internal/plan"
	"longgrain/internal/trade/wood"
	"longgrain/internal/work/blank"
)

// detailScene adds to a scene what is more than boxes in space: the shape of cuts, glue lines, joints and the year.
func detailScene(s *Scene, made plan.Plan) {
	a := made.Assembly
	for i, p := range a.Parts {
		for k, f := range p.Features {
			x := &s.Parts[i].Features[k]
			x.Rounded, x.Flare, x.Joint = f.Rounded, f.Flare.MM(), f.For
			x.Out = point(p.Pose.TurnIn(p.Outward(f.Side)))
		}
	}
	glueLines(s, made)
	s.Joints = sceneJoints(made)
	s.Year = sceneYear(made)
}

// glueLines tells where panels and laminations are glued up. The pieces of a part are alike, so the lines stand at equal
// distances.
func glueLines(s *Scene, made plan.Plan) {
	for g, way := range made.Cutting.Ways {
		if way.Pieces < 2 || g >= len(made.Cutting.Groups) {
			continue
		}
		for _, i := range made.Cutting.Groups[g].Parts {
			p := made.Assembly.Parts[i]
			glued := &GluedPart{Across: "width"}
			size := p.Width
			if way.Build == blank.Laminated {
				glued.Across, size = "thickness", p.Thickness
			}
			for k := 1; k < way.Pieces; k++ {
				glued.At = append(glued.At, size.MM()*float64(k)/float64(way.Pieces))
			}
			s.Parts[i].Glued = glued
		}
	}
}

// sceneJoints lists the connections with what joins them and the room that it takes.
func sceneJoints(made plan.Plan) List[SceneJoint] {
	a := made.Assembly
	words := map[int]string{}
	for _, g := range made.Joints {
		if !g.Made {
			continue
		}
		for _, c := range g.Connections {
			words[c] = g.Final.Joint.Describe()
		}
	}
	for _, f := range made.Fastenings {
		words[f.Connection] = fmt.Sprintf("%d × %s", len(f.At), f.Way)
	}
	var out List[SceneJoint]
	for i, c := range a.Connections {
		lo, hi := jointBox(a, c)
		middle, _ := a.Middle(c)
		out = append(out, SceneJoint{Name: c.Name, Parts: List[string]{a.Parts[c.A.Part].Mark, a.Parts[c.B.Part].Mark},
			Words: words[i], At: point(middle), From: point(lo), To: point(hi)})
	}
	return out
}

// jointBox returns a box around the contact of a connection and everything that is cut for it.
func jointBox(a assembly.Assembly, c assembly.Connection) (lo, hi geom.Vec) {
	lo = geom.Vec{X: math.Inf(1), Y: math.Inf(1), Z: math.Inf(1)}
	hi = lo.Neg()
	add := func(v geom.Vec) {
		lo = geom.Vec{X: min(lo.X, v.X), Y: min(lo.Y, v.Y), Z: min(lo.Z, v.Z)}
		hi = geom.Vec{X: max(hi.X, v.X), Y: max(hi.Y, v.Y), Z: max(hi.Z, v.Z)}
	}
	for _, at := range [2]assembly.Place{c.A, c.B} {
		p := a.Parts[at.Part]
		for _, u := range [2]unit.Length{at.Area.U0, at.Area.U1} {
			for _, v := range [2]unit.Length{at.Area.V0, at.Area.V1} {
				add(p.OnSide(at.Side, u, v, 0))
			}
		}
		for k, f := range p.Features {
			if f.For != c.Name {
				continue
			}
			x := featureOf(a, at.Part, k, f)
			r := x.Diameter / 2
			for _, end := range [2]Point{x.From, x.To} {
				for _, d := range [2]float64{-r, r} {
					add(p.Pose.Out(geom.Vec{X: end[0] + d, Y: end[1] + d, Z: end[2] + d}))
				}
			}
		}
	}
	return lo, hi
}

// How large the movement of a year is drawn: the part that moves most by about this share of the size of the piece, enlarged
// by a round number, and at most so many times. Judgement: plain to see and still the same piece.
const (
	yearShare = 0.08
	yearMost  = 50
)

// sceneYear returns the movement of every part across its grain, by the formula of the chapter: boards flat-sawn, so that the
// width moves as along the rings and the thickness as across them.
func sceneYear(made plan.Plan) *SceneYear {
	y := made.Year
	if !y.Known || len(y.Months) == 0 {
		return nil
	}
	built, dampest := y.Moisture.Built, y.Months[0].Moisture
	for _, m := range y.Months {
		if math.Abs(float64(m.Moisture-built)) > math.Abs(float64(dampest-built)) {
			dampest = m.Moisture
		}
	}
	if dampest == built {
		return nil
	}
	out := &SceneYear{}
	widest, most := 0, 0.0
	for i, p := range made.Assembly.Parts {
		species, ok := wood.Lookup(p.Species)
		if !ok {
			continue
		}
		x := YearPart{ID: p.Mark, Width: swelling(p.Width, species, wood.FlatSawn, built, dampest), Thickness: swelling(p.Thickness, species, wood.QuarterSawn, built, dampest)}
		if math.Abs(x.Width) > most {
			widest, most = i, math.Abs(x.Width)
		}
		out.Parts = append(out.Parts, x)
	}
	if most == 0 {
		return nil
	}
	lo, hi := made.Assembly.Bounds()
	out.Times = roundTimes(yearShare * hi.Sub(lo).Length() / most)
	p := made.Assembly.Parts[widest]
	for _, m := range y.Months {
		share := float64(m.Moisture-built) / float64(dampest-built)
		species, _ := wood.Lookup(p.Species)
		d := swelling(p.Width, species, wood.FlatSawn, built, m.Moisture)
		out.Months = append(out.Months, SceneMonth{Name: m.Name, Share: share,
			Words: fmt.Sprintf("%s: wood at %.1f %%, the %s is %s", m.Name, float64(m.Moisture), p.Name, wider(unit.MM(math.Abs(d)), d, made.Family))})
	}
	return out
}

// wider says how much wider or narrower a part is than when it was made.
func wider(by unit.Length, sign float64, f unit.Family) string {
	switch {
	case by < unit.Millimetre/20:
		return "as wide as when it was made"
	case sign > 0:
		return by.Show(f) + " wider than when it was made"
	}
	return by.Show(f) + " narrower than when it was made"
}

// swelling is the change of a size across the grain, mm; none where no source gives the wood a figure.
func swelling(size unit.Length, s wood.Species, cut wood.Cut, from, to wood.Moisture) float64 {
	m, _ := movement.Across(size, s, cut, movement.Year{Built: from, Damp: to, Dry: to})
	return (m.Swell - m.Shrink).MM()
}

// roundTimes rounds a scale down to 1, 2 or 5 times a power of ten.
func roundTimes(k float64) float64 {
	k = min(k, yearMost)
	if k <= 1 {
		return 1
	}
	step := math.Pow(10, math.Floor(math.Log10(k)))
	for _, n := range []float64{5, 2} {
		if n*step <= k {
			return n * step
		}
	}
	return step
}
