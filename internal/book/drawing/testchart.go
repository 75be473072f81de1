package drawing

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"longgrain/internal/ground/working"
	"longgrain/internal/paper/scene"
)

// TestDot is one test in a chart of tests.
type TestDot struct {
	Value float64
	Held  bool // at least this strong: drawn open, with an arrow
}

// TestRow is a group of tests. Zero values of the marks mean that there is none.
type TestRow struct {
	Name      string
	Dots      []TestDot
	Mean      float64
	Low, High float64 // interval of the mean
	Lower     float64 // lower bound
	Predicted float64 // what was worked out beforehand
	Note      string  // written below the name, such as "5 tests, lower 5 %: 610 N"
}

// TestResults says what a chart of tests shows.
type TestResults struct {
	Title string
	Axis  string // what is measured, with its unit: "moment, N·m"
	Rows  []TestRow
}

// Sizes of a chart of tests, paper mm.
const (
	testStrip = 7.0             // height of the strip with the dots
	testLine  = 1.5 * Lettering // from one line of words to the next
	testGap   = 5.0             // below the strip, with mean and bound
	dotRadius = 0.8
	// intervalShare is how much wider than the tests the axis may get for an interval of the mean; that of two tests can be many
	// times as wide and would press all others together.
	intervalShare = 1.3
	// mostDots is how many dots of a row are drawn; more run together to a bar.
	mostDots = 150
	// dotLanes is over how many heights dots are spread, so that equal tests do not cover each other.
	dotLanes = 5
)

// TestChart draws one strip per group: every test as a dot, open with an arrow where the joint held; the
// mean with its interval below the dots; the lower bound as a triangle; and what was predicted as a heavy
// line across. An interval that is far wider than the tests runs to the edge with an arrow. Of more than 150 tests an even choice by strength is drawn and the note says so. The chart grows
// downwards with its rows; the caller puts no more on a page than it takes.
func TestChart(c TestResults, st Style) scene.Scene {
	width, _ := st.frame()
	s := scene.New(c.Title)
	most, interval := 0.0, 0.0
	for _, r := range c.Rows {
		most, interval = max(most, r.Predicted, r.Mean, r.Lower), max(interval, r.High)
		for _, d := range r.Dots {
			most = max(most, d.Value)
		}
	}
	most = max(most, min(interval, intervalShare*most))
	if most == 0 {
		most = 1
	}
	x := axis{0, most * 1.05, 0, width - 4}
	tops := make([]float64, len(c.Rows))
	bottom := 0.0
	for i := range c.Rows {
		tops[i] = bottom
		bottom -= float64(len(c.Rows[i].lines(x)))*testLine + testStrip + testGap
	}
	for _, v := range ticks(0, most*1.05, 8) {
		s.Line(scene.Rule, scene.Point{X: x.at(v), Y: 0}, scene.Point{X: x.at(v), Y: bottom - tickLength})
		s.Add(scene.Text{Style: scene.Words, At: scene.Point{X: x.at(v), Y: bottom - 2*tickLength}, Text: working.Figures(v), Height: Lettering, Align: scene.Middle, Rise: scene.CapTop})
	}
	for i, r := range c.Rows {
		s.Line(scene.Rule, scene.Point{X: x.from, Y: tops[i]}, scene.Point{X: x.to, Y: tops[i]})
		drawTests(s, r, x, tops[i])
	}
	s.Line(scene.Detail, scene.Point{X: x.from, Y: bottom}, scene.Point{X: x.to, Y: bottom})
	s.Add(scene.Text{Style: scene.Words, At: scene.Point{X: (x.from + x.to) / 2, Y: bottom - 3*tickLength - 1.6*Lettering}, Text: c.Axis, Height: Lettering, Align: scene.Middle, Rise: scene.CapTop})
	legendTests(s, x, bottom-4*tickLength-4.4*Lettering)
	return *s
}

// lines returns the words of a row: its name, bold, over as many lines as it takes, and its note.
func (r TestRow) lines(x axis) []scene.Text {
	var out []scene.Text
	put := func(text string, weight scene.Weight) {
		line := ""
		for _, word := range strings.Fields(text) {
			longer := strings.TrimPrefix(line+" "+word, " ")
			if line != "" && scene.TextWidth(longer, Lettering, weight) > x.to-x.from-2 {
				out = append(out, scene.Text{Style: scene.Words, Text: line, Height: Lettering, Weight: weight, Rise: scene.CapTop, Backed: true})
				longer = word
			}
			line = longer
		}
		if line != "" {
			out = append(out, scene.Text{Style: scene.Words, Text: line, Height: Lettering, Weight: weight, Rise: scene.CapTop, Backed: true})
		}
	}
	put(r.Name, scene.Bold)
	note := r.Note
	if len(r.Dots) > mostDots {
		note += fmt.Sprintf(" (%d of %d tests drawn)", mostDots, len(r.Dots))
	}
	put(note, scene.Regular)
	return out
}

