// Package export writes a plan in open formats: tables as CSV and the whole plan as JSON. Drawings go out through the
// writers in paper/. Nothing is computed here.
package export

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"strings"

	"longgrain/internal/ground/strict"
	"longgrain/internal/ground/unit"
	"longgrain/internal/plan"
)

// File is one file of an export.
type File struct {
	Name string // "parts.csv"
	Type string // media type
	Data []byte
}

// JSON returns the whole plan as JSON, indented; Schema describes it.
func JSON(p plan.Plan) ([]byte, error) {
	data, err := json.MarshalIndent(p, "", " ")
	if err != nil {
		return nil, fmt.Errorf("write the plan as JSON: %w", err)
	}
	return append(data, '\n'), nil
}

// Schema returns the JSON Schema of JSON.
func Schema() []byte { return strict.Schema(plan.Plan{}, "Longgrain plan") }

// TableNames lists the files that Tables returns, in order.
var TableNames = []string{"parts.csv", "buy.csv", "blanks.csv", "cuts.csv", "marks.csv"}

// Tables returns the tables of a plan as CSV: parts, timber to buy, blanks, cuts, marks. Lengths are numbers in the
// piece's units, named in the column heads.
func Tables(p plan.Plan) []File {
	return []File{parts(p), buy(p), blanks(p), cuts(p), marks(p)}
}

// table writes rows under a head. Cells that a spreadsheet would take for a formula are kept from being one.
func table(name string, head []string, rows [][]string) File {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	_ = w.Write(head) // a buffer takes everything
	for _, r := range rows {
		for i, cell := range r {
			r[i] = harmless(cell)
		}
		_ = w.Write(r)
	}
	w.Flush()
	return File{name + ".csv", "text/csv; charset=utf-8", b.Bytes()}
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

func parts(p plan.Plan) File {
	u, n := p.Units, number(p)
	var rows [][]string
	for _, part := range p.Assembly.Parts {
		rows = append(rows, []string{part.Mark, part.Name, part.Role, n(part.Length), n(part.Width), n(part.Thickness), part.Species, fmt.Sprint(p.Copies)})
	}
	return table("parts", []string{"mark", "part", "role", "length " + u, "width " + u, "thickness " + u, "species", "copies"}, rows)
}

func number(p plan.Plan) func(unit.Length) string {
	return func(l unit.Length) string {
		if p.Family == unit.Imperial {
			return fmt.Sprintf("%.4f", float64(l)/float64(unit.Inch))
		}
		return l.Number(unit.Metric)
	}
}

func buy(p plan.Plan) File {
	var rows [][]string
	for _, b := range p.Cutting.Buy {
		rows = append(rows, []string{fmt.Sprint(b.Count), b.Name, number(p)(b.Length), b.Each.String(), b.Total.String()})
	}
	return table("buy", []string{"boards", "size", "length " + p.Units, "each", "total"}, rows)
}

func blanks(p plan.Plan) File {
	n := number(p)
	var rows [][]string
	for i, g := range p.Cutting.Groups {
		w := p.Cutting.Ways[i]
		rows = append(rows, []string{g.Name, fmt.Sprint(len(g.Parts)), string(w.Build), fmt.Sprint(w.Pieces), n(w.Length), n(w.Width), n(w.Stock), n(w.Planed)})
	}
	return table("blanks", []string{"part", "number", "made as", "pieces each", "rough length " + p.Units, "rough width " + p.Units, "from timber " + p.Units, "planed to " + p.Units}, rows)
}

func cuts(p plan.Plan) File {
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
	return table("cuts", []string{"board", "size", "from", "length " + p.Units, "width " + p.Units, "cut", "how", "at " + p.Units}, rows)
}

func marks(p plan.Plan) File {
	n := number(p)
	var rows [][]string
	for _, s := range p.Markout.Sheets {
		part := p.Assembly.Parts[s.Part]
		for _, m := range s.Marks {
			rows = append(rows, []string{part.Mark, part.Name, s.References.Role(m.Side), m.What, n(m.Along), n(m.Across), n(m.Diameter), n(m.Length), n(m.Width), n(m.Depth), n(m.Stop), m.For})
		}
	}
	u := p.Units
	return table("marks", []string{"mark", "part", "on", "what", "along " + u, "across " + u, "diameter " + u, "length " + u, "width " + u, "depth " + u, "stop " + u, "for"}, rows)
}
