package project

import (
	"slices"
	"sort"
)

// The energy check adds up, for a resource and an interval of time, the least work that every use must do
// inside the interval whatever its start (the overlap when it is moved as early and as late as its bounds
// allow) and compares it with what the resource offers there. It is stronger than time-table propagation
// and slower, so only whole assumptions about the end of the goal are put to it. See Baptiste, Le Pape,
// Nuijten (1999) doi:10.1023/A:1018995000688 (energetic reasoning).

// load is the bounds of one use for the energy check.
type load struct {
	est, lst, ect, lct int
	work               int  // slots worked on, 0 if only the sure part counts
	rests              bool // between windows: counts only where it lies wholly inside
	amount             int
}

// inside returns the least energy of the load between a and b.
func (w load) inside(a, b int) int {
	switch {
	case w.rests && a <= w.est && w.lct <= b:
		return w.amount * w.work
	case w.rests:
		return 0
	case w.work == 0:
		return w.amount * max(0, min(w.ect, b)-max(w.lst, a))
	}
	left := max(0, w.ect-max(a, w.est))
	right := max(0, min(b, w.lct)-w.lst)
	return w.amount * min(w.work, b-a, left, right)
}

// overloaded reports whether some resource cannot do its work within the present bounds.
func (l *learner) overloaded() bool {
	for r := range l.resources {
		if l.overloadedOne(r) {
			return true
		}
	}
	return false
}

func (l *learner) overloadedOne(r int) bool {
	var loads []load
	var begins, ends []int
	for _, id := range l.resources[r].uses {
		u := &l.uses[id]
		if u.present.v >= 0 && !l.isTrue(u.present) {
			continue
		}
		w := load{est: l.earliest(u.start), lst: l.latest(u.start), ect: l.earliest(u.end), lct: l.latest(u.end), amount: int(u.amount)}
		i := u.start.task()
		if !u.hold && len(l.net.shapes[i]) == 1 {
			w.work, w.rests = l.net.shapes[i][0].duration, u.shape != nil
		} else if u.shape != nil {
			continue
		}
		if w.work == 0 && w.lst >= w.ect {
			continue
		}
		loads = append(loads, w)
		begins, ends = append(begins, w.est), append(ends, w.lct)
	}
	slices.Sort(begins)
	slices.Sort(ends)
	begins, ends = slices.Compact(begins), slices.Compact(ends)
	open := l.openSlots(r)
	for _, a := range begins {
		for _, b := range ends[sort.SearchInts(ends, a+1):] {
			room := int(l.resources[r].capacity) * (b - a)
			if open != nil {
				room = int(l.resources[r].capacity) * int(open[b]-open[a])
			}
			for _, w := range loads {
				if room -= w.inside(a, b); room < 0 {
					return true
				}
			}
		}
	}
	return false
}

// openSlots returns, if a resource is used only by tasks bound to calendars, the number of slots before each
// slot in which some of these calendars has a window; nil otherwise. It is worked out once.
func (l *learner) openSlots(r int) []int32 {
	if l.openBefore == nil {
		l.openBefore = make([][]int32, len(l.resources))
		for k := range l.resources {
			l.openBefore[k] = l.countOpen(k)
		}
	}
	return l.openBefore[r]
}

func (l *learner) countOpen(r int) []int32 {
	in := l.net.in
	open := make([]int32, in.Horizon+2)
	seen := make([]bool, len(in.Calendars))
	for _, id := range l.resources[r].uses {
		u := &l.uses[id]
		calendar := in.Tasks[u.start.task()].Calendar
		if u.hold || calendar == AnyTime {
			return nil
		}
		if seen[calendar] {
			continue
		}
		seen[calendar] = true
		for _, w := range in.Calendars[calendar].Windows {
			for t := w.First; t < min(w.End, in.Horizon); t++ {
				open[t+1] = 1
			}
		}
	}
	for t := range in.Horizon + 1 {
		open[t+1] += open[t]
	}
	return open
}

// fails reports whether propagation and the energy check alone refute p.
func (l *learner) fails(p literal) bool {
	l.undo(0)
	if l.isFalse(p) {
		return true
	}
	l.decide(p)
	failed := !l.propagate() || l.overloaded()
	l.undo(0)
	return failed
}
