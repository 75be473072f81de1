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

// Pocket screws. The screw is a no. 8; a third of it stands in A below its head. From memory and judgement.
const (
	pocketModel   = 0.35
	pocketHole    = unit.Millimetre * 19 / 2
	pocketSpacing = 25 * unit.Millimetre
	pocketEdge    = 12 * unit.Millimetre
	maxPockets    = 4
)

var pocketShank = hardware.ShankDiameter(8)

// pocketBite is the share of the screw's length that threads into B. Judgement: a 32 mm screw in 19 mm
// stock stands about 18 mm in the other part.
const pocketBite = 0.56

// PocketScrews go through slanting holes in A into B.
const PocketScrews Kind = "pocket screws"

var pocketKind = kind{
	name: PocketScrews, needs: []hardware.Job{hardware.BorePocketHole}, model: pocketModel, suits: meetsSide,
	possible: pocketScrews,
	cut: func(s Site, j Joint, at spot) (onA, onB []assembly.Feature) {
		return []assembly.Feature{pocketBore(s, j.Sizes, at.u)}, nil
	},
	words: counted,
	short: func(z Sizes) string { return fmt.Sprintf("%d pocket screws", z.Count) },
}

// pocketBore returns the slanting hole in the inner face of A through which a pocket screw goes, from its mouth to the
// shelf on which the head sits; its depth is measured along it. The line of the screw leaves the end in the middle of the
// thickness.
func pocketBore(s Site, z Sizes, u unit.Length) assembly.Feature {
	angle := float64(hardware.PocketHoleAngle) * math.Pi / 180
	middle := s.Thick() / 2
	f := assembly.Feature{Kind: assembly.Bore, Side: s.innerFace(), V: u, Diameter: pocketHole, For: s.Connection.Name,
		U: unit.MM(middle / math.Tan(angle)), Depth: unit.MM(middle/math.Sin(angle)) - z.DepthA, Tilt: -(90 - hardware.PocketHoleAngle)}
	if s.Connection.A.Side.High() {
		f.U, f.Tilt = s.A.Length-f.U, -f.Tilt
	}
	return f
}

func pocketScrews(s Site, m Means) []Joint {
	screw, ok := hardware.PocketScrewFor(unit.MM(s.Thick()))
	bite := screw.Length.Scale(pocketBite)
	// The pocket comes out of the face about twice the thickness behind the head: half of it over the tangent of 15°.
	if !ok || bite > s.Room || screw.Length-bite+2*unit.MM(s.Thick()) > s.reach() {
		return nil
	}
	var out []Joint
	for n := 2; n <= maxPockets; n++ {
		at, ok := s.spread(n, pocketEdge, pocketSpacing, m.Mark)
		if !ok {
			break
		}
		out = append(out, pocketJoint(s, screw, at, bite))
	}
	return out
}

func pocketJoint(s Site, screw hardware.PocketScrew, at []unit.Length, bite unit.Length) Joint {
	n := len(at)
	product := fmt.Sprintf("pocket screw no. 8 × %s, %s thread", screw.Length.Show(unit.Metric), screw.Thread)
	j := Joint{
		Kind:     PocketScrews,
		Sizes:    Sizes{Count: n, Diameter: pocketShank, DepthA: screw.Length - bite, DepthB: bite, Product: product},
		Hardware: []Item{{product, n}},
		Jobs:     []hardware.Job{hardware.BorePocketHole, hardware.Drive},
		Minutes:  minutes(PocketScrews, n),
		Shows:    Inside,
		Notes:    []string{"the glue on the end of the rail counts for nothing"},
	}
	j.Glue.EndGrain = unit.SquareMetres(s.Height() * s.Thick() / 1e6)
	j.place(s, at)
	j.Strength = pocketStrength(s, at, bite)
	k := strength.ScrewStiffness(pocketShank, bite)
	j.Stiffness = pinStiffness(s, s.fromEdge(at), k, strength.LateralStiffness((s.TimberA.Density+s.TimberB.Density)/2, pocketShank))
	return j
}

