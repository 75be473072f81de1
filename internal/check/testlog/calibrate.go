package testlog

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"longgrain/internal/design/joint"
	"longgrain/internal/ground/source"
	"longgrain/internal/ground/stats"
	"longgrain/internal/ground/working"
)

// betweenSeries is the share of what the book may be off that differs from one series of tests to the next and so
// never shows in a single one: wood from another tree, another glue-up, another rig. Assumed: nobody has published it
// for joints of furniture. What reports let one infer (docs/methods/testlog.md) is a standard deviation of 0.17 and
// 0.25 between series; two thirds give 0.20 for dowels and tenons and 0.27 for pocket screws and biscuits.
const betweenSeries = 2.0 / 3

// bookTests is how many tests the scatter of careful joints, joint.TestScatter, is worth beside the scatter that the
// shop's own tests show within their batches. Judgement: with as many of its own, half of it is the shop's.
const bookTests = 10

// surest is the least coefficient of variation that a book is believed to have, a model error of 5 % beside the scatter of tests.
// Judgement: no model of a joint is surer.
const surest = 0.158

// Trial is one test beside what the book says of it.
type Trial struct {
	joint.Tested
	Batch     string
	Measured  float64 // N, above 0
	Predicted float64 // mean of the book, N, above 0
	COV       float64 // of the book, above joint.TestScatter
	Held      bool    // the joint outlived the test
}

// Unused are tests that say nothing of the book, all for the same reason.
type Unused struct {
	Tests   []int    `json:"tests"` // their places in the log, from 1
	Joint   string   `json:"joint"`
	Species string   `json:"species"`
	Missing []string `json:"missing"`
}

// mostNamed is how many tests a sentence names.
const mostNamed = 6

// Sentence says which tests, and what is missing: "Tests 1 and 3, dowels in pine: missing the spacing of the dowels."
func (u Unused) Sentence() string {
	var places []string
	for _, n := range u.Tests[:min(len(u.Tests), mostNamed)] {
		places = append(places, strconv.Itoa(n))
	}
	which := "Tests " + strings.Join(places, ", ")
	switch {
	case len(u.Tests) == 1:
		which = "Test " + places[0]
	case len(u.Tests) > mostNamed:
		which += fmt.Sprintf(" and %d more", len(u.Tests)-mostNamed)
	}
	return fmt.Sprintf("%s, %s in %s: missing %s.", which, u.Joint, u.Species, strings.Join(u.Missing, ", "))
}

// trials returns the tests that count and can be set beside the book, and those that cannot.
func trials(tests []Test, b *book) (out []Trial, unused []Unused) {
	place := map[[3]string]int{}
	for i, t := range tests {
		if t.Withdrawn || !t.counts() {
			continue
		}
		f := b.of(t)
		if len(f.missing) > 0 {
			key := [3]string{t.Joint, t.Species, strings.Join(f.missing, "\n")}
			k, there := place[key]
			if !there {
				k = len(unused)
				place[key] = k
				unused = append(unused, Unused{nil, t.Joint, t.Species, f.missing})
			}
			unused[k].Tests = append(unused[k].Tests, i+1)
			continue
		}
		out = append(out, Trial{f.tested, batchOf(t), t.Load.SI, f.load, max(f.cov, surest), t.Held()})
	}
	return out, unused
}

// batchOf names the batch of a test: its day. Tests of one day share rig, wood and glue more often than not; those
// without a day are taken as one batch, the safe side.
func batchOf(t Test) string { return strings.ToLower(strings.Join(strings.Fields(t.Tested), " ")) }

// Calibrated is what the shop's tests say of one kind of joint.
type Calibrated struct {
	joint.Tested
	joint.Shift
	Factor   float64         `json:"factor"`   // median strength over that of the book
	Interval Range           `json:"interval"` // 90 % of what the factor may be
	Mean     float64         `json:"mean"`     // of further joints over the book's mean
	Lower5   float64         `json:"lower5"`   // 95 of 100 further joints over the book's mean
	BookLow5 float64         `json:"bookLower5"`
	Held     int             `json:"held,omitempty"` // tests left out, as the joint outlived them
	Warning  string          `json:"warning,omitempty"`
	Sentence string          `json:"sentence"`
	Working  working.Working `json:"working,omitempty"`
}

// Calibration is what the shop's tests say of the book. Kinds that were not tested are missing: the book stands.
type Calibration struct {
	Kinds  []Calibrated `json:"kinds"`            // by name
	Unused []Unused     `json:"unused,omitempty"` // in the order of the log
}

// Shifts returns the calibration as package joint applies it.
func (c Calibration) Shifts() joint.Calibration {
	out := joint.Calibration{}
	for _, k := range c.Kinds {
		out[k.Tested] = k.Shift
	}
	return out
}

// Calibrate shifts the book by the shop's tests: each kind of joint, in softwood and hardwood, opened and slid, by its own.
func Calibrate(tests []Test) Calibration { return calibrate(tests, newBook()) }

