package fit

import "longgrain/internal/ground/geom"

// solid is a convex hole. nearest returns the point of it that lies nearest to a point.
type solid interface {
	nearest(p geom.Vec) geom.Vec
	middle() geom.Vec
}

// cylinder is a bore with flat ends, from mouth to bottom.
type cylinder struct {
	from, to geom.Vec
	radius   float64
}

func (c cylinder) middle() geom.Vec { return c.from.Add(c.to).Scale(0.5) }

func (c cylinder) nearest(p geom.Vec) geom.Vec {
	length := c.to.Distance(c.from)
	if length == 0 {
		return c.from
	}
	axis := c.to.Sub(c.from).Scale(1 / length)
	along := p.Sub(c.from).Dot(axis)
	onAxis := c.from.Add(axis.Scale(min(max(along, 0), length)))
	out := p.Sub(c.from).Sub(axis.Scale(along))
	if r := out.Length(); r > c.radius {
		out = out.Scale(c.radius / r)
	}
	return onAxis.Add(out)
}

// boxSolid is a mortise or slot.
type boxSolid struct{ geom.Box }

func (b boxSolid) middle() geom.Vec { return b.Centre() }

func (b boxSolid) nearest(p geom.Vec) geom.Vec {
	v := b.Pose.In(p)
	return b.Pose.Out(geom.Vec{X: min(max(v.X, 0), b.Size.X), Y: min(max(v.Y, 0), b.Size.Y), Z: min(max(v.Z, 0), b.Size.Z)})
}

// meets is the distance below which two holes count as meeting, mm; projections onto holes that just touch come no nearer
// than this in projections.
const (
	meets       = 1e-3
	projections = 2000
)

// distance returns the least distance of two convex solids, mm, zero where they meet. A point is taken to the nearest of one
// and of the other in turn; for convex bodies this comes to the nearest pair.
//
// Source: alternating projections, Cheney and Goldstein 1959, from memory.
func distance(a, b solid) float64 {
	p := a.nearest(b.middle())
	q := b.nearest(p)
	for range projections {
		next := a.nearest(q)
		moved := next.Distance(p)
		p = next
		q = b.nearest(p)
		if moved < 1e-9 {
			break
		}
	}
	return p.Distance(q)
}
