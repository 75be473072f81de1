package cutting

import (
	"context"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"longgrain/internal/design/assembly"
	"longgrain/internal/ground/unit"
	"longgrain/internal/trade/shop"
	"longgrain/internal/work/blank"
)

const (
	mm   = unit.Millimetre
	pine = "eastern-white-pine"
)

// yard is a shop with round allowances and the timber of a test.
func yard(t testing.TB, timber string) shop.Shop {
	t.Helper()
	s, problems := shop.Parse("shop.yaml", []byte(`
longgrain-shop: 1
name: Yard
habits: {kerf: 3 mm, end_trim: 20 mm, length_allowance: 25 mm, width_allowance: 6 mm, planed_thickness_allowance: 1.5 mm, glued_edge_allowance: 2 mm, stave_width: 90 mm}
`+timber))
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	return s
}

// parts are pieces of pine, count of each size; every size is a kind of its own.
func parts(sizes ...[4]int) assembly.Assembly {
	var a assembly.Assembly
	for kind, z := range sizes {
		for i := range z[0] {
			mark := fmt.Sprintf("%c%d", 'A'+kind, i+1)
			a.Parts = append(a.Parts, assembly.Part{Name: "part " + mark, Mark: mark, Kind: kind, Species: pine,
				Length: unit.Length(z[1]) * mm, Width: unit.Length(z[2]) * mm, Thickness: unit.Length(z[3]) * mm})
		}
	}
	return a
}

// recount checks a plan from its boards alone: every strip of every part once and big enough, inside the board less
// its trimmed ends, a kerf apart, off the defects; costs and purchases add up.
func recount(t *testing.T, a assembly.Assembly, s shop.Shop, copies int, p Plan) {
	t.Helper()
	short := map[int]bool{} // groups that a finding leaves out
	needed := map[string]int{}
	rough := map[string][2]unit.Length{}
	for i, g := range p.Groups {
		w := p.Ways[i]
		if w.Pieces == 0 {
			short[i] = true
			continue
		}
		for _, index := range g.Parts {
			needed[a.Parts[index].Name] += w.Pieces * copies
			rough[a.Parts[index].Name] = [2]unit.Length{w.Length, w.Width}
		}
	}
	seen, got := map[string]bool{}, map[string]int{}
	var cost unit.Money
	used := map[string]int{}
	for _, b := range p.Boards {
		if b.Source == Buy {
			cost += b.Price
		} else {
			used[b.Name]++
		}
		for i, x := range b.Areas {
			if x.X < 0 || x.Y < 0 || x.L <= 0 || x.W <= 0 || x.X+x.L > b.Length || x.Y+x.W > b.Width {
				t.Errorf("%s: %+v leaves the board", b.Name, x)
			}
			for _, y := range b.Areas[i+1:] {
				if x.Kind == OffcutArea && y.Kind == DefectArea || x.Kind == DefectArea && y.Kind == OffcutArea {
					continue // a small fault may stay in an offcut; it is listed with it
				}
				gap := max(y.X-x.X-x.L, x.X-y.X-y.L, y.Y-x.Y-x.W, x.Y-y.Y-y.W)
				least := s.Habits.Kerf
				if x.Kind == DefectArea || y.Kind == DefectArea {
					least = 0
				}
				if gap < least && (x.Kind == PartArea || y.Kind == PartArea) {
					t.Errorf("%s: %+v and %+v lie %v mm apart", b.Name, x, y, gap.MM())
				}
			}
			if x.Kind != PartArea {
				continue
			}
			ends := s.Habits.EndTrim
			if b.Panel {
				ends = 0
			}
			if x.X < ends || x.X+x.L > b.Length-ends {
				t.Errorf("%s: %s lies in the trimmed end", b.Name, x.Label)
			}
			z := rough[x.Part]
			const whole = mm / 10 // a board given in inches counts in tenths of a millimetre
			if x.L < z[0] || x.W < z[1]-whole {
				t.Errorf("%s is %v × %v mm, needs %v × %v", x.Label, x.L.MM(), x.W.MM(), z[0].MM(), z[1].MM())
			}
			if seen[x.Label] {
				t.Errorf("%s is cut twice", x.Label)
			}
			seen[x.Label] = true
			got[x.Part]++
		}
		for i, c := range b.Cuts {
			if c.Number != i+1 || c.From >= c.To {
				t.Errorf("%s: cut %+v", b.Name, c)
			}
		}
		if b.Waste < -1e-9 || b.Waste > 1 {
			t.Errorf("%s: waste %v", b.Name, b.Waste)
		}
	}
	if len(p.Findings) == 0 {
		for name, n := range needed {
			if got[name] != n {
				t.Errorf("%s has %d strips, needs %d", name, got[name], n)
			}
		}
	}
	var bought unit.Money
	for _, x := range p.Buy {
		bought += x.Total
		if x.Each*unit.Money(x.Count) != x.Total {
			t.Errorf("%+v", x)
		}
	}
	var worth unit.Money
	for _, x := range p.Rest {
		worth += x.Worth
		if x.Length < 300*mm || x.Width < 45*mm || x.Length > p.Boards[x.Board].Length || x.Width > p.Boards[x.Board].Width {
			t.Errorf("stays over: %+v", x)
		}
	}
	if worth != p.Worth {
		t.Errorf("what stays over is worth %v, the plan says %v", worth, p.Worth)
	}
	if bought != cost || p.Cost != cost || p.Gap < 0 || p.AnyGap < 0 {
		t.Errorf("boards cost %v, the list %v, the plan %v; gap %v", cost, bought, p.Cost, p.Gap)
	}
	for _, b := range slices.Concat(s.Boards, s.Offcuts) {
		if used[b.Name] > max(1, b.Count) {
			t.Errorf("%d of %d boards %s used", used[b.Name], b.Count, b.Name)
		}
	}
}

