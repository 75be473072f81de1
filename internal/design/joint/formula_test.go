package joint

import (
	"math"
	"testing"
)

func within(t *testing.T, what string, got, want, share float64) {
	t.Helper()
	if math.Abs(got-want) > share*math.Abs(want) {
		t.Errorf("%s is %.6g, want %.6g within %.2g %%", what, got, want, share*100)
	}
}

// The published tenon, 32 long and 38 high in a rail of 63.5 mm: both cheeks give 89,680 mm³ about the edge of the
// shoulder.
func TestTurningIntegralOfThePublishedTenon(t *testing.T) {
	edge := (63.5 - 38) / 2
	within(t, "both cheeks", 2*turningIntegral(32, edge, edge+38), 89680, 5e-4)
}

func TestTurningIntegralOfANarrowStripIsItsLengthTimesDistance(t *testing.T) {
	// A cheek 0.001 mm long at 10 to 20 mm: 0.001 (20² − 10²)/2.
	within(t, "strip", turningIntegral(0.001, 10, 20), 0.15, 1e-6)
	// A square with its corner in the pivot: a³ (√2 + ln(1 + √2))/3. The kink in the corner costs Simpson's rule a little.
	within(t, "square", turningIntegral(10, 0, 10), 1000*(math.Sqrt2+math.Log(1+math.Sqrt2))/3, 1e-4)
}

// A lognormal with mean 40 and coefficient of variation 0.25 has 25.8826 as its 5 % point.
func TestLowerFivePercentOfALognormal(t *testing.T) {
	model := math.Sqrt(0.25*0.25 - TestScatter*TestScatter)
	r := least(model, Limit{Name: "strong", Mean: 60}, Limit{Name: "weak", Mean: 40})
	within(t, "coefficient of variation", r.COV, 0.25, 1e-9)
	within(t, "lower 5 %", r.Lower5, 25.882581, 1e-4)
	if r.Governs != "weak" || r.Mean != 40 {
		t.Errorf("%q governs with %v", r.Governs, r.Mean)
	}
}
