package fit

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"longgrain/internal/design/assembly"
	"longgrain/internal/design/fasten"
	"longgrain/internal/design/joint"
	"longgrain/internal/ground/geom"
	"longgrain/internal/ground/unit"
)

// corner is a leg 400 mm high with two rails that enter it from the left and from the front. pins gives, for each rail, the heights
// of what enters from the lower edge of the rail; the rails' lower edges stand at 200 mm.
type corner struct {
	leg, thick, high float64
	kind             assembly.FeatureKind // bore or tenon
	size             float64              // diameter, or thickness of the tenon
	deep             [2]float64
	at               [2][]float64 // middles, from the lower edge of the rail
	wide             float64      // of a tenon
}

func (c corner) input() Input {
	leg := assembly.Part{Name: "leg", Role: "leg", Length: 400 * mm, Width: unit.MM(c.leg), Thickness: unit.MM(c.leg),
		Pose: geom.Pose{Axes: [3]geom.Vec{{Z: 1}, {X: 1}, {Y: 1}}}}
	set := (c.leg - c.thick) / 2
	left := assembly.Part{Name: "left rail", Role: "rail", Length: 300 * mm, Width: unit.MM(c.high), Thickness: unit.MM(c.thick),
		Pose: geom.Pose{Origin: geom.Vec{X: -300, Y: set + c.thick, Z: 200}, Axes: [3]geom.Vec{{X: 1}, {Z: 1}, {Y: -1}}}}
	front := assembly.Part{Name: "front rail", Role: "rail", Length: 300 * mm, Width: unit.MM(c.high), Thickness: unit.MM(c.thick),
		Pose: geom.Pose{Origin: geom.Vec{X: set, Y: -300, Z: 200}, Axes: [3]geom.Vec{{Y: 1}, {Z: 1}, {X: 1}}}}
	a := assembly.Assembly{Parts: []assembly.Part{leg, left, front}}
	for i, side := range [2]assembly.Side{assembly.EdgeLow, assembly.FaceLow} {
		name := a.Parts[i+1].Name + " to leg"
		area := assembly.Rect{U1: unit.MM(c.high), V1: unit.MM(c.thick)}
		a.Connections = append(a.Connections, assembly.Connection{Name: name, Purpose: assembly.Joint, U: geom.Vec{Z: 1}, V: a.Parts[i+1].Pose.Axes[2],
			A: assembly.Place{Part: i + 1, Side: assembly.EndHigh, Area: area}, B: assembly.Place{Part: 0, Side: side}})
		for _, h := range c.at[i] {
			onRail := assembly.Feature{Kind: c.kind, Side: assembly.EndHigh, U: unit.MM(h), V: unit.MM(c.thick / 2), Diameter: unit.MM(c.size), Depth: unit.MM(c.deep[i]), For: name}
			onLeg := onRail
			onLeg.Side, onLeg.U, onLeg.V = side, unit.MM(200+h), unit.MM(c.leg/2)
			if c.kind == assembly.Tenon {
				onRail.Diameter, onLeg.Diameter = 0, 0
				onRail.Length, onRail.Width = unit.MM(c.wide), unit.MM(c.size)
				onLeg.Kind, onLeg.Length, onLeg.Width, onLeg.Depth = assembly.Mortise, onRail.Length, onRail.Width, onRail.Depth+2*mm
			}
			a.Parts[i+1].Features = append(a.Parts[i+1].Features, onRail)
			a.Parts[0].Features = append(a.Parts[0].Features, onLeg)
		}
	}
	return Input{Assembly: a, Smallest: mm / 2}
}

