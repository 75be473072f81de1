package structure

import (
	"fmt"
	"math"

	"longgrain/internal/design/assembly"
	"longgrain/internal/ground/geom"
	"longgrain/internal/ground/unit"
	"longgrain/internal/ground/working"
	"longgrain/internal/solve/spaceframe"
)

// panel is a back that two parallel parts hold along its opposite sides: it keeps the rectangle between them square.
type panel struct {
	part  int
	held  [2]int         // connections along the two sides
	ends  [2][2]geom.Vec // by held part: the ends of the contact, the same way round
	names [2]string      // of the two diagonals
}

// findPanels marks the backs that are held along two opposite sides by joints. Other backs stay members of the frame.
func (f *frame) findPanels() {
	for i, p := range f.a.Parts {
		if p.Role != "back" || f.parts[i].surface {
			continue
		}
		best, most := panel{part: i}, 0.0
		for x, c := range f.a.Connections {
			for y := x + 1; y < len(f.a.Connections); y++ {
				d := f.a.Connections[y]
				if !f.holdsPanel(c, i) || !f.holdsPanel(d, i) {
					continue
				}
				one, other := f.contactLine(c), f.contactLine(d)
				along := one[1].Sub(one[0])
				if along.Unit().Dot(other[1].Sub(other[0]).Unit()) < 0 {
					other[0], other[1] = other[1], other[0]
				}
				across := other[0].Add(other[1]).Sub(one[0]).Sub(one[1]).Scale(0.5)
				square := geom.Parallel(along.Unit(), other[1].Sub(other[0]).Unit()) && math.Abs(along.Unit().Dot(across.Unit())) < 0.5
				if area := along.Cross(across); square && area.Dot(area) > most {
					most = area.Dot(area)
					best.held, best.ends = [2]int{x, y}, [2][2]geom.Vec{one, other}
				}
			}
		}
		if most > 0 {
			f.parts[i].surface = true
			f.panels = append(f.panels, best)
		}
	}
}

// holdsPanel tells whether a connection holds a panel along a part that runs with the contact.
func (f *frame) holdsPanel(c assembly.Connection, part int) bool {
	if c.Purpose != assembly.Joint || (c.A.Part != part && c.B.Part != part) {
		return false
	}
	other := c.A.Part + c.B.Part - part
	line := f.contactLine(c)
	return geom.Parallel(line[1].Sub(line[0]).Unit(), f.a.Parts[other].Pose.Axes[0])
}

// contactLine returns the ends of the middle line of a contact.
func (f *frame) contactLine(c assembly.Connection) [2]geom.Vec {
	middle, _ := f.a.Middle(c)
	along, long := c.U, c.A.Area.SizeU().MM()
	if v := c.A.Area.SizeV().MM(); v > long {
		along, long = c.V, v
	}
	return [2]geom.Vec{middle.Sub(along.Scale(long / 2)), middle.Add(along.Scale(long / 2))}
}

// bracing adds two pinned diagonals for each panel, which together resist racking as the panel does in shear.
//
//	k = G t w/h,  each diagonal E A/L = G t L²/(2 h w)
//
// G and t are the shear modulus and the thickness of the panel, h the length along which it is held, w the distance between the two, L the
// diagonal, MPa and mm. A panel is taken to be glued along its sides; one that floats in a groove is no joint.
//
// Source: shear of a plate, [timber-theory]; diagonals derived in docs/methods/structure.md.
func (f *frame) bracing() {
	for k := range f.panels {
		p := &f.panels[k]
		fp, part := f.parts[p.part], f.a.Parts[p.part]
		h := p.ends[0][0].Distance(p.ends[0][1])
		w := p.ends[0][0].Distance(p.ends[1][0])
		for d := range 2 {
			from, to := p.ends[0][d], p.ends[1][1-d]
			length := from.Distance(to)
			stiff := fp.g * part.Thickness.MM() * length * length / (2 * h * w)
			p.names[d] = fmt.Sprintf("%s, diagonal %d", part.Name, d+1)
			m := spaceframe.Member{Name: p.names[d], Section: spaceframe.Rectangle(10, 10), Material: spaceframe.Material{E: stiff * length / 100, G: stiff * length / 1600},
				SpringsI: spaceframe.Springs{spaceframe.RX: 0, spaceframe.RY: 0, spaceframe.RZ: 0}, SpringsJ: spaceframe.Springs{spaceframe.RY: 0, spaceframe.RZ: 0}}
			m.I, m.OffsetI = f.nodeAt(f.other(p.held[0], p.part), from)
			m.J, m.OffsetJ = f.nodeAt(f.other(p.held[1], p.part), to)
			if m.I != "" && m.J != "" {
				f.model.Members = append(f.model.Members, m)
			}
		}
	}
}

