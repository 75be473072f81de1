package structure

import (
	"math"
	"strings"

	"longgrain/internal/design/assembly"
	"longgrain/internal/ground/source"
	"longgrain/internal/ground/working"
	"longgrain/internal/solve/spaceframe"
)

var citeBeam = source.At("timber-theory", "bending, axial force and shear of a rectangle", source.Exact)

// memberStations is the number of places within each member at which stress is looked at, beside its ends and the places of its loads.
// Moments are linear or, under the member's own weight, nearly linear between loads, and members end wherever
// something meets them.
const memberStations = 3

// memberChecks returns, for each part that carries, its worst stress over all cases.
func (f *frame) memberChecks(results []spaceframe.CaseResult, wanted float64) []Check {
	var out []Check
	for i, fp := range f.parts {
		if fp.surface {
			continue
		}
		p := f.a.Parts[i]
		var worst sectionForces
		var worstNet *net
		most, governs := 0.0, ""
		nets := netsOf(p, fp.section)
		for k := range results {
			c := &results[k]
			if c.Status != spaceframe.Solved {
				continue
			}
			look := func(x float64, force spaceframe.Vec6) {
				s, n := forcesOn(force), netAt(nets, x)
				use := math.Max(s.bending(p, fp), s.shearing(fp))
				if n != nil {
					use = math.Max(n.bending(s, fp), n.shearing(s, fp))
				}
				if use > most {
					worst, worstNet, most, governs = s, n, use, c.Name
				}
			}
			for j, name := range fp.members {
				m, from := c.Member(name), fp.stations[j].x
				look(from, m.EndForce[0]) // with what stands on the very end of the member
				look(from+m.Length, m.EndForce[1])
				for x := range memberStations {
					at := m.Length * float64(x+1) / (memberStations + 1)
					look(from+at, m.ForceAt(at))
				}
				for _, x := range m.LoadPlaces() {
					look(from+x, m.ForceAt(x))
				}
				for k := range nets {
					for _, x := range [2]float64{nets[k].from - from, nets[k].to - from} {
						if x > 0 && x < m.Length {
							look(from+x, m.ForceAt(x))
						}
					}
				}
			}
		}
		check := worst.check(p, fp, worstNet)
		check.Case = governs
		check.verdict(wanted)
		out = append(out, check)
	}
	return out
}

// sectionForces are the sizes of what a section carries, N and N·mm.
type sectionForces struct {
	n, v, my, mz float64
	pressed      bool // n presses the part together
}

func forcesOn(force spaceframe.Vec6) sectionForces {
	return sectionForces{n: math.Abs(force[spaceframe.UX]), pressed: force[spaceframe.UX] < 0, v: math.Hypot(force[spaceframe.UY], force[spaceframe.UZ]),
		my: math.Abs(force[spaceframe.RY]), mz: math.Abs(force[spaceframe.RZ])}
}

// bending returns the share of the bending strength that a section uses.
//
//	use = |N|/(A f_n) + (|My|/Wy + |Mz|/Wz)/f
//
// A is the area in mm², Wy and Wz the moduli of the section in mm³, f the lower 5 % bending strength in MPa with the
// condition of the wood and the duration of load. f_n is f for a pull; for pressure it is the crushing strength times the buckling factor.
//
// Source: [timber-theory] bending and axial force of a rectangle; linear addition as in [en-1995-1-1] 6.3.2, from memory.
func (s sectionForces) bending(p assembly.Part, fp framePart) float64 {
	wy, wz := moduli(p, fp)
	return s.n/fp.section.Area/s.axialStrength(fp) + (s.my/wy+s.mz/wz)/fp.strength
}

func (s sectionForces) axialStrength(fp framePart) float64 {
	if s.pressed {
		return fp.crush
	}
	return fp.strength
}

// shearing returns the share of the shear strength that a section uses.
//
//	use = 1.5 V/(A fv)
//
// V is the shear force in N, A the area in mm², fv the lower 5 % shear strength in MPa with the duration of load.
//
// Source: [timber-theory] shear of a rectangle.
func (s sectionForces) shearing(fp framePart) float64 { return 1.5 * s.v / fp.section.Area / fp.shear }

// moduli returns the moduli of a part's section for bending about its local y and z, mm³.
func moduli(p assembly.Part, fp framePart) (wy, wz float64) {
	return fp.section.Iy / (p.Thickness.MM() / 2), fp.section.Iz / (p.Width.MM() / 2)
}

// check returns the check of a part that carries these forces, with its working; n is what joints have left of the section there, nil for all of it.
func (s sectionForces) check(p assembly.Part, fp framePart, n *net) Check {
	bending, shearing, area, where := s.bending(p, fp), s.shearing(fp), fp.section.Area, ""
	if n != nil {
		bending, shearing, area = n.bending(s, fp), n.shearing(s, fp), n.area
		where = ", where it is cut"
		if len(n.cuts) > 0 {
			where += " for " + strings.Join(n.cuts, " and ")
		}
	}
	if shearing > bending {
		tau := 1.5 * s.v / area
		return Check{What: "shear of the " + p.Name, Where: p.Name, Cite: citeBeam,
			Demand:   working.Value{Symbol: "τ", Name: "stress", Number: tau, Unit: "MPa"},
			Capacity: working.Value{Symbol: "f_v", Name: "lower strength", Number: fp.shear, Unit: "MPa"},
			Working: working.Working{{Title: "Shear in the " + p.Name + where, Formula: "τ = 1.5 V/A",
				Inputs: []working.Value{{Symbol: "V", Number: s.v, Unit: "N"}, {Symbol: "A", Number: area, Unit: "mm²"}},
				Result: working.Value{Symbol: "τ", Number: tau, Unit: "MPa"}, Cite: citeBeam}}}
	}
	wy, wz := moduli(p, fp)
	section := []working.Value{{Symbol: "A", Number: area, Unit: "mm²"}, {Symbol: "W_y", Number: wy, Unit: "mm³"}, {Symbol: "W_z", Number: wz, Unit: "mm³"}}
	formula := "σ = N f/(A f_n) + M_y/W_y + M_z/W_z"
	if n != nil {
		section, formula = n.inputs(), "σ = N f/(A f_n) + (M_y + N e_z)/W_y + (M_z + N e_y)/W_z"
	}
	stress := bending * fp.strength
	return Check{What: "bending of the " + p.Name, Where: p.Name, Cite: citeBeam,
		Demand:   working.Value{Symbol: "σ", Name: "stress", Number: stress, Unit: "MPa"},
		Capacity: working.Value{Symbol: "f", Name: "lower strength", Number: fp.strength, Unit: "MPa"},
		Working: working.Working{{Title: "Stress in the " + p.Name + where, Formula: formula,
			Inputs: append([]working.Value{{Symbol: "N", Number: s.n, Unit: "N"}, {Symbol: "M_y", Number: s.my / 1000, Unit: "N·m"}, {Symbol: "M_z", Number: s.mz / 1000, Unit: "N·m"},
				{Symbol: "f_n", Name: "strength against N, with buckling", Number: s.axialStrength(fp), Unit: "MPa"}}, section...),
			Result: working.Value{Symbol: "σ", Number: stress, Unit: "MPa"}, Cite: citeBeam}}}
}
