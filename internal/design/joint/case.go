package joint

import (
	"fmt"

	"longgrain/internal/design/assembly"
	"longgrain/internal/design/strength"
	"longgrain/internal/ground/source"
	"longgrain/internal/ground/unit"
	"longgrain/internal/trade/hardware"
)

// Housing lets the whole end of A into a groove across the grain of B.
const Housing Kind = "housing"

// RebateCorner lets the whole end of A into a step at the end of B.
const RebateCorner Kind = "rebate"

var housingKind = kind{
	name: Housing, needs: []hardware.Job{hardware.Groove}, model: caseModel, glued: true,
	suits:    func(s Site) bool { return cased(s) && !s.Contact.Corner },
	possible: func(s Site, m Means) []Joint { return letIn(s, m, Housing, hardware.Groove, 2, 4, 3, 2) },
	cut: func(s Site, j Joint, at spot) (onA, onB []assembly.Feature) {
		return tongue(s, j, at, assembly.Groove, 0)
	},
	words: named, short: briefly,
}

var rebateKind = kind{
	name: RebateCorner, needs: []hardware.Job{hardware.Rabbet}, model: caseModel, glued: true,
	suits:    func(s Site) bool { return cased(s) && s.Contact.Corner && s.Alone },
	possible: func(s Site, m Means) []Joint { return letIn(s, m, RebateCorner, hardware.Rabbet, 1, 3, 2) },
	cut: func(s Site, j Joint, at spot) (onA, onB []assembly.Feature) {
		return tongue(s, j, at, assembly.Rebate, 0)
	},
	words: named, short: briefly,
}

// caseModel is the coefficient of variation of joints held by glue on end grain, a prior as wide as the widest. Judgement.
const caseModel = 0.35

// housingLeast is the shallowest housing or rebate. Common practice: enough to carry, not enough to weaken.
const housingLeast = 3 * unit.Millimetre

// cased tells whether the whole end of A meets the face of B as in a case: across B's grain.
func cased(s Site) bool {
	return meetsSide(s) && s.whole() && !s.uAlongB() && s.Connection.B.Side.Axis() == 2
}

// letIn returns a housing or rebate of the depths that are B's thickness over the shares, with so many walls of glue on
// B's end grain.
func letIn(s Site, m Means, k Kind, job hardware.Job, walls float64, shares ...unit.Length) []Joint {
	var depths []unit.Length
	for _, share := range shares {
		depths = append(depths, (s.Depth / share).RoundTo(m.Mark))
	}
	if w := s.wished(k); w.Depth.Length > 0 {
		depths = []unit.Length{w.Depth.Length}
	}
	var out []Joint
	for _, d := range depths {
		if d < housingLeast || d > s.Depth*2/3 || d > s.Room {
			continue
		}
		deep, tall, thick := d.MM(), s.Height(), s.Thick()
		j := Joint{Kind: k, Jobs: []hardware.Job{job, hardware.Crosscut}, Minutes: minutes(k, 1), Shows: Outside,
			Sizes: Sizes{Count: 1, DepthB: d, Thickness: s.Connection.A.Area.SizeV(), Width: s.Connection.A.Area.SizeU(),
				Product: fmt.Sprintf("%s %s deep", k, d.Show(m.Family))},
			Notes: []string{"all glue of a " + string(k) + " lies on end grain: a tenth of the shear strength is taken, assumed; screws or a back that holds the case square do more"}}
		// Two walls hold B's end grain to A's long grain, the bottom A's end grain to B's long grain.
		wall, bottom := deep*tall, thick*tall
		j.Glue.EndGrain = areaOf(walls*wall + bottom)
		tau := strength.EndGrainShare * s.weaker()
		held := Limit{"glue on end grain", tau * (walls*wall + bottom), source.Assumption()}
		bearing := Limit{s.A.Name + " crushed on the wall of the " + string(k), strength.CrushFactor * float64(s.TimberA.CrushPerp) * tall * deep, citeOwn}
		if walls == 1 {
			bearing = Limit{"glue on end grain", tau * (wall + bottom), source.Assumption()}
		}
		j.Strength = Strength{
			Tension: least(caseModel, held),
			ShearU:  least(caseModel, held),
			ShearV:  least(caseModel, bearing, s.sheared("the end of "+s.A.Name+" sheared", thick, tall)),
			BendU:   least(caseModel, append(bendingLimits(s), Limit{"glue on end grain turned", tau * (walls*wall + bottom) * tall / 4000, source.Assumption()})...),
			BendV:   least(caseModel, append(bendingLimitsWeak(s), Limit{"glue on end grain opened", tau * (bottom*thick/2 + walls*wall*thick/2) / 1000, source.Assumption()})...),
			Twist:   least(caseModel, Limit{"glue on end grain twisted", tau * strength.TurnOfFace(thick, tall) / 1000, source.Assumption()}),
		}
		j.Stiffness = faceStiffness(s, walls, deep, tall, thick)
		out = append(out, finish(s, j)...)
	}
	return out
}
