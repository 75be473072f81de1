package joint

import (
	"math"
	"math/rand/v2"
	"testing"

	"longgrain/internal/design/assembly"
	"longgrain/internal/ground/geom"
	"longgrain/internal/ground/unit"
)

// block is a box with sides along the axes of the world, mm.
type block struct{ lo, hi geom.Vec }

func (b block) volume() float64 {
	d := b.hi.Sub(b.lo)
	return math.Max(0, d.X) * math.Max(0, d.Y) * math.Max(0, d.Z)
}

func (b block) and(c block) block {
	return block{geom.Vec{X: math.Max(b.lo.X, c.lo.X), Y: math.Max(b.lo.Y, c.lo.Y), Z: math.Max(b.lo.Z, c.lo.Z)},
		geom.Vec{X: math.Min(b.hi.X, c.hi.X), Y: math.Min(b.hi.Y, c.hi.Y), Z: math.Min(b.hi.Z, c.hi.Z)}}
}

func (b block) holds(c block) bool {
	return math.Abs(b.and(c).volume()-c.volume()) < 1e-6*c.volume()+1e-6
}

func around(points ...geom.Vec) block {
	b := block{points[0], points[0]}
	for _, p := range points {
		b.lo = geom.Vec{X: math.Min(b.lo.X, p.X), Y: math.Min(b.lo.Y, p.Y), Z: math.Min(b.lo.Z, p.Z)}
		b.hi = geom.Vec{X: math.Max(b.hi.X, p.X), Y: math.Max(b.hi.Y, p.Y), Z: math.Max(b.hi.Z, p.Z)}
	}
	return b
}

func whole(p assembly.Part) block {
	lo, hi := p.Box().Bounds()
	return block{lo, hi}
}

// taken returns the box that a rectangular cut takes out of its part, or that a tenon adds.
func taken(p assembly.Part, f assembly.Feature) block {
	corners := mouth(p, f)
	deep := f.Depth.MM()
	if f.Kind == assembly.Tenon {
		deep = -deep
	}
	for _, c := range corners[:4:4] {
		corners = append(corners, c.Sub(p.Outward(f.Side).Scale(deep)))
	}
	return around(corners...)
}

// mated checks by volume that what a joint cuts into the two parts fits together: every tongue fills a cut of the other
// part but for the room for glue, nothing is cut that nothing fills, nothing of the one part stands in the other, and all
// lies inside the parts.
func mated(t *testing.T, s Site, j Joint) {
	t.Helper()
	onA, onB := Cut(s, j)
	bad := func(words string, args ...any) {
		t.Helper()
		t.Errorf(s.Connection.Name+", "+j.Describe()+": "+words, args...)
	}
	bodyA, bodyB := whole(s.A), whole(s.B)
	var tongues, cuts, bores []assembly.Feature
	for i, f := range append(append([]assembly.Feature(nil), onA...), onB...) {
		p := s.A
		if i >= len(onA) {
			p = s.B
		}
		if f.For != s.Connection.Name {
			bad("cut for %q", f.For)
		}
		if f.Depth <= 0 {
			bad("%+v has no depth", f)
		}
		switch {
		case f.Kind == assembly.Bore:
			if i < len(onA) {
				bores = append(bores, f)
			}
			if f.Tilt == 0 && f.Depth > p.Size(f.Side.Axis()) {
				bad("a bore of %v mm in %v mm of %s", f.Depth.MM(), p.Size(f.Side.Axis()).MM(), p.Name)
			}
			if u, v := f.Side.UV(); f.U < f.Diameter/2 || f.V < f.Diameter/2 || f.U > p.Size(u)-f.Diameter/2 || f.V > p.Size(v)-f.Diameter/2 {
				if j.Kind != PocketScrews {
					bad("the bore %+v breaks out of %s", f, p.Name)
				}
			}
		case f.Kind == assembly.Tenon:
			tongues = append(tongues, f)
			if !bodyB.holds(taken(p, f)) {
				bad("%+v stands out beyond %s", f, s.B.Name)
			}
		default:
			body := bodyA
			if i >= len(onA) {
				body = bodyB
				cuts = append(cuts, f)
			}
			if !body.holds(taken(p, f)) {
				bad("%+v is cut beyond %s", f, p.Name)
			}
		}
	}
	if s.Contact.Crossing {
		a, b, shared := taken(s.A, onA[0]), taken(s.B, onB[0]), bodyA.and(bodyB)
		if a.and(b).volume() > 1e-6 || math.Abs(a.volume()+b.volume()-shared.volume()) > 1e-6*shared.volume() || !shared.holds(a) || !shared.holds(b) {
			bad("cuts of %.0f and %.0f mm³ do not share out the %.0f mm³ that the parts have in common", a.volume(), b.volume(), shared.volume())
		}
		return
	}
	matedTongues(bad, s, tongues, cuts)
	if len(tongues) == 0 && len(cuts) > 0 {
		for i, f := range onA {
			m, n := mouth(s.A, f), mouth(s.B, onB[i])
			for k := range m {
				if m[k].Distance(n[k]) > 1e-6 {
					bad("%v does not meet %v", m[k], n[k])
				}
			}
		}
	}
	if j.Kind == Dowels || j.Kind == DowelRows || j.Kind == Screws {
		for i, f := range bores {
			if f.Side != s.Connection.A.Side {
				continue // the seat of a plug
			}
			if d := mouth(s.A, f)[0].Distance(mouth(s.B, onB[min(i, len(onB)-1)])[0]); j.Kind != Screws && d > 1e-6 {
				bad("bore %d lies %.3f mm off its mate", i, d)
			}
			if j.Kind != Screws && (f.Diameter != onB[i].Diameter || f.Depth+onB[i].Depth != j.Sizes.DepthA+j.Sizes.DepthB+2*glueSpace) {
				bad("bores %+v and %+v", f, onB[i])
			}
			if j.Kind == Screws && !meets(s, f, onB) {
				bad("nothing meets the bore %+v", f)
			}
		}
	}
}

