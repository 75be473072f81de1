package plan

import (
	"bytes"
	"context"
	"encoding/json"
	"reflect"
	"slices"
	"strings"
	"testing"

	"longgrain/examples"
	"longgrain/internal/design/joint"
	"longgrain/internal/ground/problem"
	"longgrain/patterns"
)

// input reads a piece and a shop that must be without fault.
func input(t testing.TB, piece, shop string) Input {
	t.Helper()
	in, problems := Read(Text{"piece.yaml", []byte(piece)}, Text{"shop.yaml", []byte(shop)}, patterns.All())
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	return in
}

func demo(t testing.TB) Input { return input(t, examples.PlayTable(), examples.Shop()) }

func made(t testing.TB, in Input) Plan {
	t.Helper()
	p, problems := Make(context.Background(), in)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	return p
}

func TestTheDemoTableIsConsistent(t *testing.T) {
	p := made(t, demo(t))
	consistent(t, p)
	if len(p.Assembly.Parts) != 13 || len(p.Joints) != 4 || len(p.Fastenings) != 4 {
		t.Errorf("%d parts, %d kinds of joint, %d fastenings", len(p.Assembly.Parts), len(p.Joints), len(p.Fastenings))
	}
	if len(p.Fit)+len(p.Cutting.Findings)+len(p.Structure.Findings) > 0 {
		t.Errorf("fit %v, cutting %v, structure %v", p.Fit, p.Cutting.Findings, p.Structure.Findings)
	}
	if holds := p.Chapters[1]; holds.ID != HoldsChapter || holds.Word != "holds" {
		t.Errorf("%+v", holds)
	}
}

func TestTheSameInputGivesTheSameBytes(t *testing.T) {
	in := demo(t)
	first, err := json.Marshal(made(t, in))
	if err != nil {
		t.Fatal(err)
	}
	for range 2 {
		again, _ := json.Marshal(made(t, demo(t)))
		if !bytes.Equal(first, again) {
			t.Fatal("two plans of one input differ")
		}
	}
}

// replaced returns the example table with texts changed, in pairs.
func replaced(t testing.TB, text string, pairs ...string) string {
	t.Helper()
	for i := 0; i < len(pairs); i += 2 {
		if !strings.Contains(text, pairs[i]) {
			t.Fatalf("the example has no %q", pairs[i])
		}
		text = strings.Replace(text, pairs[i], pairs[i+1], 1)
	}
	return text
}

func TestBadInputIsAListOfProblems(t *testing.T) {
	table, shop := examples.PlayTable(), examples.Shop()
	huge := table + strings.Repeat("# filler\n", 10<<20/9)
	deep := "longgrain: 1\nname: " + strings.Repeat("[", 100000) + "\n"
	cases := map[string]struct{ piece, shop string }{
		"an empty file":            {"", shop},
		"only white space":         {" \n\t\n", shop},
		"binary":                   {"\x00\xff\xfe\x01", shop},
		"a picture of a list":      {"- 1\n- 2\n", shop},
		"endless brackets":         {deep, shop},
		"not a number":             {replaced(t, table, "length: 900 mm", "length: .nan"), shop},
		"endless":                  {replaced(t, table, "length: 900 mm", "length: .inf"), shop},
		"not a number, in words":   {replaced(t, table, "length: 900 mm", "length: NaN mm"), shop},
		"negative":                 {replaced(t, table, "leg: 54 mm", "leg: -54 mm"), shop},
		"zero":                     {replaced(t, table, "leg: 54 mm", "leg: 0 mm"), shop},
		"absurdly large":           {replaced(t, table, "height: 500 mm", "height: 1e30 mm"), shop},
		"larger than the pattern":  {replaced(t, table, "length: 900 mm", "length: 9 m"), shop},
		"smaller than the pattern": {replaced(t, table, "leg: 54 mm", "leg: 0.001 mm"), shop},
		"a wrong unit":             {replaced(t, table, "length: 900 mm", "length: 900 kg"), shop},
		"no unit":                  {replaced(t, table, "length: 900 mm", "length: 900"), shop},
		"a temperature":            {replaced(t, table, "length: 900 mm", "length: 20 °C"), shop},
		"an unknown key":           {table + "colour: blue\n", shop},
		"an unknown size":          {replaced(t, table, "overhang:", "overhung:"), shop},
		"an unknown pattern":       {replaced(t, table, "leg-and-apron-table", "leg-and-apron-tabel"), shop},
		"an unknown species":       {replaced(t, table, "eastern white pine", "eastern white pin"), shop},
		"an unknown version":       {replaced(t, table, "longgrain: 1", "longgrain: 99"), shop},
		"no room for aprons":       {replaced(t, table, "overhang: 40 mm", "overhang: 200 mm", "length: 900 mm", "length: 450 mm"), shop},
		"a missing shop":           {table, ""},
		"a shop that is a piece":   {table, table},
		"a piece that is a shop":   {shop, shop},
		"a negative price":         {table, replaced(t, shop, "price: 0.72", "price: -0.72")},
		"a kerf of a metre":        {table, replaced(t, shop, "kerf: 3.2 mm", "kerf: 1 m")},
		"a tool that nobody knows": {table, replaced(t, shop, "- table saw", "- tabel saw")},
		"copies without end":       {table + "copies: 1000000000\n", shop},
		"10 MB and a fault at end": {huge + "\ncolour: blue\n", shop},
	}
	for name, c := range cases {
		in, problems := Read(Text{"piece.yaml", []byte(c.piece)}, Text{"shop.yaml", []byte(c.shop)}, patterns.All())
		if len(problems) == 0 {
			_, problems = Make(context.Background(), in) // sizes of the pattern are checked there
		}
		if len(problems) == 0 {
			t.Errorf("%s: no problem", name)
			continue
		}
		clear(t, name, problems)
	}
}

