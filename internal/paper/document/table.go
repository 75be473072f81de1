package document

// Tone says what a value means; the words in the cell must say it too, because colour alone reaches
// neither every eye nor every printer.
type Tone int

// The tones of a cell.
const (
	NoTone Tone = iota
	Good
	Watch
	Bad
	Faint // of second rank
)

// Align is the side of its column on which a cell stands.
type Align int

// Start is the left side for text, End the right side for figures.
const (
	Start Align = iota
	Centre
	End
)

// Column is one column of a table. Its width follows from its content.
type Column struct {
	Head  string
	Align Align
}

// Cell is one value of a table.
type Cell struct {
	Text Text
	Tone Tone
	// Box draws a box to tick before the text.
	Box bool
}

// WordCell returns a plain cell.
func WordCell(text string) Cell { return Cell{Text: Words(text)} }

// ToneCell returns a cell that means something good or bad and says so in words.
func ToneCell(tone Tone, text string) Cell { return Cell{Text: Words(text), Tone: tone} }

// AskedCell returns a cell that a lesson leaves open.
func AskedCell(text string) Cell { return Cell{Text: Text{}.Asked(text, Plain, "")} }

// TickCell returns a box to tick.
func TickCell() Cell { return Cell{Box: true} }

// Row is one line of a table. Missing cells are empty.
type Row struct {
	Cells []Cell
	// Total sets the row off with a rule and strong type.
	Total bool
	// Heading makes the first cell a heading that runs across all columns.
	Heading bool
}

// Table is rows under a head that is repeated on each page.
type Table struct {
	ID string
	// Caption stands above the table; a table without one gets no number.
	Caption string
	Columns []Column
	Rows    []Row
}

// NewTable returns a table with the given columns and no rows.
func NewTable(columns ...Column) *Table { return &Table{Columns: columns} }

// TextColumn returns a column for words.
func TextColumn(head string) Column { return Column{Head: head} }

// NumberColumn returns a column for figures.
func NumberColumn(head string) Column { return Column{Head: head, Align: End} }

// CentreColumn returns a column for signs and boxes.
func CentreColumn(head string) Column { return Column{Head: head, Align: Centre} }

// Row appends a row of plain cells.
func (t *Table) Row(cells ...string) {
	r := Row{}
	for _, c := range cells {
		r.Cells = append(r.Cells, WordCell(c))
	}
	t.Rows = append(t.Rows, r)
}

// Cells appends a row of any cells.
func (t *Table) Cells(cells ...Cell) { t.Rows = append(t.Rows, Row{Cells: cells}) }

// Total appends a row of sums.
func (t *Table) Total(cells ...string) {
	t.Row(cells...)
	t.Rows[len(t.Rows)-1].Total = true
}

// Group appends a heading that runs across the table.
func (t *Table) Group(text string) {
	t.Rows = append(t.Rows, Row{Heading: true, Cells: []Cell{WordCell(text)}})
}
