package free_test

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"longgrain/internal/design/piece"
)

// A small frame by named dimensions: two legs, one the mirror of the other, a rail between them, a low rail like it, a top on both.
const frame = `longgrain: 1
name: A
dimensions:
  wide: 600 mm
  leg: 45 mm
  high: 400 mm   # to the top
  clear: wide - 2 * leg
  thick: 3/4 in
parts:
  - {name: leg left, role: leg, length: high - thick, width: leg, thickness: leg, at: [0 mm, 0 mm, 0 mm], along: z, across: x}
  - name: rail
    role: rail
    between: [leg left, leg right]
    width: clear / 6
    thickness: thick
    across: z
    place:
      - {side: top, of: leg left}
      - {side: middle y, of: leg left}
  - {name: low rail, like: rail, between: [leg left, leg right], place: [{side: bottom, of: leg left, in: 60 mm}, {side: front, of: rail}]}
  - {name: top, role: top, width: 200 mm, thickness: thick, across: y, place: [{side: left, of: leg left, out: 20 mm}, {side: right, of: leg right, out: 20 mm}, {side: middle y, of: rail}, {side: bottom, of: leg left, to: top}]}
repeats:
  - {parts: [leg left], mirror: {across: x, at: wide / 2}, rename: [left, right]}
connections:
  - between: [rail, leg left]
  - between: [rail, leg right]
  - between: [low rail, leg left]
  - between: [low rail, leg right]
  - {between: [leg left, top], purpose: top fastening, faces: [top, bottom]}
  - {between: [leg right, top], purpose: top fastening}
`

func lies(p piece.Part) string {
	return fmt.Sprintf("%s × %s × %s at %s, %s, %s along %s", p.Length, p.Width, p.Thickness, p.At[0], p.At[1], p.At[2], p.Along)
}

func TestPartsLieBetweenAndBesideOthers(t *testing.T) {
	p, _, problems := work(t, frame)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	for name, want := range map[string]string{
		"leg right": "380.95 mm × 45 mm × 45 mm at 555 mm, 0 mm, 0 mm along z",
		"rail":      "510 mm × 85 mm × 3/4 in at 45 mm, 12.975 mm, 295.95 mm along ",
		"low rail":  "510 mm × 85 mm × 3/4 in at 45 mm, 12.975 mm, 60 mm along ",
		"top":       "640 mm × 200 mm × 3/4 in at -20 mm, -77.5 mm, 380.95 mm along ",
	} {
		if got := lies(part(t, p, name)); got != want {
			t.Errorf("%s: got %s, want %s", name, got, want)
		}
	}
	if len(p.Parts) != 5 || len(p.Connections) != 6 {
		t.Errorf("%d parts, %d connections", len(p.Parts), len(p.Connections))
	}
}

func TestADimensionThatChangesTakesAllWithIt(t *testing.T) {
	random := rand.New(rand.NewPCG(9, 20))
	for range 300 {
		wide, leg, high := 300+random.IntN(600), 30+random.IntN(40), 420+random.IntN(500)
		text := strings.NewReplacer("wide: 600 mm", fmt.Sprintf("wide: %d mm", wide), "leg: 45 mm", fmt.Sprintf("leg: %d mm", leg), "high: 400 mm", fmt.Sprintf("high: %d mm", high)).Replace(frame)
		p, _, problems := work(t, text)
		if len(problems) > 0 {
			t.Fatalf("wide %d, leg %d, high %d: %v", wide, leg, high, problems)
		}
		rail, right, top := part(t, p, "rail"), part(t, p, "leg right"), part(t, p, "top")
		if rail.Length.Length.MM() != float64(wide-2*leg) || right.At[0].Length.MM() != float64(wide-leg) || top.Length.Length.MM() != float64(wide+40) ||
			(top.At[2].Length+top.Thickness.Length).MM() != float64(high) {
			t.Fatalf("wide %d, leg %d, high %d: rail %s, leg %s, top %s", wide, leg, high, lies(rail), lies(right), lies(top))
		}
	}
}

