package spaceframe

import (
	"math"
	"slices"
)

// loading is one case brought to the nodes and elements of a system.
type loading struct {
	nodal []float64   // on directions of nodes
	parts [][]bracket // on elements, local
	fixed []vec12     // fixed-end forces of elements with rigid ends
	total float64     // sum of the sizes of all forces, for tolerances; moments over the size of the frame

	moments float64
}

// load gathers a case. Names have been checked.
func (s *System) load(c Case) *loading {
	l := &loading{
		nodal: make([]float64, 6*len(s.at)),
		parts: make([][]bracket, len(s.elements)),
		fixed: make([]vec12, len(s.elements)),
	}
	for _, n := range c.Nodal {
		l.addNodal(s.nodeIndex[n.Node], join(n.Force, n.Moment))
	}
	for i, n := range s.model.Nodes {
		if n.Mass != 0 {
			l.addNodal(i, join(c.Gravity.times(n.Mass), Vec{}))
		}
	}
	for _, p := range c.Point {
		s.addPoint(l, p)
	}
	for _, p := range c.Spread {
		s.addSpread(l, p)
	}
	if c.Gravity != (Vec{}) {
		s.addWeight(l, c.Gravity)
	}
	for i := range s.elements {
		if len(l.parts[i]) > 0 {
			l.fixed[i] = s.elements[i].elastic.fixedEndForces(l.parts[i])
		}
	}
	l.total += l.moments / s.size()
	return l
}

func (l *loading) addNodal(node int, f Vec6) {
	for d, v := range f {
		l.nodal[6*node+d] += v
	}
	l.total += f.force().length()
	l.moments += f.moment().length()
}

func (s *System) addPoint(l *loading, p PointLoad) {
	member := s.memberIndex[p.Member]
	at := min(max(p.At, 0), s.lengths[member])
	i := s.span[member][1] - 1
	for i > s.span[member][0] && s.elements[i].start > at {
		i--
	}
	e := &s.elements[i]
	force, moment := p.Force, p.Moment
	if !p.Local {
		force, moment = e.axes.toLocal(force), e.axes.toLocal(moment)
	}
	l.parts[i] = pointBrackets(l.parts[i], force, moment, min(at-e.start, e.elastic.length))
	l.total += p.Force.length()
	l.moments += p.Moment.length()
}

func (s *System) addSpread(l *loading, p SpreadLoad) {
	member := s.memberIndex[p.Member]
	if p.From == 0 && p.To == 0 {
		p.To = s.lengths[member]
	}
	for i := s.span[member][0]; i < s.span[member][1]; i++ {
		e := &s.elements[i]
		a, b := p.Start, p.End
		if !p.Local {
			a, b = e.axes.toLocal(a), e.axes.toLocal(b)
		}
		l.parts[i] = spreadBrackets(l.parts[i], p, a, b, e.start, e.elastic.length)
	}
	l.total += (p.To - p.From) * (p.Start.length() + p.End.length()) / 2
}

func (s *System) addWeight(l *loading, gravity Vec) {
	for i := range s.elements {
		e := &s.elements[i]
		w := e.axes.toLocal(gravity.times(e.elastic.massPerLength))
		whole := SpreadLoad{To: e.elastic.length}
		l.parts[i] = spreadBrackets(l.parts[i], whole, w, w, 0, e.elastic.length)
		l.total += w.length() * e.elastic.length
	}
}

// solveWith solves for a loading and the slips of the state, and fills in what follows from the displacements.
func (s *System) solveWith(f *factored, l *loading, st *state) {
	force := s.forces(l)
	forced := s.slipForces(force, st)
	x := s.reduce(force, f.held)
	f.matrix.solve(x)
	for _, q := range forced {
		x[q.equation] = q.value
	}
	st.u = s.expand(x)
	st.solves++
	s.carry(l, st)
}

// forced is an equation with its value given.
type forced struct {
	equation int
	value    float64
}

