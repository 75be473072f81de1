package spaceframe

import (
	"fmt"
	"math"
	"slices"
	"strings"
)

// contact says whether a node stands on its floor.
type contact byte

const (
	down     contact = iota
	lifted           // holds nothing
	floating         // holds all but square to the floor: for the question whether pushes alone can balance the loads
)

// Tolerances of the floors, as shares of the sum of all loads and of the largest displacement: far above rounding,
// far below anything seen.
const (
	contactForce = 1e-9
	contactGap   = 1e-9
)

// state is a solution: displacements of all nodes, what the elements carry, and how the feet stand.
type state struct {
	u      []Vec6
	ends   []ends
	ground []Vec6 // by node: the force that loads and elements leave to the ground
	floors []contact
	slip   []Vec // by floor: how far the foot has slid
	axial  []float64
	solves int
}

// settle finds the state of the floors that agrees with the solution, and that solution.
//
// Idea: start with every foot down; let go the foot that is pulled most, put down the one that went deepest, one
// change at a time, solved again. Where too few feet are left to hold the frame, either some of the lifted feet
// can balance the loads by pushing, and are put down, or the frame tips over: see balance. The number of steps
// is limited.
//
// Reference: active-set method for the unilateral contact problem, which without friction is a convex quadratic
// programme and has one answer; see docs/methods/spaceframe.md.
func (s *System) settle(l *loading, made map[string]*factored) (*state, Status, []Finding) {
	st := &state{floors: make([]contact, len(s.floors)), slip: make([]Vec, len(s.floors))}
	seen := map[string]int{}
	for range 20 + 10*len(s.floors) {
		key := stateKey(st.floors)
		if seen[key]++; seen[key] > 3 {
			break
		}
		f, status, findings := s.solveState(l, st, made, key)
		if status != Solved {
			return nil, status, findings
		}
		if len(f.weak) > 0 {
			landed, stands := s.land(f, l, st)
			if landed {
				continue
			}
			if stands {
				break
			}
			status, findings := s.explain(f, st)
			return nil, status, findings
		}
		if !s.change(l, st) {
			return st, Solved, s.looseness(f)
		}
	}
	return nil, NotConverged, []Finding{{Code: CodeIteration, Message: "the feet found no consistent state of standing and lifting"}}
}

func stateKey(floors []contact) string {
	key := make([]byte, len(floors))
	for i, c := range floors {
		key[i] = byte(c)
	}
	return string(key)
}

// solveState solves for one state of the floors, friction and tensions included. A matrix with vanished pivots is
// returned unsolved.
func (s *System) solveState(l *loading, st *state, made map[string]*factored, key string) (*factored, Status, []Finding) {
	if s.options.SecondOrder {
		return s.solveSecondOrder(l, st)
	}
	f := made[key]
	if f == nil {
		if slices.Contains(st.floors, lifted) {
			f = s.factor(st.floors)
		} else {
			if s.initial == nil {
				s.initial = s.factor(st.floors)
			}
			f = s.initial
		}
		made[key] = f
	}
	if len(f.weak) > 0 {
		return f, Solved, nil
	}
	status, findings := s.solveFloors(f, l, st)
	return f, status, findings
}

// change makes the one change to the floors that the solution asks for most. It returns false if there is none.
func (s *System) change(l *loading, st *state) bool {
	if len(s.floors) == 0 {
		return false
	}
	size := 0.0
	for _, u := range st.u {
		size = max(size, u.force().length())
	}
	pulled, deep := worstOf{value: contactForce * l.total}, worstOf{value: contactGap * size}
	for i, n := range s.floors {
		floor := s.model.Nodes[n].Support.Floor
		if st.floors[i] == lifted {
			deep.see(i, -floor.sense()*st.u[n][floor.Normal])
		} else {
			pulled.see(i, -floor.sense()*st.ground[n][floor.Normal])
		}
	}
	switch {
	case pulled.found:
		st.floors[pulled.index], st.slip[pulled.index] = lifted, Vec{}
	case deep.found:
		st.floors[deep.index] = down
	default:
		return false
	}
	return true
}

// worstOf keeps the index of the largest value above the one it starts with.
type worstOf struct {
	index int
	value float64
	found bool
}

func (w *worstOf) see(i int, v float64) {
	if v > w.value {
		w.index, w.value, w.found = i, v, true
	}
}

// land puts down the lifted feet that can balance the loads against the free movements. stands is false if there is no
// lifted foot, or if all feet together cannot balance the loads by pushing.
func (s *System) land(f *factored, l *loading, st *state) (landed, stands bool) {
	if !slices.Contains(st.floors, lifted) || !s.canStand(l) {
		return false, false
	}
	push, ok := s.pushes(f, l, st.floors, lifted)
	for i, p := range push {
		if ok && p > 0 {
			st.floors[i] = down
			landed = true
		}
	}
	return landed, true
}

