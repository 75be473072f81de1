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
			if !lapped(a, i, j) && overlap(bodies[i], bodies[j]) {
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

// lapped tells whether two parts run through each other because they are joined so.
func lapped(a assembly.Assembly, i, j int) bool {
	for _, c := range a.Connections {
		if c.Lap > 0 && (c.A.Part == i && c.B.Part == j || c.A.Part == j && c.B.Part == i) {
			return true
		}
	}
	return false
}

// overlap tells whether two bodies share more than a touch.
func overlap(a, b geom.Solid) bool {
	if boxesApart(a, b) > -geom.Touch {
		return false
	}
	return geom.Between(a, b).Distance == 0
}

// seatSlack is what rounding of positions in space may lose, mm.
const seatSlack = 10 * geom.Touch

// seats finds tenons that have no mortise, or one that they do not go into.
func seats(a assembly.Assembly) []Finding {
	var out []Finding
	for _, t := range tongues(a) {
		if t.connection < 0 {
			continue
		}
		c := a.Connections[t.connection]
		mate := mateOf(c, t.part)
		if over := seatError(a.Parts[mate], c.Name, t.solid); over > seatSlack {
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

// seatError returns how far a tenon or tongue stands out of the best cut of its connection, mm: 0 when it goes in, infinite when
// there is none. The mouth of a cut is open, and so is every side of the part that an open cut reaches.
func seatError(p assembly.Part, connection string, tenon geom.Solid) float64 {
	best := math.Inf(1)
	for _, f := range p.Features {
		if f.For != connection || (f.Kind != assembly.Mortise && !open(f.Kind)) {
			continue
		}
		cut := room(p, f)
		ways := openings(p, f)
		for _, d := range ways {
			cut = geom.Swept{Solid: cut, By: d.Scale(tenonReach)}
		}
		over := 0.0
		for _, corner := range cornersOf(tenon) {
			over = max(over, geom.Between(geom.Hull{corner}, cut).Distance)
		}
		best = min(best, over)
	}
	return best
}

// tenonReach is more than any tenon stands out of an open side, mm.
const tenonReach = 1000.0

// openings returns the directions in which a cut is open, out of the wood: its mouth, and for an open cut every side of the part
// that it reaches.
func openings(p assembly.Part, f assembly.Feature) []geom.Vec {
	out := []geom.Vec{p.Outward(f.Side)}
	if !open(f.Kind) {
		return out
	}
	cut := room(p, f)
	for i, plane := range p.Box().Planes() {
		if s := assembly.Side(i); s != f.Side && plane.Inside(cut) < geom.Touch {
			out = append(out, plane.Out)
		}
	}
	return out
}

// cornersOf returns the outermost points of a tenon: its corners, and points around its round ends.
func cornersOf(tenon geom.Solid) []geom.Vec {
	switch t := tenon.(type) {
	case geom.Box:
		c := t.Corners()
		return c[:]
	case geom.Hull:
		return t
	case geom.Oblong:
		var out []geom.Vec
		const n = 16
		x, z := geom.Axis(0), t.Deep.Unit()
		if t.To != t.From {
			x = t.To.Sub(t.From).Unit()
		} else if math.Abs(x.Dot(z)) > 0.9 {
			x = geom.Axis(1)
		}
		y := z.Cross(x).Unit()
		x = y.Cross(z)
		for k := range n {
			sin, cos := math.Sincos(2 * math.Pi * float64(k) / n)
			out = append(out, t.Support(x.Scale(cos).Add(y.Scale(sin)).Add(z.Scale(1e-9))), t.Support(x.Scale(cos).Add(y.Scale(sin)).Sub(z.Scale(1e-9))))
		}
		return out
	}
	return []geom.Vec{tenon.Middle()}
}
