package blank

import (
	"slices"
	"strings"
	"testing"

	"longgrain/internal/design/assembly"
	"longgrain/internal/ground/unit"
	"longgrain/internal/trade/shop"
)

const (
	mm   = unit.Millimetre
	pine = "eastern-white-pine"
)

// yard is a shop with round allowances and the timber of a test.
func yard(t *testing.T, timber string) shop.Shop {
	t.Helper()
	s, problems := shop.Parse("shop.yaml", []byte(`
longgrain-shop: 1
name: Yard
habits: {kerf: 3 mm, end_trim: 20 mm, length_allowance: 25 mm, width_allowance: 6 mm, rough_thickness_allowance: 4 mm, planed_thickness_allowance: 1.5 mm,
  glued_edge_allowance: 2 mm, panel_allowance: 1.5 mm, stave_width: 90 mm, planer_minimum_length: 330 mm, jointer_minimum_length: 300 mm}
`+timber))
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	return s
}

func sold(thickness, width string, more string) string {
	return "  - {thickness: " + thickness + ", width: " + width + ", species: eastern white pine, lengths: [2400 mm], price: 2, per: metre" + more + "}\n"
}

func group(l, w, t unit.Length) Group {
	return Group{Name: "part", Parts: []int{0}, Species: pine, Length: l, Width: w, Thick: t}
}

func TestEachWayOfGettingAPart(t *testing.T) {
	cases := []struct {
		name   string
		timber string
		part   Group
		want   []Way // pieces, rough size, stock and planed thickness
	}{
		{"one board, with allowances in length and width", sold("25 mm", "140 mm", ""), group(700*mm, 100*mm, 20*mm),
			[]Way{{Build: OneBoard, Pieces: 1, Length: 725 * mm, Width: 106 * mm, Stock: 25 * mm, Planed: 20 * mm},
				{Build: Panel, Pieces: 2, Length: 725 * mm, Width: 55 * mm, Stock: 25 * mm, Planed: 20 * mm}}},
		{"24 mm cannot be planed from 25 mm, only glued", sold("25 mm", "140 mm", ""), group(700*mm, 60*mm, 24*mm),
			[]Way{{Build: Laminated, Pieces: 2, Length: 725 * mm, Width: 66 * mm, Stock: 25 * mm, Planed: 12 * mm}}},
		{"thickness and width as sold are used as they are", sold("20 mm", "100 mm", ""), group(700*mm, 100*mm, 20*mm),
			[]Way{{Build: OneBoard, Pieces: 1, Length: 725 * mm, Width: 100 * mm, Stock: 20 * mm, Planed: 20 * mm, Whole: true}}},
		{"rough timber loses 4 mm and has no width as sold", sold("26 mm", "100 mm", ", rough: true"), group(700*mm, 94*mm, 22*mm),
			[]Way{{Build: OneBoard, Pieces: 1, Length: 725 * mm, Width: 100 * mm, Stock: 26 * mm, Rough: true, Planed: 22 * mm},
				{Build: Panel, Pieces: 2, Length: 725 * mm, Width: 52 * mm, Stock: 26 * mm, Rough: true, Planed: 22 * mm}}},
		{"a leg from two strips", sold("38 mm", "140 mm", ""), group(450*mm, 54*mm, 54*mm),
			[]Way{{Build: Laminated, Pieces: 2, Length: 475 * mm, Width: 60 * mm, Stock: 38 * mm, Planed: 27 * mm}}},
		{"a leg from four strips", sold("19 mm", "140 mm", ""), group(450*mm, 54*mm, 54*mm),
			[]Way{{Build: Laminated, Pieces: 4, Length: 475 * mm, Width: 60 * mm, Stock: 19 * mm, Planed: 54 * mm / 4}}},
		{"a top from staves of 90 mm", sold("25 mm", "140 mm", ""), group(900*mm, 560*mm, 22*mm),
			[]Way{{Build: Panel, Pieces: 7, Length: 925 * mm, Width: 82900 * unit.Micrometre, Stock: 25 * mm, Planed: 22 * mm}}},
		{"no staves wider than the boards", sold("25 mm", "60 mm", ""), group(900*mm, 200*mm, 22*mm),
			[]Way{{Build: Panel, Pieces: 4, Length: 925 * mm, Width: 53500 * unit.Micrometre, Stock: 25 * mm, Planed: 22 * mm},
				{Build: Panel, Pieces: 4, Length: 925 * mm, Width: 60 * mm, Stock: 25 * mm, Planed: 22 * mm, Whole: true}}},
		{"no timber of the species", sold("25 mm", "140 mm", ""), Group{Name: "part", Species: "white-oak", Length: 500 * mm, Width: 50 * mm, Thick: 20 * mm}, nil},
		{"too thick for six strips", sold("19 mm", "140 mm", ""), group(450*mm, 120*mm, 120*mm), nil},
	}
	for _, c := range cases {
		got := Ways(0, c.part, yard(t, "timber:\n"+c.timber))
		for i := range got {
			got[i].Notes = nil
		}
		equal := slices.EqualFunc(got, c.want, func(a, b Way) bool {
			return a.Build == b.Build && a.Pieces == b.Pieces && a.Length == b.Length && a.Width == b.Width && a.Stock == b.Stock && a.Planed == b.Planed && a.Whole == b.Whole && a.Rough == b.Rough
		})
		if !equal {
			t.Errorf("%s:\n got %+v\nwant %+v", c.name, got, c.want)
		}
	}
}

