package spaceframe

import "fmt"

// Result is the answer for a model and its cases, in the order given. There are none if the input is bad or a member's
// own springs leave it free; then Findings say so. Otherwise Status is the first case status that is not Solved.
type Result struct {
	Status   Status
	Findings []Finding
	Cases    []CaseResult
}

// Case returns the result of a case by name. Panics if there is none.
func (r Result) Case(name string) *CaseResult {
	for i := range r.Cases {
		if r.Cases[i].Name == name {
			return &r.Cases[i]
		}
	}
	panic(fmt.Sprintf("spaceframe: no result for case %q", name))
}

// CaseResult is the answer for one case. Unless Status is Solved only Name, Status and Findings hold.
//
// Displacement and Reaction go with the nodes of the model, Members with its members. A reaction is the force of
// the ground on the node, springs included. Residual is the largest force left over at any node as a share of
// the largest force in the frame.
type CaseResult struct {
	Name         string
	Status       Status
	Findings     []Finding
	Displacement []Vec6
	Reaction     []Vec6
	Members      []MemberResult
	Lifted       []string // nodes that have left their floor
	Sliding      []string // nodes that slide on it
	Residual     float64
	Buckling     []Mode // lowest positive factors on the loads, rising
	Iterations   int    // solutions it took: 1 when nothing lifts, slides or bends the load path

	system      *System
	secondOrder bool
}

// At returns the displacement of a node in global directions. Panics if there is no such node or no solution.
func (c *CaseResult) At(node string) Vec6 { return c.Displacement[c.node(node)] }

// ReactionAt returns the force of the ground on a node. Panics if there is no such node or no solution.
func (c *CaseResult) ReactionAt(node string) Vec6 { return c.Reaction[c.node(node)] }

// Member returns what a member carries. Panics if there is no such member or no solution.
func (c *CaseResult) Member(name string) *MemberResult {
	return &c.Members[c.system.MemberIndex(name)]
}

func (c *CaseResult) node(name string) int {
	i, ok := c.system.nodeIndex[name]
	if !ok {
		panic(fmt.Sprintf("spaceframe: no node %q", name))
	}
	return i
}

// MemberResult is what one member carries in one case, in its local axes.
//
// EndForce is the force of the node on the member's end, through the springs: also the force in the springs.
// Slip is how far each end of the member has moved against its node in the springs; for a released direction
// it is the free movement.
type MemberResult struct {
	Name     string
	Length   float64
	EndForce [2]Vec6
	Slip     [2]Vec6

	pieces []piece
}

// piece is the state of one element.
type piece struct {
	start   float64
	elastic elastic
	axes    axes
	u, f    vec12 // of the element's own ends
	fixed   Vec6  // fixed-end force at I
	loads   []bracket
	axial   float64 // tension in the geometric stiffness; 0 in linear statics
}

// Station is the state of a member at the distance X from its I end.
//
// Force is the force of the part beyond on the part before, in local axes: N (tension positive), Vy, Vz, T, My,
// Mz. Local is the displacement of the section in local axes; Global has its translation and rotation in
// global directions.
type Station struct {
	X             float64
	Force         Vec6
	Local, Global Vec6
}

// Along returns the state at the distance x from the I end; x is brought within the member. At a concentrated
// load it is the state just beyond.
func (m *MemberResult) Along(x float64) Station {
	x = min(max(x, 0), m.Length)
	i := len(m.pieces) - 1
	for i > 0 && m.pieces[i].start > x {
		i--
	}
	p := &m.pieces[i]
	s := p.at(min(x-p.start, p.elastic.length))
	s.X = x
	return s
}

// Stations returns n states at equal distances from end to end; n is at least 2.
func (m *MemberResult) Stations(n int) []Station {
	n = max(n, 2)
	all := make([]Station, n)
	for i := range all {
		all[i] = m.Along(m.Length * float64(i) / float64(n-1))
	}
	return all
}

// peakSamples is the number of equal parts between loads in which Peak looks; a moment under a linear load is of
// third degree, so its highest point is missed by less than 0.2 % of its rise within a part.
const peakSamples = 16

// Peak returns the state where the internal force d is largest in size.
func (m *MemberResult) Peak(d DOF) Station {
	best := m.Along(0)
	consider := func(s Station) {
		if abs(s.Force[d]) > abs(best.Force[d]) {
			best = s
		}
	}
	for i := range m.pieces {
		p := &m.pieces[i]
		for _, x := range p.marks() {
			s := p.at(x)
			s.X = p.start + x
			consider(s)
			if x > 0 {
				consider(p.before(x))
			}
		}
	}
	return best
}

// marks returns the places of loads in a piece and equal parts between.
func (p *piece) marks() []float64 {
	xs := make([]float64, 0, peakSamples+1+len(p.loads))
	for i := range peakSamples + 1 {
		xs = append(xs, p.elastic.length*float64(i)/peakSamples)
	}
	for _, b := range p.loads {
		xs = append(xs, b.at)
	}
	return xs
}

// before returns the state just before a concentrated load at x.
func (p *piece) before(x float64) Station {
	q := *p
	q.loads = nil
	for _, b := range p.loads {
		if b.order > 0 || b.at < x {
			q.loads = append(q.loads, b)
		}
	}
	s := q.at(x)
	s.X = p.start + x
	return s
}

// at returns the state at x within the piece: shapes of the end displacements plus what the loads add between
// held ends; forces by statics, with the tension's lever arm in second order.
func (p *piece) at(x float64) (s Station) {
	var f Vec6
	copy(f[:], p.f[:6])
	s.Force = sectionForce(f, p.loads, x)
	s.Local = p.elastic.interpolate(&p.u, x)
	if len(p.loads) > 0 {
		add := p.elastic.deflectionFrom(Vec6{}, p.fixed, p.loads, x)
		for d := range s.Local {
			s.Local[d] += add[d]
		}
	}
	if p.axial != 0 {
		s.Force[RY] -= p.axial * (s.Local[UZ] - p.u[UZ])
		s.Force[RZ] += p.axial * (s.Local[UY] - p.u[UY])
	}
	s.Global = join(p.axes.toGlobal(s.Local.force()), p.axes.toGlobal(s.Local.moment()))
	return s
}

// interpolate returns the displacement at x of an unloaded element with end displacements u.
func (e *elastic) interpolate(u *vec12, x float64) (v Vec6) {
	xi := x / e.length
	for _, d := range []DOF{UX, RX} {
		v[d] = u[d] + (u[d+6]-u[d])*xi
	}
	for _, b := range []struct {
		plane     plane
		phi       float64
		move, rot DOF
	}{{planeY, e.phiY, UY, RZ}, {planeZ, e.phiZ, UZ, RY}} {
		shape, _, turn := bendingShape(xi, e.length, b.phi)
		for a := range 4 {
			q := u[b.plane.index[a]] * b.plane.sign[a]
			v[b.move] += shape[a] * q
			v[b.rot] += turn[a] * q * b.plane.sign[1]
		}
	}
	return v
}

func abs(x float64) float64 {
	if x < 0 {
		return -x
	}
	return x
}
