package solid

import (
	"errors"
	"math"
	"slices"

	"longgrain/internal/ground/geom"
)

// cells is a stock cut along every plane of its blocks, so that each cell is either stuff or air.
type cells struct {
	at    [3][]float64
	stuff []bool
	keep  []HalfSpace
}

func newCells(s Stock) *cells {
	c := &cells{keep: s.Keep}
	for axis := range 3 {
		for _, b := range s.Add {
			c.at[axis] = append(c.at[axis], b.Lo.Along(axis), b.Hi.Along(axis))
		}
		// What is taken away beyond the blocks leaves no plane of its own.
		lo, hi := slices.Min(append(c.at[axis], math.Inf(1))), slices.Max(append(c.at[axis], math.Inf(-1)))
		for _, b := range s.Take {
			for _, x := range []float64{b.Lo.Along(axis), b.Hi.Along(axis)} {
				if x > lo+Tiny && x < hi-Tiny {
					c.at[axis] = append(c.at[axis], x)
				}
			}
		}
		slices.Sort(c.at[axis])
		c.at[axis] = slices.CompactFunc(c.at[axis], func(a, b float64) bool { return math.Abs(b-a) < Tiny })
	}
	nx, ny, nz := c.size()
	c.stuff = make([]bool, nx*ny*nz)
	for i := range nx {
		for j := range ny {
			for k := range nz {
				m := geom.Vec{X: (c.at[0][i] + c.at[0][i+1]) / 2, Y: (c.at[1][j] + c.at[1][j+1]) / 2, Z: (c.at[2][k] + c.at[2][k+1]) / 2}
				c.stuff[(i*ny+j)*nz+k] = within(s.Add, m) && !within(s.Take, m)
			}
		}
	}
	return c
}

func (c *cells) size() (x, y, z int) {
	return max(len(c.at[0])-1, 0), max(len(c.at[1])-1, 0), max(len(c.at[2])-1, 0)
}

func within(blocks []Block, m geom.Vec) bool {
	for _, b := range blocks {
		if m.X > b.Lo.X && m.X < b.Hi.X && m.Y > b.Lo.Y && m.Y < b.Hi.Y && m.Z > b.Lo.Z && m.Z < b.Hi.Z {
			return true
		}
	}
	return false
}

func (c *cells) solid(cell [3]int) bool {
	n := [3]int{}
	n[0], n[1], n[2] = c.size()
	for axis := range 3 {
		if cell[axis] < 0 || cell[axis] >= n[axis] {
			return false
		}
	}
	return c.stuff[(cell[0]*n[1]+cell[1])*n[2]+cell[2]]
}

func (c *cells) corner(i, j, k int) geom.Vec {
	return geom.Vec{X: c.at[0][i], Y: c.at[1][j], Z: c.at[2][k]}
}

// plane is the key of all faces in one plane: which way it looks, where it lies, or which half space made it.
type plane struct {
	axis  int
	high  bool
	at    int
	slant int
}

type polygon struct {
	of     plane
	normal geom.Vec
	points []geom.Vec
}

// sides returns the six sides of a cell, counterclockwise from outside.
func (c *cells) sides(cell [3]int) []polygon {
	i, j, k := cell[0], cell[1], cell[2]
	p := func(a, b, d int) geom.Vec { return c.corner(i+a, j+b, k+d) }
	return []polygon{
		{plane{0, false, i, -1}, geom.Vec{X: -1}, []geom.Vec{p(0, 0, 0), p(0, 0, 1), p(0, 1, 1), p(0, 1, 0)}},
		{plane{0, true, i + 1, -1}, geom.Vec{X: 1}, []geom.Vec{p(1, 0, 0), p(1, 1, 0), p(1, 1, 1), p(1, 0, 1)}},
		{plane{1, false, j, -1}, geom.Vec{Y: -1}, []geom.Vec{p(0, 0, 0), p(1, 0, 0), p(1, 0, 1), p(0, 0, 1)}},
		{plane{1, true, j + 1, -1}, geom.Vec{Y: 1}, []geom.Vec{p(0, 1, 0), p(0, 1, 1), p(1, 1, 1), p(1, 1, 0)}},
		{plane{2, false, k, -1}, geom.Vec{Z: -1}, []geom.Vec{p(0, 0, 0), p(0, 1, 0), p(1, 1, 0), p(1, 0, 0)}},
		{plane{2, true, k + 1, -1}, geom.Vec{Z: 1}, []geom.Vec{p(0, 0, 1), p(1, 0, 1), p(1, 1, 1), p(0, 1, 1)}},
	}
}

