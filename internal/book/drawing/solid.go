package drawing

import (
	"cmp"
	"math"
	"slices"

	"longgrain/internal/design/assembly"
	"longgrain/internal/ground/geom"
	"longgrain/internal/ground/unit"
)

// plane bounds a solid: its points have n·x <= d. n looks out of the solid and has length one.
type plane struct {
	n geom.Vec
	d float64
}

// face is one flat side of a solid: its corners in order round it.
type face struct {
	plane
	ring []geom.Vec
	end  bool // shows end grain
}

// solid is a convex body of wood in the world, mm.
type solid struct {
	part  int
	faces []face
	edges [][2]geom.Vec
}

// solids returns the part as convex bodies: its box less the tapers, and its tenons.
func solids(a assembly.Assembly, part int) []solid {
	p := a.Parts[part]
	body := partFaces(p)
	for _, f := range p.Features {
		if f.Kind == assembly.TaperCut {
			body = cutFaces(body, taperPlane(p, f))
		}
	}
	out := []solid{newSolid(part, body)}
	for _, f := range p.Features {
		if f.Kind == assembly.Tenon {
			out = append(out, newSolid(part, boxFaces(standing(p, f))))
		}
	}
	return out
}

// bodies returns the solids of all parts, without tenons: those lie inside other parts.
func bodies(a assembly.Assembly) []solid {
	var out []solid
	for i := range a.Parts {
		out = append(out, solids(a, i)[0])
	}
	return out
}

// standing returns the box of a feature that stands out of its side, such as a tenon.
func standing(p assembly.Part, f assembly.Feature) geom.Box {
	if _, angled := p.Bevel(f.Side); angled {
		return p.Under(f.Side, f.U-f.Length/2, f.V-f.Width/2, f.Length, f.Width, -f.Depth)
	}
	b := sunk(p, f)
	shift := p.Outward(f.Side).Scale(f.Depth.MM())
	b.Pose.Origin = b.Pose.Origin.Add(shift)
	return b
}

// sunk returns the box that a rectangular cut takes out of its part, in the pose of the part.
func sunk(p assembly.Part, f assembly.Feature) geom.Box {
	ua, va := f.Side.UV()
	u0, v0 := f.U.MM(), f.V.MM()
	if f.Kind != assembly.Groove && f.Kind != assembly.Rebate {
		u0, v0 = u0-f.Length.MM()/2, v0-f.Width.MM()/2
	}
	if _, angled := p.Bevel(f.Side); angled {
		return p.Under(f.Side, unit.MM(u0), unit.MM(v0), f.Length, f.Width, f.Depth)
	}
	var at, size [3]float64
	at[ua], size[ua] = u0, f.Length.MM()
	at[va], size[va] = v0, f.Width.MM()
	size[f.Side.Axis()] = f.Depth.MM()
	if f.Side.High() {
		at[f.Side.Axis()] = p.Size(f.Side.Axis()).MM() - f.Depth.MM()
	}
	pose := p.Pose
	pose.Origin = p.Pose.Out(geom.Vec{X: at[0], Y: at[1], Z: at[2]})
	return geom.Box{Pose: pose, Size: geom.Vec{X: size[0], Y: size[1], Z: size[2]}}
}

// partFaces returns the six sides of a part as they are cut, without tapers.
func partFaces(p assembly.Part) []face {
	if !p.Angled() {
		return boxFaces(p.Box())
	}
	out := make([]face, len(assembly.Sides))
	for i, s := range p.Planes() {
		ring := p.Ring(assembly.Side(i))
		out[i] = face{plane: plane{s.Out, s.At}, ring: ring, end: i < 2}
	}
	return out
}

// boxFaces returns the six sides of a box.
func boxFaces(b geom.Box) []face {
	c := b.Corners()
	// Corner i has local x from bit 0, y from bit 1, z from bit 2.
	rings := [6][4]int{{0, 4, 6, 2}, {1, 3, 7, 5}, {0, 1, 5, 4}, {2, 6, 7, 3}, {0, 2, 3, 1}, {4, 5, 7, 6}}
	out := make([]face, 6)
	for i, r := range rings {
		n := b.Pose.Axes[i/2]
		if i%2 == 0 {
			n = n.Neg()
		}
		out[i] = face{plane: plane{n, n.Dot(c[r[0]])}, end: i < 2}
		for _, k := range r {
			out[i].ring = append(out[i].ring, c[k])
		}
	}
	return out
}

