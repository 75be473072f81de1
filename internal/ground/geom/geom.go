// Package geom holds points, directions, poses, boxes and bores in space, and how far apart they are.
//
// Coordinates are float64 millimetres. The world stands on the floor: X runs to the right along the
// front of a piece, Y to the back, Z up. A solid is a box or a cylinder in any pose. The package
// knows no wood, and it does not do general solid modelling.
package geom

import "math"

// Vec is a point or a direction, in millimetres.
type Vec struct {
	X float64 `json:"x"`
	Y float64 `json:"y"`
	Z float64 `json:"z"`
}

// Touch is the distance below which two surfaces count as touching, mm. It is far above float noise
// and far below anything a maker can measure.
const Touch = 1e-3

func (a Vec) Add(b Vec) Vec          { return Vec{a.X + b.X, a.Y + b.Y, a.Z + b.Z} }
func (a Vec) Sub(b Vec) Vec          { return Vec{a.X - b.X, a.Y - b.Y, a.Z - b.Z} }
func (a Vec) Scale(k float64) Vec    { return Vec{a.X * k, a.Y * k, a.Z * k} }
func (a Vec) Dot(b Vec) float64      { return a.X*b.X + a.Y*b.Y + a.Z*b.Z }
func (a Vec) Length() float64        { return math.Sqrt(a.Dot(a)) }
func (a Vec) Distance(b Vec) float64 { return a.Sub(b).Length() }
func (a Vec) Neg() Vec               { return Vec{-a.X, -a.Y, -a.Z} }
func (a Vec) Cross(b Vec) Vec {
	return Vec{a.Y*b.Z - a.Z*b.Y, a.Z*b.X - a.X*b.Z, a.X*b.Y - a.Y*b.X}
}

// Unit returns the direction of a with length one. It panics when a has no length.
func (a Vec) Unit() Vec {
	l := a.Length()
	if l == 0 || math.IsNaN(l) {
		panic("geom: a vector without length has no direction")
	}
	return a.Scale(1 / l)
}

// Along returns the component 0, 1 or 2 of a.
func (a Vec) Along(axis int) float64 {
	switch axis {
	case 0:
		return a.X
	case 1:
		return a.Y
	case 2:
		return a.Z
	}
	panic("geom: an axis is 0, 1 or 2")
}

// Axis returns the unit vector of world axis 0, 1 or 2.
func Axis(axis int) Vec {
	return [3]Vec{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}[axis]
}

// Parallel tells whether two unit directions are parallel or opposite, within a hundredth of a degree.
func Parallel(a, b Vec) bool { return math.Abs(math.Abs(a.Dot(b))-1) < 1.6e-8 }

// Pose places a local frame in the world: a local point p lies at Origin + p.X·Axes[0] + p.Y·Axes[1]
// + p.Z·Axes[2]. The axes are square to each other, of length one and right-handed.
type Pose struct {
	Origin Vec    `json:"origin"`
	Axes   [3]Vec `json:"axes"`
}

// Upright is the pose of the world itself.
var Upright = Pose{Axes: [3]Vec{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}}

// Out takes a local point to the world.
func (p Pose) Out(v Vec) Vec { return p.Origin.Add(p.Turn(v)) }

// Turn takes a local direction to the world.
func (p Pose) Turn(v Vec) Vec {
	return p.Axes[0].Scale(v.X).Add(p.Axes[1].Scale(v.Y)).Add(p.Axes[2].Scale(v.Z))
}

// In takes a world point to the local frame.
func (p Pose) In(v Vec) Vec { return p.TurnIn(v.Sub(p.Origin)) }

// TurnIn takes a world direction to the local frame.
func (p Pose) TurnIn(v Vec) Vec {
	return Vec{v.Dot(p.Axes[0]), v.Dot(p.Axes[1]), v.Dot(p.Axes[2])}
}

// Box is a box in space: in its local frame it fills 0..Size.
type Box struct {
	Pose Pose `json:"pose"`
	Size Vec  `json:"size"`
}

