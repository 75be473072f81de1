package template

import (
	"fmt"
	"slices"
	"strings"

	"longgrain/internal/design/assembly"
	"longgrain/internal/ground/geom"
	"longgrain/internal/ground/unit"
	"longgrain/internal/paper/scene"
	"longgrain/internal/work/markout"
)

// view is a side of a part, or a stretch of it, seen from outside: x to the right, y up, from the lower left corner of the side.
type view struct {
	part     assembly.Part
	sheet    markout.Sheet
	side     assembly.Side
	up, left assembly.Side // the sides that border it above and on the left
	marks    []markout.Mark
	from, to float64 // the stretch that is drawn, in x
	profile  bool    // drawn for its outline
}

// Stretches of long sides, mm.
const (
	besideMarks = 15.0  // kept of the side beyond the outermost mark
	toTheEnd    = 120.0 // a reference end no further from the marks than this is part of the template, so that it can be laid against it
)

// views returns every side worth a template: ends with joints, the places of joints on long sides, and the sides that show a taper.
func views(a assembly.Assembly, m markout.Markout) []view {
	var out []view
	for i, sheet := range m.Sheets {
		r := sheet.References
		for _, side := range [6]assembly.Side{r.End, r.End.Opposite(), r.Face, r.Edge, r.Face.Opposite(), r.Edge.Opposite()} {
			v := newView(a.Parts[i], sheet, side)
			switch {
			case side.IsEnd() && len(v.marks) > 0:
				out = append(out, v)
			case !side.IsEnd():
				if (side == r.Face || side == r.Edge) && len(v.tapers()) > 0 {
					v.profile = true
					out = append(out, v)
				}
				out = append(out, v.stretches()...)
			}
		}
	}
	return out
}

func newView(p assembly.Part, sheet markout.Sheet, side assembly.Side) view {
	r := sheet.References
	v := view{part: p, sheet: sheet, side: side, up: r.Edge}
	if side.Axis() == r.Edge.Axis() {
		v.up = r.Face
	}
	v.left = r.End
	if side.IsEnd() {
		v.left = r.Face
	}
	if right := direction(v.up).Cross(direction(side)); right.Dot(direction(v.left)) > 0 {
		v.left = v.left.Opposite()
	}
	for _, m := range sheet.Marks {
		if m.Side == side && drawable(m, p.Features[m.Feature]) {
			v.marks = append(v.marks, m)
		}
	}
	v.to = v.width()
	return v
}

// drawable tells whether a cut has an outline on its side that a template can carry, and is worth one: joints are, slots for buttons
// and screws are not.
func drawable(m markout.Mark, f assembly.Feature) bool {
	if m.Mate == nil || f.Flare > 0 {
		return false
	}
	switch m.Kind {
	case assembly.Bore, assembly.Mortise, assembly.Tenon:
		return true
	case assembly.Notch:
		return m.Side.IsEnd()
	}
	return false
}

// direction returns the direction that a side looks in, in the frame of its part.
func direction(s assembly.Side) geom.Vec {
	if s.High() {
		return geom.Axis(s.Axis())
	}
	return geom.Axis(s.Axis()).Neg()
}

func (v view) width() float64  { return v.part.Size(v.left.Axis()).MM() }
func (v view) height() float64 { return v.part.Size(v.up.Axis()).MM() }

// place returns the point of the view at distances from two sides.
func (v view) place(alongFrom assembly.Side, along unit.Length, acrossFrom assembly.Side, across unit.Length) scene.Point {
	var p scene.Point
	for _, d := range []struct {
		from assembly.Side
		by   float64
	}{{alongFrom, along.MM()}, {acrossFrom, across.MM()}} {
		switch d.from {
		case v.left:
			p.X = d.by
		case v.left.Opposite():
			p.X = v.width() - d.by
		case v.up:
			p.Y = v.height() - d.by
		default:
			p.Y = d.by
		}
	}
	return p
}

func (v view) centre(m markout.Mark) scene.Point {
	return v.place(m.AlongFrom, m.Along, m.AcrossFrom, m.Across)
}

// outline returns opposite corners of a rectangular cut.
func (v view) outline(m markout.Mark) (lo, hi scene.Point) {
	x, y := m.AlongStations(), m.AcrossStations()
	a := v.place(m.AlongFrom, x[0], m.AcrossFrom, y[0])
	b := v.place(m.AlongFrom, x[len(x)-1], m.AcrossFrom, y[len(y)-1])
	return scene.Point{X: min(a.X, b.X), Y: min(a.Y, b.Y)}, scene.Point{X: max(a.X, b.X), Y: max(a.Y, b.Y)}
}

// reach returns how far the cuts of a view go along it.
func (v view) reach(marks []markout.Mark) (from, to float64) {
	from, to = v.width(), 0
	for _, m := range marks {
		c, r := v.centre(m), m.Diameter.MM()/2
		lo, hi := scene.Point{X: c.X - r}, scene.Point{X: c.X + r}
		if m.Kind != assembly.Bore {
			lo, hi = v.outline(m)
		}
		from, to = min(from, lo.X), max(to, hi.X)
	}
	return from, to
}

