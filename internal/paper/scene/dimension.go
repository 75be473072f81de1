package scene

import (
	"math"
	"slices"
)

// Side is where a dimension stands, seen from the drawing. Above and Below measure along x, LeftOf
// and RightOf along y.
type Side int

// The four sides.
const (
	Above Side = iota
	Below
	LeftOf
	RightOf
)

// Station is one place measured from a datum: the point itself and the words to write.
type Station struct {
	At    Point
	Label string
}

// Dimensions collects what a drawing has to tell in figures and words and places it with Place, once
// the lines of the drawing stand. The caller gives points on paper and finished labels, because only
// the caller knows the true size and the unit.
//
// Style follows ISO 129-1 (from memory): thin extension lines with a gap to the drawing, filled
// arrowheads, text above the line and readable from below or from the right. Short dimensions stand
// inside long ones. Labels are moved, raised or led out until no two texts overlap.
type Dimensions struct {
	// Height of the lettering; 0 means NoteHeight.
	Height float64

	linear  []linear
	aligned []linear
	running []running
	labels  []areaLabel
	notes   []note
}

type linear struct {
	side     Side
	from, to Point
	label    string
}

type running struct {
	side     Side
	datum    Point
	stations []Station
}

type areaLabel struct {
	area  Box
	label string
}

// note is a label with a leader to a point, or to the rim of a circle where radius is not 0.
type note struct {
	at     Point
	radius float64
	label  string
}

// Linear asks for the distance between two points, measured along x above or below the drawing or
// along y beside it.
func (d *Dimensions) Linear(side Side, from, to Point, label string) {
	d.linear = append(d.linear, linear{side, from, to, label})
}

// Aligned asks for the distance between two points measured along the line between them, written on
// the left of the way from the first to the second.
func (d *Dimensions) Aligned(from, to Point, label string) {
	d.aligned = append(d.aligned, linear{Above, from, to, label})
}

// Running asks for a row of dimensions that all start at the datum, each written at its station.
func (d *Dimensions) Running(side Side, datum Point, stations ...Station) {
	d.running = append(d.running, running{side, datum, stations})
}

// Diameter asks for a label with an arrow to the rim of a circle; the caller writes the sign.
func (d *Dimensions) Diameter(centre Point, radius float64, label string) {
	d.notes = append(d.notes, note{centre, radius, label})
}

// Note asks for a label with a leader to a point.
func (d *Dimensions) Note(at Point, label string) {
	d.notes = append(d.notes, note{at: at, label: label})
}

// Label asks for words inside an area: lying, standing or small, whichever fits first, and with a
// leader from outside where none does.
func (d *Dimensions) Label(area Box, label string) {
	d.labels = append(d.labels, areaLabel{area, label})
}

// Sizes of dimensions in millimetres, after ISO 129-1 (from memory) where it gives one, else common
// practice. Those given as a share grow with the lettering.
const (
	arrowLength   = 2.5
	arrowWidth    = 0.8
	extensionGap  = 1.0 // free paper between the drawing and an extension line
	extensionOver = 1.5 // extension line beyond the dimension line
	textGap       = 0.8 // between dimension line and text
	labelGap      = 1.0 // between labels side by side
	firstLevel    = 3.2 // distance of the first dimension line from the drawing, in lettering heights
	nextLevel     = 2.8 // distance between dimension lines, in lettering heights
)

// Place writes everything asked for into the scene. The order is fixed: labels in areas, which have
// the least room to move; then dimensions along the four sides; then notes and the labels that found no
// room, with leaders, which can go anywhere.
func (d *Dimensions) Place(s *Scene) {
	p := newPlacer(s, d.Height)
	var outside []note
	for _, l := range d.labels {
		if !p.label(l) {
			outside = append(outside, note{at: l.area.Centre(), label: l.label})
		}
	}
	p.drawing = s.Bounds().Union(boundsOf(p.items))
	for _, side := range []Side{Above, Below, LeftOf, RightOf} {
		p.side(side, d.linear, d.running)
	}
	for _, l := range d.aligned {
		p.alignedLine(l)
	}
	for _, n := range append(outside, d.notes...) {
		p.leader(n)
	}
	s.Add(p.items...)
}

// placer holds what is already on paper while dimensions are placed.
type placer struct {
	height  float64
	drawing Box
	texts   []Quad    // texts that must stay free
	lines   []Line    // lines that a label should rather not cross
	items   []Item    // what was placed
	passing []float64 // where extension lines of the side now being placed run
	hatched []Box     // areas with hatch lines
}

func newPlacer(s *Scene, height float64) *placer {
	if height == 0 {
		height = NoteHeight
	}
	p := &placer{height: height}
	s.Walk(p.note)
	return p
}

