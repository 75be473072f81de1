package workbook

import (
	"fmt"
	"slices"

	"longgrain/internal/book/drawing"
	"longgrain/internal/check/structure"
	"longgrain/internal/ground/unit"
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

// bent draws the piece bent by the load that moves it most, and the forces along the apron that bends most.
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
	part, index, ok := b.plan.HardestBent()
	if !ok {
		return
	}
	along, ok := b.plan.Structure.Along(index, part)
	if !ok {
		return
	}
	p := b.plan.Assembly.Parts[part]
	f := drawing.Forces{Title: "Forces along the " + p.Name, Length: p.Length.MM(), Axis: "along the part, mm"}
	scale := 1.0
	if b.family == unit.Imperial {
		scale, f.Axis = 1/unit.Inch.MM(), "along the part, inches"
		f.Length *= scale
	}
	curve := func(name string, of func(structure.Section) float64) {
		c := drawing.ForceCurve{Name: name}
		for _, s := range along {
			c.At, c.Of = append(c.At, s.X*scale), append(c.Of, of(s))
		}
		f.Curves = append(f.Curves, c)
	}
	curve("bending across the width, N·m", func(s structure.Section) float64 { return s.BendWidth })
	curve("shear across the width, N", func(s structure.Section) float64 { return s.ShearWidth })
	b.Figure("forces", drawing.ForceDiagram(f, b.style()), fmt.Sprintf("Forces along the %s under %s", p.Name, b.plan.Structure.Cases[index].Name))
}
