package joint

import (
	"longgrain/internal/design/assembly"
	"longgrain/internal/ground/unit"
)

// place notes where the pins of a joint stand along U, in the middle of the thickness, so that it can be cut at every
// site of its group.
func (j *Joint) place(s Site, at []unit.Length) {
	j.spots = make([]spot, len(at))
	for i, u := range at {
		j.spots[i] = spot{u: u - s.Connection.A.Area.U0}
	}
	j.near = [2]bool{s.NearLow, s.NearHigh}
}

// Cut returns what a joint cuts into the two parts of a site of its group. Where the contact lies the other way round,
// with its high end near the end of B instead of its low one, the pins are turned round with it.
func Cut(s Site, j Joint) (onA, onB []assembly.Feature) {
	k, ok := row(j.Kind)
	if !ok {
		return nil, nil
	}
	r := s.Connection.A.Area
	turned := j.near[0] != j.near[1] && j.near == [2]bool{s.NearHigh, s.NearLow}
	for _, p := range j.spots {
		at := spot{r.U0 + p.u, s.middleV() + p.v}
		if turned {
			at.u = r.U1 - p.u
		}
		a, b := k.cut(s, j, at)
		onA, onB = append(onA, a...), append(onB, b...)
	}
	return onA, onB
}

// facing returns two features that lie on each other at a spot of the contact, one on A's side and one on B's. shape
// gives them their kind and sizes as seen on A; that on B is turned to its side's directions.
func facing(s Site, at spot, shape func(a, b *assembly.Feature)) (onA, onB []assembly.Feature) {
	c := s.Connection
	ub, vb := s.toB(at.u, at.v)
	a := assembly.Feature{Side: c.A.Side, U: at.u, V: at.v, For: c.Name}
	b := assembly.Feature{Side: c.B.Side, U: ub, V: vb, For: c.Name}
	shape(&a, &b)
	if s.turnedOnB() {
		b.Length, b.Width = b.Width, b.Length
	}
	if b.Kind == assembly.Groove || b.Kind == assembly.Rebate {
		b.U, b.V = b.U-b.Length/2, b.V-b.Width/2 // these are placed by their corner
	}
	return []assembly.Feature{a}, []assembly.Feature{b}
}
