package structure

import (
	"math"

	"longgrain/internal/ground/source"
	"longgrain/internal/ground/working"
	"longgrain/internal/solve/spaceframe"
)

// BucklingFactor returns the share of the crushing strength that a part carries without bowing out.
//
//	k_c = 1/(k + sqrt(k² − λ²)),  k = 0.5 (1 + 0.2 (λ − 0.3) + λ²),  λ = l/(i π) sqrt(f/E),  1 for λ up to 0.3
//
// length is the buckling length and radius the smallest radius of gyration i, mm; e the modulus of elasticity and f the strength, MPa; all
// above 0. The standard takes the lower modulus; here it is the mean of the wood in its condition, times 2/3 (the ratio of the lower to the
// mean modulus of [en-338], from memory).
//
// Source: [en-1995-1-1] 6.3.2, solid timber, from memory.
func BucklingFactor(length, radius, e, f float64) float64 {
	const lowerModulus = 2.0 / 3
	slender := length / radius / math.Pi * math.Sqrt(f/(lowerModulus*e))
	if slender <= 0.3 {
		return 1
	}
	k := 0.5 * (1 + 0.2*(slender-0.3) + slender*slender)
	return 1 / (k + math.Sqrt(k*k-slender*slender))
}

// bucklingLength is the length over which a part may bow: its own, and twice that for one that stands on the floor, whose head can sway.
//
// Source: Euler's cases, [timber-theory].
func (f *frame) bucklingLength(part int) float64 {
	length := f.a.Parts[part].Length.MM()
	if f.upright(part) && f.stands(part) {
		length *= 2
	}
	return length
}

// Buckling factors of a whole frame: at wantedFactor the load bends it about a ninth more than first order says, and nobody asks; below
// leastFactor a third more and rising fast. Judgement, docs/methods/structure.md.
const (
	wantedFactor = 10.0
	leastFactor  = 4.0
)

// slenderChecks returns how many times the hardest load from above the frame carries before it gives way sideways as a whole. It is worked
// out for the case that presses one upright hardest, with one element between joints: a frame gives way by swaying, and bowing between
// joints is in the strength of each part. By second order everything then bends by 1/(1 − 1/factor) more.
func (f *frame) slenderChecks(cases []Case, results []spaceframe.CaseResult) []Check {
	hardest, most := -1, 0.0
	for k := range results {
		c := &results[k]
		if c.Status != spaceframe.Solved || len(c.Lifted) > 0 {
			continue
		}
		for i, fp := range f.parts {
			if !f.upright(i) || len(fp.members) == 0 {
				continue
			}
			if press := c.Member(fp.members[0]).EndForce[0][spaceframe.UX]; math.Abs(press) > most {
				hardest, most = k, math.Abs(press)
			}
		}
	}
	if hardest < 0 {
		return nil
	}
	result := spaceframe.Solve(f.model, []spaceframe.Case{cases[hardest].load}, spaceframe.Options{Buckling: 1, Divisions: 1})
	if result.Status != spaceframe.Solved || len(result.Cases[0].Buckling) == 0 {
		return nil
	}
	factor := result.Cases[0].Buckling[0].Value
	cite := source.Choice("docs/methods/structure.md")
	c := Check{What: "giving way sideways", Where: f.a.Name, Case: cases[hardest].Name, Cite: cite, Wanted: wantedFactor / leastFactor,
		Demand:   working.Value{Symbol: "α_min", Name: "least buckling factor", Number: leastFactor},
		Capacity: working.Value{Symbol: "α", Name: "times the load at which the frame gives way", Number: factor},
		Advice:   "thicker legs, or low rails between them",
		Working: working.Working{{Title: "Buckling of the frame", Formula: "(K + α K_g) u = 0, everything bends by 1/(1 − 1/α) more",
			Inputs: []working.Value{{Symbol: "N", Name: "pressure in the hardest pressed upright", Number: most, Unit: "N"}, {Symbol: "1/(1 − 1/α)", Name: "more bending", Number: 1 / (1 - 1/math.Max(factor, 1.001))}},
			Result: working.Value{Symbol: "α", Number: factor}, Cite: source.At("timber-theory", "geometric stiffness", source.Exact)}}}
	c.verdict(c.Wanted)
	return []Check{c}
}
