package testlog

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"longgrain/internal/ground/source"
	"longgrain/internal/ground/stats"
	"longgrain/internal/ground/unit"
	"longgrain/internal/ground/working"
)

// Settings of comparisons. Level and power are common practice; the limits are judgement.
const (
	level        = 0.05 // chance that all comparisons together name a difference that is none
	power        = 0.80 // chance to show a true difference that is asked of a number of tests
	pairsUpTo    = 6    // groups up to which each is compared with each, beyond only with the strongest
	comparedUpTo = 50   // groups beyond which the confidence of a comparison is used up
	testsUpTo    = 200  // tests of a group beyond which no shop goes
)

// Comparison is the ratio of the strengths of two groups, the stronger over the weaker, as medians. It
// takes the tests in which the joint failed.
type Comparison struct {
	Stronger   string          `json:"stronger"`
	Weaker     string          `json:"weaker"`
	Ratio      float64         `json:"ratio"`
	Interval   Range           `json:"interval"`
	Confidence float64         `json:"confidence"` // of the interval; all comparisons together have 95 %
	Settled    bool            `json:"settled"`    // the interval leaves out 1
	Power      float64         `json:"power"`      // chance of as many tests to show a true ratio as large as that seen
	Detectable float64         `json:"detectable"` // ratio that as many tests show four times out of five
	NeedEach   int             `json:"needEach"`   // tests of each group that settle the ratio seen; 0: more than a shop makes
	Sentence   string          `json:"sentence"`
	Working    working.Working `json:"working,omitempty"`
}

// contender is a group that can be compared.
type contender struct {
	group *Summary
	logs  []float64 // of the tests in which the joint failed
	mean  float64   // of logs
}

// compare compares groups that are judged by the same quantity. The confidence of each interval is
// raised so that all together hold with 95 %.
//
//	confidence = 1 - 0.05/m,  m = k (k - 1)/2
//
// k is the number of groups. It counts every pair, also where only those with the strongest are told, because
// the tests decide which that is. Notes say what was not compared. Source: Bonferroni's inequality.
func compare(groups []Summary) (out []Comparison, notes []string) {
	for _, q := range []Quantity{load, moment} {
		var who []contender
		for i := range groups {
			if c := newContender(&groups[i]); c.group.Quantity == q && len(c.logs) >= 2 {
				who = append(who, c)
			}
		}
		if len(who) > comparedUpTo {
			notes = append(notes, fmt.Sprintf("%d groups are judged by the %s: too many to compare. Name the groups that belong together.", len(who), q.Name))
			continue
		}
		slices.SortStableFunc(who, func(a, b contender) int { return cmp.Compare(b.mean, a.mean) })
		pairs := len(who) * (len(who) - 1) / 2
		for i := range who {
			for j := i + 1; j < len(who) && (i == 0 || len(who) <= pairsUpTo); j++ {
				if c, ok := ratio(who[i], who[j], level/float64(pairs)); ok {
					out = append(out, c)
				}
			}
		}
	}
	return out, notes
}

func newContender(s *Summary) contender {
	c := contender{group: s}
	for _, r := range s.Results {
		if !r.Held {
			c.logs = append(c.logs, math.Log(r.Value))
		}
	}
	c.mean = stats.Mean(c.logs)
	return c
}

