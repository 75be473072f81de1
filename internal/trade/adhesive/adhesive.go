// Package adhesive knows wood glues: how hard to press, how much to spread, how long there is to close
// a joint, how long to clamp, when to scrape, and below what temperature not to begin.
//
// A Kind answers with ranges, each carrying its origin; a figure that no source gives is missing.
// Times are printed for about 20 °C and follow the shop's temperature by a stated model. The label on
// the bottle always wins over these tables. Clamp counts and glue-up stages are planned in work/glueup.
package adhesive

import (
	_ "embed"
	"fmt"
	"slices"

	"longgrain/internal/ground/problem"
	"longgrain/internal/ground/source"
	"longgrain/internal/ground/unit"
)

// Kind is a kind of glue. The zero value is no glue.
type Kind struct {
	ID        string      `json:"id"` // as written in shop files: "yellow-pva"
	Name      string      `json:"name"`
	FillsGaps bool        `json:"fillsGaps"`
	Note      string      `json:"note,omitempty"`
	Cite      source.Cite `json:"cite"`
}

// Range is a figure with the range that the sources give. A bound that the source leaves open equals
// the value.
type Range[T ~float64] struct {
	Value T           `json:"value"`
	Low   T           `json:"low"`
	High  T           `json:"high"`
	Cite  source.Cite `json:"cite"`
	Note  string      `json:"note,omitempty"`
}

// GramsPerSquareMetre is a spread of glue on one face.
type GramsPerSquareMetre float64

type place struct{ kind, property string }

//go:embed kinds.csv
var kindsCSV string

//go:embed adhesives.csv
var adhesivesCSV string

var (
	kinds      = readKinds()
	properties = readProperties()
)

func readKinds() []Kind {
	var out []Kind
	for _, r := range source.Table("kinds.csv", kindsCSV) {
		out = append(out, Kind{r.Text("id"), r.Text("name"), r.Text("fills-gaps") == "yes", r.Text("note"), r.Cite()})
	}
	return out
}

func readProperties() map[place]Range[float64] {
	out := map[place]Range[float64]{}
	for _, r := range source.Table("adhesives.csv", adhesivesCSV) {
		key := place{r.Text("adhesive"), r.Text("property")}
		if _, known := Lookup(key.kind); !known {
			panic(fmt.Sprintf("adhesive: adhesives.csv names unknown glue %q", key.kind))
		}
		v := r.Number("value")
		f := Range[float64]{v, v, v, r.Cite(), r.Text("note")}
		if r.Has("low") {
			f.Low = r.Number("low")
		}
		if r.Has("high") {
			f.High = r.Number("high")
		}
		out[key] = f
	}
	return out
}

// Lookup returns the glue of an id.
func Lookup(id string) (Kind, bool) {
	i := slices.IndexFunc(kinds, func(k Kind) bool { return k.ID == id })
	if i < 0 {
		return Kind{}, false
	}
	return kinds[i], true
}

// IDs returns the ids of all glues, the commonest first.
func IDs() []string {
	out := make([]string, len(kinds))
	for i, k := range kinds {
		out[i] = k.ID
	}
	return out
}

func property[T ~float64](k Kind, name string) (Range[T], bool) {
	f, ok := properties[place{k.ID, name}]
	return Range[T]{T(f.Value), T(f.Low), T(f.High), f.Cite, f.Note}, ok
}

// scaled returns a time range times a factor of the model of temperature, which is assumed.
func scaled(r Range[unit.Minutes], factor float64) Range[unit.Minutes] {
	if factor == 1 {
		return r
	}
	f := unit.Minutes(factor)
	r.Value, r.Low, r.High = r.Value*f, r.Low*f, r.High*f
	r.Cite.Confidence = source.Weaker(r.Cite.Confidence, source.Assumed)
	return r
}

// The densities at 12 % moisture, in kg/m³, at which a wood counts as medium and as dense for
// pressing. Judgement: pine, spruce and poplar lie below the first, cherry and walnut between, oak
// and hard maple above the second.
const (
	mediumFrom unit.KilogramsPerCubicMetre = 560
	denseFrom  unit.KilogramsPerCubicMetre = 670
)

