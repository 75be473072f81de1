package stats

import (
	"fmt"
	"math"
)

// Interval is an estimate with its confidence interval.
type Interval struct {
	Estimate, Low, High float64
}

// MeanInterval returns the mean of a sample with a two-sided confidence interval.
//
//	mean ± t s/√n
//
// t is the quantile of Student's t with n - 1 degrees of freedom at (1 + confidence)/2, s the standard
// deviation. False for fewer than two values. Panics unless 0 < confidence < 1.
//
// Source: exact for a normal variable, definition of Student's t.
func MeanInterval(x []float64, confidence float64) (Interval, bool) {
	if len(x) < 2 {
		return Interval{}, false
	}
	n, m := float64(len(x)), Mean(x)
	half := StudentQuantile((1+confidence)/2, n-1) * Deviation(x) / math.Sqrt(n)
	return Interval{m, m - half, m + half}, true
}

// Difference is the difference of two means that need not have the same scatter.
type Difference struct {
	Interval          // mean of x less mean of y
	StandardError     float64
	DegreesOfFreedom  float64
	SignificanceLevel float64 // probability of a difference this large if there were none
}

// Welch compares the means of two samples with a two-sided confidence interval of their difference.
//
//	d ± t e,  e² = v_x + v_y,  v = s²/n,  ν = e⁴ / (v_x²/(n_x - 1) + v_y²/(n_y - 1))
//
// t is the quantile of Student's t with ν degrees of freedom. False for samples of fewer than two
// values, or when neither has scatter. Panics unless 0 < confidence < 1.
//
// Source: [welch-1947], from memory; met by the worked example of R, see the tests.
func Welch(x, y []float64, confidence float64) (Difference, bool) {
	if len(x) < 2 || len(y) < 2 {
		return Difference{}, false
	}
	vx, vy := squared(Deviation(x))/float64(len(x)), squared(Deviation(y))/float64(len(y))
	if !(vx+vy > 0) {
		return Difference{}, false
	}
	d := Difference{StandardError: math.Sqrt(vx + vy)}
	d.DegreesOfFreedom = squared(vx+vy) / (vx*vx/float64(len(x)-1) + vy*vy/float64(len(y)-1))
	d.Estimate = Mean(x) - Mean(y)
	half := StudentQuantile((1+confidence)/2, d.DegreesOfFreedom) * d.StandardError
	d.Low, d.High = d.Estimate-half, d.Estimate+half
	d.SignificanceLevel = 2 * StudentCDF(-math.Abs(d.Estimate)/d.StandardError, d.DegreesOfFreedom)
	return d, true
}

func squared(x float64) float64 { return x * x }

// PooledDeviation returns the common standard deviation of two samples.
//
//	s² = ((n_x - 1) s_x² + (n_y - 1) s_y²) / (n_x + n_y - 2)
//
// NaN when either has fewer than two values.
//
// Source: definition.
func PooledDeviation(x, y []float64) float64 {
	nx, ny := float64(len(x)), float64(len(y))
	return math.Sqrt(((nx-1)*squared(Deviation(x)) + (ny-1)*squared(Deviation(y))) / (nx + ny - 2))
}

// Power returns the probability that a two-sided comparison of two samples shows a true difference.
//
//	P(|T| > t),  T noncentral with ν = n_x + n_y - 2,  δ = effect / √(1/n_x + 1/n_y)
//
// effect is the true difference over the common standard deviation; t the quantile of Student's t at
// 1 - level/2. Panics unless both samples have at least two values and 0 < level < 1.
//
// Source: exact for normal variables of equal scatter, definition of the noncentral t.
func Power(nx, ny int, effect, level float64) float64 {
	if nx < 2 || ny < 2 {
		panic(fmt.Sprintf("stats: no power of samples of %d and %d", nx, ny))
	}
	nu := float64(nx + ny - 2)
	delta := effect / math.Sqrt(1/float64(nx)+1/float64(ny))
	t := StudentQuantile(1-level/2, nu)
	return 1 - NoncentralCDF(t, nu, delta) + NoncentralCDF(-t, nu, delta)
}

// SampleSize returns how many values each of two samples needs so that their comparison shows a true
// difference with at least the given power. False when more than limit are needed. Panics as Power.
func SampleSize(effect, level, power float64, limit int) (int, bool) {
	enough := func(n int) bool { return Power(n, n, effect, level) >= power }
	high := 2
	for !enough(high) {
		if high >= limit {
			return 0, false
		}
		high = min(2*high, limit)
	}
	low := max(1, high/2) // power grows with n
	for high-low > 1 {
		if middle := (low + high) / 2; enough(middle) {
			high = middle
		} else {
			low = middle
		}
	}
	return high, true
}

// Detectable returns the least effect that a comparison shows with the given power; symbols as Power,
// by bisection to 1e-6. Panics as Power.
func Detectable(nx, ny int, level, power float64) float64 {
	low, high := 0.0, 1.0
	for Power(nx, ny, high, level) < power {
		low, high = high, 2*high
	}
	for high-low > 1e-6 {
		if middle := (low + high) / 2; Power(nx, ny, middle, level) < power {
			low = middle
		} else {
			high = middle
		}
	}
	return high
}

// Grubbs returns the value of a sample that lies farthest from its mean, by its index, and how many
// standard deviations it lies away.
//
//	G = max |x - mean| / s
//
// False for fewer than three values or without scatter.
//
// Source: [grubbs-1969], from memory; met by a published example, see the tests.
func Grubbs(x []float64) (index int, g float64, ok bool) {
	if len(x) < 3 {
		return 0, 0, false
	}
	m, s := Mean(x), Deviation(x)
	if !(s > 0) {
		return 0, 0, false
	}
	for i, v := range x {
		if d := math.Abs(v-m) / s; d > g {
			index, g = i, d
		}
	}
	return index, g, true
}

// GrubbsCritical returns what the distance of Grubbs exceeds with probability level when all n values
// are from one normal distribution, whichever side the farthest lies on.
//
//	(n - 1)/√n √(t²/(n - 2 + t²)),  t the quantile of Student's t with n - 2 at 1 - level/(2n)
//
// Panics unless n is at least 3 and 0 < level < 1.
//
// Source: [grubbs-1969], from memory; met by published critical values, see the tests.
func GrubbsCritical(n int, level float64) float64 {
	if n < 3 {
		panic(fmt.Sprintf("stats: no test for outliers among %d values", n))
	}
	size := float64(n)
	t := StudentQuantile(1-level/(2*size), size-2)
	return (size - 1) / math.Sqrt(size) * math.Sqrt(t*t/(size-2+t*t))
}