func TestEveryWayLeavesThePartItsSize(t *testing.T) {
	s := yard(t, "timber:\n"+sold("19 mm", "89 mm", "")+sold("25 mm", "140 mm", "")+sold("38 mm", "184 mm", "")+sold("27 mm", "200 mm", ", rough: true"))
	h := s.Habits
	for _, w := range []unit.Length{30 * mm, 54 * mm, 89 * mm, 140 * mm, 300 * mm, 700 * mm} {
		for _, thick := range []unit.Length{12 * mm, 19 * mm, 22 * mm, 35 * mm, 54 * mm, 90 * mm} {
			if thick > w {
				continue
			}
			g := group(500*mm, w, thick)
			for _, way := range Ways(3, g, s) {
				if way.Group != 3 || way.Length != g.Length+h.LengthAllowance || way.Pieces < 1 {
					t.Errorf("%+v", way)
				}
				usable := way.Stock - h.PlanedThicknessAllowance
				if way.Rough {
					usable = way.Stock - h.RoughThicknessAllowance
				}
				switch way.Build {
				case OneBoard:
					if !way.Whole && way.Width != w+h.WidthAllowance {
						t.Errorf("one board %v wide for %v", way.Width.MM(), w.MM())
					}
					if way.Planed != thick || (thick > usable && (way.Rough || (thick-way.Stock).Abs() > asSold)) {
						t.Errorf("one board: %+v gives %v mm", way, thick.MM())
					}
				case Laminated:
					if way.Planed*unit.Length(way.Pieces) < thick-unit.Length(way.Pieces) || way.Planed > usable {
						t.Errorf("laminated: %+v gives %v mm", way, thick.MM())
					}
				case Panel:
					// Jointing takes the edge allowance off each stave; what is left must cover width and allowance.
					if (way.Width-h.GluedEdgeAllowance)*unit.Length(way.Pieces) < w+h.WidthAllowance || way.Planed > way.Stock {
						t.Errorf("panel: %+v gives %v mm", way, w.MM())
					}
				}
			}
		}
	}
}

func TestABuildThatIsFixedIsTheOnlyOne(t *testing.T) {
	s := yard(t, "timber:\n"+sold("25 mm", "140 mm", ""))
	for _, b := range []Build{OneBoard, Panel} {
		g := group(700*mm, 100*mm, 20*mm)
		g.Build = b
		ways := Ways(0, g, s)
		if len(ways) != 1 || ways[0].Build != b {
			t.Errorf("%s: %+v", b, ways)
		}
	}
	g := group(700*mm, 100*mm, 20*mm)
	g.Build = Laminated
	if ways := Ways(0, g, s); len(ways) != 0 {
		t.Errorf("20 mm from 25 mm timber laminated: %+v", ways)
	}
}

