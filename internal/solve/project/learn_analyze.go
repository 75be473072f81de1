package project

// analysis is the memory of the resolution of dead ends.
type analysis struct {
	need    []int32 // signed variable -> bound that takes part in the dead end
	place   []int32 // signed variable -> event that made it so, absent if it takes no part
	named   []int32 // signed variables that take part or did, each once
	isNamed []bool
	current int // how many events of the deepest level take part
	deepest int32
	reasons []literal
	covers  []cover
}

const absent = -1

func (l *learner) initAnalysis() {
	l.isNamed = make([]bool, len(l.lb))
	l.need, l.place = make([]int32, len(l.lb)), make([]int32, len(l.lb))
	for v := range l.place {
		l.place[v] = absent
	}
}

// since returns the event that made p true, -1 if it has always been true, and before if it was not yet
// true at that place of the trail.
func (l *learner) since(p literal, before int32) int32 {
	k, bound := l.top[p.v], l.lb[p.v]
	for k >= before {
		k, bound = l.trail[k].prev, l.trail[k].old
	}
	if bound < p.at {
		return before
	}
	for k >= 0 && l.trail[k].old >= p.at {
		k = l.trail[k].prev
	}
	return k
}

// levelOf returns the level at which p became true.
func (l *learner) levelOf(p literal) int32 {
	if k := l.since(p, int32(len(l.trail))); k >= 0 {
		return l.trail[k].level
	}
	return 0
}

// take lets p, true before the given place, take part in the dead end.
func (l *learner) take(p literal, before int32) {
	known := l.place[p.v] != absent
	if known && l.need[p.v] >= p.at {
		return
	}
	k := l.since(p, before)
	if k < 0 || l.trail[k].level == 0 {
		return
	}
	if !l.isNamed[p.v] {
		l.named, l.isNamed[p.v] = append(l.named, p.v), true
	}
	if known && l.trail[l.place[p.v]].level == l.deepest {
		l.current--
	}
	if l.trail[k].level == l.deepest {
		l.current++
	}
	l.need[p.v], l.place[p.v] = p.at, k
	l.bump(p)
}

// analyze turns the conflict into a clause whose first literal becomes true after going back to the
// returned level; levels counts the decision levels it spans. ok is false if there is no way back.
func (l *learner) analyze() (learned []literal, back, levels int, ok bool) {
	l.deepest = 0
	for _, p := range l.conflict {
		l.deepest = max(l.deepest, l.levelOf(p))
	}
	if l.deepest == 0 {
		return nil, 0, 0, false
	}
	l.undo(int(l.deepest))
	l.current, l.named = 0, l.named[:0]
	for _, p := range l.conflict {
		l.take(p, int32(len(l.trail)))
	}
	k := int32(len(l.trail) - 1)
	for ; ; k-- {
		v := l.trail[k].v
		if l.place[v] != k {
			continue
		}
		if l.current == 1 {
			break
		}
		at := l.need[v]
		l.place[v] = absent
		l.current--
		if l.trail[k].why == clauseOf {
			l.useful(l.clauses[l.trail[k].a])
		}
		l.reasons = l.explain(l.trail[k], at, k, l.reasons[:0])
		for _, q := range l.reasons {
			l.take(q, k)
		}
	}
	return l.collect(k)
}

// collect makes the clause from what takes part once only event k of the deepest level is left.
func (l *learner) collect(k int32) (learned []literal, back, levels int, ok bool) {
	uip := l.trail[k].v
	learned = append(learned, literal{uip, l.need[uip]}.negation())
	second, seen := 0, map[int32]bool{}
	for _, v := range l.named {
		if v == uip || l.place[v] == absent || l.implied(v) {
			continue
		}
		level := l.trail[l.place[v]].level
		seen[level] = true
		learned = append(learned, literal{v, l.need[v]}.negation())
		if int(level) > back {
			back, second = int(level), len(learned)-1
		}
	}
	for _, v := range l.named {
		l.place[v], l.isNamed[v] = absent, false
	}
	if second > 0 {
		learned[1], learned[second] = learned[second], learned[1]
	}
	return learned, back, len(seen) + 1, true
}

// implied reports whether the part of v follows from earlier parts of the dead end alone. Only parts at
// earlier places count, so that no two parts can be left out for each other's sake.
func (l *learner) implied(v int32) bool {
	k := l.place[v]
	if l.trail[k].why == decision {
		return false
	}
	l.reasons = l.explain(l.trail[k], l.need[v], k, l.reasons[:0])
	for _, q := range l.reasons {
		if p := l.place[q.v]; p != absent && p < k && l.need[q.v] >= q.at {
			continue
		}
		if at := l.since(q, k); at >= 0 && l.trail[at].level > 0 {
			return false
		}
	}
	return true
}

// useful raises the activity of a clause that took part in a dead end.
func (l *learner) useful(c *clause) {
	c.activity += l.increment
}
