package unit

import (
	"errors"
	"math"
	"strings"
	"testing"
)

// Factors: one pound-force is 4.4482216152605 N, one kilogram-force 9.80665 N, both exact by definition.
func TestForcesAreReadInTheUnitsOfRigsAndScales(t *testing.T) {
	for text, want := range map[string]Newtons{
		"950 N": 950, "950N": 950, "1.2 kN": 1200, " 1.2 KN ": 1200, "100 lbf": 444.82216152605, "100 lbs": 444.82216152605,
		"100 lb": 444.82216152605, "96 kgf": 941.4384, "96 kg": 941.4384, "1e3 N": 1000, "1000 kN": 1e6,
	} {
		got, err := ParseForce(text)
		if err != nil || math.Abs(float64(got-want)) > 1e-9*float64(want) {
			t.Errorf("%q is read as %v, %v; want %v", text, got, err, want)
		}
	}
}

func TestTextsThatAreNoForceSayWhy(t *testing.T) {
	for text, want := range map[string]string{
		"212": "no unit", "": "not a number", "N": "not a number", "-5 N": "not between", "0 N": "not between", "1e-320 N": "not between", "NaN N": "not between",
		"Inf kN": "not between", "1e9 N": "not between", "5 stone": "unknown unit stone", "5 \u00b5N": "not a number", "1,2 kN": "not a number",
	} {
		_, err := ParseForce(text)
		var bad *ForceError
		if !errors.As(err, &bad) || bad.Text != text || bad.Mend == "" || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: no %q in %v", text, want, err)
		}
	}
}

func FuzzParseForce(f *testing.F) {
	for _, text := range []string{"950 N", "1.2 kN", "212 lbf", "96 kgf", "-5 N", "NaN N", "212", "5 stone"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		if force, err := ParseForce(text); err == nil && !(force >= MinForce && force <= MaxForce) {
			t.Errorf("%q is read as %v", text, force)
		}
	})
}
