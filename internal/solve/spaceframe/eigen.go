package spaceframe

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
)

// pair is an eigenvalue and its vector over the equations.
type pair struct {
	value  float64
	vector []float64
}

// Limits of the subspace iteration.
const (
	guardVectors = 6    // vectors beyond the wanted ones; they speed up the last wanted one
	subspaceMax  = 200  // iterations for one size of subspace
	subspaceStep = 1e-9 // relative change at which an eigenvalue counts as settled
	negligible   = 1e-9 // share of the largest below which an inverse eigenvalue is rounding
	sturmMargin  = 1e-6 // relative distance below an eigenvalue at which those before it are counted
)

// lowestPairs returns up to n of the lowest positive eigenvalues of K x = lambda B x, rising. K is factored and
// positive definite; shifted returns K - sigma B, for counting.
//
// Idea: subspace iteration with K^-1 B and Rayleigh-Ritz. Then the negative pivots of K - sigma B just below the
// highest value found count how many there are; if any was missed the subspace is doubled. B may be
// indefinite: negative eigenvalues take up room in the subspace and are dropped.
//
// Reference: Bathe and Wilson, subspace iteration with Sturm check; Bathe 2013, doi 10.1016/j.compstruc.2012.06.002.
func lowestPairs(k, b *skyline, n int, shifted func(sigma float64) *skyline) []pair {
	size := len(k.first)
	for p := min(2*n+guardVectors, size); ; p = min(2*p, size) {
		found := iterateSubspace(k, b, n, p)
		if p == size || len(found) == 0 {
			return found
		}
		last := found[len(found)-1].value * (1 - sturmMargin)
		before := 0
		for _, f := range found {
			if f.value < last {
				before++
			}
		}
		if _, count := shifted(last).factor(); count == before {
			return found
		}
	}
}

func iterateSubspace(k, b *skyline, n, p int) []pair {
	x := startVectors(b, p)
	var last []float64
	for range subspaceMax {
		x = powerStep(k, b, x)
		values, turned := ritz(b, x)
		x = turned
		found := positive(values, n)
		if settled(found, last) {
			return pairs(found, x)
		}
		last = found
	}
	return pairs(last, x)
}

// inverse is x with K x kept beside it.
type inverse struct{ x, kx []float64 }

// powerStep returns K^-1 B x and B x for each vector.
func powerStep(k, b *skyline, x []inverse) []inverse {
	next := make([]inverse, len(x))
	for i := range x {
		y := make([]float64, len(x[i].x))
		b.times(x[i].x, y)
		next[i] = inverse{x: slices.Clone(y), kx: y}
		k.solve(next[i].x)
	}
	return next
}

// ritz solves B x = mu K x within the space of the vectors and returns mu, falling, and the vectors of it, of unit
// size in K. Directions that K does not see are dropped.
func ritz(b *skyline, x []inverse) ([]float64, []inverse) {
	p := len(x)
	for i := range x { // unit size first, so that the smallness of a direction means something
		norm := math.Sqrt(max(dot(x[i].x, x[i].kx), 0))
		if norm > 0 {
			scaleVector(x[i].x, 1/norm)
			scaleVector(x[i].kx, 1/norm)
		}
	}
	kr := mat.NewSymDense(p, nil)
	for i := range p {
		for j := i; j < p; j++ {
			kr.SetSym(i, j, (dot(x[i].x, x[j].kx)+dot(x[j].x, x[i].kx))/2)
		}
	}
	var eig mat.EigenSym
	if !eig.Factorize(kr, true) {
		return nil, nil
	}
	values, vectors := eig.Values(nil), mat.Dense{}
	eig.VectorsTo(&vectors)
	var base []inverse
	for c := p - 1; c >= 0 && values[c] > 1e-13*values[p-1]; c-- {
		base = append(base, combine(x, &vectors, c, 1/math.Sqrt(values[c])))
	}
	br := mat.NewSymDense(len(base), nil)
	bx := make([]float64, len(b.first))
	for j := range base {
		b.times(base[j].x, bx)
		for i := 0; i <= j; i++ {
			br.SetSym(i, j, dot(base[i].x, bx))
		}
	}
	if !eig.Factorize(br, true) {
		return nil, nil
	}
	values = eig.Values(nil)
	vectors.Reset()
	eig.VectorsTo(&vectors)
	mu := make([]float64, 0, len(base))
	turned := make([]inverse, 0, len(base))
	for c := len(base) - 1; c >= 0; c-- {
		mu = append(mu, values[c])
		turned = append(turned, combine(base, &vectors, c, 1))
	}
	return mu, turned
}

func combine(x []inverse, by *mat.Dense, column int, factor float64) inverse {
	r := inverse{x: make([]float64, len(x[0].x)), kx: make([]float64, len(x[0].x))}
	for i := range x {
		f := by.At(i, column) * factor
		for q := range r.x {
			r.x[q] += f * x[i].x[q]
			r.kx[q] += f * x[i].kx[q]
		}
	}
	return r
}

func scaleVector(v []float64, f float64) {
	for i := range v {
		v[i] *= f
	}
}

// positive returns the first n of mu, falling, that are positive beyond rounding.
func positive(mu []float64, n int) []float64 {
	if len(mu) == 0 {
		return nil
	}
	largest := max(abs(mu[0]), abs(mu[len(mu)-1]))
	kept := 0
	for kept < min(n, len(mu)) && mu[kept] > negligible*largest {
		kept++
	}
	return mu[:kept]
}

func settled(now, last []float64) bool {
	if len(now) != len(last) {
		return false
	}
	for i := range now {
		if abs(now[i]-last[i]) > subspaceStep*abs(now[i]) {
			return false
		}
	}
	return true
}

func pairs(mu []float64, x []inverse) []pair {
	found := make([]pair, len(mu))
	for i, m := range mu {
		found[i] = pair{1 / m, x[i].x}
	}
	return found
}

// startVectors returns p vectors: the diagonal of b, then numbers from a fixed sequence.
func startVectors(b *skyline, p int) []inverse {
	n := len(b.first)
	x := make([]inverse, p)
	seed := uint32(1)
	for i := range x {
		x[i].x = make([]float64, n)
		for q := range n {
			if i == 0 {
				x[i].x[q] = b.value[b.start[q+1]-1]
				continue
			}
			seed = seed*1664525 + 1013904223 // linear congruential sequence
			x[i].x[q] = float64(seed)/(1<<32) - 0.5
		}
	}
	return x
}
