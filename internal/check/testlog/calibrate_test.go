package testlog

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"longgrain/internal/design/joint"
	"longgrain/internal/ground/stats"
	"longgrain/internal/trade/wood"
)

// dowelCOV is the variation of the book for dowels in these tests: 0.25 for the model and 0.15 for tests.
var dowelCOV = math.Hypot(0.25, 0.15)

var dowelsBent = joint.Tested{Kind: joint.Dowels, Wood: wood.Softwood, Way: joint.Opening}

// batchesOf makes trials of one kind, a slice of ratios to the book's median for each batch.
func batchesOf(cov float64, ratios ...[]float64) []Trial {
	var out []Trial
	for i, batch := range ratios {
		for _, r := range batch {
			out = append(out, Trial{Tested: dowelsBent, Batch: strconv.Itoa(i), Measured: 1000 * r * math.Exp(priorOf(cov).centre), Predicted: 1000, COV: cov})
		}
	}
	return out
}

func repeated(ratio float64, n int) []float64 {
	out := make([]float64, n)
	for i := range out {
		out[i] = ratio
	}
	return out
}

func one(t *testing.T, trials []Trial) Calibrated {
	t.Helper()
	all := update(trials)
	if len(all) != 1 {
		t.Fatalf("%d kinds", len(all))
	}
	return all[0]
}

// byGrid works the posterior out by summing prior times likelihood over a fine grid of θ, knowing no closed form for
// θ: each batch's tests are normal about θ + b_i, and b_i is summed out over a grid of its own.
func byGrid(batches [][]float64, p prior) (mean, deviation, lower5 float64) {
	const step, shift = 2e-3, 2e-2
	var thetas, weights []float64
	sum := 0.0
	normal := func(x, variance float64) float64 { return math.Exp(-x * x / (2 * variance)) }
	for theta := -2.0; theta < 2.0; theta += step {
		l := normal(theta-p.centre, p.kind)
		for _, batch := range batches {
			inner := 0.0
			for b := -2.0; b < 2.0; b += shift {
				w := normal(b, p.series)
				for _, y := range batch {
					w *= normal(y-theta-b, p.testing)
				}
				inner += w
			}
			l *= inner
		}
		thetas, weights = append(thetas, theta), append(weights, l)
		sum += l
	}
	for i, theta := range thetas {
		mean += theta * weights[i] / sum
	}
	for i, theta := range thetas {
		deviation += (theta - mean) * (theta - mean) * weights[i] / sum
	}
	low, high := -5.0, 5.0
	for high-low > 1e-8 {
		middle, share := (low+high)/2, 0.0
		for i, theta := range thetas {
			share += stats.NormalCDF((middle-theta)/math.Sqrt(p.series+p.testing)) * weights[i] / sum
		}
		if share < 0.05 {
			low = middle
		} else {
			high = middle
		}
	}
	return mean, math.Sqrt(deviation), low
}

func TestUpdatingMeetsTheSumOverAGrid(t *testing.T) {
	ratios := [][]float64{{1.4, 1.1, 1.7}, {0.9}, {1.2, 1.3}}
	for _, cov := range []float64{math.Hypot(0.25, 0.15), math.Hypot(0.35, 0.15)} {
		m := one(t, batchesOf(cov, ratios...))
		p := priorOf(cov)
		var y [][]float64
		for _, batch := range ratios {
			var logs []float64
			for _, r := range batch {
				logs = append(logs, math.Log(r)+p.centre)
			}
			y = append(y, logs)
		}
		p.testing = p.pooled(y)
		mean, deviation, lower5 := byGrid(y, p)
		near(t, "centre", m.Centre, mean, 1e-6)
		near(t, "doubt", m.Doubt, deviation, 1e-6)
		near(t, "lower 5 %", math.Log(m.Lower5), lower5, 1e-6)
	}
}