func calibrate(tests []Test, b *book) Calibration {
	usable, unused := trials(tests, b)
	return Calibration{update(usable), unused}
}

// update shifts the book by trials. Trials in which the joint held are left out: they would only raise the factor.
// Panics unless every trial is above 0 and finite.
func update(trials []Trial) []Calibrated {
	byKind := map[joint.Tested][]Trial{}
	for _, t := range trials {
		y := math.Log(t.Measured / t.Predicted)
		if math.IsNaN(y) || math.IsInf(y, 0) || !(t.COV > joint.TestScatter) {
			panic(fmt.Sprintf("testlog: trial of %v against %v, variation %v", t.Measured, t.Predicted, t.COV))
		}
		byKind[t.Tested] = append(byKind[t.Tested], t)
	}
	out := []Calibrated{}
	for tested, all := range byKind {
		if slices.ContainsFunc(all, func(t Trial) bool { return !t.Held }) {
			out = append(out, calibrated(tested, all))
		}
	}
	slices.SortFunc(out, func(a, b Calibrated) int {
		return cmp.Or(cmp.Compare(a.Kind, b.Kind), -cmp.Compare(a.Wood, b.Wood), cmp.Compare(a.Way, b.Way))
	})
	return out
}

// prior is what the book says of ln(strength/mean) before any test, as variances of logarithms.
type prior struct {
	centre  float64 // of the logarithm: below 0, as the mean of a lognormal variable lies above its median
	kind    float64 // τ²: the book may be off for the kind
	series  float64 // b²: and for a series
	testing float64 // s²: scatter within a series
}

// priorOf splits the scatter of the book.
//
//	S² = ln(1 + V²),  s² = ln(1 + 0.15²),  b² = ⅔ (S² - s²),  τ² = ⅓ (S² - s²),  centre = -S²/2
//
// V is the coefficient of variation of the book, above 0.15. Without a test the book is unchanged: τ² + b² + s² = S².
// Source: moments of a lognormal variable; the share of b² is assumed, see betweenSeries.
func priorOf(cov float64) prior {
	all, testing := math.Log1p(cov*cov), math.Log1p(joint.TestScatter*joint.TestScatter)
	return prior{-all / 2, (1 - betweenSeries) * (all - testing), betweenSeries * (all - testing), testing}
}

// posterior returns the mean and the variance of θ after batches of tests.
//
//	θ ~ N(centre, τ²),  y_ij ~ N(θ + b_i, s²),  b_i ~ N(0, b²)
//	w_i = 1/(b² + s²/n_i),  v = 1/(1/τ² + Σw_i),  m = v (centre/τ² + Σ w_i ȳ_i)
//
// y_ij = ln(test/mean of the book) is test j of batch i, n_i the number of tests in it and ȳ_i their mean. With no batch
// θ is as before.
//
// Source: closed form for normal variables of known variance; docs/methods/testlog.md.
func (p prior) posterior(batches [][]float64) (m, v float64) {
	precision, sum := 1/p.kind, p.centre/p.kind
	for _, y := range batches {
		w := 1 / (p.series + p.testing/float64(len(y)))
		precision, sum = precision+w, sum+w*stats.Mean(y)
	}
	return sum / precision, 1 / precision
}

// pooled returns the scatter within batches, as a variance: that of careful joints, counted as bookTests degrees of
// freedom, with what the shop's own batches show.
//
//	s² = (10 s₀² + Σ(y_ij - ȳ_i)²) / (10 + Σ(n_i - 1))
//
// Source: mean of variances weighted by degrees of freedom; their number for the book is a judgement.
func (p prior) pooled(batches [][]float64) float64 {
	sum, freedom := bookTests*p.testing, float64(bookTests)
	for _, y := range batches {
		mean := stats.Mean(y)
		for _, x := range y {
			sum += (x - mean) * (x - mean)
		}
		freedom += float64(len(y) - 1)
	}
	return sum / freedom
}

func calibrated(tested joint.Tested, all []Trial) Calibrated {
	var batches [][]float64
	place, held, n := map[string]int{}, 0, 0
	variation := 0.0
	for _, t := range all {
		if t.Held {
			held++
			continue
		}
		i, there := place[t.Batch]
		if !there {
			i = len(batches)
			place[t.Batch] = i
			batches = append(batches, nil)
		}
		batches[i] = append(batches[i], math.Log(t.Measured/t.Predicted))
		variation = max(variation, t.COV)
		n++
	}
	p := priorOf(variation)
	bookLower5 := stats.LognormalQuantile(0.05, p.centre, math.Sqrt(p.kind+p.series+p.testing))
	first := p
	p.testing = p.pooled(batches)
	m, v := p.posterior(batches)
	z := stats.NormalQuantile(0.95)
	out := Calibrated{Tested: tested, Held: held, BookLow5: bookLower5,
		Shift:    joint.Shift{Tests: n, Batches: len(batches), Weight: 1 - v/p.kind, Centre: m, Doubt: math.Sqrt(v), Scatter: math.Sqrt(p.series + p.testing)},
		Factor:   math.Exp(m - p.centre),
		Interval: Range{math.Exp(m - p.centre - z*math.Sqrt(v)), math.Exp(m - p.centre + z*math.Sqrt(v))},
	}
	out.Mean, out.Lower5 = out.Shift.Mean(), out.Shift.Lower5()
	var y []float64
	for _, b := range batches {
		y = append(y, b...)
	}
	out.Working = steps(out, p, first, stats.Mean(y))
	if far := math.Abs(m-p.centre) / math.Sqrt(p.kind-v); far > farFromBook {
		out.Warning = fmt.Sprintf("The tests of %s lie farther from the book than can be expected: check units, lever and sizes.", out.name())
	}
	out.Sentence = out.sentence()
	return out
}

