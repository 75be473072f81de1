package structure

import (
	"longgrain/internal/solve/spaceframe"
	"longgrain/internal/trade/wood"
)

// Frame is the structural model of an analysis, for those that look at it in another way: with strengths that scatter, as a
// picture, or in another program. Treat it as read-only.
type Frame struct {
	Model   spaceframe.Model
	Cases   []spaceframe.Case       // by index in Answer.Cases
	Results []spaceframe.CaseResult // likewise; only those with the status Solved hold
	Weight  spaceframe.Case         // the piece's own weight, whose loads every case begins with
	Parts   []FramePart             // by part
	Ends    []JointEnd              // by connection
}

// FramePart is a part in the frame.
type FramePart struct {
	Members        []string  // from the low end; none for a surface that hangs on others
	Starts         []float64 // of each member, mm from the low end of the part
	Area           float64   // mm²
	ModulusY       float64   // of the section, for bending about the part's own y and z, mm³
	ModulusZ       float64
	Bending, Shear float64 // mean strengths with the knots of the condition and the duration of load, MPa
}

// JointEnd says which end of which member carries a joint. Member is empty where a connection is none.
type JointEnd struct {
	Member string
	High   bool
}

// Frame returns the structural model; false when the piece has none that could be solved.
func (a Answer) Frame() (Frame, bool) {
	if a.frame == nil || len(a.results) == 0 {
		return Frame{}, false
	}
	f := a.frame
	out := Frame{Model: f.model, Results: a.results, Weight: spaceframe.Case{Name: "its own weight", Gravity: gravity},
		Parts: make([]FramePart, len(f.parts)), Ends: make([]JointEnd, len(f.a.Connections))}
	f.weighSurfaces(&out.Weight)
	for _, c := range a.Cases {
		out.Cases = append(out.Cases, c.load)
	}
	for i := range f.parts {
		out.Parts[i] = f.open(i)
	}
	for k, e := range f.ends {
		out.Ends[k] = JointEnd{e.member, e.high}
	}
	return out, true
}

func (f *frame) open(part int) FramePart {
	fp := &f.parts[part]
	if fp.surface {
		return FramePart{}
	}
	wy, wz := moduli(f.a.Parts[part], *fp)
	out := FramePart{Members: fp.members, Area: fp.section.Area, ModulusY: wy, ModulusZ: wz,
		Bending: fp.strength / lowerShare(wood.BendingStrength), Shear: fp.shear / lowerShare(wood.ShearParallel)}
	for k := range fp.members {
		out.Starts = append(out.Starts, fp.stations[k].x)
	}
	return out
}

// lowerShare is the lower 5 % value as a share of the mean.
func lowerShare(p wood.Property) float64 {
	return float64(wood.Lower5(1, wood.Variation(p).Value))
}
