package joint

import (
	"math"

	"longgrain/internal/design/assembly"
	"longgrain/internal/ground/unit"
	"longgrain/internal/trade/hardware"
)

// place notes where the pins of a joint stand along U, so that it can be cut at every site of its group.
func (j *Joint) place(s Site, at []unit.Length) {
	j.pins = make([]unit.Length, len(at))
	for i, u := range at {
		j.pins[i] = u - s.Connection.A.Area.U0
	}
	j.near = [2]bool{s.NearLow, s.NearHigh}
}

// Cut returns what a joint cuts into the two parts of a site of its group. Where the contact lies the other way round,
// with its high end near the end of B instead of its low one, the pins are turned round with it.
func Cut(s Site, j Joint) (onA, onB []assembly.Feature) {
	r := s.Connection.A.Area
	turned := j.near[0] != j.near[1] && j.near == [2]bool{s.NearHigh, s.NearLow}
	for _, pin := range j.pins {
		u := r.U0 + pin
		if turned {
			u = r.U1 - pin
		}
		a, b := cutPin(s, j, u)
		onA = append(onA, a)
		if b != nil {
			onB = append(onB, *b)
		}
	}
	return onA, onB
}

// cutPin returns the features of one pin, or of the tenon, at u.
func cutPin(s Site, j Joint, u unit.Length) (onA assembly.Feature, onB *assembly.Feature) {
	v, z, c := s.middleV(), j.Sizes, s.Connection
	ub, vb := s.toB(u, v)
	onA = assembly.Feature{Side: c.A.Side, U: u, V: v, For: c.Name}
	b := assembly.Feature{Side: c.B.Side, U: ub, V: vb, For: c.Name}
	switch j.Kind {
	case Dowels:
		onA.Kind, onA.Diameter, onA.Depth = assembly.Bore, z.Diameter, z.DepthA+glueSpace
		b.Kind, b.Diameter, b.Depth = assembly.Bore, z.Diameter, z.DepthB+glueSpace
	case Tenon:
		onA.Kind, onA.Length, onA.Width, onA.Depth = assembly.Tenon, z.Width, z.Thickness, z.DepthB
		b.Kind, b.Length, b.Width, b.Depth = assembly.Mortise, z.Width, z.Thickness, z.DepthB+glueSpace
	case Biscuits:
		onA.Kind, onA.Length, onA.Width, onA.Depth, onA.Rounded = assembly.Slot, z.Width, z.Thickness, z.DepthA, true
		b.Kind, b.Length, b.Width, b.Depth, b.Rounded = assembly.Slot, z.Width, z.Thickness, z.DepthB, true
	case PocketScrews:
		return pocketBore(s, z, u), nil
	}
	if s.turnedOnB() {
		b.Length, b.Width = b.Width, b.Length
	}
	return onA, &b
}

// pocketBore returns the slanting hole in the inner face of A through which a pocket screw goes, from its mouth to the
// shelf on which the head sits; its depth is measured along it. The line of the screw leaves the end in the middle of the
// thickness.
func pocketBore(s Site, z Sizes, u unit.Length) assembly.Feature {
	angle := float64(hardware.PocketHoleAngle) * math.Pi / 180
	middle := s.Thick() / 2
	f := assembly.Feature{Kind: assembly.Bore, Side: s.innerFace(), V: u, Diameter: pocketHole, For: s.Connection.Name,
		U: unit.MM(middle / math.Tan(angle)), Depth: unit.MM(middle/math.Sin(angle)) - z.DepthA, Tilt: -(90 - hardware.PocketHoleAngle)}
	if s.Connection.A.Side.High() {
		f.U, f.Tilt = s.A.Length-f.U, -f.Tilt
	}
	return f
}
