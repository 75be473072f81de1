package spaceframe

import (
	"fmt"
	"math"
	"slices"
	"strings"
)

// Limits of the friction iteration.
const (
	frictionStep = 1e-12 // change of the slips, as a share of the largest, at which they count as settled
	frictionMax  = 20000 // sweeps over all feet; one is a few hundred multiplications
)

// grip is a foot whose sideways force is limited.
type grip struct {
	floor, node int
	directions  []DOF // in which the support holds along the floor
	floorData   *Floor
	at          int // its first place among the slips
}

// solveFloors solves for a factored matrix, and lets feet slide whose friction does not hold.
//
// Idea: the feet stay held in the matrix and the slips of the feet are what is looked for: a foot that slips takes
// its sideways force down, along its slip, until it equals the friction. With S the stiffness the feet meet sideways
// and t the forces with no slip this is the minimum of s.S.s/2 - t.s + sum of limit |s_i|, which is found
// foot by foot; the limits follow the pushes. If the feet slip without end in a common movement, it slides away.
// Friction does not follow from a potential (the pushes depend on the slips), so the answer is the one
// reached from "nothing slips" with all loads put on at once.
//
// Reference: block coordinate descent for group-wise shrinkage, Tseng 2001, doi 10.1023/A:1017501703105; see
// docs/methods/spaceframe.md.
func (s *System) solveFloors(f *factored, l *loading, st *state) (Status, []Finding) {
	for i := range st.slip {
		st.slip[i] = Vec{}
	}
	s.solveWith(f, l, st)
	grips := s.grips(st)
	if !s.exceeded(l, st, grips) {
		return Solved, nil
	}
	g := s.newSliding(f, l, st, grips)
	status, findings := g.run(s)
	if status != Solved {
		return status, findings
	}
	for i, p := range grips {
		for k, d := range p.directions {
			st.slip[p.floor][d] = g.slip[grips[i].at+k]
		}
	}
	s.solveWith(f, l, st)
	return Solved, nil
}

// grips lists the feet on the floor with limited friction.
func (s *System) grips(st *state) (all []grip) {
	places := 0
	for i, n := range s.floors {
		sup := &s.model.Nodes[n].Support
		if sup.Floor.Friction == 0 || st.floors[i] == lifted {
			continue
		}
		p := grip{floor: i, node: n, floorData: sup.Floor, at: places}
		for d := range DOF(3) {
			if d != sup.Floor.Normal && sup.Hold[d] > 0 {
				p.directions = append(p.directions, d)
			}
		}
		if len(p.directions) > 0 {
			places += len(p.directions)
			all = append(all, p)
		}
	}
	return all
}

// push returns the force of the floor square to it.
func (p *grip) push(ground []Vec6) float64 {
	return max(0, ground[p.node][p.floorData.Normal]*p.floorData.sense())
}

func (s *System) exceeded(l *loading, st *state, grips []grip) bool {
	for _, p := range grips {
		side := 0.0
		for _, d := range p.directions {
			side = math.Hypot(side, st.ground[p.node][d])
		}
		if side > p.floorData.Friction*p.push(st.ground)+contactForce*l.total {
			return true
		}
	}
	return false
}

// sliding is the small problem of the slips: the forces along the floor are side + stiffness . slip, the pushes are
// push + lever . slip.
type sliding struct {
	grips     []grip
	side      []float64
	stiffness [][]float64
	push      []float64
	lever     [][]float64
	slip      []float64
	total     float64
}

// newSliding solves once for a unit slip in each direction.
func (s *System) newSliding(f *factored, l *loading, st *state, grips []grip) *sliding {
	g := &sliding{grips: grips, total: l.total}
	g.side, g.push = forcesAt(grips, st.ground)
	g.slip = make([]float64, len(g.side))
	g.stiffness = square(len(g.side), len(g.side))
	g.lever = square(len(grips), len(g.side))
	none := s.load(Case{})
	for _, p := range grips {
		for k, d := range p.directions {
			unit := &state{floors: st.floors, slip: make([]Vec, len(st.slip))}
			unit.slip[p.floor][d] = 1
			s.solveWith(f, none, unit)
			side, push := forcesAt(grips, unit.ground)
			for i, v := range side {
				g.stiffness[i][p.at+k] = v
			}
			for i, v := range push {
				g.lever[i][p.at+k] = v
			}
		}
	}
	return g
}

