package spaceframe

import (
	"fmt"
	"math"
	"slices"
)

// System is a checked model made ready to be solved many times. What does not change (names, ordering, profile of
// the matrix) is worked out once by Prepare; SetEndSpring and SetMaterial change numbers only.
//
// A System is not safe for use by several goroutines at once: give each its own Clone.
type System struct {
	model       Model
	options     Options
	nodeIndex   map[string]int
	memberIndex map[string]int
	lengths     []float64 // of members, between their ends

	at       []Vec // nodes of the model, then those inside members
	elements []element
	span     [][2]int // elements of each member
	ties     [][]tie  // by direction of a node (6 node + dof); nil if independent
	equation []int    // by direction of a node; -1 if held for good or tied
	owner    []int    // by equation: direction of a node
	profile  *skyline // shape of the matrix
	floors   []int    // nodes with a floor
	initial  *factored
}

// tie is one term of a tied direction: factor times the motion of another.
type tie struct {
	direction int
	factor    float64
}

// Prepare checks a model and makes it ready. If findings are returned the model cannot be solved and the System
// is nil.
func Prepare(model Model, options Options) (*System, []Finding) {
	c := checkModel(model)
	if len(c.findings) > 0 {
		return nil, c.findings
	}
	s := &System{model: model, options: options, nodeIndex: c.nodes, memberIndex: c.members}
	s.at = make([]Vec, len(model.Nodes))
	for i, n := range model.Nodes {
		s.at[i] = n.At
		if n.Support.Floor != nil {
			s.floors = append(s.floors, i)
		}
	}
	pieces := 0
	for _, b := range model.Members {
		pieces += s.divisions(b)
	}
	s.elements = make([]element, 0, pieces)
	for i := range model.Members {
		s.cut(i)
	}
	s.tieBodies()
	s.number()
	return s, nil
}

// Clone returns a copy that can be changed and solved on its own. What never changes is shared.
func (s *System) Clone() *System {
	c := *s
	c.elements = slices.Clone(s.elements)
	c.initial = nil
	return &c
}

// MemberIndex returns the place of a member in the model. Panics if there is none of that name.
func (s *System) MemberIndex(name string) int {
	i, ok := s.memberIndex[name]
	if !ok {
		panic(fmt.Sprintf("spaceframe: no member %q", name))
	}
	return i
}

// MemberLength returns the length of a member between its ends, without the offsets.
func (s *System) MemberLength(member int) float64 { return s.lengths[member] }

// End is one of the two ends of a member.
type End int

// The ends of a member.
const (
	EndI End = iota
	EndJ
)

// SetEndSpring changes the spring between one end of a member and its node; Rigid() and 0 are allowed.
// Panics if k is negative or NaN.
func (s *System) SetEndSpring(member int, end End, d DOF, k float64) {
	if !(k >= 0) {
		panic("spaceframe: spring is negative or not a number")
	}
	e := &s.elements[s.span[member][0]]
	if end == EndJ {
		e = &s.elements[s.span[member][1]-1]
	}
	e.spring[6*int(end)+int(d)] = k
	e.refresh(0)
	s.initial = nil
}

// SetMaterial changes the material of a member. Panics if E or G is not a positive number or the density is
// negative.
func (s *System) SetMaterial(member int, m Material) {
	if !(m.E > 0 && m.G > 0 && m.Density >= 0) || !finite(m.E, m.G, m.Density) {
		panic("spaceframe: material without positive E and G")
	}
	for i := s.span[member][0]; i < s.span[member][1]; i++ {
		e := &s.elements[i]
		e.elastic = newElastic(m, s.model.Members[member].Section, e.elastic.length)
		e.refresh(0)
	}
	s.initial = nil
}

func (s *System) divisions(b Member) int {
	if b.Divisions > 0 {
		return b.Divisions
	}
	return s.options.divisions()
}

// cut makes the elements of a member and the nodes between them.
func (s *System) cut(member int) {
	b := s.model.Members[member]
	n := s.divisions(b)
	i, j := s.nodeIndex[b.I], s.nodeIndex[b.J]
	from, to := s.at[i].plus(b.OffsetI), s.at[j].plus(b.OffsetJ)
	along := to.minus(from)
	length := along.length()
	s.lengths = append(s.lengths, length)
	ax, _ := localAxes(along, b.YAxis)
	first := len(s.elements)
	for p := range n {
		e := element{member: member, start: length * float64(p) / float64(n), axes: ax}
		for d := range e.spring {
			e.spring[d] = math.Inf(1)
		}
		if p == 0 {
			e.node[0], e.arm[0] = i, b.OffsetI
			setSprings(e.spring[:6], b.SpringsI)
		} else {
			e.node[0] = len(s.at) - 1
		}
		if p == n-1 {
			e.node[1], e.arm[1] = j, b.OffsetJ
			setSprings(e.spring[6:], b.SpringsJ)
		} else {
			s.at = append(s.at, from.plus(along.times(float64(p+1)/float64(n))))
			e.node[1] = len(s.at) - 1
		}
		e.elastic = newElastic(b.Material, b.Section, length/float64(n))
		e.refresh(0)
		s.elements = append(s.elements, e)
	}
	s.span = append(s.span, [2]int{first, len(s.elements)})
}

