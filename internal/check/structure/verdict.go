package structure

import (
	"fmt"
	"math"

	"longgrain/internal/design/assembly"
	"longgrain/internal/ground/geom"
	"longgrain/internal/ground/source"
	"longgrain/internal/ground/unit"
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
				look(m.EndForce[0]) // with what stands on the very end of the member
				look(m.EndForce[1])
				for x := range memberStations {
					look(m.ForceAt(m.Length * float64(x+1) / (memberStations + 1)))
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

// sagDisc is the size of the patch that the mass rests on, mm. Source: [a-a-2122f], read.
const sagDisc = 305.0

// sagChecks returns the sag of each surface on fastenings under a mass in its middle: an orthotropic plate held along
// its carriers' rectangle, or a strip between carriers that hold one way only.
func (f *frame) sagChecks() []Check {
	var out []Check
	for _, s := range f.surfaces {
		p, fp := f.a.Parts[s.part], f.parts[s.part]
		along, across, ok := f.spans(s)
		if !ok {
			continue
		}
		force := sagMass * unit.Gravity
		w, span := PlateSag(fp.e, fp.perp, fp.g, p.Thickness.MM(), along, across, force, sagDisc), math.Min(along, across)
		law, title := "Navier series of an orthotropic plate, held on four sides", "Navier solution of an orthotropic plate"
		switch held := f.heldWays(s); {
		case held[0] && !held[1]:
			w, span = StripSag(fp.e, fp.perp, fp.g, p.Thickness.MM(), along, p.Width.MM(), force), along
			law, title = "P L³/(48 E I) + 0.3 P L/(G A) over the width that takes part", "bending and shear of a beam"
		case held[1] && !held[0]:
			w, span = StripSag(fp.perp, fp.e, fp.g, p.Thickness.MM(), across, p.Length.MM(), force), across
			law, title = "P L³/(48 E I) + 0.3 P L/(G A) over the width that takes part", "bending and shear of a beam"
		}
		cite := source.At("timber-theory", title, source.Exact)
		c := Check{What: "sag of the " + p.Name, Where: p.Name, Case: fmt.Sprintf("%.0f kg in the middle", sagMass),
			Cite:     cite,
			Demand:   working.Value{Symbol: "w", Name: "sag", Number: w, Unit: "mm"},
			Capacity: working.Value{Symbol: "w_max", Name: "span over 300", Number: span * sagShare, Unit: "mm"},
			Advice:   "a thicker top or another rail under it sags less",
			Working: working.Working{{Title: "Sag of the " + p.Name, Formula: law,
				Inputs: []working.Value{{Symbol: "a", Name: "span along the grain", Number: along, Unit: "mm"}, {Symbol: "b", Name: "span across", Number: across, Unit: "mm"}, {Symbol: "t", Number: p.Thickness.MM(), Unit: "mm"},
					{Symbol: "E", Number: fp.e, Unit: "MPa"}, {Symbol: "E⊥", Number: fp.perp, Unit: "MPa"}},
				Result: working.Value{Symbol: "w", Number: w, Unit: "mm"}, Cite: cite}},
		}
		c.Comfort = true
		c.verdict(1)
		out = append(out, c)
	}
	return out
}

// heldWays tells whether the carriers of a surface hold it at two places along its grain, and across.
func (f *frame) heldWays(s surface) [2]bool {
	lo, hi := f.reach(s)
	return [2]bool{hi[0]-lo[0] > 1, hi[1]-lo[1] > 1}
}

// reach returns the extent of the lines of carriers along and across the grain of a surface, in its own x and y. A carrier
// counts in the direction square to its contact.
func (f *frame) reach(s surface) (lo, hi [2]float64) {
	p := f.a.Parts[s.part]
	lo, hi = [2]float64{math.Inf(1), math.Inf(1)}, [2]float64{math.Inf(-1), math.Inf(-1)}
	for _, c := range s.carriers {
		at := p.Pose.In(f.centreLine(c, 0))
		line := f.a.Parts[c].Pose.Axes[0]
		if f.upright(c) {
			line = f.a.Parts[c].Pose.Axes[1]
		}
		k := 1
		if geom.Parallel(line, p.Pose.Axes[1]) {
			k = 0
		}
		x := [2]float64{at.X, at.Y}[k]
		lo[k], hi[k] = math.Min(lo[k], x), math.Max(hi[k], x)
	}
	return lo, hi
}

// spans returns the distances between the outermost carriers of a surface, along and across its grain; where they hold one way only,
// the other span is the surface's own size. False for fewer than two carriers.
func (f *frame) spans(s surface) (along, across float64, ok bool) {
	p, held := f.a.Parts[s.part], f.heldWays(s)
	lo, hi := f.reach(s)
	along, across = p.Length.MM(), p.Width.MM()
	if held[0] {
		along = hi[0] - lo[0]
	}
	if held[1] {
		across = hi[1] - lo[1]
	}
	return along, across, len(s.carriers) > 1 && (held[0] || held[1])
}

// StripSag returns the sag under a force in the middle of a board held at two ends only, mm.
//
//	w = P L³/(48 E I) + 0.3 P L/(G A), I = b t³/12, A = b t, b = min(width, 1.2 L (Eside/E)^¼)
//
// e and side are the moduli along the span and square to it, g that in shear, MPa; t the thickness, l the span and
// width the size square to it, mm; the force in N. All are above 0. b is the width that takes part under a force at one place.
//
// Source: [timber-theory]; b derived in docs/methods/structure.md.
func StripSag(e, side, g, t, l, width, force float64) float64 {
	b := math.Min(width, 1.2*l*math.Pow(side/e, 0.25))
	return force*l*l*l/(4*e*b*t*t*t) + 0.3*force*l/(g*b*t)
}

// poissonLT is Poisson's ratio for strain across the grain from stress along it.
//
// Source: [wood-handbook] table 5-2, a middle value of softwoods, from memory.
const poissonLT = 0.35

// PlateSag returns the sag in the middle of an orthotropic plate held on four sides, mm.
//
//	w = sum over odd m, n of q_mn / (pi^4 (Dx m^4/a^4 + 2 H m² n²/(a² b²) + Dy n^4/b^4))
//	Dx = E t³/12/(1 − ν ν'), Dy = Eperp t³/12/(1 − ν ν'), H = ν Dy + G t³/6, ν' = ν Eperp/E
//
// e, perp, g are the moduli along and across the grain and in shear, MPa; t the thickness, a and b the spans along
// and across the grain, mm; the force in N is spread over a square of the given side, mm, in the middle, or over the whole span
// where that is shorter. All are above 0.
//
// Source: Navier's series, [timber-theory]. 25 terms each way leave less than 0.1 %.
func PlateSag(e, perp, g, t, a, b, force, side float64) float64 {
	held := 1 - poissonLT*poissonLT*perp/e
	dx, dy := e*t*t*t/12/held, perp*t*t*t/12/held
	h := poissonLT*dy + g*t*t*t/6
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