// Hand-worked for V² = 0.25² + 0.15² = 0.085: S² = ln 1.085 = 0.081580, s² = ln 1.0225 = 0.022251, b² = 0.039553,
// τ² = 0.019776. One test: τ²/(τ² + b² + s²) = 0.242. Ten in one batch: 0.019776/(0.019776 + 0.039553 + 0.002225).
// Two tests move the book a little, ten in several batches a lot, ten of one batch hardly more than two.
func TestTwoTestsWeighLittleAndTenInSeveralBatchesALot(t *testing.T) {
	cases := []struct {
		what    string
		batches [][]float64
		want    float64
	}{
		{"one", [][]float64{{1}}, 0.2424},
		{"two of one day", [][]float64{{1, 1}}, 0.2807},
		{"two of two days", [][]float64{{1}, {1}}, 0.3902},
		{"ten of one day", [][]float64{repeated(1, 10)}, 0.3213},
		{"ten of five days", [][]float64{{1, 1}, {1, 1}, {1, 1}, {1, 1}, {1, 1}}, 0.6612},
	}
	for _, c := range cases {
		p := priorOf(dowelCOV) // tests alike show no scatter; the weights above are for that of careful joints
		m, v := p.posterior(c.batches)
		near(t, c.what, 1-v/p.kind, c.want, 1e-4)
		mean := 1.0
		near(t, c.what+", centre", m, p.centre+(1-v/p.kind)*(mean-p.centre), 1e-12)
	}
}

// Without a test the book stands to the last digit: mean, lower 5 % and variation.
func TestThePriorIsTheBook(t *testing.T) {
	for _, cov := range []float64{0.2, 0.2915, 0.38, 0.6} {
		p := priorOf(cov)
		book := joint.Shift{Centre: p.centre, Doubt: math.Sqrt(p.kind), Scatter: math.Sqrt(p.series + p.testing)}
		s := math.Sqrt(math.Log1p(cov * cov))
		near(t, "mean", book.Mean(), 1, 1e-12)
		near(t, "lower 5 %", book.Lower5(), math.Exp(-1.6448536*s)/math.Sqrt(1+cov*cov), 1e-8)
		near(t, "variation", book.COV(), cov, 1e-12)
	}
}

// 10 tests' worth of 0.0223 and a batch of two at a distance of 0.4: Σ(y - ȳ)² = 0.08, one more degree of freedom.
func TestScatterOfTheShopIsPooledWithThatOfCarefulJoints(t *testing.T) {
	p := priorOf(dowelCOV)
	near(t, "pooled", p.pooled([][]float64{{0.1, 0.5}, {7}}), (10*p.testing+0.08)/11, 1e-12)
	careful := one(t, batchesOf(dowelCOV, []float64{1, 1.01, 0.99, 1, 1.01, 0.99}, []float64{1, 1.01, 0.99, 1, 1.01, 0.99}))
	wild := one(t, batchesOf(dowelCOV, []float64{0.5, 2, 0.6, 1.8, 0.7, 1.3}, []float64{0.5, 2, 0.6, 1.8, 0.7, 1.3}))
	if careful.Lower5 <= careful.BookLow5 || wild.Lower5 >= wild.BookLow5 {
		t.Errorf("lower 5 %%: careful %v, wild %v, book %v", careful.Lower5, wild.Lower5, careful.BookLow5)
	}
}

func TestOneOddTestAmongManyMovesTheFactorLittle(t *testing.T) {
	sound := one(t, batchesOf(dowelCOV, repeated(1, 5), repeated(1, 5)))
	odd := one(t, batchesOf(dowelCOV, repeated(1, 5), append(repeated(1, 5), 0.7)))
	near(t, "sound", sound.Factor, 1, 1e-12)
	if odd.Factor < 0.96 || odd.Factor >= 1 {
		t.Errorf("factor %v", odd.Factor)
	}
}

