package pattern

import (
	"fmt"
	"strings"
	"testing"

	"longgrain/internal/design/piece"
	"longgrain/internal/ground/problem"
)

const head = "title = \"T\"\nsizes = [length(\"a\", \"100 mm\", \"10 mm\", \"1 m\", \"help\"), count(\"n\", 2, 1, 9, \"help\"), choice(\"c\", \"x\", [\"x\", \"y\"], \"help\"), yes_no(\"w\", False, \"help\")]\n"

func expand(t *testing.T, script, sizes string) (piece.Piece, Info, problem.List) {
	t.Helper()
	text := "longgrain: 1\nname: A\npattern: own\n"
	if sizes != "" {
		text += "sizes:\n" + sizes
	}
	p, problems := piece.Parse("p.yaml", []byte(text))
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	return Expand(p, Library{{Name: "own", Text: script}})
}

func TestAScriptTurnsSizesIntoPartsAndConnections(t *testing.T) {
	script := head + `
def build(s):
    made = []
    for i in range(s.n):
        made.append(part("p" + str(i), "rail", size = (s.a, s.a / 2, mm(18) if s.w else inch(0.75)), at = (mm(0), i * (s.a + mm(5)), mm(0)), along = "x", across = "y"))
    return made + [connect(made[0], "p1", purpose = "joint")]
`
	p, info, problems := expand(t, script, "  a: 120 mm\n  n: 3\n  w: yes\n")
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	if len(p.Parts) != 3 || p.Parts[2].At[1].String() != "250 mm" || p.Parts[0].Width.String() != "60 mm" || p.Parts[0].Thickness.String() != "18 mm" {
		t.Errorf("parts: %+v", p.Parts)
	}
	if len(p.Connections) != 1 || p.Connections[0].Between != [2]string{"p0", "p1"} {
		t.Errorf("connections: %+v", p.Connections)
	}
	if !info.Sizes[0].Given || info.Sizes[2].Given || info.Sizes[2].Text != "x" {
		t.Errorf("sizes: %+v", info.Sizes)
	}
}

func TestBadSizesAreReportedAtTheirLine(t *testing.T) {
	_, _, problems := expand(t, head+"\ndef build(s):\n    return []\n", "  a: 2 m\n  n: 12\n  c: z\n  b: 3 mm\n")
	var got []string
	for _, p := range problems {
		got = append(got, fmt.Sprintf("%d %s", p.At.Line, p.Code))
	}
	if want := "5 out-of-range, 6 out-of-range, 7 unknown-name, 8 unknown-key"; strings.Join(got, ", ") != want {
		t.Errorf("got %v\n%v", got, problems)
	}
}

func TestScriptErrorsNameLineAndReason(t *testing.T) {
	cases := map[string]struct{ script, at, want string }{
		"syntax":            {"title = \n", "own.star:1:9", "got newline"},
		"unknown word":      {head + "def build(s):\n    return [prat()]\n", "own.star:4:13", "undefined: prat"},
		"no title":          {"sizes = []\n", "own.star", "no title"},
		"no build":          {head, "own.star", "no function build"},
		"bare number":       {head + "def build(s):\n    return [s.a + 3]\n", "own.star:4:17", "bare number 3"},
		"fail":              {head + "def build(s):\n    fail(\"too narrow\")\n", "own.star:4:9", "too narrow"},
		"unknown size":      {head + "def build(s):\n    return s.width\n", "own.star:4:13", "width"},
		"wrong result":      {head + "def build(s):\n    return 3\n", "own.star", "return a list"},
		"no room":           {head + "def build(s):\n    return [part(\"p\", \"rail\", size = (s.a - mm(200), mm(10), mm(10)), at = (mm(0), mm(0), mm(0)), along = \"x\", across = \"y\")]\n", "own.star:4:17", "leave no room"},
		"endless loop":      {head + "def build(s):\n    for i in range(20000):\n        for j in range(20000):\n            x = i\n    return []\n", "own.star", "too long"},
		"recursion":         {head + "def f():\n    return f()\ndef build(s):\n    return f()\n", "own.star", "recursive"},
		"long text":         {head + "def build(s):\n    x = \"a\" * (1 << 29)\n    return []\n", "own.star:4:13", "memory"},
		"doubled list":      {head + "def build(s):\n    x = [0]\n    for i in range(40):\n        x = x + x\n    return []\n", "own.star", "memory"},
		"doubled in place":  {head + "def build(s):\n    x = \"ab\"\n    for i in range(40):\n        x += x\n    return []\n", "own.star", "memory"},
		"extended by self":  {head + "def build(s):\n    x = [0]\n    for i in range(40):\n        x.extend(x)\n    return []\n", "own.star", "extend is not available"},
		"replace":           {head + "def build(s):\n    x = \"ab\".replace(\"a\", \"b\")\n    return []\n", "own.star", "replace is not available"},
		"big number":        {head + "def build(s):\n    x = 10\n    for i in range(40):\n        x = x * x\n    return []\n", "own.star", "memory"},
		"long range":        {head + "def build(s):\n    x = [i for i in range(1000000000)]\n    return []\n", "own.star", "too long"},
		"copied slices":     {head + "def build(s):\n    x = list(range(20000))\n    y = [x[:] for i in range(20000)]\n    return []\n", "own.star", "memory"},
		"loading":           {"load(\"other.star\", \"x\")\n" + head, "own.star", "load"},
		"twice one size":    {"title = \"T\"\nsizes = [count(\"n\", 2, 1, 9, \"h\"), count(\"n\", 2, 1, 9, \"h\")]\ndef build(s):\n    return []\n", "own.star", "two sizes"},
		"default off range": {"title = \"T\"\nsizes = [length(\"n\", \"2 m\", \"1 mm\", \"1 m\", \"h\")]\n", "own.star:2:16", "not between"},
	}
	for name, c := range cases {
		_, _, problems := expand(t, c.script, "")
		if len(problems) == 0 {
			t.Errorf("%s: accepted", name)
			continue
		}
		p := problems[0]
		if !strings.HasPrefix(p.At.String(), c.at) || !strings.Contains(p.What, c.want) {
			t.Errorf("%s: got %v", name, p)
		}
	}
}

func FuzzExpand(f *testing.F) {
	f.Add(head + "def build(s):\n    return [part(\"p\", \"rail\", size = (s.a, s.a, mm(9)), at = (mm(0), mm(0), mm(0)), along = \"x\", across = \"y\")]\n")
	f.Add(head + "def build(s):\n    x = [1, 2][0:1] + [s.n % 3]\n    x += [\"%s\" % s.c]\n    return []\n")
	f.Fuzz(func(t *testing.T, script string) {
		p, _ := piece.Parse("p.yaml", []byte("longgrain: 1\nname: A\npattern: own\n"))
		Expand(p, Library{{Name: "own", Text: script}})
	})
}
