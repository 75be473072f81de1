package shop

import (
	"strings"
	"testing"

	"longgrain/internal/ground/unit"
)

const rackFile = `# the shop
longgrain-shop: 1
name: Rack
timber:
  - {size: 1x6, species: eastern white pine, lengths: [8 ft], price: 1, per: foot} # by the foot
# what stands at the wall
boards:
  - name: A1
    species: eastern white pine   # from the old barn
    thickness: 19 mm
    width: 184 mm
    length: 2440 mm
    defects:
      - {kind: knot, from: 610 mm, to: 660 mm, left: 90 mm, right: 135 mm}
  # the good one
  - {name: A2, species: eastern white pine, thickness: 3/4 in, width: 5 1/2 in, length: 10 ft}

# under the bench
offcuts:
  - {species: eastern white pine, thickness: 19 mm, width: 89 mm, length: 760 mm, count: 3}

habits: {kerf: 3 mm}
`

const pine = "eastern-white-pine"

func rest(name string, l, w unit.Length) Board {
	return Board{Name: name, Species: pine, Thickness: 19 * unit.Millimetre, Width: w * unit.Millimetre, Length: l * unit.Millimetre}
}

func TestTheRackAfterAJobKeepsTheRestOfTheFile(t *testing.T) {
	out, err := ChangeRack([]byte(rackFile), RackChange{Take: []Taken{{"A1", 1}, {"offcut 1", 2}}, Put: []Board{rest("A1 rest", 900, 184), rest("A1 rest", 400, 60), rest("", 350, 50)}})
	if err != nil {
		t.Fatal(err)
	}
	s, problems := Parse("shop", out)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	var names []string
	for _, b := range append(s.Boards, s.Offcuts...) {
		names = append(names, b.Name)
	}
	if got := strings.Join(names, ", "); got != "A2, offcut 1, A1 rest, A1 rest 2, rest 2" || s.Offcuts[0].Count != 1 || s.Offcuts[1].Length != 900*unit.Millimetre {
		t.Errorf("%s\n%s", got, out)
	}
	for _, line := range []string{"# the shop", "# by the foot", "# what stands at the wall", "length: 10 ft}", "# under the bench", "habits: {kerf: 3 mm}", "3/4 in"} {
		if !strings.Contains(string(out), line) {
			t.Errorf("%q is gone from\n%s", line, out)
		}
	}
	if strings.Contains(string(out), "old barn") {
		t.Errorf("A1 is still there:\n%s", out)
	}
}

func TestTakingWhatIsNotThereFails(t *testing.T) {
	for _, take := range []Taken{{"Z9", 1}, {"A1", 2}, {"offcut 1", 4}} {
		if out, err := ChangeRack([]byte(rackFile), RackChange{Take: []Taken{take}}); err == nil {
			t.Errorf("%+v: %s", take, out)
		}
	}
	if _, err := ChangeRack([]byte("longgrain-shop: 1\nname: [\n"), RackChange{}); err == nil {
		t.Error("a file that cannot be read was changed")
	}
}

func TestAShopWithoutOffcutsGetsThem(t *testing.T) {
	for _, text := range []string{"longgrain-shop: 1\nname: Bare\n", "longgrain-shop: 1\nname: Bare", "longgrain-shop: 1\noffcuts: []\nname: Bare\n",
		"longgrain-shop: 1\nname: Bare\noffcuts: [{species: eastern white pine, thickness: 19 mm, width: 89 mm, length: 760 mm}]\n",
		"longgrain-shop: 1\noffcuts:\n- species: eastern white pine\n  thickness: 19 mm\n  width: 89 mm\n  length: 760 mm\nname: Bare\n"} {
		before, _ := Parse("shop", []byte(text))
		out, err := ChangeRack([]byte(text), RackChange{Put: []Board{rest("R", 900, 184)}})
		if err != nil {
			t.Errorf("%s: %v", text, err)
			continue
		}
		s, _ := Parse("shop", out)
		if len(s.Offcuts) != len(before.Offcuts)+1 || s.Offcuts[len(s.Offcuts)-1].Name != "R" || s.Name != "Bare" {
			t.Errorf("%s gives\n%s", text, out)
		}
		empty, err := ChangeRack(out, RackChange{Take: []Taken{{"R", 1}}})
		if err != nil {
			t.Errorf("%s: %v", out, err)
		}
		if s, _ := Parse("shop", empty); len(s.Offcuts) != len(before.Offcuts) {
			t.Errorf("%s gives\n%s", out, empty)
		}
	}
}

