package drawing

import (
	"slices"

	"longgrain/internal/design/assembly"
	"longgrain/internal/ground/geom"
	"longgrain/internal/ground/unit"
	"longgrain/internal/paper/scene"
)

// angledEnds draws the lines that ends cut at an angle leave on a long side, as lines to cut along.
func (p panel) angledEnds(s *scene.Scene) {
	for _, end := range [2]assembly.Side{assembly.EndLow, assembly.EndHigh} {
		if _, angled := p.part.Bevel(end); !angled {
			continue
		}
		// The corners that the end shares with this side, measured from the box that the marks are measured from.
		below := func(from assembly.Side, corner geom.Vec) unit.Length {
			at, out := p.part.Facing(from)
			return unit.MM(at.Sub(corner).Dot(out))
		}
		mine := p.part.Ring(p.side)
		var line []scene.Point
		for _, corner := range p.part.Ring(end) {
			if slices.Contains(mine, corner) {
				line = append(line, p.point(end, below(end, corner), p.up, below(p.up, corner)))
			}
		}
		if len(line) == 2 {
			s.Line(scene.Cut, line[0], line[1])
		}
	}
}
