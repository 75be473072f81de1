package project

// The exact search propagates bounds and learns from dead ends, as a satisfiability solver does, with
// statements about bounds ("task 7 starts at 12 or later") in place of truth values. Every bound change
// remembers why it was made; at a dead end the reasons are resolved back to the one statement of the last
// decision that everything went through (first unique implication point), and the negation of it and of
// what else took part is learned as a clause. This is lazy clause generation as Ohrimenko, Stuckey, Codish
// (2009) doi:10.1007/s10601-008-9064-x describe it; the statements are never turned into separate
// variables, and reasons of lags and resources are worked out only when a dead end asks for them.

// literal is the statement that the bound of a signed variable is at least at. Signed variable 2x is the
// value of variable x, 2x+1 is minus the value, so an upper bound is a lower bound of the other sign.
type literal struct{ v, at int32 }

// negation returns the opposite statement.
func (p literal) negation() literal { return literal{p.v ^ 1, 1 - p.at} }

// cause is the kind of reason of a bound change.
type cause uint8

const (
	decision   cause = iota
	clauseOf         // a: index in clauses
	lagLater         // a: arc whose head was raised
	lagSooner        // a: arc whose tail was lowered
	pushLater        // a: use that cannot cover slot b and ends after it
	pushSooner       // a: use that cannot cover slot b and starts by it
	listed           // a, b: range of reasons in the arena
)

// event is one change of a bound. Events form the trail; prev links those of one signed variable.
type event struct {
	v, at, old  int32
	prev, level int32
	why         cause
	a, b        int32
}

// learner is the state of the exact search.
type learner struct {
	net    *network
	shapes []*shape  // variable -> its possible values, nil if all
	ends   []int32   // task -> variable of its end, -1 if the end follows from the start
	modes  [][]int32 // task -> 0/1 variable of each mode, nil if there is one mode
	owner  []int32   // variable -> task

	lb      []int32 // signed variable -> bound
	top     []int32 // signed variable -> its latest event, -1 if none
	trail   []event
	starts  []int32 // level -> length of the trail before it
	head    int     // events before it are propagated
	arena   []literal
	arenaAt []int32 // level -> length of the arena before it

	clauses []*clause
	watches [][]watch

	arcsUp, arcsDown [][]int32 // signed variable -> arcs to carry on

	uses      []use
	usesOf    [][]int32 // variable -> uses whose part may change
	resources []usage
	waiting   []int32 // resources to propagate
	parts     []partChange
	partsAt   []int32
	openKnown []*openSlots // by resource, see openSlots

	modeQueue []int32 // tasks with several modes to look at
	modeWaits []bool

	thorough bool // run the energy check after each propagation

	conflict []literal // true statements that cannot be true together

	analysis
	order

	deadEnds int
}

func (l *learner) level() int { return len(l.starts) }

func (l *learner) min(x int32) int { return int(l.lb[2*x]) }
func (l *learner) max(x int32) int { return -int(l.lb[2*x+1]) }

func (l *learner) isTrue(p literal) bool  { return l.lb[p.v] >= p.at }
func (l *learner) isFalse(p literal) bool { return l.lb[p.v^1] >= 1-p.at }

func atLeast(x int32, t int) literal { return literal{2 * x, int32(t)} }
func atMost(x int32, t int) literal  { return literal{2*x + 1, int32(-t)} }

// newLearner sets the search up and propagates once; ok is false if that already fails.
func newLearner(net *network) (l *learner, ok bool) {
	n := len(net.in.Tasks)
	l = &learner{net: net, ends: make([]int32, n), modes: make([][]int32, n), modeWaits: make([]bool, n)}
	for i := range net.in.Tasks {
		if len(net.shapes[i]) == 1 {
			l.variable(i, net.shapes[i][0], net.in.Tasks[i].Release, net.in.Horizon)
		} else {
			l.variable(i, nil, net.in.Tasks[i].Release, net.in.Horizon)
		}
		l.ends[i] = -1
	}
	for i, t := range net.in.Tasks {
		if len(t.Modes) == 1 {
			continue
		}
		l.ends[i] = l.variable(i, nil, 0, net.in.deadline(i))
		for range t.Modes {
			l.modes[i] = append(l.modes[i], l.variable(i, nil, 0, 1))
		}
	}
	l.lb = l.lb[:2*len(l.shapes)]
	l.top = make([]int32, len(l.lb))
	for v := range l.top {
		l.top[v] = -1
	}
	l.watches = make([][]watch, len(l.lb))
	l.linkArcs()
	l.linkResources()
	if !l.rootFacts() {
		return l, false
	}
	l.initAnalysis()
	l.initOrder()
	return l, true
}

// variable adds a variable of a task with the given range and returns its number.
func (l *learner) variable(task int, s *shape, lo, hi int) int32 {
	x := int32(len(l.shapes))
	l.shapes = append(l.shapes, s)
	l.owner = append(l.owner, int32(task))
	if s != nil {
		lo, hi = s.up(lo), s.down(hi)
	}
	l.lb = append(l.lb, int32(lo), int32(-hi))
	return x
}

