package geom

import "math"

// Gap is the least distance of two bodies and the points where it is found.
type Gap struct {
	Distance float64 // mm; 0 when the bodies touch or overlap
	A, B     Vec     // nearest points; where the bodies overlap, a common point
}

// Limits of the search for the nearest points. The search stops when the distance found exceeds the proven lower bound
// by less than gapError, far below Touch; gapSteps has never been reached by bodies of a piece of furniture.
const (
	gapError = 1e-7 // mm
	gapSteps = 400
)

// Between returns the least distance of two convex bodies.
//
// Idea: the difference a - b of two convex bodies is convex, and its point nearest to the origin is the gap. Walk there
// over simplices of its corners: take the point v of the simplex nearest to the origin, the corner w furthest against v,
// and stop when w lies no nearer than v. Then v·w/|v| is a lower bound of the distance, and |v| an upper one.
//
// Source: Gilbert, Johnson and Keerthi 1988, from memory; the simplex step tries every subset of at most four corners.
func Between(a, b Solid) Gap {
	v := a.Middle().Sub(b.Middle())
	if v.Dot(v) == 0 {
		return Gap{0, a.Middle(), b.Middle()}
	}
	var s simplex
	best := math.Inf(1)
	for range gapSteps {
		p, q := a.Support(v.Neg()), b.Support(v)
		w := vertex{p, q, p.Sub(q)}
		l := v.Length()
		if s.n > 0 && (l-v.Dot(w.d)/l <= gapError || s.has(w.d) || l >= best) {
			break
		}
		if s.n > 0 {
			best = l
		}
		s.add(w)
		part, at, ok := s.nearest()
		if !ok {
			break
		}
		s, v = part, at
		if s.n == 4 || v.Length() < gapError {
			p, _ := s.points()
			return Gap{0, p, p}
		}
	}
	p, q := s.points()
	return Gap{p.Distance(q), p, q}
}

// vertex is a corner of the difference of two bodies, with the points it comes from.
type vertex struct {
	a, b, d Vec
}

// simplex is at most four corners.
type simplex struct {
	n  int
	at [4]vertex
}

func (s *simplex) add(x vertex) {
	s.at[s.n] = x
	s.n++
}

func (s *simplex) has(d Vec) bool {
	for _, x := range s.at[:s.n] {
		if x.d == d {
			return true
		}
	}
	return false
}

// nearest returns the smallest part of the simplex that holds its point nearest to the origin, and that point. False when
// rounding leaves none.
func (s *simplex) nearest() (best simplex, at Vec, ok bool) {
	least := math.Inf(1)
	for bits := 1; bits < 1<<s.n; bits++ {
		var part simplex
		for i := range s.n {
			if bits>>i&1 == 1 {
				part.add(s.at[i])
			}
		}
		weights, inside := part.weights()
		if !inside {
			continue
		}
		var v Vec
		for i := range part.n {
			v = v.Add(part.at[i].d.Scale(weights[i]))
		}
		if l := v.Dot(v); l < least*(1-1e-14) {
			best, at, least = part, v, l
		}
	}
	return best, at, best.n > 0
}

// weights returns the weights, adding up to one, of the point nearest to the origin in the plane through all corners.
// False when it does not lie between them.
func (s *simplex) weights() ([4]float64, bool) {
	var out [4]float64
	if s.n == 1 {
		out[0] = 1
		return out, true
	}
	// With e_i = d_i - d_0: minimise |d_0 + Σ λ_i e_i|², so Σ_j (e_i·e_j) λ_j = -e_i·d_0.
	n := s.n - 1
	var m [3][4]float64
	for i := range n {
		ei := s.at[i+1].d.Sub(s.at[0].d)
		for j := range n {
			m[i][j] = ei.Dot(s.at[j+1].d.Sub(s.at[0].d))
		}
		m[i][3] = -ei.Dot(s.at[0].d)
	}
	if !eliminate(&m, n) {
		return out, false
	}
	out[0] = 1
	for i := range n {
		out[i+1] = m[i][3]
		out[0] -= m[i][3]
	}
	for _, w := range out[:n+1] {
		if w < -1e-12 {
			return out, false
		}
	}
	return out, true
}

// eliminate solves n equations in place; the solution stands in the last column.
func eliminate(m *[3][4]float64, n int) bool {
	for c := range n {
		pivot := c
		for r := c + 1; r < n; r++ {
			if math.Abs(m[r][c]) > math.Abs(m[pivot][c]) {
				pivot = r
			}
		}
		m[c], m[pivot] = m[pivot], m[c]
		if math.Abs(m[c][c]) < 1e-13 {
			return false
		}
		for r := range n {
			if r == c {
				continue
			}
			f := m[r][c] / m[c][c]
			for k := c; k < n; k++ {
				m[r][k] -= f * m[c][k]
			}
			m[r][3] -= f * m[c][3]
		}
	}
	for r := range n {
		m[r][3] /= m[r][r]
	}
	return true
}

// points returns the points of the two bodies that belong to the point of the simplex nearest to the origin.
func (s *simplex) points() (a, b Vec) {
	weights, ok := s.weights()
	if !ok {
		return s.at[0].a, s.at[0].b
	}
	for i := range s.n {
		a, b = a.Add(s.at[i].a.Scale(weights[i])), b.Add(s.at[i].b.Scale(weights[i]))
	}
	return a, b
}

// Apart returns how far a must be moved in a unit direction until it lies at least gap from b, mm. It is 0 when it does
// so already.
//
// The distance of two convex bodies is a convex function of the way that one is moved, so the ways that are too near form
// one interval, and halving finds its end.
func Apart(a, b Solid, direction Vec, gap float64) float64 {
	near := func(t float64) bool {
		d := Between(Moved{a, direction.Scale(t)}, b).Distance
		return d < gap || d == 0
	}
	if !near(0) {
		return 0
	}
	lo, hi := 0.0, b.Support(direction).Dot(direction)-a.Support(direction.Neg()).Dot(direction)+gap+Touch
	for range 60 {
		if hi-lo < gapError {
			break
		}
		if mid := (lo + hi) / 2; near(mid) {
			lo = mid
		} else {
			hi = mid
		}
	}
	return hi
}