const onePrice = `
timber:
  - {thickness: 25 mm, width: 140 mm, species: eastern white pine, pieces: [{length: 2000 mm, price: 10}, {length: 3000 mm, price: 14}]}
`

func TestASmallJobHasItsKnownOptimum(t *testing.T) {
	cases := []struct {
		name   string
		timber string
		a      assembly.Assembly
		cost   unit.Money
	}{
		// 5 strips of 625 mm and 4 kerfs are 3137 mm; a 3 m board less trim holds 4, a 2 m board 3. Two abreast: 10 pieces need
		// 5 lengths: one 3 m (8) and one 2 m (6), 24; or two 2 m boards (12), 20.
		{"ten pieces, two abreast", onePrice, parts([4]int{10, 600, 60, 20}), 2000},
		// Each 2 m board holds three lengths, two abreast: six pieces.
		{"six pieces fit one short board", onePrice, parts([4]int{6, 600, 60, 20}), 1000},
		// Pieces as wide as the board are only cut to length: 2 of 900 mm rough in 1960, 3 in 2960.
		{"crosscutting only", "timber:\n  - {thickness: 20 mm, width: 100 mm, species: eastern white pine, pieces: [{length: 2000 mm, price: 10}, {length: 3000 mm, price: 14}]}\n",
			parts([4]int{5, 875, 100, 20}), 2400},
		{"a board on hand is used first", onePrice + "boards:\n  - {name: H, species: eastern white pine, thickness: 25 mm, width: 140 mm, length: 2000 mm}\n",
			parts([4]int{6, 600, 60, 20}), 0},
	}
	for _, c := range cases {
		s := yard(t, c.timber)
		p := Make(context.Background(), c.a, s, 1)
		if len(p.Findings) > 0 {
			t.Errorf("%s: %+v", c.name, p.Findings)
		}
		recount(t, c.a, s, 1, p)
		if p.Cost != c.cost {
			t.Errorf("%s costs %v, want %v", c.name, p.Cost, c.cost)
		}
	}
}