func (f *frame) other(connection, part int) int {
	c := f.a.Connections[connection]
	return c.A.Part + c.B.Part - part
}

// nodeAt returns the node of a part nearest to a point along it, and the arm from there to the point.
func (f *frame) nodeAt(part int, at geom.Vec) (string, spaceframe.Vec) {
	x := f.a.Parts[part].Pose.In(at).X
	best, node, arm := math.Inf(1), "", spaceframe.Vec{}
	for k, s := range f.parts[part].stations {
		name := s.node
		if name == "" {
			name = f.endNodes[endOf{part, k > 0}]
		}
		if d := math.Abs(s.x - x); name != "" && d < best {
			best, node, arm = d, name, vec(at.Sub(f.placed[name]))
		}
	}
	return node, arm
}

// weighPanels puts the weight of panels on what holds them.
func (f *frame) weighPanels(c *spaceframe.Case) {
	for _, p := range f.panels {
		between := p.ends[0][0].Add(p.ends[0][1]).Add(p.ends[1][0]).Add(p.ends[1][1]).Scale(0.25)
		beside := f.a.Parts[p.part].Box().Centre().Sub(between) // the panel lies on its contacts, not in them
		for k, connection := range p.held {
			middle := p.ends[k][0].Add(p.ends[k][1]).Scale(0.5).Add(beside)
			f.pointLoad(c, f.other(connection, p.part), middle, f.parts[p.part].mass*unit.Gravity/2)
		}
	}
}

// panelChecks returns the shear of each panel, worst over the cases.
//
//	τ = V/(w t) = 2 N/(L t),  V = 2 N w/L
//
// N is the force in a diagonal of length L, N and mm, w the width and t the thickness of the panel, mm; V the shear force. Source: as bracing.
func (f *frame) panelChecks(results []spaceframe.CaseResult, wanted float64) []Check {
	var out []Check
	for _, p := range f.panels {
		part, fp := f.a.Parts[p.part], f.parts[p.part]
		worst, governs := 0.0, ""
		for k := range results {
			c := &results[k]
			if c.Status != spaceframe.Solved {
				continue
			}
			if n := math.Abs(c.Member(p.names[0]).EndForce[0][spaceframe.UX]); n > worst {
				worst, governs = n, c.Name
			}
		}
		tau := 2 * worst / (p.ends[0][0].Distance(p.ends[1][1]) * part.Thickness.MM())
		c := Check{What: "shear of the " + part.Name, Where: part.Name, Case: governs, Cite: citeBeam,
			Demand:   working.Value{Symbol: "τ", Name: "stress", Number: tau, Unit: "MPa"},
			Capacity: working.Value{Symbol: "f_v", Name: "lower strength", Number: fp.shear, Unit: "MPa"},
			Advice:   "a thicker back",
			Working: working.Working{{Title: "Shear in the " + part.Name, Formula: "τ = 2 N/(L t)",
				Inputs: []working.Value{{Symbol: "N", Name: "along the diagonal", Number: worst, Unit: "N"}, {Symbol: "t", Number: part.Thickness.MM(), Unit: "mm"}},
				Result: working.Value{Symbol: "τ", Number: tau, Unit: "MPa"}, Cite: citeBeam}}}
		c.verdict(wanted)
		out = append(out, c)
	}
	return out
}