// slipForces takes off the forces that the slips of the feet cause in the frame, and returns the slips of rigidly
// held feet by equation. At a foot held by springs the slip just shifts the spring.
func (s *System) slipForces(force []float64, st *state) []forced {
	var given []forced
	for i, n := range s.floors {
		for d, v := range st.slip[i] {
			if v == 0 {
				continue
			}
			if k := s.model.Nodes[n].Support.Hold[d]; !math.IsInf(k, 1) {
				force[6*n+d] += k * v
				continue
			}
			given = append(given, forced{s.equation[6*n+d], v})
		}
	}
	if len(given) == 0 {
		return nil
	}
	x := make([]float64, len(s.owner))
	for _, q := range given {
		x[q.equation] = q.value
	}
	u := s.expand(x)
	for i := range s.elements {
		e := &s.elements[i]
		a, b := u[e.node[0]], u[e.node[1]]
		if a == (Vec6{}) && b == (Vec6{}) {
			continue
		}
		var both vec12
		copy(both[:6], a[:])
		copy(both[6:], b[:])
		for k, v := range e.global.times(&both) {
			force[6*e.node[k/6]+k%6] -= v
		}
	}
	for n := range s.model.Nodes { // springs of supports of nodes tied to a sliding foot
		sup := &s.model.Nodes[n].Support
		for d := range DOF(6) {
			if k := sup.Hold[d]; u[n][d] != 0 && !math.IsInf(k, 1) && sup.holds(d, s.stateOf(n, st.floors)) {
				force[6*n+int(d)] -= k * u[n][d]
			}
		}
	}
	return given
}

// forces returns the loading as forces on the directions of nodes.
func (s *System) forces(l *loading) []float64 {
	force := make([]float64, len(l.nodal))
	copy(force, l.nodal)
	for i := range s.elements {
		if len(l.parts[i]) == 0 {
			continue
		}
		e := &s.elements[i]
		f := l.fixed[i]
		condenseLoad(e.steps, &f)
		for n := range 2 {
			at := e.nodeForce(n, Vec6(f[6*n:6*n+6]))
			for d, v := range at {
				force[6*e.node[n]+d] -= v
			}
		}
	}
	return force
}

// ends is what an element carries outside its springs, and the displacements there and of its own ends.
type ends struct{ outside, own, force vec12 }

// carry works out what the elements carry and what is left to the ground: forces of the elements less loads, with
// those on tied nodes handed to the node they follow.
func (s *System) carry(l *loading, st *state) {
	st.ends = make([]ends, len(s.elements))
	st.ground = make([]Vec6, len(s.at))
	for i := range st.ground {
		st.ground[i] = Vec6(l.nodal[6*i : 6*i+6]).negative()
	}
	for i := range s.elements {
		e, r := &s.elements[i], &st.ends[i]
		r.outside = e.endDisplacement([2]Vec6{st.u[e.node[0]], st.u[e.node[1]]})
		fixed := l.fixed[i]
		met := condenseLoad(e.steps, &fixed)
		r.force = e.local.times(&r.outside)
		for k := range fixed {
			r.force[k] += fixed[k]
		}
		r.own = inner(e.steps, r.outside, met)
		for n := range 2 {
			st.ground[e.node[n]].add(e.nodeForce(n, Vec6(r.force[6*n:6*n+6])), 1)
		}
	}
	if len(s.model.Bodies) > 0 {
		s.handOn(st)
	}
}

// handOn leaves with tied nodes what springs of their supports carry to the ground, and hands the rest to the node they
// follow.
func (s *System) handOn(st *state) {
	slip := s.slipByNode(st)
	for n := range s.model.Nodes {
		sup := &s.model.Nodes[n].Support
		for d := range DOF(6) {
			direction := 6*n + int(d)
			if s.ties[direction] == nil {
				continue
			}
			own := 0.0
			if sup.holds(d, s.stateOf(n, st.floors)) {
				own = sup.springForce(d, st.u[n], slip[n])
			}
			for _, t := range s.ties[direction] {
				st.ground[t.direction/6][t.direction%6] += t.factor * (st.ground[n][d] - own)
			}
			st.ground[n][d] = own
		}
	}
}

func (s *System) slipByNode(st *state) []Vec {
	slip := make([]Vec, len(s.model.Nodes))
	for i, n := range s.floors {
		slip[n] = st.slip[i]
	}
	return slip
}

