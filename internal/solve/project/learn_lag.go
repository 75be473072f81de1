package project

// linkArcs lists, by signed variable, the arcs over which a change is carried on.
func (l *learner) linkArcs() {
	l.arcsUp, l.arcsDown = make([][]int32, len(l.lb)), make([][]int32, len(l.lb))
	variable := func(e endpoint) int32 {
		if i := e.task(); e.isEnd() && l.ends[i] >= 0 {
			return l.ends[i]
		}
		return int32(e.task())
	}
	for a, arc := range l.net.arcs {
		x, y := variable(arc.from), variable(arc.to)
		l.arcsUp[2*x] = append(l.arcsUp[2*x], int32(a))
		l.arcsDown[2*y+1] = append(l.arcsDown[2*y+1], int32(a))
	}
}

// propagateLags carries a change of a signed variable over its arcs.
func (l *learner) propagateLags(v int32) bool {
	for _, a := range l.arcsUp[v] {
		if !l.carryLater(a, l.net.arcs[a]) {
			return false
		}
	}
	for _, a := range l.arcsDown[v] {
		if !l.carrySooner(a, l.net.arcs[a]) {
			return false
		}
	}
	return true
}

func (l *learner) carryLater(a int32, arc arc) bool {
	return l.raise(l.endsFrom(arc.to, l.earliest(arc.from)+arc.weight), lagLater, a, 0)
}

func (l *learner) carrySooner(a int32, arc arc) bool {
	return l.raise(l.endsBy(arc.from, l.latest(arc.to)-arc.weight), lagSooner, a, 0)
}

// explainLag returns the weakest statement about the other side of an arc from which it follows that the
// variable of e is at least at.
func (l *learner) explainLag(e event, at int32) literal {
	arc := l.net.arcs[e.a]
	if e.why == lagLater {
		t := int(at) // of the head
		if s := l.shapes[e.v>>1]; s != nil {
			before := s.down(t - 1) // the statement says: later than this start
			if t = before + 1; arc.to.isEnd() {
				t = s.end(before) + 1
			}
		}
		return l.endsFrom(arc.from, t-arc.weight)
	}
	t := -int(at) // of the tail
	if s := l.shapes[e.v>>1]; s != nil {
		after := s.up(t + 1)
		if t = after - 1; arc.from.isEnd() {
			t = s.end(after) - 1
		}
	}
	return l.endsBy(arc.to, t+arc.weight)
}
