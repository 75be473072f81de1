// Package dxf writes a scene as a drawing exchange file of release 12 (AC1009), the version that the
// most programs and machines read.
//
// Each style of the scene becomes a layer with a colour and a line type, so that a reader can switch
// cut lines, bores and dimensions on and off. Text height is the height of capitals, in the scene as in
// the file. Fills have no counterpart and are left out; hatching is written as lines. Release 12 has
// no unit header; the numbers are millimetres, or inches where asked for, and a comment says so.
//
// The words of the format (group codes, sections, layers) follow the published DXF reference of
// release 12, from memory; a test has an independent reader audit the files.
package dxf

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"longgrain/internal/paper/scene"
)

// Options says in which size and unit to write.
type Options struct {
	// Full multiplies a drawing made at a ratio by its inverse, so that lines have the true size of
	// what they show; text and dashes grow with it.
	Full bool
	// Inches writes inches instead of millimetres.
	Inches bool
}

const millimetresPerInch = 25.4

// Write returns the scene as a DXF file.
func Write(s scene.Scene, o Options) []byte {
	k := 1.0
	if o.Full {
		k = 1 / s.Ratio.Factor()
	}
	unit := "millimetres"
	if o.Inches {
		k /= millimetresPerInch
		unit = "inches"
	}
	w := writer{scale: k}
	w.comment(strings.TrimSpace(s.Title + " (" + unit + ")"))
	w.header(s)
	w.tables(s)
	w.pair(0, "SECTION")
	w.pair(2, "ENTITIES")
	s.Walk(w.item)
	w.pair(0, "ENDSEC")
	w.pair(0, "EOF")
	return []byte(w.out.String())
}

// writer builds the file pair by pair: a group code on one line, its value on the next.
type writer struct {
	out   strings.Builder
	scale float64 // drawing units per millimetre on paper
}

func (w *writer) pair(code int, value string) { fmt.Fprintf(&w.out, "%3d\n%s\n", code, value) }

func (w *writer) number(code int, v float64) { w.pair(code, num(v)) }

// length writes millimetres on paper in drawing units.
func (w *writer) length(code int, v float64) { w.number(code, v*w.scale) }

// point writes x and y at the code and its follower ten higher.
func (w *writer) point(code int, p scene.Point) {
	w.length(code, p.X)
	w.length(code+10, p.Y)
}

func (w *writer) comment(s string) { w.pair(999, ascii(s)) }

func (w *writer) header(s scene.Scene) {
	b := s.Bounds()
	if b.Empty() {
		b = scene.Box{}
	}
	w.pair(0, "SECTION")
	w.pair(2, "HEADER")
	w.pair(9, "$ACADVER")
	w.pair(1, "AC1009")
	w.pair(9, "$EXTMIN")
	w.point(10, b.Min)
	w.pair(9, "$EXTMAX")
	w.point(10, b.Max)
	w.pair(9, "$LTSCALE")
	w.number(40, 1)
	w.pair(0, "ENDSEC")
}

// textStyle names the lettering; readers that lack the font put another in its place.
const textStyle = "LETTERING"

func (w *writer) tables(s scene.Scene) {
	used := usedStyles(s)
	w.pair(0, "SECTION")
	w.pair(2, "TABLES")
	w.lineTypes(used)
	w.table("LAYER", len(used)+1)
	w.layer("0", 7, continuous)
	for _, st := range used {
		w.layer(layerName(st), layerColour(st.Pen().Ink), lineType(st))
	}
	w.pair(0, "ENDTAB")
	w.table("STYLE", 1)
	w.pair(0, "STYLE")
	w.pair(2, textStyle)
	w.pair(70, "0")
	w.number(40, 0)
	w.number(41, 1)
	w.number(50, 0)
	w.pair(71, "0")
	w.length(42, scene.NoteHeight)
	w.pair(3, "DejaVuSans.ttf")
	w.pair(4, "")
	w.pair(0, "ENDTAB")
	w.pair(0, "ENDSEC")
}

func (w *writer) table(name string, count int) {
	w.pair(0, "TABLE")
	w.pair(2, name)
	w.pair(70, strconv.Itoa(count))
}

func (w *writer) layer(name string, colour int, lineType string) {
	w.pair(0, "LAYER")
	w.pair(2, name)
	w.pair(70, "0")
	w.pair(62, strconv.Itoa(colour))
	w.pair(6, lineType)
}

// usedStyles returns the styles that occur in the scene, in their own order.
func usedStyles(s scene.Scene) []scene.Style {
	seen := map[scene.Style]bool{}
	s.Walk(func(it scene.Item) {
		switch it := it.(type) {
		case scene.Line:
			seen[it.Style] = true
		case scene.Polyline:
			seen[it.Style] = true
		case scene.Polygon:
			seen[polygonStyle(it)] = true
			if it.Hatch != scene.NoHatch {
				seen[it.Hatch.HatchStyle()] = true
			}
		case scene.Circle:
			seen[it.Style] = true
		case scene.Arc:
			seen[it.Style] = true
		case scene.Text:
			seen[it.Style] = true
		}
	})
	var out []scene.Style
	for _, st := range scene.Styles() {
		if seen[st] && st != scene.NoLine {
			out = append(out, st)
		}
	}
	return out
}

// polygonStyle returns the style of a polygon's border. An arrowhead is only a fill; as there are no
// fills here, its border is drawn with the dimensions.
func polygonStyle(p scene.Polygon) scene.Style {
	if p.Style == scene.NoLine && p.Fill == scene.InkFill {
		return scene.Dimension
	}
	return p.Style
}

