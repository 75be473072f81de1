package free

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"longgrain/internal/design/piece"
	"longgrain/internal/ground/problem"
	"longgrain/internal/ground/unit"
)

// maxConnections bounds the connections of a piece with its copies. Judgement: four for each part of the largest piece.
const maxConnections = 4 * piece.MaxParts

// repeat adds the copies, by name only: they are worked out when the parts that they copy are. A later repeat may copy the copies of
// an earlier one.
func (w *worker) repeat() {
	for i, r := range w.piece.Repeats {
		path := fmt.Sprintf("repeats[%d]", i)
		var of []int
		for n, name := range r.Parts {
			k := slices.IndexFunc(w.parts, func(m made) bool { return m.Name == name && !m.out })
			switch {
			case name == "":
			case k < 0:
				w.report(problem.UnknownName, fmt.Sprintf("%s.parts[%d]", path, n), fmt.Sprintf("there is no part %q", name), w.nearest(name))
			case slices.Contains(of, k):
				w.report(problem.DuplicateName, fmt.Sprintf("%s.parts[%d]", path, n), fmt.Sprintf("%q is named twice", name), "take one out")
			default:
				of = append(of, k)
			}
		}
		if len(r.Rename) == 2 && r.Rename[0] == r.Rename[1] || len(r.Rename) == 1 {
			w.report(problem.BadGeometry, path+".rename", "renames nothing", "write two different words, such as [left, right]")
			return
		}
		if len(w.parts)+len(of)*max(1, r.Count) > piece.MaxParts {
			w.report(problem.OutOfRange, path, fmt.Sprintf("makes more than %d parts", piece.MaxParts), "make fewer copies")
			return
		}
		for n := range max(1, r.Count) {
			if !w.copyOf(r, path, of, n+1) {
				return
			}
		}
	}
}

// connected tells whether two parts are connected already.
func (w *worker) connected(between [2]string) bool {
	return slices.ContainsFunc(w.connections, func(c joined) bool {
		return !c.out && (c.Between == between || c.Between == [2]string{between[1], between[0]})
	})
}

// meet drops the connections of copies to parts that are not copied where the two do not touch.
func (w *worker) meet() {
	for i := range w.connections {
		c := &w.connections[i]
		if !c.beside {
			continue
		}
		var ends []box
		for _, m := range w.parts {
			if slices.Contains(c.Between[:], m.Name) && !m.Stands() { // what leans is left to the assembly
				ends = append(ends, boxOf(m.Part))
			}
		}
		c.out = c.out || len(ends) == 2 && !ends[0].meets(ends[1])
	}
}

// nearest names the part that may be meant.
func (w *worker) nearest(name string) string {
	var names []string
	for _, m := range w.parts {
		names = append(names, m.Name)
	}
	return problem.DidYouMean(name, names)
}

// copyOf adds the n-th copy of parts and of their connections.
func (w *worker) copyOf(r piece.Repeat, path string, of []int, n int) bool {
	named := map[string]string{}
	for _, k := range of {
		source := w.parts[k].Name
		name := copyName(source, r, n)
		if slices.ContainsFunc(w.parts, func(m made) bool { return m.Name == name && !m.out }) {
			mend := "choose other words for rename:"
			if len(r.Rename) == 0 {
				mend = "add rename: with a word of the names and what it becomes"
			}
			w.report(problem.DuplicateName, path, fmt.Sprintf("the copy of %q would be a second part named %q", source, name), mend)
			return false
		}
		named[source] = name
		w.parts = append(w.parts, made{Part: piece.Part{Name: name, Role: w.parts[k].Role}, from: path, source: k, moved: moveOf(r, n)})
		w.parts[len(w.parts)-1].moved.names = named
	}
	for i := range w.connections { // copies made here are not looked at again: the range is that of before
		c := w.connections[i]
		first, one := named[c.Between[0]]
		second, two := named[c.Between[1]]
		if c.out || !one && !two || r.Alone && !(one && two) {
			continue
		}
		if !one {
			first = c.Between[0]
		}
		if !two {
			second = c.Between[1]
		}
		again := joined{Connection: c.Connection, from: path}
		again.Name, again.Between = "", [2]string{first, second}
		if w.connected(again.Between) {
			continue // it is written out
		}
		again.beside = one != two
		again.Faces = nil
		for _, face := range c.Faces {
			again.Faces = append(again.Faces, moveOf(r, n).side(face))
		}
		w.connections = append(w.connections, again)
	}
	if len(w.connections) > maxConnections {
		w.report(problem.OutOfRange, path, fmt.Sprintf("makes more than %d connections", maxConnections), "make fewer copies, or add alone: yes")
		return false
	}
	return true
}

// copyName gives a copy its name: with a word replaced, or with the next numbers.
func copyName(source string, r piece.Repeat, n int) string {
	if len(r.Rename) == 2 {
		renamed := strings.ReplaceAll(source, r.Rename[0], r.Rename[1])
		if max(1, r.Count) == 1 || renamed == source {
			return renamed
		}
		return fmt.Sprintf("%s %d", renamed, n)
	}
	base, first := source, 1
	if i := strings.LastIndexByte(source, ' '); i > 0 {
		if number, err := strconv.Atoi(source[i+1:]); err == nil && number >= 0 && number < 1e6 {
			base, first = source[:i], number
		}
	}
	return fmt.Sprintf("%s %d", base, first+n)
}

