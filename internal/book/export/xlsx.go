package export

import (
	"bytes"
	"fmt"
	"strconv"

	"github.com/xuri/excelize/v2"

	"longgrain/internal/plan"
)

// spreadsheet returns the tables as sheets of one XLSX workbook. Numbers are numbers and text is text, so that nothing that
// a person typed is taken for a formula.
func spreadsheet(p plan.Plan) ([]byte, error) {
	f := excelize.NewFile()
	defer f.Close()
	fail := func(err error) ([]byte, error) { return nil, fmt.Errorf("write the tables as a spreadsheet: %w", err) }
	bold, err := f.NewStyle(&excelize.Style{Font: &excelize.Font{Bold: true}})
	if err != nil {
		return fail(err)
	}
	for i, make := range tables {
		t := make(p)
		if i == 0 {
			err = f.SetSheetName("Sheet1", t.name)
		} else {
			_, err = f.NewSheet(t.name)
		}
		if err != nil {
			return fail(err)
		}
		if err := fill(f, t, bold); err != nil {
			return fail(err)
		}
	}
	var out bytes.Buffer
	if err := f.Write(&out); err != nil {
		return fail(err)
	}
	return out.Bytes(), nil
}

func fill(f *excelize.File, t table, bold int) error {
	head := make([]any, len(t.head))
	widths := make([]float64, len(t.head))
	for i, h := range t.head {
		head[i], widths[i] = h, float64(len(h))
	}
	if err := f.SetSheetRow(t.name, "A1", &head); err != nil {
		return err
	}
	for r, row := range t.rows {
		cells := make([]any, len(row))
		for i, cell := range row {
			cells[i], widths[i] = cell, max(widths[i], float64(len(cell)))
			if x, err := strconv.ParseFloat(cell, 64); err == nil {
				cells[i] = x
			}
		}
		if err := f.SetSheetRow(t.name, fmt.Sprintf("A%d", r+2), &cells); err != nil {
			return err
		}
	}
	for i, w := range widths {
		column, err := excelize.ColumnNumberToName(i + 1)
		if err != nil {
			return err
		}
		if err := f.SetColWidth(t.name, column, column, min(w+2, 60)); err != nil {
			return err
		}
	}
	if err := f.SetRowStyle(t.name, 1, 1, bold); err != nil {
		return err
	}
	return f.SetPanes(t.name, &excelize.Panes{Freeze: true, YSplit: 1, TopLeftCell: "A2", ActivePane: "bottomLeft"})
}
