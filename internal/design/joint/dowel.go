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
	"longgrain/internal/trade/wood"
)

// Rules for dowels. Common practice, docs/methods/joints.md: edge distance D08, spacing D07, glue space D05.
const (
	dowelEdge     = 1.5 // diameters from the middle of a dowel to the edge of the rail, at least
	dowelSpacing  = 2.0 // diameters between middles, at least
	dowelMostSide = 4.5 // diameters of depth, at most: deeper than this breaks the dowel, not the glue
	dowelLeast    = 2.0 // diameters of depth, at least
	glueSpace     = unit.Millimetre * 3 / 2
	dowelWall     = 4 * unit.Millimetre
	maxDowels     = 5
)

// dowelTimber is what dowels are turned from. Common practice: fluted dowels as sold are beech.
const dowelTimber = "american-beech"

// Dowels are round wooden pins in bores of both parts.
const Dowels Kind = "dowels"

var dowelKind = kind{
	name: Dowels, slant: true, needs: []hardware.Job{hardware.BoreEnd, hardware.BoreFace}, model: dowelModel, loose: true, suits: meetsSide,
	possible: dowels, cut: cutDowel, words: counted,
	short: func(z Sizes) string {
		return fmt.Sprintf("%d dowels %s", z.Count, dowelSize(z))
	},
}

func dowelSize(z Sizes) string { return strings.TrimPrefix(z.Product, "fluted dowel ") }

func cutDowel(s Site, j Joint, at spot) (onA, onB []assembly.Feature) {
	return facing(s, at, func(a, b *assembly.Feature) {
		a.Kind, a.Diameter, a.Depth = assembly.Bore, j.Sizes.Diameter, j.Sizes.DepthA+glueSpace
		b.Kind, b.Diameter, b.Depth = assembly.Bore, j.Sizes.Diameter, j.Sizes.DepthB+glueSpace
	})
}

func dowels(s Site, m Means) []Joint {
	var out []Joint
	for _, stock := range m.Dowels {
		d := stock.Diameter
		if !dowelSuits(s, d) {
			continue
		}
		inA, inB, ok := dowelDepths(s, stock, Dowels)
		if !ok {
			continue
		}
		for n := 2; n <= maxDowels; n++ {
			at, ok := s.spread(n, d.Scale(dowelEdge), d.Scale(dowelSpacing), m.Mark)
			if !ok {
				break
			}
			out = append(out, dowelJoint(s, stock, at, inA, inB))
		}
	}
	return out
}

// dowelDepths returns how deep a dowel stands in A and in B; false when that is too little, too much or does not fit.
func dowelDepths(s Site, stock hardware.Dowel, k Kind) (inA, inB unit.Length, ok bool) {
	d := stock.Diameter.MM()
	inB = dowelDepth(s, stock, k)
	inA = stock.Length - inB
	return inA, inB, min(inA, inB).MM() >= dowelLeast*d && max(inA, inB).MM() <= dowelMostSide*d && inA+glueSpace <= s.reach()
}

// dowelDepth returns how deep a dowel stands in B, in half millimetres: half its length or as the maker wishes, and no
// more than leaves room for the glue below it.
func dowelDepth(s Site, stock hardware.Dowel, k Kind) unit.Length {
	wanted := stock.Length / 2
	if s.wishes(k) && s.Wish.Depth.Length > 0 {
		wanted = s.Wish.Depth.Length
	}
	most := min(wanted, s.Room-glueSpace)
	depth := most.RoundTo(unit.Millimetre / 2)
	if depth > most {
		depth -= unit.Millimetre / 2
	}
	return depth
}

// dowelSuits tells whether a dowel is of a sensible size for the rail: rule D01, a third to a half of the thickness (half a
// millimetre more is taken, so that metric dowels suit inch boards), with a wall on either side. A diameter that the maker
// wishes needs only the walls, and not to be thinner than a fifth.
func dowelSuits(s Site, d unit.Length) bool {
	t := unit.MM(s.Thick())
	if (t-d)/2 < dowelWall {
		return false
	}
	if wish := s.wished(Dowels).Diameter.Length; wish > 0 && same(wish, d) {
		return d >= t/5
	}
	return d >= t/3-unit.Millimetre/2 && d <= t/2+unit.Millimetre/2
}

func dowelJoint(s Site, stock hardware.Dowel, at []unit.Length, inA, inB unit.Length) Joint {
	d, n := stock.Diameter, len(at)
	product := fmt.Sprintf("fluted dowel %s × %s", d.Show(stock.Family), stock.Length.Show(stock.Family))
	j := Joint{
		Kind:     Dowels,
		Sizes:    Sizes{Count: n, Diameter: d, DepthA: inA, DepthB: inB, Product: product},
		Hardware: []Item{{product, n}},
		Jobs:     []hardware.Job{hardware.BoreEnd, hardware.BoreFace},
		Minutes:  minutes(Dowels, n),
		Shows:    Hidden,
	}
	if d > unit.MM(s.Thick())/2 {
		j.Notes = append(j.Notes, "the dowel is a little thicker than half the rail: keep to the middle and drill with a guide")
	}
	round := math.Pi * d.MM()
	j.Glue.LongGrain = unit.SquareMetres(round * (inA.MM() + inB.MM()) / 2 * float64(n) / 1e6)
	j.Glue.EndGrain = unit.SquareMetres((s.Height()*s.Thick() - float64(n)*round*d.MM()/4) / 1e6)
	j.place(s, at)
	j.Strength = dowelStrength(s, d, at, inA, inB)
	j.Stiffness = dowelStiffness(s, d, at, inA, inB)
	return j
}

