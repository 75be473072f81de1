package spaceframe

import "math"

// loading is one case brought to the nodes and elements of a system.
type loading struct {
	nodal []float64   // on directions of nodes
	parts [][]bracket // on elements, local
	fixed []vec12     // fixed-end forces of elements with rigid ends
	total float64     // sum of the sizes of all forces, for tolerances
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
	return l
}

func (l *loading) addNodal(node int, f Vec6) {
	for d, v := range f {
		l.nodal[6*node+d] += v
	}
	l.total += f.force().length()
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

// state is a solution: displacements of all nodes, what the elements carry, and the ground's friction.
type state struct {
	u        []Vec6
	floors   []contact
	friction []Vec // by floor: force on the node
	solves   int
	axial    []float64 // by element, second order only
}

// solveFor returns the displacements of all nodes under a loading, and forces on single nodes by floor.
func (s *System) solveFor(f *factored, l *loading, friction []Vec) []Vec6 {
	x := s.reduce(s.forces(l, friction), f.held)
	f.matrix.solve(x)
	return s.expand(x)
}

// forces returns the loading as forces on the directions of nodes.
func (s *System) forces(l *loading, friction []Vec) []float64 {
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
	for i, n := range s.floors {
		for d, v := range friction[i] {
			force[6*n+d] += v
		}
	}
	return force
}

// endForces returns what an element carries at its ends, outside its springs, and the displacements of its own
// ends.
func (e *element) endForces(u []Vec6, fixed vec12) (outside, own, f vec12) {
	outside = e.endDisplacement([2]Vec6{u[e.node[0]], u[e.node[1]]})
	met := condenseLoad(e.steps, &fixed)
	f = e.local.times(&outside)
	for i := range f {
		f[i] += fixed[i]
	}
	return outside, inner(e.steps, outside, met), f
}

// collect turns a solved state into the result of a case.
func (s *System) collect(c *CaseResult, l *loading, st *state) {
	nodes := len(s.model.Nodes)
	c.system = s
	c.Displacement = st.u[:nodes:nodes]
	c.Reaction = make([]Vec6, nodes)
	c.Members = make([]MemberResult, len(s.model.Members))
	c.Iterations = st.solves
	rest := make([]Vec6, len(s.at)) // force that a node still lacks
	for i := range rest {
		rest[i] = Vec6(l.nodal[6*i : 6*i+6]).negative()
	}
	scale := forceScale{}
	for _, r := range rest {
		scale.see(r)
	}
	pieces := make([]piece, len(s.elements))
	for i := range s.elements {
		e := &s.elements[i]
		outside, own, f := e.endForces(st.u, l.fixed[i])
		pieces[i] = piece{start: e.start, elastic: e.elastic, axes: e.axes, u: own, f: f, fixed: Vec6(l.fixed[i][:6]), loads: l.parts[i]}
		if st.axial != nil {
			pieces[i].axial = st.axial[i]
		}
		for n := range 2 {
			at := e.nodeForce(n, Vec6(f[6*n:6*n+6]))
			scale.see(at)
			rest[e.node[n]].add(at, 1)
		}
		scale.length = max(scale.length, e.elastic.length)
		s.putEnds(&c.Members[e.member], i, &outside, &own, &f)
	}
	for m := range c.Members {
		r := &c.Members[m]
		r.Name, r.Length = s.model.Members[m].Name, s.lengths[m]
		r.pieces = pieces[s.span[m][0]:s.span[m][1]:s.span[m][1]]
	}
	s.ground(c, st, rest)
	c.Residual = scale.share(rest)
	for i, n := range s.floors {
		switch st.floors[i] {
		case lifted:
			c.Lifted = append(c.Lifted, s.model.Nodes[n].Name)
		case sliding:
			c.Sliding = append(c.Sliding, s.model.Nodes[n].Name)
		}
	}
}

// putEnds stores end forces and slips of the member an element is the first or the last of.
func (s *System) putEnds(m *MemberResult, i int, outside, own, f *vec12) {
	put := func(end int) {
		for d := range 6 {
			m.EndForce[end][d] = f[6*end+d]
			m.Slip[end][d] = own[6*end+d] - outside[6*end+d]
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

// ground fills in the reactions and takes them, and what rigid bodies pass on, off the rest.
func (s *System) ground(c *CaseResult, st *state, rest []Vec6) {
	react := func(n int, d DOF, r float64) {
		c.Reaction[n][d] = r
		rest[n][d] -= r
	}
	for n := range s.model.Nodes {
		sup := &s.model.Nodes[n].Support
		for d := range DOF(6) {
			if k := sup.Hold[d]; k > 0 && !math.IsInf(k, 1) && sup.holds(d, s.stateOf(n, st.floors)) {
				react(n, d, -k*st.u[n][d])
			}
		}
	}
	for i, n := range s.floors {
		for d, v := range st.friction[i] {
			if v != 0 {
				react(n, DOF(d), v)
			}
		}
	}
	for direction, ties := range s.ties {
		for _, t := range ties {
			rest[t.direction/6][t.direction%6] += t.factor * rest[direction/6][direction%6]
		}
		if ties != nil {
			rest[direction/6][direction%6] = 0
		}
	}
	for n := range s.model.Nodes {
		sup := &s.model.Nodes[n].Support
		for d := range DOF(6) {
			if math.IsInf(sup.Hold[d], 1) && sup.holds(d, s.stateOf(n, st.floors)) {
				react(n, d, rest[n][d])
			}
		}
	}
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
