package guillotine

import (
	"math"
	"slices"
)

// columns makes three-stage patterns for one size of plate: the first cut makes columns, each column is a plate for a
// two-stage pattern with its first cut across. The columns of all widths share one table of strips.
// Reference: Vanderbeck, A nested decomposition approach to a three-stage, two-dimensional cutting-stock problem,
// Management Science 47 (2001), doi:10.1287/mnsc.47.6.864.
type columns struct {
	cut   Direction
	plate *stripPlate // the column being looked at
	width int         // of the whole plate across its columns, grown by one blade width
	gain  []float64   // by point: most value of a column that wide
	outer []float64   // by point: most value of columns
	last  []int       // by point: the last column, -1 none
}

func newColumns(in Instance, u Rect, cut Direction) *columns {
	plate := newStrips(in, []Rect{u}, cut.across())[0]
	n := len(plate.points)
	plate.ends = make([]int, n)
	for p := range plate.ends {
		plate.ends[p] = p
	}
	plate.worth = make([]float64, n*len(plate.classes))
	return &columns{cut: cut, plate: plate, width: plate.along, gain: make([]float64, n), outer: make([]float64, n), last: make([]int, n)}
}

// narrow makes the plate a column up to point p.
func (c *columns) narrow(p int) *stripPlate {
	c.plate.end, c.plate.along = p, c.plate.points[p]
	return c.plate
}

// fill computes gain and outer.
func (c *columns) fill(value []float64, left []int) float64 {
	v := c.plate
	v.fill(value, left, v.strips.thick)
	var use []int // widths that give more than every narrower one
	c.outer[0], c.last[0] = 0, -1
	most := 0.0
	for p := 1; p < len(v.points); p++ {
		c.gain[p] = c.narrow(p).combine()
		if c.gain[p] > most+1e-12 {
			most, use = c.gain[p], append(use, p)
		}
		c.outer[p], c.last[p] = c.outer[p-1], -1
		if c.gain[p] > c.outer[p] {
			c.outer[p], c.last[p] = c.gain[p], p
		}
		q := p - 1 // what is left beside the narrowest column of the best way
		for _, a := range use {
			if 2*v.points[a] > v.points[p] {
				break
			}
			for v.points[q] > v.points[p]-v.points[a] {
				q--
			}
			if w := c.gain[a] + c.outer[q]; w > c.outer[p]+1e-12 {
				c.outer[p], c.last[p] = w, a
			}
		}
	}
	return c.outer[len(c.outer)-1]
}

// chosen returns the columns behind the outer value at the point, widest first.
func (c *columns) chosen(p int) []int {
	var out []int
	for p > 0 {
		a := c.last[p]
		if a < 0 {
			p--
			continue
		}
		out = append(out, a)
		p = last(c.plate.points, c.plate.points[p]-c.plate.points[a], true)
	}
	slices.Sort(out)
	slices.Reverse(out)
	return out
}

func (c *columns) bound(value []float64, demand []int) float64 {
	bound := c.fill(value, demand)
	if !c.plate.onSums {
		return math.Inf(1)
	}
	return bound
}

func (c *columns) relaxed() *piece {
	v := c.plate
	if !v.onSums {
		return nil
	}
	var made []*piece
	for _, p := range c.chosen(len(v.points) - 1) {
		c.narrow(p).combine()
		if column := c.plate.relaxed(); len(column.kids) > 0 {
			made = append(made, column)
		}
	}
	return stack(c.cut, made)
}

// goodColumn is the share of its value without demand a column must reach within the demand before it is taken
// unseen; below it the columns are chosen afresh. Assumed.
const goodColumn = 0.95

func (c *columns) build(value []float64, left []int) *piece {
	rest := slices.Clone(left)
	var made []*piece
	room := c.width
	for {
		c.fill(value, rest)
		progress := false
		for n, p := range c.chosen(last(c.plate.points, room, true)) {
			column := c.narrow(p).build(value, rest)
			if column == nil || column.across(c.cut) > room {
				break
			}
			counts := make([]int, len(rest))
			column.count(counts)
			worth := 0.0
			for i, a := range counts {
				worth += float64(a) * value[i]
			}
			if n > 0 && worth < goodColumn*c.gain[p] {
				break
			}
			for i, a := range counts {
				rest[i] -= a
			}
			made = append(made, column)
			room -= column.across(c.cut)
			progress = true
		}
		if !progress {
			break
		}
	}
	if len(made) == 0 {
		return nil
	}
	return stack(c.cut, made)
}

// widen does nothing; columns are chosen one way only.
func (c *columns) widen(int) {}
