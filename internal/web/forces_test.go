package web_test

import (
	"strings"
	"testing"

	"longgrain/examples"
	"longgrain/internal/web"
	"longgrain/patterns"
)

// The planner of the program itself: the part that is used hardest when none is named, each part by its mark, and nothing for what is not there.
func TestForcesOfThePlayTable(t *testing.T) {
	plans := &web.Plans{Library: patterns.All()}
	ask := func(text, part, load string) web.ForcesAnswer {
		t.Helper()
		got, err := plans.Forces(t.Context(), web.ForcesRequest{Text: text, Shop: web.Workshop{Text: examples.Shop()}, Part: part, Case: load})
		if err != nil {
			t.Fatal(err)
		}
		return got
	}
	table := examples.PlayTable()
	hardest := ask(table, "", "")
	if hardest.Part == "" || len(hardest.Parts) != 12 || len(hardest.Cases) < 30 || hardest.Case != hardest.Cases[0] || !strings.HasPrefix(hardest.Drawing, "<svg") {
		t.Errorf("hardest: part %q of %d, case %q of %d", hardest.Part, len(hardest.Parts), hardest.Case, len(hardest.Cases))
	}
	for _, p := range hardest.Parts {
		got := ask(table, p.ID, hardest.Cases[1])
		if got.Part != p.ID || got.Case != hardest.Cases[1] || len(got.Curves) != 6 || !strings.Contains(got.Words, p.Name) {
			t.Errorf("%s: part %q, case %q, %d curves, %q", p.Name, got.Part, got.Case, len(got.Curves), got.Words)
		}
		for _, c := range got.Curves {
			if len(c.At) != len(c.Of) || c.At[0] != 0 || c.At[len(c.At)-1] != got.Length {
				t.Errorf("%s: %s from %v to %v of %v mm", p.Name, c.Name, c.At[0], c.At[len(c.At)-1], got.Length)
			}
		}
	}
	for _, none := range []web.ForcesAnswer{ask(table, "Z9", ""), ask(table, "A1", "a flood"), ask("longgrain: 1", "", "")} {
		if none.Curves != nil || none.Drawing != "" {
			t.Errorf("forces of %q under %q", none.Part, none.Case)
		}
	}
}
