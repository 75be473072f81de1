package wood

import (
	"longgrain/internal/ground/source"
	"longgrain/internal/ground/unit"
)

// Specific gravity is printed on three bases of volume, which differ by up to a fifth. Each has a
// type of its own so that one cannot stand in for another.
type (
	Gravity12      float64 // ovendry mass over volume at 12 % moisture: strength tables, density
	BasicGravity   float64 // ovendry mass over green volume
	OvendryGravity float64 // ovendry mass over ovendry volume: fastener formulas
)

// fibreSaturation is the moisture content, in percent, at which the cell walls are full and wood stops
// swelling. Source: [wood-handbook] chapter 4 uses 30 % as the average of all species.
const fibreSaturation = 30

// Gravity returns the specific gravity at 12 % moisture. European figures are printed as densities
// at 12 %; they are divided by 1,120 kg/m³ and marked computed. False when no source gives either.
func (s Species) Gravity() (Figure[Gravity12], bool) {
	if f, ok := convert[Gravity12](s.figure(specificGravity, at12)); ok {
		return f, true
	}
	f, ok := s.figure(density, at12)
	if !ok {
		return Figure[Gravity12]{}, false
	}
	return computed(Gravity12(f.Value/1120), f.Cite), true
}

// Basic returns the specific gravity on green volume that belongs to one at 12 % moisture.
//
//	SG12 = SGb / (1 - 0.265 SGb (1 - 12/30)), solved for SGb
//
// Approximate, within a few percent for woods of ordinary shrinkage; positive gravities only.
//
// Source: [wood-handbook] equation 4-11, from memory.
func (g Gravity12) Basic() BasicGravity {
	return BasicGravity(float64(g) / (1 + 0.265*float64(g)*(1-12.0/fibreSaturation)))
}

// At returns the ovendry mass over the volume at moisture content m, as a plain ratio to the density
// of water.
//
//	SG(M) = SGb / (1 - 0.265 SGb (1 - M/30))
//
// M in percent, 0 to 30; above 30 the wood no longer swells and the basic gravity is returned.
//
// Source: [wood-handbook] equation 4-11, from memory.
func (g BasicGravity) At(m Moisture) float64 {
	return float64(g) / (1 - 0.265*float64(g)*(1-float64(min(max(m, 0), fibreSaturation))/fibreSaturation))
}

// Ovendry returns the gravity on ovendry volume, the basis of fastener formulas.
//
// Source: as BasicGravity.At with M = 0.
func (g BasicGravity) Ovendry() OvendryGravity { return OvendryGravity(g.At(0)) }

// Density returns the mass over the volume, both at moisture content m.
//
//	rho(M) = 1000 SG(M) (1 + M/100)
//
// rho in kg/m³; at 12 % this is 1,120 SG12. M above 30 % adds water without swelling. False when no
// source gives a specific gravity or density of the species.
//
// Source: [wood-handbook] chapter 4, from memory.
func (s Species) Density(m Moisture) (Figure[unit.KilogramsPerCubicMetre], bool) {
	g, ok := s.Gravity()
	if !ok {
		return Figure[unit.KilogramsPerCubicMetre]{}, false
	}
	rho := 1000 * g.Value.Basic().At(m) * (1 + float64(max(m, 0))/100)
	return computed(unit.KilogramsPerCubicMetre(rho), g.Cite), true
}

// FastenerGravity returns the specific gravity on ovendry volume for fastener formulas: the design
// value of the species combination where there is one, else one computed from the gravity at 12 %.
// Which species belongs to which combination is from memory.
//
// Source: [nds] table 12.3.3A.
func (s Species) FastenerGravity() (Figure[OvendryGravity], bool) {
	if f, ok := convert[OvendryGravity](lookupFactor("ovendry gravity", s.combination)); ok {
		f.Cite.Place += ", " + s.combination
		f.Cite.Confidence = source.Weaker(f.Cite.Confidence, source.Memory)
		return f, true
	}
	g, ok := s.Gravity()
	if !ok {
		return Figure[OvendryGravity]{}, false
	}
	return computed(g.Value.Basic().Ovendry(), g.Cite), true
}
