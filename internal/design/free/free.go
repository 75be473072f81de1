// Package free works out what a maker says about parts beyond plain sizes and places, after the pattern has made its
// parts: parts that lie between others or beside them, copies in a row, in a mirror or turned, and changes by hand.
//
// Work takes a piece whose pattern has been worked out and returns one in which every part is a box with sizes and a
// corner, as if it had been written out so, together with the list of what was changed by hand. Each part and connection keeps
// the place in the file that it comes from, so that what is found wrong later is told there. The package places nothing in space
// and judges no strength. Parts lie square to the room.
package free

import (
	"longgrain/internal/design/piece"
	"longgrain/internal/ground/problem"
)

// Changed is one thing changed by hand, in words.
type Changed struct {
	Index int    `json:"index"` // of the change in the file
	Of    string `json:"of"`    // the part, or both parts of the joint
	Parts []int  `json:"parts"` // parts of the result that it concerns
	What  string `json:"what"`  // what is changed: "thickness", "joint"
	Was   string `json:"was"`
	Now   string `json:"now"`
	// Misfit says why a joint cannot be made as asked; it is filled in where joints are chosen.
	Misfit string `json:"misfit,omitempty"`
}

// Work works out a piece. The list holds everything wrong at once; the piece is usable only when it is empty.
func Work(p piece.Piece) (piece.Piece, []Changed, problem.List) {
	w := worker{piece: p}
	for i, part := range p.Parts {
		w.parts = append(w.parts, made{Part: part, from: p.PartFrom(i), source: -1})
	}
	for i, c := range p.Connections {
		w.connections = append(w.connections, joined{Connection: c, from: p.ConnectionFrom(i)})
	}
	ofPattern := [2]int{w.count("pattern"), len(w.connections)}
	for ofPattern[1] > 0 && w.connections[ofPattern[1]-1].from != "pattern" {
		ofPattern[1]--
	}
	w.hit = make([]bool, len(p.Changes))
	w.change(0, ofPattern[0], 0, ofPattern[1])
	w.repeat()
	w.place()
	w.meet()
	if len(w.problems) == 0 {
		w.change(ofPattern[0], len(w.parts), ofPattern[1], len(w.connections))
		w.missed()
	}
	w.problems.Sort()
	out := p
	out.Parts, out.Connections, out.Repeats, out.Changes = nil, nil, nil, nil
	var partsFrom, connectionsFrom []string
	for _, m := range w.parts {
		if !m.out {
			m.Part.Like, m.Part.Between, m.Part.Place = "", nil, nil
			out.Parts, partsFrom = append(out.Parts, m.Part), append(partsFrom, m.from)
		}
	}
	for _, c := range w.connections {
		if !c.out {
			out.Connections, connectionsFrom = append(out.Connections, c.Connection), append(connectionsFrom, c.from)
		}
	}
	w.settle(out.Parts)
	return out.From(partsFrom, connectionsFrom), w.changed, w.problems
}

// count returns how many parts come from a place of the file. Those of a pattern come first.
func (w *worker) count(from string) int {
	n := 0
	for n < len(w.parts) && w.parts[n].from == from {
		n++
	}
	return n
}

// worker works one piece out.
type worker struct {
	piece       piece.Piece
	parts       []made
	connections []joined
	changed     []Changed
	hit         []bool     // changes that found what they name
	concerns    [][]string // names of the parts that each of changed concerns
	problems    problem.List
}

// made is a part with the place in the file that it comes from.
type made struct {
	piece.Part
	from   string
	out    bool // left out
	source int  // the part that it is a copy of, -1 for none
	moved  move
	state  state
}

// joined is a connection with the place in the file that it comes from.
type joined struct {
	piece.Connection
	from   string
	out    bool
	beside bool // of a copy to a part that is not copied
}

func (w *worker) report(code problem.Code, path, what, mend string) {
	w.problems.Add(problem.Problem{Code: code, At: w.piece.At(path), What: what, Mend: mend})
}

// settle writes down which parts of the result each change concerns.
func (w *worker) settle(parts []piece.Part) {
	for k := range w.changed {
		w.changed[k].Parts = []int{}
		for _, name := range w.concerns[k] {
			for i, part := range parts {
				if part.Name == name {
					w.changed[k].Parts = append(w.changed[k].Parts, i)
				}
			}
		}
	}
}