func TestPlansOfRandomJobsAddUp(t *testing.T) {
	timber := `
timber:
  - {size: 1x4, species: eastern white pine, lengths: [6 ft, 8 ft], price: 0.94, per: foot}
  - {size: 1x8, species: eastern white pine, lengths: [6 ft, 8 ft, 12 ft], price: 2.05, per: foot}
  - {size: 5/4x6, species: eastern white pine, lengths: [8 ft, 12 ft], price: 2.28, per: foot}
  - {size: 2x6, species: eastern white pine, pieces: [{length: 8 ft, price: 12.40}]}
boards:
  - {name: A, species: eastern white pine, thickness: 19.05 mm, width: 184 mm, length: 2440 mm, defects: [{kind: knot, from: 610 mm, to: 660 mm, left: 90 mm, right: 135 mm}, {kind: check, from: 2380 mm, to: 2440 mm}]}
  - {name: B, species: eastern white pine, thickness: 38.1 mm, width: 140 mm, length: 1830 mm, defects: [{kind: knot, from: 900 mm, to: 975 mm, left: 40 mm, right: 110 mm}]}
offcuts:
  - {name: K, species: eastern white pine, thickness: 19.05 mm, width: 140 mm, length: 520 mm, count: 2}
`
	s := yard(t, timber)
	rng := rand.New(rand.NewPCG(8, 8))
	jobs := 40
	if testing.Short() {
		jobs = 12
	}
	for range jobs {
		var sizes [][4]int
		for range 1 + rng.IntN(4) {
			thick := []int{12, 17, 19, 22, 35, 54}[rng.IntN(6)]
			wider := 200
			if thick > 37 {
				wider = 70 // thicker than any board, so laminated: no wider than a board
			}
			sizes = append(sizes, [4]int{1 + rng.IntN(4), 150 + rng.IntN(1200), thick + rng.IntN(wider), thick})
		}
		a, copies := parts(sizes...), 1+rng.IntN(2)
		p := Make(context.Background(), a, s, copies)
		recount(t, a, s, copies, p)
		if len(p.Findings) > 0 {
			t.Errorf("%v: %+v", sizes, p.Findings)
		}
	}
}

func TestBoardsInInchesGiveTheirWholeWidth(t *testing.T) {
	// A 1x8 is 184.15 mm wide. The second part needs ripping, so that both are cut in one plan.
	s := yard(t, "timber:\n  - {size: 1x8, species: eastern white pine, lengths: [8 ft], price: 2, per: foot}\n")
	a := parts([4]int{2, 500, 184, 19}, [4]int{2, 500, 60, 17})
	p := Make(context.Background(), a, s, 1)
	if len(p.Findings) > 0 {
		t.Fatalf("%+v", p.Findings)
	}
	recount(t, a, s, 1, p)
}

func TestRoughAndPlanedTimberOfOneThicknessAreNotMixed(t *testing.T) {
	s := yard(t, `
timber:
  - {thickness: 26 mm, width: 140 mm, species: eastern white pine, lengths: [2400 mm], price: 3, per: metre}
boards:
  - {name: R, species: eastern white pine, thickness: 26 mm, width: 140 mm, length: 2400 mm, rough: true}
`)
	a := parts([4]int{2, 500, 60, 24}) // a planed board gives 24 mm, a rough one 22
	p := Make(context.Background(), a, s, 1)
	if len(p.Findings) > 0 || len(p.Boards) != 1 || p.Boards[0].Source != Buy {
		t.Errorf("findings %+v, boards %+v", p.Findings, p.Boards)
	}
	recount(t, a, s, 1, p)
}

func TestTimberThatIsTooShortIsPassedOver(t *testing.T) {
	// The cheaper timber is too short for the part, the dearer one long enough.
	s := yard(t, `
timber:
  - {thickness: 22 mm, width: 140 mm, species: eastern white pine, lengths: [1000 mm], price: 1, per: metre}
  - {thickness: 38 mm, width: 140 mm, species: eastern white pine, lengths: [3000 mm], price: 9, per: metre}
`)
	a := parts([4]int{1, 1500, 60, 20})
	p := Make(context.Background(), a, s, 1)
	if len(p.Findings) > 0 || p.Ways[0].Stock != 38*mm {
		t.Errorf("%+v, %+v", p.Findings, p.Ways)
	}
	recount(t, a, s, 1, p)
}

func TestTooFewBoardsOnHandArePassedOver(t *testing.T) {
	// One wide board on hand gives one of four panels in one piece; staves from the yard give all of them.
	s := yard(t, `
timber:
  - {thickness: 25 mm, width: 140 mm, species: eastern white pine, lengths: [2400 mm], price: 3, per: metre}
boards:
  - {name: W, species: eastern white pine, thickness: 25 mm, width: 320 mm, length: 900 mm}
`)
	a := parts([4]int{4, 700, 300, 20})
	p := Make(context.Background(), a, s, 1)
	if len(p.Findings) > 0 || p.Ways[0].Build != blank.Panel {
		t.Errorf("%+v, %+v", p.Findings, p.Ways)
	}
	recount(t, a, s, 1, p)
}

