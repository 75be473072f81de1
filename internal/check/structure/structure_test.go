package structure

import (
	"testing"

	"longgrain/examples"
	"longgrain/internal/design/assembly"
	"longgrain/internal/design/joint"
	"longgrain/internal/trial"
)

func playTable() string { return examples.PlayTable() }

// strongest gives every joint site its strongest hidden joint.
func strongest(t testing.TB, a assembly.Assembly) []*joint.Joint {
	t.Helper()
	sites, err := joint.Sites(a, 9)
	if err != nil {
		t.Fatal(err)
	}
	out := make([]*joint.Joint, len(a.Connections))
	for _, s := range sites {
		r, ok := joint.Choose(s, trial.Everything, nil, 1.3).Pick()
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
	a := trial.Assembly(b, playTable())
	js := strongest(b, a)
	b.ReportAllocs()
	for b.Loop() {
		Analyse(a, js, 1.3, 9)
	}
}

func BenchmarkForces(b *testing.B) {
	a := trial.Assembly(b, playTable())
	js := strongest(b, a)
	b.ReportAllocs()
	for b.Loop() {
		Forces(a, js, 9)
	}
}
