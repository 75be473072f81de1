package scene

// Style says what a line or text means; weight, dashes and colour follow from it.
type Style int

// The meanings a drawing needs. Outline is the zero value.
const (
	Outline      Style = iota // visible edge of the thing drawn
	Detail                    // visible edge inside an outline, or an adjoining part
	Hidden                    // edge behind something
	Centre                    // centre line, axis of a bore, symmetry
	Dimension                 // dimension, extension and leader lines and their text
	Cut                       // line along which to cut
	Grain                     // grain direction, growth rings
	Offcut                    // border of what stays over
	Emphasis                  // what the drawing is about: datum faces, the joint in question
	Construction              // setting-out line that is not part of the thing
	Section                   // hatching of cut material
	Frame                     // border of a sheet or a box of text
	Rule                      // light rule between rows
	Words                     // text that belongs to no line
	Muted                     // text of second rank
	NoLine                    // no border at all
	styleCount
)

// Ink is a colour. All inks are dark enough to read when printed in black and white.
type Ink struct{ R, G, B uint8 }

// Pen is how a style looks on white paper.
type Pen struct {
	// Width in millimetres; 0 draws nothing.
	Width float64
	// Dash holds the lengths of strokes and gaps in millimetres, empty for a full line.
	Dash []float64
	Ink  Ink
}

// Line weights of ISO 128-2:2020 (the series 0.18, 0.25, 0.35, 0.5, 0.7 mm; from memory). Wide lines
// are twice the narrow ones.
const (
	extraWide   = 0.70
	wide        = 0.50
	middle      = 0.35
	narrow      = 0.25
	extraNarrow = 0.18
)

// Strokes and gaps of ISO 128-2:2020 in multiples of the line width (from memory): dash 12, gap 3,
// long dash 24, dot 0.5.
const (
	dashLength = 12
	dashGap    = 3
	longDash   = 24
	dotLength  = 0.5
)

func dashed(w float64) []float64 { return []float64{dashLength * w, dashGap * w} }

func chain(w float64) []float64 {
	return []float64{longDash * w, dashGap * w, dotLength * w, dashGap * w}
}

var (
	black  = Ink{0, 0, 0}
	grey   = Ink{70, 70, 70}
	pale   = Ink{150, 150, 150}
	faint  = Ink{190, 190, 190}
	brown  = Ink{122, 92, 58}
	red    = Ink{155, 28, 28}
	noInk  = Ink{255, 255, 255}
	styles = [styleCount]struct {
		name string
		pen  Pen
	}{
		Outline:      {"outline", Pen{wide, nil, black}},
		Detail:       {"detail", Pen{narrow, nil, black}},
		Hidden:       {"hidden", Pen{narrow, dashed(narrow), black}},
		Centre:       {"centre", Pen{extraNarrow, chain(narrow), grey}},
		Dimension:    {"dimension", Pen{extraNarrow, nil, black}},
		Cut:          {"cut", Pen{middle, chain(middle), red}},
		Grain:        {"grain", Pen{extraNarrow, nil, brown}},
		Offcut:       {"offcut", Pen{narrow, dashed(narrow), grey}},
		Emphasis:     {"emphasis", Pen{extraWide, nil, red}},
		Construction: {"construction", Pen{extraNarrow, nil, pale}},
		Section:      {"section", Pen{extraNarrow, nil, grey}},
		Frame:        {"frame", Pen{narrow, nil, grey}},
		Rule:         {"rule", Pen{extraNarrow, nil, faint}},
		Words:        {"words", Pen{narrow, nil, black}},
		Muted:        {"muted", Pen{extraNarrow, nil, grey}},
		NoLine:       {"no-line", Pen{0, nil, noInk}},
	}
)

// Styles returns every style in order, for writers that list them.
func Styles() []Style {
	all := make([]Style, styleCount)
	for i := range all {
		all[i] = Style(i)
	}
	return all
}

// String returns the name of the style, such as "outline"; writers use it as class and layer name.
// It panics on a value that is no style.
func (s Style) String() string { return styles[s].name }

// Pen returns how the style looks on white paper. It panics on a value that is no style.
func (s Style) Pen() Pen { return styles[s].pen }

// Fill says what an area means.
type Fill int

// The kinds of area. The tones stay apart in black and white; words beside them carry the meaning.
const (
	NoFill     Fill = iota
	PaperFill       // the colour of the paper: hides what lies behind
	InkFill         // solid: arrow heads, marks
	PartFill        // material that is used
	PartFill2       // a neighbour of PartFill
	OffcutFill      // material that stays over
	WasteFill       // material that is lost
	NoteFill        // box of text set off from the page
	GoodFill        // passes
	WatchFill       // near a limit
	BadFill         // fails
	fillCount
)

var fills = [fillCount]struct {
	name string
	ink  Ink
}{
	NoFill:     {"no-fill", Ink{255, 255, 255}},
	PaperFill:  {"paper", Ink{255, 255, 255}},
	InkFill:    {"ink", Ink{0, 0, 0}},
	PartFill:   {"part", Ink{245, 232, 208}},
	PartFill2:  {"part2", Ink{233, 214, 181}},
	OffcutFill: {"offcut", Ink{240, 240, 240}},
	WasteFill:  {"waste", Ink{222, 222, 222}},
	NoteFill:   {"note", Ink{244, 242, 238}},
	GoodFill:   {"good", Ink{234, 243, 230}},
	WatchFill:  {"watch", Ink{252, 240, 204}},
	BadFill:    {"bad", Ink{245, 214, 208}},
}

// Fills returns every fill in order, for writers that list them.
func Fills() []Fill {
	all := make([]Fill, fillCount)
	for i := range all {
		all[i] = Fill(i)
	}
	return all
}

// String returns the name of the fill, such as "part". It panics on a value that is no fill.
func (f Fill) String() string { return fills[f].name }

// Ink returns the colour of the fill on white paper; NoFill has white.
func (f Fill) Ink() Ink { return fills[f].ink }