func TestCopiesInARowInAMirrorAndTurned(t *testing.T) {
	const base = "longgrain: 1\nname: A\nparts:\n  - {name: side left, role: side, length: 1 m, width: 300 mm, thickness: 20 mm, along: z, across: y}\n" +
		"  - {name: side right, role: side, length: 1 m, width: 300 mm, thickness: 20 mm, at: [620 mm, 0 mm, 0 mm], along: z, across: y}\n" +
		"  - {name: shelf 1, role: shelf, length: 600 mm, width: 300 mm, thickness: 20 mm, at: [20 mm, 0 mm, 60 mm]}\n" +
		"connections:\n  - between: [shelf 1, side left]\n  - between: [shelf 1, side right]\n"
	p, _, problems := work(t, base+"repeats:\n  - {parts: [shelf 1], step: [0 mm, 0 mm, 250 mm], count: 3}\n")
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	if got := part(t, p, "shelf 4"); got.At[2].String() != "810 mm" || len(p.Parts) != 6 || len(p.Connections) != 8 {
		t.Errorf("%s, %d parts, %d connections", lies(got), len(p.Parts), len(p.Connections))
	}
	p, _, problems = work(t, base+"repeats:\n  - {parts: [shelf 1], turn: {about: z, at: [0 mm, 0 mm, 0 mm]}, rename: [shelf 1, turned]}\n")
	if got := lies(part(t, p, "turned")); len(problems) > 0 || got != "600 mm × 300 mm × 20 mm at -300 mm, 20 mm, 60 mm along y" || len(p.Connections) != 3 {
		t.Errorf("%s, %d connections, %v", got, len(p.Connections), problems)
	}
}

// Four quarter turns, and two mirrors, bring every part back to where it was.
func TestTurnsAndMirrorsComeBack(t *testing.T) {
	for _, about := range []string{"x", "y", "z"} {
		for _, laid := range [][2]string{{"x", "y"}, {"x", "z"}, {"y", "x"}, {"y", "z"}, {"z", "x"}, {"z", "y"}} {
			text := fmt.Sprintf("longgrain: 1\nname: A\nparts:\n  - {name: a, length: 300 mm, width: 60 mm, thickness: 20 mm, at: [500 mm, 700 mm, 900 mm], along: %s, across: %s, tapers: [{side: SIDE, toward: END, start: 10 mm, by: 2 mm}]}\n"+
				"repeats:\n  - {parts: [a], turn: {about: %s, at: [100 mm, 100 mm, 100 mm]}, count: 3}\n  - {parts: [a 4], turn: {about: %s, at: [100 mm, 100 mm, 100 mm]}, step: [0 mm, 0 mm, 0 mm]}\n", laid[0], laid[1], about, about)
			side := map[string]string{"x": "left", "y": "front", "z": "bottom"}
			text = strings.NewReplacer("SIDE", side[laid[1]], "END", side[laid[0]]).Replace(text)
			text = strings.Replace(text, ", step: [0 mm, 0 mm, 0 mm]", "", 1)
			p, _, problems := work(t, text)
			if len(problems) == 0 {
				t.Fatal("a part on the very place of another is not reported")
			}
			first, back := part(t, p, "a"), part(t, p, "a 5")
			back.Name = first.Name
			if fmt.Sprint(first) != fmt.Sprint(back) {
				t.Errorf("%v about %s:\n%v\n%v", laid, about, first, back)
			}
			for _, axis := range []string{"x", "y", "z"} {
				text := strings.Split(text, "repeats:")[0] + fmt.Sprintf("repeats:\n  - {parts: [a], mirror: {across: %s, at: 250 mm}, rename: [a, b]}\n  - {parts: [b], mirror: {across: %s, at: 250 mm}, rename: [b, c]}\n", axis, axis)
				p, _, _ := work(t, text)
				first, back := part(t, p, "a"), part(t, p, "c")
				if back.Name = first.Name; fmt.Sprint(first) != fmt.Sprint(back) {
					t.Errorf("mirrored across %s:\n%v\n%v", axis, first, back)
				}
			}
		}
	}
}

