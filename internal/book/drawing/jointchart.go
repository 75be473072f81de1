package drawing

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"longgrain/internal/ground/working"
	"longgrain/internal/paper/scene"
)

// JointDot is one joint at one size in a comparison.
type JointDot struct {
	Name   string  // with its sizes, written where it is the chosen one
	Value  float64 // its reserve, or what else the joints are compared by
	Shows  bool    // it can be seen: drawn open
	Chosen bool
}

// JointRow is a kind of joint with every size that was compared.
type JointRow struct {
	Name string
	Note string // written at the right, such as "12 sizes, 9 to 18 min"
	Dots []JointDot
	// Tests are what the shop's own tests would make of the joint, on the same axis; those in Held outlived their test.
	Tests []TestDot
}

// JointComparison says what a picture of compared joints shows.
type JointComparison struct {
	Title  string
	Axis   string  // what the joints are compared by: "reserve: lower strength over load"
	Wanted float64 // the reserve that is wanted; zero where the joints are compared by something else
	Rows   []JointRow
}

// reservesShown is how far the axis reaches, in wanted reserves: what holds that much more than enough need not be told
// apart.
const reservesShown = 3.0

// JointChart draws one strip per kind of joint and a dot per size, by its value: full where the joint hides, open where it
// shows, ringed and named where it is the chosen one. A heavy line stands at the wanted reserve, a thin one where
// strength and load are equal. Of reserves, what lies beyond the axis stands at its end with an arrow.
func JointChart(c JointComparison, st Style) scene.Scene {
	width, _ := st.frame()
	s := scene.New(c.Title)
	names, notes := make([]string, len(c.Rows)), make([]string, len(c.Rows))
	most, end := 1.0, math.Inf(1)
	if c.Wanted > 0 {
		most, end = max(c.Wanted, 1)*1.3, c.Wanted*reservesShown
	}
	for i, r := range c.Rows {
		names[i], notes[i] = r.Name, r.Note
		for _, d := range r.Dots {
			most = max(most, min(d.Value*1.05, end))
		}
		for _, d := range r.Tests {
			most = max(most, min(d.Value*1.05, end))
		}
	}
	left := columnWidth(names, scene.Regular) + nameGap
	right := max(width-columnWidth(notes, scene.Regular)-nameGap-3, left+width/4)
	x := axis{0, most, left, right}
	bottom := 0.0
	for i, r := range c.Rows {
		top := bottom
		bottom -= chartRow
		if slices.ContainsFunc(r.Dots, func(d JointDot) bool { return d.Chosen }) {
			bottom -= chosenLine
		}
		if i > 0 {
			s.Line(scene.Rule, scene.Point{X: left, Y: top}, scene.Point{X: right, Y: top})
		}
	}
	for _, v := range ticks(0, most, 6) {
		s.Line(scene.Rule, scene.Point{X: x.at(v), Y: 0}, scene.Point{X: x.at(v), Y: bottom - tickLength})
		s.Add(scene.Text{Style: scene.Words, At: scene.Point{X: x.at(v), Y: bottom - 2*tickLength}, Text: working.Figures(v), Height: Lettering, Align: scene.Middle, Rise: scene.CapTop})
	}
	if c.Wanted > 0 {
		s.Line(scene.Detail, scene.Point{X: x.at(1), Y: 0}, scene.Point{X: x.at(1), Y: bottom})
		s.Line(scene.Emphasis, scene.Point{X: x.at(c.Wanted), Y: 0}, scene.Point{X: x.at(c.Wanted), Y: bottom})
	}
	top := 0.0
	for _, r := range c.Rows {
		top = drawJointRow(s, r, x, top)
	}
	s.Line(scene.Detail, scene.Point{X: left}, scene.Point{X: left, Y: bottom})
	s.Line(scene.Detail, scene.Point{X: left, Y: bottom}, scene.Point{X: right, Y: bottom})
	s.Add(scene.Text{Style: scene.Words, At: scene.Point{X: (left + right) / 2, Y: bottom - 3*tickLength - 1.6*Lettering}, Text: c.Axis, Height: Lettering, Align: scene.Middle, Rise: scene.CapTop})
	legendJoints(s, c, bottom-4*tickLength-4.4*Lettering, width)
	return *s
}

