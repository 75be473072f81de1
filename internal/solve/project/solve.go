package project

import (
	"context"
	"fmt"
	"slices"
	"strings"
)

// Options limits a search. The zero value asks for the defaults. With the same options and a context that
// does not end, the same instance gives the same solution.
type Options struct {
	Seed      uint64
	Schedules int // schedules the heuristics may generate; 0 means defaultSchedules
	Conflicts int // dead ends the exact search may meet; 0 means defaultConflicts, negative means none
	Progress  func(value, bound int)
}

const (
	defaultSchedules = 200
	defaultConflicts = 20000
)

// Solve looks for a shortest schedule until it is proven, the limits are reached or ctx ends. It panics if
// the instance is malformed (an index out of range, a negative duration or amount, windows out of order).
func Solve(ctx context.Context, in Instance, opt Options) Solution {
	in.check()
	if opt.Schedules == 0 {
		opt.Schedules = defaultSchedules
	}
	if opt.Conflicts == 0 {
		opt.Conflicts = defaultConflicts
	}
	net := newNetwork(&in)
	if c := net.obvious(); c.Reason != "" {
		return Solution{Status: Infeasible, Conflict: c}
	}
	root, bound, ok := net.rootBounds()
	if !ok {
		return Solution{Status: Infeasible, Conflict: Conflict{Reason: "release times, deadlines, calendars and lags leave no start for some task"}}
	}
	im := newImprover(net, root, opt.Seed)
	noise := 0.0
	for im.forward.passes < opt.Schedules && ctx.Err() == nil && (im.best == nil || im.bestEnd > bound) {
		im.sample(noise, 100)
		noise = 0.1 * float64(bound)
	}
	s := Solution{Status: Stopped, Bound: bound, Schedules: im.forward.passes + im.backward.passes}
	if im.best != nil {
		s.Status = Feasible
		net.fill(&s, im.best, im.bestMode)
		if s.Value == bound {
			s.Status = Optimal
		}
	}
	return s
}

// fill enters a schedule into a solution.
func (net *network) fill(s *Solution, start, mode []int) {
	s.Start, s.Mode = slices.Clone(start), slices.Clone(mode)
	s.End = make([]int, len(start))
	for i, t := range start {
		s.End[i] = net.shapes[i][mode[i]].end(t)
	}
	s.Value = s.End[net.in.Goal]
}

// obvious finds what makes an instance infeasible without any search: a task that no mode or window can
// hold, or lags that contradict each other.
func (net *network) obvious() Conflict {
	in := net.in
	for i, t := range in.Tasks {
		reason := ""
		for k, m := range t.Modes {
			shape := net.shapes[i][k]
			first := shape.up(t.Release)
			if r := in.tooMuch(m); r >= 0 {
				reason = fmt.Sprintf("task %q needs more of %q than its capacity %d", t.Name, in.Resources[r].Name, in.Resources[r].Capacity)
			} else if shape.up(0) > in.Horizon {
				reason = fmt.Sprintf("task %q takes %d slots and no window of its calendar is that long", t.Name, m.Duration)
			} else if first > in.Horizon || shape.end(first) > in.deadline(i) {
				reason = fmt.Sprintf("task %q takes %d slots and does not fit between its release %d and its deadline %d", t.Name, m.Duration, t.Release, in.deadline(i))
			} else {
				reason = ""
				break
			}
		}
		if reason != "" {
			return Conflict{Reason: reason, Tasks: []int{i}}
		}
	}
	for _, h := range in.Holds {
		if c := in.Resources[h.Resource].Capacity; h.Amount > c {
			return Conflict{Reason: fmt.Sprintf("the hold from %q to %q takes %d of %q, capacity %d", in.Tasks[h.From].Name, in.Tasks[h.To].Name, h.Amount, in.Resources[h.Resource].Name, c), Tasks: []int{h.From, h.To}}
		}
	}
	if cycle := net.positiveCycle(); cycle != nil {
		return net.cycleConflict(cycle)
	}
	return Conflict{}
}

// cycleConflict says in words which lags of a cycle contradict each other.
func (net *network) cycleConflict(cycle []arc) Conflict {
	var c Conflict
	var words []string
	for _, a := range cycle {
		if !slices.Contains(c.Tasks, a.to.task()) {
			c.Tasks = append(c.Tasks, a.to.task())
		}
		if a.lag >= 0 && !slices.Contains(c.Lags, a.lag) {
			c.Lags = append(c.Lags, a.lag)
			words = append(words, net.in.describe(net.in.Lags[a.lag]))
		}
	}
	c.Reason = "these lags contradict each other: " + strings.Join(words, "; ")
	return c
}