// rootFacts enters deadlines and modes, and propagates what holds without any decision.
func (l *learner) rootFacts() bool {
	for i, t := range l.net.in.Tasks {
		if !l.raise(l.endsBy(endOf(i), l.net.in.deadline(i)), listed, 0, 0) {
			return false
		}
		if len(t.Modes) == 1 {
			continue
		}
		var one []literal
		for k, m := range t.Modes {
			one = append(one, atLeast(l.modes[i][k], 1))
			for other := range k {
				l.addClause([]literal{atMost(l.modes[i][k], 0), atMost(l.modes[i][other], 0)}, 0)
			}
			if !l.net.in.fits(m) && !l.raise(atMost(l.modes[i][k], 0), listed, 0, 0) {
				return false
			}
		}
		if !l.addClause(one, 0) {
			return false
		}
		l.wakeModes(int32(i))
	}
	for x := range l.shapes {
		if l.lb[2*x] > -l.lb[2*x+1] {
			return false
		}
	}
	for a, arc := range l.net.arcs {
		if !l.carryLater(int32(a), arc) || !l.carrySooner(int32(a), arc) {
			return false
		}
	}
	for u := range l.uses {
		l.wakeUse(int32(u))
	}
	if !l.propagate() {
		return false
	}
	l.forgetRoot()
	return true
}

// forgetRoot drops the events of level 0: what they say needs no reason.
func (l *learner) forgetRoot() {
	for _, e := range l.trail {
		l.top[e.v] = -1
	}
	l.trail, l.head, l.parts, l.arena = l.trail[:0], 0, l.parts[:0], l.arena[:0]
}

// startsBy, startsFrom, endsBy and endsFrom give the statements about an endpoint (start or end) of a task.
func (l *learner) endsFrom(e endpoint, t int) literal {
	i := e.task()
	switch {
	case !e.isEnd():
		return atLeast(int32(i), t)
	case l.ends[i] >= 0:
		return atLeast(l.ends[i], t)
	}
	return atLeast(int32(i), l.shapes[i].startEndingFrom(t))
}

func (l *learner) endsBy(e endpoint, t int) literal {
	i := e.task()
	switch {
	case !e.isEnd():
		return atMost(int32(i), t)
	case l.ends[i] >= 0:
		return atMost(l.ends[i], t)
	}
	return atMost(int32(i), l.shapes[i].startEndingBy(t))
}

// earliest and latest give the bounds of an endpoint.
func (l *learner) earliest(e endpoint) int {
	i := int32(e.task())
	switch {
	case !e.isEnd():
		return l.min(i)
	case l.ends[i] >= 0:
		return l.min(l.ends[i])
	}
	return l.shapes[i].end(l.min(i))
}

func (l *learner) latest(e endpoint) int {
	i := int32(e.task())
	switch {
	case !e.isEnd():
		return l.max(i)
	case l.ends[i] >= 0:
		return l.max(l.ends[i])
	}
	return l.shapes[i].end(l.max(i))
}

// raise makes p true for the given reason. It returns false at a dead end, with the conflict filled in.
func (l *learner) raise(p literal, why cause, a, b int32) bool {
	if l.lb[p.v] >= p.at {
		return true
	}
	if s := l.shapes[p.v>>1]; s != nil {
		if p.v&1 == 0 {
			p.at = int32(s.up(int(p.at)))
		} else {
			p.at = int32(-s.down(int(-p.at)))
		}
	}
	if l.isFalse(p) {
		l.conflict = append(l.conflict[:0], p.negation())
		l.conflict = l.explain(event{v: p.v, why: why, a: a, b: b}, p.at, int32(len(l.trail)), l.conflict)
		return false
	}
	l.trail = append(l.trail, event{p.v, p.at, l.lb[p.v], l.top[p.v], int32(l.level()), why, a, b})
	l.lb[p.v], l.top[p.v] = p.at, int32(len(l.trail)-1)
	return true
}

// decide opens a level with p as its decision.
func (l *learner) decide(p literal) {
	l.open()
	l.raise(p, decision, 0, 0)
}

func (l *learner) open() {
	l.starts = append(l.starts, int32(len(l.trail)))
	l.arenaAt = append(l.arenaAt, int32(len(l.arena)))
	l.partsAt = append(l.partsAt, int32(len(l.parts)))
	l.mark()
}

// undo returns to the state at the end of the given level.
func (l *learner) undo(level int) {
	if l.level() <= level {
		return
	}
	for k := len(l.trail) - 1; k >= int(l.starts[level]); k-- {
		e := &l.trail[k]
		l.lb[e.v], l.top[e.v] = e.old, e.prev
	}
	l.trail = l.trail[:l.starts[level]]
	l.arena = l.arena[:l.arenaAt[level]]
	l.undoParts(int(l.partsAt[level]))
	l.starts, l.arenaAt, l.partsAt = l.starts[:level], l.arenaAt[:level], l.partsAt[:level]
	l.head = len(l.trail)
	l.restore(level)
}

