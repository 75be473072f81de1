package stats

import (
	"fmt"
	"math"
	"math/rand/v2"

	"gonum.org/v1/gonum/stat/distuv"
)

// LatinHypercube returns n points in d independent standard normal variables, point after point: each variable has exactly one value
// in each of n parts of equal probability, at a random place in the part, in random order.
//
// Idea: what each variable does by itself is then covered evenly, so the mean of a function that is nearly a sum of functions of
// single variables scatters much less than with free sampling. It is never worse than one point fewer of free sampling.
// The same seed gives the same points. Panics if n or d is below 1.
//
// Source: [mckay-1979], from memory; that it is never worse [owen-1997], likewise.
func LatinHypercube(n, d int, seed uint64) []float64 {
	if n < 1 || d < 1 {
		panic(fmt.Sprintf("stats: %d points in %d variables", n, d))
	}
	r := rand.New(rand.NewPCG(seed, 0x9e3779b97f4a7c15))
	out := make([]float64, n*d)
	order := make([]int, n)
	for k := range d {
		for i := range order {
			order[i] = i
		}
		r.Shuffle(n, func(i, j int) { order[i], order[j] = order[j], order[i] })
		for i, part := range order {
			u := (float64(part) + r.Float64()) / float64(n)
			out[i*d+k] = NormalQuantile(min(max(u, 1e-300), 1-1e-16))
		}
	}
	return out
}

// ProportionInterval returns bounds of a proportion of which k in n were seen, with at least the given confidence.
//
//	low = quantile (1-c)/2 of Beta(k, n-k+1),  high = quantile (1+c)/2 of Beta(k+1, n-k)
//
// Panics unless 0 <= k <= n, n >= 1 and 0 < confidence < 1.
//
// Source: [clopper-1934], exact, from memory.
func ProportionInterval(k, n int, confidence float64) Interval {
	if k < 0 || n < 1 || k > n || !(confidence > 0 && confidence < 1) {
		panic(fmt.Sprintf("stats: no proportion of %d in %d at confidence %v", k, n, confidence))
	}
	out := Interval{float64(k) / float64(n), 0, 1}
	if k > 0 {
		out.Low = distuv.Beta{Alpha: float64(k), Beta: float64(n - k + 1)}.Quantile((1 - confidence) / 2)
	}
	if k < n {
		out.High = distuv.Beta{Alpha: float64(k + 1), Beta: float64(n - k)}.Quantile((1 + confidence) / 2)
	}
	return out
}

// LogInterval returns bounds of the mean of a positive quantity from the means of independent batches.
//
//	mean · exp(± t s/(√n mean))
//
// t is the quantile of Student's t with n - 1 degrees of freedom at (1 + confidence)/2, s the standard deviation of the batches. The
// bounds are those of the logarithm to first order, so that they stay above 0. False for fewer than two batches or a mean of 0.
//
// Source: Student's t with the delta method; batches are independent, their means nearly normal.
func LogInterval(batches []float64, confidence float64) (Interval, bool) {
	m := Mean(batches)
	if len(batches) < 2 || !(m > 0) {
		return Interval{}, false
	}
	n := float64(len(batches))
	half := StudentQuantile((1+confidence)/2, n-1) * Deviation(batches) / math.Sqrt(n) / m
	return Interval{m, m * math.Exp(-half), m * math.Exp(half)}, true
}
