package assembly_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"strings"
	"testing"

	"longgrain/internal/design/assembly"
	"longgrain/internal/design/pattern"
	"longgrain/internal/design/piece"
	"longgrain/internal/ground/geom"
	"longgrain/internal/ground/problem"
	"longgrain/internal/trial"
	"longgrain/patterns"
)

// stool describes a splayed stool.
func stool(splay, rake int, more string) string {
	return fmt.Sprintf("longgrain: 1\nname: Stool\npattern: splayed-stool\nsizes:\n  splay: %d\n  rake: %d\n%s", splay, rake, more)
}

// noise is what comes out of sines and of lengths in whole steps of 10 nm, mm.
const noise = 3e-5

func TestLeanIsSeenFromTheFrontAndFromTheSide(t *testing.T) {
	for _, c := range [][2]float64{{8, 5}, {-8, 5}, {15, 15}, {0, 12}, {12, 0}, {-3, -14}} {
		a := trial.Assembly(t, fmt.Sprintf(`longgrain: 1
name: Post
parts:
  - {name: post, length: 500 mm, width: 40 mm, thickness: 40 mm, along: z, across: x, lean: {right: %v, back: %v}}`, c[0], c[1]))
		up := a.Parts[0].Pose.Axes[0]
		right, back := math.Atan2(up.X, up.Z)*180/math.Pi, math.Atan2(up.Y, up.Z)*180/math.Pi
		if math.Abs(right-c[0]) > 1e-9 || math.Abs(back-c[1]) > 1e-9 {
			t.Errorf("lean %v is seen as %v and %v", c, right, back)
		}
	}
}

func TestFeetOfSplayedLegsStandFlat(t *testing.T) {
	a := trial.Assembly(t, stool(9, 6, ""))
	if len(a.Supports) != 4 {
		t.Fatalf("%d feet stand on the floor, want 4", len(a.Supports))
	}
	for _, s := range a.Supports {
		for _, c := range a.Parts[s.Part].Ring(s.Side) {
			if math.Abs(c.Z) > noise {
				t.Errorf("%s: a corner of the foot stands %v mm off the floor", a.Parts[s.Part].Name, c.Z)
			}
		}
	}
}

// The shape of a splayed stool follows from its two angles alone; the figures are worked out by hand from tangents.
func TestSplayedStoolHasTheSizesOfItsAngles(t *testing.T) {
	a := trial.Assembly(t, stool(8, 5, ""))
	lo, hi := a.Bounds()
	// Legs 40 mm thick, their tops 20 mm inside a seat of 380 by 300 mm, over 402 mm of height. The foot of a leg is where the
	// floor cuts it: its outer side lies where x cos a + y sin 5° sin a = 20 and its back where y cos 5° = 20, with a the lean
	// to the side in the plane that leans by 5°.
	inner := math.Atan(math.Tan(8*math.Pi/180) * math.Cos(5*math.Pi/180))
	wide := 2*(190-20-20) + 2*402*math.Tan(8*math.Pi/180) + 2*(20/math.Cos(inner)+20*math.Tan(5*math.Pi/180)*math.Tan(inner))
	if got := hi.X - lo.X; math.Abs(got-wide) > noise {
		t.Errorf("%v mm wide over the feet, by tangents %v", got, wide)
	}
	if math.Abs(hi.Z-430) > noise || math.Abs(lo.Z) > noise {
		t.Errorf("from %v to %v mm high", lo.Z, hi.Z)
	}
}

func TestSplayOfZeroIsASquarePiece(t *testing.T) {
	a := trial.Assembly(t, stool(0, 0, ""))
	for _, p := range a.Parts {
		if p.Angled() {
			t.Errorf("%s is cut at an angle", p.Name)
		}
		for _, axis := range p.Pose.Axes {
			for k := range 3 {
				if x := math.Abs(axis.Along(k)); x != 0 && x != 1 {
					t.Errorf("%s is turned: %v", p.Name, axis)
				}
			}
		}
	}
}

