// Package strength holds the formulas that the strength of joints is worked out from: pins drawn, bent and pushed
// sideways in wood, wood pressed beside them, glue faces sheared and turned, and their elastic give.
//
// In go plain sizes and the figures of the wood; out come forces, moments and stiffness of one pin or one glue face.
// Every formula has its source and its range. The package knows no kind of joint and no part: package joint puts the
// formulas together. The derivations are in docs/methods/joints.md.
package strength

import (
	"math"

	"longgrain/internal/ground/source"
	"longgrain/internal/ground/unit"
)

// Pin is a dowel, screw or biscuit that resists being pulled, at a distance from one edge of the contact.
type Pin struct {
	At   float64 // mm from the edge that is pressed
	Pull float64 // N that it can take
}

// CrushFactor raises the proportional limit of compression across the grain to the stress at which the
// side of a leg gives way under a rail end.
//
// Source: [longgrain] docs/methods/joints.md: prior 1.5 to 2; the upper end is taken, because the tenon series of
// [eckelman-2016] carried more than either would allow.
const CrushFactor = 2

// PinMoment returns the moment at which a row of pins and the pressed wood beside them fail.
//
//	sum T_i(c) = q c,  T_i = T (x_i - c)/(x_max - c) for pins beyond c,  M = sum T_i x_i - q c²/2
//
// pins are at x_i from the pressed edge, the outermost with the pull T; q is the load in N per mm of
// contact depth at which the wood is crushed, above 0; c is the depth of contact, found by bisection.
// Where the outermost pin alone would crush the wood up to itself, the wood governs: M = q x_max²/2. The
// result is in N·mm. Panics when there is no pin or q is not positive.
//
// Source: [longgrain] docs/methods/joints.md, after the single-pin rule of [eckelman-dowel], from memory.
func PinMoment(pins []Pin, q float64) (moment, contact float64, woodGoverns bool) {
	if len(pins) == 0 || !(q > 0) {
		panic("strength: a pin moment needs pins and wood")
	}
	outer := pins[0]
	for _, p := range pins {
		if p.At > outer.At {
			outer = p
		}
	}
	outermost := 0.0 // pull of all pins at the outermost place
	for _, p := range pins {
		if outer.At-p.At < 1e-9 {
			outermost += p.Pull
		}
	}
	if q*outer.At <= outermost {
		return q * outer.At * outer.At / 2, outer.At, true
	}
	pull := func(c float64) (sum, turning float64) {
		for _, p := range pins {
			if p.At > c {
				t := p.Pull * (p.At - c) / (outer.At - c)
				sum += t
				turning += t * p.At
			}
		}
		return sum, turning
	}
	lo, hi := 0.0, outer.At
	for range 60 {
		mid := (lo + hi) / 2
		if sum, _ := pull(mid); sum > q*mid {
			lo = mid
		} else {
			hi = mid
		}
	}
	c := (lo + hi) / 2
	_, turning := pull(c)
	return turning - q*c*c/2, c, false
}

// BothWays returns the lower of the moments with either edge pressed, in N·m, as a limit.
func BothWays(at []float64, depth, pull, q float64) (unit.NewtonMetres, string) {
	ahead, behind := make([]Pin, len(at)), make([]Pin, len(at))
	for i, x := range at {
		ahead[i], behind[i] = Pin{x, pull}, Pin{depth - x, pull}
	}
	m1, _, wood1 := PinMoment(ahead, q)
	m2, _, wood2 := PinMoment(behind, q)
	name := "pins pulled, wood pressed"
	if (m1 <= m2 && wood1) || (m2 < m1 && wood2) {
		name = "wood of the receiving part crushed"
	}
	return unit.NewtonMetres(math.Min(m1, m2) / 1000), name
}

// BondStress returns the shear stress at which a glued dowel is drawn from its hole, in MPa.
//
//	tau = 0.379 L^-0.11 (0.95 S1 + S2) c
//
// L is the glued depth in mm, above 0; S1, S2 the shear strengths of the member and the dowel in MPa; c the
// surface factor, 0.9 for fluted dowels. The hardwood formula is used up to bondCap, the middle of the range that
// was measured; for two weak woods it is known to be too low, which is the safe side.
//
// Source: [eckelman-dowel] in SI form, from memory; [chen-2019] abstract on weak woods, read.
func BondStress(l unit.Length, member, dowel unit.MPa) unit.MPa {
	const fluted = 0.9
	tau := unit.MPa(0.379*math.Pow(l.MM(), -0.11)) * (0.95*member + dowel) * fluted
	return min(tau, bondCap)
}

// bondCap limits the bond stress of a dowel in softwood. Source: [podlena-2018] measured 3.0 to 5.4 MPa
// (abstract, read); 4.5 is a prior inside that range.
const bondCap unit.MPa = 4.5

// CiteBond cites BondStress.
var CiteBond = source.At("eckelman-dowel", "SI form, capped inside the range of podlena-2018", source.Memory)

// ScrewWithdrawal returns the ultimate load of a wood screw pulled from side grain.
//
//	F = 108.25 G² D L
//
// G is the specific gravity at 12 %, D the shank diameter and L the threaded length in the wood, mm; F in N.
// Source: [wood-handbook] chapter 8, from memory; [johnson-1960] found it reasonably applicable (read).
func ScrewWithdrawal(g float64, d, l unit.Length) unit.Newtons {
	return unit.Newtons(108.25 * g * g * d.MM() * l.MM())
}

