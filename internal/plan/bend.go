package plan

import (
	"math"
	"slices"

	"longgrain/internal/check/structure"
	"longgrain/internal/design/joint"
)

// mostBendCases is how many load cases are offered to be looked at.
const mostBendCases = 8

// BendCases returns the load cases worth looking at bent, as indices into Structure.Cases: those that govern a check, the worst first, and the one that
// moves the piece most.
func (p *Plan) BendCases() []int {
	var out []int
	offer := func(name string) {
		i := p.caseNamed(name)
		if i >= 0 && !slices.Contains(out, i) && len(out) < mostBendCases {
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

// HardestPart returns the part of the frame whose wood has the lowest reserve, and the load case that governs it by its index. False where
// nothing carries.
func (p *Plan) HardestPart() (part, index int, ok bool) {
	lowest := joint.Reserve(math.Inf(1))
	for _, c := range p.Structure.Members {
		i, known := p.Assembly.PartNamed(c.Where)
		if !known || c.Reserve >= lowest {
			continue
		}
		if k := p.caseNamed(c.Case); k >= 0 {
			if _, carries := p.Structure.Along(k, i); carries {
				lowest, part, index, ok = c.Reserve, i, k, true
			}
		}
	}
	return part, index, ok
}

// HardestCase returns the load case that uses a part's wood hardest, by its index; false for a part that is none of the frame.
func (p *Plan) HardestCase(part int) (index int, ok bool) {
	for _, c := range p.Structure.Members {
		if c.Where == p.Assembly.Parts[part].Name {
			if k := p.caseNamed(c.Case); k >= 0 {
				_, carries := p.Structure.Along(k, part)
				return k, carries
			}
		}
	}
	return 0, false
}

// caseNamed returns the index of a load case that has an answer, -1 when there is none.
func (p *Plan) caseNamed(name string) int {
	i := slices.IndexFunc(p.Structure.Cases, func(c structure.Case) bool { return c.Name == name })
	if !p.Structure.Solved(i) {
		return -1
	}
	return i
}
