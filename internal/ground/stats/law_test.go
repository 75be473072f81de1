package stats

import (
	"math"
	"testing"
)

// Mean and variation are taken back by the trapezium rule over the exceedance, which knows nothing of the moments.
func TestSpreadsHaveTheirMeanAndVariation(t *testing.T) {
	for _, law := range []Law{LognormalLaw, NormalLaw, WeibullLaw, GumbelLaw} {
		for _, v := range []float64{0.05, 0.1, 0.25} {
			s := SpreadOf(law, 2, v)
			first, second := 0.0, 0.0
			const h = 2e-4
			for x := h / 2; x < 12; x += h {
				p := s.Exceeds(x)
				first += p * h
				second += 2 * x * p * h
			}
			near(t, string(law)+" mean", first, 2, 2e-4)
			near(t, string(law)+" variation", math.Sqrt(second-first*first)/first, v, 1e-3)
			for _, p := range []float64{1e-9, 0.05, 0.5, 0.95, 1 - 1e-9} {
				near(t, string(law)+" there and back", s.Exceeds(s.Quantile(p))/(1-p), 1, 1e-6)
			}
		}
	}
	// Γ(1.5)² π/4: a Weibull law of shape 2 (Rayleigh) varies by sqrt(4/π - 1).
	near(t, "Rayleigh", SpreadOf(WeibullLaw, 1, math.Sqrt(4/math.Pi-1)).b, 2, 1e-6)
}

func TestLatinHypercubeHasOneValueInEachPart(t *testing.T) {
	const n, d = 500, 7
	points := LatinHypercube(n, d, 4)
	for k := range d {
		seen := make([]bool, n)
		for i := range n {
			seen[int(NormalCDF(points[i*d+k])*n)] = true
		}
		for part, ok := range seen {
			if !ok {
				t.Fatalf("variable %d has no value in part %d", k, part)
			}
		}
	}
	sum := 0.0
	for i := range n {
		sum += points[i*d] * points[i*d+1]
	}
	if math.Abs(sum/n) > 0.15 { // 3.4 standard errors
		t.Errorf("two variables correlate by %v", sum/n)
	}
}

// Exact bounds of Clopper and Pearson at 95 %: 0 of 10 gives 1 - 0.025^(1/10) above; 1 of 10 gives 1 - 0.975^(1/10) below (closed forms
// of the beta quantiles); 4 of 20 gives 0.0573 to 0.4366, as tables print.
func TestProportionIntervalIsThatOfClopperAndPearson(t *testing.T) {
	near(t, "0 of 10", ProportionInterval(0, 10, 0.95).High, 1-math.Pow(0.025, 0.1), 1e-9)
	near(t, "1 of 10", ProportionInterval(1, 10, 0.95).Low, 1-math.Pow(0.975, 0.1), 1e-9)
	x := ProportionInterval(4, 20, 0.95)
	near(t, "4 of 20 low", x.Low, 0.0573, 5e-5)
	near(t, "4 of 20 high", x.High, 0.4366, 5e-5)
	if x := ProportionInterval(10, 10, 0.95); x.High != 1 {
		t.Error(x)
	}
}

func TestLogIntervalStaysAboveNothing(t *testing.T) {
	x, ok := LogInterval([]float64{1e-6, 5e-6, 2e-6, 9e-7}, 0.95)
	if !ok || x.Low <= 0 || x.High <= x.Estimate {
		t.Errorf("%+v %v", x, ok)
	}
	if _, ok := LogInterval([]float64{0, 0}, 0.95); ok {
		t.Error("nothing has bounds")
	}
}

func TestRepairedCorrelationsCanBeDrawn(t *testing.T) {
	// Three variables cannot be correlated by 0.9, 0.9 and -0.9.
	r := [][]float64{{1, 0.9, 0.9}, {0.9, 1, -0.9}, {0.9, -0.9, 1}}
	if _, ok := Cholesky(r); ok {
		t.Error("an impossible matrix has a factor")
	}
	fixed, smallest := RepairCorrelation(r, 1e-6)
	// The eigenvalues are -0.8, 1.9, 1.9: by hand from the symmetry.
	near(t, "smallest", smallest, -0.8, 1e-9)
	l, ok := Cholesky(fixed)
	if !ok {
		t.Fatal("the repaired matrix has no factor")
	}
	for i := range fixed {
		for j := range fixed {
			sum := 0.0
			for k := range fixed {
				sum += l[i][k] * l[j][k]
			}
			near(t, "L Lᵀ", sum, fixed[i][j], 1e-9)
		}
		near(t, "diagonal", fixed[i][i], 1, 1e-12)
	}
	same, _ := RepairCorrelation([][]float64{{1, 0.5}, {0.5, 1}}, 1e-6)
	near(t, "a good one stays", same[0][1], 0.5, 0)
}
