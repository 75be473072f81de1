package wood

import (
	"fmt"
	"math"

	"longgrain/internal/ground/source"
	"longgrain/internal/ground/unit"
)

// Cut says how the growth rings lie in the wide face of a board.
type Cut string

// The cuts. In a flat-sawn board the rings run along the wide face and its width moves with the
// tangential figure, in a quarter-sawn board they stand on it and the radial figure holds. Mixed is
// ordinary timber: it may be either, so the larger figure is used and the radial one shown beside it.
const (
	FlatSawn    Cut = "flat-sawn"
	QuarterSawn Cut = "quarter-sawn"
	Mixed       Cut = "mixed"
)

// Cuts lists the words for Cut.
var Cuts = []string{string(FlatSawn), string(QuarterSawn), string(Mixed)}

// ChangeCoefficient is the change of a dimension across the grain, as a ratio to the dimension, for
// each percent of moisture.
type ChangeCoefficient float64

// The range of moisture content that change coefficients are published for.
// Source: [wood-handbook] equation 13-2.
const (
	ChangeFrom Moisture = 6
	ChangeTo   Moisture = 14
)

// Change returns the change coefficient across the width of a board of a cut: the printed one, else
// one computed from the shrinkage of the species. False when no source gives either.
//
// Source: [wood-handbook] table 13-5.
func (s Species) Change(c Cut) (Figure[ChangeCoefficient], bool) {
	q := changeTangent
	if c == QuarterSawn {
		q = changeRadial
	}
	if f, ok := convert[ChangeCoefficient](s.figure(q, noState)); ok {
		return f, true
	}
	shrinkage, ok := s.Shrinkage(c)
	if !ok {
		return Figure[ChangeCoefficient]{}, false
	}
	return computed(ChangeFromShrinkage(shrinkage.Value), shrinkage.Cite), true
}

// ChangeFromShrinkage returns the change coefficient that belongs to a total shrinkage.
//
//	C = 1 / (100 F/S - F + 10)
//
// S is the shrinkage from green to ovendry in percent of the green dimension, above 0 and below 30; F
// is the fibre saturation point, 30 %; the coefficient refers to the dimension at 10 % moisture. It
// regenerates [wood-handbook] table 13-5 from table 4-3 for nearly all species. Panics outside the
// range.
//
// Source: derived in docs/methods/wood.md from [wood-handbook] equation 13-3.
func ChangeFromShrinkage(s unit.Percent) ChangeCoefficient {
	if !(s > 0 && s < 30) {
		panic(fmt.Sprintf("wood: shrinkage of %v %% is out of range", float64(s)))
	}
	const f = fibreSaturation
	return ChangeCoefficient(1 / (100*f/float64(s) - f + 10))
}

// Shrinkage returns the shrinkage across the width of a board of a cut from green to ovendry, in
// percent of the green dimension. False when no source gives it.
//
// Source: [wood-handbook] table 4-3.
func (s Species) Shrinkage(c Cut) (Figure[unit.Percent], bool) {
	q := shrinkTangent
	if c == QuarterSawn {
		q = shrinkRadial
	}
	return convert[unit.Percent](s.figure(q, noState))
}

// VolumetricShrinkage returns the shrinkage of volume from green to ovendry.
func (s Species) VolumetricShrinkage() (Figure[unit.Percent], bool) {
	return convert[unit.Percent](s.figure(shrinkVolume, noState))
}

// ChangeAtRingAngle returns the change coefficient of a face whose rings stand at an angle to it.
//
//	C(a) = C_R sin²a + C_T cos²a
//
// a is the angle between the rings and the wide face: 0 flat-sawn, 90 quarter-sawn. The shear term
// of the strain is left out, which only skews the section.
//
// Source: derived in docs/methods/wood.md.
func ChangeAtRingAngle(radial, tangential ChangeCoefficient, a unit.Degrees) ChangeCoefficient {
	sin, cos := math.Sincos(float64(a) * math.Pi / 180)
	return ChangeCoefficient(float64(radial)*sin*sin + float64(tangential)*cos*cos)
}

// LongitudinalChange is the change along the grain for each percent of moisture: 0.1 to 0.2 % from
// green to ovendry. Small enough to leave out of everything but a remark.
var LongitudinalChange = Figure[ChangeCoefficient]{0.00005, source.At("wood-handbook", "chapter 4", source.Read)}
