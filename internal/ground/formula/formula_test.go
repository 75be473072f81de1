package formula

import (
	"math"
	"strings"
	"testing"

	"longgrain/internal/ground/unit"
)

func names(values map[string]Value) func(string) (Value, bool) {
	return func(name string) (Value, bool) { v, ok := values[name]; return v, ok }
}

func mm(x float64) Value {
	return Length(unit.Measure{Length: unit.Length(math.Round(x * 1e6)), Family: unit.Metric})
}

func TestExpressionsOfLengthsAreWorkedOut(t *testing.T) {
	known := names(map[string]Value{"leg": mm(45), "count": Number(4), "in_between": mm(10)})
	for text, want := range map[string]string{
		"900 mm":                             "900 mm",
		"900 mm - 2 * leg":                   "810 mm",
		"(900 mm - 2*leg) / (count - 1)":     "270 mm",
		`3/4 in + 1 1/2"`:                    "2 1/4 in",
		`2' 3" - 1"`:                         "26 in",
		"1 in + 0.6 mm":                      "1.0236",
		"leg / 3 mm":                         "15",
		"2 * 3 + 4":                          "10",
		"-leg + 50 mm":                       "5 mm",
		"min(leg, 30 mm, 2 in)":              "30 mm",
		"max(leg, 2 in) - leg":               "5.8 mm",
		"900 mm/2":                           "450 mm",
		"½ in * 2":                           "1 in",
		"- - leg":                            "45 mm",
		"in_between * 2":                     "20 mm",
		"0.5*leg":                            "22.5 mm",
		"((((((((((leg))))))))))":            "45 mm",
		"900 mm - leg - leg":                 "810 mm",
		"100 mm / 2 / 5":                     "10 mm",
		strings.Repeat("leg + ", 20) + "leg": "945 mm",
	} {
		e, err := Parse(text)
		if err != nil {
			t.Errorf("%s: %v", text, err)
			continue
		}
		got, err := e.Eval(known)
		if err != nil || !strings.HasPrefix(got.String(), want) {
			t.Errorf("%s gives %v, %v; want %s", text, got, err, want)
		}
	}
}

func TestWhatIsWrongWithAnExpressionIsToldAtItsCharacter(t *testing.T) {
	known := names(map[string]Value{"leg": mm(45), "n": Number(4)})
	for text, c := range map[string]struct {
		at   int
		want string
	}{
		"leg * leg":                         {4, "area"},
		"leg + 3":                           {4, "3 has no unit"},
		"n + leg":                           {2, "4 has no unit"},
		"leg / 0":                           {4, "divides by zero"},
		"leg / (n - 4)":                     {4, "divides by zero"},
		"n / leg":                           {2, "a number over a length"},
		"leg + lge":                         {6, `no dimension "lge"`},
		"leg +":                             {5, "ends too early"},
		"(leg + 1 mm":                       {11, "not closed"},
		"leg leg":                           {4, "does not belong here"},
		"leg ^ 2":                           {4, "does not belong here"},
		"min leg":                           {4, "needs brackets"},
		"leg * mm":                          {6, "has no number before it"},
		"leg * 1e300":                       {7, "does not belong here"},
		"90 m + 90 m":                       {0, "beyond 100 m"},
		strings.Repeat("(", 40) + "leg":     {31, "too deep"},
		strings.Repeat("leg +", 90):         {0, "too long"},
		"½ * leg":                           {0, "does not belong here"},
		strings.Repeat("9", 390) + " * leg": {0, "no number"},
	} {
		e, err := Parse(text)
		if err == nil {
			_, err = e.Eval(known)
		}
		if err == nil || err.At != c.at || !strings.Contains(err.What, c.want) {
			t.Errorf("%s: got %+v, want %d %s", text, err, c.at, c.want)
		}
	}
}

func FuzzParse(f *testing.F) {
	f.Add(`2' 3" - (a + 1/2 in) * min(b, 3)`)
	f.Add("((-+-+1mm)/0)")
	f.Fuzz(func(t *testing.T, text string) {
		e, err := Parse(text)
		if err != nil {
			return
		}
		v, err := e.Eval(func(name string) (Value, bool) { return mm(float64(len(name))), name != "none" })
		if err == nil && (math.IsNaN(v.number) || math.IsInf(v.number, 0)) {
			t.Errorf("%q gives %v", text, v)
		}
	})
}
