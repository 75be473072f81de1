package testlog

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"longgrain/internal/design/joint"
	"longgrain/internal/ground/source"
	"longgrain/internal/ground/stats"
	"longgrain/internal/ground/working"
)

// Share and confidence of the lower bound: 95 of 100 such joints are stronger, said with 75 %
// confidence. Source: [en-14358] for the characteristic value of timber, from memory.
const (
	share             = 0.95
	confidence        = 0.75
	confidencePercent = 75
)

// fewTests is the number of tests from which one law of scatter is trusted; below it the lowest bound of
// the three counts. Judgement: docs/methods/statistics.md.
const fewTests = 10

// oddLevel is the chance that Grubbs' test warns of a test in a sound group. Common practice.
const oddLevel = 0.05

// Result is the strength that one test showed.
type Result struct {
	Value float64 `json:"value"` // in the unit of the group
	Held  bool    `json:"held,omitempty"`
}

// Range is an interval.
type Range struct {
	Low  float64 `json:"low"`
	High float64 `json:"high"`
}

// Bound is a strength that with 75 % confidence 95 of 100 such joints reach.
type Bound struct {
	Law   string  `json:"law"` // "normal", "lognormal", "Weibull", "smallest test"
	Value float64 `json:"value"`
}

// FailureCount says how often something gave way.
type FailureCount struct {
	Failure Failure `json:"failure"` // empty: not noted
	Tests   int     `json:"tests"`
}

// Summary is what the tests of a group say. Mean, deviation and variation are of the tests in which the
// joint failed, and 0 where there are too few. Bounds take in the tests in which it held: the normal
// and the lognormal one as if it had failed at that load, which is the safe side; Weibull's as at least that load.
type Summary struct {
	Group     string          `json:"group"`
	Kind      joint.Kind      `json:"kind"` // of the first test
	Quantity  Quantity        `json:"quantity"`
	Results   []Result        `json:"results"` // in the order of the log, without withdrawn tests
	Failed    int             `json:"failed"`
	Held      int             `json:"held"`
	Withdrawn int             `json:"withdrawn"`
	Unusable  int             `json:"unusable,omitempty"` // load, lever or prediction is none; never from Read
	Mean      float64         `json:"mean"`
	Interval  *Range          `json:"interval,omitempty"` // of the mean, 95 % confidence
	Deviation float64         `json:"deviation"`
	COV       float64         `json:"cov"`
	Lowest    float64         `json:"lowest"`
	Highest   float64         `json:"highest"`
	Bounds    []Bound         `json:"bounds,omitempty"`
	Lower5    *Bound          `json:"lower5,omitempty"`    // the one to count on; nil: no bound
	Predicted float64         `json:"predicted,omitempty"` // mean of the book, or as noted where the sizes do not suffice
	Noted     int             `json:"noted,omitempty"`     // predictions that are only noted
	Failures  []FailureCount  `json:"failures,omitempty"`
	Warnings  []string        `json:"warnings,omitempty"`
	Sentence  string          `json:"sentence"`
	Working   working.Working `json:"working,omitempty"`
}

// factors keeps the tolerance factors by sample size, which take milliseconds to work out.
type factors map[int]float64

func (f factors) of(n int) float64 {
	k, ok := f[n]
	if !ok {
		k = stats.ToleranceFactor(n, share, confidence)
		f[n] = k
	}
	return k
}

