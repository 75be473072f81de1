package testlog

import (
	"math"
	"strings"
	"testing"

	"longgrain/internal/design/joint"
	"longgrain/internal/ground/stats"
)

func trials(kind joint.Kind, ratios ...float64) []Trial {
	var out []Trial
	for _, r := range ratios {
		out = append(out, Trial{Kind: kind, Measured: 1000 * r, Predicted: 1000})
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

// byGrid works the posterior out by summing prior times likelihood over a fine grid, knowing no closed form: mean
// and deviation of θ, and the 5 % point of a further test.
func byGrid(y []float64, s, tau float64) (mean, deviation, lower5 float64) {
	const step = 1e-4
	var thetas, weights []float64
	sum := 0.0
	for theta := -2.5; theta < 2.5; theta += step {
		l := -theta * theta / (2 * tau * tau)
		for _, v := range y {
			l -= (v - theta) * (v - theta) / (2 * s * s)
		}
		thetas, weights = append(thetas, theta), append(weights, math.Exp(l))
		sum += math.Exp(l)
	}
	for i, theta := range thetas {
		mean += theta * weights[i] / sum
	}
	for i, theta := range thetas {
		deviation += (theta - mean) * (theta - mean) * weights[i] / sum
	}
	low, high := -5.0, 5.0
	for high-low > 1e-8 {
		middle, p := (low+high)/2, 0.0
		for i, theta := range thetas {
			p += stats.NormalCDF((middle-theta)/s) * weights[i] / sum
		}
		if p < 0.05 {
			low = middle
		} else {
			high = middle
		}
	}
	return mean, math.Sqrt(deviation), low
}

func TestUpdatingMeetsTheSumOverAGrid(t *testing.T) {
	ratios := []float64{1.4, 1.1, 1.7, 0.9}
	var y []float64
	for _, r := range ratios {
		y = append(y, math.Log(r))
	}
	for kind, tau := range map[joint.Kind]float64{joint.Dowels: 0.25, joint.Biscuits: 0.35, "half lap": 0.35} {
		m := Calibrate(trials(kind, ratios...))[kind]
		mean, deviation, lower5 := byGrid(y, 0.17, tau)
		near(t, "median", math.Log(m.Median), mean, 1e-7)
		near(t, "interval", math.Log(m.Interval.High/m.Interval.Low), 2*1.6448536*deviation, 1e-6)
		near(t, "lower 5 %", math.Log(m.Lower5), lower5, 1e-6)
	}
}

// The weights follow from n/s² / (n/s² + 1/τ²) with s 0.17 and τ 0.25: three tests carry 87 %, the figure that the reference note gives.
func TestMoreTestsWeighMore(t *testing.T) {
	for n, want := range map[int]float64{1: 0.684, 2: 0.812, 3: 0.866, 5: 0.915, 10: 0.956} {
		m := Calibrate(trials(joint.Dowels, repeated(1.5, n)...))[joint.Dowels]
		near(t, "weight", m.Weight, want, 0.0005)
		near(t, "median", math.Log(m.Median), m.Weight*math.Log(1.5), 1e-12)
	}
}

// A further test as strong as the book says changes the median only a little and narrows what it may be.
func TestOneOddTestAmongManyMovesTheMultiplierLittle(t *testing.T) {
	sound := Calibrate(trials(joint.Dowels, repeated(1, 10)...))[joint.Dowels]
	odd := Calibrate(trials(joint.Dowels, append(repeated(1, 10), 0.7)...))[joint.Dowels]
	if sound.Median != 1 || odd.Median < 0.96 || odd.Median >= 1 {
		t.Errorf("medians %v and %v", sound.Median, odd.Median)
	}
}

func TestWithoutTestsTheBookStands(t *testing.T) {
	book := joint.Resistance{Mean: 200, Lower5: 120, COV: 0.29, Governs: "glue", Limits: []joint.Limit{{Name: "glue", Mean: 200}, {Name: "wood", Mean: 300}}}
	for _, c := range []Calibration{nil, Calibrate(nil), Calibrate(trials(joint.Tenon, 1.5))} {
		if got := c.Apply(joint.Dowels, book); got.Mean != 200 || got.Lower5 != 120 || got.COV != 0.29 {
			t.Errorf("%+v", got)
		}
		if m := c.Of(joint.Dowels); m.Origin != "book" || m.Median != 1 || m.Weight != 0 {
			t.Errorf("%+v", m)
		}
	}
}

func TestApplyingShiftsMeanAndLimitsAndReplacesTheScatter(t *testing.T) {
	book := joint.Resistance{Mean: 200, Lower5: 120, COV: 0.29, Governs: "glue", Limits: []joint.Limit{{Name: "glue", Mean: 200}, {Name: "wood", Mean: 300}}}
	c := Calibrate(trials(joint.Dowels, 1.2, 1.3, 1.25, 1.3, 1.2))
	m := c.Of(joint.Dowels)
	got := c.Apply(joint.Dowels, book)
	near(t, "mean", got.Mean, 200*m.Median, 1e-9)
	near(t, "governing limit", got.Limits[0].Mean, got.Mean, 1e-9)
	near(t, "other limit", got.Limits[1].Mean, 300*m.Median, 1e-9)
	near(t, "lower 5 %", got.Lower5, 200*m.Lower5, 1e-9)
	near(t, "lower 5 % under the median", math.Log(got.Mean/got.Lower5), 1.6448536*m.Scatter, 1e-6)
	near(t, "variation", got.COV, math.Sqrt(math.Exp(m.Scatter*m.Scatter)-1), 1e-12)
	if book.Limits[0].Mean != 200 {
		t.Error("the book was changed")
	}
	if m.Origin != "shop, 5 tests" || got.COV >= book.COV || got.Lower5 <= book.Lower5 || got.Governs != "glue" {
		t.Errorf("%+v from %+v", got, m)
	}
}

func TestJointsThatHeldDoNotCalibrate(t *testing.T) {
	held := trials(joint.Dowels, 1.0, 2.0)
	held[1].Held = true
	m := Calibrate(held)[joint.Dowels]
	if m.Tests != 1 || m.Held != 1 || m.Median != 1 {
		t.Errorf("%+v", m)
	}
	held[0].Held = true
	if c := Calibrate(held); len(c) != 0 {
		t.Errorf("calibrated by joints that held: %+v", c)
	}
}

func TestTestsFarFromTheBookAreWarnedOf(t *testing.T) {
	c := Calibrate(append(trials(joint.Dowels, 10, 10, 10), trials(joint.Tenon, 1.2, 1.3)...))
	if !strings.Contains(c[joint.Dowels].Warning, "check units") || c[joint.Tenon].Warning != "" {
		t.Errorf("%q and %q", c[joint.Dowels].Warning, c[joint.Tenon].Warning)
	}
}

func TestOnlyTestsWithAPredictionCalibrate(t *testing.T) {
	got := Trials(mustRead(t, string(sampleLog)))
	if len(got) != 7 || got[0] != (Trial{joint.Dowels, 950, 900, false}) || !got[3].Held || got[6].Kind != joint.Tenon {
		t.Errorf("%+v", got)
	}
}

func TestATrialThatIsNoneIsAMistakeOfTheProgram(t *testing.T) {
	for _, bad := range []Trial{{Measured: 0, Predicted: 1}, {Measured: 1, Predicted: 0}, {Measured: math.NaN(), Predicted: 1}, {Measured: -1, Predicted: 1}} {
		func() {
			defer func() {
				if recover() == nil {
					t.Errorf("%+v was accepted", bad)
				}
			}()
			Calibrate([]Trial{bad})
		}()
	}
}
