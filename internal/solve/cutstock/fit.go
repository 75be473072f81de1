package cutstock

import (
	"cmp"
	"encoding/binary"
	"math"
	"slices"
)

// Exact fit. Idea: some piece must hold the longest item that is still needed, so try every pattern that holds it, from
// the cheapest by reduced cost; solve the relaxation of what remains and stop where it cannot cost less than the best
// plan. A pattern whose reduced cost alone lifts the bound that far is not even tried, patterns that leave room for
// another needed item are dominated (unless leftovers are worth something), and tasks met before are not searched
// again: with equal pieces of stock the order in which they are cut makes no difference. Proves what bounds alone cannot;
// leaves the choice of stock counts to counts.go, from where it is called for one point at a time.
// References: bin completion: R. E. Korf, A new algorithm for optimal bin packing, AAAI-02 (2002); reduced cost fixing as in
// G. L. Nemhauser, L. A. Wolsey, Integer and Combinatorial Optimization (1988), II.5.1.
type fitSearch struct {
	s      *solver
	seen   map[string]int64 // task -> cost that completing it is known to reach
	missed bool             // part of the search was left out
}

const (
	mostChoices = 4000    // patterns tried at one node; more are not enumerated and the proof is given up
	mostSeen    = 1 << 18 // tasks remembered
)

// refutes searches below a branch and reports whether it is proven that no plan from there costs less than the best one,
// which the search may itself have found.
func (f *fitSearch) refutes(b branch) bool {
	f.seen = map[string]int64{}
	f.missed = false
	f.node(b)
	return !f.missed
}

func (f *fitSearch) node(b branch) {
	s := f.s
	if whole(b.need) {
		s.offer(b.runs)
		return
	}
	if b.cost+s.p.step > s.stop() || s.p.budget.done() {
		f.missed = f.missed || s.p.budget.done()
		return
	}
	key := b.key()
	if known, ok := f.seen[key]; ok && b.cost+known >= s.stop() {
		return
	}
	g := s.lp
	if !g.relax(b.task, 0, noFloor, s.stop()-b.cost) {
		f.missed = true
		return
	}
	if g.bound <= s.p.dearest() && b.cost+s.p.roundUp(g.bound) < s.stop() {
		s.offer(append(slices.Clip(b.runs), g.rounded()...))
		f.branch(b)
	}
	if !f.missed && len(f.seen) < mostSeen && s.known {
		f.seen[key] = s.stop() - b.cost
	}
}

// branch tries the patterns for the longest needed item.
func (f *fitSearch) branch(b branch) {
	s := f.s
	bound := s.lp.bound
	first := slices.IndexFunc(b.need, func(n int64) bool { return n > 0 })
	e := choiceList{p: s.p, proof: s.lp.proof, task: b.task}
	e.slack = float64(s.stop()-b.cost) - bound
	for k := range s.p.kinds {
		if b.free[k] > 0 {
			e.kind = k
			e.collect(first)
		}
	}
	f.missed = f.missed || e.tooMany
	slices.SortStableFunc(e.list, func(a, b choice) int { return cmp.Compare(a.excess, b.excess) })
	for _, c := range e.list {
		// the best plan may have become cheaper since the list was made
		if b.cost+s.p.roundUp(bound+c.excess) >= s.stop() {
			return
		}
		f.node(b.fix(s.p, c.pattern, 1))
		if s.p.budget.done() {
			f.missed = true
			return
		}
	}
}

// key is a task as a string: needs and free pieces.
func (t task) key() string {
	var buf []byte
	for _, n := range t.need {
		buf = binary.AppendVarint(buf, n)
	}
	for _, n := range t.free {
		buf = binary.AppendVarint(buf, n)
	}
	return string(buf)
}

// choice is a pattern and by how much using it lifts the bound.
type choice struct {
	pattern
	excess float64
}

// choiceList enumerates the patterns of one kind that hold a given type and lift the bound by less than slack.
type choiceList struct {
	p       *problem
	proof   proof
	task    task
	kind    int
	slack   float64
	items   []entry
	list    []choice
	tooMany bool
	prices  []float64 // certified price of each type
	best    []float64 // best price per size among types from here on
}

// collect enumerates the patterns of the present kind that hold type first.
func (e *choiceList) collect(first int) {
	e.prices = e.proof.items
	e.best = make([]float64, len(e.prices)+1)
	for i := len(e.prices) - 1; i >= 0; i-- {
		e.best[i] = e.best[i+1]
		if e.task.need[i] > 0 {
			e.best[i] = max(e.best[i], e.prices[i]/float64(e.p.size[i]))
		}
	}
	free := e.p.kinds[e.kind].capacity
	for q := min(e.task.need[first], free/e.p.size[first]); q > 0; q-- {
		e.items = append(e.items[:0], entry{first, q})
		e.extend(first+1, free-q*e.p.size[first], float64(q)*e.prices[first])
	}
}

// extend adds types from i on to the present items.
func (e *choiceList) extend(i int, free int64, value float64) {
	if e.tooMany || !e.p.budget.spend(4) {
		e.tooMany = true
		return
	}
	kd := &e.p.kinds[e.kind]
	if !kd.worth && float64(kd.cost)-e.proof.kinds[e.kind]-value-float64(free)*e.best[i] >= e.slack {
		return
	}
	for i < len(e.prices) && (e.task.need[i] == 0 || e.p.size[i] > free) {
		i++
	}
	if i == len(e.prices) {
		e.add(free, value)
		return
	}
	for q := min(e.task.need[i], free/e.p.size[i]); q > 0; q-- {
		e.items = append(e.items, entry{i, q})
		e.extend(i+1, free-q*e.p.size[i], value+float64(q)*e.prices[i])
		e.items = e.items[:len(e.items)-1]
	}
	e.extend(i+1, free, value)
}

// add puts the present items on the list unless they are dominated or lift the bound too far.
func (e *choiceList) add(free int64, value float64) {
	kd := &e.p.kinds[e.kind]
	if !kd.worth && e.roomFor(free) {
		return
	}
	excess := float64(e.p.net(e.kind, kd.capacity-free)) - e.proof.kinds[e.kind] - value
	if excess >= e.slack {
		return
	}
	if len(e.list) == mostChoices {
		e.tooMany = true
		return
	}
	e.list = append(e.list, choice{pattern{e.kind, slices.Clone(e.items)}, math.Max(0, excess)})
}

// roomFor reports whether another needed item fits the free capacity beside the present items.
func (e *choiceList) roomFor(free int64) bool {
	at := 0
	for i, n := range e.task.need {
		if at < len(e.items) && e.items[at].item == i {
			n -= e.items[at].qty
			at++
		}
		if n > 0 && e.p.size[i] <= free {
			return true
		}
	}
	return false
}
