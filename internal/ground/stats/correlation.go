package stats

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"
)

// RepairCorrelation returns the nearest thing to a published matrix of correlations that can be one: symmetric, ones on the
// diagonal, no eigenvalue below least.
//
//	R = V diag(max(λ, least)) Vᵀ,  R_ij / √(R_ii R_jj)
//
// r is square and symmetric with ones on the diagonal; least is above 0 and small. It returns the smallest eigenvalue of r too; if
// that is not below least, r comes back unchanged. Panics if r is not square and symmetric, or cannot be decomposed.
//
// Source: [rebonato-1999] spectral method, from memory. It is not the nearest matrix in any norm, but near it.
func RepairCorrelation(r [][]float64, least float64) (repaired [][]float64, smallest float64) {
	n := len(r)
	s := mat.NewSymDense(n, nil)
	for i := range r {
		if len(r[i]) != n {
			panic(fmt.Sprintf("stats: row %d of %d has %d correlations", i, n, len(r[i])))
		}
		for j := range i + 1 {
			if r[i][j] != r[j][i] {
				panic(fmt.Sprintf("stats: correlations %d, %d differ from %d, %d", i, j, j, i))
			}
			s.SetSym(i, j, r[i][j])
		}
	}
	var e mat.EigenSym
	if !e.Factorize(s, true) {
		panic("stats: correlations cannot be decomposed")
	}
	values := e.Values(nil)
	smallest = values[0]
	out := make([][]float64, n)
	for i := range out {
		out[i] = append([]float64(nil), r[i]...)
	}
	if smallest >= least {
		return out, smallest
	}
	var v mat.Dense
	e.VectorsTo(&v)
	for i := range n {
		for j := range n {
			sum := 0.0
			for k, value := range values {
				sum += v.At(i, k) * max(value, least) * v.At(j, k)
			}
			out[i][j] = sum
		}
	}
	size := make([]float64, n)
	for i := range n {
		size[i] = math.Sqrt(out[i][i])
	}
	for i := range n {
		for j := range i {
			c := (out[i][j] + out[j][i]) / 2 / (size[i] * size[j])
			out[i][j], out[j][i] = c, c
		}
		out[i][i] = 1
	}
	return out, smallest
}

// Cholesky returns the lower triangle L with L Lᵀ = r, so that L z has the correlations r when the z have none. False if r is not positive
// definite.
func Cholesky(r [][]float64) ([][]float64, bool) {
	n := len(r)
	l := make([][]float64, n)
	for i := range n {
		l[i] = make([]float64, n)
		for j := range i + 1 {
			sum := r[i][j]
			for k := range j {
				sum -= l[i][k] * l[j][k]
			}
			if i != j {
				l[i][j] = sum / l[j][j]
				continue
			}
			if !(sum > 0) {
				return nil, false
			}
			l[i][i] = math.Sqrt(sum)
		}
	}
	return l, true
}