// move is how a copy comes from its part.
type move struct {
	mirror *piece.Mirror
	turn   *piece.Turn
	times  int // quarters of a circle, or steps
	step   [3]unit.Measure
	names  map[string]string // of the copies, by those of the parts
}

func moveOf(r piece.Repeat, n int) move {
	m := move{mirror: r.Mirror, turn: r.Turn, times: n, step: r.Step}
	if r.Turn != nil {
		quarters := r.Turn.Quarters
		if quarters == 0 {
			quarters = 1
		}
		m.times = ((n*quarters)%4 + 4) % 4
	}
	return m
}

// cannot says why a part that leans or is turned cannot be moved so; "" when it can.
func (v move) cannot(p piece.Part) string {
	switch {
	case !p.Stands():
	case v.mirror != nil && v.mirror.Across == "z":
		return "leans or is turned, and can only be mirrored across x or y"
	case v.turn != nil && v.turn.About != "z":
		return "leans or is turned, and can only be turned about z"
	case v.turn != nil && (p.Turn != 0 || len(p.About) > 0):
		return "is turned already"
	}
	return ""
}

// stance moves what is said of a part that leans or is turned: it leans about its middle and is turned about an upright line after
// that, its sides named as before.
func (v move) stance(s piece.Stance) piece.Stance {
	s.Angled = slices.Clone(s.Angled)
	for i, cut := range s.Angled {
		if name, copied := v.names[cut.To]; copied {
			s.Angled[i].To = name
		}
	}
	s.About = slices.Clone(s.About)
	switch {
	case v.mirror != nil:
		axis := axisOf[v.mirror.Across]
		if s.Lean != nil {
			lean := *s.Lean
			if axis == 0 {
				lean.Right = -lean.Right
			} else {
				lean.Back = -lean.Back
			}
			s.Lean = &lean
		}
		s.Turn = -s.Turn
		if len(s.About) == 2 && axis < 2 {
			s.About[axis].Length = 2*v.mirror.At.Length - s.About[axis].Length
		}
		for i := range s.Angled {
			s.Angled[i].Side = v.side(s.Angled[i].Side)
		}
	case v.turn != nil:
		if v.times > 0 {
			s.Turn, s.About = float64(90*v.times), v.turn.At[:2]
		}
	case len(s.About) == 2:
		for axis := range s.About {
			s.About[axis] = sum(s.About[axis], unit.Length(v.times)*v.step[axis].Length)
		}
	}
	return s
}

// of returns the part moved, under a new name.
func (v move) of(p piece.Part, name string) piece.Part {
	out := p
	out.Name = name
	out.Tapers = slices.Clone(p.Tapers)
	if p.Stands() {
		out.Stance = v.stance(p.Stance)
		if v.turn != nil {
			return out // its sides keep the names that they have before it is turned
		}
	}
	switch {
	case v.mirror != nil:
		axis := axisOf[v.mirror.Across]
		b := boxOf(p)
		out.At[axis].Length = 2*v.mirror.At.Length - b.hi(axis)
	case v.turn != nil:
		for range v.times {
			out = v.quarter(out)
		}
	default:
		for axis := range out.At {
			out.At[axis] = sum(out.At[axis], unit.Length(v.times)*v.step[axis].Length)
		}
	}
	for i := range out.Tapers {
		t := &out.Tapers[i]
		t.Side, t.Toward = v.side(t.Side), v.side(t.Toward)
	}
	return out
}

// quarter turns a part by a quarter of a circle: from the axis after that of the turn to the one after it.
func (v move) quarter(p piece.Part) piece.Part {
	about := axisOf[v.turn.About]
	b, c := (about+1)%3, (about+2)%3
	was, out := boxOf(p), p
	// A point at (s, t) from the axis of the turn comes to (-t, s).
	at := v.turn.At
	out.At[b].Length = at[b].Length - (was.hi(c) - at[c].Length)
	out.At[c].Length = at[c].Length + (was.lo[b] - at[b].Length)
	turned := func(axis int) string {
		switch axis {
		case b:
			axis = c
		case c:
			axis = b
		}
		return [3]string{"x", "y", "z"}[axis]
	}
	directions := axes(p)
	out.Along, out.Across = turned(directions[0]), turned(directions[1])
	return out
}

// side returns what becomes of a side.
func (v move) side(name string) string {
	s, plain := sides[name]
	if !plain {
		return name
	}
	switch {
	case v.mirror != nil && s.axis == axisOf[v.mirror.Across]:
		s.high = !s.high
	case v.turn != nil:
		about := axisOf[v.turn.About]
		b, c := (about+1)%3, (about+2)%3
		for range v.times {
			switch s.axis {
			case b:
				s.axis = c
			case c:
				s.axis, s.high = b, !s.high
			}
		}
	}
	low, high := lowHigh(s.axis)
	if s.high {
		return high
	}
	return low
}
