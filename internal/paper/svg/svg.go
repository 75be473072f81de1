// Package svg writes a scene as SVG: one user unit is one millimetre, text stays text, title and
// description are there for screen readers.
//
// Each item carries a class by its meaning (pen-outline, ink-dimension, fill-part ...) and, as
// presentation attributes, the look of the printed drawing. So a drawing is right without any style
// sheet, a page may recolour it through the classes, and a strict content security policy has nothing
// to refuse: there are no style elements and no style attributes. Same scene, same bytes.
package svg

import (
	"fmt"
	"strconv"
	"strings"

	"longgrain/internal/paper/scene"
)

// margin is the free paper around the items in millimetres: half the widest line and a little air.
const margin = 1.5

// family names fonts of nearly the width of the one measured; textLength corrects the rest.
const family = "DejaVu Sans, Verdana, sans-serif"

// File returns the scene as a complete SVG file of its true size on paper.
func File(s scene.Scene) []byte {
	return []byte(`<?xml version="1.0" encoding="UTF-8"?>` + "\n" + render(s, "", true) + "\n")
}

// Inline returns the scene as an svg element to stand inside an HTML page. Ids are prefixed, so that
// several drawings can share a page; the plain id of a group stands in data-id, for picking. Width
// and height are left out of the element where fluid is set, so that the page decides the size.
func Inline(s scene.Scene, prefix string, fluid bool) string { return render(s, prefix, !fluid) }

func render(s scene.Scene, prefix string, sized bool) string {
	box := s.Bounds()
	if box.Empty() {
		box = scene.Box{}
	}
	box = box.Grown(margin)
	w := writer{prefix: prefix, left: box.Min.X, top: box.Max.Y}
	w.open(s, box, sized)
	w.items(s.Items)
	w.endRun()
	w.out.WriteString("</svg>")
	return w.out.String()
}

// writer turns items into elements. Neighbouring items of one kind and style share one g element,
// which keeps files small.
type writer struct {
	out       strings.Builder
	prefix    string
	left, top float64
	run       string // opening tag of the g element that is open, or empty
}

func (w *writer) open(s scene.Scene, box scene.Box, sized bool) {
	w.out.WriteString(`<svg xmlns="http://www.w3.org/2000/svg"`)
	if s.ID != "" {
		fmt.Fprintf(&w.out, ` id="%s"`, escape(w.prefix+s.ID))
	}
	if sized {
		fmt.Fprintf(&w.out, ` width="%smm" height="%smm"`, num(box.Width()), num(box.Height()))
	}
	fmt.Fprintf(&w.out, ` viewBox="0 0 %s %s" class="drawing" role="img" font-family="%s">`,
		num(box.Width()), num(box.Height()), family)
	w.describe(s.Title, s.Description)
}

func (w *writer) describe(title, description string) {
	if title != "" {
		fmt.Fprintf(&w.out, "<title>%s</title>", escape(title))
	}
	if description != "" {
		fmt.Fprintf(&w.out, "<desc>%s</desc>", escape(description))
	}
	w.out.WriteByte('\n')
}

func (w *writer) items(items []scene.Item) {
	for _, it := range items {
		switch it := it.(type) {
		case scene.Group:
			w.group(it)
		case scene.Text:
			w.text(it)
		default:
			w.shape(it)
		}
	}
}

func (w *writer) group(g scene.Group) {
	w.endRun()
	w.out.WriteString("<g")
	if g.ID != "" {
		fmt.Fprintf(&w.out, ` id="%s" data-id="%s"`, escape(w.prefix+g.ID), escape(g.ID))
	}
	w.out.WriteString(">")
	w.describe(g.Title, "")
	w.items(g.Items)
	w.endRun()
	w.out.WriteString("</g>\n")
}

// begin makes sure that the g element with this opening tag is the open one.
func (w *writer) begin(run string) {
	if w.run == run {
		return
	}
	w.endRun()
	w.out.WriteString(run + "\n")
	w.run = run
}

func (w *writer) endRun() {
	if w.run != "" {
		w.out.WriteString("</g>\n")
		w.run = ""
	}
}

func (w *writer) shape(it scene.Item) {
	switch it := it.(type) {
	case scene.Line:
		w.begin(penRun(it.Style))
		a, b := w.at(it.From), w.at(it.To)
		fmt.Fprintf(&w.out, `<path d="M%s L%s"/>`+"\n", a, b)
	case scene.Polyline:
		w.begin(penRun(it.Style))
		fmt.Fprintf(&w.out, `<path d="%s"/>`+"\n", w.path(it.Points, false))
	case scene.Polygon:
		w.polygon(it)
	case scene.Circle:
		w.begin(penRun(it.Style))
		c := w.at(it.Centre)
		fmt.Fprintf(&w.out, `<circle cx="%s" cy="%s" r="%s"%s/>`+"\n", c.x, c.y, num(it.Radius), fillOf(it.Fill))
	case scene.Arc:
		w.begin(penRun(it.Style))
		from, to := it.Ends()
		large := 0
		if it.Sweep() > 180 {
			large = 1
		}
		fmt.Fprintf(&w.out, `<path d="M%s A%s %s 0 %d 0 %s"/>`+"\n", w.at(from), num(it.Radius), num(it.Radius), large, w.at(to))
	}
}

