package lumber

import (
	"math"
	"testing"

	"longgrain/internal/ground/unit"
)

// Source: [ps-20] table 3.
func TestNominalNamesGiveDressedSizes(t *testing.T) {
	in := func(n, d int) unit.Length { return unit.Inch * unit.Length(n) / unit.Length(d) }
	for _, c := range []struct {
		name, proper     string
		thickness, width unit.Length
	}{
		{"1x3", "1x3", in(3, 4), in(5, 2)},
		{"1x6", "1x6", in(3, 4), in(11, 2)},
		{"1x10", "1x10", in(3, 4), in(37, 4)},
		{"2x2", "2x2", in(3, 2), in(3, 2)},
		{"2x4", "2x4", in(3, 2), in(7, 2)},
		{"2 X 6", "2x6", in(3, 2), in(11, 2)},
		{"5/4x6", "5/4x6", unit.Inch, in(11, 2)},
		{"1 1/4 × 6", "5/4x6", unit.Inch, in(11, 2)},
		{"6/4x4", "6/4x4", in(5, 4), in(7, 2)},
		{"4x4", "4x4", in(7, 2), in(7, 2)},
	} {
		s, ok := Nominal(c.name)
		if !ok || s.Thickness != c.thickness || s.Width != c.width || s.Name != c.proper {
			t.Errorf("%s: %+v %v", c.name, s, ok)
		}
		if s.Cite.Key != "ps-20" {
			t.Errorf("%s cites %v", c.name, s.Cite)
		}
	}
	for _, name := range []string{"", "1", "x", "1x", "1x6x8", "3/4x", "1x1000", "7x7 in", "-1x6", "1x6 mm"} {
		if s, ok := Nominal(name); ok {
			t.Errorf("%q was taken as %+v", name, s)
		}
	}
	for _, name := range NominalNames() {
		if s, ok := Nominal(name); !ok || s.Name != name {
			t.Errorf("common size %s: %+v %v", name, s, ok)
		}
	}
}

// Source: [ps-20], example of a 1x6 of 96 in.
func TestBoardFeetUseNominalSizes(t *testing.T) {
	s, _ := Nominal("1x6")
	if got := s.BoardFeet(96 * unit.Inch); math.Abs(got-4) > 1e-12 {
		t.Errorf("1x6 of 8 ft has %v board feet", got)
	}
	if got := BoardFeet(unit.Inch/2, 12*unit.Inch, 12*unit.Inch); math.Abs(got-1) > 1e-12 {
		t.Errorf("a thin board counts %v", got)
	}
}

func TestHardwoodQuarters(t *testing.T) {
	q, ok := LookupQuarter("4/4")
	if !ok || q.Rough != unit.Inch || q.PlanedTwoSides != unit.Inch*13/16 {
		t.Errorf("4/4: %+v", q)
	}
	if _, ok := LookupQuarter("9/4"); ok {
		t.Error("9/4 was found")
	}
}

func TestStockTables(t *testing.T) {
	for m, want := range map[Market]int{SoftwoodFeet: 8, SawnMetres: 10, PlanedMetres: 3} {
		l := StockLengths(m)
		if len(l.Of) != want || l.Cite.Key == "" {
			t.Errorf("%s: %d lengths, %v", m, len(l.Of), l.Cite)
		}
		for i := 1; i < len(l.Of); i++ {
			if l.Of[i] <= l.Of[i-1] {
				t.Errorf("%s: lengths do not rise", m)
			}
		}
	}
	for _, k := range []Kind{SawnPreferred, SawnCustomary, PlanedRounded, Planed} {
		if len(MetricSections(k)) == 0 {
			t.Errorf("no sections %s", k)
		}
	}
	if p := Panels(unit.Metric); len(p) != 34 || p[0].Lengths[0] != 800*unit.Millimetre {
		t.Errorf("%d metric panels", len(p))
	}
	if p := Panels(unit.Imperial); len(p) != 5 || p[0].Width != unit.Foot {
		t.Errorf("%d inch panels", len(p))
	}
}

func TestAllowedDeviationDependsOnSize(t *testing.T) {
	small, _ := AllowedDeviation("T1", 100*unit.Millimetre)
	large, _ := AllowedDeviation("T2", 101*unit.Millimetre)
	if small.Minus != unit.Millimetre || small.Plus != 3*unit.Millimetre || large.Minus != unit.MM(1.5) {
		t.Errorf("%+v %+v", small, large)
	}
	if _, ok := AllowedDeviation("T9", unit.Inch); ok {
		t.Error("class T9 was found")
	}
}

func FuzzNominal(f *testing.F) {
	for _, s := range []string{"1x6", "5/4 x 6", "1 1/2x4", "x", "1x6x"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, name string) {
		s, ok := Nominal(name)
		if ok && (s.Thickness <= 0 || s.Width <= 0) {
			t.Errorf("%q gives %+v", name, s)
		}
		if again, same := Nominal(s.Name); ok && (!same || again != s) {
			t.Errorf("%q is named %q, which is not the same", name, s.Name)
		}
	})
}
