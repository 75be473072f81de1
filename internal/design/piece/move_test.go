package piece

import (
	"strings"
	"testing"

	"longgrain/internal/ground/unit"
)

func TestAPartIsMovedWhereItIsPlaced(t *testing.T) {
	const text = `longgrain: 1
name: A
dimensions:
  a: 90 mm
parts:
  - {name: p, length: 300 mm, width: 60 mm, thickness: 20 mm}
  - {name: q, length: 300 mm, width: 60 mm, thickness: 20 mm, at: [a, 1 in, a / 2 - 3 mm]} # held
  - {name: r, between: [p, q], width: 60 mm, thickness: 20 mm, place: [{side: top, of: p, in: 5 mm}, {side: front, of: p}]}
changes:
  - {part: p, species: white ash}
`
	mm := unit.Millimetre
	for name, c := range map[string]struct {
		list     string
		index    int
		by       [3]unit.Length
		old, new string
	}{
		"a corner that is not written": {"parts", 0, [3]unit.Length{5 * mm, 0, -2 * mm}, "20 mm}\n  - {name: q", "20 mm, at: [5 mm, 0 mm, -2 mm]}\n  - {name: q"},
		"a corner by formulas":         {"parts", 1, [3]unit.Length{-2 * mm, unit.Inch / 2, 5 * mm}, "[a, 1 in, a / 2 - 3 mm]", "[a - 2 mm, 1 1/2 in, a / 2 + 2 mm]"},
		"back to where it was":         {"parts", 1, [3]unit.Length{0, 0, 3 * mm}, "a / 2 - 3 mm", "a / 2"},
		"into another":                 {"parts", 2, [3]unit.Length{0, 0, 2 * mm}, "in: 5 mm", "in: 3 mm"},
		"away from another":            {"parts", 2, [3]unit.Length{0, 2 * mm, 0}, "{side: front, of: p}", "{side: front, of: p, out: -2 mm}"},
		"a change":                     {"changes", 0, [3]unit.Length{0, 7 * mm, 0}, "white ash}", "white ash, move: [0 mm, 7 mm, 0 mm]}"},
	} {
		got, ok := Move([]byte(text), c.list, c.index, c.by, unit.Metric)
		if want := strings.Replace(text, c.old, c.new, 1); !ok || string(got) != want {
			t.Errorf("%s: %v\ngot\n%s\nwant\n%s", name, ok, got, want)
		}
	}
	if got, ok := Move([]byte(text), "parts", 2, [3]unit.Length{mm, 0, 0}, unit.Metric); ok || string(got) != text {
		t.Error("a part is moved out from between two others")
	}
}
