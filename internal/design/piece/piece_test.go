package piece

import (
	"strings"
	"testing"

	"longgrain/internal/ground/problem"
)

func TestSizesAreWrittenIntoTheTextAndNothingElseChanges(t *testing.T) {
	const text = "longgrain: 1 # format\nname: A\npattern: leg-and-apron-table\nsizes:\n  length: 900 mm   # as long as the window\n  width: \"500 mm\"\n  height: '20 in'\nfinish: oil only\n"
	got := string(WithSizes([]byte(text), map[string]string{"length": "35 1/2 in", "width": "480 mm", "height": `19 3/4"`, "leg": "48 mm"}))
	want := "longgrain: 1 # format\nname: A\npattern: leg-and-apron-table\nsizes:\n  length: 35 1/2 in   # as long as the window\n  width: 480 mm\n  height: 19 3/4\"\n  leg: 48 mm\nfinish: oil only\n"
	if got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
	if _, problems := Parse("p", []byte(got)); len(problems) > 0 {
		t.Error(problems)
	}
	without := string(WithSizes([]byte("longgrain: 1\nname: A\npattern: p"), map[string]string{"leg": "a: b"}))
	if without != "longgrain: 1\nname: A\npattern: p\nsizes:\n  leg: 'a: b'\n" {
		t.Error(without)
	}
}

func TestEveryProblemCodeOfThePieceHasAnExampleThatTriggersIt(t *testing.T) {
	for _, r := range problem.Rules {
		if r.Reader != "piece" || r.Example == "" {
			continue
		}
		_, problems := Parse("example.yaml", []byte(r.Example))
		found := false
		for _, p := range problems {
			found = found || p.Code == r.Code
		}
		// Names and sizes of patterns are checked when the pattern is worked out; see package pattern.
		needsPattern := strings.Contains(r.Example, "pattern:")
		if !found && !needsPattern {
			t.Errorf("%s: the example gives %v", r.Code, problems)
		}
	}
}

func TestImpossiblePiecesAreRefusedWithEveryFaultNamed(t *testing.T) {
	_, problems := Parse("p.yaml", []byte(`longgrain: 2
name: A
wood: {species: eastern wite pine, condition: fine}
copies: 0
parts:
  - {name: rail, length: 40 m, width: 60 mm, thickness: 20 mm}
  - {name: rail, length: NaN mm, width: 60, thickness: -3 mm}
  - {name: post, length: 1 m, width: 20 mm, thickness: 60 mm, along: z, across: z, species: unobtainium}
connections:
  - between: [rail, rial]
  - between: [post, post]
`))
	want := []string{
		"p.yaml:1:12: longgrain: version 2", "did you mean \"eastern white pine\"?", "there is no condition \"fine\"", "copies: 0 is out of range",
		"parts[0].length: 40 m is out of range", "two parts named \"rail\"", "\"NaN mm\"", "\"60\" has no unit", "-3 mm is out of range",
		"the thickness 60 mm is above the width 20 mm", "same direction", "no species \"unobtainium\"", "did you mean \"rail\"", "connects a part with itself",
	}
	all := problems.Error()
	for _, w := range want {
		if !strings.Contains(strings.ReplaceAll(all, "40000 mm", "40 m"), w) {
			t.Errorf("no problem says %q in\n%s", w, all)
		}
	}
}

func TestSchemaIsAStrictOne(t *testing.T) {
	text := string(Schema())
	for _, w := range []string{`"longgrain"`, `"additionalProperties": false`, `"mortise and tenon"`} {
		if !strings.Contains(text, w) {
			t.Errorf("schema lacks %s", w)
		}
	}
}

func FuzzParse(f *testing.F) {
	f.Add("longgrain: 1\nname: A\nparts:\n  - {name: rail, length: 300 mm, width: 60 mm, thickness: 20 mm}\n", "leg", "3/4\"")
	f.Add("longgrain: 1\nname: A\npattern: x\nsizes: {a: 1}\n", "a", "5 mm")
	f.Fuzz(func(t *testing.T, text, name, value string) {
		Parse("f", []byte(text))
		if len(name) > 0 && len(name) < 30 && !strings.ContainsAny(name, "\n:#'\"{}[],&*!|>%@`- ?") {
			WithSizes([]byte(text), map[string]string{name: value})
		}
	})
}