// meets tells whether one of B's bores opens where one of A's does.
func meets(s Site, f assembly.Feature, onB []assembly.Feature) bool {
	for _, g := range onB {
		if mouth(s.A, f)[0].Distance(mouth(s.B, g)[0]) < 1e-6 {
			return true
		}
	}
	return false
}

func matedTongues(bad func(string, ...any), s Site, tongues, cuts []assembly.Feature) {
	filled := map[int]bool{}
	for i, f := range tongues {
		b := taken(s.A, f)
		found := false
		for k, g := range cuts {
			c := taken(s.B, g)
			room := (c.volume() - b.volume()) / (b.volume() / f.Depth.MM()) // mm behind the tongue
			if c.holds(b) && room >= -1e-6 && room <= glueSpace.MM()+1e-6 && g.Flare == f.Flare && g.Rounded == f.Rounded && !filled[k] {
				filled[k], found = true, true
				break
			}
		}
		if !found {
			bad("nothing takes the tongue %+v", f)
		}
		for _, g := range tongues[i+1:] {
			if b.and(taken(s.A, g)).volume() > 1e-6 {
				bad("two tongues run into each other")
			}
		}
	}
	if len(tongues) > 0 && len(filled) != len(cuts) {
		bad("%d tongues for %d cuts", len(tongues), len(cuts))
	}
	for i, f := range cuts {
		for _, g := range cuts[i+1:] {
			if taken(s.B, f).and(taken(s.B, g)).volume() > 1e-6 && len(tongues) > 0 {
				bad("two cuts run into each other")
			}
			wider := 2 * f.Flare
			if m := (unit.MM(mouth(s.B, f)[0].Distance(mouth(s.B, g)[0]))).Abs(); f.Flare > 0 && m-max(f.Length, f.Width) < wider && m < f.Width {
				bad("tails meet at their wide ends")
			}
		}
	}
}

func TestBothPartsOfEveryJointMateAtRandomSizes(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 4))
	seen := map[Kind]int{}
	sites := sitesOf(t, build(t, playTable()))
	sites = append(sites, sitesOf(t, build(t, everyWay))...)
	for _, m := range meetings {
		for range sizesEach() {
			sites = append(sites, oneSite(t, m.text(rng)))
		}
	}
	for _, s := range sites {
		for _, j := range Possible(s, everything) {
			seen[j.Kind]++
			mated(t, s, j)
		}
		if t.Failed() {
			t.FailNow()
		}
	}
	for _, k := range Kinds() {
		if seen[k] == 0 {
			t.Errorf("no %s was made", k)
		}
	}
}