func square(rows, columns int) [][]float64 {
	m := make([][]float64, rows)
	for i := range m {
		m[i] = make([]float64, columns)
	}
	return m
}

// forcesAt picks the forces along and square to the floor at the grips.
func forcesAt(grips []grip, ground []Vec6) (side, push []float64) {
	for _, p := range grips {
		for _, d := range p.directions {
			side = append(side, ground[p.node][d])
		}
		push = append(push, ground[p.node][p.floorData.Normal]*p.floorData.sense())
	}
	return side, push
}

// run finds the slips.
func (g *sliding) run(s *System) (Status, []Finding) {
	before := slices.Clone(g.slip)
	for sweep := 1; sweep <= frictionMax; sweep++ {
		change, size := 0.0, 0.0
		for i := range g.grips {
			c, v := g.sweep(i)
			change, size = max(change, c), max(size, v)
		}
		if change <= frictionStep*size {
			return Solved, nil
		}
		if sweep%100 == 0 {
			for i, v := range g.slip {
				before[i] = v - before[i]
			}
			if g.endless(before) {
				return SlidesAway, []Finding{{Code: CodeSlides,
					Message: fmt.Sprintf("the frame slides away: friction at %s cannot hold it", g.names(s))}}
			}
			copy(before, g.slip)
		}
	}
	return NotConverged, []Finding{{Code: CodeIteration,
		Message: "the feet found no consistent state of sticking and sliding; the load is close to what friction can hold"}}
}

// sweep gives one foot the slip it wants while the others keep theirs: a step against the force, shortened by what
// friction takes.
func (g *sliding) sweep(i int) (change, size float64) {
	p := &g.grips[i]
	hard := 0.0 // a bound on the stiffness this foot meets
	for k := range p.directions {
		hard += g.stiffness[p.at+k][p.at+k]
	}
	var want [3]float64
	length := 0.0
	for k := range p.directions {
		force := g.side[p.at+k] + dot(g.stiffness[p.at+k], g.slip)
		want[k] = g.slip[p.at+k] - force/hard
		length = math.Hypot(length, want[k])
	}
	keep := 0.0
	if take := g.limit(i) / hard; length > take {
		keep = 1 - take/length
	}
	for k := range p.directions {
		v := keep * want[k]
		change = max(change, abs(v-g.slip[p.at+k]))
		size = max(size, abs(v))
		g.slip[p.at+k] = v
	}
	return change, size
}

func (g *sliding) limit(i int) float64 {
	return g.grips[i].floorData.Friction * max(0, g.push[i]+dot(g.lever[i], g.slip))
}

// Tolerances of endless: the stiffness met, as a share of the stiffest foot's, that counts as none, and the gain,
// as a share of all loads, that counts as some.
const (
	endlessStiffness = 1e-9
	endlessGain      = 1e-9
)

// endless reports whether the slips can go on along d for ever: the frame does not resist it, and the loads do more
// work on it than friction takes.
func (g *sliding) endless(d []float64) bool {
	size, resist, hardest, gain := norm(d), 0.0, 0.0, 0.0
	if size == 0 {
		return false
	}
	for i, row := range g.stiffness {
		resist += d[i] * dot(row, d)
		hardest = max(hardest, row[i])
		gain -= g.side[i] * d[i]
	}
	for i, p := range g.grips {
		gain -= g.limit(i) * norm(d[p.at:p.at+len(p.directions)])
	}
	return resist <= endlessStiffness*hardest*size*size && gain > endlessGain*g.total*size
}

func (g *sliding) names(s *System) string {
	var names []string
	for _, p := range g.grips {
		names = append(names, fmt.Sprintf("%q", s.model.Nodes[p.node].Name))
	}
	return strings.Join(names, ", ")
}
