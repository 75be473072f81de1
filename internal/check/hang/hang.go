// Package hang checks pieces that hang on a wall, where nothing stands on the floor: the joints between what hangs and what is
// screwed to the wall, the wood that bends across its grain, and the screws in the wall.
//
// In go the assembly with the sides that lie on the wall, its joints and the wanted reserve; out come forces by connection and
// checks in the form of package structure. Each part that hangs is taken to be held by one joint, the largest on its way to the
// wall; brackets and ends beside it are taken to carry nothing, which is the safe side for the joint that is checked. Sag is not
// worked out: a shelf that is held along its back edge has none to speak of. What a wall plug holds is for its label.
package hang

import (
	_ "embed"
	"fmt"
	"math"

	"longgrain/internal/check/structure"
	"longgrain/internal/design/assembly"
	"longgrain/internal/design/joint"
	"longgrain/internal/ground/geom"
	"longgrain/internal/ground/source"
	"longgrain/internal/ground/unit"
	"longgrain/internal/trade/wood"
)

//go:embed loads.csv
var loadsCSV string

// rule is a row of the load table.
type rule struct {
	id, setting, note string
	mass, line, force float64
	cite              source.Cite
}

var rules = readRules()

func readRules() map[string]rule {
	out := map[string]rule{}
	for _, r := range source.Table("loads.csv", loadsCSV) {
		x := rule{id: r.Text("id"), setting: r.Text("setting"), note: r.Text("note"), cite: r.Cite()}
		for column, to := range map[string]*float64{"mass": &x.mass, "line": &x.line, "force": &x.force} {
			if r.Has(column) {
				*to = r.Number(column)
			}
		}
		out[x.id] = x
	}
	return out
}

// hung is a piece on the wall as it is worked out.
type hung struct {
	a      assembly.Assembly
	weight []float64 // of each part, N
	parent []int     // connection that holds each part; -1 on the wall and for what nothing holds
	order  []int     // parts from the wall outward
}

func newHung(a assembly.Assembly, m wood.Moisture) hung {
	h := hung{a: a, weight: make([]float64, len(a.Parts)), parent: make([]int, len(a.Parts))}
	for i, p := range a.Parts {
		h.parent[i] = -1
		species, _ := wood.Lookup(p.Species)
		if rho, ok := species.Density(m); ok {
			h.weight[i] = float64(rho.Value.Mass(unit.Volume(p.Length, p.Width, p.Thickness))) * unit.Gravity
		}
	}
	held := make([]bool, len(a.Parts))
	for _, w := range a.Walls {
		if !held[w.Part] {
			held[w.Part] = true
			h.order = append(h.order, w.Part)
		}
	}
	// The largest contact that reaches further out comes next.
	for {
		best, most, next := -1, 0.0, -1
		for i, c := range a.Connections {
			if held[c.A.Part] == held[c.B.Part] {
				continue
			}
			if area := c.A.Area.SizeU().MM() * c.A.Area.SizeV().MM(); area > most*(1+1e-9) {
				best, most, next = i, area, c.A.Part
				if held[next] {
					next = c.B.Part
				}
			}
		}
		if best < 0 {
			return h
		}
		held[next], h.parent[next] = true, best
		h.order = append(h.order, next)
	}
}

// load is one case: forces down at points of parts.
type load struct {
	name, action string
	point        bool // spreads from one place
	on           []pressed
	rule         rule
}

// pressed is a force down on a part, N.
type pressed struct {
	part  int
	force float64
	at    geom.Vec
}

// shelves are the level boards that people put things on.
func (h hung) shelves() []int {
	var out []int
	for _, i := range h.a.WithRole("shelf", "top", "seat", "tread") {
		if math.Abs(h.a.Parts[i].Pose.Axes[2].Z) > 0.8 {
			out = append(out, i)
		}
	}
	return out
}

// loads returns the cases: full shelves, and a child that hangs on the front edge in its middle and at its ends.
func (h hung) loads() []load {
	spread := rules["spread-home"]
	if h.a.Setting == "school" {
		spread = rules["spread-school"]
	}
	full := load{name: "full shelves", action: "spread", rule: spread}
	for _, i := range h.shelves() {
		p := h.a.Parts[i]
		lo, hi := p.Box().Bounds()
		area := spread.mass * unit.Gravity * (hi.X - lo.X) * (hi.Y - lo.Y) / 1e6
		books := rules["books"].line * (hi.X - lo.X) / 1000
		if books > area {
			full.rule = rules["books"]
		}
		full.on = append(full.on, pressed{i, math.Max(area, books), p.Box().Centre()})
	}
	out := []load{full}
	front, most := -1, math.Inf(1)
	for i := range h.a.Parts {
		if h.parent[i] < 0 {
			continue
		}
		if lo, _ := h.a.Parts[i].Box().Bounds(); lo.Y < most-geom.Touch {
			front, most = i, lo.Y
		}
	}
	if front < 0 {
		return out
	}
	lo, hi := h.a.Parts[front].Box().Bounds()
	child := rules["child"]
	for _, spot := range []struct {
		name string
		x    float64
	}{{"in the middle of the front edge", (lo.X + hi.X) / 2}, {"at the left of the front edge", lo.X + childInset}, {"at the right of the front edge", hi.X - childInset}} {
		out = append(out, load{name: fmt.Sprintf("%.0f N down %s", child.force, spot.name), action: "child", rule: child, point: true,
			on: []pressed{{front, child.force, geom.Vec{X: spot.x, Y: lo.Y, Z: hi.Z}}}})
	}
	return out
}

