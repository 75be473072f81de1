package workbook

import (
	"fmt"
	"strings"

	"longgrain/internal/paper/document"
	"longgrain/internal/work/markout"
)

// marking writes the set-ups and the sheet of every part.
func (b *book) marking() {
	m := b.plan.Markout
	b.Paragraph(fmt.Sprintf("Every part is measured from one face, one edge and one end, and never from mark to mark. Parts that meet are measured from sides that lie together. Tape the words on before anything else. Measures are rounded to %s.", b.show(m.Smallest)))
	b.setups(m)
	for i, s := range m.Sheets {
		if s.SameAs == i {
			b.sheet(i, s)
		}
	}
	b.mates(m)
}

// sheet writes the marks of one part, and which parts are marked alike.
func (b *book) sheet(i int, s markout.Sheet) {
	a := b.plan.Assembly
	part := a.Parts[i]
	names := []string{part.Mark + " " + part.Name}
	for k, other := range b.plan.Markout.Sheets {
		if k != i && other.SameAs == i {
			names = append(names, a.Parts[k].Mark+" "+a.Parts[k].Name)
		}
	}
	b.Heading(2, "sheet-"+part.Mark, upperFirst(strings.Join(names, ", ")))
	b.partDrawing(i, s)
	b.Add(document.Paragraph{Text: document.Words("Face: ").Strong(s.FaceName).Plain(". Edge: ").Strong(s.EdgeName).Plain(". End: ").Strong(s.EndName).Plain(". " + b.alike(s))})
	if len(s.Marks) == 0 {
		b.Paragraph("Nothing is cut into it.")
		return
	}
	t := document.NewTable(document.TextColumn("On"), document.TextColumn("What"), document.NumberColumn("Along"), document.NumberColumn("Across"), document.NumberColumn("Size"), document.NumberColumn("Deep"), document.NumberColumn("Stop at"), document.TextColumn("For"))
	t.Caption = "Marks, " + b.plan.Units + ". Along is measured from the end, on an end from the edge; across from the edge or the face. Both lead to the middle."
	for _, mark := range s.Marks {
		size := mark.Diameter.ShowNumber(b.family)
		if mark.Diameter == 0 {
			size = mark.Length.ShowNumber(b.family) + " × " + mark.Width.ShowNumber(b.family)
		} else {
			size = "⌀ " + size
		}
		stop := ""
		if mark.Stop > 0 {
			stop = mark.Stop.ShowNumber(b.family)
		}
		t.Row(s.References.Role(mark.Side), mark.What, mark.Along.ShowNumber(b.family), mark.Across.ShowNumber(b.family), size, mark.Depth.ShowNumber(b.family), stop, mark.For)
	}
	b.Add(*t)
}

// alike says which parts are the same shape and which are mirror images.
func (b *book) alike(s markout.Sheet) string {
	if len(s.Mirrors) == 0 {
		return ""
	}
	var names []string
	for _, k := range s.Mirrors {
		names = append(names, b.plan.Assembly.Parts[k].Name)
	}
	return "Mirror image of " + strings.Join(names, " and ") + ": never swap them."
}

// setups writes what is set once and used on several parts.
func (b *book) setups(m markout.Markout) {
	if len(m.Setups) == 0 {
		return
	}
	b.Heading(2, "setups", "Set-ups")
	var items []document.Text
	for _, s := range m.Setups {
		items = append(items, document.Words(s.Sentence(b.family)))
	}
	b.Add(document.List{Ordered: true, Items: items})
}

// mates writes how well the parts will meet.
func (b *book) mates(m markout.Markout) {
	b.Heading(2, "mates", "Do the parts meet")
	b.Paragraph(fmt.Sprintf("%s of cuts were followed from both sheets to the same place: as marked, nothing is left between them. What is left in the wood comes from rule, pencil, fence and drill.", plural(len(m.Mates), "pair", "pairs")))
	if len(m.Joints) == 0 {
		return
	}
	b.Paragraph(fmt.Sprintf("The best way to mark these joints is: %s.", m.Joints[0].Ways[m.Joints[0].Best].Name))
	t := document.NewTable(document.TextColumn("Joint"), document.TextColumn("Way to mark it"), document.NumberColumn("Parts out of line, likely"), document.NumberColumn("At worst"), document.NumberColumn("Holes off each other, likely"), document.NumberColumn("At worst"))
	t.Caption = "Errors to expect along the joint, mm. Their sources are assumed."
	for _, j := range m.Joints {
		for i, w := range j.Ways {
			if i != j.Best && i != 0 {
				continue
			}
			t.Row(upperFirst(b.plan.Assembly.Connections[j.Connections[0]].Name), w.Name, millimetres(w.Along.Shift.Likely), millimetres(w.Along.Shift.Worst), millimetres(w.Along.Fit.Likely), millimetres(w.Along.Fit.Worst))
		}
	}
	b.Add(*t)
	if len(m.Working) > 0 {
		b.working(m.Working[:min(2, len(m.Working))])
	}
}

func millimetres(x float64) string { return fmt.Sprintf("%.1f", x) }
