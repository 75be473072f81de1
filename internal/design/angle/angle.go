// Package angle turns slopes and splays into what a maker sets: the angle of the mitre gauge, the tilt of the blade, the
// bevel gauge on face and edge, and the direction and angle to bore for a splayed leg.
//
// All angles are degrees. Saw and gauge settings count from a square cut, so that 0 is square. The package knows no part
// and no piece: what comes in are angles, what goes out are angles. It does not say which way round a piece lies on the
// saw; that is for the sheet of the part.
package angle

import (
	"math"

	"longgrain/internal/ground/unit"
)

// Saw is how a saw is set for one cut, with the part lying flat on its face: Gauge is how far the mitre gauge, or the
// turntable, is turned from a square cut, Tilt how far the blade leans from upright. Both keep their sign.
type Saw struct {
	Gauge unit.Degrees `json:"gauge"`
	Tilt  unit.Degrees `json:"tilt"`
}

// Steepest is the largest angle from square that a cut across a part may have, in degrees. Common practice: mitre gauges and
// blades stop at 45; up to 60 a jig or a hand saw serves, and beyond it the cut runs with the grain.
const Steepest unit.Degrees = 60

func tan(d unit.Degrees) float64 { return math.Tan(float64(d) * math.Pi / 180) }
func sin(d unit.Degrees) float64 { return math.Sin(float64(d) * math.Pi / 180) }
func cos(d unit.Degrees) float64 { return math.Cos(float64(d) * math.Pi / 180) }

func degrees(radians float64) unit.Degrees { return unit.Degrees(radians * 180 / math.Pi) }

// Across returns the settings for a cut that a bevel gauge shows as face on the face of a part and as edge on its edge.
//
//	gauge = face,  tan(tilt) = tan(edge) * cos(face)
//
// face is the angle from square of the line across the face, edge that of the line across the edge, both within ±90. The part
// lies on its face. Panics at 90 or beyond.
//
// Source: [snyder-gottesman] section 3, the normal of the cutting plane, resolved for the two lines that it leaves. Closed
// form, derived in docs/methods/angles.md.
func Across(face, edge unit.Degrees) Saw {
	if math.Abs(float64(face)) >= 90 || math.Abs(float64(edge)) >= 90 {
		panic("angle: a cut across a part lies within 90 degrees of square")
	}
	return Saw{face, degrees(math.Atan(tan(edge) * cos(face)))}
}

// OnEdge is the other way round: what a bevel gauge shows on the edge of a part that was cut with the settings.
//
//	tan(edge) = tan(tilt) / cos(gauge)
//
// The angles are those of Across. Panics at 90 or beyond.
//
// Source: closed form, from Across.
func (s Saw) OnEdge() unit.Degrees {
	if math.Abs(float64(s.Gauge)) >= 90 || math.Abs(float64(s.Tilt)) >= 90 {
		panic("angle: a saw is set within 90 degrees of square")
	}
	return degrees(math.Atan(tan(s.Tilt) / cos(s.Gauge)))
}

// Mitred returns the settings for the sides of a form of n sides that lean, mitred at the corners.
//
//	tan(gauge) = cos(slope) * tan(180/n),  sin(tilt) = sin(slope) * sin(180/n)
//
// slope is the angle of a side to the floor, 0 to 90: 90 for a box with upright sides, 0 for a flat frame. n is 3 or more.
// Panics outside.
//
// Source: [snyder-gottesman] sections 3 and 5; closed form, checked in the tests by the normals of the sides.
func Mitred(slope unit.Degrees, n int) Saw {
	half := corner(slope, n) / 2
	return Saw{degrees(math.Atan(cos(slope) * tan(half))), degrees(math.Asin(sin(slope) * sin(half)))}
}

// Butted returns the settings for the sides of a form of n sides that lean, the end of each butted against the face of the
// next.
//
//	tan(gauge) = cos(slope) * tan(180/n),  sin(tilt) = cos²(slope) + sin²(slope) * cos(360/n)
//
// The symbols are those of Mitred; a tilt below 0 leans the other way. Panics outside.
//
// Source: [snyder-gottesman] sections 3 and 5; closed form, checked in the tests by the normals of the sides.
func Butted(slope unit.Degrees, n int) Saw {
	turn := corner(slope, n)
	s, c := sin(slope), cos(slope)
	return Saw{degrees(math.Atan(c * tan(turn/2))), degrees(math.Asin(c*c + s*s*cos(turn)))}
}

// corner returns by how much the direction turns at each corner of a form of n sides.
func corner(slope unit.Degrees, n int) unit.Degrees {
	if n < 3 || slope < 0 || slope > 90 {
		panic("angle: a form has three sides or more that lean between flat and upright")
	}
	return unit.Degrees(360 / float64(n))
}

// Leg is how a leg stands that leans two ways: Lean is its whole angle from upright, Sight the direction on the seat in
// which it leans, from the direction of the first angle toward that of the second. Bore along the sight line with the drill
// leant by Lean.
type Leg struct {
	Lean  unit.Degrees `json:"lean"`
	Sight unit.Degrees `json:"sight"`
}

// Splayed returns how a leg stands that leans by first as seen from one side and by second as seen square to that.
//
//	tan(lean) = sqrt(tan²(first) + tan²(second)),  tan(sight) = tan(second) / tan(first)
//
// Both angles lie within ±90; the sight line turns full circle with their signs and is 0 for an upright leg. Panics at 90 or
// beyond.
//
// Source: closed form: the foot lies tan(first) and tan(second) beside the top for each unit of height, docs/methods/angles.md.
func Splayed(first, second unit.Degrees) Leg {
	if math.Abs(float64(first)) >= 90 || math.Abs(float64(second)) >= 90 {
		panic("angle: a leg leans less than 90 degrees")
	}
	a, b := tan(first), tan(second)
	return Leg{degrees(math.Atan(math.Hypot(a, b))), degrees(math.Atan2(b, a))}
}
