package plan

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"strings"
	"testing"

	"longgrain/internal/design/pattern"
	"longgrain/internal/design/piece"
	"longgrain/internal/ground/problem"
	"longgrain/internal/ground/unit"
	"longgrain/internal/trade/shop"
	"longgrain/internal/trade/wood"
	"longgrain/internal/work/cutting"
	"longgrain/patterns"
)

func read(t testing.TB, name string) string {
	t.Helper()
	text, err := os.ReadFile("../../examples/" + name)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

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

func TestTheDemoTableIsConsistent(t *testing.T) {
	p, problems := Make(context.Background(), demo(t, "play-table.yaml"))
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	if p.Verdict.Word != "holds" || len(p.Chapters) != 12 {
		t.Errorf("%s, %d chapters", p.Verdict, len(p.Chapters))
	}
	consistent(t, "play table", p)
}

// consistent checks that the chapters of a plan agree with each other.
func consistent(t *testing.T, name string, p Plan) {
	t.Helper()
	mass := 0.0
	for _, part := range p.Assembly.Parts {
		species, _ := wood.Lookup(part.Species)
		density, _ := species.Density(p.Shop.Habits.TargetMoisture)
		mass += float64(density.Value) * float64(unit.Volume(part.Length, part.Width, part.Thickness))
	}
	if math.Abs(mass-p.Structure.Mass) > 1e-9*mass {
		t.Errorf("%s: mass %v, volume times density %v", name, p.Structure.Mass, mass)
	}
	for _, m := range p.Markout.Mates {
		for _, d := range m.Directions {
			if d.Marked != d.Designed && !d.Same && d.Marked == 0 {
				t.Errorf("%s: a pair of cuts lies apart: %+v", name, d)
			}
		}
	}
	if len(p.Cutting.Findings) == 0 {
		pieces, want := 0, 0
		for _, b := range p.Cutting.Boards {
			for _, area := range b.Areas {
				if area.Kind == cutting.PartArea {
					pieces++
				}
				if area.X < 0 || area.Y < 0 || area.X+area.L > b.Length || area.Y+area.W > b.Width {
					t.Errorf("%s: %s lies off its board", name, area.Label)
				}
			}
		}
		for i, g := range p.Cutting.Groups {
			want += len(g.Parts) * p.Cutting.Ways[i].Pieces * p.Copies
		}
		if pieces != want {
			t.Errorf("%s: %d pieces on the boards, %d needed", name, pieces, want)
		}
	}
	for _, g := range p.Joints {
		if g.Made && !(g.Final.Reserve > 0) {
			t.Errorf("%s: reserve %v", name, g.Final.Reserve)
		}
	}
}

func TestTheSameInputGivesTheSameBytes(t *testing.T) {
	in := demo(t, "play-table.yaml")
	var kept []byte
	for range 3 {
		p, _ := Make(context.Background(), in)
		text, err := json.Marshal(p)
		if err != nil {
			t.Fatal(err)
		}
		if kept != nil && !bytes.Equal(kept, text) {
			t.Fatal("two plans of one input differ")
		}
		kept = text
	}
}

// TestTablesOfAnySizeArePlannedOrRefused tries random sizes of the pattern: a plan is consistent, a refusal names a size or
// says what leaves no room.
func TestTablesOfAnySizeArePlannedOrRefused(t *testing.T) {
	in := demo(t, "play-table.yaml")
	script, _ := in.Patterns.Find("leg-and-apron-table")
	info, _ := pattern.Describe(script)
	rng := rand.New(rand.NewPCG(3, 7))
	tries, planned := 300, 0
	if testing.Short() {
		tries = 40
	}
	for range tries {
		text := "longgrain: 1\nname: Any\nwood: {species: eastern white pine}\npattern: leg-and-apron-table\nsizes:\n"
		for _, s := range info.Sizes {
			switch s.Kind {
			case pattern.LengthSize:
				low, high := s.Low.Length.MM(), s.High.Length.MM()
				size := s.Default.Length.MM() * (0.6 + rng.Float64()) // mostly near the defaults,
				if rng.IntN(20) == 0 {
					size = low + (high-low)*rng.Float64() // now and then anywhere
				}
				text += fmt.Sprintf("  %s: %.1f mm\n", s.Name, math.Max(low, math.Min(high, size)))
			case pattern.ChoiceSize:
				text += fmt.Sprintf("  %s: %s\n", s.Name, s.Choices[rng.IntN(len(s.Choices))])
			}
		}
		described, problems := piece.Parse("any.yaml", []byte(text))
		if len(problems) > 0 {
			t.Fatal(problems)
		}
		in.Piece = described
		p, problems := Make(context.Background(), in)
		if len(problems) > 0 {
			if problems[0].Code != problem.BadPattern && problems[0].Code != problem.BadGeometry {
				t.Errorf("%v\n%s", problems, text)
			}
			continue
		}
		planned++
		consistent(t, text, p)
	}
	if planned < tries/5 {
		t.Errorf("only %d of %d tables could be planned", planned, tries)
	}
}

func TestBadInputOfEveryKindIsAnAnswer(t *testing.T) {
	good := read(t, "play-table.yaml")
	shopText := read(t, "shop.yaml")
	for name, c := range map[string]struct{ piece, shop, want string }{
		"empty piece":     {"", shopText, "has no content"},
		"empty shop":      {good, "", "has no content"},
		"ten megabytes":   {strings.Repeat("# long\n", 10<<20/7), shopText, "bytes long"},
		"not a number":    {strings.Replace(good, "900 mm", "NaN mm", 1), shopText, "does not start with a number"},
		"negative":        {strings.Replace(good, "900 mm", "-900 mm", 1), shopText, "out of range"},
		"absurd":          {strings.Replace(good, "900 mm", "90 m", 1), shopText, "out of range"},
		"wrong unit":      {strings.Replace(good, "900 mm", "900 kg", 1), shopText, "unknown unit"},
		"no unit":         {strings.Replace(good, "900 mm", "900", 1), shopText, "has no unit"},
		"unknown species": {strings.Replace(good, "eastern white pine", "moon pine", 1), shopText, "no species"},
		"unknown finish":  {strings.Replace(good, "water dye and hardening oil", "magic", 1), shopText, "no finish"},
		"both wrong":      {strings.Replace(good, "900 mm", "900", 1), strings.Replace(shopText, "- table saw", "- tabel saw", 1), "table saw"},
	} {
		_, problems := Read(Text{"p.yaml", []byte(c.piece)}, Text{"s.yaml", []byte(c.shop)}, patterns.All())
		if len(problems) == 0 {
			p, _ := piece.Parse("p.yaml", []byte(c.piece))
			s, _ := shop.Parse("s.yaml", []byte(c.shop))
			_, problems = Make(context.Background(), Input{p, s, patterns.All()})
		}
		if len(problems) == 0 || !strings.Contains(problems.Error(), c.want) {
			t.Errorf("%s: %v", name, problems)
		}
	}
}

func TestAShopWithoutMeansGivesFindings(t *testing.T) {
	described, _ := piece.Parse("p.yaml", []byte(read(t, "play-table.yaml")))
	bare, problems := shop.Parse("s.yaml", []byte("longgrain-shop: 1\nname: Bare\n"))
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	p, problems := Make(context.Background(), Input{described, bare, patterns.All()})
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	if len(p.Cutting.Findings) == 0 || p.Verdict.Word != "does not hold" {
		t.Errorf("no timber is no finding: %+v", p.Verdict)
	}
	if len(p.GlueUps.Findings) == 0 {
		t.Error("no clamps is no finding")
	}
}

func BenchmarkPlan(b *testing.B) {
	in := demo(b, "play-table.yaml")
	b.ReportAllocs()
	for b.Loop() {
		Make(context.Background(), in)
	}
}
