package joint

import (
	"fmt"
	"math"
	"strings"

	"longgrain/internal/design/assembly"
	"longgrain/internal/design/strength"
	"longgrain/internal/ground/source"
	"longgrain/internal/ground/unit"
	"longgrain/internal/ground/working"
	"longgrain/internal/trade/hardware"
)

// Rules for mortise and tenon. Common practice, docs/methods/joints.md: shoulders M05 and M08, setback M04,
// extra depth M03.
const (
	tenonShoulder = 6 * unit.Millimetre
	tenonSetback  = NearEnd
	tenonLeast    = 15 * unit.Millimetre
	tenonStep     = 5 * unit.Millimetre
)

// chisels are the widths of bits and chisels that mortises are cut with.
func chisels(f unit.Family) []unit.Length {
	if f == unit.Imperial {
		return []unit.Length{unit.Inch / 4, unit.Inch * 5 / 16, unit.Inch * 3 / 8, unit.Inch / 2, unit.Inch * 5 / 8}
	}
	return []unit.Length{6 * unit.Millimetre, 8 * unit.Millimetre, 10 * unit.Millimetre, 12 * unit.Millimetre, 16 * unit.Millimetre}
}

// Tenon is a tongue on the end of A in a mortise of B.
const Tenon Kind = "mortise and tenon"

var tenonKind = kind{
	name: Tenon, needs: []hardware.Job{hardware.CutMortise, hardware.CutTenon}, model: tenonModel, suits: mortised,
	possible: tenons, cut: cutTenon,
	words: func(z Sizes) string { return z.Product },
	short: func(z Sizes) string {
		return strings.NewReplacer(" thick, ", " × ", " wide, ", " × ", " long", "").Replace(z.Product)
	},
}

func cutTenon(s Site, j Joint, at spot) (onA, onB []assembly.Feature) {
	return tongue(s, j, at, assembly.Mortise, glueSpace)
}

// mortised tells whether a mortise for the end of A runs along B's grain, so that its cheeks are long grain. Across the grain
// they would be end grain.
func mortised(s Site) bool { return meetsSide(s) && s.uAlongB() }

// tenoned works out glue, strength and stiffness of one tenon, square or with round ends as wished: a round end holds as
// much as a square tenon of the same section, narrower by t (1 - π/4).
func (j *Joint) tenoned(s Site, t, width, l unit.Length, middle float64) {
	if s.wished(j.Kind).Ends == "rounded" {
		j.Sizes.Rounded = true
		j.Sizes.Product += ", round ends"
		width -= t.Scale(1 - math.Pi/4)
	}
	j.Glue.LongGrain = 2 * unit.Area(width, l)
	j.Glue.EndGrain = unit.SquareMetres((s.Height()*s.Thick() - width.MM()*t.MM()) / 1e6)
	j.Strength = tenonStrength(s, t, width, l, middle)
	j.Stiffness = tenonStiffness(s, t, width, l)
}

func tenons(s Site, m Means) []Joint {
	var out []Joint
	thick := unit.MM(s.Thick())
	for _, t := range s.tenonThicknesses(Tenon, m.Family) {
		// Rule M01: a third of the rail's thickness, up to a half.
		if t < thick*3/10 || t > thick/2 {
			continue
		}
		for _, l := range s.tenonLengths(Tenon) {
			if j, ok := tenonJoint(s, m, t, l); ok {
				out = append(out, j)
			}
		}
	}
	return out
}

// tenonThicknesses are those of chisels, or the one that the maker wishes.
func (s Site) tenonThicknesses(k Kind, f unit.Family) []unit.Length {
	if s.wishes(k) && s.Wish.Thickness.Length > 0 {
		return []unit.Length{s.Wish.Thickness.Length}
	}
	return chisels(f)
}

// tenonLengths are steps from the least to the most, or the one that the maker wishes. Rule M02: two thirds of the
// leg, and clear of the neighbouring mortise.
func (s Site) tenonLengths(k Kind) []unit.Length {
	most := min(s.Room-glueSpace, s.Depth*2/3)
	if s.wishes(k) && s.Wish.Depth.Length > 0 {
		if l := s.Wish.Depth.Length; l <= most {
			return []unit.Length{l}
		}
		return nil
	}
	var out []unit.Length
	for l := tenonLeast; l <= most; l += tenonStep {
		out = append(out, l)
	}
	if l := most.RoundTo(unit.Millimetre); l <= most && l > tenonLeast && (l-tenonLeast)%tenonStep != 0 {
		out = append(out, l)
	}
	return out
}

// tenonSpan returns the edges of a tenon along U: shoulders, and further back near an end of B, or as wide as wished.
func (s Site) tenonSpan(k Kind, m Means, shoulder, setback unit.Length) (lo, hi unit.Length, ok bool) {
	r := s.Connection.A.Area
	lo, hi = r.U0+shoulder, r.U1-shoulder
	if s.NearLow {
		lo = r.U0 + setback
	}
	if s.NearHigh {
		hi = r.U1 - setback
	}
	lo, hi = lo.CeilTo(m.Mark), hi.RoundTo(m.Mark)
	if w := s.wished(k).Width.Length; w > 0 {
		spare := hi - lo - w
		if spare < 0 {
			return 0, 0, false
		}
		lo += (spare / 2).RoundTo(m.Mark)
		hi = lo + w
	}
	return lo, hi, true
}

