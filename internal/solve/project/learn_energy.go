package project

import (
	"slices"
	"sort"
)

// The energy check adds up, for a resource and an interval of time, the least work that every use must do
// inside the interval whatever its start (the overlap when it is moved as early and as late as its bounds
// allow) and compares it with what the resource offers there. It sees what time-table propagation does not:
// that many tasks, none of them placed, do not fit together. The full check (overloaded) is put to single
// assumptions about the end of the goal; a quicker one (checkEnergy) runs inside the search. See Baptiste,
// Le Pape, Nuijten (1999) doi:10.1023/A:1018995000688.

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
	open := l.openSlots(r)
	return int(l.resources[r].capacity) * (open.before(b) - open.before(a))
}

// checkEnergy looks for an overloaded interval of one resource among those from an earliest start to a
// latest end, counting sure parts and what must lie wholly inside (time-table edge finding, check only). It
// returns false, with the conflict filled in, if it finds one. Uses without energy outside their sure part
// bound no interval: between them and the next free one sure parts alone never exceed the capacity. See Vilim (2011)
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
		if free == 0 {
			continue
		}
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
	open := l.openSlots(r)
	l.addUp(res, open, int(begins[len(begins)-1].est), int(ends[len(ends)-1]))
	for _, b := range ends {
		energy := res.sums[open.before(int(b))]
		for _, w := range begins {
			if w.lct > b {
				continue
			}
			energy += w.free
			a := open.before(int(w.est))
			if energy-res.sums[a] > res.capacity*int32(open.before(int(b))-a) && l.explainOverload(r, int(w.est), int(b)) {
				return false
			}
		}
	}
	return true
}

// addUp fills sums with the energy of the sure parts from slot first on, by number of open slots, up to end.
func (l *learner) addUp(res *usage, open *openSlots, first, end int) {
	k := open.before(first)
	res.sums[k] = 0
	for ; k < open.before(end); k++ {
		res.sums[k+1] = res.sums[k] + res.profile[open.slot(k)]
	}
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

// openSlots numbers the slots in which a resource can be used at all: where some calendar of the tasks that
// use it has a window. A nil value stands for all slots.
type openSlots struct {
	count []int32 // slot -> open slots before it
	slots []int32 // the open slots
}

func (o *openSlots) before(t int) int {
	if o == nil {
		return t
	}
	return int(o.count[t])
}

func (o *openSlots) slot(k int) int {
	if o == nil {
		return k
	}
	return int(o.slots[k])
}

// openSlots returns the open slots of a resource, worked out once; nil if it is used outside calendars too.
func (l *learner) openSlots(r int) *openSlots {
	if l.openKnown == nil {
		l.openKnown = make([]*openSlots, len(l.resources))
		for k := range l.resources {
			l.openKnown[k] = l.findOpen(k)
		}
	}
	return l.openKnown[r]
}

func (l *learner) findOpen(r int) *openSlots {
	in := l.net.in
	isOpen := make([]bool, in.Horizon)
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
				isOpen[t] = true
			}
		}
	}
	o := &openSlots{count: make([]int32, in.Horizon+1)}
	for t, is := range isOpen {
		o.count[t] = int32(len(o.slots))
		if is {
			o.slots = append(o.slots, int32(t))
		}
	}
	o.count[in.Horizon] = int32(len(o.slots))
	return o
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