func TestTimberThatDoesNotServeIsAFinding(t *testing.T) {
	const long = "timber:\n  - {thickness: 25 mm, width: 140 mm, species: eastern white pine, lengths: [2400 mm], price: 3, per: metre}\n"
	cases := map[string]struct {
		timber string
		part   [4]int
		says   string
	}{
		"no stock at all":               {"", [4]int{2, 500, 60, 20}, "no timber gives the part A1"},
		"stock of another species":      {strings.ReplaceAll(long, "eastern white pine", "white oak"), [4]int{2, 500, 60, 20}, "no timber gives"},
		"stock too short":               {long, [4]int{2, 2390, 60, 20}, "the longest is 2400 mm"},
		"stock too narrow for one more": {"timber:\n  - {thickness: 60 mm, width: 70 mm, species: eastern white pine, lengths: [2400 mm], price: 3, per: metre}\n", [4]int{1, 500, 3000, 50}, "no timber gives"},
		"stock too thin":                {"timber:\n  - {thickness: 6 mm, width: 140 mm, species: eastern white pine, lengths: [2400 mm], price: 3, per: metre}\n", [4]int{1, 500, 60, 50}, "no timber gives"},
		"too little on hand":            {"boards:\n  - {name: A, species: eastern white pine, thickness: 25 mm, width: 140 mm, length: 1200 mm}\n", [4]int{9, 500, 60, 20}, "no cutting plan"},
	}
	for name, c := range cases {
		s := yard(t, c.timber)
		a := parts(c.part)
		p := Make(context.Background(), a, s, 1)
		if len(p.Findings) != 1 || !strings.Contains(p.Findings[0].What, c.says) || p.Findings[0].Where != "part A1" || p.Findings[0].Advice == "" {
			t.Errorf("%s: %+v", name, p.Findings)
		}
		recount(t, a, s, 1, p)
	}
}

func TestTimberWithoutAPriceIsUsedAndSaidToBeUnpriced(t *testing.T) {
	s := yard(t, "timber:\n  - {thickness: 25 mm, width: 140 mm, species: eastern white pine, lengths: [2400 mm]}\n")
	a := parts([4]int{4, 500, 60, 20})
	p := Make(context.Background(), a, s, 1)
	recount(t, a, s, 1, p)
	if len(p.Findings) > 0 || len(p.Buy) != 1 || p.Buy[0].Priced || p.Cost != 0 {
		t.Errorf("%+v, %+v", p.Findings, p.Buy)
	}
}

func TestTwentyFourCopies(t *testing.T) {
	s := yard(t, onePrice)
	a := parts([4]int{4, 450, 40, 20}, [4]int{2, 600, 90, 20}, [4]int{1, 700, 300, 20})
	p := Make(context.Background(), a, s, 24)
	if len(p.Findings) > 0 {
		t.Fatalf("%+v", p.Findings)
	}
	recount(t, a, s, 24, p)
	if !strings.Contains(p.Kept, "of 24 glued-up parts") {
		t.Errorf("%q", p.Kept)
	}
}

func TestThePlanIsTheSameTwice(t *testing.T) {
	s := yard(t, onePrice+"boards:\n  - {name: H, species: eastern white pine, thickness: 25 mm, width: 140 mm, length: 2000 mm}\n")
	a := parts([4]int{4, 450, 40, 20}, [4]int{2, 600, 90, 20}, [4]int{1, 700, 300, 20})
	first, _ := json.Marshal(Make(context.Background(), a, s, 2))
	for range 3 {
		if again, _ := json.Marshal(Make(context.Background(), a, s, 2)); string(again) != string(first) {
			t.Fatal("two plans of one job differ")
		}
	}
}

func TestAStoppedSearchGivesAPlanOrSaysSo(t *testing.T) {
	ctx, stop := context.WithCancel(context.Background())
	stop()
	s := yard(t, onePrice)
	a := parts([4]int{10, 600, 60, 20})
	p := Make(ctx, a, s, 1)
	recount(t, a, s, 1, p)
	for _, f := range p.Findings {
		if !strings.Contains(f.What, "stopped") {
			t.Errorf("%+v", f)
		}
	}
}

func TestNothingToCutIsAnEmptyPlan(t *testing.T) {
	p := Make(context.Background(), assembly.Assembly{}, yard(t, onePrice), 1)
	if len(p.Boards) != 0 || len(p.Findings) != 0 || !p.Proven {
		t.Errorf("%+v", p)
	}
}

func BenchmarkMake(b *testing.B) {
	s := yard(b, onePrice)
	a := parts([4]int{4, 450, 40, 20}, [4]int{2, 600, 90, 20}, [4]int{1, 700, 300, 20})
	for b.Loop() {
		Make(context.Background(), a, s, 1)
	}
}
