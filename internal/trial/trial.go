// Package trial sets up pieces and shops for tests: a described piece as an assembly, a shop read from its file, a joint at
// each site. Every function fails the test instead of returning problems, since what a test describes must be sound. Only
// test files may import it; internal/layers_test.go holds that.
package trial

import (
	"testing"

	"longgrain/internal/design/assembly"
	"longgrain/internal/design/free"
	"longgrain/internal/design/joint"
	"longgrain/internal/design/pattern"
	"longgrain/internal/design/piece"
	"longgrain/internal/ground/unit"
	"longgrain/internal/trade/hardware"
	"longgrain/internal/trade/shop"
	"longgrain/internal/trade/wood"
	"longgrain/patterns"
)

// DryWood is the moisture content, in percent, that joints are chosen at in tests: wood that has stood indoors.
const DryWood wood.Moisture = 9

// Reserve is the reserve that joints are chosen for in tests.
const Reserve = joint.DefaultReserve

// Everything is a shop with every tool and every dowel that is sold, whose smallest mark is half a millimetre.
var Everything = joint.Means{Can: func(hardware.Job) bool { return true }, Dowels: hardware.Dowels(), Mark: unit.Millimetre / 2}

// Shop reads a shop file.
func Shop(t testing.TB, text string) shop.Shop {
	t.Helper()
	s, problems := shop.Parse("shop.yaml", []byte(text))
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	return s
}

// Assembly reads a piece file and places its parts.
func Assembly(t testing.TB, text string) assembly.Assembly {
	t.Helper()
	p, problems := piece.Parse("piece.yaml", []byte(text))
	if len(problems) == 0 {
		p, _, problems = pattern.Expand(p, patterns.All())
	}
	if len(problems) == 0 {
		p, _, problems = free.Work(p)
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

// Means are what a shop can make joints with.
func Means(s shop.Shop) joint.Means {
	return joint.Means{Can: s.Can, Dowels: hardware.Dowels(), Mark: unit.Millimetre / 2}
}

// Joints gives each site of an assembly the joint that is proposed without loads: the strongest hidden one. The result is
// indexed as the connections are, nil where no joint belongs or none can be made.
func Joints(t testing.TB, a assembly.Assembly, m joint.Means) []*joint.Joint {
	t.Helper()
	joints := make([]*joint.Joint, len(a.Connections))
	for _, site := range sites(t, a) {
		r, ok := joint.Choose(site, m, nil, Reserve).Pick()
		for i, c := range a.Connections {
			if ok && c.Name == site.Connection.Name {
				joints[i] = &r.Joint
			}
		}
	}
	return joints
}

// Cut returns the assembly with its joints cut.
func Cut(t testing.TB, a assembly.Assembly, joints []*joint.Joint) assembly.Assembly {
	t.Helper()
	cuts := map[int][]assembly.Feature{}
	for _, site := range sites(t, a) {
		for i, c := range a.Connections {
			if c.Name == site.Connection.Name && joints[i] != nil {
				onA, onB := joint.Cut(site, *joints[i])
				cuts[c.A.Part] = append(cuts[c.A.Part], onA...)
				cuts[c.B.Part] = append(cuts[c.B.Part], onB...)
			}
		}
	}
	return a.WithFeatures(cuts)
}

func sites(t testing.TB, a assembly.Assembly) []joint.Site {
	t.Helper()
	out, err := joint.Sites(a, DryWood)
	if err != nil {
		t.Fatal(err)
	}
	return out
}
