package joint

import (
	"math"

	"longgrain/internal/design/assembly"
	"longgrain/internal/ground/geom"
	"longgrain/internal/ground/source"
	"longgrain/internal/ground/unit"
)

// angled tells whether the two parts meet in a side that is cut at an angle.
func (s Site) angled() bool {
	_, onA := s.A.Bevel(s.Connection.A.Side)
	_, onB := s.B.Bevel(s.Connection.B.Side)
	return onA || onB
}

// slantWall is the wood that a bore square to an angled shoulder leaves to the long sides of its part, at its bottom.
// Common practice: half of the least wall beside a dowel, since the bottom carries little.
const slantWall = 2 * unit.Millimetre

// fitsSlant tells whether what a joint cuts into A stays inside it: a bore square to an angled shoulder does not run along
// its part, and comes nearer to one side the deeper it goes.
func fitsSlant(s Site, j Joint) bool {
	onA, _ := Cut(s, j)
	planes := s.A.Planes()
	for _, f := range onA {
		var room geom.Solid
		switch f.Kind {
		case assembly.Bore:
			mouth := s.A.OnSide(f.Side, f.U, f.V, 0)
			room = geom.Bore{From: mouth, To: mouth.Add(s.A.Into(f).Scale(f.Depth.MM())), Diameter: f.Diameter.MM()}
		case assembly.Tenon:
			continue
		default:
			room = s.A.Under(f.Side, f.U-f.Length/2, f.V-f.Width/2, f.Length, f.Width, f.Depth)
		}
		for _, side := range assembly.Sides {
			if side != f.Side && planes[side].Inside(room) < slantWall.MM() {
				return false
			}
		}
	}
	return true
}

// grainSlopes is the share of the bending strength that is left where the grain runs out of a piece: the slope, as rise over
// run, and the share of straight-grained wood.
var grainSlopes = [][2]float64{{0, 1}, {1.0 / 25, 0.96}, {1.0 / 20, 0.93}, {1.0 / 15, 0.89}, {1.0 / 10, 0.81}, {1.0 / 5, 0.55}}

var citeSlope = source.At("wood-handbook", "table 5-12, modulus of rupture at slopes of grain", source.Memory)

// straightShare returns the share of the bending strength that a tenon keeps when it stands square to an angled shoulder:
// the grain of A then runs out of it at that angle.
//
// The slope is tan of the angle between the grain of A and the direction out of its end; between the published slopes the
// share is interpolated straight, and beyond 1 in 5 it goes on falling in proportion to the slope, 0.55 · 0.2/slope. It is 1
// on a square shoulder.
//
// Source: [wood-handbook] table 5-12, from memory; beyond 1 in 5 judgement, on the safe side of its curve.
func (s Site) straightShare() float64 {
	f, ok := s.A.Bevel(s.Connection.A.Side)
	if !ok {
		return 1
	}
	slope := math.Hypot(math.Tan(float64(f.OffU)*math.Pi/180), math.Tan(float64(f.OffV)*math.Pi/180))
	for i := 1; i < len(grainSlopes); i++ {
		lo, hi := grainSlopes[i-1], grainSlopes[i]
		if slope <= hi[0] {
			return lo[1] + (hi[1]-lo[1])*(slope-lo[0])/(hi[0]-lo[0])
		}
	}
	last := grainSlopes[len(grainSlopes)-1]
	return last[1] * last[0] / slope
}
