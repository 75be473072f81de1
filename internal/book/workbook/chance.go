package workbook

import (
	"fmt"

	"longgrain/internal/check/chance"
	"longgrain/internal/paper/document"
)

// chance writes how likely the piece is to give way, with what that rests on.
func (b *book) chance() {
	a := b.plan.Chance
	if !a.Known {
		return
	}
	b.Heading(2, "chance", "How likely it is to give way")
	b.Paragraph(a.Sentence)
	t := document.NewTable(document.TextColumn("Known of the joints"), document.TextColumn("Gives way in its life"), document.TextColumn("Bounds of the draws"), document.NumberColumn("Reserve for the accepted chance"))
	t.Caption = fmt.Sprintf("%d draws of wood and joints; the heaviest load of a life is counted with all that it may be. Accepted is %s.", a.Trials, chance.OneIn(a.Wanted))
	row := func(known string, e chance.Estimate) {
		reserve := "–"
		if e.Reserve > 0 {
			reserve = fmt.Sprintf("%.1f", e.Reserve)
		}
		t.Row(known, chance.OneIn(e.Probability), chance.OneIn(e.High)+" to "+chance.OneIn(e.Low), reserve)
	}
	row("The species", a.Species)
	if a.Own != nil {
		row("The shop's own tests", *a.Own)
	}
	b.Add(*t)
	if e := a.Best(); len(e.Causes) > 0 {
		t := document.NewTable(document.TextColumn("Gives way first"), document.TextColumn("Under"), document.NumberColumn("Of 100"))
		for _, c := range e.Causes {
			t.Row(upperFirst(c.What), upperFirst(c.Load), fmt.Sprintf("%.0f", 100*c.Share))
		}
		b.Add(*t)
	}
	var items []document.Text
	for _, text := range a.Assumptions {
		items = append(items, document.Words(text))
	}
	b.Paragraph("It is a figure for comparing one design with another, no promise. It rests on this:")
	b.Add(document.List{Items: items})
	b.working(a.Working)
}
