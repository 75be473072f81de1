package cutting

import (
	"context"
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"longgrain/internal/ground/unit"
	"longgrain/internal/work/blank"
)

const machines = "tools: [table saw, mitre saw, jointer, thickness planer]\n"

func TestGroupsThatCompeteForTheSameBoardPartWays(t *testing.T) {
	// One board on hand is wide enough for either of two panels in one piece, not for both; staves from the yard give the other.
	s := yard(t, `
timber:
  - {thickness: 25 mm, width: 140 mm, species: eastern white pine, lengths: [2400 mm], price: 3, per: metre}
boards:
  - {name: W, species: eastern white pine, thickness: 25 mm, width: 320 mm, length: 900 mm}
`)
	a := parts([4]int{1, 700, 300, 20}, [4]int{1, 720, 290, 20})
	p := Make(context.Background(), a, s, 1)
	recount(t, a, s, 1, p)
	if len(p.Findings) > 0 || (p.Ways[0].Build == blank.OneBoard) == (p.Ways[1].Build == blank.OneBoard) {
		t.Errorf("%+v, %+v", p.Findings, p.Ways)
	}
}

func TestTheCheapestWholeJobWins(t *testing.T) {
	// Alone, two strips of 20 mm for a leg of 36 mm cost least from the thin timber. The thick boards that the tops need anyway have room
	// for the legs in one piece, so the thin board need not be bought.
	s := yard(t, machines+`
timber:
  - {thickness: 20 mm, width: 100 mm, species: eastern white pine, pieces: [{length: 2000 mm, price: 5}]}
  - {thickness: 40 mm, width: 200 mm, species: eastern white pine, pieces: [{length: 2000 mm, price: 30}]}
`)
	legs := parts([4]int{2, 700, 60, 36})
	both := parts([4]int{2, 700, 60, 36}, [4]int{2, 900, 100, 38})
	alone, whole := Make(context.Background(), legs, s, 1), Make(context.Background(), both, s, 1)
	recount(t, legs, s, 1, alone)
	recount(t, both, s, 1, whole)
	// Strips: 4 of 725 mm in boards of 2000: two on each, two boards for 10.
	if alone.Cost != 1000 || alone.Ways[0].Build != blank.Laminated {
		t.Errorf("alone: %v, %+v", alone.Cost, alone.Ways)
	}
	// 106 and 66 mm and a kerf are 175 mm of 200; two of 925 mm lie along a board.
	if whole.Cost != 3000 || whole.Ways[0].Build != blank.OneBoard {
		t.Errorf("together: %v, %+v", whole.Cost, whole.Ways)
	}
}

func TestReadyPanelsAreTakenWhereTheySaveTheGlueUp(t *testing.T) {
	const boards = "  - {thickness: 20 mm, width: 95 mm, species: eastern white pine, lengths: [2400 mm], price: 2, per: metre}\n"
	panel := func(price int) string {
		return fmt.Sprintf("  - {thickness: 18 mm, width: 400 mm, species: eastern white pine, panel: true, pieces: [{length: 1000 mm, price: %d}, {length: 2000 mm, price: %d}]}\n", price, 2*price)
	}
	a := parts([4]int{2, 800, 350, 18})
	for price, want := range map[int]blank.Build{12: blank.Ready, 60: blank.Panel} {
		s := yard(t, machines+"timber:\n"+boards+panel(price))
		p := Make(context.Background(), a, s, 1)
		recount(t, a, s, 1, p)
		if len(p.Findings) > 0 || p.Ways[0].Build != want {
			t.Errorf("panel at %d: %+v, %+v", price, p.Findings, p.Ways)
		}
		if want == blank.Ready && (p.Cost != 2400 || !p.Boards[0].Panel || !p.Buy[0].Panel || p.Buy[0].Spare != 0) {
			t.Errorf("%v, %+v", p.Cost, p.Buy)
		}
	}
}

