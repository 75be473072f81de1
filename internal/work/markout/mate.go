package markout

import (
	"cmp"
	"math"
	"slices"

	"longgrain/internal/design/assembly"
	"longgrain/internal/ground/geom"
	"longgrain/internal/ground/unit"
)

// Mate is a pair of cuts that must meet: a bore and a bore, a tenon and its mortise.
type Mate struct {
	Connection int   `json:"connection"` // index into Assembly.Connections
	A          Place `json:"a"`
	B          Place `json:"b"`
	// Directions compares the two in the plane of the contact: first in the direction of A's Along, then
	// in that of A's Across.
	Directions [2]Direction `json:"directions"`
}

// Direction compares the two mark-outs of a mate in one direction.
type Direction struct {
	BAlong bool `json:"b_along"` // on B this direction is that of Along, else that of Across
	// Same tells that both parts are measured from sides that look the same way. Otherwise the size of
	// one part comes in as an error.
	Same bool `json:"same"`
	// Offset is how far A's reference lies inside B's: the set-back. When Same, B is marked at A's
	// distance and Offset, else at Offset less A's distance.
	Offset unit.Length `json:"offset"`
	// Set is the set-back as marked, rounded to what can be measured.
	Set unit.Length `json:"set"`
	// Designed is by how much the two cuts miss each other in the assembly, Marked by how much they do
	// once both mark-outs are followed and the parts are set off by Set.
	Designed unit.Length `json:"designed"`
	Marked   unit.Length `json:"marked"`
}

// Moved returns how far rounding moves the two parts against each other.
func (d Direction) Moved() unit.Length { return d.Set - d.Offset }

// derive returns B's distance that belongs to A's.
func (d Direction) derive(a, offset unit.Length) unit.Length {
	if d.Same {
		return a + offset
	}
	return offset - a
}

// cutFor lists the features of a place that belong to the named connection.
func cutFor(a assembly.Assembly, p assembly.Place, name string) []int {
	var out []int
	for i, f := range a.Parts[p.Part].Features {
		if f.For == name && f.Side == p.Side && name != "" {
			out = append(out, i)
		}
	}
	return out
}

// pairUp finds the mates of every connection, rounds their marks and compares them. It writes into
// the marks of the sheets.
func pairUp(a assembly.Assembly, sheets []Sheet, smallest unit.Length) []Mate {
	var mates []Mate
	for i, c := range a.Connections {
		for _, pair := range nearest(a, c) {
			mates = append(mates, Mate{Connection: i, A: Place{c.A.Part, pair[0]}, B: Place{c.B.Part, pair[1]}})
		}
	}
	inPair := map[Place]bool{}
	for i := range mates {
		m := &mates[i]
		inPair[m.A], inPair[m.B] = true, true
		roundPair(a, sheets, m, smallest)
	}
	for i := range sheets {
		for k := range sheets[i].Marks {
			if m := &sheets[i].Marks[k]; !inPair[Place{i, k}] {
				m.Along, m.Across = roundMiddle(m.Along, m.Length, smallest), roundMiddle(m.Across, m.Width, smallest)
			}
		}
	}
	return mates
}

// roundMiddle rounds where a cut begins and returns its middle, so that a bore is marked at its
// middle and a mortise at its near end.
func roundMiddle(middle, extent, smallest unit.Length) unit.Length {
	half := extent / 2
	return (middle - half).RoundTo(smallest) + half
}

