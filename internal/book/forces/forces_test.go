package forces

import (
	"bytes"
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"strings"
	"testing"

	"longgrain/examples"
	"longgrain/internal/paper/scene"
	"longgrain/internal/paper/svg"
	"longgrain/internal/plan"
	"longgrain/patterns"
)

var update = flag.Bool("update", false, "write the golden files anew")

func planOf(t testing.TB, text string) plan.Plan {
	t.Helper()
	in, problems := plan.Read(plan.Text{Name: "piece", Text: []byte(text)}, plan.Text{Name: "shop", Text: []byte(examples.Shop())}, patterns.All())
	var p plan.Plan
	if len(problems) == 0 {
		p, problems = plan.Stand(in)
	}
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	return p
}

// every calls do with each part of the frame under some of the cases.
func every(t *testing.T, p plan.Plan, do func(part int, d Diagram)) {
	t.Helper()
	seen := 0
	for k := range p.Structure.Cases {
		for i := range p.Assembly.Parts {
			if d, ok := Of(p, k, i); ok {
				do(i, d)
				seen++
			}
		}
	}
	if seen == 0 {
		t.Fatal("no part carries anything")
	}
}

const stool = `
longgrain: 1
name: Long names of a shelf on posts
units: %s
use: shelf
parts:
  - {name: left, role: side, length: 900 mm, width: 250 mm, thickness: 20 mm, along: z, across: y}
  - {name: right, role: side, length: 900 mm, width: 250 mm, thickness: 20 mm, at: [620 mm, 0 mm, 0 mm], along: z, across: y}
  - {name: low, role: shelf, length: 600 mm, width: 240 mm, thickness: 20 mm, at: [20 mm, 5 mm, 60 mm], along: x, across: y}
  - {name: middle, role: shelf, length: 600 mm, width: 240 mm, thickness: 20 mm, at: [20 mm, 5 mm, 90 mm], along: x, across: y}
  - {name: high, role: shelf, length: 600 mm, width: 240 mm, thickness: 20 mm, at: [20 mm, 5 mm, 120 mm], along: x, across: y}
  - {name: top, role: shelf, length: 600 mm, width: 240 mm, thickness: 20 mm, at: [20 mm, 5 mm, 880 mm], along: x, across: y}
connections:
  - {between: [low, left]}
  - {between: [low, right]}
  - {between: [middle, left]}
  - {between: [middle, right]}
  - {between: [high, left]}
  - {between: [high, right]}
  - {between: [top, left]}
  - {between: [top, right]}
`

func pieces() []string {
	table := examples.PlayTable()
	return []string{table, strings.Replace(table, "units: mm", "units: in", 1), fmt.Sprintf(stool, "mm"), fmt.Sprintf(stool, "in")}
}

func TestNothingOfADiagramLiesOnAnother(t *testing.T) {
	for _, text := range pieces() {
		p := planOf(t, text)
		every(t, p, func(_ int, d Diagram) {
			s := Draw(d, 166)
			name := d.Part + " under " + d.Case
			for _, c := range s.TextClashes() {
				t.Errorf("%s: %q lies on %q", name, c[0].Text, c[1].Text)
			}
			if w, h := s.Size(); w > 166.01 || h > 225 {
				t.Errorf("%s: %.0f × %.0f mm", name, w, h)
			}
			for _, x := range s.Texts() {
				if b := (scene.Scene{Items: []scene.Item{x}}).Bounds(); b.Min.X < -0.01 || b.Max.X > 166.01 {
					t.Errorf("%s: %q stands out of the drawing, from %.1f to %.1f", name, x.Text, b.Min.X, b.Max.X)
				}
			}
		})
		if t.Failed() {
			t.FailNow()
		}
	}
}

