package drawing

import (
	"cmp"
	"math"
	"slices"

	"longgrain/internal/ground/geom"
	"longgrain/internal/paper/scene"
)

// looking is a parallel projection: where right, up and the viewer lie in the world. The three are
// square to each other and of length one.
type looking struct {
	right, up, toward geom.Vec
}

// onPaper returns where a point of the world lies in the view, in model mm.
func (l looking) onPaper(p geom.Vec) scene.Point {
	return scene.Point{X: p.Dot(l.right), Y: p.Dot(l.up)}
}

// stroke is a straight line of a view in model mm.
type stroke struct {
	from, to scene.Point
	hidden   bool
}

// skin is how far inside a body a line of sight must pass to be stopped, mm. It lets edges that lie
// on the surface of a body be seen, and is far below anything drawn.
const skin = 1e-3

// strokes returns the edges of all bodies as seen: what is visible in full lines, the rest hidden.
// Edges that fall together are drawn once, and a visible line covers hidden ones.
//
// Method: a point of an edge is hidden by a convex body when the line from it towards the viewer
// passes through the inside of the body. With t along the edge and s towards the viewer that is a
// set of linear inequalities; taking s out of them leaves the interval of t that the body hides,
// exactly, with no sampling.
func strokes(all []solid, l looking) []stroke {
	shadows := make([]scene.Box, len(all))
	for i, s := range all {
		shadows[i] = shadow(s, l)
	}
	var lines []sightLine
	for _, s := range all {
		for _, e := range s.edges {
			from, to := l.onPaper(e[0]), l.onPaper(e[1])
			if math.Hypot(to.X-from.X, to.Y-from.Y) < skin {
				continue
			}
			var covered []span
			for k := range all {
				if beside(from, to, shadows[k]) {
					continue
				}
				if h, ok := hiddenBy(e, all[k], l.toward); ok {
					covered = append(covered, h)
				}
			}
			lines = append(lines, sightLine{from, to, without(span{0, 1}, union(covered, 0))})
		}
	}
	return mergeLines(lines)
}

// shadow returns the smallest upright box around a body in the view.
func shadow(s solid, l looking) scene.Box {
	p := l.onPaper(s.edges[0][0])
	b := scene.Box{Min: p, Max: p}
	for _, e := range s.edges {
		for _, v := range e {
			p := l.onPaper(v)
			b = b.Union(scene.Box{Min: p, Max: p})
		}
	}
	return b
}

// beside tells early that a line lies beside a box.
func beside(from, to scene.Point, b scene.Box) bool {
	return max(from.X, to.X) < b.Min.X || min(from.X, to.X) > b.Max.X || max(from.Y, to.Y) < b.Min.Y || min(from.Y, to.Y) > b.Max.Y
}

// span is an interval along a line, as shares of its length or in mm.
type span struct{ low, high float64 }

// sightLine is one edge of a view with its visible spans, as shares of its length.
type sightLine struct {
	from, to scene.Point
	visible  []span
}

// hiddenBy returns the span of an edge that a convex body hides from a viewer in a direction.
func hiddenBy(e [2]geom.Vec, s solid, toward geom.Vec) (span, bool) {
	along := e[1].Sub(e[0])
	// A bound on s is a + b·t; the first lower bound says that the body lies before the edge.
	type bound struct{ a, b float64 }
	lower, upper := []bound{{0, 0}}, []bound(nil)
	out := span{0, 1}
	for _, f := range s.faces {
		room := bound{f.d - skin - f.n.Dot(e[0]), -f.n.Dot(along)}
		c := f.n.Dot(toward)
		switch {
		case math.Abs(c) < 1e-12: // the line of sight runs along the face
			out = out.where(room.a, room.b)
		case c > 0:
			upper = append(upper, bound{room.a / c, room.b / c})
		default:
			lower = append(lower, bound{room.a / c, room.b / c})
		}
	}
	for _, lo := range lower {
		for _, hi := range upper {
			out = out.where(hi.a-lo.a, hi.b-lo.b)
		}
	}
	return out, out.high > out.low
}

