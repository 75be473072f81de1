package fit

import (
	"fmt"
	"math"

	"longgrain/internal/design/assembly"
	"longgrain/internal/design/fasten"
	"longgrain/internal/ground/geom"
	"longgrain/internal/ground/unit"
)

// heldAcross is the width across the grain over which a board may be held fast at several places, mm. Common practice: rule
// M05 splits a tenon above 90 to 100 mm, docs/methods/fit.md.
const heldAcross = 100.0

// grip is a place at which something holds a board.
type grip struct {
	holder int     // part that holds
	across float64 // of the place, across the grain of the board, mm
	at     geom.Vec
	name   string // of the connection
}

// heldFast finds tops, seats and shelves that are held at several places across their grain by something that does not swell with
// them: by joints instead of fastenings that give, or by more than one button that does not slide.
func heldFast(in Input) []Finding {
	a := in.Assembly
	var out []Finding
	for board, p := range a.Parts {
		if p.Width.MM() <= heldAcross {
			continue
		}
		all := gripsOf(in, board)
		frame := frameWithout(in, board)
		var widest float64
		var worst [2]grip
		for i, g := range all {
			for _, h := range all[i+1:] {
				if span := math.Abs(g.across - h.across); span > max(heldAcross, widest+slack) && stiff(a, frame, g.holder, h.holder, board, span) {
					widest, worst = span, [2]grip{g, h}
				}
			}
		}
		if widest == 0 {
			continue
		}
		names := []string{worst[0].name}
		if worst[1].name != worst[0].name {
			names = append(names, worst[1].name)
		}
		out = append(out, Finding{Kind: HeldFast, Where: p.Name, Part: board, Other: -1, Connections: names, features: [2]int{-1, -1},
			At: worst[0].at.Add(worst[1].at).Scale(0.5), Place: around(worst[0].at, worst[1].at),
			What:   fmt.Sprintf("%s is held fast at places %s apart across its grain", p.Name, unit.MM(widest).Show(a.Family)),
			Advice: "hold it fast at one line only, and let every other fastening slide across the grain"})
	}
	return out
}

// gripsOf returns the places at which a board is held so that it cannot slide.
func gripsOf(in Input, board int) []grip {
	a := in.Assembly
	p := a.Parts[board]
	var out []grip
	for i, c := range a.Connections {
		if c.A.Part != board && c.B.Part != board {
			continue
		}
		holder := mateOf(c, board)
		var places []geom.Vec
		switch {
		case c.Purpose == assembly.TopFastening:
			for _, f := range in.Fastenings {
				if f.Connection == i {
					places = fixed(a, c, f, board)
				}
			}
		case !held(in, i):
		case flatOn(c, board):
			ends := extent(a, c, p.Pose.Axes[1])
			places = ends[:]
		default:
			at, _ := a.Middle(c)
			places = []geom.Vec{at}
		}
		for _, at := range places {
			out = append(out, grip{holder, at.Sub(p.Pose.Origin).Dot(p.Pose.Axes[1]), at, c.Name})
		}
	}
	return out
}

// held tells whether a joint holds: one is chosen, or long grain is glued on long grain.
func held(in Input, connection int) bool {
	c := in.Assembly.Connections[connection]
	if c.Purpose != assembly.Joint {
		return false
	}
	if connection < len(in.Joints) && in.Joints[connection] != nil {
		return true
	}
	return !c.A.Side.IsEnd() && !c.B.Side.IsEnd()
}

// frameWithout numbers the parts by what they are joined to when a board is left out: parts with one number hold together.
func frameWithout(in Input, board int) []int {
	number := make([]int, len(in.Assembly.Parts))
	for i := range number {
		number[i] = i
	}
	for i, c := range in.Assembly.Connections {
		if c.A.Part == board || c.B.Part == board || !held(in, i) {
			continue
		}
		from, to := number[c.B.Part], number[c.A.Part]
		for k := range number {
			if number[k] == from {
				number[k] = to
			}
		}
	}
	return number
}

// stiff tells whether two holders keep their distance across the grain of a board: they are one part, or joined, and a part that
// is long enough lies with its grain in that direction.
func stiff(a assembly.Assembly, frame []int, g, h, board int, span float64) bool {
	if frame[g] != frame[h] {
		return false
	}
	across := a.Parts[board].Pose.Axes[1]
	for i, p := range a.Parts {
		if i != board && frame[i] == frame[g] && geom.Parallel(p.Pose.Axes[0], across) && p.Length.MM() >= span/2 && (g != h || i == g) {
			return true
		}
	}
	return false
}

// flatOn tells whether a connection meets a face of the board.
func flatOn(c assembly.Connection, board int) bool {
	s := c.A.Side
	if c.B.Part == board {
		s = c.B.Side
	}
	return s.Axis() == 2
}

// extent returns the two points of a contact that lie furthest apart across the grain of the board.
func extent(a assembly.Assembly, c assembly.Connection, across geom.Vec) [2]geom.Vec {
	p, r := a.Parts[c.A.Part], c.A.Area
	var lo, hi geom.Vec
	least, most := math.Inf(1), math.Inf(-1)
	for _, u := range [2]unit.Length{r.U0, r.U1} {
		for _, v := range [2]unit.Length{r.V0, r.V1} {
			at := p.OnSide(c.A.Side, u, v, 0)
			if x := at.Dot(across); x < least {
				lo, least = at, x
			}
			if x := at.Dot(across); x > most {
				hi, most = at, x
			}
		}
	}
	return [2]geom.Vec{lo, hi}
}

// fixed returns where the buttons of a fastening hold the board fast: those whose slot is no longer than the tongue on a
// rail across its grain, and those without a gap on a rail along it.
func fixed(a assembly.Assembly, c assembly.Connection, f fasten.Fastening, board int) []geom.Vec {
	rail := mateOf(c, board)
	p := a.Parts[rail]
	var out []geom.Vec
	for _, g := range p.Features {
		if g.For != c.Name || g.Kind != assembly.Slot {
			continue
		}
		stuck := f.Across && g.Length <= tongueWidth || !f.Across && f.Gap <= 0
		if f.Way == fasten.SlottedScrews {
			stuck = max(g.Length, g.Width) <= f.SlotWidth // a round hole
		}
		if stuck {
			out = append(out, p.OnSide(g.Side, g.U, g.V, 0))
		}
	}
	return out
}

// tongueWidth is the width of a button's tongue. Common practice, docs/methods/joints.md.
const tongueWidth = 30 * unit.Millimetre
