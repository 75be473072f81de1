package fit

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"longgrain/examples"
	"longgrain/internal/design/assembly"
	"longgrain/internal/design/joint"
	"longgrain/internal/design/pattern"
	"longgrain/internal/design/piece"
	"longgrain/internal/ground/geom"
	"longgrain/internal/ground/unit"
	"longgrain/internal/trade/hardware"
	"longgrain/patterns"
)

const mm = unit.Millimetre

// leg is an upright 50 x 50 mm leg with cuts.
func leg(features ...assembly.Feature) assembly.Assembly {
	p := assembly.Part{Name: "leg", Role: "leg", Length: 500 * mm, Width: 50 * mm, Thickness: 50 * mm,
		Pose: geom.Pose{Axes: [3]geom.Vec{{Z: 1}, {X: 1}, {Y: 1}}}, Features: features}
	return assembly.Assembly{Parts: []assembly.Part{p}}
}

// check finds what is wrong, without joints or fastenings.
func check(a assembly.Assembly) []Finding { return Check(Input{Assembly: a}) }

// wallBetween returns the least wood between two holes, 0 where they meet.
func wallBetween(p assembly.Part, f, g assembly.Feature) float64 {
	return geom.Between(room(p, f), room(p, g)).Distance
}

// bored is a bore in the edge (seen from the right) or the face of the leg.
func bored(side assembly.Side, at, across, diameter, depth float64, connection string) assembly.Feature {
	return assembly.Feature{Kind: assembly.Bore, Side: side, U: unit.MM(at), V: unit.MM(across), Diameter: unit.MM(diameter), Depth: unit.MM(depth), For: connection}
}

func mortised(side assembly.Side, at, across, length, width, depth float64, connection string) assembly.Feature {
	return assembly.Feature{Kind: assembly.Mortise, Side: side, U: unit.MM(at), V: unit.MM(across), Length: unit.MM(length), Width: unit.MM(width), Depth: unit.MM(depth), For: connection}
}

func TestHolesFromTwoSidesOfALeg(t *testing.T) {
	const edge, face = assembly.EdgeHigh, assembly.FaceHigh
	cases := []struct {
		name string
		f, g assembly.Feature
		wall float64 // what Check reports; NaN for nothing
		says string
	}{
		{"bores that cross", bored(edge, 100, 25, 10, 35, "a"), bored(face, 100, 25, 10, 35, "b"), -10, "meet inside"},
		{"one bore runs into the side of the other", bored(edge, 100, 40, 10, 35, "a"), bored(face, 100, 20, 10, 30, "b"), -10, "meet inside"},
		// The bottom of the first lies at 15 mm, the other spans 7 to 13 mm across: 2 mm of wood.
		{"bores that leave too little", bored(edge, 100, 35, 6, 35, "a"), bored(face, 100, 10, 6, 30, "b"), 2, "leave 2"},
		// The same at 10 mm difference in height: the flat bottom's rim and the other bore, √(5² ... ) apart.
		{"bores at different heights", bored(edge, 100, 35, 6, 35, "a"), bored(face, 112, 10, 6, 30, "b"), math.NaN(), ""},
		{"bores that stay apart", bored(edge, 100, 35, 6, 30, "a"), bored(face, 100, 10, 6, 30, "b"), math.NaN(), ""},
		{"a bore into a mortise", bored(edge, 100, 40, 8, 35, "a"), mortised(face, 100, 20, 60, 10, 30, "b"), -10, "the bore for a and the mortise for b meet inside"},
		{"a bore beside a mortise", bored(edge, 100, 40, 8, 23, "a"), mortised(face, 100, 20, 60, 10, 30, "b"), 2, "leave 2"},
		{"a bore below a mortise", bored(edge, 60, 40, 8, 35, "a"), mortised(face, 100, 20, 60, 10, 30, "b"), math.NaN(), ""},
		{"two mortises", mortised(edge, 100, 40, 60, 10, 28, "a"), mortised(face, 100, 20, 60, 10, 30, "b"), -3, "meet inside"},
		{"bores of one joint are its own affair", bored(edge, 100, 25, 10, 30, "a"), bored(edge, 111, 25, 10, 30, "a"), math.NaN(), ""},
		{"bores of two joints side by side", bored(edge, 100, 25, 10, 30, "a"), bored(edge, 111, 25, 10, 30, "b"), 1, "leave 1"},
	}
	for _, c := range cases {
		got := check(leg(c.f, c.g))
		if math.IsNaN(c.wall) {
			if len(got) > 0 {
				t.Errorf("%s: %+v", c.name, got)
			}
			continue
		}
		if len(got) != 1 || math.Abs(got[0].Wall-c.wall) > 1e-3 || !strings.Contains(got[0].What, c.says) || got[0].Advice == "" || got[0].Where != "leg" {
			t.Errorf("%s: %+v, want a wall of %v", c.name, got, c.wall)
		}
	}
}

