package project

import "slices"

// Serial schedule generation: take the tasks one at a time, each as early as lags, calendar and resources
// allow. Which task comes next is a matter of priority among those whose predecessors are placed; a task
// that a maximum lag ties to a placed one goes first. When a task cannot be placed before its maximum lag
// runs out, the task that started the lag is delayed and the pass is repeated (repair). With no maximum lags
// and no holds a pass never fails. See Kolisch (1996) doi:10.1016/0377-2217(95)00357-6.

// unplaced is the start of a task that has no place yet.
const unplaced = -1

// generator makes schedules for fixed modes of one network. It reuses its memory from pass to pass.
type generator struct {
	net       *network
	mode      []int
	shapes    []*shape  // of the modes
	needs     [][]Need  // of the modes
	used      [][]int32 // resource, slot -> amount taken
	lo, hi    []int     // bounds of the starts
	rootLo    []int     // bounds before anything is placed, nil if not known yet
	rootHi    []int
	firsts    []int // how many tasks go before each
	cause     []int // the placed task that last lowered hi, -1 if none
	start     []int
	waiting   []int // tasks still to be placed before this one
	held      []int // hold -> slot up to which it is entered in used
	holdsFrom [][]int
	holdsTo   [][]int
	queue     []int
	queued    []bool
	eligible  []int
	release   []int // of the goal when justifying
	pieces    []piece
	passes    int
}

// piece is an amount of a resource over a range of slots that a placement would take.
type piece struct {
	resource, amount, first, end int
	shape                        *shape // only the slots in which it works; nil for all
	running                      bool   // of a hold that started before
}

func newGenerator(net *network, mode []int) *generator {
	n := len(net.in.Tasks)
	g := &generator{
		net: net, shapes: make([]*shape, n), needs: make([][]Need, n),
		lo: make([]int, n), hi: make([]int, n), cause: make([]int, n), start: make([]int, n), waiting: make([]int, n),
		held: make([]int, len(net.in.Holds)), holdsFrom: make([][]int, n), holdsTo: make([][]int, n), queued: make([]bool, n),
	}
	g.used = make([][]int32, len(net.in.Resources))
	for r := range g.used {
		g.used[r] = make([]int32, net.in.Horizon+1)
	}
	for h, hold := range net.in.Holds {
		g.holdsFrom[hold.From] = append(g.holdsFrom[hold.From], h)
		g.holdsTo[hold.To] = append(g.holdsTo[hold.To], h)
	}
	g.setModes(mode)
	return g
}

func (g *generator) setModes(mode []int) {
	g.mode, g.rootLo = mode, nil
	for i, m := range mode {
		g.shapes[i] = g.net.shapes[i][m]
		g.needs[i] = g.net.in.Tasks[i].Modes[m].Needs
	}
}

// bounds sets lo and hi to what release, deadline, calendar and lags leave. It returns false if they leave
// nothing. A plain network needs no more than the releases: what follows from lags comes as tasks are placed.
func (g *generator) bounds(release []int) bool {
	if g.rootLo == nil && !g.rootBounds() {
		return false
	}
	copy(g.lo, g.rootLo)
	copy(g.hi, g.rootHi)
	for i := range g.lo {
		g.cause[i] = -1
		if release == nil || release[i] <= g.lo[i] {
			continue
		}
		if g.lo[i] = g.shapes[i].up(release[i]); g.lo[i] > g.hi[i] {
			return g.fail()
		}
		if !g.net.plain {
			g.enqueue(i)
		}
	}
	return g.tighten(-1)
}

// rootBounds works out what is the same for every pass with these modes.
func (g *generator) rootBounds() bool {
	in := g.net.in
	for i := range in.Tasks {
		g.lo[i] = g.shapes[i].up(in.Tasks[i].Release)
		g.hi[i] = g.shapes[i].startEndingBy(in.deadline(i))
		g.cause[i] = -1
		if g.lo[i] > g.hi[i] {
			return g.fail()
		}
		g.enqueue(i)
	}
	if !g.tighten(-1) {
		return false
	}
	g.rootLo, g.rootHi = slices.Clone(g.lo), slices.Clone(g.hi)
	g.firsts = make([]int, len(g.lo))
	for _, a := range g.net.arcs {
		if g.net.precedes(a) {
			g.firsts[a.to.task()]++
		}
	}
	return true
}

// earliest and latest give the bounds of an endpoint.
func (g *generator) earliest(e endpoint) int {
	if e.isEnd() {
		return g.shapes[e.task()].end(g.lo[e.task()])
	}
	return g.lo[e.task()]
}

func (g *generator) latest(e endpoint) int {
	if e.isEnd() {
		return g.shapes[e.task()].end(g.hi[e.task()])
	}
	return g.hi[e.task()]
}