// CiteScrew cites ScrewWithdrawal.
var CiteScrew = source.At("wood-handbook", "chapter 8, withdrawal of wood screws", source.Memory)

// Lateral returns the load at which a pin between two pieces of wood yields in single shear: the least of the six
// modes, without rope effect.
//
// f1, f2 are embedding strengths in MPa, t1, t2 the depths in the two parts and d the diameter in mm, all above
// 0; my the yield moment of the pin in N·mm. The result is in N.
//
// Source: [en-1995-1-1] equations 8.6 a to f, read in open-source transcriptions.
func Lateral(f1, f2 unit.MPa, t1, t2, d unit.Length, my float64) unit.Newtons {
	b := float64(f2 / f1)
	fh, a, c, dd := float64(f1), t1.MM(), t2.MM(), d.MM()
	r := c / a
	unitLoad := fh * a * dd
	modes := []float64{
		unitLoad,
		float64(f2) * c * dd,
		unitLoad / (1 + b) * (math.Sqrt(b+2*b*b*(1+r+r*r)+b*b*b*r*r) - b*(1+r)),
		1.05 * unitLoad / (2 + b) * (math.Sqrt(2*b*(1+b)+4*b*(2+b)*my/(fh*dd*a*a)) - b),
		1.05 * fh * c * dd / (1 + 2*b) * (math.Sqrt(2*b*b*(1+b)+4*b*(1+2*b)*my/(fh*dd*c*c)) - b),
		1.15 * math.Sqrt(2*b/(1+b)) * math.Sqrt(2*my*fh*dd),
	}
	low := modes[0]
	for _, m := range modes[1:] {
		low = math.Min(low, m)
	}
	return unit.Newtons(low)
}

// Embedding returns the embedding strength of pre-drilled softwood under a pin, in MPa.
//
//	f0 = 0.082 (1 - 0.01 d) rho,  f90 = f0/(1.35 + 0.015 d)
//
// d in mm, rho in kg/m³ (characteristic in the standard; the mean is used here for a mean). across says that the
// load acts across the grain.
//
// Source: [en-1995-1-1] equations 8.31 to 8.33, read in an open-source transcription.
func Embedding(d unit.Length, rho unit.KilogramsPerCubicMetre, across bool) unit.MPa {
	f := 0.082 * (1 - 0.01*d.MM()) * float64(rho)
	if across {
		f /= 1.35 + 0.015*d.MM()
	}
	return unit.MPa(f)
}

// CiteLateral cites Lateral and Embedding.
var CiteLateral = source.At("en-1995-1-1", "equations 8.6 and 8.31 to 8.33", source.Read)

// SumSquares returns the sum of squares of distances, mm², from a pivot.
func SumSquares(at []float64, pivot float64) float64 {
	sum := 0.0
	for _, x := range at {
		sum += (x - pivot) * (x - pivot)
	}
	return sum
}

// PivotFrom returns the turning point for stiffness: half way between the pressed edge and the pin nearest to it.
// Source: [eckelman-dowel], from memory.
func PivotFrom(at []float64) float64 { return at[0] / 2 }

// Elastic give. There is no published rotational stiffness for furniture joints of known sizes; these two
// relations are derived in docs/methods/joints.md and are marked assumed wherever they are printed.

// GlueLineStiffness returns the shear stiffness of a glued pin's surroundings in one part, N/mm.
//
//	k = 2 pi G L / ln 4
//
// G is the shear modulus of the wood, E/16; L the glued depth in mm. The wood within two diameters gives.
func GlueLineStiffness(e unit.MPa, l unit.Length) float64 {
	return 2 * math.Pi * float64(e) / 16 * l.MM() / math.Log(4)
}

// ScrewStiffness returns the axial stiffness of a screw, N/mm.
//
//	k = 25 d l
//
// d shank and l threaded length, mm. Source: form used in approvals of wood screws, from memory.
func ScrewStiffness(d, l unit.Length) float64 { return 25 * d.MM() * l.MM() }

// LateralStiffness returns the slip stiffness of a pin loaded sideways, N/mm.
//
//	K = rho^1.5 d / 23
//
// rho the mean density in kg/m³, d the diameter in mm.
// Source: [en-1995-1-1] table 7.1, from memory.
func LateralStiffness(rho unit.KilogramsPerCubicMetre, d unit.Length) float64 {
	return math.Pow(float64(rho), 1.5) * d.MM() / 23
}

// CiteStiffness cites the elastic give.
var CiteStiffness = source.Cite{Key: "longgrain", Place: "docs/methods/joints.md, elastic give", Confidence: source.Assumed}

// TwistOf returns the twisting moment, N·m, at which the outermost of a row of pins reaches its sideways load.
//
//	T = V sum r² / r_max
func TwistOf(at []float64, v float64) float64 {
	middle := 0.0
	for _, x := range at {
		middle += x / float64(len(at))
	}
	far := 0.0
	for _, x := range at {
		far = math.Max(far, math.Abs(x-middle))
	}
	if far == 0 {
		return v * 0.005 // a single pin holds a twist by little more than its own thickness: 5 mm taken, assumed
	}
	return v * SumSquares(at, middle) / far / 1000
}

// Series returns the stiffness of two springs in series. Both are above 0.
//
//	k = a b/(a + b)
//
// Source: [timber-theory] springs in series, exact.
func Series(a, b float64) float64 { return a * b / (a + b) }
