// Package stats has the distributions and small-sample bounds that joints and wood are judged by:
// normal, lognormal, Student's t central and noncentral, lower tolerance bounds and the Weibull fit.
//
// It takes and gives plain numbers in any consistent unit. A tolerance bound says: with the stated
// confidence, at least the stated share of all such joints is stronger than this. Samples too small
// or without scatter have no bound, and the function says so by false. The package draws no
// conclusion from a bound.
package stats

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// NormalCDF returns the probability that a standard normal variable is at most z.
//
// Source: Φ(z) = erfc(-z/√2)/2, definition.
func NormalCDF(z float64) float64 { return math.Erfc(-z/math.Sqrt2) / 2 }

// NormalQuantile returns the z that a standard normal variable stays below with probability p.
// Panics unless 0 < p < 1.
func NormalQuantile(p float64) float64 {
	mustBeProbability(p)
	return -math.Sqrt2 * math.Erfcinv(2*p)
}

// LognormalQuantile returns the value that a lognormal variable stays below with probability p.
//
//	x = exp(m + z_p s)
//
// m and s are the mean and standard deviation of the natural logarithm, s not below 0. Panics unless
// 0 < p < 1 and s >= 0.
//
// Source: definition of the lognormal distribution.
func LognormalQuantile(p, m, s float64) float64 {
	if s < 0 {
		panic("stats: negative standard deviation")
	}
	return math.Exp(m + NormalQuantile(p)*s)
}

// LognormalOf returns the mean and standard deviation of the logarithm of a lognormal variable of a
// given mean and coefficient of variation.
//
//	s² = ln(1 + v²),  m = ln(mean) - s²/2
//
// Panics unless mean > 0 and v >= 0.
//
// Source: moments of the lognormal distribution, closed form.
func LognormalOf(mean, v float64) (m, s float64) {
	if !(mean > 0 && v >= 0) {
		panic(fmt.Sprintf("stats: no lognormal distribution has mean %v and coefficient of variation %v", mean, v))
	}
	s2 := math.Log1p(v * v)
	return math.Log(mean) - s2/2, math.Sqrt(s2)
}

// StudentCDF returns the probability that Student's t with nu degrees of freedom is at most t. Panics
// unless nu > 0.
func StudentCDF(t, nu float64) float64 { return student(nu).CDF(t) }

// StudentQuantile returns the t that Student's t with nu degrees of freedom stays below with
// probability p. Panics unless nu > 0 and 0 < p < 1.
func StudentQuantile(p, nu float64) float64 {
	mustBeProbability(p)
	return student(nu).Quantile(p)
}

func student(nu float64) distuv.StudentsT {
	if !(nu > 0) {
		panic(fmt.Sprintf("stats: %v degrees of freedom", nu))
	}
	return distuv.StudentsT{Mu: 0, Sigma: 1, Nu: nu}
}

// NoncentralCDF returns the probability that the noncentral t with nu degrees of freedom and
// noncentrality delta is at most t.
//
//	F(t) = ∫ Φ(t s - δ) f(s) ds,  s² ν chi-squared with ν degrees of freedom
//
// The integral over the sample deviation s is taken by Simpson's rule over nine standard deviations
// of s on either side of 1; for nu >= 2 and |t| up to 100 the error is below 1e-9. Panics unless
// nu >= 1.
//
// Source: definition of the noncentral t as (Z + δ)/s.
func NoncentralCDF(t, nu, delta float64) float64 {
	if !(nu >= 1) {
		panic(fmt.Sprintf("stats: %v degrees of freedom", nu))
	}
	logGamma, _ := math.Lgamma(nu / 2)
	logScale := math.Ln2 + nu/2*math.Log(nu/2) - logGamma
	density := func(s float64) float64 {
		if s == 0 {
			if nu == 1 {
				return math.Exp(logScale)
			}
			return 0
		}
		return math.Exp(logScale + (nu-1)*math.Log(s) - nu*s*s/2)
	}
	const steps = 1000 // even; the sharpest Φ(ts - δ) in use is then resolved by ten steps and more
	spread := 9 / math.Sqrt(2*nu)
	from, to := max(0, 1-spread), 1+spread
	h := (to - from) / steps
	sum := 0.0
	for i := range steps + 1 {
		s := from + float64(i)*h
		weight := 2.0
		switch {
		case i == 0 || i == steps:
			weight = 1
		case i%2 == 1:
			weight = 4
		}
		sum += weight * NormalCDF(t*s-delta) * density(s)
	}
	return min(1, max(0, sum*h/3))
}

// NoncentralQuantile returns the t that the noncentral t stays below with probability p, by bisection
// to a relative 1e-10. Panics unless nu >= 1 and 0 < p < 1.
func NoncentralQuantile(p, nu, delta float64) float64 {
	mustBeProbability(p)
	low, high := delta-1, delta+1
	for width := 1.0; NoncentralCDF(low, nu, delta) > p; width *= 2 {
		low -= width
	}
	for width := 1.0; NoncentralCDF(high, nu, delta) < p; width *= 2 {
		high += width
	}
	for high-low > 1e-10*max(1, math.Abs(low)) {
		middle := (low + high) / 2
		if NoncentralCDF(middle, nu, delta) < p {
			low = middle
		} else {
			high = middle
		}
	}
	return (low + high) / 2
}

func mustBeProbability(p float64) {
	if !(p > 0 && p < 1) {
		panic(fmt.Sprintf("stats: probability %v is not between 0 and 1", p))
	}
}
