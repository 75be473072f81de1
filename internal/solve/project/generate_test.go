package project

import (
	"fmt"
	"math/rand/v2"
)

// small returns a random project small enough to try every schedule: calendars, splittable tasks, holds,
// several modes, minimum and maximum lags, releases and deadlines.
func small(seed uint64) Instance {
	r := rand.New(rand.NewPCG(seed, 7))
	in := Instance{Horizon: 8 + r.IntN(4), Resources: []Resource{{"person", 1 + r.IntN(2)}, {"clamp", 1 + r.IntN(3)}}}
	in.Calendars = []Calendar{{"evenings", []Window{{1, 4}, {5, 6 + r.IntN(3)}, {9, 12}}}}
	n := 3 + r.IntN(2)
	for i := range n {
		t := Task{Name: fmt.Sprint("task ", i), Calendar: r.IntN(2) - 1, Splittable: r.IntN(3) == 0}
		for range 1 + r.IntN(5)/4 {
			t.Modes = append(t.Modes, Mode{Duration: r.IntN(4), Needs: []Need{{0, 1 + r.IntN(2)}, {1, r.IntN(2)}}})
		}
		if r.IntN(6) == 0 {
			t.Release = r.IntN(4)
		}
		if r.IntN(6) == 0 {
			t.Deadline = 5 + r.IntN(5)
		}
		in.Tasks = append(in.Tasks, t)
	}
	for range n {
		a, b := r.IntN(n), r.IntN(n)
		if a == b {
			continue
		}
		l := Lag{From: min(a, b), To: max(a, b), FromStart: r.IntN(2) == 0, Min: r.IntN(4) - 1}
		if r.IntN(3) == 0 {
			l.Limited, l.Max = true, l.Min+r.IntN(4)
		}
		in.Lags = append(in.Lags, l)
	}
	if r.IntN(2) == 0 {
		in.Holds = append(in.Holds, Hold{Resource: 1, Amount: 1 + r.IntN(2), From: r.IntN(n - 1), To: n - 1})
	}
	in.Tasks = append(in.Tasks, NewTask("finish", AnyTime, 0))
	in.Goal = n
	for i := range n {
		in.Lags = append(in.Lags, Lag{From: i, To: n})
	}
	return in
}

// shortest tries every schedule and returns the least end of the goal, -1 if there is no schedule.
func shortest(in Instance) int {
	n := len(in.Tasks)
	s := Solution{Start: make([]int, n), End: make([]int, n), Mode: make([]int, n)}
	best := -1
	var try func(i int)
	try = func(i int) {
		if i == n {
			s.Value = s.End[in.Goal]
			if (best < 0 || s.Value < best) && len(Verify(in, s)) == 0 {
				best = s.Value
			}
			return
		}
		for m, mode := range in.Tasks[i].Modes {
			for start := 0; start <= in.Horizon; start++ {
				for end := start + mode.Duration; end <= in.Horizon; end++ {
					if _, problem := workedSlots(in, in.Tasks[i], mode, start, end); problem != "" {
						continue
					}
					s.Start[i], s.End[i], s.Mode[i] = start, end, m
					if lagsHold(in, s, i) {
						try(i + 1)
					}
				}
			}
		}
	}
	try(0)
	return best
}

// lagsHold checks the lags among the tasks up to i.
func lagsHold(in Instance, s Solution, i int) bool {
	for _, l := range in.Lags {
		from := s.End[l.From]
		if l.FromStart {
			from = s.Start[l.From]
		}
		if lag := s.Start[l.To] - from; max(l.From, l.To) <= i && (lag < l.Min || (l.Limited && lag > l.Max)) {
			return false
		}
	}
	return true
}

// library returns a random project of the kind of the standard benchmark sets: n tasks in a network of
// precedences, four resources, no calendar.
func library(n int, seed uint64) Instance {
	r := rand.New(rand.NewPCG(seed, 11))
	in := Instance{Horizon: 10 * n}
	for k := range 4 {
		in.Resources = append(in.Resources, Resource{fmt.Sprint("R", k), 10 + r.IntN(5)})
	}
	for i := range n {
		var needs []Need
		for k := range 4 {
			if r.IntN(2) == 0 {
				needs = append(needs, Need{k, 1 + r.IntN(9)})
			}
		}
		in.Tasks = append(in.Tasks, NewTask(fmt.Sprint("job ", i), AnyTime, 1+r.IntN(9), needs...))
		for range 2 {
			if i > 3 && r.IntN(4) > 0 {
				in.Lags = append(in.Lags, Lag{From: max(0, i-3-r.IntN(8)), To: i})
			}
		}
	}
	in.Tasks = append(in.Tasks, NewTask("finish", AnyTime, 0))
	in.Goal = n
	for i := range n {
		in.Lags = append(in.Lags, Lag{From: i, To: n})
	}
	return in
}
