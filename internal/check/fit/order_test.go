package fit

import (
	"fmt"
	"math/rand/v2"
	"slices"
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

// built returns a described piece with its joints cut: of each connection the first possible joint that pick takes.
func built(t *testing.T, text string, pick func(joint.Joint) bool) (assembly.Assembly, Input) {
	t.Helper()
	p, problems := piece.Parse("t.yaml", []byte(text))
	if len(problems) == 0 {
		p, _, problems = pattern.Expand(p, patterns.All())
	}
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	a, problems := assembly.Build(p)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	sites, err := joint.Sites(a, 9)
	if err != nil {
		t.Fatal(err)
	}
	means := joint.Means{Can: func(hardware.Job) bool { return true }, Dowels: hardware.Dowels(), Mark: mm / 2}
	in := Input{Joints: make([]*joint.Joint, len(a.Connections))}
	added := map[int][]assembly.Feature{}
	for _, s := range sites {
		for _, j := range joint.Possible(s, means) {
			if !pick(j) {
				continue
			}
			onA, onB := joint.Cut(s, j)
			added[s.Connection.A.Part] = append(added[s.Connection.A.Part], onA...)
			added[s.Connection.B.Part] = append(added[s.Connection.B.Part], onB...)
			in.Joints[connectionNamed(a, s.Connection.Name)] = &j
			break
		}
	}
	in.Assembly = a.WithFeatures(added)
	return in.Assembly, in
}

func exampleTable(t *testing.T) (assembly.Assembly, Input) {
	return built(t, examples.PlayTable(), func(j joint.Joint) bool { return j.Kind == joint.Dowels })
}

func TestTheExampleTableGoesTogetherEndFramesFirst(t *testing.T) {
	a, in := exampleTable(t)
	o := Plan(in)
	if !o.Possible || len(o.Findings) > 0 || len(o.Steps) != len(a.Parts)-1 {
		t.Fatalf("%+v", o)
	}
	names := func(parts []int) string {
		var out []string
		for _, i := range parts {
			out = append(out, a.Parts[i].Name)
		}
		slices.Sort(out)
		return strings.Join(out, ", ")
	}
	last := o.Steps[len(o.Steps)-1]
	if names(last.Moving) != "top" || last.Direction != (geom.Vec{Z: -1}) {
		t.Errorf("last %s goes %v", names(last.Moving), last.Direction)
	}
	frame := o.Steps[len(o.Steps)-2]
	if got := names(frame.Moving); got != "apron right, leg back right, leg front right, low rail right" && got != "apron left, leg back left, leg front left, low rail left" {
		t.Errorf("before it %s", got)
	}
	if len(frame.Closes) != 4 || frame.Travel < 15 {
		t.Errorf("%+v", frame)
	}
	closed := map[int]int{}
	for _, s := range o.Steps {
		for _, c := range s.Closes {
			closed[c]++
		}
	}
	for i, c := range a.Connections {
		if closed[i] != 1 {
			t.Errorf("%s closes %d times", c.Name, closed[i])
		}
	}
}

// cell is one cube of a piece made of cubes.
type cell [3]int

// blocks is a piece of boxes made of cubes of 10 mm, for which everything can be tried out.
type blocks struct {
	a     assembly.Assembly
	cells []map[cell]bool // of each part, its pins among them
}

// randomBlocks puts boxes beside each other at random. Where faces meet in at least three by three cubes they are connected,
// and often a pin, one cube of the one part, stands in the other.
func randomBlocks(rng *rand.Rand) blocks {
	var b blocks
	type span struct{ lo, hi cell }
	var spans []span
	meets := func(x, y span) bool {
		for k := range 3 {
			if x.hi[k] <= y.lo[k] || y.hi[k] <= x.lo[k] {
				return false
			}
		}
		return true
	}
	if rng.IntN(3) == 0 { // three that meet round a corner, which pins can lock
		spans = []span{{cell{0, 0, 0}, cell{3, 6, 3}}, {cell{3, 0, 0}, cell{6, 3, 6}}, {cell{0, 3, 3}, cell{6, 6, 6}}}
	}
	for n, tries := 3+rng.IntN(4), 0; len(spans) < n && tries < 200; tries++ {
		var s span // in a small room, so that many faces meet
		for k := range 3 {
			s.lo[k] = 3 * rng.IntN(3)
			s.hi[k] = s.lo[k] + 3*(1+rng.IntN(2))
		}
		if slices.ContainsFunc(spans, func(x span) bool { return meets(x, s) }) {
			continue
		}
		spans = append(spans, s)
	}
	for i, s := range spans {
		size := [3]unit.Length{}
		for k := range size {
			size[k] = unit.Length(s.hi[k]-s.lo[k]) * 10 * mm
		}
		b.a.Parts = append(b.a.Parts, assembly.Part{Name: fmt.Sprint("part ", i), Length: size[0], Width: size[1], Thickness: size[2],
			Pose: geom.Pose{Origin: geom.Vec{X: 10 * float64(s.lo[0]), Y: 10 * float64(s.lo[1]), Z: 10 * float64(s.lo[2])}, Axes: geom.Upright.Axes}})
		cells := map[cell]bool{}
		for x := s.lo[0]; x < s.hi[0]; x++ {
			for y := s.lo[1]; y < s.hi[1]; y++ {
				for z := s.lo[2]; z < s.hi[2]; z++ {
					cells[cell{x, y, z}] = true
				}
			}
		}
		b.cells = append(b.cells, cells)
	}
	for i, x := range spans {
		for j, y := range spans {
			for axis := range 3 {
				if x.hi[axis] != y.lo[axis] { // i below j along the axis
					continue
				}
				var lo, hi cell
				wide := true
				for k := range 3 {
					if k == axis {
						continue
					}
					lo[k], hi[k] = max(x.lo[k], y.lo[k]), min(x.hi[k], y.hi[k])
					wide = wide && hi[k]-lo[k] >= 3
				}
				if wide {
					b.connect(rng, i, j, axis, lo, hi)
				}
			}
		}
	}
	return b
}

// connect joins part i to part j above it along an axis.
func (b *blocks) connect(rng *rand.Rand, i, j, axis int, lo, hi cell) {
	name := fmt.Sprint(i, " to ", j)
	sideI, sideJ := assembly.Side(2*axis+1), assembly.Side(2*axis)
	if rng.IntN(3) > 0 {
		pin := cell{(lo[0] + hi[0]) / 2, (lo[1] + hi[1]) / 2, (lo[2] + hi[2]) / 2}
		p, q := &b.a.Parts[i], &b.a.Parts[j]
		mouth := geom.Vec{X: 10*float64(pin[0]) + 5, Y: 10*float64(pin[1]) + 5, Z: 10*float64(pin[2]) + 5}
		for _, x := range []struct {
			p    *assembly.Part
			side assembly.Side
		}{{p, sideI}, {q, sideJ}} {
			at := x.p.Pose.In(mouth)
			ua, va := x.side.UV()
			x.p.Features = append(x.p.Features, assembly.Feature{Kind: assembly.Bore, Side: x.side, U: unit.MM(at.Along(ua)), V: unit.MM(at.Along(va)), Diameter: 8 * mm, Depth: 10 * mm, For: name})
		}
		// The pin belongs to i and fills the first cube of j.
		for pin[axis] = lowestAlong(b.cells[j], axis); !b.cells[j][pin]; pin[axis]++ {
		}
		delete(b.cells[j], pin)
		b.cells[i][pin] = true
	}
	b.a.Connections = append(b.a.Connections, assembly.Connection{Name: name, Purpose: assembly.Joint, A: assembly.Place{Part: i, Side: sideI}, B: assembly.Place{Part: j, Side: sideJ}})
}

// lowestAlong returns the lowest place of cells along an axis.
func lowestAlong(cells map[cell]bool, axis int) int {
	out := 1 << 30
	for c := range cells {
		out = min(out, c[axis])
	}
	return out
}

// free tells, by pushing cube by cube, whether some parts can be moved away from others.
func (b blocks) free(going, staying uint, axis, step int) bool {
	for k := 1; k < 60; k++ {
		for i := range b.cells {
			if going>>i&1 == 0 {
				continue
			}
			for c := range b.cells[i] {
				c[axis] += k * step
				for j := range b.cells {
					if staying>>j&1 == 1 && b.cells[j][c] {
						return false
					}
				}
			}
		}
	}
	return true
}

// apart tells whether a group can be taken apart, trying every half of it in every direction.
func (b blocks) apart(group uint, known map[uint]bool) bool {
	if group&(group-1) == 0 {
		return true
	}
	if v, ok := known[group]; ok {
		return v
	}
	for half := (group - 1) & group; half > 0; half = (half - 1) & group {
		for axis := range 3 {
			for _, step := range [2]int{1, -1} {
				if b.free(half, group&^half, axis, step) {
					known[group] = b.apart(half, known) && b.apart(group&^half, known)
					return known[group]
				}
			}
		}
	}
	known[group] = false
	return false
}

// Pieces of cubes at random: an order is found exactly when trying every half in every direction finds one, and every
// step of it can be pushed cube by cube.
func TestOrdersAgreeWithTryingEverything(t *testing.T) {
	pieces := 1000
	if testing.Short() {
		pieces = 80
	}
	rng := rand.New(rand.NewPCG(7, 7))
	possible, stuck, freed := 0, 0, 0
	for range pieces {
		b := randomBlocks(rng)
		in := Input{Assembly: b.a}
		o := Plan(in)
		if want := b.apart(1<<len(b.cells)-1, map[uint]bool{}); o.Possible != want {
			t.Fatalf("order possible %v, trying everything says %v:\n%s", o.Possible, want, describe(b.a))
		}
		for _, s := range o.Steps {
			axis, step := 0, -1 // taken out against the direction it went in
			for k := range 3 {
				if x := s.Direction.Along(k); x != 0 {
					axis, step = k, -int(x)
				}
			}
			if !b.free(bits(s.Moving), bits(s.Onto), axis, step) {
				t.Fatalf("%+v cannot be pushed:\n%s", s, describe(b.a))
			}
		}
		if o.Possible {
			possible++
			continue
		}
		stuck++
		if len(o.Findings) != 1 || o.Findings[0].Advice == "" || len(o.Stuck) < 3 {
			t.Fatalf("%+v", o.Findings)
		}
		if strings.Contains(o.Findings[0].Advice, "then an order exists") {
			freed++
		}
	}
	t.Logf("%d pieces with an order, %d without, %d of them freed by one joint without pins", possible, stuck, freed)
	if possible < pieces/4 || stuck < pieces/20 || freed == 0 {
		t.Errorf("%d with, %d without an order", possible, stuck)
	}
}

func bits(parts []int) uint {
	var out uint
	for _, i := range parts {
		out |= 1 << i
	}
	return out
}
