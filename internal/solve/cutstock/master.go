package cutstock

import "math"

// master is the linear relaxation over a growing list of patterns:
//
//	minimise sum_j c_j x_j
//	sum_j a_ij x_j >= need_i           for each type in need
//	low_k <= sum_{j of kind k} x_j <= free_k   for kinds with such limits;  x >= 0
//
// solved by the primal simplex method with an explicit inverse. Every right side is raised by a tiny amount that
// differs from row to row, which keeps the degenerate problems of equal demands from stalling; the prices stay
// valid because prices do not depend on the right side. Rounding errors cannot make a bound false: bounds are
// recomputed in whole numbers from rounded prices (see priceBound).
// Reference: Gilmore and Gomory 1961; the revised simplex method as in V. Chvatal, Linear Programming (1983), ch. 7.
type master struct {
	p       *problem
	budget  *budget
	rows    int
	items   []int // types with need; type items[r] has row r
	itemRow []int // type -> row, or -1 for a type without need
	lowRow  []int // kind -> row of its lower limit, or -1
	topRow  []int // kind -> row of its upper limit, or -1
	atLeast int   // rows below this are >=, the others <=
	cols    []column
	start   []float64 // cost of the artificial variable of each >= row
	rhs     []float64
	basis   []int     // variable of each row, coded as below
	inBasis []bool    // of each column
	inverse []float64 // rows x rows
	x       []float64 // value of the basic variable of each row
	y       []float64 // price of each row
	alpha   []float64 // entering column in terms of the basis
	nonzero []int     // scratch
}

// column is a pattern with its cost.
type column struct {
	pattern
	cost float64
}

// Variables other than columns are negative: logical r is -1-r, artificial r is -1-rows-r.

const (
	costTolerance  = 1e-9 // reduced costs above -costTolerance*scale count as zero
	pivotTolerance = 1e-9
	perturbation   = 1e-6
)

// newMaster returns a master of a task without any column but the empty patterns that lower limits call for. Patterns
// that hold a type without need must not be added to it.
func newMaster(p *problem, b *budget, t task) *master {
	m := &master{p: p, budget: b, itemRow: make([]int, len(p.size))}
	for i := range p.size {
		m.itemRow[i] = -1
		if t.need[i] > 0 {
			m.itemRow[i] = m.addRow(float64(t.need[i]))
			m.items = append(m.items, i)
			m.start = append(m.start, p.startPrice(i))
		}
	}
	m.lowRow = m.limitRows(t.low, func(k int) bool { return t.low[k] > 0 })
	for range m.rows - len(m.items) {
		m.start = append(m.start, p.dearestPiece())
	}
	m.atLeast = m.rows
	m.topRow = m.limitRows(t.free, func(k int) bool { return p.kinds[k].limited || t.free[k] < p.kinds[k].limit })
	m.basis = make([]int, m.rows)
	m.inverse = make([]float64, m.rows*m.rows)
	m.y = make([]float64, m.rows)
	m.alpha = make([]float64, m.rows)
	m.x = append([]float64(nil), m.rhs...)
	copy(m.y, m.start)
	for r := range m.rows {
		m.inverse[r*m.rows+r] = 1
		m.basis[r] = -1 - r
		if r < m.atLeast {
			m.basis[r] -= m.rows
		}
	}
	for k, r := range m.lowRow {
		if r >= 0 {
			m.add(pattern{kind: k})
		}
	}
	return m
}

// limitRows adds a row for each kind that has a limit.
func (m *master) limitRows(limit []int64, has func(k int) bool) []int {
	rows := make([]int, len(limit))
	for k, n := range limit {
		rows[k] = -1
		if has(k) {
			rows[k] = m.addRow(float64(n))
		}
	}
	return rows
}

// addRow appends a row with a slightly raised right side.
func (m *master) addRow(rhs float64) int {
	m.rhs = append(m.rhs, rhs+perturbation*(1+0.5*math.Sin(float64(3*m.rows+1))))
	m.rows++
	return m.rows - 1
}

// startPrice is the cost of meeting one piece of a type by nothing: high enough that a pattern is always
// cheaper unless limited stock is scarce.
func (p *problem) startPrice(i int) float64 {
	price := 0.0
	for _, k := range p.kinds {
		if k.capacity < p.size[i] {
			continue
		}
		if !k.limited {
			return float64(k.cost) * 1.001
		}
		price = max(price, float64(k.cost))
	}
	return 100 * (price + 1)
}

// dearestPiece is more than any piece of stock costs.
func (p *problem) dearestPiece() float64 {
	most := int64(0)
	for _, k := range p.kinds {
		most = max(most, k.cost)
	}
	return 2 * float64(most+1)
}

// add appends a column unless an equal one would be of no use; the caller sees to that.
func (m *master) add(pt pattern) {
	m.cols = append(m.cols, column{pt, float64(m.p.net(pt.kind, m.p.used(pt.items)))})
	m.inBasis = append(m.inBasis, false)
}

// reduced returns the reduced cost of column j at the present prices.
func (m *master) reduced(j int) float64 {
	c := &m.cols[j]
	d := c.cost
	for _, e := range c.items {
		d -= m.y[m.itemRow[e.item]] * float64(e.qty)
	}
	return d - m.kindPrice(c.kind)
}

// kindPrice returns the price of taking a piece of kind k: positive while more pieces must be taken, negative while
// no more may be.
func (m *master) kindPrice(k int) float64 {
	price := 0.0
	if r := m.lowRow[k]; r >= 0 {
		price += m.y[r]
	}
	if r := m.topRow[k]; r >= 0 {
		price += m.y[r]
	}
	return price
}

