package joint

import (
	"fmt"
	"math"
	"slices"
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
	name: Tenon, slant: true, needs: []hardware.Job{hardware.CutMortise, hardware.CutTenon}, model: tenonModel, suits: mortised,
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
		// Rule M01: a third of the rail's thickness, up to a half. One that the maker wishes needs only its cheeks.
		wish := s.wished(Tenon).Thickness.Length
		if !third(s, t) && (wish == 0 || t != wish || (thick-t)/2 < tenonWall || t < thick/5) {
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

// tenonWall is the wood beside a mortise or a tenon that a wished thickness must leave. Rule M08.
const tenonWall = 3 * unit.Millimetre

// tenonThicknesses are those of chisels, and the one that the maker wishes.
func (s Site) tenonThicknesses(k Kind, f unit.Family) []unit.Length {
	out := chisels(f)
	if wish := s.wished(k).Thickness.Length; wish > 0 && !slices.Contains(out, wish) {
		out = append(out, wish)
	}
	return out
}

// tenonLengths are steps from the least to the most, and the one that the maker wishes. Rule M02: two thirds of the
// leg, and clear of the neighbouring mortise; a wished one need only be clear.
func (s Site) tenonLengths(k Kind) []unit.Length {
	most := min(s.Room-glueSpace, s.Depth*2/3)
	var out []unit.Length
	if wish := s.wished(k).Depth.Length; wish > 0 && wish <= s.Room-glueSpace {
		out = append(out, wish)
	}
	for l := tenonLeast; l <= most; l += tenonStep {
		out = append(out, l)
	}
	if l := most.RoundTo(unit.Millimetre); l <= most && l > tenonLeast && (l-tenonLeast)%tenonStep != 0 {
		out = append(out, l)
	}
	slices.Sort(out)
	return slices.Compact(out)
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

// Constants of the tenon model, docs/methods/joints.md.
const (
	tenonModel = 0.25
	// shoulderFactor is the lower of what two large series measured over the plain bending of the tenon, 1.56 and 1.49: shoulders
	// that fit relieve the tenon. [eckelman-2016] abstract, read; the ratio is worked out here.
	shoulderFactor = 1.5
)

var (
	citeShoulder = source.At("eckelman-2016", "abstract: red and white oak series, the ratio worked out here", source.Computed)
	citeTurned   = source.Choice("docs/methods/joints.md")
)

// tenonStrength returns the strength of a tenon whose middle stands at a distance, mm, from the low edge of the contact.
func tenonStrength(s Site, t, width, l unit.Length, middle float64) Strength {
	f := float64(s.TimberA.Bending) * s.straightShare()
	a, b := s.TimberA.grain(), s.TimberB.grain()
	tt, h, ll := t.MM(), width.MM(), l.MM()
	crush := strength.CrushFactor * float64(s.TimberB.CrushPerp)
	pulled := float64(strength.Pulled(a, b)) * 2 * h * ll
	bed := s.bedU()
	turned, contact := cheeksTurned(s, h, ll, middle)
	edge := strength.CrushFactor * float64(s.TimberA.CrushPerp) * tt * ll * ll / 2 / 1000
	broken := shoulderFactor * f * tt * h * h / 6000
	sheared := Limit{"the tenon sheared", float64(s.TimberA.Shear) * tt * h / 1.5, source.At("timber-theory", "shear of a rectangle", source.Exact)}
	// Along the height the glued cheeks and the edge of the tenon on the end of its mortise carry side by side: the stronger one.
	slid := Limit{"glue of the cheeks slid", float64(strength.Pulled(b, a)) * 2 * h * ll, strength.CiteRolling}
	if bears := strength.CrushFactor * float64(s.TimberA.CrushPerp) * tt * ll; bears > slid.Mean {
		slid = Limit{"edge of the tenon crushed in its mortise", bears, citeTurned}
	}
	st := Strength{
		Tension: least(tenonModel, Limit{"glue of the cheeks", pulled, strength.CiteRolling}),
		ShearU:  least(tenonModel, sheared, slid),
		ShearV:  least(tenonModel, sheared, Limit{"wall of the mortise", crush * h * ll / 2, source.Assumption()}),
		BendU: least(tenonModel, append(bendingLimits(s),
			Limit{"the tenon broken at the shoulder", broken, citeShoulder},
			Limit{"glue of the cheeks turned", turned + edge, citeTurned})...),
		BendV: least(tenonModel, append(bendingLimitsWeak(s),
			Limit{"the tenon broken at the shoulder", f*h*tt*tt/6000 + pulled*s.Thick()/2/1000, citeTurned})...),
		Twist: least(tenonModel, Limit{"glue of the cheeks twisted", pulled * (tt + h/3) / 4 / 1000, source.Assumption()}),
	}
	if share := s.straightShare(); share < 1 {
		st.Working = append(st.Working, working.Step{Title: "Grain running out of the tenon", Formula: "share of the bending strength that is left, interpolated between published slopes",
			Inputs: []working.Value{{Symbol: "f", Name: "bending strength of " + s.TimberA.Name, Number: float64(s.TimberA.Bending), Unit: "MPa"}},
			Result: working.Value{Symbol: "share", Number: share}, Cite: citeSlope, Note: "the tenon stands square to its shoulder, so the grain crosses it"})
	}
	st.Working = append(st.Working, working.Working{
		{Title: "Tenon broken at the shoulder", Formula: "M = 1.5 f t h²/6", Inputs: []working.Value{{Symbol: "f", Name: "bending strength of " + s.TimberA.Name, Number: f, Unit: "MPa"}, {Symbol: "t", Number: tt, Unit: "mm"}, {Symbol: "h", Number: h, Unit: "mm"}},
			Result: working.Value{Symbol: "M", Number: broken, Unit: "N·m"}, Cite: citeShoulder},
		{Title: "Cheeks turned off, shoulder and edge pressed", Formula: "M = ∫ τ(φ) r dA over both cheeks + P(c) c/2 + 1.5 f₉₀ t l²/2",
			Inputs: []working.Value{{Symbol: "S", Name: "shear strength along the grain", Number: math.Min(float64(a.Shear), float64(b.Shear)), Unit: "MPa"},
				{Symbol: "r", Name: "rolling shear over shear along the grain", Number: math.Min(a.Rolling, b.Rolling), Cite: strength.CiteRolling}, {Symbol: "l", Number: ll, Unit: "mm"},
				{Symbol: "q", Name: "crushing load per mm", Number: bed.Load, Unit: "N/mm"}, {Symbol: "c", Name: "depth of contact", Number: contact, Unit: "mm"}},
			Result: working.Value{Symbol: "M", Number: turned + edge, Unit: "N·m"}, Cite: citeTurned, Note: "the lower of both counts"},
		{Title: "Bending of the joint, strong way", Formula: "the least of the limits", Result: working.Value{Symbol: "M", Number: st.BendU.Mean, Unit: "N·m"}, Cite: source.Choice("docs/methods/joints.md"), Note: "governs: " + st.BendU.Governs},
	}...)
	return st
}

// cheeksTurned returns the moment of both cheeks of a tenon of width h and length l and of the pressed shoulder, N·m, with
// the weaker edge pressed, and the depth of contact, mm.
func cheeksTurned(s Site, h, l, middle float64) (moment, contact float64) {
	inner := math.Max(math.Min(middle, s.Height()-middle), h/2)
	cheek := strength.Face{Near: inner - h/2, Far: inner + h/2, Length: l, Share: 2}
	m, c := strength.FacesTurned([]strength.Face{cheek}, s.TimberA.grain(), s.TimberB.grain(), s.bedU())
	return m / 1000, c
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
