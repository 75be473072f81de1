package joint

import (
	"longgrain/internal/design/strength"
	"longgrain/internal/ground/unit"
	"longgrain/internal/trade/wood"
)

// TimberOf returns the clear wood of a species at a moisture content. A figure that neither a source nor a relation gives
// is an error that names it.
func TimberOf(species string, m wood.Moisture) (Timber, error) { return timber(species, m) }

// DrawnDowel returns the strength of one fluted beech dowel of diameter d, glued to a depth l into a block and drawn out,
// N. end says that it stands in end grain. Sizes above 0.
func DrawnDowel(t Timber, d, l unit.Length, end bool) Resistance {
	return least(dowelModel, append(dowelInPart(t, "the block", d, l, end), dowelTorn(d))...)
}

// DrawnScrew returns the strength of one wood screw of shank d with a threaded depth l, drawn out of a block, N. end says
// that it stands in end grain. Sizes above 0.
func DrawnScrew(t Timber, d, l unit.Length, end bool) Resistance {
	f := float64(strength.ScrewWithdrawal(t.Gravity, d, l))
	if end {
		return least(pocketModel, Limit{"screw drawn from end grain", f * strength.EndGrainScrew, strength.CiteScrew})
	}
	return least(pocketModel, Limit{"screw drawn from the side", f, strength.CiteScrew})
}
