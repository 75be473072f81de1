package document

import (
	"fmt"
	"slices"
	"strings"
)

// Lesson returns the document with questions for a class: what is marked open is left blank and numbered, and stands complete at
// the end, chapter by chapter, in an added chapter of answers. Everything else stays as it is. A block that holds something open is
// one question; of a list each such item is one, and the same item is not
// asked twice. A table of which every cell is open, and a figure whose open drawing is empty, are
// not printed at all but stand with the answer to the question before them. last is the ID of the heading before which the answers stand; without it they
// stand at the end.
//
// A pair of the cover that is open is left out, because a cover is no place to work things out.
func (d Document) Lesson(last string) Document {
	l := lesson{words: d.Words(), asked: map[string]int{}}
	if d.Cover != nil {
		cover := *d.Cover
		cover.Summary = slices.DeleteFunc(slices.Clone(cover.Summary), func(p Pair) bool { return p.Value.open() })
		d.Cover = &cover
	}
	blocks := l.blocks(d.Blocks)
	at := slices.IndexFunc(blocks, func(b Block) bool { h, ok := b.(Heading); return ok && last != "" && h.ID == last })
	if at < 0 {
		at = len(blocks)
	} else if at > 0 {
		if _, ok := blocks[at-1].(PageBreak); ok {
			at--
		}
	}
	d.Blocks = slices.Concat(blocks[:at], l.answered(), blocks[at:])
	return d
}

// Blank is what stands for a value that is left open.
const Blank = "________"

// workLine is a line to work a question out on.
const workLine = "______________________________________________________________________________"

// lesson collects the answers while it blanks.
type lesson struct {
	words    Wording
	number   int
	asked    map[string]int // number of the question by the text of a list's item
	chapter  string         // title of the chapter that is being read
	chapters []chapterAnswers
}

type chapterAnswers struct {
	title  string
	blocks []Block
}

// ask returns the words that name the next question, and those of its answer.
func (l *lesson) ask() (question, answer Text) {
	l.number++
	name := Words("").Strong(fmt.Sprintf("%s %d. ", l.words.Question, l.number))
	return name, name
}

func (l *lesson) answer(b Block) {
	if n := len(l.chapters); n == 0 || l.chapters[n-1].title != l.chapter {
		l.chapters = append(l.chapters, chapterAnswers{title: l.chapter})
	}
	last := &l.chapters[len(l.chapters)-1]
	if list, ok := b.(List); ok && len(last.blocks) > 0 {
		if before, ok := last.blocks[len(last.blocks)-1].(List); ok {
			last.blocks[len(last.blocks)-1] = List{Items: append(slices.Clone(before.Items), list.Items...)}
			return
		}
	}
	last.blocks = append(last.blocks, b)
}

// answered returns the chapter of answers; nothing where nothing is open.
func (l *lesson) answered() []Block {
	if len(l.chapters) == 0 {
		return nil
	}
	out := []Block{PageBreak{}, Heading{Level: 1, ID: "answers", Text: l.words.Answers}}
	for i, c := range l.chapters {
		if c.title != "" {
			out = append(out, Heading{Level: 2, ID: fmt.Sprintf("answers-%d", i+1), Text: c.title})
		}
		out = append(out, c.blocks...)
	}
	return out
}

func (l *lesson) blocks(blocks []Block) []Block {
	var out []Block
	for _, b := range blocks {
		out = append(out, l.block(b)...)
	}
	return out
}

// block returns what is printed for a block with questions left open, and keeps the answers.
func (l *lesson) block(b Block) []Block {
	switch b := b.(type) {
	case Heading:
		if b.Level == 1 {
			l.chapter = b.Text
		}
	case Paragraph:
		if b.Text.open() {
			question, answer := l.ask()
			l.answer(Paragraph{answer.join(b.Text)})
			return []Block{Paragraph{question.join(b.Text.blanked())}}
		}
	case List:
		return l.list(b)
	case Table:
		return l.table(b)
	case *Table:
		return l.table(*b)
	case Summary:
		return l.summary(b)
	case Figure:
		return l.figure(b)
	case Together:
		return []Block{Together{l.blocks(b.Blocks)}}
	}
	return []Block{b}
}

