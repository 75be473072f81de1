// Package movement works out how wood swells and shrinks across the grain through the year, and what
// fastenings and frames must allow for it.
//
// In go sizes, a species, the cut of the boards and the moisture of the year; out come changes of
// width, slot lengths, groove depths and a measure of cross-grain conflicts, each with its working.
// Wood is taken to follow the air of each season fully, which is the safe side: a finish and thick
// parts lag behind. Cupping and twist are not worked out, and the change along the grain is left out
// as too small.
package movement

import (
	"fmt"

	"longgrain/internal/ground/source"
	"longgrain/internal/ground/unit"
	"longgrain/internal/ground/working"
	"longgrain/internal/trade/shop"
	"longgrain/internal/trade/wood"
)

// fibreSaturation is the moisture content above which wood no longer swells.
// Source: [wood-handbook] equation 13-3.
const fibreSaturation wood.Moisture = 30

// The sources of the two formulas of change.
var (
	coefficientCite = source.At("wood-handbook", "equation 13-2", source.Read)
	shrinkageCite   = source.At("wood-handbook", "equation 13-3", source.Memory)
)

// PanelMovement returns the change in width of a flat panel between two moisture contents.
//
//	dW = W C (m1 - m0)
//
// W is the width across the grain at m0; C the change coefficient of the cut and species, per
// percent; m0, m1 in percent, both within 6 to 14 %, the range that the coefficient was published
// for. Panics if W is negative.
//
// Source: [wood-handbook] equation 13-2.
func PanelMovement(w unit.Length, c wood.ChangeCoefficient, m0, m1 wood.Moisture) unit.Length {
	if w < 0 {
		panic("movement: negative width")
	}
	return w.Scale(float64(c) * float64(m1-m0))
}

// ShrinkageMovement returns the change in width between two moisture contents of any size.
//
//	dW = W (m1 - m0) / (100 F/S - F + m0)
//
// W is the width across the grain at m0; S the shrinkage from green to ovendry in percent, above 0
// and below 30; F the fibre saturation point, 30 %. m0, m1 are clamped to 0 … F, where swelling
// stops. Panics if W is negative or S out of range.
//
// Source: [wood-handbook] equation 13-3, from memory.
func ShrinkageMovement(w unit.Length, s unit.Percent, m0, m1 wood.Moisture) unit.Length {
	if w < 0 || !(s > 0 && s < 30) {
		panic(fmt.Sprintf("movement: width %v and shrinkage %v %%", w, float64(s)))
	}
	m0, m1 = min(max(m0, 0), fibreSaturation), min(max(m1, 0), fibreSaturation)
	f := float64(fibreSaturation)
	return w.Scale(float64(m1-m0) / (100*f/float64(s) - f + float64(m0)))
}

// Year is the moisture of the wood when it is built and at the two ends of the year in use.
type Year struct {
	Built wood.Moisture `json:"built"`
	Dry   wood.Moisture `json:"dry"`
	Damp  wood.Moisture `json:"damp"`
}

// YearIn returns the moisture of the year in the place of use, with the steps to it. Lag says how much
// of the swing about the middle the wood follows, from 0 to 1; 1 is the safe side and the choice
// where nobody has measured. An empty climate gives no year: false. Panics if lag is outside 0 … 1.
//
//	m = middle + lag (EMC - middle)
//
// Source: EMC as wood.EquilibriumMoisture; the damping is a judgement, docs/methods/movement.md.
func YearIn(c shop.Climate, built wood.Moisture, lag float64) (Year, working.Working, bool) {
	if !(lag >= 0 && lag <= 1) {
		panic(fmt.Sprintf("movement: lag %v is not between 0 and 1", lag))
	}
	if len(c.Weather) == 0 {
		return Year{}, nil, false
	}
	dry, damp := c.Weather[0], c.Weather[0]
	for _, w := range c.Weather {
		if w.Moisture() < dry.Moisture() {
			dry = w
		}
		if w.Moisture() > damp.Moisture() {
			damp = w
		}
	}
	low, high := dry.Moisture(), damp.Moisture()
	middle, swing := (low+high)/2, (high-low)/2*wood.Moisture(lag)
	y := Year{Built: built, Dry: middle - swing, Damp: middle + swing}
	steps := working.Working{airStep("Driest wood of the year", dry), airStep("Dampest wood of the year", damp)}
	if lag < 1 {
		steps = append(steps, working.Step{
			Title: "Swing that the wood follows", Formula: "ΔM = lag · (M damp − M dry)",
			Inputs: []working.Value{{Symbol: "lag", Name: "share of the swing that the wood follows", Number: lag}},
			Result: working.Value{Symbol: "ΔM", Number: float64(y.Damp - y.Dry), Unit: "%"},
			Cite:   source.Choice("docs/methods/movement.md"),
		})
	}
	return y, steps, true
}