func TestDowelsThatMeetAreStaggeredOrShortened(t *testing.T) {
	c := corner{leg: 50, thick: 22, high: 90, kind: assembly.Bore, size: 10, deep: [2]float64{33, 33}, at: [2][]float64{{20, 70}, {20, 70}}}
	got := Check(c.input())
	if len(got) != 1 || got[0].Kind != Meet || got[0].Part != 0 {
		t.Fatalf("%+v", got)
	}
	f := got[0]
	// Both bores have their middles 25 mm from the other's mouth: 33 mm deep, they cross. To leave 3 mm one may stop at 25 − 5 − 3
	// = 17 mm, but a dowel of 10 mm wants 20; or be set 10 + 3 = 13 mm higher or lower. The middles stand 20 mm from the edges, 15
	// are needed with half a millimetre off for rounding, so 13 mm are not to be had.
	if len(f.Mends) != 4 {
		t.Errorf("mends %+v", f.Mends)
	}
	for _, m := range f.Mends {
		if m.By != 13*mm || m.Carry < 0 || !strings.Contains(m.How, "rail 13 mm") {
			t.Errorf("%+v", m)
		}
	}
	// In a wider rail the pins can be staggered inside it.
	c.high, c.at = 110, [2][]float64{{30, 80}, {30, 80}}
	got = Check(c.input())
	if len(got) != 1 || !slices.ContainsFunc(got[0].Mends, func(m Mend) bool { return m.Carry < 0 && m.By == 13*mm && m.Connection == "left rail to leg" }) {
		t.Errorf("%+v", got)
	}
	// In a thicker leg a shorter dowel does.
	c.leg, c.deep = 70, [2]float64{42, 42}
	got = Check(c.input())
	// 42 − (35 − 5 − 3) = 15.
	if len(got) != 1 || !slices.ContainsFunc(got[0].Mends, func(m Mend) bool { return m.Shorten && m.By == 15*mm }) {
		t.Errorf("%+v", got)
	}
	if place := got[0].Place; !inBox(place, geom.Vec{X: 35, Y: 35, Z: 230}) || place.Size.Length() > 60 {
		t.Errorf("place %+v", place)
	}
}

func TestTenonsThatCollideAreShortenedOrMitred(t *testing.T) {
	c := corner{leg: 60, thick: 22, high: 90, kind: assembly.Tenon, size: 8, wide: 60, deep: [2]float64{38, 38}, at: [2][]float64{{45}, {45}}}
	got := Check(c.input())
	kinds := map[Kind]int{}
	for _, f := range got {
		kinds[f.Kind]++
		if !strings.Contains(f.Advice, "mitre") && f.Kind == Meet {
			t.Errorf("%s", f.Advice)
		}
	}
	if kinds[Meet] != 1 || kinds[Clash] != 1 || len(got) != 2 {
		t.Fatalf("%+v", got)
	}
	// The mortise, 2 mm deeper, must stop at 30 − 4 − 3 = 23: 17 mm less than 40.
	if m := got[0].Mends; len(m) < 2 || m[0].By != 17*mm || !m[0].Shorten || m[1].By != 17*mm {
		t.Errorf("%+v", m)
	}
}

func TestATenonThatHasNoSeat(t *testing.T) {
	in := corner{leg: 60, thick: 22, high: 90, kind: assembly.Tenon, size: 8, wide: 60, deep: [2]float64{20, 20}, at: [2][]float64{{45}, nil}}.input()
	if got := Check(in); len(got) > 0 {
		t.Fatalf("%+v", got)
	}
	in.Assembly.Parts[0].Features[0].U += 3 * mm
	if got := Check(in); len(got) != 1 || got[0].Kind != NoSeat || math.Abs(got[0].Wall+3) > 1e-6 {
		t.Errorf("%+v", got)
	}
	in.Assembly.Parts[0].Features[0].U -= 3 * mm
	in.Assembly.Parts[0].Features[0].Rounded = true // a square tenon in a mortise with round ends
	if got := Check(in); len(got) != 1 || got[0].Kind != NoSeat || math.Abs(got[0].Wall+4*(math.Sqrt2-1)) > 1e-4 {
		t.Errorf("%+v", got)
	}
	in.Assembly.Parts[0].Features = nil
	if got := Check(in); len(got) != 1 || got[0].Kind != NoSeat || !strings.Contains(got[0].What, "no mortise") {
		t.Errorf("%+v", got)
	}
}

