package strength

import (
	"math"

	"longgrain/internal/ground/source"
	"longgrain/internal/ground/unit"
)

// Grain is the wood of one part as a glue face finds it.
type Grain struct {
	Shear   unit.MPa // strength along the grain
	Rolling float64  // share of it that shear across the grain, which rolls the fibres, reaches
}

// Rolling shear strength as a share of the shear strength along the grain.
//
// Source: [wood-handbook] chapter 5 gives 0.18 to 0.28 for all woods, from memory. The ends of the range are taken for the
// two groups: rolling shear of beech is several times that of softwood and reached 5.6 MPa [aicher-2016], read, which is 0.40 of its
// shear strength, so the upper end is safe there; for softwood nothing better was read, so the lower end.
const (
	RollingSoft = 0.18
	RollingHard = 0.28
)

// CiteRolling cites RollingSoft and RollingHard.
var CiteRolling = source.At("wood-handbook", "chapter 5, rolling shear 18 to 28 % of shear along the grain", source.Memory)

// atAngle is the shear strength in a direction at an angle to the grain: cos and sin of the angle, squared.
//
//	tau = S r/(r cos² + sin²)
//
// Source: Hankinson's formula with n = 2, [wood-handbook] equation 5-2, from memory; its use for shear is our choice.
func (g Grain) atAngle(cos2, sin2 float64) float64 {
	return float64(g.Shear) * g.Rolling / (g.Rolling*cos2 + sin2)
}

// Pulled returns the stress at which a face glued between two parts whose grains cross at right angles gives way when it
// is pulled along the grain of a, MPa: along the grain of a, and rolling in b.
func Pulled(a, b Grain) unit.MPa {
	return unit.MPa(math.Min(a.atAngle(1, 0), b.atAngle(0, 1)))
}

// Face is a glue face between two parts whose grains cross at right angles, such as the cheek of a tenon: it reaches from
// the shoulder a length into the part that is met, mm.
type Face struct {
	Near, Far float64 // distances of its two edges from the pressed edge of the shoulder, Near not negative
	Length    float64
	Share     float64 // of its area that is glued: 1 for a rectangle, 2 for one on either side of a tenon
}

// FacesTurned returns the moment, N·mm, at which glue faces are turned off while the shoulder presses the wood, and the
// depth of contact c that goes with it.
//
//	M = min over c of  sum over faces of the integral of tau(phi) r dA  +  P(c) c/2
//
// The parts turn about the end of the contact, on the line of the shoulder at a distance c from the pressed edge; r is the
// distance from there, and tau the lower strength of both woods in the direction of sliding. P is the force of the bed. Of
// all turning points the one that asks for the least moment counts: the upper bound of plastic theory, so more face, more
// strength or more bed never lowers the result. c is searched up to half the distance to the far edge.
//
// Panics when there is no face. The integral is taken by Gauss's rule with 6 by 6 points. Source: [longgrain]
// docs/methods/joints.md, derived.
func FacesTurned(faces []Face, a, b Grain, bed Bed) (moment, contact float64) {
	if len(faces) == 0 {
		panic("strength: no glue face")
	}
	most := 0.0
	for _, f := range faces {
		most = math.Max(most, f.Far/2)
	}
	at := func(c float64) float64 {
		m := bed.Press(c) * c / 2
		for _, f := range faces {
			m += f.turned(a, b, c)
		}
		return m
	}
	const golden = 0.6180339887498949
	lo, hi := 0.0, most
	p, q := hi-golden*(hi-lo), lo+golden*(hi-lo)
	mp, mq := at(p), at(q)
	for range 10 {
		if mp < mq {
			hi, q, mq = q, p, mp
			p = hi - golden*(hi-lo)
			mp = at(p)
		} else {
			lo, p, mp = p, q, mq
			q = lo + golden*(hi-lo)
			mq = at(q)
		}
	}
	if mp < mq {
		return mp, p
	}
	return mq, q
}

// gauss6 are the points and weights of Gauss's rule on 0 to 1.
var gauss6 = [6][2]float64{
	{0.0337652428984240, 0.0856622461895852}, {0.1693953067668678, 0.1803807865240693}, {0.3806904069584016, 0.2339569672863455},
	{0.6193095930415985, 0.2339569672863455}, {0.8306046932331322, 0.1803807865240693}, {0.9662347571015760, 0.0856622461895852},
}

// turned returns the integral of tau r dA over a face that turns about a point on the line of the shoulder, N·mm.
func (f Face) turned(a, b Grain, c float64) float64 {
	sum := 0.0
	sa, sb := float64(a.Shear)*a.Rolling, float64(b.Shear)*b.Rolling
	for _, gx := range gauss6 {
		x := f.Length * gx[0]
		for _, gy := range gauss6 {
			y := f.Near + (f.Far-f.Near)*gy[0] - c
			// It slides square to the arm: along the grain of a (x) by y/r, along that of b (y) by x/r; both as atAngle has it.
			x2, y2 := x*x, y*y
			r2 := x2 + y2
			tau := min(sa/(a.Rolling*y2+x2), sb/(b.Rolling*x2+y2)) * r2
			sum += gx[1] * gy[1] * math.Sqrt(r2) * tau
		}
	}
	return sum * f.Length * (f.Far - f.Near) * f.Share
}
