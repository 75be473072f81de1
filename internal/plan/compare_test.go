package plan

import (
	"math"
	"strings"
	"testing"

	"longgrain/examples"
	"longgrain/internal/design/joint"
	"longgrain/internal/ground/unit"
	"longgrain/internal/trade/shop"
	"longgrain/internal/work/cost"
)

func theShop(t testing.TB) shop.Shop {
	t.Helper()
	s, problems := shop.Parse("shop.yaml", []byte(examples.Shop()))
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	return s
}

func TestAComparisonShowsTheChoiceOfThePlan(t *testing.T) {
	p := made(t, demo(t))
	for i, g := range p.Joints {
		c := p.Compare(i)
		if len(c.Joints) != len(g.Choice.Ranked) || c.Why != g.Choice.Why || c.Wanted != p.Wanted {
			t.Fatalf("%s: %d joints of %d, %q", c.Title, len(c.Joints), len(g.Choice.Ranked), c.Why)
		}
		chosen := 0
		for k, j := range c.Joints {
			if j.Chosen {
				chosen++
				if k != g.Choice.Picked || j.Name != g.Final.Joint.Short() {
					t.Errorf("%s: %s is shown as chosen, %s is", c.Title, j.Name, g.Final.Joint.Short())
				}
			}
			if k > 0 && j.Reserve > c.Joints[k-1].Reserve {
				t.Errorf("%s: place %d holds more than place %d", c.Title, k, k-1)
			}
			price := unit.Money(0)
			for _, item := range g.Choice.Ranked[k].Joint.Hardware {
				each, _ := cost.HardwarePrice(item.Name, p.Shop)
				price += each * unit.Money(item.Count)
			}
			if j.Limit == "" || j.Minutes <= 0 || j.Hardware != price {
				t.Errorf("%+v", j)
			}
		}
		if chosen != 1 {
			t.Errorf("%s: %d joints are chosen", c.Title, chosen)
		}
	}
	if i, _ := p.GroupOf("Apron to Leg"); i < 0 || p.groupKind(p.Joints[i]) != "apron to leg" {
		t.Errorf("apron to leg is group %d", i)
	}
	name := p.Assembly.Connections[p.Joints[1].Connections[0]].Name
	if i, _ := p.GroupOf(name); i != 1 {
		t.Errorf("%s is in group %d", name, i)
	}
	if i, names := p.GroupOf("nothing"); i != -1 || len(names) < len(p.Joints) {
		t.Errorf("nothing is group %d of %v", i, names)
	}
}

func rail() EndJoint {
	return EndJoint{Species: "Scots pine", Width: 110 * unit.Millimetre, Thickness: 23 * unit.Millimetre, Depth: 45 * unit.Millimetre, Bend: 60, Pull: 200}
}

func TestAnEndJointIsComparedWithoutAPiece(t *testing.T) {
	s := theShop(t)
	c, problems := CompareEnd(rail(), s)
	if len(problems) > 0 || len(c.Joints) < 10 {
		t.Fatal(len(c.Joints), problems)
	}
	twice := rail()
	twice.Bend, twice.Pull = 2*twice.Bend, 2*twice.Pull
	half, _ := CompareEnd(twice, s)
	reserve := map[string]joint.Reserve{}
	for _, j := range c.Joints {
		reserve[j.Name] = j.Reserve
	}
	for _, j := range half.Joints {
		if math.Abs(2*float64(j.Reserve)/float64(reserve[j.Name])-1) > 1e-9 {
			t.Errorf("%s: %v under twice the load, %v under the load", j.Name, j.Reserve, reserve[j.Name])
		}
	}
	unloaded := rail()
	unloaded.Bend, unloaded.Pull = 0, 0
	if c, _ = CompareEnd(unloaded, s); !math.IsInf(float64(c.Joints[0].Reserve), 1) || !strings.Contains(c.Why, "before the loads are known") {
		t.Errorf("without load: %v, %s", c.Joints[0].Reserve, c.Why)
	}
}

func TestEverythingWrongWithAnEndJointIsSaid(t *testing.T) {
	s := theShop(t)
	cases := []struct {
		change func(*EndJoint)
		want   string
	}{
		{func(e *EndJoint) { e.Species = "plastic" }, `there is no wood "plastic"`},
		{func(e *EndJoint) { e.Width = 0 }, "the width of the rail is 0 mm"},
		{func(e *EndJoint) { e.Depth = -5 * unit.Millimetre }, "the depth of the post is -5 mm"},
		{func(e *EndJoint) { e.Thickness = 5 * unit.Millimetre }, "the thickness of the rail is 5 mm"},
		{func(e *EndJoint) { e.Width, e.Thickness = e.Thickness, e.Width }, "the rail is thicker than it is wide"},
		{func(e *EndJoint) { e.Bend = -1 }, "a load of -1 is below 0"},
		{func(e *EndJoint) { e.Shear = unit.Newtons(math.NaN()) }, "is no load of furniture"},
		{func(e *EndJoint) { e.Pull = unit.Newtons(math.Inf(1)) }, "is no load of furniture"},
		{func(e *EndJoint) { e.Wanted = 0.2 }, "a wanted reserve of 0.2"},
	}
	all := rail()
	for _, c := range cases {
		e := rail()
		c.change(&e)
		if _, problems := CompareEnd(e, s); len(problems) != 1 || !strings.Contains(problems[0].What, c.want) || problems[0].Mend == "" {
			t.Errorf("want %q, got %v", c.want, problems)
		}
	}
	for _, c := range cases[:4] {
		c.change(&all)
	}
	if _, problems := CompareEnd(all, s); len(problems) < 4 {
		t.Errorf("of four faults %d are said: %v", len(problems), problems)
	}
}

// A joint that the maker fixed against the rules is told with what the rule costs, under the same forces.
func TestABrokenRuleSaysWhatItCosts(t *testing.T) {
	p := made(t, input(t, examples.PlayTable()+"\njoints:\n  - {between: [apron, leg], kind: dowels, count: 4, diameter: 10 mm}\n", examples.Shop()))
	found := false
	for _, f := range p.Rules {
		if f.Broken.Rule == "D07" {
			found = true
			g := p.Joints[f.Group]
			if f.As != g.Final.Reserve || f.Kept == "" || f.With == f.As {
				t.Errorf("%+v", f)
			}
		}
	}
	if !found {
		t.Errorf("no finding on D07 among %v", p.Rules)
	}
}
