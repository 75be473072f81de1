package stats

import (
	_ "embed"
	"math"
	"strings"
	"testing"
)

//go:embed testdata/scipy.csv
var sciPy string

// Figures of a general scientific library, printed to seven or eight digits; both sides work with 64-bit floats and iterate to about
// 1e-8, so 1e-6 is the rounding of the print with some room.
const library = 1e-6

func TestFiguresMeetAGeneralScientificLibrary(t *testing.T) {
	rows := map[string]int{}
	for _, row := range table(t, sciPy) {
		rows[row[0]]++
		what := strings.Join(row[:3], " ")
		figure := func(i int) float64 { return number(t, row[3+i]) }
		check := func(name string, got, want float64) {
			t.Helper()
			near(t, what+", "+name, got, want, library*max(1, math.Abs(want)))
		}
		switch row[0] {
		case "factor":
			check("k", ToleranceFactor(int(number(t, row[1])), 0.95, 0.75), figure(0))
		case "weibull", "censored":
			w, ok := FitWeibull(sample(t, row[1]), sample(t, row[2]))
			if !ok {
				t.Fatalf("%s: no fit", what)
			}
			check("shape", w.Shape, figure(0))
			check("scale", w.Scale, figure(1))
		case "mean":
			i, _ := MeanInterval(sample(t, row[1]), 0.95)
			check("mean", i.Estimate, figure(0))
			check("low", i.Low, figure(1))
			check("high", i.High, figure(2))
		case "welch":
			d, _ := Welch(sample(t, row[1]), sample(t, row[2]), 0.95)
			check("low", d.Low, figure(0))
			check("high", d.High, figure(1))
			check("degrees of freedom", d.DegreesOfFreedom, figure(2))
			check("significance", d.SignificanceLevel, figure(3))
		case "power":
			n, e := sample(t, row[1]), sample(t, row[2])
			check("power", Power(int(n[0]), int(n[1]), e[0], e[1]), figure(0))
		default:
			t.Errorf("unknown row %q", row[0])
		}
	}
	if rows["factor"] != 48 || rows["weibull"] < 5 || rows["censored"] < 2 || rows["welch"] < 3 || rows["power"] < 4 {
		t.Errorf("compared %v", rows)
	}
}
