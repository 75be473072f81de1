// Package lumber knows timber as it is sold: nominal and dressed sizes of softwood in inches,
// hardwood quarters, metric sawn and planed sections, stock lengths, glued panels, the deviations
// allowed and the board foot.
//
// A name such as "1x6" gives the size that the dressed and dried piece really has. Sizes differ from
// yard to yard; apart from the dressed sizes of the softwood standard these tables are starting
// values for a shop to change. The package knows no prices and no species.
package lumber

import (
	_ "embed"
	"fmt"
	"slices"
	"strings"

	"longgrain/internal/ground/source"
	"longgrain/internal/ground/unit"
)

// Section is the cross-section of a piece as sold.
type Section struct {
	Name      string      `json:"name"` // "1x6" or "27 x 94 mm"
	Thickness unit.Length `json:"thickness"`
	Width     unit.Length `json:"width"`
	// The sizes that volume is reckoned with when it is sold by the board foot: the nominal ones for
	// dressed softwood. Both zero where timber is sold by its real size.
	NominalThickness unit.Length `json:"nominalThickness,omitempty"`
	NominalWidth     unit.Length `json:"nominalWidth,omitempty"`
	Cite             source.Cite `json:"cite"`
}

// length reads a length of an embedded table and panics when it is none.
func length(text string) unit.Length {
	m, err := unit.ParseMeasure(text)
	if err != nil {
		panic(fmt.Sprintf("lumber: %v", err))
	}
	return m.Length
}

//go:embed metric.csv
var metricCSV string

//go:embed lengths.csv
var lengthsCSV string

//go:embed panels.csv
var panelsCSV string

//go:embed tolerances.csv
var tolerancesCSV string

// Kind names a table of metric sections.
type Kind string

// The kinds of metric sections.
const (
	SawnPreferred Kind = "sawn preferred"            // preferred cross-sections at 20 % moisture
	SawnCustomary Kind = "sawn customary"            // further customary sections
	PlanedRounded Kind = "planed with rounded edges" // studding
	Planed        Kind = "planed"                    // planed all round, as retailers stock it
)

var metricSections = readMetric()

func readMetric() map[Kind][]Section {
	out := map[Kind][]Section{}
	for _, r := range source.Table("metric.csv", metricCSV) {
		t, w := length(r.Text("thickness")), length(r.Text("width"))
		name := t.Number(unit.Metric) + " x " + w.Show(unit.Metric)
		kind := Kind(r.Text("kind"))
		out[kind] = append(out[kind], Section{Name: name, Thickness: t, Width: w, Cite: r.Cite()})
	}
	return out
}

// MetricSections returns the metric sections of a kind, in the order of the table.
func MetricSections(k Kind) []Section { return slices.Clone(metricSections[k]) }

// Market names a row of stock lengths.
type Market string

// The markets.
const (
	SoftwoodFeet Market = "softwood in feet"
	SawnMetres   Market = "sawn in metres"
	PlanedMetres Market = "planed in metres"
)

// Lengths are the stock lengths of a market, shortest first.
type Lengths struct {
	Of   []unit.Length `json:"of"`
	Cite source.Cite   `json:"cite"`
}

var stockLengths = readLengths()

func readLengths() map[Market]Lengths {
	out := map[Market]Lengths{}
	for _, r := range source.Table("lengths.csv", lengthsCSV) {
		m := Market(r.Text("market"))
		out[m] = Lengths{append(out[m].Of, length(r.Text("length"))), r.Cite()}
	}
	return out
}

// StockLengths returns the lengths that a market sells; empty for an unknown market.
func StockLengths(m Market) Lengths {
	l := stockLengths[m]
	l.Of = slices.Clone(l.Of)
	return l
}

// Panel is an edge-glued panel as stocked.
type Panel struct {
	Thickness unit.Length   `json:"thickness"`
	Width     unit.Length   `json:"width"`
	Lengths   []unit.Length `json:"lengths"`
	Family    unit.Family   `json:"family"` // the units it is sold in
	Cite      source.Cite   `json:"cite"`
}

var gluedPanels = readPanels()

func readPanels() (out []Panel) {
	for _, r := range source.Table("panels.csv", panelsCSV) {
		p := Panel{Thickness: length(r.Text("thickness")), Width: length(r.Text("width")), Cite: r.Cite()}
		if strings.HasSuffix(r.Text("kind"), "inches") {
			p.Family = unit.Imperial
		}
		for text := range strings.SplitSeq(r.Text("lengths"), ";") {
			p.Lengths = append(p.Lengths, length(text))
		}
		out = append(out, p)
	}
	return out
}

// Panels returns the glued softwood panels sold in a family of units. The slices of lengths are
// shared: read only.
func Panels(f unit.Family) []Panel {
	var out []Panel
	for _, p := range gluedPanels {
		if p.Family == f {
			out = append(out, p)
		}
	}
	return out
}

// Tolerance is what a piece may deviate from its size.
type Tolerance struct {
	Minus unit.Length `json:"minus"`
	Plus  unit.Length `json:"plus"`
	Cite  source.Cite `json:"cite"`
}

// AllowedDeviation returns the deviation of a thickness or width that a class allows: "T1" for sawn,
// "T2" for planed timber. False for another class.
//
// Source: [en-336].
func AllowedDeviation(class string, size unit.Length) (Tolerance, bool) {
	for _, r := range source.Table("tolerances.csv", tolerancesCSV) {
		if r.Text("class") != class || r.Has("up-to") && size > length(r.Text("up-to")) {
			continue
		}
		return Tolerance{length(r.Text("minus")), length(r.Text("plus")), r.Cite()}, true
	}
	return Tolerance{}, false
}