// drawTests draws a row below top: its words, the strip of dots, then mean and bound.
func drawTests(s *scene.Scene, r TestRow, x axis, top float64) {
	high := top
	for _, line := range r.lines(x) {
		line.At = scene.Point{X: x.from + 1, Y: high - 1.2}
		s.Add(line)
		high -= testLine
	}
	low := high - testStrip
	if r.Predicted > 0 {
		s.Line(scene.Emphasis, scene.Point{X: x.at(r.Predicted), Y: high - 0.5}, scene.Point{X: x.at(r.Predicted), Y: low - 2})
	}
	for i, d := range fewerDots(r.Dots) {
		lane := high - 2 - float64(i*2%dotLanes)*(testStrip-4)/(dotLanes-1)
		drawDot(s, d, scene.Point{X: x.at(d.Value), Y: lane})
	}
	y := low - 0.6
	if r.Mean > 0 {
		if r.High > x.high {
			s.Polygon(scene.Outline, scene.InkFill, scene.Point{X: x.to, Y: y}, scene.Point{X: x.to - 2, Y: y - 0.8}, scene.Point{X: x.to - 2, Y: y + 0.8})
			s.Line(scene.Outline, scene.Point{X: x.at(max(0, r.Low)), Y: y}, scene.Point{X: x.to, Y: y})
			meanSign(s, x.at(r.Mean), y, 0, 0, false)
		} else {
			meanSign(s, x.at(r.Mean), y, x.at(max(0, r.Low)), x.at(r.High), r.High > r.Low)
		}
	}
	if r.Lower > 0 {
		boundSign(s, x.at(r.Lower), y)
	}
}

// fewerDots returns the dots by strength, at most mostDots, spread evenly, the weakest and the strongest among them.
func fewerDots(dots []TestDot) []TestDot {
	sorted := slices.Clone(dots)
	slices.SortStableFunc(sorted, func(a, b TestDot) int { return cmp.Compare(a.Value, b.Value) })
	if len(sorted) <= mostDots {
		return sorted
	}
	out := make([]TestDot, mostDots)
	for i := range out {
		out[i] = sorted[int(math.Round(float64(i)*float64(len(sorted)-1)/(mostDots-1)))]
	}
	return out
}

func drawDot(s *scene.Scene, d TestDot, at scene.Point) {
	if !d.Held {
		s.Add(scene.Circle{Style: scene.Detail, Centre: at, Radius: dotRadius, Fill: scene.InkFill})
		return
	}
	s.Arrow(scene.Detail, at.Plus(dotRadius, 0), at.Plus(dotRadius+3, 0))
	s.Add(scene.Circle{Style: scene.Detail, Centre: at, Radius: dotRadius, Fill: scene.PaperFill})
}

// meanSign draws a diamond on a whisker from low to high.
func meanSign(s *scene.Scene, x, y, low, high float64, whisker bool) {
	if whisker {
		s.Line(scene.Outline, scene.Point{X: low, Y: y}, scene.Point{X: high, Y: y})
		s.Line(scene.Outline, scene.Point{X: low, Y: y - 0.8}, scene.Point{X: low, Y: y + 0.8})
		s.Line(scene.Outline, scene.Point{X: high, Y: y - 0.8}, scene.Point{X: high, Y: y + 0.8})
	}
	s.Polygon(scene.Outline, scene.PartFill, scene.Point{X: x - 1.3, Y: y}, scene.Point{X: x, Y: y - 1.3}, scene.Point{X: x + 1.3, Y: y}, scene.Point{X: x, Y: y + 1.3})
}

// boundSign draws a triangle whose tip stands at x and points to the stronger side.
func boundSign(s *scene.Scene, x, y float64) {
	s.Polygon(scene.Outline, scene.InkFill, scene.Point{X: x, Y: y}, scene.Point{X: x - 2.2, Y: y - 1.4}, scene.Point{X: x - 2.2, Y: y + 1.4})
}

func legendTests(s *scene.Scene, frame axis, y float64) {
	x := frame.from + 1
	put := func(text string, sign func(x float64)) {
		t := words(scene.Point{X: x + 7, Y: y}, text)
		t.Rise = scene.MidHeight
		if t.At.X+t.Width() > frame.to && x > frame.from+1 {
			x, y = frame.from+1, y-2*Lettering
			t.At = scene.Point{X: x + 7, Y: y}
		}
		sign(x)
		s.Add(t)
		x = t.At.X + t.Width() + 6
	}
	put("joint failed", func(x float64) { drawDot(s, TestDot{}, scene.Point{X: x + 3, Y: y}) })
	put("joint held: at least", func(x float64) { drawDot(s, TestDot{Held: true}, scene.Point{X: x + 1, Y: y}) })
	put("mean, 95 % interval", func(x float64) { meanSign(s, x+2.5, y, x, x+5, true) })
	put("lower 5 %", func(x float64) { boundSign(s, x+4, y) })
	put("predicted", func(x float64) {
		s.Line(scene.Emphasis, scene.Point{X: x + 3, Y: y - 2}, scene.Point{X: x + 3, Y: y + 2})
	})
}
