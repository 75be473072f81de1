package adhesive

import (
	"math"
	"testing"

	"longgrain/internal/ground/source"
	"longgrain/internal/ground/unit"
)

func look(t *testing.T, id string) Kind {
	t.Helper()
	k, ok := Lookup(id)
	if !ok {
		t.Fatalf("no glue %q", id)
	}
	return k
}

func TestPressureFollowsDensity(t *testing.T) {
	k := look(t, "yellow-pva")
	last := unit.MPa(0)
	for _, g := range []unit.KilogramsPerCubicMetre{392, 616, 762} {
		q, _ := k.Pressure(g)
		if q.Value <= last || q.Low > q.Value || q.High < q.Value {
			t.Errorf("density %v: %+v", g, q)
		}
		last = q.Value
	}
}

func TestTimesStretchInTheColdAndAreMarkedAssumed(t *testing.T) {
	k := look(t, "yellow-pva")
	warm, _ := k.ClampTime(21, false)
	cold, _ := k.ClampTime(12, false)
	if warm.Value != 45 || warm.Cite.Confidence != source.Read {
		t.Errorf("at 21 °C: %+v", warm)
	}
	if cold.Value != 90 || cold.Cite.Confidence != source.Assumed {
		t.Errorf("at 12 °C: %+v", cold)
	}
	scrape, _ := k.ScrapeWindow(20)
	if scrape.Low != 60 || scrape.High != 120 {
		t.Errorf("scrape window %+v", scrape)
	}
	hot, _ := k.OpenTime(40)
	if hot.Value != 2.5 {
		t.Errorf("open time in the heat: %+v", hot)
	}
	if f := ColdFactor(-10); math.Abs(f-3.5) > 1e-12 {
		t.Errorf("factor below zero: %v", f)
	}
}

func TestMissingFiguresAreMissing(t *testing.T) {
	if _, ok := look(t, "liquid-hide").ClampTime(20, false); ok {
		t.Error("hide glue has a clamp time that no source gives")
	}
	if _, ok := look(t, "epoxy").OpenTime(20); ok {
		t.Error("epoxy has an open time that no source gives")
	}
	if _, ok := Lookup("paste"); ok {
		t.Error("paste was found")
	}
}

func TestEveryPVAHasWhatAGlueUpNeeds(t *testing.T) {
	for _, id := range []string{"yellow-pva", "white-pva", "slow-pva"} {
		k := look(t, id)
		_, spread := k.Spread()
		open, okOpen := k.OpenTime(20)
		assembly, okAssembly := k.AssemblyTime(20)
		_, clamp := k.ClampTime(20, true)
		_, full := k.FullStrength(20)
		minimum, okMinimum := k.MinimumTemperature()
		warning, okWarning := k.WarningTemperature()
		_, line := k.GlueLine()
		if !spread || !okOpen || !okAssembly || !clamp || !full || !okMinimum || !okWarning || !line {
			t.Errorf("%s lacks a figure", id)
		}
		if open.Value > assembly.Value || minimum.Value > warning.Value {
			t.Errorf("%s: open %v, assembly %v, minimum %v, warning %v", id, open, assembly, minimum, warning)
		}
	}
}