// tighten carries the bounds of the queued tasks over all arcs until nothing changes, and returns false if a
// task has no start left. Lowered upper bounds are put down to the placed task, or to who lowered the neighbour.
func (g *generator) tighten(placed int) bool {
	for len(g.queue) > 0 {
		i := g.queue[len(g.queue)-1]
		g.queue = g.queue[:len(g.queue)-1]
		g.queued[i] = false
		for _, a := range g.net.out[i] {
			arc := g.net.arcs[a]
			j, shape := arc.to.task(), g.shapes[arc.to.task()]
			var lo int
			if t := g.earliest(arc.from) + arc.weight; arc.to.isEnd() {
				lo = shape.startEndingFrom(t)
			} else {
				lo = shape.up(t)
			}
			if lo > g.lo[j] {
				g.lo[j] = lo
				g.enqueue(j)
			}
			if g.lo[j] > g.hi[j] {
				return g.fail()
			}
		}
		for _, a := range g.net.into[i] {
			arc := g.net.arcs[a]
			j, shape := arc.from.task(), g.shapes[arc.from.task()]
			var hi int
			if t := g.latest(arc.to) - arc.weight; arc.from.isEnd() {
				hi = shape.startEndingBy(t)
			} else {
				hi = shape.down(t)
			}
			if hi < g.hi[j] {
				g.hi[j] = hi
				g.cause[j] = g.cause[i]
				if i == placed {
					g.cause[j] = placed
				}
				g.enqueue(j)
			}
			if g.lo[j] > g.hi[j] {
				return g.fail()
			}
		}
	}
	return true
}

func (g *generator) enqueue(i int) {
	if !g.queued[i] {
		g.queued[i] = true
		g.queue = append(g.queue, i)
	}
}

func (g *generator) fail() bool {
	for _, i := range g.queue {
		g.queued[i] = false
	}
	g.queue = g.queue[:0]
	return false
}

// generate makes a schedule with the tasks of lowest priority value first, repairing maximum lags at most
// repairs times. It leaves the starts in g.start and returns false if it found none.
func (g *generator) generate(priority []float64, repairs int) bool {
	var release []int
	for attempt := 0; ; attempt++ {
		stuck, slip, ok := g.pass(priority, release)
		if ok {
			return true
		}
		if attempt >= repairs || stuck < 0 {
			return false
		}
		if release == nil {
			release = make([]int, len(g.start))
		}
		release[stuck] = max(release[stuck], g.start[stuck]+max(slip, 1))
	}
}

// pass places every task once. On failure it returns the placed task to delay and by how many slots, or -1.
func (g *generator) pass(priority []float64, release []int) (stuck, slip int, ok bool) {
	g.passes++
	if !g.bounds(release) {
		return -1, 0, false
	}
	for r := range g.used {
		clear(g.used[r])
	}
	for i := range g.start {
		g.start[i] = unplaced
	}
	copy(g.waiting, g.firsts)
	g.eligible = g.eligible[:0]
	for i, w := range g.waiting {
		if w == 0 {
			g.eligible = append(g.eligible, i)
		}
	}
	for left := len(g.start); left > 0; left-- {
		i := g.next(priority)
		t, blocked := g.place(i, g.lo[i])
		if blocked >= 0 {
			return blocked, 1, false
		}
		if t > g.hi[i] {
			return g.cause[i], t - g.hi[i], false
		}
		g.commit(i, t)
		if g.net.plain {
			g.push(i)
			continue
		}
		g.lo[i], g.hi[i] = t, t
		g.enqueue(i)
		if !g.tighten(i) {
			return i, 1, false
		}
	}
	return -1, 0, true
}

// push raises the earliest starts of the successors of a placed task: all that a plain network needs.
func (g *generator) push(i int) {
	g.lo[i] = g.start[i]
	for _, a := range g.net.out[i] {
		arc := g.net.arcs[a]
		j := arc.to.task()
		g.lo[j] = max(g.lo[j], g.shapes[j].up(g.earliest(arc.from)+arc.weight))
	}
}

// next takes the task to place now out of the eligible ones: the most urgent of those with a running
// maximum lag, else the one of lowest priority value. If lags wait for each other in a circle, the unplaced
// task that can start first is taken.
func (g *generator) next(priority []float64) int {
	best := -1
	for k, i := range g.eligible {
		if best < 0 {
			best = k
			continue
		}
		b := g.eligible[best]
		tiedI, tiedB := g.cause[i] >= 0, g.cause[b] >= 0
		switch {
		case tiedI != tiedB:
			if tiedI {
				best = k
			}
		case tiedI && g.hi[i] != g.hi[b]:
			if g.hi[i] < g.hi[b] {
				best = k
			}
		case priority[i] < priority[b]:
			best = k
		}
	}
	if best < 0 {
		found := -1
		for i, s := range g.start {
			if s == unplaced && (found < 0 || g.lo[i] < g.lo[found]) {
				found = i
			}
		}
		g.waiting[found] = 0
		return found
	}
	i := g.eligible[best]
	g.eligible[best] = g.eligible[len(g.eligible)-1]
	g.eligible = g.eligible[:len(g.eligible)-1]
	return i
}

