package project

import "sort"

// clause is a statement of which at least one literal is true. The first two are watched.
type clause struct {
	literals []literal
	learned  bool
	levels   int // number of decision levels it spanned when it was learned: the fewer, the more useful
	activity float64
}

// watch waits for a literal of a clause to become false, which is when its signed variable reaches at.
// other is some other literal of the clause: if it is true, there is nothing to do.
type watch struct {
	clause int32
	at     int32
	other  literal
}

// addClause adds a clause at level 0, or a learned one whose first literal is the one to make true. It
// returns false at a dead end.
func (l *learner) addClause(literals []literal, levels int) bool {
	if len(literals) == 1 {
		return l.raise(literals[0], listed, 0, 0)
	}
	c := int32(len(l.clauses))
	l.clauses = append(l.clauses, &clause{literals: literals, learned: levels > 0, levels: levels, activity: l.increment})
	l.attach(c)
	if levels > 0 {
		return l.raise(literals[0], clauseOf, c, 0)
	}
	return true
}

func (l *learner) attach(c int32) {
	p, q := l.clauses[c].literals[0], l.clauses[c].literals[1]
	l.watches[p.v^1] = append(l.watches[p.v^1], watch{c, 1 - p.at, q})
	l.watches[q.v^1] = append(l.watches[q.v^1], watch{c, 1 - q.at, p})
}

// propagateClauses looks at the clauses that watch a literal which the latest bound of v may have falsified.
func (l *learner) propagateClauses(v int32) bool {
	list := l.watches[v]
	kept := 0
	for k := range list {
		w := list[k]
		if l.lb[v] < w.at || l.isTrue(w.other) {
			list[kept] = w
			kept++
			continue
		}
		c := l.clauses[w.clause].literals
		if c[0].v == v^1 {
			c[0], c[1] = c[1], c[0]
		}
		first := c[0]
		if l.isTrue(first) {
			list[kept] = watch{w.clause, w.at, first}
			kept++
			continue
		}
		if l.rewatch(w.clause, c, first) {
			continue
		}
		list[kept] = watch{w.clause, w.at, first}
		kept++
		if !l.raise(first, clauseOf, w.clause, 0) {
			kept += copy(list[kept:], list[k+1:])
			l.watches[v] = list[:kept]
			return false
		}
	}
	l.watches[v] = list[:kept]
	return true
}

// rewatch watches some literal of c that is not false in place of the second one.
func (l *learner) rewatch(number int32, c []literal, first literal) bool {
	for k := 2; k < len(c); k++ {
		if !l.isFalse(c[k]) {
			c[1], c[k] = c[k], c[1]
			l.watches[c[1].v^1] = append(l.watches[c[1].v^1], watch{number, 1 - c[1].at, first})
			return true
		}
	}
	return false
}

// reduce forgets the less useful half of the learned clauses. Call it at level 0 only.
func (l *learner) reduce() {
	var learned, kept []*clause
	for _, c := range l.clauses {
		switch {
		case l.satisfied(c):
		case c.learned && c.levels > 2:
			learned = append(learned, c)
		default:
			kept = append(kept, c)
		}
	}
	sort.SliceStable(learned, func(a, b int) bool { return learned[a].activity > learned[b].activity })
	l.clauses = append(kept, learned[:len(learned)/2]...)
	for v := range l.watches {
		l.watches[v] = l.watches[v][:0]
	}
	for c := range l.clauses {
		l.attach(int32(c))
	}
}

func (l *learner) satisfied(c *clause) bool {
	for _, p := range c.literals {
		if l.isTrue(p) {
			return true
		}
	}
	return false
}
