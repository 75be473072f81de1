package drawing

import (
	"os"
	"testing"

	"longgrain/internal/design/assembly"
	"longgrain/internal/design/pattern"
	"longgrain/internal/design/piece"
	"longgrain/internal/ground/unit"
	"longgrain/patterns"
)

const mm = unit.Millimetre

// build takes a piece text to an assembly.
func build(t testing.TB, text string) assembly.Assembly {
	t.Helper()
	p, problems := piece.Parse("test.yaml", []byte(text))
	if len(problems) == 0 {
		p, _, problems = pattern.Expand(p, patterns.All())
	}
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	a, problems := assembly.Build(p)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	return a
}

func playTable(t testing.TB) assembly.Assembly {
	t.Helper()
	text, err := os.ReadFile("../../../examples/play-table.yaml")
	if err != nil {
		t.Fatal(err)
	}
	return dowelled(build(t, string(text)))
}

// dowelled bores every joint for dowels: each pair at one point of the world.
func dowelled(a assembly.Assembly) assembly.Assembly {
	added := map[int][]assembly.Feature{}
	for _, c := range a.Connections {
		if c.Purpose != assembly.Joint {
			continue
		}
		_, v := c.A.Area.Centre()
		n := 2
		if c.A.Area.SizeU() > 70*mm {
			n = 3
		}
		for k := range n {
			u := 12*mm + (c.A.Area.SizeU()-24*mm)*unit.Length(k)/unit.Length(n-1)
			added[c.A.Part] = append(added[c.A.Part], bore(c.A.Side, u, v, c.Name))
			at := a.Parts[c.B.Part].Pose.In(a.Parts[c.A.Part].OnSide(c.A.Side, u, v, 0))
			ub, vb := c.B.Side.UV()
			added[c.B.Part] = append(added[c.B.Part], bore(c.B.Side, unit.MM(at.Along(ub)), unit.MM(at.Along(vb)), c.Name))
		}
	}
	return a.WithFeatures(added)
}

func bore(s assembly.Side, u, v unit.Length, name string) assembly.Feature {
	return assembly.Feature{Kind: assembly.Bore, Side: s, U: u, V: v, Diameter: 10 * mm, Depth: 30 * mm, For: name}
}
