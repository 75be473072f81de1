package fit

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"longgrain/internal/design/assembly"
	"longgrain/internal/ground/geom"
	"longgrain/internal/ground/unit"
)

// This file checks the findings against points. It knows what a cut is only from the words of the assembly package: a point of
// a part belongs to a cut or not. No distance formula is shared with what is tested.

// inCut tells whether a point, in the frame of its part, belongs to a hole or tenon.
func inCut(p assembly.Part, f assembly.Feature, at geom.Vec) bool {
	ua, va := f.Side.UV()
	u, v := at.Along(ua)-f.U.MM(), at.Along(va)-f.V.MM()
	deep := at.Along(f.Side.Axis())
	if f.Side.High() {
		deep = p.Size(f.Side.Axis()).MM() - deep
	}
	if f.Kind == assembly.Tenon {
		deep = -deep
	}
	if f.Kind == assembly.Bore {
		sin, cos := math.Sincos(float64(f.Tilt) * math.Pi / 180)
		along := u*sin + deep*cos
		off := u*cos - deep*sin
		// The drill has passed all of the wood above the mouth's middle that lies in its way.
		return along >= -f.Diameter.MM()/2*math.Abs(sin/cos) && along <= f.Depth.MM() && off*off+v*v <= f.Diameter.MM()*f.Diameter.MM()/4
	}
	if deep < 0 || deep > f.Depth.MM() {
		return false
	}
	l, w := f.Length.MM()/2, f.Width.MM()/2
	if !f.Rounded {
		return math.Abs(u) <= l && math.Abs(v) <= w
	}
	r := min(l, w)
	u, v = max(math.Abs(u)-(l-r), 0), max(math.Abs(v)-(w-r), 0)
	return u*u+v*v <= r*r
}

// inWood tells whether a point in the frame of a part lies in its box less the tapers, at least deep below all sides but one.
func inWood(p assembly.Part, at geom.Vec) bool {
	for axis := range 3 {
		if x := at.Along(axis); x < 0 || x > p.Size(axis).MM() {
			return false
		}
	}
	for _, f := range p.Features {
		if f.Kind == assembly.TaperCut && taken(p, f, at) > 0 {
			return false
		}
	}
	return true
}

// taken returns how far a point lies in the wood that a taper takes off, square to the new side; negative inside the part.
func taken(p assembly.Part, f assembly.Feature, at geom.Vec) float64 {
	share := (at.X - f.U.MM()) / f.Length.MM()
	if !f.Rising {
		share = 1 - share
	}
	deep := at.Along(f.Side.Axis())
	if f.Side.High() {
		deep = p.Size(f.Side.Axis()).MM() - deep
	}
	return (share*f.Depth.MM() - deep) / math.Hypot(1, f.Depth.MM()/f.Length.MM())
}

// cloud returns points of a cut in the frame of its part, on a grid.
func cloud(p assembly.Part, f assembly.Feature) []geom.Vec {
	ua, va := f.Side.UV()
	reach := max(f.Length, f.Width, f.Diameter).MM()/2 + f.Depth.MM()
	if f.Tilt == 0 {
		reach = max(f.Length, f.Width, f.Diameter).MM() / 2
	}
	const n = 14
	var out []geom.Vec
	for i := range n + 1 {
		for j := range n + 1 {
			for k := range n + 1 {
				at := [3]float64{}
				at[ua] = f.U.MM() + reach*(2*float64(i)/n-1)
				at[va] = f.V.MM() + max(f.Width, f.Length, f.Diameter).MM()/2*(2*float64(j)/n-1)
				deep := f.Depth.MM() * float64(k) / n
				if f.Kind == assembly.Tenon {
					deep = -deep
				}
				if at[f.Side.Axis()] = deep; f.Side.High() {
					at[f.Side.Axis()] = p.Size(f.Side.Axis()).MM() - deep
				}
				if v := (geom.Vec{X: at[0], Y: at[1], Z: at[2]}); inCut(p, f, v) {
					out = append(out, v)
				}
			}
		}
	}
	return out
}

// lowest walks from the best of some points to the lowest value of a convex quantity, by steps at random that stay in the cut.
func lowest(rng *rand.Rand, start []geom.Vec, in func(geom.Vec) bool, value func(geom.Vec) float64) (float64, geom.Vec) {
	best, at := math.Inf(1), geom.Vec{}
	for _, v := range start {
		if x := value(v); x < best {
			best, at = x, v
		}
	}
	step := 8.0
	for i := range 4000 {
		if i%400 == 0 {
			step = max(step, 1)
		}
		v := at.Add(geom.Vec{X: rng.NormFloat64(), Y: rng.NormFloat64(), Z: rng.NormFloat64()}.Scale(step))
		if in(v) {
			if x := value(v); x < best {
				best, at = x, v
				step *= 1.5
				continue
			}
		}
		if step *= 0.97; step < 1e-4 {
			step = 1e-4
		}
	}
	return best, at
}

