// Package coating knows finishes: products by class, whole schedules of steps, and the hazards of
// the shop's work.
//
// A Schedule is data: sanding, raising the grain, colour, coats, rubbing and waiting in order, each
// step with the caution it calls for. Products give coverage, number of coats and drying times for
// about 20 °C; most such figures are recalled, not read, and say so. The label on the tin wins over
// all of them. Areas, litres and dates are worked out in work/finishing.
package coating

import (
	_ "embed"
	"fmt"
	"slices"
	"strings"

	"longgrain/internal/ground/problem"
	"longgrain/internal/ground/source"
)

// Purpose says what a product does on the wood.
type Purpose string

// The purposes.
const (
	Colours Purpose = "colour"
	Seals   Purpose = "seal"
	Film    Purpose = "film"
	Oil     Purpose = "oil"
	Wax     Purpose = "wax"
	Paint   Purpose = "paint"
)

// Product is a class of finishing product.
type Product struct {
	ID           string      `json:"id"` // as written in shop files: "water-dye"
	Name         string      `json:"name"`
	Purpose      Purpose     `json:"purpose"`
	Coverage     float64     `json:"coverage"` // m² a litre, one coat, to plan with
	CoverageLow  float64     `json:"coverageLow"`
	CoverageHigh float64     `json:"coverageHigh"`
	CoatsLow     int         `json:"coatsLow"`
	CoatsHigh    int         `json:"coatsHigh"`
	RecoatLow    float64     `json:"recoatLow"` // hours until the next coat
	RecoatHigh   float64     `json:"recoatHigh"`
	CureLow      float64     `json:"cureLow"` // days to full cure; 0 under another coat
	CureHigh     float64     `json:"cureHigh"`
	SandBetween  string      `json:"sandBetween,omitempty"` // grit between coats
	Rate         float64     `json:"rate"`                  // m² an hour by hand; always assumed
	Powder       float64     `json:"powder,omitempty"`      // grams of dye powder for a litre, from memory; 0 for products that come ready
	PowderLow    float64     `json:"powderLow,omitempty"`
	PowderHigh   float64     `json:"powderHigh,omitempty"`
	SelfHeats    bool        `json:"selfHeats"` // rags with it can catch fire by themselves
	Solvent      bool        `json:"solvent"`
	RaisesGrain  bool        `json:"raisesGrain"`
	Note         string      `json:"note,omitempty"`
	Cite         source.Cite `json:"cite"`
}

// Hazard is something that can hurt, with what to do about it.
type Hazard struct {
	ID      string      `json:"id"`
	Hazard  string      `json:"hazard"`
	When    []string    `json:"when"` // kinds of work that call for it
	Figure  string      `json:"figure,omitempty"`
	Unit    string      `json:"unit,omitempty"`
	Control string      `json:"control"`
	Stop    string      `json:"stop,omitempty"` // what must not happen before it is dealt with
	Cite    source.Cite `json:"cite"`
}

//go:embed products.csv
var productsCSV string

//go:embed hazards.csv
var hazardsCSV string

var (
	products = readProducts()
	hazards  = readHazards()
)

func yes(r source.Row, column string) bool { return r.Text(column) == "yes" }

func readProducts() []Product {
	var out []Product
	for _, r := range source.Table("products.csv", productsCSV) {
		x := Product{
			ID: r.Text("id"), Name: r.Text("name"), Purpose: Purpose(r.Text("purpose")),
			Coverage: r.Number("coverage"), CoverageLow: r.Number("coverage-low"), CoverageHigh: r.Number("coverage-high"),
			CoatsLow: int(r.Number("coats-low")), CoatsHigh: int(r.Number("coats-high")),
			RecoatLow: r.Number("recoat-low"), RecoatHigh: r.Number("recoat-high"),
			CureLow: r.Number("cure-low"), CureHigh: r.Number("cure-high"),
			SandBetween: r.Text("sand-between"), Rate: r.Number("rate"),
			SelfHeats: yes(r, "self-heats"), Solvent: yes(r, "solvent"), RaisesGrain: yes(r, "raises-grain"),
			Note: r.Text("note"), Cite: r.Cite(),
		}
		if r.Has("powder") {
			x.Powder, x.PowderLow, x.PowderHigh = r.Number("powder"), r.Number("powder-low"), r.Number("powder-high")
		}
		out = append(out, x)
	}
	return out
}

func readHazards() []Hazard {
	var out []Hazard
	for _, r := range source.Table("hazards.csv", hazardsCSV) {
		out = append(out, Hazard{
			ID: r.Text("id"), Hazard: r.Text("hazard"), When: strings.Split(r.Text("when"), ";"),
			Figure: r.Text("figure"), Unit: r.Text("unit"), Control: r.Text("control"), Stop: r.Text("stop"), Cite: r.Cite(),
		})
	}
	return out
}

// LookupProduct returns the product of an id.
func LookupProduct(id string) (Product, bool) {
	i := slices.IndexFunc(products, func(p Product) bool { return p.ID == id })
	if i < 0 {
		return Product{}, false
	}
	return products[i], true
}

// ProductIDs returns the ids of all products in the order of the table.
func ProductIDs() []string {
	out := make([]string, len(products))
	for i, p := range products {
		out[i] = p.ID
	}
	return out
}

// LookupHazard returns the hazard of an id.
func LookupHazard(id string) (Hazard, bool) {
	i := slices.IndexFunc(hazards, func(h Hazard) bool { return h.ID == id })
	if i < 0 {
		return Hazard{}, false
	}
	return hazards[i], true
}

// Hazards returns all hazards in the order of the table. Read only.
func Hazards() []Hazard { return slices.Clone(hazards) }

// Rules of thumb for quantities and times. Source of each in its comment.
const (
	// FirstCoatOnBareSoftwood multiplies the first coat on bare pine. Assumed.
	FirstCoatOnBareSoftwood = 1.3
	// EndGrainFactor multiplies the area of end grain. Assumed: 2 to 3 times, the middle taken.
	EndGrainFactor = 2.5
	// Waste multiplies litres for what stays in the tin and the brush. Source: [consumer-pages], 10
	// to 15 %, read.
	Waste = 1.15
	// MinimumCelsius is the temperature below which nothing is coated. Common practice.
	MinimumCelsius = 10
)

// DryingFactor returns how much longer coats dry in a cold or damp room.
//
//	f = 1 + (20 - t)/10 below 20 °C, else 1; at least 2 above 80 % relative humidity
//
// t is the temperature in °C, so that 10 °C doubles the time; below MinimumCelsius nothing should be
// coated and the factor of 10 °C is returned. Assumed.
func DryingFactor(t, humidity float64) float64 {
	f := 1 + max(0, 20-max(MinimumCelsius, t))/10
	if humidity > 80 {
		f = max(f, 2)
	}
	return f
}

func mustKnow(ok bool, table, what string) {
	if !ok {
		panic(fmt.Sprintf("coating: %s names unknown %s", table, what))
	}
}

// FindProduct returns the product that a person means by its id or name, whatever the case and hyphens.
func FindProduct(name string) (Product, bool) {
	for _, x := range products {
		if problem.SameName(x.ID, name) || problem.SameName(x.Name, name) {
			return x, true
		}
	}
	return Product{}, false
}

// ProductNames returns the names of all products as a person writes them, in the order of the table.
func ProductNames() []string {
	out := make([]string, len(products))
	for i, x := range products {
		out[i] = x.Name
	}
	return out
}
