package reliability

import (
	"cmp"
	"math"
	"slices"

	"longgrain/internal/ground/stats"
)

// centre is a place in the space of the independent normal numbers around which draws are made: the likeliest way for one component to fail
// under one kind of load.
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

// centres returns where to draw, the plain centre first.
//
// Idea: for each component and load the mode of P(load beyond the crossing | z) φ(z), where draws tell most. Draws around all modes
// are weighed by φ(z) over the density of the whole mixture, which keeps the mean right whatever the centres are.
//
// Reference: mixture importance sampling with a defensive part, Hesterberg 1995, doi 10.1080/00401706.1995.10484303; Owen and Zhou 2000,
// doi 10.1080/01621459.2000.10473909.
func (d *draw) centres(loads []stats.Spread, perBatch int) []centre {
	out := []centre{plain(len(d.p.Variables), perBatch)}
	ideas := d.roughly(loads)
	slices.SortStableFunc(ideas, func(a, b rough) int { return cmp.Compare(b.estimate, a.estimate) })
	for _, r := range ideas {
		if len(out) <= mostCentres && r.estimate > ideas[0].estimate+math.Log(leastShare) {
			out = append(out, d.climb(r, loads[r.load]))
		}
	}
	if len(out) == 1 {
		return out
	}
	best, sum := math.Inf(-1), 0.0
	for _, m := range out[1:] {
		best = max(best, m.estimate)
	}
	for _, m := range out[1:] {
		sum += math.Exp(m.estimate - best)
	}
	for i := range out[1:] {
		m := &out[i+1]
		m.count = int((1 - plainShare) * float64(perBatch) * math.Exp(m.estimate-best) / sum)
		out[0].count -= m.count
	}
	return out
}

// plain is the centre of draws that aim at nothing.
func plain(variables, count int) centre { return centre{at: make([]float64, variables), count: count} }

// Limits of the climb: enough for the smooth functions met, and harmless if not reached.
const (
	climbSteps = 8
	climbStep  = 1e-3
	climbDone  = 0.05
)

// climb walks from a first idea to the place where a component is likeliest to fail: z = grad ln P(z), with halved steps. Without shifts the
// idea is good enough as it stands.
func (d *draw) climb(r rough, spread stats.Spread) centre {
	on := d.dependsOn(r.component, r.load)
	z := r.at
	height := func() float64 {
		d.set(z)
		return math.Log(spread.Exceeds(max(0, d.crossingOf(r.component, r.load, d.strength(r.component)))))
	}
	now, size := height(), 0.0
	for _, v := range z {
		size += v * v / 2
	}
	if on == nil || math.IsInf(now, -1) {
		return centre{at: z, half: size, estimate: r.estimate}
	}
	gradient, before := make([]float64, len(on)), make([]float64, len(on))
	for range climbSteps {
		for i, v := range on {
			before[i] = z[v]
			z[v] += climbStep
			gradient[i] = (height() - now) / climbStep
			z[v] = before[i]
		}
		moved := 0.0
		for step := 1.0; step > 0.1; step /= 2 {
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
		if moved < climbDone {
			break
		}
	}
	return centre{at: z, half: size, estimate: now - size}
}

// dependsOn returns the independent normal numbers that a component under a load depends on, in order; nil where no term shifts.
func (d *draw) dependsOn(component, load int) []int {
	used := make([]bool, len(d.p.Variables))
	c := &d.p.Components[component]
	shifts := false
	for _, s := range c.States {
		if s.Load != load {
			continue
		}
		for _, t := range s.Terms {
			for _, shift := range t.Shifts {
				used[shift.Variable], shifts = true, true
			}
		}
	}
	if !shifts {
		return nil
	}
	for _, v := range c.Strength {
		used[v] = true
	}
	for _, b := range d.p.Blocks { // a variable of a block depends on the numbers before it
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
	var on []int
	for v, u := range used {
		if u && d.p.Variables[v].COV > 0 {
			on = append(on, v)
		}
	}
	return on
}

// weight returns what a draw counts: its density without centres over that of the mixture.
//
//	w = 1/Σ share_c exp(z·c - |c|²/2)
func weight(z []float64, centres []centre, perBatch int) float64 {
	sum := 0.0
	for i := range centres {
		c := &centres[i]
		if c.count == 0 {
			continue
		}
		dot := -c.half
		if c.half > 0 {
			for k, v := range c.at {
				dot += v * z[k]
			}
		}
		sum += float64(c.count) * math.Exp(dot)
	}
	return float64(perBatch) / sum
}