// stretches cuts a long side into one view for each connection.
func (v view) stretches() []view {
	var out []view
	var names []string
	of := map[string][]markout.Mark{}
	for _, m := range v.marks {
		if of[m.For] == nil {
			names = append(names, m.For)
		}
		of[m.For] = append(of[m.For], m)
	}
	for _, name := range names {
		s := v
		s.marks = of[name]
		from, to := s.reach(s.marks)
		s.from, s.to = max(0, from-besideMarks), min(v.width(), to+besideMarks)
		if v.left == v.sheet.References.End && from <= toTheEnd {
			s.from = 0
		}
		if v.left != v.sheet.References.End && v.width()-to <= toTheEnd {
			s.to = v.width()
		}
		out = append(out, s)
	}
	return out
}

// tapers returns the tapers that the outline of a view shows: those of its upper and lower neighbour.
func (v view) tapers() []assembly.Feature {
	var out []assembly.Feature
	for _, f := range v.part.Features {
		if f.Kind == assembly.TaperCut && f.Side.Axis() == v.up.Axis() {
			out = append(out, f)
		}
	}
	return out
}

// x returns where a coordinate along the grain lies in a view of a long side.
func (v view) x(along unit.Length) float64 {
	if v.left.High() {
		return v.width() - along.MM()
	}
	return along.MM()
}

// edges returns the upper and the lower border of a view with its tapers, each from left to right.
func (v view) edges() (upper, lower []scene.Point) {
	border := func(side assembly.Side, level, inward float64) []scene.Point {
		points := []scene.Point{{X: v.from, Y: level}, {X: v.to, Y: level}}
		for _, f := range v.tapers() {
			if !v.profile || f.Side != side {
				continue
			}
			start, foot := f.U, f.U+f.Length
			if !f.Rising {
				start, foot = foot, start
			}
			deep := scene.Point{X: v.x(foot), Y: level + inward*f.Depth.MM()}
			points = []scene.Point{{X: v.from, Y: level}, {X: v.x(start), Y: level}, deep}
			if deep.X < v.x(start) {
				points = []scene.Point{deep, {X: v.x(start), Y: level}, {X: v.to, Y: level}}
			}
		}
		return points
	}
	return border(v.up, v.height(), -1), border(v.up.Opposite(), 0, 1)
}

// key is the same for templates that are the same on paper.
func (v view) key() string {
	var b strings.Builder
	fmt.Fprintf(&b, "%t %.3f %.3f %.3f %s %s", v.profile, v.height(), v.to-v.from, v.dashed(), v.sheet.References.Role(v.up), v.word(v.left))
	upper, lower := v.edges()
	for _, p := range append(upper, lower...) {
		fmt.Fprintf(&b, " %.3f,%.3f", p.X-v.from, p.Y)
	}
	for _, m := range v.marks {
		c := v.centre(m)
		fmt.Fprintf(&b, "\n%s %.3f %.3f %d %d %d %d %t", m.What, c.X-v.from, c.Y, m.Diameter, m.Length, m.Width, m.Stop, m.Rounded)
	}
	return b.String()
}

// dashed returns how far a stretch begins from the reference end; 0 where it reaches it.
func (v view) dashed() float64 {
	if v.side.IsEnd() || v.profile {
		return 0
	}
	if v.left == v.sheet.References.End {
		return v.from
	}
	return v.width() - v.to
}

// word is what stands beside a border that is measured from; empty for other borders.
func (v view) word(s assembly.Side) string {
	r := v.sheet.References
	if s != r.Face && s != r.Edge && s != r.End {
		return ""
	}
	return strings.ToUpper(r.Role(s))
}

// name says what a template is for: "B1 left end".
func (v view) name(a assembly.Assembly) string {
	name := v.part.Mark + " " + strings.TrimPrefix(markout.SideName(a, v.sheet.Part, v.side), "the ")
	if v.profile {
		return name + ", to draw round"
	}
	return name
}

// instructions says what is to be done with a template, a line each.
func (v view) instructions(a assembly.Assembly) []string {
	out := counts(v.marks, a.Family)
	if v.profile {
		out = append(out, "Saw outside the line, plane to it")
	}
	if d := v.dashed(); d > 0 {
		out = append(out, v.dashedWords(unit.MM(d).Show(a.Family)))
	}
	return out
}

// dashedWords says where a template without an end is laid.
func (v view) dashedWords(distance string) string {
	hand := "left"
	if v.left != v.sheet.References.End {
		hand = "right"
	}
	return fmt.Sprintf("Lay the %s dashed line %s from the END", hand, distance)
}

