package pdf

import (
	"math/rand/v2"
	"strings"
	"testing"

	"longgrain/internal/paper/document"
)

// lengthOf returns how tall the rows of a table are when they are really set in columns of the given widths.
func lengthOf(s *setter, t document.Table, widths []float64) float64 {
	sum := 0.0
	for _, r := range t.Rows {
		for _, p := range s.row(t, r, widths) {
			sum += p.height
		}
	}
	return sum
}

// Columns shared by need make no table longer than columns cut to one width, keep every column at its least width, and most tables
// shorter. The table is really set to see it.
func TestColumnsAreSharedByWhatTheyNeed(t *testing.T) {
	rng := rand.New(rand.NewPCG(4, 9))
	s := newSetter(document.Document{}, A4.sheet(), nil)
	total := s.sheet.frameWidth()
	shorter, tried := 0, 0
	for range 120 {
		table := document.NewTable()
		for range 3 + rng.IntN(6) {
			table.Columns = append(table.Columns, document.TextColumn("Head"))
		}
		for range 1 + rng.IntN(12) {
			var cells []string
			for range table.Columns {
				cells = append(cells, strings.TrimSpace(strings.Repeat("wood and glue ", rng.IntN(6))))
			}
			table.Row(cells...)
		}
		natural, least := make([]float64, len(table.Columns)), make([]float64, len(table.Columns))
		for i := range table.Columns {
			for _, r := range table.Rows {
				a, b := cellFace.natural(r.Cells[i].Text, s.name)
				natural[i], least[i] = max(natural[i], a+2*cellPadX), max(least[i], b+2*cellPadX)
			}
		}
		if sum(natural) <= total || sum(least) >= total {
			continue
		}
		tried++
		before := share(natural, least, total)
		after := append([]float64(nil), before...)
		s.balance(*table, after, least)
		if sum(after) > total+rounding {
			t.Fatalf("the columns take %.3f of %.3f mm", sum(after), total)
		}
		for i := range after {
			if after[i] < least[i]-rounding {
				t.Fatalf("column %d has %.3f mm, its widest word wants %.3f", i, after[i], least[i])
			}
		}
		long, short := lengthOf(s, *table, before), lengthOf(s, *table, after)
		if short > long+rounding {
			t.Errorf("sharing made a table %.1f mm long that was %.1f", short, long)
		}
		if short < long-rounding {
			shorter++
		}
	}
	t.Logf("%d of %d tables are shorter", shorter, tried)
	if tried < 40 || shorter < tried/3 {
		t.Errorf("only %d of %d tables are shorter", shorter, tried)
	}
}
