package free

import (
	"longgrain/internal/design/piece"
	"longgrain/internal/ground/unit"
)

// axisOf numbers the directions of the world: right, back, up.
var axisOf = map[string]int{"x": 0, "y": 1, "z": 2}

// axes returns the directions of the world in which the length, width and thickness of a part lie. A part that says nothing
// lies along x and across y.
func axes(p piece.Part) [3]int {
	along := axisOf[p.Along]
	across, ok := axisOf[p.Across]
	if !ok {
		across = 0
		if along == 0 {
			across = 1
		}
	}
	return [3]int{along, across, 3 - along - across}
}

// box is the room that a part takes: its lowest corner and its size to the right, back and up.
type box struct{ lo, size [3]unit.Length }

func (b box) hi(axis int) unit.Length { return b.lo[axis] + b.size[axis] }

func boxOf(p piece.Part) box {
	var b box
	for k, axis := range axes(p) {
		b.size[axis] = [3]unit.Measure{p.Length, p.Width, p.Thickness}[k].Length
	}
	for axis := range 3 {
		b.lo[axis] = p.At[axis].Length
	}
	return b
}

// touch is how near two sides count as touching. The description is exact; this only forgives the rounding of a number divided
// by three and the like.
const touch = unit.Length(1000) // a thousandth of a millimetre

// meets tells whether two boxes touch face to face or share room.
func (b box) meets(o box) bool {
	shared := 0
	for axis := range 3 {
		switch room := min(b.hi(axis), o.hi(axis)) - max(b.lo[axis], o.lo[axis]); {
		case room > touch:
			shared++
		case room < -touch:
			return false
		}
	}
	return shared >= 2
}

// invades tells whether two boxes share room.
func (b box) invades(o box) bool {
	for axis := range 3 {
		if min(b.hi(axis), o.hi(axis))-max(b.lo[axis], o.lo[axis]) <= touch {
			return false
		}
	}
	return true
}

// side is a side of a box in the world: its axis, and whether it is the one to the right, back or top.
type side struct {
	axis int
	high bool
}

var sides = map[string]side{
	"left": {0, false}, "right": {0, true}, "front": {1, false}, "back": {1, true}, "bottom": {2, false}, "top": {2, true},
}

// at returns where a side lies along its axis.
func (b box) at(s side) unit.Length {
	if s.high {
		return b.hi(s.axis)
	}
	return b.lo[s.axis]
}