func TestACutThatIsMeantToComeOutMay(t *testing.T) {
	for _, f := range []assembly.Feature{bored(assembly.EdgeHigh, 100, 25, 10, 50, "a"), mortised(assembly.FaceLow, 200, 25, 40, 10, 50, "a")} {
		f.Through = true
		if got := check(leg(f)); len(got) > 0 {
			t.Errorf("%s: %+v", f.Kind, got)
		}
	}
}

func TestTheWoodBehindAHole(t *testing.T) {
	for _, c := range []struct {
		depth float64
		says  string
	}{{40, ""}, {47, ""}, {48.5, "leaves 1.5"}, {49.5, "leaves 0.5"}, {50, "leaves 0 mm"}, {55, "comes through"}} {
		for _, f := range []assembly.Feature{bored(assembly.EdgeHigh, 100, 25, 10, c.depth, "a"), mortised(assembly.FaceLow, 200, 25, 40, 10, c.depth, "a")} {
			got := check(leg(f))
			if c.says == "" {
				if len(got) > 0 {
					t.Errorf("%s %v mm deep: %+v", f.Kind, c.depth, got)
				}
				continue
			}
			if len(got) != 1 || !strings.Contains(got[0].What, c.says) || math.Abs(got[0].Wall-(50-c.depth)) > 1e-9 {
				t.Errorf("%s %v mm deep: %+v", f.Kind, c.depth, got)
			}
		}
	}
}

func TestASlantedBoreIsMeasuredAlongItsSlant(t *testing.T) {
	// 45° and 40 mm long: the middle of its bottom lies 28.28 mm deep, its lowest rim 3.54 mm deeper.
	f := bored(assembly.FaceHigh, 200, 25, 10, 40, "a")
	f.Tilt = 45
	if got := check(leg(f)); len(got) > 0 {
		t.Errorf("%+v", got)
	}
	c := bore(leg(f).Parts[0], f)
	if want := (geom.Vec{X: 25, Y: 50 - 40/math.Sqrt2, Z: 200 + 40/math.Sqrt2}); c.To.Distance(want) > 1e-9 {
		t.Errorf("it ends at %v, want %v", c.To, want)
	}
	f.Depth = 62 * mm
	if got := check(leg(f)); len(got) != 1 || math.Abs(got[0].Wall-(50-(62+5)/math.Sqrt2)) > 1e-6 {
		t.Errorf("%+v", got)
	}
}

// sample returns points of a hole, from its description alone.
func sample(p assembly.Part, f assembly.Feature, n int) []geom.Vec {
	var out []geom.Vec
	add := func(du, dv, depth float64) {
		out = append(out, p.OnSide(f.Side, f.U+unit.MM(du), f.V+unit.MM(dv), unit.MM(depth)))
	}
	for i := range n + 1 {
		depth := f.Depth.MM() * float64(i) / float64(n)
		for k := range n {
			if f.Kind == assembly.Bore {
				sin, cos := math.Sincos(2 * math.Pi * float64(k) / float64(n))
				r := f.Diameter.MM() / 2
				add(r*cos, r*sin, depth)
				add(r*cos*float64(i)/float64(n), r*sin*float64(i)/float64(n), f.Depth.MM())
				continue
			}
			share := float64(k)/float64(n-1) - 0.5
			for _, s := range []float64{-0.5, 0.5} {
				add(share*f.Length.MM(), s*f.Width.MM(), depth)
				add(s*f.Length.MM(), share*f.Width.MM(), depth)
			}
			add(share*f.Length.MM(), (float64(i)/float64(n)-0.5)*f.Width.MM(), f.Depth.MM())
		}
	}
	return out
}