// clip cuts what lies beyond a half space off a convex cell, and closes it with a face in the plane.
func clip(sides []polygon, h HalfSpace, number int) []polygon {
	var out []polygon
	var rim []geom.Vec
	cut := false
	for _, s := range sides {
		kept := s
		kept.points = nil
		n := len(s.points)
		for i, p := range s.points {
			q := s.points[(i+1)%n]
			dp, dq := p.Sub(h.At).Dot(h.Normal), q.Sub(h.At).Dot(h.Normal)
			if dp <= Tiny {
				kept.points = append(kept.points, p)
			} else {
				cut = true
			}
			if dp < -Tiny && dq > Tiny || dp > Tiny && dq < -Tiny {
				// From the end inside, so that both faces of an edge find the same point.
				a, b, da, db := p, q, dp, dq
				if dp > 0 {
					a, b, da, db = q, p, dq, dp
				}
				kept.points = append(kept.points, a.Add(b.Sub(a).Scale(da/(da-db))))
			}
		}
		kept.points = slices.CompactFunc(kept.points, func(a, b geom.Vec) bool { return a.Distance(b) < Tiny })
		if len(kept.points) < 3 || area(kept.points, kept.normal) < Tiny*Tiny {
			continue
		}
		for _, p := range kept.points {
			if math.Abs(p.Sub(h.At).Dot(h.Normal)) <= 2*Tiny && !slices.ContainsFunc(rim, func(q geom.Vec) bool { return p.Distance(q) < Tiny }) {
				rim = append(rim, p)
			}
		}
		out = append(out, kept)
	}
	if !cut {
		return sides
	}
	if len(rim) < 3 || len(out) < 3 {
		if len(out) < 4 {
			return nil
		}
		return out
	}
	a, b := across(h.Normal)
	var middle geom.Vec
	for _, p := range rim {
		middle = middle.Add(p.Scale(1 / float64(len(rim))))
	}
	angle := func(p geom.Vec) float64 { d := p.Sub(middle); return math.Atan2(d.Dot(b), d.Dot(a)) }
	slices.SortFunc(rim, func(p, q geom.Vec) int {
		if angle(p) < angle(q) {
			return -1
		}
		return 1
	})
	return append(out, polygon{plane{3, false, 0, number}, h.Normal, rim})
}

// area returns the area of a flat polygon that runs counterclockwise about n.
func area(points []geom.Vec, n geom.Vec) float64 {
	var sum geom.Vec
	for i, p := range points {
		sum = sum.Add(p.Cross(points[(i+1)%len(points)]))
	}
	return sum.Dot(n) / 2
}

