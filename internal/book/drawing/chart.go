package drawing

import (
	"math"

	"longgrain/internal/ground/working"
	"longgrain/internal/paper/scene"
)

// axis takes values to paper along x or y.
type axis struct {
	low, high float64 // values
	from, to  float64 // paper mm
}

func (a axis) at(v float64) float64 {
	if a.high == a.low {
		return (a.from + a.to) / 2
	}
	return a.from + (v-a.low)/(a.high-a.low)*(a.to-a.from)
}

// ticks returns round values within a range: at most n steps of 1, 2 or 5 times a power of ten.
func ticks(low, high float64, n int) []float64 {
	if !(high > low) || n < 1 {
		return []float64{low}
	}
	rough := (high - low) / float64(n)
	power := math.Pow(10, math.Floor(math.Log10(rough)))
	step := 10 * power
	for _, k := range [3]float64{1, 2, 5} {
		if k*power >= rough*(1-1e-9) {
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

// Sizes shared by the charts, paper mm.
const (
	chartRow   = 7.5 // height of a row
	nameGap    = 3.0 // between the names and the chart
	tickLength = 1.2
)

// columnWidth returns how wide a column of words is.
func columnWidth(column []string, weight scene.Weight) float64 {
	w := 0.0
	for _, n := range column {
		w = max(w, scene.TextWidth(n, Lettering, weight))
	}
	return w
}

// Interval is a row of an interval chart: the value expected, the lower value that is safe to count
// on, and what is asked for.
type Interval struct {
	Name   string
	Value  float64
	Lower  float64
	Demand float64 // 0 for none
	Note   string  // written at the right, such as "reserve 1.8"
}

// Intervals says what an interval chart shows.
type Intervals struct {
	Title string
	Axis  string // what is measured, with its unit: "moment, N·m"
	Rows  []Interval
}

// tickRoom is the least room for a figure below the axis, mm: four digits and a gap.
const tickRoom = 14

// IntervalChart draws one row per joint, or whatever is compared: a bar from nothing to the lower
// value, a whisker on to the value expected, and a heavy line at what is asked for. A row whose lower
// value is below what is asked for has a bar of another tone and the word "short".
func IntervalChart(c Intervals, st Style) scene.Scene {
	width, _ := st.frame()
	s := scene.New(c.Title)
	names, notes := make([]string, len(c.Rows)), make([]string, len(c.Rows))
	most := 0.0
	for i, r := range c.Rows {
		names[i], notes[i] = r.Name, r.Note
		if r.short() {
			notes[i] = "short" + prefixed(", ", r.Note)
		}
		most = max(most, r.Value, r.Lower, r.Demand)
	}
	left := columnWidth(names, scene.Regular) + nameGap
	right := max(width-columnWidth(notes, scene.Bold)-nameGap, left+width/4)
	x := axis{0, most * 1.05, left, right}
	bottom := -float64(len(c.Rows)) * chartRow
	for _, v := range ticks(0, most*1.05, max(2, min(6, int((right-left)/tickRoom)))) {
		s.Line(scene.Rule, scene.Point{X: x.at(v), Y: 0}, scene.Point{X: x.at(v), Y: bottom - tickLength})
		s.Add(scene.Text{Style: scene.Words, At: scene.Point{X: x.at(v), Y: bottom - 2*tickLength}, Text: working.Figures(v), Height: Lettering, Align: scene.Middle, Rise: scene.CapTop})
	}
	for i, r := range c.Rows {
		drawInterval(s, r, x, -(float64(i)+0.5)*chartRow, notes[i])
	}
	s.Line(scene.Detail, scene.Point{X: left}, scene.Point{X: left, Y: bottom})
	s.Line(scene.Detail, scene.Point{X: left, Y: bottom}, scene.Point{X: right, Y: bottom})
	s.Add(scene.Text{Style: scene.Words, At: scene.Point{X: (left + right) / 2, Y: bottom - 3*tickLength - 1.6*Lettering}, Text: c.Axis, Height: Lettering, Align: scene.Middle, Rise: scene.CapTop})
	legendInterval(s, left, bottom-4*tickLength-4.4*Lettering)
	return *s
}

func (r Interval) short() bool { return r.Demand > 0 && r.Lower < r.Demand }

func prefixed(before, text string) string {
	if text == "" {
		return ""
	}
	return before + text
}

func drawInterval(s *scene.Scene, r Interval, x axis, y float64, note string) {
	const half = 1.7
	name := words(scene.Point{X: x.from - nameGap, Y: y}, r.Name)
	name.Align, name.Rise = scene.Right, scene.MidHeight
	s.Add(name)
	fill := scene.GoodFill
	if r.short() {
		fill = scene.BadFill
	}
	s.Rectangle(scene.Detail, fill, scene.Point{X: x.at(0), Y: y - half}, scene.Point{X: x.at(r.Lower), Y: y + half})
	s.Line(scene.Detail, scene.Point{X: x.at(r.Lower), Y: y}, scene.Point{X: x.at(r.Value), Y: y})
	s.Add(scene.Circle{Style: scene.Detail, Centre: scene.Point{X: x.at(r.Value), Y: y}, Radius: 0.9, Fill: scene.InkFill})
	if r.Demand > 0 {
		s.Line(scene.Emphasis, scene.Point{X: x.at(r.Demand), Y: y - chartRow/2 + 0.6}, scene.Point{X: x.at(r.Demand), Y: y + chartRow/2 - 0.6})
	}
	t := words(scene.Point{X: x.to + nameGap, Y: y}, note)
	t.Rise = scene.MidHeight
	if r.short() {
		t.Weight = scene.Bold
	}
	if note != "" {
		s.Add(t)
	}
}

func legendInterval(s *scene.Scene, x, y float64) {
	put := func(text string, sign ...scene.Item) {
		s.Add(sign...)
		t := words(scene.Point{X: x + 8, Y: y}, text)
		t.Rise = scene.MidHeight
		s.Add(t)
		x = t.At.X + t.Width() + 6
	}
	put("lower value", scene.Rectangle(scene.Detail, scene.GoodFill, scene.Point{X: x, Y: y - 1.5}, scene.Point{X: x + 6, Y: y + 1.5}))
	put("expected", scene.Line{Style: scene.Detail, From: scene.Point{X: x, Y: y}, To: scene.Point{X: x + 5, Y: y}},
		scene.Circle{Style: scene.Detail, Centre: scene.Point{X: x + 5, Y: y}, Radius: 0.9, Fill: scene.InkFill})
	put("asked for", scene.Line{Style: scene.Emphasis, From: scene.Point{X: x + 3, Y: y - 2}, To: scene.Point{X: x + 3, Y: y + 2}})
}
