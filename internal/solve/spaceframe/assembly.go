package spaceframe

import "math"

// factored is the stiffness matrix for one state of the floors, factored.
type factored struct {
	matrix   *skyline
	held     []bool // by equation: held by a floor in this state
	weak     []int
	negative int
}

// holds reports whether direction d of a support works in a state of its floor.
func (sup *Support) holds(d DOF, state contact) bool {
	if sup.Hold[d] == 0 {
		return false
	}
	return sup.Floor == nil || state == down || state == floating && d != sup.Floor.Normal
}

// stateOf returns the state of the floor under a node; states goes with s.floors.
func (s *System) stateOf(node int, states []contact) contact {
	for i, n := range s.floors {
		if n == node {
			return states[i]
		}
	}
	return down
}

// assemble adds one 12x12 matrix per element, over the directions of its nodes, into a matrix of the profile.
func (s *System) assemble(to *skyline, held []bool, of func(e *element) *mat12) {
	var direct [12]int
	for i := range s.elements {
		e := &s.elements[i]
		k := of(e)
		simple := true
		for a := range 12 {
			direction := 6*e.node[a/6] + a%6
			direct[a] = s.equation[direction]
			simple = simple && s.ties[direction] == nil
		}
		if simple {
			s.addSimple(to, held, k, &direct)
		} else {
			s.addTied(to, held, k, e)
		}
	}
}

func (s *System) addSimple(to *skyline, held []bool, k *mat12, equation *[12]int) {
	for a, i := range equation {
		if i < 0 || held != nil && held[i] {
			continue
		}
		for b, j := range equation {
			if j >= 0 && j <= i && (held == nil || !held[j]) {
				to.value[to.start[i]+j-to.first[i]] += k[a][b]
			}
		}
	}
}

func (s *System) addTied(to *skyline, held []bool, k *mat12, e *element) {
	for a := range 12 {
		for b := range 12 {
			if k[a][b] != 0 {
				s.addPair(to, held, 6*e.node[a/6]+a%6, 6*e.node[b/6]+b%6, k[a][b])
			}
		}
	}
}

// addPair adds one stiffness between two directions of nodes, through their ties.
func (s *System) addPair(to *skyline, held []bool, a, b int, k float64) {
	s.independent(a, func(da int, fa float64) {
		i := s.equation[da]
		if i < 0 || held != nil && held[i] {
			return
		}
		s.independent(b, func(db int, fb float64) {
			if j := s.equation[db]; j >= 0 && (held == nil || !held[j]) {
				to.add(i, j, k*fa*fb)
			}
		})
	})
}

// holdFloors returns which equations the floors hold rigidly in the given states.
func (s *System) holdFloors(states []contact) []bool {
	held := make([]bool, len(s.owner))
	for i, n := range s.floors {
		sup := &s.model.Nodes[n].Support
		for d := range DOF(6) {
			if q := s.equation[6*n+int(d)]; q >= 0 && math.IsInf(sup.Hold[d], 1) && sup.holds(d, states[i]) {
				held[q] = true
			}
		}
	}
	return held
}

// factor assembles and factors the stiffness for a state of the floors, with the element matrices as they are.
func (s *System) factor(states []contact) *factored {
	f := &factored{matrix: s.profile.sameShape(), held: s.holdFloors(states)}
	s.assemble(f.matrix, f.held, func(e *element) *mat12 { return &e.global })
	s.addSupports(f.matrix, f.held, states)
	f.weak, f.negative = f.matrix.factor()
	return f
}

// addSupports adds the springs of the supports, and ones on the diagonal where a floor holds rigidly.
func (s *System) addSupports(to *skyline, held []bool, states []contact) {
	for n := range s.model.Nodes {
		sup := &s.model.Nodes[n].Support
		if sup.Hold == (Vec6{}) {
			continue
		}
		state := s.stateOf(n, states)
		for d := range DOF(6) {
			if k := sup.Hold[d]; k > 0 && !math.IsInf(k, 1) && sup.holds(d, state) {
				s.addPair(to, held, 6*n+int(d), 6*n+int(d), k)
			}
		}
	}
	for q, h := range held {
		if h {
			to.add(q, q, 1)
		}
	}
}

// reduce turns forces on all directions of nodes into those of the equations.
func (s *System) reduce(force []float64, held []bool) []float64 {
	b := make([]float64, len(s.owner))
	for direction, v := range force {
		if v == 0 {
			continue
		}
		if s.ties[direction] == nil {
			if q := s.equation[direction]; q >= 0 {
				b[q] += v
			}
			continue
		}
		for _, t := range s.ties[direction] {
			if q := s.equation[t.direction]; q >= 0 {
				b[q] += v * t.factor
			}
		}
	}
	for q, h := range held {
		if h {
			b[q] = 0
		}
	}
	return b
}

// expand turns a solution of the equations into displacements of all nodes.
func (s *System) expand(x []float64) []Vec6 {
	u := make([]Vec6, len(s.at))
	for q, direction := range s.owner {
		u[direction/6][direction%6] = x[q]
	}
	for direction, ties := range s.ties {
		for _, t := range ties {
			u[direction/6][direction%6] += t.factor * u[t.direction/6][t.direction%6]
		}
	}
	return u
}
