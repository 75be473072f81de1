package scene

import (
	"cmp"
	"math"
	"slices"
)

// span is a linear dimension in the axes of its side.
type span struct {
	linear
	u0, u1 float64 // along the side, u0 <= u1
	v0, v1 float64 // where the measured points lie
}

// interval is a range along a side that a dimension line takes up.
type interval struct{ low, high float64 }

// side places all linear and running dimensions of one side, from the drawing outwards: short spans
// first, running rows last.
func (p *placer) side(side Side, all []linear, rows []running) {
	a := axes{side}
	spans := spansOf(a, all)
	p.passing = passing(a, spans, rows)
	var levels [][]interval
	for _, s := range spans {
		levels = p.linearLine(a, s, levels)
	}
	v := p.levelAt(a, len(levels))
	for _, r := range rows {
		if r.side == side && len(r.stations) > 0 {
			v = p.runningRow(a, r, v)
		}
	}
}

// spansOf returns the spans of one side, short ones first.
func spansOf(a axes, all []linear) []span {
	var out []span
	for _, l := range all {
		if l.side != a.side {
			continue
		}
		s := span{linear: l}
		s.u0, s.v0 = a.of(l.from)
		s.u1, s.v1 = a.of(l.to)
		if s.u0 > s.u1 {
			s.u0, s.u1, s.v0, s.v1 = s.u1, s.u0, s.v1, s.v0
		}
		out = append(out, s)
	}
	slices.SortStableFunc(out, func(s, t span) int {
		return cmp.Or(cmp.Compare(s.u1-s.u0, t.u1-t.u0), cmp.Compare(s.u0, t.u0))
	})
	return out
}

// levelAt returns how far out dimension line k of a side stands.
func (p *placer) levelAt(a axes, k int) float64 {
	return a.edge(p.drawing) + p.height*(firstLevel+float64(k)*nextLevel)
}

// choice is one way to write a label.
type choice struct {
	text  Text
	takes interval // what the dimension takes up along its side
	cost  int
}

// linearLine puts one dimension on the lowest level where it has room and returns the levels.
func (p *placer) linearLine(a axes, s span, levels [][]interval) [][]interval {
	for k := 0; ; k++ {
		if k == len(levels) {
			levels = append(levels, nil)
		}
		v := p.levelAt(a, k)
		best, ok := p.bestChoice(a, s, v, levels[k])
		if !ok {
			continue
		}
		levels[k] = append(levels[k], best.takes)
		p.drawLinear(a, s, v, best)
		return levels
	}
}

func (p *placer) bestChoice(a axes, s span, v float64, taken []interval) (choice, bool) {
	var best choice
	found := false
	for _, c := range p.choices(a, s, v) {
		if !c.takes.clear(taken) || !p.free(c.text) {
			continue
		}
		c.cost = p.crossings(c.text) + p.extensionsThrough(a, c.text)
		if !found || c.cost < best.cost {
			best, found = c, true
		}
	}
	return best, found
}

// clear reports whether the interval shares no more than an end with the others: dimensions in a chain
// stand on one line.
func (i interval) clear(taken []interval) bool {
	for _, t := range taken {
		if i.low < t.high-touchAllowed && t.low < i.high-touchAllowed {
			return false
		}
	}
	return true
}

// passing returns where along a side extension lines will run, so that labels can stand beside them.
func passing(a axes, spans []span, rows []running) []float64 {
	var out []float64
	for _, s := range spans {
		out = append(out, s.u0, s.u1)
	}
	for _, r := range rows {
		if r.side != a.side {
			continue
		}
		for _, st := range stationsOf(a, r.stations) {
			out = append(out, st.u)
		}
	}
	return out
}

// extensionsThrough counts the extension lines of the side that would run through the text if their
// dimensions stand further out.
func (p *placer) extensionsThrough(a axes, t Text) int {
	n := 0
	b := t.Quad().Bounds()
	low, _ := a.of(b.Min)
	high, _ := a.of(b.Max)
	low, high = min(low, high), max(low, high)
	for _, u := range p.passing {
		if low < u && u < high {
			n++
		}
	}
	return n
}

