package step_test

import (
	"context"
	"math"
	"slices"
	"strings"
	"testing"

	"longgrain/examples"
	"longgrain/internal/book/export"
	"longgrain/internal/design/assembly"
	"longgrain/internal/design/piece"
	"longgrain/internal/paper/step"
	"longgrain/internal/plan"
	"longgrain/internal/trial"
	"longgrain/patterns"
)

// variants are the play table with other joints, and with legs that taper.
func variants() map[string]string {
	table := examples.PlayTable()
	out := map[string]string{
		"as it is": table,
		"tapered":  strings.Replace(strings.Replace(table, "below: low rails", "below: nothing", 1), "set_back: 4 mm", "set_back: 4 mm\n  taper: 15 mm", 1),
	}
	for _, kind := range []string{"dowels", "mortise and tenon", "pocket screws", "biscuits"} {
		out[kind] = table + "joints:\n  - {between: [apron, leg], kind: " + kind + "}\n"
	}
	return out
}

// carved is the volume of a part's box, less what each feature takes and with its tenons, each worked out by itself.
func carved(p assembly.Part) float64 {
	v := tapered(p)
	for _, f := range p.Features {
		depth := f.Depth.MM()
		if through := p.Size(f.Side.Axis()).MM(); f.Kind != assembly.Tenon && f.Tilt == 0 {
			depth = min(depth, through)
		}
		section := f.Length.MM() * f.Width.MM()
		if f.Rounded {
			w := min(f.Length.MM(), f.Width.MM())
			section -= w * w * (1 - math.Pi/4)
		}
		switch f.Kind {
		case assembly.Bore:
			v -= math.Pi / 4 * f.Diameter.MM() * f.Diameter.MM() * depth
		case assembly.Tenon:
			v += section * depth
		case assembly.TaperCut:
		default:
			v -= section * depth
		}
	}
	return v
}

// tapered is the volume of a part's box with its tapers: the section is a product of two straight lines piece by piece, so
// Simpson's rule between the starts of the tapers is exact.
func tapered(p assembly.Part) float64 {
	marks := []float64{0, p.Length.MM()}
	for _, f := range p.Features {
		if f.Kind == assembly.TaperCut {
			marks = append(marks, f.U.MM(), (f.U + f.Length).MM())
		}
	}
	slices.Sort(marks)
	section := func(x float64) float64 {
		size := [3]float64{0, p.Width.MM(), p.Thickness.MM()}
		for _, f := range p.Features {
			if f.Kind == assembly.TaperCut {
				share := (x - f.U.MM()) / f.Length.MM()
				if !f.Rising {
					share = 1 - share
				}
				if x >= f.U.MM() && x <= (f.U+f.Length).MM() {
					size[f.Side.Axis()] -= share * f.Depth.MM()
				}
			}
		}
		return size[1] * size[2]
	}
	v := 0.0
	for i := 1; i < len(marks); i++ {
		a, b := marks[i-1], marks[i]
		if b > a {
			v += (b - a) / 6 * (section(a+1e-9) + 4*section((a+b)/2) + section(b-1e-9))
		}
	}
	return v
}

// Open CASCADE reads every part of the demo table, whatever its joints, with the volume that its cuts leave.
func TestOpenCascadeReadsThePiece(t *testing.T) {
	for name, text := range variants() {
		if testing.Short() && name != "as it is" {
			continue
		}
		described, problems := piece.Parse("table.yaml", []byte(text))
		if len(problems) > 0 {
			t.Fatalf("%s: %v", name, problems)
		}
		p, problems := plan.Make(context.Background(), plan.Input{Piece: described, Shop: trial.Shop(t, examples.Shop()), Patterns: patterns.All()})
		if len(problems) > 0 {
			t.Fatal(name, problems)
		}
		if left := export.NotCut(p); len(left) > 0 {
			t.Errorf("%s: not cut: %q", name, left)
		}
		file, _, err := export.Make(p, "piece.step")
		if err != nil {
			t.Fatal(name, err)
		}
		found := step.Volumes(t, file.Data)
		if len(found) != len(p.Assembly.Parts) {
			t.Fatalf("%s: %d solids of %d parts", name, len(found), len(p.Assembly.Parts))
		}
		for i, part := range p.Assembly.Parts {
			if want := carved(part); math.Abs(found[i]-want) > 1e-4*want {
				t.Errorf("%s, %s: Open CASCADE finds %.2f mm³, want %.2f; %+v", name, part.Name, found[i], want, part.Features)
			}
		}
	}
}
