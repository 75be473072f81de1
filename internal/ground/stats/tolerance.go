package stats

import (
	"fmt"
	"math"
)

// MinSample is the smallest sample that gets a bound. Below it the factor grows beyond all use.
const MinSample = 3

// MinLogDeviation is the smallest standard deviation of logarithms that a bound is worked out with,
// so that a lucky small sample does not pass for a sure one. Source: [en-14358], from memory.
const MinLogDeviation = 0.05

// Mean returns the mean of a sample; NaN when it is empty.
func Mean(x []float64) float64 {
	sum := 0.0
	for _, v := range x {
		sum += v
	}
	return sum / float64(len(x))
}

// Deviation returns the standard deviation of a sample, with n - 1; NaN below two values.
func Deviation(x []float64) float64 {
	m, sum := Mean(x), 0.0
	for _, v := range x {
		sum += (v - m) * (v - m)
	}
	return math.Sqrt(sum / float64(len(x)-1))
}

// ToleranceFactor returns the factor of a one-sided tolerance bound of a normal variable.
//
//	k = t'(n - 1, z_p √n; c) / √n
//
// n is the sample size, at least 2; share the proportion of all values that shall lie above the
// bound, such as 0.95; c the confidence; t' the quantile of the noncentral t. The bound is
// mean - k s. Panics outside these ranges.
//
// Source: exact, from the definition of the noncentral t; docs/methods/statistics.md.
func ToleranceFactor(n int, share, confidence float64) float64 {
	if n < 2 {
		panic(fmt.Sprintf("stats: no tolerance factor for %d values", n))
	}
	root := math.Sqrt(float64(n))
	return NoncentralQuantile(confidence, float64(n-1), NormalQuantile(share)*root) / root
}

// KnownFactor returns the factor of a one-sided tolerance bound when the standard deviation is known
// from elsewhere, such as a long log of the same family.
//
//	k = z_p + z_c / √n
//
// Symbols as ToleranceFactor; n at least 1. Panics outside.
//
// Source: closed form, normal distribution.
func KnownFactor(n int, share, confidence float64) float64 {
	if n < 1 {
		panic(fmt.Sprintf("stats: no tolerance factor for %d values", n))
	}
	return NormalQuantile(share) + NormalQuantile(confidence)/math.Sqrt(float64(n))
}

// NormalLower returns the value that, with the confidence, at least the share of all values exceeds,
// when they are normal. False for fewer than MinSample values. It may be negative.
func NormalLower(x []float64, share, confidence float64) (float64, bool) {
	if len(x) < MinSample {
		return 0, false
	}
	return Mean(x) - ToleranceFactor(len(x), share, confidence)*Deviation(x), true
}

// LognormalLower returns the same bound when the logarithms are normal; their deviation is taken as
// no less than MinLogDeviation. False for fewer than MinSample values or any that is not above 0.
//
//	bound = exp(mean ln x - k s_ln)
//
// Source: [en-14358], from memory.
func LognormalLower(x []float64, share, confidence float64) (float64, bool) {
	if len(x) < MinSample {
		return 0, false
	}
	logs := make([]float64, len(x))
	for i, v := range x {
		if !(v > 0) {
			return 0, false
		}
		logs[i] = math.Log(v)
	}
	s := max(Deviation(logs), MinLogDeviation)
	return math.Exp(Mean(logs) - ToleranceFactor(len(x), share, confidence)*s), true
}

// SmallestIsBound tells whether the smallest of n values is itself a bound, whatever the
// distribution.
//
//	1 - shareⁿ >= confidence
//
// For 95 % of all values that takes 28 tests at 75 % confidence, 45 at 90 %, 59 at 95 %.
//
// Source: closed form, order statistics.
func SmallestIsBound(n int, share, confidence float64) bool {
	mustBeProbability(share)
	return 1-math.Pow(share, float64(n)) >= confidence
}
