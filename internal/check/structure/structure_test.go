package structure

import (
	"fmt"
	"os"
	"testing"

	"longgrain/internal/design/assembly"
	"longgrain/internal/design/joint"
	"longgrain/internal/design/pattern"
	"longgrain/internal/design/piece"
	"longgrain/internal/ground/unit"
	"longgrain/internal/trade/hardware"
	"longgrain/patterns"
)

var everything = joint.Means{Can: func(hardware.Job) bool { return true }, Dowels: hardware.Dowels(), Mark: unit.Millimetre / 2}

func build(t testing.TB, text string) assembly.Assembly {
	t.Helper()
	p, problems := piece.Parse("test.yaml", []byte(text))
	if len(problems) == 0 {
		p, _, problems = pattern.Expand(p, patterns.All())
	}
	var a assembly.Assembly
	if len(problems) == 0 {
		a, problems = assembly.Build(p)
	}
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	return a
}

func playTable(t testing.TB) string {
	t.Helper()
	text, err := os.ReadFile("../../../examples/play-table.yaml")
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// strongest gives every joint site its strongest hidden joint.
func strongest(t testing.TB, a assembly.Assembly) []*joint.Joint {
	t.Helper()
	sites, err := joint.Sites(a, 9)
	if err != nil {
		t.Fatal(err)
	}
	out := make([]*joint.Joint, len(a.Connections))
	for _, s := range sites {
		r, ok := joint.Choose(s, everything, nil, 1.3).Pick()
		if !ok {
			t.Fatalf("no joint at %s", s.Connection.Name)
		}
		for i, c := range a.Connections {
			if c.Name == s.Connection.Name {
				out[i] = &r.Joint
			}
		}
	}
	return out
}

func TestExplore(t *testing.T) {
	a := build(t, playTable(t))
	js := strongest(t, a)
	ans := Analyse(a, js, 1.3, 9)
	for _, f := range ans.Findings {
		fmt.Println("FINDING", f)
	}
	for _, c := range append(append(append(ans.Members, ans.Sway...), ans.Sag...), ans.Tipping...) {
		fmt.Printf("%-45s %8.2f of %8.2f %s reserve %5.2f %s (%s)\n", c.What, c.Demand.Number, c.Capacity.Number, c.Demand.Unit, c.Reserve, c.Verdict, c.Case)
	}
	for i, c := range a.Connections {
		if js[i] == nil {
			continue
		}
		r := joint.Check(*js[i], ans.Forces[i], 1.3)
		fmt.Printf("%-40s %s reserve %.2f %s %s by %s %+v\n", c.Name, js[i].Describe(), r.Reserve, r.Verdict, ans.Cases[r.Worst].Name, r.Governs, ans.Forces[i][r.Worst])
	}
	fmt.Println(len(ans.Cases), ans.Mass)
}

func BenchmarkAnalyse(b *testing.B) {
	a := build(b, playTable(b))
	js := strongest(b, a)
	b.ReportAllocs()
	for b.Loop() {
		Analyse(a, js, 1.3, 9)
	}
}
