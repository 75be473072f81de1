package structure

import (
	"math"
	"strings"
	"testing"

	"longgrain/internal/design/assembly"
	"longgrain/internal/ground/unit"
	"longgrain/internal/solve/spaceframe"
	"longgrain/internal/trial"
)

// everyUse is a piece for each use, by its name in the description.
func everyUse() map[string]string {
	return map[string]string{
		"table": tableOf("table", 700, 400, 500, 45, 20, 80, 30), "seat": stool, "bench": slabBench,
		"step": stepStool, "shelf": bookcase, "chest": frameChest, "chest of boards": boardChest, "chest of drawers": drawerChest,
	}
}

func atSchool(text string) string {
	return strings.Replace(text, "\nuse:", "\nsetting: school\nuse:", 1)
}

func TestPiecesOfEveryUseHaveAnAnswer(t *testing.T) {
	for use, text := range everyUse() {
		for _, text := range []string{text, atSchool(text)} {
			a := trial.Assembly(t, text)
			got := Analyse(a, strongest(t, a), 1.3, 9)
			for _, f := range got.Findings {
				t.Errorf("%s: %+v", use, f)
			}
			if len(got.Members) == 0 || len(got.Tipping) == 0 || len(got.Cases) == 0 {
				t.Errorf("%s: %d members, %d tipping, %d cases", use, len(got.Members), len(got.Tipping), len(got.Cases))
			}
			for i, c := range got.Cases {
				shape, ok := got.Shape(i)
				if !ok || shape.Case != c.Name {
					t.Errorf("%s: no shape for %s", use, c.Name)
				}
				if c.Note == "" || c.Cite.Confidence == "" {
					t.Errorf("%s: %s has no origin", use, c.Name)
				}
			}
			for k, c := range a.Connections {
				carries := c.Purpose == assembly.Joint && c.A.Side.IsEnd() && !c.B.Side.IsEnd() && a.Parts[c.A.Part].Role != "drawer"
				if carries && len(got.Forces[k]) != len(got.Cases) {
					t.Errorf("%s: %s has forces in %d of %d cases", use, c.Name, len(got.Forces[k]), len(got.Cases))
				}
			}
		}
	}
}

func TestEveryRowOfTheLoadTableIsUsed(t *testing.T) {
	for _, r := range rules {
		text, ok := everyUse()[r.use]
		if !ok {
			t.Errorf("row %s is for the use %q, which no piece has", r.id, r.use)
			continue
		}
		if r.setting == "school" {
			text = atSchool(text)
		}
		a := trial.Assembly(t, text)
		got := Analyse(a, strongest(t, a), 1.3, 9)
		used := false
		for _, c := range got.Cases {
			used = used || (c.Action == r.action && c.Cite == r.cite && strings.HasPrefix(c.Note, r.note))
		}
		for _, c := range got.Tipping {
			for _, w := range tippingWords {
				used = used || (r.action == w.action && c.What == w.what && c.Cite == r.cite)
			}
		}
		if !used {
			t.Errorf("row %s makes no load case", r.id)
		}
	}
}

// The ground carries the weight and the load, and where the load acts: the balance is taken about the corner of the room,
// from the reactions alone.
func TestTheGroundCarriesTheLoadWhereItActs(t *testing.T) {
	for use, text := range everyUse() {
		a := trial.Assembly(t, text)
		f := newFrame(a, strongest(t, a), 9)
		top, ok := f.loadedSurface()
		if !ok {
			t.Fatalf("%s has no surface to load", use)
		}
		var cases []spaceframe.Case
		spots := top.spots(60)
		for _, s := range spots {
			c := spaceframe.Case{Name: s.name, Gravity: gravity}
			f.weighSurfaces(&c)
			f.press(&c, top, s.at, 1) // small enough that nothing lifts
			cases = append(cases, c)
		}
		result := spaceframe.Solve(f.model, cases, spaceframe.Options{})
		w := f.mass * unit.Gravity
		for i, c := range result.Cases {
			if c.Status != spaceframe.Solved {
				t.Fatalf("%s %s: %s", use, c.Name, c.Status)
			}
			var sum, mx, my float64
			for k, n := range f.model.Nodes {
				z := c.Reaction[k][spaceframe.UZ]
				sum, mx, my = sum+z, mx+z*n.At[0]-c.Reaction[k][spaceframe.RY], my+z*n.At[1]+c.Reaction[k][spaceframe.RX]
			}
			near(t, use+" "+c.Name+": weight", sum, w+1, 1e-6)
			// A board that is a frame member carries loads on its centre line only.
			if len(top.carriers) > 0 {
				at := spots[i].at
				if math.Abs(mx-(w*f.centre.X+at.X)) > 1e-3*(w*f.centre.X+at.X)+1 || math.Abs(my-(w*f.centre.Y+at.Y)) > 1e-3*(w*f.centre.Y+at.Y)+1 {
					t.Errorf("%s %s: moments %v and %v, want %v and %v", use, c.Name, mx, my, w*f.centre.X+at.X, w*f.centre.Y+at.Y)
				}
			}
		}
	}
}