// dowelModel is the coefficient of variation of the dowel model, a prior. Source: docs/methods/joints.md.
const dowelModel = 0.25

// dowelWood are the mean shear and bending strength of what dowels are turned from.
func dowelWood() (shear, bending wood.Figure[unit.MPa]) {
	beech, _ := wood.Lookup(dowelTimber)
	shear, _ = beech.Mean(wood.ShearParallel)
	bending, _ = beech.Mean(wood.BendingStrength)
	return shear, bending
}

// dowelInPart returns the limits of one dowel glued into one part: its glue and the wood around it. end says that it stands
// in end grain.
func dowelInPart(t Timber, part string, d, l unit.Length, end bool) []Limit {
	shear, _ := dowelWood()
	surface := math.Pi * d.MM() * l.MM()
	return []Limit{
		{"glue of the dowel in " + part, float64(strength.BondStress(l, t.Shear, shear.Value)) * surface, strength.CiteBond},
		{"wood round the dowel in " + part, float64(strength.WoodRoundDowel(t.grain(), end)) * surface, strength.CiteRolling},
	}
}

// dowelTorn is the limit of the dowel itself.
func dowelTorn(d unit.Length) Limit {
	_, bending := dowelWood()
	return Limit{"the dowel torn in two", float64(bending.Value) * math.Pi * d.MM() * d.MM() / 4, bending.Cite}
}

func dowelStrength(s Site, d unit.Length, at []unit.Length, inA, inB unit.Length) Strength {
	return dowelRowsStrength(s, d, at, []float64{s.Thick() / 2}, inA, inB)
}

// dowelRowsStrength is that of rows of dowels: at along U, rows through the thickness in mm from its low side.
func dowelRowsStrength(s Site, d unit.Length, at []unit.Length, rows []float64, inA, inB unit.Length) Strength {
	shear, bending := dowelWood()
	one := append(append(dowelInPart(s.TimberA, s.A.Name, d, inA, true), dowelInPart(s.TimberB, s.B.Name, d, inB, false)...), dowelTorn(d))
	pull := least(dowelModel, one...)
	n := float64(len(at) * len(rows))
	pinsU := slices.Repeat(s.fromEdge(at), len(rows))
	bed := s.bedU()
	strong, strongName := strength.BothWaysOn(pinsU, s.Height(), pull.Mean, bed)
	weak, weakName := strength.BothWaysOn(slices.Repeat(rows, len(at)), s.Thick(), pull.Mean, s.bedV())
	side := lateralPin(s, d, inA, inB, bending.Value, shear.Value)
	st := Strength{
		Tension: least(dowelModel, scaled(one, n)...),
		ShearU:  least(dowelModel, scaled(side, n)...),
		ShearV:  least(dowelModel, scaled(side, n)...),
		BendU:   least(dowelModel, append(bendingLimits(s), Limit{strongName, float64(strong), strength.CiteBond})...),
		BendV:   least(dowelModel, append(bendingLimitsWeak(s), Limit{weakName, float64(weak), strength.CiteBond})...),
		Twist:   least(dowelModel, Limit{"dowels pushed sideways", strength.TwistOf(pinsU, least(0, side...).Mean), strength.CiteLateral}),
	}
	st.Working = working.Working{
		{Title: "Bond stress of a dowel in " + s.B.Name, Formula: "τ = 0.379 L^-0.11 (0.95 S₁ + S₂) · 0.9",
			Inputs: []working.Value{{Symbol: "L", Name: "glued depth", Number: inB.MM(), Unit: "mm"}, {Symbol: "S₁", Name: "shear strength of " + s.TimberB.Name, Number: float64(s.TimberB.Shear), Unit: "MPa"},
				{Symbol: "S₂", Name: "shear strength of the dowel", Number: float64(shear.Value), Unit: "MPa", Cite: shear.Cite}},
			Result: working.Value{Symbol: "τ", Number: float64(strength.BondStress(inB, s.TimberB.Shear, shear.Value)), Unit: "MPa"}, Cite: strength.CiteBond},
		{Title: "Wood round a dowel in " + s.B.Name, Formula: "τ = S₁ (1 + r)/2, drawn across the grain",
			Inputs: []working.Value{{Symbol: "r", Name: "rolling shear over shear along the grain", Number: s.TimberB.Rolling, Cite: strength.CiteRolling}},
			Result: working.Value{Symbol: "τ", Number: float64(strength.WoodRoundDowel(s.TimberB.grain(), false)), Unit: "MPa"}, Cite: source.Choice("docs/methods/joints.md"),
			Note: "the lower of both stresses counts"},
		{Title: "Pull of one dowel", Formula: "F = τ π D L, the weaker of both parts and of the dowel itself",
			Inputs: []working.Value{{Symbol: "D", Number: d.MM(), Unit: "mm"}, {Symbol: "L", Name: "in " + s.A.Name, Number: inA.MM(), Unit: "mm"}, {Symbol: "L", Name: "in " + s.B.Name, Number: inB.MM(), Unit: "mm"}},
			Result: working.Value{Symbol: "F", Number: pull.Mean, Unit: "N"}, Cite: strength.CiteBond, Note: "governs: " + pull.Governs},
		{Title: "Bending of the joint, strong way", Formula: "pulls of the dowels against the pressed wood: ΣT = P(c), M = ΣT x − P c/2",
			Inputs: []working.Value{{Symbol: "q", Name: "crushing load per mm", Number: bed.Load, Unit: "N/mm"}, {Symbol: "h", Name: "height of the joint", Number: s.Height(), Unit: "mm"}, {Symbol: "n", Name: "dowels", Number: n}},
			Result: working.Value{Symbol: "M", Number: st.BendU.Mean, Unit: "N·m"}, Cite: source.Choice("docs/methods/joints.md"), Note: "governs: " + st.BendU.Governs + rowRule(pinsU, s.Height(), pull.Mean)},
	}
	return st
}