// add puts items on the drawing and remembers them as obstacles.
func (p *placer) add(items ...Item) {
	for _, it := range items {
		p.items = append(p.items, it)
		p.note(it)
	}
}

// circleSides is the number of straight lines that stand for a circle as an obstacle.
const circleSides = 16

// note remembers one item as an obstacle.
func (p *placer) note(it Item) {
	switch it := it.(type) {
	case Text:
		if it.Text != "" {
			p.texts = append(p.texts, it.Quad())
		}
	case Line:
		p.lines = append(p.lines, it)
	case Polyline:
		p.rows(it.Points)
	case Polygon:
		if it.Style != NoLine && len(it.Points) > 0 {
			p.rows(append(slices.Clone(it.Points), it.Points[0]))
		}
		if it.Hatch != NoHatch {
			p.hatched = append(p.hatched, it.bounds())
		}
	case Circle:
		p.arc(it.Centre, it.Radius, 0, 360)
	case Arc:
		p.arc(it.Centre, it.Radius, it.Start, it.Sweep())
	}
}

func (p *placer) rows(points []Point) {
	for i := 1; i < len(points); i++ {
		p.lines = append(p.lines, Line{From: points[i-1], To: points[i]})
	}
}

func (p *placer) arc(c Point, r, start, sweep float64) {
	for i := range circleSides {
		a := start + sweep*float64(i)/circleSides
		p.lines = append(p.lines, Line{From: polar(c, r, a), To: polar(c, r, a+sweep/circleSides)})
	}
}

// free reports whether a text may stand there without touching another text.
func (p *placer) free(t Text) bool {
	q := t.grown()
	for _, other := range p.texts {
		if q.Overlaps(other, 0) {
			return false
		}
	}
	return true
}

// textMargin is the free paper kept around a text, in millimetres.
const textMargin = 0.4

// grown returns the box of the text with a margin.
func (t Text) grown() Quad {
	q := t.Quad()
	a, b := q.side(0), q.side(1)
	out := q
	for i, sign := range [4][2]float64{{-1, -1}, {1, -1}, {1, 1}, {-1, 1}} {
		dx := textMargin * (sign[0]*a.X + sign[1]*b.X)
		dy := textMargin * (sign[0]*a.Y + sign[1]*b.Y)
		out[i] = q[i].Plus(dx, dy)
	}
	return out
}

// crossings counts the lines that run through the text or close by it.
func (p *placer) crossings(t Text) int {
	n, q := 0, t.grown()
	b := q.Bounds()
	for _, l := range p.lines {
		if b.near(l.From, l.To) && q.Crosses(l.From, l.To) {
			n++
		}
	}
	return n
}

// words returns a text of the placer's lettering in the dimension style.
func (p *placer) words(label string) Text {
	return Text{Style: Dimension, Text: label, Height: p.height}
}

// arrow returns a filled arrowhead with its tip at a point, pointing in a direction.
func arrow(tip, direction Point) Polygon {
	u := unit(direction)
	back := tip.Plus(-arrowLength*u.X, -arrowLength*u.Y)
	half := arrowWidth / 2
	return Polygon{Style: NoLine, Fill: InkFill, Points: []Point{
		tip, back.Plus(-half*u.Y, half*u.X), back.Plus(half*u.Y, -half*u.X),
	}}
}

// Arrow appends a line in the given style with an arrowhead at its end.
func (s *Scene) Arrow(style Style, from, to Point) {
	s.Add(Line{style, from, to}, arrow(to, Point{to.X - from.X, to.Y - from.Y}))
}

// axes turns the four sides into one: u runs along the side, v away from the drawing.
type axes struct{ side Side }

// at returns the point on paper.
func (a axes) at(u, v float64) Point {
	switch a.side {
	case Above:
		return Point{u, v}
	case Below:
		return Point{u, -v}
	case LeftOf:
		return Point{-v, u}
	}
	return Point{v, u}
}

// of returns u and v of a point on paper.
func (a axes) of(p Point) (u, v float64) {
	switch a.side {
	case Above:
		return p.X, p.Y
	case Below:
		return p.X, -p.Y
	case LeftOf:
		return p.Y, -p.X
	}
	return p.Y, p.X
}

// edge returns how far the box reaches out on this side.
func (a axes) edge(b Box) float64 {
	_, v := a.of(b.Min)
	_, w := a.of(b.Max)
	return math.Max(v, w)
}

// rotation of text that runs along the side.
func (a axes) rotation() float64 {
	if a.side == LeftOf || a.side == RightOf {
		return 90
	}
	return 0
}

// lift moves a point on a dimension line to the baseline of its text: up for lying text, to the left
// for standing text.
func (a axes) lift(p Point, d float64) Point {
	if a.rotation() == 90 {
		return p.Plus(-d, 0)
	}
	return p.Plus(0, d)
}
