package markout

import (
	"fmt"
	"slices"
	"strings"

	"longgrain/internal/design/assembly"
	"longgrain/internal/ground/unit"
)

// turn takes the box of a part onto itself: local axis k goes to axis to[k], turned round where
// flip[k]. Turns keep the grain along x; they swap width and thickness only where those are equal.
type turn struct {
	to   [3]int
	flip [3]bool
}

// turns lists every turn of a box: with square section 16, else 8.
func turns(square bool) []turn {
	var out []turn
	for _, to := range [][3]int{{0, 1, 2}, {0, 2, 1}} {
		if to[1] == 2 && !square {
			continue
		}
		for bits := range 8 {
			out = append(out, turn{to, [3]bool{bits&1 != 0, bits&2 != 0, bits&4 != 0}})
		}
	}
	return out
}

// rigid tells whether the turn can be done by hand; the others need a mirror.
func (t turn) rigid() bool {
	mirrored := t.to[1] == 2
	for _, f := range t.flip {
		mirrored = mirrored != f
	}
	return !mirrored
}

// side returns where a side of the box ends up.
func (t turn) side(s assembly.Side) assembly.Side {
	out := assembly.Side(2 * t.to[s.Axis()])
	if s.High() != t.flip[s.Axis()] {
		out++
	}
	return out
}

// shape is a set of parts that can take each other's place.
type shape struct {
	kind  int
	parts []int
	// from[i] lists the turns that take parts[0] onto parts[i].
	from   [][]turn
	mirror int // number of the shape that is the mirror image, or -1
	images map[string][]turn
}

// findShapes sorts the parts into shapes by their cuts, exactly. Parts of different kind are never
// of one shape.
func findShapes(a assembly.Assembly) []shape {
	var shapes []shape
	for i, p := range a.Parts {
		key := cuts(p, turn{to: [3]int{0, 1, 2}})
		found := false
		for k := range shapes {
			if via := rigidOnly(shapes[k].images[key]); shapes[k].kind == p.Kind && len(via) > 0 {
				shapes[k].parts = append(shapes[k].parts, i)
				shapes[k].from = append(shapes[k].from, via)
				found = true
				break
			}
		}
		if !found {
			shapes = append(shapes, newShape(a, i))
		}
	}
	for k := range shapes {
		for l := range shapes {
			other := cuts(a.Parts[shapes[l].parts[0]], turn{to: [3]int{0, 1, 2}})
			if k != l && shapes[k].kind == shapes[l].kind && len(shapes[k].images[other]) > 0 {
				shapes[k].mirror = l
			}
		}
	}
	return shapes
}

func newShape(a assembly.Assembly, part int) shape {
	p := a.Parts[part]
	s := shape{kind: p.Kind, parts: []int{part}, from: [][]turn{nil}, mirror: -1, images: map[string][]turn{}}
	for _, t := range turns(p.Width == p.Thickness) {
		key := cuts(p, t)
		s.images[key] = append(s.images[key], t)
	}
	return s
}

func rigidOnly(in []turn) []turn {
	var out []turn
	for _, t := range in {
		if t.rigid() {
			out = append(out, t)
		}
	}
	return out
}

// relatives returns the number of a part's shape, the other parts of that shape and the parts of the
// mirrored shape.
func relatives(shapes []shape, part int) (number int, alike, mirrors []int) {
	for k, s := range shapes {
		if !slices.Contains(s.parts, part) {
			continue
		}
		for _, other := range s.parts {
			if other != part {
				alike = append(alike, other)
			}
		}
		if s.mirror >= 0 {
			mirrors = shapes[s.mirror].parts
		}
		return k, alike, mirrors
	}
	panic("markout: every part has a shape")
}

// cuts writes down everything that is cut into a part after a turn, in an order that does not depend
// on the turn. Two parts whose texts are equal are cut alike.
func cuts(p assembly.Part, t turn) string {
	lines := make([]string, len(p.Features))
	for i, f := range p.Features {
		lines[i] = cut(p, f, t)
	}
	slices.Sort(lines)
	return strings.Join(lines, "\n")
}

func cut(p assembly.Part, f assembly.Feature, t turn) string {
	ua, va := f.Side.UV()
	u, v := middle(p, f)
	var at, extent [3]unit.Length
	set := func(axis int, c, e unit.Length) {
		if t.flip[axis] {
			c = p.Size(axis) - c
		}
		at[t.to[axis]], extent[t.to[axis]] = c, e
	}
	set(ua, u, f.Length)
	set(va, v, f.Width)
	if f.Kind == assembly.BevelCut {
		return fmt.Sprint(f.Kind, t.side(f.Side), slopes(f, t))
	}
	if b, angled := p.Bevel(f.Side); angled {
		place := p.Pose.In(p.OnSide(f.Side, f.U, f.V, 0))
		for axis := range 3 {
			c := unit.MM(place.Along(axis)).RoundTo(10 * unit.Micrometre)
			if t.flip[axis] {
				c = (p.Size(axis) - unit.MM(place.Along(axis))).RoundTo(10 * unit.Micrometre)
			}
			at[t.to[axis]] = c
		}
		return fmt.Sprint(f.Kind, t.side(f.Side), at, extent, f.Diameter, f.Depth, f.Flare, f.Rounded, f.Tool, slopes(b, t), leaning(f, ua, t))
	}
	return fmt.Sprint(f.Kind, t.side(f.Side), at, extent, f.Diameter, f.Depth, f.Flare, f.Rounded, f.Tool, leaning(f, ua, t))
}

// leaning writes down in which direction a slanted bore leans or a taper rises.
func leaning(f assembly.Feature, axis int, t turn) string {
	up := f.Rising
	if f.Kind != assembly.TaperCut {
		if f.Tilt == 0 {
			return ""
		}
		up = f.Tilt > 0
	}
	return fmt.Sprint(max(f.Tilt, -f.Tilt), t.to[axis], up != t.flip[axis])
}