func TestWhatIsWrongWithFreePartsIsToldAllAtOnceAndWhere(t *testing.T) {
	const head = "longgrain: 1\nname: A\ndimensions:\n  a: 100 mm\n  n: 3\nparts:\n  - {name: p, length: a * n, width: a, thickness: 20 mm}\n"
	for name, c := range map[string]struct {
		more string
		want []string
	}{
		"two circles": {"dimensions2:\n", []string{`there is no key "dimensions2"`}},
		"beside nothing": {"  - {name: q, length: a, width: a, thickness: a / 5, place: [{side: left, of: r}, {side: top, of: s}]}\n",
			[]string{`p.yaml:8:79: parts[1].place[0].of: there is no part "r"`, `parts[1].place[1].of: there is no part "s"`}},
		"placed twice":     {"  - {name: q, length: a, width: a, thickness: a / 5, place: [{side: left, of: p}, {side: middle x, of: p}]}\n", []string{"placed from left to right more than once"}},
		"odd sides":        {"  - {name: q, length: a, width: a, thickness: a / 5, place: [{side: left, to: top, of: p}]}\n", []string{"the left cannot lie at the top"}},
		"in and out":       {"  - {name: q, length: a, width: a, thickness: a / 5, place: [{side: left, of: p, in: a, out: a}]}\n", []string{"both into and away"}},
		"at and place":     {"  - {name: q, length: a, width: a, thickness: a / 5, at: [a, a, a], place: [{side: left, of: p}]}\n", []string{"by at: and by another part"}},
		"no size":          {"  - {name: q, width: a, thickness: a / 5}\n", []string{`the key "length" is missing`}},
		"two lengths":      {"  - {name: q, length: a, between: [p, p], width: a, thickness: a / 5}\n", []string{"has a length and reaches between"}},
		"nothing between":  {"  - {name: q, between: [p, p], width: a, thickness: a / 5}\n", []string{"nothing is clear between"}},
		"circle of parts":  {"  - {name: q, length: a, width: a, thickness: a / 5, place: [{side: left, of: r}]}\n  - {name: r, like: q}\n", []string{"goes round in a circle: q needs r needs q"}},
		"too thick":        {"  - {name: q, length: a, width: a / 5, thickness: a}\n", []string{"the thickness 100 mm is above the width"}},
		"copy of nothing":  {"repeats:\n  - {parts: [q], step: [a, a, a]}\n", []string{`there is no part "q"`}},
		"two ways":         {"repeats:\n  - {parts: [p], step: [a, a, a], mirror: {across: x, at: a}}\n", []string{"must say one way of copying"}},
		"no way":           {"repeats:\n  - {parts: [p]}\n", []string{"must say one way of copying"}},
		"same name":        {"repeats:\n  - {parts: [p], step: [a, a, a], rename: [q, r]}\n", []string{`would be a second part named "p"`}},
		"too many":         {"repeats:\n  - {parts: [p], step: [0 mm, 0 mm, 30 mm], count: 200}\n  - {parts: [p], step: [0 mm, a, 0 mm], count: 200, rename: [p, q]}\n  - {parts: [p], step: [a, 0 mm, 0 mm], count: 200, rename: [p, r]}\n", []string{"repeats[2]: makes more than 500 parts"}},
		"changed and gone": {"changes:\n  - {part: q, out: yes}\n", []string{`no part "q" at these sizes`}},
	} {
		_, _, problems := work(t, head+c.more)
		for _, want := range c.want {
			if !strings.Contains(problems.Error(), want) {
				t.Errorf("%s: got\n%v\nwant %s", name, problems, want)
			}
		}
		if len(problems) > len(c.want) {
			t.Errorf("%s: %d problems\n%v", name, len(problems), problems)
		}
	}
}

func TestFaultsOfDimensionsAreToldOnceEachAndWhere(t *testing.T) {
	_, _, problems := work(t, `longgrain: 1
name: A
dimensions:
  a: b + 1 mm
  b: c * 2
  c: a
  d: a + 5 mm
  lge: 45 mm
  e: leg + 1 mm
  f: 900 mm - (2
  g: 2 mm * 3 mm
  mm: 4 mm
  h: [1, 2]
  "x y": 3 mm
parts:
  - {name: p, length: d + 1 mm, width: g, thickness: 2 * 10}
  - {name: q, length: 300 mm, width: 60 mm, thickness: 20 mm, at: [lgee, 0 mm, '0 mm + nope']}
`)
	var got []string
	for _, p := range problems {
		got = append(got, fmt.Sprintf("%d:%d %s", p.At.Line, p.At.Column, p.What))
	}
	want := []string{"4:6 goes round in a circle: a needs b needs c needs a", `9:6 there is no dimension "leg"`, "10:17 a bracket is not closed", "11:11 a length times a length is an area",
		"12:3 is a word of formulas or a unit", "13:6 is a list", "14:3 cannot be the name of a dimension", "16:54 gives a bare number, not a length", `17:68 there is no dimension "lgee"`, `17:88 there is no dimension "nope"`}
	if !slices.Equal(got, want) {
		t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}