// reducedOf returns the reduced cost of a column or a logical variable.
func (m *master) reducedOf(v int) float64 {
	switch {
	case v >= 0:
		return m.reduced(v)
	case -1-v < m.atLeast:
		return m.y[-1-v]
	}
	return -m.y[-1-v]
}

// solve pivots at most so many times and reports whether no column at hand improves the value any more.
func (m *master) solve(most int) bool {
	for range most {
		enter, ok := m.entering()
		if !ok {
			return true
		}
		m.loadAlpha(enter)
		leave := m.leaving()
		if leave < 0 {
			return true // cannot happen while costs are not negative; the bound is checked apart
		}
		if !m.budget.spend(m.pivot(enter, leave)) {
			return false
		}
	}
	return false
}

// entering returns the variable with the most negative reduced cost.
func (m *master) entering() (int, bool) {
	best, enter, ok := -costTolerance, 0, false
	for j := range m.cols {
		if m.inBasis[j] {
			continue
		}
		if d := m.reduced(j) / (1 + m.cols[j].cost); d < best {
			best, enter, ok = d, j, true
		}
	}
	for r := range m.rows {
		if d := m.reducedOf(-1 - r); d < best {
			best, enter, ok = d, -1-r, true
		}
	}
	m.budget.spend(int64(4*len(m.cols) + m.rows))
	return enter, ok
}

// loadAlpha expresses the entering variable in terms of the basis.
func (m *master) loadAlpha(v int) {
	clear(m.alpha)
	if v < 0 {
		r := -1 - v
		sign := -1.0
		if r >= m.atLeast {
			sign = 1
		}
		m.addColumn(r, sign)
		return
	}
	for _, e := range m.cols[v].items {
		m.addColumn(m.itemRow[e.item], float64(e.qty))
	}
	for _, r := range [...]int{m.lowRow[m.cols[v].kind], m.topRow[m.cols[v].kind]} {
		if r >= 0 {
			m.addColumn(r, 1)
		}
	}
}

// addColumn adds f times column r of the inverse to alpha.
func (m *master) addColumn(r int, f float64) {
	for i, at := 0, r; i < m.rows; i, at = i+1, at+m.rows {
		m.alpha[i] += f * m.inverse[at]
	}
}

// leaving returns the row whose variable reaches zero first; among near ties the largest pivot.
func (m *master) leaving() int {
	least := math.Inf(1)
	for r, a := range m.alpha {
		if a > pivotTolerance {
			least = min(least, (max(m.x[r], 0)+1e-10)/a)
		}
	}
	leave, size := -1, 0.0
	for r, a := range m.alpha {
		if a > pivotTolerance && max(m.x[r], 0) <= least*a && a > size {
			leave, size = r, a
		}
	}
	return leave
}

// pivot lets variable v enter in place of the variable of row leave, and returns the numbers changed.
func (m *master) pivot(v, leave int) int64 {
	n := m.rows
	pivotRow := m.inverse[leave*n : leave*n+n]
	f := 1 / m.alpha[leave]
	m.nonzero = m.nonzero[:0]
	for c, w := range pivotRow {
		if w != 0 {
			pivotRow[c] = w * f
			m.nonzero = append(m.nonzero, c)
		}
	}
	d := m.reducedOf(v)
	step := m.x[leave] * f
	touched := 0
	for r, a := range m.alpha {
		if r == leave || a == 0 {
			continue
		}
		touched++
		row := m.inverse[r*n : r*n+n]
		if len(m.nonzero)*3 > n {
			for c, w := range pivotRow {
				row[c] -= a * w
			}
		} else {
			for _, c := range m.nonzero {
				row[c] -= a * pivotRow[c]
			}
		}
		m.x[r] -= a * step
	}
	m.x[leave] = step
	for _, c := range m.nonzero {
		m.y[c] += d * pivotRow[c]
	}
	if old := m.basis[leave]; old >= 0 {
		m.inBasis[old] = false
	}
	m.basis[leave] = v
	if v >= 0 {
		m.inBasis[v] = true
	}
	return int64(touched*len(m.nonzero) + 4*n)
}

// costOf returns the cost of a variable.
func (m *master) costOf(v int) float64 {
	switch {
	case v >= 0:
		return m.cols[v].cost
	case v >= -m.rows:
		return 0
	}
	return m.start[-1-m.rows-v]
}

// value returns the cost of the present solution.
func (m *master) value() float64 {
	sum := 0.0
	for r, v := range m.basis {
		sum += m.costOf(v) * m.x[r]
	}
	return sum
}

// price returns the price of a type; 0 for one without need.
func (m *master) price(item int) float64 {
	if r := m.itemRow[item]; r >= 0 {
		return m.y[r]
	}
	return 0
}

// missing returns by how much the present solution misses needs and lower limits.
func (m *master) missing() float64 {
	sum := 0.0
	for r, v := range m.basis {
		if v < -m.rows {
			sum += max(0, m.x[r])
		}
	}
	return sum
}

// raiseStart makes missing a need or a lower limit ten times as dear and recomputes the prices.
func (m *master) raiseStart() {
	for i := range m.start {
		m.start[i] *= 10
	}
	clear(m.y)
	for r, v := range m.basis {
		if c := m.costOf(v); c != 0 {
			for i := range m.rows {
				m.y[i] += c * m.inverse[r*m.rows+i]
			}
		}
	}
}
