package pdf

import (
	"codeberg.org/go-pdf/fpdf"

	"longgrain/internal/paper/scene"
)

// painter draws scene items on the current page of an fpdf file. It turns y round: scenes have y up
// from the lower edge of the page, fpdf has y down from the upper one.
type painter struct {
	pdf    *fpdf.Fpdf
	height float64 // of the page
}

func (p *painter) items(items []scene.Item) {
	for _, it := range items {
		switch it := it.(type) {
		case scene.Line:
			p.path(it.Style, scene.NoFill, []scene.Point{it.From, it.To}, nil, false)
		case scene.Polyline:
			p.path(it.Style, scene.NoFill, it.Points, nil, false)
		case scene.Polygon:
			p.polygon(it)
		case scene.Circle:
			if how := p.look(it.Style, it.Fill); how != "" {
				p.pdf.Circle(it.Centre.X, p.height-it.Centre.Y, it.Radius, how)
			}
		case scene.Arc:
			if how := p.look(it.Style, scene.NoFill); how != "" {
				p.pdf.Arc(it.Centre.X, p.height-it.Centre.Y, it.Radius, it.Radius, 0, it.Start, it.Start+it.Sweep(), how)
			}
		case scene.Text:
			p.text(it)
		case scene.Group:
			p.items(it.Items)
		}
	}
}

// look sets pen and fill and returns the way fpdf calls them, empty where nothing is to be drawn.
func (p *painter) look(style scene.Style, fill scene.Fill) string {
	how := ""
	pen := style.Pen()
	if pen.Width > 0 {
		p.pdf.SetLineWidth(pen.Width)
		p.pdf.SetDrawColor(int(pen.Ink.R), int(pen.Ink.G), int(pen.Ink.B))
		p.pdf.SetDashPattern(pen.Dash, 0)
		how = "D"
	}
	if fill != scene.NoFill {
		ink := fill.Ink()
		p.pdf.SetFillColor(int(ink.R), int(ink.G), int(ink.B))
		how += "F"
	}
	return how
}

// path draws a row of lines and its holes; the even-odd rule leaves the holes free.
func (p *painter) path(style scene.Style, fill scene.Fill, points []scene.Point, holes [][]scene.Point, closed bool) {
	how := p.look(style, fill)
	if how == "" || len(points) == 0 {
		return
	}
	for _, ring := range append([][]scene.Point{points}, holes...) {
		for i, q := range ring {
			if i == 0 {
				p.pdf.MoveTo(q.X, p.height-q.Y)
			} else {
				p.pdf.LineTo(q.X, p.height-q.Y)
			}
		}
		if closed {
			p.pdf.ClosePath()
		}
	}
	if fill != scene.NoFill {
		how += "*"
	}
	p.pdf.DrawPath(how)
}

func (p *painter) polygon(g scene.Polygon) {
	lines := g.HatchLines()
	if len(lines) == 0 {
		p.path(g.Style, g.Fill, g.Points, g.Holes, true)
		return
	}
	p.path(scene.NoLine, g.Fill, g.Points, g.Holes, true)
	for _, l := range lines {
		p.path(l.Style, scene.NoFill, []scene.Point{l.From, l.To}, nil, false)
	}
	p.path(g.Style, scene.NoFill, g.Points, g.Holes, true)
}

func (p *painter) text(t scene.Text) {
	words := scene.Printable(t.Text)
	if words == "" {
		return
	}
	if t.Backed {
		q := t.Quad()
		p.path(scene.NoLine, scene.PaperFill, q[:], nil, true)
	}
	ink := t.Style.Pen().Ink
	p.pdf.SetTextColor(int(ink.R), int(ink.G), int(ink.B))
	p.pdf.SetFont(fontFamily, fontStyle[t.Weight], scene.FontSize(t.Height)/millimetresPerPoint)
	at := t.Start()
	x, y := at.X, p.height-at.Y
	if t.Rotation == 0 {
		p.pdf.Text(x, y, words)
		return
	}
	p.pdf.TransformBegin()
	p.pdf.TransformRotate(t.Rotation, x, y)
	p.pdf.Text(x, y, words)
	p.pdf.TransformEnd()
}

func (p *painter) clipped(c clipped) {
	p.pdf.ClipRect(c.box.Min.X, p.height-c.box.Max.Y, c.box.Width(), c.box.Height(), false)
	p.items(c.items)
	p.pdf.ClipEnd()
}
