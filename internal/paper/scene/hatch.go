package scene

import (
	"math"
	"slices"
)

// Hatch says how an area is filled with lines.
type Hatch int

// The kinds of hatching.
const (
	NoHatch       Hatch = iota
	SectionHatch        // cut material: lines at 45 degrees
	SectionHatch2       // a neighbour of SectionHatch: lines at 135 degrees
	EndGrainHatch       // end grain: arcs like growth rings
	CrossHatch          // waste: lines both ways
	GrainHatch          // long grain: lines along x
)

// Distances between hatch lines in millimetres (common practice: wide enough to stay open when copied).
const (
	sectionSpacing = 2.2
	ringSpacing    = 1.6
	grainSpacing   = 3
)

// HatchStyle returns the style the hatch lines are drawn in.
func (h Hatch) HatchStyle() Style {
	if h == EndGrainHatch || h == GrainHatch {
		return Grain
	}
	return Section
}

// HatchLines returns the hatching of the polygon as lines cut to its inside, holes left free. It does
// the work for every writer, so that a hatch looks the same everywhere.
func (p Polygon) HatchLines() []Line {
	rings := append([][]Point{p.Points}, p.Holes...)
	var out []Line
	switch p.Hatch {
	case SectionHatch:
		out = parallels(rings, 45, sectionSpacing)
	case SectionHatch2:
		out = parallels(rings, 135, sectionSpacing)
	case CrossHatch:
		out = append(parallels(rings, 45, sectionSpacing), parallels(rings, 135, sectionSpacing)...)
	case GrainHatch:
		out = parallels(rings, 0, grainSpacing)
	case EndGrainHatch:
		out = growthRings(rings)
	}
	for i := range out {
		out[i].Style = p.Hatch.HatchStyle()
	}
	return out
}

// parallels returns lines at an angle in degrees, spacing apart, inside the rings. The lines lie on a
// grid fixed to the paper, so that the parts of one section line up.
func parallels(rings [][]Point, degrees, spacing float64) []Line {
	sin, cos := sincos(degrees)
	along, across := Point{cos, sin}, Point{-sin, cos}
	box := emptyBox
	for _, r := range rings {
		box = box.Union(boxOf(r...))
	}
	if box.Empty() {
		return nil
	}
	corners := box.quad()
	low, high := shadow(corners[:], across)
	start, end := shadow(corners[:], along)
	var out []Line
	for d := math.Floor(low/spacing)*spacing + spacing/2; d < high; d += spacing {
		a := Point{start*along.X + d*across.X, start*along.Y + d*across.Y}
		b := Point{end*along.X + d*across.X, end*along.Y + d*across.Y}
		out = append(out, clip(a, b, rings)...)
	}
	return out
}

// ringStep is the angle in degrees between the corners of a growth ring drawn as short lines.
const ringStep = 6.0

// growthRings returns arcs about a pith below the middle of the area, inside the rings.
func growthRings(rings [][]Point) []Line {
	box := boxOf(rings[0]...)
	if box.Empty() {
		return nil
	}
	size := math.Max(box.Width(), box.Height())
	pith := Point{box.Centre().X + size/8, box.Min.Y - size/3}
	corners := box.quad()
	reach := 0.0
	for _, c := range corners {
		reach = math.Max(reach, math.Hypot(c.X-pith.X, c.Y-pith.Y))
	}
	var out []Line
	for r := size / 3; r < reach; r += ringSpacing {
		for a := 0.0; a < 180; a += ringStep {
			out = append(out, clip(polar(pith, r, a), polar(pith, r, a+ringStep), rings)...)
		}
	}
	return out
}

// clip returns the parts of the line from a to b that lie inside the rings by the even-odd rule.
func clip(a, b Point, rings [][]Point) []Line {
	cuts := []float64{0, 1}
	for _, ring := range rings {
		for i, p := range ring {
			if t, ok := meet(a, b, p, ring[(i+1)%len(ring)]); ok {
				cuts = append(cuts, t)
			}
		}
	}
	slices.Sort(cuts)
	var out []Line
	for i := range cuts[1:] {
		from, to := between(a, b, cuts[i]), between(a, b, cuts[i+1])
		if cuts[i+1]-cuts[i] > 1e-9 && inside(between(from, to, 0.5), rings) {
			out = append(out, Line{From: from, To: to})
		}
	}
	return out
}

// meet returns where on the line a-b, as a share of its length, it meets the line p-q.
func meet(a, b, p, q Point) (share float64, ok bool) {
	dx, dy := b.X-a.X, b.Y-a.Y
	ex, ey := q.X-p.X, q.Y-p.Y
	det := dx*ey - dy*ex
	if math.Abs(det) < 1e-12 {
		return 0, false
	}
	t := ((p.X-a.X)*ey - (p.Y-a.Y)*ex) / det
	u := ((p.X-a.X)*dy - (p.Y-a.Y)*dx) / det
	return t, t > 0 && t < 1 && u >= 0 && u <= 1
}

func between(a, b Point, t float64) Point { return Point{a.X + t*(b.X-a.X), a.Y + t*(b.Y-a.Y)} }

// inside reports whether p lies inside the rings by the even-odd rule.
func inside(p Point, rings [][]Point) bool {
	in := false
	for _, ring := range rings {
		for i, a := range ring {
			b := ring[(i+1)%len(ring)]
			if (a.Y > p.Y) != (b.Y > p.Y) && p.X < a.X+(p.Y-a.Y)/(b.Y-a.Y)*(b.X-a.X) {
				in = !in
			}
		}
	}
	return in
}
