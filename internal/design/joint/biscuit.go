package joint

import (
	"fmt"
	"math"

	"longgrain/internal/design/assembly"
	"longgrain/internal/design/strength"
	"longgrain/internal/ground/source"
	"longgrain/internal/ground/unit"
	"longgrain/internal/ground/working"
	"longgrain/internal/trade/hardware"
)

// Biscuits. Two may lie side by side in thick rails; the slot must stay inside the rail.
const (
	maxBiscuits = 3
	biscuitWall = 5 * unit.Millimetre // of rail on either side of the slot, common practice
	biscuitGap  = 3 * unit.Millimetre // between slots in a row
)

// biscuitModel is the prior of the model, 0.35, with the scatter of biscuit joints in tests, about 20 % ([plate-joint-1998]
// abstract, read), in the place of TestScatter.
var biscuitModel = math.Sqrt(0.35*0.35 + 0.20*0.20 - TestScatter*TestScatter)

// Biscuits are flat plates in slots of both parts.
const Biscuits Kind = "biscuits"

var biscuitKind = kind{
	name: Biscuits, needs: []hardware.Job{hardware.CutBiscuitSlot}, model: biscuitModel, loose: true, suits: meetsSide,
	possible: biscuits, cut: cutBiscuit,
	words: counted,
	short: func(z Sizes) string {
		if z.Count == 1 {
			return "1 " + z.Product
		}
		return counted(z)
	},
}

func cutBiscuit(s Site, j Joint, at spot) (onA, onB []assembly.Feature) {
	z := j.Sizes
	return facing(s, at, func(a, b *assembly.Feature) {
		a.Kind, a.Length, a.Width, a.Depth, a.Rounded = assembly.Slot, z.Width, z.Thickness, z.DepthA, true
		b.Kind, b.Length, b.Width, b.Depth, b.Rounded = assembly.Slot, z.Width, z.Thickness, z.DepthB, true
	})
}

func biscuits(s Site, m Means) []Joint {
	var out []Joint
	for _, b := range hardware.Biscuits() {
		if unit.MM(s.Thick()) < b.SlotWidth+2*biscuitWall || b.SlotDepth > min(s.Room, s.reach()) {
			continue
		}
		for n := 1; n <= maxBiscuits; n++ {
			at, ok := s.spread(n, b.Length/2+biscuitGap, b.Length+biscuitGap, m.Mark)
			if !ok {
				break
			}
			out = append(out, biscuitJoint(s, b, at))
		}
	}
	return out
}

func biscuitJoint(s Site, b hardware.Biscuit, at []unit.Length) Joint {
	n := len(at)
	product := "biscuit no. " + b.ID
	j := Joint{
		Kind:     Biscuits,
		Sizes:    Sizes{Count: n, DepthA: b.SlotDepth, DepthB: b.SlotDepth, Thickness: b.SlotWidth, Width: b.Length, Product: product},
		Hardware: []Item{{product, n}},
		Jobs:     []hardware.Job{hardware.CutBiscuitSlot},
		Minutes:  minutes(Biscuits, n),
		Shows:    Hidden,
		Notes:    []string{"the biscuit's own grain runs askew; its half in each part glues long grain to long grain"},
	}
	half := halfPlate(b)
	j.Glue.LongGrain = unit.SquareMetres(2 * half * float64(n) / 1e6)
	j.Glue.EndGrain = unit.SquareMetres((s.Height()*s.Thick() - float64(n)*b.Length.MM()*b.SlotWidth.MM()) / 1e6)
	j.place(s, at)
	j.Strength = biscuitStrength(s, b, at, half)
	k := float64(s.TimberA.Modulus) / 16 / b.SlotWidth.MM() * 2 * half / 2
	j.Stiffness = pinStiffness(s, s.fromEdge(at), k, k)
	return j
}

// halfPlate returns the area of one face of the half of a biscuit that stands in one part, mm². The half is the
// segment of a lens as long as the biscuit and as high as half its width: two thirds of the rectangle around it.
func halfPlate(b hardware.Biscuit) float64 { return b.Length.MM() * b.Width.MM() / 2 * 2 / 3 }

// biscuitGlueShare is the share of the shear strength of the wood that the faces of a biscuit reach, over the half of it that
// stands in one part. Fitted to two proportions: one biscuit over two dowels is 0.72 in cherry [fww-joint-test], secondary, and
// 0.61 in softwood (one shop); so what the glued end of the rail adds in such tests is in it. Rolling shear alone
// gives 0.18 to 0.28. Tests found that every such joint failed by splitting of the rail within 25 mm of its
// end ([plate-joint-1998], abstract, read): in the wood, as here.
const biscuitGlueShare = 0.35

var citeBiscuit = source.At("fww-joint-test", "biscuit over dowels, fitted in docs/methods/joints.md", source.Computed)

func biscuitStrength(s Site, b hardware.Biscuit, at []unit.Length, half float64) Strength {
	plate := biscuitGlueShare * float64(min(s.TimberA.Shear, s.TimberB.Shear)) * 2 * half
	one := []Limit{{"wood beside the biscuit, the rail splitting from its end", plate, citeBiscuit}}
	n := float64(len(at))
	pins := s.fromEdge(at)
	strong, strongName := strength.BothWaysOn(pins, s.Height(), plate, s.bedU())
	halfThick := make([]float64, len(at))
	for i := range halfThick {
		halfThick[i] = s.Thick() / 2
	}
	weak, weakName := strength.BothWaysOn(halfThick, s.Thick(), plate, s.bedV())
	turn := plate * b.Length.MM() / 4 / 1000 // the plate's own grip against turning
	lip := n * float64(s.TimberA.Shear) * b.Length.MM() * (s.Thick() - b.SlotWidth.MM()) / 2 / 1.5
	st := Strength{
		Tension: least(biscuitModel, scaled(one, n)...),
		ShearU:  least(biscuitModel, scaled(one, n)...),
		ShearV:  least(biscuitModel, Limit{"lip of the slot broken out", lip, source.Assumption()}),
		BendU:   least(biscuitModel, append(bendingLimits(s), Limit{strongName, math.Max(float64(strong), n*turn), citeBiscuit})...),
		BendV:   least(biscuitModel, append(bendingLimitsWeak(s), Limit{weakName, float64(weak), citeBiscuit})...),
		Twist:   least(biscuitModel, Limit{"lip of the slot broken out", lip * b.Length.MM() / 6 / 1000, source.Assumption()}),
	}
	st.Working = working.Working{
		{Title: "Pull of one biscuit", Formula: "F = 0.35 S · 2 A",
			Inputs: []working.Value{{Symbol: "S", Name: "shear strength of the weaker wood", Number: plate / biscuitGlueShare / 2 / half, Unit: "MPa"}, {Symbol: "A", Name: "one face of the half plate", Number: half, Unit: "mm²"}},
			Result: working.Value{Symbol: "F", Number: plate, Unit: "N"}, Cite: citeBiscuit, Note: fmt.Sprintf("%d in the joint", len(at))},
		{Title: "Bending of the joint, strong way", Formula: "pulls of the biscuits against the pressed wood, or the plate's own grip",
			Result: working.Value{Symbol: "M", Number: st.BendU.Mean, Unit: "N·m"}, Cite: source.Choice("docs/methods/joints.md"), Note: "governs: " + st.BendU.Governs},
	}
	return st
}