// rowRule says what the published rule for a row of dowels gives, since the lower of both counts.
func rowRule(at []float64, height, pull float64) string {
	m := float64(strength.RowRule(at, height, pull))
	if math.IsInf(m, 1) {
		return ""
	}
	return fmt.Sprintf("; by the rule for a row of dowels %.4g N·m, and the lower counts", m)
}

// fromEdge returns the places of pins as mm from the low edge of the contact.
func (s Site) fromEdge(at []unit.Length) []float64 {
	out := make([]float64, len(at))
	for i, u := range at {
		out[i] = (u - s.Connection.A.Area.U0).MM()
	}
	return out
}

func scaled(limits []Limit, n float64) []Limit {
	out := slices.Clone(limits)
	for i := range out {
		out[i].Mean *= n
	}
	return out
}

// lateralPin returns the limits of one wooden pin pushed sideways: its yield between the two parts and its own
// shear. The end grain of A bears along its grain, the side of B across.
func lateralPin(s Site, d, inA, inB unit.Length, bending, shear unit.MPa) []Limit {
	my := float64(bending) * math.Pi * math.Pow(d.MM(), 3) / 32
	f1, f2 := strength.Embedding(d, s.TimberA.Density, true), strength.Embedding(d, s.TimberB.Density, true)
	return []Limit{
		{"pin bent in its holes", float64(strength.Lateral(f1, f2, inA, inB, d, my)), strength.CiteLateral},
		{"pin sheared", float64(shear) * math.Pi * d.MM() * d.MM() / 4, source.Practice()},
	}
}

// bendingLimits are the limits of the rail itself beside the joint: M = f b h²/6.
func bendingLimits(s Site) []Limit {
	return []Limit{{RailItself, float64(s.TimberA.Bending) * s.Thick() * s.Height() * s.Height() / 6000, source.At("timber-theory", "bending of a rectangle", source.Exact)}}
}

func bendingLimitsWeak(s Site) []Limit {
	return []Limit{{RailItself, float64(s.TimberA.Bending) * s.Height() * s.Thick() * s.Thick() / 6000, source.At("timber-theory", "bending of a rectangle", source.Exact)}}
}

func dowelStiffness(s Site, d unit.Length, at []unit.Length, inA, inB unit.Length) Stiffness {
	k := strength.Series(strength.GlueLineStiffness(s.TimberA.Modulus, inA), strength.GlueLineStiffness(s.TimberB.Modulus, inB))
	return pinStiffness(s, s.fromEdge(at), k, strength.LateralStiffness((s.TimberA.Density+s.TimberB.Density)/2, d))
}

// pinStiffness returns the stiffness of a row of equal pins, each with an axial and a sideways stiffness in
// N/mm. Strong and weak way turn about the pressed side.
func pinStiffness(s Site, at []float64, axial, side float64) Stiffness {
	n := float64(len(at))
	half := s.Thick() / 2
	middle := 0.0
	for _, x := range at {
		middle += x / n
	}
	return Stiffness{
		Axial: unit.NewtonsPerMillimetre(n * axial),
		Shear: unit.NewtonsPerMillimetre(n * side),
		BendU: unit.NewtonMetresPerRadian(axial * strength.SumSquares(at, strength.PivotFrom(at)) / 1000),
		BendV: unit.NewtonMetresPerRadian(axial * n * half * half / 1000),
		Twist: unit.NewtonMetresPerRadian(side * (strength.SumSquares(at, middle) + n*half*half/4) / 1000),
		Cite:  strength.CiteStiffness,
	}
}
