package markout

import (
	"math"

	"longgrain/internal/design/assembly"
	"longgrain/internal/ground/geom"
)

// centred is how near the middle of the piece a part must lie to count as in the middle, mm. A part
// that far out has an outer side that a maker sees.
const centred = 1.0

// chooseReferences picks face, edge and end of every part by one rule for all, which is what makes
// mating parts be measured from sides that lie together:
//
//   - a side that looks up is preferred to one that looks down: rails from their upper edge, legs from
//     their top end;
//   - of two upright sides the one that looks out of the piece;
//   - of two upright sides in the middle of the piece the one that looks to the front or the left.
//
// Only the end of an upright rail in the middle is free when nothing measured along it has a mate. It is then
// put at the left hand of a maker who looks at the face with the edge up, so that equal rails on
// opposite sides of the piece are marked alike. Parts of one shape take over the references of the
// first of them, turned, where the rule allows it. Common practice.
func chooseReferences(a assembly.Assembly, shapes []shape) []References {
	lo, hi := a.Bounds()
	c := chooser{a: a, middle: lo.Add(hi).Scale(0.5), measured: alongMates(a)}
	out := make([]References, len(a.Parts))
	for _, s := range shapes {
		first := s.parts[0]
		out[first] = c.byRule(first)
		for k, part := range s.parts[1:] {
			out[part] = c.byTurn(part, out[first], s.from[k+1])
		}
	}
	return out
}

type chooser struct {
	a      assembly.Assembly
	middle geom.Vec
	// measured tells for each part and local axis whether a position along it has a mate.
	measured map[[2]int]bool
}

// alongMates finds the axes of parts along which something with a mate is measured.
func alongMates(a assembly.Assembly) map[[2]int]bool {
	out := map[[2]int]bool{}
	for _, c := range a.Connections {
		if len(cutFor(a, c.A, c.Name)) == 0 || len(cutFor(a, c.B, c.Name)) == 0 {
			continue
		}
		for _, p := range [2]assembly.Place{c.A, c.B} {
			u, v := p.Side.UV()
			out[[2]int{p.Part, u}], out[[2]int{p.Part, v}] = true, true
		}
	}
	return out
}

func (c chooser) byRule(part int) References {
	r := References{Face: c.side(part, 2), Edge: c.side(part, 1), End: c.side(part, 0)}
	if c.free(part, 0) && !r.rightHanded() {
		r.End = r.End.Opposite()
	}
	return r
}

// byTurn takes over references through the first turn that the rule allows.
func (c chooser) byTurn(part int, first References, via []turn) References {
	for _, t := range via {
		r := References{Face: t.side(first.Face), Edge: t.side(first.Edge), End: t.side(first.End)}
		if c.allowed(part, r.Face) && c.allowed(part, r.Edge) && c.allowed(part, r.End) {
			return r
		}
	}
	return c.byRule(part)
}

func (c chooser) allowed(part int, s assembly.Side) bool {
	return c.free(part, s.Axis()) || c.side(part, s.Axis()) == s
}

// free tells whether either side of an axis may serve: the end of an upright part in the middle along
// which nothing has a mate.
func (c chooser) free(part, axis int) bool {
	return axis == 0 && c.tie(part, axis) && !c.measured[[2]int{part, axis}] && !looksUpOrDown(c.a.Parts[part].Pose.Axes[2])
}

func (c chooser) tie(part, axis int) bool {
	p := c.a.Parts[part]
	d := p.Pose.Axes[axis]
	return !looksUpOrDown(d) && math.Abs(p.Box().Centre().Sub(c.middle).Dot(d)) < centred
}

// side returns the side of an axis that the rule prefers.
func (c chooser) side(part, axis int) assembly.Side {
	p := c.a.Parts[part]
	d := p.Pose.Axes[axis]
	low, high := assembly.Side(2*axis), assembly.Side(2*axis+1)
	toward := geom.Vec{Z: 1}
	switch {
	case looksUpOrDown(d):
	case c.tie(part, axis):
		toward = geom.Vec{X: -1, Y: -1.001} // the front before the left for a part that lies askew
	default:
		toward = p.Box().Centre().Sub(c.middle)
	}
	if d.Dot(toward) < 0 {
		return low
	}
	return high
}

// looksUpOrDown tells whether a direction is nearer upright than level.
func looksUpOrDown(d geom.Vec) bool { return math.Abs(d.Z) > math.Sqrt2/2 }