// innerFace is the wide face of A on which B has more wood behind it: where a rail stands back from the outer
// face of a leg less than from the inner one, the inner face.
func (s Site) innerFace() assembly.Side {
	b := s.B.Box().Centre().Sub(s.A.Pose.Origin)
	if b.Dot(s.A.Pose.Axes[2]) > s.A.Thickness.MM()/2 {
		return assembly.FaceHigh
	}
	return assembly.FaceLow
}

// headPull is the load at which a pocket screw's washer head sinks through the wood left under it: the crushing
// strength along the grain of the shelf in the pocket. It is not published; the area of a 10 mm head is used with the
// shear strength on two shear planes of the plug. Assumed, docs/methods/joints.md.
func headPull(s Site) float64 {
	const plug = 12.0 // mm of rail between the head and the end
	return float64(s.TimberA.Shear) * 2 * plug * 10 * 2
}

func pocketStrength(s Site, at []unit.Length, bite unit.Length) Strength {
	n := float64(len(at))
	thread := float64(strength.ScrewWithdrawal(s.TimberB.Gravity, pocketShank, bite))
	one := []Limit{
		{"screw drawn from " + s.B.Name, thread, strength.CiteScrew},
		{"head drawn through the pocket", headPull(s), source.Assumption()},
	}
	pull := least(pocketModel, one...)
	bed := s.bedU()
	pins := s.fromEdge(at)
	strong, strongName := strength.BothWaysOn(pins, s.Height(), pull.Mean, bed)
	half := make([]float64, len(at))
	for i := range half {
		half[i] = s.Thick() / 2
	}
	weak, weakName := strength.BothWaysOn(half, s.Thick(), pull.Mean, s.bedV())
	const steel = 600.0 // MPa, tensile strength of hardened screws, assumed
	my := 0.15 * steel * math.Pow(pocketShank.MM(), 2.6)
	f1, f2 := strength.Embedding(pocketShank, s.TimberA.Density, true), strength.Embedding(pocketShank, s.TimberB.Density, true)
	side := Limit{"screw bent in its hole", float64(strength.Lateral(f1, f2, bite, bite, pocketShank, my)), strength.CiteLateral}
	st := Strength{
		Tension: least(pocketModel, scaled(one, n)...),
		ShearU:  least(pocketModel, scaled([]Limit{side}, n)...),
		ShearV:  least(pocketModel, scaled([]Limit{side}, n)...),
		BendU:   least(pocketModel, append(bendingLimits(s), Limit{strongName, float64(strong), strength.CiteScrew})...),
		BendV:   least(pocketModel, append(bendingLimitsWeak(s), Limit{weakName, float64(weak), strength.CiteScrew})...),
		Twist:   least(pocketModel, Limit{"screws pushed sideways", strength.TwistOf(pins, side.Mean), strength.CiteLateral}),
	}
	st.Working = working.Working{
		{Title: "Pull of one screw from " + s.B.Name, Formula: "F = 108.25 G² D L",
			Inputs: []working.Value{{Symbol: "G", Name: "specific gravity of " + s.TimberB.Name, Number: s.TimberB.Gravity}, {Symbol: "D", Number: pocketShank.MM(), Unit: "mm"}, {Symbol: "L", Name: "thread in the wood", Number: bite.MM(), Unit: "mm"}},
			Result: working.Value{Symbol: "F", Number: thread, Unit: "N"}, Cite: strength.CiteScrew},
		{Title: "Bending of the joint, strong way", Formula: "pulls of the screws against the pressed wood: ΣT = P(c), M = ΣT x − P c/2",
			Inputs: []working.Value{{Symbol: "q", Name: "crushing load per mm", Number: bed.Load, Unit: "N/mm"}, {Symbol: "n", Name: "screws", Number: n}},
			Result: working.Value{Symbol: "M", Number: st.BendU.Mean, Unit: "N·m"}, Cite: source.Choice("docs/methods/joints.md"), Note: "governs: " + st.BendU.Governs},
	}
	return st
}
