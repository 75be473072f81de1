package movement

import (
	"fmt"

	"longgrain/internal/ground/source"
	"longgrain/internal/ground/unit"
	"longgrain/internal/ground/working"
	"longgrain/internal/trade/wood"
)

// Clearance is the free play left at each end of a slot or groove beyond the movement worked out, for
// the spread between boards and errors in making. Judgement: the coefficients err by some percent and
// a hand-cut slot by half a millimetre.
const Clearance = unit.Millimetre / 2

// Slot is a slotted hole or a gap that lets a fastening travel.
type Slot struct {
	Distance unit.Length     `json:"distance"` // from the line at which the top is held fast
	Outward  unit.Length     `json:"outward"`  // travel of the top away from that line
	Inward   unit.Length     `json:"inward"`   // travel towards it
	Length   unit.Length     `json:"length"`   // of the slot, from end to end
	Outer    unit.Length     `json:"outer"`    // from the middle of the screw, as built, to the outer end of the slot
	Inner    unit.Length     `json:"inner"`    // and to the inner end
	Working  working.Working `json:"working"`
}

// SlotFor returns the slot for a screw at a distance, across the grain, from the line at which a top
// is held fast. The slot is cut in the rail, so that the screw travels with the top.
//
//	u = swell d/W,  i = shrink d/W,  L = D + u + i + 2 c
//
// d is the distance, W the width that the movement was worked out for, D the diameter of the shank, c
// the clearance. The screw stands u + c + D/2 from the outer end when built. Panics if d or D is
// negative or W is 0.
//
// Source: proportion, closed form; c is a judgement.
func SlotFor(m Movement, distance, shank unit.Length) Slot {
	if distance < 0 || shank < 0 || m.Width <= 0 {
		panic(fmt.Sprintf("movement: slot at %v for a screw of %v in a width of %v", distance, shank, m.Width))
	}
	share := float64(distance) / float64(m.Width)
	s := Slot{Distance: distance, Outward: m.Swell.Scale(share), Inward: m.Shrink.Scale(share)}
	s.Outer = s.Outward + Clearance + shank/2
	s.Inner = s.Inward + Clearance + (shank - shank/2)
	s.Length = s.Outer + s.Inner
	s.Working = working.Working{{
		Title: "Length of the slot", Formula: "L = D + (swell + shrink) · d/W + 2c",
		Inputs: []working.Value{
			{Symbol: "D", Name: "shank of the screw", Number: shank.MM(), Unit: "mm"},
			{Symbol: "swell", Name: "growth of the whole width", Number: m.Swell.MM(), Unit: "mm"},
			{Symbol: "shrink", Name: "loss of the whole width", Number: m.Shrink.MM(), Unit: "mm"},
			{Symbol: "d", Name: "distance from the fixed line", Number: distance.MM(), Unit: "mm"},
			{Symbol: "W", Name: "width of the top", Number: m.Width.MM(), Unit: "mm"},
			{Symbol: "c", Name: "clearance at each end", Number: Clearance.MM(), Unit: "mm", Cite: source.Choice("docs/methods/movement.md")},
		},
		Result: working.Value{Symbol: "L", Name: "length of the slot", Number: s.Length.MM(), Unit: "mm"},
		Cite:   source.Choice("docs/methods/movement.md"),
	}}
	return s
}

// Button is where the tongue of a tabletop button stands in its groove when it is fitted.
type Button struct {
	Gap     unit.Length `json:"gap"`     // between the tip of the tongue and the bottom of the groove
	Overlap unit.Length `json:"overlap"` // of the tongue in the groove that must be left at the driest or dampest time
	Tongue  unit.Length `json:"tongue"`  // least length of the tongue in the groove as built
	Groove  unit.Length `json:"groove"`  // least depth of the groove
}

// ButtonFor returns the play of a button on the side of a rail that faces the fixed line, at a distance
// from that line. As the top swells the button moves outward and pushes into the groove; as it shrinks
// the button draws out.
//
//	gap = swell d/W + c,  tongue = shrink d/W + overlap + c,  groove = gap + tongue
//
// Symbols as SlotFor; overlap is the hold that must never be lost. Panics as SlotFor.
//
// Source: proportion, closed form.
func ButtonFor(m Movement, distance, overlap unit.Length) Button {
	s := SlotFor(m, distance, 0)
	b := Button{Gap: s.Outward + Clearance, Overlap: overlap, Tongue: s.Inward + overlap + Clearance}
	b.Groove = b.Gap + b.Tongue
	return b
}

