package glueup

import (
	"context"
	"math"
	"slices"
	"strings"
	"testing"

	"longgrain/examples"
	"longgrain/internal/design/assembly"
	"longgrain/internal/design/joint"
	"longgrain/internal/ground/unit"
	"longgrain/internal/trade/adhesive"
	"longgrain/internal/trade/shop"
	"longgrain/internal/trial"
	"longgrain/internal/work/cutting"

	"github.com/google/go-cmp/cmp"
)

func makePlan(t testing.TB, text string, s shop.Shop) (assembly.Assembly, Plan) {
	t.Helper()
	a := trial.Assembly(t, text)
	joints := trial.Joints(t, a, trial.Means(s))
	cut := cutting.Make(context.Background(), a, s, 1)
	return a, Make(a, joints, cut.Groups, cut.Ways, s, s.Workshop.Weather[0])
}

func demo(t testing.TB) (assembly.Assembly, Plan) {
	t.Helper()
	return makePlan(t, examples.PlayTable(), trial.Shop(t, examples.Shop()))
}

// The worked example of docs/methods/glueup.md: a softwood edge of 900 x 40 mm under pipe clamps.
func TestClampCountsOfTheWorkedExample(t *testing.T) {
	mm := unit.Millimetre
	for _, c := range []struct {
		p     unit.MPa
		count int
	}{{0.85, 8}, {0.7, 7}} {
		if n := ForceCount(Force(c.p, 900*mm, 40*mm), 4000); n != c.count {
			t.Errorf("at %v MPa force asks for %d clamps, want %d", c.p, n, c.count)
		}
	}
	if n := ForceCount(Force(0.85, 900*mm, 40*mm), 1650); n != 19 {
		t.Errorf("parallel-jaw clamps: %d, want 19", n)
	}
	if n := SpacingCount(900*mm, 45*mm, 250*mm); n != 5 {
		t.Errorf("spacing asks for %d clamps, want 5", n)
	}
}

func TestClampCountsAtTheLimits(t *testing.T) {
	mm := unit.Millimetre
	for _, c := range []struct {
		length unit.Length
		want   int
	}{{0, 1}, {90 * mm, 1}, {91 * mm, 2}, {340 * mm, 2}, {341 * mm, 3}} {
		if n := SpacingCount(c.length, 45*mm, 250*mm); n != c.want {
			t.Errorf("%v mm: %d clamps, want %d", c.length.MM(), n, c.want)
		}
	}
	if ForceCount(0, 100) != 0 || ForceCount(4000, 4000) != 1 || ForceCount(4001, 4000) != 2 {
		t.Error("the count by force is wrong at its steps")
	}
	if CaulThickness(100*mm, 20*mm) != 30*mm || CaulThickness(40*mm, 20*mm) != 0 {
		t.Error("the thickness of battens is wrong")
	}
}

func TestPlayTableIsGluedLegsTopFramesAssembly(t *testing.T) {
	_, p := demo(t)
	var got []string
	for _, g := range p.GlueUps {
		got = append(got, g.Name)
	}
	want := []string{
		"laminate legs A1 and A2", "laminate legs A3 and A4", "glue the 7 staves of top F1",
		"glue the frame of legs A1 and A3 with apron C1, stretcher E1", "glue the frame of legs A2 and A4 with apron C2, stretcher E2",
		"assemble legs A1, A2, A3 and A4 with aprons B1 and B2, stretchers D1 and D2",
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Fatal(diff)
	}
	last := p.GlueUps[5]
	if last.Kind != Assembly || !slices.Equal(last.After, []int{4, 5}) || !slices.Equal(p.GlueUps[3].After, []int{1, 2}) || len(p.GlueUps[2].After) > 0 {
		t.Error("the glue-ups do not follow from each other")
	}
	legs := p.GlueUps[0]
	// All ten clamps on 54 x 503 mm: a little below the lowest published pressure, and said so.
	if legs.Stacked != 2 || legs.ClampCount() != 10 || legs.Enough || legs.Reached >= legs.Pressure.Low || legs.Reached < 0.65 {
		t.Errorf("legs: stacked %d, %d clamps, %.2f MPa", legs.Stacked, legs.ClampCount(), float64(legs.Reached))
	}
	// 45 min at 20 °C, 1.75 times as long at 14 °C.
	if math.Abs(float64(legs.ClampTime)-78.75) > 1e-9 || math.Abs(float64(legs.Scrape.Low)-105) > 1e-9 {
		t.Errorf("clamped for %v min, scraped after %v", legs.ClampTime, legs.Scrape.Low)
	}
	if p.Acclimatise != 10 || len(p.Loose) != 4 {
		t.Errorf("acclimatise %d days, %d connections without glue", p.Acclimatise, len(p.Loose))
	}
	// Legs of four strips from the rack, 0.36 m²; 0.13 m² of staves, 16 dowelled joints, 180 g/m², 1.3 for losses.
	if len(p.Use) != 1 || p.Use[0].Grams < 115 || p.Use[0].Grams > 150 {
		t.Errorf("glue: %+v", p.Use)
	}
}