func TestAPanelAsSoldIsUsedUncut(t *testing.T) {
	s := yard(t, "timber:\n  - {thickness: 18 mm, width: 400 mm, species: eastern white pine, panel: true, pieces: [{length: 800 mm, price: 14}]}\n")
	a := parts([4]int{2, 800, 400, 18})
	p := Make(context.Background(), a, s, 1)
	recount(t, a, s, 1, Plan{Boards: p.Boards, Groups: p.Groups, Ways: p.Ways, Buy: p.Buy, Cost: p.Cost, Rest: p.Rest, Worth: p.Worth, Findings: p.Findings})
	if len(p.Findings) > 0 || len(p.Boards) != 2 || p.Boards[0].Waste > 1e-9 || len(p.Boards[0].Cuts) != 0 {
		t.Errorf("%+v %+v", p.Findings, p.Boards)
	}
}

func TestShortPartsLieInOneLengthThatTheMachinesTake(t *testing.T) {
	s := yard(t, machines+onePrice)
	a := parts([4]int{5, 80, 60, 20})
	p := Make(context.Background(), a, s, 1)
	recount(t, a, s, 1, p)
	// 105 mm rough: three and two kerfs are 321 mm, so four at a time, 429 mm; the fifth needs 330 mm for itself.
	after := 0
	for _, b := range p.Boards {
		for _, c := range b.Cuts {
			if c.Milled {
				after++
			}
		}
	}
	if len(p.Findings) > 0 || p.Ways[0].Least != 330*mm || after != 4 {
		t.Errorf("%d cuts after milling; %+v %+v", after, p.Findings, p.Ways)
	}
}

// more is timber and boards that are put beside the stock of a random job.
var more = []string{
	"  - {thickness: 25 mm, width: 95 mm, species: eastern white pine, lengths: [2100 mm, 2700 mm], price: 2.9, per: metre}\n",
	"  - {thickness: 22 mm, width: 180 mm, species: eastern white pine, lengths: [1800 mm, 3000 mm], price: 5.2, per: metre}\n",
	"  - {thickness: 40 mm, width: 140 mm, species: eastern white pine, lengths: [2400 mm], price: 6.5, per: metre}\n",
	"  - {thickness: 18 mm, width: 300 mm, species: eastern white pine, panel: true, lengths: [900 mm, 1800 mm], price: 11, per: metre}\n",
}

func randomJob(rng *rand.Rand) [][4]int {
	var sizes [][4]int
	for range 1 + rng.IntN(4) {
		thick := []int{15, 18, 21, 36}[rng.IntN(4)]
		sizes = append(sizes, [4]int{1 + rng.IntN(5), 200 + rng.IntN(1000), 40 + rng.IntN(180), thick})
	}
	return sizes
}

// The bound of a job with more timber, or with a thinner saw, holds for the job with less: so plans that are proven never cost
// more. A bound that is too high, or a plan that is better than it can be, would be found here.
func TestMoreTimberAndAThinnerSawNeverCostMore(t *testing.T) {
	const base = machines + "timber:\n  - {thickness: 25 mm, width: 140 mm, species: eastern white pine, lengths: [2000 mm, 3000 mm], price: 4, per: metre}\n  - {thickness: 40 mm, width: 185 mm, species: eastern white pine, lengths: [2400 mm], price: 9, per: metre}\n"
	const hand = "boards:\n  - {name: H, species: eastern white pine, thickness: 25 mm, width: 150 mm, length: 1500 mm, defects: [{kind: knot, from: 500 mm, to: 560 mm, left: 20 mm, right: 80 mm}]}\noffcuts:\n  - {name: K, species: eastern white pine, thickness: 39.8 mm, width: 90 mm, length: 800 mm}\n"
	rng := rand.New(rand.NewPCG(5, 25))
	rounds, proven := 12, 0
	if testing.Short() {
		rounds = 5
	}
	for range rounds {
		sizes := randomJob(rng)
		a := parts(sizes...)
		less := Make(context.Background(), a, yard(t, base), 1)
		if len(less.Findings) > 0 {
			continue
		}
		recount(t, a, yard(t, base), 1, less)
		for name, shop := range map[string]string{"a board and an offcut on hand": base + hand, "other timber": base + more[rng.IntN(len(more))], "all": base + strings.Join(more, "") + hand,
			"a thinner saw": strings.Replace(base, "tools:", "note: thin\ntools:", 1)} {
			s := yard(t, shop)
			if name == "a thinner saw" {
				s.Habits.Kerf = 12 * mm / 10
			}
			p := Make(context.Background(), a, s, 1)
			recount(t, a, s, 1, p)
			short := MakeWith(context.Background(), a, s, 1, Options{Quick: true})
			recount(t, a, s, 1, short)
			if len(short.Findings) == 0 && short.Counted < p.Counted-p.AnyGap {
				t.Errorf("%v with %s: the quick plan comes to %v, less than the bound %v", sizes, name, short.Counted, p.Counted-p.AnyGap)
			}
			if len(p.Findings) > 0 {
				t.Errorf("%v with %s: %+v", sizes, name, p.Findings)
			}
			if p.Counted-p.AnyGap > less.Counted {
				t.Errorf("%v with %s: no plan is said to come to less than %v, but without it one comes to %v", sizes, name, p.Counted-p.AnyGap, less.Counted)
			}
			if p.AnyGap == 0 {
				proven++
				if p.Counted > less.Counted {
					t.Errorf("%v with %s: %v, without %v", sizes, name, p.Counted, less.Counted)
				}
			}
		}
	}
	t.Logf("%d plans proven with any ways", proven)
}