func setSprings(to []float64, s Springs) {
	for d := range DOF(6) {
		if k, given := s[d]; given {
			to[d] = k
		}
	}
}

// tieBodies expresses the tied directions of each body by those of one node: a held one if there is any.
func (s *System) tieBodies() {
	s.ties = make([][]tie, 6*len(s.at))
	for _, b := range s.model.Bodies {
		master := s.nodeIndex[b.Nodes[0]]
		for _, name := range b.Nodes {
			if n := s.nodeIndex[name]; s.heldInBody(n, b) {
				master = n
				break
			}
		}
		for _, name := range b.Nodes {
			if n := s.nodeIndex[name]; n != master {
				s.tieNode(n, master, b)
			}
		}
	}
}

func (s *System) heldInBody(node int, b Body) bool {
	sup := s.model.Nodes[node].Support
	for d := range DOF(6) {
		if b.tied(d) && math.IsInf(sup.Hold[d], 1) {
			return true
		}
	}
	return false
}

// tieNode writes u_n = u_m + r_m x arm, r_n = r_m for the directions the body ties.
func (s *System) tieNode(node, master int, b Body) {
	arm := s.at[node].minus(s.at[master])
	for d := range DOF(6) {
		if !b.tied(d) {
			continue
		}
		t := []tie{{6*master + int(d), 1}}
		if d < RX {
			for r := range DOF(3) {
				var axis Vec
				axis[r] = 1
				if f := axis.cross(arm)[d]; f != 0 && b.tied(RX+r) {
					t = append(t, tie{6*master + int(RX+r), f})
				}
			}
		}
		s.ties[6*node+int(d)] = t
	}
}

// independent calls visit for the independent directions behind a direction of a node.
func (s *System) independent(direction int, visit func(direction int, factor float64)) {
	if s.ties[direction] == nil {
		visit(direction, 1)
		return
	}
	for _, t := range s.ties[direction] {
		visit(t.direction, t.factor)
	}
}

// number orders the nodes, numbers the equations and finds the profile of the matrix.
func (s *System) number() {
	s.equation = make([]int, 6*len(s.at))
	for _, node := range reverseCuthillMcKee(s.neighbours()) {
		for d := range 6 {
			direction := 6*node + d
			if s.ties[direction] != nil || s.heldForGood(node, d) {
				s.equation[direction] = -1
				continue
			}
			s.equation[direction] = len(s.owner)
			s.owner = append(s.owner, direction)
		}
	}
	first := make([]int, len(s.owner))
	for i := range first {
		first[i] = i
	}
	touch := func(equations []int) {
		if len(equations) == 0 {
			return
		}
		low := slices.Min(equations)
		for _, q := range equations {
			first[q] = min(first[q], low)
		}
	}
	for i := range s.elements {
		e := &s.elements[i]
		var all []int
		for _, n := range e.node {
			for d := range 6 {
				all = s.appendEquations(all, 6*n+d)
			}
		}
		touch(all)
	}
	for direction := range s.ties {
		touch(s.appendEquations(nil, direction))
	}
	s.profile = newSkyline(first)
}

func (s *System) appendEquations(to []int, direction int) []int {
	s.independent(direction, func(d int, _ float64) {
		if q := s.equation[d]; q >= 0 {
			to = append(to, q)
		}
	})
	return to
}

// heldForGood reports a rigid hold that no floor can let go.
func (s *System) heldForGood(node, d int) bool {
	if node >= len(s.model.Nodes) {
		return false
	}
	sup := s.model.Nodes[node].Support
	return sup.Floor == nil && math.IsInf(sup.Hold[d], 1)
}

// neighbours returns, for each node, the nodes that share an element or a body with it.
func (s *System) neighbours() [][]int {
	sets := make([][]int, len(s.at))
	clique := func(nodes []int) {
		for _, a := range nodes {
			for _, b := range nodes {
				if a != b && !slices.Contains(sets[a], b) {
					sets[a] = append(sets[a], b)
				}
			}
		}
	}
	for i := range s.elements {
		var nodes []int
		for _, n := range s.elements[i].node {
			for d := range 6 {
				s.independent(6*n+d, func(direction int, _ float64) {
					if m := direction / 6; !slices.Contains(nodes, m) {
						nodes = append(nodes, m)
					}
				})
			}
		}
		clique(nodes)
	}
	return sets
}
