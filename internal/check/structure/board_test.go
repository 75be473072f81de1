package structure

import (
	"math"
	"strings"
	"testing"

	"longgrain/internal/trial"
)

// A square isotropic plate under a uniform load: 0.0479 q a² for ν = 0.3, and proportional to 1 + ν.
//
// Source: Timoshenko and Woinowsky-Krieger, table 8, from memory.
func TestMomentsOfASquareIsotropicPlate(t *testing.T) {
	const e, a = 8500.0, 600.0
	mx, my := PlateMoments(e, e, e/(2*(1+poissonLT)), 20, a, a, 0.001*a*a, a)
	want := 0.0479 * (1 + poissonLT) / 1.3 * 0.001 * a * a
	near(t, "m_x", mx, want, 3e-3)
	near(t, "m_y", my, mx, 1e-9)
}

// A plate held on four sides and much longer along one way than the other bends like a strip across the short way: q b²/8.
//
// Source: beam theory.
func TestALongPlateBendsAcrossTheShortWay(t *testing.T) {
	_, my := PlateMoments(8500, 8500, 8500/(2*(1+poissonLT)), 20, 6000, 500, 0.001*6000*500, 6000)
	near(t, "m_y", my, 0.001*500*500/8, 1e-2)
}

// The thin seat of a bench on two boards breaks before its joints do: 1000 N in the middle of 870 mm.
func TestAThinSeatOnTwoBoardsDoesNotHold(t *testing.T) {
	find := func(thick string) Check {
		a := trial.Assembly(t, strings.ReplaceAll(slabBench, "width: 300 mm, thickness: 30 mm", "width: 300 mm, thickness: "+thick))
		for _, c := range Analyse(a, rigidJoints(a), 1.3, 9).Members {
			if c.Where == "seat" {
				return c
			}
		}
		t.Fatal("no check of the seat")
		return Check{}
	}
	thick, thin := find("30 mm"), find("15 mm")
	// span between the middles of the boards, 770 mm, grain along the span: σ = 6 P L/(4 b t²) with b the whole 300 mm.
	near(t, "stress", thick.Demand.Number, 6*1000*770/(4*300*30*30.0), 1e-6)
	near(t, "half the thickness", thin.Demand.Number, 4*thick.Demand.Number, 1e-9)
	if thick.Verdict != "holds" || float64(thin.Reserve) > float64(thick.Reserve)/3.9 {
		t.Errorf("30 mm: %s %s, 15 mm: %s %s", thick.Reserve, thick.Verdict, thin.Reserve, thin.Verdict)
	}
}

// A top that stands out far in front splits along the grain: the same arm along the grain is far stronger.
func TestAWideOverhangAcrossTheGrainSplits(t *testing.T) {
	a := trial.Assembly(t, tableOf("table", 700, 400, 500, 45, 20, 80, 250))
	f := newFrame(a, rigidJoints(a), 9)
	for _, c := range f.boardChecks(9, 1.3) {
		if c.What != "splitting of the top" || c.Verdict != "does not hold" {
			t.Errorf("%s: %s, %v of %v MPa", c.What, c.Verdict, c.Demand.Number, c.Capacity.Number)
		}
		if math.Abs(c.Capacity.Number) > 3 {
			t.Errorf("it splits at %v MPa", c.Capacity.Number)
		}
	}
}
