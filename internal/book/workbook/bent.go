package workbook

import (
	"fmt"
	"slices"

	"longgrain/internal/book/drawing"
	"longgrain/internal/book/forces"
	"longgrain/internal/plan"
)

// BendOf returns how a piece bends in a load case, as drawings take it; false when the case has no answer.
func BendOf(p plan.Plan, index int) (drawing.Bend, bool) {
	moved, ok := p.Structure.Bent(index)
	if !ok {
		return drawing.Bend{}, false
	}
	b := drawing.Bend{Case: p.Structure.Cases[index].Name, Parts: make([][]drawing.Moved, len(moved)), Outline: make([]bool, len(moved))}
	for i, sections := range moved {
		for _, m := range sections {
			b.Parts[i] = append(b.Parts[i], drawing.Moved{Shift: m.Shift, Turn: m.Turn})
		}
		_, carries := p.Structure.Along(index, i)
		b.Outline[i] = !carries
	}
	b.Times = drawing.TimesFor(p.Assembly, b.Parts)
	return b, true
}

// bent draws the piece bent by the load that moves it most, and the forces along the part whose wood is used hardest.
func (b *book) bent() {
	if cases := b.plan.BendCases(); len(cases) > 0 {
		bend, _ := BendOf(b.plan, cases[0])
		s := drawing.Bent(b.plan.Assembly, bend, b.style())
		caption := fmt.Sprintf("How it bends under %s, drawn %.0f times as large as it is. Thin lines: without load", bend.Case, bend.Times)
		if slices.Contains(bend.Outline, true) {
			caption += ". What hangs on fastenings is drawn as an outline and rides along"
		}
		b.Figure("bent", s, caption)
	}
	part, index, ok := b.plan.HardestPart()
	if !ok {
		return
	}
	if d, ok := forces.Of(b.plan, index, part); ok {
		b.Figure("forces", forces.Draw(d, b.room.Width), fmt.Sprintf("Forces along the %s under %s. What is joined to it stands above it by its mark", d.Part, d.Case))
	}
}
