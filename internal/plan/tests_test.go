package plan

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"longgrain/internal/check/testlog"
	"longgrain/internal/design/joint"
)

// broken makes n tests of dowels in eastern white pine that bore so many times what the book says, two a day.
func broken(t *testing.T, times float64, n int) []testlog.Test {
	t.Helper()
	const head = "joint,species,count,lever,direction,load,tested,sizes.rail width,sizes.rail thickness,sizes.diameter,sizes.depth in rail,sizes.depth in leg,sizes.spacing\n"
	const row = "dowels,eastern white pine,2,300 mm,open,450 N,day 1,89 mm,19 mm,8 mm,20 mm,20 mm,50 mm\n"
	tests, problems := testlog.Read("log.csv", []byte(head+strings.Repeat(row, n)))
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	book, missing := testlog.Forecast(tests[0])
	if len(missing) > 0 {
		t.Fatal(missing)
	}
	for i := range tests {
		tests[i].Load.SI = book * times
		tests[i].Tested = strings.Repeat("x", 1+i/2)
	}
	return tests
}

// strengths returns every candidate's resistance against bending, by its name and group.
func strengths(p Plan) map[string]joint.Resistance {
	out := map[string]joint.Resistance{}
	for _, g := range p.Joints {
		for _, r := range g.Choice.Ranked {
			out[p.groupName(g)+" "+r.Joint.Describe()+" "+r.Joint.Strength.BendU.Governs] = r.Joint.Strength.BendU
		}
	}
	return out
}

func TestTheShopsTestsShiftTheJointsOfTheirKindAlone(t *testing.T) {
	in := demo(t)
	book := made(t, in)
	in.Tests = broken(t, 1.4, 10)
	shop := made(t, in)
	consistent(t, shop)
	factor := shop.Tests.Kinds[0].Factor
	if len(shop.Tests.Kinds) != 1 || factor < 1.2 || factor > 1.4 {
		t.Fatalf("%+v", shop.Tests)
	}
	shifted, same := 0, 0
	before := strengths(book)
	for name, r := range strengths(shop) {
		was, ok := before[name]
		switch {
		case !ok: // another limit governs now
		case strings.Contains(name, "dowel") && r.Governs != joint.RailItself:
			shifted++
			if r.Shop == nil || !strings.HasPrefix(r.From, "shop, 10 tests in 5 batches") || r.Shop.BookLower5 != was.Lower5 || r.Lower5 <= was.Lower5 {
				t.Errorf("%s: %+v, the book %+v", name, r, was)
			}
			if got := r.Mean / was.Mean; math.Abs(got-shop.Tests.Kinds[0].Mean) > 1e-9 {
				t.Errorf("%s: mean times %v", name, got)
			}
		case !strings.Contains(name, "dowel"):
			same++
			if r.Shop != nil || r.From != joint.Book || r.Lower5 != was.Lower5 {
				t.Errorf("%s: shifted by tests of dowels: %+v", name, r)
			}
		}
	}
	if shifted < 10 || same < 10 {
		t.Errorf("%d shifted, %d the same", shifted, same)
	}
}

// Weak joints in the shop's own rig must cost the piece its reserve, wherever the joint and not the rail decides.
func TestWeakTestsLowerTheReserve(t *testing.T) {
	in := demo(t)
	reserve := func(times float64) float64 {
		in.Tests = broken(t, times, 20)
		p := made(t, in)
		least := math.Inf(1)
		for _, g := range p.Joints {
			for _, r := range g.Choice.Ranked {
				if r.Joint.Kind == joint.Dowels {
					least = min(least, float64(r.Reserve))
				}
			}
		}
		return least
	}
	weak, strong := reserve(0.5), reserve(1)
	if weak >= strong*0.85 {
		t.Errorf("least reserve of dowels %v with weak tests, %v with those of the book", weak, strong)
	}
}

func TestTheJSONSaysBookOrShopForEveryStrength(t *testing.T) {
	in := demo(t)
	in.Tests = broken(t, 1.2, 4)
	in.Tests = append(in.Tests, testlog.Test{Joint: "dowels", Species: "pine", Load: testlog.Typed{Text: "5 N", SI: 5}})
	data, err := json.Marshal(made(t, in))
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{`"from":"book"`, `"from":"shop, 4 tests in 2 batches"`, `"bookLower5":`, `"unused":[{"tests":[5],"joint":"dowels"`} {
		if !strings.Contains(string(data), want) {
			t.Errorf("the plan has no %s", want)
		}
	}
}