// A rail that does not lean as its leg does meets it askew: nobody can cut a straight mortise for it.
func TestRailsThatMeetAskewAreReported(t *testing.T) {
	text := `longgrain: 1
name: Corner
parts:
  - {name: post, length: 400 mm, width: 40 mm, thickness: 40 mm, along: z, across: x, lean: {right: 10, back: 10}, angled: [{side: bottom, to: floor}]}
  - {name: rail, length: 200 mm, width: 60 mm, thickness: 18 mm, along: x, across: z, at: [60 mm, 11 mm, 200 mm], lean: {back: LEAN}, angled: [{side: left, to: post}]}
connections:
  - {between: [rail, post]}`
	// The rail stands upright, the grain of the leg leans by 10° in its own plane, which itself leans to the side.
	off := math.Atan(math.Tan(10*math.Pi/180)*math.Cos(math.Atan(math.Tan(10*math.Pi/180)*math.Cos(10*math.Pi/180)))) * 180 / math.Pi
	for lean, want := range map[string]string{"10": "", "0": fmt.Sprintf("askew, %.2f° out of line", off)} {
		p, problems := piece.Parse("piece.yaml", []byte(strings.ReplaceAll(text, "LEAN", lean)))
		if len(problems) == 0 {
			_, problems = assembly.Build(p)
		}
		if got := fmt.Sprint(problems); (want == "") != (len(problems) == 0) || !strings.Contains(got, want) {
			t.Errorf("a rail that leans %s°: %s, want %q", lean, got, want)
		}
	}
}

func TestAnglesThatCannotBeCutAreReported(t *testing.T) {
	for name, c := range map[string][2]string{
		"no such part":     {"angled: [{side: top, to: lid}]", `there is no part "lid" to meet`},
		"with the grain":   {"lean: {right: 50}, angled: [{side: left, to: floor}]", "off square"},
		"nothing is left":  {"lean: {right: 55}, angled: [{side: bottom, to: floor}, {side: top, to: slab}]", "leave nothing"},
		"against grain":    {"lean: {right: 20}, turn: 30, angled: [{side: front, to: wall}]", "against its grain"},
		"two lengths":      {"turn: 10, about: [1 mm]", "write two"},
		"unknown side":     {"angled: [{side: under, to: floor}]", "under"},
		"leans too far":    {"lean: {right: 80}", "80"},
		"meets itself":     {"angled: [{side: top, to: post}]", "to meet"},
		"unknown key lean": {"lean: {left: 4}", "left"},
	} {
		text := fmt.Sprintf(`longgrain: 1
name: Post
parts:
  - {name: post, length: 60 mm, width: 200 mm, thickness: 200 mm, along: z, across: x, %s}
  - {name: slab, length: 900 mm, width: 900 mm, thickness: 20 mm, at: [-300 mm, -300 mm, 62 mm]}
  - {name: wall, length: 900 mm, width: 900 mm, thickness: 20 mm, at: [-300 mm, -400 mm, 0 mm], along: x, across: z}`, c[0])
		p, problems := piece.Parse("piece.yaml", []byte(text))
		if len(problems) == 0 {
			_, problems = assembly.Build(p)
		}
		if !strings.Contains(fmt.Sprint(problems), c[1]) {
			t.Errorf("%s: want %q in %v", name, c[1], problems)
		}
	}
}

func TestRandomSplayedStools(t *testing.T) {
	n, made := 1000, 0
	if testing.Short() {
		n = 60
	}
	rng := rand.New(rand.NewPCG(9, 9))
	for range n {
		splay, rake := rng.IntN(16), rng.IntN(16)
		// Anywhere in the ranges of the pattern.
		more := ""
		for _, size := range []struct {
			name      string
			low, high int
		}{{"length", 250, 900}, {"width", 220, 500}, {"height", 180, 800}, {"seat_thickness", 16, 60}, {"overhang", 0, 60}, {"leg", 25, 80},
			{"rail_width", 35, 150}, {"rail_thickness", 12, 45}, {"set_back", 0, 30}, {"low_height", 50, 400}} {
			if rng.IntN(2) == 0 {
				more += fmt.Sprintf("  %s: %d mm\n", size.name, size.low+rng.IntN(size.high-size.low+1))
			}
		}
		if rng.IntN(2) == 0 {
			more += "  low_rails: yes\n"
		}
		text := stool(splay, rake, more)
		p, problems := piece.Parse("piece.yaml", []byte(text))
		if len(problems) == 0 {
			p, _, problems = pattern.Expand(p, patterns.All())
		}
		if len(problems) > 0 {
			if problems[0].Code != problem.BadPattern {
				t.Fatalf("%s\n%v", text, problems)
			}
			continue
		}
		a, problems := assembly.Build(p) // parts that overlap, and parts that do not touch, are problems
		if len(problems) > 0 {
			t.Fatalf("%s\n%v", text, problems)
		}
		if len(a.Supports) != 4 {
			t.Errorf("%s\n%d feet", text, len(a.Supports))
		}
		made++
		for _, p := range a.Parts {
			checkBody(t, text, p)
		}
		for _, c := range a.Connections {
			checkContact(t, text, a, c)
		}
	}
	if made < n/4 {
		t.Errorf("only %d of %d sizes make a stool", made, n)
	}
}

