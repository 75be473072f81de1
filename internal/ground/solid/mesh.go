package solid

import (
	"math"
	"slices"

	"longgrain/internal/ground/geom"
)

// segments is the number of chords that a full circle is drawn with. At 10 mm diameter they stay within 0.007 mm of it.
const segments = 48

// Triangle is one flat piece of a meshed surface, counterclockwise from outside.
type Triangle [3]geom.Vec

// Mesh returns the surface of a body as triangles. Neighbouring faces share the points of their edges, so that there are no
// gaps; round faces are replaced by flat ones whose corners lie on them.
func (b Body) Mesh() []Triangle {
	var out []Triangle
	for i, f := range b.Faces {
		if f.Surface == Flat {
			var rings [][]geom.Vec
			for _, l := range f.Loops {
				rings = append(rings, b.trace(l))
			}
			out = append(out, triangulate(rings, f.Normal)...)
			continue
		}
		for _, facet := range b.facets(i) {
			q := facet[0]
			for k := 2; k < len(q); k++ {
				out = append(out, Triangle{q[0], q[k-1], q[k]})
			}
		}
	}
	return out
}

// trace returns the points of a loop, round edges as chords, without repeating the first.
func (b Body) trace(loop []Use) []geom.Vec {
	var out []geom.Vec
	for _, u := range loop {
		points := b.along(u)
		out = append(out, points[:len(points)-1]...)
	}
	return out
}

// along returns the points of an edge in the direction of its use, both ends among them.
func (b Body) along(u Use) []geom.Vec {
	e := b.Edges[u.Edge]
	var out []geom.Vec
	if e.Curve == Line {
		out = []geom.Vec{b.Vertices[e.From], b.Vertices[e.To]}
	} else {
		minor := e.Axis.Cross(e.Major)
		angle := func(p geom.Vec) float64 {
			d := p.Sub(e.Centre)
			return math.Atan2(d.Dot(minor)/e.B, d.Dot(e.Major)/e.A)
		}
		from, to := angle(b.Vertices[e.From]), angle(b.Vertices[e.To])
		for to < from+1e-9 {
			to += 2 * math.Pi
		}
		n := max(2, int(math.Round(segments*(to-from)/(2*math.Pi))))
		for i := range n + 1 {
			s, c := math.Sincos(from + (to-from)*float64(i)/float64(n))
			out = append(out, e.Centre.Add(e.Major.Scale(e.A*c)).Add(minor.Scale(e.B*s)))
		}
		out[0], out[n] = b.Vertices[e.From], b.Vertices[e.To]
	}
	if u.Backward {
		slices.Reverse(out)
	}
	return out
}

// facets returns a face as flat pieces, each with the rings around it and around its holes.
func (b Body) facets(f int) [][][]geom.Vec {
	face := b.Faces[f]
	if face.Surface == Flat {
		var rings [][]geom.Vec
		for _, l := range face.Loops {
			rings = append(rings, b.trace(l))
		}
		return [][][]geom.Vec{rings}
	}
	l := face.Loops[0]
	near, far := b.along(l[0]), b.along(l[2])
	slices.Reverse(far)
	var out [][][]geom.Vec
	for i := 1; i < len(near); i++ {
		out = append(out, [][]geom.Vec{{near[i-1], near[i], far[i], far[i-1]}})
	}
	return out
}

// triangulate fills a ring less its holes, all in a plane with a normal, by cutting off ears. Holes are joined to the ring
// by a bridge first.
//
// Source: G. H. Meisters, Polygons have ears, American Mathematical Monthly 82 (1975) 648, doi:10.2307/2319703, from memory.
func triangulate(rings [][]geom.Vec, normal geom.Vec) []Triangle {
	u, v := across(normal)
	var points []geom.Vec
	var flat [][2]float64
	index := make([][]int, len(rings))
	for i, ring := range rings {
		for _, p := range ring {
			index[i] = append(index[i], len(points))
			points = append(points, p)
			flat = append(flat, [2]float64{p.Dot(u), p.Dot(v)})
		}
	}
	ring := index[0]
	holes := index[1:]
	right := func(h []int) int {
		best := 0
		for i := range h {
			if flat[h[i]][0] > flat[h[best]][0] {
				best = i
			}
		}
		return best
	}
	slices.SortStableFunc(holes, func(a, c []int) int {
		if flat[a[right(a)]][0] > flat[c[right(c)]][0] {
			return -1
		}
		return 1
	})
	for n, h := range holes {
		ring = bridge(ring, h, right(h), holes[n+1:], flat)
	}
	var out []Triangle
	for len(ring) > 3 {
		ear := findEar(ring, flat)
		n := len(ring)
		a, c, d := ring[(ear+n-1)%n], ring[ear], ring[(ear+1)%n]
		if turn(flat[a], flat[c], flat[d]) > 0 {
			out = append(out, Triangle{points[a], points[c], points[d]})
		}
		ring = slices.Delete(slices.Clone(ring), ear, ear+1)
	}
	if turn(flat[ring[0]], flat[ring[1]], flat[ring[2]]) > 0 {
		out = append(out, Triangle{points[ring[0]], points[ring[1]], points[ring[2]]})
	}
	return out
}

