package cards

import (
	"fmt"
	"slices"
	"strings"

	"longgrain/internal/book/drawing"
	"longgrain/internal/check/fit"
	"longgrain/internal/ground/unit"
	"longgrain/internal/paper/scene"
	"longgrain/internal/trade/hardware"
	"longgrain/internal/work/glueup"
	"longgrain/internal/work/schedule"
)

// glue gives glue, clamps and times of a glue-up, and shows where the clamps stand or how the parts go together.
func (d *deck) glue(c *Card, t schedule.Task) {
	g := d.plan.GlueUps.GlueUps[t.GlueUp-1]
	glue := g.Glue.Name
	if g.Grams > 0 {
		glue += fmt.Sprintf(", about %.0f g", float64(g.Grams))
	}
	c.set("Glue", upperFirst(glue))
	clamps := clampWords(t.Clamps)
	if clamps == "" {
		clamps = "none of the shop serves: see the findings of the glue-ups"
	}
	c.set("Clamps", clamps)
	d.presses(c, g)
	if g.Pins > 0 {
		c.set("Dowels or biscuits", fmt.Sprint(g.Pins))
	}
	if g.Caul > 0 {
		c.set("Battens", "at least "+d.length(g.Caul)+" thick")
	}
	switch {
	case g.Pressure.Value > 0 && (g.Kind == glueup.Frame || g.Kind == glueup.Assembly) && g.Enough:
		c.set("Pressure", "until the shoulders close, no more")
	case g.Pressure.Value > 0:
		c.set("Pressure", fmt.Sprintf("%.2f MPa reached, %.2f to %.2f are published", float64(g.Reached), float64(g.Pressure.Low), float64(g.Pressure.High)))
	}
	d.clampDrawing(c, g)
	d.joining(c, g)
	for _, s := range g.Instructions {
		c.step(s)
	}
	for _, s := range g.Cautions {
		if strings.HasPrefix(s, "Long clamps") {
			c.hazards("long-clamps")
			continue
		}
		c.note(s)
	}
	for _, s := range d.plan.GlueUps.Cautions {
		if !ofTimber(s) {
			c.note(s)
		}
	}
	c.hazards("gloves")
	c.limit("Close the joint", g.Allowed, "The glue takes now: everything must be closed", fmt.Sprintf("closing is reckoned at %s; begin with the first glue", duration(max(1, g.Closing))))
	c.wait("Clamps stay on", g.ClampTime, "The clamps may come off", "begin when the last clamp is tight")
	if g.Scrape.High > 0 {
		c.wait("Scrape the squeeze-out", g.Scrape.Low, "Scrape now, while it is rubbery", "until "+duration(g.Scrape.High)+" after clamping")
	}
}

// presses tells for each line of clamps how far they open and stand apart; lines alike once.
func (d *deck) presses(c *Card, g glueup.GlueUp) {
	type line struct {
		value string
		where []string
	}
	var lines []line
	for _, p := range g.Presses {
		value := "open " + d.length(p.Opening)
		if n := clampCount(p); n > 1 {
			value += ", " + d.length(p.Apart(n)) + " apart"
		}
		if k := len(lines) - 1; k >= 0 && lines[k].value == value {
			lines[k].where = append(lines[k].where, p.Where)
			continue
		}
		lines = append(lines, line{value, []string{p.Where}})
	}
	for _, l := range lines {
		name := upperFirst(strings.Join(l.where, ", "))
		if len(l.where) > 2 {
			name = fmt.Sprintf("%s and %d more", upperFirst(l.where[0]), len(l.where)-1)
		}
		c.set(name, l.value)
	}
}

func clampCount(p glueup.Press) int {
	n := 0
	for _, u := range p.Clamps {
		n += u.Count
	}
	return n
}

// clampDrawing shows where clamps stand along strips and staves.
func (d *deck) clampDrawing(c *Card, g glueup.GlueUp) {
	if g.Kind != glueup.Lamination && g.Kind != glueup.Panel {
		return
	}
	for i, p := range g.Presses {
		n := clampCount(p)
		if n == 0 {
			continue
		}
		caption := "Where the clamps stand; the numbers say in which order they are set, " + d.plan.Units
		d.show(c, fmt.Sprintf("clamps-%d-%d", g.Number, i), caption, func() scene.Scene {
			return drawing.ClampDiagram(drawing.Clamping{Title: "Clamps along " + p.Where, Length: p.Length, At: clampPlaces(p.Length, n), Turns: g.Kind == glueup.Panel}, d.style)
		})
	}
}

// clampPlaces spreads clamps evenly along a length, the outer ones a little from the ends, as Press.Apart counts them.
func clampPlaces(length unit.Length, n int) []unit.Length {
	if n == 1 {
		return []unit.Length{length / 2}
	}
	first := min(hardware.ClampFromEnd, length/2)
	out := make([]unit.Length, n)
	for i := range out {
		out[i] = (first + (length-2*first)*unit.Length(i)/unit.Length(n-1)).RoundTo(unit.Millimetre)
	}
	return out
}

// joining shows those steps of putting the piece together that close joints of a glue-up.
func (d *deck) joining(c *Card, g glueup.GlueUp) {
	o := d.plan.Together
	if len(g.Connections) == 0 || !o.Possible {
		return
	}
	mine := fit.Order{Possible: true}
	for _, s := range o.Steps {
		if slices.ContainsFunc(s.Closes, func(k int) bool { return slices.Contains(g.Connections, k) }) {
			mine.Steps = append(mine.Steps, s)
		}
	}
	for from := 0; from < len(mine.Steps); from += drawing.StepsPerPicture {
		to := min(from+drawing.StepsPerPicture, len(mine.Steps))
		d.show(c, fmt.Sprintf("joining-%d-%d", g.Number, from), "How the parts go together. Dark: what comes", func() scene.Scene {
			return drawing.Together(d.plan.Assembly, mine, from, to, d.style)
		})
	}
	for _, s := range mine.Steps {
		c.step("Dry: " + d.plan.StepWords(s))
	}
}

// clampsOff says when the clamps come off and how the squeeze-out is scraped.
func (d *deck) clampsOff(c *Card, t schedule.Task) {
	g := d.plan.GlueUps.GlueUps[t.GlueUp-1]
	c.set("Clamps off", "not before "+duration(g.ClampTime)+" after clamping")
	if g.Scrape.High > 0 {
		c.set("Scrape", duration(g.Scrape.Low)+" to "+duration(g.Scrape.High)+" after clamping")
	}
	c.set("No planing and no load for", duration(g.MachineAfter))
	d.clampDrawing(c, g)
	c.step("Clamps off, from the ends to the middle")
	c.step("Scrape the squeeze-out along the line with a sharp scraper; no wet rag")
	if len(g.Connections) > 0 {
		c.step("Measure the diagonals again and write them down")
	}
	c.step("Wipe bars and screws before the glue is hard")
	c.wait("At full strength", g.MachineAfter, "It may be planed and loaded now", "begin when the glue was clamped")
}
