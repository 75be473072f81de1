package testlog

import (
	"fmt"
	"maps"
	"math"
	"slices"

	"longgrain/internal/design/joint"
	"longgrain/internal/ground/source"
	"longgrain/internal/ground/stats"
	"longgrain/internal/ground/working"
)

// testScatter is the standard deviation of the logarithm of the strength of careful joints of one kind.
//
// Source: upper of the two coefficients of variation in [eckelman-2016] abstract, 0.173, read; rounded.
const testScatter = 0.17

// modelScatter is how far the strengths that package joint works out may be off, as the standard
// deviation of a logarithm: the priors of docs/methods/joints.md. Kinds that are not named there get
// otherScatter, as wide as the widest. Judgement.
var modelScatter = map[joint.Kind]float64{joint.Dowels: 0.25, joint.Tenon: 0.25, joint.PocketScrews: 0.35, joint.Biscuits: 0.35}

const otherScatter = 0.35

// Trial is one test beside what was worked out for it, both in the same unit.
type Trial struct {
	Kind      joint.Kind
	Measured  float64 // above 0
	Predicted float64 // mean, above 0
	Held      bool    // the joint outlived the test
}

// Trials returns the tests that count and have a predicted load.
func Trials(tests []Test) []Trial {
	var out []Trial
	kinds := kindMemory{}
	for _, t := range tests {
		if !t.Withdrawn && t.counts() && t.Predicted != nil {
			out = append(out, Trial{kinds.of(t.Joint), t.Load.SI, t.Predicted.SI, t.Held()})
		}
	}
	return out
}

// Multiplier shifts the strengths that package joint works out for a kind of joint.
type Multiplier struct {
	Origin   string          `json:"origin"`   // "book", or "shop, 5 tests"
	Median   float64         `json:"median"`   // strength over what the book gives
	Interval Range           `json:"interval"` // 90 % of what it may be
	Weight   float64         `json:"weight"`   // of the tests beside the book, 0 to 1
	Lower5   float64         `json:"lower5"`   // 5 % of single joints lie below this times the book's mean
	Scatter  float64         `json:"scatter"`  // standard deviation of the logarithm of the strength of single joints
	Tests    int             `json:"tests"`    // in which the joint failed
	Held     int             `json:"held"`     // left out, as the joint outlived the test
	Warning  string          `json:"warning,omitempty"`
	Sentence string          `json:"sentence"`
	Working  working.Working `json:"working,omitempty"`
}

// Calibration is what the shop's tests say about the kinds of joint. Kinds that were not tested are missing:
// the book stands.
type Calibration map[joint.Kind]Multiplier

// Calibrate shifts the book by the shop's tests, each kind of joint by its own. Tests in which the joint held
// are left out: they would only raise the multiplier. Panics unless every trial is above 0 and finite.
func Calibrate(trials []Trial) Calibration {
	logs, held := map[joint.Kind][]float64{}, map[joint.Kind]int{}
	for _, t := range trials {
		y := math.Log(t.Measured / t.Predicted)
		if math.IsNaN(y) || math.IsInf(y, 0) {
			panic(fmt.Sprintf("testlog: trial of %v against %v", t.Measured, t.Predicted))
		}
		if t.Held {
			held[t.Kind]++
			continue
		}
		logs[t.Kind] = append(logs[t.Kind], y)
	}
	out := Calibration{}
	for kind, y := range logs {
		out[kind] = multiplier(kind, y, held[kind])
	}
	return out
}

// updated returns the mean and the variance of θ after the tests.
//
//	θ ~ N(m, v),  v = 1/(n/s² + 1/τ²),  m = v Σy/s²
//
// y = ln(test/predicted) are the tests, y ~ N(θ, s²); θ ~ N(0, τ²) before them. n is the number of tests, s
// the scatter of tests and τ that of the book, both standard deviations of logarithms above 0. With no
// test θ is as before.
//
// Source: closed form for normal variables of known variance; docs/methods/testlog.md.
func updated(y []float64, s, tau float64) (m, v float64) {
	sum := 0.0
	for _, x := range y {
		sum += x
	}
	v = 1 / (float64(len(y))/(s*s) + 1/(tau*tau))
	return v * sum / (s * s), v
}

