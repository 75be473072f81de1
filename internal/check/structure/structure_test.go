package structure

import (
	"testing"

	"longgrain/examples"
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

func playTable() string { return examples.Pieces()[0] }

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

func BenchmarkAnalyse(b *testing.B) {
	a := build(b, playTable())
	js := strongest(b, a)
	b.ReportAllocs()
	for b.Loop() {
		Analyse(a, js, 1.3, 9)
	}
}

func BenchmarkForces(b *testing.B) {
	a := build(b, playTable())
	js := strongest(b, a)
	b.ReportAllocs()
	for b.Loop() {
		Forces(a, js, 9)
	}
}
