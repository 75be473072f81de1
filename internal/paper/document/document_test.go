package document

import (
	"slices"
	"strings"
	"testing"

	"longgrain/internal/paper/scene"
)

func TestHeadingsAreNumberedByLevel(t *testing.T) {
	d := Document{}
	d.Heading(1, "a", "A")
	d.Heading(2, "a1", "A1")
	d.Heading(3, "", "A1a")
	d.Add(Heading{Level: 1, Text: "Preface", ID: "p", Plain: true})
	d.Heading(1, "b", "B")
	d.Heading(3, "skips", "no level 2 above")
	d.Add(Together{Blocks: []Block{Heading{Level: 2, ID: "b1", Text: "B1"}}})
	var got []string
	for _, e := range d.Index().Entries {
		got = append(got, e.Number)
	}
	if want := []string{"1", "1.1", "1.1.1", "", "2", "", "2.1"}; !slices.Equal(got, want) {
		t.Errorf("got %q, want %q", got, want)
	}
}

func TestNamesOfReferences(t *testing.T) {
	d := Document{}
	d.Heading(1, "a", "A")
	d.Heading(2, "a1", "A1")
	d.Add(Heading{Level: 1, Text: "Preface", ID: "p", Plain: true})
	d.Figure("f", scene.Scene{}, "first")
	table := NewTable(TextColumn("x"))
	table.ID, table.Caption = "t", "sizes"
	d.Add(table, &Table{ID: "bare"}, Template{ID: "tpl"})
	x := d.Index()
	for id, want := range map[string]string{
		"a": "chapter\u00a01", "a1": "section\u00a01.1", "p": "“Preface”", "f": "figure\u00a01",
		"t": "table\u00a01", "bare": "table", "tpl": "template\u00a01", "none": "(missing)",
	} {
		if got := x.Name(id); got != want {
			t.Errorf("%s: %q, want %q", id, got, want)
		}
	}
}

func TestCheckFindsLooseReferencesAndDoubleIDs(t *testing.T) {
	d := Document{Cover: &Cover{Summary: []Pair{{Value: Text{}.See("gone")}}}}
	d.Heading(1, "a", "A")
	d.Heading(1, "a", "again")
	table := NewTable(TextColumn("x"))
	table.Cells(Cell{Text: Words("see ").See("lost")})
	d.Add(Together{Blocks: []Block{Box{Text: []Text{Text{}.See("a")}}, table}})
	got := strings.Join(d.Check(), "; ")
	if want := `ID "a" is used twice; reference to unknown ID "gone"; reference to unknown ID "lost"`; got != want {
		t.Errorf("got %s\nwant %s", got, want)
	}
}

func TestTextsBuiltOnOneBeginningDoNotShareMemory(t *testing.T) {
	start := Words("a").Plain("b")
	one, two := start.Strong("1"), start.Strong("2")
	if one.String() != "ab1" || two.String() != "ab2" {
		t.Errorf("%q %q", one, two)
	}
}
