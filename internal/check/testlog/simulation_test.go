package testlog

import (
	"math"
	"math/rand"
	"strconv"
	"testing"

	"longgrain/internal/ground/stats"
)

// Samples and scatter of the simulations. 2,000 samples give a standard error of at most 1.1 % of a share near 0.75 or 0.5 % near 0.05 and
// 0.95; three of them are allowed.
const (
	samples = 2000
	scatter = 0.17
)

// drawn makes n tests with median 1000 N; when censored, the wood away from the joint breaks at a load with the same median and scatter
// 0.3, so that about half of the joints hold.
func drawn(r *rand.Rand, n int, median float64, censored bool) []Test {
	tests := make([]Test, n)
	for i := range tests {
		x := median * math.Exp(scatter*r.NormFloat64())
		tests[i] = loads("a", x)[0]
		if c := 1000 * math.Exp(0.3*r.NormFloat64()); censored && c < x {
			tests[i] = loads("a", -c)[0]
		}
	}
	return tests
}

func TestBoundsKeepTheirConfidenceWithAndWithoutJointsThatHeld(t *testing.T) {
	if testing.Short() {
		t.Skip("simulation")
	}
	random := rand.New(rand.NewSource(7))
	truth := stats.LognormalQuantile(0.05, math.Log(1000), scatter)
	k := factors{}
	for _, n := range []int{3, 5, 9, 12, 25} {
		for _, censored := range []bool{false, true} {
			below := 0
			for range samples {
				s := summarize(gather(drawn(random, n, 1000, censored))[0], k, newBook())
				if s.Lower5.Value <= truth {
					below++
				}
			}
			got := float64(below) / samples
			t.Logf("n %d, censored %v: %.3f", n, censored, got)
			if got < 0.75-0.03 {
				t.Errorf("n %d, censored %v: the bound holds in %v of the logs", n, censored, got)
			}
			if n >= fewTests && !censored { // one law, and the right one: exact
				near(t, "confidence", got, 0.75, 0.03)
			}
		}
	}
}

func TestIntervalsOfRatiosKeepTheirConfidence(t *testing.T) {
	if testing.Short() {
		t.Skip("simulation")
	}
	random := rand.New(rand.NewSource(8))
	k := factors{}
	group := func(n int, median float64) contender {
		s := summarize(gather(drawn(random, n, median, false))[0], k, newBook())
		return newContender(&s)
	}
	const samples = 500 // each takes milliseconds
	inside := 0
	for range samples {
		c, _ := ratio(group(4, 1300), group(7, 1000), level)
		if c.Interval.Low <= 1.3 && 1.3 <= c.Interval.High {
			inside++
		}
	}
	near(t, "confidence", float64(inside)/samples, 0.95, 0.03)
}

func TestAFurtherJointIsBelowTheCalibratedLowerValueInFiveOfAHundred(t *testing.T) {
	if testing.Short() {
		t.Skip("simulation")
	}
	random := rand.New(rand.NewSource(9))
	p := priorOf(dowelCOV)
	for _, n := range []int{1, 3, 10} { // batches of two
		below := 0
		for range samples {
			theta := p.centre + math.Sqrt(p.kind)*random.NormFloat64()
			batch := func() float64 { return theta + math.Sqrt(p.series)*random.NormFloat64() }
			strength := func(b float64) float64 { return math.Exp(b + math.Sqrt(p.testing)*random.NormFloat64()) }
			var trials []Trial
			for i := range n {
				b := batch()
				for range 2 {
					trials = append(trials, Trial{Tested: dowelsBent, Batch: strconv.Itoa(i), Measured: strength(b), Predicted: 1, COV: dowelCOV})
				}
			}
			if strength(batch()) < update(trials)[0].Lower5 {
				below++
			}
		}
		near(t, "share below", float64(below)/samples, 0.05, 0.015)
	}
}
