package drawing

import (
	"longgrain/internal/paper/scene"
)

// BarKind says what a bar of a time chart stands for.
type BarKind int

// The kinds of bar.
const (
	WorkBar    BarKind = iota // hands are busy
	ClampedBar                // in clamps
	WaitBar                   // drying, curing, resting: nothing to do
	DoneBar                   // ticked off
)

// TimeBar is a stretch of time in a row, in days from the start of the chart.
type TimeBar struct {
	From, To float64
	Kind     BarKind
	Share    float64 // of the height of the row, for an amount of a whole; 0 fills the row
	Label    string  // written in the bar or beside it; may be empty
}

// TimeRow is one task.
type TimeRow struct {
	Name   string
	Strong bool // written bold: the end waits for it
	Bars   []TimeBar
}

// TimeMark names a time on the axis.
type TimeMark struct {
	At   float64
	Name string // "Mon 3"
}

// Times says what a time chart shows. Marks are the borders of days, or whatever is to be named, in
// rising order; the last one ends the chart.
type Times struct {
	Title string
	Rows  []TimeRow
	Marks []TimeMark
	Now   float64   // drawn as a heavy line; 0 for none
	Kinds []BarKind // that the legend explains; nil for work, clamps and waits
}

// timeRow is the height of a row, paper mm: low, so that a whole piece goes on one page.
const timeRow = 5.4

// leastBar is how long the shortest bar is drawn, paper mm: a short task must be seen.
const leastBar = 0.8

// TimeChart draws one row per task over the days: work in solid bars, clamped time hatched, waiting
// open and dashed.
func TimeChart(c Times, st Style) scene.Scene {
	width, _ := st.frame()
	s := scene.New(c.Title)
	low, high, column := 0.0, 0.0, 0.0
	for _, r := range c.Rows {
		weight := scene.Regular
		if r.Strong {
			weight = scene.Bold
		}
		column = max(column, columnWidth([]string{r.Name}, weight))
		for _, b := range r.Bars {
			high = max(high, b.To)
		}
	}
	if n := len(c.Marks); n > 0 {
		low, high = min(low, c.Marks[0].At), max(high, c.Marks[n-1].At)
	}
	left := min(column+nameGap, width/2)
	x := axis{low, high, left, width}
	bottom := -float64(len(c.Rows)) * timeRow
	drawTimeMarks(s, c.Marks, x, bottom)
	for i, r := range c.Rows {
		y := -(float64(i) + 0.5) * timeRow
		name := words(scene.Point{X: left - nameGap, Y: y}, r.Name)
		name.Align, name.Rise = scene.Right, scene.MidHeight
		if r.Strong {
			name.Weight = scene.Bold
		}
		s.Add(name)
		s.Line(scene.Rule, scene.Point{X: left, Y: y - timeRow/2}, scene.Point{X: width, Y: y - timeRow/2})
		drawBars(s, r.Bars, x, y)
	}
	s.Line(scene.Detail, scene.Point{X: left}, scene.Point{X: width})
	if c.Now > low && c.Now < high {
		s.Line(scene.Emphasis, scene.Point{X: x.at(c.Now), Y: tickLength}, scene.Point{X: x.at(c.Now), Y: bottom})
	}
	legendTimes(s, c.Kinds, left, bottom-2*Lettering)
	return *s
}

// drawTimeMarks draws the borders of days with their names above, leaving out names that would touch.
func drawTimeMarks(s *scene.Scene, marks []TimeMark, x axis, bottom float64) {
	free := x.from - 1
	for i, m := range marks {
		at := x.at(m.At)
		s.Line(scene.Rule, scene.Point{X: at, Y: tickLength}, scene.Point{X: at, Y: bottom})
		if i == len(marks)-1 || m.Name == "" {
			continue
		}
		t := words(scene.Point{X: at + 0.8, Y: 1.5}, m.Name)
		if t.At.X > free && t.At.X+t.Width() <= x.to {
			s.Add(t)
			free = t.At.X + t.Width() + 1
		}
	}
}

func barLook(k BarKind) (style scene.Style, fill scene.Fill, hatch scene.Hatch) {
	switch k {
	case ClampedBar:
		return scene.Detail, scene.PaperFill, scene.SectionHatch
	case WaitBar:
		return scene.Offcut, scene.PaperFill, scene.NoHatch
	case DoneBar:
		return scene.Detail, scene.GoodFill, scene.NoHatch
	}
	return scene.Detail, scene.PartFill2, scene.NoHatch
}

// drawBars draws the bars of a row. A label that does not fit its bar stands after it when nothing
// else does; otherwise it is left out, because the row has a name.
func drawBars(s *scene.Scene, bars []TimeBar, x axis, y float64) {
	const half = 1.9
	for i, b := range bars {
		style, fill, hatch := barLook(b.Kind)
		from, to := x.at(b.From), max(x.at(b.To), x.at(b.From)+leastBar)
		h := half
		if b.Kind == WaitBar {
			h = half * 0.6
		}
		top := y + h
		if b.Share > 0 {
			top = y - h + 2*h*min(1, b.Share)
		}
		outline := scene.Rectangle(style, fill, scene.Point{X: from, Y: y - h}, scene.Point{X: to, Y: top})
		outline.Hatch = hatch
		s.Add(outline)
		if b.Label == "" {
			continue
		}
		t := words(scene.Point{X: (from + to) / 2, Y: y}, b.Label)
		t.Align, t.Rise = scene.Middle, scene.MidHeight
		t.Backed = hatch != scene.NoHatch
		if t.Width() > to-from-1.5 || h < half {
			t.At.X, t.Align, t.Backed = to+1.2, scene.Left, false
			room := x.to
			if i+1 < len(bars) {
				room = x.at(bars[i+1].From)
			}
			if t.At.X+t.Width() > room-0.5 {
				continue
			}
		}
		s.Add(t)
	}
}

func legendTimes(s *scene.Scene, kinds []BarKind, x, y float64) {
	names := map[BarKind]string{WorkBar: "work", ClampedBar: "in clamps", WaitBar: "waiting", DoneBar: "done"}
	if kinds == nil {
		kinds = []BarKind{WorkBar, ClampedBar, WaitBar}
	}
	for _, k := range kinds {
		style, fill, hatch := barLook(k)
		sign := scene.Rectangle(style, fill, scene.Point{X: x, Y: y - 1.6}, scene.Point{X: x + 9, Y: y + 1.6})
		sign.Hatch = hatch
		t := words(scene.Point{X: x + 11, Y: y}, names[k])
		t.Rise = scene.MidHeight
		s.Add(sign, t)
		x = t.At.X + t.Width() + 7
	}
}
