package forces

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"longgrain/internal/book/drawing"
	"longgrain/internal/ground/unit"
	"longgrain/internal/paper/scene"
)

// Sizes of a diagram, paper mm.
const (
	lettering  = drawing.Lettering
	line       = lettering * 1.6 // from one line of words to the next
	partTall   = 30.0            // the part is drawn no taller than this, unless it would get shorter than partLong
	partLong   = 60.0
	partMost   = 40.0  // and never taller than this
	laneTall   = 20.0  // the largest curve of a scale, where there is room,
	laneLeast  = 11.0  // and at least
	mostTall   = 205.0 // of the whole drawing
	laneLow    = 2.5   // a curve of nearly nothing
	laneGap    = 2.0
	valueRoom  = lettering + 1.6 // above and below a curve for its greatest and least value
	labelShare = 0.04            // of the largest curve of the scale: smaller values are not written
)

// Draw draws the part lying, in its own proportions with its joints, and under it each force over the same length, filled to its line, with
// its greatest and least value. Curves of one unit are drawn to one scale. The drawing is as wide as the given room, mm.
func Draw(d Diagram, room float64) scene.Scene {
	for tall := laneTall; ; tall -= 3 {
		s := draw(d, room, tall)
		if _, h := s.Size(); h <= mostTall || tall <= laneLeast {
			return s
		}
	}
}

func draw(d Diagram, room, tall float64) scene.Scene {
	s := scene.New("Forces along the " + d.Part)
	s.ID = "forces"
	s.Description = d.describe()
	k := min(room/d.Length, max(partTall/d.Width, partLong/d.Length), partMost/d.Width)
	c := chart{Scene: s, d: d, k: k, left: (room - k*d.Length) / 2, room: room, tall: tall}
	top := c.part()
	for _, lane := range c.lanes() {
		top = c.lane(lane, top)
	}
	c.foot(top)
	s.Items = append(c.marks, s.Items...)
	return *s
}

// chart is a diagram that is being drawn. The part's low end is at the left.
type chart struct {
	*scene.Scene
	d          Diagram
	k          float64 // paper mm for each mm of the part
	left, room float64
	tall       float64      // of the largest curve of a scale
	marks      []scene.Item // lines through joints, under everything else
}

func (c *chart) at(x float64) float64 { return c.left + c.k*x }

func (c *chart) words(at scene.Point, text string, align scene.Align) scene.Text {
	return scene.Text{Style: scene.Words, At: at, Text: text, Height: lettering, Align: align, Backed: true}
}

// label is a text that wants to stand in the middle over a place.
type label struct {
	at    float64
	texts []string
}

// row sets labels beside each other: those at one place share a text, and what would lie on another moves aside.
func (c *chart) row(y float64, labels []label, rise scene.Rise) {
	slices.SortStableFunc(labels, func(a, b label) int { return cmp.Compare(a.at, b.at) })
	var merged []label
	for _, l := range labels {
		if n := len(merged) - 1; n >= 0 && l.at-merged[n].at < 2 {
			merged[n].texts = append(merged[n].texts, l.texts...)
			continue
		}
		merged = append(merged, l)
	}
	texts := make([]scene.Text, len(merged))
	right := -1.0
	for i, l := range merged {
		texts[i] = c.words(scene.Point{X: l.at, Y: y}, strings.Join(slices.Compact(l.texts), ", "), scene.Middle)
		texts[i].Rise = rise
		half := texts[i].Width() / 2
		texts[i].At.X = max(min(l.at, c.room-half), half, right+half+1.5)
		right = texts[i].At.X + half
	}
	for i, left := len(texts)-1, c.room; i >= 0; i-- { // what was moved out at the right moves the others back
		half := texts[i].Width() / 2
		texts[i].At.X = min(texts[i].At.X, left-half)
		left = texts[i].At.X - half - 1.5
	}
	for _, t := range texts {
		c.Add(t)
	}
}

