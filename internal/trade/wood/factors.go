package wood

import (
	_ "embed"
	"fmt"

	"longgrain/internal/ground/source"
)

//go:embed factors.csv
var factorsCSV string

type factorKey struct{ kind, of string }

var factors = readFactors()

func readFactors() map[factorKey]Figure[float64] {
	out := map[factorKey]Figure[float64]{}
	for _, r := range source.Table("factors.csv", factorsCSV) {
		key := factorKey{r.Text("kind"), r.Text("case")}
		if _, twice := out[key]; twice {
			panic(fmt.Sprintf("wood: factors.csv gives %v twice", key))
		}
		out[key] = Figure[float64]{valueOf(r), r.Cite()}
	}
	return out
}

func lookupFactor(kind, of string) (Figure[float64], bool) {
	f, ok := factors[factorKey{kind, of}]
	return f, ok
}

// mustFactor returns a factor for one of our own constants; it panics when the table lacks it.
func mustFactor(kind, of string) Figure[float64] {
	f, ok := lookupFactor(kind, of)
	if !ok {
		panic(fmt.Sprintf("wood: no %s for %q", kind, of))
	}
	return f
}

// fraction turns a figure printed in percent into a ratio.
func fraction(f Figure[float64]) Figure[float64] {
	return Figure[float64]{f.Value / 100, f.Cite}
}
