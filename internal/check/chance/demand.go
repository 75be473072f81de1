package chance

import (
	"cmp"
	"math"
	"slices"

	"longgrain/internal/design/joint"
	"longgrain/internal/solve/reliability"
	"longgrain/internal/solve/spaceframe"
)

// pick is a load case and a place in which a component may fail.
type pick struct {
	load    int // index of the action
	of      int // index of the case
	member  int // index in the frame
	end     int // 0 or 1 for what stands on the very end of the member; -1: within it, at x
	x       float64
	sliding bool       // of a joint: sheared and twisted, not opened
	along   [2]float64 // of shear: the direction of the force in the case
}

// What is kept of the cases: those that come within this share of the hardest of their kind of load, and at most so many. The hardest
// case of a component changes from draw to draw only by the own weight and the stiffness, which are small beside it.
const (
	keptShare = 0.75
	keptMost  = 4
)

// stations is the number of places within each member at which stress is looked at, as package structure does.
const stations = 3

// pick finds the cases and places that can break a component.
func (m *model) pick(c *component, s solved, every bool) {
	type found struct {
		pick
		use float64
	}
	var all []found
	for k, r := range s.at {
		if r == nil {
			continue
		}
		load := slices.Index(m.actions, m.in.Answer.Cases[k].Action)
		try := func(best *found, p pick) {
			p.load, p.of = load, k
			f := m.forceAt(r, p)
			if c.shear {
				if v := math.Hypot(f[spaceframe.UY], f[spaceframe.UZ]); v > 0 {
					p.along = [2]float64{f[spaceframe.UY] / v, f[spaceframe.UZ] / v}
				}
			}
			use := 0.0
			for _, share := range m.shares(c, p, f) {
				use += math.Abs(share)
			}
			if use > best.use {
				*best = found{p, use}
			}
		}
		if c.connection >= 0 {
			e := m.frame.Ends[c.connection]
			end := 0
			if e.High {
				end = 1
			}
			for _, sliding := range []bool{false, true} {
				var best found
				try(&best, pick{member: m.members[e.Member], end: end, sliding: sliding})
				all = append(all, best)
			}
			continue
		}
		var best found
		for _, name := range m.frame.Parts[c.part].Members {
			at := m.members[name]
			member := &r.Members[at]
			try(&best, pick{member: at, end: 0})
			try(&best, pick{member: at, end: 1})
			for i := range stations {
				try(&best, pick{member: at, end: -1, x: member.Length * float64(i+1) / (stations + 1)})
			}
			for _, x := range member.LoadPlaces() {
				try(&best, pick{member: at, end: -1, x: x})
			}
		}
		all = append(all, best)
	}
	slices.SortStableFunc(all, func(a, b found) int { return cmp.Compare(b.use, a.use) })
	hardest, kept := map[int]float64{}, map[int]int{}
	for _, f := range all {
		if f.use <= 0 {
			continue
		}
		if _, known := hardest[f.load]; !known {
			hardest[f.load] = f.use
		}
		if every || f.use >= keptShare*hardest[f.load] && kept[f.load] < keptMost {
			kept[f.load]++
			c.picks = append(c.picks, f.pick)
		}
	}
}

func (m *model) forceAt(r *spaceframe.CaseResult, p pick) spaceframe.Vec6 {
	member := &r.Members[p.member]
	if p.end >= 0 {
		return member.EndForce[p.end]
	}
	return member.ForceAt(p.x)
}

// shares returns the terms of the demand at a place over the mean strength.
//
//	part, bent:     N/(A f), M_y/(W_y f), M_z/(W_z f)
//	part, sheared:  1.5 V/(A f_v), V along the force of the case
//	joint, opened:  N/N_R if it pulls, M_u/M_uR, M_v/M_vR
//	joint, slid:    V_u/V_uR, V_v/V_vR, T/T_R
//
// The same sums as in package structure and joint.Check, with means for lower values; those of a joint times joint.LoadFactor.
func (m *model) shares(c *component, p pick, f spaceframe.Vec6) [3]float64 {
	if c.part >= 0 {
		part := &m.frame.Parts[c.part]
		if c.shear {
			return [3]float64{1.5 * (f[spaceframe.UY]*p.along[0] + f[spaceframe.UZ]*p.along[1]) / (part.Area * part.Shear)}
		}
		return [3]float64{f[spaceframe.UX] / (part.Area * part.Bending), f[spaceframe.RY] / (part.ModulusY * part.Bending), f[spaceframe.RZ] / (part.ModulusZ * part.Bending)}
	}
	st := m.in.Joints[c.connection].Strength
	share := func(force float64, r joint.Resistance) float64 {
		mean := m.mean(r)
		if force == 0 || mean <= 0 {
			return 0
		}
		return force / (mean * joint.LoadFactor)
	}
	if p.sliding {
		return [3]float64{share(f[spaceframe.UY], st.ShearU), share(f[spaceframe.UZ], st.ShearV), share(f[spaceframe.RX]/1000, st.Twist)}
	}
	pull := f[spaceframe.UX]
	if p.end == 0 {
		pull = -pull
	}
	return [3]float64{share(max(0, pull), st.Tension), share(f[spaceframe.RZ]/1000, st.BendU), share(f[spaceframe.RY]/1000, st.BendV)}
}

// state returns how a case works on a component as its load grows.
func (m *model) state(c *component, p pick, s solved) reliability.State {
	knots := []float64{0, 1}
	results := []*spaceframe.CaseResult{s.weight, s.at[p.of]}
	if b := s.beyond[p.of]; b != nil {
		knots, results = append(knots, beyond), append(results, b)
	}
	out := reliability.State{Load: p.load, Knots: knots, Terms: make([]reliability.Term, 3)}
	for i := range out.Terms {
		out.Terms[i].Share = make([]float64, len(knots))
	}
	for k, r := range results {
		for i, share := range m.shares(c, p, m.forceAt(r, p)) {
			out.Terms[i].Share[k] = share
		}
	}
	return out
}
