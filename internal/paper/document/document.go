// Package document holds pages in general: headings, paragraphs, lists, tables, figures, summaries,
// cautions and cross references, in reading order.
//
// A Document says what stands where and what it means, never how wide a column or how large a letter
// is; the writers (packages pdf and html) decide that. Index numbers the headings, figures and tables
// and finds what a reference points at, so that all writers print the same numbers. Check lists
// references that lead nowhere. The package knows no file format.
package document

import "longgrain/internal/paper/scene"

// Document is a whole book of pages.
type Document struct {
	// Title is printed in the header of each page; Subtitle below it on the cover.
	Title, Subtitle string
	// Author goes into the file's properties.
	Author string
	// Language is a language tag such as "en"; empty means "en".
	Language string
	// Cover, if not nil, is the first page.
	Cover *Cover
	// Contents asks for a table of contents after the cover.
	Contents bool
	// Footer is printed at the foot of each page, beside the page number.
	Footer string
	Blocks []Block
	// Wording holds the words the writers add; the zero value means English.
	Wording Wording
}

// Cover is the first page: the title of the document with what a reader wants to see at once.
type Cover struct {
	Figure  *scene.Scene
	Summary []Pair
	Lines   []string
}

// Block is one thing on the page, from top to bottom.
type Block interface{ isBlock() }

// Heading begins a part of the document. Levels 1 (chapter) to 3 are numbered unless Plain is set.
type Heading struct {
	Level int
	// ID is what See points at; it may be empty.
	ID    string
	Text  string
	Plain bool
}

// Paragraph is running text.
type Paragraph struct{ Text Text }

// List is a row of points, with numbers if Ordered.
type List struct {
	Ordered bool
	Items   []Text
}

// Checklist is a row of points with a box to tick.
type Checklist struct{ Items []Text }

// Figure is a drawing with a caption.
type Figure struct {
	ID      string
	Scene   scene.Scene
	Caption string
	// Width in millimetres; 0 prints the scene at its true size on paper. A figure wider or taller
	// than the page is made smaller, and the caption then says that it is not to scale.
	Width float64
	// Open, if not nil, is the drawing that a lesson prints in its place, for the class to draw in; OpenCaption its caption, empty for
	// the same.
	Open        *scene.Scene
	OpenCaption string
}

// Template is a drawing printed full size, over several sheets where needed, with marks to join them
// and bars to check the print. Only paper can carry it; a screen shows it as a figure.
type Template struct {
	ID      string
	Scene   scene.Scene // at full size, one millimetre for one millimetre
	Caption string
}

// CautionKind ranks what a box warns of.
type CautionKind int

// The three ranks of a box.
const (
	Note    CautionKind = iota // good to know
	Caution                    // the work can be spoiled
	Warning                    // someone can be hurt
)

// Box is text set off from the page because it must not be missed.
type Box struct {
	Kind CautionKind
	// Title is printed after the word for the kind; it may be empty.
	Title string
	Text  []Text
}

// Summary is a block of short facts: a name and a value each.
type Summary struct{ Pairs []Pair }

// Pair is one fact of a Summary.
type Pair struct {
	Name  string
	Value Text
	Tone  Tone
}

// SmallPrint is text of second rank, such as sources.
type SmallPrint struct{ Text Text }

// PageBreak starts a new page, on paper.
type PageBreak struct{}

// Together keeps its blocks on one page where they fit on one.
type Together struct{ Blocks []Block }

func (Heading) isBlock()    {}
func (Paragraph) isBlock()  {}
func (List) isBlock()       {}
func (Checklist) isBlock()  {}
func (Figure) isBlock()     {}
func (Template) isBlock()   {}
func (Box) isBlock()        {}
func (Summary) isBlock()    {}
func (SmallPrint) isBlock() {}
func (PageBreak) isBlock()  {}
func (Together) isBlock()   {}
func (Table) isBlock()      {}

// Add appends blocks.
func (d *Document) Add(blocks ...Block) { d.Blocks = append(d.Blocks, blocks...) }

// Heading appends a numbered heading.
func (d *Document) Heading(level int, id, text string) {
	d.Add(Heading{Level: level, ID: id, Text: text})
}

// Paragraph appends a paragraph of plain words.
func (d *Document) Paragraph(text string) { d.Add(Paragraph{Words(text)}) }

// Figure appends a drawing at its true size on paper.
func (d *Document) Figure(id string, s scene.Scene, caption string) {
	d.Add(Figure{ID: id, Scene: s, Caption: caption})
}
