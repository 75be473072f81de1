package project

import (
	"math/rand/v2"
	"slices"
)

// improver searches for good schedules by sampling priorities and justifying what it finds. Justification
// (forward-backward improvement) moves every task as late as the schedule's end allows, last first, then as
// early as possible, first first; a schedule never gets longer and often shorter.
type improver struct {
	net      *network
	forward  *generator
	backward *generator
	late     []float64 // latest starts by critical path: the priority rule
	priority []float64
	best     []int // starts of the best schedule, nil if none
	bestMode []int
	bestEnd  int
	random   *rand.Rand
}

func newImprover(net *network, root *generator, seed uint64) *improver {
	n := len(net.in.Tasks)
	im := &improver{
		net: net, forward: newGenerator(net, slices.Clone(root.mode)),
		late: make([]float64, n), priority: make([]float64, n), random: rand.New(rand.NewPCG(seed, 0x9e3779b9)),
	}
	im.backward = newGenerator(net.mirror(), im.forward.mode)
	for i := range im.late {
		im.late[i] = float64(root.hi[i])
	}
	return im
}

// sample makes one schedule from the latest-start rule with some noise and justifies it until it no longer
// gets shorter. It reports whether it found a schedule at all.
func (im *improver) sample(noise float64, repairs int) bool {
	for i := range im.priority {
		im.priority[i] = im.late[i] + noise*im.random.Float64()
	}
	if !im.forward.generate(im.priority, repairs) {
		return false
	}
	im.keep()
	im.justify(repairs)
	return true
}

// passes returns how many schedules were generated.
func (im *improver) passes() int { return im.forward.passes + im.backward.passes }

// justify improves the schedule that the forward generator holds.
func (im *improver) justify(repairs int) int {
	end := im.forward.goalEnd()
	for {
		h := im.net.in.Horizon
		f, b := im.forward, im.backward
		for i := range im.priority {
			im.priority[i] = -float64(f.shapes[i].end(f.start[i]))
		}
		release := make([]int, len(f.start))
		release[im.net.in.Goal] = h - end
		if _, _, ok := b.pass(im.priority, release); !ok {
			return end
		}
		for i := range im.priority {
			im.priority[i] = float64(h - b.shapes[i].end(b.start[i]))
		}
		if !f.generate(im.priority, repairs) {
			return end
		}
		im.keep()
		if now := f.goalEnd(); now < end {
			end = now
		} else {
			return end
		}
	}
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
