package workbook

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"longgrain/internal/ground/unit"
	"longgrain/internal/paper/document"
	"longgrain/internal/work/markout"
)

// marking writes the set-ups, the sheet of every part and how well the parts will meet.
func (b *book) marking() {
	m := b.plan.Markout
	b.sheets(m)
	b.mates(m)
	b.templates()
}

// sheets writes the set-ups and the sheet of every part.
func (b *book) sheets(m markout.Markout) {
	b.Paragraph(fmt.Sprintf("Every part is measured from one face, one edge and one end, and never from mark to mark. Parts that meet are measured from sides that lie together. Tape the words on before anything else. Measures are rounded to %s.", b.show(m.Smallest)))
	b.Paragraph("In the tables of marks, along is measured from the end, on an end from the edge; across from the edge or the face. Both lead to the middle of the cut. What goes in is the dowel, tenon or biscuit; the tool stops deeper, to leave room for glue.")
	b.setups(m)
	b.gauges(m)
	for i, s := range m.Sheets {
		if s.SameAs == i {
			b.sheet(i, s)
		}
	}
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
	rows := b.markRows(s)
	b.partDrawing(i, len(rows))
	b.Add(document.Paragraph{Text: document.Words("Face: ").Strong(s.FaceName).Plain(". Edge: ").Strong(s.EdgeName).Plain(". End: ").Strong(s.EndName).Plain("." + b.alike(s) + b.matters(i))})
	if len(s.Marks) == 0 {
		b.Paragraph("Nothing is cut into it.")
		return
	}
	t := document.NewTable(document.TextColumn("On"), document.TextColumn("What"), document.NumberColumn("Along"), document.NumberColumn("Across"), document.NumberColumn("Size"), document.NumberColumn("Goes in"), document.NumberColumn("Stop at"), document.TextColumn("For"))
	t.Caption = "Marks of " + part.Mark + ", " + b.plan.Units
	for _, r := range rows {
		t.Row(r...)
	}
	b.Add(*t)
	b.bevels(s)
}

// markRows returns the rows of the table of marks. Cuts that differ only in how far along they lie share a row.
func (b *book) markRows(s markout.Sheet) [][]string {
	const along = 2
	var out [][]string
	var keys []string
	for _, mark := range s.Marks {
		if mark.Bevel != nil {
			row := []string{s.References.Role(mark.Side), mark.What, "–", "–", mark.Bevel.Short(mark.Side), "–", "", ""}
			keys, out = append(keys, strings.Join(row, "|")), append(out, row)
			continue
		}
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
		row := []string{s.References.Role(mark.Side), mark.What, "", mark.Across.ShowNumber(b.family), size, b.goesIn(mark), stop, mark.For}
		key, at := strings.Join(row, "|"), mark.Along.ShowNumber(b.family)
		if k := slices.Index(keys, key); k >= 0 {
			out[k][along] += ", " + at
			continue
		}
		row[along] = at
		keys, out = append(keys, key), append(out, row)
	}
	return out
}

// bevels writes how the sides of a part that are cut at an angle are marked and sawn.
func (b *book) bevels(s markout.Sheet) {
	var items []document.Text
	edges := false
	for _, mark := range s.Marks {
		if mark.Bevel != nil {
			items = append(items, document.Words(mark.Bevel.Sentence(mark.Side, s.References.Role(mark.Side))))
			edges = edges || !mark.Side.IsEnd()
		}
	}
	if len(items) == 0 {
		return
	}
	text := "Angles. A gauge angle is the smaller one between stock and blade. Lengths along the part count from its longest point; on an end cut at an angle all measures run in the slope."
	if edges {
		text += " Bevel the edge last: what is measured from it counts from the edge before it is bevelled."
	}
	b.Paragraph(text)
	b.Add(document.List{Items: items})
}

// goesIn prints how deep what is inserted goes; of a cut that nothing is known to enter, nothing.
func (b *book) goesIn(m markout.Mark) string {
	if m.Enters <= 0 {
		return "–"
	}
	return m.Enters.ShowNumber(b.family)
}

// gauges writes the settings of the mortise gauge.
func (b *book) gauges(m markout.Markout) {
	if len(m.Gauges) == 0 {
		return
	}
	b.Heading(2, "gauges", "Mortise gauge")
	var items []document.Text
	for _, g := range m.Gauges {
		items = append(items, document.Words(g.Sentence(b.family)))
	}
	b.Add(document.List{Ordered: true, Items: items})
}