// labelShares are the places along a dimension line that a label tries, the middle first.
var labelShares = []float64{0.5, 0.38, 0.62, 0.26, 0.74, 0.14, 0.86}

// choices lists the ways to write the label, the best first: on the line, on it in small lettering, or
// beyond either end.
func (p *placer) choices(a axes, s span, v float64) []choice {
	length := s.u1 - s.u0
	for _, height := range []float64{p.height, min(p.height, SmallHeight)} {
		t := p.words(s.label)
		t.Height, t.Align, t.Rotation = height, Middle, a.rotation()
		w := t.Width()
		if w > length-labelGap {
			continue
		}
		var out []choice
		for _, share := range labelShares {
			u := min(max(s.u0+share*length, s.u0+w/2), s.u1-w/2)
			t.At = a.lift(a.at(u, v), textGap)
			out = append(out, choice{text: t, takes: interval{s.u0, s.u1}})
		}
		return out
	}
	t := p.words(s.label)
	t.Align, t.Rotation = Middle, a.rotation()
	w := t.Width()
	right, left := t, t
	right.At = a.lift(a.at(s.u1+arrowLength+w/2, v), textGap)
	left.At = a.lift(a.at(s.u0-arrowLength-w/2, v), textGap)
	return []choice{
		{text: right, takes: interval{s.u0, s.u1 + arrowLength + w}},
		{text: left, takes: interval{s.u0 - arrowLength - w, s.u1}},
	}
}

// drawLinear draws extension lines, dimension line, arrowheads and text. A line too short for two
// arrowheads ends in oblique strokes.
func (p *placer) drawLinear(a axes, s span, v float64, c choice) {
	p.extension(a, s.u0, s.v0, v)
	p.extension(a, s.u1, s.v1, v)
	from, to := a.at(s.u0, v), a.at(s.u1, v)
	p.add(Line{Dimension, a.at(c.takes.low, v), a.at(c.takes.high, v)})
	if s.u1-s.u0 < 3*arrowLength {
		p.add(stroke(from), stroke(to))
	} else {
		p.add(arrow(from, direction(to, from)), arrow(to, direction(from, to)))
	}
	p.add(c.text)
}

// stroke returns the short oblique line that ends a short dimension line.
func stroke(at Point) Line {
	const half = arrowLength / 2 * 0.7
	return Line{Detail, at.Plus(-half, -half), at.Plus(half, half)}
}

// extension draws an extension line from the measured point at v0 past the dimension line at v.
func (p *placer) extension(a axes, u, v0, v float64) {
	p.add(Line{Dimension, a.at(u, v0+extensionGap), a.at(u, v+extensionOver)})
}

// alignedLine places a dimension parallel to the line between its points, moving it outwards until
// its text is free.
func (p *placer) alignedLine(l linear) {
	along := unit(Point{l.to.X - l.from.X, l.to.Y - l.from.Y})
	out := Point{-along.Y, along.X}
	angle := math.Atan2(along.Y, along.X) * 180 / math.Pi
	upright := angle
	if angle > 90 || angle <= -90 {
		upright = angle + 180
	}
	for offset := p.height * firstLevel; ; offset += p.height * nextLevel {
		from, to := l.from.Plus(offset*out.X, offset*out.Y), l.to.Plus(offset*out.X, offset*out.Y)
		t := p.words(l.label)
		t.Align, t.Rotation = Middle, upright
		t.At = turned(between(from, to, 0.5), 0, textGap, upright)
		if !p.free(t) {
			continue
		}
		for _, e := range [2][2]Point{{l.from, from}, {l.to, to}} {
			p.add(Line{Dimension, e[0].Plus(extensionGap*out.X, extensionGap*out.Y), e[1].Plus(extensionOver*out.X, extensionOver*out.Y)})
		}
		p.add(Line{Dimension, from, to}, arrow(from, Point{-along.X, -along.Y}), arrow(to, along), t)
		return
	}
}
