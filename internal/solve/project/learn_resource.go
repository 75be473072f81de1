package project

import "slices"

// use is an amount of a resource taken from one endpoint to another: a task while it is worked on, or a
// hold. Slots that it surely covers, from its latest start to its earliest end, are its part.
type use struct {
	resource   int32
	amount     int32
	start, end endpoint
	shape      *shape  // covers only slots in which it works; nil for all
	present    literal // the use exists only if this is true; v is -1 if always
	first, to  int32   // the part entered in the profile
	hold       bool    // of a hold, not a task
	woken      bool
}

// usage is one resource: the amounts that are surely taken in each slot.
type usage struct {
	capacity int32
	uses     []int32
	profile  []int32
	woken    []int32 // uses whose bounds changed
	due      bool    // the energy check is due
	begins   []span  // memory of the energy check
	ends     []int32
	sums     []int32
}

// partChange remembers the part of a use before it grew.
type partChange struct{ use, first, to int32 }

// linkResources makes the uses of tasks and holds.
func (l *learner) linkResources() {
	in := l.net.in
	for _, r := range in.Resources {
		l.resources = append(l.resources, usage{capacity: int32(r.Capacity), profile: make([]int32, in.Horizon+1), sums: make([]int32, in.Horizon+2)})
	}
	l.usesOf = make([][]int32, len(l.shapes))
	for i, t := range in.Tasks {
		for k, m := range t.Modes {
			u := use{start: startOf(i), end: endOf(i), present: literal{v: -1}}
			if s := l.net.shapes[i][k]; s.open != nil {
				u.shape = s
			}
			if l.modes[i] != nil {
				u.present = atLeast(l.modes[i][k], 1)
			}
			if m.Duration == 0 {
				continue
			}
			for _, n := range m.Needs {
				u.resource, u.amount = int32(n.Resource), int32(n.Amount)
				l.addUse(u)
			}
		}
	}
	for _, h := range in.Holds {
		l.addUse(use{resource: int32(h.Resource), amount: int32(h.Amount), start: startOf(h.From), end: endOf(h.To), present: literal{v: -1}, hold: true})
	}
}

func (l *learner) addUse(u use) {
	if u.amount == 0 {
		return
	}
	id := int32(len(l.uses))
	l.uses = append(l.uses, u)
	r := &l.resources[u.resource]
	r.uses = append(r.uses, id)
	variables := []int32{int32(u.start.task()), int32(u.end.task())}
	if e := l.ends[u.end.task()]; e >= 0 {
		variables[1] = e
	}
	if u.present.v >= 0 {
		variables = append(variables, u.present.v>>1)
	}
	slices.Sort(variables)
	for _, x := range slices.Compact(variables) {
		l.usesOf[x] = append(l.usesOf[x], id)
	}
}

func (l *learner) wakeUse(u int32) {
	if l.uses[u].woken {
		return
	}
	l.uses[u].woken = true
	r := &l.resources[l.uses[u].resource]
	if len(r.woken) == 0 {
		l.waiting = append(l.waiting, l.uses[u].resource)
	}
	r.woken = append(r.woken, u)
	r.due = true
}

func (r *usage) calm(l *learner) {
	for _, u := range r.woken {
		l.uses[u].woken = false
	}
	r.woken = r.woken[:0]
}

// propagateResource enters the grown parts of the woken uses into the profile and pushes uses out of slots
// in which they no longer fit (time-table propagation).
func (l *learner) propagateResource(r *usage) bool {
	touchedFirst, touchedEnd := int32(len(r.profile)), int32(0)
	over := int32(-1)
	for _, id := range r.woken {
		u := &l.uses[id]
		if u.present.v >= 0 && !l.isTrue(u.present) {
			continue
		}
		first, to := int32(l.latest(u.start)), int32(l.earliest(u.end))
		if first >= to || (first == u.first && to == u.to) {
			continue
		}
		l.parts = append(l.parts, partChange{id, u.first, u.to})
		if u.first >= u.to {
			over = max(over, r.enter(u, first, to, u.amount))
		} else {
			over = max(over, r.enter(u, first, u.first, u.amount), r.enter(u, u.to, to, u.amount))
		}
		touchedFirst, touchedEnd = min(touchedFirst, first), max(touchedEnd, to)
		u.first, u.to = first, to
	}
	woken := r.woken
	r.calm(l)
	if over >= 0 {
		l.conflict = l.covering(r, -1, over, r.capacity, int32(len(l.trail)), l.conflict[:0])
		return false
	}
	return l.pushAll(r, woken, touchedFirst, touchedEnd)
}

// pushAll pushes the woken uses, and the others that may cover a touched slot.
func (l *learner) pushAll(r *usage, woken []int32, first, to int32) bool {
	for _, id := range woken {
		if !l.push(r, id) {
			return false
		}
	}
	if first >= to {
		return true
	}
	peak := int32(0)
	for _, p := range r.profile[first:to] {
		peak = max(peak, p)
	}
	for _, id := range r.uses {
		u := &l.uses[id]
		if u.amount+peak <= r.capacity || int32(l.earliest(u.start)) >= to || int32(l.latest(u.end)) <= first {
			continue
		}
		if !l.push(r, id) {
			return false
		}
	}
	return true
}

