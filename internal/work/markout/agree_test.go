package markout_test

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"longgrain/internal/design/assembly"
	"longgrain/internal/design/joint"
	"longgrain/internal/design/pattern"
	"longgrain/internal/design/piece"
	"longgrain/internal/ground/unit"
	"longgrain/internal/trade/shop"
	"longgrain/internal/trial"
	"longgrain/internal/work/markout"
	"longgrain/patterns"
)

// randomPiece is a table of random sizes with a random joint at every place, or false where the pattern turns the sizes down.
func randomPiece(t *testing.T, r *rand.Rand) (assembly.Assembly, unit.Length, bool) {
	text, smallest := table(r)
	p, problems := piece.Parse("t.yaml", []byte(text))
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	if p, _, problems = pattern.Expand(p, patterns.All()); len(problems) > 0 {
		return assembly.Assembly{}, 0, false
	}
	a, problems := assembly.Build(p)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	sites, err := joint.Sites(a, trial.DryWood)
	if err != nil {
		t.Fatal(err)
	}
	means := trial.Everything
	means.Mark = smallest
	added := map[int][]assembly.Feature{}
	for _, s := range sites {
		possible := joint.Possible(s, means)
		if len(possible) == 0 {
			continue
		}
		j := possible[r.IntN(len(possible))]
		onA, onB := joint.Cut(s, j)
		added[s.Connection.A.Part] = append(added[s.Connection.A.Part], onA...)
		added[s.Connection.B.Part] = append(added[s.Connection.B.Part], onB...)
	}
	return a.WithFeatures(added), smallest, true
}

// Tables with joints of every kind: the two mark-outs of every connection, followed in the wood, come to the same place but for
// the rounding of the set-back, which is the same for all cuts of the joint.
func TestEveryMateOfRandomPiecesAgrees(t *testing.T) {
	pieces := 1000
	if testing.Short() {
		pieces = 60
	}
	r := rand.New(rand.NewPCG(8, 15))
	made, mates := 0, 0
	kinds := map[assembly.FeatureKind]int{}
	for made < pieces {
		a, smallest, ok := randomPiece(t, r)
		if !ok {
			continue
		}
		made++
		m := markout.Make(a, markout.Options{Smallest: smallest})
		moved := map[[2]int]unit.Length{}
		for _, mate := range m.Mates {
			mates++
			onA := m.Sheets[mate.A.Part].Marks[mate.A.Mark]
			kinds[onA.Kind]++
			for i, d := range mate.Directions {
				if d.Marked != 0 || d.Designed.Abs() > 1000*unit.Nanometre || d.Moved().Abs() > smallest/2+1 {
					t.Fatalf("%s: %+v\n%+v", onA.For, d, a)
				}
				key := [2]int{mate.Connection, i}
				if old, seen := moved[key]; seen && (old-d.Moved()).Abs() > 1 {
					t.Fatalf("%s: one cut moves by %v, another by %v", onA.For, old, d.Moved())
				}
				moved[key] = d.Moved()
			}
			checkInTheWorld(t, a, m, mate)
			if t.Failed() {
				t.FailNow()
			}
		}
	}
	t.Logf("%d pieces, %d mates agree: %v", made, mates, kinds)
	if mates < 10*made || len(kinds) < 3 {
		t.Errorf("%d mates, %v", mates, kinds)
	}
}

// Marking done over and over with errors drawn at random within their half widths: the parts never stand further out of line
// than at worst, and the spread is that of the root of the sum of squares. Errors are spread evenly, so the root of the mean square
// of each is its half width over √3.
func TestErrorsDrawnAtRandomKeepTheirLimits(t *testing.T) {
	j := markout.Make(playTable(t), markout.Options{}).Joints[0]
	rng := rand.New(rand.NewPCG(2, 3))
	off := func(e float64) float64 { return e * (2*rng.Float64() - 1) }
	// The rule, along: the distance read on two parts, a line on each, a drill set on each, and the run-out of two bores of 30 mm.
	one := func() float64 {
		sum := 0.0
		for range 2 {
			sum += off(0.25) + off(0.2) + off(0.3) + off(0.01*30/2)
		}
		return sum
	}
	const n = 200000
	var squares, misfits, worst, worstMisfit float64
	for range n {
		a, b := one(), one()
		squares += a * a
		misfits += (a - b) * (a - b)
		worst, worstMisfit = max(worst, math.Abs(a)), max(worstMisfit, math.Abs(a-b))
	}
	s := j.Ways[0].Along
	near := func(got, want float64) bool { return math.Abs(got-want) < 0.01*want }
	if worst > s.Shift.Worst || worstMisfit > s.Fit.Worst {
		t.Errorf("drawn %v and %v, at worst %v and %v", worst, worstMisfit, s.Shift.Worst, s.Fit.Worst)
	}
	if !near(math.Sqrt(squares/n)*math.Sqrt(3), s.Shift.Likely) || !near(math.Sqrt(misfits/n)*math.Sqrt(3), s.Fit.Likely) {
		t.Errorf("drawn %v and %v, likely %v and %v", math.Sqrt(squares/n*3), math.Sqrt(misfits/n*3), s.Shift.Likely, s.Fit.Likely)
	}
}

