package schedule

import (
	_ "embed"

	"longgrain/internal/ground/source"
)

//go:embed rates.csv
var ratesCSV string

var rates = readRates()

func readRates() map[string]float64 {
	out := map[string]float64{}
	for _, r := range source.Table("rates.csv", ratesCSV) {
		out[r.Text("id")] = r.Number("value")
	}
	return out
}

// rate returns a figure of the time model; it panics when the table has none.
func rate(id string) float64 {
	v, ok := rates[id]
	if !ok {
		panic("schedule: rates.csv has no " + id)
	}
	return v
}
