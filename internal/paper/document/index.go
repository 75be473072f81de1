package document

import (
	"fmt"
	"strconv"
	"strings"
)

// Wording holds the words that writers add to a document, in its language.
type Wording struct {
	Contents, Page, Of              string
	Chapter, Section                string
	Figure, Table, Template         string
	Note, Caution, Warning          string
	Scale, NotToScale               string
	Sheet, TemplateCheck, JoinMarks string
	MissingReference                string
	Question, AsQuestion, Answers   string // of a lesson
	FillIn, DrawIn                  string
}

// English is the wording used where a document gives none.
var English = Wording{
	Contents: "Contents", Page: "page", Of: "of",
	Chapter: "chapter", Section: "section",
	Figure: "Figure", Table: "Table", Template: "Template",
	Note: "Note", Caution: "Caution", Warning: "Warning",
	Scale: "Scale", NotToScale: "Not to scale",
	Sheet:            "sheet",
	TemplateCheck:    "Print at 100 %, without fitting to the page. Before use measure both bars, across and up: 100 mm and 4 in.",
	JoinMarks:        "Lay the sheets so that crosses with the same name cover each other.",
	MissingReference: "(missing)",
	Question:         "Question", AsQuestion: "As question", Answers: "Answers", FillIn: "Fill in.", DrawIn: "Draw it here.",
}

// Words returns the wording of the document.
func (d Document) Words() Wording {
	if d.Wording == (Wording{}) {
		return English
	}
	return d.Wording
}

// Kind is what an index entry is.
type Kind int

// The kinds of entry.
const (
	HeadingEntry Kind = iota
	FigureEntry
	TableEntry
	TemplateEntry
)

// Entry is one heading, figure, table or template with its number.
type Entry struct {
	Kind Kind
	// Key is unique within the document: the ID, or one made from the position.
	Key string
	// Number is as printed, such as "3.2"; empty for what is not numbered.
	Number string
	Level  int
	Title  string
}

// Index holds the entries of a document in order.
type Index struct {
	Entries []Entry
	byKey   map[string]int
	wording Wording
	twice   []string
}

// deepest is the lowest level of heading that gets a number.
const deepest = 3

// Index numbers the document.
func (d Document) Index() *Index {
	x := &Index{byKey: map[string]int{}, wording: d.Words()}
	n := numberer{index: x}
	n.blocks(d.Blocks)
	return x
}

// numberer counts while it walks through the blocks.
type numberer struct {
	index                      *Index
	headings                   [deepest + 1]int
	figures, tables, templates int
}

func (n *numberer) blocks(blocks []Block) {
	for _, b := range blocks {
		switch b := b.(type) {
		case Heading:
			n.add(Entry{Kind: HeadingEntry, Key: b.ID, Number: n.headingNumber(b), Level: b.Level, Title: b.Text})
		case Figure:
			n.figures++
			n.add(Entry{Kind: FigureEntry, Key: b.ID, Number: strconv.Itoa(n.figures), Title: b.Caption})
		case Table:
			n.table(b)
		case *Table:
			n.table(*b)
		case Template:
			n.templates++
			n.add(Entry{Kind: TemplateEntry, Key: b.ID, Number: strconv.Itoa(n.templates), Title: b.Caption})
		case Together:
			n.blocks(b.Blocks)
		}
	}
}

func (n *numberer) table(t Table) {
	number := ""
	if t.Numbered() {
		n.tables++
		number = strconv.Itoa(n.tables)
	}
	n.add(Entry{Kind: TableEntry, Key: t.ID, Number: number, Title: t.Caption})
}

// Numbered reports whether the table gets a number.
func (t Table) Numbered() bool { return t.Caption != "" }

