package reliability

import (
	"math"
	"slices"
	"sync"

	"longgrain/internal/ground/stats"
)

// Options are how much is drawn. Zero values are replaced by those of the constants.
type Options struct {
	Trials     int    // draws of the strengths, rounded up to a multiple of Batches
	Seed       uint64 // the same seed gives the same answer
	Confidence float64
	Free       bool // draw without aiming at the likeliest ways to fail, for checking
}

// The usual options. Batches is the number of independent Latin hypercubes that the bounds are taken from; ten make Student's t
// nearly normal and leave each hypercube many draws.
const (
	DefaultTrials     = 10000
	DefaultConfidence = 0.95
	Batches           = 10
)

func (o Options) filled() Options {
	if o.Trials <= 0 {
		o.Trials = DefaultTrials
	}
	o.Trials = (o.Trials + Batches - 1) / Batches * Batches
	if o.Confidence <= 0 {
		o.Confidence = DefaultConfidence
	}
	return o
}

// Result is the probability of failing in a life.
type Result struct {
	stats.Interval         // probability with its bounds
	Trials         int     // draws made
	Index          float64 // reliability index, -Φ⁻¹(probability)
	Causes         []Cause // what fails first, likeliest first

	loads  []stats.Spread
	trials []first   // by trial and load
	weight []float64 // by trial; their mean is 1
}

// Cause is a component failing first under a kind of load, with the probability of that.
type Cause struct {
	Component, Load int
	Probability     float64
}

// first is where the first component fails in one trial under one kind of load.
type first struct {
	at        float64 // multiplier; +Inf for never
	gain      float64 // by how much that rises for each unit that all strengths are scaled by
	component int32
}

// Solve works the probability out. It panics if the problem does not fit together. With no component that can fail the
// probability is 0.
func Solve(p Problem, o Options) Result {
	p.check()
	o = o.filled()
	loads := loadSpreads(p.Loads)
	size := o.Trials / Batches
	centres := []centre{plain(len(p.Variables), size)}
	if !o.Free {
		p = p.trimmed(newDraw(&p).roughly(loads))
		centres = newDraw(&p).centres(loads, size)
	}
	r := Result{Trials: o.Trials, loads: loads, trials: make([]first, o.Trials*len(p.Loads)), weight: make([]float64, o.Trials)}
	var work sync.WaitGroup
	for half := range 2 { // two goroutines: batches are independent, each writes its own part
		work.Go(func() {
			d := newDraw(&p)
			for b := half; b < Batches; b += 2 {
				d.batch(size, o.Seed+uint64(b)*0x632be59bd9b4e019, centres, r.trials[b*size*len(p.Loads):(b+1)*size*len(p.Loads)], r.weight[b*size:(b+1)*size])
			}
		})
	}
	work.Wait()
	r.gather(&p, o)
	return r
}

func loadSpreads(loads []Load) []stats.Spread {
	out := make([]stats.Spread, len(loads))
	for i, l := range loads {
		out[i] = stats.SpreadOf(l.Law, l.Mean, l.COV)
	}
	return out
}

// gather turns the trials into the result.
func (r *Result) gather(p *Problem, o Options) {
	causes := make([]float64, len(p.Components)*len(p.Loads))
	size := o.Trials / Batches
	batches := make([]float64, Batches)
	k := len(p.Loads)
	for b := range batches {
		for i := b * size; i < (b+1)*size; i++ {
			w := r.weight[i]
			batches[b] += w * r.fails(r.trials[i*k:(i+1)*k], 1, func(load int, component int32, share float64) {
				causes[int(component)*k+load] += w * share / float64(o.Trials)
			}) / float64(size)
		}
	}
	r.Index = math.Inf(1)
	if interval, ok := stats.LogInterval(batches, o.Confidence); ok {
		r.Interval = stats.Interval{Estimate: min(1, interval.Estimate), Low: min(1, interval.Low), High: min(1, interval.High)}
		r.Index = indexOf(r.Estimate)
	}
	for i, v := range causes {
		if v > 0 {
			r.Causes = append(r.Causes, Cause{i / k, i % k, v})
		}
	}
	slices.SortStableFunc(r.Causes, func(a, b Cause) int {
		switch {
		case a.Probability > b.Probability:
			return -1
		case a.Probability < b.Probability:
			return 1
		}
		return 0
	})
}

func indexOf(p float64) float64 {
	if p >= 1-1e-15 {
		return math.Inf(-1)
	}
	return -stats.NormalQuantile(p)
}

// fails returns the probability that one of the loads goes beyond what the draw holds, with all strengths scaled. tell, if given, is
// told the share of each kind of load in it.
//
//	p = 1 - Π (1 - P(X_k > x_k))
func (r *Result) fails(draw []first, scale float64, tell func(load int, component int32, share float64)) float64 {
	stays, sum := 0.0, 0.0
	for k, f := range draw {
		if math.IsInf(f.at, 1) {
			continue
		}
		q := r.loads[k].Exceeds(max(0, f.at+(scale-1)*f.gain))
		stays += math.Log1p(-min(q, 1-1e-16))
		sum += q
	}
	p := -math.Expm1(stays)
	if tell != nil && sum > 0 {
		for k, f := range draw {
			if !math.IsInf(f.at, 1) {
				tell(k, f.component, p*r.loads[k].Exceeds(f.at)/sum)
			}
		}
	}
	return p
}

// The range in which Scale looks.
const (
	leastScale  = 0.05
	mostScale   = 50
	scaleDone   = 1e-3 // of its logarithm, as the next too
	scaleStride = 0.5
)

// Scale returns the factor on all strengths that brings the probability of failing to the wanted one, with the draws that
// were made; where another place would fail first with it, that change is left out. False where no factor between 0.05 and 50 does.
func (r *Result) Scale(wanted float64) (float64, bool) {
	k := len(r.loads)
	at := func(scale float64) float64 {
		sum := 0.0
		for i := range r.Trials {
			sum += r.weight[i] * r.fails(r.trials[i*k:(i+1)*k], scale, nil)
		}
		return sum / float64(r.Trials)
	}
	if !(wanted > 0 && wanted < 1) || r.Trials == 0 {
		return 0, false
	}
	// Regula falsi on ln P against ln scale, which is nearly straight; an end that stays is drawn in (Illinois).
	miss := func(x float64) float64 {
		return math.Log(max(at(math.Exp(x)), math.SmallestNonzeroFloat64)) - math.Log(wanted)
	}
	low, high := 0.0, 0.0
	fl := miss(0)
	fh := fl
	for fh > 0 && high < math.Log(mostScale) {
		low, fl = high, fh
		high += scaleStride
		fh = miss(high)
	}
	for fl < 0 && low > math.Log(leastScale) {
		high, fh = low, fl
		low -= scaleStride
		fl = miss(low)
	}
	if fl < 0 || fh > 0 {
		return 0, false
	}
	x, side := low, 0
	for range 40 {
		if fl == fh {
			break
		}
		before := x
		x = (low*fh - high*fl) / (fh - fl)
		f := miss(x)
		if math.Abs(x-before) < scaleDone {
			break
		}
		if f > 0 {
			if low, fl = x, f; side > 0 {
				fh /= 2
			}
			side = 1
		} else {
			if high, fh = x, f; side < 0 {
				fl /= 2
			}
			side = -1
		}
	}
	return math.Exp(x), true
}