// part draws the part with what is joined to it, and returns the height below.
func (c *chart) part() float64 {
	var names []label
	for _, j := range c.d.Joints {
		names = append(names, label{c.at(j.At), []string{j.Mark}})
	}
	c.row(1.5, names, scene.Baseline)
	tall := c.k * c.d.Width
	y := func(across float64) float64 { return -tall + c.k*across }
	c.Rectangle(scene.NoLine, scene.PartFill, scene.Point{X: c.at(0), Y: -tall}, scene.Point{X: c.at(c.d.Length)})
	for _, j := range c.d.Joints {
		const thin = 1.6 // an end is seen from its side: its contact is drawn as a strip this wide
		from, to, low, high := c.at(j.From), c.at(j.To), y(j.Across), y(j.Beyond)
		if to-from < thin {
			if j.At > c.d.Length/2 {
				from = to - thin
			} else {
				to = from + thin
			}
		}
		if high-low < thin {
			if j.Across > c.d.Width/2 {
				low = high - thin
			} else {
				high = low + thin
			}
		}
		c.Rectangle(scene.Detail, scene.PartFill2, scene.Point{X: from, Y: low}, scene.Point{X: to, Y: high})
	}
	c.Rectangle(scene.Outline, scene.NoFill, scene.Point{X: c.at(0), Y: -tall}, scene.Point{X: c.at(c.d.Length)})
	low, high := c.words(scene.Point{X: c.at(0), Y: -tall - 1.5}, c.d.Ends[0]+" end", scene.Left), c.words(scene.Point{X: c.at(c.d.Length), Y: -tall - 1.5}, c.d.Ends[1]+" end", scene.Right)
	low.Rise, high.Rise = scene.CapTop, scene.CapTop
	if low.Width()+high.Width()+3 > c.k*c.d.Length {
		low.Align, low.At.X, high.Align, high.At.X = scene.Right, c.at(c.d.Length/2)-1, scene.Left, c.at(c.d.Length/2)+1
	}
	c.Add(low, high)
	return -tall - 1.5 - line
}

// lane is a curve with the height that it is drawn with.
type lane struct {
	Curve
	most, least         int     // indices of its greatest and least value
	up, down            float64 // paper mm above and below its line
	showMost, showLeast bool
}

// lanes gives each curve its height: curves to one scale share the height of the largest.
func (c *chart) lanes() []lane {
	largest := map[int]float64{}
	for i, k := range kinds {
		v := c.d.Curves[i]
		most, least := v.Extremes()
		largest[k.scale] = max(largest[k.scale], max(v.Of[most], 0)-min(v.Of[least], 0))
	}
	out := make([]lane, len(kinds))
	for i, k := range kinds {
		l := lane{Curve: c.d.Curves[i]}
		l.most, l.least = l.Extremes()
		high, low, whole := max(l.Of[l.most], 0), max(-l.Of[l.least], 0), largest[k.scale]
		if whole > 0 {
			l.up, l.down = c.tall*high/whole, c.tall*low/whole
		}
		l.showMost, l.showLeast = high > labelShare*whole, low > labelShare*whole
		out[i] = l
	}
	return out
}