// The part keeps its proportions, whatever they are.
func TestThePartIsDrawnInItsOwnProportions(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 5))
	for range 50 {
		d := Diagram{Part: "board", Length: 20 + 2000*r.Float64(), Width: 10 + 600*r.Float64(), Ends: [2]string{"left", "right"}}
		for _, k := range kinds {
			d.Curves = append(d.Curves, Curve{Name: k.name, Unit: k.unit, At: []float64{0, d.Length}, Of: []float64{1, -1}})
		}
		s := Draw(d, 166)
		found := false
		for _, i := range s.Items {
			if p, ok := i.(scene.Polygon); ok && p.Style == scene.Outline {
				b := scene.Scene{Items: []scene.Item{p}}.Bounds()
				if ratio := b.Width() / b.Height(); math.Abs(ratio/(d.Length/d.Width)-1) > 1e-9 {
					t.Errorf("%.0f × %.0f mm is drawn %.1f × %.1f", d.Length, d.Width, b.Width(), b.Height())
				}
				found = true
			}
		}
		if _, h := s.Size(); !found || h > 225 {
			t.Errorf("%.0f × %.0f mm: part drawn %v, %.0f mm high", d.Length, d.Width, found, h)
		}
	}
}

// A rail of a table under a load in its middle: what statics of a beam says of the shear beside the load and of the stretched edge.
func TestForcesOfARailUnderALoadInItsMiddle(t *testing.T) {
	p := planOf(t, examples.PlayTable())
	found := 0
	every(t, p, func(part int, d Diagram) {
		if d.Part != "apron front" || !strings.Contains(d.Case, "down at the front edge") {
			return
		}
		found++
		bend, shear := d.Curves[3], d.Curves[1]
		most, least := bend.Extremes()
		if bend.Above != "stretches the upper edge" || bend.Below != "stretches the lower edge" {
			t.Errorf("bending %s and %s", bend.Above, bend.Below)
		}
		if miss := math.Abs(bend.At[least] - d.Length/2); miss > 1 {
			t.Errorf("bends most at %v of %v mm", bend.At[least], d.Length)
		}
		// Two ends and the middle: the moment rises by the shear times half the length.
		rise := bend.Of[most] - bend.Of[least]
		if want := shear.Size() * d.Length / 2 / 1000; math.Abs(rise/want-1) > 0.02 { // its own weight is in it
			t.Errorf("bending rises by %.1f N·m, shear of %.0f N over %.0f mm gives %.1f", rise, shear.Size(), d.Length/2, want)
		}
		if bend.Of[most] <= 0 || bend.Of[least] >= 0 {
			t.Errorf("bending from %v to %v: the ends are held and the middle sags", bend.Of[least], bend.Of[most])
		}
	})
	if found != 1 {
		t.Errorf("%d such cases", found)
	}
}

func TestExtremesTakeTheMiddleOfAPlateau(t *testing.T) {
	for _, x := range []struct {
		of          []float64
		most, least int
	}{
		{[]float64{0, 0, 0, 0, 0}, 2, 2}, {[]float64{5, 5, 5, -3, -3}, 1, 3}, {[]float64{0, 1, 2, 1, -4}, 2, 4}, {[]float64{7, 0, 0, 0, 7}, 0, 2},
	} {
		c := Curve{At: []float64{0, 1, 2, 3, 4}, Of: x.of}
		if most, least := c.Extremes(); most != x.most || least != x.least {
			t.Errorf("%v: %d and %d, want %d and %d", x.of, most, least, x.most, x.least)
		}
	}
}

func TestTheDrawingOfTheHardestPartIsAsKept(t *testing.T) {
	p := planOf(t, examples.PlayTable())
	part, index, ok := p.HardestPart()
	if !ok {
		t.Fatal("no part is used hardest")
	}
	d, _ := Of(p, index, part)
	got := svg.File(Draw(d, 166))
	const file = "testdata/hardest.svg"
	if *update {
		if err := os.WriteFile(file, got, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, want) {
		t.Errorf("the drawing differs from %s; run with -update and look at it", file)
	}
}