// matters says which measure of a part decides whether its joints close.
func (b *book) matters(part int) string {
	m := b.plan.Markout
	for _, j := range m.Joints {
		for _, c := range j.Connections {
			connection := b.plan.Assembly.Connections[c]
			if connection.A.Part != part && connection.B.Part != part {
				continue
			}
			along, s := j.Matters()
			for _, mate := range m.Mates {
				if mate.Connection != c {
					continue
				}
				mark := m.Sheets[mate.A.Part].Marks[mate.A.Mark]
				from := mark.AcrossFrom
				if along {
					from = mark.AlongFrom
				}
				if connection.B.Part == part {
					d := mate.Directions[1]
					if along {
						d = mate.Directions[0]
					}
					onB := m.Sheets[part].Marks[mate.B.Mark]
					if from = onB.AcrossFrom; d.BAlong {
						from = onB.AlongFrom
					}
				}
				return fmt.Sprintf(" What matters most is the distance from the %s: likely %s mm out, of which most comes from this: %s.",
					m.Sheets[part].References.Role(from), millimetres(s.Shift.Likely), lowerFirst(s.Most))
			}
		}
	}
	return ""
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
	return " Mirror image of " + strings.Join(names, " and ") + ": never swap them."
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
	b.Paragraph(b.agreement(m))
	if len(m.Joints) == 0 {
		return
	}
	b.Paragraph(fmt.Sprintf("The best way to mark these joints is: %s. A joint closes when its holes are off each other by no more than %s mm (%s).",
		m.Joints[0].Ways[m.Joints[0].Best].Name, millimetres(m.Joints[0].Play), b.playFrom()))
	t := document.NewTable(document.TextColumn("Joint"), document.TextColumn("Way to mark it"), document.NumberColumn("Parts out of line, likely"), document.NumberColumn("At worst"),
		document.NumberColumn("Holes off each other, likely"), document.NumberColumn("At worst"), document.TextColumn("Closes"), document.TextColumn("What matters most"))
	t.Caption = "Errors to expect, mm: both directions together. Likely is the root of the sum of squares, at worst the sum of all half widths."
	for _, j := range m.Joints {
		for i, w := range j.Ways {
			if i != j.Best && i != 0 {
				continue
			}
			shift, fit := both(w.Along.Shift, w.Across.Shift), both(w.Along.Fit, w.Across.Fit)
			most, direction := w.Along, "along"
			if w.Across.Shift.Likely > w.Along.Shift.Likely {
				most, direction = w.Across, "across"
			}
			t.Cells(document.WordCell(upperFirst(b.plan.Assembly.Connections[j.Connections[0]].Name)+andMore(len(j.Connections)-1)), document.WordCell(w.Name),
				document.WordCell(millimetres(shift.Likely)), document.WordCell(millimetres(shift.Worst)), document.WordCell(millimetres(fit.Likely)), document.WordCell(millimetres(fit.Worst)),
				closesCell(j.Closes(w)), document.WordCell(fmt.Sprintf("%s: %s, %.0f %%", direction, lowerFirst(most.Most), most.Share*100)))
		}
	}
	b.Add(*t)
	if len(m.Working) > 0 {
		b.working(m.Working[:min(2, len(m.Working))])
	}
}

// agreement says whether all marks were followed to the same places, and by how much rounding moves the parts.
func (b *book) agreement(m markout.Markout) string {
	wrong, moved := 0, unit.Length(0)
	for _, mate := range m.Mates {
		for _, d := range mate.Directions {
			if d.Marked != 0 {
				wrong++
				break
			}
			moved = max(moved, d.Moved().Abs())
		}
	}
	text := fmt.Sprintf("%s of cuts were followed from both sheets", unit.Count(len(m.Mates), "pair", "pairs"))
	if wrong > 0 {
		return fmt.Sprintf("%s: %d do not meet. See the marks of their parts before cutting.", text, wrong)
	}
	text += " to the same place: as marked, nothing is left between them."
	if moved > 0 {
		text += fmt.Sprintf(" Rounding to %s moves parts against each other by at most %s, all cuts of a joint alike.", b.show(m.Smallest), moved.RoundTo(unit.Millimetre/100).Show(unit.Metric))
	}
	return text + " What is left in the wood comes from rule, pencil, fence and drill."
}

func both(x, y markout.Band) markout.Band {
	return markout.Band{Worst: math.Hypot(x.Worst, y.Worst), Likely: math.Hypot(x.Likely, y.Likely)}
}

func andMore(n int) string {
	if n == 0 {
		return ""
	}
	return fmt.Sprintf(" and %d more", n)
}

func closesCell(word string) document.Cell {
	switch word {
	case "surely":
		return document.ToneCell(document.Good, word)
	case "likely":
		return document.ToneCell(document.Watch, word)
	}
	return document.ToneCell(document.Bad, word)
}

// playFrom says where the misfit that a joint closes over comes from.
func (b *book) playFrom() string {
	if t := b.plan.Shop.Marking.Play; !t.Given {
		return b.cite(t.Cite)
	}
	return "shop file"
}

func millimetres(x float64) string { return fmt.Sprintf("%.1f", x) }