// summarize works a group out.
func summarize(g group, k factors, b *book) Summary {
	s := Summary{Group: g.name, Kind: g.tests[0].Kind(), Quantity: g.quantity}
	var all, failed, held, predicted []float64
	failures := map[Failure]int{}
	noted := 0
	for _, t := range g.tests {
		value := t.strength(g.quantity)
		switch {
		case t.Withdrawn:
			s.Withdrawn++
			continue
		case !t.counts():
			s.Unusable++
			continue
		case t.Held():
			held = append(held, value)
		default:
			failed = append(failed, value)
		}
		all = append(all, value)
		s.Results = append(s.Results, Result{value, t.Held()})
		failures[t.Failure]++
		if f := b.of(t); f.load > 0 {
			predicted = append(predicted, f.load*value/t.Load.SI) // the same lever
		} else if t.Predicted != nil {
			noted++
			predicted = append(predicted, t.Predicted.SI*value/t.Load.SI)
		}
	}
	s.Failed, s.Held = len(failed), len(held)
	for _, f := range append(Failures(), "") {
		if n := failures[f]; n > 0 {
			s.Failures = append(s.Failures, FailureCount{f, n})
		}
	}
	if len(all) > 0 {
		s.Lowest, s.Highest = slices.Min(all), slices.Max(all)
	}
	if len(predicted) > 0 {
		s.Predicted, s.Noted = stats.Mean(predicted), noted
	}
	s.spread(failed)
	s.bound(all, failed, held, k)
	s.Warnings = g.mixed()
	s.warn(failed)
	s.Sentence = s.sentence()
	return s
}

// spread works out mean, deviation and coefficient of variation of the tests in which the joint failed.
//
//	V = s / mean
//
// s is the standard deviation with n - 1. Source: definition.
func (s *Summary) spread(failed []float64) {
	if len(failed) == 0 {
		return
	}
	s.Mean = stats.Mean(failed)
	s.step("Mean", "x̄ = Σx / n", value("x̄", s.Mean, s.Quantity.Unit), source.At("longgrain", "docs/methods/testlog.md", source.Exact),
		value("n", float64(len(failed)), ""))
	if len(failed) < 2 {
		return
	}
	s.Deviation = stats.Deviation(failed)
	s.COV = s.Deviation / s.Mean
	s.step("Spread", "V = s / x̄", value("V", s.COV, ""), source.At("longgrain", "docs/methods/testlog.md", source.Exact),
		value("s", s.Deviation, s.Quantity.Unit), value("x̄", s.Mean, s.Quantity.Unit))
	if i, ok := stats.MeanInterval(failed, 0.95); ok {
		s.Interval = &Range{i.Low, i.High}
		s.step("Mean, 95 % confidence, from", "x̄ - t s/√n", value("from", i.Low, s.Quantity.Unit), source.At("longgrain", "docs/methods/testlog.md", source.Exact),
			value("to", i.High, s.Quantity.Unit))
	}
}

// bound works out the lower 5 % under each law and picks the one to count on: below fewTests the lowest,
// from then on the lognormal one. See ground/stats for the formulas.
func (s *Summary) bound(all, failed, held []float64, k factors) {
	n := len(all)
	if n < stats.MinSample {
		return
	}
	factor := k.of(n)
	logs := logarithms(all)
	deviation := stats.Deviation(logs)
	normal := max(0, stats.Mean(all)-factor*stats.Deviation(all))
	lognormal := math.Exp(stats.Mean(logs) - factor*max(deviation, stats.MinLogDeviation))
	inputs := []working.Value{value("k", factor, ""), value("n", float64(n), "")}
	s.put(Bound{"normal", normal}, "x̄ - k s, not below 0", source.At("longgrain", "docs/methods/statistics.md", source.Exact), inputs...)
	s.put(Bound{"lognormal", lognormal}, "exp(mean ln x - k s_ln), s_ln at least 0.05", source.At("en-14358", "", source.Memory),
		append(inputs, value("s_ln", deviation, ""))...)
	if w, ok := stats.FitWeibull(failed, held); ok {
		// The table of factors is for samples without joints that held; counting the failures alone is the safe side.
		if b, ok := stats.WeibullLower(w, len(failed), confidencePercent); ok {
			s.put(Bound{"Weibull", b}, "x₀₅ exp(-v / shape)", source.At("evans-weibull", "", source.Memory), value("shape", w.Shape, ""), value("scale", w.Scale, s.Quantity.Unit))
		}
	}
	if stats.SmallestIsBound(n, share, confidence) {
		s.put(Bound{"smallest test", slices.Min(all)}, "min x, as 1 - 0.95ⁿ ≥ 0.75", source.At("longgrain", "docs/methods/statistics.md", source.Exact), inputs[1])
	}
	chosen := s.Bounds[1]
	if n < fewTests {
		chosen = slices.MinFunc(s.Bounds, func(a, b Bound) int { return cmp.Compare(a.Value, b.Value) })
	}
	s.Lower5 = &chosen
}