func TestShortPartsAreMilledSeveralInOneLength(t *testing.T) {
	machines := "tools: [table saw, jointer, thickness planer]\n"
	way := func(tools string, l unit.Length) Way {
		return Ways(0, group(l, 50*mm, 20*mm), yard(t, tools+"timber:\n"+sold("25 mm", "140 mm", "")))[0]
	}
	// 304 mm are 329 rough, below the 330 of the planer; 305 are 330.
	if a, b := way(machines, 304*mm), way(machines, 305*mm); a.Least != 330*mm || b.Least != 0 {
		t.Errorf("at 304 and 305 mm: %v, %v", a.Least.MM(), b.Least.MM())
	}
	if w := way("tools: [hand saws, hand planes]\n", 100*mm); w.Least != 0 {
		t.Errorf("planed by hand: %v", w.Least.MM())
	}
	for _, c := range []struct {
		finished     unit.Length
		have, pieces int
		length       unit.Length
	}{
		{100 * mm, 9, 3, 381 * mm},        // 3 of 125 and 2 kerfs of 3
		{100 * mm, 2, 2, 330 * mm},        // 253, so with waste
		{100 * mm, 1, 1, 330 * mm},        // a single one needs the whole length
		{300 * mm, 9, 2, 653 * mm},        // 325 is 5 mm short: two at a time
		{500 * mm, 9, 1, 525 * mm},        // long enough
		{8500 * mm / 100, 9, 3, 336 * mm}, // 3 of 110 and 2 kerfs
	} {
		pieces, length := way(machines, c.finished).Gang(c.have, 3*mm)
		if pieces != c.pieces || length != c.length {
			t.Errorf("%d of %v mm: %d in %v mm, want %d in %v", c.have, c.finished.MM(), pieces, length.MM(), c.pieces, c.length.MM())
		}
	}
	asBought := Ways(0, group(100*mm, 140*mm, 25*mm), yard(t, machines+"timber:\n"+sold("25 mm", "140 mm", "")))[0]
	if asBought.Least != 0 {
		t.Errorf("a piece used as sold needs no machine: %+v", asBought)
	}
}

func TestThePlanersLimitsAreSaid(t *testing.T) {
	machines := "tools: [table saw, jointer, thickness planer]\n"
	s := yard(t, machines+"timber:\n"+sold("25 mm", "500 mm", ""))
	for says, g := range map[string]Group{"spoils 65 mm at each end": group(500*mm, 50*mm, 20*mm), "wider than the 318 mm": group(500*mm, 400*mm, 20*mm)} {
		if notes := strings.Join(Ways(0, g, s)[0].Notes, "; "); !strings.Contains(notes, says) {
			t.Errorf("%q does not say %q", notes, says)
		}
	}
	if notes := strings.Join(Ways(0, group(500*mm, 50*mm, 25*mm), s)[0].Notes, "; "); strings.Contains(notes, "planer") {
		t.Errorf("not planed: %q", notes)
	}
}

func TestBoardsMeasuredAndSoldAreOneKind(t *testing.T) {
	// 38 mm on the rack and 38.1 mm at the yard are planed together; 41 mm is another kind. A strip of 36.6 mm needs 38.1.
	s := yard(t, "timber:\n"+sold("38.1 mm", "140 mm", "")+sold("41 mm", "140 mm", "")+"boards:\n  - {name: A, species: eastern white pine, thickness: 38 mm, width: 140 mm, length: 900 mm}\n")
	kinds := Kinds(s, pine)
	if len(kinds) != 2 || kinds[0].Low != 38*mm || kinds[0].High != 38100*unit.Micrometre || !kinds[0].Has(pine, 38*mm, false, false) || kinds[1].Low != 41*mm {
		t.Errorf("%+v", kinds)
	}
	if w := Ways(0, group(500*mm, 54*mm, 54*mm), s)[0]; w.Stock != 38*mm || w.Thickest != 38100*unit.Micrometre || w.Pieces != 2 {
		t.Errorf("%+v", w)
	}
	if w := Ways(0, group(500*mm, 80*mm, 36600*unit.Micrometre), s)[0]; w.Stock != 38100*unit.Micrometre {
		t.Errorf("%+v", w)
	}
	if w := Ways(0, group(500*mm, 80*mm, 38*mm), s)[0]; w.Stock != 38*mm || w.Thickest != 38100*unit.Micrometre || w.Build != OneBoard {
		t.Errorf("as sold: %+v", w)
	}
}

func TestStavesOverTheWholeWidthOfTheBoards(t *testing.T) {
	// 206 mm from boards of 100 mm: staves of 98 when jointed, so 3; the same three equal ones are 68.7 + 2 wide.
	s := yard(t, "timber:\n"+sold("25 mm", "100 mm", ""))
	var whole, equal bool
	for _, w := range Ways(0, group(700*mm, 200*mm, 20*mm), s) {
		whole = whole || w.Build == Panel && w.Whole && w.Pieces == 3 && w.Width == 100*mm
		equal = equal || w.Build == Panel && !w.Whole && w.Pieces == 3 && w.Width == 70700*unit.Micrometre
	}
	if !whole || !equal {
		t.Errorf("%+v", Ways(0, group(700*mm, 200*mm, 20*mm), s))
	}
	for _, w := range Ways(0, group(700*mm, 400*mm, 20*mm), yard(t, "timber:\n"+sold("25 mm", "140 mm", ""))) {
		if w.Whole {
			t.Errorf("a stave of 138 mm is more than half wider than the habit of 90: %+v", w)
		}
	}
}

