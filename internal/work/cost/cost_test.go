package cost

import (
	"context"
	"strings"
	"testing"

	"longgrain/examples"
	"longgrain/internal/ground/unit"
	"longgrain/internal/trade/coating"
	"longgrain/internal/trade/shop"
	"longgrain/internal/trial"
	"longgrain/internal/work/cutting"
	"longgrain/internal/work/finishing"
	"longgrain/internal/work/glueup"
)

// input works out the chapters before the estimate for the demo.
func input(t testing.TB, s shop.Shop) Input {
	t.Helper()
	a := trial.Assembly(t, examples.PlayTable())
	joints := trial.Joints(t, a, trial.Means(s))
	air := s.Workshop.Weather[0]
	f, _ := coating.LookupSchedule("dye-and-oil")
	cut := cutting.Make(context.Background(), a, s, 1)
	return Input{Joints: joints, Cutting: cut, GlueUps: glueup.Make(a, joints, cut.Groups, cut.Ways, s, air), Finish: finishing.Make(a, s, f, air), Work: 20 * 60, Shop: s}
}

func TestEstimateAddsUp(t *testing.T) {
	in := input(t, trial.Shop(t, examples.Shop()))
	p := Make(in)
	var sum unit.Money
	for _, r := range p.Rows {
		if r.Source == "" || r.Priced && r.Total != unit.Cents(r.Quantity*float64(r.Each)) {
			t.Errorf("%+v", r)
		}
		sum += r.Total
	}
	var chapters unit.Money
	for _, c := range Chapters {
		chapters += p.Sums[c]
	}
	if sum != p.Total || chapters != p.Total || p.Sums[Timber] != in.Cutting.Cost {
		t.Errorf("rows %v, chapters %v, total %v; timber %v of %v", sum, chapters, p.Total, p.Sums[Timber], in.Cutting.Cost)
	}
	// One tin of oil at 38.00 and the dye: one or two tins at 14.00.
	if p.Sums[Finish] != unit.Money(3800+1400*in.Finish.Products[0].Tins) || p.Sums[Labour] != 0 || p.Hours != 20 {
		t.Errorf("finish %v, labour %v, %v hours", p.Sums[Finish], p.Sums[Labour], p.Hours)
	}
}

func TestDowelsTakeThePriceOfTheDrawer(t *testing.T) {
	s := trial.Shop(t, examples.Shop())
	each, priced, from := price("fluted dowel 10 mm × 40 mm", 30, s)
	if each != 12 || !priced || !strings.Contains(from, "in the drawer") {
		t.Errorf("%v %v %q", each, priced, from)
	}
	if _, _, from := price("fluted dowel 10 mm × 40 mm", 100, s); !strings.Contains(from, "buy 20") {
		t.Errorf("%q", from)
	}
	if each, priced, _ := price("pocket screw no. 8 × 32 mm, coarse thread", 8, s); each != 9 || !priced {
		t.Errorf("pocket screw %v %v", each, priced)
	}
	if _, priced, _ := price("biscuit no. 20", 8, s); priced {
		t.Error("a biscuit has a price from nowhere")
	}
}

func TestMissingPricesAreListedNotGuessed(t *testing.T) {
	s := trial.Shop(t, examples.Shop())
	s.Glues, s.Finishes, s.Dowels = nil, nil, nil
	p := Make(input(t, s))
	if p.Sums[Glue] != 0 || p.Sums[Finish] != 0 || p.Sums[Hardware] != 0 || len(p.Missing) < 4 {
		t.Errorf("sums %v, missing %v", p.Sums, p.Missing)
	}
}

func TestLabourIsHoursTimesRate(t *testing.T) {
	s := trial.Shop(t, strings.Replace(examples.Shop(), "labour_rate: 0", "labour_rate: 12.5", 1))
	if p := Make(input(t, s)); p.Sums[Labour] != 25000 {
		t.Errorf("labour %v", p.Sums[Labour])
	}
}

func TestCopiesShareTins(t *testing.T) {
	s := trial.Shop(t, examples.Shop())
	in := input(t, s)
	one := Make(in)
	in.Copies, in.Work = 3, 3*in.Work
	for i := range in.Finish.Products {
		in.Finish.Products[i].Litres *= 3
	}
	three := Make(in)
	if three.Sums[Finish] > 3*one.Sums[Finish] || three.Sums[Hardware] != 3*one.Sums[Hardware] || three.Hours != 3*one.Hours {
		t.Errorf("one %v, three %v", one.Sums, three.Sums)
	}
}

func TestNothingCostsNothing(t *testing.T) {
	p := Make(Input{})
	if p.Total != 0 || len(p.Missing) != 0 || len(p.Sums) != len(Chapters) {
		t.Errorf("%+v", p)
	}
}
