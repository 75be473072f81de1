package source

import (
	"encoding/csv"
	"fmt"
	"strconv"
	"strings"
)

// Row is one row of an embedded reference table. Every table has the columns source, place and
// confidence; source may be empty only for common practice and assumed figures.
type Row struct {
	table string
	line  int
	cells map[string]string
}

// Table reads an embedded reference table. It panics, naming the table and line, when a row is
// incomplete or cites an unknown work: the tables are part of the program and checked at start.
func Table(name, text string) []Row {
	r := csv.NewReader(strings.NewReader(text))
	r.Comment = '#'
	records, err := r.ReadAll()
	if err != nil {
		panic(fmt.Sprintf("source: table %s: %v", name, err))
	}
	head := records[0]
	rows := make([]Row, 0, len(records)-1)
	for i, rec := range records[1:] {
		cells := make(map[string]string, len(head))
		for j, column := range head {
			cells[column] = strings.TrimSpace(rec[j])
		}
		row := Row{name, i + 2, cells}
		row.Cite()
		rows = append(rows, row)
	}
	return rows
}

// Text returns a cell as text; it panics when the column does not exist.
func (r Row) Text(column string) string {
	s, ok := r.cells[column]
	if !ok {
		panic(fmt.Sprintf("source: table %s has no column %s", r.table, column))
	}
	return s
}

// Has tells whether a cell is filled.
func (r Row) Has(column string) bool { return r.Text(column) != "" }

// Number returns a cell as a number; it panics when the cell is not one. Ask Has first where the
// source may not give the figure.
func (r Row) Number(column string) float64 {
	v, err := strconv.ParseFloat(r.Text(column), 64)
	if err != nil {
		panic(fmt.Sprintf("source: table %s line %d: column %s: %v", r.table, r.line, column, err))
	}
	return v
}

// Cite returns where the row is from.
func (r Row) Cite() Cite {
	key, confidence := r.Text("source"), Confidence(r.Text("confidence"))
	if key == "" {
		if confidence != CommonPractice && confidence != Assumed && confidence != Judgement {
			panic(fmt.Sprintf("source: table %s line %d has no source", r.table, r.line))
		}
		return Cite{Confidence: confidence}
	}
	return At(key, r.Text("place"), confidence)
}
