package project

import (
	"context"
	"slices"
)

// Options limits a search. The zero value asks for the defaults. With the same options and a context that
// does not end, the same instance gives the same solution.
type Options struct {
	Seed      uint64
	Schedules int // schedules the heuristics may generate; 0 means defaultSchedules
	DeadEnds  int // dead ends the exact search may meet; 0 means defaultDeadEnds, negative means none
	Progress  func(value, bound int)
}

// Live returns a budget for views that follow every change of a piece: a schedule and a bound at once, not always
// the proof.
func Live() Options { return Options{Schedules: 60, DeadEnds: 200} }

const (
	defaultSchedules = 2000
	defaultDeadEnds  = 20000
)

// Solve looks for a shortest schedule until it is proven, the limits are reached or ctx ends. It panics if
// the instance is malformed (an index out of range, a negative duration or amount, windows out of order).
func Solve(ctx context.Context, in Instance, opt Options) Solution {
	in.check()
	if opt.Schedules == 0 {
		opt.Schedules = defaultSchedules
	}
	if opt.DeadEnds == 0 {
		opt.DeadEnds = defaultDeadEnds
	}
	net := newNetwork(&in)
	if c := net.obvious(); c.Reason != "" {
		return Solution{Status: Infeasible, Conflict: c}
	}
	l, ok := newLearner(net)
	if !ok {
		return Solution{Status: Infeasible, Conflict: explainInfeasible(ctx, &in, opt.DeadEnds)}
	}
	r := &run{ctx: ctx, net: net, opt: opt, learner: l, improver: newImprover(net, l, opt.Seed)}
	r.bound = l.earliest(endOf(in.Goal))
	r.improve(firstSchedules)
	if !r.closed() {
		r.shave()
	}
	if !r.closed() {
		r.prove()
	}
	return r.solution()
}

// run is the state of one call of Solve.
type run struct {
	ctx      context.Context
	net      *network
	opt      Options
	best     []int // starts, nil if no schedule is known
	mode     []int
	value    int
	bound    int
	none     bool // proven that there is no schedule
	learner  *learner
	improver *improver
}

// closed reports whether there is nothing left to prove.
func (r *run) closed() bool { return r.none || (r.best != nil && r.value <= r.bound) }

// improved takes a better schedule.
func (r *run) improved(start, mode []int, value int) {
	r.best, r.mode, r.value = slices.Clone(start), slices.Clone(mode), value
	r.tell()
}

func (r *run) tell() {
	if r.opt.Progress != nil && r.best != nil {
		r.opt.Progress(r.value, r.bound)
	}
}

// improve generates a number of schedules and takes the best.
func (r *run) improve(schedules int) {
	limit := min(r.improver.passes()+schedules, r.opt.Schedules)
	for r.improver.passes() < limit && r.ctx.Err() == nil && !r.closed() {
		r.improver.child()
		if r.improver.best != nil && (r.best == nil || r.improver.bestEnd < r.value) {
			r.improved(r.improver.best, r.improver.bestMode, r.improver.bestEnd)
		}
	}
}

// firstEffort is the number of dead ends of the first attempts; each round of attempts is allowed
// effortGrowth times as many as the one before.
const (
	firstEffort  = 250
	effortGrowth = 1.5
	// firstSchedules are generated before the first attempt, schedulesPerDeadEnd in each round.
	firstSchedules      = 60
	schedulesPerDeadEnd = 3
)

// prove runs the learning search from both sides: attempts to show that the goal cannot end at the bound
// raise the bound, attempts to find a schedule that ends earlier than the best lower the value.
func (r *run) prove() {
	l, goal := r.learner, endOf(r.net.in.Goal)
	if r.best != nil {
		l.follow(r.best)
	}
	for effort := float64(firstEffort); !r.closed() && !r.spent() && r.ctx.Err() == nil; effort *= effortGrowth {
		l.thorough = true
		for target := r.bound; r.best != nil && !r.closed() && r.attempt(l.endsBy(goal, target), int(effort)) == refuted; target = r.bound {
			r.raiseBound(target + 1)
		}
		l.thorough = !r.net.plain
		before := r.value
		for !r.closed() && r.attempt(l.endsBy(goal, r.net.in.Horizon), int(effort)) == foundSchedule {
		}
		if r.value < before && !r.closed() {
			r.improver.adopt(r.best, r.mode)
		}
		before = r.value
		if r.improve(schedulesPerDeadEnd * int(effort)); r.value < before {
			l.follow(r.best)
		}
	}
}

// shave raises the bound as far as assumptions about the end of the goal fail without any search: first in
// growing steps, then by halving.
func (r *run) shave() {
	l, goal := r.learner, endOf(r.net.in.Goal)
	top := r.net.in.Horizon // not known to fail
	if r.best != nil {
		top = r.value
	}
	for step := 1; r.bound+step-1 < top; step *= 2 {
		if target := r.bound + step - 1; l.fails(l.endsBy(goal, target)) {
			r.raiseBound(target + 1)
		} else {
			top = target
		}
	}
	for r.bound < top {
		if middle := (r.bound + top) / 2; l.fails(l.endsBy(goal, middle)) {
			r.raiseBound(middle + 1)
		} else {
			top = middle
		}
	}
}

// spent reports whether both limits are reached.
func (r *run) spent() bool {
	return r.learner.deadEnds >= r.opt.DeadEnds && r.improver.passes() >= r.opt.Schedules
}

func (r *run) raiseBound(bound int) {
	if bound > r.bound {
		r.bound = bound
		r.tell()
	}
}

// attempt searches for a schedule that is better than the best under an assumption.
func (r *run) attempt(assumption literal, effort int) outcome {
	l, goal := r.learner, endOf(r.net.in.Goal)
	l.undo(0)
	result := exhausted
	better := r.best == nil || l.raise(l.endsBy(goal, r.value-1), listed, 0, 0)
	if better && l.raise(l.endsFrom(goal, r.bound), listed, 0, 0) && l.propagate() {
		l.forgetRoot()
		r.raiseBound(l.earliest(goal))
		result = l.search(r.ctx, assumption, min(effort, r.opt.DeadEnds-l.deadEnds))
	}
	switch result {
	case exhausted:
		if r.none = r.best == nil; !r.none {
			r.raiseBound(r.value)
		}
	case foundSchedule:
		start, mode := l.schedule()
		r.improved(start, mode, l.earliest(goal))
		l.follow(start)
	}
	return result
}

// solution puts what is known into words.
func (r *run) solution() Solution {
	s := Solution{Status: Stopped, Bound: r.bound, Schedules: r.improver.passes(), DeadEnds: r.learner.deadEnds}
	switch {
	case r.none:
		s.Status = Infeasible
		s.Conflict = explainInfeasible(r.ctx, r.net.in, r.opt.DeadEnds)
	case r.best != nil:
		s.Status = Feasible
		r.net.fill(&s, r.best, r.mode)
		if r.closed() {
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
