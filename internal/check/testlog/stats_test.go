package testlog

import (
	_ "embed"
	"encoding/csv"
	"encoding/json"
	"math"
	"strconv"
	"strings"
	"testing"

	"longgrain/internal/ground/source"
)

//go:embed testdata/published.csv
var published string

// checkFinite encodes the report: JSON has no word for what is not a number.
func checkFinite(t *testing.T, r Report) {
	t.Helper()
	if _, err := json.Marshal(r); err != nil {
		t.Fatalf("%v in %+v", err, r)
	}
}

func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if math.IsNaN(got) || math.Abs(got-want) > tolerance {
		t.Errorf("%s: got %.8g, want %.8g within %g", what, got, want, tolerance)
	}
}

// loads makes tests of one group that failed at the given loads, N; negative ones held.
func loads(name string, x ...float64) []Test {
	var out []Test
	for _, v := range x {
		test := Test{Group: name, Joint: "dowels", Species: "pine", Load: Typed{SI: math.Abs(v)}, Failure: Wood}
		if v < 0 {
			test.Failure = Away
		}
		out = append(out, test)
	}
	return out
}

func only(t *testing.T, tests []Test) Summary {
	t.Helper()
	r := Analyse(tests)
	checkFinite(t, r)
	if len(r.Groups) != 1 {
		t.Fatalf("%d groups", len(r.Groups))
	}
	return r.Groups[0]
}

func bound(s Summary, law string) float64 {
	for _, b := range s.Bounds {
		if b.Law == law {
			return b.Value
		}
	}
	return math.NaN()
}

// rows returns the rows of testdata/published.csv of one kind: n, factor, tolerance.
func rows(t *testing.T, kind string) [][3]float64 {
	t.Helper()
	r := csv.NewReader(strings.NewReader(published))
	r.Comment = '#'
	all, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var out [][3]float64
	for _, row := range all[1:] {
		if row[0] != kind {
			continue
		}
		var v [3]float64
		for i := range v {
			if v[i], err = strconv.ParseFloat(row[i+1], 64); err != nil {
				t.Fatal(err)
			}
		}
		out = append(out, v)
	}
	if len(out) == 0 {
		t.Fatalf("no rows of kind %s", kind)
	}
	return out
}

// spreadOut returns n loads with scatter.
func spreadOut(n int) []float64 {
	x := make([]float64, n)
	for i := range x {
		x[i] = 1000 + 150*math.Sin(2.3*float64(i)) + 5*float64(i%4)
	}
	return x
}

func TestBoundsAreThoseOfTheTablesOfFactors(t *testing.T) {
	for _, row := range rows(t, "tolerance") {
		x := spreadOut(int(row[0]))
		s := only(t, loads("a", x...))
		near(t, "normal "+strconv.Itoa(len(x)), (s.Mean-bound(s, "normal"))/s.Deviation, row[1], row[2])
		var sum, squares float64
		for _, v := range x {
			sum += math.Log(v)
		}
		m := sum / row[0]
		for _, v := range x {
			squares += (math.Log(v) - m) * (math.Log(v) - m)
		}
		near(t, "lognormal "+strconv.Itoa(len(x)), (m-math.Log(bound(s, "lognormal")))/math.Sqrt(squares/(row[0]-1)), row[1], row[2])
	}
	for _, row := range rows(t, "weibull") {
		s := only(t, loads("a", spreadOut(int(row[0]))...))
		for _, step := range s.Working {
			if strings.Contains(step.Title, "Weibull") {
				shape, scale := step.Inputs[0].Number, step.Inputs[1].Number
				x05 := scale * math.Pow(-math.Log(0.95), 1/shape)
				near(t, "weibull", -shape*math.Log(step.Result.Number/x05), row[1], row[2])
			}
		}
	}
}

// Source: testdata/published.csv. A sample of the published size, mean and deviation has the published limit.
func TestAPublishedSeriesHasItsPublishedMeanAndSpread(t *testing.T) {
	x := make([]float64, 214)
	// Half of the values one deviation below, half above, stretched for n - 1.
	for i := range x {
		x[i] = 353 + 48*math.Sqrt(213.0/214)*float64(1-2*(i%2))
	}
	s := only(t, loads("red oak", x...))
	near(t, "mean", s.Mean, 353, 1e-9)
	near(t, "variation", s.COV, 0.136, 0.0005)
	// k for 95 % at 75 % confidence lies between those of n 200 and infinity: 1.732 and 1.645 (tables).
	if k := (s.Mean - bound(s, "normal")) / s.Deviation; k < 1.645 || k > 1.733 {
		t.Errorf("factor %v", k)
	}
}

