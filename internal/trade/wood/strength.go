package wood

import (
	"fmt"
	"math"

	"longgrain/internal/ground/source"
	"longgrain/internal/ground/unit"
)

// Property is a strength or stiffness of small clear specimens, in MPa.
type Property string

// The properties.
const (
	BendingStrength          Property = "mor"          // modulus of rupture
	BendingModulus           Property = "moe"          // modulus of elasticity from a bending test
	CompressionParallel      Property = "comp_par"     // crushing strength along the grain
	CompressionPerpendicular Property = "comp_perp"    // stress at the proportional limit across the grain
	ShearParallel            Property = "shear"        // shear strength along the grain
	TensionPerpendicular     Property = "tension_perp" // strength in splitting tension
)

// Properties lists every Property.
var Properties = []Property{BendingStrength, BendingModulus, CompressionParallel, CompressionPerpendicular, ShearParallel, TensionPerpendicular}

// Mean returns the mean of a property of clear wood at 12 % moisture. False when no source gives it.
//
// Source: [wood-handbook] table 5-3b, or the data sheet of a European species.
func (s Species) Mean(p Property) (Figure[unit.MPa], bool) {
	return convert[unit.MPa](s.figure(quantity(p), at12))
}

// driestStrength is the moisture content below which strength is not taken to rise any further.
// Judgement: the adjustment equation was fitted to wood down to about 8 %.
const driestStrength Moisture = 8

// At returns the mean of a property of clear wood at moisture content m: MoistureAdjusted where the
// green figure is known, else the rougher MoistureFactor. Wood wetter than the intersection point
// has its green strength; drier than 8 % gains nothing more. A property that neither table can
// adjust, such as tension across the grain of a species without green figures, is given as at 12 %.
func (s Species) At(p Property, m Moisture) (Figure[unit.MPa], bool) {
	dry, ok := s.Mean(p)
	if !ok {
		return Figure[unit.MPa]{}, false
	}
	if wet, ok := s.figure(quantity(p), green); ok {
		mp := s.IntersectionMoisture()
		v := MoistureAdjusted(dry.Value, unit.MPa(wet.Value), m, mp.Value)
		cite := dry.Cite
		if m != 12 {
			cite.Confidence = source.Weaker(dry.Cite.Confidence, source.Weaker(wet.Cite.Confidence, mp.Cite.Confidence))
		}
		return Figure[unit.MPa]{v, cite}, true
	}
	factor := MoistureFactor(p, m)
	f := Figure[unit.MPa]{dry.Value * unit.MPa(factor.Value), dry.Cite}
	if m != 12 {
		f.Cite.Confidence = source.Weaker(dry.Cite.Confidence, factor.Cite.Confidence)
	}
	return f, true
}

// MoistureAdjusted returns a property at moisture content m from its values at 12 % and green.
//
//	P(M) = P12 (P12/Pg)^((12 - M)/(Mp - 12))
//
// P12, Pg are the values at 12 % and green, both above 0; Mp is the intersection moisture content,
// above 12 %. M is clamped to 8 % … Mp. Panics when a value is out of range.
//
// Source: [wood-handbook] equation 5-3, from memory; the form is confirmed by [fpl-moisture-adjustment].
func MoistureAdjusted(p12, pg unit.MPa, m, mp Moisture) unit.MPa {
	if !(p12 > 0 && pg > 0 && mp > 12) {
		panic(fmt.Sprintf("wood: cannot adjust %v and %v MPa with intersection point %v %%", p12, pg, mp))
	}
	m = min(max(m, driestStrength), mp)
	return p12 * unit.MPa(math.Pow(float64(p12/pg), float64(12-m)/float64(mp-12)))
}

// MoistureFactor returns the ratio of a property at moisture content m to that at 12 % by the rule of
// so many percent for each percent of moisture.
//
//	r = (1 + c/100)^(12 - M)
//
// c is 4 for bending strength, 2 for the modulus, 6 for crushing and so on; M is clamped to 8 … 25 %.
// A property that the table does not list gets the ratio 1, marked assumed.
//
// Source: [fpl-moisture-adjustment] table 1.
func MoistureFactor(p Property, m Moisture) Figure[float64] {
	c, ok := lookupFactor("per percent", string(p))
	if !ok {
		return Figure[float64]{1, source.Assumption()}
	}
	m = min(max(m, driestStrength), 25)
	return Figure[float64]{math.Pow(1+c.Value/100, float64(12-m)), c.Cite}
}