func TestJointsThatHeldDoNotCalibrate(t *testing.T) {
	held := batchesOf(dowelCOV, []float64{1, 2})
	held[1].Held = true
	if m := one(t, held); m.Tests != 1 || m.Held != 1 || math.Abs(m.Factor-1) > 1e-12 {
		t.Errorf("%+v", m)
	}
	held[0].Held = true
	if c := update(held); len(c) != 0 {
		t.Errorf("calibrated by joints that held: %+v", c)
	}
}

func TestTestsFarFromTheBookAreWarnedOf(t *testing.T) {
	if far := one(t, batchesOf(dowelCOV, repeated(10, 3))); !strings.Contains(far.Warning, "check units") {
		t.Errorf("warning %q", far.Warning)
	}
	if near := one(t, batchesOf(dowelCOV, []float64{1.2, 1.3})); near.Warning != "" {
		t.Errorf("warning %q", near.Warning)
	}
}

func TestATrialThatIsNoneIsAMistakeOfTheProgram(t *testing.T) {
	for _, bad := range []Trial{{Measured: 0, Predicted: 1, COV: 1}, {Measured: 1, Predicted: 0, COV: 1}, {Measured: math.NaN(), Predicted: 1, COV: 1}, {Measured: -1, Predicted: 1, COV: 1}, {Measured: 1, Predicted: 1, COV: 0.15}} {
		func() {
			defer func() {
				if recover() == nil {
					t.Errorf("%+v was accepted", bad)
				}
			}()
			update([]Trial{bad})
		}()
	}
}

// fullLog is made up: dowels and tenons with every size the book asks for, and rows that lack some.
const fullLog = `joint,species,count,lever,direction,load,tested,sizes.rail width,sizes.rail thickness,sizes.diameter,sizes.depth in rail,sizes.depth in leg,sizes.spacing,sizes.thickness,sizes.width,sizes.length
dowel,eastern white pine,2,300 mm,open,600 N,3 May,60 mm,18 mm,8 mm,20 mm,20 mm,32 mm,,,
dowels,eastern white pine,2,12 in,open,140 lbf,3 May,2 3/8 in,18 mm,8 mm,20 mm,20 mm,32 mm,,,
dowels,eastern white pine,2,300 mm,open,550 N,4 May,60 mm,18 mm,8 mm,20 mm,20 mm,32 mm,,,
dowels,white oak,2,300 mm,open,900 N,4 May,60 mm,18 mm,8 mm,20 mm,20 mm,32 mm,,,
dowels,eastern white pine,2,,pull,4 kN,4 May,60 mm,18 mm,8 mm,20 mm,20 mm,,,,
dowels,eastern white pine,2,300 mm,open,550 N,4 May,60 mm,18 mm,8 mm,20 mm,,,,,
dowels,pine,2,300 mm,open,550 N,4 May,60 mm,18 mm,8 mm,20 mm,20 mm,32 mm,,,
tenon,sugar pine,,300 mm,close,550 N,,60 mm,18 mm,,,,,6 mm,40 mm,30 mm
screwed butt,sugar pine,,300 mm,close,550 N,,60 mm,18 mm,,,,,,,
dowels,eastern white pine,2,,,550 N,4 May,60 mm,18 mm,8 mm,20 mm,20 mm,32 mm,,,
`

func TestTestsAreSetBesideTheBookByKindWoodAndWay(t *testing.T) {
	tests := mustRead(t, fullLog)
	c := Calibrate(tests)
	var names []string
	for _, k := range c.Kinds {
		names = append(names, k.name()+" "+k.Words())
	}
	want := "dowels in softwood, pulled or bent shop, 4 tests in 2 batches|dowels in hardwood, pulled or bent shop, 1 test in 1 batch|mortise and tenon in softwood, pulled or bent shop, 1 test in 1 batch"
	if got := strings.Join(names, "|"); got != want {
		t.Errorf("calibrated\n%s\nwant\n%s", got, want)
	}
	var unused []string
	for _, u := range c.Unused {
		unused = append(unused, u.Sentence())
	}
	want = `Test 6, dowels in eastern white pine: missing the depth of the dowels in the other part, the spacing of the dowels.
Test 7, dowels in pine: missing a wood of the catalogue instead of "pine", such as eastern white pine.
Test 9, screwed butt in sugar pine: missing a model of "screwed butt".
Test 10, dowels in eastern white pine: missing how it was loaded: a lever, or pull or shear as direction.`
	if got := strings.Join(unused, "\n"); got != want {
		t.Errorf("unused\n%s\nwant\n%s", got, want)
	}
}

