package joint

import (
	"fmt"

	"longgrain/internal/design/assembly"
	"longgrain/internal/design/strength"
	"longgrain/internal/ground/source"
	"longgrain/internal/ground/unit"
	"longgrain/internal/trade/hardware"
)

// CornerBlock is a square block glued and screwed into the inner corner of two parts. The butt of A on B counts for nothing.
const CornerBlock Kind = "corner block"

var blockKind = kind{
	name: CornerBlock, needs: []hardware.Job{hardware.Crosscut, hardware.Rip, hardware.BoreFace, hardware.Drive}, model: screwModel, glued: true,
	suits: meetsSide, possible: cornerBlocks, cut: cutBlock, words: named,
	short: named,
}

// Blocks of square stock. Common practice: 20 to 40 mm, held by two screws in each part until the glue has set.
func blockSizes(f unit.Family) []unit.Length {
	if f == unit.Imperial {
		return []unit.Length{unit.Inch * 3 / 4, unit.Inch * 5 / 4, unit.Inch * 3 / 2}
	}
	return []unit.Length{20 * unit.Millimetre, 30 * unit.Millimetre, 40 * unit.Millimetre}
}

const (
	blockScrew = 4 * unit.Millimetre
	blockBite  = 12 * unit.Millimetre // of the screws in A and B
	blockFree  = 4 * unit.Millimetre  // of the block from the ends of the contact
)

// blockSeat returns A's face in the corner, and how much of B's side lies free beside the contact there.
func blockSeat(s Site) (face assembly.Side, free unit.Length) {
	size, low, high := s.acrossB()
	face = s.innerFace()
	if size == 0 {
		return face, 0
	}
	if face.High() {
		return face, high
	}
	return face, low
}

func cornerBlocks(s Site, m Means) []Joint {
	face, free := blockSeat(s)
	if face.Axis() != 2 || !s.whole() || s.A.Thickness < blockBite+bareWall || s.Room < blockBite {
		return nil
	}
	wish := s.wished(CornerBlock)
	var out []Joint
	for _, size := range blockSizes(m.Family) {
		if wish.Thickness.Length > 0 {
			size = wish.Thickness.Length
		}
		tall := s.Connection.A.Area.SizeU() - 2*blockFree
		if size > free || size*2 > s.A.Length || tall < size {
			continue
		}
		product := fmt.Sprintf("corner block %s × %s × %s", size.Show(m.Family), size.Show(m.Family), tall.Show(m.Family))
		screw := "wood screw " + blockScrew.Show(unit.Metric) + " × " + (size + blockBite).RoundTo(5*unit.Millimetre).Show(unit.Metric)
		j := Joint{Kind: CornerBlock, Sizes: Sizes{Count: 1, Thickness: size, Width: tall, DepthA: size, DepthB: size, Product: product},
			Hardware: []Item{{product, 1}, {screw, 4}}, Jobs: []hardware.Job{hardware.Crosscut, hardware.Rip, hardware.Drive},
			Minutes: minutes(CornerBlock, 1), Shows: Inside,
			Notes: []string{"the block is taken as of the same wood, its grain along the corner; the screws hold it until the glue has set and are not counted"}}
		leg, high := size.MM(), tall.MM()
		one := leg * high
		j.Glue.LongGrain, j.Glue.EndGrain = areaOf(2*one), areaOf(s.Height()*s.Thick())
		peel, tau := s.splits(), s.cheekPulled()
		onA := Limit{"glue of the block on " + s.A.Name + " pulled along", tau * one, citeCheek}
		off := Limit{"the block torn off " + s.B.Name, peel * one, citeOwn}
		j.Strength = Strength{
			Tension: least(screwModel, onA, off),
			ShearU:  least(screwModel, onA),
			ShearV:  least(screwModel, Limit{"the block torn off " + s.A.Name, peel * one, citeOwn}, Limit{"glue of the block on " + s.B.Name + " pulled along", tau * one, citeCheek}),
			BendU: least(screwModel, append(bendingLimits(s), Limit{"glue of the block turned", s.faceTurned(leg, high), strength.CiteTurn},
				broken("the block torn off "+s.B.Name, unit.MPa(peel), leg, high))...),
			BendV: least(screwModel, append(bendingLimitsWeak(s), broken("the block torn off", unit.MPa(peel), high, leg))...),
			Twist: least(screwModel, Limit{"the block torn off", peel * leg * high * high / 6000, source.Assumption()}),
		}
		j.Stiffness = faceStiffness(s, 1, leg, high, leg)
		out = append(out, finish(s, j)...)
		if wish.Thickness.Length > 0 {
			break
		}
	}
	return out
}

// cutBlock bores the pilots for the screws of the block: two in A's face and two in B's side, in the middle of the block.
func cutBlock(s Site, j Joint, _ spot) (onA, onB []assembly.Feature) {
	c, half := s.Connection, j.Sizes.Thickness/2
	face, _ := blockSeat(s)
	r := c.A.Area
	for _, share := range []float64{0.25, 0.75} {
		u := r.U0 + r.SizeU().Scale(share)
		a := assembly.Feature{Kind: assembly.Bore, Side: face, U: half, V: u, Diameter: pilotOf(blockScrew), Depth: blockBite, For: c.Name}
		if c.A.Side.High() {
			a.U = s.A.Length - half
		}
		v := r.V0 - half
		if face.High() {
			v = r.V1 + half
		}
		ub, vb := s.toB(u, v)
		b := assembly.Feature{Kind: assembly.Bore, Side: c.B.Side, U: ub, V: vb, Diameter: pilotOf(blockScrew), Depth: blockBite, For: c.Name}
		onA, onB = append(onA, a), append(onB, b)
	}
	return onA, onB
}
