package strength

import (
	"math"

	"longgrain/internal/ground/source"
	"longgrain/internal/ground/unit"
)

// TurnOfFace returns the integral of the distance from the middle over a rectangular glue face, mm³: the twisting moment
// that it carries when all of it has reached a shear stress of 1 MPa.
//
//	∫r dA = 4 T(a/2, b/2)
//
// a and b are the sides in mm, not negative. For a square it is 0.383 b³. Source: turn, four times.
func TurnOfFace(a, b float64) float64 { return 4 * turn(a/2, b/2) }

// TurnAboutEdge returns the integral of the distance from the shoulder's edge over one cheek, mm³.
//
//	∫r dA = T(l, b) - T(l, a)
//
// l is the length of the tenon and a, b the distances of its two edges from the pressed edge of the rail, mm; an a below 0
// counts as 0. Source: turn.
func TurnAboutEdge(l, a, b float64) float64 { return turn(l, b) - turn(l, math.Max(a, 0)) }

// turn returns the integral of the distance from its corner over a rectangle, mm³.
//
//	T(p, q) = (2 p q √(p² + q²) + p³ asinh(q/p) + q³ asinh(p/q))/6
//
// p and q are its sides in mm; zero when either is zero. Source: closed form of the integral, exact.
func turn(p, q float64) float64 {
	if p <= 0 || q <= 0 {
		return 0
	}
	return (2*p*q*math.Hypot(p, q) + p*p*p*math.Asinh(q/p) + q*q*q*math.Asinh(p/q)) / 6
}

// EndGrainShare is the share of the shear strength of wood that glue on end grain reaches. It soaks away and is not counted
// as glue surface; a little holds. Assumed: nobody has published it for PVA on softwood.
const EndGrainShare = 0.1

// CiteTurn cites FaceAboutMiddle.
var CiteTurn = source.Choice("docs/methods/joints.md, faces turned off; rolling shear of wood-handbook")

// FaceAboutMiddle returns the moment, N·mm, at which a rectangular glue face of crossing grain that nothing presses turns
// about its own middle.
//
//	M = integral of tau(phi) r dA
//
// long is its side along the grain of a and high that along the grain of b, mm; tau is the lower strength of both woods in
// the direction of sliding, as in FacesTurned. Source: [longgrain] docs/methods/joints.md, derived.
func FaceAboutMiddle(a, b Grain, long, high float64) float64 {
	return 4 * Face{Far: high / 2, Length: long / 2, Share: 1}.turned(a, b, 0)
}

// SideFaces returns the pull, N, of n equal glue faces in a row and the moment, N·m, at which the outermost of them gives
// way when the row turns about its middle.
//
//	F = n τ A,  M = τ A Σr²/r_max
//
// tau is the stress in MPa, area that of one face in mm², at the places of the faces in mm. One face alone holds no moment
// this way.
//
// Source: equilibrium of a row of equal elastic faces, exact.
func SideFaces(tau, area float64, at []float64) (unit.Newtons, unit.NewtonMetres) {
	middle, far := 0.0, 0.0
	for _, x := range at {
		middle += x / float64(len(at))
	}
	for _, x := range at {
		far = math.Max(far, math.Abs(x-middle))
	}
	moment := 0.0
	if far > 0 {
		moment = tau * area * SumSquares(at, middle) / far / 1000
	}
	return unit.Newtons(tau * area * float64(len(at))), unit.NewtonMetres(moment)
}

// HeadPull returns the load at which the head of a countersunk screw is drawn through wood across its grain.
//
//	F = f d² (ρ/350)^0.8,  f = 10 MPa
//
// head is the diameter of the head and rho the mean density in kg/m³. f is what the maker declares for each screw; 10 MPa is
// a low value of those declared.
//
// Source: form of [en-1995-1-1] 8.7.2, read in a transcription; f from memory.
func HeadPull(head unit.Length, rho unit.KilogramsPerCubicMetre) unit.Newtons {
	const declared = 10.0
	return unit.Newtons(declared * head.MM() * head.MM() * math.Pow(float64(rho)/350, 0.8))
}

// CiteHead cites HeadPull.
var CiteHead = source.At("en-1995-1-1", "8.7.2, head pulled through", source.Memory)

// EndGrainScrew is the pull of a screw in end grain over that in side grain, for loads of a short test.
//
// Source: [wood-handbook] old rule 0.60, secondary; other works say 0.75, 0.70 and none. Under lasting load 0.30 is used.
const EndGrainScrew = 0.6

// SteelTension returns the load at which a screw is torn in two at its root.
//
//	F = 600 MPa · π d²/4
//
// root is the diameter at the bottom of the thread. Source: definition; the 600 MPa of hardened screws are assumed.
func SteelTension(root unit.Length) unit.Newtons {
	return unit.Newtons(600 * math.Pi / 4 * root.MM() * root.MM())
}

// SteelYield returns the yield moment of a screw, N·mm.
//
//	My = 0.15 · 600 d^2.6
//
// d is the shank in mm. Source: [en-1995-1-1] 8.14 with the strength halved for the thread, from memory; 600 MPa assumed.
func SteelYield(shank unit.Length) float64 { return 0.15 * 600 * math.Pow(shank.MM(), 2.6) }
