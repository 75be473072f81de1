package structure

import (
	_ "embed"
	"fmt"
	"math"

	"longgrain/internal/design/assembly"
	"longgrain/internal/ground/geom"
	"longgrain/internal/ground/source"
	"longgrain/internal/ground/unit"
	"longgrain/internal/solve/spaceframe"
)

//go:embed loads.csv
var loadsCSV string

// rule is a row of the load table.
type rule struct {
	id, use, setting, action, note string
	force, inset, outward          float64 // outward: a sideways force with a load on the edge
	mass, most                     float64 // on the top during a push: usual, and the most that keeps the feet down
	cite                           source.Cite
}

var rules = readRules()

func readRules() []rule {
	var out []rule
	for _, r := range source.Table("loads.csv", loadsCSV) {
		x := rule{id: r.Text("id"), use: r.Text("use"), setting: r.Text("setting"), action: r.Text("action"), note: r.Text("note"), cite: r.Cite()}
		for _, f := range []struct {
			to     *float64
			column string
		}{{&x.force, "force"}, {&x.mass, "mass"}, {&x.most, "most"}, {&x.inset, "inset"}, {&x.outward, "outward"}} {
			if r.Has(f.column) {
				*f.to = r.Number(f.column)
			}
		}
		out = append(out, x)
	}
	return out
}

// rulesFor returns the rules of an action for a use and setting.
func rulesFor(use, setting, action string) []rule {
	var out []rule
	for _, r := range rules {
		if r.use == use && r.action == action && (r.setting == "any" || r.setting == setting) {
			out = append(out, r)
		}
	}
	return out
}

// Case is one load case with its origin.
type Case struct {
	Name   string      `json:"name"`
	Action string      `json:"action"` // down, push, lift, spread, weight
	Force  float64     `json:"force"`  // N
	Mass   float64     `json:"mass,omitempty"`
	Note   string      `json:"note"`
	Cite   source.Cite `json:"cite"`
	load   spaceframe.Case
}

var gravity = spaceframe.Vec{0, 0, -unit.Gravity * 1000} // mm/s²

// cases returns every load case: the places on the loaded surface and the directions of a push are searched.
func (f *frame) cases() []Case {
	var out []Case
	add := addCase(func(r rule, name string, fill func(*spaceframe.Case)) {
		c := Case{Name: name, Action: r.action, Force: r.force, Mass: r.mass, Note: r.note, Cite: r.cite}
		c.load = spaceframe.Case{Name: name, Gravity: gravity}
		f.weighSurfaces(&c.load)
		fill(&c.load)
		out = append(out, c)
	})
	top, ok := f.loadedSurface()
	for _, r := range rulesFor(f.a.Use, f.a.Setting, "down") {
		if !ok {
			break
		}
		for _, spot := range append(top.spots(r.inset), f.besideHeads(top, r.inset)...) {
			r := f.standingUnder(r, spot.at)
			add(r, fmt.Sprintf("%.0f N down %s", r.force, spot.name), func(c *spaceframe.Case) { f.press(c, top, spot.at, r.force) })
		}
	}
	f.pushCases(add, top, ok)
	for _, r := range rulesFor(f.a.Use, f.a.Setting, "lift") {
		r.force = math.Min(r.force, liftShare*f.mass*unit.Gravity)
		for _, h := range f.heads() {
			add(r, fmt.Sprintf("lifted at the %s", h.part), func(c *spaceframe.Case) {
				c.Nodal = append(c.Nodal, spaceframe.NodalLoad{Node: h.node, Force: spaceframe.Vec{0, 0, r.force}})
			})
		}
	}
	for _, r := range rulesFor(f.a.Use, f.a.Setting, "spread") {
		add(r, fmt.Sprintf("%.0f kg/m² on every shelf", r.mass), func(c *spaceframe.Case) { f.spreadOnShelves(c, r.mass) })
	}
	f.ownCases(add)
	if len(out) == 0 {
		add(rule{action: "weight", note: "no load is known for this use", cite: source.Choice("docs/methods/structure.md")}, "its own weight", func(*spaceframe.Case) {})
	}
	return out
}

