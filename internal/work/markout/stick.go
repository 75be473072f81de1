package markout

import (
	"cmp"
	"fmt"
	"slices"

	"longgrain/internal/design/assembly"
	"longgrain/internal/ground/unit"
)

// Stick is a strip of wood with the positions along a joint marked on it once, from which all parts
// of that joint are marked: the same pencil line serves both mates.
type Stick struct {
	Marks []unit.Length `json:"marks"` // from the end of the stick
	Rows  []StickRow    `json:"rows"`
}

// StickRow says where to lay the stick.
type StickRow struct {
	From  string      `json:"from"`  // the reference that the end of the stick lies at: "edge" or "end"
	Inset unit.Length `json:"inset"` // how far inside that reference the end of the stick lies
	Cuts  []Cuts      `json:"cuts"`
	Where string      `json:"where"`
}

// findSticks collects the positions along each joint that two parts share.
func findSticks(a assembly.Assembly, m Markout) []Stick {
	type row struct {
		from  string
		inset unit.Length
	}
	marks := map[string][]unit.Length{}
	rows := map[string]map[row]tally{}
	lay := func(key string, inset unit.Length, p Place, from assembly.Side) {
		s := m.Sheets[p.Part]
		r := row{s.References.Role(from), inset}
		if rows[key] == nil {
			rows[key] = map[row]tally{}
		}
		if rows[key][r] == nil {
			rows[key][r] = tally{}
		}
		rows[key][r][Cuts{Part: p.Part, Side: s.Marks[p.Mark].Side, Against: r.from}]++
	}
	for _, group := range byConnection(m.Mates) {
		if !group[0].Directions[0].Same {
			continue
		}
		at := positions(m, group)
		key := fmt.Sprint(at)
		marks[key] = at
		for _, mate := range group {
			d := mate.Directions[0]
			lay(key, 0, mate.A, m.mark(mate.A).AlongFrom)
			from := m.mark(mate.B).AcrossFrom
			if d.BAlong {
				from = m.mark(mate.B).AlongFrom
			}
			lay(key, d.Set, mate.B, from)
		}
	}
	var out []Stick
	for key, found := range rows {
		s := Stick{Marks: marks[key]}
		for r, cuts := range found {
			sr := StickRow{From: r.from, Inset: r.inset, Cuts: cuts.sorted()}
			sr.Where = where(a, sr.Cuts)
			s.Rows = append(s.Rows, sr)
		}
		slices.SortFunc(s.Rows, func(x, y StickRow) int {
			return cmp.Or(cmp.Compare(x.Inset, y.Inset), comparePlace(x.Cuts[0], y.Cuts[0]))
		})
		out = append(out, s)
	}
	slices.SortFunc(out, func(x, y Stick) int {
		return cmp.Or(comparePlace(x.Rows[0].Cuts[0], y.Rows[0].Cuts[0]), slices.Compare(x.Marks, y.Marks))
	})
	return out
}

// mark returns the mark at a place.
func (m Markout) mark(p Place) Mark { return m.Sheets[p.Part].Marks[p.Mark] }

// positions returns where the cuts of one joint lie along it, each once, in rising order.
func positions(m Markout, group []Mate) []unit.Length {
	var at []unit.Length
	for _, mate := range group {
		at = append(at, m.mark(mate.A).AlongStations()...)
	}
	slices.Sort(at)
	return slices.Compact(at)
}

// byConnection splits mates, which come in the order of connections, into those of each connection.
func byConnection(mates []Mate) [][]Mate {
	var out [][]Mate
	for i, m := range mates {
		if i == 0 || m.Connection != mates[i-1].Connection {
			out = append(out, nil)
		}
		out[len(out)-1] = append(out[len(out)-1], m)
	}
	return out
}
