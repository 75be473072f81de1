package structure

import (
	"fmt"
	"math"

	"longgrain/internal/design/assembly"
	"longgrain/internal/ground/geom"
	"longgrain/internal/ground/source"
	"longgrain/internal/ground/working"
	"longgrain/internal/solve/spaceframe"
)

var citeBeam = source.At("timber-theory", "bending, axial force and shear of a rectangle", source.Exact)

// memberStations is the number of places along each member at which stress is looked at, beside the places of its loads.
// Moments are linear or, under the member's own weight, nearly linear between loads, and members end wherever
// something meets them.
const memberStations = 5

// memberChecks returns, for each part that carries, its worst stress over all cases.
func (f *frame) memberChecks(results []spaceframe.CaseResult, wanted float64) []Check {
	var out []Check
	for i, fp := range f.parts {
		if fp.surface {
			continue
		}
		p := f.a.Parts[i]
		var worst sectionForces
		most, governs := 0.0, ""
		for k := range results {
			c := &results[k]
			if c.Status != spaceframe.Solved {
				continue
			}
			look := func(force spaceframe.Vec6) {
				s := forcesOn(force)
				if use := math.Max(s.bending(p, fp), s.shearing(fp)); use > most {
					worst, most, governs = s, use, c.Name
				}
			}
			for _, name := range fp.members {
				m := c.Member(name)
				for x := range memberStations {
					look(m.ForceAt(m.Length * float64(x) / (memberStations - 1)))
				}
				for _, x := range m.LoadPlaces() {
					look(m.ForceAt(x))
				}
			}
		}
		check := worst.check(p, fp)
		check.Case = governs
		check.verdict(wanted)
		out = append(out, check)
	}
	return out
}

// sectionForces are the sizes of what a section carries, N and N·mm.
type sectionForces struct{ n, v, my, mz float64 }

func forcesOn(force spaceframe.Vec6) sectionForces {
	return sectionForces{n: math.Abs(force[spaceframe.UX]), v: math.Hypot(force[spaceframe.UY], force[spaceframe.UZ]),
		my: math.Abs(force[spaceframe.RY]), mz: math.Abs(force[spaceframe.RZ])}
}

