package spaceframe

import (
	"fmt"
	"strings"
)

// freeMovement returns the movement that belongs to a vanished pivot: L^T x = 1 in that row, so that the stiffness
// times it is nothing. Other vanished rows are held meanwhile.
func (f *factored) freeMovement(row int) []float64 {
	x := make([]float64, len(f.matrix.first))
	x[row] = 1
	f.matrix.solveTransposed(x)
	return x
}

// looseRatio is the pivot ratio below which a frame that still solves is reported as nearly a mechanism.
const looseRatio = 1e-10

// looseness warns of a pivot that all but vanished.
func (s *System) looseness(f *factored) []Finding {
	ratio, row := f.matrix.minimumRatio()
	if ratio >= looseRatio || ratio < 0 {
		return nil
	}
	node, d := s.owner[row]/6, s.owner[row]%6
	return []Finding{{Code: CodeLoose, Node: s.nodeName(node),
		Message: fmt.Sprintf("%s is hardly held in %s: stiffness left %.1g of its own", s.nodeWords(node), DOF(d), ratio)}}
}

// nameMovements puts every free movement in words.
func (s *System) nameMovements(f *factored) []Finding {
	found := make([]Finding, 0, len(f.weak))
	for _, row := range f.weak {
		u := s.expand(f.freeMovement(row))
		found = append(found, s.nameMovement(u))
	}
	return found
}

// stillShare is the share of the largest movement below which a node counts as still.
const stillShare = 1e-6

// nameMovement says which nodes move and how. Turning is compared with moving over the size of the frame.
func (s *System) nameMovement(u []Vec6) Finding {
	size := s.size()
	largest := 0.0
	for _, v := range u {
		largest = max(largest, v.force().length(), v.moment().length()*size)
	}
	var moving []int
	for n, v := range u {
		if max(v.force().length(), v.moment().length()*size) > stillShare*largest {
			moving = append(moving, n)
		}
	}
	if len(moving) == 0 {
		return Finding{Code: CodeMechanism, Message: "the frame's stiffness cannot be worked with; look for numbers far too large or small"}
	}
	named := s.ofModel(moving)
	first := Finding{Code: CodeMechanism, Node: s.nodeName(moving[0])}
	if len(named) > 0 {
		first.Node = s.nodeName(named[0])
	}
	how := ""
	if len(moving) == 1 {
		how = fmt.Sprintf("%s can %s", s.nodeWords(moving[0]), movement(u[moving[0]], size))
	} else if rigid, v := s.asRigid(u); rigid {
		how = fmt.Sprintf("the whole frame can %s: nothing holds it", movement(v, size))
	} else {
		how = fmt.Sprintf("%s can move together without resistance, most of all %s", s.list(named), s.most(u, size))
	}
	first.Message = how
	return first
}

// most names the node that moves most, and how.
func (s *System) most(u []Vec6, size float64) string {
	best, value := 0, -1.0
	for n, v := range u[:len(s.model.Nodes)] {
		if m := max(v.force().length(), v.moment().length()*size*1e-3); m > value {
			best, value = n, m
		}
	}
	return fmt.Sprintf("%s, which can %s", s.nodeWords(best), movement(u[best], size))
}

// asRigid reports whether all nodes move as one rigid body, and how the middle of it moves.
func (s *System) asRigid(u []Vec6) (bool, Vec6) {
	turn := u[0].moment()
	size := s.size()
	largest := 0.0
	for _, v := range u {
		largest = max(largest, v.force().length(), v.moment().length()*size)
	}
	for n, v := range u {
		expect := u[0].force().plus(turn.cross(s.at[n].minus(s.at[0])))
		if v.force().minus(expect).length() > stillShare*largest || v.moment().minus(turn).length()*size > stillShare*largest {
			return false, Vec6{}
		}
	}
	if turn.length()*size > stillShare*largest {
		return true, join(Vec{}, turn)
	}
	return true, u[0]
}

func (s *System) size() float64 {
	lo, hi := s.at[0], s.at[0]
	for _, p := range s.at {
		for d := range p {
			lo[d], hi[d] = min(lo[d], p[d]), max(hi[d], p[d])
		}
	}
	return hi.minus(lo).length()
}

// movement says in words what a displacement does.
func movement(v Vec6, size float64) string {
	if v.moment().length()*size > 1e-3*v.force().length() && v.force().length() <= 1e-6*size*v.moment().length() {
		return "turn freely about " + direction(v.moment())
	}
	return "move freely along " + direction(v.force())
}

// direction names an axis, or gives the direction's components.
func direction(v Vec) string {
	n := v.length()
	if n == 0 {
		return "no direction"
	}
	for d, name := range []string{"x", "y", "z"} {
		if abs(v[d]) > n*(1-1e-6) {
			return name
		}
	}
	return fmt.Sprintf("(%.2f, %.2f, %.2f)", v[0]/n, v[1]/n, v[2]/n)
}

func (s *System) nodeName(n int) string {
	if n < len(s.model.Nodes) {
		return s.model.Nodes[n].Name
	}
	return ""
}

// nodeWords names a node, or the member a cutting point lies in.
func (s *System) nodeWords(n int) string {
	if n < len(s.model.Nodes) {
		return fmt.Sprintf("node %q", s.model.Nodes[n].Name)
	}
	for i := range s.elements {
		if s.elements[i].node[0] == n {
			return fmt.Sprintf("a point inside member %q", s.model.Members[s.elements[i].member].Name)
		}
	}
	return "a point"
}

func (s *System) ofModel(nodes []int) (named []int) {
	for _, n := range nodes {
		if n < len(s.model.Nodes) {
			named = append(named, n)
		}
	}
	return named
}

// listed is how many nodes a message names before it counts the rest.
const listed = 6

func (s *System) list(nodes []int) string {
	names := make([]string, 0, listed)
	for _, n := range nodes {
		if len(names) == listed {
			return fmt.Sprintf("nodes %s and %d more", strings.Join(names, ", "), len(nodes)-listed)
		}
		names = append(names, fmt.Sprintf("%q", s.model.Nodes[n].Name))
	}
	return "nodes " + strings.Join(names, ", ")
}
