package pdf

import (
	"fmt"
	"math"

	"longgrain/internal/paper/document"
	"longgrain/internal/paper/scene"
)

// Margins of a template sheet in millimetres: room for the check bars at the left and below, for the
// title above, and for what printers cannot reach.
const (
	templateLeft   = 24.0
	templateRight  = 12.0
	templateTop    = 28.0
	templateBottom = 26.0
	templateLap    = 6.0 // how much of the neighbour is printed beyond the line of a join
)

// tiling is how a full-size drawing is shared among sheets.
type tiling struct {
	sheet      sheet
	cols, rows int
}

// template adds the sheets of a full-size drawing.
func (s *setter) template(t document.Template) {
	e := s.entry()
	s.add(piece{sheets: s.templatePages(t, e), key: e.Key})
}

// templatePages draws the sheets of a template, row by row from the top left.
func (s *setter) templatePages(t document.Template, e document.Entry) []page {
	box := t.Scene.Bounds()
	if box.Empty() {
		box = scene.Box{}
	}
	box = box.Grown(drawingMargin)
	g := bestTiling(s.sheet, box)
	// the drawing lies in the middle of the field that all sheets make
	left := box.Centre().X - float64(g.cols)*g.sheet.frameWidth()/2
	top := box.Centre().Y + float64(g.rows)*g.sheet.frameHeight()/2
	var out []page
	for row := range g.rows {
		for col := range g.cols {
			origin := scene.Point{
				X: left + float64(col)*g.sheet.frameWidth(),
				Y: top - float64(row+1)*g.sheet.frameHeight(),
			}
			pg := s.templateSheet(t, e, g, len(out)+1)
			pg.clipped = []clipped{g.tile(t.Scene, origin)}
			if g.cols*g.rows > 1 {
				pg.items = append(pg.items, g.joins(col, row)...)
			}
			out = append(out, pg)
		}
	}
	return out
}

// bestTiling chooses upright or lying sheets, whichever needs fewer; upright where both need the same.
func bestTiling(s sheet, box scene.Box) tiling {
	upright := newTiling(s.width, s.height, box)
	lying := newTiling(s.height, s.width, box)
	if lying.cols*lying.rows < upright.cols*upright.rows {
		return lying
	}
	return upright
}

func newTiling(width, height float64, box scene.Box) tiling {
	s := sheet{width, height, templateLeft, templateRight, templateTop, templateBottom}
	return tiling{
		sheet: s,
		cols:  max(1, int(math.Ceil(box.Width()/s.frameWidth()))),
		rows:  max(1, int(math.Ceil(box.Height()/s.frameHeight()))),
	}
}

// tile returns the part of the drawing whose lower left corner, in the drawing's own millimetres, is
// origin. It is only moved, never scaled.
func (g tiling) tile(sc scene.Scene, origin scene.Point) clipped {
	frame := g.frame()
	d := scene.Point{X: frame.Min.X - origin.X, Y: frame.Min.Y - origin.Y}
	return clipped{frame.Grown(templateLap), sc.Moved(1, d)}
}

// frame returns the part of a sheet between the lines of its joins.
func (g tiling) frame() scene.Box {
	s := g.sheet
	return scene.Box{Min: scene.Point{X: s.left, Y: s.bottom}, Max: scene.Point{X: s.width - s.right, Y: s.height - s.top}}
}

// joins draws the lines along which neighbouring sheets meet and a named cross at each corner. The
// same corner has the same name on every sheet that shows it.
func (g tiling) joins(col, row int) []scene.Item {
	f := g.frame()
	items := []scene.Item{scene.Rectangle(scene.Construction, scene.NoFill, f.Min, f.Max)}
	for i := range 2 {
		for j := range 2 {
			at := scene.Point{X: f.Min.X + float64(i)*f.Width(), Y: f.Max.Y - float64(j)*f.Height()}
			items = append(items, cross(at)...)
			name := scene.Text{
				Style: scene.Words, Text: fmt.Sprintf("%s%d", columnName(col+i), row+j+1), Height: scene.NoteHeight,
				At: at.Plus(-templateLap-0.5, templateLap+0.5), Align: scene.Right, Weight: scene.Bold,
			}
			if i == 1 {
				name.At.X = at.X + templateLap
			}
			if j == 1 {
				name.At.Y, name.Rise = at.Y-templateLap-0.5, scene.CapTop
			}
			items = append(items, name)
		}
	}
	return items
}

