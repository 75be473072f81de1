package working

import "testing"

func TestFiguresPrintsFourSignificantOnes(t *testing.T) {
	for x, want := range map[float64]string{0: "0", 3.14159: "3.142", 1234567: "1234567", 0.00123456: "0.001235", 250: "250", -0.5: "-0.5", 1e9: "1e+09"} {
		if got := Figures(x); got != want {
			t.Errorf("%v: got %q, want %q", x, got, want)
		}
	}
}

func TestValuesPrintSymbolNumberAndUnit(t *testing.T) {
	if got := (Value{Symbol: "W", Number: 300, Unit: "mm"}).String(); got != "W = 300 mm" {
		t.Error(got)
	}
	if got := (Value{Symbol: "glue", Text: "PVA"}).String(); got != "glue = PVA" {
		t.Error(got)
	}
}