// Every mend that is offered at random corners is confirmed by points, and one mark less of a shift is not enough.
func TestPointsConfirmEveryMend(t *testing.T) {
	corners := 150
	if testing.Short() {
		corners = 6
	}
	rng := rand.New(rand.NewPCG(4, 44))
	between := func(lo, hi float64) float64 { return math.Round((lo+rng.Float64()*(hi-lo))*2) / 2 }
	mends, without := 0, 0
	for range corners {
		c := corner{leg: between(40, 70), thick: between(18, 26), high: between(60, 120), kind: assembly.Bore, size: between(6, 10), deep: [2]float64{between(16, 44), between(16, 44)}}
		c.at = [2][]float64{{between(12, c.high/2-8), between(c.high/2+8, c.high-12)}, {between(12, c.high/2-8), between(c.high/2+8, c.high-12)}}
		if rng.IntN(3) == 0 {
			c.kind, c.wide, c.at = assembly.Tenon, between(20, c.high/2), [2][]float64{{c.high / 2}, {between(c.high/2-8, c.high/2+8)}}
		}
		in := c.input()
		all := Check(in)
		var before map[string]verdict
		for _, f := range all {
			if len(f.Mends) == 0 {
				without++
			}
			for _, m := range f.Mends {
				mends++
				mended := m.Apply(in, f.Part)
				key := fmt.Sprint(f.Part, slices.Min(f.Connections), slices.Max(f.Connections))
				if len(f.sides) > 0 {
					key = fmt.Sprint(f.Part, f.Connections[0], f.sides[0])
				}
				after := sampledFindings(rng, mended.Assembly)
				if after[key] == fails {
					t.Fatalf("%s does not mend %q in\n%s", m.How, f.What, describe(in.Assembly))
				}
				if before == nil {
					before = sampledFindings(rng, in.Assembly)
				}
				for k, v := range after {
					if v == fails && before[k] == fits {
						t.Fatalf("%s makes a fault at %s in\n%s", m.How, k, describe(in.Assembly))
					}
				}
				less := m
				less.By -= in.Smallest
				if m.Move != (geom.Vec{}) {
					less.Move = m.Move.Unit().Scale(less.By.MM())
				}
				if Proves(in, all, f, less) {
					t.Fatalf("%s mends %q, and less does in\n%s", m.How, f.What, describe(in.Assembly))
				}
			}
		}
	}
	t.Logf("%d mends confirmed, %d findings without one", mends, without)
	if mends < corners || (without == 0 && !testing.Short()) {
		t.Errorf("%d mends, %d findings without", mends, without)
	}
}

// Two bodies at random: points find that they overlap exactly when a clash is said.
func TestPointsConfirmEveryClash(t *testing.T) {
	pairs := 1000
	if testing.Short() {
		pairs = 150
	}
	rng := rand.New(rand.NewPCG(9, 1))
	clashing, clear, unclear := 0, 0, 0
	for range pairs {
		a := assembly.Assembly{Parts: []assembly.Part{randomPart(rng, "one"), randomPart(rng, "two")}}
		for i := range a.Parts {
			p := &a.Parts[i]
			p.Features = slices.DeleteFunc(p.Features, func(f assembly.Feature) bool { return f.Kind != assembly.TaperCut && f.Kind != assembly.Tenon })
			for k := range p.Features {
				p.Features[k].For = ""
			}
		}
		lo, _ := a.Parts[1].Box().Bounds()
		a.Parts[1].Pose.Origin = a.Parts[1].Pose.Origin.Sub(lo).Add(geom.Vec{X: rng.Float64() * 140, Y: rng.Float64() * 80, Z: rng.Float64() * 80})
		said := map[string]bool{}
		for _, f := range clashes(a) {
			kind := "bodies"
			if strings.Contains(f.What, "tenon") {
				kind = fmt.Sprint("tenons ", f.Part, f.Other)
			}
			said[kind] = true
		}
		for _, pair := range overlapsByPoints(rng, a) {
			switch {
			case pair.points > 0 && !said[pair.kind]:
				t.Fatalf("%s is missed in\n%s", pair.kind, describe(a))
			case pair.points > 0:
				clashing++
			case said[pair.kind]:
				unclear++
			default:
				clear++
			}
			delete(said, pair.kind)
		}
		for kind := range said {
			t.Fatalf("nothing is known of %s", kind)
		}
	}
	t.Logf("%d clashes confirmed, %d pairs clear, %d overlaps too small for points", clashing, clear, unclear)
	if clashing < pairs/8 || clear < pairs/8 || unclear*30 > clashing {
		t.Errorf("%d, %d, %d", clashing, clear, unclear)
	}
}

type pairOverlap struct {
	kind   string
	points int
}

