package scene

import "math"

// Box is an upright rectangle in millimetres. A box whose Min lies beyond its Max is empty.
type Box struct{ Min, Max Point }

// emptyBox contains nothing and vanishes in a union.
var emptyBox = Box{Point{math.Inf(1), math.Inf(1)}, Point{math.Inf(-1), math.Inf(-1)}}

// Empty reports whether the box contains no point.
func (b Box) Empty() bool { return b.Min.X > b.Max.X || b.Min.Y > b.Max.Y }

// Width returns the extent along x.
func (b Box) Width() float64 { return b.Max.X - b.Min.X }

// Height returns the extent along y.
func (b Box) Height() float64 { return b.Max.Y - b.Min.Y }

// Centre returns the middle of the box.
func (b Box) Centre() Point { return Point{(b.Min.X + b.Max.X) / 2, (b.Min.Y + b.Max.Y) / 2} }

// Union returns the smallest box around both.
func (b Box) Union(c Box) Box {
	return Box{
		Point{min(b.Min.X, c.Min.X), min(b.Min.Y, c.Min.Y)},
		Point{max(b.Max.X, c.Max.X), max(b.Max.Y, c.Max.Y)},
	}
}

// Grown returns the box with every side moved out by d.
func (b Box) Grown(d float64) Box { return Box{b.Min.Plus(-d, -d), b.Max.Plus(d, d)} }

// quad returns the corners of the box.
func (b Box) quad() Quad {
	return Quad{b.Min, {b.Max.X, b.Min.Y}, b.Max, {b.Min.X, b.Max.Y}}
}

func boxOf(points ...Point) Box {
	b := emptyBox
	for _, p := range points {
		b = b.Union(Box{p, p})
	}
	return b
}

func boundsOf(items []Item) Box {
	b := emptyBox
	for _, it := range items {
		b = b.Union(it.bounds())
	}
	return b
}

func (l Line) bounds() Box     { return boxOf(l.From, l.To) }
func (l Polyline) bounds() Box { return boxOf(l.Points...) }
func (p Polygon) bounds() Box  { return boxOf(p.Points...) }
func (g Group) bounds() Box    { return boundsOf(g.Items) }

func (c Circle) bounds() Box {
	return Box{c.Centre.Plus(-c.Radius, -c.Radius), c.Centre.Plus(c.Radius, c.Radius)}
}

func (a Arc) bounds() Box {
	end := a.sweepEnd()
	b := boxOf(a.at(a.Start), a.at(end))
	for q := math.Ceil(a.Start/90) * 90; q < end; q += 90 {
		b = b.Union(boxOf(a.at(q)))
	}
	return b
}

// sweepEnd returns End as an angle not less than Start and less than a full turn beyond it.
func (a Arc) sweepEnd() float64 {
	sweep := math.Mod(a.End-a.Start, 360)
	if sweep < 0 {
		sweep += 360
	}
	return a.Start + sweep
}

// Sweep returns the angle the arc covers, at least 0 and less than 360 degrees.
func (a Arc) Sweep() float64 { return a.sweepEnd() - a.Start }

// at returns the point of the arc's circle at the given angle in degrees.
func (a Arc) at(degrees float64) Point { return polar(a.Centre, a.Radius, degrees) }

// Ends returns the first and the last point of the arc.
func (a Arc) Ends() (first, last Point) { return a.at(a.Start), a.at(a.sweepEnd()) }

// polar returns the point at distance r from c in the direction of the angle, in degrees from the x
// axis. Right angles are exact.
func polar(c Point, r, degrees float64) Point {
	sin, cos := sincos(degrees)
	return Point{c.X + r*cos, c.Y + r*sin}
}

// sincos returns sine and cosine of an angle in degrees, exact at right angles so that upright and
// turned text lines up with upright lines.
func sincos(degrees float64) (sin, cos float64) {
	switch math.Mod(math.Mod(degrees, 360)+360, 360) {
	case 0:
		return 0, 1
	case 90:
		return 1, 0
	case 180:
		return 0, -1
	case 270:
		return -1, 0
	}
	return math.Sincos(degrees * math.Pi / 180)
}

// turned returns p moved by along and across in axes turned by the angle in degrees.
func turned(p Point, along, across, degrees float64) Point {
	sin, cos := sincos(degrees)
	return Point{p.X + along*cos - across*sin, p.Y + along*sin + across*cos}
}

// Quad is a rectangle in any direction, its corners in order.
type Quad [4]Point

// Bounds returns the smallest upright box around the quad.
func (q Quad) Bounds() Box { return boxOf(q[:]...) }

// Overlaps reports whether the two rectangles share more than touch millimetres in every direction.
// It looks for an axis, parallel to a side of either, on which their shadows do not meet.
func (q Quad) Overlaps(r Quad, touch float64) bool {
	for _, axis := range [4]Point{q.side(0), q.side(1), r.side(0), r.side(1)} {
		qLow, qHigh := shadow(q[:], axis)
		rLow, rHigh := shadow(r[:], axis)
		if min(qHigh, rHigh)-max(qLow, rLow) <= touch {
			return false
		}
	}
	return true
}

// Crosses reports whether the line from a to b meets the inside of the rectangle.
func (q Quad) Crosses(a, b Point) bool {
	along := unit(Point{b.X - a.X, b.Y - a.Y})
	for _, axis := range [3]Point{q.side(0), q.side(1), {-along.Y, along.X}} {
		qLow, qHigh := shadow(q[:], axis)
		low, high := shadow([]Point{a, b}, axis)
		if min(qHigh, high)-max(qLow, low) < 0 || (qHigh <= low) || (high <= qLow) {
			return false
		}
	}
	return true
}

// near reports whether the upright box around a line meets the box: a quick test that most lines fail.
func (b Box) near(p, q Point) bool {
	return min(p.X, q.X) <= b.Max.X && max(p.X, q.X) >= b.Min.X &&
		min(p.Y, q.Y) <= b.Max.Y && max(p.Y, q.Y) >= b.Min.Y
}

// side returns the direction of side i as a unit vector.
func (q Quad) side(i int) Point {
	return unit(Point{q[i+1].X - q[i].X, q[i+1].Y - q[i].Y})
}

// unit returns v with length 1, or the x axis for a vector without length.
func unit(v Point) Point {
	l := math.Hypot(v.X, v.Y)
	if l == 0 {
		return Point{1, 0}
	}
	return Point{v.X / l, v.Y / l}
}

// shadow returns the range that the points cover along an axis.
func shadow(points []Point, axis Point) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for _, p := range points {
		d := p.X*axis.X + p.Y*axis.Y
		low, high = min(low, d), max(high, d)
	}
	return low, high
}

// touchAllowed is how far two text boxes may reach into each other before they count as overlapping:
// less than any visible ink, more than rounding.
const touchAllowed = 0.01

// TextClashes returns the pairs of texts in the scene whose boxes overlap. A drawing fit to print has
// none.
func (s Scene) TextClashes() [][2]Text {
	var out [][2]Text
	texts := s.Texts()
	for i, t := range texts {
		for _, u := range texts[i+1:] {
			if t.Text != "" && u.Text != "" && t.Quad().Overlaps(u.Quad(), touchAllowed) {
				out = append(out, [2]Text{t, u})
			}
		}
	}
	return out
}