func (s *Summary) put(b Bound, formula string, cite source.Cite, inputs ...working.Value) {
	s.Bounds = append(s.Bounds, b)
	s.step("Lower 5 %, "+b.Law, formula, value("x₅", b.Value, s.Quantity.Unit), cite, inputs...)
}

func (s *Summary) step(title, formula string, result working.Value, cite source.Cite, inputs ...working.Value) {
	s.Working = append(s.Working, working.Step{Title: title, Formula: formula, Inputs: slices.Clone(inputs), Result: result, Cite: cite})
}

func value(symbol string, number float64, unit string) working.Value {
	return working.Value{Symbol: symbol, Number: number, Unit: unit}
}

func logarithms(x []float64) []float64 {
	out := make([]float64, len(x))
	for i, v := range x {
		out[i] = math.Log(v)
	}
	return out
}

// warn adds what a person should look at. A test that lies far from the others still counts.
func (s *Summary) warn(failed []float64) {
	if s.Unusable > 0 {
		s.Warnings = append(s.Warnings, count(s.Unusable, "test")+" without a usable load, lever or prediction left out.")
	}
	if s.Held > 0 {
		s.Warnings = append(s.Warnings, fmt.Sprintf("In %s the wood broke away from the joint: the joint is at least that strong. The mean leaves this out; the lower 5 %% takes it in on the safe side.", count(s.Held, "test")))
	}
	if s.Lower5 != nil && s.Lower5.Value == 0 {
		s.Warnings = append(s.Warnings, "The tests scatter so much that nothing can be counted on.")
	}
	logs := logarithms(failed)
	i, g, ok := stats.Grubbs(logs)
	if !ok {
		return
	}
	critical := stats.GrubbsCritical(len(logs), oddLevel)
	s.step("Test farthest from the others", "G = max |ln x - mean| / s, critical at 5 %", value("G", g, ""), source.At("grubbs-1969", "", source.CrossChecked),
		value("critical", critical, ""), value("x", failed[i], s.Quantity.Unit))
	if g > critical {
		s.Warnings = append(s.Warnings, fmt.Sprintf("The test of %s lies far from the others (Grubbs' test: %s against %s). It still counts: look up its note, and withdraw it only for a reason other than its strength.",
			s.Quantity.Show(failed[i]), figures(g), figures(critical)))
	}
}

// sentence says in plain words what the tests mean.
func (s *Summary) sentence() string {
	n := s.Failed + s.Held
	if n == 0 {
		return s.Group + ": no test that counts."
	}
	var b strings.Builder
	fmt.Fprintf(&b, "%s: %s", s.Group, count(n, "test"))
	switch {
	case s.Failed == 0:
		fmt.Fprintf(&b, ", and every joint held, to %s at least; what the joint bears is not known", s.Quantity.Show(s.Lowest))
	case s.Failed == 1:
		fmt.Fprintf(&b, ", one joint failed at %s", s.Quantity.Show(s.Mean))
	case s.Held > 0:
		fmt.Fprintf(&b, ", in %d the joint failed: mean %s, spread %s", s.Failed, s.Quantity.Show(s.Mean), percent(s.COV))
	default:
		fmt.Fprintf(&b, ", mean %s, spread %s", s.Quantity.Show(s.Mean), percent(s.COV))
	}
	b.WriteString(". ")
	if s.Lower5 == nil {
		fmt.Fprintf(&b, "No bound: that takes at least %s.", count(stats.MinSample, "test"))
		return b.String()
	}
	fmt.Fprintf(&b, "95 of 100 such joints bear at least %s, said with 75 %% confidence (%s law", s.Quantity.Show(s.Lower5.Value), s.Lower5.Law)
	if n < fewTests {
		fmt.Fprintf(&b, ", the lowest, as there are fewer than %d tests", fewTests)
	}
	b.WriteString(").")
	return b.String()
}
