package spaceframe

import (
	"fmt"
	"strings"
)

// Tolerances of the floors, as shares of the sum of all loads and of the largest displacement: far above rounding,
// far below anything seen.
const (
	contactForce = 1e-9
	contactGap   = 1e-9
	frictionStep = 1e-10 // change of the friction forces at which they count as settled
	frictionMax  = 200   // iterations of the friction forces
)

// settle finds the state of the floors that agrees with the solution, and that solution.
//
// Idea: start with every foot down and sticking; let go the foot that is pulled most, put down the one that went
// deepest, let slide the one that exceeds its friction most; one change at a time, solved again. Where a
// state can move freely, the frame is followed until a foot lands; if none does, it tips over or slides away.
// The number of steps is limited. Friction is not associated with a potential, so a state need not be unique; the
// one nearest to "all stick" is looked for.
//
// Reference: active-set solution of the unilateral contact problem; see docs/methods/spaceframe.md.
func (s *System) settle(l *loading, made map[string]*factored) (*state, Status, []Finding) {
	st := &state{floors: make([]contact, len(s.floors)), friction: make([]Vec, len(s.floors))}
	seen := map[string]int{}
	for range 20 + 10*len(s.floors) {
		key := string(contactBytes(st.floors))
		if seen[key]++; seen[key] > 3 {
			break
		}
		f, status, findings := s.solveState(l, st, made, key)
		if status != Solved {
			return nil, status, findings
		}
		if len(f.weak) > 0 {
			if s.land(f, l, st) {
				continue
			}
			status, findings := s.explain(f, st)
			return nil, status, findings
		}
		if !s.change(l, st) {
			return st, Solved, s.looseness(f)
		}
	}
	return nil, NotConverged, []Finding{{Code: CodeIteration, Message: "the feet found no consistent state of standing, lifting and sliding"}}
}

func contactBytes(c []contact) []byte {
	b := make([]byte, len(c))
	for i := range c {
		b[i] = byte(c[i])
	}
	return b
}

// solveState solves for one state of the floors, friction forces and tensions included. A matrix with vanished
// pivots is returned unsolved.
func (s *System) solveState(l *loading, st *state, made map[string]*factored, key string) (*factored, Status, []Finding) {
	if s.options.SecondOrder {
		return s.solveSecondOrder(l, st)
	}
	f := made[key]
	if f == nil {
		if key == string(make([]byte, len(s.floors))) {
			if s.initial == nil {
				s.initial = s.factor(st.floors)
			}
			f = s.initial
		} else {
			f = s.factor(st.floors)
		}
		made[key] = f
	}
	if len(f.weak) == 0 {
		s.solveFriction(f, l, st)
	}
	return f, Solved, nil
}

// solveFriction solves with the friction of sliding feet: Friction times the push, against the sliding, found by
// repetition since the push depends on it.
func (s *System) solveFriction(f *factored, l *loading, st *state) {
	for range frictionMax {
		st.u = s.solveFor(f, l, st.friction)
		st.solves++
		change := 0.0
		for i, n := range s.floors {
			if st.floors[i] != sliding {
				continue
			}
			want := s.frictionForce(f, l, st, i, n)
			change = max(change, want.minus(st.friction[i]).length())
			st.friction[i] = want
		}
		if change <= frictionStep*l.total {
			return
		}
	}
}

// frictionForce returns the friction on a sliding foot: it keeps its direction while the foot has not moved, and
// then points against the movement.
func (s *System) frictionForce(_ *factored, l *loading, st *state, i, n int) Vec {
	floor := s.model.Nodes[n].Support.Floor
	r := s.floorForce(l, st, n)
	push := max(0, r[floor.Normal]*floor.sense())
	slip := s.sideways(n, st.u[n].force())
	was := st.friction[i]
	if size := slip.length(); size > 0 && slip.dot(was) < 0 {
		return slip.times(-floor.Friction * push / size)
	}
	if size := was.length(); size > 0 {
		return was.times(floor.Friction * push / size)
	}
	return was
}

// sideways keeps the components of v along the floor in which its support holds.
func (s *System) sideways(n int, v Vec) Vec {
	sup := &s.model.Nodes[n].Support
	for d := range 3 {
		if DOF(d) == sup.Floor.Normal || sup.Hold[d] == 0 {
			v[d] = 0
		}
	}
	return v
}