// body gathers the sides between stuff and air into faces.
func (c *cells) body() (Body, error) {
	var b Body
	index := newIndex(&b)
	half := map[plane]map[[2]int]bool{} // directed edges of each plane, those between two cells cancelled
	normals := map[plane]geom.Vec{}
	var order []plane
	nx, ny, nz := c.size()
	for i := range nx {
		for j := range ny {
			for k := range nz {
				cell := [3]int{i, j, k}
				if !c.solid(cell) {
					continue
				}
				sides := c.sides(cell)
				for n, h := range c.keep {
					sides = clip(sides, h, n)
				}
				for _, s := range sides {
					// Six pyramids from the origin make the cell, in both its inner and its outer sides.
					b.Volume += s.points[0].Dot(s.normal) * area(s.points, s.normal) / 3
					next := cell
					if s.of.slant < 0 {
						if s.of.high {
							next[s.of.axis]++
						} else {
							next[s.of.axis]--
						}
						if c.solid(next) {
							continue
						}
					}
					edges := half[s.of]
					if edges == nil {
						edges = map[[2]int]bool{}
						half[s.of], normals[s.of] = edges, s.normal
						order = append(order, s.of)
					}
					for p := range s.points {
						from, to := index.of(s.points[p]), index.of(s.points[(p+1)%len(s.points)])
						if edges[[2]int{to, from}] {
							delete(edges, [2]int{to, from})
						} else if from != to {
							edges[[2]int{from, to}] = true
						}
					}
				}
			}
		}
	}
	if len(order) == 0 {
		return Body{}, errors.New("nothing is left")
	}
	loops := map[plane][][]int{}
	for _, p := range order {
		loops[p] = chain(half[p], b.Vertices, normals[p])
	}
	straighten(loops, order, b.Vertices)
	return b, b.close(loops, order, normals)
}

// index numbers points, taking those within Tiny for the same. Points of a grid are found by their rounded place.
type index struct {
	b    *Body
	seen map[[3]int64]int
}

func newIndex(b *Body) *index { return &index{b, map[[3]int64]int{}} }

func (x *index) of(p geom.Vec) int {
	const step = 8 * Tiny
	base := [3]int64{int64(math.Floor(p.X / step)), int64(math.Floor(p.Y / step)), int64(math.Floor(p.Z / step))}
	for dx := int64(-1); dx <= 1; dx++ {
		for dy := int64(-1); dy <= 1; dy++ {
			for dz := int64(-1); dz <= 1; dz++ {
				if n, ok := x.seen[[3]int64{base[0] + dx, base[1] + dy, base[2] + dz}]; ok && x.b.Vertices[n].Distance(p) < 4*Tiny {
					return n
				}
			}
		}
	}
	x.b.Vertices = append(x.b.Vertices, p)
	x.seen[base] = len(x.b.Vertices) - 1
	return len(x.b.Vertices) - 1
}

// chain joins directed edges to loops. Where two loops touch in a vertex it turns as far to the right as it can, which keeps
// the stuff of one loop together.
func chain(edges map[[2]int]bool, at []geom.Vec, normal geom.Vec) [][]int {
	next := map[int][]int{}
	var starts []int
	for e := range edges {
		next[e[0]] = append(next[e[0]], e[1])
		starts = append(starts, e[0])
	}
	for _, to := range next {
		slices.Sort(to)
	}
	slices.Sort(starts)
	var loops [][]int
	for _, start := range starts {
		for len(next[start]) > 0 {
			loop := []int{start}
			from := start
			to := next[start][0]
			next[start] = next[start][1:]
			for to != start {
				loop = append(loop, to)
				choice := 0
				if len(next[to]) > 1 {
					choice = rightmost(at[from], at[to], next[to], at, normal)
				}
				if len(next[to]) == 0 {
					break // an open chain; close reports it
				}
				from, to = to, next[to][choice]
				next[from] = slices.Delete(next[from], choice, choice+1)
			}
			loops = append(loops, loop)
		}
	}
	return loops
}

func rightmost(from, here geom.Vec, choices []int, at []geom.Vec, normal geom.Vec) int {
	d := here.Sub(from).Unit()
	best, turn := 0, math.Inf(1)
	for i, c := range choices {
		e := at[c].Sub(here).Unit()
		if a := math.Atan2(d.Cross(e).Dot(normal), d.Dot(e)); a < turn {
			best, turn = i, a
		}
	}
	return best
}

