package reliability

import (
	"math"
	"math/rand/v2"

	"longgrain/internal/ground/stats"
)

// draw turns standard normal numbers into where the first component fails. It keeps its room; each goroutine has its own.
type draw struct {
	p       *Problem
	spreads []stats.Spread
	logs    []float64 // of the variables
	normal  []float64 // of the variables, correlated
	scratch []float64
}

func newDraw(p *Problem) *draw {
	n := len(p.Variables)
	d := &draw{p: p, spreads: make([]stats.Spread, n), logs: make([]float64, n), normal: make([]float64, n)}
	for i, v := range p.Variables {
		if v.COV > 0 {
			d.spreads[i] = stats.SpreadOf(v.Law, 1, v.COV)
		}
	}
	terms := 0
	for _, c := range p.Components {
		for _, s := range c.States {
			terms = max(terms, len(s.Terms))
		}
	}
	d.scratch = make([]float64, 2*terms)
	return d
}

// batch fills in one set of n trials: a Latin hypercube around each centre.
func (d *draw) batch(n int, seed uint64, centres []centre, to []first, weights []float64) {
	v, k := len(d.p.Variables), len(d.p.Loads)
	i := 0
	for c := range centres {
		m := &centres[c]
		if m.count == 0 {
			continue
		}
		var points []float64
		if v > 0 {
			points = stats.LatinHypercube(m.count, v, seed+uint64(c)*0xd1342543de82ef95)
		}
		for range m.count {
			z := points[:v]
			points = points[v:]
			for j, x := range m.at {
				z[j] += x
			}
			weights[i] = weight(z, centres, n)
			d.set(z)
			d.first(to[i*k : (i+1)*k])
			i++
		}
	}
}

// leastValue keeps a normal variable above 0, where a strength must stay: 1 % of its mean.
const leastValue = 0.01

// set gives the variables their values from independent standard normal numbers.
func (d *draw) set(z []float64) {
	copy(d.normal, z)
	for _, b := range d.p.Blocks {
		for i, row := range b.Factor {
			g := 0.0
			for j, l := range row[:i+1] {
				g += l * z[b.Variables[j]]
			}
			d.normal[b.Variables[i]] = g
		}
	}
	for i, v := range d.p.Variables {
		if v.COV > 0 {
			d.logs[i] = d.spreads[i].LogAt(d.normal[i], leastValue)
		}
	}
}

// first finds where the first component fails under each kind of load.
func (d *draw) first(to []first) {
	for k := range to {
		to[k] = first{at: math.Inf(1)}
	}
	for c := range d.p.Components {
		states := d.p.Components[c].States
		if len(states) == 0 {
			continue
		}
		strength := d.strength(c)
		for s := range states {
			x, growth := states[s].crossing(strength, d.logs, d.scratch)
			f := &to[states[s].Load]
			if x < f.at {
				*f = first{at: x, component: int32(c)}
				if growth > 0 {
					f.gain = strength / growth
				}
			}
		}
	}
}

func (d *draw) strength(component int) float64 {
	r := 0.0
	for _, v := range d.p.Components[component].Strength {
		r += d.logs[v]
	}
	return math.Exp(r)
}

// Crude draws strengths and loads freely and counts failures: slow where failure is rare, but without any idea that could be
// wrong. The bounds are those of Clopper and Pearson.
func Crude(p Problem, trials int, seed uint64, confidence float64) stats.Interval {
	p.check()
	d := newDraw(&p)
	loads := loadSpreads(p.Loads)
	r := rand.New(rand.NewPCG(seed, 1))
	z, to := make([]float64, len(p.Variables)), make([]first, len(p.Loads))
	failed := 0
	for range trials {
		for i := range z {
			z[i] = r.NormFloat64()
		}
		d.set(z)
		d.first(to)
		fails := false
		for k, f := range to {
			fails = loads[k].At(r.NormFloat64()) > f.at || fails
		}
		if fails {
			failed++
		}
	}
	return stats.ProportionInterval(failed, trials, confidence)
}
