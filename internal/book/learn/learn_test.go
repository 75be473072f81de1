package learn_test

import (
	"math"
	"strings"
	"testing"

	"longgrain/internal/book/learn"
	"longgrain/internal/paper/svg"
)

// result returns the result of the last step of a lesson whose title contains words.
func result(t *testing.T, id string, values map[string]float64, words string) float64 {
	t.Helper()
	a, ok := learn.Make(id, values)
	if !ok {
		t.Fatalf("there is no lesson %q", id)
	}
	for _, s := range a.Working {
		if strings.Contains(s.Title, words) {
			return s.Result.Number
		}
	}
	t.Fatalf("%s has no step %q", id, words)
	return 0
}

func near(t *testing.T, what string, got, want, share float64) {
	t.Helper()
	if math.Abs(got-want) > share*math.Abs(want) {
		t.Errorf("%s: %g, want %g", what, got, want)
	}
}

// By hand: π · 10 · 30 = 942.5 mm².
func TestTheGlueOfADowelIsItsRoundSurface(t *testing.T) {
	near(t, "surface", result(t, "dowel", map[string]float64{"diameter": 10, "depth": 30}, "Glue surface"), 942.48, 1e-4)
	one := result(t, "dowel", map[string]float64{"diameter": 10, "depth": 20}, "Pull")
	two := result(t, "dowel", map[string]float64{"diameter": 10, "depth": 40}, "Pull")
	// The stress falls with the depth at most as L^-0.11, so that twice as deep is 2^0.89 to 2 times as strong.
	if two/one < math.Pow(2, 0.89)-1e-9 || two/one > 2+1e-9 {
		t.Errorf("twice as deep holds %.3f times as much", two/one)
	}
}

// The published rule for two pins: M = F (d1 + d2/2), for 110 mm with dowels 60 mm apart and 25 from the edge F · 72.5 mm.
func TestTwoDowelsFollowTheRuleForTwoPins(t *testing.T) {
	v := map[string]float64{"apart": 60, "height": 110, "depth": 30, "diameter": 10}
	pull := result(t, "pair", v, "Pull of one")
	near(t, "moment", result(t, "pair", v, "Moment"), pull*72.5/1000, 1e-6)
	far := result(t, "pair", map[string]float64{"apart": 80, "height": 110, "depth": 30, "diameter": 10}, "Moment")
	if far <= result(t, "pair", v, "Moment") {
		t.Error("dowels further apart hold no more")
	}
}

// The handbook's coefficients of eastern white pine, 0.00212 and 0.00071 per percent ([wood-handbook] table 13-5): 560 mm from 8
// to 11 % grow by 3.562 mm flat-sawn and by 1.193 mm quarter-sawn.
func TestATopMovesAsTheHandbookSays(t *testing.T) {
	v := map[string]float64{"width": 560, "from": 8, "to": 11, "rings": 0}
	near(t, "flat-sawn", result(t, "year", v, "Change"), 3.5616, 1e-4)
	v["rings"] = 90
	near(t, "quarter-sawn", result(t, "year", v, "Change"), 1.1928, 1e-3)
	v["to"] = 8
	if d := result(t, "year", v, "Change"); d != 0 {
		t.Errorf("wood that does not change its moisture moves by %g", d)
	}
}

// Closed form: the part of bending falls with the third power of the thickness; shear, at most a few percent, with the first.
func TestAShelfTwiceAsThickSagsAnEighth(t *testing.T) {
	thin := result(t, "shelf", map[string]float64{"thickness": 20, "span": 900, "width": 250, "load": 30}, "Sag")
	thick := result(t, "shelf", map[string]float64{"thickness": 40, "span": 900, "width": 250, "load": 30}, "Sag")
	if r := thin / thick; r > 8 || r < 7.5 {
		t.Errorf("twice as thick sags 1/%.2f", r)
	}
	// By hand with E of the handbook's modulus, 8.5 GPa and 10 % more without shear: 5 · 264.9 N · 900³/(384 · 9400 · 166667) = 1.6 mm.
	if thin < 1.3 || thin > 2 {
		t.Errorf("20 mm of pine over 900 mm sag %.2f mm under 30 kg/m", thin)
	}
}

// By hand: 5 · 2500 N/(900 mm · 22 mm) = 0.6313 MPa; the least of 0.7 MPa wants 13 860 N, which are six clamps.
func TestClampsPressByTheirForceOverTheLine(t *testing.T) {
	v := map[string]float64{"count": 5, "force": 2500, "long": 900, "thick": 22}
	near(t, "pressure", result(t, "clamps", v, "Pressure"), 0.6313, 1e-4)
	if n := result(t, "clamps", v, "Clamps"); n != 6 {
		t.Errorf("%g clamps for the least pressure", n)
	}
}

func TestEveryLessonDrawsItsAnswerAtTheEndsOfItsInputs(t *testing.T) {
	for _, l := range learn.Lessons() {
		for _, in := range l.Inputs {
			for _, x := range []float64{in.Min, in.Default, in.Max, math.NaN(), -1e9, 1e9} {
				a, _ := learn.Make(l.ID, map[string]float64{in.Name: x})
				if v := a.Values[in.Name]; v < 0 || v > in.Max {
					t.Errorf("%s: %s %g was used as %g", l.ID, in.Name, x, v)
				}
				for _, s := range []string{string(svg.File(a.Picture)), string(svg.File(a.Curve)), a.Says} {
					if s == "" || strings.Contains(s, "NaN") || strings.Contains(s, "Inf") {
						t.Errorf("%s at %s %g: %.80s", l.ID, in.Name, x, s)
					}
				}
				for _, s := range a.Working {
					if s.Cite.String() == "" || math.IsNaN(s.Result.Number) {
						t.Errorf("%s: %q has no source or no result", l.ID, s.Title)
					}
				}
			}
		}
	}
	if _, ok := learn.Make("no such lesson", nil); ok {
		t.Error("a lesson that is not there was made")
	}
}