func TestFewTestsGetTheLowestBoundAndFewerNone(t *testing.T) {
	for n, want := range map[int]bool{1: false, 2: false, 3: true, 9: true} {
		s := only(t, loads("a", spreadOut(n)...))
		if (s.Lower5 != nil) != want {
			t.Errorf("%d tests: bound %v", n, s.Lower5)
		}
		if !want && !strings.Contains(s.Sentence, "No bound") {
			t.Errorf("%d tests: %s", n, s.Sentence)
		}
		for _, b := range s.Bounds {
			if b.Value < s.Lower5.Value {
				t.Errorf("%d tests: the %s bound is lower", n, b.Law)
			}
		}
	}
	if s := only(t, loads("a", spreadOut(10)...)); s.Lower5.Law != "lognormal" {
		t.Errorf("ten tests are judged by the %s law", s.Lower5.Law)
	}
	if s := only(t, loads("a", spreadOut(28)...)); bound(s, "smallest test") != s.Lowest {
		t.Error("the smallest of 28 is no bound")
	}
	if s := only(t, loads("a", 10, 1000, 2000)); s.Lower5.Value != 0 || !strings.Contains(strings.Join(s.Warnings, " "), "nothing can be counted on") {
		t.Errorf("great scatter: %+v", s)
	}
}

func TestNoTestIsNoError(t *testing.T) {
	r := Analyse(nil)
	checkFinite(t, r)
	if len(r.Groups) != 0 || len(r.Notes) != 1 || len(r.Calibration.Kinds) != 0 {
		t.Errorf("%+v", r)
	}
}

// With no scatter the lognormal bound rests on the least scatter of 0.05; k for n 4 is 2.681 (table of factors).
func TestEqualTestsStillHaveABoundBelowThem(t *testing.T) {
	s := only(t, loads("a", 900, 900, 900, 900))
	near(t, "bound", s.Lower5.Value, 900*math.Exp(-2.681*0.05), 0.05)
	if s.Deviation != 0 || s.COV != 0 || len(s.Bounds) != 2 {
		t.Errorf("%+v", s)
	}
	r := Analyse(append(loads("a", 900, 900), loads("b", 800, 800)...))
	checkFinite(t, r)
	if len(r.Comparisons) != 0 {
		t.Errorf("compared without scatter: %+v", r.Comparisons)
	}
}

func TestJointsThatHeldAreMarkedAndNotAveraged(t *testing.T) {
	s := only(t, loads("a", 900, 1000, 1100, -1500, -1600))
	if s.Failed != 3 || s.Held != 2 || s.Mean != 1000 || !s.Results[4].Held || len(s.Failures) != 2 {
		t.Errorf("%+v", s)
	}
	if !strings.Contains(strings.Join(s.Warnings, " "), "In 2 tests the wood broke away") {
		t.Errorf("not told: %v", s.Warnings)
	}
	all := only(t, loads("a", -900, -1000, -1100))
	if all.Mean != 0 || all.Failed != 0 || all.Lower5 == nil || !strings.Contains(all.Sentence, "every joint held, to 900 N at least") {
		t.Errorf("%+v", all)
	}
	// The bound treats them as failures: it can only be on the safe side of the same joints broken.
	if got, want := all.Lower5.Value, only(t, loads("a", 900, 1000, 1100)); got < want.Lower5.Value {
		t.Errorf("bound %v, of broken joints %v", got, want.Lower5.Value)
	}
}

func TestLoadsThatAreNoneAreLeftOutAndTold(t *testing.T) {
	tests := loads("a", 900, 1000, 1100)
	for _, v := range []float64{math.NaN(), math.Inf(1), 0, -5, 1e9} {
		tests = append(tests, Test{Group: "a", Joint: "dowels", Species: "pine", Load: Typed{SI: v}})
	}
	s := only(t, tests)
	if s.Unusable != 5 || s.Mean != 1000 || !strings.Contains(strings.Join(s.Warnings, " "), "5 tests without a usable load") {
		t.Errorf("%+v", s)
	}
}

