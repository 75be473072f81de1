package structure

import (
	"fmt"
	"math"

	"longgrain/internal/design/joint"
	"longgrain/internal/ground/source"
	"longgrain/internal/ground/working"
	"longgrain/internal/trade/wood"
)

// loadPad is the side of the pad that a downward load presses with, mm. From memory of furniture tests; a foot or a hand is as large.
const loadPad = 100.0

// boardStress is a bending stress of a board with the strength against it.
type boardStress struct {
	across        bool // across the grain: the board splits
	stress, limit float64
	where         string
	title, law    string
	inputs        []working.Value
}

// boardChecks returns the bending of each board on fastenings, along and across its grain, under the loads that stand on it: between
// its carriers, and where it stands out beyond them.
func (f *frame) boardChecks(m wood.Moisture, wanted float64) []Check {
	top, hasTop := f.loadedSurface()
	var out []Check
	for _, p := range f.flats() {
		if len(p.carriers) == 0 {
			continue
		}
		species, _ := wood.Lookup(f.a.Parts[p.part].Species)
		split, known := species.At(wood.TensionPerpendicular, m)
		splits := float64(wood.Lower5(split.Value, wood.Variation(wood.TensionPerpendicular).Value)) * joint.LoadFactor
		var all []boardStress
		if hasTop && p.part == top.part {
			for _, r := range rulesFor(f.a.Use, f.a.Setting, "down") {
				all = append(all, f.spanStress(p, r.force, loadPad, fmt.Sprintf("%.0f N down in the middle", r.force))...)
				all = append(all, f.overhangStress(p, r)...)
			}
		}
		if spread := f.boardLoad(p); spread.patch == 0 {
			all = append(all, f.spanStress(p, spread.force, 0, spread.words)...)
		}
		worst := -1
		for i := range all {
			all[i].limit = f.parts[p.part].strength
			if all[i].across {
				all[i].limit = splits
			}
			if (known || !all[i].across) && (worst < 0 || all[i].stress*all[worst].limit > all[worst].stress*all[i].limit) {
				worst = i
			}
		}
		if worst >= 0 {
			out = append(out, all[worst].check(f.a.Parts[p.part].Name, wanted))
		}
	}
	return out
}

func (s boardStress) check(name string, wanted float64) Check {
	cite := source.At("timber-theory", s.title, source.Exact)
	c := Check{What: "bending of the " + name, Where: name, Case: s.where, Cite: cite,
		Demand: working.Value{Symbol: "σ", Name: "stress", Number: s.stress, Unit: "MPa"}, Capacity: working.Value{Symbol: "f", Name: "lower strength", Number: s.limit, Unit: "MPa"},
		Advice:  "a thicker board, or another rail under it",
		Working: working.Working{{Title: "Stress in the " + name, Formula: s.law, Inputs: s.inputs, Result: working.Value{Symbol: "σ", Number: s.stress, Unit: "MPa"}, Cite: cite}}}
	if s.across {
		c.What = "splitting of the " + name
	}
	c.verdict(wanted)
	return c
}

// spanStress returns the stresses of a board between its carriers under a load in its middle, or spread when the pad is 0.
//
//	σ = 6 m/t²,  m = P L/(4 b) or P L/(8 b) on two carriers, Navier's series on four
//
// m is the moment per mm of width, b the width that takes part as in StripSag. Source: [timber-theory].
func (f *frame) spanStress(p plane, force, pad float64, words string) []boardStress {
	part, fp := f.a.Parts[p.part], f.parts[p.part]
	along, across, ok := f.spans(p.surface)
	if !ok {
		return nil
	}
	t := part.Thickness.MM()
	inputs := []working.Value{{Symbol: "P", Name: "load", Number: force, Unit: "N"}, {Symbol: "a", Name: "span along the grain", Number: along, Unit: "mm"},
		{Symbol: "b", Name: "span across", Number: across, Unit: "mm"}, {Symbol: "t", Number: t, Unit: "mm"}}
	strip := func(acrossGrain bool, e, side, span, width float64) boardStress {
		s := boardStress{across: acrossGrain, where: words, title: "bending of a beam", law: "σ = 6 P L/(4 b t²) over the width that takes part", inputs: inputs}
		moment := force * span / 4 / math.Min(width, 1.2*span*math.Pow(side/e, 0.25))
		if pad == 0 {
			moment, s.law = force*span/8/width, "σ = 6 P L/(8 b t²)"
		}
		s.stress = 6 * moment / (t * t)
		return s
	}
	switch held := f.heldWays(p.surface); {
	case held[0] && !held[1]:
		return []boardStress{strip(false, fp.e, fp.perp, along, part.Width.MM())}
	case held[1] && !held[0]:
		return []boardStress{strip(true, fp.perp, fp.e, across, part.Length.MM())}
	}
	if pad == 0 {
		pad = math.Max(along, across)
	}
	mx, my := PlateMoments(fp.e, fp.perp, fp.g, t, along, across, force, pad)
	s := boardStress{stress: 6 * mx / (t * t), where: words, title: "Navier solution of an orthotropic plate", law: "σ = 6 m/t², m from Navier's series", inputs: inputs}
	over := s
	over.across, over.stress = true, 6*my/(t*t)
	return []boardStress{s, over}
}

