package pdf

import (
	"math"
	"slices"

	"longgrain/internal/paper/document"
)

// Steps in which width is moved from column to column, mm, the largest first, and how often at most.
var balanceSteps = []float64{16, 8, 4, 2}

const balanceMoves = 200

// balance moves width between the columns of a table that is too wide for its page, as long as that makes the table shorter: one long
// cell in a column must not cost every row a line. Each column keeps its least width, so that no word is broken. It is a search from
// one start that takes the first move that helps, so a shorter table may exist.
func (s *setter) balance(t document.Table, widths, least []float64) {
	g := newGrid(s.measured(t, len(widths)), widths)
	for moves := 0; moves < balanceMoves; {
		moved := false
		for _, step := range balanceSteps {
			for to := range widths {
				for from := range widths {
					if from != to && widths[from]-step >= least[from] && g.shorter(widths, from, to, step) {
						moved = true
						moves++
					}
				}
			}
		}
		if !moved {
			return
		}
	}
}

// grid knows how many lines every cell of a table takes.
type grid struct {
	cells [][]measuredCell // by row
	lines [][]int          // by row
	total int
}

func newGrid(cells [][]measuredCell, widths []float64) *grid {
	g := &grid{cells: cells}
	for _, row := range cells {
		lines := make([]int, len(row))
		for i, c := range row {
			lines[i] = c.lines(widths[i])
		}
		g.lines = append(g.lines, lines)
		g.total += slices.Max(append(lines, 1))
	}
	return g
}

// shorter moves width from one column to another if that makes the table shorter.
func (g *grid) shorter(widths []float64, from, to int, step float64) bool {
	total := 0
	for i, row := range g.cells {
		most := 1
		for k, n := range g.lines[i] {
			switch k {
			case from:
				n = row[k].lines(widths[k] - step)
			case to:
				n = row[k].lines(widths[k] + step)
			}
			most = max(most, n)
		}
		total += most
	}
	if total >= g.total {
		return false
	}
	widths[from], widths[to] = widths[from]-step, widths[to]+step
	*g = *newGrid(g.cells, widths)
	return true
}

// measuredCell is a cell as widths: of its words, of a space, and of what stands beside the words.
type measuredCell struct {
	words        []float64
	space, extra float64
}

// measured returns the cells of the rows of a table, column by column.
func (s *setter) measured(t document.Table, columns int) [][]measuredCell {
	var out [][]measuredCell
	for _, r := range t.Rows {
		if r.Heading {
			continue
		}
		var row []measuredCell
		for i, c := range r.Cells[:min(len(r.Cells), columns)] {
			f := cellFaceOf(r, c)
			m := measuredCell{space: f.width(" ", f.weight), extra: 2*cellPadX + boxWidth(c)}
			for _, w := range f.wordsOf(c.Text, s.name) {
				m.words = append(m.words, w.width)
			}
			// A column of figures does not break its figures.
			if n, _ := f.natural(c.Text, s.name); t.Columns[i].Align == document.End && n+m.extra < widestNumber {
				m.words = []float64{n}
			}
			row = append(row, m)
		}
		out = append(out, row)
	}
	return out
}

// lines returns how many lines the words of a cell take in a column of a width.
func (c measuredCell) lines(width float64) int {
	room := width - c.extra + rounding
	n, used := 1, 0.0
	for i, w := range c.words {
		if i > 0 && used+c.space+w > room {
			n, used = n+1, 0
		} else if i > 0 {
			used += c.space
		}
		used += w
		if w > room && room > 0 {
			n += int(math.Ceil(w/room)) - 1
		}
	}
	return n
}
