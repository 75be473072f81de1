package assembly

import (
	"math"

	"longgrain/internal/ground/geom"
	"longgrain/internal/ground/unit"
)

// Bevels come first among the features of a part, before anything that is measured on the side that they leave.

// Angled tells whether any side of the part is cut at an angle.
func (p Part) Angled() bool { return len(p.Features) > 0 && p.Features[0].Kind == BevelCut }

// Bevel returns how a side is cut at an angle, false for a square side.
func (p Part) Bevel(s Side) (Feature, bool) {
	for _, f := range p.Features {
		if f.Kind != BevelCut {
			break
		}
		if f.Side == s {
			return f, true
		}
	}
	return Feature{}, false
}

// Frame is how positions on a side are measured, in the part's own frame, mm. On a side that is cut at an angle u runs
// along the line that its lower neighbouring side leaves on it, and v square to that: on an end u is measured along the
// face, in the slope. Where the outline is skewed, u counts from the middle of its low line, so that mirrored parts are alike.
type Frame struct {
	Origin, U, V, Out geom.Vec
	SizeU, SizeV      float64 // along u and v
	Skew              float64 // how far the side's outline moves along u for each step along v
}

// Frame returns the frame of a side.
//
// The surface of a side at an angle lies tan(OffU)·a + tan(OffV)·b deeper than its lowest corner at the distances a and b
// along the box. Its frame follows from the two directions in which that surface runs.
//
// Source: geometry, closed form.
func (p Part) Frame(s Side) Frame {
	ua, va := s.UV()
	out := p.outward(s)
	f := Frame{Origin: p.onSide(s, 0, 0), U: geom.Axis(ua), V: geom.Axis(va), Out: out, SizeU: p.Size(ua).MM(), SizeV: p.Size(va).MM()}
	b, ok := p.Bevel(s)
	if !ok {
		return f
	}
	a, c := b.slopes()
	along, across := f.U.Sub(out.Scale(a)), f.V.Sub(out.Scale(c))
	f.Origin = f.Origin.Sub(out.Scale(b.deepest(a, c, f.SizeU, f.SizeV)))
	stretch := along.Length()
	f.U = along.Unit()
	lean := across.Dot(f.U)
	rest := across.Sub(f.U.Scale(lean))
	f.SizeU, f.SizeV = f.SizeU*stretch, f.SizeV*rest.Length()
	f.Skew = lean / rest.Length()
	f.V = rest.Unit()
	f.Origin = f.Origin.Add(f.U.Scale(f.Skew * f.SizeV / 2))
	if f.Out = f.U.Cross(f.V); f.Out.Dot(out) < 0 {
		f.Out = f.Out.Neg()
	}
	return f
}

// slopes returns how much deeper the surface of a bevel lies for each millimetre along u and v of the box.
func (f Feature) slopes() (u, v float64) {
	return math.Tan(float64(f.OffU) * math.Pi / 180), math.Tan(float64(f.OffV) * math.Pi / 180)
}

// deepest returns how deep the surface lies at u = v = 0, so that its highest corner stays in the side of the box.
func (Feature) deepest(a, c, sizeU, sizeV float64) float64 {
	return max(0, -a*sizeU) + max(0, -c*sizeV)
}

// at returns a point of a side in the part's own frame, depth below it.
func (f Frame) at(u, v, depth float64) geom.Vec {
	return f.Origin.Add(f.U.Scale(u)).Add(f.V.Scale(v)).Sub(f.Out.Scale(depth))
}

// Under returns the box below a rectangle on a side, from its low corner u, v, down to a depth; above it where depth is
// negative. Its axes are those of the side.
func (p Part) Under(s Side, u, v, sizeU, sizeV, depth unit.Length) geom.Box {
	f := p.worldFrame(s)
	b := geom.Box{Pose: geom.Pose{Origin: f.at(u.MM(), v.MM(), 0), Axes: [3]geom.Vec{f.U, f.V, f.U.Cross(f.V)}},
		Size: geom.Vec{X: sizeU.MM(), Y: sizeV.MM(), Z: depth.Abs().MM()}}
	if out := b.Pose.Axes[2].Dot(f.Out) > 0; out == (depth > 0) {
		b.Pose.Origin = b.Pose.Origin.Sub(b.Pose.Axes[2].Scale(b.Size.Z))
	}
	return b
}

// Into returns the direction, in the world, in which a bore goes into its side: square to it, or leant along its u.
func (p Part) Into(f Feature) geom.Vec {
	ua, _ := f.Side.UV()
	u := p.Pose.Axes[ua]
	if _, angled := p.Bevel(f.Side); angled {
		u = p.Pose.Turn(p.Frame(f.Side).U)
	}
	sin, cos := math.Sincos(float64(f.Tilt) * math.Pi / 180)
	return p.Outward(f.Side).Scale(-cos).Add(u.Scale(sin))
}

