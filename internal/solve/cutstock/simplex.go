package cutstock

import "math"

// The pivots of the master: primal steps that lower the cost, dual steps that repair a basis after the task has changed.

// solve makes primal pivots, at most so many, and reports whether no column at hand improves the value any more.
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
		if !m.p.budget.spend(m.pivot(enter, leave)) {
			return false
		}
	}
	return false
}

// entering returns the variable with the most negative reduced cost.
func (m *master) entering() (int, bool) {
	best, enter, ok := -costTolerance, 0, false
	for j := range m.cols {
		if c := &m.cols[j]; c.allowed && !c.basic {
			if d := m.reduced(j) / (1 + math.Abs(c.cost)); d < best {
				best, enter, ok = d, j, true
			}
		}
	}
	for r := range m.rows {
		if d := m.reducedOf(-1 - r); d < best {
			best, enter, ok = d, -1-r, true
		}
	}
	m.p.budget.spend(int64(4*len(m.cols) + m.rows))
	return enter, ok
}

// loadAlpha expresses a variable in terms of the basis.
func (m *master) loadAlpha(v int) {
	clear(m.alpha)
	m.eachEntry(v, func(row int, a float64) {
		for i, at := 0, row; i < m.rows; i, at = i+1, at+m.rows {
			m.alpha[i] += a * m.inverse[at]
		}
	})
}

// barred reports whether row r holds a pattern that the task does not allow: it must stay at zero.
func (m *master) barred(r int) bool {
	v := m.basis[r]
	return v >= 0 && !m.cols[v].allowed
}

// leaving returns the row whose variable reaches zero first; among near ties the largest pivot. A barred pattern
// blocks in both directions.
func (m *master) leaving() int {
	least := math.Inf(1)
	for r, a := range m.alpha {
		if a > pivotTolerance {
			least = min(least, (max(m.x[r], 0)+1e-10)/a)
		} else if a < -pivotTolerance && m.barred(r) {
			least = min(least, 1e-10/-a)
		}
	}
	leave, size := -1, 0.0
	for r, a := range m.alpha {
		switch {
		case a > pivotTolerance && max(m.x[r], 0) <= least*a && a > size:
			leave, size = r, a
		case a < -pivotTolerance && -a > size && m.barred(r):
			leave, size = r, -a
		}
	}
	return leave
}

// pivot lets variable v enter in place of the variable of row leave, and returns the numbers changed. alpha must be
// that of v.
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
			subtractScaled(row, pivotRow, a)
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
		m.cols[old].basic = false
	}
	m.basis[leave] = v
	if v >= 0 {
		m.cols[v].basic = true
	}
	m.pivots++
	return int64(touched*len(m.nonzero) + 4*n)
}

// subtractScaled subtracts f times row b from row a. Four at a time is half as fast again as one at a time, and this is where
// most of the time of a large relaxation goes.
func subtractScaled(a, b []float64, f float64) {
	for len(a) >= 4 && len(b) >= 4 {
		a[0] -= f * b[0]
		a[1] -= f * b[1]
		a[2] -= f * b[2]
		a[3] -= f * b[3]
		a, b = a[4:], b[4:]
	}
	for i := range min(len(a), len(b)) {
		a[i] -= f * b[i]
	}
}

// repair makes dual pivots until no value is negative and every barred pattern is at zero. It returns false when that
// takes too long, which only rounding can cause.
func (m *master) repair() bool {
	for range 20 * m.rows {
		leave, up := m.infeasible()
		if leave < 0 {
			return true
		}
		enter, ok := m.dualEntering(leave, up)
		if !ok {
			return false
		}
		m.loadAlpha(enter)
		if math.Abs(m.alpha[leave]) < pivotTolerance {
			return false
		}
		if !m.p.budget.spend(m.pivot(enter, leave)) {
			return true
		}
	}
	return false
}

// infeasible returns the row that is most out of bounds, or -1, and whether it must grow.
func (m *master) infeasible() (row int, up bool) {
	row, worst := -1, zeroTolerance
	for r, x := range m.x {
		switch {
		case -x > worst:
			row, worst, up = r, -x, true
		case x > worst && m.barred(r):
			row, worst, up = r, x, false
		}
	}
	return row, up
}

// dualEntering returns the variable that may take the place of row leave's at the least loss of price. Patterns whose
// reduced cost is negative wait for the primal steps.
func (m *master) dualEntering(leave int, up bool) (int, bool) {
	row := m.inverse[leave*m.rows : (leave+1)*m.rows]
	sign := 1.0
	if up {
		sign = -1
	}
	best, size, enter, ok := math.Inf(1), 0.0, 0, false
	try := func(v int, a, d float64) {
		a *= sign
		if a <= pivotTolerance {
			return
		}
		if ratio := max(d, 0) / a; ratio < best-1e-12 || ratio <= best+1e-12 && a > size {
			best, size, enter, ok = ratio, a, v, true
		}
	}
	for j := range m.cols {
		c := &m.cols[j]
		if !c.allowed || c.basic {
			continue
		}
		a := row[m.types+c.kind] + row[m.atLeast+c.kind]
		for _, e := range c.items {
			a += row[e.item] * float64(e.qty)
		}
		if a*sign <= pivotTolerance {
			continue
		}
		if d := m.reduced(j); d > -costTolerance*(1+math.Abs(c.cost)) {
			try(j, a, d)
		}
	}
	for r, a := range row {
		if r < m.atLeast {
			try(-1-r, -a, m.reducedOf(-1-r))
			try(-1-m.rows-r, a, m.reducedOf(-1-m.rows-r))
		} else {
			try(-1-r, a, m.reducedOf(-1-r))
		}
	}
	m.p.budget.spend(int64(6*len(m.cols) + 3*m.rows))
	return enter, ok
}
