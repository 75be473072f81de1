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