// Two holes from two sides of a leg, at random: the wall agrees with the least distance of many points of both, and
// holes that share a point are said to meet.
func TestWallsAgreeWithSampling(t *testing.T) {
	n := 24
	if testing.Short() {
		n = 16
	}
	rng := rand.New(rand.NewPCG(11, 4))
	between := func(lo, hi float64) float64 { return lo + rng.Float64()*(hi-lo) }
	hole := func(side assembly.Side, name string) assembly.Feature {
		if rng.IntN(3) == 0 {
			return mortised(side, between(80, 120), between(12, 38), between(20, 60), between(6, 12), between(10, 40), name)
		}
		return bored(side, between(80, 120), between(10, 40), between(6, 12), between(10, 40), name)
	}
	met := 0
	for i := range 200 {
		f, g := hole(assembly.EdgeHigh, "a"), hole([]assembly.Side{assembly.FaceHigh, assembly.FaceLow}[i%2], "b")
		p := leg().Parts[0]
		wall := wallBetween(p, f, g)
		a, b := sample(p, f, n), sample(p, g, n)
		least := math.Inf(1)
		for _, x := range a {
			for _, y := range b {
				least = min(least, x.Sub(y).Dot(x.Sub(y)))
			}
		}
		least = math.Sqrt(least)
		// Samples lie at most this far from any point of the holes' surfaces.
		reach := math.Pi*12/float64(n) + 60/float64(n)
		switch {
		case wall > 0 && (wall > least+1e-6 || wall < least-reach):
			t.Errorf("%+v and %+v: wall %.3f, sampled %.3f", f, g, wall, least)
		case wall <= 0:
			met++
			if least > reach {
				t.Errorf("%+v and %+v are said to meet, sampled %.3f apart", f, g, least)
			}
		}
	}
	if met == 0 || met == 200 {
		t.Errorf("%d of 200 meet", met)
	}
}

// Tables of random sizes, with each kind of joint at every place: a joint that the program thinks possible leaves the wood
// that it must.
func TestNoPossibleJointFailsToFit(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 5))
	means := joint.Means{Can: func(hardware.Job) bool { return true }, Dowels: hardware.Dowels(), Mark: mm / 2}
	made := map[joint.Kind]int{}
	tables := 60
	if testing.Short() {
		tables = 25
	}
	for range tables {
		text := fmt.Sprintf("longgrain: 1\nname: T\nwood: {species: eastern white pine}\npattern: leg-and-apron-table\nsizes: {length: %d mm, width: %d mm, leg: %d mm, apron_width: %d mm, apron_thickness: %d mm, set_back: %d mm, below: low rails, rail_width: %d mm}\n",
			400+rng.IntN(800), 350+rng.IntN(400), 36+rng.IntN(40), 50+rng.IntN(80), 16+rng.IntN(18), rng.IntN(8), 30+rng.IntN(50))
		p, problems := piece.Parse("t.yaml", []byte(text))
		if len(problems) > 0 {
			t.Fatal(problems)
		}
		p, _, problems = pattern.Expand(p, patterns.All())
		if len(problems) > 0 {
			continue // sizes that the pattern turns down
		}
		a, problems := assembly.Build(p)
		if len(problems) > 0 {
			t.Fatal(problems)
		}
		sites, err := joint.Sites(a, 9)
		if err != nil {
			t.Fatal(err)
		}
		for _, kind := range []joint.Kind{joint.Dowels, joint.Tenon, joint.PocketScrews, joint.Biscuits, joint.LooseTenon, joint.HaunchedTenon, joint.Screws, joint.ThroughTenon} {
			added := map[int][]assembly.Feature{}
			for _, s := range sites {
				of := slicesOf(joint.Possible(s, means), kind)
				if len(of) == 0 {
					continue
				}
				j := of[rng.IntN(len(of))]
				made[kind]++
				onA, onB := joint.Cut(s, j)
				added[s.Connection.A.Part] = append(added[s.Connection.A.Part], onA...)
				added[s.Connection.B.Part] = append(added[s.Connection.B.Part], onB...)
			}
			for _, f := range check(a.WithFeatures(added)) {
				if tooMany[kind] {
					continue // through joints from two sides of a leg cross; that is what the check is for
				}
				t.Errorf("%s\n%s: %s (%.2f mm)", text, kind, f.What, f.Wall)
			}
		}
	}
	for kind, n := range made {
		if n < 20 {
			t.Errorf("only %d %s", n, kind)
		}
	}
}

var tooMany = map[joint.Kind]bool{joint.ThroughTenon: true}

func slicesOf(joints []joint.Joint, kind joint.Kind) []joint.Joint {
	var out []joint.Joint
	for _, j := range joints {
		if j.Kind == kind {
			out = append(out, j)
		}
	}
	return out
}

func TestTheExampleTableWithoutJointsHasNoFinding(t *testing.T) {
	p, problems := piece.Parse("t.yaml", []byte(examples.PlayTable()))
	if len(problems) == 0 {
		p, _, problems = pattern.Expand(p, patterns.All())
	}
	a, more := assembly.Build(p)
	if len(problems)+len(more) > 0 {
		t.Fatal(problems, more)
	}
	if got := check(a); len(got) > 0 {
		t.Errorf("%+v", got)
	}
}