// headingNumber counts a heading. One that skips a level has no number, because 2.0.1 says nothing.
func (n *numberer) headingNumber(h Heading) string {
	if h.Plain || h.Level < 1 || h.Level > deepest {
		return ""
	}
	n.headings[h.Level]++
	for l := h.Level + 1; l <= deepest; l++ {
		n.headings[l] = 0
	}
	parts := make([]string, h.Level)
	for l := 1; l <= h.Level; l++ {
		if n.headings[l] == 0 {
			return ""
		}
		parts[l-1] = strconv.Itoa(n.headings[l])
	}
	return strings.Join(parts, ".")
}

func (n *numberer) add(e Entry) {
	x := n.index
	if e.Key == "" {
		e.Key = fmt.Sprintf("at-%d", len(x.Entries)+1)
	}
	if _, ok := x.byKey[e.Key]; ok {
		x.twice = append(x.twice, e.Key)
	} else {
		x.byKey[e.Key] = len(x.Entries)
	}
	x.Entries = append(x.Entries, e)
}

// Find returns the entry with the given ID.
func (x *Index) Find(id string) (Entry, bool) {
	i, ok := x.byKey[id]
	if !ok {
		return Entry{}, false
	}
	return x.Entries[i], true
}

// Name returns how a sentence calls the thing with the given ID: "chapter 3", "section 3.2",
// "figure 4", or the title of an unnumbered heading. An unknown ID gives the word for a missing one.
func (x *Index) Name(id string) string {
	e, ok := x.Find(id)
	switch {
	case !ok:
		return x.wording.MissingReference
	case e.Number == "" && e.Title == "":
		return strings.ToLower(x.Caption(e.Kind))
	case e.Number == "":
		return "“" + e.Title + "”"
	case e.Kind == HeadingEntry && e.Level == 1:
		return x.wording.Chapter + "\u00A0" + e.Number
	case e.Kind == HeadingEntry:
		return x.wording.Section + "\u00A0" + e.Number
	}
	return strings.ToLower(x.Caption(e.Kind)) + "\u00A0" + e.Number
}

// Caption returns the word that stands before the number of a figure, table or template.
func (x *Index) Caption(k Kind) string {
	switch k {
	case FigureEntry:
		return x.wording.Figure
	case TableEntry:
		return x.wording.Table
	case TemplateEntry:
		return x.wording.Template
	}
	return x.wording.Chapter
}

// Check returns what is wrong with the document's IDs: used twice, or pointed at but not there. It is
// meant for tests of the code that builds documents.
func (d Document) Check() []string {
	x := d.Index()
	var out []string
	for _, id := range x.twice {
		out = append(out, fmt.Sprintf("ID %q is used twice", id))
	}
	for _, t := range d.texts() {
		for _, s := range t {
			if _, ok := x.Find(s.Ref); s.Ref != "" && !ok {
				out = append(out, fmt.Sprintf("reference to unknown ID %q", s.Ref))
			}
		}
	}
	return out
}

// texts returns every running text of the document in order.
func (d Document) texts() []Text {
	var out []Text
	if d.Cover != nil {
		out = append(out, pairTexts(d.Cover.Summary)...)
	}
	return append(out, textsOf(d.Blocks)...)
}

func textsOf(blocks []Block) []Text {
	var out []Text
	for _, b := range blocks {
		switch b := b.(type) {
		case Paragraph:
			out = append(out, b.Text)
		case SmallPrint:
			out = append(out, b.Text)
		case List:
			out = append(out, b.Items...)
		case Checklist:
			out = append(out, b.Items...)
		case Box:
			out = append(out, b.Text...)
		case Summary:
			out = append(out, pairTexts(b.Pairs)...)
		case Table:
			out = append(out, cellTexts(b)...)
		case *Table:
			out = append(out, cellTexts(*b)...)
		case Together:
			out = append(out, textsOf(b.Blocks)...)
		}
	}
	return out
}

func pairTexts(pairs []Pair) []Text {
	var out []Text
	for _, p := range pairs {
		out = append(out, p.Value)
	}
	return out
}

func cellTexts(t Table) []Text {
	var out []Text
	for _, r := range t.Rows {
		for _, c := range r.Cells {
			out = append(out, c.Text)
		}
	}
	return out
}
