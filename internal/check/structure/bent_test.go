package structure

import (
	"math"
	"testing"

	"longgrain/internal/ground/geom"
	"longgrain/internal/trial"
)

func TestBentPartsFollowTheFrameAndTheTopRidesAlong(t *testing.T) {
	a := trial.Assembly(t, playTable())
	answer := Analyse(a, strongest(t, a), 1.3, 9)
	for k := range answer.Cases {
		moved, ok := answer.Bent(k)
		if !ok {
			continue
		}
		shape, _ := answer.Shape(k)
		for i, sections := range moved {
			if len(sections) != BentSteps {
				t.Fatalf("%s has %d sections", a.Parts[i].Name, len(sections))
			}
			for n, line := range shape.Lines[i] {
				if d := sections[n].Shift.Distance(geom.Vec{X: line[0], Y: line[1], Z: line[2]}); d > 1e-9 {
					t.Errorf("%s: section %d is %v mm off the shape", a.Parts[i].Name, n, d)
				}
			}
		}
	}
}

// A surface on carriers that all make one rigid movement makes the same.
func TestSurfaceRidesOnARigidMovement(t *testing.T) {
	a := trial.Assembly(t, playTable())
	f := newFrame(a, strongest(t, a), 9)
	shift, turn := geom.Vec{X: 1, Y: -2, Z: 0.5}, geom.Vec{X: 0.01, Y: -0.02, Z: 0.03}
	moved := make([][]Movement, len(a.Parts))
	rigid := func(part int) []Movement {
		var out []Movement
		for k := range BentSteps {
			at := f.centreLine(part, stepAt(a.Parts[part].Length.MM(), k))
			out = append(out, Movement{shift.Add(turn.Cross(at)), turn})
		}
		return out
	}
	for i := range a.Parts {
		moved[i] = rigid(i)
	}
	for _, s := range f.surfaces {
		// Carriers and surface lie at two heights; the turn is small, so what that adds level is taken out of the comparison.
		for k, m := range f.ride(s, moved) {
			want := rigid(s.part)[k]
			if d := m.Turn.Distance(want.Turn); d > 1e-9 {
				t.Errorf("turn %v, want %v", m.Turn, want.Turn)
			}
			if d := m.Shift.Distance(want.Shift); d > 1e-6 {
				t.Errorf("shift %v, want %v", m.Shift, want.Shift)
			}
		}
	}
	if len(f.surfaces) == 0 {
		t.Error("the table has no top")
	}
}

// The slope of the bending is the shear, and both ends of a rail on its own balance: statics of the part.
func TestForcesAlongAPartAreInBalance(t *testing.T) {
	a := trial.Assembly(t, playTable())
	answer := Analyse(a, strongest(t, a), 1.3, 9)
	checked := 0
	for k := range answer.Cases {
		for i := range a.Parts {
			along, ok := answer.Along(k, i)
			if !ok {
				continue
			}
			for n := 1; n < len(along); n++ {
				from, to := along[n-1], along[n]
				if to.X-from.X < 1 {
					continue // across a load or a joint
				}
				slope := (to.BendWidth - from.BendWidth) * 1000 / (to.X - from.X)
				shear := (from.ShearWidth + to.ShearWidth) / 2
				if miss := math.Abs(math.Abs(slope) - math.Abs(shear)); miss > 1e-6*(1+math.Abs(shear)) {
					t.Fatalf("%s under %s at %v mm: bending rises by %v N, shear %v N", a.Parts[i].Name, answer.Cases[k].Name, from.X, slope, shear)
				}
				checked++
			}
		}
	}
	if checked < 1000 {
		t.Errorf("only %d stretches", checked)
	}
}