// columnName returns A, B, ... Z, AA, AB, ... for 0, 1, ...
func columnName(i int) string {
	if i < 26 {
		return string(rune('A' + i))
	}
	return columnName(i/26-1) + columnName(i%26)
}

// crossArm is half the size of a registration cross in millimetres.
const crossArm = 5.0

func cross(at scene.Point) []scene.Item {
	return []scene.Item{
		scene.Line{Style: scene.Dimension, From: at.Plus(-crossArm, 0), To: at.Plus(crossArm, 0)},
		scene.Line{Style: scene.Dimension, From: at.Plus(0, -crossArm), To: at.Plus(0, crossArm)},
		scene.Circle{Style: scene.Dimension, Centre: at, Radius: crossArm / 2},
	}
}

// templateSheet returns a sheet with title, instructions and check bars, number n of the tiling.
func (s *setter) templateSheet(t document.Template, e document.Entry, g tiling, n int) page {
	pg := page{width: g.sheet.width, height: g.sheet.height, bare: true}
	title := s.wording.Template + " " + e.Number
	if t.Caption != "" {
		title += "\u00A0 " + t.Caption
	}
	count := g.cols * g.rows
	check := s.wording.TemplateCheck
	if count > 1 {
		check += " " + s.wording.JoinMarks
	}
	number := fmt.Sprintf("%s %d %s %d", s.wording.Sheet, n, s.wording.Of, count)
	numberWidth := smallFace.width(number, scene.Regular)
	width := g.sheet.width - templateLeft - templateRight
	titleFace := face{points(11), 1.25, scene.Words, scene.Bold}
	put := func(f face, lines []line, y float64, align document.Align) {
		items, _ := f.draw(lines, 0, width, align)
		pg.items = append(pg.items, scene.Scene{Items: items}.Moved(1, scene.Point{X: templateLeft, Y: y})...)
	}
	top := g.sheet.height - 7
	put(titleFace, titleFace.set(document.Words(title), width-numberWidth-6, s.name)[:1], top, document.Start)
	put(smallFace, smallFace.set(document.Words(number), width, s.name), top-0.8, document.End)
	lines := smallFace.set(document.Words(check), width, s.name)
	put(smallFace, lines[:min(2, len(lines))], top-titleFace.lineHeight()-0.3, document.Start)
	pg.items = append(pg.items, checkBars()...)
	return pg
}

// Check bars in millimetres.
const (
	metricBar = 100.0
	inch      = 25.4
	inchBar   = 4 * inch
	barNear   = 16.0 // distance of the metric bar from the edge of the sheet
	barFar    = 10.0 // distance of the inch bar
	barStart  = 40.0 // where the bars begin along the edge
	tick      = 1.5
	longTick  = 2.5
)

// checkBars returns a bar of 100 mm and one of 4 in along the lower edge and along the left edge.
func checkBars() []scene.Item {
	var items []scene.Item
	for _, upright := range []bool{false, true} {
		items = append(items, bar(upright, barNear, metricBar, 10, "100 mm")...)
		items = append(items, bar(upright, barFar, inchBar, inch, "4 in")...)
	}
	return items
}

// bar draws a line of the given length with a tick at each step and long ticks at both ends.
func bar(upright bool, edge, length, step float64, label string) []scene.Item {
	at := func(along, across float64) scene.Point {
		if upright {
			return scene.Point{X: edge - across, Y: barStart + along}
		}
		return scene.Point{X: barStart + along, Y: edge + across}
	}
	items := []scene.Item{scene.Line{Style: scene.Dimension, From: at(0, 0), To: at(length, 0)}}
	count := int(math.Round(length / step))
	for i := range count + 1 {
		up := tick
		if i == 0 || i == count {
			up = longTick
		}
		items = append(items, scene.Line{Style: scene.Dimension, From: at(float64(i)*step, 0), To: at(float64(i)*step, up)})
	}
	t := scene.Text{Style: scene.Words, Text: label, Height: scene.NoteHeight, At: at(length+2, 0)}
	if upright {
		t.Rotation = 90
	}
	return append(items, t)
}
