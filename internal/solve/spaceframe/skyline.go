package spaceframe

import "math"

// skyline is a symmetric matrix that keeps, in each row, what lies from the first entry that may differ from
// zero to the diagonal. Factor turns it into L D L^T in place.
//
// Idea: the profile does not grow when factored, so after a bandwidth-reducing ordering the work is about
// n w^2/2 multiplications for rows w long. Signs of D count the negative eigenvalues (Sylvester's law).
// Leaves out pivoting: it is meant for stiffness matrices and for shifts of them that are not singular.
//
// Reference: Jennings, A compact storage scheme for the solution of symmetric linear simultaneous equations,
// Computer Journal 9, 1966, doi 10.1093/comjnl/9.3.281.
type skyline struct {
	first []int // first column of each row
	start []int // where each row begins in value; one more entry at the end
	value []float64
	pivot []float64
	diag  []float64 // diagonal before factoring
}

func newSkyline(first []int) *skyline {
	n := len(first)
	s := &skyline{first: first, start: make([]int, n+1), pivot: make([]float64, n), diag: make([]float64, n)}
	for i, f := range first {
		s.start[i+1] = s.start[i] + i - f + 1
	}
	s.value = make([]float64, s.start[n])
	return s
}

// sameShape returns an empty matrix with the same profile.
func (s *skyline) sameShape() *skyline {
	n := len(s.first)
	return &skyline{first: s.first, start: s.start, value: make([]float64, len(s.value)), pivot: make([]float64, n), diag: make([]float64, n)}
}

// add adds v at row i and column j of the lower half.
func (s *skyline) add(i, j int, v float64) {
	if j > i {
		return
	}
	s.value[s.start[i]+j-s.first[i]] += v
}

// weakPivot is the share of a diagonal entry below which its pivot counts as zero. Rounding leaves about 1e-15
// of a true mechanism; the softest honest frames met stay above 1e-10.
const weakPivot = 1e-12

// factor turns the matrix into L D L^T. It returns the rows whose pivot vanished, which it replaces by the
// diagonal entry (as if held by a spring) so that the rest is still found, and the number of negative pivots.
func (s *skyline) factor() (weak []int, negative int) {
	for i := range s.first {
		fi := s.first[i]
		row := s.value[s.start[i] : s.start[i+1]-1]
		for j := fi; j < i; j++ {
			fj := s.first[j]
			lo := max(fi, fj)
			row[j-fi] -= dot(row[lo-fi:j-fi], s.value[s.start[j]+lo-fj:s.start[j+1]-1])
		}
		d := s.value[s.start[i+1]-1]
		s.diag[i] = d
		for j, v := range row {
			l := v / s.pivot[fi+j]
			d -= v * l
			row[j] = l
		}
		if math.Abs(d) <= weakPivot*math.Abs(s.diag[i]) {
			weak = append(weak, i)
			if d = math.Abs(s.diag[i]); d == 0 {
				d = 1
			}
		}
		if d < 0 {
			negative++
		}
		s.pivot[i] = d
	}
	return weak, negative
}

// solve replaces b by the solution of the factored system.
func (s *skyline) solve(b []float64) {
	for i := range b {
		fi := s.first[i]
		b[i] -= dot(s.value[s.start[i]:s.start[i+1]-1], b[fi:i])
	}
	for i := range b {
		b[i] /= s.pivot[i]
	}
	s.solveTransposed(b)
}

// solveTransposed replaces b by the solution of L^T x = b.
func (s *skyline) solveTransposed(b []float64) {
	for i := len(b) - 1; i >= 0; i-- {
		x := b[i]
		if x == 0 {
			continue
		}
		row := s.value[s.start[i] : s.start[i+1]-1]
		part := b[s.first[i]:i]
		for j, l := range row {
			part[j] -= l * x
		}
	}
}

// times returns the product of the matrix, not yet factored, with x in y.
func (s *skyline) times(x, y []float64) {
	for i := range x {
		fi := s.first[i]
		row := s.value[s.start[i] : s.start[i+1]-1]
		y[i] = dot(row, x[fi:i]) + s.value[s.start[i+1]-1]*x[i]
		for j, v := range row {
			y[fi+j] += v * x[i]
		}
	}
}

// minimumRatio returns the smallest pivot as a share of its diagonal entry, and its row.
func (s *skyline) minimumRatio() (ratio float64, row int) {
	ratio = math.Inf(1)
	for i, d := range s.pivot {
		if s.diag[i] != 0 && d/s.diag[i] < ratio {
			ratio, row = d/s.diag[i], i
		}
	}
	return ratio, row
}

func dot(a, b []float64) float64 {
	b = b[:len(a)]
	var s0, s1, s2, s3 float64
	i := 0
	for ; i+4 <= len(a); i += 4 {
		s0 += a[i] * b[i]
		s1 += a[i+1] * b[i+1]
		s2 += a[i+2] * b[i+2]
		s3 += a[i+3] * b[i+3]
	}
	for ; i < len(a); i++ {
		s0 += a[i] * b[i]
	}
	return s0 + s1 + s2 + s3
}
