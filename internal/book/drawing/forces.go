package drawing

import (
	"fmt"
	"math"

	"longgrain/internal/paper/scene"
)

// ForceCurve is one force along a part: places in mm from the low end, rising, and the force there. Two values at one place are a step.
type ForceCurve struct {
	Name string // with its unit: "bending across the width, N·m"
	At   []float64
	Of   []float64
}

// Forces says what a diagram of forces along a part shows: curves below one another over the same length.
type Forces struct {
	Title  string
	Length float64 // mm
	Axis   string  // "along the part, mm"
	Curves []ForceCurve
}

// Sizes of a diagram of forces, paper mm.
const (
	forceHeight = 26.0
	forceGap    = 10.0
)

// ForceDiagram draws each force over the length of the part, filled to its zero line, with its greatest and least value written where they are.
func ForceDiagram(f Forces, st Style) scene.Scene {
	width, _ := st.frame()
	s := scene.New(f.Title)
	s.ID = "forces"
	const left = 18.0
	x := axis{0, f.Length, left, width - 6}
	top := 0.0
	for _, c := range f.Curves {
		drawForce(s, c, x, top)
		top -= forceHeight + forceGap
	}
	for _, v := range ticks(0, f.Length, 6) {
		t := words(scene.Point{X: x.at(v), Y: top + forceGap - 2}, fmt.Sprintf("%.0f", v+0))
		t.Align, t.Rise = scene.Middle, scene.CapTop
		s.Add(t)
	}
	t := words(scene.Point{X: (x.from + x.to) / 2, Y: top + forceGap - 3 - 2*Lettering}, f.Axis)
	t.Align, t.Rise = scene.Middle, scene.CapTop
	s.Add(t)
	return *s
}

func drawForce(s *scene.Scene, c ForceCurve, x axis, top float64) {
	name := words(scene.Point{X: x.from, Y: top + 2}, c.Name)
	name.Weight = scene.Bold
	s.Add(name)
	low, high := 0.0, 0.0
	least, most := 0, 0
	for i, v := range c.Of {
		low, high = min(low, v), max(high, v)
		if v < c.Of[least] {
			least = i
		}
		if v > c.Of[most] {
			most = i
		}
	}
	if room := (high - low) * 0.25; room > 0 {
		low, high = low-room*boolShare(low < 0), high+room*boolShare(high > 0)
	} else {
		low, high = -1, 1
	}
	y := axis{low, high, top - forceHeight, top}
	for _, v := range ticks(low, high, 4) {
		s.Line(scene.Rule, scene.Point{X: x.from, Y: y.at(v)}, scene.Point{X: x.to, Y: y.at(v)})
		t := words(scene.Point{X: x.from - 1.5, Y: y.at(v)}, fmt.Sprintf("%.4g", v+0))
		t.Align, t.Rise = scene.Right, scene.MidHeight
		s.Add(t)
	}
	ring := []scene.Point{{X: x.at(c.At[0]), Y: y.at(0)}}
	for i, v := range c.Of {
		ring = append(ring, scene.Point{X: x.at(c.At[i]), Y: y.at(v)})
	}
	ring = append(ring, scene.Point{X: x.at(c.At[len(c.At)-1]), Y: y.at(0)})
	s.Add(scene.Polygon{Style: scene.NoLine, Fill: scene.PartFill, Points: ring})
	s.Polyline(scene.Outline, ring...)
	s.Line(scene.Frame, scene.Point{X: x.from, Y: y.at(0)}, scene.Point{X: x.to, Y: y.at(0)})
	for _, e := range []struct {
		at    int
		above bool
	}{{most, true}, {least, false}} {
		v := c.Of[e.at]
		if e.above != (v > 0) || math.Abs(v) < 0.05*max(high, -low) {
			continue
		}
		t := scene.Text{Style: scene.Emphasis, At: scene.Point{X: x.at(c.At[e.at]), Y: y.at(v) + 1.2}, Text: fmt.Sprintf("%.3g", v), Height: Lettering, Align: scene.Middle, Rise: scene.Baseline}
		if !e.above {
			t.At.Y, t.Rise = y.at(v)-1.2, scene.CapTop
		}
		half := scene.TextWidth(t.Text, Lettering, scene.Regular) / 2
		t.At.X = min(max(t.At.X, x.from+half), x.to-half)
		s.Add(t)
	}
}

func boolShare(b bool) float64 {
	if b {
		return 1
	}
	return 0
}
