package joint

import (
	"fmt"
	"math"
	"slices"
	"strconv"

	"longgrain/internal/ground/source"
	"longgrain/internal/ground/stats"
	"longgrain/internal/ground/working"
	"longgrain/internal/trade/wood"
)

// Way is what a joint resists: being opened (pulled and bent) or being slid (sheared and twisted). The two hang on
// different limits, so that a test of the one says nothing of the other.
type Way string

// The ways.
const (
	Opening Way = "opening"
	Sliding Way = "sliding"
)

// Way returns which way an action of a rig tests.
func (a Action) Way() Way {
	if a == Sheared {
		return Sliding
	}
	return Opening
}

// Tested names what a shop's tests speak of: a kind of joint, in softwood or hardwood, resisting one way. A joint with
// softwood on either side is one in softwood: that side gives way first.
type Tested struct {
	Kind Kind       `json:"kind"`
	Wood wood.Group `json:"wood"`
	Way  Way        `json:"way"`
}

// Shift is what a shop's tests say of the book's strengths: the logarithm of the strength of a further joint over the
// book's mean is normal, about Centre.
type Shift struct {
	Tests   int     `json:"tests"`
	Batches int     `json:"batches"`
	Weight  float64 `json:"weight"`  // of the tests beside the book, 0 to 1
	Centre  float64 `json:"centre"`  // mean of the logarithm
	Doubt   float64 `json:"doubt"`   // standard deviation of Centre: what the tests leave open
	Scatter float64 `json:"scatter"` // standard deviation of single joints, from batch to batch and within one
}

// spread is the standard deviation of the logarithm of the strength of a further joint.
func (s Shift) spread() float64 { return math.Hypot(s.Doubt, s.Scatter) }

// Mean is the mean strength of further joints over the book's mean.
//
//	exp(m + V/2),  V = v + s²
//
// m is Centre, v the square of Doubt and s² that of Scatter. Source: mean of a lognormal variable.
func (s Shift) Mean() float64 { return math.Exp(s.Centre + s.spread()*s.spread()/2) }

// Lower5 is the strength that 95 of 100 further joints reach over the book's mean.
//
//	exp(m - 1.645 √V)
//
// Symbols as Mean. Source: quantile of a lognormal variable.
func (s Shift) Lower5() float64 { return stats.LognormalQuantile(0.05, s.Centre, s.spread()) }

// COV is the coefficient of variation of further joints.
//
//	√(exp V - 1)
//
// Symbols as Mean. Source: moments of a lognormal variable.
func (s Shift) COV() float64 { return math.Sqrt(math.Expm1(s.spread() * s.spread())) }

// Words say where the strength is from: "shop, 5 tests in 2 batches".
func (s Shift) Words() string {
	return "shop, " + several(s.Tests, "test", "tests") + " in " + several(s.Batches, "batch", "batches")
}

func several(n int, one, more string) string {
	if n == 1 {
		return "1 " + one
	}
	return strconv.Itoa(n) + " " + more
}

// Book is where a resistance is from when no test of the shop shifts it.
const Book = "book"

// FromShop is what stands behind a resistance that the shop's tests shifted.
type FromShop struct {
	Shift
	BookMean   float64 `json:"bookMean"` // before the shift
	BookLower5 float64 `json:"bookLower5"`
}

// RailItself is the limit of the rail beside the joint, of which no test of joints speaks.
const RailItself = "the rail itself"

// Calibration is what the shop's tests say of the book. What is not in it stays as in the book.
type Calibration map[Tested]Shift

// Apply returns a joint of a site as the shop's tests shift it. Breaking of the rail itself is no matter of the joint
// and stays as in the book, so that a strong joint never makes the rail stronger.
func (c Calibration) Apply(s Site, j Joint) Joint {
	softest := wood.Hardwood
	for _, id := range []string{s.A.Species, s.B.Species} {
		if w, ok := wood.Lookup(id); !ok || w.Group == wood.Softwood {
			softest = wood.Softwood
		}
	}
	st := j.Strength
	if shift, ok := c[Tested{j.Kind, softest, Opening}]; ok {
		for _, r := range []*Resistance{&st.Tension, &st.BendU, &st.BendV} {
			*r = shift.apply(*r)
		}
		st.Working = append(slices.Clone(st.Working), shift.step("Bending of the joint, strong way, as the shop's tests shift it", st.BendU, "N·m"))
	}
	if shift, ok := c[Tested{j.Kind, softest, Sliding}]; ok {
		for _, r := range []*Resistance{&st.ShearU, &st.ShearV, &st.Twist} {
			*r = shift.apply(*r)
		}
		st.Working = append(slices.Clone(st.Working), shift.step("Shear of the joint as the shop's tests shift it", st.ShearU, "N"))
	}
	j.Strength = st
	return j
}

// apply returns a resistance as the tests shift it.
//
//	R' = R Mean,  R'₅ = R Lower5 for the limits of the joint; those of the rail as they are; the weaker governs
//
// Source: docs/methods/testlog.md.
func (s Shift) apply(r Resistance) Resistance {
	book := FromShop{s, r.Mean, r.Lower5}
	share := r.Lower5 / r.Mean // of a limit of the book
	out := Resistance{Mean: math.Inf(1), Lower5: math.Inf(1), From: s.Words(), Shop: &book}
	for _, l := range r.Limits {
		lower := l.Mean * share
		if l.Name != RailItself {
			lower = l.Mean * s.Lower5()
			l.Mean *= s.Mean()
		}
		out.Limits = append(out.Limits, l)
		if lower < out.Lower5 {
			out.Lower5, out.Governs = lower, l.Name
			out.Mean, out.COV = l.Mean, s.COV()
			if l.Name == RailItself {
				out.COV = r.COV
			}
		}
	}
	return out
}

func (s Shift) step(title string, r Resistance, unit string) working.Step {
	cite := source.At("longgrain", "docs/methods/testlog.md", source.Exact)
	return working.Step{Title: title, Formula: "R₅ = R exp(m − 1.645 √(v + s²)), the rail itself as in the book",
		Inputs: []working.Value{{Symbol: "R", Name: "mean of the book", Number: r.Shop.BookMean, Unit: unit}, {Symbol: "m", Name: "centre", Number: s.Centre, Cite: cite},
			{Symbol: "√v", Name: "doubt", Number: s.Doubt, Cite: cite}, {Symbol: "s", Name: "scatter of joints", Number: s.Scatter, Cite: cite}},
		Result: working.Value{Symbol: "R₅", Number: r.Lower5, Unit: unit}, Cite: cite,
		Note: fmt.Sprintf("%s, which weigh %.0f %% beside the book; the book alone gives %s %s", s.Words(), 100*s.Weight, working.Figures(r.Shop.BookLower5), unit)}
}
