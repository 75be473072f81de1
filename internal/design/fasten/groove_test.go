package fasten

import (
	"math"
	"strings"
	"testing"

	"longgrain/internal/ground/unit"
	"longgrain/internal/trade/wood"
	"longgrain/internal/trial"
)

// framedPanel is a panel of 300 by 200 mm in a frame of 60 by 21 mm that stands on the lower ends of its stiles, on a base.
const framedPanel = `
longgrain: 1
name: Panel
use: shelf
parts:
  - {name: stile left, role: side, length: 320 mm, width: 60 mm, thickness: 21 mm, along: z, across: x}
  - {name: stile right, role: side, length: 320 mm, width: 60 mm, thickness: 21 mm, at: [360 mm, 0 mm, 0 mm], along: z, across: x}
  - {name: rail lower, role: rail, length: 300 mm, width: 60 mm, thickness: 21 mm, at: [60 mm, 0 mm, 0 mm], along: x, across: z}
  - {name: rail upper, role: rail, length: 300 mm, width: 60 mm, thickness: 21 mm, at: [60 mm, 0 mm, 260 mm], along: x, across: z}
  - {name: panel, role: panel, length: 300 mm, width: 200 mm, thickness: 9 mm, at: [60 mm, 6 mm, 60 mm], along: x, across: z}
connections:
  - between: [rail lower, stile left]
  - between: [rail lower, stile right]
  - between: [rail upper, stile left]
  - between: [rail upper, stile right]
  - {between: [panel, stile left], purpose: fastening, joint: {kind: panel groove}}
  - {between: [panel, stile right], purpose: fastening, joint: {kind: panel groove}}
  - {between: [panel, rail lower], purpose: fastening, joint: {kind: panel groove}}
  - {between: [panel, rail upper], purpose: fastening, joint: {kind: panel groove}}
`

// Worked out by hand: at 100 mm from its middle line the panel travels 1 mm either way, so its long sides want 1 + 1 + 6 = 8 mm of
// groove with 1 mm of air, and a tongue of 7 mm, a third of 21 mm thick.
func TestPanelFloatsInItsGrooves(t *testing.T) {
	a := trial.Assembly(t, framedPanel)
	all := fastenings(t, a, steady)
	if len(all) != 4 {
		t.Fatalf("%d grooves", len(all))
	}
	for _, f := range all {
		if f.Way != PanelGroove || f.SlotDepth != 8*mm || f.SlotWidth != 7*mm || f.Gap != mm || len(f.Notes) > 0 {
			t.Fatalf("%+v", f)
		}
		frame, _ := a.PartNamed(f.Rail)
		panel, _ := a.PartNamed(f.Top)
		groove, tongue := f.Features[0], f.OnTop[0]
		if tongue.Depth != 7*mm || min(tongue.Length, tongue.Width) != 7*mm || max(tongue.Length, tongue.Width) != max(groove.Length, groove.Width) {
			t.Errorf("%s: tongue %+v in groove %+v", f.Rail, tongue, groove)
		}
		in := a.Parts[frame].OnSide(groove.Side, groove.U+groove.Length/2, groove.V+groove.Width/2, 0)
		out := a.Parts[panel].OnSide(tongue.Side, tongue.U, tongue.V, 0)
		if in.Distance(out) > 1e-6 {
			t.Errorf("%s: the tongue stands at %v and its groove at %v", f.Rail, out, in)
		}
	}
}

func TestPanelThatMovesMoreWantsDeeperGrooves(t *testing.T) {
	a := trial.Assembly(t, framedPanel)
	wild := func(d unit.Length) Play { return Play{Outward: d / 20, Inward: d / 20} }
	for _, f := range fastenings(t, a, wild) {
		if f.SlotDepth != 16*mm {
			t.Errorf("%s: %v deep, want 5 + 5 + 6 mm", f.Rail, f.SlotDepth)
		}
		if f.Across != (f.Gap == 5*mm) {
			t.Errorf("%s: gap %v", f.Rail, f.Gap)
		}
	}
}

func TestAFloatingPanelIsNoPartOfTheFrame(t *testing.T) {
	a := trial.Assembly(t, strings.Replace(framedPanel, "parts:", "loads: [{name: leaning, on: panel, force: 100}]\nparts:", 1))
	f := a.Frame()
	if len(f.Parts) != 4 || len(f.Connections) != 4 || len(a.Parts) != 5 || a.Parts[4].Name != "panel" {
		t.Fatalf("%d of %d parts, %d of %d connections", len(f.Parts), len(a.Parts), len(f.Connections), len(a.Connections))
	}
	if f.Loads[0].Part >= 4 || a.Loads[0].Part != 4 {
		t.Errorf("the load on the panel acts on part %d of the frame", f.Loads[0].Part)
	}
}

// A lid of 400 by 300 by 20 mm whose hinges lie along its back edge turns about them with its weight times half its depth.
const lid = `
longgrain: 1
name: Chest
use: chest
parts:
  - {name: back, role: side, length: 400 mm, width: 200 mm, thickness: 20 mm, at: [0 mm, 280 mm, 0 mm], along: x, across: z}
  - {name: front, role: side, length: 400 mm, width: 200 mm, thickness: 20 mm, along: x, across: z}
  - {name: lid, role: top, length: 400 mm, width: 300 mm, thickness: 20 mm, at: [0 mm, 0 mm, 200 mm], along: x, across: y}
connections:
  - {between: [back, lid], purpose: fastening, joint: {kind: lid hinges}}
  - {between: [front, lid], purpose: fastening, joint: {kind: rests}}
`

func TestALidWantsSupportsForItsWeight(t *testing.T) {
	a := trial.Assembly(t, lid)
	f := fastenings(t, a, steady)[0]
	pine, _ := wood.Lookup("eastern-white-pine")
	rho, _ := pine.Density(lidWood)
	want := 0.4 * 0.3 * 0.02 * float64(rho.Value) * 9.80665 * 0.14 // the middle of the lid lies 140 mm from the middle of the hinges
	if math.Abs(f.Turning-want) > 1e-6 {
		t.Errorf("the lid turns with %.3f N·m, want %.3f", f.Turning, want)
	}
	if f.Way != LidHinges || len(f.At) != 2 || len(f.Hardware) != 2 || len(f.Cautions) != 2 {
		t.Errorf("%+v", f)
	}
	if len(a.Frame().Parts) != 3 {
		t.Error("people sit on a lid: it stays with the frame")
	}
}
