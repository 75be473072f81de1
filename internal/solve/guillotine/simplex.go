package guillotine

import "math"

// master is the linear programme of column generation,
//
//	min sum c_j x_j  with  sum a_ij x_j >= d_i for parts,  sum a_kj x_j <= n_k for limited stock,  x >= 0.
//
// It is solved by the revised simplex method with an explicit inverse, warm from column to column. Every part row has
// an expensive artificial column so that a basis always exists.
// Reference: Chvatal, Linear Programming (1983), chapters 7 and 13.
type master struct {
	rows    int
	rhs     []float64
	columns []lpColumn
	basis   []int       // by row: column
	inverse [][]float64 // of the basis matrix
	x       []float64   // by row: value of the basic column
	dual    []float64
	pivots  int
}

type lpColumn struct {
	cost    float64
	row     []int
	entry   []float64
	pattern int // index into the caller's patterns, -1 for slack and artificial columns
}

const (
	lpTolerance = 1e-9 // on reduced costs and pivots; data are of the order of 1 to 1e6
	reinvert    = 120  // pivots between rebuilding the inverse, far below where rounding shows
)

// newMaster returns the programme without patterns. missing is the price of a part that is not made.
func newMaster(demand []int, stock []int, missing float64) *master {
	m := &master{rows: len(demand) + len(stock)}
	for i, d := range demand {
		m.rhs = append(m.rhs, float64(d))
		m.columns = append(m.columns, lpColumn{missing, []int{i}, []float64{1}, -1})
	}
	for k, n := range stock {
		m.rhs = append(m.rhs, float64(n))
		m.columns = append(m.columns, lpColumn{0, []int{len(demand) + k}, []float64{1}, -1})
	}
	for i := range demand {
		m.columns = append(m.columns, lpColumn{0, []int{i}, []float64{-1}, -1})
	}
	m.inverse = make([][]float64, m.rows)
	for i := range m.inverse {
		m.inverse[i] = make([]float64, m.rows)
		m.inverse[i][i] = 1
		m.basis = append(m.basis, i)
	}
	m.x = append([]float64(nil), m.rhs...)
	m.dual = make([]float64, m.rows)
	return m
}

// solve runs the simplex method to the end. Ties go to the lowest index; after a run of steps without progress the
// lowest index alone decides (Bland), which cannot cycle.
func (m *master) solve() {
	stalled := 0
	direction := make([]float64, m.rows)
	for range 50 * (m.rows + len(m.columns)) {
		m.price()
		enter, worst := -1, -lpTolerance*m.scale()
		for j := range m.columns {
			if rc := m.reduced(j); rc < worst {
				enter, worst = j, rc
				if stalled > 2*m.rows {
					break
				}
			}
		}
		if enter < 0 {
			return
		}
		m.transform(enter, direction)
		leave, step := -1, math.Inf(1)
		for i, d := range direction {
			if d > 1e-7 {
				ratio := max(0, m.x[i]) / d
				if ratio < step-1e-12 || ratio < step+1e-12 && leave >= 0 && m.basis[i] < m.basis[leave] {
					leave, step = i, ratio
				}
			}
		}
		if leave < 0 {
			return
		}
		if stalled++; step > 1e-9 {
			stalled = 0
		}
		m.pivot(enter, leave, step, direction)
	}
}

// scale is the size of the costs, to judge a reduced cost by.
func (m *master) scale() float64 { return max(1, m.columns[0].cost*1e-3) }

func (m *master) price() {
	clear(m.dual)
	for i, j := range m.basis {
		if c := m.columns[j].cost; c != 0 {
			for k, v := range m.inverse[i] {
				m.dual[k] += c * v
			}
		}
	}
}

func (m *master) reduced(j int) float64 {
	c := &m.columns[j]
	rc := c.cost
	for n, i := range c.row {
		rc -= m.dual[i] * c.entry[n]
	}
	return rc
}

// transform writes the column in terms of the basis.
func (m *master) transform(j int, out []float64) {
	c := &m.columns[j]
	for i := range out {
		sum := 0.0
		for n, r := range c.row {
			sum += m.inverse[i][r] * c.entry[n]
		}
		out[i] = sum
	}
}

func (m *master) pivot(enter, leave int, step float64, direction []float64) {
	for i, d := range direction {
		if i != leave {
			m.x[i] -= step * d
		}
	}
	m.x[leave], m.basis[leave] = step, enter
	m.eliminate(m.inverse, leave, direction)
	if m.pivots++; m.pivots%reinvert == 0 {
		m.rebuild()
	}
}

// eliminate applies one Gauss-Jordan step to the rows.
func (m *master) eliminate(rows [][]float64, leave int, direction []float64) {
	top := rows[leave]
	f := 1 / direction[leave]
	for k := range top {
		top[k] *= f
	}
	for i, d := range direction {
		if i == leave || d == 0 {
			continue
		}
		row := rows[i]
		for k, v := range top {
			row[k] -= d * v
		}
	}
}

// rebuild computes inverse and basic values afresh from the basis, choosing pivots by size.
func (m *master) rebuild() {
	old := m.inverse
	fresh := make([][]float64, m.rows)
	for i := range fresh {
		fresh[i] = make([]float64, m.rows)
		fresh[i][i] = 1
	}
	m.inverse = fresh
	basis := append([]int(nil), m.basis...)
	used := make([]bool, m.rows)
	direction := make([]float64, m.rows)
	for _, j := range basis {
		m.transform(j, direction)
		row := -1
		for i, d := range direction {
			if !used[i] && (row < 0 || math.Abs(d) > math.Abs(direction[row])) {
				row = i
			}
		}
		if math.Abs(direction[row]) < 1e-10 { // numerically singular: keep what we had
			m.inverse = old
			copy(m.basis, basis)
			return
		}
		used[row] = true
		m.basis[row] = j
		m.eliminate(m.inverse, row, direction)
	}
	for i, row := range m.inverse {
		m.x[i] = 0
		for k, v := range row {
			m.x[i] += v * m.rhs[k]
		}
	}
}
