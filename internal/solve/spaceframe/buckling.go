package spaceframe

import "math"

// Mode is a shape in which a frame can move, over the nodes of the model; its largest translation is 1 (its largest
// rotation if nothing translates). Value is the buckling factor, or the frequency in cycles per unit of time.
type Mode struct {
	Value float64
	Shape []Vec6
}

// addBuckling works out the lowest factors on all loads of a case, gravity included, at which the frame gives way
// sideways, with the feet as the solution left them.
//
// Idea: K + factor Kg singular, Kg from the tensions of the solution; see lowestPairs. Leaves out the bending before
// buckling.
func (s *System) addBuckling(r *CaseResult, st *state) {
	tension := s.tensions(st)
	work := s
	if s.options.SecondOrder {
		work = s.Clone()
		for i := range work.elements {
			work.elements[i].refresh(0)
		}
	}
	f := work.factor(st.floors)
	b := s.profile.sameShape()
	work.assembleOwn(b, f.held, func(i int) mat12 {
		kg := work.elements[i].elastic.geometric()
		for a := range 12 {
			for c := range 12 {
				kg[a][c] *= -tension[i]
			}
		}
		return kg
	})
	r.Buckling = work.modes(f, b, s.options.Buckling, st.floors, func(lambda float64) float64 { return lambda })
}

// assembleOwn assembles a property of the elements' own ends: it is carried outside the springs by the movement
// they take in statics.
func (s *System) assembleOwn(to *skyline, held []bool, of func(i int) mat12) {
	index := 0
	var g mat12
	s.assemble(to, held, func(e *element) *mat12 {
		k := of(index)
		index++
		k = e.outsideSprings(&k)
		g = e.toNodes(&k)
		return &g
	})
}

// outsideSprings returns T^T k T, T giving the displacements of the element's own ends from those outside.
func (e *element) outsideSprings(k *mat12) (out mat12) {
	if len(e.steps) == 0 {
		return *k
	}
	var own [12]vec12
	for d := range 12 {
		var unit vec12
		unit[d] = 1
		own[d] = inner(e.steps, unit, vec12{})
	}
	for b := range 12 {
		f := k.times(&own[b])
		for a := range 12 {
			out[a][b] = dot(own[a][:], f[:])
		}
	}
	return out
}

// modes returns the lowest modes of K x = lambda B x with their values translated.
func (s *System) modes(f *factored, b *skyline, n int, floors []contact, value func(lambda float64) float64) []Mode {
	shifted := func(sigma float64) *skyline {
		m := s.profile.sameShape()
		s.assemble(m, f.held, func(e *element) *mat12 { return &e.global })
		s.addSupports(m, f.held, floors)
		for i, v := range b.value {
			m.value[i] -= sigma * v
		}
		return m
	}
	var all []Mode
	for _, p := range lowestPairs(f.matrix, b, n, shifted) {
		all = append(all, Mode{value(p.value), unitShape(s.expand(p.vector)[:len(s.model.Nodes)])})
	}
	return all
}

func unitShape(u []Vec6) []Vec6 {
	var move, turn float64
	for _, v := range u {
		for d, x := range v {
			if DOF(d) < RX && abs(x) > abs(move) {
				move = x
			} else if DOF(d) >= RX && abs(x) > abs(turn) {
				turn = x
			}
		}
	}
	if abs(move) < stillShare*abs(turn) || move == 0 {
		move = turn
	}
	shape := make([]Vec6, len(u))
	for i := range u {
		shape[i].add(u[i], 1/move)
	}
	return shape
}

// MassKind chooses how members' mass is brought to the nodes.
type MassKind int

// Consistent mass follows the members' shapes and gives frequencies slightly high; lumped mass sits in the nodes.
const (
	ConsistentMass MassKind = iota
	LumpedMass
)

// Frequencies returns up to n of the lowest natural frequencies, in cycles per unit of time, with all feet down, and
// what stands in the way: a mechanism, or no mass. Cut the members by Options.Divisions or Member.Divisions.
//
// Idea: K x = omega^2 M x; see lowestPairs. Leaves out damping and the effect of loads.
func (s *System) Frequencies(n int, kind MassKind) ([]Mode, []Finding) {
	if bad := s.looseMembers(); len(bad) > 0 {
		return nil, bad
	}
	floors := make([]contact, len(s.floors))
	f := s.factor(floors)
	if len(f.weak) > 0 {
		return nil, s.nameMovements(f)
	}
	m := s.profile.sameShape()
	s.assembleOwn(m, f.held, func(i int) mat12 {
		if kind == LumpedMass {
			return s.elements[i].elastic.lumpedMass()
		}
		return s.elements[i].elastic.consistentMass()
	})
	for i, node := range s.model.Nodes {
		for d := range 3 {
			s.addPair(m, f.held, 6*i+d, 6*i+d, node.Mass)
		}
	}
	found := s.modes(f, m, n, floors, func(lambda float64) float64 { return math.Sqrt(lambda) / (2 * math.Pi) })
	if len(found) == 0 {
		return nil, []Finding{{Code: CodeNumber, Message: "the frame has no mass that can move; give densities or masses"}}
	}
	return found, nil
}
