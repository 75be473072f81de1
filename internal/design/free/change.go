package free

import (
	"fmt"
	"slices"

	"longgrain/internal/design/piece"
	"longgrain/internal/ground/problem"
	"longgrain/internal/ground/unit"
)

// change carries out the changes by hand, in the order of the file, for a range of the parts and connections: first those of the
// pattern, so that what lies beside them follows, then the others.
func (w *worker) change(from, to, joinedFrom, joinedTo int) {
	for i, c := range w.piece.Changes {
		if len(c.Between) == 2 {
			w.changeJoint(i, c, joinedFrom, joinedTo)
			continue
		}
		var found []int
		for _, k := range w.named(c.Part) {
			if k >= from && k < to {
				found = append(found, k)
			}
		}
		w.changeParts(i, c, found)
	}
}

// missed reports the changes that name what the piece does not have.
func (w *worker) missed() {
	for i, c := range w.piece.Changes {
		path := fmt.Sprintf("changes[%d]", i)
		if w.hit[i] {
			continue
		}
		names, places := []string{c.Part}, []string{path + ".part"}
		if len(c.Between) == 2 {
			names, places = c.Between, []string{path + ".between[0]", path + ".between[1]"}
		}
		told := false
		for n, name := range names {
			if len(w.named(name)) == 0 {
				told = true
				w.report(problem.NoLongerFits, places[n], fmt.Sprintf("the piece has no part %q at these sizes", name),
					w.instead(name, "take the change out, or choose sizes that make the part"))
			}
		}
		if !told {
			w.report(problem.NoLongerFits, path+".between", fmt.Sprintf("nothing connects %q and %q at these sizes", c.Between[0], c.Between[1]),
				"take the change out, or name two parts that are connected")
		}
	}
}

// changeParts changes the part of a name, or all parts of a role.
func (w *worker) changeParts(i int, c piece.Change, found []int) {
	path := fmt.Sprintf("changes[%d]", i)
	for _, k := range found {
		m := &w.parts[k]
		m.from, w.hit[i] = path, true
		if c.Out {
			m.out = true
			for n := range w.connections {
				w.connections[n].out = w.connections[n].out || slices.Contains(w.connections[n].Between[:], m.Name)
			}
			w.note(i, m.Name, "part", "there", "left out")
			continue
		}
		w.changeWords(i, m, c)
		if !w.resize(i, k, c) {
			return
		}
		moved := c.Move != [3]unit.Measure{}
		if moved && m.Name != c.Part {
			w.report(problem.BadGeometry, path+".move", fmt.Sprintf("%q are several parts", c.Part), "move each part by its name")
			return
		}
		for axis, by := range c.Move {
			m.At[axis] = sum(m.At[axis], by.Length)
		}
		if moved {
			w.note(i, m.Name, "place", "as it was made", fmt.Sprintf("moved %s right, %s back, %s up", c.Move[0], c.Move[1], c.Move[2]))
		}
	}
}

// changeWords changes what is said of a part in words.
func (w *worker) changeWords(i int, m *made, c piece.Change) {
	for _, word := range []struct {
		what, now string
		of        *string
		unsaid    string
	}{
		{"species", c.Species, &m.Species, "the wood of the piece"},
		{"role", c.Role, &m.Role, "other"},
		{"build", c.Build, &m.Build, "left to the plan"},
	} {
		if word.now == "" || word.now == *word.of {
			continue
		}
		was := *word.of
		if was == "" {
			was = word.unsaid
		}
		*word.of = word.now
		w.note(i, m.Name, word.what, was, word.now)
	}
}

