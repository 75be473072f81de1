package project

// shape says where a mode can stand in time: its possible starts and the end that belongs to each. Ends
// never decrease as starts grow, so a bound on the end is a bound on the start. Where all starts of
// 0..horizon-duration are possible the tables are nil.
type shape struct {
	horizon, duration int
	upTable           []int32 // slot -> least possible start at or after it
	downTable         []int32 // slot -> greatest possible start at or before it, -1 if none
	endTable          []int32 // possible start -> end, for splittable modes that rest; nil otherwise
	endUp             []int32 // slot -> least possible start that ends at or after it (with endTable)
	starts            []int32 // possible starts in order (with upTable)
	rankTable         []int32 // possible start -> place in starts
	open              []bool  // slots in which a splittable mode is worked on; nil if all
}

// never is a start beyond every horizon: no start is possible.
func (s *shape) never() int { return s.horizon + 1 }

// up returns the least possible start at or after t, never() if there is none.
func (s *shape) up(t int) int {
	switch {
	case t > s.horizon-s.duration:
		return s.never()
	case s.upTable == nil:
		return max(t, 0)
	}
	return int(s.upTable[max(t, 0)])
}

// down returns the greatest possible start at or before t, -1 if there is none.
func (s *shape) down(t int) int {
	t = min(t, s.horizon-s.duration)
	if t < 0 {
		return -1
	}
	if s.downTable == nil {
		return t
	}
	return int(s.downTable[t])
}

// end returns the end that belongs to a start. A start that is not possible gives a value beyond the
// horizon if it is never(), and start plus duration otherwise.
func (s *shape) end(start int) int {
	if s.endTable == nil || start < 0 || start > s.horizon {
		return start + s.duration
	}
	return int(s.endTable[start])
}

// startEndingFrom returns the least possible start whose end is at or after t, never() if there is none.
func (s *shape) startEndingFrom(t int) int {
	if s.endTable == nil {
		return s.up(t - s.duration)
	}
	if t > s.horizon {
		return s.never()
	}
	return int(s.endUp[max(t, 0)])
}

// startEndingBy returns the greatest possible start whose end is at or before t, -1 if there is none.
func (s *shape) startEndingBy(t int) int {
	if s.endTable == nil {
		return s.down(t - s.duration)
	}
	return s.down(s.startEndingFrom(t+1) - 1)
}

// rank returns the place of a possible start among all possible starts, and nth the start at a place.
func (s *shape) rank(start int) int {
	if s.rankTable == nil {
		return start
	}
	return int(s.rankTable[start])
}

func (s *shape) nth(rank int) int {
	if s.starts == nil {
		return rank
	}
	return int(s.starts[rank])
}

// works reports whether a mode that covers slot t is worked on in it.
func (s *shape) works(t int) bool { return s.open == nil || (t < len(s.open) && s.open[t]) }

// newShape returns the places of a mode of the given duration. Windows are nil for AnyTime.
func newShape(horizon, duration int, windows []Window, anyTime, splittable bool) *shape {
	s := &shape{horizon: horizon, duration: duration}
	if anyTime {
		return s
	}
	possible := make([]bool, horizon+1)
	if splittable && duration > 0 {
		s.rest(windows, possible)
	} else {
		for _, w := range windows {
			for t := w.First; t+duration <= min(w.End, horizon); t++ {
				possible[t] = true
			}
		}
	}
	s.upTable, s.downTable = make([]int32, horizon+1), make([]int32, horizon+1)
	s.rankTable = make([]int32, horizon+1)
	next, last := int32(s.never()), int32(-1)
	for t := range possible {
		if possible[t] {
			last = int32(t)
			s.rankTable[t] = int32(len(s.starts))
			s.starts = append(s.starts, last)
		}
		s.downTable[t] = last
	}
	for t := horizon; t >= 0; t-- {
		if possible[t] {
			next = int32(t)
		}
		s.upTable[t] = next
	}
	if s.endTable != nil {
		s.endUp = make([]int32, horizon+1)
		start := s.up(0)
		for t := range s.endUp {
			for start <= horizon && int(s.endTable[start]) < t {
				start = s.up(start + 1)
			}
			s.endUp[t] = int32(start)
		}
	}
	return s
}

// rest fills the starts and ends of a splittable mode, which rests between windows.
func (s *shape) rest(windows []Window, possible []bool) {
	s.open = make([]bool, s.horizon+1)
	var work []int32 // the slots of all windows
	for _, w := range windows {
		for t := w.First; t < min(w.End, s.horizon); t++ {
			s.open[t] = true
			work = append(work, int32(t))
		}
	}
	s.endTable = make([]int32, s.horizon+1)
	for t := range s.endTable {
		s.endTable[t] = int32(t + s.duration)
	}
	for k, t := range work {
		if k+s.duration <= len(work) {
			possible[t] = true
			s.endTable[t] = work[k+s.duration-1] + 1
		}
	}
}