// drawJointRow draws a row below top and returns where the next one starts.
func drawJointRow(s *scene.Scene, r JointRow, x axis, top float64) float64 {
	y := top - chartRow/2
	name := words(scene.Point{X: x.from - nameGap, Y: y}, r.Name)
	name.Align, name.Rise = scene.Right, scene.MidHeight
	s.Add(name)
	if r.Note != "" {
		note := words(scene.Point{X: x.to + nameGap + 3, Y: y}, r.Note)
		note.Rise = scene.MidHeight
		s.Add(note)
	}
	dots := slices.Clone(r.Dots)
	slices.SortStableFunc(dots, func(a, b JointDot) int { return cmp.Compare(a.Value, b.Value) })
	chosen := -1
	for i, d := range dots {
		at := scene.Point{X: x.at(min(d.Value, x.high)), Y: y + (float64(i%3)-1)*(chartRow/2-1.4)/1.4}
		if d.Value > x.high {
			s.Arrow(scene.Detail, at.Plus(dotRadius, 0), at.Plus(dotRadius+2.5, 0))
		}
		if d.Chosen {
			chosen = i
			continue
		}
		jointSign(s, at, d.Shows)
	}
	for i, d := range r.Tests {
		testSign(s, scene.Point{X: x.at(min(d.Value, x.high)), Y: y + (float64(i%3)-1)*testLift}, d.Held)
	}
	if chosen < 0 {
		return top - chartRow
	}
	// The chosen one last, in the middle of the strip, so that no other dot covers it.
	d := dots[chosen]
	at := scene.Point{X: x.at(min(d.Value, x.high)), Y: y}
	s.Add(chosenWords(d, at, x, top-chartRow-0.5*Lettering))
	s.Add(scene.Circle{Style: scene.Outline, Centre: at, Radius: 2 * dotRadius, Fill: scene.PaperFill})
	jointSign(s, at, d.Shows)
	return top - chartRow - chosenLine
}

// chosenLine is the height of the line that names the chosen joint.
const chosenLine = 1.4 * Lettering

// chosenWords names the chosen joint below its dot, within the strip.
func chosenWords(d JointDot, at scene.Point, x axis, y float64) scene.Text {
	t := words(scene.Point{X: at.X, Y: y}, fmt.Sprintf("chosen: %s", d.Name))
	t.Rise, t.Weight, t.Align, t.Backed = scene.MidHeight, scene.Bold, scene.Middle, true
	half := scene.TextWidth(t.Text, Lettering, scene.Bold) / 2
	t.At.X = max(min(t.At.X, x.to-half), x.from+half+1)
	return t
}

func jointSign(s *scene.Scene, at scene.Point, shows bool) {
	fill := scene.InkFill
	if shows {
		fill = scene.PaperFill
	}
	s.Add(scene.Circle{Style: scene.Detail, Centre: at, Radius: dotRadius, Fill: fill})
}

// The cross of a test, and how far tests stand apart above one another, paper mm.
const (
	testArm  = 1.5
	testLift = 1.1
)

// testSign is a cross for a joint that broke, and one with an arrow for a joint that outlived its test.
func testSign(s *scene.Scene, at scene.Point, held bool) {
	s.Line(scene.Emphasis, at.Plus(-testArm, -testArm), at.Plus(testArm, testArm))
	s.Line(scene.Emphasis, at.Plus(-testArm, testArm), at.Plus(testArm, -testArm))
	if held {
		s.Arrow(scene.Detail, at.Plus(testArm, 0), at.Plus(testArm+2.5, 0))
	}
}

func legendJoints(s *scene.Scene, c JointComparison, y, width float64) {
	x := 1.0
	put := func(text string, sign func(x float64)) {
		t := words(scene.Point{X: x + 7, Y: y}, text)
		t.Rise = scene.MidHeight
		if t.At.X+t.Width() > width && x > 1 {
			x, y = 1, y-2*Lettering
			t.At = scene.Point{X: x + 7, Y: y}
		}
		sign(x)
		s.Add(t)
		x = t.At.X + t.Width() + 6
	}
	put("hidden", func(x float64) { jointSign(s, scene.Point{X: x + 3, Y: y}, false) })
	put("shows", func(x float64) { jointSign(s, scene.Point{X: x + 3, Y: y}, true) })
	put("chosen", func(x float64) {
		s.Add(scene.Circle{Style: scene.Outline, Centre: scene.Point{X: x + 3, Y: y}, Radius: 2 * dotRadius})
		jointSign(s, scene.Point{X: x + 3, Y: y}, false)
	})
	if slices.ContainsFunc(c.Rows, func(r JointRow) bool { return len(r.Tests) > 0 }) {
		put("broke in your own test", func(x float64) { testSign(s, scene.Point{X: x + 3, Y: y}, false) })
	}
	if c.Wanted == 0 {
		return
	}
	put("strength equals load", func(x float64) {
		s.Line(scene.Detail, scene.Point{X: x + 3, Y: y - 2}, scene.Point{X: x + 3, Y: y + 2})
	})
	put("wanted reserve, "+working.Figures(c.Wanted), func(x float64) {
		s.Line(scene.Emphasis, scene.Point{X: x + 3, Y: y - 2}, scene.Point{X: x + 3, Y: y + 2})
	})
}