// farFromBook is how many standard deviations of what the tests were expected to show may lie between them and the book
// without a warning. Common practice: 1 in 20 by chance.
const farFromBook = 2

func steps(c Calibrated, p, first prior, mean float64) working.Working {
	cite := source.At("longgrain", "docs/methods/testlog.md", source.Exact)
	return working.Working{
		{Title: "What the book says before the tests", Formula: "S² = ln(1 + V²), s₀² = ln(1 + 0.15²), b² = ⅔ (S² − s₀²), τ² = ⅓ (S² − s₀²)", Cite: source.Assumption(),
			Inputs: []working.Value{value("b", math.Sqrt(first.series), ""), {Symbol: "s₀", Number: math.Sqrt(first.testing), Cite: source.At("eckelman-2016", "abstract", source.Read)}},
			Result: value("τ", math.Sqrt(first.kind), ""), Note: "how much of it differs from series to series is assumed"},
		{Title: "Scatter within batches", Formula: "s² = (10 s₀² + Σ(y − ȳ)²) / (10 + Σ(n − 1)), y = ln(test/book)", Cite: cite, Result: value("s", math.Sqrt(p.testing), "")},
		{Title: "Factor on the book", Formula: "exp(m − centre), m = v (centre/τ² + Σ w ȳ), w = 1/(b² + s²/n), v = 1/(1/τ² + Σw)", Cite: cite,
			Inputs: []working.Value{value("tests", float64(c.Tests), ""), value("batches", float64(c.Batches), ""), value("mean y", mean, ""), value("centre", p.centre, "")}, Result: value("factor", c.Factor, "")},
		{Title: "Weight of the tests", Formula: "1 − v/τ²", Cite: cite, Result: value("w", c.Weight, "")},
		{Title: "Lower 5 % of further joints over the book's mean", Formula: "exp(m − 1.645 √(v + b² + s²))", Cite: cite,
			Inputs: []working.Value{value("√v", c.Doubt, "")}, Result: value("m₅", c.Lower5, ""), Note: "the book alone: " + figures(c.BookLow5)},
	}
}

// name says what was tested: "dowels in softwood, pulled or bent".
func (c Calibrated) name() string {
	how := "pulled or bent"
	if c.Way == joint.Sliding {
		how = "sheared"
	}
	return fmt.Sprintf("%s in %s, %s", c.Kind, c.Wood, how)
}

// asGood is below what difference from the book nothing is said. Judgement: a shop's rig reads no finer.
const asGood = 0.02

func (c Calibrated) sentence() string {
	beside := percent(math.Abs(c.Factor-1)) + " stronger than the book says"
	switch {
	case math.Abs(c.Factor-1) < asGood:
		beside = "as strong as the book says"
	case c.Factor < 1:
		beside = percent(math.Abs(c.Factor-1)) + " weaker than the book says"
	}
	batches := count(c.Batches, "batch")
	if c.Batches > 1 {
		batches = fmt.Sprintf("%d batches", c.Batches)
	}
	return fmt.Sprintf("%s: by %s in %s they are %s, between %s and %s times as strong; the tests weigh %s beside the book. 95 of 100 bear %s of the book's mean; if all you know is the species, %s.",
		c.name(), count(c.Tests, "test"), batches, beside, figures(c.Interval.Low), figures(c.Interval.High), percent(c.Weight), percent(c.Lower5), percent(c.BookLow5))
}

// Outlook returns the lower 5 % over the book's mean that ten tests in five batches would give, if they came out as the
// book says: what a log of one's own is worth. Panics unless cov is above joint.TestScatter.
func Outlook(cov float64) float64 {
	var would []Trial
	half := math.Sqrt(math.Log1p(joint.TestScatter*joint.TestScatter) / 2) // two tests as far apart as careful ones are
	centre := priorOf(cov).centre
	for i := range 10 {
		y := centre + half*float64(1-2*(i%2))
		would = append(would, Trial{Batch: fmt.Sprint(i / 2), Measured: math.Exp(y), Predicted: 1, COV: cov})
	}
	return update(would)[0].Lower5
}
