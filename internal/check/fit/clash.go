package fit

import (
	"fmt"
	"math"

	"longgrain/internal/design/assembly"
	"longgrain/internal/ground/geom"
	"longgrain/internal/ground/unit"
)

// tongue is a tenon in space.
type tongue struct {
	part, feature int
	connection    int // index into the assembly, -1 when it belongs to none
	solid         geom.Solid
}

func tongues(a assembly.Assembly) []tongue {
	var out []tongue
	for i, p := range a.Parts {
		for k, f := range p.Features {
			if f.Kind == assembly.Tenon {
				out = append(out, tongue{i, k, connectionNamed(a, f.For), room(p, f)})
			}
		}
	}
	return out
}

func connectionNamed(a assembly.Assembly, name string) int {
	for i, c := range a.Connections {
		if c.Name == name {
			return i
		}
	}
	return -1
}

// mateOf returns the part on the other side of a connection.
func mateOf(c assembly.Connection, part int) int {
	if c.A.Part == part {
		return c.B.Part
	}
	return c.A.Part
}

// clashes finds parts, and tenons in parts that they have no joint with, that claim the same space.
func clashes(a assembly.Assembly) []Finding {
	bodies := make([]geom.Solid, len(a.Parts))
	for i, p := range a.Parts {
		bodies[i] = bodyOf(p, geom.Touch)
	}
	var out []Finding
	report := func(i, j int, x, y geom.Solid, what string, names ...string) {
		place := common(x, y)
		out = append(out, Finding{Kind: Clash, Where: a.Parts[i].Name, Part: i, Other: j, Wall: boxesApart(x, y), features: [2]int{-1, -1}, Connections: names,
			At: place.Centre(), Place: place, What: what, overlap: [2]geom.Solid{x, y},
			Advice: "move them apart, shorten one, or give them a joint"})
	}
	for i := range a.Parts {
		for j := i + 1; j < len(a.Parts); j++ {
			if overlap(bodies[i], bodies[j]) {
				report(i, j, bodies[i], bodies[j], fmt.Sprintf("%s and %s run into each other", a.Parts[i].Name, a.Parts[j].Name))
			}
		}
	}
	all := tongues(a)
	for k, t := range all {
		mate := -1
		var names []string
		if t.connection >= 0 {
			mate = mateOf(a.Connections[t.connection], t.part)
			names = append(names, a.Connections[t.connection].Name)
		}
		for i := range a.Parts {
			if i != t.part && i != mate && overlap(t.solid, bodies[i]) {
				report(t.part, i, t.solid, bodies[i], fmt.Sprintf("a tenon of %s runs into %s", a.Parts[t.part].Name, a.Parts[i].Name), names...)
			}
		}
		for _, u := range all[k+1:] {
			if u.part == t.part || !overlap(t.solid, u.solid) {
				continue
			}
			both := names
			if u.connection >= 0 {
				both = append(append([]string(nil), names...), a.Connections[u.connection].Name)
			}
			report(t.part, u.part, t.solid, u.solid, fmt.Sprintf("the tenons of %s and %s collide", a.Parts[t.part].Name, a.Parts[u.part].Name), both...)
		}
	}
	return out
}

// overlap tells whether two bodies share more than a touch.
func overlap(a, b geom.Solid) bool {
	if boxesApart(a, b) > -geom.Touch {
		return false
	}
	return geom.Between(a, b).Distance == 0
}

// seats finds tenons that have no mortise, or one that they do not go into.
func seats(a assembly.Assembly) []Finding {
	var out []Finding
	for _, t := range tongues(a) {
		if t.connection < 0 {
			continue
		}
		c := a.Connections[t.connection]
		mate := mateOf(c, t.part)
		if over := seatError(a.Parts[mate], c.Name, t.solid); over > 10*geom.Touch {
			p := a.Parts[t.part]
			f := p.Features[t.feature]
			place := around(geom.Around(t.solid))
			found := Finding{Kind: NoSeat, Where: p.Name, Part: t.part, Other: mate, Wall: -over, features: [2]int{t.feature, -1}, Connections: []string{c.Name},
				At: p.OnSide(f.Side, f.U, f.V, 0), Place: place}
			if math.IsInf(over, 1) {
				found.Wall = 0
				found.What = fmt.Sprintf("the tenon of %s finds no mortise in %s", p.Name, a.Parts[mate].Name)
				found.Advice = "cut the mortise, or choose the joint again"
			} else {
				found.What = fmt.Sprintf("the tenon of %s is %s too large for its mortise in %s, or stands beside it", p.Name, unit.MM(over).Show(a.Family), a.Parts[mate].Name)
				found.Advice = "mark both from the same sides, and cut the mortise first"
			}
			out = append(out, found)
		}
	}
	return out
}

// seatError returns how far a tenon stands out of the best mortise of its connection, mm: 0 when it goes in, infinite when
// there is none. The mouth of the mortise is open.
func seatError(p assembly.Part, connection string, tenon geom.Solid) float64 {
	best := math.Inf(1)
	for _, f := range p.Features {
		if f.For != connection || f.Kind != assembly.Mortise {
			continue
		}
		over := 0.0
		mouth := p.Outward(f.Side)
		for _, plane := range block(p, f, f.Depth).Planes() {
			if plane.Out.Dot(mouth) < 1-1e-9 {
				over = max(over, -plane.Inside(tenon))
			}
		}
		if f.Rounded {
			over = max(over, outside(room(p, f), tenon, mouth))
		}
		best = min(best, over)
	}
	return best
}

// outside returns how far the corners of a tenon stand out of a mortise with round ends, mm.
func outside(mortise, tenon geom.Solid, mouth geom.Vec) float64 {
	box, square := tenon.(geom.Box)
	if !square {
		return 0 // the ends of both are round, and their sizes and places were compared
	}
	over := 0.0
	open := geom.Swept{Solid: mortise, By: mouth.Scale(geom.Touch)}
	for _, corner := range box.Corners() {
		over = max(over, geom.Between(geom.Hull{corner}, open).Distance)
	}
	return over
}