// sampledGap returns the least distance found of two cuts, 0 when they share a point.
func sampledGap(rng *rand.Rand, p assembly.Part, f, g assembly.Feature) float64 {
	a, b := cloud(p, f), cloud(p, g)
	best, x, y := math.Inf(1), geom.Vec{}, geom.Vec{}
	for _, u := range a {
		if inCut(p, g, u) {
			return 0
		}
		for _, v := range b {
			if d := u.Sub(v); d.Dot(d) < best {
				best, x, y = d.Dot(d), u, v
			}
		}
	}
	best = math.Sqrt(best)
	step := 4.0
	for i := range 12000 {
		if i%1000 == 0 {
			step = max(step, 1)
		}
		u := x.Add(geom.Vec{X: rng.NormFloat64(), Y: rng.NormFloat64(), Z: rng.NormFloat64()}.Scale(step))
		v := y.Add(geom.Vec{X: rng.NormFloat64(), Y: rng.NormFloat64(), Z: rng.NormFloat64()}.Scale(step))
		better := false
		for _, pair := range [3][2]geom.Vec{{u, v}, {u, y}, {x, v}} {
			if inCut(p, f, pair[0]) && inCut(p, g, pair[1]) {
				if d := pair[0].Distance(pair[1]); d < best {
					best, x, y, better = d, pair[0], pair[1], true
				}
			}
		}
		if inCut(p, g, x) {
			return 0
		}
		if better {
			step *= 1.5
		} else if step *= 0.97; step < 1e-4 {
			step = 1e-4
		}
	}
	return best
}

// verdict is what points say about one possible finding.
type verdict int

const (
	fits verdict = iota
	fails
	close // too near the limit for points to tell
)

// sharp is how exact sampled distances are, mm.
const sharp = 0.05

func judge(wall, least float64) verdict {
	switch {
	case wall < least-sharp:
		return fails
	case wall > least+sharp:
		return fits
	}
	return close
}

// sampledFindings works out what Check must say about the cuts of every part: the verdict by part and cut or cuts and side.
func sampledFindings(rng *rand.Rand, a assembly.Assembly) map[string]verdict {
	out := map[string]verdict{}
	note := func(key string, v verdict) {
		if old, seen := out[key]; !seen || v == fails || (v == close && old == fits) {
			out[key] = v
		}
	}
	for i, p := range a.Parts {
		for k, f := range p.Features {
			if f.Kind == assembly.TaperCut {
				continue
			}
			points := cloud(p, f)
			in := func(v geom.Vec) bool { return inCut(p, f, v) }
			for _, s := range assembly.Sides {
				if s == f.Side || (f.Kind == assembly.Tenon && s.Axis() == f.Side.Axis()) {
					continue
				}
				wall, _ := lowest(rng, points, in, func(v geom.Vec) float64 {
					x := v.Along(s.Axis())
					if s.High() {
						x = p.Size(s.Axis()).MM() - x
					}
					for _, t := range p.Features {
						if t.Kind == assembly.TaperCut && t.Side == s {
							x = min(x, -taken(p, t, v))
						}
					}
					return x
				})
				note(fmt.Sprint(i, f.For, s), judge(wall, leastTo(f, s)))
			}
			if f.Kind == assembly.Tenon {
				continue
			}
			for _, g := range p.Features[k+1:] {
				if g.Kind == assembly.TaperCut || g.Kind == assembly.Tenon {
					continue
				}
				gap, least := sampledGap(rng, p, f, g), 3.0
				if f.For == g.For {
					// Cuts of one joint must only not meet; that they touch is for points too fine a question.
					if least = 0; gap == 0 {
						note(fmt.Sprint(i, f.For, g.For), fails)
					} else if gap > sharp {
						note(fmt.Sprint(i, f.For, g.For), fits)
					} else {
						note(fmt.Sprint(i, f.For, g.For), close)
					}
					continue
				}
				note(fmt.Sprint(i, min(f.For, g.For), max(f.For, g.For)), judge(gap, least))
			}
		}
	}
	return out
}

// leastTo says again, from the methods page, how much wood must stay between a cut and a side.
func leastTo(f assembly.Feature, s assembly.Side) float64 {
	d := f.Diameter.MM()
	switch {
	case f.Kind == assembly.Tenon:
		return 0
	case s == f.Side.Opposite() || f.Tilt != 0:
		return 3
	case f.Side.IsEnd() && f.Kind == assembly.Bore && (s == assembly.EdgeLow || s == assembly.EdgeHigh):
		return d - 0.5
	case f.Side.IsEnd() && f.Kind == assembly.Bore:
		return 4
	case f.Side.IsEnd():
		return 3
	case s.IsEnd() && f.Kind == assembly.Bore:
		return d
	case s.IsEnd() && f.Kind == assembly.Mortise:
		return 11.5 // 12 less what rounding to a mark may take
	case f.Kind == assembly.Bore:
		return 4
	}
	return 3
}

