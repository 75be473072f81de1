package plan

import (
	"context"
	"fmt"
	"strings"
	"testing"

	"longgrain/examples"
	"longgrain/internal/design/joint"
	"longgrain/internal/design/piece"
	"longgrain/patterns"
)

// weakTable is a table of the pattern with some sizes.
func weakTable(wood, sizes, more string) string {
	return fmt.Sprintf("longgrain: 1\nname: Weak\nuse: table\nwood: {species: %s}\npattern: leg-and-apron-table\nsizes: {%s}\n%s", wood, sizes, more)
}

// weakPieces fail in one way each, and by more than a hair.
var weakPieces = map[string]struct{ text, key, what string }{
	"joint": {weakTable("eastern white pine, condition: small tight knots", "length: 1000 mm, width: 600 mm, height: 700 mm, leg: 60 mm, apron_width: 100 mm, apron_thickness: 24 mm, top_thickness: 22 mm",
		"joints:\n  - {between: [apron, leg], kind: dowels, count: 2, diameter: 8 mm, depth: 20 mm}\n"), "joint apron to leg", "apron to leg"},
	"member": {weakTable("white oak, condition: poor", "length: 1500 mm, width: 600 mm, height: 500 mm, leg: 70 mm, apron_width: 50 mm, apron_thickness: 20 mm, top_thickness: 30 mm", ""),
		"part apron", "bending of the apron"},
	"sway": {weakTable("white oak", "length: 700 mm, width: 500 mm, height: 1000 mm, leg: 28 mm, apron_width: 70 mm, apron_thickness: 20 mm, top_thickness: 20 mm", ""), "sway", "sway"},
	"sag": {weakTable("eastern white pine", "length: 1600 mm, width: 900 mm, height: 700 mm, leg: 70 mm, apron_width: 120 mm, apron_thickness: 24 mm, top_thickness: 14 mm", ""),
		"sag of the top", "sag of the top"},
	"tipping": {weakTable("white oak", "length: 900 mm, width: 600 mm, height: 500 mm, leg: 50 mm, apron_width: 90 mm, apron_thickness: 22 mm, overhang: 120 mm", ""),
		"tipping under a load on the edge", "tipping under a load on the edge"},
}

// Each kind of failure gets a mend, and the piece that is described with it holds there.
func TestWhatDoesNotHoldIsMended(t *testing.T) {
	for name, c := range weakPieces {
		t.Run(name, func(t *testing.T) {
			if testing.Short() && name != "tipping" && name != "member" {
				t.Skip("each takes some seconds of searching")
			}
			t.Parallel()
			in := input(t, c.text, examples.Shop())
			p := made(t, in)
			before, known := p.judgement()[c.key]
			if !known || before.verdict != joint.DoesNotHold {
				t.Fatalf("%s: %+v, of %+v", c.key, before, p.judgement())
			}
			mended := WithMends(context.Background(), in, p)
			found := 0
			for _, m := range mended.Mends {
				t.Logf("%s: %s; then %s, %s; %s, %+.1f h, short %v", m.Change, m.Mended(), m.Word, m.Left, m.Money("$"), m.Hours, m.Short)
				if m.Change == "" || len(m.For) == 0 || m.Word == "" {
					t.Errorf("%+v", m)
				}
				for _, f := range m.For {
					if m.Short || !strings.HasPrefix(f.What, c.what) || strings.HasSuffix(f.What, "years") {
						continue
					}
					found++
					if f.After <= f.Before {
						t.Errorf("%s brings %s from %v to %v", m.Change, f.What, f.Before, f.After)
					}
					if len(m.Sizes) > 0 {
						text := piece.WithSizes([]byte(c.text), m.Sizes)
						again := judged(t, string(text))[c.key]
						if again.verdict != joint.Holds || again.reserve != f.After {
							t.Errorf("%s: reserve %v when described, %v when tried", m.Change, again.reserve, f.After)
						}
					}
				}
			}
			if found == 0 {
				t.Errorf("nothing mends %s, reserve %v", c.key, before.reserve)
			}
		})
	}
}

func judged(t *testing.T, text string) judgement {
	p := made(t, input(t, text, examples.Shop()))
	return p.judgement()
}

// One step less than the mend does not hold: it is the smallest.
func TestAMendIsTheSmallestStep(t *testing.T) {
	c := weakPieces["sag"]
	in := input(t, c.text, examples.Shop())
	p := WithMends(context.Background(), in, made(t, in))
	for _, m := range p.Mends {
		size, ok := m.Sizes["top_thickness"]
		if !ok {
			continue
		}
		var mm int
		if _, err := fmt.Sscanf(size, "%d mm", &mm); err != nil {
			t.Fatal(size, err)
		}
		text := piece.WithSizes([]byte(c.text), map[string]string{"top_thickness": fmt.Sprintf("%d mm", mm-1)})
		if again := judged(t, string(text))[c.key]; again.verdict == joint.Holds {
			t.Errorf("%d mm is already enough", mm-1)
		}
		return
	}
	t.Error("no thicker top is proposed")
}

func TestAPieceThatHoldsNeedsNoMend(t *testing.T) {
	in := demo(t)
	if got := WithMends(context.Background(), in, made(t, in)); len(got.Mends) > 0 {
		t.Errorf("%+v", got.Mends)
	}
}

func TestMendsAreTheSameTwice(t *testing.T) {
	if testing.Short() {
		t.Skip("searches twice")
	}
	in := input(t, weakPieces["sway"].text, examples.Shop())
	p := made(t, in)
	a, b := WithMends(context.Background(), in, p).Mends, WithMends(context.Background(), in, p).Mends
	if fmt.Sprint(a) != fmt.Sprint(b) || len(a) == 0 {
		t.Errorf("%v\n%v", a, b)
	}
}

// Parts written out grow where there is room: a bench with a thin seat on two boards.
func TestWrittenPartsAreMended(t *testing.T) {
	in, problems := Read(Text{"bench.yaml", []byte(thinBench)}, Text{"shop.yaml", []byte(examples.Shop())}, patterns.All())
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	p := WithMends(context.Background(), in, made(t, in))
	thicker := false
	for _, m := range p.Mends {
		t.Logf("%s: %s; then %s, %s", m.Change, m.Mended(), m.Word, m.Left)
		thicker = thicker || (strings.HasPrefix(m.Change, "seat") && strings.Contains(m.Change, "thick") && !m.Short)
	}
	if !thicker {
		t.Errorf("no thicker seat among %d mends", len(p.Mends))
	}
}

const thinBench = `
longgrain: 1
name: Thin bench
use: bench
wood: {species: eastern white pine, condition: clear}
parts:
  - {name: end left, role: side, length: 400 mm, width: 280 mm, thickness: 30 mm, at: [100 mm, 0 mm, 0 mm], along: z, across: y}
  - {name: end right, role: side, length: 400 mm, width: 280 mm, thickness: 30 mm, at: [1070 mm, 0 mm, 0 mm], along: z, across: y}
  - {name: rail, role: rail, length: 940 mm, width: 160 mm, thickness: 30 mm, at: [130 mm, 125 mm, 230 mm], along: x, across: z}
  - {name: seat, role: seat, length: 1200 mm, width: 300 mm, thickness: 18 mm, at: [0 mm, -10 mm, 400 mm], along: x, across: y}
connections:
  - between: [rail, end left]
  - between: [rail, end right]
  - {between: [end left, seat], purpose: top fastening}
  - {between: [end right, seat], purpose: top fastening}
`