// nearest pairs the cuts of the two parts of a connection, the nearest first, each cut once.
func nearest(a assembly.Assembly, c assembly.Connection) [][2]int {
	type candidate struct {
		pair     [2]int
		distance float64
	}
	var all []candidate
	for _, i := range cutFor(a, c.A, c.Name) {
		for _, j := range cutFor(a, c.B, c.Name) {
			p, q := a.Parts[c.A.Part], a.Parts[c.B.Part]
			f, g := p.Features[i], q.Features[j]
			if !fits(f.Kind, g.Kind) {
				continue
			}
			u, v := middle(p, f)
			s, t := middle(q, g)
			all = append(all, candidate{[2]int{i, j}, p.OnSide(f.Side, u, v, 0).Distance(q.OnSide(g.Side, s, t, 0))})
		}
	}
	slices.SortStableFunc(all, func(x, y candidate) int {
		// Equal distances differ by float noise; a nanometre decides nothing.
		return cmp.Or(cmp.Compare(math.Round(x.distance*1e6), math.Round(y.distance*1e6)), cmp.Compare(x.pair[0], y.pair[0]), cmp.Compare(x.pair[1], y.pair[1]))
	})
	var pairs [][2]int
	usedA, usedB := map[int]bool{}, map[int]bool{}
	for _, x := range all {
		if !usedA[x.pair[0]] && !usedB[x.pair[1]] {
			usedA[x.pair[0]], usedB[x.pair[1]] = true, true
			pairs = append(pairs, x.pair)
		}
	}
	slices.SortFunc(pairs, func(x, y [2]int) int { return cmp.Compare(x[0], y[0]) })
	return pairs
}

// fits tells whether two cuts can belong to one joint.
func fits(a, b assembly.FeatureKind) bool {
	if a == assembly.Tenon || b == assembly.Tenon {
		return a != b && (takesTongue(a) || takesTongue(b))
	}
	return a == b && a != assembly.TaperCut && a != assembly.BevelCut
}

// takesTongue tells whether a cut can take a tenon, tongue, finger or tail.
func takesTongue(k assembly.FeatureKind) bool {
	switch k {
	case assembly.Mortise, assembly.Notch, assembly.Groove, assembly.Rebate:
		return true
	}
	return false
}

// roundPair rounds the mark on A, derives the one on B, and compares the two.
func roundPair(a assembly.Assembly, sheets []Sheet, m *Mate, smallest unit.Length) {
	onA, onB := &sheets[m.A.Part].Marks[m.A.Mark], &sheets[m.B.Part].Marks[m.B.Mark]
	placeA, placeB := m.A, m.B
	onA.Mate, onB.Mate = &placeB, &placeA
	along := compare(a, m, onA.AlongFrom, *onA, *onB, onA.Exact[0])
	across := compare(a, m, onA.AcrossFrom, *onA, *onB, onA.Exact[1])
	onA.Along = roundMiddle(onA.Along, onA.Length, smallest)
	onA.Across = roundMiddle(onA.Across, onA.Width, smallest)
	settle(&along, onA.Along, onB, smallest)
	settle(&across, onA.Across, onB, smallest)
	m.Directions = [2]Direction{along, across}
}

// compare measures one direction of a mate: from is A's reference, dA the exact distance from it.
func compare(a assembly.Assembly, m *Mate, from assembly.Side, onA, onB Mark, dA unit.Length) Direction {
	p, q := a.Parts[m.A.Part], a.Parts[m.B.Part]
	datumA, look := onA.datum(p, from, dA)
	d := Direction{BAlong: math.Abs(boxLook(q, onB.AlongFrom).Dot(look)) > math.Sqrt2/2}
	fromB, dB := onB.AcrossFrom, onB.Exact[1]
	if d.BAlong {
		fromB, dB = onB.AlongFrom, onB.Exact[0]
	}
	d.Same = boxLook(q, fromB).Dot(look) > 0
	datumB, lookB := onB.datum(q, fromB, dB)
	d.Offset = unit.MM(datumA.Sub(datumB).Dot(lookB.Neg()))
	if onA.Slope != nil || onB.Slope != nil {
		d.Offset = d.Offset.RoundTo(unit.Micrometre) // it comes out of sines
	}
	d.Set = d.Offset
	d.Designed = dB - d.derive(dA, d.Offset)
	return d
}

// boxLook is the way a reference looks, whether it is cut at an angle or not.
func boxLook(p assembly.Part, s assembly.Side) geom.Vec {
	_, look := p.Facing(s)
	return look
}

// settle rounds the set-back and derives B's mark from A's. A design in which the cuts miss each
// other by more than half a mark stays wrong, so that it is seen.
func settle(d *Direction, dA unit.Length, onB *Mark, smallest unit.Length) {
	d.Set = d.Offset.RoundTo(smallest)
	d.Marked = d.Designed.RoundTo(smallest)
	dB := d.derive(dA, d.Set) + d.Marked
	if d.BAlong {
		onB.Along = dB
	} else {
		onB.Across = dB
	}
}
