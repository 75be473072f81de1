package hang

import (
	"math"
	"testing"

	"longgrain/internal/design/assembly"
	"longgrain/internal/design/joint"
	"longgrain/internal/ground/unit"
	"longgrain/internal/trial"
)

const mm = unit.Millimetre

// bracket is a board of 800 x 100 x 20 mm held along its back edge by a board on the wall of 800 x 150 x 20 mm.
const bracket = `
longgrain: 1
name: Ledge
use: shelf
fixed: hung
setting: school
parts:
  - {name: back, role: back, length: 800 mm, width: 150 mm, thickness: 20 mm, at: [0 mm, 100 mm, 0 mm], along: x, across: z}
  - {name: ledge, role: shelf, length: 800 mm, width: 100 mm, thickness: 20 mm, at: [0 mm, 0 mm, 0 mm], along: x, across: y}
connections:
  - between: [ledge, back]
`

// near fails when two numbers differ by more than a millionth.
func near(t *testing.T, what string, got, want float64) {
	t.Helper()
	if math.Abs(got-want) > 1e-6*math.Max(1, math.Abs(want)) {
		t.Errorf("%s is %.6f, want %.6f", what, got, want)
	}
}

// A cantilever by hand: the load stands in the middle of the board, 50 mm from the joint, and so does the weight.
func TestFullShelfBendsTheJointAsACantilever(t *testing.T) {
	a := trial.Assembly(t, bracket)
	h := newHung(a, trial.DryWood)
	weight := h.weight[1]
	// 365 N/m of books over 0.8 m is more than 244 kg/m² on 0.08 m².
	load := math.Max(365*0.8, 244*unit.Gravity*0.08)
	f := Forces(a, trial.DryWood)[0][0]
	near(t, "shear", math.Abs(float64(f.ShearV)), load+weight)
	near(t, "moment", math.Abs(float64(f.BendV)), (load+weight)*50/1000)
	near(t, "pull", float64(f.N), 0)
	near(t, "twist", float64(f.Twist), 0)
}

// A child on the front edge, 100 mm from the joint, is held by 2·100 + 100 = 300 of 800 mm.
func TestChildOnTheEdgeBendsPartOfTheJoint(t *testing.T) {
	a := trial.Assembly(t, bracket)
	h := newHung(a, trial.DryWood)
	middle, left := Forces(a, trial.DryWood)[0][1], Forces(a, trial.DryWood)[0][2]
	near(t, "moment", math.Abs(float64(middle.BendV)), (267*100+h.weight[1]*50)/1000*800/300)
	if math.Abs(float64(left.BendV)) <= math.Abs(float64(middle.BendV)) {
		t.Errorf("at the end it bends by %.1f, in the middle by %.1f N·m: there is less board to spread over", left.BendV, middle.BendV)
	}
}

// The pull on the screws by hand: the piece turns about its lower edge.
func TestScrewsInTheWallTakeTheMoment(t *testing.T) {
	a := trial.Assembly(t, bracket)
	f, ok := FixingOf(a, mm/2)
	if !ok || a.Parts[f.Part].Name != "back" || len(f.At) != 3 || f.FromEdge != 25*mm {
		t.Fatalf("screws: %+v", f)
	}
	h := newHung(a, trial.DryWood)
	c := h.wallScrews(h.loads(), trial.Reserve)[0]
	z := 0.9 * (150 - 25)
	child := (267*120 + h.weight[1]*70 + h.weight[0]*10) / (2 * z) // the two screws nearest to a child take it
	near(t, "pull", c.Demand.Number, child)
}

func TestPartsThatNothingHoldsAreReported(t *testing.T) {
	a := trial.Assembly(t, bracket)
	a.Connections = nil
	answer := Analyse(a, nil, trial.Reserve, trial.DryWood)
	if len(answer.Findings) != 1 || answer.Findings[0].Where != "ledge" {
		t.Errorf("findings: %+v", answer.Findings)
	}
}

// Twice as deep a ledge turns harder on its joint and its screws; a higher back pulls less.
func TestDeeperHangsHarderAndHigherHoldsBetter(t *testing.T) {
	a := trial.Assembly(t, bracket)
	pull := func(a assembly.Assembly) float64 {
		h := newHung(a, trial.DryWood)
		return h.wallScrews(h.loads(), trial.Reserve)[0].Demand.Number
	}
	high := a
	high.Parts = append([]assembly.Part(nil), a.Parts...)
	high.Parts[0].Width = 300 * mm
	if !(pull(high) < pull(a)) {
		t.Errorf("a higher back pulls with %.0f N, a low one with %.0f", pull(high), pull(a))
	}
	answer := Analyse(a, make([]*joint.Joint, 1), trial.Reserve, trial.DryWood)
	if len(answer.Members) != 2 || len(answer.Cases) != 4 || len(answer.Notes) != 2 {
		t.Errorf("%d checks, %d cases, %d notes", len(answer.Members), len(answer.Cases), len(answer.Notes))
	}
}
