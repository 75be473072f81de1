package cutstock

import (
	"cmp"
	"slices"
)

// Dives. Idea: fix the patterns that the relaxation uses most, solve the relaxation of what remains with patterns generated
// anew, and so on down to nothing; then come back a little and decide otherwise at a few early steps (limited
// discrepancy). Finds optimal plans whenever good ones look like the relaxation, which is nearly always; leaves out
// proof. Reference: R. Sadykov et al., Primal heuristics for branch and price: the assets of diving methods, INFORMS
// Journal on Computing 31 (2019), doi:10.1287/ijoc.2018.0822.
type diver struct {
	s     *solver
	shake int // not 0: which of the many optimal solutions of a relaxation to start from
}

const (
	nearlyOne     = 0.8  // a pattern used at least this often is fixed without another look (assumed)
	leastUse      = 1e-3 // a pattern used less often is not looked at; covers the perturbation of the right sides
	deviateDepth  = 4    // steps from the top at which a dive may decide otherwise
	deviateChoice = 3    // choices per such step
)

// branch is a partial plan: fixed runs and the task they leave.
type branch struct {
	task
	runs   []run
	cost   int64
	barred []pattern // patterns that may not be fixed next
}

// fix returns the branch extended by n pieces of a pattern.
func (b branch) fix(p *problem, pt pattern, n int64) branch {
	return branch{
		task: b.without(pt, n),
		runs: append(slices.Clip(b.runs), run{pt, n}),
		cost: b.cost + n*p.net(pt.kind, p.used(pt.items)),
	}
}

// dive explores below a branch with the given number of deviations left.
func (d *diver) dive(b branch, depth, deviations int) {
	s := d.s
	if s.finished() || whole(b.need) {
		s.offer(b.runs)
		return
	}
	g := s.lp
	if !g.relax(b.task, d.shake, s.bound-b.cost, s.stop()-b.cost) || b.cost+s.p.roundUp(g.bound) >= s.stop() {
		return
	}
	s.offer(append(slices.Clip(b.runs), g.rounded()...))
	d.descend(b, g.usage(), depth, deviations)
}

// descend fixes patterns by their use in the relaxation and dives on, for each choice that is allowed.
func (d *diver) descend(b branch, used []usage, depth, deviations int) {
	next := b
	fixed := false
	for _, u := range used {
		if n := int64(u.count + 1 - nearlyOne); n > 0 && next.fits(u.pattern, n) {
			next = next.fix(d.s.p, u.pattern, n)
			fixed = true
		}
	}
	if fixed {
		next.barred = b.barred
		d.dive(next, depth, deviations)
		return
	}
	choices := 1
	if depth < deviateDepth {
		choices = min(deviations+1, deviateChoice)
	}
	barred := slices.Clip(b.barred)
	for _, u := range used {
		if choices == 0 || d.s.finished() {
			return
		}
		if !b.fits(u.pattern, 1) || slices.ContainsFunc(barred, u.pattern.equal) {
			continue
		}
		next := b.fix(d.s.p, u.pattern, 1)
		next.barred = barred
		d.dive(next, depth+1, deviations)
		barred = append(barred, u.pattern)
		choices--
		deviations--
	}
}

// equal reports whether two patterns cut the same from the same kind.
func (pt pattern) equal(o pattern) bool { return pt.kind == o.kind && slices.Equal(pt.items, o.items) }

// usage is how often the relaxation uses a pattern.
type usage struct {
	pattern
	count float64
}

// usage returns the patterns of the present solution of the relaxation, most used first.
func (g *colgen) usage() []usage {
	var list []usage
	for r, v := range g.master.basis {
		if v >= 0 && g.master.x[r] > leastUse && len(g.master.cols[v].items) > 0 && g.master.cols[v].allowed {
			list = append(list, usage{g.master.cols[v].pattern, g.master.x[r]})
		}
	}
	slices.SortStableFunc(list, func(a, b usage) int { return cmp.Compare(b.count, a.count) })
	return list
}

// rounded turns the present solution of the relaxation into runs: whole parts of the pattern counts first, then the
// rest of the needs by filling.
func (g *colgen) rounded() []run {
	left := g.task.clone()
	var runs []run
	for _, u := range g.usage() {
		n := min(int64(u.count+leastUse), left.free[u.kind])
		before := len(runs)
		runs = g.p.take(runs, run{u.pattern, n}, left.need)
		for _, t := range runs[before:] {
			left.free[t.kind] -= t.count
		}
	}
	rest, _ := g.p.construct(left, g.p.fillTight)
	return append(runs, rest...)
}
