package chance

import (
	_ "embed"

	"longgrain/internal/ground/source"
	"longgrain/internal/ground/stats"
)

//go:embed scatter.csv
var scatterCSV string

//go:embed correlation.csv
var correlationCSV string

// spread is a row of the table of scatter.
type spread struct {
	law  stats.Law
	cov  float64
	cite source.Cite
}

var scatter = readScatter()

func readScatter() map[string]spread {
	out := map[string]spread{}
	for _, r := range source.Table("scatter.csv", scatterCSV) {
		out[r.Text("id")] = spread{stats.Law(r.Text("law")), r.Number("cov"), r.Cite()}
	}
	return out
}

// correlations are those of the model code, repaired.
type correlations struct {
	of       map[string]map[string]float64
	smallest float64 // eigenvalue as published
	cite     source.Cite
}

// leastEigenvalue is what negative eigenvalues are raised to: small beside 1, and far above rounding.
const leastEigenvalue = 1e-4

var repaired = readCorrelations()

// readCorrelations reads the published matrix, which no variables can have, and repairs it.
func readCorrelations() correlations {
	rows := source.Table("correlation.csv", correlationCSV)
	matrix := make([][]float64, len(rows))
	for i, r := range rows {
		for _, other := range rows {
			matrix[i] = append(matrix[i], r.Number(other.Text("id")))
		}
	}
	fixed, smallest := stats.RepairCorrelation(matrix, leastEigenvalue)
	out := correlations{map[string]map[string]float64{}, smallest, rows[0].Cite()}
	for i, r := range rows {
		of := map[string]float64{}
		for j, other := range rows {
			of[other.Text("id")] = fixed[i][j]
		}
		out.of[r.Text("id")] = of
	}
	return out
}

// factorOf returns the Cholesky factor of the repaired correlations of some properties.
func factorOf(names ...string) [][]float64 {
	r := make([][]float64, len(names))
	for i, a := range names {
		for _, b := range names {
			r[i] = append(r[i], repaired.of[a][b])
		}
	}
	l, ok := stats.Cholesky(r)
	if !ok {
		panic("chance: the repaired correlations have no factor")
	}
	return l
}

var woodFactor = factorOf("bending", "modulus", "shear")

var citeMethod = source.Choice("docs/methods/scatter.md")

// loadMean returns the mean of the heaviest load of a life over the load of the table: the latter is met by 5 of 100 pieces.
func loadMean() float64 {
	l := scatter["load"]
	return 1 / stats.SpreadOf(l.law, 1, l.cov).Quantile(tableQuantile)
}

// tableQuantile is the share of pieces that never meet more than the load of the table. Assumed: nobody has published it.
const tableQuantile = 0.95
