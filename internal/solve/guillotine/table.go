package guillotine

import (
	"math"
	"slices"
	"sort"
)

// table makes patterns with any number of stages for one size of plate.
//
// Idea: the best way to cut a plate is the best way to cut it in two and then each half; by rising size this fills a
// table over all plates whose sides are sums of part sizes. Without demand (bound) a plate has one best value. Within
// the demand (build) every plate keeps the few best ways that keep to it, since the best one may use up what the other
// half needs. When the table would be too large, sizes are divided by a scale: rounding parts down and the plate down
// gives a valid bound, rounding parts up a valid plan.
// References: Gilmore, Gomory, The theory and computation of knapsack functions, Operations Research 14 (1966),
// doi:10.1287/opre.14.6.1045; Herz, Recursive computational procedure for two-dimensional stock cutting, IBM Journal of
// Research and Development 16 (1972), doi:10.1147/rd.165.0462.
type table struct {
	upper *halves   // over sizes that may only be rated too small
	lower *halves   // over sizes that may only be rated too large; the same as upper when nothing is scaled
	width int       // ways kept per plate
	value []float64 // of the last bound
}

// halves is the table over positions xs and ys.
type halves struct {
	shapes       []shape // true sizes
	atX, atY     []int   // by shape: the plate it needs
	xs, ys       []int
	downX, downY [][]int32 // downX[i][a]: position left of xs[i] after cutting off xs[a]; only for a up to the middle
	best         []float64 // ys by xs, for bound only
}

// mostPositions bounds the positions of a side of a table before it is scaled.
const mostPositions = 20_000

// tableWork bounds the additions to fill a table once.
const tableWork = 40_000_000

func newTable(in Instance, u Rect) *table {
	var shapes []shape
	for _, s := range in.shapes() {
		if s.w <= u.W+in.Kerf && s.h <= u.H+in.Kerf {
			shapes = append(shapes, s)
		}
	}
	for scale := 1; ; scale *= 2 {
		t := &table{width: 1}
		t.upper = newHalves(in, shapes, u.W+in.Kerf, u.H+in.Kerf, scale, 0)
		if t.lower = t.upper; scale > 1 {
			t.lower = newHalves(in, shapes, u.W+in.Kerf, u.H+in.Kerf, scale, scale-1)
		}
		if max(t.upper.work(), t.lower.work()) <= tableWork {
			return t
		}
	}
}

// newHalves makes an empty table for sizes (size + extra) / scale.
func newHalves(in Instance, shapes []shape, w, h, scale, extra int) *halves {
	t := &halves{}
	var ws, hs, limits []int
	for _, s := range shapes {
		sw, sh := max(1, (s.w+extra)/scale), max(1, (s.h+extra)/scale)
		if sw <= w/scale && sh <= h/scale {
			t.shapes = append(t.shapes, s)
			ws, hs, limits = append(ws, sw), append(hs, sh), append(limits, in.Parts[s.part].Demand)
		}
	}
	t.xs, t.ys = allSums(ws, limits, w/scale), allSums(hs, limits, h/scale)
	for n := range t.shapes {
		t.atX = append(t.atX, sort.SearchInts(t.xs, ws[n]))
		t.atY = append(t.atY, sort.SearchInts(t.ys, hs[n]))
	}
	if t.work() <= tableWork {
		t.downX, t.downY = differences(t.xs), differences(t.ys)
	}
	return t
}

// allSums is sums without the even grid: every position when there are too many sums.
func allSums(sizes, limits []int, capacity int) []int {
	points, exact := sums(sizes, limits, capacity)
	if exact {
		return points
	}
	points = make([]int, min(capacity, mostPositions)+1) // cut short, work refuses it
	for i := range points {
		points[i] = i
	}
	return points
}

// work returns the number of additions to fill the table once.
func (t *halves) work() int {
	x, y := len(t.xs), len(t.ys)
	if x > mostPositions || y > mostPositions {
		return math.MaxInt
	}
	return x * y / 4 * (x + y)
}

func differences(positions []int) [][]int32 {
	out := make([][]int32, len(positions))
	for i, p := range positions {
		b := i
		for a := 1; 2*positions[a] <= p; a++ {
			for positions[b] > p-positions[a] {
				b--
			}
			out[i] = append(out[i], int32(b))
		}
	}
	return out
}

// bound returns the most value of any pattern when demand does not count.
func (t *table) bound(value []float64, _ []int) float64 {
	t.value = append(t.value[:0], value...)
	return t.upper.fill(value)
}

// relaxed returns the pattern of the bound unless the table is scaled.
func (t *table) relaxed() *piece {
	if t.upper != t.lower {
		return nil
	}
	return t.upper.trace(t.value, len(t.upper.xs)-1, len(t.upper.ys)-1)
}

// widen doubles the ways kept every round.
func (t *table) widen(round int) { t.width = 1 << min(round, widest) }

// fill computes the best value of every plate and returns that of the largest.
func (t *halves) fill(value []float64) float64 {
	nx := len(t.xs)
	t.best = slices.Grow(t.best[:0], nx*len(t.ys))[:nx*len(t.ys)]
	clear(t.best)
	for n, s := range t.shapes {
		at := &t.best[t.atY[n]*nx+t.atX[n]]
		*at = max(*at, value[s.part])
	}
	for j := 1; j < len(t.ys); j++ {
		row := t.best[j*nx:][:nx]
		for i, v := range t.best[(j-1)*nx:][:nx] {
			row[i] = max(row[i], v)
		}
		for a, b := range t.downY[j] {
			low, high := t.best[(a+1)*nx:][:len(row)], t.best[int(b)*nx:][:len(row)]
			for i := range row {
				if v := low[i] + high[i]; v > row[i] {
					row[i] = v
				}
			}
		}
		for i := 1; i < nx; i++ {
			best := max(row[i], row[i-1])
			for a, b := range t.downX[i] {
				if v := row[a+1] + row[b]; v > best {
					best = v
				}
			}
			row[i] = best
		}
	}
	return t.best[len(t.best)-1]
}

// trace returns a pattern with the value in the table, nil if that is zero.
func (t *halves) trace(value []float64, i, j int) *piece {
	nx := len(t.xs)
	at := func(i, j int) float64 { return t.best[j*nx+i] }
	want := at(i, j) - 1e-9
	if want <= 0 {
		return nil
	}
	for i > 0 && at(i-1, j) >= want {
		i--
	}
	for j > 0 && at(i, j-1) >= want {
		j--
	}
	for n, s := range t.shapes {
		if t.atX[n] <= i && t.atY[n] <= j && value[s.part] >= want {
			return s.leaf()
		}
	}
	for a, b := range t.downY[j] {
		if at(i, a+1)+at(i, int(b)) >= want {
			return join(Horizontal, t.trace(value, i, a+1), t.trace(value, i, int(b)))
		}
	}
	for a, b := range t.downX[i] {
		if at(a+1, j)+at(int(b), j) >= want {
			return join(Vertical, t.trace(value, a+1, j), t.trace(value, int(b), j))
		}
	}
	return nil
}

// join puts two pieces together; pieces divided in the same direction become one row of children.
func join(cut Direction, a, b *piece) *piece {
	if a == nil || b == nil {
		if a == nil {
			return b
		}
		return a
	}
	var kids []*piece
	for _, p := range []*piece{b, a} {
		if p.cut == cut {
			kids = append(kids, p.kids...)
		} else {
			kids = append(kids, p)
		}
	}
	return stack(cut, kids)
}