func turn(a, b, c [2]float64) float64 {
	return (b[0]-a[0])*(c[1]-a[1]) - (b[1]-a[1])*(c[0]-a[0])
}

// bridge joins a hole to a ring between the hole's rightmost point and the nearest point of the ring that it sees.
func bridge(ring, hole []int, from int, others [][]int, flat [][2]float64) []int {
	p := flat[hole[from]]
	best, near := -1, math.Inf(1)
	for i, r := range ring {
		q := flat[r]
		d := math.Hypot(q[0]-p[0], q[1]-p[1])
		if d >= near || q[0] < p[0] {
			continue
		}
		if !inCone(ring, i, p, flat) || blocked(p, q, ring, flat) || blocked(p, q, hole, flat) {
			continue
		}
		free := true
		for _, o := range others {
			free = free && !blocked(p, q, o, flat)
		}
		if free {
			best, near = i, d
		}
	}
	if best < 0 {
		return ring // cannot happen for holes inside their ring
	}
	out := slices.Clone(ring[:best+1])
	for i := range len(hole) + 1 {
		out = append(out, hole[(from+i)%len(hole)])
	}
	return append(out, ring[best:]...)
}

// inCone tells whether p lies on the inner side of corner i of a ring.
func inCone(ring []int, i int, p [2]float64, flat [][2]float64) bool {
	n := len(ring)
	a, b, c := flat[ring[(i+n-1)%n]], flat[ring[i]], flat[ring[(i+1)%n]]
	if turn(a, b, c) >= 0 {
		return turn(a, b, p) > 0 && turn(b, c, p) > 0
	}
	return turn(a, b, p) > 0 || turn(b, c, p) > 0
}

// blocked tells whether a segment crosses a side of a ring, or passes through a corner of it, other than at its ends.
func blocked(p, q [2]float64, ring []int, flat [][2]float64) bool {
	for i := range ring {
		a, b := flat[ring[i]], flat[ring[(i+1)%len(ring)]]
		if a == p || a == q || b == p || b == q {
			for _, c := range [][2]float64{a, b} {
				if c != p && c != q && turn(p, q, c) == 0 && (c[0]-p[0])*(c[0]-q[0])+(c[1]-p[1])*(c[1]-q[1]) < 0 {
					return true
				}
			}
			continue
		}
		s, t := turn(p, q, a), turn(p, q, b)
		x, y := turn(a, b, p), turn(a, b, q)
		if s*t <= 0 && x*y <= 0 && !(s == 0 && t == 0) {
			return true
		}
	}
	return false
}

// findEar returns a corner of the ring whose triangle is free of other corners: the one with the widest smallest angle would
// be prettier; the first is as good for a flat face. Corners without area come first, since they only get in the way.
func findEar(ring []int, flat [][2]float64) int {
	n := len(ring)
	for i := range ring {
		a, b, c := flat[ring[(i+n-1)%n]], flat[ring[i]], flat[ring[(i+1)%n]]
		t := turn(a, b, c)
		if t < 0 {
			continue
		}
		if t == 0 {
			if a == c || (b[0]-a[0])*(c[0]-b[0])+(b[1]-a[1])*(c[1]-b[1]) >= 0 {
				continue // straight on: it may still be needed as a corner of a neighbour
			}
			return i
		}
		free := true
		for _, r := range ring {
			p := flat[r]
			if p == a || p == b || p == c {
				continue
			}
			if turn(a, b, p) >= 0 && turn(b, c, p) >= 0 && turn(c, a, p) >= 0 {
				free = false
				break
			}
		}
		if free {
			return i
		}
	}
	for i := range ring {
		if turn(flat[ring[(i+n-1)%n]], flat[ring[i]], flat[ring[(i+1)%n]]) >= 0 {
			return i
		}
	}
	return 0
}

// Lines returns the edges of a body as straight pieces, round ones as chords.
func (b Body) Lines() [][2]geom.Vec {
	var out [][2]geom.Vec
	for i := range b.Edges {
		points := b.along(Use{Edge: i})
		for k := 1; k < len(points); k++ {
			out = append(out, [2]geom.Vec{points[k-1], points[k]})
		}
	}
	return out
}