// Centre returns the middle of the box in the world.
func (b Box) Centre() Vec { return b.Pose.Out(b.Size.Scale(0.5)) }

// Corners returns the eight corners in the world; corner i has local x from bit 0, y bit 1, z bit 2.
func (b Box) Corners() [8]Vec {
	var out [8]Vec
	for i := range out {
		out[i] = b.Pose.Out(Vec{float64(i&1) * b.Size.X, float64(i>>1&1) * b.Size.Y, float64(i>>2&1) * b.Size.Z})
	}
	return out
}

// Bounds returns the smallest axis-parallel box around b as its lowest and highest corner.
func (b Box) Bounds() (lo, hi Vec) {
	c := b.Corners()
	lo, hi = c[0], c[0]
	for _, p := range c[1:] {
		lo = Vec{min(lo.X, p.X), min(lo.Y, p.Y), min(lo.Z, p.Z)}
		hi = Vec{max(hi.X, p.X), max(hi.Y, p.Y), max(hi.Z, p.Z)}
	}
	return lo, hi
}

// Penetration returns how deep two boxes overlap, in mm, measured along the direction in which they
// are most easily parted (separating axis test over face normals and edge pairs). It is zero or
// negative when they only touch or are apart.
func Penetration(a, b Box) float64 {
	axes := make([]Vec, 0, 15)
	axes = append(axes, a.Pose.Axes[:]...)
	axes = append(axes, b.Pose.Axes[:]...)
	for _, u := range a.Pose.Axes {
		for _, v := range b.Pose.Axes {
			if c := u.Cross(v); c.Length() > 1e-9 {
				axes = append(axes, c.Unit())
			}
		}
	}
	between := b.Centre().Sub(a.Centre())
	depth := math.Inf(1)
	for _, axis := range axes {
		gap := math.Abs(between.Dot(axis)) - a.halfWidth(axis) - b.halfWidth(axis)
		depth = math.Min(depth, -gap)
	}
	return depth
}

// halfWidth returns half the extent of the box along a unit direction.
func (b Box) halfWidth(axis Vec) float64 {
	return (math.Abs(b.Pose.Axes[0].Dot(axis))*b.Size.X +
		math.Abs(b.Pose.Axes[1].Dot(axis))*b.Size.Y +
		math.Abs(b.Pose.Axes[2].Dot(axis))*b.Size.Z) / 2
}

// Bore is a round hole or pin: a cylinder from From to To.
type Bore struct {
	From     Vec     `json:"from"`
	To       Vec     `json:"to"`
	Diameter float64 `json:"diameter"`
}

// Wall returns the wood left between two bores, mm: the distance of their centre lines less both
// radii. It is negative when they meet. The ends count as round, which is on the safe side.
func Wall(a, b Bore) float64 {
	return SegmentDistance(a.From, a.To, b.From, b.To) - (a.Diameter+b.Diameter)/2
}

// SegmentDistance returns the least distance of two line segments, mm. A segment of no length is a point.
//
// Source: closest points of two segments, standard clamped solution of the 2 by 2 normal equations.
func SegmentDistance(p1, q1, p2, q2 Vec) float64 {
	d1, d2, r := q1.Sub(p1), q2.Sub(p2), p1.Sub(p2)
	a, e, f := d1.Dot(d1), d2.Dot(d2), d2.Dot(r)
	clamp := func(x float64) float64 { return math.Max(0, math.Min(1, x)) }
	var s, t float64
	switch {
	case a == 0 && e == 0:
	case a == 0:
		t = clamp(f / e)
	default:
		c := d1.Dot(r)
		if e == 0 {
			s = clamp(-c / a)
			break
		}
		b := d1.Dot(d2)
		if den := a*e - b*b; den > 1e-12*a*e {
			s = clamp((b*f - c*e) / den)
		}
		t = (b*s + f) / e
		if t < 0 {
			t, s = 0, clamp(-c/a)
		} else if t > 1 {
			t, s = 1, clamp((b-c)/a)
		}
	}
	return p1.Add(d1.Scale(s)).Distance(p2.Add(d2.Scale(t)))
}