// resize gives a part other sizes. The side that stays is the one that is named; without a name, the first of left, front, bottom,
// then right, back, top, then the middle that keeps the part on what it is connected to and out of the others.
func (w *worker) resize(i, k int, c piece.Change) bool {
	m, path := &w.parts[k], fmt.Sprintf("changes[%d]", i)
	for n, now := range c.Sizes() {
		if now.Length == 0 || now == [3]unit.Measure{m.Length, m.Width, m.Thickness}[n] {
			continue
		}
		what := [3]string{"length", "width", "thickness"}[n]
		size := [3]*unit.Measure{&m.Length, &m.Width, &m.Thickness}[n]
		was, axis := *size, axes(m.Part)[n]
		*size = now
		growth := now.Length - was.Length
		back := func(stays string) unit.Length { // how far the corner goes back when that stays
			switch s := sides[stays]; {
			case stays == "middle":
				return growth / 2
			case s.high:
				return growth
			}
			return 0
		}
		if c.Stays != "" && c.Stays != "middle" && sides[c.Stays].axis != axis {
			if !sizesAlong(c, m.Part, sides[c.Stays].axis) {
				w.report(problem.BadGeometry, path+".stays", fmt.Sprintf("the %s of %q does not lie from %s to the other side", what, m.Name, c.Stays),
					"name a side that the change of size moves, or leave stays: out")
				return false
			}
		}
		at := m.At[axis]
		if s, named := sides[c.Stays]; c.Stays == "middle" || named && s.axis == axis {
			m.At[axis] = sum(at, -back(c.Stays))
		} else {
			low, high := lowHigh(axis)
			best := low
			for _, stays := range []string{low, high, "middle"} {
				m.At[axis] = sum(at, -back(stays))
				if w.sits(k) {
					best = stays
					break
				}
			}
			m.At[axis] = sum(at, -back(best))
		}
		w.note(i, m.Name, what, was.String(), now.String())
	}
	if m.Thickness.Length > m.Width.Length {
		w.report(problem.BadGeometry, path, fmt.Sprintf("%q would be %s thick and %s wide", m.Name, m.Thickness, m.Width), "thickness is the smallest size: change width and thickness together, or take the change out")
		return false
	}
	return true
}

// sizesAlong tells whether a change gives a part another size along an axis of the world.
func sizesAlong(c piece.Change, p piece.Part, axis int) bool {
	for n, now := range c.Sizes() {
		if now.Length != 0 && axes(p)[n] == axis {
			return true
		}
	}
	return false
}

func lowHigh(axis int) (low, high string) {
	return [3]string{"left", "front", "bottom"}[axis], [3]string{"right", "back", "top"}[axis]
}

func sum(m unit.Measure, by unit.Length) unit.Measure {
	m.Length += by
	return m
}

// sits tells whether a part touches what it is connected to and shares no room with any other part.
func (w *worker) sits(k int) bool {
	if w.parts[k].Stands() {
		return true // the assembly tells what it runs into
	}
	mine := boxOf(w.parts[k].Part)
	for n, other := range w.parts {
		if n != k && !other.out && !other.Stands() && mine.invades(boxOf(other.Part)) {
			return false
		}
	}
	for _, c := range w.connections {
		if c.out || !slices.Contains(c.Between[:], w.parts[k].Name) {
			continue
		}
		for n, other := range w.parts {
			if n != k && !other.Stands() && slices.Contains(c.Between[:], other.Name) && !mine.meets(boxOf(other.Part)) {
				return false
			}
		}
	}
	return true
}

// changeJoint changes the joint of the connections between two parts or roles.
func (w *worker) changeJoint(i int, c piece.Change, from, to int) {
	for n := from; n < to; n++ {
		j := &w.connections[n]
		if j.out || !w.between(j.Connection, c.Between) {
			continue
		}
		w.hit[i] = true
		was := "left to the plan"
		if j.Joint != nil {
			was = j.Joint.Kind
		}
		both := j.Between[0] + " to " + j.Between[1]
		if j.from = fmt.Sprintf("changes[%d]", i); c.Out {
			j.out = true
			w.note(i, both, "joint", was, "left out", j.Between[:]...)
			continue
		}
		joint := *c.Joint
		j.Joint = &joint
		w.note(i, both, "joint", was, joint.Kind, j.Between[:]...)
	}
}

// between tells whether a connection lies between two parts or roles.
func (w *worker) between(c piece.Connection, names []string) bool {
	is := func(part, name string) bool {
		return slices.ContainsFunc(w.named(name), func(k int) bool { return w.parts[k].Name == part })
	}
	return is(c.Between[0], names[0]) && is(c.Between[1], names[1]) || is(c.Between[0], names[1]) && is(c.Between[1], names[0])
}

// named returns the part of a name, or else all parts of a role.
func (w *worker) named(name string) []int {
	var roles []int
	for k, m := range w.parts {
		switch {
		case m.out:
		case m.Name == name:
			return []int{k}
		case m.Role == name:
			roles = append(roles, k)
		}
	}
	return roles
}

// instead adds the name that may be meant to a mend.
func (w *worker) instead(name, mend string) string {
	var names []string
	for _, m := range w.parts {
		if !m.out {
			names = append(names, m.Name)
		}
	}
	if near := problem.Nearest(name, names); near != "" {
		return fmt.Sprintf("did you mean %q? Otherwise %s", near, mend)
	}
	return mend
}

// note writes a change down. It concerns the part that it is of, or the parts named.
func (w *worker) note(i int, of, what, was, now string, parts ...string) {
	if len(parts) == 0 {
		parts = []string{of}
	}
	w.changed = append(w.changed, Changed{Index: i, Of: of, What: what, Was: was, Now: now})
	w.concerns = append(w.concerns, parts)
}
