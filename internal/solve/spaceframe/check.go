package spaceframe

import (
	"fmt"
	"math"
)

// checker gathers everything that is wrong with a model and with its cases.
type checker struct {
	nodes, members map[string]int
	findings       []Finding
}

func (c *checker) report(f Finding, format string, args ...any) {
	f.Message = fmt.Sprintf(format, args...)
	c.findings = append(c.findings, f)
}

// checkModel returns what is wrong with a model, in the order of the model, and the indices of its names.
func checkModel(m Model) *checker {
	c := &checker{nodes: map[string]int{}, members: map[string]int{}}
	if len(m.Nodes) == 0 || len(m.Members) == 0 {
		c.report(Finding{Code: CodeEmpty}, "the frame has %d nodes and %d members; it needs at least two nodes and one member",
			len(m.Nodes), len(m.Members))
	}
	for i, n := range m.Nodes {
		c.node(i, n)
	}
	used := make([]bool, len(m.Nodes))
	for i, b := range m.Members {
		c.member(i, b, m, used)
	}
	c.bodies(m, used)
	held := false
	for i, n := range m.Nodes {
		if !used[i] {
			c.report(Finding{Code: CodeUnconnected, Node: n.Name}, "node %q belongs to no member and no rigid body", n.Name)
		}
		held = held || n.Support.Hold != Vec6{}
	}
	if !held && len(m.Nodes) > 0 {
		c.report(Finding{Code: CodeNoSupport}, "the frame has no support; hold at least one node")
	}
	return c
}

func (c *checker) node(i int, n Node) {
	at := Finding{Code: CodeName, Node: n.Name}
	if n.Name == "" {
		c.report(at, "node number %d has no name", i+1)
	} else if _, twice := c.nodes[n.Name]; twice {
		c.report(at, "two nodes are called %q", n.Name)
	} else {
		c.nodes[n.Name] = i
	}
	at.Code = CodeNumber
	if !n.At.finite() {
		c.report(at, "node %q has a coordinate that is not a number", n.Name)
	}
	if !finite(n.Mass) || n.Mass < 0 {
		c.report(at, "node %q has the mass %g; it must be 0 or more", n.Name, n.Mass)
	}
	at.Code = CodeSupport
	for d, k := range n.Support.Hold {
		if math.IsNaN(k) || k < 0 {
			c.report(at, "node %q is held in %s with stiffness %g; it must be 0 or more", n.Name, DOF(d), k)
		}
	}
	f := n.Support.Floor
	if f == nil {
		return
	}
	if f.Normal < UX || f.Normal > UZ {
		c.report(at, "the floor under node %q has the normal %s; it must be ux, uy or uz", n.Name, f.Normal)
	} else if n.Support.Hold[f.Normal] == 0 {
		c.report(at, "node %q stands on a floor but is not held in %s", n.Name, f.Normal)
	}
	if !finite(f.Friction) || f.Friction < 0 {
		c.report(at, "the floor under node %q has the friction %g; it must be 0 or more", n.Name, f.Friction)
	}
}

func (c *checker) member(i int, b Member, m Model, used []bool) {
	at := Finding{Code: CodeName, Member: b.Name}
	if b.Name == "" {
		c.report(at, "member number %d has no name", i+1)
	} else if _, twice := c.members[b.Name]; twice {
		c.report(at, "two members are called %q", b.Name)
	} else {
		c.members[b.Name] = i
	}
	ends := [2]int{c.find(b.I, b.Name), c.find(b.J, b.Name)}
	for _, e := range ends {
		if e >= 0 {
			used[e] = true
		}
	}
	c.section(b)
	if b.Divisions < 0 || b.Divisions > 1000 {
		c.report(Finding{Code: CodeNumber, Member: b.Name}, "member %q is cut into %d elements; allowed are 0 to 1000", b.Name, b.Divisions)
	}
	for _, s := range []Springs{b.SpringsI, b.SpringsJ} {
		for d := range DOF(6) {
			if k, given := s[d]; given && (math.IsNaN(k) || k < 0) {
				c.report(Finding{Code: CodeNumber, Member: b.Name},
					"member %q has an end spring of stiffness %g in %s; it must be 0 or more", b.Name, k, d)
			}
		}
	}
	if !b.OffsetI.finite() || !b.OffsetJ.finite() || !b.YAxis.finite() {
		c.report(Finding{Code: CodeNumber, Member: b.Name}, "member %q has an offset or axis that is not a number", b.Name)
		return
	}
	if ends[0] < 0 || ends[1] < 0 || !m.Nodes[ends[0]].At.finite() || !m.Nodes[ends[1]].At.finite() {
		return
	}
	from, to := m.Nodes[ends[0]].At, m.Nodes[ends[1]].At
	along := to.plus(b.OffsetJ).minus(from.plus(b.OffsetI))
	if size := from.length() + to.length() + b.OffsetI.length() + b.OffsetJ.length(); along.length() <= 1e-9*size {
		c.report(Finding{Code: CodeZeroLength, Member: b.Name}, "member %q from node %q to node %q has no length", b.Name, b.I, b.J)
	} else if _, ok := localAxes(along, b.YAxis); !ok {
		c.report(Finding{Code: CodeAxis, Member: b.Name}, "member %q: its YAxis lies along the member; give one that points sideways", b.Name)
	}
}

