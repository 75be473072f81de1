package markout_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"longgrain/internal/design/assembly"
	"longgrain/internal/ground/geom"
	"longgrain/internal/ground/unit"
	"longgrain/internal/trial"
	"longgrain/internal/work/markout"
)

// splayed returns a splayed stool with its joints cut.
func splayed(t *testing.T, splay, rake, rail int) (assembly.Assembly, markout.Markout) {
	t.Helper()
	a := trial.Assembly(t, fmt.Sprintf("longgrain: 1\nname: Stool\npattern: splayed-stool\nsizes:\n  splay: %d\n  rake: %d\n  rail_width: %d mm\n", splay, rake, rail))
	a = trial.Cut(t, a, trial.Joints(t, a, trial.Everything))
	return a, markout.Make(a, markout.Options{Smallest: unit.Millimetre / 2})
}

// TestSheetsOfAngledPartsAgree follows what two sheets say to places in the world: every pair of cuts meets, and the plane
// that the printed angles leave on the one part is the side of the other.
func TestSheetsOfAngledPartsAgree(t *testing.T) {
	n := 25
	if testing.Short() {
		n = 4
	}
	rng := rand.New(rand.NewPCG(19, 3))
	for range n {
		splay, rake := rng.IntN(15), rng.IntN(15)
		a, m := splayed(t, splay, rake, 60+rng.IntN(30))
		if len(m.Mates) == 0 {
			t.Fatalf("%d/%d: no cut has a mate", splay, rake)
		}
		for _, mate := range m.Mates {
			for _, d := range mate.Directions {
				if d.Marked != 0 {
					t.Errorf("%d/%d: %s: the sheets miss each other by %v", splay, rake, a.Connections[mate.Connection].Name, d.Marked)
				}
			}
			// The places themselves, found from what the sheets say, less the set-off that rounding asks for.
			onA, onB := m.Sheets[mate.A.Part].Marks[mate.A.Mark], m.Sheets[mate.B.Part].Marks[mate.B.Mark]
			u, v := onA.At(a.Parts[mate.A.Part])
			s, w := onB.At(a.Parts[mate.B.Part])
			moved := math.Hypot(mate.Directions[0].Moved().MM(), mate.Directions[1].Moved().MM())
			apart := a.Parts[mate.A.Part].OnSide(onA.Side, u, v, 0).Distance(a.Parts[mate.B.Part].OnSide(onB.Side, s, w, 0))
			if math.Abs(apart-moved) > 0.005 {
				t.Errorf("%d/%d: %s: followed from both sheets the cuts lie %v mm apart, rounding explains %v", splay, rake, a.Connections[mate.Connection].Name, apart, moved)
			}
		}
		for _, c := range a.Connections {
			p, q := a.Parts[c.A.Part], a.Parts[c.B.Part]
			if _, angled := p.Bevel(c.A.Side); !angled {
				continue
			}
			cut := sawn(t, p, m.Sheets[c.A.Part], c.A.Side)
			if off := math.Acos(min(1, -cut.Dot(q.Outward(c.B.Side)))) * 180 / math.Pi; off > 1e-4 {
				t.Errorf("%d/%d: %s: sawn as printed, the side is %v° off its neighbour", splay, rake, c.Name, off)
			}
		}
	}
}

// sawn returns the way a side looks, in the world, when it is sawn by the saw settings and the words of its sheet.
func sawn(t *testing.T, p assembly.Part, s markout.Sheet, side assembly.Side) geom.Vec {
	t.Helper()
	var b *markout.Bevel
	for _, m := range s.Marks {
		if m.Bevel != nil && m.Side == side {
			b = m.Bevel
		}
	}
	if b == nil {
		t.Fatalf("the sheet of %s says nothing of its %v", p.Name, side)
	}
	look := func(s assembly.Side) geom.Vec { _, out := p.Facing(s); return out }
	r := s.References
	n := look(side)
	lean := func(off unit.Degrees, low assembly.Side) {
		if off == 0 {
			return
		}
		short := look(low) // the cut leans toward the side where the part is shortest
		for _, role := range b.Longest {
			if role == r.Role(low) {
				short = short.Neg()
			}
		}
		n = n.Add(short.Scale(math.Tan(float64(off) * math.Pi / 180)))
	}
	if side.IsEnd() {
		lean(b.Saw.Gauge, r.Edge)
		lean(b.Saw.OnEdge(), r.Face)
	} else if side.Axis() == r.Edge.Axis() {
		lean(b.Saw.Tilt, r.Face)
	} else {
		lean(b.Saw.Tilt, r.Edge)
	}
	return n.Unit()
}

func TestMirroredStoolHasMirroredSheets(t *testing.T) {
	a, m := splayed(t, 9, 6, 70)
	left, _ := a.PartNamed("leg front left")
	right, _ := a.PartNamed("leg front right")
	across, _ := a.PartNamed("leg back right")
	if k := m.Sheets[left]; len(k.Mirrors) == 0 || k.Shape == m.Sheets[right].Shape {
		t.Errorf("the front legs are not mirror images: shapes %d and %d", k.Shape, m.Sheets[right].Shape)
	}
	if m.Sheets[left].Shape != m.Sheets[across].Shape {
		t.Errorf("legs across from each other differ: shapes %d and %d", m.Sheets[left].Shape, m.Sheets[across].Shape)
	}
}