// childInset is how far from the end of an edge a child hangs, mm. Judgement: half a hand.
const childInset = 50

// beyond lists a part and everything that hangs on it.
func (h hung) beyond(part int) []bool {
	out := make([]bool, len(h.a.Parts))
	out[part] = true
	for _, i := range h.order {
		if c := h.parent[i]; c >= 0 {
			k := h.a.Connections[c]
			if out[k.A.Part+k.B.Part-i] {
				out[i] = true
			}
		}
	}
	return out
}

// carried returns the force and the moment about a point, N and N·mm, of a load and the weight of some parts, and the middle of what
// the load itself presses.
func (h hung) carried(l load, parts []bool, about geom.Vec) (force, moment geom.Vec, loaded bool) {
	add := func(f float64, at geom.Vec) {
		down := geom.Vec{Z: -f}
		force, moment = force.Add(down), moment.Add(at.Sub(about).Cross(down))
	}
	for i := range parts {
		if parts[i] {
			add(h.weight[i], h.a.Parts[i].Box().Centre())
		}
	}
	for _, p := range l.on {
		if parts[p.part] {
			add(p.force, p.at)
			loaded = true
		}
	}
	return force, moment, loaded
}

// spreadWidth returns along how much of a long joint a force from one place acts: it runs out at 45° from a pad of 100 mm.
// Judgement, as for loads on plates.
//
//	b = min(L, 2 e + 100)
//
// L is the length of the joint and e the distance from the joint to the force, mm.
func spreadWidth(long, away float64) float64 { return math.Min(long, 2*away+100) }

// forces returns what a connection carries in a load.
func (h hung) forces(part int, l load) joint.Forces {
	c := h.a.Connections[h.parent[part]]
	middle, out := h.a.Middle(c)
	f, m, _ := h.carried(l, h.beyond(part), middle)
	if c.B.Part == part { // out of A is away from what holds, already
		out = out.Neg()
	}
	// out now points from the part that hangs to what holds it.
	bendU, bendV := m.Dot(c.V)/1000, m.Dot(c.U)/1000
	if l.point && c.A.Side.Axis() > 0 {
		long := c.A.Area.SizeU().MM()
		for _, p := range l.on {
			away := math.Abs(p.at.Sub(middle).Dot(out))
			bendV *= long / spreadWidth(long, away)
			bendU = 0 // of a long joint it is part of the same spread
			if p.at.Sub(middle).Dot(c.U) != 0 {
				bendV *= endShare(long, math.Abs(p.at.Sub(middle).Dot(c.U)), spreadWidth(long, away))
			}
		}
	}
	return joint.Forces{N: unit.Newtons(-f.Dot(out)), ShearU: unit.Newtons(f.Dot(c.U)), ShearV: unit.Newtons(f.Dot(c.V)),
		BendU: unit.NewtonMetres(bendU), BendV: unit.NewtonMetres(bendV), Twist: unit.NewtonMetres(m.Dot(out) / 1000)}
}

// endShare returns how much less of a spread width there is where it runs out over the end of the joint.
func endShare(long, off, width float64) float64 {
	over := math.Max(0, off+width/2-long/2)
	return width / math.Max(width/4, width-over)
}

// Forces returns what each joint carries in each load case, by connection, as structure.Forces does for what stands.
func Forces(a assembly.Assembly, m wood.Moisture) [][]joint.Forces {
	h := newHung(a, m)
	out := make([][]joint.Forces, len(a.Connections))
	for _, l := range h.loads() {
		for _, i := range h.order {
			if c := h.parent[i]; c >= 0 && a.Connections[c].Purpose == assembly.Joint {
				out[c] = append(out[c], h.forces(i, l))
			}
		}
	}
	return out
}

// Analyse checks a piece on the wall.
func Analyse(a assembly.Assembly, joints []*joint.Joint, wanted float64, m wood.Moisture) structure.Answer {
	h := newHung(a, m)
	var out structure.Answer
	for i, p := range a.Parts {
		out.Mass += h.weight[i] / unit.Gravity
		if !contains(h.order, i) {
			out.Findings = append(out.Findings, structure.Finding{What: fmt.Sprintf("%s is not connected to anything that is fixed to the wall", p.Name), Where: p.Name, Advice: "connect it to a part beside it"})
		}
	}
	out.Forces = Forces(a, m)
	if len(a.Walls) == 0 {
		out.Findings = append(out.Findings, structure.Finding{What: "nothing lies on the wall", Where: a.Name, Advice: "give the piece a board whose back face is its hindmost side"})
		return out
	}
	loads := h.loads()
	for _, l := range loads {
		c := structure.Case{Name: l.name, Action: l.action, Note: l.rule.note, Cite: l.rule.cite}
		for _, p := range l.on {
			c.Force += p.force
		}
		out.Cases = append(out.Cases, c)
	}
	out.Members = append(h.acrossGrain(loads, wanted, m), h.wallScrews(loads, wanted)...)
	out.Notes = h.notes(joints)
	return out
}

func contains(list []int, x int) bool {
	for _, y := range list {
		if x == y {
			return true
		}
	}
	return false
}
