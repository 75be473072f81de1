package piece

import (
	"regexp"

	"longgrain/internal/ground/formula"
	"longgrain/internal/ground/problem"
	"longgrain/internal/ground/strict"
	"longgrain/internal/ground/unit"
)

// Move returns the text with a part moved: that of a place in the list of parts, or in that of changes. What places the part is changed: its
// corner, or how far it lies from a side of another part. False when it is held in that direction by two sides, or when the text
// cannot be changed there.
func Move(text []byte, list string, index int, by [3]unit.Length, family unit.Family) ([]byte, bool) {
	var problems problem.List
	part := strict.Read("", text, &problems).Item(list, index)
	if !part.IsMap() {
		return text, false
	}
	key := map[string]string{"parts": "at", "changes": "move"}[list]
	corner := [3]string{"0 mm", "0 mm", "0 mm"}
	if family == unit.Imperial {
		corner = [3]string{"0 in", "0 in", "0 in"}
	}
	for axis, v := range part.Under(key).List() {
		if axis < 3 {
			corner[axis] = v.Raw()
		}
	}
	along := part.Under("along").Raw()
	if along == "" {
		along = "x"
	}
	moved := false
	for axis, d := range by {
		if d == 0 {
			continue
		}
		holding := placesOn(part, axis)
		switch {
		case list == "parts" && len(part.Under("between").List()) > 0 && "xyz"[axis:axis+1] == along, len(holding) > 1:
			return text, false
		case len(holding) == 1:
			var ok bool
			if text, ok = moveBeside(text, list, index, holding[0], d, family); !ok {
				return text, false
			}
		default:
			corner[axis], moved = plus(corner[axis], d, family), true
		}
	}
	if !moved {
		return text, true
	}
	return Apply(text, Edit{In: list, Index: index, Set: map[string]any{key: []any{corner[0], corner[1], corner[2]}}})
}

// placesOn returns which items of place: hold a part along an axis.
func placesOn(part strict.Value, axis int) []int {
	var out []int
	for i, place := range part.Under("place").List() {
		if on, known := axisOfSide[place.Under("side").Raw()]; known && on == axis {
			out = append(out, i)
		}
	}
	return out
}

// moveBeside changes how far a part lies from the side of another.
func moveBeside(text []byte, list string, index, item int, by unit.Length, family unit.Family) ([]byte, bool) {
	var problems problem.List
	place := strict.Read("", text, &problems).Item(list, index).Under("place").List()[item]
	side := place.Under("to").Raw()
	if side == "" {
		side = place.Under("side").Raw()
	}
	if side == "left" || side == "front" || side == "bottom" {
		by = -by
	}
	key := "out"
	if place.Under("in").Here() {
		key, by = "in", -by
	}
	was := place.Under(key).Raw()
	if was == "" {
		was = "0 mm"
	}
	return strict.Set(text, place, key, strict.Quoted(plus(was, by, family)))
}

// added matches what plus has added to a formula.
var added = regexp.MustCompile(`^(.*\S) ([+-]) ([^+*/()-]+)$`)

// plus adds a length to one that is written as a length or a formula.
func plus(text string, by unit.Length, family unit.Family) string {
	if m, err := unit.ParseMeasure(text); err == nil {
		return (m.Length + by).Exact(m.Family)
	}
	if found := added.FindStringSubmatch(text); found != nil {
		if m, err := unit.ParseMeasure(found[3]); err == nil {
			if found[2] == "-" {
				m.Length = -m.Length
			}
			if _, err := formula.Parse(found[1]); err == nil {
				return signed(found[1], m.Length+by, family)
			}
		}
	}
	return signed(text, by, family)
}

func signed(text string, by unit.Length, family unit.Family) string {
	switch {
	case by == 0:
		return text
	case by < 0:
		return text + " - " + (-by).Exact(family)
	}
	return text + " + " + by.Exact(family)
}
