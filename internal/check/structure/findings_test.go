package structure

import (
	"encoding/json"
	"strings"
	"testing"

	"longgrain/internal/design/assembly"
	"longgrain/internal/design/joint"
	"longgrain/internal/ground/geom"
	"longgrain/internal/trial"
)

// rigidJoints leaves every connection to the joint zone.
func rigidJoints(a assembly.Assembly) []*joint.Joint { return make([]*joint.Joint, len(a.Connections)) }

// lyingPart is a part that touches nothing.
const lyingPart = "name: loose, length: 200 mm, width: 60 mm, thickness: 20 mm, at: [100 mm, 100 mm, 200 mm], along: x, across: y"

func TestWhatCannotStandIsNamed(t *testing.T) {
	parts, connections := frameOf(500, 400, 450, 45, 20, 80, 3)
	shelf := "name: shelf, role: shelf, length: 455 mm, width: 200 mm, thickness: 18 mm, at: [45 mm, 100 mm, 150 mm], along: x, across: y"
	twoPosts := []string{
		"name: post a, role: leg, length: 500 mm, width: 45 mm, thickness: 45 mm, along: z, across: x",
		"name: post b, role: leg, length: 500 mm, width: 45 mm, thickness: 45 mm, at: [545 mm, 0 mm, 0 mm], along: z, across: x",
		"name: bar, role: rail, length: 500 mm, width: 80 mm, thickness: 20 mm, at: [45 mm, 12 mm, 400 mm], along: x, across: z",
	}
	cases := map[string]struct {
		text  string
		spoil func(*assembly.Assembly)
		want  string // in what
		where string
	}{
		"a part floating free": {text: pieceOf("table", append(parts, lyingPart), connections), want: "loose is not connected", where: "loose"},
		"an unconnected shelf": {text: pieceOf("shelf", append(parts, shelf), connections), want: "shelf is not connected", where: "shelf"},
		"two feet only":        {text: pieceOf("bench", twoPosts, []string{"between: [bar, post a]", "between: [bar, post b]"}), want: "all feet stand on one line", where: "Test"},
		"a part of no length": {text: pieceOf("table", parts, connections), spoil: func(a *assembly.Assembly) { a.Parts[5].Length = 0 },
			want: "has no size", where: "apron back"},
		"a part of no thickness": {text: pieceOf("table", parts, connections), spoil: func(a *assembly.Assembly) { a.Parts[0].Thickness = 0 },
			want: "has no size", where: "leg front left"},
		"no parts": {text: pieceOf("table", parts, connections), spoil: func(a *assembly.Assembly) { a.Parts, a.Connections, a.Supports = nil, nil, nil },
			want: "there are no parts", where: "Test"},
		"a shelf on one rail": {text: pieceOf("table", append(parts, "name: shelf, role: shelf, length: 455 mm, width: 200 mm, thickness: 18 mm, at: [45 mm, 3 mm, 450 mm], along: x, across: y"),
			append(connections, "between: [apron front, shelf], purpose: top fastening")), want: "lies along one line only", where: "shelf"},
		"no feet": {text: pieceOf("table", parts, connections), spoil: func(a *assembly.Assembly) { a.Supports = nil },
			want: "nothing stands on the floor", where: "Test"},
		"a species without strength": {text: pieceOf("table", parts, connections), spoil: func(a *assembly.Assembly) { a.Parts[2].Species = "no such wood" },
			want: "no source gives density, stiffness and strength", where: "leg back left"},
	}
	for name, c := range cases {
		a := trial.Assembly(t, c.text)
		if c.spoil != nil {
			c.spoil(&a)
		}
		got := Analyse(a, rigidJoints(a), 1.3, 9)
		if len(got.Findings) == 0 {
			t.Errorf("%s: no finding", name)
			continue
		}
		f := got.Findings[0]
		t.Logf("%s: %s | %s | %s", name, f.What, f.Where, f.Advice)
		if !strings.Contains(f.What, c.want) || (c.where != "" && f.Where != c.where) || f.Advice == "" || f.Where == "" {
			t.Errorf("%s: %+v", name, f)
		}
		if len(got.Findings) > 3 {
			t.Errorf("%s: %d findings for one fault", name, len(got.Findings))
		}
		if _, err := json.Marshal(got); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func TestForcesAreNilWhenTheFrameHasNoAnswer(t *testing.T) {
	parts, connections := frameOf(500, 400, 450, 45, 20, 80, 3)
	a := trial.Assembly(t, pieceOf("table", append(parts, lyingPart), connections))
	if got := Forces(a, rigidJoints(a), 9); got != nil {
		t.Errorf("%d forces", len(got))
	}
}

func TestAPieceWithoutKnownLoadsCarriesItsOwnWeight(t *testing.T) {
	a := trial.Assembly(t, pieceOf("table", []string{"name: board, length: 300 mm, width: 200 mm, thickness: 40 mm, along: x, across: y"}, nil))
	got := Analyse(a, nil, 1.3, 9)
	if len(got.Cases) != 1 || got.Cases[0].Action != "weight" {
		t.Errorf("a block on the floor has the cases %+v", got.Cases)
	}
	if len(got.Findings) > 0 || len(got.Members) != 1 || got.Members[0].Verdict != joint.Holds {
		t.Errorf("findings %v, members %+v", got.Findings, got.Members)
	}
}

// A block of boards glued side to side shares nodes between its ties.
func TestBoardsGluedSideToSideAreOnePiece(t *testing.T) {
	var parts, connections []string
	for i, name := range []string{"a", "b", "c"} {
		parts = append(parts, strings.NewReplacer("NAME", name, "Y", []string{"0", "40", "80"}[i]).Replace(
			"name: NAME, role: leg, length: 400 mm, width: 40 mm, thickness: 40 mm, at: [0 mm, Y mm, 0 mm], along: z, across: x"))
	}
	connections = []string{"between: [a, b]", "between: [b, c]"}
	a := trial.Assembly(t, pieceOf("table", parts, connections))
	got := Analyse(a, rigidJoints(a), 1.3, 9)
	for _, f := range got.Findings {
		if strings.Contains(f.What, "tied") || strings.Contains(f.What, "bad") {
			t.Errorf("%+v", f)
		}
	}
}

func TestTheOutlineOfTheFeetTurnsAgainstTheClock(t *testing.T) {
	points := []geom.Vec{{X: 0, Y: 0}, {X: 10, Y: 0}, {X: 10, Y: 5}, {X: 0, Y: 5}, {X: 5, Y: 2}, {X: 5, Y: 0}}
	got := hull(points)
	if len(got) != 4 {
		t.Fatalf("%v", got)
	}
	area := 0.0
	for i, p := range got {
		q := got[(i+1)%4]
		area += (p.X*q.Y - q.X*p.Y) / 2
	}
	if area != 50 {
		t.Errorf("the outline encloses %v", area)
	}
}