func TestWithdrawnTestsDoNotCount(t *testing.T) {
	tests := loads("a", 900, 1100, 20)
	tests[2].Withdrawn = true
	if s := only(t, tests); s.Withdrawn != 1 || s.Mean != 1000 || len(s.Results) != 2 {
		t.Errorf("%+v", s)
	}
	tests[0].Withdrawn, tests[1].Withdrawn = true, true
	if s := only(t, tests); s.Failed != 0 || !strings.Contains(s.Sentence, "no test that counts") {
		t.Errorf("%+v", s)
	}
}

func TestAnOddTestIsNamedAndStillCounts(t *testing.T) {
	s := only(t, loads("a", 1000, 1010, 990, 1005, 995, 1002, 300))
	if s.Failed != 7 || len(s.Warnings) != 1 || !strings.Contains(s.Warnings[0], "300 N lies far from the others (Grubbs") {
		t.Errorf("%+v", s.Warnings)
	}
	if s := only(t, loads("a", spreadOut(8)...)); len(s.Warnings) != 0 {
		t.Errorf("a sound group is warned of: %v", s.Warnings)
	}
}

// Source: R 4, help page of t.test, sleep data: 95 % interval -3.3654832 to 0.2054832, mean difference -1.58. On the scale of
// logarithms it is a ratio of medians. The loads are e to these powers, in 100 N.
func TestRatioMeetsAPublishedComparison(t *testing.T) {
	scaled := func(x ...float64) []float64 {
		for i := range x {
			x[i] = 100 * math.Exp(x[i])
		}
		return x
	}
	a := loads("first", scaled(0.7, -1.6, -0.2, -1.2, -0.1, 3.4, 3.7, 0.8, 0, 2)...)
	b := loads("second", scaled(1.9, 0.8, 1.1, 0.1, -0.1, 4.4, 5.5, 1.6, 4.6, 3.4)...)
	r := Analyse(append(a, b...))
	c := r.Comparisons[0]
	near(t, "ratio", math.Log(c.Ratio), 1.58, 1e-9)
	near(t, "low", math.Log(c.Interval.Low), -0.2054832, 5e-8)
	near(t, "high", math.Log(c.Interval.High), 3.3654832, 5e-8)
	if c.Stronger != "second" || c.Settled || c.NeedEach <= 10 || !strings.Contains(c.Sentence, "not settled") || !strings.Contains(c.Sentence, "more tests of each") {
		t.Errorf("%+v", c)
	}
}

// Source: R 4, power.t.test(power = 0.80, delta = 1): 16.71477, so 17 tests of each for a ratio of one deviation.
func TestTestsThatWouldSettleItMeetAPublishedNumber(t *testing.T) {
	// Two groups of logarithms with deviation 0.2 and means 0.2 apart.
	s := 0.2 / math.Sqrt(2)
	group := func(name string, m float64) []Test { return loads(name, 100*math.Exp(m-s), 100*math.Exp(m+s)) }
	r := Analyse(append(group("a", 0.2), group("b", 0)...))
	if c := r.Comparisons[0]; c.NeedEach != 17 || !strings.Contains(c.Sentence, "15 more tests of each") {
		t.Errorf("%+v", c)
	}
}

func TestWildScatterHasNoEndlessRatios(t *testing.T) {
	var tests []Test
	for i := range 40 {
		tests = append(tests, loads(strconv.Itoa(i), 0.001, 1e6)...)
	}
	r := Analyse(tests)
	checkFinite(t, r)
	if c := r.Comparisons[0]; c.Settled || c.Detectable > 1.001e9 || c.Interval.Low < 0.999e-9 {
		t.Errorf("%+v", c)
	}
}

