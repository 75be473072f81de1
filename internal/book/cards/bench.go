package cards

import (
	"fmt"
	"slices"
	"strings"

	"longgrain/internal/book/drawing"
	"longgrain/internal/design/assembly"
	"longgrain/internal/design/fasten"
	"longgrain/internal/design/joint"
	"longgrain/internal/ground/unit"
	"longgrain/internal/paper/scene"
	"longgrain/internal/work/markout"
	"longgrain/internal/work/schedule"
)

// joints shows the section through the joint and the mark-out of every part in it, with the settings that its cuts are made at.
func (d *deck) joints(c *Card, t schedule.Task) {
	a, m := d.plan.Assembly, d.plan.Markout
	names := map[string]bool{}
	for _, i := range t.Joints {
		names[a.Connections[i].Name] = true
	}
	if j, ok := d.jointOf(t.Joints[0]); ok {
		c.set("Joint", j.Describe())
		d.show(c, fmt.Sprintf("joint-%d", t.Joints[0]), "Sections through "+a.Connections[t.Joints[0]].Name+", "+d.plan.Units, func() scene.Scene {
			return drawing.JointSection(a, m, t.Joints[0], j.PinLength(), d.style)
		})
	}
	d.sheets(c, t.Parts)
	for _, part := range t.Parts {
		d.others(part, names)
	}
	d.tape(c, t.Parts)
	d.sticks(c, t.Parts)
	kinds := map[assembly.FeatureKind]bool{}
	for _, s := range m.Setups {
		d.setup(c, s, t.Parts, names, kinds)
	}
	for _, g := range m.Gauges {
		d.gauge(c, g, t.Parts, kinds)
	}
	c.step("Try the setting on an offcut of the same thickness first")
	for _, i := range t.Parts {
		c.step(d.cutsOf(i, names, kinds))
	}
	c.step("Put one joint together dry before the rest is cut")
	if kinds[assembly.Bore] {
		c.hazards("drill-grab")
		delete(kinds, assembly.Bore)
	}
	if len(kinds) > 0 {
		c.hazards("cutter", "noise")
	}
}

// others adds to the names those of what else is cut into a part, such as slots for a top, when no card has dealt with it yet.
func (d *deck) others(part int, names map[string]bool) {
	if d.met[part] {
		return
	}
	for _, m := range d.plan.Markout.Sheets[part].Marks {
		for _, x := range d.plan.Assembly.Connections {
			if x.Name == m.For && x.Purpose != assembly.Joint {
				names[m.For] = true
			}
		}
	}
}

// jointOf returns the joint of a connection.
func (d *deck) jointOf(connection int) (joint.Joint, bool) {
	for _, g := range d.plan.Joints {
		if g.Made && slices.Contains(g.Connections, connection) {
			return g.Final.Joint, true
		}
	}
	return joint.Joint{}, false
}

// sheets shows the mark-out of parts, one of those that are marked alike.
func (d *deck) sheets(c *Card, parts []int) {
	a, m := d.plan.Assembly, d.plan.Markout
	var drawn []int
	for _, i := range parts {
		like := m.Sheets[i].SameAs
		if len(m.Sheets[i].Marks) == 0 || slices.Contains(drawn, like) {
			continue
		}
		drawn = append(drawn, like)
		var marks []string
		for k, s := range m.Sheets {
			if s.SameAs == like && (slices.Contains(parts, k) || k == like) {
				marks = append(marks, a.Parts[k].Mark)
			}
		}
		caption := "Mark-out of " + strings.Join(marks, ", ") + ", " + d.plan.Units
		if len(m.Sheets[like].Mirrors) > 0 {
			caption += ". Others are its mirror image: never swap them"
		}
		d.show(c, "sheet-"+a.Parts[like].Mark, caption, func() scene.Scene { return drawing.PartSheet(a, m, like, d.style) })
	}
}

// tape says what each part is measured from, on the first card that it is on.
func (d *deck) tape(c *Card, parts []int) {
	for _, i := range parts {
		s := d.plan.Markout.Sheets[i]
		if len(s.Marks) > 0 && !d.met[i] {
			d.met[i] = true
			c.step(fmt.Sprintf("%s: tape on. Face: %s. Edge: %s. End: %s", d.plan.Assembly.Parts[i].Mark, s.FaceName, s.EdgeName, s.EndName))
		}
	}
}