// straighten takes out the vertices that only lie on a straight edge, in every loop alike.
func straighten(loops map[plane][][]int, order []plane, at []geom.Vec) {
	neighbours := map[int]map[int]bool{}
	note := func(a, b int) {
		if neighbours[a] == nil {
			neighbours[a] = map[int]bool{}
		}
		neighbours[a][b] = true
	}
	for _, p := range order {
		for _, l := range loops[p] {
			for i, v := range l {
				w := l[(i+1)%len(l)]
				note(v, w)
				note(w, v)
			}
		}
	}
	idle := map[int]bool{}
	for v, to := range neighbours {
		if len(to) != 2 {
			continue
		}
		var ends []int
		for w := range to {
			ends = append(ends, w)
		}
		a, b := at[ends[0]].Sub(at[v]), at[ends[1]].Sub(at[v])
		idle[v] = a.Dot(b) < 0 && a.Cross(b).Length() < Tiny*math.Max(1, a.Length()*b.Length()*1e-3)
	}
	for _, p := range order {
		for i, l := range loops[p] {
			loops[p][i] = slices.DeleteFunc(slices.Clone(l), func(v int) bool { return idle[v] })
		}
	}
}

var errEdge = errors.New("parts of the body hang together by an edge only")

// close makes edges and faces of the loops and checks that every edge is used once each way.
func (b *Body) close(loops map[plane][][]int, order []plane, normals map[plane]geom.Vec) error {
	number := map[[2]int]int{}
	uses := map[[2]int]int{}
	for _, p := range order {
		n := normals[p]
		var outer, holes [][]int
		for _, l := range loops[p] {
			if len(l) < 3 {
				return errEdge
			}
			if area(b.pointsOf(l), n) > 0 {
				outer = append(outer, l)
			} else {
				holes = append(holes, l)
			}
		}
		slices.SortStableFunc(outer, func(l, m []int) int {
			if area(b.pointsOf(l), n) < area(b.pointsOf(m), n) {
				return -1
			}
			return 1
		})
		mine := make([][][]int, len(outer))
		for _, h := range holes {
			for i, o := range outer {
				if b.inside(h, o, n) {
					mine[i] = append(mine[i], h)
					break
				}
			}
		}
		for i, o := range outer {
			f := Face{At: b.Vertices[o[0]], Normal: n}
			for _, l := range append([][]int{o}, mine[i]...) {
				var loop []Use
				for k, v := range l {
					w := l[(k+1)%len(l)]
					uses[[2]int{v, w}]++
					key := [2]int{min(v, w), max(v, w)}
					e, ok := number[key]
					if !ok {
						e = len(b.Edges)
						number[key] = e
						b.Edges = append(b.Edges, Edge{From: v, To: w})
					}
					loop = append(loop, Use{e, b.Edges[e].From != v})
				}
				f.Loops = append(f.Loops, loop)
			}
			b.Faces = append(b.Faces, f)
		}
	}
	for e, n := range uses {
		if n != 1 || uses[[2]int{e[1], e[0]}] != 1 {
			return errEdge
		}
	}
	return nil
}

func (b *Body) pointsOf(loop []int) []geom.Vec {
	out := make([]geom.Vec, len(loop))
	for i, v := range loop {
		out[i] = b.Vertices[v]
	}
	return out
}

// inside tells whether loop h lies within loop o of the same plane.
func (b *Body) inside(h, o []int, n geom.Vec) bool {
	u, v := across(n)
	flat := func(p geom.Vec) [2]float64 { return [2]float64{p.Dot(u), p.Dot(v)} }
	var ring [][2]float64
	for _, p := range b.pointsOf(o) {
		ring = append(ring, flat(p))
	}
	// The middle of an edge of h lies on no vertex of o.
	m := b.Vertices[h[0]].Add(b.Vertices[h[1]]).Scale(0.5)
	return contains(ring, flat(m))
}

// contains tells whether a point lies in a polygon, by counting crossings to its right.
func contains(ring [][2]float64, p [2]float64) bool {
	in := false
	for i, a := range ring {
		c := ring[(i+1)%len(ring)]
		if (a[1] > p[1]) != (c[1] > p[1]) && p[0] < a[0]+(p[1]-a[1])/(c[1]-a[1])*(c[0]-a[0]) {
			in = !in
		}
	}
	return in
}