// clear reports problems that a reader could not act on.
func clear(t *testing.T, name string, problems problem.List) {
	t.Helper()
	for _, p := range problems {
		if p.What == "" || p.Code == "" || p.At.File == "" {
			t.Errorf("%s: %+v says too little", name, p)
		}
	}
	if len(problems) > 40 {
		t.Errorf("%s: %d problems", name, len(problems))
	}
}

// What is possible but cannot be made in a shop is part of the plan, not a problem.
func TestAShopThatCannotMakeThePieceGetsAPlanThatSaysSo(t *testing.T) {
	table, shop := examples.PlayTable(), examples.Shop()
	without := func(key string) string {
		var kept []string
		inside := false
		for line := range strings.Lines(shop) {
			if strings.HasPrefix(line, key+":") {
				inside = true
				continue
			}
			inside = inside && (strings.HasPrefix(line, " ") || strings.HasPrefix(line, "#") || strings.TrimSpace(line) == "")
			if !inside {
				kept = append(kept, line)
			}
		}
		return strings.Join(kept, "")
	}
	none := without("timber") // three boards and some offcuts stay
	const unpriced = "longgrain-shop: 1\nname: Bare\ntimber:\n  - {size: 2x6, species: eastern white pine, lengths: [12 ft]}\n  - {size: 5/4x6, species: eastern white pine, lengths: [12 ft]}\n"
	cases := map[string]struct {
		piece, shop, chapter, says string
	}{
		"no clamps":          {table, without("clamps"), GlueupsChapter, "clamp"},
		"no timber":          {table, none, TimberChapter, "no cutting plan"},
		"no stock that fits": {replaced(t, table, "top_thickness: 22 mm", "top_thickness: 60 mm"), shop, TimberChapter, "no timber gives the top"},
		"hand tools only":    {table, replaced(t, without("tools"), "clamps:", "tools: [hand saws]\nclamps:"), JointsChapter, "no joint fits"},
		"almost nothing":     {table, "longgrain-shop: 1\nname: Bare\n", TimberChapter, "no timber"},
		"no prices":          {table, unpriced, CostChapter, "no price"},
	}
	for name, c := range cases {
		p := made(t, input(t, c.piece, c.shop))
		consistent(t, p)
		said := ""
		for _, chapter := range p.Chapters {
			if chapter.ID == c.chapter {
				said = chapter.Answer
			}
		}
		if !strings.Contains(said, c.says) || said == "" {
			t.Errorf("%s: %s says %q", name, c.chapter, said)
		}
	}
}

// A joint that the maker wishes and that fits is made; one that cannot be made is said so.
func TestWishesReachThePlan(t *testing.T) {
	wish := func(text string) Plan {
		return made(t, input(t, examples.PlayTable()+"joints:\n  - {between: [apron, leg], "+text+"}\n", examples.Shop()))
	}
	p := wish("kind: dowels, count: 4, diameter: 8 mm")
	consistent(t, p)
	for _, g := range p.Joints[:2] {
		if !g.Choice.Fixed || g.Final.Joint.Sizes.Count != 4 || len(g.Choice.Problems) > 0 {
			t.Errorf("%s: %+v, %v", p.GroupName(g), g.Final.Joint.Sizes, g.Choice.Problems)
		}
	}
	p = wish("kind: mortise and tenon, thickness: 40 mm")
	consistent(t, p)
	if len(p.Joints[0].Choice.Problems) == 0 {
		t.Error("a tenon thicker than the apron is not reported")
	}
}

func TestTwentyFourCopiesOfTheDemo(t *testing.T) {
	p := made(t, input(t, examples.PlayTable()+"copies: 24\n", examples.Shop()))
	consistent(t, p)
	if p.Copies != 24 {
		t.Errorf("%d copies", p.Copies)
	}
}

func BenchmarkPlan(b *testing.B) {
	in := demo(b)
	b.ReportAllocs()
	for b.Loop() {
		Make(context.Background(), in)
	}
}

func BenchmarkGlance(b *testing.B) {
	in := demo(b)
	in.Glance = true
	b.ReportAllocs()
	for b.Loop() {
		Make(context.Background(), in)
	}
}