func TestDefectsAreReplacedInTheUnitsOfTheBoard(t *testing.T) {
	mm := unit.Millimetre
	out, err := ChangeDefects([]byte(rackFile), "A2", []Defect{{Kind: "knot", From: 12 * unit.Inch, To: 13 * unit.Inch, Left: unit.Inch, Right: 2 * unit.Inch}, {Kind: "check", From: 100 * unit.Inch, To: 120 * unit.Inch, Right: unit.Inch * 11 / 2}})
	if err != nil {
		t.Fatal(err)
	}
	s, _ := Parse("shop", out)
	if d := s.Boards[1].Defects; len(d) != 2 || d[0].Left != unit.Inch || d[1].Right != s.Boards[1].Width || !strings.Contains(string(out), "from: 12 in") {
		t.Errorf("%+v\n%s", s.Boards[1], out)
	}
	if !strings.Contains(string(out), "old barn") {
		t.Errorf("A1 changed:\n%s", out)
	}
	if out, err = ChangeDefects([]byte(rackFile), "A1", nil); err != nil || strings.Contains(string(out), "knot") {
		t.Errorf("%v\n%s", err, out)
	}
	if _, err := ChangeDefects([]byte(rackFile), "A1", []Defect{{Kind: "knot", From: 2400 * mm, To: 2500 * mm, Right: 50 * mm}}); err == nil {
		t.Error("a knot beyond the end was taken")
	}
	if _, err := ChangeDefects([]byte(rackFile), "Z", nil); err == nil {
		t.Error("a board that is not there was changed")
	}
}

func TestABoardIsPutOnTheRack(t *testing.T) {
	out, err := PutBoard([]byte(rackFile), rest("N", 1200, 100))
	if err != nil {
		t.Fatal(err)
	}
	if s, _ := Parse("shop", out); len(s.Boards) != 3 || s.Boards[2].Name != "N" || s.Boards[2].Width != 100*unit.Millimetre {
		t.Errorf("%s", out)
	}
	if _, err := PutBoard([]byte(rackFile), rest("A1", 1200, 100)); err == nil {
		t.Error("two boards of one name")
	}
}

func TestImpossibleBoardsAndSawsSayWhy(t *testing.T) {
	board := "longgrain-shop: 1\nname: S\nboards:\n  - {name: A, species: eastern white pine, thickness: 19 mm, width: 100 mm, length: 900 mm, defects: [%s]}\n"
	cases := map[string]struct{ text, says string }{
		"knot beyond the end":   {strings.Replace(board, "%s", "{kind: knot, from: 880 mm, to: 950 mm}", 1), "950 mm is beyond the end of the board"},
		"knot beside the board": {strings.Replace(board, "%s", "{kind: knot, from: 80 mm, to: 95 mm, left: 60 mm, right: 120 mm}", 1), "120 mm is beyond the edge of the board"},
		"ends before it begins": {strings.Replace(board, "%s", "{kind: split, from: 80 mm, to: 60 mm}", 1), "ends at 60 mm, not after it begins at 80 mm"},
		"no width":              {strings.Replace(board, "%s", "{kind: split, from: 80 mm, to: 90 mm, left: 50 mm, right: 50 mm}", 1), "has no width"},
		"no such fault":         {strings.Replace(board, "%s", "{kind: crack, from: 80 mm, to: 90 mm}", 1), "crack"},
		"a saw without a kerf":  {"longgrain-shop: 1\nname: S\nhabits: {kerf: 0 mm}\n", "kerf"},
		"two boards of a name":  {"longgrain-shop: 1\nname: S\nboards:\n  - {name: A, species: eastern white pine, thickness: 19 mm, width: 100 mm, length: 900 mm}\n  - {name: A, species: eastern white pine, thickness: 19 mm, width: 100 mm, length: 900 mm}\n", `two boards named "A"`},
	}
	for name, c := range cases {
		_, problems := Parse("shop.yaml", []byte(c.text))
		if len(problems) != 1 || !strings.Contains(problems.Error(), c.says) || problems[0].Mend == "" {
			t.Errorf("%s: %v", name, problems)
		}
	}
}
