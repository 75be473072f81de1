package fasten

import (
	"testing"

	"longgrain/examples"
	"longgrain/internal/design/assembly"
	"longgrain/internal/ground/unit"
	"longgrain/internal/trial"
)

const mm = unit.Millimetre

// steady travels a hundredth of its distance outward and inward.
func steady(d unit.Length) Play { return Play{Outward: d / 100, Inward: d / 100} }

func fastenings(t *testing.T, a assembly.Assembly, travel func(unit.Length) Play) []Fastening {
	t.Helper()
	var out []Fastening
	for i, c := range a.Connections {
		if c.Purpose == assembly.TopFastening {
			out = append(out, Fasten(a, i, travel, mm/2))
		}
	}
	return out
}

func TestARailAcrossTheGrainHoldsTheTopFastInItsMiddle(t *testing.T) {
	a := trial.Assembly(t, examples.PlayTable())
	across := 0
	for _, f := range fastenings(t, a, steady) {
		if !f.Across {
			if f.Fixed >= 0 {
				t.Errorf("%s holds the top fast away from its middle line", f.Rail)
			}
			continue
		}
		across++
		if len(f.At)%2 == 0 || f.Fixed != len(f.At)/2 {
			t.Errorf("%s: button %d of %d is fixed", f.Rail, f.Fixed, len(f.At))
		}
		if f.SlotLength[f.Fixed] != buttonWidth {
			t.Errorf("%s: the fixed button has a slot of %v mm", f.Rail, f.SlotLength[f.Fixed].MM())
		}
	}
	if across != 2 {
		t.Errorf("%d rails across the grain", across)
	}
}

func TestSlotsTakeUpTheTravelOfTheirButtons(t *testing.T) {
	a := trial.Assembly(t, examples.PlayTable())
	for _, f := range fastenings(t, a, steady) {
		rail, _ := a.PartNamed(f.Rail)
		p := a.Parts[rail]
		if len(f.Features) != len(f.At) || len(f.At) < buttonsLeast {
			t.Fatalf("%s: %d slots for %d buttons", f.Rail, len(f.Features), len(f.At))
		}
		for i, slot := range f.Features {
			if slot.U-slot.Length/2 < 0 || slot.U+slot.Length/2 > p.Length || slot.Depth > p.Thickness-bareWall {
				t.Errorf("%s: slot %+v leaves the rail", f.Rail, slot)
			}
			if f.Across && i != f.Fixed && slot.Length <= buttonWidth {
				t.Errorf("%s: button %d cannot travel", f.Rail, i)
			}
			if !f.Across && f.SlotDepth < f.Gap+buttonHold {
				t.Errorf("%s: a tongue holds less than %v mm", f.Rail, buttonHold.MM())
			}
			if i > 0 && f.At[i]-f.At[i-1] > 300*mm {
				t.Errorf("%s: buttons %v mm apart", f.Rail, (f.At[i] - f.At[i-1]).MM())
			}
		}
	}
}

func TestMoreTravelThanARailIsThickIsSaid(t *testing.T) {
	wild := func(unit.Length) Play { return Play{Outward: 15 * mm, Inward: 15 * mm} }
	said := false
	for _, f := range fastenings(t, trial.Assembly(t, examples.PlayTable()), wild) {
		said = said || len(f.Notes) > 0
	}
	if !said {
		t.Error("no note")
	}
}

func slottedTable(t *testing.T) assembly.Assembly {
	t.Helper()
	return trial.Assembly(t, trial.FastenedPiece(t, "slotted screws"))
}

func TestScrewsSlideInSlotsOfTheEdge(t *testing.T) {
	a := slottedTable(t)
	all := fastenings(t, a, steady)
	if len(all) != 4 {
		t.Fatalf("%d fastenings", len(all))
	}
	for _, f := range all {
		rail, _ := a.PartNamed(f.Rail)
		p := a.Parts[rail]
		if f.Way != SlottedScrews || len(f.Features) != 2*len(f.At) || f.Minutes <= 0 {
			t.Fatalf("%s: %s with %d cuts for %d screws", f.Rail, f.Way, len(f.Features), len(f.At))
		}
		for i := 0; i < len(f.Features); i += 2 {
			slot, seat := f.Features[i], f.Features[i+1]
			along, across := slot.Length, slot.Width // on an edge u runs along the grain
			if f.Across == (i/2 != f.Fixed && along <= across) {
				t.Errorf("%s: slot %v by %v mm, across %t", f.Rail, along.MM(), across.MM(), f.Across)
			}
			if slot.Side != seat.Side.Opposite() || slot.U != seat.U || slot.V != seat.V || slot.Depth+seat.Depth != p.Width {
				t.Errorf("%s: slot %+v and seat %+v", f.Rail, slot, seat)
			}
			if across > p.Thickness-2*bareWall || slot.V != p.Thickness/2 {
				t.Errorf("%s: a slot of %v mm across %v mm", f.Rail, across.MM(), p.Thickness.MM())
			}
		}
		if f.Across != (f.Fixed >= 0) {
			t.Errorf("%s: screw %d is fixed", f.Rail, f.Fixed)
		}
	}
}

func TestMoreTravelThanTheEdgeIsWideIsSaidOnce(t *testing.T) {
	wild := func(unit.Length) Play { return Play{Outward: 15 * mm, Inward: 15 * mm} }
	for _, f := range fastenings(t, slottedTable(t), wild) {
		if f.Across == (len(f.Notes) == 1) {
			t.Errorf("%s, across %t: %q", f.Rail, f.Across, f.Notes)
		}
	}
}

func TestAWayThatHoldsATopFastIsNotTaken(t *testing.T) {
	for _, f := range fastenings(t, trial.Assembly(t, trial.FastenedPiece(t, "dowels")), steady) {
		if f.Way != Buttons || len(f.Notes) != 1 {
			t.Errorf("%s: %s, %q", f.Rail, f.Way, f.Notes)
		}
	}
}