// enter adds an amount to the profile from first up to to, and returns a slot above capacity, -1 if none.
func (r *usage) enter(u *use, first, to, amount int32) int32 {
	over := int32(-1)
	for t := first; t < to; t++ {
		if u.shape != nil && !u.shape.works(int(t)) {
			continue
		}
		r.profile[t] += amount
		if r.profile[t] > r.capacity {
			over = t
		}
	}
	return over
}

// undoParts takes back the growth of parts down to the given length of the list.
func (l *learner) undoParts(length int) {
	for k := len(l.parts) - 1; k >= length; k-- {
		c := l.parts[k]
		u := &l.uses[c.use]
		r := &l.resources[u.resource]
		if c.first >= c.to {
			r.enter(u, u.first, u.to, -u.amount)
		} else {
			r.enter(u, u.first, c.first, -u.amount)
			r.enter(u, c.to, u.to, -u.amount)
		}
		u.first, u.to = c.first, c.to
	}
	l.parts = l.parts[:length]
}

// push moves the earliest start and the latest end of a use out of slots where it does not fit: in a slot
// before its earliest end it must not have started, in a slot from its latest start on it must have ended.
func (l *learner) push(r *usage, id int32) bool {
	u := &l.uses[id]
	if u.present.v >= 0 && !l.isTrue(u.present) {
		return true
	}
	room := r.capacity - u.amount
	scanned := int32(0) // slots before it are known to fit
	for again := true; again; {
		again = false
		first := max(int32(l.earliest(u.start)), scanned)
		limit := min(int32(l.earliest(u.end)), int32(l.latest(u.start)))
		for t := limit - 1; t >= first; t-- {
			if r.profile[t] > room && (u.shape == nil || u.shape.works(int(t))) {
				if !l.raise(l.endsFrom(u.start, int(t+1)), pushLater, id, t) {
					return false
				}
				again = true
				break
			}
		}
		scanned = limit
	}
	scanned = int32(len(r.profile))
	for again := true; again; {
		again = false
		limit := max(int32(l.earliest(u.end)), int32(l.latest(u.start)))
		end := min(int32(l.latest(u.end)), scanned)
		for t := limit; t < end; t++ {
			if r.profile[t] > room && (u.shape == nil || u.shape.works(int(t))) {
				if !l.raise(l.endsBy(u.end, int(t)), pushSooner, id, t) {
					return false
				}
				again = true
				break
			}
		}
		scanned = limit
	}
	return true
}

// explainPush gives the reasons why a use had to leave slot e.b: it would cover it, and others take too much.
func (l *learner) explainPush(e event, before int32, list []literal) []literal {
	u := &l.uses[e.a]
	if e.why == pushLater {
		list = append(list, l.endsFrom(u.end, int(e.b)+1))
	} else {
		list = append(list, l.endsBy(u.start, int(e.b)))
	}
	if u.present.v >= 0 {
		list = append(list, u.present)
	}
	r := &l.resources[u.resource]
	return l.covering(r, e.a, e.b, r.capacity-u.amount, before, list)
}

// cover is a use that surely covers a slot, and the place of the trail since when it does.
type cover struct{ use, since int32 }

// covering appends the statements that make uses other than skip cover slot t with more than room together.
// It prefers those that have held for longest and leaves out what is not needed.
func (l *learner) covering(r *usage, skip, t, room, before int32, list []literal) []literal {
	covers := l.covers[:0]
	for _, id := range r.uses {
		if id == skip {
			continue
		}
		if since, ok := l.coversSince(&l.uses[id], t, before); ok {
			covers = append(covers, cover{id, since})
		}
	}
	l.covers = covers
	slices.SortFunc(covers, func(a, b cover) int { return int(a.since - b.since) })
	sum, n := int32(0), 0
	for sum <= room {
		sum += l.uses[covers[n].use].amount
		n++
	}
	for k := n - 1; k >= 0; k-- {
		u := &l.uses[covers[k].use]
		if sum-u.amount > room {
			sum -= u.amount
			continue
		}
		list = append(list, l.endsBy(u.start, int(t)), l.endsFrom(u.end, int(t)+1))
		if u.present.v >= 0 {
			list = append(list, u.present)
		}
	}
	return list
}

// coversSince returns the first place of the trail, below before, from which on the use covers slot t.
func (l *learner) coversSince(u *use, t, before int32) (since int32, ok bool) {
	if u.shape != nil && !u.shape.works(int(t)) {
		return 0, false
	}
	statements := [3]literal{l.endsBy(u.start, int(t)), l.endsFrom(u.end, int(t)+1), u.present}
	since = -1
	for _, p := range statements {
		if p.v < 0 {
			continue
		}
		if !l.isTrue(p) {
			return 0, false
		}
		at := l.since(p, before)
		if at >= before {
			return 0, false
		}
		since = max(since, at)
	}
	return since, true
}
