package testlog

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"maps"
	"slices"
	"strings"
	"unicode/utf8"

	"longgrain/internal/ground/problem"
)

// MaxSize is the largest table that is read, in bytes. Judgement: some 300,000 tests, more than a shop
// breaks in a lifetime.
const MaxSize = 64 << 20

// Read reads a table of tests: a row of headings from Columns in any order, then a row per test. Cells
// are separated by commas, semicolons or tabs, whichever the first line has. Lengths and forces carry
// their own unit in every cell. Empty rows are passed over.
//
// Every problem is reported at its line with the heading as path, and reading goes on; the tests are those
// rows that had none. name is what problems call the file.
func Read(name string, table []byte) ([]Test, problem.List) {
	r := reader{file: name}
	r.read(table)
	r.problems.Sort()
	return r.tests, r.problems
}

// reader reads a table.
type reader struct {
	file       string
	columns    []*tableColumn // nil where the heading is unknown
	incomplete bool           // a required column is missing: no row is a test
	tests      []Test
	problems   problem.List
}

// tableColumn is a column of the table that is read. Shops write the same few texts in most cells, so
// what was read is kept; the price is memory, which memory bounds.
type tableColumn struct {
	column
	memory map[string]func(*Test)
}

// remembered bounds how many texts of a column are kept.
const remembered = 1000

func (r *reader) report(at problem.Position, code problem.Code, what, expected, mend string) {
	at.File = r.file
	r.problems.Add(problem.Problem{Code: code, At: at, What: what, Expected: expected, Mend: mend})
}

func (r *reader) read(table []byte) {
	table = bytes.TrimPrefix(table, []byte("\ufeff"))
	switch {
	case len(table) > MaxSize:
		r.report(problem.Position{}, problem.TooLarge, fmt.Sprintf("the table has %d bytes", len(table)), fmt.Sprintf("at most %d", MaxSize), "split it")
		return
	case !utf8.Valid(table):
		r.report(problem.Position{}, problem.NotCSV, "the table is not UTF-8 text", "", "save it as CSV in UTF-8")
		return
	}
	rows := csv.NewReader(bytes.NewReader(table))
	rows.Comma = separator(table)
	rows.FieldsPerRecord = -1
	rows.ReuseRecord = true
	heading, err := rows.Read()
	if err == io.EOF {
		r.report(problem.Position{}, problem.Empty, "the table is empty", "", "write a row of headings: "+strings.Join(Columns(), ", "))
		return
	}
	if r.broken(err) {
		return
	}
	r.heading(rows, heading)
	for {
		cells, err := rows.Read()
		if err == io.EOF {
			return
		}
		if !r.broken(err) {
			r.row(rows, cells)
		}
	}
}

// broken reports a line that is no CSV.
func (r *reader) broken(err error) bool {
	var bad *csv.ParseError
	if !errors.As(err, &bad) {
		return false
	}
	r.report(problem.Position{Line: bad.Line, Column: bad.Column}, problem.NotCSV, "the line is not CSV: "+bad.Err.Error(), "", `put a cell that holds quotes in quotes and double those inside, as in "3/4"""`)
	return true
}

// separator returns what stands between the headings.
func separator(table []byte) rune {
	line, _, _ := bytes.Cut(table, []byte("\n"))
	best, most := ',', bytes.Count(line, []byte(","))
	for _, c := range []rune{';', '\t'} {
		if n := bytes.Count(line, []byte(string(c))); n > most {
			best, most = c, n
		}
	}
	return best
}

func (r *reader) heading(rows *csv.Reader, cells []string) {
	r.columns = make([]*tableColumn, len(cells))
	seen := map[string]int{}
	for i, words := range cells {
		words = strings.TrimSpace(words)
		at := position(rows, i, words)
		c, ok := columnOf(words)
		switch first, double := seen[c.name]; {
		case words == "":
			// an empty column, as spreadsheets leave them
		case !ok:
			mend := problem.DidYouMean(words, Columns())
			if problem.Nearest(words, Columns()) == "" {
				mend += `; a size of the joint is headed such as "sizes.diameter"`
			}
			r.report(at, problem.UnknownKey, "there is no column of this name", "", mend)
		case double:
			r.report(at, problem.DuplicateKey, fmt.Sprintf("the column stands twice, first as column %d", first+1), "", "rename or remove one of the two")
		default:
			seen[c.name] = i
			r.columns[i] = &tableColumn{column: c, memory: map[string]func(*Test){}}
		}
	}
	line, _ := rows.FieldPos(0)
	for _, c := range columns {
		if _, there := seen[c.name]; c.required && !there {
			r.incomplete = true
			r.report(problem.Position{Line: line, Path: c.name}, problem.MissingKey, "the column is missing", "", "add a column with this heading")
		}
	}
}