func TestTheShopFileGivesTheErrors(t *testing.T) {
	s := trial.Shop(t, "longgrain-shop: 1\nname: T\nmarking: {line: 0.05 mm, start: 0.1 mm, wander: 0.4 mm, play: 0.8 mm}\n")
	j := markout.Make(playTable(t), markout.Options{Marking: s.Marking}).Joints[0]
	// By hand: 2·0.25 + 2·0.05 + 2·0.1 + 2·0.004·15.
	if got := j.Ways[0].Along.Shift.Worst; math.Abs(got-0.92) > 1e-9 || j.Play != 0.8 {
		t.Errorf("%v, play %v", got, j.Play)
	}
	if most := j.Ways[0].Along.Most; most != "Distance read to the nearest mark" {
		t.Error(most)
	}
	j.Play = 3
	if got := j.Closes(j.Ways[0]); got != "surely" {
		t.Errorf("with 3 mm of play it closes %s", got)
	}
	j.Play = 0.8
	if got := j.Closes(j.Ways[0]); got != "likely" {
		t.Errorf("with 0.8 mm of play it closes %s", got)
	}
	if strict := markout.Make(playTable(t), markout.Options{}).Joints[0]; strict.Closes(strict.Ways[0]) != "not surely" {
		t.Error("a rule and a pencil close everything")
	}
	if d, ok := s.DefaultOf("marking.seat"); !ok || d.Cite.Confidence != "assumed" || !s.Marking.Line.Given {
		t.Errorf("%+v", d)
	}
	if unknown := shop.Unknown().Marking; unknown.Seat.Value != unit.Millimetre/10 {
		t.Errorf("%+v", unknown.Seat)
	}
}

func TestOneGaugeSettingForTenonsAndMortises(t *testing.T) {
	a := trial.Assembly(t, "longgrain: 1\nname: T\npattern: leg-and-apron-table\nsizes: {leg: 60 mm, apron_thickness: 24 mm, apron_width: 90 mm, set_back: 5 mm}\n")
	sites, err := joint.Sites(a, trial.DryWood)
	if err != nil {
		t.Fatal(err)
	}
	added := map[int][]assembly.Feature{}
	for _, s := range sites {
		for _, j := range joint.Possible(s, trial.Everything) {
			if j.Kind == joint.Tenon && j.Sizes.Thickness == 8*mm {
				onA, onB := joint.Cut(s, j)
				added[s.Connection.A.Part] = append(added[s.Connection.A.Part], onA...)
				added[s.Connection.B.Part] = append(added[s.Connection.B.Part], onB...)
				break
			}
		}
	}
	m := markout.Make(a.WithFeatures(added), markout.Options{})
	if len(m.Gauges) != 1 || m.Gauges[0].Pins != 8*mm {
		t.Fatalf("%+v", m.Gauges)
	}
	g := m.Gauges[0]
	// On the apron the tenon stands in the middle, 24/2 − 8/2 = 8 mm from its face; on the leg 5 mm deeper.
	near := map[assembly.FeatureKind]unit.Length{}
	for _, r := range g.Rows {
		near[r.Kind] = r.Near
		if r.Kind == assembly.Mortise && r.Deep <= m.Sheets[r.Cuts[0].Part].Marks[0].Enters {
			t.Errorf("no room for glue: %+v", r)
		}
	}
	if near[assembly.Tenon] != 8*mm || near[assembly.Mortise] != 13*mm {
		t.Errorf("%+v", g.Rows)
	}
	if s := g.Sentence(unit.Metric); !strings.Contains(s, "Pins 8 mm apart") || !strings.Contains(s, "near pin at 8 mm: tenons on both ends of all four aprons, shoulder line") {
		t.Error(s)
	}
}
