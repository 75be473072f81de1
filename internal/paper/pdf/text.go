package pdf

import (
	"strings"

	"longgrain/internal/paper/document"
	"longgrain/internal/paper/scene"
)

// type sizes as heights of capitals in millimetres, from sizes in points.
var (
	bodySize    = points(9.5)
	tableSize   = points(8.5)
	smallSize   = points(7.5)
	captionSize = points(8.5)
)

const (
	millimetresPerPoint = 25.4 / 72
	bodyLeading         = 1.42 // distance of baselines as a share of the font size
	tableLeading        = 1.30
)

// rounding in millimetres is what sums of widths may differ by when they are taken in another order;
// a column made as wide as its longest cell must hold that cell on one line.
const rounding = 1e-6

// points returns the height of capitals, in millimetres, of a font size in points.
func points(size float64) float64 { return size * millimetresPerPoint * scene.CapHeight }

// face is how running text looks.
type face struct {
	height  float64 // of capitals
	leading float64 // share of the font size
	style   scene.Style
	weight  scene.Weight // of plain spans
}

// lineHeight returns the distance of baselines in millimetres.
func (f face) lineHeight() float64 { return scene.FontSize(f.height) * f.leading }

// firstBaseline returns how far the first baseline lies below the top of the text: so far that
// capitals stand in the middle of their line.
func (f face) firstBaseline() float64 { return (f.lineHeight() + f.height) / 2 }

func (f face) width(s string, w scene.Weight) float64 { return scene.TextWidth(s, f.height, w) }

// run is a piece of a line in one look.
type run struct {
	text   string
	weight scene.Weight
	ref    string
}

// word is what stands between two spaces: usually one run, more where the look changes inside.
type word struct {
	runs  []run
	width float64
}

// line is one line of set text.
type line struct {
	words []word
	width float64
}

// namer gives the printed name of a reference.
type namer func(id string) string

// wordsOf cuts text at its spaces. No-break spaces do not cut.
func (f face) wordsOf(t document.Text, name namer) []word {
	var out []word
	glue := false
	for _, s := range t {
		r := run{text: s.Text, weight: f.weight, ref: s.Ref}
		switch s.Mark {
		case document.Strong:
			r.weight = scene.Bold
		case document.Slanted:
			r.weight = scene.Oblique
		}
		if s.Ref != "" {
			r.text += name(s.Ref)
		}
		for i, piece := range strings.FieldsFunc(r.text, isSpace) {
			starts := i > 0 || !glue || isSpace(rune(r.text[0]))
			part := run{piece, r.weight, r.ref}
			if starts || len(out) == 0 {
				out = append(out, word{})
			}
			last := &out[len(out)-1]
			last.runs = append(last.runs, part)
			last.width += f.width(piece, r.weight)
		}
		if r.text != "" {
			glue = !isSpace(rune(r.text[len(r.text)-1]))
		}
	}
	return out
}

func isSpace(r rune) bool { return r == ' ' || r == '\n' || r == '\t' }

// set breaks text into lines no wider than width. A word wider than that is broken where it must be.
func (f face) set(t document.Text, width float64, name namer) []line {
	space := f.width(" ", f.weight)
	var out []line
	var current line
	for _, w := range f.wordsOf(t, name) {
		for _, part := range f.broken(w, width) {
			if len(current.words) > 0 && current.width+space+part.width > width+rounding {
				out = append(out, current)
				current = line{}
			}
			if len(current.words) > 0 {
				current.width += space
			}
			current.words = append(current.words, part)
			current.width += part.width
		}
	}
	if len(current.words) > 0 || len(out) == 0 {
		out = append(out, current)
	}
	return out
}

// broken returns the word in pieces no wider than width, cut after a hyphen or slash where there is
// one, else between letters.
func (f face) broken(w word, width float64) []word {
	if w.width <= width+rounding {
		return []word{w}
	}
	var out []word
	var current word
	flush := func() {
		if len(current.runs) > 0 {
			out = append(out, current)
			current = word{}
		}
	}
	for _, r := range w.runs {
		for _, atom := range atoms(r.text) {
			for _, piece := range f.fitting(atom, r.weight, width) {
				pw := f.width(piece, r.weight)
				if current.width+pw > width {
					flush()
				}
				current.runs = append(current.runs, run{piece, r.weight, r.ref})
				current.width += pw
			}
		}
	}
	flush()
	return out
}

// atoms cuts a word after each hyphen, slash and dash.
func atoms(s string) []string {
	var out []string
	start := 0
	for i, r := range s {
		if strings.ContainsRune("-/–—_.", r) {
			end := i + len(string(r))
			out = append(out, s[start:end])
			start = end
		}
	}
	if start < len(s) {
		out = append(out, s[start:])
	}
	return out
}

// fitting cuts a piece without break points into pieces no wider than width, at least a letter each.
func (f face) fitting(s string, weight scene.Weight, width float64) []string {
	var out []string
	start, w := 0, 0.0
	for i, r := range s {
		rw := f.width(string(r), weight)
		if w+rw > width && i > start {
			out = append(out, s[start:i])
			start, w = i, 0
		}
		w += rw
	}
	return append(out, s[start:])
}

// natural returns the width of the text on one line, and least the width of its widest word.
func (f face) natural(t document.Text, name namer) (natural, least float64) {
	space := f.width(" ", f.weight)
	for i, w := range f.wordsOf(t, name) {
		if i > 0 {
			natural += space
		}
		natural += w.width
		least = max(least, w.width)
	}
	return natural, least
}

// link is an area that leads to an ID.
type link struct {
	box scene.Box
	ref string
}

// draw returns the items of set lines whose box has its top left corner at x, 0 and the given width,
// y up. Neighbouring words of one look become one text, so that copied text keeps its spaces.
func (f face) draw(lines []line, x, width float64, align document.Align) (items []scene.Item, links []link) {
	space := f.width(" ", f.weight)
	for i, l := range lines {
		at := scene.Point{X: x, Y: -f.firstBaseline() - float64(i)*f.lineHeight()}
		switch align {
		case document.Centre:
			at.X += (width - l.width) / 2
		case document.End:
			at.X += width - l.width
		}
		for _, r := range joined(l) {
			w := f.width(r.text, r.weight)
			items = append(items, scene.Text{Style: f.style, At: at, Text: r.text, Height: f.height, Weight: r.weight})
			if r.ref != "" {
				links = append(links, link{scene.Box{
					Min: at.Plus(0, -scene.Descent(f.height)), Max: at.Plus(w, f.height),
				}, r.ref})
			}
			at.X += w
			if r.spaced {
				at.X += space
			}
		}
	}
	return items, links
}

// joinedRun is a run that may be followed by a space in the plain look.
type joinedRun struct {
	run
	spaced bool
}

// joined merges neighbouring runs of one look across the spaces between words.
func joined(l line) []joinedRun {
	var out []joinedRun
	for i, w := range l.words {
		for j, r := range w.runs {
			last := len(out) - 1
			same := last >= 0 && out[last].weight == r.weight && out[last].ref == r.ref
			switch {
			case same && out[last].spaced && r.weight == scene.Regular:
				out[last].text += " " + r.text
				out[last].spaced = false
			case same && !out[last].spaced:
				out[last].text += r.text
			default:
				out = append(out, joinedRun{run: r})
			}
			if j == len(w.runs)-1 && i < len(l.words)-1 {
				out[len(out)-1].spaced = true
			}
		}
	}
	return out
}