// Variation returns the coefficient of variation of a property between specimens of one species.
//
// Source: [wood-handbook] table 5-6, from memory. Tension across the grain is not listed; it is taken
// as variable as compression across the grain, marked assumed.
func Variation(p Property) Figure[float64] {
	if p == TensionPerpendicular {
		v := fraction(mustFactor("variation", string(CompressionPerpendicular)))
		return Figure[float64]{v.Value, source.Assumption()}
	}
	return fraction(mustFactor("variation", string(p)))
}

// GravityVariation returns the coefficient of variation of specific gravity within a species.
func GravityVariation() Figure[float64] { return fraction(mustFactor("variation", "sg")) }

// Lower5 returns the value that 5 % of a normal distribution lie below.
//
//	f05 = f (1 - 1.645 v)
//
// f is the mean, v the coefficient of variation, below 0.6 so that the result is positive. Panics
// otherwise.
//
// Source: normal distribution; the law for clear wood after [wood-handbook] chapter 5.
func Lower5(f unit.MPa, v float64) unit.MPa {
	if !(v >= 0 && v < 0.6) {
		panic(fmt.Sprintf("wood: coefficient of variation %v is out of range", v))
	}
	return f * unit.MPa(1-1.645*v)
}

// LongitudinalModulus returns the modulus of elasticity along the grain at moisture content m. The
// bending modulus of the handbook still contains the shear deflection of its test (span 14 times the
// depth), so it is raised by a tenth; other sources are taken as they stand.
//
// Source: [wood-handbook] table 5-1, footnote.
func (s Species) LongitudinalModulus(m Moisture) (Figure[unit.MPa], bool) {
	f, ok := s.At(BendingModulus, m)
	if ok && f.Cite.Key == "wood-handbook" {
		f.Value *= 1.1
	}
	return f, ok
}

// Ratio names a modulus as a share of the one along the grain.
type Ratio string

// The elastic ratios: E across the grain along and across the rings, G in the three planes.
const (
	TangentialModulus Ratio = "et"
	RadialModulus     Ratio = "er"
	ShearLR           Ratio = "glr" // in the plane of grain and radius
	ShearLT           Ratio = "glt" // in the plane of grain and tangent
	ShearRT           Ratio = "grt" // rolling shear
)

// ElasticRatio returns an elastic ratio near 12 % moisture. A species that the table lacks gets the
// ratio that strength classes are built on, 1/16 for shear and 1/30 across the grain, marked from
// memory; rolling shear has no such rule and is missing there.
//
// Source: [wood-handbook] table 5-1; else [en-384].
func (s Species) ElasticRatio(r Ratio) (Figure[float64], bool) {
	if f, ok := s.figure(quantity(r), at12); ok {
		return f, true
	}
	switch r {
	case ShearLR, ShearLT:
		return Figure[float64]{1.0 / 16, source.At("en-384", "G = E/16", source.Memory)}, true
	case TangentialModulus, RadialModulus:
		return Figure[float64]{1.0 / 30, source.At("en-384", "E90 = E/30", source.Memory)}, true
	}
	return Figure[float64]{}, false
}

// Hankinson returns a strength at an angle to the grain.
//
//	N = P Q / (P sinⁿa + Q cosⁿa)
//
// P along and Q across the grain, both above 0; a the angle between them; n = 2 for compression, 1.5
// to 2 for tension and bending. Panics when P or Q is not above 0.
//
// Source: [wood-handbook] equation 5-2, from memory.
func Hankinson(p, q unit.MPa, a unit.Degrees, n float64) unit.MPa {
	if !(p > 0 && q > 0) {
		panic("wood: Hankinson needs strengths above 0")
	}
	sin, cos := math.Sincos(math.Abs(float64(a)) * math.Pi / 180)
	return p * q / (p*unit.MPa(math.Pow(math.Abs(sin), n)) + q*unit.MPa(math.Pow(math.Abs(cos), n)))
}