// bending returns the share of the bending strength that a section uses.
//
//	use = (|N|/A + |My|/Wy + |Mz|/Wz)/f
//
// A is the area in mm², Wy and Wz the moduli of the section in mm³, f the lower 5 % bending strength in MPa with the
// condition of the wood and the duration of load.
//
// Source: [timber-theory] bending and axial force of a rectangle.
func (s sectionForces) bending(p assembly.Part, fp framePart) float64 {
	wy, wz := moduli(p, fp)
	return (s.n/fp.section.Area + s.my/wy + s.mz/wz) / fp.strength
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

// check returns the check of a part that carries these forces, with its working.
func (s sectionForces) check(p assembly.Part, fp framePart) Check {
	if s.shearing(fp) > s.bending(p, fp) {
		tau := 1.5 * s.v / fp.section.Area
		return Check{What: "shear of the " + p.Name, Where: p.Name, Cite: citeBeam,
			Demand:   working.Value{Symbol: "τ", Name: "stress", Number: tau, Unit: "MPa"},
			Capacity: working.Value{Symbol: "f_v", Name: "lower strength", Number: fp.shear, Unit: "MPa"},
			Working: working.Working{{Title: "Shear in the " + p.Name, Formula: "τ = 1.5 V/A",
				Inputs: []working.Value{{Symbol: "V", Number: s.v, Unit: "N"}, {Symbol: "A", Number: fp.section.Area, Unit: "mm²"}},
				Result: working.Value{Symbol: "τ", Number: tau, Unit: "MPa"}, Cite: citeBeam}}}
	}
	wy, wz := moduli(p, fp)
	stress := s.bending(p, fp) * fp.strength
	return Check{What: "bending of the " + p.Name, Where: p.Name, Cite: citeBeam,
		Demand:   working.Value{Symbol: "σ", Name: "stress", Number: stress, Unit: "MPa"},
		Capacity: working.Value{Symbol: "f", Name: "lower strength", Number: fp.strength, Unit: "MPa"},
		Working: working.Working{{Title: "Stress in the " + p.Name, Formula: "σ = N/A + M_y/W_y + M_z/W_z",
			Inputs: []working.Value{{Symbol: "N", Number: s.n, Unit: "N"}, {Symbol: "M_y", Number: s.my / 1000, Unit: "N·m"}, {Symbol: "M_z", Number: s.mz / 1000, Unit: "N·m"},
				{Symbol: "A", Number: fp.section.Area, Unit: "mm²"}, {Symbol: "W_y", Number: wy, Unit: "mm³"}, {Symbol: "W_z", Number: wz, Unit: "mm³"}},
			Result: working.Value{Symbol: "σ", Number: stress, Unit: "MPa"}, Cite: citeBeam}}}
}

// swayShare is the sway that still feels firm, as a share of the height. Judgement: no published limit was found.
const swayShare = 1.0 / 60

// swayChecks returns the largest sideways movement of the uprights' heads under the pushes.
func (f *frame) swayChecks(cases []Case, results []spaceframe.CaseResult) []Check {
	heads := f.heads()
	if len(heads) == 0 {
		return nil
	}
	_, hi := f.a.Bounds()
	check := Check{What: "sway", Where: f.a.Name, Cite: source.Choice("docs/methods/structure.md"),
		Demand:   working.Value{Symbol: "u", Name: "sideways movement, with the 1.2 allowance", Unit: "mm"},
		Capacity: working.Value{Symbol: "u_max", Name: "height over 60", Number: hi.Z * swayShare, Unit: "mm"},
		Advice:   "a deeper apron, thicker legs or low rails make it stiffer",
	}
	for i, c := range results {
		if c.Status != spaceframe.Solved || cases[i].Action != "push" {
			continue
		}
		for _, h := range heads {
			u := c.At(h.node)
			if sway := SwayAllowance * math.Hypot(u[0], u[1]); sway > check.Demand.Number {
				check.Demand.Number, check.Case = sway, c.Name
			}
		}
	}
	check.Comfort = true
	check.verdict(1)
	return []Check{check}
}

// sagShare is the sag of a top or shelf that still looks straight, as a share of its shorter span.
//
// Source: [longgrain] docs/methods/structure.md: L/300 at once for tops, between the published L/144 of
// [aws-2009] and magazine rules of L/384.
const sagShare = 1.0 / 300

// sagMass is the mass that a top is loaded with for its sag, kg, spread over a disc of 305 mm. Judgement, after the
// 128 kg of [a-a-2122f] for stands, scaled to a table that people lean on.
const sagMass = 50.0

// sagChecks returns the sag of each surface on fastenings under a mass in its middle: an orthotropic plate held along
// its carriers' rectangle.
func (f *frame) sagChecks() []Check {
	var out []Check
	for _, s := range f.surfaces {
		p, fp := f.a.Parts[s.part], f.parts[s.part]
		along, across, ok := f.spans(s)
		if !ok {
			continue
		}
		w := PlateSag(fp.e, fp.perp, fp.g, p.Thickness.MM(), along, across, sagMass*9.80665, 305)
		span := math.Min(along, across)
		c := Check{What: "sag of the " + p.Name, Where: p.Name, Case: fmt.Sprintf("%.0f kg in the middle", sagMass),
			Cite:     source.At("timber-theory", "Navier solution of an orthotropic plate", source.Exact),
			Demand:   working.Value{Symbol: "w", Name: "sag", Number: w, Unit: "mm"},
			Capacity: working.Value{Symbol: "w_max", Name: "span over 300", Number: span * sagShare, Unit: "mm"},
			Advice:   "a thicker top or another rail under it sags less",
			Working: working.Working{{Title: "Sag of the " + p.Name, Formula: "Navier series of an orthotropic plate, held on four sides",
				Inputs: []working.Value{{Symbol: "a", Name: "span along the grain", Number: along, Unit: "mm"}, {Symbol: "b", Name: "span across", Number: across, Unit: "mm"}, {Symbol: "t", Number: p.Thickness.MM(), Unit: "mm"},
					{Symbol: "E", Number: fp.e, Unit: "MPa"}, {Symbol: "E⊥", Number: fp.perp, Unit: "MPa"}},
				Result: working.Value{Symbol: "w", Number: w, Unit: "mm"}, Cite: source.At("timber-theory", "Navier solution of an orthotropic plate", source.Exact)}},
		}
		c.Comfort = true
		c.verdict(1)
		out = append(out, c)
	}
	return out
}

// spans returns the distances between the outermost carriers of a surface, along and across its grain. Where carriers
// run one way only, the other span is the surface's own size, which is on the safe side.
func (f *frame) spans(s surface) (along, across float64, ok bool) {
	p := f.a.Parts[s.part]
	lo, hi := [2]float64{math.Inf(1), math.Inf(1)}, [2]float64{math.Inf(-1), math.Inf(-1)}
	for _, c := range s.carriers {
		at := p.Pose.In(f.centreLine(c, 0))
		k := 1
		if geom.Parallel(f.a.Parts[c].Pose.Axes[0], p.Pose.Axes[1]) {
			k = 0
		}
		x := [2]float64{at.X, at.Y}[k]
		lo[k], hi[k] = math.Min(lo[k], x), math.Max(hi[k], x)
	}
	along, across = hi[0]-lo[0], hi[1]-lo[1]
	if !(along > 1) {
		along = p.Length.MM()
	}
	if !(across > 1) {
		across = p.Width.MM()
	}
	return along, across, len(s.carriers) > 1
}

// PlateSag returns the sag in the middle of an orthotropic plate held on four sides, mm.
//
//	w = sum over odd m, n of q_mn / (pi^4 (Dx m^4/a^4 + 2 H m² n²/(a² b²) + Dy n^4/b^4))
//	Dx = E t³/12, Dy = Eperp t³/12, H = G t³/6 (the small part from Poisson's ratio is left out)
//
// e, perp, g are the moduli along and across the grain and in shear, MPa; t the thickness, a and b the spans along
// and across the grain, mm; the force in N is spread over a square of the given side, mm, in the middle. All are above 0.
//
// Source: Navier's series, [timber-theory]. 25 terms each way leave less than 0.1 %.
func PlateSag(e, perp, g, t, a, b, force, side float64) float64 {
	dx, dy, h := e*t*t*t/12, perp*t*t*t/12, g*t*t*t/6
	patch := func(n int, span float64) float64 { // share of a sine wave under the patch
		c := math.Min(side, span)
		k := float64(n) * math.Pi / span
		return 2 / (k * c) * math.Sin(k*c/2)
	}
	sum := 0.0
	for m := 1; m < 50; m += 2 {
		for n := 1; n < 50; n += 2 {
			mm, nn := float64(m)/a, float64(n)/b
			q := 4 * force / (a * b) * patch(m, a) * patch(n, b)
			sum += q / (math.Pow(math.Pi, 4) * (dx*mm*mm*mm*mm + 2*h*mm*mm*nn*nn + dy*nn*nn*nn*nn))
		}
	}
	return sum
}