// draw draws a view at full size.
func (v view) draw() scene.Scene {
	s := scene.New("")
	upper, lower := v.edges()
	s.Polyline(scene.Detail, upper...)
	s.Polyline(scene.Detail, lower...)
	left, right := [2]scene.Point{lower[0], upper[0]}, [2]scene.Point{lower[len(lower)-1], upper[len(upper)-1]}
	s.Line(border(v.from == 0), left[0], left[1])
	s.Line(border(v.to == v.width()), right[0], right[1])
	v.references(s, left, right, upper, lower)
	for _, m := range v.marks {
		v.cut(s, m)
	}
	return *s
}

// border is how the border of a stretch is drawn: as wood that ends there, or dashed where the part goes on.
func border(end bool) scene.Style {
	if end {
		return scene.Detail
	}
	return scene.Hidden
}

// references draws a heavy line outside each border that is measured from, with its word.
func (v view) references(s *scene.Scene, left, right [2]scene.Point, upper, lower []scene.Point) {
	heavy := func(a, b scene.Point, dx, dy float64, word string) {
		a, b = a.Plus(dx*outside, dy*outside), b.Plus(dx*outside, dy*outside)
		s.Line(scene.Emphasis, a, b)
		t := scene.Text{Style: scene.Emphasis, Text: word, Height: lettering, Weight: scene.Bold, Align: scene.Middle, At: scene.Point{X: (a.X+b.X)/2 + dx, Y: (a.Y+b.Y)/2 + dy}}
		switch {
		case dx != 0:
			t.Rotation = 90
			if dx > 0 {
				t.Rise = scene.CapTop
			}
		case dy < 0:
			t.Rise = scene.CapTop
		}
		s.Add(t)
	}
	whole := func(end bool) bool { return v.side.IsEnd() || end }
	if w := v.word(v.left); w != "" && whole(v.from == 0) {
		heavy(left[0], left[1], -1, 0, w)
	}
	if w := v.word(v.left.Opposite()); w != "" && whole(v.to == v.width()) {
		heavy(right[0], right[1], 1, 0, w)
	}
	straight := func(border []scene.Point) bool {
		return !slices.ContainsFunc(border, func(p scene.Point) bool { return p.Y != border[0].Y })
	}
	if w := v.word(v.up); w != "" && straight(upper) {
		heavy(upper[0], upper[len(upper)-1], 0, 1, w)
	}
	if w := v.word(v.up.Opposite()); w != "" && straight(lower) {
		heavy(lower[0], lower[len(lower)-1], 0, -1, w)
	}
}

// centreOver is how far a centre line stands out of its cut.
const centreOver = 2.5

// cut draws the outline of a cut with its centre lines.
func (v view) cut(s *scene.Scene, m markout.Mark) {
	c := v.centre(m)
	half := scene.Point{X: m.Diameter.MM() / 2, Y: m.Diameter.MM() / 2}
	if m.Kind == assembly.Bore {
		if m.Tilt == 0 {
			s.Circle(scene.Detail, c, half.X)
		}
	} else {
		lo, hi := v.outline(m)
		half = scene.Point{X: (hi.X - lo.X) / 2, Y: (hi.Y - lo.Y) / 2}
		s.Add(oblong(lo, hi, m.Rounded)...)
	}
	s.Line(scene.Dimension, c.Plus(-half.X-centreOver, 0), c.Plus(half.X+centreOver, 0))
	s.Line(scene.Dimension, c.Plus(0, -half.Y-centreOver), c.Plus(0, half.Y+centreOver))
}

// oblong returns the outline of a rectangular cut, with half-round ends when rounded.
func oblong(lo, hi scene.Point, rounded bool) []scene.Item {
	if !rounded {
		return []scene.Item{scene.Rectangle(scene.Detail, scene.NoFill, lo, hi)}
	}
	w, h := hi.X-lo.X, hi.Y-lo.Y
	r := min(w, h) / 2
	line := func(a, b scene.Point) scene.Item { return scene.Line{Style: scene.Detail, From: a, To: b} }
	arc := func(c scene.Point, start float64) scene.Item {
		return scene.Arc{Style: scene.Detail, Centre: c, Radius: r, Start: start, End: start + 180}
	}
	if w >= h {
		return []scene.Item{line(scene.Point{X: lo.X + r, Y: lo.Y}, scene.Point{X: hi.X - r, Y: lo.Y}), line(scene.Point{X: lo.X + r, Y: hi.Y}, scene.Point{X: hi.X - r, Y: hi.Y}),
			arc(scene.Point{X: hi.X - r, Y: lo.Y + r}, -90), arc(scene.Point{X: lo.X + r, Y: lo.Y + r}, 90)}
	}
	return []scene.Item{line(scene.Point{X: lo.X, Y: lo.Y + r}, scene.Point{X: lo.X, Y: hi.Y - r}), line(scene.Point{X: hi.X, Y: lo.Y + r}, scene.Point{X: hi.X, Y: hi.Y - r}),
		arc(scene.Point{X: lo.X + r, Y: hi.Y - r}, 0), arc(scene.Point{X: lo.X + r, Y: lo.Y + r}, 180)}
}
