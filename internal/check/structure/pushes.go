package structure

import (
	"fmt"
	"math"

	"longgrain/internal/ground/geom"
	"longgrain/internal/ground/unit"
	"longgrain/internal/solve/spaceframe"
)

// addCase makes a load case of a rule.
type addCase func(r rule, name string, fill func(*spaceframe.Case))

type push struct {
	word   string
	toward spaceframe.Vec
}

var pushes = []push{
	{"right", spaceframe.Vec{1, 0, 0}}, {"left", spaceframe.Vec{-1, 0, 0}},
	{"back", spaceframe.Vec{0, 1, 0}}, {"front", spaceframe.Vec{0, -1, 0}},
}

func scale(v spaceframe.Vec, k float64) spaceframe.Vec {
	return spaceframe.Vec{v[0] * k, v[1] * k, v[2] * k}
}

// beside returns the distance of a point to the side of a push: what decides which uprights take it.
func (d push) beside(at geom.Vec) float64 {
	return math.Abs(d.toward[1])*at.X + math.Abs(d.toward[0])*at.Y
}

// swings names the direction of a push and back.
func (d push) swings() string {
	if d.toward[0] != 0 {
		return "left and right"
	}
	return "front and back"
}

// sides names the two ends of an edge that is pushed square to it.
func (d push) sides() [2]string {
	if d.toward[0] != 0 {
		return [2]string{"front", "back"}
	}
	return [2]string{"left", "right"}
}

// arrival is one way in which a push at the top comes to the uprights: the share of each head.
type arrival struct {
	where  string // " at the right corner"; empty for all alike
	shares []float64
}

// arrivals returns the ways in which a push comes to the heads. A top on fastenings is pushed at the middle of an edge and near both
// its corners; it hands the push on by statics, as a stiff board does, and braces nothing. Where nothing lies on the heads each of
// them is pushed alone, and all together.
//
//	share of a head = 1/n + (x_p - c) (x - c)/sum (x_i - c)²
//
// x is the distance to the side of the push, c its mean over the n heads, x_p that of the push.
//
// Source: [longgrain] docs/methods/structure.md; decision 8.
func (f *frame) arrivals(d push, heads []head, top plane, hasTop bool, inset float64) []arrival {
	n := float64(len(heads))
	even := make([]float64, len(heads))
	for i := range even {
		even[i] = 1 / n
	}
	out := []arrival{{shares: even}}
	if !hasTop || len(top.carriers) == 0 || top.hi.Z < heads[0].z {
		for i, h := range heads {
			alone := make([]float64, len(heads))
			alone[i] = 1
			out = append(out, arrival{" on the " + h.part, alone})
		}
		return out
	}
	mean, square := 0.0, 0.0
	for _, h := range heads {
		mean += d.beside(h.at) / n
	}
	for _, h := range heads {
		square += (d.beside(h.at) - mean) * (d.beside(h.at) - mean)
	}
	if square < 1 {
		return out // all in one line: nothing to share unevenly
	}
	low, high := d.beside(top.lo), d.beside(top.hi)
	inset = math.Min(inset, (high-low)/2)
	for k, at := range [2]float64{low + inset, high - inset} {
		shares := make([]float64, len(heads))
		for i, h := range heads {
			shares[i] = 1/n + (at-mean)*(d.beside(h.at)-mean)/square
		}
		out = append(out, arrival{fmt.Sprintf(" near the %s corner", d.sides()[k]), shares})
	}
	return out
}

// pushInset is the distance of a push from the corner of a top, mm. Source: [en-1730] horizontal load, secondary.
const pushInset = 50

// pushCases adds the pushes at the top: each way, in the middle and near both corners.
func (f *frame) pushCases(add addCase, top plane, hasTop bool) {
	heads := f.heads()
	if len(heads) == 0 {
		return
	}
	for _, r := range rulesFor(f.a.Use, f.a.Setting, "push") {
		for _, d := range pushes {
			r := f.standingAgainst(r, d, heads[0].z, top, hasTop)
			for _, a := range f.arrivals(d, heads, top, hasTop, pushInset) {
				add(r, fmt.Sprintf("%.0f N push to the %s%s", r.force, d.word, a.where), func(c *spaceframe.Case) {
					if hasTop && r.mass > 0 {
						f.press(c, top, top.middle(), r.mass*unit.Gravity)
					}
					a.put(c, heads, d, r.force)
				})
			}
		}
	}
}

// put loads the heads with their shares of a push.
func (a arrival) put(c *spaceframe.Case, heads []head, d push, force float64) {
	for i, h := range heads {
		if a.shares[i] != 0 {
			c.Nodal = append(c.Nodal, h.load(scale(d.toward, force*a.shares[i])))
		}
	}
}

// load puts a force on a head.
func (h head) load(force spaceframe.Vec) spaceframe.NodalLoad {
	arm := geom.Vec{X: h.arm[0], Y: h.arm[1], Z: h.arm[2]}
	return spaceframe.NodalLoad{Node: h.node, Force: force, Moment: vec(arm.Cross(geom.Vec{X: force[0], Y: force[1], Z: force[2]}))}
}

// moved returns the movement of a head in a solution.
func (h head) moved(c *spaceframe.CaseResult) geom.Vec {
	u := c.At(h.node)
	turn := geom.Vec{X: u[spaceframe.RX], Y: u[spaceframe.RY], Z: u[spaceframe.RZ]}
	return geom.Vec{X: u[0], Y: u[1], Z: u[2]}.Add(turn.Cross(geom.Vec{X: h.arm[0], Y: h.arm[1], Z: h.arm[2]}))
}

// standingAgainst gives the mass on the top during a push and the push itself: the mass of the rule, raised as far as the rule allows
// until the piece stands; where that does not suffice the push is lowered until it does.
//
// Source: [en-1730], the order of loading more and pushing less from memory.
func (f *frame) standingAgainst(r rule, d push, z float64, top plane, hasTop bool) rule {
	wanted, most := r.force, math.Max(r.mass, r.most)
	edges := f.edges()
	lever := func(e edge) float64 { return -z * (d.toward[0]*e.inward.X + d.toward[1]*e.inward.Y) }
	inside := func(e edge) float64 { return top.middle().Sub(e.at).Dot(e.inward) }
	if !hasTop {
		r.mass, most = 0, 0
	}
	for _, e := range edges {
		if hasTop && lever(e) > 0 && inside(e) > 0 {
			need := (staysDown*r.force*lever(e) - e.righting) / (unit.Gravity * inside(e))
			r.mass = math.Min(most, math.Max(r.mass, need))
		}
	}
	for _, e := range edges {
		if lever(e) > 0 {
			righting := e.righting
			if hasTop {
				righting += r.mass * unit.Gravity * inside(e)
			}
			r.force = math.Min(r.force, math.Max(0, righting/lever(e)/staysDown))
		}
	}
	return r.lowered(wanted)
}
