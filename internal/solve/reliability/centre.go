package reliability

import (
	"cmp"
	"math"
	"slices"

	"longgrain/internal/ground/stats"
)

// centre is a place in the space of the independent normal numbers from which one component under one kind of load is likeliest
// to fail. Only directions that the component depends on differ from 0.
type centre struct {
	at       []float64
	half     float64 // |at|²/2
	estimate float64 // logarithm of a rough probability, to share the draws out by
	count    int     // draws around it in each batch
}

// Shares of the draws and of probabilities. The plain share goes to draws without any centre: it bounds what a draw can weigh by its
// reciprocal, so that a place which no centre covers costs precision and not truth.
const (
	plainShare  = 0.2
	leastShare  = 1e-3 // of the likeliest centre's probability; what is rarer gets no centre
	mostCentres = 32
)

// centres finds where to draw, the plain centre first.
//
// Idea: for each component and load the mode of P(load beyond the crossing | z) φ(z), where draws tell most. Draws around all modes
// are weighed by φ(z) over the density of the whole mixture, which keeps the mean right whatever the centres are.
//
// Reference: mixture importance sampling with a defensive part, Hesterberg 1995, doi 10.1080/00401706.1995.10484303; Owen and Zhou 2000,
// doi 10.1080/01621459.2000.10473909.
func (d *draw) centres(loads []stats.Spread, perBatch int) []centre {
	n := len(d.p.Variables)
	out := []centre{{at: make([]float64, n)}}
	var found []centre
	for c := range d.p.Components {
		for k := range loads {
			if m, ok := d.mode(c, k, loads[k]); ok {
				found = append(found, m)
			}
		}
	}
	slices.SortStableFunc(found, func(a, b centre) int { return cmp.Compare(b.estimate, a.estimate) })
	for _, m := range found {
		if len(out) <= mostCentres && m.estimate > found[0].estimate+math.Log(leastShare) {
			out = append(out, m)
		}
	}
	out[0].count = perBatch
	if len(out) == 1 {
		return out
	}
	sum := 0.0
	for _, m := range out[1:] {
		sum += math.Exp(m.estimate - found[0].estimate)
	}
	for i := range out[1:] {
		m := &out[i+1]
		m.count = int((1 - plainShare) * float64(perBatch) * math.Exp(m.estimate-found[0].estimate) / sum)
		out[0].count -= m.count
	}
	return out
}

// Limits of the search for a mode: enough for the smooth functions met, and harmless if not reached.
const (
	modeSteps = 12
	modeStep  = 1e-3
	modeDone  = 0.02
)

// mode climbs to the place where a component is likeliest to fail under a load: z = grad ln P(z), walked to with halved steps.
func (d *draw) mode(component, load int, spread stats.Spread) (centre, bool) {
	on := d.dependsOn(component, load)
	n := len(d.p.Variables)
	z := make([]float64, n)
	height := func() float64 {
		d.set(z)
		x := d.crossingOf(component, load)
		if math.IsInf(x, 1) {
			return math.Inf(-1)
		}
		return math.Log(spread.Exceeds(max(0, x)))
	}
	now := height()
	if math.IsInf(now, -1) || len(on) == 0 {
		return centre{}, false
	}
	size := 0.0
	gradient, before := make([]float64, len(on)), make([]float64, len(on))
	for range modeSteps {
		for i, v := range on {
			before[i] = z[v]
			z[v] += modeStep
			gradient[i] = (height() - now) / modeStep
			z[v] = before[i]
		}
		moved := 0.0
		for step := 1.0; step > 0.05; step /= 2 {
			next := 0.0
			for i, v := range on {
				z[v] = before[i] + step*(gradient[i]-before[i])
				next += z[v] * z[v] / 2
			}
			if h := height(); h-next > now-size {
				for i := range on {
					moved = max(moved, step*math.Abs(gradient[i]-before[i]))
				}
				now, size = h, next
				break
			}
		}
		if moved == 0 {
			for i, v := range on {
				z[v] = before[i]
			}
		}
		if moved < modeDone {
			break
		}
	}
	return centre{at: z, half: size, estimate: now - size}, true
}

// dependsOn returns the directions of the independent normal numbers that a component under a load depends on, in order.
func (d *draw) dependsOn(component, load int) []int {
	used := make([]bool, len(d.p.Variables))
	c := &d.p.Components[component]
	loaded := false
	for _, s := range c.States {
		if s.Load != load {
			continue
		}
		loaded = true
		for _, t := range s.Terms {
			for _, shift := range t.Shifts {
				used[shift.Variable] = true
			}
		}
	}
	if !loaded {
		return nil
	}
	for _, v := range c.Strength {
		used[v] = true
	}
	for _, b := range d.p.Blocks { // a variable of a block depends on the numbers before it
		for i := len(b.Variables) - 1; i >= 0; i-- {
			if used[b.Variables[i]] {
				for _, v := range b.Variables[:i] {
					used[v] = true
				}
				break
			}
		}
	}
	var on []int
	for v, u := range used {
		if u && d.p.Variables[v].COV > 0 {
			on = append(on, v)
		}
	}
	return on
}

// crossingOf returns where a component fails under a load, for the values that are set.
func (d *draw) crossingOf(component, load int) float64 {
	least, strength := math.Inf(1), d.strength(component)
	states := d.p.Components[component].States
	for s := range states {
		if states[s].Load == load {
			x, _ := states[s].crossing(strength, d.logs, d.scratch)
			least = min(least, x)
		}
	}
	return least
}

// weight returns what a draw counts: its density without centres over that of the mixture.
//
//	w = 1/Σ share_c exp(z·c - |c|²/2)
func weight(z []float64, centres []centre, perBatch int) float64 {
	sum := 0.0
	for i := range centres {
		c := &centres[i]
		if c.count > 0 {
			dot := -c.half
			for k, v := range c.at {
				dot += v * z[k]
			}
			sum += float64(c.count) * math.Exp(dot)
		}
	}
	return float64(perBatch) / sum
}
