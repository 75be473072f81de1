package schedule

import (
	"context"
	"fmt"
	"os"
	"testing"

	"longgrain/internal/design/assembly"
	"longgrain/internal/design/joint"
	"longgrain/internal/design/pattern"
	"longgrain/internal/design/piece"
	"longgrain/internal/ground/unit"
	"longgrain/internal/trade/coating"
	"longgrain/internal/trade/hardware"
	"longgrain/internal/trade/shop"
	"longgrain/internal/work/cutting"
	"longgrain/internal/work/finishing"
	"longgrain/internal/work/glueup"
	"longgrain/patterns"
)

func read(t testing.TB, name string) string {
	t.Helper()
	text, err := os.ReadFile("../../../examples/" + name)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

func parseShop(t testing.TB, text string) shop.Shop {
	t.Helper()
	s, problems := shop.Parse("shop.yaml", []byte(text))
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	return s
}

// build places a piece and gives each of its sites the strongest hidden joint.
func build(t testing.TB, text string, s shop.Shop) (assembly.Assembly, []*joint.Joint) {
	t.Helper()
	p, problems := piece.Parse("piece.yaml", []byte(text))
	if len(problems) == 0 {
		p, _, problems = pattern.Expand(p, patterns.All())
	}
	var a assembly.Assembly
	if len(problems) == 0 {
		a, problems = assembly.Build(p)
	}
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	sites, err := joint.Sites(a, 9)
	if err != nil {
		t.Fatal(err)
	}
	means := joint.Means{Can: s.Can, Dowels: hardware.Dowels(), Mark: unit.Millimetre / 2}
	joints := make([]*joint.Joint, len(a.Connections))
	for _, site := range sites {
		r, ok := joint.Choose(site, means, nil, 1.3).Pick()
		for i, c := range a.Connections {
			if ok && c.Name == site.Connection.Name {
				joints[i] = &r.Joint
			}
		}
	}
	return a, joints
}

// input works out everything that comes before the schedule.
func input(t testing.TB, text string, s shop.Shop, finish string) Input {
	t.Helper()
	a, joints := build(t, text, s)
	cuts := map[int][]assembly.Feature{}
	sites, err := joint.Sites(a, 9)
	if err != nil {
		t.Fatal(err)
	}
	for _, site := range sites {
		for i, c := range a.Connections {
			if c.Name == site.Connection.Name && joints[i] != nil {
				onA, onB := joint.Cut(site, *joints[i])
				cuts[c.A.Part] = append(cuts[c.A.Part], onA...)
				cuts[c.B.Part] = append(cuts[c.B.Part], onB...)
			}
		}
	}
	a = a.WithFeatures(cuts)
	air := Air(s, s.Calendar.Starts)
	f, ok := coating.LookupSchedule(finish)
	if !ok {
		t.Fatalf("no finish %s", finish)
	}
	cut := cutting.Make(context.Background(), a, s, 1)
	return Input{Assembly: a, Joints: joints, Cutting: cut, GlueUps: glueup.Make(a, joints, cut.Groups, cut.Ways, s, air),
		Finish: finishing.Make(a, s, f, air), Shop: s}
}

func demo(t testing.TB) Input {
	t.Helper()
	return input(t, read(t, "play-table.yaml"), parseShop(t, read(t, "shop.yaml")), "dye-and-oil")
}

func TestExplore(t *testing.T) {
	in := demo(t)
	p := Make(context.Background(), in)
	for _, d := range p.Days {
		fmt.Println(d.Title)
		for _, e := range d.Entries {
			x := p.Tasks[e.Task]
			fmt.Printf("    %-120s %v-%v %.0f %v\n", e.Text, x.Start.Clock(), x.End.Clock(), x.Work, x.Critical)
		}
	}
	for _, f := range p.Findings {
		fmt.Println("FINDING", f)
	}
	fmt.Println(p.End, p.Bound, p.Proven, p.Sessions, p.Attended/60, p.Elapsed/60/24, p.Waiting/60/24, len(p.Tasks))
}

func BenchmarkMake(b *testing.B) {
	in := demo(b)
	b.ReportAllocs()
	for b.Loop() {
		Make(context.Background(), in)
	}
}
