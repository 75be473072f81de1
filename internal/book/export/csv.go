package export

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"strings"

	"longgrain/internal/ground/unit"
	"longgrain/internal/plan"
)

// table is rows of text under a head, written as CSV or as a sheet.
type table struct {
	name string // "parts"
	head []string
	rows [][]string
}

// tables returns the tables of a plan: parts, timber to buy, blanks, cuts, marks. Lengths are numbers in the piece's units,
// named in the column heads.
var tables = []func(plan.Plan) table{parts, buy, blanks, cuts, marks}

// csv writes a table. Cells that a spreadsheet would take for a formula are kept from being one.
func (t table) csv() []byte {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	_ = w.Write(t.head) // a buffer takes everything
	for _, r := range t.rows {
		cells := make([]string, len(r))
		for i, cell := range r {
			cells[i] = harmless(cell)
		}
		_ = w.Write(cells)
	}
	w.Flush()
	return b.Bytes()
}

// harmless puts an apostrophe before text that begins like a formula; negative numbers stay as they are.
func harmless(cell string) string {
	if cell == "" || !strings.ContainsRune("=+-@\t\r", rune(cell[0])) {
		return cell
	}
	if cell[0] == '-' && len(cell) > 1 && (cell[1] >= '0' && cell[1] <= '9' || cell[1] == '.') {
		return cell
	}
	return "'" + cell
}

func parts(p plan.Plan) table {
	u, n := p.Units, number(p)
	var rows [][]string
	for _, part := range p.Assembly.Parts {
		rows = append(rows, []string{part.Mark, part.Name, part.Role, n(part.Length), n(part.Width), n(part.Thickness), part.Species, fmt.Sprint(p.Copies)})
	}
	return table{"parts", []string{"mark", "part", "role", "length " + u, "width " + u, "thickness " + u, "species", "copies"}, rows}
}

func number(p plan.Plan) func(unit.Length) string {
	return func(l unit.Length) string {
		if p.Family == unit.Imperial {
			return fmt.Sprintf("%.4f", float64(l)/float64(unit.Inch))
		}
		return l.Number(unit.Metric)
	}
}

func buy(p plan.Plan) table {
	var rows [][]string
	for _, b := range p.Cutting.Buy {
		rows = append(rows, []string{fmt.Sprint(b.Count), b.Name, number(p)(b.Length), b.Each.String(), b.Total.String()})
	}
	return table{"buy", []string{"boards", "size", "length " + p.Units, "each", "total"}, rows}
}

func blanks(p plan.Plan) table {
	n := number(p)
	var rows [][]string
	for i, g := range p.Cutting.Groups {
		w := p.Cutting.Ways[i]
		rows = append(rows, []string{g.Name, fmt.Sprint(len(g.Parts)), string(w.Build), fmt.Sprint(w.Pieces), n(w.Length), n(w.Width), n(w.Stock), n(w.Planed)})
	}
	return table{"blanks", []string{"part", "number", "made as", "pieces each", "rough length " + p.Units, "rough width " + p.Units, "from timber " + p.Units, "planed to " + p.Units}, rows}
}

func cuts(p plan.Plan) table {
	n := number(p)
	var rows [][]string
	for i, b := range p.Cutting.Boards {
		for _, c := range b.Cuts {
			how := "crosscut"
			if c.Rip {
				how = "rip"
			}
			rows = append(rows, []string{fmt.Sprint(i + 1), b.Name, string(b.Source), n(b.Length), n(b.Width), fmt.Sprint(c.Number), how, n(c.At)})
		}
	}
	return table{"cuts", []string{"board", "size", "from", "length " + p.Units, "width " + p.Units, "cut", "how", "at " + p.Units}, rows}
}

func marks(p plan.Plan) table {
	n := number(p)
	var rows [][]string
	for _, s := range p.Markout.Sheets {
		part := p.Assembly.Parts[s.Part]
		for _, m := range s.Marks {
			rows = append(rows, []string{part.Mark, part.Name, s.References.Role(m.Side), m.What, n(m.Along), n(m.Across), n(m.Diameter), n(m.Length), n(m.Width), n(m.Depth), n(m.Stop), m.For})
		}
	}
	u := p.Units
	return table{"marks", []string{"mark", "part", "on", "what", "along " + u, "across " + u, "diameter " + u, "length " + u, "width " + u, "depth " + u, "stop " + u, "for"}, rows}
}
