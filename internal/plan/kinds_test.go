package plan

import (
	"context"
	"slices"
	"strings"
	"testing"

	"longgrain/examples"
	"longgrain/internal/design/assembly"
	"longgrain/internal/design/fasten"
	"longgrain/internal/design/joint"
	"longgrain/internal/trade/hardware"
	"longgrain/internal/trial"
)

func fullShop() string { return trial.FullShop(examples.Shop(), hardware.ToolNames()) }

// usesKind tells whether a group of joints of a plan is made as the kind, fixed by the maker.
func usesKind(p Plan, k joint.Kind) bool {
	return slices.ContainsFunc(p.Joints, func(g JointGroup) bool {
		return g.Made && g.Choice.Fixed && len(g.Choice.Problems) == 0 && g.Final.Joint.Kind == k
	})
}

func TestEveryKindOfJointGoesThroughEveryChapter(t *testing.T) {
	for _, k := range joint.Kinds() {
		t.Run(string(k), func(t *testing.T) {
			t.Parallel()
			p := made(t, input(t, trial.KindPiece(t, k), fullShop()))
			consistent(t, p)
			if !usesKind(p, k) {
				for _, g := range p.Joints {
					t.Logf("%s: %s, %s %v", p.GroupName(g), g.Final.Joint.Describe(), g.Choice.Why, g.Choice.Problems)
				}
				t.Errorf("no joint is made as %s", k)
			}
			for _, f := range p.Fit {
				t.Errorf("%s: %s, wall %.2f mm", f.Where, f.What, f.Wall)
			}
			for _, part := range p.Assembly.Parts {
				for _, f := range part.Features {
					if f.For == "" {
						t.Errorf("%s has a cut %+v for nothing", part.Name, f)
					}
				}
			}
		})
	}
}

func TestPartsThatCrossAreLapped(t *testing.T) {
	p := made(t, input(t, trial.CrossedPiece(t), fullShop()))
	consistent(t, p)
	if !usesKind(p, joint.HalfLap) || len(p.Fit) > 0 {
		t.Fatalf("%+v, %v", p.Joints[0].Choice.Problems, p.Fit)
	}
	a, b := p.Assembly.Parts[0].Features, p.Assembly.Parts[1].Features
	if len(a) != 1 || len(b) != 1 || a[0].Kind != assembly.Notch || a[0].Depth+b[0].Depth != p.Assembly.Connections[0].Lap {
		t.Errorf("%+v and %+v of a lap of %v", a, b, p.Assembly.Connections[0].Lap)
	}
}

func TestPartsThatCrossWithoutAConnectionAreRefused(t *testing.T) {
	text := trial.CrossedPiece(t)
	text = text[:strings.Index(text, "connections:")]
	in, problems := Read(Text{"p.yaml", []byte(text)}, Text{"s.yaml", []byte(fullShop())}, nil)
	if len(problems) == 0 {
		_, problems = Make(context.Background(), in)
	}
	if len(problems) != 1 || !strings.Contains(problems.Error(), "into each other") {
		t.Errorf("%v", problems)
	}
}

func TestImpossibleSizesOfEveryKindAreReported(t *testing.T) {
	for _, k := range joint.Kinds() {
		text := trial.KindPiece(t, k)
		for _, impossible := range []string{"depth: 199 mm", "thickness: 60 mm", "width: 399 mm", "count: 40, diameter: 40 mm"} {
			text := strings.Replace(text, "kind: "+string(k)+"}", "kind: "+string(k)+", "+impossible+"}", 1)
			if k == joint.Housing || !strings.Contains(text, impossible) {
				continue
			}
			in := input(t, text, fullShop())
			sites, err := joint.Sites(trial.Assembly(t, text), moisture(in.Shop))
			if err != nil {
				t.Fatal(err)
			}
			for _, s := range sites {
				if s.Wish == nil || s.Wish.Kind != string(k) {
					continue
				}
				c := joint.Choose(s, means(in.Shop), nil, joint.DefaultReserve)
				if len(c.Problems) != 1 || !strings.Contains(c.Problems[0], string(k)) {
					t.Errorf("%s with %s: %q", k, impossible, c.Problems)
				}
			}
		}
	}
}

func TestATopOnSlottedScrewsGoesThroughEveryChapter(t *testing.T) {
	p := made(t, input(t, trial.FastenedPiece(t, joint.Kind(fasten.SlottedScrews)), fullShop()))
	consistent(t, p)
	if len(p.Fastenings) != 4 || p.Fastenings[0].Way != fasten.SlottedScrews || len(p.Fit) > 0 {
		t.Errorf("%+v, %v", p.Fastenings, p.Fit)
	}
}