func TestReadyPanels(t *testing.T) {
	const machines = "tools: [table saw, jointer, thickness planer]\n"
	panel := sold("18 mm", "300 mm", ", panel: true")
	cases := []struct {
		name string
		part Group
		want []Way
	}{
		{"cut from it, at its thickness", group(700*mm, 250*mm, 18*mm), []Way{{Build: Ready, Length: 725 * mm, Width: 256 * mm}}},
		{"at its width", group(700*mm, 300*mm, 18*mm), []Way{{Build: Ready, Length: 725 * mm, Width: 300 * mm, Whole: true}}},
		{"just as it is sold", group(2400*mm, 300*mm, 18*mm), []Way{{Build: Ready, Length: 2400 * mm, Width: 300 * mm, Whole: true}}},
		{"planed where the planer is wide enough", group(700*mm, 250*mm, 16*mm), []Way{{Build: Ready, Length: 725 * mm, Width: 256 * mm}}},
		{"a narrow part comes from a board", group(700*mm, 60*mm, 18*mm), nil},
		{"too wide", group(700*mm, 310*mm, 18*mm), nil},
		{"too thick", group(700*mm, 250*mm, 20*mm), nil},
	}
	for _, c := range cases {
		got := Ways(0, c.part, yard(t, machines+"timber:\n"+panel))
		ok := len(got) == len(c.want)
		for i := 0; ok && i < len(got); i++ {
			a, b := got[i], c.want[i]
			ok = a.Build == b.Build && a.Length == b.Length && a.Width == b.Width && a.Whole == b.Whole && a.Ready && a.Pieces == 1
		}
		if !ok {
			t.Errorf("%s: %+v", c.name, got)
		}
	}
	g := group(700*mm, 250*mm, 18*mm)
	for build, want := range map[Build]int{Panel: 1, OneBoard: 0, Laminated: 0} {
		g.Build = build
		if got := Ways(0, g, yard(t, machines+"timber:\n"+panel)); len(got) != want {
			t.Errorf("%s: %+v", build, got)
		}
	}
}

func TestBoardsOnHandAreTimberToo(t *testing.T) {
	s := yard(t, "boards:\n  - {name: A, species: eastern white pine, thickness: 30 mm, width: 200 mm, length: 900 mm}\n")
	ways := Ways(0, group(500*mm, 150*mm, 28*mm), s)
	if len(ways) == 0 || ways[0].Stock != 30*mm {
		t.Errorf("%+v", ways)
	}
}

func TestNoTimberMeansNoWay(t *testing.T) {
	if ways := Ways(0, group(500*mm, 50*mm, 20*mm), yard(t, "")); len(ways) != 0 {
		t.Errorf("%+v", ways)
	}
}

func TestPartsAlikeAreOneGroupMeasuredOverTheirTenons(t *testing.T) {
	part := func(kind int, tenon unit.Length) assembly.Part {
		p := assembly.Part{Name: "rail", Kind: kind, Species: pine, Length: 400 * mm, Width: 60 * mm, Thickness: 20 * mm}
		if tenon > 0 {
			p.Features = []assembly.Feature{{Kind: assembly.Tenon, Side: assembly.EndLow, Depth: tenon}, {Kind: assembly.Tenon, Side: assembly.EndHigh, Depth: tenon}, {Kind: assembly.Tenon, Side: assembly.EndHigh, Depth: tenon - mm}}
		}
		return p
	}
	groups := Groups(assembly.Assembly{Parts: []assembly.Part{part(0, 25*mm), part(1, 0), part(0, 25*mm), part(0, 0)}})
	if len(groups) != 3 || !slices.Equal(groups[0].Parts, []int{0, 2}) || groups[0].Length != 450*mm || groups[1].Length != 400*mm || groups[2].Length != 400*mm {
		t.Errorf("%+v", groups)
	}
}

func TestTheWorkingNamesTheRoughSize(t *testing.T) {
	s := yard(t, "timber:\n"+sold("25 mm", "140 mm", ""))
	g := group(700*mm, 100*mm, 20*mm)
	if got := Ways(0, g, s)[0].Working(g, s.Habits); len(got) != 1 || got[0].Result.Text != "1 × 725 × 106 mm from 25 mm timber" {
		t.Errorf("%+v", got)
	}
}
