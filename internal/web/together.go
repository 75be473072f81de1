package web

import (
	"longgrain/internal/book/drawing"
	"longgrain/internal/plan"
)

// togetherOf returns the order of putting together, each step as far drawn back as the workbook draws it.
func togetherOf(made plan.Plan) *Together {
	marks := func(parts []int) List[string] {
		var out List[string]
		for _, i := range parts {
			out = append(out, made.Assembly.Parts[i].Mark)
		}
		return out
	}
	o := made.Together
	out := &Together{Possible: o.Possible, Stuck: marks(o.Stuck)}
	for _, s := range o.Steps {
		step := TogetherStep{Moving: marks(s.Moving), Onto: marks(s.Onto), Direction: point(s.Direction),
			Distance: drawing.DrawnBack(made.Assembly, s), Travel: s.Travel, Words: made.StepWords(s)}
		for _, c := range s.Closes {
			step.Joints = append(step.Joints, made.Assembly.Connections[c].Name)
		}
		out.Steps = append(out.Steps, step)
	}
	return out
}