func multiplier(kind joint.Kind, y []float64, held int) Multiplier {
	tau, ok := modelScatter[kind]
	if !ok {
		tau = otherScatter
	}
	m, v := updated(y, testScatter, tau)
	n := float64(len(y))
	z := stats.NormalQuantile(0.95)
	scatter := math.Sqrt(testScatter*testScatter + v)
	out := Multiplier{
		Origin: "shop, " + count(len(y), "test"), Tests: len(y), Held: held,
		Median:   math.Exp(m),
		Interval: Range{math.Exp(m - z*math.Sqrt(v)), math.Exp(m + z*math.Sqrt(v))},
		Weight:   n / (testScatter * testScatter) * v,
		Scatter:  scatter,
		Lower5:   stats.LognormalQuantile(0.05, m, scatter),
	}
	cite := source.At("longgrain", "docs/methods/testlog.md", source.Exact)
	prior := working.Value{Symbol: "τ", Name: "scatter of the book", Number: tau, Cite: source.Choice("docs/methods/joints.md")}
	out.Working = working.Working{
		{Title: "Multiplier", Formula: "exp(Σy/s² / (n/s² + 1/τ²)), y = ln(test/predicted)", Result: value("m", out.Median, ""), Cite: cite,
			Inputs: []working.Value{value("n", n, ""), value("mean y", stats.Mean(y), ""), {Symbol: "s", Name: "scatter of tests", Number: testScatter, Cite: source.At("eckelman-2016", "abstract", source.Read)}, prior}},
		{Title: "Weight of the tests", Formula: "n/s² / (n/s² + 1/τ²)", Result: value("w", out.Weight, ""), Cite: cite},
		{Title: "Lower 5 % of single joints over the book's mean", Formula: "m exp(-1.645 √(s² + v)), v = 1/(n/s² + 1/τ²)", Result: value("m₅", out.Lower5, ""), Cite: cite,
			Inputs: []working.Value{value("√v", math.Sqrt(v), "")}},
	}
	if far := math.Abs(stats.Mean(y)) / math.Sqrt(tau*tau+testScatter*testScatter/n); far > 2 {
		out.Warning = fmt.Sprintf("The tests of %s lie %s times as far from the book as can be expected: check units, lever and what was predicted.", kind, figures(far/2))
	}
	direction := "stronger"
	if out.Median < 1 {
		direction = "weaker"
	}
	out.Sentence = fmt.Sprintf("%s: by %s they are %s %s than the book says, between %s and %s times its strength; the tests weigh %s beside the book.",
		kind, count(len(y), "test"), percent(math.Abs(out.Median-1)), direction, figures(out.Interval.Low), figures(out.Interval.High), percent(out.Weight))
	return out
}

// Kinds returns the kinds that were tested, sorted.
func (c Calibration) Kinds() []joint.Kind { return slices.Sorted(maps.Keys(c)) }

// Of returns the multiplier of a kind; for one that was not tested that of the book, 1.
func (c Calibration) Of(kind joint.Kind) Multiplier {
	if m, ok := c[kind]; ok {
		return m
	}
	return Multiplier{Origin: "book", Median: 1, Interval: Range{1, 1}}
}

// Apply returns a resistance of a kind of joint as the shop's tests shift it: the mean and the mean of each
// limit times the median multiplier, the lower 5 % and the variation those of a joint of this shop. A kind that was
// not tested is returned as it is.
//
//	R' = R m,  R'₅ = R m₅,  V' = √(exp(s² + v) - 1)
//
// Symbols as in Multiplier and updated. Source: lognormal variable, closed form; docs/methods/testlog.md.
func (c Calibration) Apply(kind joint.Kind, r joint.Resistance) joint.Resistance {
	m, ok := c[kind]
	if !ok {
		return r
	}
	r.Lower5 = r.Mean * m.Lower5
	r.Mean *= m.Median
	r.COV = math.Sqrt(math.Expm1(m.Scatter * m.Scatter))
	r.Limits = slices.Clone(r.Limits)
	for i := range r.Limits {
		r.Limits[i].Mean *= m.Median
	}
	return r
}