// ownCases adds the loads that the maker wrote into the piece, each as it stands: nothing lowers them.
func (f *frame) ownCases(add addCase) {
	for _, l := range f.a.Loads {
		r := rule{action: "own", force: l.Force, note: "own load: " + l.Name, cite: source.Cite{Confidence: source.Judgement}}
		add(r, l.Name, func(c *spaceframe.Case) { f.pushOn(c, l) })
	}
}

// pushOn puts an own load on its part. A surface hands on what presses down as always, and a force from the side to the heads of the
// uprights, or to its carriers where there are none.
func (f *frame) pushOn(c *spaceframe.Case, l assembly.Load) {
	down := l.Toward.Z < -0.5
	part := l.Part
	if f.parts[part].surface {
		for _, p := range f.flats() {
			if p.part == part && down {
				f.press(c, p, l.At, l.Force)
				return
			}
			if p.part == part {
				for _, carrier := range p.carriers {
					f.forceAt(c, carrier, l.At, l.Toward.Scale(l.Force/float64(len(p.carriers))))
				}
				return
			}
		}
	}
	f.forceAt(c, part, l.At, l.Toward.Scale(l.Force))
}

// forceAt puts a force on a part where its centre line is nearest to the place, with the moment of the arm between them.
func (f *frame) forceAt(c *spaceframe.Case, part int, at, force geom.Vec) {
	fp := f.parts[part]
	x := f.within(part, f.a.Parts[part].Pose.In(at).X)
	k := len(fp.members) - 1
	for k > 0 && fp.stations[k].x > x {
		k--
	}
	arm := at.Sub(f.centreLine(part, x))
	c.Point = append(c.Point, spaceframe.PointLoad{Member: fp.members[k], At: x - fp.stations[k].x, Force: vec(force), Moment: vec(arm.Cross(force))})
}

// liftShare is the share of its own weight that a piece is lifted with at one corner: a little less than the half
// that takes two feet off the floor.
const liftShare = 0.45

// staysDown is by how much the righting moment shall exceed the overturning one in a load case, so that no foot stands
// without load. Judgement.
const staysDown = 1.1

// edge is a line between two neighbouring feet over which the piece can tip, and the moment per N of own weight.
type edge struct {
	at, inward geom.Vec
	righting   float64 // N·mm, of the piece's own weight
}

// edges returns the outline of the points that the frame stands on.
func (f *frame) edges() []edge {
	var feet []geom.Vec
	for _, n := range f.model.Nodes {
		if n.Support.Floor != nil {
			feet = append(feet, geom.Vec{X: n.At[0], Y: n.At[1]})
		}
	}
	outline := hull(feet)
	if len(outline) < 3 {
		return nil
	}
	var out []edge
	for i, p := range outline {
		q := outline[(i+1)%len(outline)]
		inward := geom.Vec{X: -(q.Y - p.Y), Y: q.X - p.X}.Unit()
		out = append(out, edge{p, inward, f.mass * unit.Gravity * f.centre.Sub(p).Dot(inward)})
	}
	return out
}

// standingUnder lowers a downward load beside the feet to what the piece stands under; tipping is a check of its own.
func (f *frame) standingUnder(r rule, at geom.Vec) rule {
	wanted := r.force
	for _, e := range f.edges() {
		if beyond := -at.Sub(e.at).Dot(e.inward); beyond > 0 {
			r.force = math.Min(r.force, math.Max(0, e.righting/beyond/staysDown))
		}
	}
	return r.lowered(wanted)
}

// lowered says so where the force is less than the rule wanted.
func (r rule) lowered(wanted float64) rule {
	if r.force < wanted-0.5 {
		r.note += fmt.Sprintf("; lowered from %.0f N, which tips the piece", wanted)
	}
	return r
}
