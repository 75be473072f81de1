package unit

import (
	"strings"
	"testing"
)

func TestLengthsAreReadExactly(t *testing.T) {
	cases := []struct {
		text   string
		want   Length
		family Family
	}{
		{"18 mm", 18 * Millimetre, Metric},
		{"18mm", 18 * Millimetre, Metric},
		{"0.5 mm", Millimetre / 2, Metric},
		{"1.2 m", 1200 * Millimetre, Metric},
		{"45 cm", 450 * Millimetre, Metric},
		{`3/4"`, Inch * 3 / 4, Imperial},
		{"3/4 in", Inch * 3 / 4, Imperial},
		{"3/4 in.", Inch * 3 / 4, Imperial},
		{"1 1/2 in", Inch * 3 / 2, Imperial},
		{"1-1/2 in", Inch * 3 / 2, Imperial},
		{"1½ in", Inch * 3 / 2, Imperial},
		{"1 ½″", Inch * 3 / 2, Imperial},
		{"½ in", Inch / 2, Imperial},
		{"1/64 in", 396_875, Imperial},
		{".75 in", Inch * 3 / 4, Imperial},
		{`2' 3 1/2"`, 2*Foot + Inch*7/2, Imperial},
		{"2 ft 3 in", 2*Foot + 3*Inch, Imperial},
		{"6'", 6 * Foot, Imperial},
		{"-3 mm", -3 * Millimetre, Metric},
		{"0 mm", 0, Metric},
	}
	for _, c := range cases {
		got, err := ParseMeasure(c.text)
		if err != nil {
			t.Errorf("%s: %v", c.text, err)
			continue
		}
		if got.Length != c.want || got.Family != c.family {
			t.Errorf("%s: got %d %v, want %d %v", c.text, got.Length, got.Family, c.want, c.family)
		}
	}
}

func TestBadLengthsSayWhatIsWrong(t *testing.T) {
	cases := map[string]string{
		"":                               "empty",
		"-":                              "empty",
		"18":                             "no unit",
		"3/4":                            "no unit",
		"18 yd":                          "unknown unit",
		"mm":                             "number",
		"NaN mm":                         "number",
		"1/0 in":                         "number",
		"1/3 in":                         "nanometres",
		"1e9 mm":                         "unknown unit",
		"200 m":                          "longer",
		"99999999999999999999 m":         "longer",
		"2 m 3 mm":                       "mixes",
		"1 ft 2 in 3 in":                 "more than",
		"3/ in":                          "number",
		strings.Repeat("1", 100) + " mm": "too long",
	}
	for text, want := range cases {
		_, err := ParseMeasure(text)
		if err == nil {
			t.Errorf("%q was accepted", text)
		} else if !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v does not mention %q", text, err, want)
		}
	}
}

func TestExactPrintingIsReadBack(t *testing.T) {
	for _, l := range []Length{0, 1, 396_875, 18 * Millimetre, Inch * 3 / 2, 123_456_789, -Inch / 8, Foot} {
		for _, f := range []Family{Metric, Imperial} {
			if f == Imperial && l%(Inch/64) != 0 {
				continue // decimals of an inch are not whole nanometres
			}
			got, err := ParseMeasure(l.Exact(f))
			if err != nil || got.Length != l {
				t.Errorf("%d in %v printed %q, read back %d, %v", l, f, l.Exact(f), got.Length, err)
			}
		}
	}
}

func TestLengthsAreShownAsAMakerReadsThem(t *testing.T) {
	cases := []struct {
		l    Length
		f    Family
		want string
	}{
		{18 * Millimetre, Metric, "18 mm"},
		{MM(18.26), Metric, "18.3 mm"},
		{Inch * 3 / 4, Imperial, "3/4 in"},
		{Inch * 3 / 2, Imperial, "1 1/2 in"},
		{Inch * 3 / 2, Metric, "38.1 mm"},
		{18 * Millimetre, Imperial, "45/64 in"},
		{-Inch / 4, Imperial, "-1/4 in"},
		{0, Imperial, "0 in"},
		{MM(-0.01), Metric, "0 mm"},
	}
	for _, c := range cases {
		if got := c.l.Show(c.f); got != c.want {
			t.Errorf("%d: got %q, want %q", c.l, got, c.want)
		}
	}
}

func TestRoundingGoesToTheNearestMark(t *testing.T) {
	if got := MM(7.3).RoundTo(Millimetre / 2); got != MM(7.5) {
		t.Errorf("7.3 mm rounds to %v", got.MM())
	}
	if got := MM(-7.3).RoundTo(Millimetre / 2); got != MM(-7.5) {
		t.Errorf("-7.3 mm rounds to %v", got.MM())
	}
	if got := MM(7.01).CeilTo(Millimetre / 2); got != MM(7.5) {
		t.Errorf("7.01 mm rounds up to %v", got.MM())
	}
}

func TestMoneyIsPrintedInWholeCents(t *testing.T) {
	for m, want := range map[Money]string{0: "0.00", 5: "0.05", 12345: "123.45", -50: "-0.50"} {
		if got := m.String(); got != want {
			t.Errorf("%d: got %q, want %q", m, got, want)
		}
	}
	if Cents(12.5) != 13 || Cents(-12.5) != -13 {
		t.Error("half a cent does not round away from zero")
	}
}

func FuzzParseMeasure(f *testing.F) {
	for _, s := range []string{"18 mm", `3/4"`, "1 1/2 in", "2' 3\"", "½ in", "", "-1.5 cm"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		m, err := ParseMeasure(s)
		if err != nil {
			return
		}
		if m.Length.Abs() > MaxLength {
			t.Fatalf("%q gave %d, beyond the largest length", s, m.Length)
		}
		if back, err := ParseMeasure(m.Length.Exact(Metric)); err != nil || back.Length != m.Length {
			t.Fatalf("%q gave %s, which reads back as %v, %v", s, m.Length.Exact(Metric), back, err)
		}
	})
}

func TestOneThingIsNotSeveral(t *testing.T) {
	for n, want := range map[int]string{0: "0 boards", 1: "1 board", 2: "2 boards"} {
		if got := Count(n, "board", "boards"); got != want {
			t.Errorf("%q, not %q", got, want)
		}
	}
}