// sticks gives the positions that are marked from one stick.
func (d *deck) sticks(c *Card, parts []int) {
	for _, s := range d.plan.Markout.Sticks {
		var at, where []string
		for _, l := range s.Marks {
			at = append(at, l.ShowNumber(d.plan.Family))
		}
		for _, r := range s.Rows {
			on := d.marksOf(r.Cuts, parts)
			if on == "" {
				continue
			}
			text := fmt.Sprintf("its end at the %s of %s", r.From, on)
			if r.Inset > 0 {
				text = fmt.Sprintf("its end %s inside the %s of %s", d.length(r.Inset), r.From, on)
			}
			where = append(where, text)
		}
		if len(where) == len(s.Rows) {
			c.set("Stick with marks at", fmt.Sprintf("%s %s; %s", strings.Join(at, ", "), d.plan.Units, strings.Join(where, "; ")))
		}
	}
}

// marksOf lists the marks of those parts of cuts that are among the parts, each once.
func (d *deck) marksOf(cuts []markout.Cuts, parts []int) string {
	var out []string
	for _, k := range cuts {
		if mark := d.plan.Assembly.Parts[k.Part].Mark; slices.Contains(parts, k.Part) && !slices.Contains(out, mark) {
			out = append(out, mark)
		}
	}
	return strings.Join(out, " ")
}

// setup puts a setting of the fence on a card when cuts of its joints are made at it.
func (d *deck) setup(c *Card, s markout.Setup, parts []int, names map[string]bool, kinds map[assembly.FeatureKind]bool) {
	told := false
	for _, u := range s.Uses {
		var mine []markout.Cuts
		for _, k := range u.Cuts {
			if slices.Contains(parts, k.Part) && d.cutAt(k, s, u, names) {
				mine = append(mine, k)
			}
		}
		if len(mine) == 0 {
			continue
		}
		if !told {
			told, kinds[s.Kind] = true, true
			tool := fmt.Sprintf("%s %s wide", upperFirst(string(s.Kind)), d.length(s.Width))
			if s.Kind == assembly.Bore {
				tool = "Bit " + d.length(s.Diameter)
			}
			c.set(tool+", fence", d.length(s.Fence)+" to the middle of the cut")
		}
		value := d.length(u.Stop)
		if u.Spacer > 0 {
			value += ", with a strip of " + d.length(u.Spacer) + " at the fence"
		}
		c.set("Stop, "+d.marksOf(mine, parts), value)
	}
}

// cutAt tells whether a side of a part has a cut of the named joints that is made at a setting.
func (d *deck) cutAt(k markout.Cuts, s markout.Setup, u markout.Use, names map[string]bool) bool {
	return slices.ContainsFunc(d.plan.Markout.Sheets[k.Part].Marks, func(m markout.Mark) bool {
		return names[m.For] && m.Side == k.Side && m.Kind == s.Kind && m.Diameter == s.Diameter && m.Stop == u.Stop && m.Across+u.Spacer == s.Fence
	})
}

// gauge puts a setting of the mortise gauge on a card when its parts are scribed with it.
func (d *deck) gauge(c *Card, g markout.Gauge, parts []int, kinds map[assembly.FeatureKind]bool) {
	told := false
	for _, r := range g.Rows {
		on := d.marksOf(r.Cuts, parts)
		if on == "" {
			continue
		}
		if !told {
			told = true
			c.set("Gauge, pins apart", d.length(g.Pins)+", by the chisel itself")
		}
		kinds[r.Kind] = true
		value := fmt.Sprintf("near pin at %s; %s long, %s deep", d.length(r.Near), d.length(r.Long), d.length(r.Deep))
		if r.Kind == assembly.Tenon {
			value = fmt.Sprintf("near pin at %s; shoulder %s from the end", d.length(r.Near), d.length(r.Long))
		}
		c.set(fmt.Sprintf("%s on %s, stock on the %s", upperFirst(string(r.Kind)), on, r.Against), value)
	}
}

