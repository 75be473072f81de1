package assembly_test

import (
	"fmt"
	"math"
	"os"
	"strings"
	"testing"

	"longgrain/internal/design/assembly"
	"longgrain/internal/design/pattern"
	"longgrain/internal/design/piece"
	"longgrain/internal/ground/problem"
	"longgrain/internal/ground/unit"
	"longgrain/patterns"
)

// build takes a piece text all the way to an assembly and returns every problem on the way.
func build(t *testing.T, text string) (assembly.Assembly, problem.List) {
	t.Helper()
	p, problems := piece.Parse("test.yaml", []byte(text))
	if len(problems) > 0 {
		return assembly.Assembly{}, problems
	}
	p, _, problems = pattern.Expand(p, patterns.All())
	if len(problems) > 0 {
		return assembly.Assembly{}, problems
	}
	return assembly.Build(p)
}

func playTable(t *testing.T) assembly.Assembly {
	t.Helper()
	text, err := os.ReadFile("../../../examples/play-table.yaml")
	if err != nil {
		t.Fatal(err)
	}
	a, problems := build(t, string(text))
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	return a
}

func TestThePlayTableStandsOnFourLegs(t *testing.T) {
	a := playTable(t)
	if len(a.Parts) != 13 || len(a.Connections) != 20 || len(a.Supports) != 4 {
		t.Errorf("%d parts, %d connections, %d supports", len(a.Parts), len(a.Connections), len(a.Supports))
	}
	lo, hi := a.Bounds()
	if lo.Length() > 1e-9 || math.Abs(hi.X-900)+math.Abs(hi.Y-560)+math.Abs(hi.Z-500) > 1e-9 {
		t.Errorf("it fills %v to %v", lo, hi)
	}
}

func TestAnApronMeetsItsLegEndToFace(t *testing.T) {
	a := playTable(t)
	for _, c := range a.Connections {
		p, q := a.Parts[c.A.Part], a.Parts[c.B.Part]
		if c.Purpose != assembly.Joint {
			if c.Meeting() != assembly.EdgeToFace || p.Role != "apron" {
				t.Errorf("%s: %s", c.Name, c.Meeting())
			}
			continue
		}
		if q.Role != "leg" || !c.A.Side.IsEnd() || c.B.Side.IsEnd() {
			t.Errorf("%s: %v on %v", c.Name, c.A.Side, c.B.Side)
		}
		if c.A.Area.SizeU() != p.Width || c.A.Area.SizeV() != p.Thickness {
			t.Errorf("%s: the end is not wholly on the leg: %+v", c.Name, c.A.Area)
		}
		areaB := c.B.Area
		if got, want := areaB.SizeU().MM()*areaB.SizeV().MM(), p.Width.MM()*p.Thickness.MM(); math.Abs(got-want) > 1e-6 {
			t.Errorf("%s: areas on both parts differ: %v and %v", c.Name, got, want)
		}
		u, v := c.A.Area.Centre()
		ub, vb := c.B.Area.Centre()
		if d := p.OnSide(c.A.Side, u, v, 0).Distance(q.OnSide(c.B.Side, ub, vb, 0)); d > 1e-6 {
			t.Errorf("%s: the contact has two centres, %v mm apart", c.Name, d)
		}
	}
}

func TestPlacesInsideAPartAreExact(t *testing.T) {
	// Every size of the play table is a whole number of half millimetres, so every contact must be too.
	a := playTable(t)
	for _, c := range a.Connections {
		for _, at := range []unit.Length{c.A.Area.U0, c.A.Area.V1, c.B.Area.U0, c.B.Area.U1, c.B.Area.V0, c.B.Area.V1} {
			if at%(unit.Millimetre/2) != 0 {
				t.Errorf("%s: contact at %d nm", c.Name, at)
			}
		}
	}
}