// Facing returns a point on a side of the part and the direction that it looks in, in the world, and of a square side or a
// side at an angle alike the side of the box: what positions along the part are measured from.
func (p Part) Facing(s Side) (at, out geom.Vec) {
	return p.Pose.Out(p.onSide(s, 0, 0)), p.Pose.Turn(p.outward(s))
}

// Planes returns the six sides of the part as they are cut, in the world, without tapers.
func (p Part) Planes() []geom.Plane {
	out := p.Box().Planes()
	if !p.Angled() {
		return out
	}
	for _, s := range Sides {
		if _, ok := p.Bevel(s); ok {
			f := p.Frame(s)
			n := p.Pose.Turn(f.Out)
			out[s] = geom.Plane{Out: n, At: n.Dot(p.Pose.Out(f.Origin))}
		}
	}
	return out
}

// Corners returns the eight corners of the part in the world, in the order of geom.Box, before tapers and joints.
func (p Part) Corners() [8]geom.Vec {
	if !p.Angled() {
		return p.Box().Corners()
	}
	var out [8]geom.Vec
	planes := p.Planes()
	for i := range out {
		at, ok := geom.Meet(planes[EndLow+Side(i&1)], planes[EdgeLow+Side(i>>1&1)], planes[FaceLow+Side(i>>2&1)])
		if !ok {
			panic("assembly: sides of a part do not meet in a corner")
		}
		out[i] = at
	}
	return out
}

// ring returns the corners of a side in the world, in order round it.
func (p Part) ring(s Side) [4]geom.Vec {
	c := p.Corners()
	rings := [6][4]int{{0, 4, 6, 2}, {1, 3, 7, 5}, {0, 1, 5, 4}, {2, 6, 7, 3}, {0, 2, 3, 1}, {4, 5, 7, 6}}
	var out [4]geom.Vec
	for i, k := range rings[s] {
		out[i] = c[k]
	}
	return out
}

// Ring returns the corners of a side in the world, in order round it as seen from outside, before tapers and joints.
func (p Part) Ring(s Side) []geom.Vec {
	r := p.ring(s)
	return r[:]
}

// Solid returns the part as a convex body, before tapers and joints.
func (p Part) Solid() geom.Solid {
	if !p.Angled() {
		return p.Box()
	}
	c := p.Corners()
	return geom.Hull(c[:])
}

// Bounds returns the lowest and highest corner of the upright box around the part, before tapers and joints.
func (p Part) Bounds() (lo, hi geom.Vec) {
	if !p.Angled() {
		return p.Box().Bounds()
	}
	return geom.Around(p.Solid())
}

// Volume returns the volume of the part in mm³ and its centre of mass in the world, before tapers and joints.
//
//	V = Σ a·(b×c)/6,  centre = Σ V_i (a+b+c)/4 / V
//
// over the triangles a, b, c of the six sides, measured from the first corner. Source: geometry, closed form.
func (p Part) Volume() (volume float64, centre geom.Vec) {
	if !p.Angled() {
		b := p.Box()
		return b.Size.X * b.Size.Y * b.Size.Z, b.Centre()
	}
	from := p.Corners()[0]
	var sum geom.Vec
	for _, s := range Sides {
		r := p.ring(s)
		for k := 1; k < 3; k++ {
			a, b, c := r[0].Sub(from), r[k].Sub(from), r[k+1].Sub(from)
			v := a.Dot(b.Cross(c)) / 6
			volume += v
			sum = sum.Add(a.Add(b).Add(c).Scale(v / 4))
		}
	}
	return volume, from.Add(sum.Scale(1 / volume))
}

// Between returns where the middle line of the part begins and ends along the grain, mm from the low end of its box: at
// the middles of its two ends.
func (p Part) Between() (from, to float64) {
	middle := func(s Side) float64 {
		b, ok := p.Bevel(s)
		if !ok {
			return 0
		}
		a, c := b.slopes()
		w, t := p.Width.MM(), p.Thickness.MM()
		return b.deepest(a, c, w, t) + a*w/2 + c*t/2
	}
	return middle(EndLow), p.Length.MM() - middle(EndHigh)
}

// penetration returns how deep two parts run into each other, mm, like geom.Penetration.
func penetration(p, q Part) float64 {
	if !p.Angled() && !q.Angled() {
		return geom.Penetration(p.Box(), q.Box())
	}
	return geom.Overlap(p.form(), q.form())
}

// form returns the part as corners, with the directions of its sides and edges.
func (p Part) form() geom.Form {
	c := p.Corners()
	f := geom.Form{Corners: c[:]}
	for _, plane := range p.Planes() {
		f.Normals = append(f.Normals, plane.Out)
	}
	for i := range c {
		for bit := 1; bit < 8; bit <<= 1 {
			if i&bit == 0 {
				f.Edges = append(f.Edges, c[i|bit].Sub(c[i]).Unit())
			}
		}
	}
	return f
}
