package assembly_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"longgrain/internal/design/assembly"
	"longgrain/internal/design/pattern"
	"longgrain/internal/design/piece"
	"longgrain/internal/ground/geom"
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
	n := 60
	if testing.Short() {
		n = 12
	}
	rng := rand.New(rand.NewPCG(9, 9))
	for range n {
		splay, rake := rng.IntN(16), rng.IntN(16)
		more := fmt.Sprintf("  length: %d mm\n  width: %d mm\n  height: %d mm\n  leg: %d mm\n  rail_width: %d mm\n  set_back: %d mm\n",
			330+rng.IntN(200), 290+rng.IntN(120), 380+rng.IntN(200), 36+rng.IntN(12), 45+rng.IntN(40), rng.IntN(8))
		if rng.IntN(2) == 0 {
			more += "  low_rails: yes\n  low_height: 100 mm\n"
		}
		text := stool(splay, rake, more)
		p, problems := piece.Parse("piece.yaml", []byte(text))
		if len(problems) == 0 {
			p, _, problems = pattern.Expand(p, patterns.All())
		}
		if len(problems) > 0 {
			if !strings.Contains(fmt.Sprint(problems), "low rails would run") {
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
		for _, p := range a.Parts {
			checkBody(t, text, p)
		}
		for _, c := range a.Connections {
			checkContact(t, text, a, c)
		}
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