// lane draws one curve below a height and returns the height below it.
func (c *chart) lane(l lane, top float64) float64 {
	name := c.words(scene.Point{Y: top - laneGap}, upperFirst(l.Name)+", "+l.Unit, scene.Left)
	name.Weight, name.Rise = scene.Bold, scene.CapTop
	note := c.words(name.At, "", scene.Left)
	switch note.Rise = scene.CapTop; {
	case l.Above == "":
	case l.showMost:
		note.Text = "above: " + l.Above
	case l.showLeast:
		note.Text = "below: " + l.Below
	}
	name.At.X = max(0, min(c.at(0), c.room-name.Width()-2-note.Width()))
	note.At.X = name.At.X + name.Width() + 2
	if c.Add(name); note.Text != "" {
		c.Add(note)
	}
	top -= laneGap + line
	if !l.showMost && !l.showLeast {
		none := "nothing worth drawing"
		if size := l.Size(); size > 0 {
			none = "at most " + show(size, l.Unit)
		}
		c.Line(scene.Frame, scene.Point{X: c.at(0), Y: top - laneLow}, scene.Point{X: c.at(c.d.Length), Y: top - laneLow})
		t := c.words(scene.Point{X: c.at(c.d.Length / 2), Y: top - laneLow}, none, scene.Middle)
		t.Rise, t.Style = scene.MidHeight, scene.Muted
		c.Add(t)
		return top - 2*laneLow
	}
	zero := top - l.up
	if l.showMost {
		zero -= valueRoom
	}
	y := func(v float64) float64 {
		if v > 0 {
			return zero + l.up*v/l.Of[l.most]
		}
		if v < 0 {
			return zero - l.down*v/l.Of[l.least]
		}
		return zero
	}
	ring := []scene.Point{{X: c.at(l.At[0]), Y: zero}}
	for i, v := range l.Of {
		ring = append(ring, scene.Point{X: c.at(l.At[i]), Y: y(v)})
	}
	ring = append(ring, scene.Point{X: c.at(l.At[len(l.At)-1]), Y: zero})
	c.Add(scene.Polygon{Style: scene.NoLine, Fill: scene.PartFill, Points: ring})
	c.Polyline(scene.Outline, ring...)
	c.Line(scene.Frame, scene.Point{X: c.at(0), Y: zero}, scene.Point{X: c.at(c.d.Length), Y: zero})
	bottom := zero - l.down
	if l.showMost {
		c.value(l, l.most, y(l.Of[l.most])+1, scene.Baseline)
	}
	if l.showLeast {
		c.value(l, l.least, y(l.Of[l.least])-1, scene.CapTop)
		bottom -= valueRoom
	}
	return bottom
}

// value writes a value of a curve beside its place.
func (c *chart) value(l lane, i int, y float64, rise scene.Rise) {
	t := c.words(scene.Point{X: c.at(l.At[i]), Y: y}, minus(number(l.Of[i])), scene.Middle)
	t.Style, t.Rise, t.Backed = scene.Emphasis, rise, false
	half := t.Width() / 2
	t.At.X = min(max(t.At.X, half), c.room-half)
	c.Add(t)
}

// foot writes where the joints are along the part, and draws the lines that lead there.
func (c *chart) foot(top float64) {
	top -= laneGap
	var places []label
	for _, x := range []float64{0, c.d.Length} {
		places = append(places, label{c.at(x), []string{c.measure(x)}})
	}
	for _, j := range c.d.Joints {
		x := min(max(j.At, 0), c.d.Length)
		tall := -c.k * c.d.Width
		c.marks = append(c.marks, scene.Line{Style: scene.Construction, From: scene.Point{X: c.at(x), Y: tall}, To: scene.Point{X: c.at(x), Y: top + 1}})
		if c.at(x)-c.at(0) > 2 && c.at(c.d.Length)-c.at(x) > 2 {
			places = append(places, label{c.at(x), []string{c.measure(x)}})
		}
	}
	c.row(top, places, scene.CapTop)
	unit := "mm"
	if c.d.Family == inches {
		unit = "inches"
	}
	t := c.words(scene.Point{X: c.at(c.d.Length / 2), Y: top - line}, "along the part, "+unit, scene.Middle)
	t.Rise = scene.CapTop
	c.Add(t)
}

const inches = unit.Imperial

func (c *chart) measure(x float64) string { return unit.MM(x).ShowNumber(c.d.Family) }

// describe says in words what is drawn, for those who do not see it.
func (d Diagram) describe() string {
	var out []string
	for _, c := range d.Curves {
		above, below := d.Most(c)
		out = append(out, fmt.Sprintf("%s: above the line %s, below it %s", c.Name, above, below))
	}
	return fmt.Sprintf("The %s under %s. ", d.Part, d.Case) + upperFirst(strings.Join(out, "; ")) + "."
}

func minus(s string) string { return strings.Replace(s, "-", "−", 1) }

func upperFirst(s string) string { return strings.ToUpper(s[:1]) + s[1:] }
