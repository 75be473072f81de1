package drawing

import (
	"slices"

	"longgrain/internal/ground/unit"
	"longgrain/internal/paper/scene"
)

// Sizes of interrupted views, mm on paper.
const (
	breakWidth = 5.0  // free paper of an interruption
	leastSaved = 12.0 // an interruption that saves less is not worth making
)

// shortened takes lengths along a part to paper, leaving out stretches on which nothing is marked. An
// interrupted view after ISO 128-3 (from memory): what is drawn stays to scale.
type shortened struct {
	ratio scene.Ratio
	kept  []span // in model mm, sorted
	total float64
}

// shorten keeps the surroundings of all marked places: margin to either side, and the two ends.
func shorten(length unit.Length, marked []unit.Length, margin float64, r scene.Ratio) shortened {
	whole := length.MM()
	keep := []span{{0, min(margin, whole)}, {max(0, whole-margin), whole}}
	for _, m := range marked {
		keep = append(keep, span{max(0, m.MM()-margin), min(whole, m.MM()+margin)})
	}
	gap := (breakWidth + leastSaved) / r.Factor()
	out := shortened{ratio: r, kept: union(keep, gap)}
	out.total = out.at(length)
	return out
}

// at returns how far from the beginning a length lies on paper.
func (s shortened) at(l unit.Length) float64 {
	v, x := l.MM(), 0.0
	for i, k := range s.kept {
		if v <= k.high || i == len(s.kept)-1 {
			return x + max(0, v-k.low)*s.ratio.Factor()
		}
		x += (k.high-k.low)*s.ratio.Factor() + breakWidth
	}
	return x
}

// interruptions returns where on paper the view is interrupted.
func (s shortened) interruptions() []span {
	var out []span
	for _, k := range s.kept[:len(s.kept)-1] {
		x := s.at(unit.MM(k.high))
		out = append(out, span{x, x + breakWidth})
	}
	return out
}

// brokenOutline draws a long rectangle with its interruptions: each stretch closed by a zigzag.
func brokenOutline(s *scene.Scene, width, height float64, gaps []span) {
	starts := []float64{0}
	var ends []float64
	for _, g := range gaps {
		ends = append(ends, g.low)
		starts = append(starts, g.high)
	}
	ends = append(ends, width)
	for i := range starts {
		a, b := starts[i], ends[i]
		left, right := zigzag(a, height, i > 0), zigzag(b, height, i < len(gaps))
		ring := slices.Clone(left)
		slices.Reverse(right)
		ring = append(ring, right...)
		s.Polygon(scene.NoLine, scene.PartFill, ring...)
		s.Line(scene.Outline, scene.Point{X: a, Y: 0}, scene.Point{X: b, Y: 0})
		s.Line(scene.Outline, scene.Point{X: a, Y: height}, scene.Point{X: b, Y: height})
		for k, side := range [2][]scene.Point{left, right} {
			style := scene.Detail
			if (k == 0 && i == 0) || (k == 1 && i == len(gaps)) {
				style = scene.Outline
			}
			s.Polyline(style, side...)
		}
	}
}

// zigzag returns a line from the bottom to the top of a strip at x, broken where the view is.
func zigzag(x, height float64, broken bool) []scene.Point {
	if !broken {
		return []scene.Point{{X: x, Y: 0}, {X: x, Y: height}}
	}
	const deep = 1.2
	m := height / 2
	step := min(2, height/4)
	return []scene.Point{{X: x, Y: 0}, {X: x, Y: m - step}, {X: x + deep, Y: m - step/3}, {X: x - deep, Y: m + step/3}, {X: x, Y: m + step}, {X: x, Y: height}}
}
