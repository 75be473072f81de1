package fasten_test

import (
	"testing"

	"longgrain/internal/design/assembly"
	"longgrain/internal/design/fasten"
	"longgrain/internal/ground/unit"
	"longgrain/internal/trial"
)

// looseShelf lies on pins between two sides, a millimetre clear of each.
const looseShelf = `
longgrain: 1
name: Shelves
use: shelf
parts:
  - {name: side left, role: side, length: 600 mm, width: 200 mm, thickness: 19 mm, along: z, across: y}
  - {name: side right, role: side, length: 600 mm, width: 200 mm, thickness: 19 mm, at: [481 mm, 0 mm, 0 mm], along: z, across: y}
  - {name: bottom, role: rail, length: 462 mm, width: 200 mm, thickness: 19 mm, at: [19 mm, 0 mm, 0 mm], along: x, across: y}
  - {name: shelf, role: shelf, length: 460 mm, width: 190 mm, thickness: 19 mm, at: [20 mm, 5 mm, 300 mm], along: x, across: y}
connections:
  - between: [bottom, side left]
  - between: [bottom, side right]
  - {between: [shelf, side left], purpose: fastening, joint: {kind: shelf pins}}
  - {between: [shelf, side right], purpose: fastening, joint: {kind: shelf pins}}
`

func TestLooseShelfLiesOnPinsUnderItsEnds(t *testing.T) {
	a := trial.Assembly(t, looseShelf)
	for i, c := range a.Connections {
		if c.Purpose != assembly.TopFastening {
			continue
		}
		f := fasten.Fasten(a, i, still, unit.Millimetre/2)
		if f.Way != fasten.ShelfPins || f.Top != "shelf" || len(f.Features) != 6 || f.Hardware[0].Count != 2 {
			t.Fatalf("%+v", f)
		}
		side, _ := a.PartNamed(f.Rail)
		for k, bore := range f.Features {
			at := a.Parts[side].OnSide(bore.Side, bore.U, bore.V, 0)
			row := []float64{-32, 0, 32}[k/2]
			if want := 300 - 2.5 + row; at.Z != want {
				t.Errorf("%s: hole %d is %.2f mm up, want %.2f", c.Name, k+1, at.Z, want)
			}
			if want := []float64{45, 155}[k%2]; at.Y != want {
				t.Errorf("%s: hole %d is %.2f mm back, want %.2f", c.Name, k+1, at.Y, want)
			}
		}
	}
}

func TestRowsOfPinsKeepClearOfOtherParts(t *testing.T) {
	a := trial.Assembly(t, looseShelf)
	shelf, _ := a.PartNamed("shelf")
	a.Parts[shelf].Pose.Origin.Z = 60
	for i := range a.Connections {
		c := &a.Connections[i]
		if c.Purpose == assembly.TopFastening {
			c.B.Area.U0, c.B.Area.U1 = 60*unit.Millimetre, 79*unit.Millimetre
			if f := fasten.Fasten(a, i, still, unit.Millimetre/2); len(f.At) != 2 {
				t.Errorf("%s: rows at %v; the lower one would stand in the bottom", c.Name, f.At)
			}
		}
	}
}

func still(unit.Length) fasten.Play { return fasten.Play{} }
