package geom

import "math"

// Solid is a convex body that knows its outermost point in a direction. That is all that a distance needs.
type Solid interface {
	// Support returns a point of the body that lies furthest in a direction of any length.
	Support(d Vec) Vec
	// Middle returns a point inside the body.
	Middle() Vec
}

// Support returns the corner of the box that lies furthest in a direction.
func (b Box) Support(d Vec) Vec {
	out := b.Pose.Origin
	for axis, u := range b.Pose.Axes {
		if u.Dot(d) > 0 {
			out = out.Add(u.Scale(b.Size.Along(axis)))
		}
	}
	return out
}

// Middle returns the centre of the box.
func (b Box) Middle() Vec { return b.Centre() }

// Grown returns the box with every side moved out by k mm, or in where k is negative. A side never passes the middle.
func (b Box) Grown(k float64) Box {
	at := func(size float64) (from, to float64) {
		if from, to = -k, size+k; from > to {
			from, to = size/2, size/2
		}
		return from, to
	}
	x0, x1 := at(b.Size.X)
	y0, y1 := at(b.Size.Y)
	z0, z1 := at(b.Size.Z)
	return Box{Pose{b.Pose.Out(Vec{x0, y0, z0}), b.Pose.Axes}, Vec{x1 - x0, y1 - y0, z1 - z0}}
}

// Support returns the point of the cylinder, with flat ends, that lies furthest in a direction.
func (b Bore) Support(d Vec) Vec {
	return Oblong{From: b.From, To: b.From, Deep: b.To.Sub(b.From), Diameter: b.Diameter}.Support(d)
}

// Middle returns the centre of the cylinder.
func (b Bore) Middle() Vec { return b.From.Add(b.To).Scale(0.5) }

// Oblong is a hole with half-round ends, as a router bit or a row of bores leaves it: the drill goes in along Deep at From
// and moves to To. A bore is an oblong whose From and To are the same.
type Oblong struct {
	From, To Vec // middles of the drill at the mouth
	Deep     Vec // from the mouth to the bottom, square to To - From
	Diameter float64
}

// Support returns the point of the hole that lies furthest in a direction.
func (o Oblong) Support(d Vec) Vec {
	out := o.From
	if o.To.Sub(o.From).Dot(d) > 0 {
		out = o.To
	}
	along := o.Deep.Dot(d)
	if along > 0 {
		out = out.Add(o.Deep)
	}
	across := d
	if l := o.Deep.Dot(o.Deep); l > 0 {
		across = d.Sub(o.Deep.Scale(along / l))
	}
	if l := across.Length(); l > 1e-12*d.Length() {
		out = out.Add(across.Scale(o.Diameter / 2 / l))
	}
	return out
}

// Middle returns the centre of the hole.
func (o Oblong) Middle() Vec { return o.From.Add(o.To).Add(o.Deep).Scale(0.5) }

// Hull is the convex body around some points.
type Hull []Vec

// Support returns the point of the hull that lies furthest in a direction.
func (h Hull) Support(d Vec) Vec {
	best, most := h[0], math.Inf(-1)
	for _, p := range h {
		if x := p.Dot(d); x > most {
			best, most = p, x
		}
	}
	return best
}

// Middle returns the mean of the points.
func (h Hull) Middle() Vec {
	var sum Vec
	for _, p := range h {
		sum = sum.Add(p)
	}
	return sum.Scale(1 / float64(len(h)))
}

// Swept is all the space that a body passes when it is moved by a vector.
type Swept struct {
	Solid Solid
	By    Vec
}

// Support returns the point of the space that lies furthest in a direction.
func (s Swept) Support(d Vec) Vec {
	if p := s.Solid.Support(d); s.By.Dot(d) <= 0 {
		return p
	} else {
		return p.Add(s.By)
	}
}

// Middle returns a point half way.
func (s Swept) Middle() Vec { return s.Solid.Middle().Add(s.By.Scale(0.5)) }

// Moved is a body in another place.
type Moved struct {
	Solid Solid
	By    Vec
}

// Support returns the point of the moved body that lies furthest in a direction.
func (m Moved) Support(d Vec) Vec { return m.Solid.Support(d).Add(m.By) }

// Middle returns the moved middle.
func (m Moved) Middle() Vec { return m.Solid.Middle().Add(m.By) }

// Plane bounds a half-space: the points p with p·Out at most At.
type Plane struct {
	Out Vec // unit direction, out of the body
	At  float64
}

// Planes returns the six sides of the box.
func (b Box) Planes() []Plane {
	out := make([]Plane, 0, 6)
	for axis, u := range b.Pose.Axes {
		low := b.Pose.Origin.Dot(u)
		out = append(out, Plane{u.Neg(), -low}, Plane{u, low + b.Size.Along(axis)})
	}
	return out
}

// Inside returns how far a body lies inside a plane, mm: the distance of its outermost point, negative when that lies
// outside.
func (p Plane) Inside(s Solid) float64 { return p.At - s.Support(p.Out).Dot(p.Out) }

// Corners returns the corners of the convex body inside all planes: the common points of three planes that lie in no
// other's outside. The body must be bounded; there are none when it is empty.
func Corners(planes []Plane) Hull {
	var out Hull
	for i := range planes {
		for j := i + 1; j < len(planes); j++ {
			for k := j + 1; k < len(planes); k++ {
				if p, ok := corner(planes[i], planes[j], planes[k]); ok && within(planes, p) && !out.has(p) {
					out = append(out, p)
				}
			}
		}
	}
	return out
}

func corner(a, b, c Plane) (Vec, bool) {
	bc, ca, ab := b.Out.Cross(c.Out), c.Out.Cross(a.Out), a.Out.Cross(b.Out)
	det := a.Out.Dot(bc)
	if math.Abs(det) < 1e-9 {
		return Vec{}, false
	}
	return bc.Scale(a.At).Add(ca.Scale(b.At)).Add(ab.Scale(c.At)).Scale(1 / det), true
}

func within(planes []Plane, p Vec) bool {
	for _, q := range planes {
		if q.Out.Dot(p) > q.At+1e-7 {
			return false
		}
	}
	return true
}

func (h Hull) has(p Vec) bool {
	for _, q := range h {
		if q.Distance(p) < 1e-7 {
			return true
		}
	}
	return false
}

// Around returns the lowest and highest corner of the upright box around a body.
func Around(s Solid) (lo, hi Vec) {
	x, y, z := Axis(0), Axis(1), Axis(2)
	lo = Vec{s.Support(x.Neg()).X, s.Support(y.Neg()).Y, s.Support(z.Neg()).Z}
	hi = Vec{s.Support(x).X, s.Support(y).Y, s.Support(z).Z}
	return lo, hi
}
