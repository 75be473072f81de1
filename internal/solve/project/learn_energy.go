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

// loadOf returns the bounds of a use, or false if it counts for nothing.
func (l *learner) loadOf(u *use) (w load, ok bool) {
	if u.present.v >= 0 && !l.isTrue(u.present) {
		return w, false
	}
	w = load{est: l.earliest(u.start), lst: l.latest(u.start), ect: l.earliest(u.end), lct: l.latest(u.end), amount: int(u.amount)}
	if i := u.start.task(); !u.hold && len(l.net.shapes[i]) == 1 {
		w.work, w.rests = l.net.shapes[i][0].duration, u.shape != nil
	} else if u.shape != nil {
		return w, false
	}
	return w, w.work > 0 || w.lst < w.ect
}

// overloaded reports whether some resource cannot do its work within the present bounds in some interval
// from an earliest start to a latest end.
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
		if w, ok := l.loadOf(&l.uses[id]); ok {
			loads = append(loads, w)
			begins, ends = append(begins, w.est), append(ends, w.lct)
		}
	}
	slices.Sort(begins)
	slices.Sort(ends)
	begins, ends = slices.Compact(begins), slices.Compact(ends)
	for _, a := range begins {
		for _, b := range ends[sort.SearchInts(ends, a+1):] {
			room := l.room(r, a, b)
			for _, w := range loads {
				if room -= w.inside(a, b); room < 0 {
					return true
				}
			}
		}
	}
	return false
}

// room returns the energy that a resource offers between a and b.
func (l *learner) room(r, a, b int) int {
	if open := l.openSlots(r); open != nil {
		return int(l.resources[r].capacity) * int(open[b]-open[a])
	}
	return int(l.resources[r].capacity) * (b - a)
}

// checkEnergy looks for an overloaded interval of one resource among those from an earliest start to a
// latest end, counting sure parts and what must lie wholly inside (time-table edge finding, check only). It
// returns false, with the conflict filled in, if it finds one. See Vilim (2011)
// doi:10.1007/978-3-642-21311-3_22 and Schutt, Feydy, Stuckey (2013) doi:10.1007/978-3-642-38171-3_16.
func (l *learner) checkEnergy(r int) bool {
	res := &l.resources[r]
	begins, ends := res.begins[:0], res.ends[:0]
	for _, id := range res.uses {
		w, ok := l.loadOf(&l.uses[id])
		if !ok || w.work == 0 || w.rests {
			continue
		}
		free := int32(w.amount * (w.work - max(0, w.ect-w.lst)))
		begins = append(begins, span{int32(w.est), int32(w.lct), free})
		ends = append(ends, int32(w.lct))
	}
	slices.SortFunc(begins, func(a, b span) int { return int(b.est - a.est) })
	slices.Sort(ends)
	ends = slices.Compact(ends)
	res.begins, res.ends = begins, ends
	if len(begins) == 0 {
		return true
	}
	sum := res.sums // energy of the sure parts since the first start
	sum[begins[len(begins)-1].est] = 0
	for t := begins[len(begins)-1].est; t < ends[len(ends)-1]; t++ {
		sum[t+1] = sum[t] + res.profile[t]
	}
	for _, b := range ends {
		free := int32(0)
		for _, w := range begins {
			if w.lct > b {
				continue
			}
			free += w.free
			if int(sum[b]-sum[w.est]+free) > l.room(r, int(w.est), int(b)) && l.explainOverload(r, int(w.est), int(b)) {
				return false
			}
		}
	}
	return true
}

// span is what checkEnergy needs of a use: its bounds and the energy outside its sure part.
type span struct{ est, lct, free int32 }

// explainOverload fills the conflict with the reasons of an overloaded interval. A task does at least p
// slots of work between a and b if it ends at a+p or later and starts at b-p or earlier. Work that is not
// needed for the overload is left out.
func (l *learner) explainOverload(r, a, b int) bool {
	res := &l.resources[r]
	excess := -l.room(r, a, b) - 1
	l.covers = l.covers[:0]
	for _, id := range res.uses {
		w, ok := l.loadOf(&l.uses[id])
		if !ok || w.inside(a, b) == 0 {
			continue
		}
		excess += w.inside(a, b)
		l.covers = append(l.covers, cover{id, l.latestEvent(&l.uses[id])})
	}
	if excess < 0 {
		return false
	}
	l.conflict = l.conflict[:0]
	slices.SortStableFunc(l.covers, func(a, b cover) int { return int(b.since - a.since) })
	for _, c := range l.covers {
		u := &l.uses[c.use]
		w, _ := l.loadOf(u)
		energy := w.inside(a, b)
		if energy <= excess {
			excess -= energy
			continue
		}
		if u.present.v >= 0 {
			l.conflict = append(l.conflict, u.present)
		}
		if w.rests {
			l.conflict = append(l.conflict, l.endsFrom(u.start, a), l.endsBy(u.end, b))
			continue
		}
		p := energy / w.amount
		less := min(p-1, excess/w.amount)
		p, excess = p-less, excess-less*w.amount
		if w.work > 0 {
			l.conflict = append(l.conflict, l.endsFrom(u.end, a+p), l.endsBy(u.start, b-p))
		} else {
			first := max(w.lst, a)
			l.conflict = append(l.conflict, l.endsFrom(u.end, first+p), l.endsBy(u.start, first))
		}
	}
	return true
}

// latestEvent returns the place of the last change of the bounds of a use.
func (l *learner) latestEvent(u *use) int32 {
	s, e := int32(u.start.task()), int32(u.end.task())
	if l.ends[e] >= 0 {
		e = l.ends[e]
	}
	return max(l.top[2*s], l.top[2*s+1], l.top[2*e], l.top[2*e+1])
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
