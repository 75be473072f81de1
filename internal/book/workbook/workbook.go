// Package workbook turns a plan into the pages that are taken to the bench: one chapter after another in the order of
// the work, with drawings, working, sources and cautions.
//
// Make gives the whole book, Chapter one chapter for a page of the browser; both come from the same functions. The
// package chooses words and what stands beside what; it computes nothing that a plan does not hold.
package workbook

import (
	"slices"
	"strings"

	"longgrain/internal/book/drawing"
	"longgrain/internal/design/joint"
	"longgrain/internal/ground/source"
	"longgrain/internal/ground/unit"
	"longgrain/internal/ground/working"
	"longgrain/internal/paper/document"
	"longgrain/internal/plan"
)

// Options says how the book is made.
type Options struct {
	// Width and Height are the room for a drawing on a page, mm.
	Width, Height float64
	// Chapters are the ids of the chapters that are printed, and of parts of chapters as Selectable lists them; none for the whole
	// book. Names that are not known are ignored.
	Chapters []string
}

// A4Room is the room of an A4 page in package pdf.
var A4Room = Options{Width: 166, Height: 235}

// chapters lists the writers in the order of the work.
var chapters = []struct {
	id    string
	write func(*book)
}{
	{plan.PieceChapter, (*book).piece},
	{plan.HoldsChapter, (*book).holds},
	{plan.JointsChapter, (*book).joints},
	{plan.YearChapter, (*book).year},
	{plan.TimberChapter, (*book).timber},
	{plan.BoardsChapter, (*book).boards},
	{plan.MarkingChapter, (*book).marking},
	{plan.GlueupsChapter, (*book).glueups},
	{plan.FinishChapter, (*book).finish},
	{plan.OrderChapter, (*book).order},
	{plan.CostChapter, (*book).cost},
	{plan.AssemblyChapter, (*book).assembly},
}

// book is a document that is being written.
type book struct {
	document.Document
	plan   plan.Plan
	room   Options
	cited  []string
	family unit.Family
	whole  bool // a book is written and not one chapter for a page
}

func newBook(p plan.Plan, o Options) *book {
	return &book{plan: p, room: o, family: p.Family, Document: document.Document{Title: p.Name, Language: "en"}}
}

// Make writes the workbook, whole or some of its chapters.
func Make(p plan.Plan, o Options) document.Document {
	b := newBook(p, o)
	b.whole = true
	b.Subtitle = p.ShopName
	b.Footer = p.ShopName
	parts := b.selected()
	b.cover(parts)
	for _, x := range parts {
		b.chapter(x)
	}
	b.sources()
	b.Contents = len(o.Chapters) == 0 || len(b.Index().Entries) >= contentsFrom
	return b.Document
}

// Chapter writes one chapter; false when there is none of that id.
func Chapter(p plan.Plan, id string, o Options) (document.Document, bool) {
	i := slices.IndexFunc(chapters, func(c struct {
		id    string
		write func(*book)
	}) bool {
		return c.id == id
	})
	if i < 0 {
		return document.Document{}, false
	}
	b := newBook(p, o)
	chapters[i].write(b)
	return b.Document, true
}

// chapter starts a chapter on a new page with its one-line answer.
func (b *book) chapter(x part) {
	i := slices.IndexFunc(b.plan.Chapters, func(c plan.Chapter) bool { return c.ID == x.chapter })
	c := b.plan.Chapters[i]
	b.Add(document.PageBreak{})
	b.Heading(1, "chapter-"+x.id, x.title)
	b.Add(document.Paragraph{Text: inShort(c)})
	x.write(b)
}

func (b *book) cover(parts []part) {
	p := b.plan
	picture := drawing.Exploded(p.Assembly, drawing.Style{Family: b.family, Width: b.room.Width, Height: b.room.Height / 4})
	cover := &document.Cover{Figure: &picture, Summary: b.contained(parts)}
	for _, c := range p.Chapters {
		if !b.onCover(c, parts) {
			continue
		}
		cover.Summary = append(cover.Summary, document.Pair{Name: c.Title, Value: coverValue(c), Tone: tone(c.Word)})
	}
	if p.Note != "" {
		cover.Lines = append(cover.Lines, p.Note)
	}
	cover.Lines = append(cover.Lines,
		"Loads are in the style of published furniture tests; nothing here says that a piece conforms to a standard. Product labels, local rules and licensed practice come first.")
	b.Cover = cover
}

// sources lists every work that the book cites.
func (b *book) sources() {
	if len(b.cited) == 0 {
		return
	}
	b.Add(document.PageBreak{})
	b.Heading(1, "sources", "Sources")
	b.taken()
	b.Heading(2, "works", "Works")
	b.Paragraph("Each figure in this book says where it is from and how sure it is: read in the work named or in a transcription of it; cross-checked with one; secondary, retold by another work; from memory; common practice of the trade; judgement of this program, explained in its documentation; or assumed, because nobody has published it.")
	t := document.NewTable(document.TextColumn("Key"), document.TextColumn("Work"))
	slices.Sort(b.cited)
	for _, key := range slices.Compact(b.cited) {
		if w, ok := source.Lookup(key); ok {
			t.Row(key, w.String())
		}
	}
	b.Add(*t)
}

// cite notes a work for the list of sources and returns the reference in short.
func (b *book) cite(c source.Cite) string {
	if c.Key != "" {
		b.cited = append(b.cited, c.Key)
	}
	return c.String()
}

// working prints the steps of a calculation.
func (b *book) working(w working.Working) {
	if len(w) == 0 {
		return
	}
	var items []document.Text
	for _, s := range w {
		text := document.Words("").Strong(s.Title)
		if s.Formula != "" {
			text = text.Plain(": ").Slanted(s.Formula)
		}
		var inputs []string
		for _, v := range s.Inputs {
			in := v.String()
			if v.Name != "" {
				in += " (" + v.Name + ")"
			}
			if v.Cite.Key != "" || v.Cite.Confidence != "" {
				in += " " + b.cite(v.Cite)
			}
			inputs = append(inputs, in)
		}
		if len(inputs) > 0 {
			text = text.Plain(". With " + strings.Join(inputs, ", "))
		}
		text = result(text, s)
		if s.Note != "" {
			text = text.Plain(" (" + s.Note + ")")
		}
		if from := b.cite(s.Cite); from != "" {
			text = text.Plain(". Source: " + from)
		}
		items = append(items, text.Plain("."))
	}
	b.Add(document.List{Items: items})
}

// show prints a length in the units of the piece.
func (b *book) show(l unit.Length) string { return l.Show(b.family) }

func tone(word string) document.Tone {
	switch word {
	case string(joint.Holds):
		return document.Good
	case string(joint.Tight):
		return document.Watch
	case string(joint.DoesNotHold):
		return document.Bad
	}
	return document.NoTone
}

func verdictCell(v joint.Verdict) document.Cell { return document.ToneCell(tone(string(v)), string(v)) }

func upperFirst(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

// fullStop makes a sentence of a clause.
func fullStop(s string) string {
	s = upperFirst(strings.TrimSpace(s))
	if s == "" || strings.HasSuffix(s, ".") || strings.HasSuffix(s, "!") {
		return s
	}
	return s + "."
}
