package fit

import (
	"fmt"
	"math"

	"longgrain/internal/design/assembly"
	"longgrain/internal/design/joint"
	"longgrain/internal/ground/geom"
	"longgrain/internal/ground/unit"
)

// hole is something that is hollow in a part, or the room of a screw in it.
type hole struct {
	kind       string // "bore", "mortise", "slot", "screw"
	connection string
	feature    int           // index into Part.Features, -1 for a screw
	side       assembly.Side // that it is cut from
	diameter   float64       // of a bore or screw, mm; 0 for others
	tilted     bool          // does not run along the part: slanted, or square to a side at an angle
	open       bool          // may run out of neighbouring sides
	through    bool          // is meant to come out at the far side
	loose      bool          // in a fastening that lets a top move
	solid      geom.Solid
}

// holesOf returns the holes that the features of a part make.
func holesOf(p assembly.Part, loose map[string]bool) []hole {
	var out []hole
	for i, f := range p.Features {
		if !hollow(f.Kind) {
			continue
		}
		_, angled := p.Bevel(f.Side)
		out = append(out, hole{kind: string(f.Kind), connection: f.For, feature: i, side: f.Side, diameter: f.Diameter.MM(),
			tilted: f.Tilt != 0 || angled, open: open(f.Kind), through: f.Through, loose: loose[f.For], solid: room(p, f)})
	}
	return out
}

// hollow tells whether a kind of cut leaves a hole that something is put into.
func hollow(k assembly.FeatureKind) bool {
	return k == assembly.Bore || k == assembly.Mortise || k == assembly.Slot || open(k)
}

// open tells whether a kind of cut is meant to run out of neighbouring sides.
func open(k assembly.FeatureKind) bool {
	return k == assembly.Notch || k == assembly.Groove || k == assembly.Rebate
}

// looseOf tells, by name, which connections let a top move.
func looseOf(a assembly.Assembly) map[string]bool {
	out := map[string]bool{}
	for _, c := range a.Connections {
		out[c.Name] = c.Purpose == assembly.TopFastening
	}
	return out
}

// room returns the space of a bore, a mortise, a slot, an open cut or a tenon.
func room(p assembly.Part, f assembly.Feature) geom.Solid {
	if f.Kind == assembly.Groove || f.Kind == assembly.Rebate {
		f.U, f.V = f.U+f.Length/2, f.V+f.Width/2 // these are placed by their corner
	}
	if f.Flare > 0 {
		return tail(p, f)
	}
	if f.Kind == assembly.Bore {
		return bore(p, f)
	}
	depth := f.Depth
	if f.Kind == assembly.Tenon {
		depth = -depth
	}
	if f.Rounded && f.Length == f.Width {
		return geom.Bore{From: p.OnSide(f.Side, f.U, f.V, 0), To: p.OnSide(f.Side, f.U, f.V, depth), Diameter: f.Length.MM()}
	}
	if f.Rounded {
		d, du, dv := min(f.Length, f.Width), unit.Length(0), unit.Length(0)
		if f.Length > f.Width {
			du = (f.Length - d) / 2
		} else {
			dv = (f.Width - d) / 2
		}
		mouth := p.OnSide(f.Side, f.U-du, f.V-dv, 0)
		return geom.Oblong{From: mouth, To: p.OnSide(f.Side, f.U+du, f.V+dv, 0),
			Deep: p.OnSide(f.Side, f.U-du, f.V-dv, depth).Sub(mouth), Diameter: d.MM()}
	}
	return block(p, f, depth)
}

// tail returns a tail or its socket: a box that grows wider from the mouth, along the width of its part.
func tail(p assembly.Part, f assembly.Feature) geom.Hull {
	deep := f.Depth
	if f.Kind == assembly.Tenon {
		deep = -deep
	}
	ua, va := f.Side.UV()
	var out geom.Hull
	for _, depth := range [2]unit.Length{0, deep} {
		u, v := f.Length/2, f.Width/2
		if depth != 0 && ua == 1 {
			u += f.Flare
		} else if depth != 0 && va == 1 {
			v += f.Flare
		}
		for _, corner := range [4][2]unit.Length{{-u, -v}, {u, -v}, {-u, v}, {u, v}} {
			out = append(out, p.OnSide(f.Side, f.U+corner[0], f.V+corner[1], depth))
		}
	}
	return out
}

