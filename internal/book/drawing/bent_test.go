package drawing

import (
	"math"
	"testing"

	"longgrain/internal/ground/geom"
	"longgrain/internal/paper/scene"
	"longgrain/internal/trial"
)

func still(n, parts int, m Moved) [][]Moved {
	out := make([][]Moved, parts)
	for i := range out {
		for range n {
			out[i] = append(out[i], m)
		}
	}
	return out
}

func TestMovementsAreDrawnARoundNumberOfTimes(t *testing.T) {
	a := trial.Assembly(t, trial.KeptTable) // 900 mm long: movements show as up to 63 mm
	for most, want := range map[float64]float64{0: 1, 0.01: 5000, 0.5: 100, 1: 50, 4.5: 10, 13: 2, 100: 1} {
		if got := TimesFor(a, still(9, len(a.Parts), Moved{Shift: geom.Vec{Y: most}})); got != want {
			t.Errorf("%v mm: %v times, want %v", most, got, want)
		}
	}
}

// A piece that only shifts keeps every line, shifted: what is drawn is as long in all as the straight piece.
func TestShiftedPieceIsDrawnAsItStands(t *testing.T) {
	a := trial.Assembly(t, trial.KeptTable)
	total := func(m Moved) (outline, thin float64) {
		for _, item := range Bent(a, Bend{Case: "a push", Times: 10, Parts: still(9, len(a.Parts), m)}, Style{}).Items {
			if l, ok := item.(scene.Line); ok {
				n := math.Hypot(l.To.X-l.From.X, l.To.Y-l.From.Y)
				if l.Style == scene.Outline {
					outline += n
				} else {
					thin += n
				}
			}
		}
		return outline, thin
	}
	outline, thin := total(Moved{})
	if math.Abs(outline/thin-1) > 1e-3 {
		t.Errorf("bent by nothing: %.1f mm of outline over %.1f mm of thin lines", outline, thin)
	}
	outline, thin = total(Moved{Shift: geom.Vec{X: 2, Y: -1}})
	if math.Abs(outline/thin-1) > 1e-3 {
		t.Errorf("shifted: %.1f mm of outline over %.1f mm of thin lines", outline, thin)
	}
}
