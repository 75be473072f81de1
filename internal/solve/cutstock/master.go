package cutstock

import (
	"cmp"
	"math"
	"slices"
)

// master is the linear relaxation of a task over a growing list of patterns:
//
//	minimise sum_j c_j x_j
//	sum_j a_ij x_j >= need_i                     for each type i
//	low_k <= sum_{j of kind k} x_j <= free_k     for each kind k;  x >= 0
//
// solved by the revised simplex method with an explicit inverse. One master serves all tasks of a run: a task only
// changes the right sides and which patterns are allowed, so the dual simplex method repairs the last basis in a few
// pivots and the primal method goes on from there. Every right side is raised by a tiny amount that differs from row
// to row, which keeps the degenerate problems of equal demands from stalling; prices do not depend on right sides.
// Rounding errors cannot make a bound false: bounds are recomputed in whole numbers from rounded prices (priceBound).
// Reference: V. Chvatal, Linear Programming (1983), chapters 7, 8 and 10.
type master struct {
	p       *problem
	types   int // rows 0..types-1: needs; then a row for each kind's lower limit; then one for each upper limit
	atLeast int // rows below this are >=, the others <=
	rows    int
	cols    []column
	start   []float64 // cost of missing a >= row by one, the artificial variable of the row
	rhs     []float64
	basis   []int     // variable of each row, coded as below
	inverse []float64 // rows x rows
	x       []float64 // value of the basic variable of each row
	y       []float64 // price of each row
	alpha   []float64 // entering column in terms of the basis
	nonzero []int     // scratch
	pivots  int       // since the inverse was last computed afresh
}

// column is a pattern in the master.
type column struct {
	pattern
	cost    float64
	basic   bool
	allowed bool // fits the present task
}

// Variables other than columns are negative: the surplus or slack of row r is -1-r, its artificial -1-rows-r.

const (
	costTolerance  = 1e-9 // relative reduced costs above -costTolerance count as zero
	pivotTolerance = 1e-9
	zeroTolerance  = 1e-9 // values of variables
	driftTolerance = 1e-7 // error of a right side, in pieces, at which the inverse is computed afresh
	perturbation   = 1e-6 // of a right side, in pieces
	shakeSize      = 1e-4 // of a right side, in pieces, see setTask
)

// newMaster returns a master without patterns but an empty one of each kind, with every need missed.
func newMaster(p *problem) *master {
	m := &master{p: p, types: len(p.size)}
	m.atLeast = m.types + len(p.kinds)
	m.rows = m.atLeast + len(p.kinds)
	m.start = make([]float64, m.atLeast)
	m.rhs = make([]float64, m.rows)
	m.basis = make([]int, m.rows)
	m.inverse = make([]float64, m.rows*m.rows)
	m.y = make([]float64, m.rows)
	m.x = make([]float64, m.rows)
	m.alpha = make([]float64, m.rows)
	for k := range p.kinds {
		m.add(pattern{kind: k})
	}
	m.resetStart()
	m.clear()
	return m
}

// resetStart sets the costs of missing a row so high that a pattern is always cheaper unless limited stock is scarce.
func (m *master) resetStart() {
	for i := range m.types {
		m.start[i] = m.p.startPrice(i)
	}
	dearest := int64(0)
	for _, k := range m.p.kinds {
		dearest = max(dearest, k.cost)
	}
	for r := m.types; r < m.atLeast; r++ {
		m.start[r] = 2 * float64(dearest+1)
	}
}

func (p *problem) startPrice(i int) float64 {
	price := 0.0
	for _, k := range p.kinds {
		if k.capacity < p.size[i] {
			continue
		}
		if !k.limited {
			return float64(k.cost)*1.001 + 1e-3
		}
		price = max(price, float64(k.cost))
	}
	return 100 * (price + 1)
}

// clear makes the basis the one in which every >= row is missed.
func (m *master) clear() {
	for j := range m.cols {
		m.cols[j].basic = false
	}
	clear(m.inverse)
	for r := range m.rows {
		m.inverse[r*m.rows+r] = 1
		m.basis[r] = -1 - r
		if r < m.atLeast {
			m.basis[r] -= m.rows
		}
	}
	m.pivots = 0
	m.computeX()
	m.computeY()
}

// computeX computes the values of the basic variables from the right sides.
func (m *master) computeX() {
	for r := range m.rows {
		sum := 0.0
		for c, w := range m.inverse[r*m.rows : (r+1)*m.rows] {
			sum += w * m.rhs[c]
		}
		m.x[r] = sum
	}
}

// computeY computes the prices from the costs of the basic variables.
func (m *master) computeY() {
	clear(m.y)
	for r, v := range m.basis {
		if c := m.costOf(v); c != 0 {
			for i, w := range m.inverse[r*m.rows : (r+1)*m.rows] {
				m.y[i] += c * w
			}
		}
	}
}

