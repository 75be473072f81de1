package cutstock

import (
	"context"
	"math"
	"slices"
)

// Options limit a run. The zero value asks for the default effort.
type Options struct {
	// Effort is the number of elementary steps to spend at most, one step taking about a nanosecond. 0 means
	// DefaultEffort. The answer depends on nothing else, unless the context is cancelled.
	Effort int64
	// Progress, if not nil, is called whenever cost or bound improve.
	Progress func(cost, bound int64)
}

const (
	// DefaultEffort is about a second of work.
	DefaultEffort = int64(1_000_000_000)
	// InteractiveEffort is a few milliseconds of work, meant for plans that are made while a person types. It proves most jobs
	// of some 25 parts; jobs of many short parts want some 20 million steps (docs/methods/cutstock.md has figures).
	InteractiveEffort = int64(3_000_000)
)

// Solve looks for the cheapest plan. It never fails: what is wrong with the instance, or that there is no plan, is in
// the status and the reason. A cancelled context ends the run with the best plan and bound so far.
func Solve(ctx context.Context, in Instance, opt Options) Solution {
	if reason := in.check(); reason != "" {
		return Solution{Status: Invalid, Reason: reason}
	}
	if reason := in.misfit(); reason != "" {
		return Solution{Status: Infeasible, Reason: reason}
	}
	if !slices.ContainsFunc(in.Items, func(it Item) bool { return it.Demand > 0 }) {
		return Solution{Status: Optimal}
	}
	s := newSolver(ctx, &in, opt)
	s.run()
	return s.solution()
}

// solver carries the best plan and bound through the methods.
type solver struct {
	p     *problem
	lp    *colgen
	opt   Options
	best  plan
	known bool // best holds a plan
	bound int64
	none  bool // it is proven that there is no plan
}

func newSolver(ctx context.Context, in *Instance, opt Options) *solver {
	if opt.Effort <= 0 {
		opt.Effort = DefaultEffort
	}
	p := reduce(in, newBudget(ctx, opt.Effort))
	return &solver{p: p, lp: newColgen(p), opt: opt}
}

func (s *solver) run() {
	all := s.p.task()
	s.construct(all)
	s.raise(s.p.coverBound())
	if s.finished() {
		return
	}
	for _, r := range s.best.runs {
		s.lp.master.add(r.pattern)
	}
	s.lp.relax(all, 0, s.bound, s.stop())
	s.raise(s.lp.bound)
	if s.finished() {
		return
	}
	s.offer(s.lp.rounded())
	used := s.lp.usage()
	// with several kinds the choice of stock decides more than the patterns do, and the count search dives too
	most := 3
	if len(s.p.kinds) > 1 {
		most = 0
	}
	for deviations := 0; deviations <= most && !s.finished(); deviations++ {
		d := diver{s: s}
		d.descend(branch{task: all}, used, 0, deviations)
	}
	if !s.finished() {
		c := countSearch{s: s}
		c.run()
	}
}

// construct offers the plans of both fills, with all kinds and with limited stock and one kind without limit at a time: the
// cheapest length is not the cheapest plan when few pieces are taken.
func (s *solver) construct(all task) {
	tasks := []task{all}
	for k := range s.p.kinds {
		if s.p.kinds[k].limited {
			continue
		}
		only := all.clone()
		for o := range only.free {
			if o != k && !s.p.kinds[o].limited {
				only.free[o] = 0
			}
		}
		tasks = append(tasks, only)
	}
	for _, t := range tasks {
		for _, fill := range []filler{s.p.fillDecreasing, s.p.fillTight} {
			if runs, ok := s.p.construct(t, fill); ok {
				s.offer(runs)
			}
		}
	}
}

// stop is the cost at which a plan is of no more interest.
func (s *solver) stop() int64 {
	if !s.known {
		return math.MaxInt64
	}
	return s.best.cost
}

// offer makes the runs the best plan if they are one and cost less.
func (s *solver) offer(runs []run) {
	pl, ok := s.p.newPlan(runs)
	if !ok || s.known && pl.cost >= s.best.cost {
		return
	}
	s.best, s.known = pl, true
	s.report()
}

// raise makes x the bound if it is higher.
func (s *solver) raise(x float64) {
	if !(x > float64(s.bound)) {
		return
	}
	b := s.p.roundUp(x)
	if !s.known && x > s.p.dearest() {
		s.none = true
	}
	if s.known {
		b = min(b, s.best.cost)
	}
	if b > s.bound {
		s.bound = b
		s.report()
	}
}

// dearest is more than any plan costs: every piece that can be of use is taken.
func (p *problem) dearest() float64 {
	sum := 1.0
	for _, k := range p.kinds {
		sum += float64(k.cost) * float64(k.limit)
	}
	return sum
}

func (s *solver) report() {
	if s.opt.Progress != nil && s.known {
		s.opt.Progress(s.best.cost, s.bound)
	}
}

// finished reports whether nothing is left to find out or to spend.
func (s *solver) finished() bool {
	return s.none || s.known && s.best.cost <= s.bound || s.p.budget.done()
}

func (s *solver) solution() Solution {
	sol := Solution{Effort: s.p.budget.used, Bound: s.bound}
	switch {
	case s.known:
		sol.Status, sol.Cost, sol.Layouts = Feasible, s.best.cost, s.p.layouts(s.best)
		if s.best.cost <= s.bound {
			sol.Status, sol.Bound = Optimal, s.best.cost
		}
	case s.none:
		sol.Status, sol.Reason, sol.Bound = Infeasible, "the stock at hand cannot give all items together", 0
	default:
		sol.Status = Stopped
	}
	return sol
}
