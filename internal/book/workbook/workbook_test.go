package workbook

import (
	"context"
	"flag"
	"fmt"
	"os"
	"strings"
	"testing"

	"longgrain/examples"
	"longgrain/internal/design/piece"
	"longgrain/internal/paper/document"
	"longgrain/internal/paper/scene"
	"longgrain/internal/plan"
	"longgrain/internal/trade/hardware"
	"longgrain/internal/trade/shop"
	"longgrain/internal/trial"
	"longgrain/patterns"
)

var update = flag.Bool("update", false, "rewrite golden files")

func planOf(t testing.TB, text string) plan.Plan { return planIn(t, text, examples.Shop()) }

func planIn(t testing.TB, text, workshop string) plan.Plan {
	t.Helper()
	described, problems := piece.Parse("example.yaml", []byte(text))
	s, shopProblems := shop.Parse("shop.yaml", []byte(workshop))
	if problems = append(problems, shopProblems...); len(problems) > 0 {
		t.Fatal(problems)
	}
	p, problems := plan.Make(context.Background(), plan.Input{Piece: described, Shop: s, Patterns: patterns.All()})
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	return p
}

func TestTheWorkbookOfEveryExampleReadsAsKept(t *testing.T) {
	for _, text := range examples.Pieces() {
		p := planOf(t, text)
		if p.Verdict.Word != "holds" {
			t.Errorf("%s: %s, %s", p.Name, p.Verdict.Word, p.Verdict.Answer)
		}
		got := plainText(Make(p, A4Room))
		file := "testdata/" + strings.ReplaceAll(strings.ToLower(p.Name), " ", "-") + ".txt"
		if *update {
			if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		want, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		if got != string(want) {
			t.Errorf("%s differs from %s; run with -update and read the difference", p.Name, file)
		}
	}
}

// variants are the demo table in other units, woods, joints and shapes: books that nobody keeps but that must be whole.
func variants() map[string]string {
	table := examples.PlayTable()
	return map[string]string{
		"inches":    strings.Replace(table, "units: mm", "units: in", 1),
		"shelf":     strings.Replace(table, "below: low rails", "below: shelf", 1),
		"tapered":   strings.Replace(strings.Replace(table, "below: low rails", "below: nothing", 1), "set_back: 4 mm", "set_back: 4 mm\n  taper: 15 mm", 1),
		"tenons":    table + "joints:\n  - {between: [apron, leg], kind: mortise and tenon}\n",
		"pockets":   table + "joints:\n  - {between: [apron, leg], kind: pocket screws}\n",
		"biscuits":  table + "joints:\n  - {between: [apron, leg], kind: biscuits}\n",
		"varnish":   strings.Replace(table, "finish: water dye and hardening oil", "finish: oil only", 1),
		"two dozen": table + "copies: 24\n",
		"free": `longgrain: 1
name: Ledge
units: in
use: shelf
parts:
  - {name: left, role: side, length: 12 in, width: 6 in, thickness: 3/4 in, along: z, across: y}
  - {name: shelf, role: shelf, length: 24 in, width: 6 in, thickness: 3/4 in, at: [3/4 in, 0 in, 4 in]}
  - {name: right, role: side, length: 12 in, width: 6 in, thickness: 3/4 in, at: [24 3/4 in, 0 in, 0 in], along: z, across: y}
connections:
  - between: [shelf, left]
  - between: [shelf, right]
`,
	}
}

func TestEveryBookIsWhole(t *testing.T) {
	for name, text := range variants() {
		whole(t, name, planOf(t, text))
	}
}

func TestTheBookOfEveryKindOfJointIsWhole(t *testing.T) {
	tools := trial.FullShop(examples.Shop(), hardware.ToolNames())
	for _, k := range trial.SomeKinds() {
		whole(t, string(k), planIn(t, trial.KindPiece(t, k), tools))
	}
	whole(t, "crossing", planIn(t, trial.CrossedPiece(t), tools))
	whole(t, "slotted screws", planIn(t, trial.FastenedPiece(t, "slotted screws"), tools))
}

// whole checks that everything in the book of a plan can be read.
func whole(t *testing.T, name string, p plan.Plan) {
	t.Helper()
	d := Make(p, A4Room)
	for _, fault := range d.Check() {
		t.Errorf("%s: %v", name, fault)
	}
	words := scene.Printable(plainText(d))
	if i := strings.IndexRune(words, scene.Replacement); i >= 0 {
		t.Errorf("%s: the font lacks a letter of %q", name, words[max(0, i-40):min(len(words), i+40)])
	}
	for _, odd := range []string{"NaN", "+Inf", "%!", "<nil>", "..", " ,"} {
		if i := strings.Index(words, odd); i >= 0 {
			t.Errorf("%s: %q in %q", name, odd, words[max(0, i-60):min(len(words), i+30)])
		}
	}
	for _, b := range d.Blocks {
		var drawn scene.Scene
		switch b := b.(type) {
		case document.Figure:
			drawn = b.Scene
		case document.Template:
			drawn = b.Scene
		}
		if clashes := drawn.TextClashes(); len(clashes) > 0 {
			t.Errorf("%s: texts of %s overlap: %v", name, drawn.ID, clashes[0])
		}
	}
}

func TestAChapterAloneIsThatOfTheBook(t *testing.T) {
	p := planOf(t, examples.PlayTable())
	for _, c := range p.Chapters {
		d, ok := Chapter(p, c.ID, A4Room)
		if !ok || len(d.Blocks) == 0 {
			t.Errorf("chapter %s is empty", c.ID)
		}
	}
	if _, ok := Chapter(p, "nonsense", A4Room); ok {
		t.Error("there is a chapter of no name")
	}
}

// plainText prints a document as lines: enough to see in a difference what a reader would see.
func plainText(d document.Document) string {
	var b strings.Builder
	if d.Cover != nil {
		for _, p := range d.Cover.Summary {
			fmt.Fprintf(&b, "%s: %s\n", p.Name, p.Value)
		}
	}
	for _, block := range d.Blocks {
		printBlock(&b, block)
	}
	return b.String()
}

func printBlock(b *strings.Builder, block document.Block) {
	switch x := block.(type) {
	case document.Heading:
		fmt.Fprintf(b, "\n%s %s\n\n", strings.Repeat("#", x.Level), x.Text)
	case document.Paragraph:
		fmt.Fprintln(b, x.Text)
	case document.List:
		for _, i := range x.Items {
			fmt.Fprintln(b, "-", i)
		}
	case document.Checklist:
		for _, i := range x.Items {
			fmt.Fprintln(b, "[ ]", i)
		}
	case document.Figure:
		fmt.Fprintf(b, "(figure: %s)\n", x.Caption)
		for _, text := range x.Scene.Texts() {
			if printed := scene.Printable(text.Text); strings.ContainsRune(printed, scene.Replacement) {
				fmt.Fprintln(b, printed)
			}
		}
	case document.Template:
		fmt.Fprintf(b, "(template: %s)\n", x.Caption)
	case document.Box:
		fmt.Fprintf(b, "! %s: ", x.Title)
		for _, t := range x.Text {
			fmt.Fprintln(b, t)
		}
	case document.Summary:
		for _, p := range x.Pairs {
			fmt.Fprintf(b, "%s: %s\n", p.Name, p.Value)
		}
	case document.SmallPrint:
		fmt.Fprintln(b, x.Text)
	case document.Together:
		for _, inner := range x.Blocks {
			printBlock(b, inner)
		}
	case document.Table:
		fmt.Fprintln(b, x.Caption)
		for _, c := range x.Columns {
			fmt.Fprint(b, c.Head, " | ")
		}
		fmt.Fprintln(b)
		for _, r := range x.Rows {
			for _, c := range r.Cells {
				fmt.Fprint(b, c.Text.String(), " | ")
			}
			fmt.Fprintln(b)
		}
	}
}