// Pressure returns the pressure on the glue line for a wood of some density at about 12 % moisture. All joints of a panel
// that are clamped in one stack see the same force, so count the area of one joint only.
//
// Source: [pva-guidance], with the range 0.7 to 1.7 MPa of [wood-handbook] chapter 10 from memory.
func (k Kind) Pressure(density unit.KilogramsPerCubicMetre) (Range[unit.MPa], bool) {
	switch {
	case density < mediumFrom:
		return property[unit.MPa](k, "pressure light wood")
	case density < denseFrom:
		return property[unit.MPa](k, "pressure medium wood")
	}
	return property[unit.MPa](k, "pressure dense wood")
}

// Spread returns the mass of wet glue on each square metre of one face.
func (k Kind) Spread() (Range[GramsPerSquareMetre], bool) {
	return property[GramsPerSquareMetre](k, "spread")
}

// GlueLine returns the thickness of the cured film, in millimetres, at which the joint is strongest.
func (k Kind) GlueLine() (Range[float64], bool) { return property[float64](k, "glue line") }

// OpenTime returns the time from the start of spreading until the joint must be closed.
func (k Kind) OpenTime(t unit.Celsius) (Range[unit.Minutes], bool) {
	r, ok := property[unit.Minutes](k, "open time")
	return scaled(r, HeatFactor(t)), ok
}

// AssemblyTime returns the time from the start of spreading until full pressure is on.
func (k Kind) AssemblyTime(t unit.Celsius) (Range[unit.Minutes], bool) {
	r, ok := property[unit.Minutes](k, "assembly time")
	return scaled(r, HeatFactor(t)), ok
}

// ClampTime returns the time under pressure: that of a straight joint, or of a bent or sprung one.
func (k Kind) ClampTime(t unit.Celsius, stressed bool) (Range[unit.Minutes], bool) {
	name := "clamp time"
	if stressed {
		name = "clamp time stressed"
	}
	r, ok := property[unit.Minutes](k, name)
	return scaled(r, ColdFactor(t)), ok
}

// FullStrength returns the time from clamping until the joint may be loaded.
func (k Kind) FullStrength(t unit.Celsius) (Range[unit.Minutes], bool) {
	r, ok := property[unit.Minutes](k, "full strength")
	return scaled(r, ColdFactor(t)), ok
}

// ScrapeWindow returns when, after clamping, squeezed-out glue is rubbery and comes off clean: Low is
// the earliest, High the latest time.
func (k Kind) ScrapeWindow(t unit.Celsius) (Range[unit.Minutes], bool) {
	r, ok := property[unit.Minutes](k, "scrape")
	return scaled(r, ColdFactor(t)), ok
}

// MinimumTemperature returns the temperature of wood, glue and room below which not to glue.
func (k Kind) MinimumTemperature() (Range[unit.Celsius], bool) {
	return property[unit.Celsius](k, "minimum temperature")
}

// WarningTemperature returns the temperature below which some products of the kind already fail.
func (k Kind) WarningTemperature() (Range[unit.Celsius], bool) {
	return property[unit.Celsius](k, "warning temperature")
}

// ColdFactor returns how much longer glue takes to set in the cold.
//
//	f = 1 + (20 - t)/8 below 20 °C, else 1
//
// t is the temperature of the room in °C: twice the time at 12 °C. Not below zero: there it is taken
// as at 0 °C. Whether to glue at all is for MinimumTemperature to say.
//
// Source: [workshop-page] for the factor of two; that it is reached at 12 °C is assumed.
func ColdFactor(t unit.Celsius) float64 {
	return 1 + max(0, 20-max(0, float64(t)))/8
}

// HeatFactor returns how much of the open time is left in a hot room.
//
//	f = 1 - (t - 20)/20 between 20 and 30 °C, 1 below, 1/2 above
//
// Cold lengthens the open time too, but not enough is published to count on it.
//
// Source: assumed.
func HeatFactor(t unit.Celsius) float64 {
	return 1 - max(0, min(10, float64(t)-20))/20
}

// Find returns the glue that a person means by its id or name, whatever the case and hyphens.
func Find(name string) (Kind, bool) {
	for _, x := range kinds {
		if problem.SameName(x.ID, name) || problem.SameName(x.Name, name) {
			return x, true
		}
	}
	return Kind{}, false
}

// Names returns the names of all glues as a person writes them, in the order of the table.
func Names() []string {
	out := make([]string, len(kinds))
	for i, x := range kinds {
		out[i] = x.Name
	}
	return out
}
