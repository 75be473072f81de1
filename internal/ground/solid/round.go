package solid

import (
	"fmt"
	"math"
	"slices"

	"longgrain/internal/ground/geom"
)

// square is how far from one the cosine between a direction and a normal may be for the two to count as parallel.
const square = 1e-9

// set lets a round into the body. It returns why it cannot, and then leaves the body as it was.
func (b *Body) set(r Round) string {
	if r.Radius < Tiny || r.Depth < Tiny {
		return "it has no size"
	}
	if math.Abs(r.Half.Dot(r.Into)) > Tiny {
		return "its half-round ends do not lie square to its depth"
	}
	if r.Peg {
		return b.raise(r)
	}
	type span struct {
		entry, exit int // exit is -1 where the hole ends in stuff
		from, to    float64
		u           geom.Vec // where its outlines start
	}
	var spans []span
	entry, from := -1, 0.0
	for _, c := range b.crossings(r) {
		n := b.Faces[c.face].Normal.Dot(r.Into)
		switch {
		case n < 0 && entry < 0 && c.at < r.Depth-Tiny:
			entry, from = c.face, c.at
		case n > 0 && entry >= 0 && c.at <= r.Depth+Tiny:
			spans = append(spans, span{entry: entry, exit: c.face, from: from, to: c.at})
			entry = -1
		}
	}
	if entry >= 0 {
		spans = append(spans, span{entry: entry, exit: -1, from: from, to: r.Depth})
	}
	if len(spans) == 0 {
		return "there is no wood in its way"
	}
	for i, s := range spans {
		var why string
		if spans[i].u, why = b.seam(r, s.entry, s.exit); why != "" {
			return why
		}
		for _, f := range []int{s.entry, s.exit} {
			if f >= 0 && !b.holds(f, r) {
				return "it breaks through an edge or into another cut"
			}
		}
		for f := range b.Faces {
			if f != s.entry && f != s.exit && b.reaches(f, r, s.from, s.to) {
				return "it breaks out sideways or meets another cut"
			}
		}
	}
	for _, s := range spans {
		b.bore(r, s.u, s.entry, s.exit, s.from, s.to)
	}
	return ""
}

// crossing is where the middle line of a round passes a flat face.
type crossing struct {
	face int
	at   float64
}

// crossings returns the flat faces on the way of a round, from a little before its start, in order.
func (b *Body) crossings(r Round) []crossing {
	var out []crossing
	for i, f := range b.Faces {
		slope := f.Normal.Dot(r.Into)
		if f.Surface != Flat || math.Abs(slope) < 0.05 {
			continue
		}
		at := f.At.Sub(r.At).Dot(f.Normal) / slope
		if at > -1e-3 && at < r.Depth+Tiny && b.covers(i, r.At.Add(r.Into.Scale(at))) {
			out = append(out, crossing{i, at})
		}
	}
	slices.SortStableFunc(out, func(x, y crossing) int {
		if math.Abs(x.at-y.at) < Tiny {
			return 0
		}
		if x.at < y.at {
			return -1
		}
		return 1
	})
	return out
}

// rings returns the loops of a flat face as seen along a direction, with the two axes of the view.
func (b *Body) rings(f int, along geom.Vec) (rings [][][2]float64, u, v geom.Vec) {
	u, v = across(along)
	for _, l := range b.Faces[f].Loops {
		var ring [][2]float64
		for _, p := range b.trace(l) {
			ring = append(ring, [2]float64{p.Dot(u), p.Dot(v)})
		}
		rings = append(rings, ring)
	}
	return rings, u, v
}

// covers tells whether a point of the plane of a face lies on the face.
func (b *Body) covers(f int, p geom.Vec) bool {
	rings, u, v := b.rings(f, b.Faces[f].Normal)
	at := [2]float64{p.Dot(u), p.Dot(v)}
	in := false
	for _, r := range rings {
		if contains(r, at) {
			in = !in
		}
	}
	return in
}

// holds tells whether the outline of a round, seen along its depth, lies on a face with nothing of the face's rim in it.
func (b *Body) holds(f int, r Round) bool {
	rings, u, v := b.rings(f, r.Into)
	a, c := ends(r, u, v)
	in := false
	for _, ring := range rings {
		if contains(ring, a) {
			in = !in
		}
		for i, p := range ring {
			if apart(p, ring[(i+1)%len(ring)], a, c) < r.Radius+Tiny {
				return false
			}
		}
	}
	return in
}

func ends(r Round, u, v geom.Vec) (a, c [2]float64) {
	p, q := r.At.Add(r.Half), r.At.Sub(r.Half)
	return [2]float64{p.Dot(u), p.Dot(v)}, [2]float64{q.Dot(u), q.Dot(v)}
}