// bore returns a bore as a cylinder with a flat bottom. A slanted one begins outside the wood, where the whole of the drill has
// not yet touched it: r·tan(tilt) before the middle of the mouth.
func bore(p assembly.Part, f assembly.Feature) geom.Bore {
	mouth, along := p.OnSide(f.Side, f.U, f.V, 0), direction(p, f)
	before := f.Diameter.MM() / 2 * math.Abs(math.Tan(float64(f.Tilt)*math.Pi/180))
	return geom.Bore{From: mouth.Sub(along.Scale(before)), To: mouth.Add(along.Scale(f.Depth.MM())), Diameter: f.Diameter.MM()}
}

// direction is the way a bore goes in.
func direction(p assembly.Part, f assembly.Feature) geom.Vec {
	return p.Into(f)
}

// block returns a rectangular hole centred on U and V as a box; a tenon has a negative depth.
func block(p assembly.Part, f assembly.Feature, depth unit.Length) geom.Box {
	if _, angled := p.Bevel(f.Side); angled {
		return p.Under(f.Side, f.U-f.Length/2, f.V-f.Width/2, f.Length, f.Width, depth)
	}
	ua, va := f.Side.UV()
	var size [3]float64
	size[ua], size[va], size[f.Side.Axis()] = f.Length.MM(), f.Width.MM(), depth.Abs().MM()
	a := p.Pose.In(p.OnSide(f.Side, f.U-f.Length/2, f.V-f.Width/2, 0))
	b := p.Pose.In(p.OnSide(f.Side, f.U-f.Length/2, f.V-f.Width/2, depth))
	low := geom.Vec{X: min(a.X, b.X), Y: min(a.Y, b.Y), Z: min(a.Z, b.Z)}
	return geom.Box{Pose: geom.Pose{Origin: p.Pose.Out(low), Axes: p.Pose.Axes}, Size: geom.Vec{X: size[0], Y: size[1], Z: size[2]}}
}

// screwHoles returns, by part, the room that pocket screws take in the part that they are driven into.
func screwHoles(in Input) map[int][]hole {
	out := map[int][]hole{}
	for i, c := range in.Assembly.Connections {
		if i >= len(in.Joints) || in.Joints[i] == nil || in.Joints[i].Kind != joint.PocketScrews {
			continue
		}
		z, p := in.Joints[i].Sizes, in.Assembly.Parts[c.A.Part]
		for _, f := range p.Features {
			if f.For != c.Name || f.Kind != assembly.Bore || f.Tilt == 0 {
				continue
			}
			along := direction(p, f)
			head := p.OnSide(f.Side, f.U, f.V, 0).Add(along.Scale(f.Depth.MM()))
			leaves := head.Add(along.Scale(z.DepthA.MM()))
			out[c.B.Part] = append(out[c.B.Part], hole{kind: "screw", connection: c.Name, feature: -1, side: c.B.Side, diameter: z.Diameter.MM(),
				tilted: true, solid: geom.Bore{From: leaves, To: leaves.Add(along.Scale(z.DepthB.MM())), Diameter: z.Diameter.MM()}})
		}
	}
	return out
}

// surface is a flat side of a part, as left by tapers.
type surface struct {
	plane geom.Plane
	side  assembly.Side
}

// sidesOf returns the flat sides of a part, in the world: the six that it has before its tapers, and those that tapers make.
func sidesOf(p assembly.Part) []surface {
	var out []surface
	for i, plane := range p.Planes() {
		out = append(out, surface{plane, assembly.Side(i)})
	}
	for _, f := range p.Features {
		if f.Kind == assembly.TaperCut {
			out = append(out, surface{taperPlane(p, f), f.Side})
		}
	}
	return out
}

// taperPlane is the side that a taper leaves.
func taperPlane(p assembly.Part, f assembly.Feature) geom.Plane {
	shallow, deep := f.U, f.U+f.Length
	if !f.Rising {
		shallow, deep = deep, shallow
	}
	a, b := p.OnSide(f.Side, shallow, 0, 0), p.OnSide(f.Side, deep, 0, f.Depth)
	_, va := f.Side.UV()
	out := b.Sub(a).Cross(p.Pose.Axes[va]).Unit()
	if out.Dot(p.Outward(f.Side)) < 0 {
		out = out.Neg()
	}
	return geom.Plane{Out: out, At: out.Dot(a)}
}

// bodyOf returns a part without its tenons as a convex body, every side moved in by inset mm.
func bodyOf(p assembly.Part, inset float64) geom.Solid {
	tapered := p.Angled()
	var planes []geom.Plane
	for _, s := range sidesOf(p) {
		planes = append(planes, geom.Plane{Out: s.plane.Out, At: s.plane.At - inset})
		tapered = tapered || len(planes) > 6
	}
	if tapered {
		if h := geom.Corners(planes); len(h) > 0 {
			return h
		}
	}
	return p.Box().Grown(-inset)
}

