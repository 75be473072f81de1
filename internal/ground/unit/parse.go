package unit

import (
	"fmt"
	"math/big"
	"strings"
	"unicode/utf8"
)

// MaxLength is the largest length that ParseMeasure accepts. Judgement: no small piece of furniture
// and no board as sold comes near a hundred metres, so anything longer is a slip of the pen.
const MaxLength = 100 * Metre

// LengthError says why a text is not a length and how to mend it.
type LengthError struct {
	Text string // what was written
	What string // what is wrong with it
	Mend string // how to write it instead
}

func (e *LengthError) Error() string { return fmt.Sprintf("%q: %s; %s", e.Text, e.What, e.Mend) }

const lengthForms = `write for example 18 mm, 1.2 m, 3/4 in, 1 1/2" or 2' 3"`

var lengthUnits = map[string]Measure{
	"mm": {Millimetre, Metric}, "cm": {Centimetre, Metric}, "m": {Metre, Metric},
	"in": {Inch, Imperial}, "inch": {Inch, Imperial}, "inches": {Inch, Imperial}, `"`: {Inch, Imperial},
	"″": {Inch, Imperial}, "”": {Inch, Imperial}, "''": {Inch, Imperial},
	"ft": {Foot, Imperial}, "foot": {Foot, Imperial}, "feet": {Foot, Imperial}, "'": {Foot, Imperial},
	"′": {Foot, Imperial}, "’": {Foot, Imperial},
}

var vulgarFractions = map[rune]*big.Rat{
	'½': big.NewRat(1, 2), '¼': big.NewRat(1, 4), '¾': big.NewRat(3, 4),
	'⅛': big.NewRat(1, 8), '⅜': big.NewRat(3, 8), '⅝': big.NewRat(5, 8), '⅞': big.NewRat(7, 8),
}

// ParseMeasure reads a length with its unit: "18 mm", "1.2 m", `3/4"`, "1 1/2 in", "1-1/2 in",
// `2' 3 1/2"`, "½ in". The value must be a whole number of nanometres, which every decimal of a
// millimetre down to the sixth place and every sixty-fourth of an inch is. A bare number is an
// error, because nobody can tell millimetres from inches in it. The error is a *LengthError.
func ParseMeasure(text string) (Measure, error) {
	fail := func(what, mend string) (Measure, error) {
		return Measure{}, &LengthError{Text: text, What: what, Mend: mend}
	}
	if len(text) > 64 {
		return fail("is too long for a length", lengthForms)
	}
	s := lengthScanner{rest: strings.TrimSpace(text)}
	negative := s.take("-")
	if s.rest == "" {
		return fail("is empty", lengthForms)
	}
	total := new(big.Rat)
	var family Family
	for terms := 0; s.rest != ""; terms++ {
		if terms == 2 {
			return fail("has more than feet and inches", lengthForms)
		}
		number, ok := s.number()
		if !ok {
			return fail("does not start with a number", lengthForms)
		}
		name := s.unit()
		if name == "" {
			return fail("has no unit", "add mm or in: a bare number could be either")
		}
		unit, known := lengthUnits[strings.ToLower(name)]
		if !known {
			return fail("has an unknown unit "+name, "use mm, cm, m, in or ft")
		}
		if terms == 1 && (family != Imperial || unit.Length != Inch) {
			return fail("mixes units in one length", `only feet and inches may be combined, as in 2' 3"`)
		}
		family = unit.Family
		total.Add(total, number.Mul(number, big.NewRat(int64(unit.Length), 1)))
		s.space()
	}
	if total.Cmp(big.NewRat(int64(MaxLength), 1)) > 0 {
		return fail("is longer than 100 m", "check the unit")
	}
	if !total.IsInt() {
		return fail("is not a whole number of nanometres", "use sixty-fourths of an inch, or decimals")
	}
	l := Length(total.Num().Int64())
	if negative {
		l = -l
	}
	return Measure{l, family}, nil
}

// lengthScanner eats a length text from the left.
type lengthScanner struct{ rest string }

func (s *lengthScanner) space() { s.rest = strings.TrimLeft(s.rest, " \t\u00a0") }

func (s *lengthScanner) take(prefix string) bool {
	rest, ok := strings.CutPrefix(s.rest, prefix)
	s.rest = rest
	return ok
}

func (s *lengthScanner) digits() string {
	n := 0
	for n < len(s.rest) && s.rest[n] >= '0' && s.rest[n] <= '9' {
		n++
	}
	d := s.rest[:n]
	s.rest = s.rest[n:]
	return d
}

// number reads "18", "18.5", "3/4", "1 1/2", "1-1/2", "1½" or "½".
func (s *lengthScanner) number() (*big.Rat, bool) {
	if f, ok := s.vulgar(); ok {
		return f, true
	}
	whole := s.digits()
	if s.take(".") {
		decimals := s.digits()
		if whole == "" && decimals == "" {
			return nil, false
		}
		return new(big.Rat).SetString("0" + whole + "." + decimals + "0")
	}
	if whole == "" {
		return nil, false
	}
	if s.take("/") {
		return fraction(whole, s.digits())
	}
	value, _ := new(big.Rat).SetString(whole)
	before := s.rest
	s.space()
	if f, ok := s.vulgar(); ok {
		return value.Add(value, f), true
	}
	s.take("-")
	if num := s.digits(); num != "" && s.take("/") {
		f, ok := fraction(num, s.digits())
		if !ok {
			return nil, false
		}
		return value.Add(value, f), true
	}
	s.rest = before
	return value, true
}

func (s *lengthScanner) vulgar() (*big.Rat, bool) {
	r, size := utf8.DecodeRuneInString(s.rest)
	f, ok := vulgarFractions[r]
	if !ok {
		return nil, false
	}
	s.rest = s.rest[size:]
	return new(big.Rat).Set(f), true
}

// unit reads a unit name or sign after optional space.
func (s *lengthScanner) unit() string {
	s.space()
	for _, sign := range []string{"''", `"`, "″", "”", "'", "′", "’"} {
		if s.take(sign) {
			return sign
		}
	}
	n := strings.IndexFunc(s.rest, func(r rune) bool { return r < 'A' || r > 'z' || (r > 'Z' && r < 'a') })
	if n < 0 {
		n = len(s.rest)
	}
	name := s.rest[:n]
	s.rest = s.rest[n:]
	if name != "" {
		s.take(".") // "in." is a common way to write inches
	}
	return name
}

func fraction(num, den string) (*big.Rat, bool) {
	if num == "" || den == "" || strings.Trim(den, "0") == "" {
		return nil, false
	}
	return new(big.Rat).SetString(num + "/" + den)
}