// canStand reports whether pushes of the floors, with any force along them, can balance the loads. If it is false
// nothing holds the frame; for feet in one plane the reverse is true too.
func (s *System) canStand(l *loading) bool {
	floors := make([]contact, len(s.floors))
	for i := range floors {
		floors[i] = floating
	}
	f := s.factor(floors)
	if len(f.weak) == 0 {
		return true
	}
	_, ok := s.pushes(f, l, floors, floating)
	return ok
}

// pushes returns, by floor, pushes of the feet in the given state that balance the loads on the free movements of f.
func (s *System) pushes(f *factored, l *loading, floors []contact, of contact) ([]float64, bool) {
	b := s.reduce(s.forces(l), f.held)
	work := make([]float64, len(f.weak))   // of the loads along each free movement
	rise := make([][]float64, len(f.weak)) // of each foot in it
	for k, row := range f.weak {
		x := f.freeMovement(row)
		move := s.expand(x)
		size := largestMove(move)
		work[k] = dot(x, b) / size
		rise[k] = make([]float64, len(floors))
		for i, n := range s.floors {
			if floors[i] == of {
				floor := s.model.Nodes[n].Support.Floor
				rise[k][i] = floor.sense() * move[n][floor.Normal] / size
			}
		}
	}
	return balance(rise, work, 1e-9*l.total)
}

func largestMove(u []Vec6) float64 {
	size := 0.0
	for _, v := range u {
		size = max(size, v.force().length())
	}
	if size == 0 {
		return 1
	}
	return size
}

// balance finds pushes, none below 0, whose work along each movement cancels that of the loads: rise[k] . push + work[k]
// = 0 for every k. ok is false if there are none: then a movement exists that lifts no foot below the floor and on
// which the loads do work (Farkas' lemma), so nothing holds the frame.
//
// Idea: non-negative least squares, adding the push that helps most and dropping those that turn negative.
//
// Reference: Lawson and Hanson, Solving Least Squares Problems, chapter 23, doi 10.1137/1.9781611971217.
func balance(rise [][]float64, work []float64, tolerance float64) (push []float64, ok bool) {
	m, n := len(rise), len(rise[0])
	push = make([]float64, n)
	used := make([]bool, n)
	for range 3*n + 3 {
		lack := slices.Clone(work)
		for k := range m {
			lack[k] += dot(rise[k], push)
		}
		if norm(lack) <= tolerance {
			return push, true
		}
		best := worstOf{value: 1e-12 * norm(work)}
		for j := range n {
			if !used[j] {
				best.see(j, -dot(column(rise, j), lack))
			}
		}
		if !best.found {
			return push, false
		}
		used[best.index] = true
		for {
			want := leastSquares(rise, work, used)
			step, stop := 1.0, -1
			for j := range n {
				if used[j] && want[j] <= 0 {
					if t := push[j] / (push[j] - want[j]); stop < 0 || t < step {
						step, stop = t, j
					}
				}
			}
			for j := range n {
				push[j] += step * (want[j] - push[j])
			}
			if stop < 0 {
				break
			}
			push[stop], used[stop] = 0, false
		}
	}
	return push, false
}

func norm(v []float64) float64 { return math.Sqrt(dot(v, v)) }

func column(a [][]float64, j int) []float64 {
	c := make([]float64, len(a))
	for k := range a {
		c[k] = a[k][j]
	}
	return c
}

// leastSquares returns the pushes at the used places that bring rise . push nearest to -work, by the normal
// equations; a place that adds nothing gets 0.
func leastSquares(rise [][]float64, work []float64, used []bool) []float64 {
	var places []int
	for j, u := range used {
		if u {
			places = append(places, j)
		}
	}
	normal := newSkyline(make([]int, len(places)))
	x := make([]float64, len(places))
	for a, j := range places {
		x[a] = -dot(column(rise, j), work)
		for b := 0; b <= a; b++ {
			normal.add(a, b, dot(column(rise, j), column(rise, places[b])))
		}
	}
	normal.factor()
	normal.solve(x)
	all := make([]float64, len(used))
	for a, j := range places {
		all[j] = x[a]
	}
	return all
}

// explain says what a frame with vanished pivots can do.
func (s *System) explain(f *factored, st *state) (Status, []Finding) {
	var up []string
	for i, n := range s.floors {
		if st.floors[i] == lifted {
			up = append(up, fmt.Sprintf("%q", s.model.Nodes[n].Name))
		}
	}
	found := s.nameMovements(f)
	if len(up) == 0 {
		return Mechanism, found
	}
	text := fmt.Sprintf("the frame tips over: with %s off the floor nothing holds it", strings.Join(up, ", "))
	return TipsOver, append([]Finding{{Code: CodeTips, Message: text}}, found...)
}
