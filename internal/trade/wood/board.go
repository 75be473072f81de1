package wood

import (
	"fmt"
	"slices"

	"longgrain/internal/ground/unit"
)

// Condition is how a person judges the worst place of a board that carries load.
type Condition string

// The conditions, from best to worst.
const (
	Clear           Condition = "clear"
	SmallTightKnots Condition = "small tight knots"
	OrdinaryKnotty  Condition = "ordinary knotty"
	Poor            Condition = "poor"
)

// Conditions lists the words for Condition, from best to worst.
var Conditions = []string{string(Clear), string(SmallTightKnots), string(OrdinaryKnotty), string(Poor)}

// StrengthRatio returns the bending strength of a board in this condition as a share of that of clear
// wood. Panics for an unknown condition.
//
// Source: judgement, docs/methods/wood.md, at the ratios of the structural grades with like knots.
func (c Condition) StrengthRatio() Figure[float64] {
	return mustFactor("condition strength", string(c))
}

// StiffnessRatio returns the modulus of elasticity as a share of that of clear wood. Panics for an
// unknown condition.
//
// Source: judgement, docs/methods/wood.md, after the convention of [astm-d245], from memory.
func (c Condition) StiffnessRatio() Figure[float64] {
	return mustFactor("condition stiffness", string(c))
}

// GradeRatio returns the bending strength ratio of a lumber grade ("no. 2", "construction").
//
// Source: [wood-handbook] table 7-1; the three light framing grades read, the others from memory.
func GradeRatio(grade string) (Figure[float64], bool) {
	f, ok := lookupFactor("grade", grade)
	return fraction(f), ok
}

// Grades returns the grades that GradeRatio knows, sorted.
func Grades() []string {
	var out []string
	for key := range factors {
		if key.kind == "grade" {
			out = append(out, key.of)
		}
	}
	slices.Sort(out)
	return out
}

// SlopeRatio returns the bending strength left at a slope of grain of 1 in n, by linear interpolation
// of the slope between the printed points. Grain steeper than 1 in 5 is outside the table: false.
//
// Source: [wood-handbook] table 5-12, from memory.
func SlopeRatio(n float64) (Figure[float64], bool) {
	if !(n >= 5) {
		return Figure[float64]{}, false
	}
	slope, steps := 1/n, []float64{0, 1.0 / 25, 1.0 / 20, 1.0 / 15, 1.0 / 10, 1.0 / 5}
	names := []string{"straight", "1 in 25", "1 in 20", "1 in 15", "1 in 10", "1 in 5"}
	i := 1
	for i < len(steps)-1 && slope > steps[i] {
		i++
	}
	a, b := fraction(mustFactor("slope", names[i-1])), fraction(mustFactor("slope", names[i]))
	share := (slope - steps[i-1]) / (steps[i] - steps[i-1])
	return Figure[float64]{a.Value + share*(b.Value-a.Value), b.Cite}, true
}

// EdgeKnotRatio returns the bending strength left in a board on edge with a knot at its stressed edge.
//
//	SR = (1 - k/h)²
//
// k is the knot diameter, h the face width, 0 <= k <= h: the section left has the depth h - k. Panics
// outside that range.
//
// Source: derived in docs/methods/wood.md.
func EdgeKnotRatio(knot, face unit.Length) float64 {
	r := 1 - knotShare(knot, face)
	return r * r
}

// CentreKnotRatio returns the bending strength left with a knot on the centre line of the face, and
// that of a board laid flat with a knot across it.
//
//	SR = 1 - k/h
//
// Symbols and range as EdgeKnotRatio. Mildly unsafe for the worst grade.
//
// Source: derived in docs/methods/wood.md.
func CentreKnotRatio(knot, face unit.Length) float64 { return 1 - knotShare(knot, face) }

func knotShare(knot, face unit.Length) float64 {
	if knot < 0 || face <= 0 || knot > face {
		panic(fmt.Sprintf("wood: knot of %v in a face of %v", knot, face))
	}
	return float64(knot) / float64(face)
}

// KnotClearance is the distance, in dowel or mortise sizes, that knots must keep from a joint.
// Judgement: grain runs round a knot for about its own width.
const KnotClearance = 2.0