// setTask makes t the task: sets the right sides, allows the patterns that fit it, and pivots until the solution fits it
// too. A shake other than 0 raises the right sides a little more, differently for every number, so that another of the
// many optimal solutions of a degenerate relaxation is found.
func (m *master) setTask(t task, shake int) {
	for r := range m.rows {
		m.rhs[r] = perturbation * (1 + 0.5*math.Sin(float64(3*r+1)))
		if shake > 0 && r < m.types {
			m.rhs[r] += shakeSize * (1 + math.Sin(float64((shake+3)*(r+1))))
		}
	}
	for i, n := range t.need {
		m.rhs[i] += float64(n)
	}
	for k := range m.p.kinds {
		m.rhs[m.types+k] += float64(t.low[k])
		m.rhs[m.atLeast+k] += float64(t.free[k])
	}
	for j := range m.cols {
		m.cols[j].allowed = t.fits(m.cols[j].pattern, 1)
	}
	m.resetStart()
	m.computeX()
	if m.pivots > m.rows && m.drift() > driftTolerance {
		m.invert()
	}
	m.computeY()
	m.p.budget.spend(int64(2*m.rows*m.rows + 4*len(m.cols)))
	if !m.repair() {
		m.clear()
	}
}

// drift returns by how much the basic variables miss the right sides.
func (m *master) drift() float64 {
	miss := slices.Clone(m.rhs)
	for r, v := range m.basis {
		m.eachEntry(v, func(row int, a float64) { miss[row] -= a * m.x[r] })
	}
	worst := 0.0
	for _, d := range miss {
		worst = max(worst, math.Abs(d))
	}
	return worst
}

// eachEntry calls f for every number of the column of a variable.
func (m *master) eachEntry(v int, f func(row int, a float64)) {
	switch {
	case v < -m.rows:
		f(-1-m.rows-v, 1)
	case v < 0 && -1-v < m.atLeast:
		f(-1-v, -1)
	case v < 0:
		f(-1-v, 1)
	default:
		for _, e := range m.cols[v].items {
			f(e.item, float64(e.qty))
		}
		f(m.types+m.cols[v].kind, 1)
		f(m.atLeast+m.cols[v].kind, 1)
	}
}

// invert computes the inverse afresh by letting the basic variables enter one after another. Variables that the others
// make redundant by rounding are left out.
func (m *master) invert() {
	old := slices.Clone(m.basis)
	m.clear()
	free := make([]bool, m.rows)
	for r := range free {
		free[r] = true
	}
	for _, v := range old {
		m.loadAlpha(v)
		best, size := -1, 1e-7
		for r, a := range m.alpha {
			if free[r] && math.Abs(a) > size {
				best, size = r, math.Abs(a)
			}
		}
		if best >= 0 {
			free[best] = false
			m.p.budget.spend(m.pivot(v, best))
		}
	}
	m.pivots = 0
	m.computeX()
}

// add appends a pattern that fits the present task.
func (m *master) add(pt pattern) {
	m.cols = append(m.cols, column{pattern: pt, cost: float64(m.p.net(pt.kind, m.p.used(pt.items))), allowed: true})
}

// drop removes the last column, which must not be basic.
func (m *master) drop() { m.cols = m.cols[:len(m.cols)-1] }

// thin keeps at most so many columns: the basic ones, the empty ones, and those with the least reduced costs.
func (m *master) thin(most int) {
	if len(m.cols) <= most {
		return
	}
	order := make([]int, len(m.cols))
	rank := make([]float64, len(m.cols))
	for j := range m.cols {
		order[j], rank[j] = j, m.reduced(j)
		if m.cols[j].basic || len(m.cols[j].items) == 0 {
			rank[j] = math.Inf(-1)
		}
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(rank[a], rank[b]) })
	order = order[:most]
	slices.Sort(order)
	moved := make([]int, len(m.cols))
	kept := make([]column, 0, most)
	for n, j := range order {
		moved[j] = n
		kept = append(kept, m.cols[j])
	}
	m.cols = kept
	for r, v := range m.basis {
		if v >= 0 {
			m.basis[r] = moved[v]
		}
	}
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

// reduced returns the reduced cost of column j at the present prices.
func (m *master) reduced(j int) float64 {
	c := &m.cols[j]
	d := c.cost - m.kindPrice(c.kind)
	for _, e := range c.items {
		d -= m.y[e.item] * float64(e.qty)
	}
	return d
}

// kindPrice returns the price of taking a piece of kind k: positive while more pieces must be taken, negative while
// no more may be.
func (m *master) kindPrice(k int) float64 { return m.y[m.types+k] + m.y[m.atLeast+k] }

// reducedOf returns the reduced cost of any variable.
func (m *master) reducedOf(v int) float64 {
	switch {
	case v >= 0:
		return m.reduced(v)
	case v < -m.rows:
		return m.start[-1-m.rows-v] - m.y[-1-m.rows-v]
	case -1-v < m.atLeast:
		return m.y[-1-v]
	}
	return -m.y[-1-v]
}

// value returns the cost of the present solution.
func (m *master) value() float64 {
	sum := 0.0
	for r, v := range m.basis {
		sum += m.costOf(v) * m.x[r]
	}
	return sum
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

// raiseStart makes missing a row ten times as dear.
func (m *master) raiseStart() {
	for i := range m.start {
		m.start[i] *= 10
	}
	m.computeY()
}