// Groove is how a panel sits in the grooves of a frame.
type Groove struct {
	Gap   unit.Length `json:"gap"`   // from the edge of the panel to the bottom of the groove, as built, on each side
	Depth unit.Length `json:"depth"` // least depth of the groove
}

// GrooveFor returns the gap and the least depth of the grooves on the two long sides of a panel that is
// held on its centre line.
//
//	gap = swell/2 + c,  depth = gap + shrink/2 + cover
//
// cover is what must stay in the groove at the driest time. Panics if cover is negative.
//
// Source: proportion, closed form.
func GrooveFor(m Movement, cover unit.Length) Groove {
	if cover < 0 {
		panic("movement: negative cover")
	}
	gap := m.Swell/2 + Clearance
	return Groove{Gap: gap, Depth: gap + m.Shrink/2 + cover}
}

// WidestCrossGlue is the widest glued joint across the grain that is left without a second thought.
// Common practice: a tenon wider than 90 to 100 mm is split in two.
const WidestCrossGlue = 90 * unit.Millimetre

// Conflict is a joint in which one part wants to move across its grain and the other, whose grain runs
// that way, holds it.
type Conflict struct {
	Span    unit.Length     `json:"span"`    // held width across the grain
	Free    unit.Length     `json:"free"`    // whole swing of that width through the year, if it were free
	Ratio   float64         `json:"ratio"`   // span over the widest that is common practice; above 1 calls for a remedy
	Stress  unit.MPa        `json:"stress"`  // of wood held fully through drying, without creep; 0 when not known
	Share   float64         `json:"share"`   // of that stress in the mean strength across the grain; 0 when not known
	Working working.Working `json:"working"` // steps to all of these
}

// CrossGrain measures the conflict of a width held across the grain. False when the species has no
// figure of movement. Panics if the span is negative.
//
//	ratio = span / 90 mm;  stress = E_T (shrink/span);  share = stress / f_t,90
//
// E_T is the modulus across the grain, f_t,90 the mean tension strength across it, both at the driest
// moisture. The stress is that of wood which cannot creep and of a partner that cannot give, so it is
// an upper bound that tells woods and climates apart; the ratio of spans decides.
//
// Source: the limit is common practice; the stress is Hooke's law, docs/methods/movement.md.
func CrossGrain(span unit.Length, s wood.Species, cut wood.Cut, y Year) (Conflict, bool) {
	m, ok := Across(span, s, cut, y)
	if !ok {
		return Conflict{}, false
	}
	c := Conflict{Span: span, Free: m.Total(), Ratio: float64(span) / float64(WidestCrossGlue), Working: m.Working}
	c.Working = append(c.Working, working.Step{
		Title: "Width held across the grain", Formula: "r = span / widest",
		Inputs: []working.Value{
			{Symbol: "span", Number: span.MM(), Unit: "mm"},
			{Symbol: "widest", Name: "widest cross-grain glue joint", Number: WidestCrossGlue.MM(), Unit: "mm", Cite: source.Practice()},
		},
		Result: working.Value{Symbol: "r", Number: c.Ratio},
		Cite:   source.Practice(),
	})
	modulus, hasModulus := s.LongitudinalModulus(y.Dry)
	ratio, hasRatio := s.ElasticRatio(wood.TangentialModulus)
	strength, hasStrength := s.At(wood.TensionPerpendicular, y.Dry)
	if !hasModulus || !hasRatio || !hasStrength || span == 0 {
		return c, true
	}
	strain := float64(m.Shrink) / float64(span)
	c.Stress = modulus.Value * unit.MPa(ratio.Value*strain)
	c.Share = float64(c.Stress / strength.Value)
	c.Working = append(c.Working, working.Step{
		Title: "Stress if fully held while drying", Formula: "σ = E · (E_T/E) · shrink/span",
		Inputs: []working.Value{
			{Symbol: "E", Name: "modulus along the grain", Number: float64(modulus.Value), Unit: "MPa", Cite: modulus.Cite},
			{Symbol: "E_T/E", Name: "modulus across the grain as a share", Number: ratio.Value, Cite: ratio.Cite},
			{Symbol: "shrink", Number: m.Shrink.MM(), Unit: "mm"},
			{Symbol: "f", Name: "mean tension strength across the grain", Number: float64(strength.Value), Unit: "MPa", Cite: strength.Cite},
		},
		Result: working.Value{Symbol: "σ", Number: float64(c.Stress), Unit: "MPa"},
		Cite:   source.Choice("docs/methods/movement.md"),
		Note:   "upper bound: wood creeps and the partner gives",
	})
	return c, true
}
