package drawing

import (
	"fmt"

	"longgrain/internal/check/testlog"
)

// TestResultsOf makes a chart of groups of tests that are judged by the same quantity. Panics without a group.
func TestResultsOf(groups []testlog.Summary) TestResults {
	q := groups[0].Quantity
	c := TestResults{Title: "Joint tests, " + q.Name, Axis: q.Name + ", " + q.Unit}
	for _, g := range groups {
		row := TestRow{Name: g.Group, Mean: g.Mean, Predicted: g.Predicted, Note: fmt.Sprintf("tests: %d, no bound", g.Failed+g.Held)}
		for _, x := range g.Results {
			row.Dots = append(row.Dots, TestDot{Value: x.Value, Held: x.Held})
		}
		if g.Interval != nil {
			row.Low, row.High = g.Interval.Low, g.Interval.High
		}
		if g.Lower5 != nil {
			row.Lower = g.Lower5.Value
			row.Note = fmt.Sprintf("tests: %d, lower 5 %%: %s", g.Failed+g.Held, g.Quantity.Show(g.Lower5.Value))
		}
		c.Rows = append(c.Rows, row)
	}
	return c
}
