package plan

import (
	"fmt"

	"longgrain/internal/check/hang"
	"longgrain/internal/check/structure"
	"longgrain/internal/design/assembly"
	"longgrain/internal/design/fasten"
	"longgrain/internal/design/joint"
	"longgrain/internal/ground/unit"
	"longgrain/internal/trade/shop"
	"longgrain/internal/trade/wood"
)

// forcesIn returns what each joint carries in each load case: in the frame of a piece that stands, or on the wall.
func forcesIn(a assembly.Assembly, joints []*joint.Joint, m wood.Moisture) [][]joint.Forces {
	if a.Fixed == assembly.Hung {
		return hang.Forces(a, m)
	}
	return structure.Forces(a, joints, m)
}

// analyse checks whether a piece holds that stands, or that hangs on the wall.
func analyse(a assembly.Assembly, joints []*joint.Joint, wanted float64, m wood.Moisture) structure.Answer {
	if a.Fixed == assembly.Hung {
		return hang.Analyse(a, joints, wanted, m)
	}
	return structure.Analyse(a, joints, wanted, m)
}

// fixToWall bores the holes for the screws in the wall.
func (p *Plan) fixToWall(s shop.Shop) {
	if p.Assembly.Fixed != assembly.Hung {
		return
	}
	if f, ok := hang.FixingOf(p.Assembly, s.SmallestMark); ok {
		p.Wall = &f
		p.Assembly = p.Assembly.WithFeatures(map[int][]assembly.Feature{f.Part: f.Features})
	}
}

// wallScrews is how many screws hold a piece that stands to the wall. Common practice: one near each end.
const wallScrews = 2

// held lists what is held without glue, and the screws in the wall.
func (p *Plan) held() []fasten.Fastening {
	screws := wallScrews
	switch {
	case p.Assembly.Fixed == "":
		return p.Fastenings
	case p.Wall != nil:
		screws = len(p.Wall.At)
	}
	name := fmt.Sprintf("screw %s for the wall, with what the wall asks for", hang.ScrewDiameter.Show(unit.Metric))
	return append(p.Fastenings[:len(p.Fastenings):len(p.Fastenings)], fasten.Fastening{Connection: -1, Hardware: []fasten.Item{{Name: name, Count: screws}}})
}
