package structure

import (
	"fmt"
	"strings"
	"testing"

	"longgrain/internal/trial"
)

// backed is the bookcase with a back of a thickness, glued to the back edges of both sides.
func backed(thick float64) string {
	part := fmt.Sprintf("  - {name: back, role: back, length: 840 mm, width: 640 mm, thickness: %v mm, at: [0 mm, 250 mm, 60 mm], along: z, across: x}\n", thick)
	return strings.Replace(bookcase, "connections:\n", part+"connections:\n  - {between: [back, side left]}\n  - {between: [back, side right]}\n", 1)
}

// along returns the movement of the heads per newton of a push to the right, shared by both sides.
func along(t *testing.T, text string) float64 {
	t.Helper()
	a := trial.Assembly(t, text)
	f := newFrame(a, rigidJoints(a), 9)
	if len(f.findings) > 0 {
		t.Fatal(f.findings)
	}
	for _, w := range f.leanings() {
		if w.way.word == "right" && w.where == "" {
			return w.moving
		}
	}
	t.Fatal("no push to the right")
	return 0
}

// Beside the frame a thin back works as a panel in shear: the frame gets stiffer by G t w/h, w between the middles of the sides' edges.
//
// Source: shear of a plate. It adds no more than that, and at least half: the back ends 60 mm above the floor, where the sides bend.
func TestAThinBackAddsItsShearStiffness(t *testing.T) {
	bare := 1 / along(t, bookcase)
	a := trial.Assembly(t, backed(1))
	f := newFrame(a, rigidJoints(a), 9)
	if len(f.panels) != 1 {
		t.Fatalf("%d panels", len(f.panels))
	}
	var g float64
	for i, p := range a.Parts {
		if p.Role == "back" {
			g = f.parts[i].g
		}
	}
	want := g * 1 * 620 / 840
	got := 1/along(t, backed(1)) - bare
	t.Logf("bare %.3g N/mm, panel adds %.4g, G t w/h %.4g", bare, got, want)
	if got < 0.5*want || got > want {
		t.Errorf("the back adds %.4g N/mm, in shear %.4g", got, want)
	}
}

func TestAThickerBackNeverSwaysMore(t *testing.T) {
	last := along(t, bookcase)
	for _, thick := range []float64{2, 4, 8, 16} {
		now := along(t, backed(thick))
		if now > last {
			t.Errorf("%v mm: %v mm/N, thinner %v", thick, now, last)
		}
		last = now
	}
}

func TestABackHasNoFindingAndAShearCheck(t *testing.T) {
	a := trial.Assembly(t, backed(6))
	got := Analyse(a, strongest(t, a), 1.3, 9)
	if len(got.Findings) > 0 {
		t.Fatal(got.Findings)
	}
	found := false
	for _, c := range got.Members {
		found = found || (c.What == "shear of the back" && c.Demand.Number > 0 && c.Verdict == "holds")
	}
	if !found {
		t.Errorf("%+v", got.Members)
	}
}