// ratio compares two groups on the scale of logarithms, on which the ratio of medians is a difference.
//
//	ratio = exp(mean ln a - mean ln b), its interval that of Welch
//
// False when neither group has scatter. Source: [welch-1947]; docs/methods/testlog.md.
func ratio(a, b contender, level float64) (Comparison, bool) {
	d, ok := stats.Welch(a.logs, b.logs, 1-level)
	if !ok {
		return Comparison{}, false
	}
	c := Comparison{Stronger: a.group.Group, Weaker: b.group.Group, Confidence: 1 - level,
		Ratio: ratioOf(d.Estimate), Interval: Range{ratioOf(d.Low), ratioOf(d.High)}, Settled: d.Low > 0}
	deviation := max(stats.PooledDeviation(a.logs, b.logs), stats.MinLogDeviation)
	na, nb := len(a.logs), len(b.logs)
	c.Power = stats.Power(na, nb, d.Estimate/deviation, level)
	c.Detectable = ratioOf(deviation * stats.Detectable(na, nb, level, power))
	c.NeedEach, _ = stats.SampleSize(d.Estimate/deviation, level, power, testsUpTo)
	cite := source.At("longgrain", "docs/methods/testlog.md", source.Exact)
	c.Working = working.Working{
		{Title: "Ratio of medians", Formula: "exp(mean ln a - mean ln b)", Result: value("ratio", c.Ratio, ""), Cite: source.At("welch-1947", "", source.CrossChecked),
			Inputs: []working.Value{value("n_a", float64(na), ""), value("n_b", float64(nb), ""), value("ν", d.DegreesOfFreedom, ""), value("e", d.StandardError, ""), value("p", d.SignificanceLevel, "")}},
		{Title: "Its interval, from", Formula: "exp(d - t e)", Result: value("from", c.Interval.Low, ""), Inputs: []working.Value{value("to", c.Interval.High, ""), value("confidence", c.Confidence, "")}, Cite: source.At("welch-1947", "", source.CrossChecked)},
		{Title: "Ratio that as many tests show", Formula: "P(|T| > t) = 0.8, T noncentral", Result: value("ratio", c.Detectable, ""), Inputs: []working.Value{value("s_ln", deviation, ""), value("power for the ratio seen", c.Power, "")}, Cite: cite},
	}
	c.Sentence = c.sentence(na, nb, a.group.Held+b.group.Held)
	return c, true
}

// ratioOf returns the ratio of a difference of logarithms, at most a billion either way: no two loads that are
// read differ by more, and two tests with great scatter would ask for more than a float can hold.
func ratioOf(logarithm float64) float64 {
	limit := math.Log(float64(unit.MaxForce / unit.MinForce))
	return math.Exp(max(-limit, min(logarithm, limit)))
}

func (c Comparison) sentence(na, nb, held int) string {
	interval := fmt.Sprintf("between %s and %s times as strong", figures(c.Interval.Low), figures(c.Interval.High))
	out := ""
	switch {
	case c.Settled:
		out = fmt.Sprintf("%s is stronger than %s: %s times, with 95 %% confidence %s.", c.Stronger, c.Weaker, figures(c.Ratio), interval)
	case c.NeedEach == 0 && min(na, nb) >= testsUpTo:
		out = fmt.Sprintf("%s and %s are too alike to tell apart: %s, after %d and %d tests.", c.Stronger, c.Weaker, interval, na, nb)
	case c.NeedEach == 0:
		out = fmt.Sprintf("%s and %s are too alike to tell apart: %s. Not even %d tests of each would settle it; a ratio of %s would have shown four times out of five.",
			c.Stronger, c.Weaker, interval, testsUpTo, figures(c.Detectable))
	default:
		out = fmt.Sprintf("%s seems %s times as strong as %s, but may be %s: not settled. %s would settle it four times out of five if the ratio is as seen.",
			c.Stronger, figures(c.Ratio), c.Weaker, interval, more(c.NeedEach-na, c.Stronger, c.NeedEach-nb, c.Weaker))
	}
	if held > 0 {
		out += fmt.Sprintf(" %s in which the joint held left out.", count(held, "test"))
	}
	return out
}

// more says how many tests are missing; in an unsettled comparison of few tests at least one always is.
func more(a int, nameA string, b int, nameB string) string {
	switch a, b = max(a, 0), max(b, 0); {
	case a == 0 && b == 0:
		return "1 more test of each"
	case a == b:
		return count(a, "more test") + " of each"
	case a == 0:
		return count(b, "more test") + " of " + nameB
	case b == 0:
		return count(a, "more test") + " of " + nameA
	}
	return fmt.Sprintf("%s of %s and %d of %s", count(a, "more test"), nameA, b, nameB)
}