func airStep(title string, w shop.Weather) working.Step {
	return working.Step{
		Title: title, Formula: "M = EMC(humidity, temperature)",
		Inputs: []working.Value{
			{Symbol: "h", Name: "relative humidity, " + w.Name, Number: float64(w.Humidity), Unit: "%"},
			{Symbol: "T", Name: "temperature", Number: float64(w.Temperature), Unit: "°C"},
		},
		Result: working.Value{Symbol: "M", Number: float64(w.Moisture()), Unit: "%"},
		Cite:   wood.EMCCite,
	}
}

// Movement is how much a width changes through the year, from the size that was built.
type Movement struct {
	Width  unit.Length `json:"width"`  // as built
	Swell  unit.Length `json:"swell"`  // growth to the dampest time; 0 when it is never damper than built
	Shrink unit.Length `json:"shrink"` // loss to the driest time; 0 when it is never drier than built
	// The same for rings that stand on the face. Equal to the above for quarter-sawn wood, zero when
	// no source gives the radial figure. Mixed boards lie between the two.
	RadialSwell  unit.Length     `json:"radialSwell"`
	RadialShrink unit.Length     `json:"radialShrink"`
	Working      working.Working `json:"working"`
}

// Total returns the whole swing between the two ends of the year.
func (m Movement) Total() unit.Length { return m.Swell + m.Shrink }

// Across returns how much a width across the grain moves through the year. The change coefficient is
// used while all moistures lie within its range, else the total shrinkage. False when no source gives
// the species a figure. Panics if the width is negative.
//
// Source: PanelMovement and ShrinkageMovement.
func Across(width unit.Length, s wood.Species, cut wood.Cut, y Year) (Movement, bool) {
	if width < 0 {
		panic("movement: negative width")
	}
	m := Movement{Width: width}
	for _, end := range []struct {
		title   string
		to      wood.Moisture
		towards unit.Length // sign of the change that counts
		side    *unit.Length
		radial  *unit.Length
	}{
		{"Growth to the dampest time", y.Damp, 1, &m.Swell, &m.RadialSwell},
		{"Loss to the driest time", y.Dry, -1, &m.Shrink, &m.RadialShrink},
	} {
		step, change, ok := changeStep(width, s, cut, y.Built, end.to)
		if !ok {
			return Movement{}, false
		}
		*end.side = max(0, change*end.towards)
		step.Title = end.title
		m.Working = append(m.Working, step)
		if _, radial, ok := changeStep(width, s, wood.QuarterSawn, y.Built, end.to); ok {
			*end.radial = max(0, radial*end.towards)
		}
	}
	return m, true
}

// changeStep works out one change of width by the formula that the moistures allow.
func changeStep(width unit.Length, s wood.Species, cut wood.Cut, from, to wood.Moisture) (working.Step, unit.Length, bool) {
	inputs := []working.Value{
		{Symbol: "W", Name: "width across the grain", Number: width.MM(), Unit: "mm"},
		{Symbol: "M₀", Name: "moisture when built", Number: float64(from), Unit: "%"},
		{Symbol: "M₁", Name: "moisture then", Number: float64(to), Unit: "%"},
	}
	step := working.Step{Inputs: inputs}
	within := func(m wood.Moisture) bool { return m >= wood.ChangeFrom && m <= wood.ChangeTo }
	coefficient, hasCoefficient := s.Change(cut)
	shrinkage, hasShrinkage := s.Shrinkage(cut)
	var change unit.Length
	switch {
	case hasCoefficient && (within(from) && within(to) || !hasShrinkage):
		change = PanelMovement(width, coefficient.Value, from, to)
		step.Formula, step.Cite = "ΔW = W · C · (M₁ − M₀)", coefficientCite
		step.Inputs = append(step.Inputs, working.Value{Symbol: "C", Name: "change coefficient, " + string(cut) + " " + s.Name,
			Number: float64(coefficient.Value), Unit: "/%", Cite: coefficient.Cite})
		if !within(from) || !within(to) {
			step.Note = "outside 6 to 14 % moisture; no shrinkage is published for this species"
		}
	case hasShrinkage:
		change = ShrinkageMovement(width, shrinkage.Value, from, to)
		step.Formula, step.Cite = "ΔW = W · (M₁ − M₀) / (100 F/S − F + M₀)", shrinkageCite
		step.Inputs = append(step.Inputs,
			working.Value{Symbol: "F", Name: "fibre saturation", Number: float64(fibreSaturation), Unit: "%"},
			working.Value{Symbol: "S", Name: "shrinkage to ovendry, " + string(cut) + " " + s.Name,
				Number: float64(shrinkage.Value), Unit: "%", Cite: shrinkage.Cite})
	default:
		return working.Step{}, 0, false
	}
	step.Result = working.Value{Symbol: "ΔW", Name: "change in width", Number: change.MM(), Unit: "mm"}
	return step, change, true
}
