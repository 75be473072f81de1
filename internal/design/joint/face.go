package joint

import (
	"strings"

	"longgrain/internal/design/strength"
	"longgrain/internal/ground/source"
	"longgrain/internal/ground/unit"
	"longgrain/internal/ground/working"
)

// faceModel is the coefficient of variation of the models of glue faces, a prior. Source: docs/methods/joints.md, which gives
// 0.30 for laps; judgement for the others.
const faceModel = 0.30

var citeOwn = source.Choice("docs/methods/joints.md")

// weaker returns the lower shear strength of the two woods, MPa.
func (s Site) weaker() float64 { return float64(min(s.TimberA.Shear, s.TimberB.Shear)) }

// cheekPulled returns the stress at which a glue face of crossing grain is pulled off straight, MPa: that of a tenon's cheek.
func (s Site) cheekPulled() float64 {
	return float64(strength.Pulled(s.TimberA.grain(), s.TimberB.grain()))
}

var citeCheek = strength.CiteRolling

// faceTurned returns the moment at which a glue face of crossing grain, long by high mm, turns about its middle, N·m.
func (s Site) faceTurned(long, high float64) float64 {
	return strength.FaceAboutMiddle(s.TimberA.grain(), s.TimberB.grain(), long, high) / 1000
}

// splits returns the lower strength across the grain of the two woods, MPa.
func (s Site) splits() float64 { return float64(min(s.TimberA.Splitting, s.TimberB.Splitting)) }

// crush returns the stress at which the weaker of the two woods is crushed across its grain, MPa.
func (s Site) crush() float64 {
	return strength.CrushFactor * float64(min(s.TimberA.CrushPerp, s.TimberB.CrushPerp))
}

// sheared is the limit of a rectangle of A's wood sheared across its fibres at the shoulder.
func (s Site) sheared(what string, thick, high float64) Limit {
	return Limit{what, float64(s.TimberA.Shear) * thick * high / 1.5, source.At("timber-theory", "shear of a rectangle", source.Exact)}
}

// broken is the limit of a rectangle bent at the shoulder, N·m: b is its size along the axis of bending, h across it.
func broken(what string, f unit.MPa, b, h float64) Limit {
	return Limit{what, float64(f) * b * h * h / 6000, source.At("timber-theory", "bending of a rectangle", source.Exact)}
}

// faceStiffness returns the give of glue faces that lie in the plane of U and of the direction into B: count faces of
// long by high mm, each with a layer of wood of a thickness beside it that shears.
func faceStiffness(s Site, count, long, high, layer float64) Stiffness {
	perArea := float64(s.TimberA.Modulus+s.TimberB.Modulus) / 2 / 16 / layer
	area := count * long * high
	axial := perArea * area
	return Stiffness{
		Axial: unit.NewtonsPerMillimetre(axial), Shear: unit.NewtonsPerMillimetre(axial),
		BendU: unit.NewtonMetresPerRadian(axial * (high*high + long*long) / 12 / 1000),
		BendV: unit.NewtonMetresPerRadian(axial * s.Thick() * s.Thick() / 12 / 1000),
		Twist: unit.NewtonMetresPerRadian(axial * (high*high + s.Thick()*s.Thick()) / 12 / 1000),
		Cite:  strength.CiteStiffness,
	}
}

// limitsShown is the working of a joint whose strength is the least of some limits: the limits against bending and pull.
func limitsShown(st Strength) working.Working {
	var out working.Working
	for _, r := range []struct {
		what, symbol, unit string
		res                Resistance
	}{{"Bending of the joint, strong way", "M", "N·m", st.BendU}, {"Bending of the joint, weak way", "M", "N·m", st.BendV}, {"Pull on the joint", "N", "N", st.Tension}} {
		step := working.Step{Title: r.what, Formula: "the least of the limits", Result: working.Value{Symbol: r.symbol, Number: r.res.Mean, Unit: r.unit},
			Cite: citeOwn, Note: "governs: " + r.res.Governs}
		for _, l := range r.res.Limits {
			step.Inputs = append(step.Inputs, working.Value{Symbol: r.symbol, Name: l.Name, Number: l.Mean, Unit: r.unit, Cite: l.Cite})
		}
		out = append(out, step)
	}
	return out
}

// areaOf returns mm² as square metres.
func areaOf(mm2 float64) unit.SquareMetres { return unit.SquareMetres(mm2 / 1e6) }

// briefly shortens the name of a joint by its sizes: "tenon 10 mm thick, 92 mm wide" becomes "tenon 10 mm × 92 mm".
func briefly(z Sizes) string {
	return strings.NewReplacer(" thick, ", " × ", " wide, ", " × ", " long", "", " deep", "").Replace(z.Product)
}

func named(z Sizes) string { return z.Product }
