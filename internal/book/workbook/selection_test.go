package workbook

import (
	"slices"
	"strings"
	"testing"

	"longgrain/examples"
	"longgrain/internal/paper/document"
	"longgrain/internal/plan"
)

func TestAPrintOfSomeChaptersHoldsTheseAndSaysSo(t *testing.T) {
	p := planOf(t, examples.PlayTable())
	selections := [][]string{{plan.TimberChapter, plan.MarkingChapter}, {plan.AssemblyChapter, plan.GlueupsChapter}, {BuyList, MarkOutParts}, {plan.TimberChapter, BuyList}}
	for _, name := range Selectable() {
		selections = append(selections, []string{name})
	}
	for _, names := range selections {
		o := A4Room
		o.Chapters = names
		d := Make(p, o)
		for _, fault := range d.Check() {
			t.Errorf("%v: %s", names, fault)
		}
		var titles, want []string
		for _, b := range d.Blocks {
			if h, ok := b.(document.Heading); ok && h.Level == 1 && h.ID != "sources" {
				titles = append(titles, strings.TrimPrefix(h.ID, "chapter-"))
			}
		}
		for _, name := range names {
			if name != BuyList || !slices.Contains(names, plan.TimberChapter) {
				want = append(want, name)
			}
		}
		slices.Sort(want)
		slices.Sort(titles)
		if !slices.Equal(titles, want) {
			t.Errorf("%v: the print has the chapters %v", names, titles)
		}
		if first := d.Cover.Summary[0]; first.Name != "In this print" || !strings.Contains(first.Value.String(), "12 chapters") {
			t.Errorf("%v: the cover says %s: %s", names, first.Name, first.Value)
		}
	}
}

func TestReferencesLeadOnlyToWhatIsPrinted(t *testing.T) {
	p := planOf(t, examples.PlayTable())
	refs := func(chapters ...string) int {
		o := A4Room
		o.Chapters = chapters
		return strings.Count(plainRefs(Make(p, o)), "glueup-")
	}
	if n := refs(); n == 0 {
		t.Error("the assembly of the whole book does not lead to its glue-ups")
	}
	if n := refs(plan.AssemblyChapter); n != 0 {
		t.Errorf("the assembly alone leads to %d glue-ups that are not printed", n)
	}
	if n := refs(plan.AssemblyChapter, plan.GlueupsChapter); n == 0 {
		t.Error("the assembly printed with the glue-ups does not lead to them")
	}
	if d, _ := Chapter(p, plan.AssemblyChapter, A4Room); len(d.Check()) > 0 {
		t.Error(d.Check())
	}
}

// plainRefs returns the ids that the lists of a document lead to.
func plainRefs(d document.Document) string {
	var out []string
	for _, b := range d.Blocks {
		if l, ok := b.(document.List); ok {
			for _, item := range l.Items {
				for _, s := range item {
					out = append(out, s.Ref)
				}
			}
		}
	}
	return strings.Join(out, " ")
}

// A print of the marking alone still says on its cover that the piece does not hold.
func TestNoPrintHidesThatAPieceDoesNotHold(t *testing.T) {
	p := planOf(t, strings.Replace(examples.PlayTable(), "leg: 54 mm", "leg: 30 mm", 1))
	i := slices.IndexFunc(p.Chapters, func(c plan.Chapter) bool { return c.Word == "does not hold" })
	if i < 0 {
		t.Fatal("this table holds after all")
	}
	o := A4Room
	o.Chapters = []string{plan.MarkingChapter}
	if !slices.ContainsFunc(Make(p, o).Cover.Summary, func(x document.Pair) bool { return x.Name == p.Chapters[i].Title }) {
		t.Errorf("nothing on the cover says: %s", p.Chapters[i].Answer)
	}
}
