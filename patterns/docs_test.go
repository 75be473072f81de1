package patterns_test

import (
	"os"
	"regexp"
	"testing"

	"longgrain/internal/design/assembly"
	"longgrain/internal/design/pattern"
	"longgrain/internal/design/piece"
)

// TestExamplesOfTheDocument works out every script of docs/patterns.md with its default sizes.
func TestExamplesOfTheDocument(t *testing.T) {
	text, err := os.ReadFile("../docs/patterns.md")
	if err != nil {
		t.Fatal(err)
	}
	scripts := regexp.MustCompile("(?s)```python\n(.*?)```").FindAllSubmatch(text, -1)
	if len(scripts) < 3 {
		t.Fatalf("%d scripts in the document", len(scripts))
	}
	for _, s := range scripts {
		library := pattern.Library{{Name: "example", Text: string(s[1])}}
		p, problems := piece.Parse("example.yaml", []byte("longgrain: 1\nname: Example\npattern: example\n"))
		if len(problems) == 0 {
			p, _, problems = pattern.Expand(p, library)
		}
		if len(problems) > 0 {
			t.Errorf("%s\n%v", s[1], problems)
			continue
		}
		a, problems := assembly.Build(p)
		if len(problems) > 0 || len(a.Parts) == 0 || len(a.Connections) == 0 {
			t.Errorf("%s\n%v", s[1], problems)
		}
	}
}