// A plan at a glance is the full plan but for what hangs on the boards: those may cost more, never less than the full plan's bound, and
// the answers say that they are for now.
func TestAGlanceDiffersOnlyInTheBoards(t *testing.T) {
	in := demo(t)
	full, _ := Make(context.Background(), in)
	in.Glance = true
	glance, problems := Make(context.Background(), in)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	if glance.Cutting.Counted < full.Cutting.Counted-full.Cutting.AnyGap {
		t.Errorf("at a glance %v, the full plan's bound %v", glance.Cutting.Counted, full.Cutting.Counted-full.Cutting.AnyGap)
	}
	if !reflect.DeepEqual(glance.Assembly, full.Assembly) || !reflect.DeepEqual(glance.Structure, full.Structure) || glance.Verdict != full.Verdict {
		t.Error("the glance differs in the piece or the verdict")
	}
	for i, c := range glance.Chapters {
		so := strings.HasPrefix(c.Answer, "so far ")
		if onBoards := slices.Contains([]string{TimberChapter, BoardsChapter, GlueupsChapter, OrderChapter, CostChapter}, c.ID); onBoards && c.Word == "" && !so ||
			!onBoards && c != full.Chapters[i] {
			t.Errorf("%s: %q, in full %q", c.ID, c.Answer, full.Chapters[i].Answer)
		}
	}
}

// Two rails alike, one flush with the top of its posts and one in their middle: the upper tenon keeps away from the end grain.
func TestARailAtTheEndOfALegIsNotCutLikeOneInItsMiddle(t *testing.T) {
	const frame = `
longgrain: 1
name: Rails
use: bench
wood: {species: eastern white pine}
parts:
  - {name: a, role: leg, length: 700 mm, width: 200 mm, thickness: 45 mm, along: z, across: y}
  - {name: b, role: leg, length: 700 mm, width: 200 mm, thickness: 45 mm, at: [445 mm, 0 mm, 0 mm], along: z, across: y}
  - {name: middle, role: rail, length: 400 mm, width: 80 mm, thickness: 24 mm, at: [45 mm, 90 mm, 300 mm], along: x, across: z}
  - {name: upper, role: rail, length: 400 mm, width: 80 mm, thickness: 24 mm, at: [45 mm, 90 mm, 620 mm], along: x, across: z}
connections:
  - {between: [middle, a]}
  - {between: [middle, b]}
  - {between: [upper, a]}
  - {between: [upper, b]}
joints:
  - {between: [rail, leg], kind: mortise and tenon}
`
	const mortiser = "longgrain-shop: 1\nname: Bench\ntools: [table saw, hand saws, chisels and mallet]\n"
	p := made(t, input(t, frame, mortiser))
	consistent(t, p)
	if len(p.Joints) != 2 {
		t.Fatalf("%d kinds of joint", len(p.Joints))
	}
	for _, part := range p.Assembly.Parts[:2] {
		for _, f := range part.Features {
			if top := part.Length - f.U - f.Length/2; top < joint.NearEnd {
				t.Errorf("a mortise for %s ends %v mm below the top of %s", f.For, top.MM(), part.Name)
			}
		}
	}
}

// The words of the commonest faults: what is wrong must be said, not only that something is.
func TestBadInputIsAnsweredInPlainWords(t *testing.T) {
	table, shop := examples.PlayTable(), examples.Shop()
	for name, c := range map[string]struct{ piece, shop, want string }{
		"empty piece":     {"", shop, "has no content"},
		"empty shop":      {table, "", "has no content"},
		"piece as a shop": {table, table, "begins with longgrain; expected"},
		"shop as a piece": {shop, shop, "begins with longgrain-shop"},
		"ten megabytes":   {strings.Repeat("# long\n", 10<<20/7), shop, "too long"},
		"not a number":    {replaced(t, table, "900 mm", "NaN mm"), shop, "does not start with a number"},
		"negative":        {replaced(t, table, "900 mm", "-900 mm"), shop, "out of range"},
		"absurd":          {replaced(t, table, "900 mm", "90 m"), shop, "out of range"},
		"wrong unit":      {replaced(t, table, "900 mm", "900 kg"), shop, "unknown unit"},
		"no unit":         {replaced(t, table, "900 mm", "900"), shop, "has no unit"},
		"unknown species": {replaced(t, table, "eastern white pine", "moon pine"), shop, "no species"},
		"unknown finish":  {replaced(t, table, "water dye and hardening oil", "magic"), shop, "no finish"},
		"both wrong":      {replaced(t, table, "900 mm", "900"), replaced(t, shop, "- table saw", "- tabel saw"), "table saw"},
	} {
		in, problems := Read(Text{"p.yaml", []byte(c.piece)}, Text{"s.yaml", []byte(c.shop)}, patterns.All())
		if len(problems) == 0 {
			_, problems = Make(context.Background(), in)
		}
		if len(problems) == 0 || !strings.Contains(problems.Error(), c.want) {
			t.Errorf("%s: %v", name, problems)
		}
	}
}
