package project

import (
	"cmp"
	"math/rand/v2"
	"slices"
)

// improver searches for good schedules: it samples priorities, justifies what it finds, and crosses the
// orders of good schedules with each other (a genetic search on orders, after Hartmann (1998)
// doi:10.1002/(SICI)1520-6750(199810)45:7<733::AID-NAV5>3.0.CO;2-C and Valls, Ballestin, Quintanilla (2008)
// doi:10.1016/j.ejor.2006.12.033). Justification, also called forward-backward improvement, moves every task
// as late as the schedule's end allows, last first, then as early as possible, first first; a schedule never
// gets longer and often shorter.
type improver struct {
	net       *network
	forward   *generator
	backward  *generator
	late      []float64 // latest starts by critical path: the priority rule
	priority  []float64
	best      []int // starts of the best schedule, nil if none
	bestMode  []int
	bestEnd   int
	random    *rand.Rand
	parents   []individual
	shortLife int // children since the parents last got better
}

// individual is a schedule as a parent: the tasks by start, and their modes.
type individual struct {
	order, mode []int
	end         int
}

const (
	// parentCount is the size of the population: small, because each child is justified and time is short.
	parentCount = 40
	// stagnation is the number of children without a better one after which the population is renewed.
	stagnation = 600
	// repairsPerPass bounds the delays tried when a maximum lag runs out.
	repairsPerPass = 20
	// noiseShare is the random part of the priority, as a share of the critical path.
	noiseShare = 0.1
	// swapChance and modeChance are the probabilities of mutations, per task.
	swapChance, modeChance = 0.05, 0.03
)

// newImprover takes the latest starts, which are the priority rule, from the learner at its root.
func newImprover(net *network, root *learner, seed uint64) *improver {
	n := len(net.in.Tasks)
	im := &improver{
		net: net, forward: newGenerator(net, net.quickest()),
		late: make([]float64, n), priority: make([]float64, n), random: rand.New(rand.NewPCG(seed, 0x9e3779b9)),
	}
	im.backward = newGenerator(net.mirror(), im.forward.mode)
	for i := range im.late {
		im.late[i] = float64(root.max(int32(i)))
	}
	return im
}

// passes returns how many schedules were generated.
func (im *improver) passes() int { return im.forward.passes + im.backward.passes }

// sample makes one schedule from the latest-start rule with some noise and justifies it. It reports whether
// it found a schedule at all.
func (im *improver) sample(noise float64) bool {
	for i := range im.priority {
		im.priority[i] = im.late[i] + noise*im.random.Float64()
	}
	if im.random.IntN(4) == 0 {
		im.drawModes()
	}
	if !im.forward.generate(im.priority, repairsPerPass) {
		return false
	}
	im.keep()
	im.justify()
	return true
}

// drawModes draws another mode for some tasks that have several.
func (im *improver) drawModes() {
	mode := slices.Clone(im.forward.mode)
	if im.best != nil {
		copy(mode, im.bestMode)
	}
	changed := false
	for i, t := range im.net.in.Tasks {
		if len(t.Modes) > 1 && im.random.IntN(3) == 0 {
			k := im.random.IntN(len(t.Modes))
			changed = changed || (im.net.in.fits(t.Modes[k]) && k != mode[i])
			if im.net.in.fits(t.Modes[k]) {
				mode[i] = k
			}
		}
	}
	if changed {
		im.setModes(mode)
	}
}

func (im *improver) setModes(mode []int) {
	if !slices.Equal(mode, im.forward.mode) {
		im.forward.setModes(mode)
		im.backward.setModes(mode)
	}
}

// justify improves the schedule that the forward generator holds until it no longer gets shorter, and
// returns its end.
func (im *improver) justify() int {
	end := im.forward.goalEnd()
	h := im.net.in.Horizon
	f, b := im.forward, im.backward
	for {
		for i := range im.priority {
			im.priority[i] = -float64(f.shapes[i].end(f.start[i]))
		}
		b.goalRelease(h - end)
		if _, _, ok := b.pass(im.priority, b.release); !ok {
			return end
		}
		for i := range im.priority {
			im.priority[i] = float64(h - b.shapes[i].end(b.start[i]))
		}
		if !f.generate(im.priority, repairsPerPass) {
			return end
		}
		im.keep()
		now := f.goalEnd()
		if now >= end {
			return now
		}
		end = now
	}
}