// overhangStress returns the stresses of a board where it stands out beyond its carriers, under a load near the edge at a corner.
//
//	σ = 6 P l/(b t²),  b = pad/2 + inset + l (E_side/E)^¼
//
// l is the arm from the line of the carriers to the load, b the width that takes part: one side of the load ends at the corner. E is the
// modulus in the direction of the arm.
//
// Source: [timber-theory]; the width is a judgement, docs/methods/structure.md.
func (f *frame) overhangStress(p plane, r rule) []boardStress {
	part, fp := f.a.Parts[p.part], f.parts[p.part]
	lo, hi := f.reach(p.surface)
	held := f.heldWays(p.surface)
	t := part.Thickness.MM()
	var out []boardStress
	for k, size := range [2]float64{part.Length.MM(), part.Width.MM()} {
		if !held[k] {
			continue
		}
		arm := math.Max(lo[k]-r.inset, size-r.inset-hi[k])
		if arm <= 0 {
			continue
		}
		e, side := fp.e, fp.perp
		if k == 1 {
			e, side = side, e
		}
		b := loadPad/2 + r.inset + arm*math.Pow(side/e, 0.25)
		b = math.Min(b, [2]float64{part.Width.MM(), part.Length.MM()}[k])
		out = append(out, boardStress{across: k == 1, stress: 6 * r.force * arm / (b * t * t), where: fmt.Sprintf("%.0f N down near a corner, beyond the rails", r.force),
			title: "bending of a cantilever", law: "σ = 6 P l/(b t²)",
			inputs: []working.Value{{Symbol: "P", Name: "load", Number: r.force, Unit: "N", Cite: r.cite}, {Symbol: "l", Name: "load beyond the rails", Number: arm, Unit: "mm"}, {Symbol: "b", Name: "width that takes part", Number: b, Unit: "mm"}, {Symbol: "t", Number: t, Unit: "mm"}}})
	}
	return out
}

// PlateMoments returns the bending moments per mm in the middle of an orthotropic plate held on four sides, along and across the grain,
// N·mm/mm.
//
//	m_x = sum over odd m, n of (Dx (m π/a)² + ν Dy (n π/b)²) w_mn,  m_y = sum of (Dy (n π/b)² + ν Dy (m π/a)²) w_mn
//
// Arguments and w_mn as in PlateSag. Source: Navier's series, [timber-theory]. It converges more slowly than the sag: 100 terms each
// way leave less than 1 % under a pad of a tenth of the span.
func PlateMoments(e, perp, g, t, a, b, force, side float64) (mx, my float64) {
	held := 1 - poissonLT*poissonLT*perp/e
	dx, dy := e*t*t*t/12/held, perp*t*t*t/12/held
	h := poissonLT*dy + g*t*t*t/6
	patch := func(n int, span float64) float64 {
		c := math.Min(side, span)
		k := float64(n) * math.Pi / span
		return 2 / (k * c) * math.Sin(k*c/2)
	}
	const terms = 200
	var px, py [terms]float64
	for n := 1; n < terms; n += 2 {
		px[n], py[n] = patch(n, a), patch(n, b)
	}
	for m := 1; m < terms; m += 2 {
		for n := 1; n < terms; n += 2 {
			mm, nn := float64(m)*math.Pi/a, float64(n)*math.Pi/b
			w := 4 * force / (a * b) * px[m] * py[n] / (dx*mm*mm*mm*mm + 2*h*mm*mm*nn*nn + dy*nn*nn*nn*nn)
			mx += (dx*mm*mm + poissonLT*dy*nn*nn) * w
			my += (dy*nn*nn + poissonLT*dy*mm*mm) * w
		}
	}
	return mx, my
}