func tenonJoint(s Site, m Means, t, l unit.Length) (Joint, bool) {
	r := s.Connection.A.Area
	lo, hi, ok := s.tenonSpan(Tenon, m, tenonShoulder, tenonSetback)
	width := hi - lo
	if !ok || width < 2*t {
		return Joint{}, false
	}
	j := Joint{
		Kind:    Tenon,
		Sizes:   Sizes{Count: 1, DepthB: l, Thickness: t, Width: width, Product: fmt.Sprintf("tenon %s thick, %s wide, %s long", t.Show(m.Family), width.Show(m.Family), l.Show(m.Family))},
		Jobs:    []hardware.Job{hardware.CutMortise, hardware.CutTenon},
		Minutes: minutes(Tenon, 1),
		Shows:   Hidden,
	}
	u := (lo + hi) / 2
	j.place(s, []unit.Length{u})
	j.tenoned(s, t, width, l, (u - r.U0).MM())
	return j, true
}

// Constants of the tenon model: read anchors of two large series, docs/methods/joints.md.
const (
	tenonModel       = 0.25
	shoulderFactor   = 1.5 // measured over plain bending of the tenon, 1.56 and 1.49
	glueShareOfShear = 0.30
)

var citeTenon = source.At("eckelman-2016", "abstract: red and white oak series, constants fitted", source.Computed)

func tenonStrength(s Site, t, width, l unit.Length, middle float64) Strength {
	f, tau := float64(s.TimberA.Bending), glueShareOfShear*float64(min(s.TimberA.Shear, s.TimberB.Shear))
	tt, h, ll := t.MM(), width.MM(), l.MM()
	cheeks := 2 * h * ll
	crush := strength.CrushFactor * float64(s.TimberB.CrushPerp)
	pulled := tau * cheeks
	inner := math.Min(middle, s.Height()-middle)
	glueTurn := 2 * tau * strength.TurnAboutEdge(ll, inner-h/2, inner+h/2) / 1000
	// The pressed shoulder and the edge of the tenon in its mortise carry the couple of the cheeks' pull.
	wallPressed := crush * tt * h * h / 4 / 1000
	shoulderPressed, _, _ := strength.PinMoment([]strength.Pin{{At: inner, Pull: pulled}}, crush*s.Thick())
	st := Strength{
		Tension: least(tenonModel, Limit{"glue of the cheeks", pulled, citeTenon}),
		ShearU:  least(tenonModel, Limit{"the tenon sheared", float64(s.TimberA.Shear) * tt * h / 1.5, source.At("timber-theory", "shear of a rectangle", source.Exact)}, Limit{"wood of the mortise crushed", crush * tt * ll, source.Assumption()}),
		ShearV:  least(tenonModel, Limit{"the tenon sheared", float64(s.TimberA.Shear) * tt * h / 1.5, source.At("timber-theory", "shear of a rectangle", source.Exact)}, Limit{"wall of the mortise", crush * h * ll / 2, source.Assumption()}),
		BendU: least(tenonModel, append(bendingLimits(s),
			Limit{"the tenon broken at the shoulder", shoulderFactor * f * tt * h * h / 6000, citeTenon},
			Limit{"glue of the cheeks turned", glueTurn, citeTenon},
			Limit{"wood pressed at shoulder and mortise", shoulderPressed/1000 + wallPressed, source.Choice("docs/methods/joints.md")})...),
		BendV: least(tenonModel, append(bendingLimitsWeak(s),
			Limit{"the tenon broken at the shoulder", f*h*tt*tt/6000 + pulled*s.Thick()/2/1000, citeTenon})...),
		Twist: least(tenonModel, Limit{"glue of the cheeks twisted", tau * h * ll * (tt + h/3) / 1000 / 2, source.Assumption()}),
	}
	st.Working = working.Working{
		{Title: "Tenon broken at the shoulder", Formula: "M = 1.5 f t h²/6", Inputs: []working.Value{{Symbol: "f", Name: "bending strength of " + s.TimberA.Name, Number: f, Unit: "MPa"}, {Symbol: "t", Number: tt, Unit: "mm"}, {Symbol: "h", Number: h, Unit: "mm"}},
			Result: working.Value{Symbol: "M", Number: shoulderFactor * f * tt * h * h / 6000, Unit: "N·m"}, Cite: citeTenon},
		{Title: "Glue of the cheeks turned about the shoulder", Formula: "M = 0.30 S ∫ r dA over both cheeks", Inputs: []working.Value{{Symbol: "S", Name: "shear strength", Number: tau / glueShareOfShear, Unit: "MPa"}, {Symbol: "l", Number: ll, Unit: "mm"}},
			Result: working.Value{Symbol: "M", Number: glueTurn, Unit: "N·m"}, Cite: citeTenon},
		{Title: "Bending of the joint, strong way", Formula: "the least of the limits", Result: working.Value{Symbol: "M", Number: st.BendU.Mean, Unit: "N·m"}, Cite: source.Choice("docs/methods/joints.md"), Note: "governs: " + st.BendU.Governs},
	}
	return st
}

func tenonStiffness(s Site, t, width, l unit.Length) Stiffness {
	// Two cheeks shear a layer of wood half a tenon thick on either side.
	g := float64(s.TimberA.Modulus+s.TimberB.Modulus) / 2 / 16
	h, ll := width.MM(), l.MM()
	perArea := g / t.MM()
	axial := perArea * 2 * h * ll
	return Stiffness{
		Axial: unit.NewtonsPerMillimetre(axial),
		Shear: unit.NewtonsPerMillimetre(axial),
		BendU: unit.NewtonMetresPerRadian(perArea * 2 * h * ll * (h*h + ll*ll) / 12 / 1000),
		BendV: unit.NewtonMetresPerRadian(axial * s.Thick() * s.Thick() / 12 / 1000),
		Twist: unit.NewtonMetresPerRadian(axial * (h*h/12 + t.MM()*t.MM()/4) / 1000),
		Cite:  strength.CiteStiffness,
	}
}
