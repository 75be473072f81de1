package web

import (
	"fmt"
	"math"
	"slices"

	"longgrain/internal/book/workbook"
	"longgrain/internal/check/structure"
	"longgrain/internal/ground/geom"
	"longgrain/internal/ground/unit"
	"longgrain/internal/plan"
)

// bentOf returns how a piece bends in a load case; nil when it has none of that name that could be solved.
func bentOf(made plan.Plan, name string) *Bent {
	k := slices.IndexFunc(made.Structure.Cases, namedCase(name))
	bend, ok := workbook.BendOf(made, k)
	if !ok {
		return nil
	}
	out := &Bent{Case: name, Times: bend.Times}
	most, where := 0.0, ""
	for i, sections := range bend.Parts {
		p := made.Assembly.Parts[i]
		part := BentPart{ID: p.Mark}
		for _, m := range sections {
			if d := m.Shift.Length(); d > most*(1+1e-9) {
				most, where = d, p.Name
			}
			part.Steps = append(part.Steps, Section{inPart(p.Pose.Axes, m.Shift), inPart(p.Pose.Axes, m.Turn)})
		}
		out.Parts = append(out.Parts, part)
	}
	out.Words = fmt.Sprintf("Drawn %.0f times as large as it is. The most is %s, at the %s.", bend.Times, showMovement(most, made.Family), where)
	return out
}

// inPart returns a direction of the piece in those of a part, rounded to what a picture can show.
func inPart(axes [3]geom.Vec, v geom.Vec) (out Point) {
	for k, a := range axes {
		out[k] = math.Round(v.Dot(a)*1e6)/1e6 + 0
	}
	return out
}

// showMovement prints a movement, which is finer than lengths of parts are.
func showMovement(mm float64, family unit.Family) string {
	if family == unit.Imperial {
		return fmt.Sprintf("%.3f in", mm/unit.Inch.MM())
	}
	return fmt.Sprintf("%.1f mm", mm)
}

// namedCase finds a load case by its name.
func namedCase(name string) func(structure.Case) bool {
	return func(c structure.Case) bool { return c.Name == name }
}
