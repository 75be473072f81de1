package free

import (
	"fmt"
	"slices"
	"strings"

	"longgrain/internal/design/piece"
	"longgrain/internal/ground/problem"
	"longgrain/internal/ground/unit"
)

// state tells how far a part has been worked out.
type state int

const (
	untouched state = iota
	under           // being worked out
	placed
	failed // its fault has been told
)

// place works every part out that lies beside others, is like another or is a copy.
func (w *worker) place() {
	for k := range w.parts {
		w.resolve(k, nil)
	}
}

// resolve works one part out after those that it needs, and tells whether it could. needs are the parts that wait for it.
func (w *worker) resolve(k int, needs []int) bool {
	m := &w.parts[k]
	switch m.state {
	case placed:
		return true
	case failed:
		return false
	case under:
		var circle []string
		for _, n := range needs[slices.Index(needs, k):] {
			circle = append(circle, w.parts[n].Name)
		}
		w.report(problem.BadGeometry, m.from, "goes round in a circle: "+strings.Join(append(circle, m.Name), " needs "), "place one of them by at: or by another part")
		m.state = failed
		return false
	}
	m.state = under
	ok := true
	needs = append(needs, k)
	if m.source >= 0 {
		if ok = w.resolve(m.source, needs); ok {
			if why := m.moved.cannot(w.parts[m.source].Part); why != "" {
				w.report(problem.BadGeometry, m.from, fmt.Sprintf("%q %s", w.parts[m.source].Name, why), "write the copy out as a part")
				ok = false
			}
			m.Part = m.moved.of(w.parts[m.source].Part, m.Name)
		}
	} else {
		ok = w.like(k, needs) && w.span(k, needs) && w.sides(k, needs) && w.whole(k)
	}
	if m.state == under { // it may have been found in a circle
		m.state = failed
		if ok {
			m.state = placed
		}
	}
	return m.state == placed
}

// other finds a part that another names, worked out.
func (w *worker) other(name, path string, needs []int) (piece.Part, bool) {
	for k, m := range w.parts {
		if m.Name == name && !m.out {
			if !w.resolve(k, needs) {
				return w.parts[k].Part, false
			}
			if w.parts[k].Stands() && !strings.HasSuffix(path, ".like") {
				w.report(problem.BadGeometry, path, fmt.Sprintf("%q leans or is turned: nothing can be laid beside it or between", name), "name a part that stands square, or give sizes and at:")
				return w.parts[k].Part, false
			}
			return w.parts[k].Part, true
		}
	}
	var names []string
	for _, m := range w.parts {
		if !m.out {
			names = append(names, m.Name)
		}
	}
	w.report(problem.UnknownName, path, fmt.Sprintf("there is no part %q", name), problem.DidYouMean(name, names))
	return piece.Part{}, false
}

// like gives a part what it does not say itself from the one that it is like.
func (w *worker) like(k int, needs []int) bool {
	m := &w.parts[k]
	if m.Like == "" {
		return true
	}
	as, ok := w.other(m.Like, m.from+".like", needs)
	if !ok {
		return false
	}
	m = &w.parts[k]
	for _, size := range []struct{ mine, other *unit.Measure }{{&m.Length, &as.Length}, {&m.Width, &as.Width}, {&m.Thickness, &as.Thickness}} {
		if size.mine.Length == 0 {
			*size.mine = *size.other
		}
	}
	for _, word := range []struct{ mine, other *string }{{&m.Role, &as.Role}, {&m.Species, &as.Species}, {&m.Build, &as.Build}} {
		if *word.mine == "" {
			*word.mine = *word.other
		}
	}
	if m.Along == "" && m.Across == "" {
		m.Along, m.Across = as.Along, as.Across
	}
	if m.Tapers == nil {
		m.Tapers = as.Tapers
	}
	return true
}

// span lays a part from one part to another: the clear distance between them is its length.
func (w *worker) span(k int, needs []int) bool {
	if len(w.parts[k].Between) != 2 {
		return true
	}
	var ends [2]box
	ok := true
	for n, name := range w.parts[k].Between {
		path := fmt.Sprintf("%s.between[%d]", w.parts[k].from, n)
		p, found := w.other(name, path, needs)
		ends[n], ok = boxOf(p), ok && found
	}
	if !ok {
		return false
	}
	m := &w.parts[k]
	axis := axes(m.Part)[0]
	low, high := ends[0], ends[1]
	if low.lo[axis] > high.lo[axis] {
		low, high = high, low
	}
	clear := high.lo[axis] - low.hi(axis)
	if clear < unit.Millimetre {
		w.report(problem.BadGeometry, m.from+".between", fmt.Sprintf("nothing is clear between %q and %q %s", m.Between[0], m.Between[1], direction(axis)),
			"move them apart, or choose another direction with along:")
		return false
	}
	if m.At[axis].Length != 0 {
		w.report(problem.BadGeometry, m.from+".at", "is placed "+direction(axis)+" by at: and by between:", "write 0 mm there, or take between: out")
		return false
	}
	m.Length, m.At[axis] = unit.Measure{Length: clear, Family: w.piece.Family()}, unit.Measure{Length: low.hi(axis), Family: w.piece.Family()}
	return true
}

