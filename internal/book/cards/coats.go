package cards

import (
	"fmt"
	"strings"

	"longgrain/internal/book/drawing"
	"longgrain/internal/ground/unit"
	"longgrain/internal/paper/scene"
	"longgrain/internal/trade/coating"
	"longgrain/internal/work/finishing"
	"longgrain/internal/work/schedule"
)

// finish puts the steps of the finish that are done in one go on a card. A task without steps is the test piece.
func (d *deck) finish(c *Card, t schedule.Task) {
	if len(t.Steps) == 0 {
		d.testPiece(c)
		return
	}
	before := false
	for _, s := range d.plan.Finishing.Steps {
		for _, n := range t.Steps {
			if s.Number == n {
				d.coat(c, s)
				before = before || s.Before
			}
		}
	}
	if before {
		c.note("done on the single parts, before they are glued together")
		d.whole(c)
		return
	}
	d.show(c, "views", "The whole piece, "+d.plan.Units, func() scene.Scene { return drawing.Views(d.plan.Assembly, d.style) })
}

// coat puts one step of the finish on a card.
func (d *deck) coat(c *Card, s finishing.Step) {
	name := upperFirst(string(s.Action))
	switch {
	case s.Product != "":
		name += ", " + s.Product
		c.set("Product", upperFirst(s.Product))
		if s.Litres > 0 {
			c.set("About", fmt.Sprintf("%.0f ml for %.2f m²", float64(s.Litres)*1000, float64(s.Area)))
		}
	case s.Grit != "":
		name += ", " + s.Grit
		c.set("Grit or tool", s.Grit)
	}
	if s.Note != "" {
		name += ": " + s.Note
	}
	c.step(name)
	if s.Within > 0 {
		c.set(upperFirst(string(s.Action)), "within "+duration(s.Within)+" of the step before")
	}
	for _, h := range s.Hazards {
		c.hazard(h)
	}
	c.wait("Soak", s.Soak, "Rub dry now, all of it", "begin with the last of the oil")
	if s.Action == coating.Rub && s.Within > 0 {
		c.limit("Rubbed dry at the latest", s.Within, "It must be rubbed dry by now", "begin with the first of the oil")
	}
	if s.Wait > 0 {
		c.wait("Dries", s.Wait, "It is dry: the next step may begin", "in the air of this shop; feel it first")
	}
}

// testPiece says what is tried on an offcut.
func (d *deck) testPiece(c *Card) {
	f := d.plan.Finishing
	c.step(f.TestPiece)
	var waits unit.Minutes
	for _, s := range f.Steps {
		if s.Action == coating.Wait {
			continue
		}
		waits += s.Wait + s.Soak
		text := string(s.Action)
		if s.Product != "" {
			text += " " + s.Product
		}
		if s.Grit != "" {
			text += " " + s.Grit
		}
		if s.Wait > 0 {
			text += ", then wait " + duration(s.Wait)
		}
		c.step(text)
	}
	c.step("Write what was done on the back of the offcut and keep it")
	for _, s := range f.Steps {
		for _, h := range s.Hazards {
			if s.Product != "" {
				c.hazard(h)
			}
		}
	}
	c.wait("All waits of the test piece", waits, "The test piece is ready to be judged", "")
}

// mask lists the surfaces that stay bare for the glue, alike ones together.
func (d *deck) mask(c *Card) {
	marks := map[string][]string{}
	var order []string
	for _, m := range d.plan.Finishing.Masks {
		key := m.Where + ", " + m.What
		if marks[key] == nil {
			order = append(order, key)
		}
		marks[key] = append(marks[key], m.Mark)
	}
	for _, key := range order {
		c.step(strings.Join(marks[key], " ") + ": " + key)
	}
	c.set("Surfaces", fmt.Sprint(len(d.plan.Finishing.Masks)))
	c.mind(Caution{Title: "Glue does not hold on finish", Text: "Tape over every glue surface, and stop dowel holes"})
	d.whole(c)
}

// rags is a card of its own, so that nobody goes home before it is ticked.
func (d *deck) rags(c *Card) {
	c.hazards("rags", "rags-school")
	c.step("Every rag, paper and pad that touched the oil is found")
	c.step("Hung out one by one outdoors, or in the can full of water with its lid on")
	c.step("Nothing with oil lies in a bin, in a pocket or in a heap")
}
