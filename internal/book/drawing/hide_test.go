package drawing

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"longgrain/internal/design/assembly"
	"longgrain/internal/ground/geom"
	"longgrain/internal/paper/scene"
	"longgrain/internal/trial"
)

// hiddenBySampling follows the line of sight from a point towards the viewer in small steps and tells
// whether it passes through the inside of a body: brute force, independent of the exact method.
func hiddenBySampling(p geom.Vec, all []solid, toward geom.Vec) bool {
	const step = 0.25
	for _, s := range all {
		reach := 0.0
		for _, e := range s.edges {
			reach = max(reach, e[0].Sub(p).Dot(toward), e[1].Sub(p).Dot(toward))
		}
		for d := step; d < reach; d += step {
			if inside(p.Add(toward.Scale(d)), s) {
				return true
			}
		}
	}
	return false
}

func inside(p geom.Vec, s solid) bool {
	for _, f := range s.faces {
		if f.n.Dot(p) > f.d-0.02 {
			return false
		}
	}
	return true
}

// covering tells whether a stroke of the wanted kind runs over a point of the view.
func covering(p scene.Point, lines []stroke, hidden bool) bool {
	for _, l := range lines {
		d := direction(l.from, l.to)
		along := (p.X-l.from.X)*d.X + (p.Y-l.from.Y)*d.Y
		aside := math.Abs(-(p.X-l.from.X)*d.Y + (p.Y-l.from.Y)*d.X)
		if l.hidden == hidden && aside < 0.02 && along > -0.02 && along < math.Hypot(l.to.X-l.from.X, l.to.Y-l.from.Y)+0.02 {
			return true
		}
	}
	return false
}

func TestVisibilityAgreesWithSampling(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 7))
	for n := range 6 {
		a := trial.Assembly(t, randomTable(r))
		all := bodies(a)
		for _, l := range []looking{fromFront, fromLeft, fromAbove, isometric} {
			lines := strokes(all, l)
			for range 60 {
				s := all[r.IntN(len(all))]
				e := s.edges[r.IntN(len(s.edges))]
				p := e[0].Add(e[1].Sub(e[0]).Scale(r.Float64()))
				if q := l.onPaper(e[0]); math.Hypot(q.X-l.onPaper(e[1]).X, q.Y-l.onPaper(e[1]).Y) < 1 {
					continue // seen end on
				}
				hidden := hiddenBySampling(p, all, l.toward)
				seen := covering(l.onPaper(p), lines, false)
				if !hidden && !seen {
					t.Fatalf("table %d: a visible point %v of %s is not drawn", n, p, a.Parts[s.part].Name)
				}
				if hidden && !seen && !covering(l.onPaper(p), lines, true) {
					t.Fatalf("table %d: a hidden point %v of %s is not drawn at all", n, p, a.Parts[s.part].Name)
				}
				if hidden && seen && !visibleTwin(l.onPaper(p), all, l) {
					t.Fatalf("table %d: a hidden point %v of %s is drawn as visible", n, p, a.Parts[s.part].Name)
				}
			}
		}
	}
}

// visibleTwin tells whether some other edge that is seen falls on the same point of the view.
func visibleTwin(p scene.Point, all []solid, l looking) bool {
	for _, s := range all {
		for _, e := range s.edges {
			from, to := l.onPaper(e[0]), l.onPaper(e[1])
			length := math.Hypot(to.X-from.X, to.Y-from.Y)
			if length < 1e-6 {
				continue
			}
			d := direction(from, to)
			along := (p.X-from.X)*d.X + (p.Y-from.Y)*d.Y
			aside := math.Abs(-(p.X-from.X)*d.Y + (p.Y-from.Y)*d.X)
			if aside < 0.05 && along > -0.05 && along < length+0.05 {
				share := min(max(along/length, 0), 1)
				if !hiddenBySampling(e[0].Add(e[1].Sub(e[0]).Scale(share)), all, l.toward) {
					return true
				}
			}
		}
	}
	return false
}

func randomTable(r *rand.Rand) string {
	n := func(lo, hi int) int { return lo + r.IntN(hi-lo+1) }
	below, taper := []string{"nothing", "low rails", "shelf"}[r.IntN(3)], 0
	if below == "nothing" {
		taper = n(0, 15)
	}
	return fmt.Sprintf(`longgrain: 1
name: Random table
pattern: leg-and-apron-table
sizes:
  length: %d mm
  width: %d mm
  height: %d mm
  overhang: %d mm
  leg: %d mm
  taper: %d mm
  apron_width: %d mm
  apron_thickness: %d mm
  set_back: %d mm
  below: %s
  below_height: %d mm
  rail_width: %d mm
`, n(400, 2000), n(350, 900), n(400, 1000), n(0, 90), n(40, 80), taper, n(60, 120), n(18, 28), n(0, 10), below, n(60, 110), n(40, 60))
}

func TestAJoinedBoxHidesOnlyWhatLiesBehindIt(t *testing.T) {
	a := trial.Assembly(t, `
longgrain: 1
name: Two boards
parts:
  - {name: near, length: 100 mm, width: 40 mm, thickness: 20 mm, at: [0 mm, 0 mm, 0 mm], along: x, across: z}
  - {name: far, length: 60 mm, width: 80 mm, thickness: 20 mm, at: [20 mm, 40 mm, 0 mm], along: x, across: z}
`)
	var hidden, visible float64
	for _, l := range strokes(bodies(a), fromFront) {
		length := math.Hypot(l.to.X-l.from.X, l.to.Y-l.from.Y)
		if l.hidden {
			hidden += length
		} else {
			visible += length
		}
	}
	// The near board shows 2·(100+40); the far one shows 60 and twice 40 above it, and hides twice 40
	// behind it; its lower edge falls on that of the near board.
	if math.Abs(visible-420) > 0.05 || math.Abs(hidden-80) > 0.05 {
		t.Errorf("visible %v, hidden %v", visible, hidden)
	}
}

// rack is a piece of 60 parts.
func rack(t testing.TB) assembly.Assembly {
	t.Helper()
	var b strings.Builder
	b.WriteString("longgrain: 1\nname: Rack\nparts:\n")
	for i := range 60 {
		fmt.Fprintf(&b, "  - {name: slat %d, length: 600 mm, width: 60 mm, thickness: 18 mm, at: [%d mm, %d mm, %d mm], along: x, across: z}\n",
			i, i%4*650, i/4%5*70, i/20*130+i%7)
	}
	return trial.Assembly(t, b.String())
}

func BenchmarkHiddenLinesOfSixtyParts(b *testing.B) {
	all := bodies(rack(b))
	for b.Loop() {
		strokes(all, isometric)
	}
}

func BenchmarkViewsOfSixtyParts(b *testing.B) {
	a := rack(b)
	for b.Loop() {
		Views(a, Style{})
	}
}
