package joint

import (
	"testing"

	"longgrain/internal/design/assembly"
	"longgrain/internal/ground/unit"
)

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
	a := build(t, playTable())
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
	a := build(t, playTable())
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
	for _, f := range fastenings(t, build(t, playTable()), wild) {
		said = said || len(f.Notes) > 0
	}
	if !said {
		t.Error("no note")
	}
}