// cutsOf counts the cuts of the named joints in a part: "B1: 6 bores".
func (d *deck) cutsOf(part int, names map[string]bool, kinds map[assembly.FeatureKind]bool) string {
	count := map[string]int{}
	var order []string
	for _, m := range d.plan.Markout.Sheets[part].Marks {
		if !names[m.For] {
			continue
		}
		kinds[m.Kind] = true
		what := m.What
		if what == "" {
			what = string(m.Kind)
		}
		if count[what] == 0 {
			order = append(order, what)
		}
		count[what]++
	}
	if len(order) == 0 {
		return ""
	}
	var out []string
	for _, w := range order {
		out = append(out, unit.Count(count[w], w, w+"s"))
	}
	return d.plan.Assembly.Parts[part].Mark + ": " + strings.Join(out, ", ")
}

// dryFit shows the steps of putting the piece together.
func (d *deck) dryFit(c *Card) {
	o := d.plan.Together
	for from := 0; from < len(o.Steps); from += drawing.StepsPerPicture {
		to := min(from+drawing.StepsPerPicture, len(o.Steps))
		d.show(c, fmt.Sprintf("together-%d", from+1), fmt.Sprintf("Steps %d to %d. Dark: what comes. Arrow: which way it is pushed", from+1, to), func() scene.Scene {
			return drawing.Together(d.plan.Assembly, o, from, to, d.style)
		})
	}
	c.step("Clamps and battens set to width and laid ready")
	for i, s := range o.Steps {
		c.step(fmt.Sprintf("%d. %s", i+1, d.plan.StepWords(s)))
	}
	c.step("Shoulders closed all round, by hand pressure alone")
	c.step("Both diagonals equal, no wind over two straight sticks")
	c.step("Each joint marked on both parts before it is taken apart")
	for _, f := range o.Findings {
		c.mind(Caution{Title: f.Where, Text: sentence(f.What) + " " + f.Advice})
	}
	for _, g := range d.plan.GlueUps.GlueUps {
		if len(g.Connections) > 0 && g.Allowed > 0 {
			c.set("Time to close, "+g.Name, "at most "+duration(g.Allowed)+" with glue: time it now")
		}
	}
}

// screw says what is screwed together without glue.
func (d *deck) screw(c *Card, t schedule.Task) {
	for _, i := range t.Joints {
		x := d.plan.Assembly.Connections[i]
		if j, ok := d.jointOf(i); ok {
			c.step(x.Name + ": " + j.Describe())
			d.show(c, fmt.Sprintf("joint-%d", d.firstAlike(i)), "Sections through "+d.plan.Assembly.Connections[d.firstAlike(i)].Name+", "+d.plan.Units, func() scene.Scene {
				return drawing.JointSection(d.plan.Assembly, d.plan.Markout, d.firstAlike(i), j.PinLength(), d.style)
			})
			continue
		}
		c.step(x.Name)
	}
	c.step("Both diagonals equal before the last screw is tight")
	c.hazards("drill-grab")
}

// firstAlike returns the first connection with the same joint.
func (d *deck) firstAlike(connection int) int {
	for _, g := range d.plan.Joints {
		if slices.Contains(g.Connections, connection) {
			return g.Connections[0]
		}
	}
	return connection
}

// fixTop says how the top is held.
func (d *deck) fixTop(c *Card, t schedule.Task) {
	a := d.plan.Assembly
	c.step("Lay the top on its face on something soft and centre the frame on it")
	var marks []int
	for _, f := range d.plan.Fastenings {
		if !slices.Contains(t.Joints, f.Connection) {
			continue
		}
		thing, how := "button", fmt.Sprintf("%s left behind the tongue", d.length(f.Gap))
		if f.Way == fasten.SlottedScrews {
			thing, how = "slotted screw", "in the middle of its slot, snug and not tight"
		}
		text := fmt.Sprintf("%s: %s, %s", upperFirst(f.Rail), unit.Count(len(f.At), thing, thing+"s"), how)
		if f.Fixed >= 0 {
			text += fmt.Sprintf("; number %d holds the top fast", f.Fixed+1)
		}
		c.step(text)
		x := a.Connections[f.Connection]
		for _, p := range []int{x.A.Part, x.B.Part} {
			if !slices.Contains(marks, p) {
				marks = append(marks, p)
			}
		}
	}
	slices.Sort(marks)
	d.sheets(c, marks)
	c.step("No glue: the top must swell and shrink")
	c.step("Screws shorter than rail and top together: measure before driving")
	c.mind(Caution{Title: "The top is heavy and slippery when it is turned over", Text: "Two people, and shoes that cover the toes (common practice)"})
}
