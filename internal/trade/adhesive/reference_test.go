package adhesive

import (
	"math"
	"testing"

	"longgrain/internal/ground/unit"
)

// Units that the works were published in.
const (
	psi        = 0.00689476       // MPa
	poundsArea = 453.592 / 92.903 // g/m² for a pound on 1000 ft²
	mil        = 0.0254           // mm
)

// rounding is how far a table in round SI figures may lie from the published ones, as a share: the table gives two figures.
const rounding = 0.06

func roughly(t *testing.T, what string, got, published float64) {
	t.Helper()
	if math.Abs(got-published) > rounding*published {
		t.Errorf("%s: the table has %.3g, published is %.3g", what, got, published)
	}
}

// The tables in SI beside the figures as the works print them. [pva-guidance] is published guidance of makers, read;
// [wood-handbook] chapter 10 is from memory, and says so in the table.
func TestTablesAgreeWithThePublishedFigures(t *testing.T) {
	k := look(t, "yellow-pva")
	pine, _ := k.Pressure(400)
	roughly(t, "pressure on softwood, from 100 psi", float64(pine.Low), 100*psi)
	roughly(t, "pressure on softwood, to 150 psi", float64(pine.High), 150*psi)
	medium, _ := k.Pressure(600)
	roughly(t, "pressure on medium hardwood, from 150 psi", float64(medium.Low), 150*psi)
	roughly(t, "pressure on medium hardwood, to 200 psi", float64(medium.High), 200*psi)
	dense, _ := k.Pressure(750)
	roughly(t, "pressure on dense hardwood, from 175 psi", float64(dense.Low), 175*psi)
	roughly(t, "pressure on dense hardwood, to 300 psi", float64(dense.High), 300*psi)
	// [wood-handbook] chapter 10, from memory: 100 psi for the lightest to 247 psi for the densest woods.
	if float64(pine.Low) > 1.02*0.70 || float64(dense.Value) > 1.02*247*psi {
		t.Errorf("softwood from %v, dense wood %v MPa, the handbook has 0.7 to 1.7", pine.Low, dense.Value)
	}
	spread, _ := k.Spread()
	roughly(t, "spread, from 30 lb on 1000 ft²", float64(spread.Low), 30*poundsArea)
	roughly(t, "spread, to 50 lb on 1000 ft²", float64(spread.High), 50*poundsArea)
	if film := 6 * mil * 1100; float64(spread.Low) > film || float64(spread.High) < film {
		t.Errorf("a film of 6 mil of wet glue is %.0f g/m², the table has %v to %v", film, spread.Low, spread.High)
	}
	clamp, _ := k.ClampTime(20, false)
	stressed, _ := k.ClampTime(20, true)
	full, _ := k.FullStrength(20)
	if clamp.Low != 30 || clamp.High != 60 || stressed.Value != 24*60 || full.Value != 24*60 {
		t.Errorf("clamped %v to %v min, bent %v, full strength %v; published are 30 to 60 min, 24 h and 24 h", clamp.Low, clamp.High, stressed.Value, full.Value)
	}
	line, _ := k.GlueLine()
	roughly(t, "glue line, from 0.002 in", line.Low, 2*mil)
	roughly(t, "glue line, to 0.006 in", line.High, 6*mil)
	pur, _ := look(t, "polyurethane").ClampTime(20, false)
	if pur.Value < 4*60 {
		t.Errorf("polyurethane is clamped for %v min; at least 4 h are published", pur.Value)
	}
	// [workshop-page]: 40 °F for an aliphatic kind, 55 °F for white glue, read.
	celsius := func(f float64) unit.Celsius { return unit.Celsius((f - 32) / 1.8) }
	least, _ := k.MinimumTemperature()
	white, _ := look(t, "white-pva").MinimumTemperature()
	if least.Low > celsius(40) || least.Value < celsius(40) || math.Abs(float64(white.Value-celsius(55))) > 0.3 {
		t.Errorf("lowest temperatures %v (from %v) and %v °C", least.Value, least.Low, white.Value)
	}
	// Cold doubles the time ([workshop-page], read); that it does so at 12 °C is assumed.
	cold, _ := k.ClampTime(12, false)
	if cold.Value != 2*clamp.Value {
		t.Errorf("in the cold %v, warm %v", cold.Value, clamp.Value)
	}
}