// layerName returns the layer of a style, such as OUTLINE.
func layerName(s scene.Style) string {
	return strings.ToUpper(strings.ReplaceAll(s.String(), "-", "_"))
}

// layerColour returns the nearest of the format's numbered colours: 7 is black or white, 8 grey, 1
// red, 30 orange-brown.
func layerColour(i scene.Ink) int {
	switch {
	case i.R > i.G && i.G == i.B:
		return 1
	case i.R > i.G:
		return 30
	case i.R > 0:
		return 8
	}
	return 7
}

const continuous = "CONTINUOUS"

// lineType returns the name of a style's line type: that of the style, or the plain one.
func lineType(s scene.Style) string {
	if len(s.Pen().Dash) == 0 {
		return continuous
	}
	return layerName(s)
}

// lineTypes writes the plain line type and one for each used style that has dashes.
func (w *writer) lineTypes(used []scene.Style) {
	dashed := slices.DeleteFunc(slices.Clone(used), func(s scene.Style) bool { return len(s.Pen().Dash) == 0 })
	w.table("LTYPE", len(dashed)+1)
	w.lineTypeOf(continuous, "full line", nil)
	for _, s := range dashed {
		w.lineTypeOf(layerName(s), s.String()+" line", s.Pen().Dash)
	}
	w.pair(0, "ENDTAB")
}

func (w *writer) lineTypeOf(name, words string, dash []float64) {
	w.pair(0, "LTYPE")
	w.pair(2, name)
	w.pair(70, "0")
	w.pair(3, words)
	w.pair(72, "65")
	w.pair(73, strconv.Itoa(len(dash)))
	total := 0.0
	for _, d := range dash {
		total += d
	}
	w.length(40, total)
	for i, d := range dash {
		if i%2 == 1 {
			d = -d // a gap
		}
		w.length(49, d)
	}
}

func (w *writer) entity(name string, s scene.Style) {
	w.pair(0, name)
	w.pair(8, layerName(s))
}

func (w *writer) item(it scene.Item) {
	switch it := it.(type) {
	case scene.Line:
		w.line(it)
	case scene.Polyline:
		w.polyline(it.Style, it.Points, false)
	case scene.Polygon:
		w.polygon(it)
	case scene.Circle:
		if it.Style != scene.NoLine {
			w.entity("CIRCLE", it.Style)
			w.point(10, it.Centre)
			w.length(40, it.Radius)
		}
	case scene.Arc:
		if it.Style != scene.NoLine {
			w.entity("ARC", it.Style)
			w.point(10, it.Centre)
			w.length(40, it.Radius)
			w.number(50, turn(it.Start))
			w.number(51, turn(it.Start+it.Sweep()))
		}
	case scene.Text:
		w.text(it)
	}
}

func (w *writer) line(l scene.Line) {
	if l.Style == scene.NoLine {
		return
	}
	w.entity("LINE", l.Style)
	w.point(10, l.From)
	w.point(11, l.To)
}

func (w *writer) polyline(s scene.Style, points []scene.Point, closed bool) {
	if s == scene.NoLine || len(points) < 2 {
		return
	}
	w.entity("POLYLINE", s)
	w.pair(66, "1") // vertices follow
	w.point(10, scene.Point{})
	if closed {
		w.pair(70, "1")
	} else {
		w.pair(70, "0")
	}
	for _, p := range points {
		w.entity("VERTEX", s)
		w.point(10, p)
	}
	w.entity("SEQEND", s)
}

func (w *writer) polygon(p scene.Polygon) {
	style := polygonStyle(p)
	w.polyline(style, p.Points, true)
	for _, h := range p.Holes {
		w.polyline(style, h, true)
	}
	for _, l := range p.HatchLines() {
		w.line(l)
	}
}

// text writes one line of text from the start of its baseline. No alignment is used: readers measure
// other fonts, and a start that is right keeps labels off the lines beside them.
func (w *writer) text(t scene.Text) {
	if t.Text == "" {
		return
	}
	w.entity("TEXT", t.Style)
	w.point(10, t.Start())
	w.length(40, t.Height)
	w.pair(1, ascii(scene.Printable(t.Text)))
	w.number(50, turn(t.Rotation))
	w.pair(7, textStyle)
}

// ascii writes text in the format's own signs for what lies outside ASCII: %%c for the diameter sign,
// %%d for degrees, %%p for plus-minus, \U+XXXX for all else.
func ascii(s string) string {
	var b strings.Builder
	for _, r := range s {
		switch {
		case r == 'Ø' || r == '⌀':
			b.WriteString("%%c")
		case r == '°':
			b.WriteString("%%d")
		case r == '±':
			b.WriteString("%%p")
		case r == '%':
			b.WriteString("%%%")
		case r < ' ':
			b.WriteByte(' ')
		case r > '~':
			fmt.Fprintf(&b, "\\U+%04X", r)
		default:
			b.WriteRune(r)
		}
	}
	return b.String()
}

// turn brings an angle in degrees to 0 <= a < 360.
func turn(degrees float64) float64 {
	a := math.Mod(degrees, 360)
	if a < 0 {
		a += 360
	}
	return a
}

// num prints six decimals with zeros at the end cut but for one, never with an exponent.
func num(v float64) string {
	s := strings.TrimRight(strconv.FormatFloat(v, 'f', 6, 64), "0")
	if strings.HasSuffix(s, ".") {
		s += "0"
	}
	if s == "-0.0" {
		return "0.0"
	}
	return s
}
