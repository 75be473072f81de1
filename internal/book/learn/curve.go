package learn

import (
	"math"

	"longgrain/internal/ground/working"
	"longgrain/internal/paper/scene"
)

// curve is an answer over one input.
type curve struct {
	title, across, up string
	from, to          float64
	of                func(float64) float64
	now               float64
	points            bool // only whole numbers have a value
	// band is a range of values that is wanted, none when both are zero; limit a value not to be passed, none when zero.
	low, high, limit float64
	limitWords       string
}

// Room of a curve, paper mm.
const (
	curveLeft   = 18.0
	curveHigh   = 46.0
	curveSteps  = 48
	curveBottom = 10.0
)

// draw draws the curve with the value of now marked and written.
func (c curve) draw() scene.Scene {
	s := scene.New(c.title)
	s.Description = c.up + " over " + c.across
	n := curveSteps
	if c.points {
		n = int(math.Round(c.to - c.from))
	}
	most := math.Max(c.high, c.limit)
	for i := 0; i <= n; i++ {
		most = math.Max(most, c.of(c.from+(c.to-c.from)*float64(i)/float64(n)))
	}
	// Where a limit matters, what lies far beyond it need not be told apart.
	if c.limit > 0 {
		most = math.Min(most, 4*c.limit)
	}
	if c.high > 0 {
		most = math.Min(most, 3*c.high)
	}
	most *= 1.08
	x := func(v float64) float64 { return curveLeft + (v-c.from)/(c.to-c.from)*(pictureWide-curveLeft) }
	y := func(v float64) float64 { return math.Min(v, most) / most * curveHigh }
	if c.high > 0 {
		s.Add(scene.Polygon{Style: scene.NoLine, Fill: scene.GoodFill, Points: []scene.Point{{X: curveLeft, Y: y(c.low)}, {X: pictureWide, Y: y(c.low)}, {X: pictureWide, Y: y(c.high)}, {X: curveLeft, Y: y(c.high)}}})
	}
	for _, v := range steps(0, most) {
		s.Line(scene.Rule, scene.Point{X: curveLeft, Y: y(v)}, scene.Point{X: pictureWide, Y: y(v)})
		s.Add(scene.Text{Style: scene.Words, At: scene.Point{X: curveLeft - 1.5, Y: y(v)}, Text: working.Figures(v), Height: letter, Align: scene.Right, Rise: scene.MidHeight})
	}
	for _, v := range steps(c.from, c.to) {
		s.Line(scene.Detail, scene.Point{X: x(v), Y: 0}, scene.Point{X: x(v), Y: -1.2})
		s.Add(scene.Text{Style: scene.Words, At: scene.Point{X: x(v), Y: -2}, Text: working.Figures(v), Height: letter, Align: scene.Middle, Rise: scene.CapTop})
	}
	if c.limit > 0 {
		s.Line(scene.Emphasis, scene.Point{X: curveLeft, Y: y(c.limit)}, scene.Point{X: pictureWide, Y: y(c.limit)})
		s.Add(scene.Text{Style: scene.Words, At: scene.Point{X: pictureWide, Y: y(c.limit) + 1}, Text: c.limitWords, Height: letter, Align: scene.Right, Backed: true})
	}
	var line []scene.Point
	for i := 0; i <= n; i++ {
		v := c.from + (c.to-c.from)*float64(i)/float64(n)
		p := scene.Point{X: x(v), Y: y(c.of(v))}
		if c.points {
			s.Circle(scene.Detail, p, 0.7)
		}
		if c.of(v) <= most {
			line = append(line, p)
		}
	}
	if !c.points && len(line) > 1 {
		s.Polyline(scene.Outline, line...)
	}
	s.Line(scene.Detail, scene.Point{X: curveLeft}, scene.Point{X: pictureWide})
	s.Line(scene.Detail, scene.Point{X: curveLeft}, scene.Point{X: curveLeft, Y: curveHigh})
	s.Add(scene.Text{Style: scene.Words, At: scene.Point{X: (curveLeft + pictureWide) / 2, Y: -curveBottom + 1}, Text: c.across, Height: letter, Align: scene.Middle, Rise: scene.CapTop},
		scene.Text{Style: scene.Words, At: scene.Point{X: curveLeft, Y: curveHigh + 2}, Text: c.up, Height: letter, Weight: scene.Bold})
	c.mark(s, scene.Point{X: x(c.now), Y: y(c.of(c.now))})
	return *s
}

// mark rings the value of now and writes it.
func (c curve) mark(s *scene.Scene, at scene.Point) {
	s.Line(scene.Hidden, scene.Point{X: at.X, Y: 0}, at)
	s.Add(scene.Circle{Style: scene.Outline, Centre: at, Radius: 1.5, Fill: scene.InkFill})
	t := scene.Text{Style: scene.Words, At: at.Plus(2.5, 2), Text: working.Figures(three(c.of(c.now))), Height: letter * 1.2, Weight: scene.Bold, Backed: true}
	if at.X > pictureWide*0.8 {
		t.At, t.Align = at.Plus(-2.5, 2), scene.Right
	}
	s.Add(t)
}

// three rounds to three significant figures, as exact as any of this is.
func three(v float64) float64 {
	if v == 0 {
		return 0
	}
	p := math.Pow(10, 2-math.Floor(math.Log10(math.Abs(v))))
	return math.Round(v*p) / p
}

// steps returns at most six round values within a range.
func steps(low, high float64) []float64 {
	rough := (high - low) / 6
	power := math.Pow(10, math.Floor(math.Log10(rough)))
	step := 10 * power
	for _, k := range [3]float64{1, 2, 5} {
		if k*power >= rough {
			step = k * power
			break
		}
	}
	var out []float64
	for i := math.Ceil(low/step - 1e-9); i*step <= high+1e-9*step; i++ {
		out = append(out, i*step)
	}
	return out
}
