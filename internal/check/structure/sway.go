package structure

import (
	"fmt"
	"math"

	"longgrain/internal/design/joint"
	"longgrain/internal/ground/source"
	"longgrain/internal/ground/working"
	"longgrain/internal/solve/spaceframe"
)

// swayShare is the sway that still feels firm, as a share of the height: one degree out of square. Judgement: no published limit was
// found, decision 8.
const swayShare = 1.0 / 60

// SwayAllowance raises every computed sway: the joint-zone model fell short of solid models by up to 14 %.
//
// Source: [longgrain] docs/methods/structure.md, from the two frames outside the fit.
const SwayAllowance = 1.2

var citeSway = source.Choice("docs/decisions/0008-sway-is-comfort.md")

// leaning is the frame's answer to one newton at its top, all feet on the floor.
type leaning struct {
	way    push
	where  string
	most   float64 // largest sideways movement of a head, mm/N
	moving float64 // sum over the heads of share times movement: work per N², mm/N
}

// leanings solves the frame under its weight with and without one newton at the top: what is between them is racking with the feet on
// the floor. Rocking on lifted feet belongs to tipping. Directions differ only in sign, so two are enough.
func (f *frame) leanings() []leaning {
	heads := f.heads()
	if len(heads) == 0 {
		return nil
	}
	top, hasTop := f.loadedSurface()
	resting := func(name string) spaceframe.Case {
		c := spaceframe.Case{Name: name, Gravity: gravity}
		f.weighSurfaces(&c)
		return c
	}
	cases := []spaceframe.Case{resting("at rest")}
	var ways []leaning
	var shares []arrival
	for _, d := range []push{pushes[0], pushes[2]} {
		for _, a := range f.arrivals(d, heads, top, hasTop, pushInset) {
			c := resting(d.word + a.where)
			a.put(&c, heads, d, 1)
			cases, ways, shares = append(cases, c), append(ways, leaning{way: d, where: a.where}), append(shares, a)
		}
	}
	result := spaceframe.Solve(f.model, cases, spaceframe.Options{})
	if result.Status != spaceframe.Solved {
		return nil
	}
	rest := &result.Cases[0]
	for k := range ways {
		c := &result.Cases[k+1]
		for i, h := range heads {
			u, v := h.moved(c), h.moved(rest)
			x, y := u.X-v.X, u.Y-v.Y
			ways[k].most = math.Max(ways[k].most, math.Hypot(x, y))
			ways[k].moving += shares[k].shares[i] * (x*ways[k].way.toward[0] + y*ways[k].way.toward[1])
		}
	}
	return ways
}

// swayChecks returns how far the heads move under the push of the use with all feet on the floor, and how fast the piece swings.
func (f *frame) swayChecks() []Check {
	ways := f.leanings()
	rules := rulesFor(f.a.Use, f.a.Setting, "push")
	if len(ways) == 0 || len(rules) == 0 {
		return nil
	}
	worst, force := ways[0], rules[0].force
	softest := ways[0]
	for _, w := range ways {
		if w.most > worst.most {
			worst = w
		}
		if w.where == "" && w.moving > softest.moving {
			softest = w
		}
	}
	_, hi := f.a.Bounds()
	u, limit := SwayAllowance*force*worst.most, hi.Z*swayShare
	sway := Check{What: "sway", Where: f.a.Name, Cite: citeSway,
		Case:     fmt.Sprintf("%.0f N push to the %s%s, feet on the floor", force, worst.way.word, worst.where),
		Demand:   working.Value{Symbol: "u", Name: "sideways movement, with the 1.2 allowance", Number: u, Unit: "mm"},
		Capacity: working.Value{Symbol: "u_max", Name: "height over 60, one degree", Number: limit, Unit: "mm"},
		Advice:   "a deeper apron, thicker legs or low rails make it stiffer",
		Working: working.Working{{Title: "Sway at the top", Formula: "u = 1.2 H/k",
			Inputs: []working.Value{{Symbol: "H", Name: "push", Number: force, Unit: "N", Cite: rules[0].cite}, {Symbol: "k", Name: "stiffness of the frame where it gives most", Number: 1 / worst.most, Unit: "N/mm"}},
			Result: working.Value{Symbol: "u", Number: u, Unit: "mm"}, Cite: citeSway}},
	}
	sway.comfort()
	return []Check{sway, f.swing(softest)}
}

// firmest is the natural frequency below which a piece feels loose when it is touched, Hz. Judgement: walking shakes at about 2 Hz and
// its first multiple at 4 (from memory); a piece that swings faster does not answer to steps.
const firmest = 5.0

// swing returns the check of the first natural frequency, by Rayleigh's quotient: the mass of the upper half moves with the heads.
//
//	f = sqrt(1/(m c))/(2 pi)
//
// c is the movement of the heads per newton, in m/N and with the allowance of sway, above 0; m the mass of all that lies above half
// the height, kg, above 0.
//
// Source: Rayleigh's quotient, [timber-theory]; the shape and the mass taken are a judgement.
func (f *frame) swing(softest leaning) Check {
	_, hi := f.a.Bounds()
	mass := 0.0
	for i, p := range f.a.Parts {
		l, h := p.Box().Bounds()
		above := math.Max(0, h.Z-math.Max(l.Z, hi.Z/2)) / math.Max(1e-9, h.Z-l.Z)
		mass += above * f.parts[i].mass
	}
	give := SwayAllowance * softest.moving / 1000
	cite := source.At("timber-theory", "Rayleigh's quotient", source.Exact)
	hz := 0.0
	if give > 0 && mass > 0 {
		hz = math.Sqrt(1/(mass*give)) / (2 * math.Pi)
	}
	c := Check{What: "wobble", Where: f.a.Name, Cite: citeSway, Case: "swinging by itself, " + softest.way.swings(),
		Demand:   working.Value{Symbol: "f_min", Name: "swings a second that feel firm", Number: firmest, Unit: "Hz"},
		Capacity: working.Value{Symbol: "f", Name: "swings a second", Number: hz, Unit: "Hz"},
		Advice:   "what makes it stiffer, or the top lighter, makes it calmer",
		Working: working.Working{{Title: "First natural frequency", Formula: "f = √(1/(m c))/(2π)",
			Inputs: []working.Value{{Symbol: "m", Name: "mass above half the height", Number: mass, Unit: "kg"}, {Symbol: "c", Name: "movement per newton, with the 1.2 allowance", Number: give * 1e3, Unit: "mm/N"}},
			Result: working.Value{Symbol: "f", Number: hz, Unit: "Hz"}, Cite: cite}},
	}
	c.comfort()
	return c
}

// comfortBand is how far a limit of comfort may be passed before the verdict is "does not hold". Published limits for the same thing
// differ by more than that: a shelf may sag L/144 for [aws-2009], and L/384 is noticed by the rule of a magazine.
//
// Source: [longgrain] docs/decisions/0008-sway-is-comfort.md, judgement.
const comfortBand = 2

// ComfortVerdict returns the verdict of a limit of comfort: tight up to twice the limit, for nothing breaks there.
func ComfortVerdict(reserve joint.Reserve) joint.Verdict {
	switch {
	case reserve >= 1:
		return joint.Holds
	case reserve >= 1.0/comfortBand:
		return joint.Tight
	}
	return joint.DoesNotHold
}

// comfort fills reserve and verdict of a check of comfort.
func (c *Check) comfort() {
	c.Comfort = true
	c.verdict(1)
	c.Verdict = ComfortVerdict(c.Reserve)
}
