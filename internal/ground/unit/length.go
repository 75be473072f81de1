// Package unit holds the quantities of the trade and reads and prints them.
//
// Lengths are whole nanometres, so that millimetres and sixty-fourths of an inch are both exact and
// sums never drift. Engineering quantities are named floats in one fixed unit each, so that two of
// them cannot be swapped by mistake. Money is whole cents. The package knows two families of length
// units, metric and inch, and keeps the one a person chose for showing. It does not know any
// material, and it never rounds except when printing.
package unit

import (
	"fmt"
	"math"
	"strings"
)

// Length is a distance in whole nanometres. One millimetre is 1e6, one sixty-fourth of an inch 396,875.
type Length int64

// The lengths of the units that a person may write.
const (
	Nanometre  Length = 1
	Micrometre        = 1000 * Nanometre
	Millimetre        = 1000 * Micrometre
	Centimetre        = 10 * Millimetre
	Metre             = 1000 * Millimetre
	Inch              = 25_400_000 * Nanometre
	Foot              = 12 * Inch
)

// MM returns the length nearest to v millimetres.
func MM(v float64) Length { return Length(math.Round(v * float64(Millimetre))) }

// MM returns the length in millimetres.
func (l Length) MM() float64 { return float64(l) / float64(Millimetre) }

// Metres returns the length in metres.
func (l Length) Metres() float64 { return float64(l) / float64(Metre) }

// Abs returns the length without its sign.
func (l Length) Abs() Length {
	if l < 0 {
		return -l
	}
	return l
}

// Scale returns the length times f, to the nearest nanometre.
func (l Length) Scale(f float64) Length { return Length(math.Round(float64(l) * f)) }

// RoundTo returns the multiple of step nearest to l; halves go away from zero. A step of zero or
// less leaves l as it is.
func (l Length) RoundTo(step Length) Length {
	if step <= 0 {
		return l
	}
	half := step / 2
	if l < 0 {
		return -((-l + half) / step * step)
	}
	return (l + half) / step * step
}

// CeilTo returns the smallest multiple of step that is not below l.
func (l Length) CeilTo(step Length) Length {
	if step <= 0 {
		return l
	}
	down := l / step * step
	if down < l {
		return down + step
	}
	return down
}

// Family is the set of length units that a person works in.
type Family int

// The two families. Metric is the zero value.
const (
	Metric Family = iota
	Imperial
)

// String returns "mm" or "in", the words used in piece files.
func (f Family) String() string {
	if f == Imperial {
		return "in"
	}
	return "mm"
}

// SmallestMark returns the smallest mark that the workbook prints in this family: half a millimetre
// or a thirty-second of an inch. Common practice: the finest line of an ordinary steel rule.
func (f Family) SmallestMark() Length {
	if f == Imperial {
		return Inch / 32
	}
	return Millimetre / 2
}

// Measure is a length together with the family in which it was written.
type Measure struct {
	Length Length
	Family Family
}

// String prints the measure exactly, in its own family, so that ParseMeasure gives it back.
func (m Measure) String() string { return m.Length.Exact(m.Family) }

// Exact prints l in the given family without loss: "18 mm", "0.396875 mm", `1 1/2 in`, "0.7087 in".
func (l Length) Exact(f Family) string { return l.Number(f) + " " + f.String() }

// Number prints l like Exact but without the unit, for table columns whose heading names it.
func (l Length) Number(f Family) string {
	if f == Imperial {
		if text, ok := inchFraction(l, 64); ok {
			return text
		}
		return trimZeros(fmt.Sprintf("%.8f", float64(l)/float64(Inch)))
	}
	sign := ""
	if l < 0 {
		sign, l = "-", -l
	}
	return sign + trimZeros(fmt.Sprintf("%d.%06d", l/Millimetre, l%Millimetre))
}

// Show prints l for a reader in the given family, to the nearest tenth of a millimetre or the
// nearest sixty-fourth of an inch, with the unit: "18.3 mm", `23/32 in`.
func (l Length) Show(f Family) string { return l.ShowNumber(f) + " " + f.String() }

// ShowNumber prints l like Show, without the unit.
func (l Length) ShowNumber(f Family) string {
	if f == Imperial {
		text, _ := inchFraction(l.RoundTo(Inch/64), 64)
		return text
	}
	return trimZeros(fmt.Sprintf("%.1f", l.RoundTo(Millimetre/10).MM()))
}

// inchFraction writes l as whole inches and a reduced fraction with a denominator up to den; false
// when l is not a whole number of such parts.
func inchFraction(l Length, den int64) (string, bool) {
	part := int64(Inch) / den
	if int64(l)%part != 0 {
		return "", false
	}
	n := int64(l) / part
	sign := ""
	if n < 0 {
		sign, n = "-", -n
	}
	whole, num := n/den, n%den
	for num != 0 && num%2 == 0 {
		num, den = num/2, den/2
	}
	switch {
	case num == 0:
		return fmt.Sprintf("%s%d", sign, whole), true
	case whole == 0:
		return fmt.Sprintf("%s%d/%d", sign, num, den), true
	}
	return fmt.Sprintf("%s%d %d/%d", sign, whole, num, den), true
}

func trimZeros(s string) string {
	if !strings.Contains(s, ".") {
		return s
	}
	s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	if s == "-0" || s == "" {
		return "0"
	}
	return s
}