// reaches tells whether a round passes through a face between two depths.
func (b *Body) reaches(f int, r Round, from, to float64) bool {
	u, v := across(r.Into)
	a, c := ends(r, u, v)
	for _, facet := range b.facets(f) {
		var inside bool
		for _, points := range facet {
			part := slab(points, r.At, r.Into, from+2*Tiny, to-2*Tiny)
			if len(part) == 0 {
				continue
			}
			var ring [][2]float64
			for _, p := range part {
				ring = append(ring, [2]float64{p.Dot(u), p.Dot(v)})
			}
			for i, p := range ring {
				if apart(p, ring[(i+1)%len(ring)], a, c) < r.Radius-Tiny {
					return true
				}
			}
			if contains(ring, a) {
				inside = !inside
			}
		}
		if inside {
			return true
		}
	}
	return false
}

// slab keeps what of a polygon lies between two depths along a direction.
func slab(points []geom.Vec, at, along geom.Vec, from, to float64) []geom.Vec {
	for _, side := range [2]float64{-1, 1} {
		limit := from
		if side > 0 {
			limit = to
		}
		var kept []geom.Vec
		for i, p := range points {
			q := points[(i+1)%len(points)]
			dp, dq := side*(p.Sub(at).Dot(along)-limit), side*(q.Sub(at).Dot(along)-limit)
			if dp <= 0 {
				kept = append(kept, p)
			}
			if dp < 0 && dq > 0 || dp > 0 && dq < 0 {
				kept = append(kept, p.Add(q.Sub(p).Scale(dp/(dp-dq))))
			}
		}
		points = kept
	}
	return points
}

// apart returns the distance of two segments in a plane.
func apart(p, q, a, c [2]float64) float64 {
	at := func(x [2]float64) geom.Vec { return geom.Vec{X: x[0], Y: x[1]} }
	return geom.SegmentDistance(at(p), at(q), at(a), at(c))
}

// seam returns the direction in which the outlines of a round start, square to its depth: along a slot, or where a slanting
// face lies deepest, so that the outlines on both faces start above each other.
func (b *Body) seam(r Round, faces ...int) (u geom.Vec, why string) {
	for _, f := range faces {
		if f < 0 {
			continue
		}
		n := b.Faces[f].Normal
		if math.Abs(math.Abs(n.Dot(r.Into))-1) < square {
			continue
		}
		lean := n.Sub(r.Into.Scale(n.Dot(r.Into))).Unit()
		if r.Half.Length() > Tiny {
			return u, "a slot must stand square to its face"
		}
		if u.Length() > 0 && math.Abs(math.Abs(lean.Dot(u))-1) > square {
			return u, "its two faces lean in different directions"
		}
		u = lean
	}
	if r.Half.Length() > Tiny {
		return r.Half.Unit(), ""
	}
	if u.Length() == 0 {
		u, _ = across(r.Into)
	}
	return u, ""
}

// bore cuts a round from its entry to its exit face, or to a bottom of its own where exit is -1.
func (b *Body) bore(r Round, u geom.Vec, entry, exit int, from, to float64) {
	top := b.lip(r, u, from, b.Faces[entry].Normal)
	end := r.Into.Neg()
	if exit >= 0 {
		end = b.Faces[exit].Normal
	}
	bottom := b.lip(r, u, to, end)
	b.Faces[entry].Loops = append(b.Faces[entry].Loops, forward(top))
	if exit >= 0 {
		b.Faces[exit].Loops = append(b.Faces[exit].Loops, backward(bottom))
	} else {
		b.Faces = append(b.Faces, Face{At: r.At.Add(r.Into.Scale(to)), Normal: r.Into.Neg(), Loops: [][]Use{backward(bottom)}})
	}
	b.wall(r, u, top, bottom, true)
	b.Volume -= r.section() * (to - from)
}

// section is the area of a round seen along its depth.
func (r Round) section() float64 { return math.Pi*r.Radius*r.Radius + 4*r.Half.Length()*r.Radius }

// raise sets a peg on a flat face.
func (b *Body) raise(r Round) string {
	for f, face := range b.Faces {
		if face.Surface != Flat || face.Normal.Dot(r.Into) < 1-square || math.Abs(face.At.Sub(r.At).Dot(r.Into)) > 1e-3 || !b.covers(f, r.At) {
			continue
		}
		if !b.holds(f, r) {
			return "it stands over the edge of its shoulder"
		}
		u, _ := across(r.Into)
		if r.Half.Length() > Tiny {
			u = r.Half.Unit()
		}
		foot, top := b.lip(r, u, 0, r.Into), b.lip(r, u, r.Depth, r.Into)
		b.Faces[f].Loops = append(b.Faces[f].Loops, backward(foot))
		b.Faces = append(b.Faces, Face{At: r.At.Add(r.Into.Scale(r.Depth)), Normal: r.Into, Loops: [][]Use{forward(top)}})
		b.wall(r, u, foot, top, false)
		b.Volume += r.section() * r.Depth
		return ""
	}
	return "there is no flat shoulder for it to stand on"
}

