package glueup

import (
	_ "embed"

	"longgrain/internal/ground/source"
)

//go:embed rules.csv
var rulesCSV string

var rules = readRules()

// rule is a figure of rules.csv.
type rule struct {
	value float64
	unit  string
	cite  source.Cite
}

func readRules() map[string]rule {
	out := map[string]rule{}
	for _, r := range source.Table("rules.csv", rulesCSV) {
		out[r.Text("id")] = rule{r.Number("value"), r.Text("unit"), r.Cite()}
	}
	return out
}

// figure returns a rule by its id; it panics when the table has none.
func figure(id string) rule {
	r, ok := rules[id]
	if !ok {
		panic("glueup: rules.csv has no " + id)
	}
	return r
}