// list leaves room under each item that is asked for.
func (l *lesson) list(b List) []Block {
	out := List{Ordered: b.Ordered}
	for _, item := range b.Items {
		switch before := l.asked[item.String()]; {
		case item.open() && before > 0:
			item = Words("").Strong(fmt.Sprintf("%s %d. ", l.words.AsQuestion, before)).join(item.blanked())
		case item.open():
			question, answer := l.ask()
			l.asked[item.String()] = l.number
			l.answer(List{Items: []Text{answer.join(item)}})
			item = question.join(item.blanked()).Plain("\u00A0 " + workLine)
		}
		out.Items = append(out.Items, item)
	}
	return []Block{out}
}

func (l *lesson) table(t Table) []Block {
	open, closed := 0, 0
	for _, r := range t.Rows {
		for _, c := range r.Cells {
			switch {
			case c.Text.open():
				open++
			case c.Text.String() != "":
				closed++
			}
		}
	}
	switch {
	case open == 0:
		return []Block{t}
	case closed == 0:
		t.ID = answerID(t.ID)
		l.answer(t)
		return nil
	}
	return l.openTable(t)
}

func (l *lesson) openTable(t Table) []Block {
	question, answer := l.ask()
	whole, open := t, t
	whole.ID, whole.Caption = answerID(t.ID), answer.String()+t.Caption
	open.Caption = question.String() + l.words.FillIn + " " + t.Caption
	open.Rows = nil
	for _, r := range t.Rows {
		r.Cells = slices.Clone(r.Cells)
		for i, c := range r.Cells {
			if c.Text.open() {
				r.Cells[i] = Cell{Text: c.Text.blanked()}
			}
		}
		open.Rows = append(open.Rows, r)
	}
	l.answer(whole)
	return []Block{open}
}

func (l *lesson) summary(s Summary) []Block {
	var open Summary
	var items []Text
	for _, p := range s.Pairs {
		if p.Value.open() {
			question, answer := l.ask()
			items = append(items, answer.Plain(p.Name+": ").join(p.Value))
			p.Name, p.Value, p.Tone = strings.TrimSuffix(question.String(), " ")+" "+p.Name, p.Value.blanked(), NoTone
		}
		open.Pairs = append(open.Pairs, p)
	}
	if len(items) > 0 {
		l.answer(List{Items: items})
	}
	return []Block{open}
}

func (l *lesson) figure(f Figure) []Block {
	switch {
	case f.Open == nil:
		return []Block{f}
	case len(f.Open.Items) == 0:
		f.ID, f.Open = answerID(f.ID), nil
		l.answer(f)
		return nil
	}
	question, answer := l.ask()
	whole, open := f, f
	whole.ID, whole.Caption, whole.Open = answerID(f.ID), answer.String()+f.Caption, nil
	open.Scene, open.Caption, open.Open = *f.Open, question.String()+l.words.DrawIn+" "+f.Caption, nil
	if f.OpenCaption != "" {
		open.Caption = question.String() + f.OpenCaption
	}
	l.answer(whole)
	return []Block{open}
}

func answerID(id string) string {
	if id == "" {
		return ""
	}
	return "answer-" + id
}

// open tells whether something in the text may be left open.
func (t Text) open() bool { return slices.ContainsFunc(t, func(s Span) bool { return s.Open }) }

// blanked returns the text with blanks for what is open.
func (t Text) blanked() Text {
	out := slices.Clone(t)
	for i, s := range out {
		if s.Open {
			out[i] = Span{Text: Blank + s.After, Mark: Plain}
		}
	}
	return out
}

func (t Text) join(more Text) Text { return slices.Concat(t, more) }
