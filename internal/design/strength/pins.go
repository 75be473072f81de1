// Package strength holds the formulas that the strength of joints is worked out from: pins drawn, bent and pushed
// sideways in wood, wood pressed beside them, glue faces sheared and turned, and their elastic give.
//
// In go plain sizes and the figures of the wood; out come forces, moments and stiffness of one pin or one glue face.
// Every formula has its source and its range. The package knows no kind of joint and no part: package joint puts the
// formulas together. The derivations are in docs/methods/joints.md.
package strength

import (
	"cmp"
	"math"
	"slices"

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
// Source: [en-1995-1-1] 6.1.5, k_c90 1.5 of solid softwood on separate supports, from memory. The stress at 1 mm of
// crushing over that at the proportional limit, about 1.6 for all woods [astm-d2555], from memory, is the other published figure;
// the lower one is used, and for hardwood too, which the standard does not grant it.
const CrushFactor = 1.5

// spreadLength is how far along the grain, at most, the wood beside a pressed place helps to carry. Source:
// [en-1995-1-1] 6.1.5, 30 mm and not more than the contact is long, from memory.
const spreadLength = 30.0

// Bed is the side of a part that the end of another presses across its grain.
type Bed struct {
	Load float64 // N per mm of contact depth at which the wood is crushed, above 0
	// Along says that the grain runs in the direction of the contact depth: then the wood beside the pressed strip, under
	// the part of the end that has lifted, helps to carry. The wood on the outer side, which may be missing at a corner,
	// does not count.
	Along bool
}

// Press returns the force of a contact of depth c, N.
//
//	P = q c, and along the grain q (c + min(c, 30 mm))
func (b Bed) Press(c float64) float64 {
	if b.Along {
		return b.Load * (c + math.Min(c, spreadLength))
	}
	return b.Load * c
}

// PinMoment returns the moment at which a row of pins and the pressed wood beside them fail.
//
//	sum T_i(c) = P(c),  T_i = T (x_i - c)/(x_max - c) for pins beyond c,  M = sum T_i x_i - P(c) c/2
//
// pins are at x_i from the pressed edge, the outermost with the pull T; P is the force of the bed; c is the depth of
// contact, found by bisection. Where the outermost pin alone would crush the wood up to itself, the wood governs. Any set
// of smaller pulls with its own c is in balance too, so the largest M counts of those with the inner pins left out and with
// less than the full pull: more pins and more pull never lower it. The result is in N·mm. Panics when there is no
// pin or the bed carries nothing.
//
// Source: [longgrain] docs/methods/joints.md, after the single-pin rule of [eckelman-dowel], from memory.
func PinMoment(pins []Pin, bed Bed) (moment, contact float64, woodGoverns bool) {
	if len(pins) == 0 || !(bed.Load > 0) {
		panic("strength: a pin moment needs pins and wood")
	}
	row := slices.SortedFunc(slices.Values(pins), func(a, b Pin) int { return cmp.Compare(b.At, a.At) })
	for n := 1; n <= len(row); n++ {
		if n < len(row) && row[0].At-row[n].At < 1e-9 {
			continue // pins side by side pull together
		}
		if m, c, wood := rowMoment(row[:n], bed); m > moment {
			moment, contact, woodGoverns = m, c, wood
		}
	}
	return moment, contact, woodGoverns
}

// rowMoment is PinMoment of a whole row, the outermost pin first.
func rowMoment(row []Pin, bed Bed) (moment, contact float64, woodGoverns bool) {
	far, outermost := row[0].At, 0.0 // the outermost place, and the pull of all pins there
	for _, p := range row {
		if far-p.At < 1e-9 {
			outermost += p.Pull
		}
	}
	pull := func(c float64) (sum, turning float64) {
		for _, p := range row {
			if p.At > c {
				t := p.Pull * (p.At - c) / (far - c)
				sum += t
				turning += t * p.At
			}
		}
		return sum, turning
	}
	// at is the moment at a contact c that the pins balance with all or a part of their pull.
	at := func(c float64) float64 {
		if c >= far {
			return bed.Press(c) * (far - c/2)
		}
		sum, turning := pull(c)
		return bed.Press(c) * (turning/sum - c/2)
	}
	c := far
	if woodGoverns = bed.Press(c) <= outermost; !woodGoverns {
		lo, hi := 0.0, far
		for range 45 {
			mid := (lo + hi) / 2
			if sum, _ := pull(mid); sum > bed.Press(mid) {
				lo = mid
			} else {
				hi = mid
			}
		}
		c = (lo + hi) / 2
	}
	if moment = at(c); !bed.Along || c <= spreadLength {
		return moment, c, woodGoverns
	}
	// Beyond 30 mm the wood beside the strip helps no more, and less contact may hold more.
	lo, hi := spreadLength, c
	for range 45 {
		a, b := lo+(hi-lo)/3, hi-(hi-lo)/3
		if at(a) < at(b) {
			lo = a
		} else {
			hi = b
		}
	}
	if m := at((lo + hi) / 2); m > moment {
		return m, (lo + hi) / 2, woodGoverns
	}
	return moment, c, woodGoverns
}

// BothWaysOn returns the lower of the moments with either edge pressed, in N·m, and what governs.
func BothWaysOn(at []float64, depth, pull float64, bed Bed) (unit.NewtonMetres, string) {
	ahead, behind := make([]Pin, len(at)), make([]Pin, len(at))
	for i, x := range at {
		ahead[i], behind[i] = Pin{x, pull}, Pin{depth - x, pull}
	}
	m1, _, wood1 := PinMoment(ahead, bed)
	m2, _, wood2 := PinMoment(behind, bed)
	name := "pins pulled, wood pressed"
	if (m1 <= m2 && wood1) || (m2 < m1 && wood2) {
		name = "wood of the receiving part crushed"
	}
	moment := unit.NewtonMetres(math.Min(m1, m2) / 1000)
	if r := RowRule(at, depth, pull); r < moment {
		return r, "pins pulled, by the rule for a row"
	}
	return moment, name
}

// RowRule returns the moment of a row of pins by the published rule for two dowels, in N·m: the pressure lies half way between
// the pin nearest to the pressed edge and that edge, and that pin does not count.
//
//	M = F (d1 + d2/2) for two pins;  M = F Σ x²/x_max for more, x from the pressure
//
// at are the places of the pins and depth is the height of the contact, mm; F is the pull of one pin, N; d1 is the distance of two
// pins and d2 that of the nearer one from the edge. The lower of both ways is returned, and plus infinity for fewer than two
// places, which the rule does not know. Pins side by side count as often as they stand in at.
//
// Source: [eckelman-dowel] rule for two pins, from memory; more pins [longgrain] docs/methods/joints.md, judgement.
func RowRule(at []float64, depth, pull float64) unit.NewtonMetres {
	lo, hi := slices.Min(at), slices.Max(at)
	if hi-lo < 1e-9 {
		return unit.NewtonMetres(math.Inf(1))
	}
	about := func(nearest, edge float64) float64 {
		pivot := (nearest + edge) / 2
		furthest, sum := 0.0, 0.0
		for _, x := range at {
			if math.Abs(x-nearest) > 1e-9 {
				sum += (x - pivot) * (x - pivot)
				furthest = max(furthest, math.Abs(x-pivot))
			}
		}
		return pull * sum / furthest
	}
	return unit.NewtonMetres(min(about(lo, 0), about(hi, depth)) / 1000)
}

// BondStress returns the shear stress at which a glued dowel is drawn from its hole, in MPa.
//
//	tau = 0.379 L^-0.11 (0.95 S1 + S2) c
//
// L is the glued depth in mm, above 0, measured from about 15 to 40; S1, S2 the shear strengths of the member and the
// dowel in MPa, measured where their sum is above 25; c the surface factor, 0.9 for fluted dowels. For two weak woods the
// formula is known to be too low. WoodRoundDowel is the other limit.
//
// Source: [eckelman-dowel] in SI form, from memory; [chen-2019] abstract on weak woods, read.
func BondStress(l unit.Length, member, dowel unit.MPa) unit.MPa {
	const fluted = 0.9
	return unit.MPa(0.379*math.Pow(l.MM(), -0.11)) * (0.95*member + dowel) * fluted
}

// CiteBond cites BondStress.
var CiteBond = source.At("eckelman-dowel", "SI form", source.Memory)

// WoodRoundDowel returns the stress, in MPa over the surface of the dowel, at which the wood around it gives way.
//
//	tau = S along the grain;  tau = S (1 + r)/2 across it
//
// S is the shear strength of the wood along the grain in MPa and r the share of it that rolling shear reaches, see
// RollingShare. Drawn from end grain, every plane around the hole shears along the grain. Drawn from the side of a part, the
// planes that face along the grain hold S and those that face across it roll; the mean of both is taken.
//
// Source: [longgrain] docs/methods/joints.md, derived; strengths [wood-handbook].
func WoodRoundDowel(w Grain, along bool) unit.MPa {
	if along {
		return w.Shear
	}
	return w.Shear * unit.MPa(1+w.Rolling) / 2
}

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