func TestEveryGluedJointIsClosedOnce(t *testing.T) {
	a, p := demo(t)
	closed := make([]int, len(a.Connections))
	for _, g := range p.GlueUps {
		for _, i := range g.Connections {
			closed[i]++
		}
		for _, n := range g.After {
			if n >= g.Number {
				t.Errorf("%s waits for glue-up %d", g.Name, n)
			}
		}
		if g.Area <= 0 || g.Grams <= 0 || len(g.Instructions) == 0 || len(g.Working) == 0 {
			t.Errorf("%s lacks area, glue or words", g.Name)
		}
	}
	for i, c := range a.Connections {
		if want := 1; c.Purpose == assembly.Joint && closed[i] != want {
			t.Errorf("%s is closed %d times", c.Name, closed[i])
		}
	}
}

// with returns the demo shop with its list of clamps replaced.
func with(t testing.TB, clamps string) shop.Shop {
	t.Helper()
	text := examples.Shop()
	from := strings.Index(text, "clamps:")
	to := strings.Index(text, "# As sold at the yard")
	return trial.Shop(t, text[:from]+clamps+"\n"+text[to:])
}

func findings(p Plan) string {
	var out []string
	for _, f := range p.Findings {
		out = append(out, f.Where+": "+f.What+"; "+f.Advice)
	}
	return strings.Join(out, "\n")
}

func TestShopWithoutClampsIsAFinding(t *testing.T) {
	_, p := makePlan(t, examples.PlayTable(), with(t, "clamps: []"))
	if len(p.GlueUps) < 6 || !strings.Contains(findings(p), "the shop lists no clamps that press") {
		t.Errorf("%d glue-ups, findings:\n%s", len(p.GlueUps), findings(p))
	}
	for _, g := range p.GlueUps {
		if g.Enough || g.ClampCount() != 0 {
			t.Errorf("%s: enough %v with %d clamps", g.Name, g.Enough, g.ClampCount())
		}
	}
}

func TestClampsTooShortAreAFinding(t *testing.T) {
	_, p := makePlan(t, examples.PlayTable(), with(t, "clamps:\n  - {kind: heavy F-style clamp, opening: 600 mm, count: 12}\n"))
	text := findings(p)
	if !strings.Contains(text, "no clamp of the shop serves") || !strings.Contains(text, "the longest clamp opens 600 mm") {
		t.Errorf("findings:\n%s", text)
	}
	if g := p.GlueUps[0]; !g.Enough || g.Stacked != 2 && g.Sets > 2 {
		t.Errorf("the legs fit the clamps: %+v", g)
	}
}

func TestReachTooShortIsAFinding(t *testing.T) {
	s := with(t, "clamps:\n  - {kind: sash clamp, opening: 1500 mm, count: 20, reach: 5 mm}\n")
	_, p := makePlan(t, examples.PlayTable(), s)
	text := findings(p)
	if !strings.Contains(text, "no clamp of the shop serves") || !strings.Contains(text, "reach 30 mm") {
		t.Errorf("findings:\n%s", text)
	}
	for _, g := range p.GlueUps {
		if g.Kind == Lamination && (g.Enough || g.ClampCount() > 0) {
			t.Errorf("%s uses %d clamps that do not reach", g.Name, g.ClampCount())
		}
	}
}

