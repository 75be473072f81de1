package patterns_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"longgrain/internal/check/hang"
	"longgrain/internal/check/structure"
	"longgrain/internal/design/assembly"
	"longgrain/internal/design/pattern"
	"longgrain/internal/design/piece"
	"longgrain/internal/ground/problem"
	"longgrain/internal/ground/unit"
	"longgrain/internal/trade/wood"
	"longgrain/internal/trial"
	"longgrain/internal/work/markout"
	"longgrain/patterns"
)

// hungPatterns hang on the wall; all others stand.
var hungPatterns = map[string]bool{"book-ledge": true, "picture-ledge": true}

// TestRandomSizes tries every pattern with many sizes. What comes out must be one of two: a piece whose parts touch as the pattern
// says, do not overlap, weigh what their wood weighs and whose cuts meet; or a message that the pattern itself gives.
func TestRandomSizes(t *testing.T) {
	tries, looks := 5000, 60
	if testing.Short() {
		tries, looks = 60, 5
	}
	for k, script := range patterns.All() {
		t.Run(script.Name, func(t *testing.T) {
			info, problems := pattern.Describe(script)
			if len(problems) > 0 {
				t.Fatal(problems)
			}
			random := rand.New(rand.NewPCG(9, uint64(k)))
			made := 0
			for range tries {
				text := randomPiece(info, random)
				a, problems := build(t, text)
				if len(problems) > 0 {
					for _, p := range problems {
						if !explained(script, p) {
							t.Fatalf("%s\nis refused without an explanation by the pattern: %v", text, p)
						}
					}
					continue
				}
				made++
				if made%(max(1, tries/looks)) == 0 {
					consistent(t, text, a)
				}
			}
			if made < tries/4 {
				t.Errorf("only %d of %d sizes make a piece: the ranges say too little", made, tries)
			}
			t.Logf("%d of %d sizes make a piece", made, tries)
		})
	}
}

// randomPiece describes a piece with some of its sizes changed, each to anywhere in its range.
func randomPiece(info pattern.Info, random *rand.Rand) string {
	var b strings.Builder
	fmt.Fprintf(&b, "longgrain: 1\nname: Trial\npattern: %s\n", info.Name)
	if hungPatterns[info.Name] {
		b.WriteString("fixed: hung\n")
	}
	b.WriteString("sizes:\n")
	some := false
	for _, s := range info.Sizes {
		if random.Float64() < 0.6 {
			continue
		}
		some = true
		switch s.Kind {
		case pattern.LengthSize:
			low, high := s.Low.Length.MM(), s.High.Length.MM()
			fmt.Fprintf(&b, "  %s: %.1f mm\n", s.Name, math.Min(high, low+math.Round(10*random.Float64()*(high-low))/10))
		case pattern.CountSize:
			fmt.Fprintf(&b, "  %s: %d\n", s.Name, s.LowCount+random.IntN(s.HighCount-s.LowCount+1))
		case pattern.ChoiceSize:
			fmt.Fprintf(&b, "  %s: %s\n", s.Name, s.Choices[random.IntN(len(s.Choices))])
		case pattern.YesNoSize:
			fmt.Fprintf(&b, "  %s: %v\n", s.Name, random.IntN(2) == 0)
		}
	}
	if !some {
		return strings.TrimSuffix(b.String(), "sizes:\n")
	}
	return b.String()
}

func build(t *testing.T, text string) (assembly.Assembly, problem.List) {
	t.Helper()
	p, problems := piece.Parse("trial.yaml", []byte(text))
	if len(problems) > 0 {
		t.Fatalf("%s\n%v", text, problems)
	}
	p, _, problems = pattern.Expand(p, patterns.All())
	if len(problems) > 0 {
		return assembly.Assembly{}, problems
	}
	a, problems := assembly.Build(p)
	if len(problems) > 0 {
		t.Fatalf("%s\nmakes parts that do not go together: %v", text, problems)
	}
	return a, nil
}

// explained tells whether a problem is a message that the pattern gives with fail, or that of a part without room.
func explained(s pattern.Script, p problem.Problem) bool {
	lines := strings.Split(s.Text, "\n")
	if p.Code != problem.BadPattern || p.At.Line < 1 || p.At.Line > len(lines) {
		return false
	}
	return strings.Contains(lines[p.At.Line-1], "fail(") || strings.Contains(p.What, "leave no room for it")
}

// consistent looks closely at one piece: its mass and the cuts of its joints.
func consistent(t *testing.T, text string, a assembly.Assembly) {
	t.Helper()
	mass := 0.0
	for _, p := range a.Parts {
		volume := p.Length.MM() * p.Width.MM() * p.Thickness.MM()
		for _, f := range p.Features {
			if f.Kind == assembly.TaperCut {
				volume -= f.Length.MM() * f.Depth.MM() * p.Size(3-f.Side.Axis()).MM() / 2
			}
		}
		species, _ := wood.Lookup(p.Species)
		rho, _ := species.Density(trial.DryWood)
		mass += volume * 1e-9 * float64(rho.Value)
	}
	joints := trial.Joints(t, a, trial.Everything)
	answer := structure.Answer{}
	if a.Fixed == assembly.Hung {
		answer = hang.Analyse(a, joints, trial.Reserve, trial.DryWood)
	} else {
		answer = structure.Analyse(a, joints, trial.Reserve, trial.DryWood)
	}
	if math.Abs(answer.Mass-mass) > 1e-6*mass {
		t.Errorf("%s\nweighs %.4f kg and its wood %.4f kg", text, answer.Mass, mass)
	}
	cut := trial.Cut(t, a, joints)
	for _, m := range markout.Make(cut, markout.Options{Smallest: unit.Millimetre / 2}).Mates {
		for _, d := range m.Directions {
			if d.Designed.Abs() > unit.Micrometre {
				t.Errorf("%s\nthe cuts of %s miss each other by %v", text, a.Connections[m.Connection].Name, d.Designed)
			}
		}
	}
}
