package reliability

import (
	"fmt"
	"math"

	"longgrain/internal/ground/stats"
)

// Problem is what is to be worked out. It is read, never changed.
type Problem struct {
	Variables  []Variable
	Blocks     []Block // groups of variables that go together; variables in none are independent
	Loads      []Load
	Components []Component
}

// Variable is a random factor with mean 1.
type Variable struct {
	Name string
	Law  stats.Law
	COV  float64 // 0: always 1
}

// Block is a group of correlated variables. Factor is the lower triangle of stats.Cholesky of their correlations, in the order
// of Variables.
type Block struct {
	Variables []int
	Factor    [][]float64
}

// Load is a kind of load. Its multiplier has the given law, mean and coefficient of variation.
type Load struct {
	Name      string
	Law       stats.Law
	Mean, COV float64
}

// Component is a part of the whole that can fail. Its strength is 1 times the variables of Strength; the demand in States is
// counted in shares of the mean strength.
type Component struct {
	Name     string
	Strength []int
	States   []State
}

// State is one way in which a kind of load works on a component. Knots are the multipliers at which the terms are given, rising from
// 0, at least two; between them terms are linear, and beyond the last they go on as between the last two.
type State struct {
	Load  int
	Knots []float64
	Terms []Term
}

// Term is one summand of the demand: Share at each knot, and what is added for each unit of the logarithm of a variable.
type Term struct {
	Share  []float64
	Shifts []Shift
}

// Shift is what a term gains at each knot for each unit of the natural logarithm of a variable, to first order.
type Shift struct {
	Variable int
	Share    []float64
}

// check panics where indices or lengths do not fit: problems are made by programs.
func (p *Problem) check() {
	for _, b := range p.Blocks {
		if len(b.Factor) != len(b.Variables) {
			panic("reliability: a block's factor does not go with its variables")
		}
	}
	for _, c := range p.Components {
		for _, s := range c.States {
			if s.Load < 0 || s.Load >= len(p.Loads) {
				panic(fmt.Sprintf("reliability: component %q is under load %d of %d", c.Name, s.Load, len(p.Loads)))
			}
			if len(s.Knots) < 2 || s.Knots[0] != 0 {
				panic(fmt.Sprintf("reliability: a state of component %q has no two knots from 0 on", c.Name))
			}
			for _, t := range s.Terms {
				if len(t.Share) != len(s.Knots) {
					panic(fmt.Sprintf("reliability: a term of component %q does not go with its knots", c.Name))
				}
			}
		}
	}
}

// crossing returns the least multiplier at which the demand of a state reaches the strength r, and how fast the demand grows there.
// It is plus infinity where that never happens. logs are the logarithms of the variables; scratch has room for the terms at two knots.
//
// Within a stretch between knots the demand is convex in the multiplier, so if it is below r at the low end and not at the high
// end, Newton's method from the high end falls onto the crossing without passing it, and ends after as many steps as terms change sign.
func (s *State) crossing(r float64, logs, scratch []float64) (x, growth float64) {
	n := len(s.Terms)
	low, high := scratch[:n], scratch[n:2*n]
	below := s.demand(0, logs, low)
	if below >= r {
		return 0, 0
	}
	last := len(s.Knots) - 1
	for k := 1; k <= last; k++ {
		above := s.demand(k, logs, high)
		from, width := s.Knots[k-1], s.Knots[k]-s.Knots[k-1]
		if above >= r {
			t, g := newton(low, high, 1, r)
			return from + t*width, g / width
		}
		if k < last {
			low, high = high, low
			continue
		}
		t, ok := far(low, high, r)
		if !ok {
			return math.Inf(1), 0
		}
		t, g := newton(low, high, t, r)
		return from + t*width, g / width
	}
	return math.Inf(1), 0
}

// demand returns the demand at a knot and its terms in the slice.
func (s *State) demand(knot int, logs, terms []float64) float64 {
	sum := 0.0
	for i := range s.Terms {
		t := &s.Terms[i]
		v := t.Share[knot]
		for _, shift := range t.Shifts {
			v += shift.Share[knot] * logs[shift.Variable]
		}
		terms[i] = v
		sum += math.Abs(v)
	}
	return sum
}

// far returns a place at or beyond the crossing of the sum of |low + t (high - low)| with r; false where the sum does not grow.
func far(low, high []float64, r float64) (float64, bool) {
	slope, start := 0.0, r
	for i := range low {
		slope += math.Abs(high[i] - low[i])
		start += math.Abs(low[i])
	}
	if !(slope > 0) {
		return 0, false
	}
	t := start / slope // |a + t b| >= t |b| - |a|
	return t, !math.IsInf(t, 0)
}

// newton returns where the sum of |low + t (high - low)| crosses r, from a place beyond, and the slope there.
func newton(low, high []float64, t, r float64) (at, slope float64) {
	for range 4 + 2*len(low) {
		sum := 0.0
		slope = 0
		for i := range low {
			b := high[i] - low[i]
			v := low[i] + t*b
			if v < 0 {
				v, b = -v, -b
			}
			sum += v
			slope += b
		}
		if sum-r <= 1e-12*r || slope <= 0 {
			break
		}
		t -= (sum - r) / slope
	}
	return t, slope
}
