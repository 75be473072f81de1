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
	frame := a.Frame()
	forces := structure.Forces(frame, joints[:len(frame.Connections)], m)
	if forces == nil {
		return nil
	}
	return append(forces, make([][]joint.Forces, len(a.Connections)-len(forces))...)
}

// analyse checks whether a piece holds that stands, or that hangs on the wall.
func analyse(a assembly.Assembly, joints []*joint.Joint, wanted float64, m wood.Moisture) structure.Answer {
	if a.Fixed == assembly.Hung {
		return hang.Analyse(a, joints, wanted, m)
	}
	frame := a.Frame()
	answer := structure.Analyse(frame, joints[:len(frame.Connections)], wanted, m)
	if len(frame.Parts) == len(a.Parts) {
		return answer
	}
	answer.Forces = append(answer.Forces, make([][]joint.Forces, len(a.Connections)-len(answer.Forces))...)
	var names []string
	mass := 0.0
	for _, p := range a.Parts[len(frame.Parts):] {
		species, _ := wood.Lookup(p.Species)
		if rho, ok := species.Density(m); ok {
			mass += float64(rho.Value.Mass(unit.Volume(p.Length, p.Width, p.Thickness)))
		}
		names = append(names, p.Name)
	}
	answer.Mass += mass
	answer.Notes = append(answer.Notes, fmt.Sprintf("%s hang, slide or float and are taken to carry nothing; their %.1f kg are left out of the frame", assembly.Describe(names), mass))
	return answer
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
