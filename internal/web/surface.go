package web

import (
	"math"

	"longgrain/internal/design/assembly"
	"longgrain/internal/ground/geom"
)

// surfaceStep is what coordinates are rounded to on their way to the browser, per mm: far finer than a screen shows.
const surfaceStep = 1e4

// surfaceOf returns the surface of a part with sides at an angle, nil for others and where no body can be made.
func surfaceOf(p assembly.Part) *Surface {
	if !p.Angled() {
		return nil
	}
	body, err := p.Body()
	if err != nil {
		return nil
	}
	local := p
	local.Pose = geom.Upright
	planes := local.Planes()
	var kinds [3][]float64 // sides, cuts, what stands out
	for _, t := range body.Mesh() {
		middle := t[0].Add(t[1]).Add(t[2]).Scale(1.0 / 3)
		kind := 1
		for _, plane := range planes {
			switch d := plane.Out.Dot(middle) - plane.At; {
			case d > geom.Touch:
				kind = 2
			case d > -geom.Touch && kind == 1:
				kind = 0
			}
		}
		for _, at := range t {
			kinds[kind] = appendPoint(kinds[kind], at)
		}
	}
	s := &Surface{Triangles: []float64{}, Lines: []float64{}}
	for _, k := range kinds {
		s.Triangles = append(s.Triangles, k...)
		s.Counts = append(s.Counts, len(k)/9)
	}
	for _, line := range body.Lines() {
		s.Lines = appendPoint(appendPoint(s.Lines, line[0]), line[1])
	}
	return s
}

func appendPoint(to []float64, at geom.Vec) []float64 {
	for k := range 3 {
		to = append(to, math.Round(at.Along(k)*surfaceStep)/surfaceStep)
	}
	return to
}
