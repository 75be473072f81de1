package reliability

import (
	"math"
	"slices"

	"longgrain/internal/ground/stats"
)

// rough is a first idea of how likely a component is to fail under a kind of load.
type rough struct {
	component, load int
	estimate        float64   // logarithm of a probability, up to a factor near 1
	at              []float64 // where draws tell most, over the independent normal numbers
}

// Steps of the walk to the likeliest way to fail, in standard deviations of the strength, and how far it goes.
const (
	roughStep = 0.5
	roughFar  = 8
)

// roughly returns the first idea for every component and load: the largest of ln P(load beyond crossing | z) - |z|²/2 on the line along
// which the strength falls fastest. For lognormal strengths and without shifts that is the likeliest way to fail to within half a step.
func (d *draw) roughly(loads []stats.Spread) []rough {
	var out []rough
	for c := range d.p.Components {
		direction, size := d.falling(c)
		for k := range loads {
			if !slices.ContainsFunc(d.p.Components[c].States, func(s State) bool { return s.Load == k }) {
				continue
			}
			clear(d.logs)
			best, at := math.Inf(-1), 0.0
			for t := 0.0; t <= roughFar; t += roughStep {
				x := d.crossingOf(c, k, math.Exp(-t*size))
				h := math.Log(loads[k].Exceeds(max(0, x))) - t*t/2
				if h > best {
					best, at = h, t
				} else if h < best-1 {
					break
				}
				if size == 0 {
					break
				}
			}
			if math.IsInf(best, -1) {
				continue
			}
			z := make([]float64, len(d.p.Variables))
			for i, v := range direction {
				z[i] = at * v
			}
			out = append(out, rough{c, k, best, z})
		}
	}
	return out
}

// falling returns the direction of length 1 over the independent normal numbers in which a component's strength falls fastest, and how
// fast its logarithm does.
func (d *draw) falling(component int) (direction []float64, size float64) {
	direction = make([]float64, len(d.p.Variables))
	for _, v := range d.p.Components[component].Strength {
		variable := d.p.Variables[v]
		if variable.COV == 0 {
			continue
		}
		slope := math.Sqrt(math.Log1p(variable.COV * variable.COV))
		row, of := d.rowOf(v)
		if row == nil {
			direction[v] -= slope
			continue
		}
		for j, l := range row {
			direction[of[j]] -= slope * l
		}
	}
	for _, x := range direction {
		size += x * x
	}
	if size = math.Sqrt(size); size > 0 {
		for i := range direction {
			direction[i] /= size
		}
	}
	return direction, size
}

// rowOf returns how a variable of a block follows from the independent numbers, nil if it is in none.
func (d *draw) rowOf(variable int) (row []float64, of []int) {
	for _, b := range d.p.Blocks {
		if i := slices.Index(b.Variables, variable); i >= 0 {
			return b.Factor[i][:i+1], b.Variables
		}
	}
	return nil, nil
}

// crossingOf returns where a component fails under a load for a strength and the values that are set.
func (d *draw) crossingOf(component, load int, strength float64) float64 {
	least := math.Inf(1)
	states := d.p.Components[component].States
	for s := range states {
		if states[s].Load == load {
			x, _ := states[s].crossing(strength, d.logs, d.scratch)
			least = min(least, x)
		}
	}
	return least
}

// leastLive is the share of the likeliest way to fail below which a way is left out: a thousand of them would not show in the third figure.
const leastLive = 1e-7

// trimmed returns the problem without the states that cannot matter and without the variables that nothing then depends on. The places of
// components and loads stay.
func (p *Problem) trimmed(ideas []rough) Problem {
	best := math.Inf(-1)
	for _, r := range ideas {
		best = max(best, r.estimate)
	}
	live := map[[2]int]bool{}
	for _, r := range ideas {
		if r.estimate > best+math.Log(leastLive) {
			live[[2]int{r.component, r.load}] = true
		}
	}
	out := Problem{Loads: p.Loads, Components: slices.Clone(p.Components)}
	used := make([]bool, len(p.Variables))
	for i := range out.Components {
		c := &out.Components[i]
		var states []State
		for _, s := range c.States {
			if !live[[2]int{i, s.Load}] {
				continue
			}
			states = append(states, s)
			for _, t := range s.Terms {
				for _, shift := range t.Shifts {
					used[shift.Variable] = true
				}
			}
		}
		if c.States = states; states != nil {
			for _, v := range c.Strength {
				used[v] = true
			}
		}
	}
	out.renumber(p, used)
	return out
}

// renumber keeps the used variables, and in a block those before a used one.
func (p *Problem) renumber(from *Problem, used []bool) {
	for _, b := range from.Blocks {
		last := -1
		for i, v := range b.Variables {
			if used[v] {
				last = i
			}
		}
		for _, v := range b.Variables[:last+1] {
			used[v] = true
		}
	}
	at := make([]int, len(used))
	for v, u := range used {
		if u {
			at[v] = len(p.Variables)
			p.Variables = append(p.Variables, from.Variables[v])
		}
	}
	for _, b := range from.Blocks {
		var kept Block
		for i, v := range b.Variables {
			if used[v] {
				kept.Variables, kept.Factor = append(kept.Variables, at[v]), append(kept.Factor, b.Factor[i])
			}
		}
		if len(kept.Variables) > 0 {
			p.Blocks = append(p.Blocks, kept)
		}
	}
	for i := range p.Components {
		c := &p.Components[i]
		if len(c.States) == 0 {
			c.Strength = nil
			continue
		}
		c.Strength = slices.Clone(c.Strength)
		for k, v := range c.Strength {
			c.Strength[k] = at[v]
		}
		for s := range c.States {
			c.States[s].Terms = slices.Clone(c.States[s].Terms)
			for t := range c.States[s].Terms {
				term := &c.States[s].Terms[t]
				term.Shifts = slices.Clone(term.Shifts)
				for k := range term.Shifts {
					term.Shifts[k].Variable = at[term.Shifts[k].Variable]
				}
			}
		}
	}
}
