package structure

import (
	"fmt"
	"math"

	"longgrain/internal/ground/geom"
	"longgrain/internal/ground/source"
	"longgrain/internal/ground/unit"
	"longgrain/internal/ground/working"
	"longgrain/internal/solve/spaceframe"
)

// A top or seat: 50 kg on a disc in its middle, after the 128 kg of [a-a-2122f] for stands (read), scaled to a table that people lean on;
// L/300 at once, between the published L/144 of [aws-2009] and magazine rules of L/384. Mass and limit are judgements.
const (
	sagMass  = 50.0
	sagDisc  = 305.0 // mm. Source: [a-a-2122f], read.
	topShare = 1.0 / 300
)

// A shelf: the published load spread over it, at most 90.7 kg, and L/144 at once.
//
// Source: [aws-2009] 1.2.21, read.
const (
	shelfShare = 1.0 / 144
	shelfMost  = 90.7
)

// Years: what stands there all the time goes on bending the board. Share of the load that stays: 0.8 of storage and 0.3 of dwellings
// are those of [en-1990], from memory. creep is the added share in a home with winter heating, service class 2 of [jcss-3-5], read;
// that a heated home counts as class 2 is a judgement, and so is L/200 after years.
const (
	shelfStays = 0.8
	topStays   = 0.3
	creep      = 0.8
	yearsShare = 1.0 / 200
)

// boardLoad is what a flat part is loaded with for its sag.
type boardLoad struct {
	force, patch float64 // N, over a square of this side in the middle; everywhere when 0
	words        string
	stays        float64
	now, years   float64 // limits as shares of the span
	cite         source.Cite
}

func (f *frame) boardLoad(p plane) boardLoad {
	if role := f.a.Parts[p.part].Role; role == "shelf" || role == "bottom" {
		if r := rulesFor("shelf", f.a.Setting, "spread"); len(r) > 0 {
			kg := math.Min(shelfMost, r[0].mass*(p.hi.X-p.lo.X)*(p.hi.Y-p.lo.Y)/1e6)
			return boardLoad{kg * unit.Gravity, 0, fmt.Sprintf("%.0f kg spread over it", kg), shelfStays, shelfShare, yearsShare, r[0].cite}
		}
	}
	return boardLoad{sagMass * unit.Gravity, sagDisc, fmt.Sprintf("%.0f kg in the middle", sagMass), topStays, topShare, yearsShare, source.Choice("docs/methods/structure.md")}
}

// bent is the sag of a board with its span, both in mm, and how it was found.
type bent struct {
	sag, span  float64
	law, title string
	inputs     []working.Value
}

// sagChecks returns the sag of each flat part that people load, at once and after years: an orthotropic plate held along its
// carriers' rectangle, a strip between carriers that hold one way only, or a beam of the frame.
func (f *frame) sagChecks() []Check {
	flats := f.flats()
	loads := make([]boardLoad, len(flats))
	for i, p := range flats {
		loads[i] = f.boardLoad(p)
	}
	beams := f.beamSags(flats, loads)
	var out []Check
	for i, p := range flats {
		b, ok := beams[i], beams[i].span > 0
		if len(p.carriers) > 0 {
			b, ok = f.boardSag(p.surface, loads[i])
		}
		if ok {
			out = append(out, f.sagCheck(p, loads[i], b, false), f.sagCheck(p, loads[i], b, true))
		}
	}
	return out
}

// sagCheck compares the sag of a board with its limit, at once or after years.
//
//	w_years = w stays (1 + delta)
//
// stays is the share of the load that is always there and delta the creep. Source: [jcss-3-5] creep, read.
func (f *frame) sagCheck(p plane, load boardLoad, b bent, years bool) Check {
	part := f.a.Parts[p.part]
	cite := source.At("timber-theory", b.title, source.Exact)
	w, share, what := b.sag, load.now, "sag of the "+part.Name
	steps := working.Working{{Title: "Sag of the " + part.Name, Formula: b.law, Inputs: b.inputs, Result: working.Value{Symbol: "w", Number: b.sag, Unit: "mm"}, Cite: cite}}
	c := Check{Where: part.Name, Case: load.words, Cite: cite, Advice: "a thicker board, or another rail under it, sags less"}
	if years {
		w, share, what = b.sag*load.stays*(1+creep), load.years, what+" after years"
		c.Case = fmt.Sprintf("%.1f of %s, always there", load.stays, load.words)
		c.Cite = source.At("jcss-3-5", "creep, service class 2", source.Read)
		steps = append(steps, working.Step{Title: "After years", Formula: "w_years = w s (1 + δ)",
			Inputs: []working.Value{{Symbol: "s", Name: "share of the load that stays", Number: load.stays}, {Symbol: "δ", Name: "creep", Number: creep, Cite: c.Cite}},
			Result: working.Value{Symbol: "w_years", Number: w, Unit: "mm"}, Cite: c.Cite})
	}
	c.What, c.Working = what, steps
	c.Demand = working.Value{Symbol: "w", Name: "sag", Number: w, Unit: "mm"}
	c.Capacity = working.Value{Symbol: "w_max", Name: fmt.Sprintf("span over %.0f", 1/share), Number: b.span * share, Unit: "mm"}
	c.comfort()
	return c
}

