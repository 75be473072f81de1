package hardware

import (
	_ "embed"
	"fmt"
	"strings"

	"longgrain/internal/ground/source"
	"longgrain/internal/ground/unit"
)

// Dowel is a fluted dowel as sold, cut to length.
type Dowel struct {
	Family   unit.Family `json:"family"` // the series it belongs to
	Diameter unit.Length `json:"diameter"`
	Length   unit.Length `json:"length"`
	Cite     source.Cite `json:"cite"`
}

//go:embed dowels.csv
var dowelsCSV string

//go:embed screws_gauge.csv
var screwsGaugeCSV string

//go:embed screws_metric.csv
var screwsMetricCSV string

//go:embed biscuits.csv
var biscuitsCSV string

//go:embed pocket.csv
var pocketCSV string

//go:embed fastenings.csv
var fasteningsCSV string

//go:embed sanding.csv
var sandingCSV string

// Dowels returns the dowels of both series as commonly sold, metric first, by diameter and length.
//
// Source: [din-68150] from memory, and common retail practice for inches.
func Dowels() []Dowel {
	var out []Dowel
	for _, r := range source.Table("dowels.csv", dowelsCSV) {
		d := Dowel{Diameter: length(r.Text("diameter")), Length: length(r.Text("length")), Cite: r.Cite()}
		if r.Text("series") == "inch" {
			d.Family = unit.Imperial
		}
		out = append(out, d)
	}
	return out
}

func length(text string) unit.Length {
	m, err := unit.ParseMeasure(text)
	if err != nil {
		panic(fmt.Sprintf("hardware: %v", err))
	}
	return m.Length
}

// Screw is a wood screw by gauge or metric diameter.
type Screw struct {
	Name    string        `json:"name"`  // "no. 8" or "4 mm"
	Gauge   int           `json:"gauge"` // -1 for metric screws
	Shank   unit.Length   `json:"shank"`
	Root    unit.Length   `json:"root,omitempty"`    // at the bottom of the thread; zero when not given
	Lengths []unit.Length `json:"lengths,omitempty"` // as commonly sold; empty when not given
	Cite    source.Cite   `json:"cite"`
}

// Screws returns the wood screws: gauges first, then metric. The root of a metric screw is taken at
// 0.65 of its diameter, the middle of the usual 0.60 to 0.70.
//
// Source: [asme-b18-6-1]; metric screws from memory.
func Screws() []Screw {
	var out []Screw
	inches := func(v float64) unit.Length { return unit.Inch.Scale(v) }
	for _, r := range source.Table("screws_gauge.csv", screwsGaugeCSV) {
		s := Screw{Name: "no. " + r.Text("gauge"), Gauge: int(r.Number("gauge")), Shank: inches(r.Number("shank")), Cite: r.Cite()}
		if r.Has("root") {
			s.Root = inches(r.Number("root"))
			s.Cite.Confidence = source.Weaker(s.Cite.Confidence, source.Memory)
		}
		out = append(out, s)
	}
	for _, r := range source.Table("screws_metric.csv", screwsMetricCSV) {
		d := r.Number("diameter")
		s := Screw{Gauge: -1, Shank: unit.MM(d), Cite: r.Cite(),
			Root: unit.MM(d * (r.Number("root-low") + r.Number("root-high")) / 2)}
		s.Name = s.Shank.Show(unit.Metric)
		for text := range strings.SplitSeq(r.Text("lengths"), ";") {
			s.Lengths = append(s.Lengths, length(text+" mm"))
		}
		out = append(out, s)
	}
	return out
}

// ShankDiameter returns the diameter of a wood screw of a gauge.
//
//	D = 0.060 + 0.013 n  inches
//
// n is the gauge, 0 to 24. Panics outside.
//
// Source: [asme-b18-6-1], read.
func ShankDiameter(gauge int) unit.Length {
	if gauge < 0 || gauge > 24 {
		panic(fmt.Sprintf("hardware: no screw gauge %d", gauge))
	}
	return unit.Inch * unit.Length(60+13*gauge) / 1000
}

