package export

import (
	"bytes"
	"context"
	"encoding/csv"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"longgrain/examples"
	"longgrain/internal/design/piece"
	"longgrain/internal/plan"
	"longgrain/internal/trial"
	"longgrain/patterns"
)

func planOf(t testing.TB, text string) plan.Plan {
	t.Helper()
	described, problems := piece.Parse("piece.yaml", []byte(text))
	if len(problems) == 0 {
		var p plan.Plan
		if p, problems = plan.Make(context.Background(), plan.Input{Piece: described, Shop: trial.Shop(t, examples.Shop()), Patterns: patterns.All()}); len(problems) == 0 {
			return p
		}
	}
	t.Fatal(problems)
	return plan.Plan{}
}

// The library's own reader finds in the spreadsheet, cell by cell, what stands in the CSV files.
func TestTheSpreadsheetReadsBackAsTheTables(t *testing.T) {
	p := planOf(t, examples.PlayTable())
	file, ok, err := Make(p, "tables.xlsx")
	if !ok || err != nil {
		t.Fatal(ok, err)
	}
	book, err := excelize.OpenReader(bytes.NewReader(file.Data))
	if err != nil {
		t.Fatal(err)
	}
	defer book.Close()
	if want := []string{"parts", "buy", "blanks", "cuts", "marks"}; !slices.Equal(book.GetSheetList(), want) {
		t.Errorf("sheets %v, want %v", book.GetSheetList(), want)
	}
	for _, sheet := range book.GetSheetList() {
		table, _, _ := Make(p, sheet+".csv")
		want, err := csv.NewReader(bytes.NewReader(table.Data)).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		got, err := book.GetRows(sheet)
		if err != nil || len(got) != len(want) || len(got) < 2 {
			t.Fatalf("%s: %d rows of %d, %v", sheet, len(got), len(want), err)
		}
		for r := range want {
			for c, cell := range want[r] {
				have := ""
				if c < len(got[r]) {
					have = got[r][c]
				}
				a, errA := strconv.ParseFloat(cell, 64)
				b, errB := strconv.ParseFloat(have, 64)
				if have != cell && (errA != nil || errB != nil || a != b) {
					t.Errorf("%s row %d: %q, want %q", sheet, r+1, have, cell)
				}
			}
		}
	}
}

func TestTextThatLooksLikeAFormulaIsText(t *testing.T) {
	p := planOf(t, examples.PlayTable())
	p.Assembly.Parts[0].Name = "=1+2"
	sheet, _, _ := Make(p, "tables.xlsx")
	book, err := excelize.OpenReader(bytes.NewReader(sheet.Data))
	if err != nil {
		t.Fatal(err)
	}
	defer book.Close()
	if formula, _ := book.GetCellFormula("parts", "B2"); formula != "" {
		t.Errorf("a name became the formula %q", formula)
	}
	if text, _ := book.GetCellValue("parts", "B2"); text != "=1+2" {
		t.Errorf("a name became %q", text)
	}
	table, _, _ := Make(p, "parts.csv")
	if !strings.Contains(string(table.Data), ",'=1+2,") {
		t.Error("a name in the CSV file could be taken for a formula")
	}
}

func TestEveryFileIsTheSameTwice(t *testing.T) {
	p := planOf(t, examples.PlayTable())
	for _, name := range Names() {
		a, ok, err := Make(p, name)
		b, _, _ := Make(p, name)
		if !ok || err != nil || len(a.Data) == 0 || !bytes.Equal(a.Data, b.Data) {
			t.Errorf("%s: %v %v, %d and %d bytes", name, ok, err, len(a.Data), len(b.Data))
		}
	}
	if _, ok, _ := Make(p, "piece.doc"); ok {
		t.Error("a file of a name that is not made")
	}
	if left := NotCut(p); len(left) > 0 {
		t.Errorf("not cut: %q", left)
	}
}

func BenchmarkSolids(b *testing.B) {
	p := planOf(b, examples.PlayTable())
	for b.Loop() {
		if _, err := inSTEP(p); err != nil {
			b.Fatal(err)
		}
	}
}
