package spaceframe

import (
	"math"
	"slices"
)

// Verification is how far an answer misses the laws it must obey, each as a share of the largest force, moment
// or displacement in the frame.
//
// Equilibrium: every member, every node or rigid body and the frame as a whole, loads against reactions.
// Compatibility: members bent by their own forces end where their nodes are; springs give as their force says;
// held nodes stay; rigid bodies stay rigid. Floor: no pull, no sinking in, friction within its limit.
//
// In second order the member's moments and its bending are left out: there the answer is an approximation by
// elements, and only forces at nodes, springs, supports and bodies must agree exactly.
type Verification struct {
	Equilibrium, Compatibility, Floor float64
}

// Verify rebuilds the balance of a solved case from the model, the loads and the figures in the result alone: it
// knows no matrix. Panics if the result is not that of a solved case of the model.
func Verify(m Model, c Case, r *CaseResult) Verification {
	v := &verifier{model: m, result: r, nodes: map[string]int{}}
	for i, n := range m.Nodes {
		v.nodes[n.Name] = i
	}
	v.lack = make([]Vec6, len(m.Nodes))
	for i, n := range m.Nodes {
		v.give(i, join(c.Gravity.times(n.Mass), Vec{}))
		v.give(i, r.Reaction[i])
	}
	for _, l := range c.Nodal {
		v.give(v.nodes[l.Node], join(l.Force, l.Moment))
	}
	for i := range m.Members {
		v.member(i, c)
	}
	v.bodies()
	v.supports()
	for _, f := range v.lack {
		v.miss(&v.forces, f.force().length())
		v.miss(&v.moments, f.moment().length())
	}
	moment := max(v.scale.moment, v.scale.force*v.scale.length)
	return Verification{
		Equilibrium:   max(share(v.forces, v.scale.force), share(v.moments, moment)),
		Compatibility: max(share(v.moves, v.largest), share(v.turns, v.largest/v.scale.length)),
		Floor:         max(share(v.floorForce, v.scale.force), share(v.floorMove, v.largest)),
	}
}

// verifier gathers the worst misses.
type verifier struct {
	model  Model
	result *CaseResult
	nodes  map[string]int
	lack   []Vec6 // force still unbalanced at nodes
	scale  forceScale

	largest               float64 // displacement
	forces, moments       float64
	moves, turns          float64
	floorForce, floorMove float64
}

func share(miss, of float64) float64 {
	if miss == 0 {
		return 0
	}
	if of == 0 {
		return math.Inf(1)
	}
	return miss / of
}

func (v *verifier) miss(worst *float64, by float64) {
	if !(by <= *worst) {
		*worst = by
	}
}

// give puts a force on a node.
func (v *verifier) give(node int, f Vec6) {
	v.lack[node].add(f, 1)
	v.scale.see(f)
	v.largest = max(v.largest, v.result.Displacement[node].force().length())
}

// member checks the balance and the bending of a member, its springs, and hands its forces to its nodes.
func (v *verifier) member(i int, c Case) {
	b, r := v.model.Members[i], &v.result.Members[i]
	ends := [2]int{v.nodes[b.I], v.nodes[b.J]}
	arms := [2]Vec{b.OffsetI, b.OffsetJ}
	from := v.model.Nodes[ends[0]].At.plus(arms[0])
	along := v.model.Nodes[ends[1]].At.plus(arms[1]).minus(from)
	length := along.length()
	v.scale.length = max(v.scale.length, length)
	ax, _ := localAxes(along, b.YAxis)
	e := element{axes: ax, arm: arms, elastic: newElastic(b.Material, b.Section, length)}
	loads := v.loads(b, c, &ax, length)

	var own vec12
	outside := e.endDisplacement([2]Vec6{v.result.Displacement[ends[0]], v.result.Displacement[ends[1]]})
	for n, springs := range []Springs{b.SpringsI, b.SpringsJ} {
		v.give(ends[n], e.nodeForce(n, r.EndForce[n]).negative())
		v.largest = max(v.largest, r.Slip[n].force().length(), r.Slip[n].moment().length()*length)
		for d := range DOF(6) {
			own[6*n+int(d)] = outside[6*n+int(d)] + r.Slip[n][d]
			v.spring(springs, d, r.Slip[n][d], r.EndForce[n][d])
		}
	}
	if v.result.secondOrder {
		return
	}
	f := sectionForce(r.EndForce[0], loads, length)
	u := e.elastic.deflectionFrom(Vec6(own[:6]), r.EndForce[0], loads, length)
	half := e.elastic.deflectionFrom(Vec6(own[:6]), r.EndForce[0], loads, length/2)
	v.largest = max(v.largest, half.force().length(), half.moment().length()*length)
	f.add(r.EndForce[1], -1)
	u.add(Vec6(own[6:]), -1)
	v.miss(&v.forces, f.force().length())
	v.miss(&v.moments, f.moment().length())
	v.miss(&v.moves, u.force().length())
	v.miss(&v.turns, u.moment().length())
}

