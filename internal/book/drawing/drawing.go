// Package drawing turns a worked-out piece into drawings: views with hidden lines and dimensions, the
// exploded view, mark-out sheets, sections through joints, cutting diagrams, and the charts of the
// workbook.
//
// In go an assembly, its mark-out, or small plain values that say what a chart shows; out come scenes
// in millimetres on paper. Each drawing fits a frame and keeps its lettering at a size that is read
// from arm's length. Projections follow ISO 5456, lines ISO 128 and dimensions ISO 129-1, all from
// memory. The package decides nothing about the piece: every figure on a drawing comes from elsewhere.
package drawing

import (
	"cmp"
	"slices"

	"longgrain/internal/ground/unit"
	"longgrain/internal/paper/scene"
)

// Lettering heights, mm. Judgement: 3 mm is read at arm's length at the bench.
const (
	Lettering = 3.0
	heading   = 4.0
)

// Projection says how the views of a piece are arranged on paper.
type Projection int

// The two arrangements of ISO 5456-2. In first angle a view stands on the side away from which it is
// seen, in third angle on the side from which it is seen.
const (
	FirstAngle Projection = iota
	ThirdAngle
)

// Style is what the drawings of one book have in common. The zero value draws metric, first angle,
// for an upright A4 page.
type Style struct {
	Family     unit.Family
	Projection Projection
	// Width and Height of the frame that a drawing must fit, mm; 0 takes what an upright A4 page leaves.
	Width, Height float64
}

// Room that an upright A4 page leaves for a figure with its caption, mm.
const (
	pageWidth  = 166
	pageHeight = 225
)

func (st Style) frame() (width, height float64) {
	width, height = st.Width, st.Height
	if width <= 0 {
		width = pageWidth
	}
	if height <= 0 {
		height = pageHeight
	}
	return width, height
}

// between are scales between those of the paper package, which a rule with divisions of 1:125 and 1:75
// still reads. Common practice.
var between = []scene.Ratio{{Paper: 1, Model: 7.5}, {Paper: 1, Model: 12.5}, {Paper: 1, Model: 25}}

// ratios returns the scales to try, the largest first.
func (st Style) ratios() []scene.Ratio {
	if st.Family == unit.Imperial {
		return scene.InchRatios
	}
	all := slices.Concat(scene.MetricRatios, between)
	slices.SortFunc(all, func(x, y scene.Ratio) int { return cmp.Compare(y.Factor(), x.Factor()) })
	return all
}

// atMost returns the scales that draw no larger than k paper mm for a model mm; the smallest in any case.
func atMost(ratios []scene.Ratio, k float64) []scene.Ratio {
	for i, r := range ratios {
		if r.Factor() <= k || i == len(ratios)-1 {
			return ratios[i:]
		}
	}
	return ratios
}

// largest draws at ever smaller scales until the drawing fits the frame. The smallest scale is taken
// when none does.
func (st Style) largest(ratios []scene.Ratio, draw func(r scene.Ratio) *scene.Scene) *scene.Scene {
	width, height := st.frame()
	for i, r := range ratios {
		s := draw(r)
		if w, h := s.Size(); (w <= width && h <= height) || i == len(ratios)-1 {
			s.Ratio = r
			return s
		}
	}
	panic("drawing: there are ratios")
}

func (st Style) show(l unit.Length) string { return l.ShowNumber(st.Family) }

// showMM writes a length in model mm for a reader.
func (st Style) showMM(v float64) string { return unit.MM(v).ShowNumber(st.Family) }

// words returns a text of the book's lettering.
func words(at scene.Point, text string) scene.Text {
	return scene.Text{Style: scene.Words, At: at, Text: text, Height: Lettering}
}

// stack puts drawings below one another. They keep their places along x, so that what they share lines up.
func stack(gap float64, parts ...*scene.Scene) []scene.Item {
	var out []scene.Item
	top := 0.0
	for _, s := range parts {
		b := s.Bounds()
		if b.Empty() {
			continue
		}
		out = append(out, s.Moved(1, scene.Point{Y: top - b.Max.Y})...)
		top -= b.Height() + gap
	}
	return out
}

// inLine returns items as a drawing that begins at x = 0.
func inLine(items []scene.Item) *scene.Scene {
	s := &scene.Scene{Items: items}
	if b := s.Bounds(); !b.Empty() {
		s.Items = s.Moved(1, scene.Point{X: -b.Min.X})
	}
	return s
}