// overlapsByPoints counts points, spread over the box that two bodies share, that belong to both.
func overlapsByPoints(rng *rand.Rand, a assembly.Assembly) []pairOverlap {
	type body struct {
		part  int
		tenon bool
		in    func(geom.Vec) bool
		start []geom.Vec
	}
	var bodies []body
	for i, p := range a.Parts {
		bodies = append(bodies, body{i, false, func(v geom.Vec) bool { return inWood(p, p.Pose.In(v)) }, nil})
	}
	for i, p := range a.Parts {
		for _, f := range p.Features {
			if f.Kind == assembly.Tenon {
				bodies = append(bodies, body{i, true, func(v geom.Vec) bool { return inCut(p, f, p.Pose.In(v)) }, nil})
			}
		}
	}
	counts := map[string]int{}
	var order []string
	reach := func(p assembly.Part) (lo, hi geom.Vec) {
		lo, hi = p.Box().Bounds()
		more := geom.Vec{X: 65, Y: 65, Z: 65}
		return lo.Sub(more), hi.Add(more)
	}
	alo, ahi := reach(a.Parts[0])
	blo, bhi := reach(a.Parts[1])
	lo := geom.Vec{X: max(alo.X, blo.X), Y: max(alo.Y, blo.Y), Z: max(alo.Z, blo.Z)}
	hi := geom.Vec{X: min(ahi.X, bhi.X), Y: min(ahi.Y, bhi.Y), Z: min(ahi.Z, bhi.Z)}
	for i, x := range bodies {
		for _, y := range bodies[i+1:] {
			if x.part == y.part {
				continue
			}
			kind := "bodies"
			if x.tenon || y.tenon {
				kind = fmt.Sprint("tenons ", x.part, y.part)
				if y.tenon && !x.tenon {
					kind = fmt.Sprint("tenons ", y.part, x.part)
				}
			}
			if _, seen := counts[kind]; !seen {
				order = append(order, kind)
			}
			counts[kind] += 0
			for range 30000 {
				v := geom.Vec{X: lo.X + rng.Float64()*(hi.X-lo.X), Y: lo.Y + rng.Float64()*(hi.Y-lo.Y), Z: lo.Z + rng.Float64()*(hi.Z-lo.Z)}
				if x.in(v) && y.in(v) {
					counts[kind]++
				}
			}
		}
	}
	var out []pairOverlap
	for _, kind := range order {
		out = append(out, pairOverlap{kind, counts[kind]})
	}
	return out
}

func TestAPocketScrewMustNotComeOut(t *testing.T) {
	_, in := built(t, "longgrain: 1\nname: T\nwood: {species: eastern white pine}\npattern: leg-and-apron-table\n", func(j joint.Joint) bool { return j.Kind == joint.PocketScrews })
	if got := Check(in); len(got) > 0 {
		t.Fatalf("%+v", got[0])
	}
	for i, j := range in.Joints {
		if j == nil {
			continue
		}
		long := *j
		long.Sizes.DepthB += 200 * mm
		in.Joints[i] = &long
		got := Check(in)
		if len(got) == 0 || got[0].Kind != Through || !strings.Contains(got[0].What, "a screw for "+in.Assembly.Connections[i].Name+" comes through") {
			t.Fatalf("%+v", got)
		}
		in.Joints[i] = j
		break
	}
}

func TestATopJoinedToItsFrameIsHeldFast(t *testing.T) {
	a, in := exampleTable(t)
	if got := Check(in); len(got) > 0 {
		t.Fatalf("%+v", got)
	}
	// Glue the top on: every apron holds it, and the side aprons lie across its grain.
	connections := slices.Clone(a.Connections)
	for i := range connections {
		connections[i].Purpose = assembly.Joint
	}
	in.Assembly.Connections = connections
	got := Check(in)
	if len(got) != 1 || got[0].Kind != HeldFast || got[0].Where != "top" || got[0].Place.Size.Y < 300 {
		t.Errorf("%+v", got)
	}
	// Buttons of which two do not slide.
	in.Assembly.Connections = a.Connections
	var fastenings []fasten.Fastening
	added := map[int][]assembly.Feature{}
	for i, c := range a.Connections {
		if c.Purpose == assembly.TopFastening {
			f := fasten.Fasten(a, i, func(unit.Length) fasten.Play { return fasten.Play{Outward: 3 * mm, Inward: 4 * mm} }, mm/2)
			fastenings = append(fastenings, f)
			rail, _ := a.PartNamed(f.Rail)
			added[rail] = append(added[rail], f.Features...)
		}
	}
	in.Fastenings, in.Assembly = fastenings, a.WithFeatures(added)
	if got := Check(in); len(got) > 0 {
		t.Fatalf("%+v", got)
	}
	for i, p := range in.Assembly.Parts {
		for k, f := range p.Features {
			if f.Kind == assembly.Slot {
				in.Assembly.Parts[i].Features[k].Length = 30 * mm
			}
		}
	}
	if got := Check(in); len(got) != 1 || got[0].Kind != HeldFast || got[0].Where != "top" {
		t.Errorf("%+v", got)
	}
}