// where returns the part of the span on which a + b·t is above 0.
func (s span) where(a, b float64) span {
	switch {
	case math.Abs(b) < 1e-12:
		if a <= 0 {
			return span{0, 0}
		}
	case b > 0:
		s.low = max(s.low, -a/b)
	default:
		s.high = min(s.high, -a/b)
	}
	return s
}

// union returns the spans sorted, with those joined that overlap or lie no further apart than gap.
func union(in []span, gap float64) []span {
	slices.SortFunc(in, func(x, y span) int { return cmp.Or(cmp.Compare(x.low, y.low), cmp.Compare(x.high, y.high)) })
	var out []span
	for _, s := range in {
		if n := len(out); n > 0 && s.low <= out[n-1].high+gap {
			out[n-1].high = max(out[n-1].high, s.high)
			continue
		}
		out = append(out, s)
	}
	return out
}

// without returns what is left of a span beside the sorted spans.
func without(all span, taken []span) []span {
	var out []span
	at := all.low
	for _, t := range taken {
		if t.low > at {
			out = append(out, span{at, min(t.low, all.high)})
		}
		at = max(at, t.high)
		if at >= all.high {
			return out
		}
	}
	return append(out, span{at, all.high})
}

// carrier is an endless line of the view on which strokes may fall together: its direction and its
// distance from the origin, rounded so that lines differing only by noise are one.
type carrier struct{ angle, offset int64 }

// mergeLines brings edges that lie on one line of the view together: visible spans are joined, hidden
// ones kept only where nothing visible lies over them.
func mergeLines(lines []sightLine) []stroke {
	type bundle struct {
		dir, foot        scene.Point // unit direction, and the point of the line nearest the origin
		visible, covered []span
	}
	bundles := map[carrier]*bundle{}
	var order []carrier
	for _, l := range lines {
		dir := direction(l.from, l.to)
		if dir.X < -1e-9 || (math.Abs(dir.X) <= 1e-9 && dir.Y < 0) {
			dir = scene.Point{X: -dir.X, Y: -dir.Y}
		}
		offset := -dir.Y*l.from.X + dir.X*l.from.Y
		key := carrier{int64(math.Round(math.Atan2(dir.Y, dir.X) * 1e5)), int64(math.Round(offset * 100))}
		b := bundles[key]
		if b == nil {
			b = &bundle{dir: dir, foot: scene.Point{X: -dir.Y * offset, Y: dir.X * offset}}
			bundles[key] = b
			order = append(order, key)
		}
		at := func(share float64) float64 {
			p := scene.Point{X: l.from.X + share*(l.to.X-l.from.X), Y: l.from.Y + share*(l.to.Y-l.from.Y)}
			return p.X*b.dir.X + p.Y*b.dir.Y
		}
		for _, s := range l.visible {
			b.visible = append(b.visible, ordered(at(s.low), at(s.high)))
		}
		b.covered = append(b.covered, ordered(at(0), at(1)))
	}
	var out []stroke
	for _, key := range order {
		b := bundles[key]
		add := func(s span, hidden bool) {
			if s.high-s.low < 2*skin {
				return
			}
			out = append(out, stroke{b.foot.Plus(s.low*b.dir.X, s.low*b.dir.Y), b.foot.Plus(s.high*b.dir.X, s.high*b.dir.Y), hidden})
		}
		visible := union(b.visible, 2*skin)
		for _, s := range visible {
			add(s, false)
		}
		for _, s := range union(b.covered, 2*skin) {
			for _, rest := range without(s, visible) {
				add(rest, true)
			}
		}
	}
	return out
}

func ordered(a, b float64) span { return span{min(a, b), max(a, b)} }

// direction returns the unit vector from a to b.
func direction(a, b scene.Point) scene.Point {
	l := math.Hypot(b.X-a.X, b.Y-a.Y)
	return scene.Point{X: (b.X - a.X) / l, Y: (b.Y - a.Y) / l}
}
