package drawing

import (
	"fmt"

	"longgrain/internal/paper/scene"
)

// SeasonCurve is one quantity through the twelve months.
type SeasonCurve struct {
	Name   string // with its unit: "moisture content, %"
	Values [12]float64
	// Decimals of the figures written at the greatest and the least value.
	Decimals int
}

// Season says what a season chart shows: curves below one another over the same year.
type Season struct {
	Title  string
	Months [12]string // short names
	Curves []SeasonCurve
}

// Sizes of a season chart, paper mm.
const (
	seasonHeight = 36.0 // of one curve
	seasonGap    = 11.0
)

// SeasonChart draws each curve in its own panel, with the greatest and the least value written at
// their months. The axes do not start at nothing: what matters is the change.
func SeasonChart(c Season, st Style) scene.Scene {
	width, _ := st.frame()
	s := scene.New(c.Title)
	const left = 16.0
	months := axis{0, 11, left + 5, width - 5}
	top := 0.0
	for _, curve := range c.Curves {
		low, high := extremes(curve.Values)
		room := (curve.Values[high] - curve.Values[low]) * 0.35
		if room == 0 {
			room = max(1e-6, curve.Values[low]*0.01)
		}
		y := axis{curve.Values[low] - room, curve.Values[high] + room, top - seasonHeight, top}
		drawCurve(s, curve, months, y, left, width, low, high)
		top -= seasonHeight + seasonGap
	}
	for i, name := range c.Months {
		t := words(scene.Point{X: months.at(float64(i)), Y: top + seasonGap - 2}, name)
		t.Align, t.Rise = scene.Middle, scene.CapTop
		s.Add(t)
	}
	return *s
}

// extremes returns the months of the least and the greatest value.
func extremes(v [12]float64) (low, high int) {
	for i := range v {
		if v[i] < v[low] {
			low = i
		}
		if v[i] > v[high] {
			high = i
		}
	}
	return low, high
}

func drawCurve(s *scene.Scene, c SeasonCurve, x, y axis, left, right float64, low, high int) {
	name := words(scene.Point{X: left, Y: y.to + 2}, c.Name)
	name.Weight = scene.Bold
	s.Add(name)
	for _, v := range ticks(y.low, y.high, 4) {
		s.Line(scene.Rule, scene.Point{X: left, Y: y.at(v)}, scene.Point{X: right, Y: y.at(v)})
		t := words(scene.Point{X: left - 1.5, Y: y.at(v)}, fmt.Sprintf("%.*f", c.Decimals, v))
		t.Align, t.Rise = scene.Right, scene.MidHeight
		s.Add(t)
	}
	s.Rectangle(scene.Frame, scene.NoFill, scene.Point{X: left, Y: y.from}, scene.Point{X: right, Y: y.to})
	points := make([]scene.Point, 12)
	for i, v := range c.Values {
		points[i] = scene.Point{X: x.at(float64(i)), Y: y.at(v)}
	}
	s.Polyline(scene.Outline, points...)
	for _, p := range points {
		s.Add(scene.Circle{Style: scene.Detail, Centre: p, Radius: 0.8, Fill: scene.PaperFill})
	}
	for _, e := range []struct {
		month int
		rise  scene.Rise
		lift  float64
	}{{high, scene.Baseline, 2.2}, {low, scene.CapTop, -2.2}} {
		t := scene.Text{Style: scene.Emphasis, At: points[e.month].Plus(0, e.lift), Text: fmt.Sprintf("%.*f", c.Decimals, c.Values[e.month]), Height: Lettering, Align: scene.Middle, Rise: e.rise}
		s.Add(t)
	}
}