// columnOf returns the column of a heading: "cure_hours", "Cure hours", "sizes.diameter".
func columnOf(words string) (column, bool) {
	spaced := strings.ReplaceAll(words, "_", " ")
	for _, c := range columns {
		if problem.SameName(spaced, strings.ReplaceAll(c.name, "_", " ")) {
			return c, true
		}
	}
	size, isSize := strings.CutPrefix(words, sizePrefix)
	if size = strings.TrimSpace(size); isSize && size != "" {
		return column{name: sizePrefix + size, read: readSize(size)}, true
	}
	return column{}, false
}

func position(rows *csv.Reader, field int, path string) problem.Position {
	line, col := rows.FieldPos(field)
	return problem.Position{Line: line, Column: col, Path: path}
}

func (r *reader) row(rows *csv.Reader, cells []string) {
	if !slices.ContainsFunc(cells, func(s string) bool { return strings.TrimSpace(s) != "" }) {
		return
	}
	before := len(r.problems)
	var t Test
	for i, words := range cells {
		words = strings.TrimSpace(words)
		switch {
		case words == "":
		case i >= len(r.columns):
			r.report(position(rows, i, ""), problem.UnknownKey, fmt.Sprintf("the row has %d cells and the headings %d", len(cells), len(r.columns)), "", "put a cell that holds the separator in quotes")
		case r.columns[i] != nil:
			r.cell(rows, i, words, &t)
		}
		if i >= len(r.columns) && words != "" {
			break
		}
	}
	for i, c := range r.columns {
		if c == nil || !c.required || i < len(cells) && strings.TrimSpace(cells[i]) != "" {
			continue
		}
		at := position(rows, min(i, len(cells)-1), c.name)
		r.report(at, problem.MissingKey, "the cell is empty", "", "fill it, or leave the whole row out")
	}
	if len(r.problems) == before && !r.incomplete {
		r.tests = append(r.tests, t)
	}
}

// ReadOne reads one test from its fields, named as the columns are, as a form sends them. Empty fields were not noted.
// Every problem is reported with the name of its field as path.
func ReadOne(fields map[string]string) (Test, problem.List) {
	var t Test
	var problems problem.List
	report := func(path string, code problem.Code, what, expected, mend string) {
		problems.Add(problem.Problem{Code: code, At: problem.Position{Path: path}, What: what, Expected: expected, Mend: mend})
	}
	for _, name := range slices.Sorted(maps.Keys(fields)) {
		words := strings.TrimSpace(fields[name])
		if words == "" {
			continue
		}
		c, ok := columnOf(name)
		if !ok {
			report(name, problem.UnknownKey, "there is no field of this name", "", problem.DidYouMean(name, Columns()))
			continue
		}
		set := c.read(cell{words, func(code problem.Code, what, expected, mend string) { report(name, code, what, expected, mend) }})
		if set != nil {
			set(&t)
		}
	}
	for _, c := range columns {
		if c.required && strings.TrimSpace(fields[c.name]) == "" {
			report(c.name, problem.MissingKey, "the field is empty", "", "fill it")
		}
	}
	problems.Sort()
	return t, problems
}

// cell reads a filled cell into the test.
func (r *reader) cell(rows *csv.Reader, field int, words string, t *Test) {
	c := r.columns[field]
	set, known := c.memory[words]
	if !known {
		// The row's cells share one buffer of text; a copy lets the rest of it go.
		words = strings.Clone(words)
		set = c.read(cell{words, func(code problem.Code, what, expected, mend string) {
			r.report(position(rows, field, c.name), code, what, expected, mend)
		}})
		if set != nil && len(c.memory) < remembered {
			c.memory[words] = set
		}
	}
	if set != nil {
		set(t)
	}
}

// Write returns the tests as the table that Read reads: every column of Columns, then the sizes by name.
func Write(tests []Test) []byte {
	var sizes []string
	seen := map[string]bool{}
	for _, t := range tests {
		for name := range t.Sizes {
			if !seen[name] {
				seen[name] = true
				sizes = append(sizes, name)
			}
		}
	}
	slices.Sort(sizes)
	var out bytes.Buffer
	w := csv.NewWriter(&out)
	row := Columns()
	for _, name := range sizes {
		row = append(row, sizePrefix+name)
	}
	put := func() {
		if err := w.Write(row); err != nil {
			panic("testlog: a buffer did not take a row: " + err.Error())
		}
	}
	put()
	for _, t := range tests {
		row = row[:0]
		for _, c := range columns {
			row = append(row, c.write(t))
		}
		for _, name := range sizes {
			row = append(row, t.Sizes[name].Text)
		}
		put()
	}
	w.Flush()
	return out.Bytes()
}