// loads returns all that a case puts on a member, as terms over its whole length.
func (v *verifier) loads(b Member, c Case, ax *axes, length float64) (all []bracket) {
	local := func(f Vec, isLocal bool) Vec {
		if isLocal {
			return f
		}
		return ax.toLocal(f)
	}
	for _, p := range c.Point {
		if p.Member == b.Name {
			all = pointBrackets(all, local(p.Force, p.Local), local(p.Moment, p.Local), p.At)
		}
	}
	for _, p := range c.Spread {
		if p.Member != b.Name {
			continue
		}
		if p.From == 0 && p.To == 0 {
			p.To = length
		}
		all = spreadBrackets(all, p, local(p.Start, p.Local), local(p.End, p.Local), 0, length)
	}
	w := ax.toLocal(c.Gravity.times(b.Material.Density * b.Section.Area))
	return spreadBrackets(all, SpreadLoad{To: length}, w, w, 0, length)
}

// spring checks slip against force: none in a rigid end, force = -k slip in a spring, no force if released.
func (v *verifier) spring(springs Springs, d DOF, slip, force float64) {
	k, given := springs[d]
	worstMove, worstForce := &v.moves, &v.forces
	if d >= RX {
		worstMove, worstForce = &v.turns, &v.moments
	}
	switch {
	case !given || math.IsInf(k, 1):
		v.miss(worstMove, abs(slip))
	case k == 0:
		v.miss(worstForce, abs(force))
	default:
		v.miss(worstMove, abs(force/k+slip))
	}
}

// bodies checks that rigid bodies stay rigid, and gathers the forces on their nodes at the first.
func (v *verifier) bodies() {
	for _, b := range v.model.Bodies {
		first := v.nodes[b.Nodes[0]]
		base := v.result.Displacement[first]
		for _, name := range b.Nodes[1:] {
			n := v.nodes[name]
			arm := v.model.Nodes[n].At.minus(v.model.Nodes[first].At)
			u, f := v.result.Displacement[n], v.lack[n]
			turn, force, moment := base.moment(), f.force(), f.moment()
			for d := range DOF(3) { // only what the body ties
				if !b.tied(RX + d) {
					turn[d], moment[d] = 0, 0
				}
				if !b.tied(d) {
					force[d] = 0
				}
			}
			expect := join(base.force().plus(turn.cross(arm)), turn)
			carried := join(force, moment.plus(arm.cross(force)))
			for d := range DOF(6) {
				if !b.tied(d) {
					continue
				}
				worst := &v.moves
				if d >= RX {
					worst = &v.turns
				}
				v.miss(worst, abs(u[d]-expect[d]))
				v.lack[first][d] += carried[d]
				v.lack[n][d] = 0
			}
		}
	}
}

// supports checks that held nodes stay, springs push by their stiffness, and floors only push.
func (v *verifier) supports() {
	for i, n := range v.model.Nodes {
		u, r := v.result.Displacement[i], v.result.Reaction[i]
		floor := n.Support.Floor
		state, slides := down, false
		if floor != nil {
			state, slides = v.floor(n, u, r)
		}
		for d := range DOF(6) {
			worst, force := &v.moves, &v.forces
			if d >= RX {
				worst, force = &v.turns, &v.moments
			}
			k := n.Support.Hold[d]
			switch {
			case slides && d < RX && d != floor.Normal: // checked by floor
			case !n.Support.holds(d, state):
				v.miss(force, abs(r[d]))
			case math.IsInf(k, 1):
				v.miss(worst, abs(u[d]))
			default:
				v.miss(worst, abs(u[d]+r[d]/k))
			}
		}
	}
}

// floor checks one foot and returns its state as the result tells it.
func (v *verifier) floor(n Node, u, r Vec6) (state contact, slides bool) {
	f := n.Support.Floor
	push, rise := r[f.Normal]*f.sense(), u[f.Normal]*f.sense()
	side := r.force()
	side[f.Normal] = 0
	if slices.Contains(v.result.Lifted, n.Name) {
		v.miss(&v.floorMove, -rise)
		return lifted, false
	}
	v.miss(&v.floorForce, -push)
	if f.Friction == 0 {
		return down, false
	}
	v.miss(&v.floorForce, side.length()-f.Friction*push)
	if !slices.Contains(v.result.Sliding, n.Name) {
		return down, false
	}
	v.miss(&v.floorForce, f.Friction*push-side.length())
	slip := u.force()
	for d := range 3 {
		if k := n.Support.Hold[d]; DOF(d) == f.Normal || k == 0 {
			slip[d] = 0
		} else if !math.IsInf(k, 1) {
			slip[d] += r[d] / k
		}
	}
	if side.length() > 0 { // slip points against the friction
		against := slip.plus(side.times(slip.length() / side.length()))
		v.miss(&v.floorMove, against.length())
	}
	return down, true
}