func TestClearDifferencesAreSettled(t *testing.T) {
	r := Analyse(append(append(loads("weak", 500, 520, 480, 510), loads("strong", 1000, 1040, 960, 1020)...), loads("strong too", 1001, 1030, 970, 1015)...))
	if len(r.Comparisons) != 3 {
		t.Fatalf("%d comparisons", len(r.Comparisons))
	}
	settled := 0
	for _, c := range r.Comparisons {
		near(t, "confidence", c.Confidence, 1-0.05/3, 1e-12)
		if c.Settled {
			settled++
			near(t, "ratio", c.Ratio, 2, 0.01)
		} else if !strings.Contains(c.Sentence, "too alike") {
			t.Error(c.Sentence)
		}
	}
	if settled != 2 {
		t.Errorf("%d settled", settled)
	}
}

func TestMomentsAreNotComparedWithLoads(t *testing.T) {
	r := Analyse(mustRead(t, string(sampleLog)))
	checkFinite(t, r)
	if len(r.Groups) != 3 || r.Groups[0].Quantity != moment || r.Groups[2].Quantity != load || len(r.Notes) != 1 {
		t.Fatalf("%+v", r)
	}
	// 950 N, 212 lbf at 300 mm, 1.02 kN at 12 in
	near(t, "mean moment", r.Groups[0].Mean, (285+282.90689475+310.896)/3, 1e-6)
	if len(r.Comparisons) != 1 || r.Comparisons[0].Stronger != r.Groups[1].Group {
		t.Errorf("%+v", r.Comparisons)
	}
}

func TestMixedGroupsAreWarnedOf(t *testing.T) {
	tests := loads("a", 900, 1000)
	tests[1].Joint, tests[1].Species, tests[1].Lever = "tenon", "oak", &Typed{"1 m", 1}
	warnings := strings.Join(only(t, tests).Warnings, " ")
	for _, want := range []string{"mixes kinds of joint: dowels and mortise and tenon", "mixes woods: pine and oak", "mixes levers"} {
		if !strings.Contains(warnings, want) {
			t.Errorf("no %q in %s", want, warnings)
		}
	}
}

func TestManyGroupsAreComparedWithTheStrongestOrNotAtAll(t *testing.T) {
	many := func(n int) Report {
		var tests []Test
		for i := range n {
			tests = append(tests, loads(strconv.Itoa(i), 900+float64(i), 1000)...)
		}
		return Analyse(tests)
	}
	if r := many(6); len(r.Comparisons) != 15 {
		t.Errorf("%d comparisons of six groups", len(r.Comparisons))
	}
	if r := many(8); len(r.Comparisons) != 7 || r.Comparisons[0].Stronger != "7" {
		t.Errorf("%d comparisons of eight groups", len(r.Comparisons))
	}
	if r := many(51); len(r.Comparisons) != 0 || !strings.Contains(strings.Join(r.Notes, ""), "too many") {
		t.Errorf("%d comparisons of 51 groups, notes %v", len(r.Comparisons), r.Notes)
	}
}

func TestEveryStepNamesItsSource(t *testing.T) {
	r := Analyse(mustRead(t, string(sampleLog)))
	check := func(title string, c source.Cite) {
		if c.Key == "" {
			t.Errorf("%s has no source", title)
		}
	}
	for _, g := range r.Groups {
		for _, step := range g.Working {
			check(step.Title, step.Cite)
		}
	}
	for _, c := range r.Comparisons {
		for _, step := range c.Working {
			check(step.Title, step.Cite)
		}
	}
	for _, k := range r.Calibration.Kinds {
		for _, step := range k.Working {
			check(step.Title, step.Cite)
		}
	}
}

func TestGroupsAreNamedByWhatTheyDifferIn(t *testing.T) {
	const head = "joint,species,count,load,sizes.diameter,sizes.rail width\n"
	const rows = "dowels,pine,2,5 N,8 mm,60 mm\ndowels,pine,2,6 N,8 mm,2 in\ndowel,pine,2,7 N,8 mm,50.8 mm\ndowels,pine,3,7 N,8 mm,60 mm\ntenon,pine,,9 N,,60 mm\n"
	var names []string
	for _, g := range Analyse(mustRead(t, head+rows)).Groups {
		names = append(names, g.Group+": "+strconv.Itoa(g.Failed))
	}
	want := "2 × dowels, pine, rail width 60 mm: 1|2 × dowels, pine, rail width 50.8 mm: 2|3 × dowels, pine: 1|mortise and tenon, pine: 1"
	if got := strings.Join(names, "|"); got != want {
		t.Errorf("groups\n%s\nwant\n%s", got, want)
	}
}