// propagate draws every consequence of the events not yet propagated; false at a dead end.
func (l *learner) propagate() bool {
	for {
		for l.head < len(l.trail) {
			v := l.trail[l.head].v
			l.head++
			if !l.propagateClauses(v) || !l.propagateLags(v) {
				l.calm()
				return false
			}
			for _, u := range l.usesOf[v>>1] {
				l.wakeUse(u)
			}
			if i := l.owner[v>>1]; l.modes[i] != nil {
				l.wakeModes(i)
			}
		}
		switch {
		case len(l.modeQueue) > 0:
			i := l.modeQueue[len(l.modeQueue)-1]
			l.modeQueue = l.modeQueue[:len(l.modeQueue)-1]
			l.modeWaits[i] = false
			if !l.propagateModes(int(i)) {
				l.calm()
				return false
			}
		case len(l.waiting) > 0:
			r := l.waiting[len(l.waiting)-1]
			l.waiting = l.waiting[:len(l.waiting)-1]
			if !l.propagateResource(&l.resources[r]) {
				l.calm()
				return false
			}
		default:
			return !l.thorough || l.checkDue()
		}
	}
}

// checkDue runs the energy check of the resources whose uses changed.
func (l *learner) checkDue() bool {
	for r := range l.resources {
		if !l.resources[r].due {
			continue
		}
		l.resources[r].due = false
		if !l.checkEnergy(r) {
			l.calm()
			return false
		}
	}
	return true
}

// calm empties the queues after a dead end.
func (l *learner) calm() {
	for _, i := range l.modeQueue {
		l.modeWaits[i] = false
	}
	l.modeQueue = l.modeQueue[:0]
	for _, r := range l.waiting {
		l.resources[r].calm(l)
	}
	l.waiting = l.waiting[:0]
}

// explain appends to list the statements, true before the given place of the trail, from which the reason
// of an event follows that its variable is at least at.
func (l *learner) explain(e event, at, before int32, list []literal) []literal {
	switch e.why {
	case clauseOf:
		for _, p := range l.clauses[e.a].literals {
			if p.v != e.v {
				list = append(list, p.negation())
			}
		}
	case lagLater, lagSooner:
		list = append(list, l.explainLag(e, at))
	case pushLater, pushSooner:
		list = l.explainPush(e, before, list)
	case listed:
		list = append(list, l.arena[e.a:e.b]...)
	}
	return list
}

// propagateModes keeps start, end and mode of a task with several modes together.
func (l *learner) propagateModes(i int) bool {
	s, e := int32(i), l.ends[i]
	least, most := l.net.in.Horizon+1, -1
	leastEnd, mostEnd := l.net.in.Horizon+1, -1
	for k, shape := range l.net.shapes[i] {
		m := l.modes[i][k]
		if l.max(m) == 0 {
			continue
		}
		first := max(shape.up(l.min(s)), shape.startEndingFrom(l.min(e)))
		last := min(shape.down(l.max(s)), shape.startEndingBy(l.max(e)))
		if first > last {
			a := l.list(atLeast(s, l.min(s)), atMost(s, l.max(s)), atLeast(e, l.min(e)), atMost(e, l.max(e)))
			if !l.raise(atMost(m, 0), listed, a, int32(len(l.arena))) {
				return false
			}
			continue
		}
		least, most = min(least, first), max(most, last)
		leastEnd, mostEnd = min(leastEnd, shape.end(first)), max(mostEnd, shape.end(last))
	}
	low, high := []literal{atLeast(s, l.min(s)), atLeast(e, l.min(e))}, []literal{atMost(s, l.max(s)), atMost(e, l.max(e))}
	for _, m := range l.modes[i] {
		if l.max(m) == 0 {
			low, high = append(low, atMost(m, 0)), append(high, atMost(m, 0))
		}
	}
	set := func(p literal, reasons []literal) bool {
		if l.isTrue(p) {
			return true
		}
		a := l.list(reasons...)
		return l.raise(p, listed, a, int32(len(l.arena)))
	}
	return set(atLeast(s, least), low) && set(atLeast(e, leastEnd), low) && set(atMost(s, most), high) && set(atMost(e, mostEnd), high)
}

// list puts reasons into the arena and returns where they begin.
func (l *learner) list(reasons ...literal) int32 {
	a := int32(len(l.arena))
	l.arena = append(l.arena, reasons...)
	return a
}

func (l *learner) wakeModes(i int32) {
	if !l.modeWaits[i] {
		l.modeWaits[i] = true
		l.modeQueue = append(l.modeQueue, i)
	}
}
