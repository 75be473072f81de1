package structure

import (
	"slices"

	"longgrain/internal/ground/geom"
	"longgrain/internal/solve/spaceframe"
)

// Movement is how a section of a part moves under load, in directions of the piece: the shift of the middle of the section in mm, and the turn
// in radians.
type Movement struct{ Shift, Turn geom.Vec }

// Solved tells whether a case has an answer, by its index in Cases.
func (a Answer) Solved(index int) bool {
	return index >= 0 && index < len(a.results) && a.results[index].Status == spaceframe.Solved
}

// BentSteps is the number of sections of each part in Bent, at equal steps from the low end to the high end.
const BentSteps = 9

// Bent returns how each part moves in a case by its index in Cases, at BentSteps sections; false when the case has no answer. A surface on
// fastenings is no part of the frame: it rides on what carries it without bending.
func (a Answer) Bent(index int) ([][]Movement, bool) {
	if !a.Solved(index) {
		return nil, false
	}
	f, c := a.frame, &a.results[index]
	out := make([][]Movement, len(f.parts))
	for i := range f.parts {
		if f.parts[i].surface {
			continue
		}
		for k := range BentSteps {
			s := f.at(c, i, stepAt(f.a.Parts[i].Length.MM(), k)).Global
			out[i] = append(out[i], Movement{geom.Vec{X: s[0], Y: s[1], Z: s[2]}, geom.Vec{X: s[3], Y: s[4], Z: s[5]}})
		}
	}
	for _, s := range f.surfaces {
		out[s.part] = f.ride(s, out)
	}
	return out, true
}

func stepAt(length float64, k int) float64 { return length * float64(k) / (BentSteps - 1) }

// at returns the state of a part's section at x mm from its low end.
func (f *frame) at(c *spaceframe.CaseResult, part int, x float64) spaceframe.Station {
	fp := &f.parts[part]
	x = f.within(part, x)
	n := len(fp.members) - 1
	for n > 0 && fp.stations[n].x > x {
		n--
	}
	return c.Member(fp.members[n]).Along(x - fp.stations[n].x)
}

// ride returns the movement of a stiff surface that follows its carriers as closely as it can.
//
//	shift = mean, turn: least squares of u = shift + turn × r over the sections of the carriers
//
// r is measured from the middle of these sections; turning about x and y comes from what rises, about z from what moves level. Where the sections
// lie on one line the surface does not turn about it.
//
// Source: least squares, definition.
func (f *frame) ride(s surface, moved [][]Movement) []Movement {
	type point struct{ at, u geom.Vec }
	var points []point
	var middle, shift geom.Vec
	for _, c := range s.carriers {
		for k, m := range moved[c] {
			points = append(points, point{f.centreLine(c, stepAt(f.a.Parts[c].Length.MM(), k)), m.Shift})
		}
	}
	if len(points) == 0 {
		return make([]Movement, BentSteps)
	}
	share := 1 / float64(len(points))
	for _, p := range points {
		middle, shift = middle.Add(p.at.Scale(share)), shift.Add(p.u.Scale(share))
	}
	var xx, yy, xy, xz, yz, round, turned float64
	for _, p := range points {
		r, u := p.at.Sub(middle), p.u.Sub(shift)
		xx, yy, xy = xx+r.X*r.X, yy+r.Y*r.Y, xy+r.X*r.Y
		xz, yz = xz+r.X*u.Z, yz+r.Y*u.Z
		round, turned = round+r.X*r.X+r.Y*r.Y, turned+r.X*u.Y-r.Y*u.X
	}
	var turn geom.Vec
	if det := xx*yy - xy*xy; det > 1e-6*(xx+yy)*(xx+yy) {
		turn.X, turn.Y = (yz*xx-xz*xy)/det, -(xz*yy-yz*xy)/det
	}
	if round > 0 {
		turn.Z = turned / round
	}
	out := make([]Movement, BentSteps)
	for k := range out {
		r := f.centreLine(s.part, stepAt(f.a.Parts[s.part].Length.MM(), k)).Sub(middle)
		out[k] = Movement{shift.Add(turn.Cross(r)), turn}
	}
	return out
}

// Section is what a section of a part carries: the pull along it, and shear and bending across its width and across its thickness, and twist. N and
// N·m; X is in mm from the low end.
type Section struct {
	X, Pull                       float64
	ShearWidth, BendWidth         float64
	ShearThickness, BendThickness float64
	Twist                         float64
}

// justBefore is how far before a load the forces that it changes are given once more, mm.
const justBefore = 1e-3

// Along returns what a part carries in a case by its index in Cases, at the ends of its members, at its loads and at steps between them; false for
// a surface and for a case without answer.
func (a Answer) Along(index, part int) ([]Section, bool) {
	if !a.Solved(index) || a.frame.parts[part].surface {
		return nil, false
	}
	f, c := a.frame, &a.results[index]
	fp := &f.parts[part]
	var out []Section
	for n, name := range fp.members {
		m := c.Member(name)
		var at []float64
		for _, x := range m.LoadPlaces() {
			at = append(at, max(0, x-justBefore), x)
		}
		for k := range BentSteps {
			at = append(at, stepAt(m.Length, k))
		}
		slices.Sort(at)
		for k, x := range slices.Compact(at) {
			if k == 0 { // what stands on the end itself comes between the two
				out = append(out, sectionOf(fp.stations[n].x, negative(m.EndForce[0])))
			}
			out = append(out, sectionOf(fp.stations[n].x+x, m.ForceAt(x)))
		}
	}
	return out, true
}

func sectionOf(x float64, v spaceframe.Vec6) Section {
	return Section{X: x, Pull: v[spaceframe.UX], ShearWidth: v[spaceframe.UY], ShearThickness: v[spaceframe.UZ],
		Twist: v[spaceframe.RX] / 1000, BendThickness: v[spaceframe.RY] / 1000, BendWidth: v[spaceframe.RZ] / 1000}
}

func negative(v spaceframe.Vec6) spaceframe.Vec6 {
	for d := range v {
		v[d] = -v[d]
	}
	return v
}
