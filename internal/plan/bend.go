package plan

import (
	"math"
	"slices"

	"longgrain/internal/check/structure"
	"longgrain/internal/design/assembly"
)

// mostBendCases is how many load cases are offered to be looked at.
const mostBendCases = 8

// BendCases returns the load cases worth looking at bent, as indices into Structure.Cases: those that govern a check, the worst first, and the one that
// moves the piece most.
func (p *Plan) BendCases() []int {
	var out []int
	offer := func(name string) {
		i := slices.IndexFunc(p.Structure.Cases, func(c structure.Case) bool { return c.Name == name })
		if p.Structure.Solved(i) && !slices.Contains(out, i) && len(out) < mostBendCases {
			out = append(out, i)
		}
	}
	for _, c := range p.Structure.Sway {
		offer(c.Case)
	}
	for _, c := range p.HoldsChecks() {
		offer(c.Case)
	}
	return out
}

// HardestBent returns the apron, or where there are none the part, that carries the largest bending across its width, and the load case by its
// index. False where no part bends.
func (p *Plan) HardestBent() (part, index int, ok bool) {
	frame := p.Assembly.Frame().Parts
	aprons := slices.ContainsFunc(frame, func(x assembly.Part) bool { return x.Role == "apron" })
	most := 0.0
	for i, x := range frame {
		if aprons && x.Role != "apron" {
			continue
		}
		for k := range p.Structure.Cases {
			along, _ := p.Structure.Along(k, i)
			for _, s := range along {
				if b := math.Abs(s.BendWidth); b > most*(1+1e-9) {
					most, part, index, ok = b, i, k, true
				}
			}
		}
	}
	return part, index, ok
}
