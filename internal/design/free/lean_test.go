package free_test

import (
	"math"
	"strings"
	"testing"

	"longgrain/internal/design/assembly"
	"longgrain/internal/ground/geom"
)

const leaning = `longgrain: 1
name: A
parts:
  - {name: leg left, role: leg, length: 400 mm, width: 40 mm, thickness: 40 mm, at: [100 mm, 60 mm, 0 mm], along: z, across: x, lean: {right: 8, back: 5}, angled: [{side: bottom, to: floor}]}
`

// Copies of a part that leans fill the room that the mirror or the turn of the part fills.
func TestLeaningPartsAreMirroredAndTurned(t *testing.T) {
	for name, c := range map[string]struct {
		repeat string
		to     func(v geom.Vec) geom.Vec
	}{
		"across x": {"mirror: {across: x, at: 300 mm}", func(v geom.Vec) geom.Vec { return geom.Vec{X: 600 - v.X, Y: v.Y, Z: v.Z} }},
		"across y": {"mirror: {across: y, at: 200 mm}", func(v geom.Vec) geom.Vec { return geom.Vec{X: v.X, Y: 400 - v.Y, Z: v.Z} }},
		"turned":   {"turn: {about: z, at: [300 mm, 200 mm, 0 mm]}", func(v geom.Vec) geom.Vec { return geom.Vec{X: 300 - (v.Y - 200), Y: 200 + (v.X - 300), Z: v.Z} }},
		"half":     {"turn: {about: z, quarters: 2, at: [300 mm, 200 mm, 0 mm]}", func(v geom.Vec) geom.Vec { return geom.Vec{X: 600 - v.X, Y: 400 - v.Y, Z: v.Z} }},
		"in a row": {"step: [200 mm, 0 mm, 0 mm]", func(v geom.Vec) geom.Vec { return geom.Vec{X: v.X + 200, Y: v.Y, Z: v.Z} }},
	} {
		p, _, problems := work(t, leaning+"repeats:\n  - {parts: [leg left], rename: [left, right], "+c.repeat+"}\n")
		if len(problems) > 0 {
			t.Errorf("%s: %v", name, problems)
			continue
		}
		a, _ := assembly.Build(p)
		corners := func(i int) (out []geom.Vec) {
			for _, s := range assembly.Sides {
				out = append(out, a.Parts[i].Ring(s)...)
			}
			return out
		}
		for _, from := range corners(0) {
			want, nearest := c.to(from), math.Inf(1)
			for _, v := range corners(1) {
				d := v.Sub(want)
				nearest = min(nearest, math.Sqrt(d.Dot(d)))
			}
			if nearest > 1e-4 { // lengths of angled parts are whole steps of 10 nm
				t.Errorf("%s: the corner %v should come to %v, the nearest lies %v mm off", name, from, want, nearest)
			}
		}
	}
	for change, want := range map[string]string{
		"repeats:\n  - {parts: [leg left], mirror: {across: z, at: 1 m}}\n":                                      "can only be mirrored across x or y",
		"repeats:\n  - {parts: [leg left], turn: {about: x, at: [0 mm, 0 mm, 0 mm]}}\n":                          "can only be turned about z",
		"  - {name: rail, length: 90 mm, width: 40 mm, thickness: 20 mm, place: [{side: left, of: leg left}]}\n": "nothing can be laid beside it",
	} {
		if _, _, problems := work(t, leaning+change); !strings.Contains(problems.Error(), want) {
			t.Errorf("%s: %v", want, problems)
		}
	}
}