// taperPlane returns the surface that a taper leaves.
func taperPlane(p assembly.Part, f assembly.Feature) plane {
	at, normal := p.Taper(f)
	n := p.Pose.Turn(normal)
	return plane{n, n.Dot(p.Pose.Out(at))}
}

// tiny is a distance that counts as nothing when solids are cut and compared, mm.
const tiny = 1e-6

// cutFaces returns what is left of a convex body below a plane.
func cutFaces(in []face, cut plane) []face {
	var out []face
	var rim []geom.Vec
	for _, f := range in {
		ring := clipRing(f.ring, cut)
		for _, v := range ring {
			if math.Abs(cut.n.Dot(v)-cut.d) < tiny {
				rim = append(rim, v)
			}
		}
		if len(ring) >= 3 {
			out = append(out, face{f.plane, ring, f.end})
		}
	}
	if ring := around(rim, cut.n); len(ring) >= 3 {
		out = append(out, face{plane: cut, ring: ring})
	}
	return out
}

// clipRing returns the part of a convex ring below a plane.
//
// Source: clipping of a polygon at one plane, corner by corner (Sutherland and Hodgman 1974).
func clipRing(ring []geom.Vec, cut plane) []geom.Vec {
	var out []geom.Vec
	for i, v := range ring {
		w := ring[(i+1)%len(ring)]
		a, b := cut.n.Dot(v)-cut.d, cut.n.Dot(w)-cut.d
		if a <= tiny {
			out = append(out, v)
		}
		if (a < -tiny && b > tiny) || (a > tiny && b < -tiny) {
			out = append(out, v.Add(w.Sub(v).Scale(a/(a-b))))
		}
	}
	return out
}

// around sorts points of one plane into a convex ring about its normal and drops repeated ones.
func around(points []geom.Vec, n geom.Vec) []geom.Vec {
	if len(points) < 3 {
		return nil
	}
	var centre geom.Vec
	for _, p := range points {
		centre = centre.Add(p.Scale(1 / float64(len(points))))
	}
	x := points[0].Sub(centre)
	if x.Length() < tiny {
		return nil
	}
	x = x.Unit()
	y := n.Cross(x)
	angle := func(p geom.Vec) float64 { d := p.Sub(centre); return math.Atan2(d.Dot(y), d.Dot(x)) }
	slices.SortStableFunc(points, func(a, b geom.Vec) int { return cmp.Compare(angle(a), angle(b)) })
	var out []geom.Vec
	for i, p := range points {
		if i == 0 || p.Distance(points[i-1]) > tiny {
			out = append(out, p)
		}
	}
	if len(out) > 1 && out[0].Distance(out[len(out)-1]) <= tiny {
		out = out[:len(out)-1]
	}
	return out
}

// newSolid collects the edges of a body: each lies between two of its faces and is listed once.
func newSolid(part int, faces []face) solid {
	s := solid{part: part, faces: faces}
	for _, f := range faces {
		for i, v := range f.ring {
			w := f.ring[(i+1)%len(f.ring)]
			if !s.hasEdge(v, w) {
				s.edges = append(s.edges, [2]geom.Vec{v, w})
			}
		}
	}
	return s
}

func (s solid) hasEdge(v, w geom.Vec) bool {
	for _, e := range s.edges {
		if (e[0].Distance(v) < tiny && e[1].Distance(w) < tiny) || (e[0].Distance(w) < tiny && e[1].Distance(v) < tiny) {
			return true
		}
	}
	return false
}

// moved returns the body shifted in the world.
func (s solid) moved(by geom.Vec) solid {
	out := solid{part: s.part}
	for _, f := range s.faces {
		g := face{plane: plane{f.n, f.d + f.n.Dot(by)}, end: f.end}
		for _, v := range f.ring {
			g.ring = append(g.ring, v.Add(by))
		}
		out.faces = append(out.faces, g)
	}
	for _, e := range s.edges {
		out.edges = append(out.edges, [2]geom.Vec{e[0].Add(by), e[1].Add(by)})
	}
	return out
}

// section returns the ring in which a plane through a body cuts it, or nil.
func (s solid) section(at plane) []geom.Vec {
	var points []geom.Vec
	for _, e := range s.edges {
		a, b := at.n.Dot(e[0])-at.d, at.n.Dot(e[1])-at.d
		if (a < 0) != (b < 0) {
			points = append(points, e[0].Add(e[1].Sub(e[0]).Scale(a/(a-b))))
		}
	}
	return around(points, at.n)
}
