package document

import "strings"

// Mark says how a span stands out from the text around it.
type Mark int

// The marks of a span.
const (
	Plain Mark = iota
	Strong
	Slanted
)

// Span is a piece of text in one look. A span with Ref points at the heading, figure, table or
// template with that ID; writers print its name and, on paper, its page.
//
// A span that is Open is a value that a class can work out: a lesson leaves it blank, and prints After behind the blank, such as
// its unit.
type Span struct {
	Text  string
	Mark  Mark
	Ref   string
	Open  bool
	After string
}

// Text is running text, built from left to right:
//
//	document.Words("Cut ").Strong("four").Plain(" legs, see ").See("legs").Plain(".")
type Text []Span

// Words returns plain text.
func Words(s string) Text { return Text{{Text: s}} }

// Plain returns t with plain words added.
func (t Text) Plain(s string) Text { return t.with(Span{Text: s}) }

// Strong returns t with strong words added.
func (t Text) Strong(s string) Text { return t.with(Span{Text: s, Mark: Strong}) }

// Slanted returns t with slanted words added.
func (t Text) Slanted(s string) Text { return t.with(Span{Text: s, Mark: Slanted}) }

// Asked returns t with words added that a lesson leaves open; after stands behind the blank.
func (t Text) Asked(s string, mark Mark, after string) Text {
	return t.with(Span{Text: s, Mark: mark, Open: true, After: after})
}

// See returns t with a reference to an ID added.
func (t Text) See(id string) Text { return t.with(Span{Ref: id}) }

// with copies, so that two texts built on the same beginning do not share memory.
func (t Text) with(s Span) Text { return append(t[:len(t):len(t)], s) }

// String returns the text without its marks; a reference stands as its ID.
func (t Text) String() string {
	var b strings.Builder
	for _, s := range t {
		b.WriteString(s.Text)
		if s.Ref != "" {
			b.WriteString(s.Ref)
		}
	}
	return b.String()
}