// Biscuit is a pressed beech biscuit and its slot, half of which is cut in each part.
type Biscuit struct {
	ID        string      `json:"id"` // "0", "10" or "20"
	Length    unit.Length `json:"length"`
	Width     unit.Length `json:"width"`
	Thickness unit.Length `json:"thickness"`
	SlotDepth unit.Length `json:"slotDepth"` // in each part
	SlotWidth unit.Length `json:"slotWidth"`
	Cite      source.Cite `json:"cite"`
}

// Biscuits returns the three customary sizes, smallest first. Source: from memory.
func Biscuits() []Biscuit {
	var out []Biscuit
	for _, r := range source.Table("biscuits.csv", biscuitsCSV) {
		out = append(out, Biscuit{r.Text("id"), mm(r, "length"), mm(r, "width"), mm(r, "thickness"),
			mm(r, "slot-depth"), mm(r, "slot-width"), r.Cite()})
	}
	return out
}

// PocketScrew is the screw for pocket holes in stock of some thickness.
type PocketScrew struct {
	StockLow  unit.Length `json:"stockLow"`
	StockHigh unit.Length `json:"stockHigh"`
	Length    unit.Length `json:"length"`
	Thread    string      `json:"thread"` // "coarse" for softwood
	Cite      source.Cite `json:"cite"`
}

// PocketHoleAngle is the angle of a pocket hole to the face. Source: from memory, the customary 15°.
const PocketHoleAngle unit.Degrees = 15

// PocketScrewFor returns the screw for pocket holes in stock of a thickness, to the nearest
// millimetre. False when the stock is too thin or too thick.
//
// Source: common practice, from memory.
func PocketScrewFor(stock unit.Length) (PocketScrew, bool) {
	t := stock.RoundTo(unit.Millimetre)
	for _, r := range source.Table("pocket.csv", pocketCSV) {
		if low, high := mm(r, "stock-low"), mm(r, "stock-high"); t >= low && t <= high {
			return PocketScrew{low, high, mm(r, "screw"), r.Text("thread"), r.Cite()}, true
		}
	}
	return PocketScrew{}, false
}

// Fastening holds a top to its frame and lets it move.
type Fastening struct {
	ID            string      `json:"id"`
	Name          string      `json:"name"`
	Moves         string      `json:"moves"`   // how it lets the top move
	Travel        unit.Length `json:"travel"`  // the customary play; cut to suit
	Spacing       unit.Length `json:"spacing"` // along the rail
	GrooveWidth   unit.Length `json:"grooveWidth,omitempty"`
	GrooveDepth   unit.Length `json:"grooveDepth,omitempty"`
	GrooveFromTop unit.Length `json:"grooveFromTop,omitempty"` // from the top edge of the rail to the groove
	Note          string      `json:"note,omitempty"`
	Cite          source.Cite `json:"cite"`
}

// Fastenings returns the ways to hold a top. Source: common practice and from memory.
func Fastenings() []Fastening {
	var out []Fastening
	for _, r := range source.Table("fastenings.csv", fasteningsCSV) {
		out = append(out, Fastening{
			ID: r.Text("id"), Name: r.Text("name"), Moves: r.Text("moves"),
			Travel: mm(r, "travel"), Spacing: mm(r, "spacing"), GrooveWidth: mm(r, "groove-width"),
			GrooveDepth: mm(r, "groove-depth"), GrooveFromTop: mm(r, "groove-from-top"),
			Note: r.Text("note"), Cite: r.Cite(),
		})
	}
	return out
}

// SandingStep is one grit.
type SandingStep struct {
	Step     int         `json:"step"`
	Grit     string      `json:"grit"` // "P120" by the FEPA scale, or "wet sponge"
	Tool     string      `json:"tool"`
	Purpose  string      `json:"purpose"`
	RateLow  float64     `json:"rateLow"` // m² an hour; rates are assumed
	RateHigh float64     `json:"rateHigh"`
	When     string      `json:"when"`
	Note     string      `json:"note,omitempty"`
	Cite     source.Cite `json:"cite"`
}

// SandingSteps returns the grits in order. Common practice: never skip more than one.
func SandingSteps() []SandingStep {
	var out []SandingStep
	for _, r := range source.Table("sanding.csv", sandingCSV) {
		out = append(out, SandingStep{int(r.Number("step")), r.Text("grit"), r.Text("tool"), r.Text("purpose"),
			r.Number("rate-low"), r.Number("rate-high"), r.Text("when"), r.Text("note"), r.Cite()})
	}
	return out
}
