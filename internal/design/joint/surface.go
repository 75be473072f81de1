package joint

import (
	"math"

	"longgrain/internal/ground/source"
	"longgrain/internal/ground/working"
)

// GlueSurface shows how the long-grain glue surface of a joint comes about; false for kinds whose surface no short formula gives.
//
//	dowels: A = n · π · D · (L₁ + L₂)/2
//	tenons: A = n · 2 · w · l
//
// n is the number of dowels or tenons; D the diameter and L₁, L₂ the glued depths of a dowel, whose wall is long grain on half of its
// round; w the width, for round ends less t (1 − π/4), and l the length of a tenon, glued on both cheeks; all mm. A is in cm².
//
// Source: geometry; that half of a dowel's wall counts is a choice of docs/methods/joints.md.
func (j Joint) GlueSurface() (working.Step, bool) {
	z := j.Sizes
	step := working.Step{Title: "Glue surface, long grain on long grain", Result: working.Value{Symbol: "A", Number: float64(j.Glue.LongGrain) * 1e4, Unit: "cm²"}, Cite: source.Choice("docs/methods/joints.md")}
	n := float64(max(1, z.Count))
	surface := 0.0
	switch j.Kind {
	case Dowels, DowelRows:
		surface = n * math.Pi * z.Diameter.MM() * (z.DepthA.MM() + z.DepthB.MM()) / 2
		step.Formula, step.Note = "A = n · π · D · (L₁ + L₂)/2", "half of the wall of a bore is long grain"
		step.Inputs = []working.Value{{Symbol: "n", Name: "dowels", Number: n}, {Symbol: "D", Number: z.Diameter.MM(), Unit: "mm"},
			{Symbol: "L₁", Name: "glued depth in the end", Number: z.DepthA.MM(), Unit: "mm"}, {Symbol: "L₂", Name: "in the side", Number: z.DepthB.MM(), Unit: "mm"}}
	case Tenon, TwinTenons:
		width := z.Width.MM()
		if z.Rounded {
			width -= z.Thickness.MM() * (1 - math.Pi/4)
		}
		surface = n * 2 * width * z.DepthB.MM()
		step.Formula, step.Note = "A = n · 2 · w · l", "both cheeks"
		step.Inputs = []working.Value{{Symbol: "n", Name: "tenons", Number: n}, {Symbol: "w", Name: "width", Number: width, Unit: "mm"}, {Symbol: "l", Name: "length", Number: z.DepthB.MM(), Unit: "mm"}}
	}
	return step, math.Abs(surface/1e2-step.Result.Number) < 1e-6*surface
}
