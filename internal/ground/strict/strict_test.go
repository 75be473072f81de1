package strict

import (
	"strings"
	"testing"

	"longgrain/internal/ground/problem"
	"longgrain/internal/ground/unit"
)

func read(t *testing.T, text string) (Value, *problem.List) {
	t.Helper()
	var problems problem.List
	return Read("t.yaml", []byte(text), &problems), &problems
}

func TestEveryFaultIsReportedAtOnceWithItsPlace(t *testing.T) {
	root, problems := read(t, "name: 12\nlenght: 900 mm\nwidth: 500\ncount: 2.5\ncolour: gren\nname: again\n")
	f := root.Fields()
	f.Optional("name").Text()
	f.Required("length", "say how long it is").Length(0, unit.Metre)
	f.Optional("width").Length(0, unit.Metre)
	f.Optional("count").Int(0, 9)
	f.Optional("colour").Choice("colour", []string{"green", "red"})
	f.Done()
	problems.Sort()
	want := []string{
		"t.yaml:1:1: the key \"length\" is missing; say how long it is [missing-key]",
		"t.yaml:2:1: lenght: there is no key \"lenght\" here; did you mean \"length\"? [unknown-key]",
		"t.yaml:3:8: width: \"500\" has no unit; expected a length with a unit; add mm or in: a bare number could be either [bad-length]",
		"t.yaml:4:8: count: 2.5 is not a whole number; expected a whole number; write a whole number [wrong-kind]",
		"t.yaml:5:9: colour: there is no colour \"gren\"; did you mean \"green\"? [unknown-name]",
		"t.yaml:6:1: name: the key \"name\" stands twice; take one of them out (see also t.yaml:1:1) [duplicate-key]",
	}
	got := strings.Split(problems.Error(), "\n")
	for i := range want {
		if i >= len(got) || got[i] != want[i] {
			t.Errorf("problem %d:\ngot  %s\nwant %s", i, strings.Join(got[min(i, len(got)):], "\n     "), want[i])
			break
		}
	}
}

func TestUnreadableDocumentsGiveOneClearProblem(t *testing.T) {
	for name, c := range map[string]struct {
		text string
		code problem.Code
	}{
		"empty":        {"", problem.Empty},
		"only comment": {"# nothing\n", problem.Empty},
		"unclosed":     {"a: [1, 2\n", problem.NotYAML},
		"too large":    {strings.Repeat("a: b # x\n", MaxSize/8), problem.TooLarge},
		"alias":        {"a: &x 1\nb: *x\n", problem.WrongKind},
		"deep":         {strings.Repeat("- ", 40) + "a\n", problem.WrongKind},
		"tab":          {"a:\n\tb: 1\n", problem.NotYAML},
	} {
		root, problems := read(t, c.text)
		if root.Here() || len(*problems) == 0 || (*problems)[0].Code != c.code {
			t.Errorf("%s: got %v", name, *problems)
		}
	}
}

func TestNumbersThatAreNoneAreReported(t *testing.T) {
	for _, text := range []string{".nan", "x", "[1]", ".inf", "1e999"} {
		root, problems := read(t, "n: "+text+"\n")
		if _, ok := root.Fields().Optional("n").Number(0, 10); ok || len(*problems) != 1 {
			t.Errorf("%s: ok %v, %v", text, ok, *problems)
		}
	}
}

func FuzzRead(f *testing.F) {
	f.Add("a: 1\nb: [x, {c: 2 mm}]\n")
	f.Add("a: &x 1\nb: *x\n")
	f.Fuzz(func(t *testing.T, text string) {
		var problems problem.List
		root := Read("f", []byte(text), &problems)
		walk(root, 0)
		if !root.Here() && len(problems) == 0 {
			t.Fatal("nothing was read and nothing was reported")
		}
	})
}

func walk(v Value, depth int) {
	if depth > 40 || !v.Here() {
		return
	}
	v.Text()
	v.Length(0, unit.Metre)
	v.Number(0, 1)
	v.Bool()
	for _, item := range v.List() {
		walk(item, depth+1)
	}
	f := v.Fields()
	for _, k := range f.Keys() {
		walk(f.Optional(k), depth+1)
	}
	f.Done()
}

type sample struct {
	Name   string          `json:"name" jsonschema_description:"What it is called"`
	Units  string          `json:"units,omitempty" jsonschema:"enum=mm,enum=in"`
	Long   unit.Measure    `json:"long,omitempty" span:"1 mm..2 m"`
	Count  int             `json:"count,omitempty" span:"1..9"`
	Place  [2]unit.Measure `json:"place,omitempty"`
	Inner  *sample         `json:"inner,omitempty"`
	Things []sample        `json:"things,omitempty"`
	Free   Value           `json:"free,omitempty"`
}

func TestDecodeFillsAStructAndReportsTheRest(t *testing.T) {
	root, problems := read(t, "name: A\nunits: in\nlong: 3 m\ncount: 12\nplace: [1 mm]\ninner: {nme: B}\nthings:\n  - name: C\n    long: 5 mm\nfree: {any: thing}\n")
	var s sample
	places := root.Decode(&s)
	problems.Sort()
	var codes []string
	for _, p := range *problems {
		codes = append(codes, p.At.Path+" "+string(p.Code))
	}
	want := "long out-of-range, count out-of-range, place wrong-kind, inner missing-key, inner.nme unknown-key"
	if got := strings.Join(codes, ", "); got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
	if s.Name != "A" || s.Units != "in" || len(s.Things) != 1 || s.Things[0].Long.Length != 5*unit.Millimetre || !s.Free.Here() {
		t.Errorf("decoded wrongly: %+v", s)
	}
	if at := places.At("things[0].long"); at.Line != 9 || at.Column != 11 {
		t.Errorf("place of a value: %+v", at)
	}
	if at := places.At("things[0].count"); at.Line != 8 {
		t.Errorf("place of a value that was not written: %+v", at)
	}
}

func TestSchemaListsKeysWordsAndRequiredOnes(t *testing.T) {
	text := string(Schema(sample{}, "Sample"))
	for _, part := range []string{`"required": [`, `"mm"`, `"additionalProperties": false`, "A length with its unit"} {
		if !strings.Contains(text, part) {
			t.Errorf("schema lacks %s:\n%s", part, text)
		}
	}
}
