package assembly

import (
	"math"

	"longgrain/internal/ground/geom"
	"longgrain/internal/ground/solid"
)

// Body returns the part as an exact solid in its own frame, mm: its box with everything that is cut into it and left
// standing on it. Features that cannot be exact, such as bores that meet, are named in Left and not cut. The error says that
// nothing, or nothing that hangs together, is left of the part.
func (p Part) Body() (solid.Body, error) {
	s := solid.Stock{Add: []solid.Block{{Hi: geom.Vec{X: p.Length.MM(), Y: p.Width.MM(), Z: p.Thickness.MM()}}}}
	for _, f := range p.Features {
		switch {
		case f.Kind == BevelCut:
			at := p.Frame(f.Side)
			s.Keep = append(s.Keep, solid.HalfSpace{At: at.Origin, Normal: at.Out})
		case f.Kind == TaperCut:
			at, normal := p.Taper(f)
			s.Keep = append(s.Keep, solid.HalfSpace{At: at, Normal: normal})
		case f.Kind == Bore || f.Rounded:
			s.Rounds = append(s.Rounds, p.round(f))
		case p.Angled() && p.askew(f.Side):
			s.Pegs = append(s.Pegs, p.peg(f))
		case f.Kind == Tenon:
			s.Add = append(s.Add, p.block(f, true))
		default:
			s.Take = append(s.Take, p.block(f, false))
		}
	}
	return solid.Build(s)
}

// Taper returns a point of the surface that a taper leaves and the direction it looks in, in the part's own frame.
func (p Part) Taper(f Feature) (at, normal geom.Vec) {
	start, end := f.U.MM(), (f.U + f.Length).MM()
	if !f.Rising {
		start, end = end, start
	}
	k := f.Side.Axis()
	// In the plane of the grain and the side, from the start on the surface to the foot of the taper.
	out := p.outward(f.Side)
	slope := geom.Axis(0).Scale(end - start).Sub(out.Scale(f.Depth.MM()))
	normal = slope.Cross(geom.Axis(0).Cross(geom.Axis(k))).Unit()
	if normal.Dot(out) < 0 {
		normal = normal.Neg()
	}
	return p.onSide(f.Side, start, 0), normal
}

// outward returns the direction that a side looks in, in the part's own frame.
func (p Part) outward(s Side) geom.Vec {
	if s.High() {
		return geom.Axis(s.Axis())
	}
	return geom.Axis(s.Axis()).Neg()
}

// onSide returns the point u, v of a side in the part's own frame, mm.
func (p Part) onSide(s Side, u, v float64) geom.Vec {
	ua, va := s.UV()
	at := geom.Axis(ua).Scale(u).Add(geom.Axis(va).Scale(v))
	if s.High() {
		at = at.Add(geom.Axis(s.Axis()).Scale(p.Size(s.Axis()).MM()))
	}
	return at
}

func (p Part) askew(s Side) bool { _, ok := p.Bevel(s); return ok }

// peg returns a rectangular feature on a side at an angle, which stands square to that side.
func (p Part) peg(f Feature) solid.Peg {
	at := p.Frame(f.Side)
	u, v := f.Length.MM()/2, f.Width.MM()/2
	out := solid.Peg{Name: string(f.Kind), Up: at.Out.Scale(f.Depth.MM())}
	if f.For != "" {
		out.Name += " for " + f.For
	}
	if f.Kind != Tenon {
		out.Up = out.Up.Neg()
	}
	for i, c := range [4][2]float64{{-u, -v}, {u, -v}, {u, v}, {-u, v}} {
		out.Foot[i] = at.at(f.U.MM()+c[0], f.V.MM()+c[1], 0)
	}
	return out
}

// block returns the box that a rectangular feature takes out of its side, or that stands on it.
func (p Part) block(f Feature, standing bool) solid.Block {
	u0, v0 := f.U.MM(), f.V.MM()
	if f.Kind != Groove && f.Kind != Rebate {
		u0, v0 = u0-f.Length.MM()/2, v0-f.Width.MM()/2
	}
	depth := p.outward(f.Side).Scale(f.Depth.MM())
	if !standing {
		depth = depth.Neg()
	}
	a := p.onSide(f.Side, u0, v0)
	b := p.onSide(f.Side, u0+f.Length.MM(), v0+f.Width.MM()).Add(depth)
	return solid.Block{Lo: geom.Vec{X: min(a.X, b.X), Y: min(a.Y, b.Y), Z: min(a.Z, b.Z)}, Hi: geom.Vec{X: max(a.X, b.X), Y: max(a.Y, b.Y), Z: max(a.Z, b.Z)}}
}

// round returns a bore, or a mortise, slot or tenon with half-round ends.
func (p Part) round(f Feature) solid.Round {
	at := p.Frame(f.Side)
	out := at.Out
	r := solid.Round{Name: string(f.Kind), At: at.at(f.U.MM(), f.V.MM(), 0), Into: out.Neg(), Depth: f.Depth.MM(), Peg: f.Kind == Tenon}
	if f.For != "" {
		r.Name += " for " + f.For
	}
	if f.Kind == Bore {
		r.Radius = f.Diameter.MM() / 2
		if f.Tilt != 0 {
			sin, cos := math.Sincos(float64(f.Tilt) * math.Pi / 180)
			r.Into = out.Scale(-cos).Add(at.U.Scale(sin))
		}
		return r
	}
	if r.Peg {
		r.Into = out
	}
	long, wide, axis := f.Length.MM(), f.Width.MM(), at.U
	if wide > long {
		long, wide, axis = wide, long, at.V
	}
	r.Radius, r.Half = wide/2, axis.Scale((long-wide)/2)
	return r
}