// The prediction of a row is that of package joint for the same sizes, whatever units they are typed in.
func TestTheForecastOfARowIsThatOfTheJoint(t *testing.T) {
	tests := mustRead(t, fullLog)
	p := joint.Specimen{Kind: joint.Dowels, SpeciesA: "eastern-white-pine", Width: 60e6, Thickness: 18e6, Spacing: 32e6, Action: joint.Bent, Lever: 300e6,
		Sizes: joint.Sizes{Count: 2, Diameter: 8e6, DepthA: 20e6, DepthB: 20e6}}
	want, missing := p.Predict()
	got, lacks := Forecast(tests[0])
	if len(missing)+len(lacks) > 0 {
		t.Fatal(missing, lacks)
	}
	near(t, "load", got, float64(want.Load), 1e-9)
	if at12, _ := Forecast(tests[1]); math.Abs(at12/got-300/304.8) > 0.01 {
		t.Errorf("%v at 12 in, %v at 300 mm", at12, got)
	}
}

func TestShopTestsShiftTheJointsOfTheirKindAndNotTheRail(t *testing.T) {
	shift := joint.Calibration{dowelsBent: one(t, batchesOf(dowelCOV, repeated(3, 5), repeated(3, 5))).Shift}
	site := joint.Site{}
	site.A.Species, site.B.Species = "eastern-white-pine", "white-oak"
	j := joint.Joint{Kind: joint.Dowels}
	j.Strength.BendU = joint.Resistance{Mean: 100, Lower5: 60, COV: dowelCOV, Governs: "glue", From: joint.Book,
		Limits: []joint.Limit{{Name: joint.RailItself, Mean: 150}, {Name: "glue", Mean: 100}}}
	j.Strength.ShearU = joint.Resistance{Mean: 10, Lower5: 6, COV: dowelCOV, Governs: "pin", From: joint.Book, Limits: []joint.Limit{{Name: "pin", Mean: 10}}}
	got := shift.Apply(site, j).Strength
	s := shift[dowelsBent]
	if s.Mean() < 1.6 {
		t.Fatalf("factor %v", s.Mean())
	}
	near(t, "the rail governs, as in the book", got.BendU.Lower5, 150*0.6, 1e-9)
	if got.BendU.Governs != joint.RailItself || got.BendU.From != "shop, 10 tests in 2 batches" || got.BendU.Shop.BookLower5 != 60 {
		t.Errorf("%+v", got.BendU)
	}
	if got.ShearU.From != joint.Book || got.ShearU.Lower5 != 6 || got.ShearU.Shop != nil {
		t.Errorf("bending tests shift shear: %+v", got.ShearU)
	}
	j.Kind = joint.Biscuits
	if same := shift.Apply(site, j).Strength.BendU; same.Lower5 != 60 || same.From != joint.Book {
		t.Errorf("tests of dowels shift biscuits: %+v", same)
	}
}

// A shop that tests more knows more; ten tests as the book says are worth something.
func TestOutlookIsAboveTheBookAlone(t *testing.T) {
	for _, cov := range []float64{math.Hypot(0.25, 0.15), math.Hypot(0.35, 0.15)} {
		p := priorOf(cov)
		alone := stats.LognormalQuantile(0.05, p.centre, math.Sqrt(p.kind+p.series+p.testing))
		if got := Outlook(cov); got <= alone*1.01 || got > alone*1.3 {
			t.Errorf("variation %.2f: %v beside %v", cov, got, alone)
		}
	}
}