// springForce returns the force of a support's spring on its node.
func (sup *Support) springForce(d DOF, u Vec6, slip Vec) float64 {
	if d < RX {
		return -sup.Hold[d] * (u[d] - slip[d])
	}
	return -sup.Hold[d] * u[d]
}

// collect turns a solved state into the result of a case.
func (s *System) collect(c *CaseResult, l *loading, st *state) {
	nodes := len(s.model.Nodes)
	c.Displacement = st.u[:nodes:nodes]
	c.Reaction = make([]Vec6, nodes)
	c.Members = make([]MemberResult, len(s.model.Members))
	c.Iterations = st.solves
	scale := forceScale{}
	for i := range s.at {
		scale.see(Vec6(l.nodal[6*i : 6*i+6]))
	}
	pieces := make([]piece, len(s.elements))
	for i := range s.elements {
		e, r := &s.elements[i], &st.ends[i]
		pieces[i] = piece{start: e.start, elastic: e.elastic, axes: e.axes, u: r.own, f: r.force, fixed: Vec6(l.fixed[i][:6]), loads: l.parts[i]}
		if st.axial != nil {
			pieces[i].axial = st.axial[i]
		}
		for n := range 2 {
			scale.see(Vec6(r.force[6*n : 6*n+6]))
		}
		scale.length = max(scale.length, e.elastic.length)
		s.putEnds(&c.Members[e.member], i, r)
	}
	for m := range c.Members {
		r := &c.Members[m]
		r.Name, r.Length = s.model.Members[m].Name, s.lengths[m]
		r.pieces = pieces[s.span[m][0]:s.span[m][1]:s.span[m][1]]
	}
	c.Residual = scale.share(s.react(c, st))
	for i, n := range s.floors {
		name := s.model.Nodes[n].Name
		if st.floors[i] == lifted {
			c.Lifted = append(c.Lifted, name)
		} else if st.slip[i] != (Vec{}) {
			c.Sliding = append(c.Sliding, name)
		}
	}
}

// putEnds stores end forces and slips of the member an element is the first or the last of.
func (s *System) putEnds(m *MemberResult, i int, r *ends) {
	put := func(end int) {
		for d := range 6 {
			m.EndForce[end][d] = r.force[6*end+d]
			m.Slip[end][d] = r.own[6*end+d] - r.outside[6*end+d]
		}
	}
	span := s.span[s.elements[i].member]
	if i == span[0] {
		put(0)
	}
	if i == span[1]-1 {
		put(1)
	}
}

// react fills in the reactions and returns the force left over at each node. A held direction takes what is there;
// a spring takes what its stiffness says.
func (s *System) react(c *CaseResult, st *state) []Vec6 {
	rest := slices.Clone(st.ground)
	slip := s.slipByNode(st)
	for n := range s.model.Nodes {
		sup := &s.model.Nodes[n].Support
		if sup.Hold == (Vec6{}) {
			continue
		}
		state := s.stateOf(n, st.floors)
		for d := range DOF(6) {
			if !sup.holds(d, state) {
				continue
			}
			r := rest[n][d]
			if !math.IsInf(sup.Hold[d], 1) {
				r = sup.springForce(d, st.u[n], slip[n])
			}
			c.Reaction[n][d] = r
			rest[n][d] -= r
		}
	}
	return rest
}

// forceScale remembers the largest force and moment in a frame.
type forceScale struct{ force, moment, length float64 }

func (s *forceScale) see(f Vec6) {
	s.force = max(s.force, f.force().length())
	s.moment = max(s.moment, f.moment().length())
}

// share returns the largest remaining force or moment as a share of the largest one.
func (s *forceScale) share(rest []Vec6) float64 {
	worst := 0.0
	moment := max(s.moment, s.force*s.length)
	for _, r := range rest {
		if s.force > 0 {
			worst = max(worst, r.force().length()/s.force)
		}
		if moment > 0 {
			worst = max(worst, r.moment().length()/moment)
		}
		if !finite(r[:]...) {
			return math.Inf(1)
		}
	}
	return worst
}

func (v *Vec6) add(w Vec6, factor float64) {
	for d := range v {
		v[d] += factor * w[d]
	}
}

func (v Vec6) negative() Vec6 {
	for d := range v {
		v[d] = -v[d]
	}
	return v
}