func (c *checker) find(node, member string) int {
	i, ok := c.nodes[node]
	if !ok {
		c.report(Finding{Code: CodeUnknown, Member: member, Node: node}, "member %q ends at node %q, which does not exist", member, node)
		return -1
	}
	return i
}

func (c *checker) section(b Member) {
	at := Finding{Code: CodeSection, Member: b.Name}
	for _, v := range []struct {
		name  string
		value float64
	}{
		{"E", b.Material.E}, {"G", b.Material.G}, {"area", b.Section.Area},
		{"Iy", b.Section.Iy}, {"Iz", b.Section.Iz}, {"J", b.Section.J},
	} {
		if !finite(v.value) || v.value <= 0 {
			c.report(at, "member %q has %s = %g; it must be above 0", b.Name, v.name, v.value)
		}
	}
	for _, v := range []struct {
		name  string
		value float64
	}{{"density", b.Material.Density}, {"shear area Ay", b.Section.Ay}, {"shear area Az", b.Section.Az}} {
		if !finite(v.value) || v.value < 0 {
			c.report(at, "member %q has %s = %g; it must be 0 or more", b.Name, v.name, v.value)
		}
	}
}

func (c *checker) bodies(m Model, used []bool) {
	owner := map[[2]int]string{}
	for i, b := range m.Bodies {
		if b.Name == "" {
			b.Name = fmt.Sprintf("rigid body %d", i+1)
		}
		at := Finding{Code: CodeBody, Body: b.Name}
		if len(b.Nodes) < 2 {
			c.report(at, "%q ties %d nodes; it needs at least two", b.Name, len(b.Nodes))
		}
		if b.Plane && (b.Normal < UX || b.Normal > UZ) {
			c.report(at, "%q has the normal %s; it must be ux, uy or uz", b.Name, b.Normal)
			continue
		}
		var holds [6]string
		for _, name := range b.Nodes {
			n, ok := c.nodes[name]
			if !ok {
				c.report(Finding{Code: CodeUnknown, Body: b.Name, Node: name}, "%q ties node %q, which does not exist", b.Name, name)
				continue
			}
			used[n] = true
			at.Node = name
			if first, ok := c.nodes[b.Nodes[0]]; ok && b.Plane {
				c.inPlane(b, m, first, n)
			}
			for d := range DOF(6) {
				if !b.tied(d) {
					continue
				}
				key := [2]int{n, int(d)}
				if other, twice := owner[key]; twice {
					c.report(at, "node %q is tied in %s by both %q and %q; join them into one body", name, d, other, b.Name)
					break
				}
				owner[key] = b.Name
				if math.IsInf(m.Nodes[n].Support.Hold[d], 1) {
					if first := firstOf(holds[:]); first != "" && first != name {
						c.report(at, "%q contains two held nodes, %q and %q; hold one of them, or both by springs", b.Name, first, name)
						break
					}
					holds[d] = name
				}
			}
		}
	}
}

// inPlane reports a node of a plane body that lies out of the plane of the first.
func (c *checker) inPlane(b Body, m Model, first, n int) {
	apart := m.Nodes[n].At.minus(m.Nodes[first].At)
	if height := apart[b.Normal]; abs(height) > 1e-6*apart.length() {
		c.report(Finding{Code: CodeBody, Body: b.Name, Node: m.Nodes[n].Name},
			"%q is plane, but node %q lies %g away from the plane of node %q", b.Name, m.Nodes[n].Name, height, m.Nodes[first].Name)
	}
}

func firstOf(names []string) string {
	for _, n := range names {
		if n != "" {
			return n
		}
	}
	return ""
}

// checkCases returns what is wrong with the loads.
func (s *System) checkCases(cases []Case) []Finding {
	c := &checker{nodes: s.nodeIndex, members: s.memberIndex}
	for _, k := range cases {
		at := Finding{Code: CodeLoad, Case: k.Name}
		if !k.Gravity.finite() {
			c.report(at, "case %q has a gravity that is not a number", k.Name)
		}
		for _, l := range k.Nodal {
			at.Node = l.Node
			if _, ok := c.nodes[l.Node]; !ok {
				c.report(at, "case %q loads node %q, which does not exist", k.Name, l.Node)
			}
			if !l.Force.finite() || !l.Moment.finite() {
				c.report(at, "case %q has a load on node %q that is not a number", k.Name, l.Node)
			}
		}
		at.Node = ""
		for _, l := range k.Point {
			c.memberLoad(s, k.Name, l.Member, l.At, l.At, l.Force, l.Moment)
		}
		for _, l := range k.Spread {
			c.memberLoad(s, k.Name, l.Member, l.From, l.To, l.Start, l.End)
			if l.From > l.To {
				at.Member = l.Member
				c.report(at, "case %q: the load on member %q ends before it starts", k.Name, l.Member)
			}
		}
	}
	return c.findings
}

func (c *checker) memberLoad(s *System, name, member string, from, to float64, a, b Vec) {
	at := Finding{Code: CodeLoad, Case: name, Member: member}
	i, ok := c.members[member]
	if !ok {
		c.report(at, "case %q loads member %q, which does not exist", name, member)
		return
	}
	if !a.finite() || !b.finite() || !finite(from, to) {
		c.report(at, "case %q has a load on member %q that is not a number", name, member)
		return
	}
	length := s.lengths[i]
	if slack := 1e-9 * length; from < -slack || to > length+slack {
		c.report(at, "case %q: the load on member %q lies at %g to %g, but the member is %g long", name, member, from, to, length)
	}
}