// floorForce returns the force of the ground on node n in the present solution.
func (s *System) floorForce(l *loading, st *state, n int) Vec {
	r := Vec6(l.nodal[6*n : 6*n+6]).negative()
	for i := range s.elements {
		e := &s.elements[i]
		for end := range 2 {
			if e.node[end] == n {
				_, _, f := e.endForces(st.u, l.fixed[i])
				r.add(e.nodeForce(end, Vec6(f[6*end:6*end+6])), 1)
			}
		}
	}
	return r.force()
}

// change makes the one change to the floors that the solution asks for most. It returns false if there is none.
func (s *System) change(l *loading, st *state) bool {
	size := 0.0
	for _, u := range st.u {
		size = max(size, u.force().length())
	}
	var pulled, deep, over worstOf
	pulled.value, deep.value, over.value = contactForce*l.total, contactGap*size, contactForce*l.total
	for i, n := range s.floors {
		floor := s.model.Nodes[n].Support.Floor
		if st.floors[i] == lifted {
			deep.see(i, -floor.sense()*st.u[n][floor.Normal])
			continue
		}
		r := s.floorForce(l, st, n)
		push := r[floor.Normal] * floor.sense()
		pulled.see(i, -push)
		if st.floors[i] == sticking && floor.Friction > 0 {
			over.see(i, s.sideways(n, r).length()-floor.Friction*max(push, 0))
		}
		if st.floors[i] == sliding && s.sideways(n, st.u[n].force()).dot(st.friction[i]) > contactGap*size*st.friction[i].length() {
			st.floors[i], st.friction[i] = sticking, Vec{}
			return true
		}
	}
	switch {
	case pulled.found:
		st.floors[pulled.index], st.friction[pulled.index] = lifted, Vec{}
	case deep.found:
		st.floors[deep.index] = sticking
	case over.found:
		n := s.floors[over.index]
		st.floors[over.index] = sliding
		st.friction[over.index] = s.sideways(n, s.floorForce(l, st, n))
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

// land follows the free movement that the loads drive until a lifted foot comes down, and puts that foot down. It
// returns false if no foot does.
func (s *System) land(f *factored, l *loading, st *state) bool {
	x := s.reduce(s.forces(l, st.friction), f.held)
	move := s.driven(f, x)
	if move == nil {
		return false
	}
	size := 0.0
	for _, u := range move {
		size = max(size, u.force().length())
	}
	deep := worstOf{value: 1e-6 * size}
	for i, n := range s.floors {
		if st.floors[i] == lifted {
			floor := s.model.Nodes[n].Support.Floor
			deep.see(i, -floor.sense()*move[n][floor.Normal])
		}
	}
	if deep.found {
		st.floors[deep.index] = sticking
	}
	return deep.found
}

// driven returns the free movement along which the loads b do the most work, nil if they do none.
func (s *System) driven(f *factored, b []float64) []Vec6 {
	size := 0.0
	for _, v := range b {
		size = max(size, abs(v))
	}
	move := make([]float64, len(b))
	any := false
	for _, row := range f.weak {
		phi := f.freeMovement(row)
		if work := dot(phi, b); abs(work) > 1e-9*size {
			any = true
			for i := range move {
				move[i] += work * phi[i]
			}
		}
	}
	if !any {
		return nil
	}
	return s.expand(move)
}

// explain says what a frame with vanished pivots can do.
func (s *System) explain(f *factored, st *state) (Status, []Finding) {
	var up, slide []string
	for i, n := range s.floors {
		switch st.floors[i] {
		case lifted:
			up = append(up, fmt.Sprintf("%q", s.model.Nodes[n].Name))
		case sliding:
			slide = append(slide, fmt.Sprintf("%q", s.model.Nodes[n].Name))
		}
	}
	found := s.nameMovements(f)
	switch {
	case len(up) > 0:
		first := Finding{Code: CodeTips, Message: fmt.Sprintf("the frame tips over: with %s off the floor nothing holds it", strings.Join(up, ", "))}
		return TipsOver, append([]Finding{first}, found...)
	case len(slide) > 0:
		first := Finding{Code: CodeSlides, Message: fmt.Sprintf("the frame slides away: friction at %s cannot hold it", strings.Join(slide, ", "))}
		return SlidesAway, append([]Finding{first}, found...)
	}
	return Mechanism, found
}