func direction(axis int) string {
	return [3]string{"from left to right", "from front to back", "from bottom to top"}[axis]
}

// sides lays sides of a part beside sides of others. One side of a direction places it, two give it its size there.
func (w *worker) sides(k int, needs []int) bool {
	ok := true
	type lying struct {
		at   unit.Length
		path string
	}
	var low, high, middle [3]*lying
	for n := range w.parts[k].Place {
		from := w.parts[k].from
		place, path := w.parts[k].Place[n], fmt.Sprintf("%s.place[%d]", from, n)
		if place.Side == "" || place.Of == "" {
			return false // told when the file was read
		}
		p, found := w.other(place.Of, path+".of", needs)
		if !found {
			ok = false
			continue
		}
		to := place.To
		if to == "" {
			to = place.Side
		}
		at, axis := reach(boxOf(p), to, place.Out.Length-place.In.Length)
		list := &middle
		if s, plain := sides[place.Side]; plain {
			if list = &low; s.high {
				list = &high
			}
		}
		if list[axis] != nil || list != &middle && middle[axis] != nil || list == &middle && (low[axis] != nil || high[axis] != nil) {
			w.report(problem.BadGeometry, path, "is placed "+direction(axis)+" more than once", "one side places it, a left and a right side, say, give it its size")
			ok = false
			continue
		}
		list[axis] = &lying{at, path}
	}
	for axis := 0; ok && axis < 3; axis++ {
		if low[axis] == nil && high[axis] == nil && middle[axis] == nil {
			continue
		}
		m := &w.parts[k]
		directions := axes(m.Part)
		size := slices.Index(directions[:], axis)
		mine := [3]*unit.Measure{&m.Length, &m.Width, &m.Thickness}[size]
		what := [3]string{"length", "width", "thickness"}[size]
		if m.At[axis].Length != 0 {
			w.report(problem.BadGeometry, m.from+".at", "is placed "+direction(axis)+" by at: and by another part", "write 0 mm there, or take one of them out")
			return false
		}
		at := &m.At[axis]
		at.Family = w.piece.Family()
		switch {
		case low[axis] != nil && high[axis] != nil:
			if mine.Length != 0 && m.Like == "" {
				w.report(problem.BadGeometry, high[axis].path, fmt.Sprintf("has a %s and two sides that give it one", what), "take out "+what+": or one of the sides")
				return false
			}
			*mine, at.Length = unit.Measure{Length: high[axis].at - low[axis].at, Family: w.piece.Family()}, low[axis].at
		case low[axis] != nil:
			at.Length = low[axis].at
		case high[axis] != nil:
			at.Length = high[axis].at - mine.Length
		default:
			at.Length = middle[axis].at - mine.Length/2
		}
	}
	return ok
}

// reach returns where a side or the middle of a box lies, moved outward.
func reach(b box, name string, out unit.Length) (at unit.Length, axis int) {
	s, plain := sides[name]
	if !plain {
		axis = axisOf[strings.TrimPrefix(name, "middle ")]
		return b.lo[axis] + b.size[axis]/2 + out, axis
	}
	if !s.high {
		out = -out
	}
	return b.at(s) + out, s.axis
}

// whole reports a part that nothing gave a size.
func (w *worker) whole(k int) bool {
	m := &w.parts[k]
	for n, size := range []unit.Measure{m.Length, m.Width, m.Thickness} {
		what := [3]string{"length", "width", "thickness"}[n]
		switch {
		case size.Length < 0:
			w.report(problem.BadGeometry, m.from, fmt.Sprintf("the two sides of %q leave no room: its %s would be %s", m.Name, what, size), "move them apart, or swap them")
			return false
		case size.Length == 0:
			w.report(problem.MissingKey, m.from, fmt.Sprintf("nothing gives %q a %s", m.Name, what), "add "+what+":, or two sides that give it one")
			return false
		}
	}
	if m.Thickness.Length > m.Width.Length {
		w.report(problem.BadGeometry, m.from, fmt.Sprintf("%q would be %s thick and %s wide", m.Name, m.Thickness, m.Width), "thickness is the smallest size: give along: and across: other directions, or other sizes")
		return false
	}
	return true
}
