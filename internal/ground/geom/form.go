package geom

import "math"

// Form is a convex body with flat sides: its corners, and the directions of its sides and of its edges.
type Form struct {
	Corners []Vec
	Normals []Vec
	Edges   []Vec
}

// Overlap returns how deep two bodies overlap, in mm, measured along the direction in which they are most easily parted. It
// is zero or negative when they only touch or are apart.
//
// Idea: two convex bodies with flat sides are apart exactly where their shadows are, along the normal of a side of either or
// along a direction square to an edge of both.
//
// Source: separating axis theorem, closed form.
func Overlap(a, b Form) float64 {
	depth := math.Inf(1)
	try := func(axis Vec) {
		loA, hiA := a.shadow(axis)
		loB, hiB := b.shadow(axis)
		depth = math.Min(depth, math.Min(hiA-loB, hiB-loA))
	}
	for _, n := range a.Normals {
		try(n)
	}
	for _, n := range b.Normals {
		try(n)
	}
	for _, u := range a.Edges {
		for _, v := range b.Edges {
			if c := u.Cross(v); c.Length() > 1e-9 {
				try(c.Unit())
			}
		}
	}
	return depth
}

// shadow returns the extent of a body along a unit direction.
func (f Form) shadow(axis Vec) (lo, hi float64) {
	lo, hi = math.Inf(1), math.Inf(-1)
	for _, c := range f.Corners {
		x := c.Dot(axis)
		lo, hi = math.Min(lo, x), math.Max(hi, x)
	}
	return lo, hi
}

// Meet returns the common point of three planes, false when they have none or many.
func Meet(a, b, c Plane) (Vec, bool) { return corner(a, b, c) }

// Turned returns the direction turned about a unit axis by an angle in radians, anticlockwise as seen against the axis.
//
// Source: rotation formula of Rodrigues, closed form.
func (a Vec) Turned(axis Vec, angle float64) Vec {
	s, c := math.Sincos(angle)
	return a.Scale(c).Add(axis.Cross(a).Scale(s)).Add(axis.Scale(axis.Dot(a) * (1 - c)))
}

// Turned returns the pose turned about an axis through a point of the world.
func (p Pose) Turned(about, axis Vec, angle float64) Pose {
	out := Pose{Origin: about.Add(p.Origin.Sub(about).Turned(axis, angle))}
	for k, a := range p.Axes {
		out.Axes[k] = a.Turned(axis, angle)
	}
	return out
}