func (w *writer) polygon(p scene.Polygon) {
	d := w.path(p.Points, true)
	for _, h := range p.Holes {
		d += " " + w.path(h, true)
	}
	rule := ""
	if len(p.Holes) > 0 {
		rule = ` fill-rule="evenodd"`
	}
	lines := p.HatchLines()
	if len(lines) == 0 {
		w.begin(penRun(p.Style))
		fmt.Fprintf(&w.out, `<path d="%s"%s%s/>`+"\n", d, fillOf(p.Fill), rule)
		return
	}
	if p.Fill != scene.NoFill {
		w.begin(penRun(scene.NoLine))
		fmt.Fprintf(&w.out, `<path d="%s"%s%s/>`+"\n", d, fillOf(p.Fill), rule)
	}
	w.begin(penRun(p.Hatch.HatchStyle()))
	fmt.Fprintf(&w.out, `<path d="%s"/>`+"\n", w.hatch(lines))
	w.begin(penRun(p.Style))
	fmt.Fprintf(&w.out, `<path d="%s"/>`+"\n", d)
}

// hatch returns all hatch lines as one path; lines that follow each other, as along a growth ring, are
// joined.
func (w *writer) hatch(lines []scene.Line) string {
	var d strings.Builder
	for i, l := range lines {
		if i == 0 || lines[i-1].To != l.From {
			fmt.Fprintf(&d, "M%s", w.at(l.From))
		}
		fmt.Fprintf(&d, "L%s", w.at(l.To))
	}
	return d.String()
}

func (w *writer) text(t scene.Text) {
	if t.Text == "" {
		return
	}
	ink := t.Style.Pen().Ink
	w.begin(fmt.Sprintf(`<g class="ink-%s" fill="%s">`, t.Style, hex(ink)))
	if t.Backed {
		q := t.Quad()
		fmt.Fprintf(&w.out, `<path d="%s"%s/>`+"\n", w.path(q[:], true), fillOf(scene.PaperFill))
	}
	anchor := map[scene.Align]string{scene.Middle: "middle", scene.Right: "end"}[t.Align]
	base := t
	base.Align = scene.Left
	at := w.at(base.Start())
	fmt.Fprintf(&w.out, `<text x="%s" y="%s" font-size="%s"`, at.x, at.y, num(scene.FontSize(t.Height)))
	if anchor != "" {
		fmt.Fprintf(&w.out, ` text-anchor="%s"`, anchor)
	}
	switch t.Weight {
	case scene.Bold:
		w.out.WriteString(` font-weight="bold"`)
	case scene.Oblique:
		w.out.WriteString(` font-style="oblique"`)
	}
	if t.Rotation != 0 {
		fmt.Fprintf(&w.out, ` transform="rotate(%s %s %s)"`, num(-t.Rotation), at.x, at.y)
	}
	words := scene.Printable(t.Text)
	if len([]rune(words)) > 1 {
		fmt.Fprintf(&w.out, ` textLength="%s" lengthAdjust="spacingAndGlyphs"`, num(t.Width()))
	}
	fmt.Fprintf(&w.out, ">%s</text>\n", escape(words))
}

// place is a point in SVG coordinates, y down, already printed.
type place struct{ x, y string }

func (p place) String() string { return p.x + " " + p.y }

func (w *writer) at(p scene.Point) place { return place{num(p.X - w.left), num(w.top - p.Y)} }

func (w *writer) path(points []scene.Point, closed bool) string {
	var d strings.Builder
	for i, p := range points {
		if i == 0 {
			d.WriteString("M")
		} else {
			d.WriteString(" L")
		}
		d.WriteString(w.at(p).String())
	}
	if closed {
		d.WriteString(" Z")
	}
	return d.String()
}

// penRun returns the opening tag of the g element for lines of a style.
func penRun(s scene.Style) string {
	pen := s.Pen()
	if pen.Width == 0 {
		return fmt.Sprintf(`<g class="pen-%s" stroke="none" fill="none">`, s)
	}
	dash := ""
	if len(pen.Dash) > 0 {
		parts := make([]string, len(pen.Dash))
		for i, v := range pen.Dash {
			parts[i] = num(v)
		}
		dash = fmt.Sprintf(` stroke-dasharray="%s"`, strings.Join(parts, " "))
	}
	return fmt.Sprintf(`<g class="pen-%s" fill="none" stroke="%s" stroke-width="%s" stroke-linejoin="round"%s>`,
		s, hex(pen.Ink), num(pen.Width), dash)
}

// fillOf returns class and fill attributes of an area, or nothing for no fill.
func fillOf(f scene.Fill) string {
	if f == scene.NoFill {
		return ""
	}
	return fmt.Sprintf(` class="fill-%s" fill="%s"`, f, hex(f.Ink()))
}

func hex(i scene.Ink) string { return fmt.Sprintf("#%02x%02x%02x", i.R, i.G, i.B) }

// num prints millimetres with three decimals, zeros at the end cut, never with an exponent.
func num(v float64) string {
	s := strconv.FormatFloat(v, 'f', 3, 64)
	s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	if s == "-0" {
		return "0"
	}
	return s
}

var escaper = strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;", `"`, "&quot;", "'", "&#39;")

func escape(s string) string { return escaper.Replace(s) }