// sides checks the wood behind a hole and beside it.
func (h hole) sides(a assembly.Assembly, part int, surfaces []surface) []Finding {
	p := a.Parts[part]
	var out []Finding
	for _, s := range surfaces {
		if s.side == h.side {
			continue
		}
		behind := s.side == h.side.Opposite()
		wall, least := s.plane.Inside(h.solid), h.least(s.side, behind, h.narrow(a, part))
		if wall >= least-slack || math.Abs(wall) < geom.Touch && (h.open || behind && h.through) {
			continue // it is meant to come out there
		}
		at := h.solid.Support(s.plane.Out)
		found := Finding{Kind: ThinSide, Where: p.Name, Part: part, Other: -1, Wall: wall, features: [2]int{h.feature, -1}, Connections: []string{h.connection},
			At: at, Place: around(at, at.Add(s.plane.Out.Scale(max(wall, 0)))), sides: []assembly.Side{s.side}}
		left := unit.MM(wall).Show(a.Family)
		switch {
		case wall < 0:
			found.Kind = Through
			found.What = fmt.Sprintf("a %s for %s comes through %s", h.kind, h.connection, a.SideName(part, s.side))
		case behind:
			found.What = fmt.Sprintf("a %s for %s leaves %s of wood behind it", h.kind, h.connection, left)
		case s.side.IsEnd():
			found.Kind = NearEnd
			found.What = fmt.Sprintf("a %s for %s stands %s from %s, where short grain splits", h.kind, h.connection, left, a.SideName(part, s.side))
		default:
			found.What = fmt.Sprintf("a %s for %s leaves %s of wood to %s", h.kind, h.connection, left, a.SideName(part, s.side))
		}
		out = append(out, found)
	}
	return out
}

// narrow tells whether a bore stands where the contact is too narrow along the grain for one diameter of wood on both sides of it,
// as at the corner of a case: then the end is a side like others.
func (h hole) narrow(a assembly.Assembly, part int) bool {
	k := connectionNamed(a, h.connection)
	if k < 0 || h.diameter == 0 {
		return false
	}
	place := a.Connections[k].A
	if a.Connections[k].B.Part == part {
		place = a.Connections[k].B
	}
	along := place.Area.SizeU() // u runs along the grain on every long side
	return !place.Side.IsEnd() && along > 0 && along.MM() < 3*BoreEnd*h.diameter
}

// least is the wood that a hole must leave to a side of its part, mm.
func (h hole) least(s assembly.Side, behind, narrow bool) float64 {
	switch {
	case h.feature < 0:
		return ScrewWall
	case behind || h.loose || h.tilted:
		return LeastWall
	case h.side.IsEnd() && h.diameter > 0 && s.Axis() == 1:
		return BoreEdge*h.diameter - roundedMark
	case h.side.IsEnd() && h.diameter == 0:
		return LeastWall
	case s.IsEnd() && h.diameter > 0 && !narrow:
		return BoreEnd * h.diameter
	case s.IsEnd() && h.kind == string(assembly.Mortise):
		return BesideEnd - roundedMark
	case h.diameter > 0:
		return BoreSide
	}
	return LeastWall
}

// overhang checks that a tenon stands inside the end that it is cut from.
func overhang(a assembly.Assembly, part int) []Finding {
	p := a.Parts[part]
	var out []Finding
	for i, f := range p.Features {
		if f.Kind != assembly.Tenon {
			continue
		}
		tenon := room(p, f)
		for _, s := range sidesOf(p) {
			if s.side.Axis() == f.Side.Axis() || s.plane.Inside(tenon) >= -slack {
				continue
			}
			at := tenon.Support(s.plane.Out)
			wall := s.plane.Inside(tenon)
			out = append(out, Finding{Kind: Through, Where: p.Name, Part: part, Other: -1, Wall: wall, features: [2]int{i, -1}, Connections: []string{f.For},
				At: at, Place: around(at, at.Add(s.plane.Out.Scale(wall))), sides: []assembly.Side{s.side},
				What:   fmt.Sprintf("the tenon for %s stands %s out of %s of its part", f.For, unit.MM(-wall).Show(a.Family), a.SideName(part, s.side)),
				Advice: "make the tenon narrower or set it further in"})
		}
	}
	return out
}