func TestTheStripsOfAPartComeFromOneBoardWhereTheBoardsAllow(t *testing.T) {
	// Every board holds five strips of 525 mm (2660 mm): two parts of two strips and one strip over. Ten parts need 20 strips, four boards:
	// eight parts are kept together, two are made of the four strips over.
	s := yard(t, "timber:\n  - {thickness: 25 mm, width: 72 mm, species: eastern white pine, pieces: [{length: 2700 mm, price: 9}]}\n")
	a := parts([4]int{10, 500, 66, 40})
	p := Make(context.Background(), a, s, 1)
	recount(t, a, s, 1, p)
	if len(p.Boards) != 4 || !strings.HasPrefix(p.Kept, "8 of 10 glued-up parts have all their pieces from one board") {
		t.Errorf("%d boards, %q", len(p.Boards), p.Kept)
	}
}

func TestSetsOfAClassArePlannedAtOnce(t *testing.T) {
	s := yard(t, machines+`
timber:
  - {size: 1x4, species: eastern white pine, lengths: [6 ft, 8 ft, 10 ft, 12 ft], price: 0.94, per: foot}
  - {size: 1x6, species: eastern white pine, lengths: [6 ft, 8 ft, 10 ft, 12 ft], price: 1.45, per: foot}
  - {size: 5/4x4, species: eastern white pine, lengths: [6 ft, 8 ft, 10 ft], price: 1.48, per: foot}
  - {size: 5/4x6, species: eastern white pine, lengths: [6 ft, 8 ft, 10 ft, 12 ft], price: 2.28, per: foot}
  - {size: 2x6, species: eastern white pine, pieces: [{length: 8 ft, price: 12.40}, {length: 12 ft, price: 19.20}]}
`)
	a := parts([4]int{4, 478, 54, 54}, [4]int{2, 712, 110, 23}, [4]int{2, 372, 110, 23}, [4]int{2, 712, 60, 23}, [4]int{2, 372, 60, 23}, [4]int{1, 900, 560, 22})
	sets := []int{24, 200}
	if testing.Short() {
		sets = sets[:1]
	}
	for _, copies := range sets {
		calls := 0
		p := MakeWith(context.Background(), a, s, copies, Options{Progress: func(int, unit.Money) { calls++ }})
		recount(t, a, s, copies, p)
		n := 0
		for i, g := range p.Groups {
			n += len(g.Parts) * p.Ways[i].Pieces * copies
		}
		if len(p.Findings) > 0 || calls == 0 || float64(p.Gap) > 0.005*float64(p.Cost) {
			t.Errorf("%d pieces: %+v, gap %v of %v, %d reports", n, p.Findings, p.Gap, p.Cost, calls)
		}
		t.Logf("%d pieces on %d boards, gap %v of %v", n, len(p.Boards), p.Gap, p.Cost)
	}
}

