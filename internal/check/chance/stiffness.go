package chance

import (
	"math"
	"slices"

	"longgrain/internal/solve/reliability"
	"longgrain/internal/solve/spaceframe"
)

// stiffness is what changes when one part or joint is stiffer: for each component and state the gain of each term at each knot, for each unit
// of the logarithm of the stiffness.
type stiffness struct {
	part, connection int // the other is -1
	gain             [][][3][]float64
}

// step is the change in the logarithm of a stiffness that its effect is taken from: about its scatter, so that the straight line
// fits where it is used.
const step = 0.15

// leastShift is the gain, as a share of the strength for one standard deviation of stiffness, below which it is left out.
const leastShift = 0.002

// shiftStiffness solves the picked cases again with each part and each joint stiffer in turn.
func (m *model) shiftStiffness(system *spaceframe.System, base solved) {
	only := m.pickedCases()
	m.stiff = []stiffness{}
	for i, part := range m.frame.Parts {
		if len(part.Members) == 0 {
			continue
		}
		s := system.Clone()
		for _, name := range part.Members {
			k := m.members[name]
			material := m.frame.Model.Members[k].Material
			material.E *= math.Exp(step)
			material.G *= math.Exp(step)
			s.SetMaterial(k, material)
		}
		m.stiff = append(m.stiff, stiffness{i, -1, m.gains(base, m.solve(s, only))})
	}
	for k, e := range m.frame.Ends {
		if e.Member == "" || m.in.Joints[k] == nil {
			continue
		}
		s := system.Clone()
		m.soften(s, k, step)
		m.stiff = append(m.stiff, stiffness{-1, k, m.gains(base, m.solve(s, only))})
	}
}

// soften multiplies the springs of a joint by e to a power.
func (m *model) soften(s *spaceframe.System, connection int, power float64) {
	e := m.frame.Ends[connection]
	i := m.members[e.Member]
	end, springs := spaceframe.EndI, m.frame.Model.Members[i].SpringsI
	if e.High {
		end, springs = spaceframe.EndJ, m.frame.Model.Members[i].SpringsJ
	}
	for d := spaceframe.UX; d <= spaceframe.RZ; d++ {
		if spring, given := springs[d]; given && spring > 0 && !math.IsInf(spring, 1) {
			s.SetEndSpring(i, end, d, spring*math.Exp(power))
		}
	}
}

// pickedCases returns the cases that any component is picked for, in order.
func (m *model) pickedCases() []int {
	used := make([]bool, len(m.frame.Cases))
	for _, c := range m.components {
		for _, p := range c.picks {
			used[p.of] = true
		}
	}
	only := []int{}
	for k, u := range used {
		if u {
			only = append(only, k)
		}
	}
	return only
}

func (m *model) gains(base, changed solved) [][][3][]float64 {
	out := make([][][3][]float64, len(m.components))
	for i := range m.components {
		c := &m.components[i]
		out[i] = make([][3][]float64, len(c.picks))
		for n, p := range c.picks {
			if changed.weight == nil || changed.at[p.of] == nil || base.at[p.of] == nil || (changed.beyond[p.of] == nil) != (base.beyond[p.of] == nil) {
				continue
			}
			from, to := m.state(c, p, base), m.state(c, p, changed)
			for t := range from.Terms {
				gain := make([]float64, len(from.Knots))
				most := 0.0
				for k := range gain {
					gain[k] = (to.Terms[t].Share[k] - from.Terms[t].Share[k]) / step
					most = max(most, math.Abs(gain[k]))
				}
				if most*scatter["give"].cov > leastShift {
					out[i][n][t] = gain
				}
			}
		}
	}
	return out
}

// shift adds the effect of stiffness to a problem. wood and give say which variables the stiffnesses follow.
func (m *model) shift(p *reliability.Problem, wood map[int]woodVariables, give map[int]int) {
	if len(m.stiff) == 0 {
		return
	}
	for i := range p.Components {
		c := &p.Components[i]
		c.States = slices.Clone(c.States)
		for n := range c.States {
			c.States[n].Terms = slices.Clone(c.States[n].Terms)
			for t := range c.States[n].Terms {
				term := &c.States[n].Terms[t]
				term.Shifts = nil
				for _, s := range m.stiff {
					if s.gain[i] == nil || s.gain[i][n][t] == nil {
						continue
					}
					variable, known := 0, false
					if s.part >= 0 {
						w, ok := wood[s.part]
						variable, known = w.modulus, ok
					} else {
						variable, known = give[s.connection]
					}
					if known {
						term.Shifts = append(term.Shifts, reliability.Shift{Variable: variable, Share: s.gain[i][n][t]})
					}
				}
			}
		}
	}
}