// place returns the first start at or after from at which the resources suffice; it may lie beyond hi. If
// a hold that already runs blocks every start, blocked is the task that started the hold, else -1.
func (g *generator) place(i, from int) (start, blocked int) {
	shape := g.shapes[i]
	if len(g.holdsFrom[i])+len(g.holdsTo[i]) == 0 {
		return g.placeAlone(i, from), -1
	}
	t := shape.up(from)
	for t <= g.net.in.Horizon {
		g.takes(i, t)
		slot, running := g.clash()
		if slot < 0 {
			return t, -1
		}
		if running {
			for _, h := range g.holdsTo[i] {
				if a := g.net.in.Holds[h].From; g.start[a] != unplaced {
					return t, a
				}
			}
		}
		t = shape.up(slot + 1)
	}
	return t, -1
}

// placeAlone is place for a task without holds.
func (g *generator) placeAlone(i, from int) int {
	shape := g.shapes[i]
	t := shape.up(from)
search:
	for t <= g.net.in.Horizon {
		end := shape.end(t)
		for _, n := range g.needs[i] {
			used, room := g.used[n.Resource], int32(g.net.in.Resources[n.Resource].Capacity-n.Amount)
			for slot := end - 1; slot >= t; slot-- {
				if used[slot] > room && shape.works(slot) {
					t = shape.up(slot + 1)
					continue search
				}
			}
		}
		return t
	}
	return t
}

// takes fills pieces with what task i would take if it started at t.
func (g *generator) takes(i, t int) {
	g.pieces = g.pieces[:0]
	end := g.shapes[i].end(t)
	for _, n := range g.needs[i] {
		g.pieces = append(g.pieces, piece{n.Resource, n.Amount, t, end, g.shapes[i], false})
	}
	for _, h := range g.holdsFrom[i] {
		hold := g.net.in.Holds[h]
		until := end
		if hold.To != i {
			until = g.endAfter(hold.To, i, t)
		}
		g.pieces = append(g.pieces, piece{hold.Resource, hold.Amount, t, until, nil, false})
	}
	for _, h := range g.holdsTo[i] {
		if hold := g.net.in.Holds[h]; hold.From != i && g.start[hold.From] != unplaced {
			g.pieces = append(g.pieces, piece{hold.Resource, hold.Amount, g.held[h], end, nil, true})
		}
	}
}

// endAfter returns the end of task j if it is placed, else the earliest end it can have once i starts at t.
func (g *generator) endAfter(j, i, t int) int {
	if g.start[j] != unplaced {
		return g.shapes[j].end(g.start[j])
	}
	first := g.lo[j]
	for _, a := range g.net.out[i] {
		arc := g.net.arcs[a]
		if arc.to != startOf(j) {
			continue
		}
		from := t
		if arc.from.isEnd() {
			from = g.shapes[i].end(t)
		}
		first = max(first, from+arc.weight)
	}
	return g.shapes[j].end(g.shapes[j].up(first))
}

// clash returns the last slot in which the pieces together exceed a capacity, -1 if they fit. running says
// that the slot belongs to a hold that started before.
func (g *generator) clash() (slot int, running bool) {
	slot = -1
	for k, p := range g.pieces {
		used, room := g.used[p.resource], int32(g.net.in.Resources[p.resource].Capacity-p.amount)
		for t := min(p.end, len(used)) - 1; t >= p.first && t > slot; t-- {
			if p.shape != nil && !p.shape.works(t) {
				continue
			}
			amount := used[t]
			for l, q := range g.pieces {
				if l != k && q.resource == p.resource && q.first <= t && t < q.end && (q.shape == nil || q.shape.works(t)) {
					amount += int32(q.amount)
				}
			}
			if amount > room {
				slot = t
			}
		}
	}
	for _, p := range g.pieces {
		running = running || (p.running && p.first <= slot && slot < p.end)
	}
	return slot, running
}

// commit enters task i at t into the resource use.
func (g *generator) commit(i, t int) {
	g.takes(i, t)
	for _, p := range g.pieces {
		for s := p.first; s < min(p.end, len(g.used[p.resource])); s++ {
			if p.shape == nil || p.shape.works(s) {
				g.used[p.resource][s] += int32(p.amount)
			}
		}
	}
	end := g.shapes[i].end(t)
	g.start[i] = t
	for _, h := range g.holdsFrom[i] {
		g.held[h] = max(t, end)
		if j := g.net.in.Holds[h].To; j != i {
			g.held[h] = max(t, g.endAfter(j, i, t))
		}
	}
	for _, h := range g.holdsTo[i] {
		g.held[h] = max(g.held[h], end)
	}
	for _, a := range g.net.out[i] {
		arc := g.net.arcs[a]
		if j := arc.to.task(); g.net.precedes(arc) {
			if g.waiting[j]--; g.waiting[j] == 0 && g.start[j] == unplaced {
				g.eligible = append(g.eligible, j)
			}
		}
	}
}