func TestBoardsFarApartInMoistureAreACaution(t *testing.T) {
	s := trial.Shop(t, examples.Shop())
	said := func(s shop.Shop, words string) bool {
		_, p := makePlan(t, examples.PlayTable(), s)
		return strings.Contains(strings.Join(p.Cautions, "\n"), words)
	}
	if !said(s, "within 2 points of each other") {
		t.Error("boards at 9 % and timber at 12 % are glued without a word")
	}
	even := s
	even.Boards, even.Offcuts = nil, nil
	for i := range even.Timber {
		even.Timber[i].Moisture = s.Habits.TargetMoisture
	}
	if said(even, "points of each other") || said(even, "drier than") {
		t.Error("boards of one moisture are told apart")
	}
	for i := range even.Timber {
		even.Timber[i].Moisture = s.Habits.TargetMoisture - 3
	}
	if !said(even, "drier than") {
		t.Error("boards much drier than the place of use are used without a word")
	}
}

func TestManyClampsGlueAllLegsAtOnce(t *testing.T) {
	s := with(t, "clamps:\n  - {kind: sash clamp, opening: 1500 mm, count: 30}\n")
	_, p := makePlan(t, examples.PlayTable(), s)
	// Time is the limit now: four legs in clamps of their own take more than the eight minutes.
	if g := p.GlueUps[0]; !g.Enough || g.Closing > g.Allowed {
		t.Errorf("legs: %+v", g)
	}
	if len(p.Findings) > 0 {
		t.Errorf("findings:\n%s", findings(p))
	}
}

func TestMoreClampsNeverMakeMoreSetsOrLessPressure(t *testing.T) {
	a := trial.Assembly(t, examples.PlayTable())
	joints := trial.Joints(t, a, trial.Everything)
	s := with(t, "clamps:\n  - {kind: pipe clamp, opening: 1200 mm, count: 1}\n")
	cut := cutting.Make(context.Background(), a, s, 1)
	sets, reached := 99, unit.MPa(0)
	for count := 1; count <= 24; count++ {
		s.Clamps[0].Count = count
		p := Make(a, joints, cut.Groups, cut.Ways, s, s.Workshop.Weather[0])
		if p.GlueUps[0].Sets > sets {
			t.Errorf("%d clamps make %d sets of legs, fewer made %d", count, p.GlueUps[0].Sets, sets)
		}
		sets = p.GlueUps[0].Sets
		for _, g := range p.GlueUps {
			if g.Kind == Panel && g.Sets == 1 {
				if g.Reached < reached {
					t.Errorf("%d clamps press the top less than fewer", count)
				}
				reached = g.Reached
			}
		}
	}
}

func TestLongClampsAskForTwoPeople(t *testing.T) {
	_, p := demo(t)
	for _, g := range p.GlueUps {
		long := slices.ContainsFunc(g.Clamps, func(u ClampUse) bool { return u.Name == "pipe clamp" }) // the shop's open 1200 mm
		warned := slices.ContainsFunc(g.Cautions, func(c string) bool { return strings.Contains(c, "Two people") })
		if long != warned {
			t.Errorf("%s: long clamps %v, warned %v", g.Name, long, warned)
		}
	}
}

func TestColdShopIsAFinding(t *testing.T) {
	s := trial.Shop(t, examples.Shop())
	a := trial.Assembly(t, examples.PlayTable())
	joints := trial.Joints(t, a, trial.Means(s))
	cut := cutting.Make(context.Background(), a, s, 1)
	for _, c := range []struct {
		temperature unit.Celsius
		finding     bool
		caution     bool
	}{{20, false, false}, {10, false, true}, {5, true, false}} {
		p := Make(a, joints, cut.Groups, cut.Ways, s, shop.Weather{Name: "winter", Humidity: 45, Temperature: c.temperature})
		if got := strings.Contains(findings(p), "chalk"); got != c.finding {
			t.Errorf("%v °C: finding %v", c.temperature, got)
		}
		if got := slices.ContainsFunc(p.Cautions, func(s string) bool { return strings.Contains(s, "powdery") }); got != c.caution {
			t.Errorf("%v °C: caution %v", c.temperature, got)
		}
	}
}

