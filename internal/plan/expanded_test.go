package plan

import (
	"bytes"
	"encoding/json"
	"math"
	"strings"
	"testing"

	"longgrain/examples"
)

func planned(t *testing.T, text string) []byte {
	t.Helper()
	out, err := json.Marshal(made(t, input(t, text, examples.Shop())))
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// A bench with named dimensions, a span and a mirror gives the very plan of the same bench written out by hand.
func TestAFreePieceGivesThePlanOfTheSamePieceWrittenOut(t *testing.T) {
	const byHand = `longgrain: 1
name: Board bench
use: bench
wood: {species: eastern white pine, condition: small tight knots}
parts:
  - {name: end left, role: side, length: 420 mm, width: 280 mm, thickness: 28 mm, at: [120 mm, 10 mm, 0 mm], along: z, across: y}
  - {name: rail, role: rail, length: 804 mm, width: 140 mm, thickness: 28 mm, at: [148 mm, 136 mm, 280 mm], along: x, across: z}
  - {name: seat, role: seat, length: 1100 mm, width: 300 mm, thickness: 28 mm, at: [0 mm, 0 mm, 420 mm], along: x, across: y}
  - {name: end right, role: side, length: 420 mm, width: 280 mm, thickness: 28 mm, at: [952 mm, 10 mm, 0 mm], along: z, across: y}
connections:
  - between: [rail, end left]
  - between: [rail, end right]
  - {between: [end left, seat], purpose: top fastening}
  - {between: [end right, seat], purpose: top fastening}
`
	free, hand := planned(t, freePiece(t, "named-bench")), planned(t, byHand)
	if !bytes.Equal(free, hand) {
		for i := range min(len(free), len(hand)) {
			if free[i] != hand[i] {
				t.Fatalf("the plans differ: %s\nand %s", free[max(0, i-200):i+100], hand[max(0, i-200):i+100])
			}
		}
		t.Fatal("one plan is longer than the other")
	}
}

// The bench mirrored as a whole gives the same joints, reserves and boards, and every part lies mirrored.
func TestAMirroredPieceGivesTheMirroredPlan(t *testing.T) {
	text := freePiece(t, "named-bench")
	p := made(t, input(t, text, examples.Shop()))
	// Written from the right: what was left is right, and the other way round.
	q := made(t, input(t, strings.NewReplacer(
		"at: [over, 10 mm, 0 mm]", "at: [long - over - thick, 10 mm, 0 mm]", "end left", "end RIGHT", "end right", "end left", "rename: [left, right]", "rename: [RIGHT, left]").Replace(text), examples.Shop()))
	if p.Structure.Mass != q.Structure.Mass || len(p.Joints) != len(q.Joints) || len(p.Markout.Sheets) != len(q.Markout.Sheets) {
		t.Errorf("mass %v, %v; joints %d, %d", p.Structure.Mass, q.Structure.Mass, len(p.Joints), len(q.Joints))
	}
	for i, g := range p.Joints {
		if h := q.Joints[i]; g.Final.Joint.Describe() != h.Final.Joint.Describe() || math.Abs(float64(g.Final.Reserve-h.Final.Reserve)) > 1e-9*float64(g.Final.Reserve) {
			t.Errorf("%s %v, %s %v", g.Final.Joint.Describe(), g.Final.Reserve, h.Final.Joint.Describe(), h.Final.Reserve)
		}
	}
	for i, a := range p.Assembly.Parts {
		b := q.Assembly.Parts[i]
		al, ah := a.Box().Bounds()
		bl, bh := b.Box().Bounds()
		if math.Abs(al.X-(1100-bh.X)) > 1e-6 || math.Abs(ah.X-(1100-bl.X)) > 1e-6 || al.Y != bl.Y || al.Z != bl.Z {
			t.Errorf("%s: %v to %v, %s: %v to %v", a.Name, al, ah, b.Name, bl, bh)
		}
	}
}
