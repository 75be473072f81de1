package stats

import (
	_ "embed"
	"math"
	"strings"
	"testing"
)

//go:embed testdata/comparisons.csv
var comparisons string

func sample(t *testing.T, s string) []float64 {
	t.Helper()
	var out []float64
	for _, f := range strings.Fields(s) {
		out = append(out, number(t, f))
	}
	return out
}

func TestComparisonsMeetGeneralStatisticsSoftware(t *testing.T) {
	for _, row := range table(t, comparisons) {
		what := row[0] + " " + row[9]
		tolerance := number(t, row[8])
		x, y := sample(t, row[1]), sample(t, row[2])
		figure := func(i int) float64 { return number(t, row[3+i]) }
		switch row[0] {
		case "welch":
			d, ok := Welch(x, y, 0.95)
			if !ok {
				t.Fatal("no comparison")
			}
			near(t, what, d.Estimate, figure(0), 1e-12)
			near(t, what, d.Low, figure(1), 5e-8)
			near(t, what, d.High, figure(2), 5e-8)
			near(t, what, d.DegreesOfFreedom, figure(3), tolerance)
			near(t, what, d.SignificanceLevel, figure(4), 5e-6)
		case "power":
			n, effect, level := int(figure(0)), figure(1), figure(2)
			near(t, what, Power(n, n, effect, level)-wrongSide(n, effect, level), figure(3), tolerance)
		case "size":
			if n, ok := SampleSize(figure(0), figure(1), figure(2), 1000); !ok || n != int(figure(3)) {
				t.Errorf("%s: %d", what, n)
			}
		case "grubbs":
			_, g, _ := Grubbs(x)
			near(t, what, g, figure(1), tolerance)
			near(t, what, GrubbsCritical(len(x), figure(0)), figure(2), tolerance)
		default:
			t.Errorf("unknown row %q", row[0])
		}
	}
}

// wrongSide is the small probability that a true difference shows with the wrong sign. R leaves it out of its
// power unless asked for the strict one.
func wrongSide(n int, effect, level float64) float64 {
	nu := float64(2*n - 2)
	return NoncentralCDF(-StudentQuantile(1-level/2, nu), nu, effect*math.Sqrt(float64(n)/2))
}

func TestMeanIntervalIsThatOfStudent(t *testing.T) {
	// t at 0.975 with 4 degrees of freedom is 2.776445 (tables); mean 100, s √74.5.
	got, ok := MeanInterval([]float64{102, 95, 110, 88, 105}, 0.95)
	half := 2.776445 * math.Sqrt(74.5) / math.Sqrt(5)
	if !ok {
		t.Fatal("no interval")
	}
	near(t, "low", got.Low, 100-half, 1e-5)
	near(t, "high", got.High, 100+half, 1e-5)
	if _, ok := MeanInterval([]float64{1}, 0.95); ok {
		t.Error("one value has an interval")
	}
}

func TestSamplesTooSmallOrWithoutScatterAreNotCompared(t *testing.T) {
	for _, c := range [][2][]float64{{nil, nil}, {{1}, {1, 2}}, {{1, 2}, {3}}, {{1, 1}, {2, 2, 2}}} {
		if d, ok := Welch(c[0], c[1], 0.95); ok {
			t.Errorf("%v compared: %+v", c, d)
		}
	}
	if _, ok := Welch([]float64{1, 1}, []float64{2, 3}, 0.95); !ok {
		t.Error("one sample without scatter prevents the comparison")
	}
	for _, x := range [][]float64{nil, {1, 2}, {3, 3, 3}, {1, 2, math.NaN()}} {
		if _, g, ok := Grubbs(x); ok {
			t.Errorf("%v has an outlier at %v", x, g)
		}
	}
}

func TestPowerGrowsWithTestsAndEffect(t *testing.T) {
	near(t, "without effect", Power(5, 8, 0, 0.05), 0.05, 1e-8)
	near(t, "sign does not matter", Power(5, 8, -1, 0.05), Power(5, 8, 1, 0.05), 1e-8)
	before := 0.0
	for n := 2; n < 40; n++ {
		p := Power(n, n, 0.8, 0.05)
		if p <= before {
			t.Errorf("%d values have power %v, one fewer %v", n, p, before)
		}
		before = p
	}
	near(t, "detectable and back", Power(6, 9, Detectable(6, 9, 0.05, 0.8), 0.05), 0.8, 1e-5)
	if n, ok := SampleSize(0.01, 0.05, 0.8, 100); ok {
		t.Errorf("a hundredth of the scatter is shown by %d", n)
	}
	if n, ok := SampleSize(20, 0.05, 0.8, 100); !ok || n != 2 {
		t.Errorf("a great effect needs %d, %v", n, ok)
	}
}
