package stats

import (
	_ "embed"
	"encoding/csv"
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Weibull is a two-parameter Weibull distribution.
type Weibull struct {
	Shape float64 // the larger, the less scatter
	Scale float64 // in the unit of the sample; 63 % of values lie below
}

// Quantile returns the value that the variable stays below with probability p.
//
//	x = scale (-ln(1 - p))^(1/shape)
//
// Panics unless 0 < p < 1.
//
// Source: definition of the Weibull distribution.
func (w Weibull) Quantile(p float64) float64 {
	mustBeProbability(p)
	return w.Scale * math.Pow(-math.Log1p(-p), 1/w.Shape)
}

// FitWeibull returns the Weibull distribution of greatest likelihood for a sample. Censored values are
// tests in which the joint held and something else broke: it is at least that strong.
//
//	Σ xᵇ ln x / Σ xᵇ - 1/b - mean(ln x of failures) = 0,  scaleᵇ = Σ xᵇ / r
//
// b is the shape; the sums run over failures and censored values; r is the number of failures. The
// left side rises with b, so that bisection finds the only root. False when there are fewer than two
// different failures, or any value is not above 0 and finite.
//
// Source: maximum likelihood, closed form; docs/methods/statistics.md.
func FitWeibull(failures, censored []float64) (Weibull, bool) {
	all := append(append([]float64(nil), failures...), censored...)
	largest := 0.0
	differ := false
	for _, x := range all {
		if !(x > 0) || math.IsInf(x, 0) {
			return Weibull{}, false
		}
		largest = max(largest, x)
	}
	for _, x := range failures {
		differ = differ || x != failures[0]
	}
	if !differ {
		return Weibull{}, false
	}
	meanLog := 0.0
	for _, x := range failures {
		meanLog += math.Log(x/largest) / float64(len(failures))
	}
	sums := func(b float64) (power, weighted float64) {
		for _, x := range all {
			l := math.Log(x / largest) // scaled so that powers cannot overflow
			p := math.Exp(b * l)
			power, weighted = power+p, weighted+p*l
		}
		return power, weighted
	}
	excess := func(b float64) float64 {
		power, weighted := sums(b)
		return weighted/power - 1/b - meanLog
	}
	low, high := 1e-6, 1.0
	for excess(high) < 0 {
		low, high = high, 2*high
		if high > 1e6 {
			return Weibull{}, false // no scatter that arithmetic can tell from none
		}
	}
	for high-low > 1e-12*high {
		middle := (low + high) / 2
		if excess(middle) < 0 {
			low = middle
		} else {
			high = middle
		}
	}
	b := (low + high) / 2
	power, _ := sums(b)
	return Weibull{b, largest * math.Pow(power/float64(len(failures)), 1/b)}, true
}

//go:embed weibull.csv
var weibullCSV string

// weibullFactors holds v by confidence in percent and then by sample size, sizes rising.
var weibullSizes, weibullFactors = readWeibull()

func readWeibull() (sizes []float64, factors map[int][]float64) {
	r := csv.NewReader(strings.NewReader(weibullCSV))
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil {
		panic(fmt.Sprintf("stats: weibull.csv: %v", err))
	}
	number := func(s string) float64 {
		v, err := strconv.ParseFloat(s, 64)
		if err != nil {
			panic(fmt.Sprintf("stats: weibull.csv: %v", err))
		}
		return v
	}
	factors = map[int][]float64{}
	for _, row := range rows[1:] {
		sizes = append(sizes, number(row[0]))
		for i, confidence := range []int{75, 90, 95} {
			factors[confidence] = append(factors[confidence], number(row[i+1]))
		}
	}
	return sizes, factors
}

// WeibullLower returns the value that, with a confidence of 75, 90 or 95 %, at least 95 % of all
// values exceed, when they follow a Weibull distribution fitted to n uncensored tests.
//
//	bound = x05 exp(-v / shape)
//
// x05 is the fitted 5 % value; v comes from a table for n of 3 to 50, between its rows by straight
// lines in the logarithms of n and v, and for n above 50 as for 50, which is the safe side. False for
// n below 3 or another confidence.
//
// Source: v computed by simulation of 200,000 samples for each n, good to about 1 %;
// docs/methods/statistics.md. The form of the bound: [evans-weibull].
func WeibullLower(w Weibull, n, confidencePercent int) (float64, bool) {
	factors, ok := weibullFactors[confidencePercent]
	if !ok || n < MinSample {
		return 0, false
	}
	last := len(weibullSizes) - 1
	x := min(float64(n), weibullSizes[last])
	i := 1
	for i < last && x > weibullSizes[i] {
		i++
	}
	share := math.Log(x/weibullSizes[i-1]) / math.Log(weibullSizes[i]/weibullSizes[i-1])
	v := factors[i-1] * math.Pow(factors[i]/factors[i-1], share)
	return w.Quantile(0.05) * math.Exp(-v/w.Shape), true
}
