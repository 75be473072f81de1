package problem

import (
	"strings"
	"testing"
)

func TestProblemsAreListedInFileOrder(t *testing.T) {
	var l List
	l.Add(Problem{Code: BadLength, At: Position{File: "a", Line: 9}})
	l.Add(Problem{Code: UnknownKey, At: Position{File: "a", Line: 2, Column: 7}})
	l.Add(Problem{Code: UnknownKey, At: Position{File: "a", Line: 2, Column: 1}})
	err := l.Err()
	if err == nil {
		t.Fatal("three problems are no error")
	}
	if l[0].At.Column != 1 || l[2].At.Line != 9 {
		t.Errorf("not in file order:\n%v", err)
	}
	if (List{}).Err() != nil {
		t.Error("an empty list is an error")
	}
}

func TestAProblemSaysWhereWhatAndHowToMend(t *testing.T) {
	p := Problem{Code: BadLength, At: Position{"table.yaml", 4, 11, "sizes.length"}, What: "has no unit", Expected: "a length", Mend: "add mm or in"}
	want := "table.yaml:4:11: sizes.length: has no unit; expected a length; add mm or in [bad-length]"
	if got := p.Error(); got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
}

func TestNearMissesAreSuggested(t *testing.T) {
	known := []string{"length", "width", "height", "overhang"}
	for name, want := range map[string]string{"lenght": "length", "Width": "width", "hieght": "height", "colour": "", "x": ""} {
		if got := Nearest(name, known); got != want {
			t.Errorf("%s: got %q, want %q", name, got, want)
		}
	}
	if got := DidYouMean("zzz", known); !strings.Contains(got, "overhang") {
		t.Errorf("an unknown name far from all does not list them: %s", got)
	}
}

func TestEveryCodeHasOneRule(t *testing.T) {
	seen := map[Code]bool{}
	for _, r := range Rules {
		if seen[r.Code] || r.Rule == "" || r.Reader == "" {
			t.Errorf("rule of %s is double or incomplete", r.Code)
		}
		seen[r.Code] = true
	}
}

func TestNamesAreTheSameApartFromCaseAndHyphens(t *testing.T) {
	for _, c := range []struct {
		a, b string
		same bool
	}{
		{"table-saw", "Table saw", true}, {"yellow-pva", " yellow  PVA ", true},
		{"tablesaw", "table saw", false}, {"", "-", true}, {"oil", "oils", false},
	} {
		if SameName(c.a, c.b) != c.same {
			t.Errorf("%q and %q: want %v", c.a, c.b, c.same)
		}
	}
}