// lip makes the edges of the outline of a round where it meets a plane with a normal, at a depth along its middle line,
// counterclockwise about Into. A round hole gives one closed edge, a slot arc, line, arc, line.
func (b *Body) lip(r Round, u geom.Vec, depth float64, normal geom.Vec) []int {
	d, w := r.Into, r.Into.Cross(u)
	c := r.At.Add(d.Scale(depth))
	vertex := func(p geom.Vec) int {
		b.Vertices = append(b.Vertices, p)
		return len(b.Vertices) - 1
	}
	edge := func(e Edge) int {
		b.Edges = append(b.Edges, e)
		return len(b.Edges) - 1
	}
	if r.Half.Length() < Tiny {
		slope := normal.Dot(d)
		major := u.Sub(d.Scale(u.Dot(normal) / slope))
		long := r.Radius * major.Length()
		major = major.Unit()
		v := vertex(c.Add(major.Scale(long)))
		return []int{edge(Edge{From: v, To: v, Curve: Ellipse, Centre: c, Axis: major.Cross(w), Major: major, A: long, B: r.Radius})}
	}
	h := r.Half
	side := w.Scale(r.Radius)
	p := []int{vertex(c.Add(h).Sub(side)), vertex(c.Add(h).Add(side)), vertex(c.Sub(h).Add(side)), vertex(c.Sub(h).Sub(side))}
	arc := func(from, to int, centre, major geom.Vec) Edge {
		return Edge{From: from, To: to, Curve: Ellipse, Centre: centre, Axis: d, Major: major, A: r.Radius, B: r.Radius}
	}
	return []int{edge(arc(p[0], p[1], c.Add(h), w.Neg())), edge(Edge{From: p[1], To: p[2]}),
		edge(arc(p[2], p[3], c.Sub(h), w)), edge(Edge{From: p[3], To: p[0]})}
}

func forward(edges []int) []Use {
	out := make([]Use, len(edges))
	for i, e := range edges {
		out[i] = Use{Edge: e}
	}
	return out
}

func backward(edges []int) []Use {
	out := make([]Use, len(edges))
	for i, e := range edges {
		out[len(edges)-1-i] = Use{e, true}
	}
	return out
}

// wall closes the side of a round between two outlines.
func (b *Body) wall(r Round, u geom.Vec, top, bottom []int, hollow bool) {
	upright := make([]int, len(top))
	for i := range top {
		upright[i] = len(b.Edges)
		b.Edges = append(b.Edges, Edge{From: b.Edges[top[i]].From, To: b.Edges[bottom[i]].From})
	}
	w := r.Into.Cross(u)
	for i := range top {
		next := upright[(i+1)%len(top)]
		loop := []Use{{top[i], true}, {upright[i], false}, {bottom[i], false}, {next, true}}
		if !hollow {
			loop = []Use{{top[i], false}, {next, false}, {bottom[i], true}, {upright[i], true}}
		}
		f := Face{Surface: Cylinder, Normal: r.Into, Radius: r.Radius, Hollow: hollow, At: b.Edges[top[i]].Centre, Loops: [][]Use{loop}}
		if e := b.Edges[top[i]]; e.Curve == Line {
			out := w
			if i == 3 {
				out = w.Neg()
			}
			if hollow {
				out = out.Neg()
			}
			f = Face{At: b.Vertices[e.From], Normal: out, Loops: [][]Use{loop}}
		}
		b.Faces = append(b.Faces, f)
	}
}

// Check returns what is wrong with the topology of a body: an edge that is not passed once each way, a loop that is not
// closed. It knows nothing of how the body was made.
func (b Body) Check() error {
	passed := make([][2]int, len(b.Edges))
	for i, f := range b.Faces {
		for _, l := range f.Loops {
			for k, u := range l {
				if _, end := b.run(u); end != b.start(l[(k+1)%len(l)]) {
					return fmt.Errorf("solid: face %d has an open loop", i)
				}
				if u.Backward {
					passed[u.Edge][1]++
				} else {
					passed[u.Edge][0]++
				}
			}
		}
	}
	for e, n := range passed {
		if n != [2]int{1, 1} {
			return fmt.Errorf("solid: edge %d is passed %d times forward and %d times backward", e, n[0], n[1])
		}
	}
	return nil
}

func (b Body) run(u Use) (from, to int) {
	e := b.Edges[u.Edge]
	if u.Backward {
		return e.To, e.From
	}
	return e.From, e.To
}

func (b Body) start(u Use) int { from, _ := b.run(u); return from }
