package document

import (
	"slices"
	"strings"
	"testing"

	"longgrain/internal/paper/scene"
)

// lessonText prints what a reader sees of a document, a line each.
func lessonText(d Document) []string {
	var out []string
	for _, b := range d.Blocks {
		switch b := b.(type) {
		case Heading:
			out = append(out, "# "+b.Text)
		case Paragraph:
			out = append(out, b.Text.String())
		case List:
			for _, i := range b.Items {
				out = append(out, "- "+strings.TrimSuffix(i.String(), "\u00A0 "+workLine))
			}
		case Summary:
			for _, p := range b.Pairs {
				out = append(out, p.Name+": "+p.Value.String())
			}
		case Table:
			out = append(out, b.Caption)
			for _, r := range b.Rows {
				line := ""
				for _, c := range r.Cells {
					line += c.Text.String() + "|"
				}
				out = append(out, line)
			}
		case Figure:
			out = append(out, "("+b.Caption+")")
		}
	}
	return out
}

func asked(t *testing.T) Document {
	t.Helper()
	d := Document{Cover: &Cover{Summary: []Pair{{Name: "open", Value: Text{}.Asked("42", Plain, "")}, {Name: "shut", Value: Words("1")}}}}
	d.Heading(1, "one", "One")
	d.Paragraph("Nothing is asked here.")
	step := Words("Sum: ").Strong("c = ").Asked("3 mm", Strong, " mm")
	d.Add(List{Items: []Text{step, Words("plain"), step}})
	table := NewTable(TextColumn("a"), NumberColumn("b"))
	table.ID, table.Caption = "t", "Sizes"
	table.Cells(WordCell("x"), AskedCell("7"))
	d.Add(*table)
	all := NewTable(TextColumn("a"))
	all.Cells(AskedCell("8"))
	d.Add(all)
	d.Heading(1, "two", "Two")
	empty := scene.Scene{Items: []scene.Item{scene.Line{}}}
	d.Add(Figure{ID: "f", Caption: "Laid out", Open: &empty, OpenCaption: "Lay out"}, Figure{ID: "g", Caption: "And the next", Open: &scene.Scene{}},
		Summary{Pairs: []Pair{{Name: "Clamps", Value: Text{}.Asked("5", Plain, " clamps")}}})
	d.Add(PageBreak{})
	d.Heading(1, "last", "Sources")
	return d
}

func TestALessonLeavesQuestionsOpenAndAnswersThemAtTheEnd(t *testing.T) {
	before := asked(t)
	d := before.Lesson("last")
	if faults := d.Check(); len(faults) > 0 {
		t.Error(faults)
	}
	want := []string{
		"# One", "Nothing is asked here.", "- Question 1. Sum: c = ________ mm", "- plain", "- As question 1. Sum: c = ________ mm", "Question 2. Fill in. Sizes", "x|________|",
		"# Two", "(Question 3. Lay out)", "Question 4. Clamps: ________ clamps",
		"# Answers", "# One", "- Question 1. Sum: c = 3 mm", "Question 2. Sizes", "x|7|", "", "8|",
		"# Two", "(Question 3. Laid out)", "(And the next)", "- Question 4. Clamps: 5", "# Sources",
	}
	if got := lessonText(d); !slices.Equal(got, want) {
		t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
	if len(d.Cover.Summary) != 1 || len(before.Cover.Summary) != 2 {
		t.Errorf("the cover of the lesson has %v, that of the book %v", d.Cover.Summary, before.Cover.Summary)
	}
	if !slices.Equal(lessonText(before), lessonText(asked(t))) {
		t.Error("making a lesson changed the book")
	}
}

func TestADocumentWithoutQuestionsGetsNoAnswers(t *testing.T) {
	d := Document{}
	d.Heading(1, "one", "One")
	if got := lessonText(d.Lesson("")); !slices.Equal(got, []string{"# One"}) {
		t.Errorf("%q", got)
	}
}