func TestFindingsNameThePartTheBlankAndTheLargestStock(t *testing.T) {
	const short = "timber:\n  - {thickness: 25 mm, width: 140 mm, species: eastern white pine, lengths: [2400 mm], price: 3, per: metre}\n"
	cases := map[string]struct {
		timber string
		part   [4]int
		says   []string
		advice string
	}{
		"longer than any board":  {short, [4]int{1, 2390, 60, 20}, []string{"part A1", "2415 mm × 66 mm", "the longest is 2400 mm × 140 mm, less 20 mm at each end"}, "scarf"},
		"thicker than any board": {short, [4]int{1, 500, 200, 160}, []string{"part A1", "500 mm × 200 mm × 160 mm finished", "525 mm × 206 mm off the saw", "the thickest timber is 25 mm, the widest board 140 mm"}, "thicker or wider"},
		"nothing of the species": {"timber:\n  - {thickness: 25 mm, width: 140 mm, species: white oak, lengths: [2400 mm], price: 3, per: metre}\n", [4]int{1, 500, 60, 20}, []string{"part A1", "no timber of that species"}, "species"},
	}
	for name, c := range cases {
		p := Make(context.Background(), parts(c.part), yard(t, c.timber), 1)
		if len(p.Findings) != 1 {
			t.Errorf("%s: %+v", name, p.Findings)
			continue
		}
		f := p.Findings[0]
		for _, want := range c.says {
			if !strings.Contains(f.Where+": "+f.What, want) {
				t.Errorf("%s: %q does not say %q", name, f.What, want)
			}
		}
		if !strings.Contains(f.Advice, c.advice) {
			t.Errorf("%s: advice %q", name, f.Advice)
		}
	}
}

func TestTimberWithoutAPriceIsSaid(t *testing.T) {
	p := Make(context.Background(), parts([4]int{4, 500, 60, 20}), yard(t, "timber:\n  - {thickness: 25 mm, width: 140 mm, species: eastern white pine, lengths: [2400 mm]}\n"), 1)
	if len(p.Notes) != 1 || !strings.Contains(p.Notes[0], "no price for 25 x 140 mm") {
		t.Errorf("%q", p.Notes)
	}
}

func TestPricedTimberIsNotBeatenByTimberWithoutAPrice(t *testing.T) {
	// The unpriced board is three times as thick: it would need three times the wood.
	s := yard(t, machines+"timber:\n  - {thickness: 25 mm, width: 140 mm, species: eastern white pine, lengths: [2400 mm], price: 3, per: metre}\n  - {thickness: 75 mm, width: 140 mm, species: eastern white pine, lengths: [2400 mm]}\n")
	p := Make(context.Background(), parts([4]int{4, 500, 60, 20}), s, 1)
	if len(p.Buy) != 1 || !p.Buy[0].Priced {
		t.Errorf("%+v", p.Buy)
	}
}

func TestKnottierBoardsThanThePieceIsReckonedWithAreSaid(t *testing.T) {
	s := yard(t, "timber:\n  - {thickness: 25 mm, width: 140 mm, species: eastern white pine, condition: poor, lengths: [2400 mm], price: 3, per: metre}\n")
	a := parts([4]int{1, 500, 60, 20})
	a.Parts[0].Condition = "small tight knots"
	p := Make(context.Background(), a, s, 1)
	if len(p.Notes) != 1 || !strings.Contains(p.Notes[0], "25 x 140 mm (poor)") {
		t.Errorf("%q", p.Notes)
	}
}

func TestWhatStaysOverIsValuedAtHalfThePriceByArea(t *testing.T) {
	s := yard(t, "timber:\n  - {thickness: 25 mm, width: 100 mm, species: eastern white pine, pieces: [{length: 2000 mm, price: 10}]}\n")
	p := Make(context.Background(), parts([4]int{1, 975, 100, 25}), s, 1) // used as sold: 1000 mm rough
	// 2000 less trim, the piece, a kerf and trim: 20 + 1000 + 3 + 20 leave 957 mm; 10 for 2000 mm are 4.785, half of it 2.39.
	if len(p.Rest) != 1 || p.Rest[0].Length != 957*mm || p.Rest[0].Width != 100*mm || p.Worth != 239 {
		t.Errorf("%+v, worth %v", p.Rest, p.Worth)
	}
}