func TestGlueWithoutFiguresIsPlannedAndSaid(t *testing.T) {
	s := trial.Shop(t, strings.ReplaceAll(examples.Shop(), "glue: yellow PVA", "glue: liquid hide glue"))
	_, p := makePlan(t, examples.PlayTable(), s)
	g := p.GlueUps[0]
	if g.Grams != 0 || g.ClampTime != 24*60 || !strings.Contains(strings.Join(g.Cautions, " "), "no source gives the clamp time") {
		t.Errorf("%v g, %v min, %v", g.Grams, g.ClampTime, g.Cautions)
	}
	if !strings.Contains(findings(p), "not on the shop's list of glues") {
		t.Errorf("findings:\n%s", findings(p))
	}
}

func TestShopWithoutGlueIsAFinding(t *testing.T) {
	s := trial.Shop(t, examples.Shop())
	s.Glues, s.Habits.Glue = nil, adhesive.Kind{}
	_, p := makePlan(t, examples.PlayTable(), s)
	if len(p.GlueUps) == 0 || !strings.Contains(findings(p), "no glue is named") {
		t.Errorf("findings:\n%s", findings(p))
	}
}

func TestWidePanelIsGluedInGroupsOfStaves(t *testing.T) {
	text := strings.NewReplacer("length: 900 mm", "length: 2000 mm", "width: 560 mm", "width: 1150 mm").Replace(examples.PlayTable())
	s := with(t, "clamps:\n  - {kind: sash clamp, opening: 1800 mm, count: 16}\n")
	s.Glues = nil
	_, p := makePlan(t, text, s)
	staves, joined := 0, false
	for _, g := range p.GlueUps {
		if g.Kind != Panel {
			continue
		}
		staves++
		joined = joined || strings.HasPrefix(g.Name, "join ") && len(g.After) > 1
		if g.Closing > g.Allowed {
			t.Errorf("%s takes %.1f of %.1f min", g.Name, float64(g.Closing), float64(g.Allowed))
		}
	}
	if staves < 3 || !joined {
		t.Errorf("%d panel glue-ups, joined %v", staves, joined)
	}
}

// lid is written part by part: two boards glued edge to edge, and a foot that has no joint when there are no tools for one.
const lid = `longgrain: 1
name: Lid
parts:
  - {name: left half, length: 600 mm, width: 150 mm, thickness: 20 mm, at: [0 mm, 0 mm, 0 mm]}
  - {name: right half, length: 600 mm, width: 150 mm, thickness: 20 mm, at: [0 mm, 150 mm, 0 mm]}
  - {name: foot, length: 200 mm, width: 60 mm, thickness: 60 mm, at: [100 mm, 100 mm, -200 mm], along: z, across: x}
connections:
  - {between: [left half, right half]}
  - {between: [foot, left half]}
`

func TestPiecesWrittenPartByPartAreGluedByWhatMeets(t *testing.T) {
	s := trial.Shop(t, examples.Shop())
	s.Tools = nil
	_, p := makePlan(t, lid, s)
	var last GlueUp
	for _, g := range p.GlueUps {
		if g.Kind == Assembly {
			last = g
		}
	}
	// 600 x 20 mm at 0.85 MPa are 10.2 kN.
	if len(last.Parts) != 2 || math.Abs(float64(last.Presses[0].Force)-10200) > 1 || last.Area != unit.Area(600*unit.Millimetre, 20*unit.Millimetre) {
		t.Errorf("%+v", last)
	}
	if !strings.Contains(findings(p), "no joint is chosen") {
		t.Errorf("findings:\n%s", findings(p))
	}
}

func TestEmptyPieceHasNoGlueUps(t *testing.T) {
	s := trial.Shop(t, examples.Shop())
	if p := Make(assembly.Assembly{}, nil, nil, nil, s, s.Workshop.Weather[0]); len(p.GlueUps) > 0 || len(p.Findings) > 0 {
		t.Errorf("%+v", p)
	}
}

func TestSlicesOfAnotherPiecePanic(t *testing.T) {
	defer func() {
		if recover() == nil {
			t.Error("accepted")
		}
	}()
	Make(assembly.Assembly{}, make([]*joint.Joint, 1), nil, nil, shop.Shop{}, shop.Weather{})
}

func BenchmarkMake(b *testing.B) {
	s := trial.Shop(b, examples.Shop())
	a := trial.Assembly(b, examples.PlayTable())
	joints := trial.Joints(b, a, trial.Means(s))
	cut := cutting.Make(context.Background(), a, s, 1)
	for b.Loop() {
		Make(a, joints, cut.Groups, cut.Ways, s, s.Workshop.Weather[0])
	}
}
