package cost

import (
	"context"
	"os"
	"strings"
	"testing"

	"longgrain/internal/design/assembly"
	"longgrain/internal/design/joint"
	"longgrain/internal/design/pattern"
	"longgrain/internal/design/piece"
	"longgrain/internal/ground/unit"
	"longgrain/internal/trade/coating"
	"longgrain/internal/trade/hardware"
	"longgrain/internal/trade/shop"
	"longgrain/internal/work/cutting"
	"longgrain/internal/work/finishing"
	"longgrain/internal/work/glueup"
	"longgrain/patterns"
)

func read(t testing.TB, name string) string {
	t.Helper()
	text, err := os.ReadFile("../../../examples/" + name)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

func parseShop(t testing.TB, text string) shop.Shop {
	t.Helper()
	s, problems := shop.Parse("shop.yaml", []byte(text))
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	return s
}

// build places a piece and gives each of its sites the strongest hidden joint.
func build(t testing.TB, text string, s shop.Shop) (assembly.Assembly, []*joint.Joint) {
	t.Helper()
	p, problems := piece.Parse("piece.yaml", []byte(text))
	if len(problems) == 0 {
		p, _, problems = pattern.Expand(p, patterns.All())
	}
	var a assembly.Assembly
	if len(problems) == 0 {
		a, problems = assembly.Build(p)
	}
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	sites, err := joint.Sites(a, 9)
	if err != nil {
		t.Fatal(err)
	}
	means := joint.Means{Can: s.Can, Dowels: hardware.Dowels(), Mark: unit.Millimetre / 2}
	joints := make([]*joint.Joint, len(a.Connections))
	for _, site := range sites {
		r, ok := joint.Choose(site, means, nil, 1.3).Pick()
		for i, c := range a.Connections {
			if ok && c.Name == site.Connection.Name {
				joints[i] = &r.Joint
			}
		}
	}
	return a, joints
}

// input works out the chapters before the estimate for the demo.
func input(t testing.TB, s shop.Shop) Input {
	t.Helper()
	a, joints := build(t, read(t, "play-table.yaml"), s)
	air := s.Workshop.Weather[0]
	f, _ := coating.LookupSchedule("dye-and-oil")
	cut := cutting.Make(context.Background(), a, s, 1)
	return Input{Joints: joints, Cutting: cut, GlueUps: glueup.Make(a, joints, cut.Groups, cut.Ways, s, air), Finish: finishing.Make(a, s, f, air), Work: 20 * 60, Shop: s}
}

func TestEstimateAddsUp(t *testing.T) {
	in := input(t, parseShop(t, read(t, "shop.yaml")))
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
	s := parseShop(t, read(t, "shop.yaml"))
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
	s := parseShop(t, read(t, "shop.yaml"))
	s.Glues, s.Finishes, s.Dowels = nil, nil, nil
	p := Make(input(t, s))
	if p.Sums[Glue] != 0 || p.Sums[Finish] != 0 || p.Sums[Hardware] != 0 || len(p.Missing) < 4 {
		t.Errorf("sums %v, missing %v", p.Sums, p.Missing)
	}
}

func TestLabourIsHoursTimesRate(t *testing.T) {
	s := parseShop(t, strings.Replace(read(t, "shop.yaml"), "labour_rate: 0", "labour_rate: 12.5", 1))
	if p := Make(input(t, s)); p.Sums[Labour] != 25000 {
		t.Errorf("labour %v", p.Sums[Labour])
	}
}

func TestCopiesShareTins(t *testing.T) {
	s := parseShop(t, read(t, "shop.yaml"))
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
