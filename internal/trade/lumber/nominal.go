package lumber

import (
	_ "embed"
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"longgrain/internal/ground/source"
	"longgrain/internal/ground/unit"
)

//go:embed dressed.csv
var dressedCSV string

//go:embed quarters.csv
var quartersCSV string

// dressedSize is the dressed size of one nominal thickness or width.
type dressedSize struct {
	dry, green unit.Length
	cite       source.Cite
}

// dressed is keyed by class and side ("board thickness") and nominal size.
var dressed = readDressed()

func readDressed() map[string]map[unit.Length]dressedSize {
	out := map[string]map[unit.Length]dressedSize{}
	for _, r := range source.Table("dressed.csv", dressedCSV) {
		key := r.Text("class") + " " + r.Text("side")
		if out[key] == nil {
			out[key] = map[unit.Length]dressedSize{}
		}
		out[key][length(r.Text("nominal"))] = dressedSize{length(r.Text("dry")), length(r.Text("green")), r.Cite()}
	}
	return out
}

// nominalName splits "5/4 x 6" into its two numbers.
var nominalName = regexp.MustCompile(`^\s*([0-9][0-9 /-]*?)\s*[xX×]\s*([0-9][0-9 /-]*?)\s*$`)

// Nominal returns the dressed size of dry softwood sold under a nominal name in inches: "1x6",
// "2 x 4", "5/4x6", "1 1/4 x 6". Thicknesses under 2 are boards, others dimension lumber; "5/4" is
// 1 1/4. False when the name is not of that form or the standard has no such size.
//
// Source: [ps-20] table 3, minimum dressed sizes at up to 19 % moisture.
func Nominal(name string) (Section, bool) {
	parts := nominalName.FindStringSubmatch(name)
	if parts == nil {
		return Section{}, false
	}
	t, okT := inches(parts[1])
	w, okW := inches(parts[2])
	if !okT || !okW {
		return Section{}, false
	}
	class := "board"
	if t >= 2*unit.Inch {
		class = "dimension"
	}
	thick, okT := dressed[class+" thickness"][t]
	wide, okW := dressed[class+" width"][w]
	if !okT || !okW {
		return Section{}, false
	}
	return Section{
		Name:      nominalText(t) + "x" + w.Number(unit.Imperial),
		Thickness: thick.dry, Width: wide.dry,
		NominalThickness: t, NominalWidth: w, Cite: wide.cite,
	}, true
}

// inches reads a number of inches without its unit.
func inches(text string) (unit.Length, bool) {
	m, err := unit.ParseMeasure(strings.TrimSpace(text) + " in")
	return m.Length, err == nil && m.Length > 0
}

// nominalText writes a nominal thickness as the trade does: 5/4, not 1 1/4.
func nominalText(t unit.Length) string {
	quarters := t / (unit.Inch / 4)
	if t > unit.Inch && t < 2*unit.Inch && t%(unit.Inch/4) == 0 {
		return strconv.Itoa(int(quarters)) + "/4"
	}
	return t.Number(unit.Imperial)
}

// NominalNames returns the names of the sections that yards commonly stock, thinnest first. Which
// sizes are common is common practice; the sizes themselves are Nominal's.
func NominalNames() []string {
	return []string{
		"1x2", "1x3", "1x4", "1x5", "1x6", "1x8", "1x10", "1x12",
		"5/4x4", "5/4x6", "5/4x8", "5/4x10", "5/4x12",
		"2x2", "2x3", "2x4", "2x6", "2x8", "2x10", "2x12", "4x4",
	}
}

// Quarter is a hardwood thickness sold in quarters of an inch.
type Quarter struct {
	Name           string      `json:"name"` // "5/4"
	Rough          unit.Length `json:"rough"`
	PlanedOneSide  unit.Length `json:"planedOneSide"`
	PlanedTwoSides unit.Length `json:"planedTwoSides"`
	Cite           source.Cite `json:"cite"`
}

// LookupQuarter returns a hardwood thickness ("4/4", "8/4").
//
// Source: [nhla].
func LookupQuarter(name string) (Quarter, bool) {
	for _, r := range source.Table("quarters.csv", quartersCSV) {
		if r.Text("name") == name {
			return Quarter{name, length(r.Text("rough")), length(r.Text("planed-one-side")),
				length(r.Text("planed-two-sides")), r.Cite()}, true
		}
	}
	return Quarter{}, false
}

// BoardFeet returns the volume of a piece in board feet, exact and unrounded.
//
//	BF = T W L / 144
//
// T and W in inches, nominal for dressed softwood; L in inches divided by 12, so that one board foot
// is a board of 1 x 12 x 12 in. A thickness under one inch counts as one inch. Panics when a size is
// negative.
//
// Source: [ps-20] and [nhla], board measure.
func BoardFeet(thickness, width, length unit.Length) float64 {
	if thickness < 0 || width < 0 || length < 0 {
		panic(fmt.Sprintf("lumber: negative size %v x %v x %v", thickness, width, length))
	}
	in := func(l unit.Length) float64 { return float64(l) / float64(unit.Inch) }
	return in(max(thickness, unit.Inch)) * in(width) * in(length) / 144
}

// BoardFeet returns the board feet of a length of this section, by its nominal size where it has one.
func (s Section) BoardFeet(length unit.Length) float64 {
	if s.NominalThickness > 0 {
		return BoardFeet(s.NominalThickness, s.NominalWidth, length)
	}
	return BoardFeet(s.Thickness, s.Width, length)
}
