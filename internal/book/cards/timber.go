package cards

import (
	"fmt"
	"slices"
	"strings"

	"longgrain/internal/book/drawing"
	"longgrain/internal/ground/unit"
	"longgrain/internal/paper/scene"
	"longgrain/internal/trade/lumber"
	"longgrain/internal/trade/wood"
	"longgrain/internal/work/blank"
	"longgrain/internal/work/cost"
	"longgrain/internal/work/cutting"
	"longgrain/internal/work/glueup"
	"longgrain/internal/work/schedule"
)

// buy lists what to bring: timber as the yard names it, then everything else that the estimate counts.
func (d *deck) buy(c *Card) {
	p := d.plan.Cutting
	for _, x := range p.Buy {
		text := fmt.Sprintf("%d × %s, %s", x.Count, askFor(x), d.askLength(x))
		if x.Spare > 0 {
			text += fmt.Sprintf("; %d more to spare", x.Spare)
		}
		c.step(text)
	}
	for _, r := range d.plan.Cost.Rows {
		if r.Chapter == cost.Timber || r.Chapter == cost.Labour {
			continue
		}
		quantity := strings.TrimSuffix(strings.TrimRight(fmt.Sprintf("%.2f", r.Quantity), "0"), ".")
		one := r.Unit
		if r.Quantity == 1 {
			one = strings.TrimSuffix(one, "s")
		}
		c.step(fmt.Sprintf("%s: %s %s", upperFirst(r.Name), quantity, one))
	}
	c.set("Choose", "straight and dry, no knots at the ends")
	if t := d.plan.Shop.Habits.TimberMoisture; t > 0 && d.plan.Shop.Has("moisture meter") {
		c.set("Moisture", fmt.Sprintf("planned with %.0f %%: measure it", float64(t)))
	}
	for _, n := range p.Notes {
		c.note(n)
	}
	for _, n := range d.plan.GlueUps.Cautions {
		if ofTimber(n) {
			c.note(n)
		}
	}
}

// ofTimber tells whether something to mind of gluing is a matter of the timber as it comes.
func ofTimber(text string) bool { return strings.Contains(text, "moisture") }

// askFor names timber as the yard does: "1x4 eastern white pine, planed".
func askFor(x cutting.Purchase) string {
	species, _ := wood.Lookup(x.Species)
	text := x.Name + " " + strings.ToLower(species.Name[:min(1, len(species.Name))]) + species.Name[min(1, len(species.Name)):]
	switch {
	case x.Panel:
		text += ", glued panel"
	case x.Rough:
		text += ", rough sawn"
	default:
		text += ", planed"
	}
	return text
}

// askLength names a length as the yard does: nominal sizes are sold by the foot.
func (d *deck) askLength(x cutting.Purchase) string {
	if _, nominal := lumber.Nominal(x.Name); nominal && x.Length%unit.Foot == 0 {
		return fmt.Sprintf("%d ft", x.Length/unit.Foot)
	}
	return d.length(x.Length)
}

// saw shows every board with its cuts, a board a tick.
func (d *deck) saw(c *Card) {
	p, h := d.plan.Cutting, d.plan.Shop.Habits
	c.set("Saw takes", d.length(h.Kerf))
	c.set("Off each end first", d.length(h.EndTrim))
	for i, b := range p.Boards {
		species, _ := wood.Lookup(b.Species)
		caption := fmt.Sprintf("Board %d, %s: %s %s, %s × %s, %s long", i+1, b.Source, b.Name, species.Name, d.length(b.Thickness), d.length(b.Width), d.length(b.Length))
		d.show(c, fmt.Sprintf("board-%d", i+1), caption, func() scene.Scene {
			return drawing.BoardDiagram(drawing.BoardOf(b, i+1), d.style)
		})
		var out []string
		for _, a := range b.Areas {
			if a.Kind == cutting.PartArea {
				out = append(out, a.Label)
			}
		}
		c.step(fmt.Sprintf("Board %d, %s: gives %s", i+1, unit.Count(len(b.Cuts), "cut", "cuts"), strings.Join(out, ", ")))
	}
	if n := len(p.Rest); n > 0 {
		c.step(unit.Count(n, "piece stays", "pieces stay") + " over: write the size on it and keep it")
	}
	c.step("Mark on every piece as soon as it is off, on the end too")
	c.hazards("kickback", "dust", "noise")
}

// mill gives the rough and planed sizes of the pieces of a group.
func (d *deck) mill(c *Card, t schedule.Task) {
	p := d.plan.Cutting
	g := slices.IndexFunc(p.Groups, func(g blank.Group) bool { return slices.Equal(g.Parts, t.Parts) })
	if g < 0 {
		return
	}
	w := p.Ways[g]
	pieces := len(t.Parts) * w.Pieces * max(1, len(t.Copies))
	c.set("Pieces", fmt.Sprint(pieces))
	c.set("Plane to", d.length(w.Planed))
	c.set("Width off the saw", d.length(w.Width))
	c.set("Length off the saw", d.length(w.Length))
	if w.Least > 0 {
		c.set("Mill in one length of", d.length(w.Least)+" or more, then cut apart")
	}
	c.step("Let the pieces lie a day with sticks between if they were resawn or are damp")
	c.step("Joint one face, then one edge square to it")
	c.step("Plane all pieces at one setting to " + d.length(w.Planed))
	if w.Build == blank.OneBoard {
		part := d.plan.Assembly.Parts[t.Parts[0]]
		c.set("Finished size", d.size(part.Length, part.Width, part.Thickness))
		c.step("Cut to finished width and length, all of one length at one stop")
		c.step("Write mark, face, edge and end on every part")
	} else {
		c.step("Number the pieces in the order in which they will lie")
	}
	for _, n := range w.Notes {
		c.note(n)
	}
	d.whole(c)
	c.hazards("cutter", "dust", "noise")
}

// whole shows where the parts are in the piece.
func (d *deck) whole(c *Card) {
	d.show(c, "exploded", "Pulled apart, with the marks of the parts", func() scene.Scene { return drawing.Exploded(d.plan.Assembly, d.style) })
}

// plane gives the finished sizes of what was glued.
func (d *deck) plane(c *Card, t schedule.Task) {
	var seen []string
	for _, i := range t.Parts {
		part := d.plan.Assembly.Parts[i]
		size := d.size(part.Length, part.Width, part.Thickness)
		if !slices.Contains(seen, size) {
			seen = append(seen, size)
			c.set("Finished size, "+part.Mark, size)
		}
	}
	for _, g := range d.plan.GlueUps.GlueUps {
		if !slices.ContainsFunc(g.Parts, func(p glueup.Part) bool { return slices.Contains(t.Parts, p.Index) }) || g.Kind != glueup.Lamination && g.Kind != glueup.Panel {
			continue
		}
		c.set("Not before", duration(g.MachineAfter)+" after gluing")
		break
	}
	c.step("Scrape off what is left of the glue: hard glue chips planer knives")
	c.step("One face flat, one edge square to it, then to width and thickness")
	c.step("Cut to length, all parts alike at one stop")
	c.step("Write mark, face, edge and end on every part")
	d.whole(c)
	c.hazards("cutter", "dust", "noise")
}

// size prints length, width and thickness.
func (d *deck) size(l, w, t unit.Length) string {
	f := d.plan.Family
	return l.ShowNumber(f) + " × " + w.ShowNumber(f) + " × " + t.Show(f)
}
