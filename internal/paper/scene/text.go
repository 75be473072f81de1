package scene

import (
	_ "embed"
	"fmt"
	"strconv"
	"strings"
)

// Lettering heights in millimetres from the series of ISO 3098-1 (from memory), measured on capital
// letters and digits.
const (
	SmallHeight = 1.8
	NoteHeight  = 2.5
	TitleHeight = 3.5
)

// Weight is the cut of the letters.
type Weight int

// The three cuts the writers have.
const (
	Regular Weight = iota
	Bold
	Oblique
)

// Align says which end of the text stands at its point, along the line of writing.
type Align int

// Left is the zero value: the text starts at its point.
const (
	Left Align = iota
	Middle
	Right
)

// Rise says which height of the text stands at its point, across the line of writing.
type Rise int

// Baseline is the zero value. MidHeight is half the height of a capital, CapTop its top.
const (
	Baseline Rise = iota
	MidHeight
	CapTop
)

// Text is one line of writing.
type Text struct {
	// Style gives the colour; the zero value writes black, as Outline does.
	Style Style
	At    Point
	Text  string
	// Height of a capital letter in millimetres.
	Height float64
	Weight Weight
	Align  Align
	Rise   Rise
	// Rotation in degrees counter-clockwise about At.
	Rotation float64
	// Backed text stands on a patch of paper colour that hides the lines behind it.
	Backed bool
}

// Metrics of DejaVu Sans 2.37, in units of the font, read from its hmtx and glyf tables. A test in
// package pdf compares them, and advance.csv, with the embedded font files.
const (
	unitsPerEm  = 2048
	capitalTop  = 1493 // top of H
	ascenderTop = 1556 // top of l and d
	descender   = 483  // depth given by the font, a little below p
)

// CapHeight is the height of a capital as a share of the font size.
const CapHeight = float64(capitalTop) / unitsPerEm

// FontSize returns the font size (the em, in the unit of height) whose capitals are height high.
func FontSize(height float64) float64 { return height / CapHeight }

// Replacement stands for every character the font does not have.
const Replacement = '\uFFFD'

//go:embed advance.csv
var advanceTable string

// advances maps a character to its advance in Regular, Bold and Oblique, in units of the font.
var advances = readAdvances(advanceTable)

// readAdvances reads rows of code point in hexadecimal and three advances. It panics on a bad row,
// because the table is part of the program.
func readAdvances(table string) map[rune][3]int {
	out := map[rune][3]int{}
	for _, row := range strings.Fields(table)[1:] {
		cells := strings.Split(row, ",")
		code, err := strconv.ParseInt(cells[0], 16, 32)
		if err != nil || len(cells) != 4 {
			panic(fmt.Sprintf("scene: bad row %q in advance.csv", row))
		}
		var a [3]int
		for i := range a {
			if a[i], err = strconv.Atoi(cells[i+1]); err != nil {
				panic(fmt.Sprintf("scene: bad row %q in advance.csv", row))
			}
		}
		out[rune(code)] = a
	}
	return out
}

// Printable returns s with tabs and line ends as spaces and every character that the font lacks as
// Replacement. Writers print this form and TextWidth measures it, so that all agree.
func Printable(s string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r == '\t' || r == '\n' || r == '\r':
			return ' '
		case r < ' ':
			return -1
		}
		if _, ok := advances[r]; !ok {
			return Replacement
		}
		return r
	}, s)
}

// Advance returns the width of one character in units of the font (2048 to the em), that of
// Replacement for a character the font lacks.
func Advance(r rune, w Weight) int {
	a, ok := advances[r]
	if !ok {
		a = advances[Replacement]
	}
	return a[w]
}

// TextWidth returns the width of s in the unit of height, for capitals of that height. No kerning is
// applied, and the writers apply none.
func TextWidth(s string, height float64, w Weight) float64 {
	total := 0
	for _, r := range Printable(s) {
		total += Advance(r, w)
	}
	return float64(total) / unitsPerEm * FontSize(height)
}

// Width returns how long the text is along its line of writing, in millimetres.
func (t Text) Width() float64 { return TextWidth(t.Text, t.Height, t.Weight) }

// Descent returns how far letters reach below the baseline, in the unit of height.
func Descent(height float64) float64 { return height * descender / capitalTop }

// ascent returns how far letters reach above the baseline.
func ascent(height float64) float64 { return height * ascenderTop / capitalTop }

// Start returns where the baseline of the text begins.
func (t Text) Start() Point {
	along, across := 0.0, 0.0
	switch t.Align {
	case Middle:
		along = -t.Width() / 2
	case Right:
		along = -t.Width()
	}
	switch t.Rise {
	case MidHeight:
		across = -t.Height / 2
	case CapTop:
		across = -t.Height
	}
	return turned(t.At, along, across, t.Rotation)
}

// Quad returns the four corners of the box around the text, turned with it.
func (t Text) Quad() Quad {
	s, w := t.Start(), t.Width()
	low, high := -Descent(t.Height), ascent(t.Height)
	return Quad{
		turned(s, 0, low, t.Rotation),
		turned(s, w, low, t.Rotation),
		turned(s, w, high, t.Rotation),
		turned(s, 0, high, t.Rotation),
	}
}

func (t Text) moved(k float64, d Point) Item {
	t.At, t.Height = t.At.moved(k, d), t.Height*k
	return t
}

func (t Text) bounds() Box { return t.Quad().Bounds() }