func TestTwiceTheLoadDoublesEveryForceAndMovement(t *testing.T) {
	a := trial.Assembly(t, playTable())
	f := newFrame(a, strongest(t, a), 9)
	var once, twice []spaceframe.Case
	for _, c := range f.cases() {
		once, twice = append(once, c.load), append(twice, doubled(c.load))
	}
	r1, r2 := spaceframe.Solve(f.model, once, spaceframe.Options{}), spaceframe.Solve(f.model, twice, spaceframe.Options{})
	for i := range r1.Cases {
		a, b := &r1.Cases[i], &r2.Cases[i]
		if a.Status != spaceframe.Solved || b.Status != spaceframe.Solved {
			t.Fatalf("%s: %s, doubled %s", a.Name, a.Status, b.Status)
		}
		for k := range a.Displacement {
			for d := range 6 {
				if math.Abs(2*a.Displacement[k][d]-b.Displacement[k][d]) > 1e-6*(1e-3+math.Abs(b.Displacement[k][d])) {
					t.Fatalf("%s: %v and %v", a.Name, a.Displacement[k], b.Displacement[k])
				}
			}
		}
		for k := range a.Members {
			for d := range 6 {
				x, y := a.Members[k].EndForce[0][d], b.Members[k].EndForce[0][d]
				if math.Abs(2*x-y) > 1e-6*(1+math.Abs(y)) {
					t.Fatalf("%s: %v and %v", a.Name, x, y)
				}
			}
		}
	}
}

func doubled(c spaceframe.Case) spaceframe.Case {
	double := func(v spaceframe.Vec) spaceframe.Vec { return scale(v, 2) }
	out := spaceframe.Case{Name: c.Name, Gravity: double(c.Gravity)}
	for _, x := range c.Nodal {
		x.Force, x.Moment = double(x.Force), double(x.Moment)
		out.Nodal = append(out.Nodal, x)
	}
	for _, x := range c.Point {
		x.Force, x.Moment = double(x.Force), double(x.Moment)
		out.Point = append(out.Point, x)
	}
	for _, x := range c.Spread {
		x.Start, x.End = double(x.Start), double(x.End)
		out.Spread = append(out.Spread, x)
	}
	return out
}

// A table with a low rail on one side only, and its mirror image.
func TestAMirroredPieceGetsTheMirroredAnswer(t *testing.T) {
	oneSided := func(side string, x float64) assembly.Assembly {
		text := tableOf("table", 700, 400, 500, 45, 20, 80, 30)
		low := pieceOf("", []string{strings.NewReplacer("X", map[bool]string{true: "3", false: "722"}[x == 0]).Replace(
			"name: low, role: stretcher, length: 355 mm, width: 50 mm, thickness: 20 mm, at: [X mm, 45 mm, 90 mm], along: y, across: z")}, nil)
		part := low[strings.Index(low, "  - {"):]
		text = strings.Replace(text, "connections:\n", part+"connections:\n  - {between: [low, leg front "+side+"]}\n  - {between: [low, leg back "+side+"]}\n", 1)
		return trial.Assembly(t, text)
	}
	left, right := oneSided("left", 0), oneSided("right", 1)
	a, b := Analyse(left, strongest(t, left), 1.3, 9), Analyse(right, strongest(t, right), 1.3, 9)
	if len(a.Findings)+len(b.Findings) > 0 {
		t.Fatal(a.Findings, b.Findings)
	}
	swap := strings.NewReplacer("left", "right", "right", "left")
	for _, m := range a.Members {
		found := false
		for _, n := range b.Members {
			if n.Where == swap.Replace(m.Where) {
				found = true
				near(t, m.What, n.Demand.Number, m.Demand.Number, 1e-6)
			}
		}
		if !found {
			t.Errorf("no mirror of %s", m.Where)
		}
	}
	near(t, "sway", b.Sway[0].Demand.Number, a.Sway[0].Demand.Number, 1e-6)
	for i, c := range left.Connections {
		for k, d := range right.Connections {
			if d.Name != swap.Replace(c.Name) || c.Purpose != assembly.Joint {
				continue
			}
			compareForces(t, c.Name, a, b, i, k, swap)
		}
	}
}

// compareForces compares the forces of a connection with those of its mirror in the mirrored cases: the same pull, and
// equal or opposite bending.
func compareForces(t *testing.T, name string, a, b Answer, i, k int, swap *strings.Replacer) {
	t.Helper()
	for x, c := range a.Cases {
		for y, d := range b.Cases {
			if d.Name != swap.Replace(c.Name) {
				continue
			}
			f, g := a.Forces[i][x], b.Forces[k][y]
			for what, pair := range map[string][2]float64{
				"pull": {float64(f.N), float64(g.N)}, "strong": {math.Abs(float64(f.BendU)), math.Abs(float64(g.BendU))},
				"weak": {math.Abs(float64(f.BendV)), math.Abs(float64(g.BendV))}, "twist": {math.Abs(float64(f.Twist)), math.Abs(float64(g.Twist))},
				"shear": {math.Abs(float64(f.ShearU)), math.Abs(float64(g.ShearU))},
			} {
				if math.Abs(pair[0]-pair[1]) > 1e-5*(1+math.Abs(pair[0])) {
					t.Errorf("%s, %s, %s: %v and mirrored %v", name, c.Name, what, pair[0], pair[1])
				}
			}
		}
	}
}

func TestForcesAloneAreThoseOfTheWholeAnalysis(t *testing.T) {
	a := trial.Assembly(t, playTable())
	js := strongest(t, a)
	whole, alone := Analyse(a, js, 1.3, 9).Forces, Forces(a, js, 9)
	for i := range whole {
		for k := range whole[i] {
			if whole[i][k] != alone[i][k] {
				t.Fatalf("%s in case %d: %+v and %+v", a.Connections[i].Name, k, whole[i][k], alone[i][k])
			}
		}
	}
}

func TestTheSameAnswerTwice(t *testing.T) {
	a := trial.Assembly(t, playTable())
	js := strongest(t, a)
	x, y := Analyse(a, js, 1.3, 9), Analyse(a, js, 1.3, 9)
	for i := range x.Members {
		if x.Members[i].Demand.Number != y.Members[i].Demand.Number || x.Members[i].Case != y.Members[i].Case {
			t.Errorf("%s: %v and %v", x.Members[i].Where, x.Members[i].Demand.Number, y.Members[i].Demand.Number)
		}
	}
}
