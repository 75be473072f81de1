package plan

import (
	"context"
	"encoding/json"
	"fmt"
	"os"
	"testing"

	"longgrain/internal/design/piece"
	"longgrain/internal/trade/shop"
	"longgrain/patterns"
)

func demo(t testing.TB, name string) Input {
	t.Helper()
	text, err := os.ReadFile("../../examples/" + name)
	if err != nil {
		t.Fatal(err)
	}
	p, problems := piece.Parse(name, text)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	shopText, err := os.ReadFile("../../examples/shop.yaml")
	if err != nil {
		t.Fatal(err)
	}
	s, problems := shop.Parse("shop.yaml", shopText)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	return Input{p, s, patterns.All()}
}

func TestExplore(t *testing.T) {
	p, problems := Make(context.Background(), demo(t, "play-table.yaml"))
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	fmt.Println(p.Verdict)
	for _, c := range p.Chapters {
		fmt.Println(c.Title, "|", c.Word, "|", c.Answer)
	}
	for _, g := range p.Joints {
		fmt.Println(p.GroupName(g), g.Final.Joint.Describe(), g.Final.Reserve, g.Final.Verdict, g.Final.Governs, g.Case, g.Choice.Why)
		for i, r := range g.Choice.Ranked {
			if i < 6 {
				fmt.Println("    ", r.Joint.Describe(), r.Reserve, r.Joint.Minutes)
			}
		}
	}
	for _, f := range p.Fit {
		fmt.Println("FIT", f)
	}
	for _, f := range p.Cutting.Findings {
		fmt.Println("CUT", f)
	}
	for i, g := range p.Cutting.Groups {
		w := p.Cutting.Ways[i]
		fmt.Println(g.Name, len(g.Parts), w.Build, w.Pieces, w.Length.MM(), w.Width.MM(), "from", w.Stock.MM(), w.Notes)
	}
	for _, b := range p.Cutting.Buy {
		fmt.Println("BUY", b.Name, b.Length.MM(), b.Count, b.Total)
	}
	for _, b := range p.Cutting.Boards {
		fmt.Printf("BOARD %s %s %.0f x %.0f waste %.0f%%: ", b.Source, b.Name, b.Length.MM(), b.Width.MM(), b.Waste*100)
		for _, a := range b.Areas {
			fmt.Print(a.Kind, " ", a.Label, "; ")
		}
		fmt.Println(len(b.Cuts), "cuts")
	}
	fmt.Println(p.Cutting.Kept, p.Cutting.Proven, p.Cutting.Bound, p.Cutting.Cost)
	for _, f := range p.Fastenings {
		fmt.Println(f.Rail, f.Across, f.At, f.SlotLength, f.SlotDepth.MM(), f.Gap.MM(), f.Notes)
	}
	text, err := json.Marshal(p)
	fmt.Println(len(text), err)
}

func BenchmarkPlan(b *testing.B) {
	in := demo(b, "play-table.yaml")
	b.ReportAllocs()
	for b.Loop() {
		Make(context.Background(), in)
	}
}