// goalRelease sets the release of the goal and leaves that of other tasks at what the instance says.
func (g *generator) goalRelease(t int) {
	if g.release == nil {
		g.release = make([]int, len(g.start))
	}
	g.release[g.net.in.Goal] = t
}

// goalEnd returns the end of the goal in the schedule that the generator holds.
func (g *generator) goalEnd() int {
	goal := g.net.in.Goal
	return g.shapes[goal].end(g.start[goal])
}

// keep remembers the schedule that the forward generator holds if it is the best so far.
func (im *improver) keep() {
	if end := im.forward.goalEnd(); im.best == nil || end < im.bestEnd {
		im.best, im.bestMode, im.bestEnd = slices.Clone(im.forward.start), slices.Clone(im.forward.mode), end
	}
}

// child crosses two parents, or samples while there are too few, and takes the result into the population.
func (im *improver) child() {
	if len(im.parents) < parentCount {
		if im.sample(noiseShare * float64(im.bestEnd)) {
			im.parents = append(im.parents, im.born())
		}
		return
	}
	if im.shortLife > stagnation {
		slices.SortStableFunc(im.parents, func(a, b individual) int { return cmp.Compare(a.end, b.end) })
		im.parents, im.shortLife = im.parents[:1], 0
		return
	}
	mother, father := im.parents[im.pick()], im.parents[im.pick()]
	im.cross(mother, father)
	if !im.forward.generate(im.priority, repairsPerPass) {
		im.shortLife++
		return
	}
	im.keep()
	im.justify()
	im.settle(im.born())
}

// adopt takes a schedule found elsewhere into the population.
func (im *improver) adopt(start, mode []int) {
	im.setModes(slices.Clone(mode))
	for i, t := range start {
		im.priority[i] = float64(t)
	}
	if !im.forward.generate(im.priority, repairsPerPass) {
		return
	}
	im.keep()
	im.justify()
	if len(im.parents) < parentCount {
		im.parents = append(im.parents, im.born())
	} else {
		im.settle(im.born())
	}
}

// pick draws a parent: the better of two.
func (im *improver) pick() int {
	a, b := im.random.IntN(len(im.parents)), im.random.IntN(len(im.parents))
	if im.parents[b].end < im.parents[a].end {
		return b
	}
	return a
}

// cross sets priorities and modes for a child: the order of the mother with a stretch in the father's order.
func (im *improver) cross(mother, father individual) {
	n := len(mother.order)
	first, last := im.random.IntN(n), im.random.IntN(n)
	if first > last {
		first, last = last, first
	}
	const notYet = -1
	for i := range im.priority {
		im.priority[i] = notYet
	}
	place := 0
	take := func(i int) {
		if im.priority[i] == notYet {
			im.priority[i] = float64(place)
			place++
		}
	}
	for _, i := range mother.order[:first] {
		take(i)
	}
	for _, i := range father.order {
		if place >= last {
			break
		}
		take(i)
	}
	for _, i := range mother.order {
		take(i)
	}
	for i := range im.priority {
		if im.random.Float64() < swapChance {
			im.priority[i] += 0.1 * float64(n) * (im.random.Float64() - 0.5)
		}
	}
	mode := slices.Clone(mother.mode)
	for i, t := range im.net.in.Tasks {
		if len(t.Modes) < 2 {
			continue
		}
		if im.random.IntN(2) == 0 {
			mode[i] = father.mode[i]
		}
		if k := im.random.IntN(len(t.Modes)); im.random.Float64() < modeChance && im.net.in.fits(t.Modes[k]) {
			mode[i] = k
		}
	}
	im.setModes(mode)
}

// born returns the schedule that the forward generator holds as an individual.
func (im *improver) born() individual {
	start := im.forward.start
	order := make([]int, len(start))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(start[a], start[b]) })
	return individual{order, slices.Clone(im.forward.mode), im.forward.goalEnd()}
}

// settle puts a child in place of the worst parent unless it is worse still or the same as another.
func (im *improver) settle(child individual) {
	worst, best := 0, im.parents[0].end
	for k, p := range im.parents {
		if p.end > im.parents[worst].end {
			worst = k
		}
		best = min(best, p.end)
		if p.end == child.end && slices.Equal(p.order, child.order) {
			im.shortLife++
			return
		}
	}
	if im.shortLife++; child.end < best {
		im.shortLife = 0
	}
	if child.end <= im.parents[worst].end {
		im.parents[worst] = child
	}
}