// boardSag returns the sag of a board on fastenings.
func (f *frame) boardSag(s surface, load boardLoad) (bent, bool) {
	p, fp := f.a.Parts[s.part], f.parts[s.part]
	along, across, ok := f.spans(s)
	if !ok {
		return bent{}, false
	}
	t := p.Thickness.MM()
	b := bent{span: math.Min(along, across), title: "Navier solution of an orthotropic plate", law: "Navier series of an orthotropic plate, held on four sides",
		inputs: []working.Value{{Symbol: "P", Name: "load", Number: load.force, Unit: "N", Cite: load.cite}, {Symbol: "a", Name: "span along the grain", Number: along, Unit: "mm"}, {Symbol: "b", Name: "span across", Number: across, Unit: "mm"},
			{Symbol: "t", Number: t, Unit: "mm"}, {Symbol: "E", Number: fp.e, Unit: "MPa"}, {Symbol: "E⊥", Number: fp.perp, Unit: "MPa"}}}
	strip := func(e, side, span, width float64) {
		b.span, b.title = span, "bending and shear of a beam"
		if load.patch == 0 {
			b.sag, b.law = SpreadStripSag(e, fp.g, t, span, width, load.force), "5 P L³/(384 E I) + 0.15 P L/(G A)"
			return
		}
		b.sag, b.law = StripSag(e, side, fp.g, t, span, width, load.force), "P L³/(48 E I) + 0.3 P L/(G A) over the width that takes part"
	}
	switch held := f.heldWays(s); {
	case held[0] && !held[1]:
		strip(fp.e, fp.perp, along, p.Width.MM())
	case held[1] && !held[0]:
		strip(fp.perp, fp.e, across, p.Length.MM())
	default:
		patch := load.patch
		if patch == 0 {
			patch = math.Max(along, across)
		}
		b.sag = PlateSag(fp.e, fp.perp, fp.g, t, along, across, load.force, patch)
	}
	return b, true
}

// beamSags returns, by flat part, the sag of those that are members of the frame, in their middle beside the line between their ends;
// the springs of their joints take part. It is zero for the others.
func (f *frame) beamSags(flats []plane, loads []boardLoad) []bent {
	out := make([]bent, len(flats))
	var cases []spaceframe.Case
	var which []int
	for i, p := range flats {
		if len(p.carriers) > 0 || len(f.parts[p.part].members) == 0 || f.upright(p.part) {
			continue
		}
		rest, loaded := spaceframe.Case{Name: "rest", Gravity: gravity}, spaceframe.Case{Name: "loaded", Gravity: gravity}
		f.weighSurfaces(&rest)
		f.weighSurfaces(&loaded)
		if loads[i].patch == 0 {
			for _, m := range f.parts[p.part].members {
				loaded.Spread = append(loaded.Spread, spaceframe.Uniform(m, spaceframe.Vec{0, 0, -loads[i].force / f.a.Parts[p.part].Length.MM()}))
			}
		} else {
			f.pointLoad(&loaded, p.part, p.middle(), loads[i].force)
		}
		cases, which = append(cases, rest, loaded), append(which, i)
	}
	if len(cases) == 0 {
		return out
	}
	result := spaceframe.Solve(f.model, cases, spaceframe.Options{})
	if result.Status != spaceframe.Solved {
		return out
	}
	for k, i := range which {
		rest, loaded := &result.Cases[2*k], &result.Cases[2*k+1]
		part := flats[i].part
		length := f.a.Parts[part].Length.MM()
		low := func(share float64) float64 {
			return f.movedAt(loaded, part, share*length)[2] - f.movedAt(rest, part, share*length)[2]
		}
		fp := f.parts[part]
		out[i] = bent{sag: math.Max(0, (low(0)+low(1))/2-low(0.5)), span: length, title: "a beam of the frame with the springs of its joints", law: "the frame under the load, less the frame at rest",
			inputs: []working.Value{{Symbol: "P", Name: "load", Number: loads[i].force, Unit: "N", Cite: loads[i].cite}, {Symbol: "L", Name: "span", Number: length, Unit: "mm"},
				{Symbol: "t", Number: f.a.Parts[part].Thickness.MM(), Unit: "mm"}, {Symbol: "E", Number: fp.e, Unit: "MPa"}}}
	}
	return out
}

// SpreadStripSag returns the sag of a board held at two ends under a load spread over all of it, mm.
//
//	w = 5 P L³/(384 E I) + 0.15 P L/(G A), I = b t³/12, A = b t
//
// e is the modulus along the span and g that in shear, MPa; t the thickness, l the span and b the width, mm; the whole load P in N.
// All are above 0. Source: [timber-theory].
func SpreadStripSag(e, g, t, l, b, force float64) float64 {
	return 5*force*l*l*l/(32*e*b*t*t*t) + 0.15*force*l/(g*b*t)
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