func TestFaultsOfFreePiecesAreNamed(t *testing.T) {
	const head = "longgrain: 1\nname: A\nparts:\n" +
		"  - {name: side, length: 400 mm, width: 200 mm, thickness: 18 mm, at: [0 mm, 0 mm, 0 mm], along: z, across: y}\n"
	cases := map[string]struct {
		text, want string
	}{
		"a gap": {head + "  - {name: shelf, length: 300 mm, width: 200 mm, thickness: 18 mm, at: [20 mm, 0 mm, 100 mm]}\n" +
			"connections:\n  - between: [shelf, side]\n", `"shelf" and "side" do not touch`},
		"a clash": {head + "  - {name: shelf, length: 300 mm, width: 200 mm, thickness: 18 mm, at: [10 mm, 0 mm, 100 mm]}\n",
			`"side" and "shelf" run 8 mm into each other`},
		"an unknown part":       {head + "connections:\n  - between: [shelf, side]\n", `there is no part "shelf"`},
		"a wish for nothing":    {head + "joints:\n  - {between: [apron, leg], kind: dowels}\n", "nothing is connected"},
		"a taper of everything": {strings.Replace(head, "across: y}", "across: y, tapers: [{side: left, toward: bottom, start: 100 mm, by: 18 mm}]}", 1), "leaves no wood"},
	}
	for name, c := range cases {
		_, problems := build(t, c.text)
		if len(problems) == 0 || !strings.Contains(problems.Error(), c.want) {
			t.Errorf("%s: got %v", name, problems)
		}
	}
}

func TestAShelfBetweenSidesIsConnected(t *testing.T) {
	a, problems := build(t, `
longgrain: 1
name: Ledge
use: shelf
parts:
  - {name: left, role: side, length: 12 in, width: 6 in, thickness: 3/4 in, along: z, across: y}
  - {name: shelf, role: shelf, length: 24 in, width: 6 in, thickness: 3/4 in, at: [3/4 in, 0 in, 4 in]}
  - {name: right, role: side, length: 12 in, width: 6 in, thickness: 3/4 in, at: [24 3/4 in, 0 in, 0 in], along: z, across: y}
connections:
  - between: [left, shelf]
  - between: [shelf, right]
`)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	for _, c := range a.Connections {
		if a.Parts[c.A.Part].Name != "shelf" || c.Meeting() != assembly.EndToFace {
			t.Errorf("%s: %s", c.Name, c.Meeting())
		}
	}
	if len(a.Supports) != 2 {
		t.Errorf("%d supports", len(a.Supports))
	}
}

const twoPosts = `
longgrain: 1
name: Posts
parts:
  - {name: a, role: leg, length: 400 mm, width: 45 mm, thickness: 45 mm, along: z, across: x%s}
  - {name: b, role: leg, length: 400 mm, width: 45 mm, thickness: 45 mm, at: [445 mm, 0 mm, 0 mm], along: z, across: x%s}
  - {name: bar, role: rail, length: 400 mm, width: 60 mm, thickness: 20 mm, at: [45 mm, 10 mm, 300 mm], along: x, across: z}
connections:
  - between: [bar, a]
  - between: [bar, b]
%s`

func TestTwoConnectionsOfOneNameAreReported(t *testing.T) {
	for name, more := range map[string]string{
		"the same parts twice":         "  - between: [bar, a]\n",
		"the same parts changed over":  "  - between: [a, bar]\n",
		"a name given to another pair": "  - {between: [a, bar], name: bar to b}\n",
	} {
		_, problems := build(t, fmt.Sprintf(twoPosts, "", "", more))
		if len(problems) != 1 || problems[0].Code != problem.DuplicateName {
			t.Errorf("%s: %v", name, problems)
		}
	}
}

func TestPartsWithDifferentTapersAreNotAlike(t *testing.T) {
	kinds := func(a, b string) bool {
		got, problems := build(t, fmt.Sprintf(twoPosts, a, b, ""))
		if len(problems) > 0 {
			t.Fatal(problems)
		}
		return got.Parts[0].Kind == got.Parts[1].Kind
	}
	taper := func(side, by string) string {
		return ", tapers: [{side: " + side + ", toward: bottom, start: 100 mm, by: " + by + "}]"
	}
	if !kinds(taper("right", "10 mm"), taper("left", "10 mm")) {
		t.Error("mirrored tapers make two kinds")
	}
	if kinds(taper("right", "10 mm"), taper("left", "15 mm")) {
		t.Error("tapers of 10 and 15 mm make one kind")
	}
}