// randomPart is a part with cuts at random, some of them where they must not be.
func randomPart(rng *rand.Rand, name string) assembly.Part {
	axes := []geom.Vec{{X: 1}, {Y: 1}, {Z: 1}}
	rng.Shuffle(3, func(i, j int) { axes[i], axes[j] = axes[j], axes[i] })
	between := func(lo, hi float64) unit.Length { return unit.MM(lo + rng.Float64()*(hi-lo)) }
	p := assembly.Part{Name: name, Role: "leg", Length: between(120, 300), Width: between(36, 70), Thickness: between(30, 60),
		Pose: geom.Pose{Origin: geom.Vec{X: rng.Float64() * 100}, Axes: [3]geom.Vec{axes[0], axes[1], axes[0].Cross(axes[1])}}}
	if rng.IntN(2) == 0 {
		side := assembly.Sides[2+rng.IntN(4)]
		run := between(60, 110)
		f := assembly.Feature{Kind: assembly.TaperCut, Side: side, Length: run, Depth: between(2, 14), Rising: rng.IntN(2) == 0}
		if f.Rising {
			f.U = p.Length - run
		}
		p.Features = append(p.Features, f)
	}
	for range 2 + rng.IntN(4) {
		f := assembly.Feature{Side: assembly.Sides[rng.IntN(6)], For: string(rune('a' + rng.IntN(4)))}
		ua, va := f.Side.UV()
		f.U, f.V = between(4, p.Size(ua).MM()-4), between(4, p.Size(va).MM()-4)
		if rng.IntN(2) == 0 { // most cuts of a real part stand near its middle
			f.U, f.V = between(15, p.Size(ua).MM()-15), p.Size(va)/2+between(-5, 5)
		}
		most := p.Size(f.Side.Axis()).MM()
		f.Depth = between(8, min(60, most+4))
		switch rng.IntN(4) {
		case 0, 1:
			f.Kind, f.Diameter = assembly.Bore, between(5, 12)
			if !f.Side.IsEnd() && rng.IntN(4) == 0 {
				f.Tilt = unit.Degrees(-60 + rng.Float64()*120)
			}
		case 2:
			f.Kind, f.Length, f.Width, f.Rounded = assembly.Mortise, between(12, 40), between(5, 12), rng.IntN(2) == 0
			if f.Side.IsEnd() {
				f.Kind = assembly.Tenon
				f.Rounded = false
			}
		default:
			f.Kind, f.Length, f.Width, f.Rounded = assembly.Slot, between(14, 40), between(4, 10), rng.IntN(2) == 0
		}
		p.Features = append(p.Features, f)
	}
	return p
}

// Cuts at random in 1,000 parts: points find every fault that Check finds, and Check finds every fault that points find.
func TestPointsConfirmEveryFindingAndFindNoOther(t *testing.T) {
	pieces := 1000
	if testing.Short() {
		pieces = 60
	}
	rng := rand.New(rand.NewPCG(20, 26))
	faults, fine, unclear := 0, 0, 0
	for range pieces {
		a := assembly.Assembly{Parts: []assembly.Part{randomPart(rng, "leg")}}
		said := map[string]Finding{}
		for _, f := range findings(Input{Assembly: a}) {
			key := fmt.Sprint(f.Part, slices.Min(f.Connections), slices.Max(f.Connections))
			if len(f.sides) > 0 {
				key = fmt.Sprint(f.Part, f.Connections[0], f.sides[0])
			}
			said[key] = f
			if f.Kind == Clash || f.Kind == NoSeat {
				t.Fatalf("%+v", f)
			}
			if !inBox(f.Place, f.At) {
				t.Fatalf("%v lies outside %+v", f.At, f.Place)
			}
		}
		want := sampledFindings(rng, a)
		for key, v := range want {
			f, found := said[key]
			switch {
			case v == close:
				unclear++
			case v == fails && !found:
				t.Fatalf("%s is missed in\n%s", key, describe(a))
			case v == fits && found:
				t.Fatalf("points deny %+v in\n%s", f, describe(a))
			case v == fails:
				faults++
			default:
				fine++
			}
			delete(said, key)
		}
		for key, f := range said {
			t.Fatalf("nothing is known of %s: %+v", key, f)
		}
	}
	t.Logf("%d pieces: %d faults confirmed, %d places confirmed free of one, %d too near a limit to tell", pieces, faults, fine, unclear)
	if faults < pieces || fine < pieces || unclear*20 > faults+fine {
		t.Errorf("%d faults, %d fine, %d unclear", faults, fine, unclear)
	}
}

func inBox(b geom.Box, p geom.Vec) bool {
	v := b.Pose.In(p)
	return v.X >= -1e-6 && v.Y >= -1e-6 && v.Z >= -1e-6 && v.X <= b.Size.X+1e-6 && v.Y <= b.Size.Y+1e-6 && v.Z <= b.Size.Z+1e-6
}

func describe(a assembly.Assembly) string {
	var b strings.Builder
	for _, p := range a.Parts {
		fmt.Fprintf(&b, "%s %v %v %v at %+v\n", p.Name, p.Length, p.Width, p.Thickness, p.Pose)
		for _, f := range p.Features {
			fmt.Fprintf(&b, "  %+v\n", f)
		}
	}
	return b.String()
}