// checkBody compares the volume from the corners with that of the exact solid, which is built another way.
func checkBody(t *testing.T, text string, p assembly.Part) {
	t.Helper()
	body, err := p.Body()
	if err != nil {
		t.Fatalf("%s\n%s: %v", text, p.Name, err)
	}
	if err := body.Check(); err != nil || len(body.Left) > 0 {
		t.Errorf("%s\n%s: %v, left %v", text, p.Name, err, body.Left)
	}
	v, centre := p.Volume()
	if math.Abs(v-body.Volume) > 1e-6*v {
		t.Errorf("%s\n%s: %v mm³ by its corners, %v as a solid", text, p.Name, v, body.Volume)
	}
	for _, plane := range p.Planes() {
		if plane.Out.Dot(centre) >= plane.At {
			t.Errorf("%s\n%s: its centre of mass lies outside", text, p.Name)
		}
	}
}

// checkContact holds the two rectangles of a connection against each other: they lie on each other in the world.
func checkContact(t *testing.T, text string, a assembly.Assembly, c assembly.Connection) {
	t.Helper()
	p, q := a.Parts[c.A.Part], a.Parts[c.B.Part]
	u, v := c.A.Area.Centre()
	s, w := c.B.Area.Centre()
	if d := p.OnSide(c.A.Side, u, v, 0).Distance(q.OnSide(c.B.Side, s, w, 0)); d > 0.003 {
		t.Errorf("%s\n%s: the middles of the contact lie %v mm apart", text, c.Name, d)
	}
	if d := p.Outward(c.A.Side).Dot(q.Outward(c.B.Side)); d > -1+1e-9 {
		t.Errorf("%s\n%s: the sides do not look at each other: %v", text, c.Name, d)
	}
	for _, corner := range [4]geom.Vec{p.OnSide(c.A.Side, c.A.Area.U0, c.A.Area.V0, 0), p.OnSide(c.A.Side, c.A.Area.U1, c.A.Area.V0, 0),
		p.OnSide(c.A.Side, c.A.Area.U0, c.A.Area.V1, 0), p.OnSide(c.A.Side, c.A.Area.U1, c.A.Area.V1, 0)} {
		for _, part := range []assembly.Part{p, q} {
			for _, plane := range part.Planes() {
				if out := plane.Out.Dot(corner) - plane.At; out > 0.003 {
					t.Errorf("%s\n%s: a corner of the contact lies %v mm outside %s", text, c.Name, out, part.Name)
				}
			}
		}
	}
}

// TestAChairStandsAsFarAsStraightPartsGo builds a chair of straight parts: back legs that lean back, rails cut to them.
func TestAChairStandsAsFarAsStraightPartsGo(t *testing.T) {
	text, err := os.ReadFile("testdata/chair.yaml")
	if err != nil {
		t.Fatal(err)
	}
	a := trial.Assembly(t, string(text))
	if len(a.Supports) != 4 {
		t.Errorf("%d feet stand on the floor", len(a.Supports))
	}
	for _, p := range a.Parts {
		checkBody(t, "chair", p)
	}
	for _, c := range a.Connections {
		checkContact(t, "chair", a, c)
	}
	left, _ := a.PartNamed("leg back left")
	rail, _ := a.PartNamed("rail left")
	b, ok := a.Parts[rail].Bevel(assembly.EndHigh)
	if !ok || math.Abs(math.Abs(float64(b.OffU))-8) > 1e-9 || b.OffV != 0 {
		t.Errorf("the side rail is cut %v and %v off square, want 8° and 0", b.OffU, b.OffV)
	}
	if from, to := a.Parts[left].Between(); from <= 0 || to != a.Parts[left].Length.MM() {
		t.Errorf("the middle of the back leg runs from %v to %v", from, to)
	}
}
