package stats

import (
	"fmt"
	"math"
)

// Law is a shape of distribution, to be given a mean and a coefficient of variation. NormalLaw can give values below 0, and
// GumbelLaw hardly ever; the others cannot.
type Law string

// The laws.
const (
	LognormalLaw Law = "lognormal"
	NormalLaw    Law = "normal"
	WeibullLaw   Law = "Weibull" // two parameters: brittle things, the weakest of many places
	GumbelLaw    Law = "Gumbel"  // the largest of many
)

// Spread is a law with its numbers worked out. The zero value is useless: SpreadOf makes one.
type Spread struct {
	law  Law
	a, b float64 // lognormal: m, s; normal: mean, deviation; Weibull: scale, shape; Gumbel: mode, scale
}

// euler is the constant of Euler and Mascheroni.
const euler = 0.57721566490153286

// SpreadOf returns the law of the given mean and coefficient of variation v.
//
//	lognormal  s² = ln(1 + v²), m = ln mean - s²/2
//	Weibull    Γ(1 + 2/k)/Γ(1 + 1/k)² = 1 + v², scale = mean/Γ(1 + 1/k)
//	Gumbel     scale = v mean √6/π, mode = mean - 0.5772 scale
//
// The mean is above 0, v above 0 and at most 2. Panics otherwise and for an unknown law.
//
// Source: moments of the distributions, closed form.
func SpreadOf(law Law, mean, v float64) Spread {
	if !(mean > 0 && v > 0 && v <= 2) {
		panic(fmt.Sprintf("stats: no spread of mean %v and coefficient of variation %v", mean, v))
	}
	s := Spread{law: law}
	switch law {
	case LognormalLaw:
		s.a, s.b = LognormalOf(mean, v)
	case NormalLaw:
		s.a, s.b = mean, v*mean
	case WeibullLaw:
		s.b = weibullShape(v)
		s.a = mean / math.Gamma(1+1/s.b)
	case GumbelLaw:
		s.b = v * mean * math.Sqrt(6) / math.Pi
		s.a = mean - euler*s.b
	default:
		panic(fmt.Sprintf("stats: unknown law %q", law))
	}
	return s
}

// weibullShape returns the shape of the Weibull law with coefficient of variation v, by bisection to rounding.
func weibullShape(v float64) float64 {
	low, high := 0.2, 1000.0
	for range 200 {
		k := math.Sqrt(low * high)
		a, _ := math.Lgamma(1 + 2/k)
		b, _ := math.Lgamma(1 + 1/k)
		if math.Expm1(a-2*b) > v*v {
			low = k
		} else {
			high = k
		}
	}
	return math.Sqrt(low * high)
}

// At returns the value that lies where z lies in a standard normal distribution.
//
//	x = F⁻¹(Φ(z))
//
// Source: the transformation of [nataf-1962], from memory; exact for one variable.
func (s Spread) At(z float64) float64 {
	switch s.law {
	case LognormalLaw:
		return math.Exp(s.a + s.b*z)
	case NormalLaw:
		return s.a + s.b*z
	case WeibullLaw:
		return s.a * math.Pow(-math.Log(NormalCDF(-z)), 1/s.b)
	}
	return s.a - s.b*math.Log(-logNormalCDF(z)) // Gumbel
}

// LogAt returns the natural logarithm of At, of values below least that of least. It is cheap for the lognormal law.
func (s Spread) LogAt(z, least float64) float64 {
	if s.law == LognormalLaw {
		return max(s.a+s.b*z, math.Log(least))
	}
	return math.Log(max(s.At(z), least))
}

// logNormalCDF returns ln Φ(z), exact in the upper tail too.
func logNormalCDF(z float64) float64 { return math.Log1p(-NormalCDF(-z)) }

// Exceeds returns the probability of a value above x, exact in the tail.
//
// Source: distribution functions, definition.
func (s Spread) Exceeds(x float64) float64 {
	switch s.law {
	case LognormalLaw:
		if x <= 0 {
			return 1
		}
		return NormalCDF(-(math.Log(x) - s.a) / s.b)
	case NormalLaw:
		return NormalCDF(-(x - s.a) / s.b)
	case WeibullLaw:
		if x <= 0 {
			return 1
		}
		return math.Exp(-math.Pow(x/s.a, s.b))
	}
	return -math.Expm1(-math.Exp(-(x - s.a) / s.b)) // Gumbel
}

// Quantile returns the value that is stayed below with probability p. Panics unless 0 < p < 1.
func (s Spread) Quantile(p float64) float64 { return s.At(NormalQuantile(p)) }
