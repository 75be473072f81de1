package joint

import (
	"fmt"
	"testing"

	"longgrain/examples"
	"longgrain/internal/design/assembly"
	"longgrain/internal/design/pattern"
	"longgrain/internal/design/piece"
	"longgrain/internal/ground/unit"
	"longgrain/internal/trade/hardware"
	"longgrain/patterns"
)

const mm = unit.Millimetre

// everything is a shop with every tool and every dowel that is sold.
var everything = Means{Can: func(hardware.Job) bool { return true }, Dowels: hardware.Dowels(), Mark: mm / 2}

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

func sitesOf(t testing.TB, a assembly.Assembly) []Site {
	t.Helper()
	s, err := Sites(a, 12)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func playTable() string { return examples.PlayTable() }

// corner is a frame corner: the end of a rail against the edge of a stile, both 19 x 63.5 mm.
func corner(species string) string {
	return fmt.Sprintf(`
longgrain: 1
name: Corner
wood: {species: %s}
parts:
  - {name: stile, length: 200 mm, width: 63.5 mm, thickness: 19 mm, along: z, across: x}
  - {name: rail, length: 200 mm, width: 63.5 mm, thickness: 19 mm, at: [63.5 mm, 0 mm, 136.5 mm], along: x, across: z}
connections:
  - between: [rail, stile]
`, species)
}

// teeJoint is a rail of a size against the middle of the edge of a stile, with a joint fixed.
func teeJoint(species string, width, thickness float64, wish string) string {
	return fmt.Sprintf(`
longgrain: 1
name: Tee
wood: {species: %s}
parts:
  - {name: stile, length: 400 mm, width: 63.5 mm, thickness: %v mm, along: z, across: x}
  - {name: rail, length: 200 mm, width: %v mm, thickness: %v mm, at: [63.5 mm, 0 mm, 150 mm], along: x, across: z}
connections:
  - between: [rail, stile]
    joint: {%s}
`, species, thickness, width, thickness, wish)
}

// oneSite returns the only site of a piece.
func oneSite(t testing.TB, text string) Site {
	t.Helper()
	s := sitesOf(t, build(t, text))
	if len(s) != 1 {
		t.Fatalf("%d sites, want one", len(s))
	}
	return s[0]
}

// find returns the possible joint of a kind and count with the wanted diameter and total length of dowels; zero
// agrees with anything.
func find(t testing.TB, s Site, k Kind, count int, diameter, length unit.Length) Joint {
	t.Helper()
	for _, j := range Possible(s, everything) {
		z := j.Sizes
		if j.Kind == k && z.Count == count && same(diameter, z.Diameter) && same(length, z.DepthA+z.DepthB) {
			return j
		}
	}
	t.Fatalf("no %d %s of %v x %v between %s and %s", count, k, diameter.MM(), length.MM(), s.A.Name, s.B.Name)
	return Joint{}
}
