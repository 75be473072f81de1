package plan

import (
	"math"

	"longgrain/internal/check/chance"
	"longgrain/internal/design/joint"
)

// ChanceOf works out how likely the piece is to fail in its life. A plan holds the quick answer; this gives the full one, or one for
// another accepted chance.
func (p *Plan) ChanceOf(o chance.Options) chance.Chance {
	return chance.Of(chance.Input{Assembly: p.Assembly, Answer: p.Structure, Joints: p.jointList(), Lowest: p.lowestReserve()}, o)
}

// lowestReserve returns the lowest reserve of strength of all joints and parts; infinity where nothing carries a load.
func (p *Plan) lowestReserve() joint.Reserve {
	lowest := joint.Reserve(math.Inf(1))
	for _, g := range p.Joints {
		if g.Made {
			lowest = min(lowest, g.Final.Reserve)
		}
	}
	for _, c := range p.Structure.Members {
		lowest = min(lowest, c.Reserve)
	}
	return lowest
}
