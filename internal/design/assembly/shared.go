package assembly

import (
	"math"

	"longgrain/internal/ground/geom"
	"longgrain/internal/ground/unit"
)

// sharedStep is what the rectangle of two sides at an angle is rounded to, inward: it comes out of sines, and parts that are
// mirror images must get equal ones.
const sharedStep = unit.Micrometre

// square is the cosine above which two directions of sides that meet count as parallel: a thousandth of a degree, which a
// maker cannot see, with room for the noise of sines.
const square = 1 - 1.5e-10

// shared returns the rectangle in which side s of p and side t of q lie on each other, in the u and v of both. The sides
// lie in one plane and look at each other. Between sides at an angle it is a rectangle inside what they share, which is a
// parallelogram where a cut is compound.
func shared(p Part, s Side, q Part, t Side) (onP, onQ Rect, ok bool) {
	if !p.Angled() && !q.Angled() {
		if onP, ok = overlap(p, s, q, t); !ok {
			return onP, onQ, false
		}
		onQ, _ = overlap(q, t, p, s)
		return onP, onQ, true
	}
	f, g := p.worldFrame(s), q.worldFrame(t)
	turned := math.Abs(f.U.Dot(g.V)) > square
	if !turned && math.Abs(f.U.Dot(g.U)) < square {
		return Rect{}, Rect{}, false
	}
	ring := flat(f, p.Ring(s))
	for _, e := range edges(flat(f, q.Ring(t))) {
		ring = e.keep(ring)
	}
	u0, u1, v0, v1, ok := inscribed(ring)
	if !ok {
		return Rect{}, Rect{}, false
	}
	in := func(x float64) unit.Length { return unit.MM(x).RoundTo(sharedStep) }
	onP = Rect{in(u0), in(u1), in(v0), in(v1)}
	a := g.of(f.at(u0, v0, 0))
	b := g.of(f.at(u1, v1, 0))
	onQ = Rect{in(min(a[0], b[0])), in(max(a[0], b[0])), in(min(a[1], b[1])), in(max(a[1], b[1]))}
	least := unit.MM(geom.Touch)
	return onP, onQ, onP.SizeU() > least && onP.SizeV() > least
}

// worldFrame returns the frame of a side in the world.
func (p Part) worldFrame(s Side) Frame {
	f := p.Frame(s)
	f.Origin, f.U, f.V, f.Out = p.Pose.Out(f.Origin), p.Pose.Turn(f.U), p.Pose.Turn(f.V), p.Pose.Turn(f.Out)
	return f
}

// of returns the u and v of a point.
func (f Frame) of(at geom.Vec) [2]float64 {
	d := at.Sub(f.Origin)
	return [2]float64{d.Dot(f.U), d.Dot(f.V)}
}

func flat(f Frame, ring []geom.Vec) [][2]float64 {
	out := make([][2]float64, len(ring))
	for i, at := range ring {
		out[i] = f.of(at)
	}
	return out
}

// edge is the line along one edge of a ring: the ring lies where n·x is at most d.
type edge struct {
	n [2]float64
	d float64
}

// edges returns the lines along a convex ring.
func edges(ring [][2]float64) []edge {
	var middle [2]float64
	for _, at := range ring {
		middle[0] += at[0] / float64(len(ring))
		middle[1] += at[1] / float64(len(ring))
	}
	var out []edge
	for i, a := range ring {
		b := ring[(i+1)%len(ring)]
		l := math.Hypot(b[0]-a[0], b[1]-a[1])
		if l == 0 {
			continue
		}
		n := [2]float64{(b[1] - a[1]) / l, -(b[0] - a[0]) / l}
		e := edge{n, n[0]*a[0] + n[1]*a[1]}
		if n[0]*middle[0]+n[1]*middle[1] > e.d {
			e = edge{[2]float64{-n[0], -n[1]}, -e.d}
		}
		out = append(out, e)
	}
	return out
}

// keep returns the part of a convex ring inside an edge.
func (e edge) keep(ring [][2]float64) [][2]float64 {
	var out [][2]float64
	for i, a := range ring {
		b := ring[(i+1)%len(ring)]
		da, db := e.n[0]*a[0]+e.n[1]*a[1]-e.d, e.n[0]*b[0]+e.n[1]*b[1]-e.d
		if da <= 0 {
			out = append(out, a)
		}
		if (da < 0 && db > 0) || (da > 0 && db < 0) {
			k := da / (da - db)
			out = append(out, [2]float64{a[0] + k*(b[0]-a[0]), a[1] + k*(b[1]-a[1])})
		}
	}
	return out
}

// inscribed returns the larger of two upright rectangles inside a convex ring: the widest of full height, and the highest of
// full width.
func inscribed(ring [][2]float64) (u0, u1, v0, v1 float64, ok bool) {
	if len(ring) < 3 {
		return 0, 0, 0, 0, false
	}
	best := 0.0
	for axis := range 2 {
		lo, hi := math.Inf(1), math.Inf(-1)
		for _, at := range ring {
			lo, hi = min(lo, at[1-axis]), max(hi, at[1-axis])
		}
		from, to := math.Inf(-1), math.Inf(1)
		for _, e := range edges(ring) {
			if math.Abs(e.n[axis]) < 1e-9 {
				continue
			}
			for _, across := range [2]float64{lo, hi} {
				x := (e.d - e.n[1-axis]*across) / e.n[axis]
				if e.n[axis] > 0 {
					to = min(to, x)
				} else {
					from = max(from, x)
				}
			}
		}
		if size := (to - from) * (hi - lo); to > from && size > best {
			best = size
			if axis == 0 {
				u0, u1, v0, v1 = from, to, lo, hi
			} else {
				u0, u1, v0, v1 = lo, hi, from, to
			}
		}
	}
	return u0, u1, v0, v1, best > 0
}
