package project

import "context"

// outcome is how a search ended.
type outcome int

const (
	limitReached outcome = iota
	foundSchedule
	refuted   // nothing satisfies the assumption
	exhausted // nothing satisfies the constraints, whatever is assumed
)

// restartUnit is the number of dead ends in the shortest run between restarts; run lengths follow Luby.
const restartUnit = 64

// search looks for a schedule in which the assumption holds until it has met the given number of dead ends.
// On success the state is left at the schedule; call undo(0) before anything else.
func (l *learner) search(ctx context.Context, assumption literal, limit int) outcome {
	l.undo(0)
	for run := 1; limit > 0; run++ {
		length := min(restartUnit*luby(run), limit)
		limit -= length
		if result := l.run(ctx, assumption, length); result != limitReached {
			return result
		}
		l.undo(0)
		if ctx.Err() != nil {
			return limitReached
		}
		if len(l.clauses) > l.capacity() {
			l.reduce()
		}
	}
	return limitReached
}

// capacity is the number of clauses kept: it grows slowly with the number of dead ends.
func (l *learner) capacity() int { return 4000 + l.deadEnds/20 }

// contextPeriod is the number of dead ends between looks at the context.
const contextPeriod = 32

// run searches until a number of dead ends.
func (l *learner) run(ctx context.Context, assumption literal, limit int) outcome {
	for {
		if !l.propagate() {
			l.deadEnds++
			limit--
			if !l.learn() {
				return exhausted
			}
			if l.deadEnds%contextPeriod == 0 && ctx.Err() != nil {
				limit = 0
			}
			continue
		}
		switch {
		case limit <= 0:
			return limitReached
		case l.level() == 0:
			if l.isFalse(assumption) {
				return refuted
			}
			l.decide(assumption)
			continue
		}
		p, ok := l.choose()
		if !ok {
			return foundSchedule
		}
		l.decide(p)
	}
}

// learn turns a dead end into a clause and goes back to where it says something new.
func (l *learner) learn() bool {
	learned, back, levels, ok := l.analyze()
	if !ok {
		return false
	}
	l.decayActivity()
	l.undo(back)
	return l.addClause(learned, levels)
}

// schedule returns the starts and modes of the schedule found.
func (l *learner) schedule() (start, mode []int) {
	n := len(l.net.in.Tasks)
	start, mode = make([]int, n), make([]int, n)
	for i := range n {
		start[i] = l.min(int32(i))
		for k, m := range l.modes[i] {
			if l.min(m) == 1 {
				mode[i] = k
			}
		}
	}
	return start, mode
}

// follow lets decisions lean towards a schedule.
func (l *learner) follow(start []int) {
	if l.guide == nil {
		l.guide = make([]int32, len(l.shapes))
	}
	for i, t := range start {
		l.guide[i] = int32(t)
	}
}

// luby returns the k-th term, from 1, of 1 1 2 1 1 2 4 1 1 2 1 1 2 4 8 ...
func luby(k int) int {
	for {
		size := 1
		for size < k+1 {
			size *= 2
		}
		if size == k+1 {
			return size / 2
		}
		k -= size/2 - 1
	}
}
