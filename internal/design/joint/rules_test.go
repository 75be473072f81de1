package joint

import (
	"slices"
	"strings"
	"testing"

	"longgrain/internal/ground/unit"
)

func brokenBy(t *testing.T, wish string) []string {
	t.Helper()
	c := Choose(oneSite(t, teeJoint("eastern white pine", 100, 24, wish)), everything, []Forces{{BendU: 20}}, DefaultReserve)
	r, ok := c.Pick()
	if !ok || len(c.Problems) > 0 {
		t.Fatalf("%s: %v", wish, c.Problems)
	}
	var out []string
	for _, b := range r.Joint.Broken {
		out = append(out, b.Rule)
	}
	return out
}

// Sizes that a maker may fix, and the rules that they break. The rail is 24 mm thick and 100 mm wide, the stile 63.5 mm deep.
func TestAJointListsTheRulesThatItBreaks(t *testing.T) {
	for _, c := range []struct{ wish, breaks string }{
		{"kind: dowels, count: 2, diameter: 10 mm, depth: 30 mm", ""},
		{"kind: dowels, count: 2, diameter: 6 mm, depth: 15 mm", "D01 D13"},
		{"kind: dowels, count: 2, diameter: 8 mm, depth: 17 mm", "D03 D13"},
		{"kind: dowels, count: 4, diameter: 10 mm, depth: 30 mm", "D07"},
		{"kind: mortise and tenon, thickness: 10 mm, depth: 40 mm, width: 88 mm", ""},
		{"kind: mortise and tenon, thickness: 6 mm, depth: 40 mm, width: 88 mm", "M01"},
		{"kind: mortise and tenon, thickness: 16 mm, depth: 40 mm, width: 88 mm", "M01"},
		{"kind: mortise and tenon, thickness: 10 mm, depth: 20 mm, width: 88 mm", "M02"},
		{"kind: mortise and tenon, thickness: 10 mm, depth: 55 mm, width: 88 mm", "M02"},
		{"kind: biscuits, count: 1", "B02"},
	} {
		if got := strings.Join(brokenBy(t, c.wish), " "); !strings.HasPrefix(got, c.breaks) || (c.breaks == "" && got != "") {
			t.Errorf("%s breaks %q, want %q", c.wish, got, c.breaks)
		}
	}
}

// In hard wood the rule to go a size up in soft wood does not apply.
func TestTheRuleForSoftWoodIsSilentInHardWood(t *testing.T) {
	for species, want := range map[string]bool{"eastern white pine": true, "white oak": false} {
		s := oneSite(t, teeJoint(species, 100, 24, "kind: dowels, count: 2, diameter: 8 mm"))
		r, _ := Choose(s, everything, nil, DefaultReserve).Pick()
		if got := r.Joint.breaks("D13"); got != want {
			t.Errorf("%s: D13 broken %v", species, got)
		}
	}
}

// Rules never reorder: the choice and the order are the same when there are none.
func TestRulesDecideNothing(t *testing.T) {
	s := oneSite(t, corner("eastern white pine"))
	sets := []Forces{{BendU: 30, N: 200}}
	with := Choose(s, everything, sets, DefaultReserve)
	kept := rules
	rules = nil
	without := Choose(s, everything, sets, DefaultReserve)
	rules = kept
	if with.Picked != without.Picked || len(with.Ranked) != len(without.Ranked) {
		t.Fatalf("picked %d of %d with rules, %d of %d without", with.Picked, len(with.Ranked), without.Picked, len(without.Ranked))
	}
	some := false
	for i := range with.Ranked {
		if with.Ranked[i].Joint.Describe() != without.Ranked[i].Joint.Describe() || with.Ranked[i].Reserve != without.Ranked[i].Reserve {
			t.Fatalf("place %d: %s with rules, %s without", i, with.Ranked[i].Joint.Describe(), without.Ranked[i].Joint.Describe())
		}
		some = some || len(with.Ranked[i].Joint.Broken) > 0
	}
	if !some {
		t.Error("no joint breaks any rule, so nothing was tested")
	}
}

// Keeping a rule is compared with the strongest joint of the kind that keeps it and breaks nothing new.
func TestWhatKeepingARuleGives(t *testing.T) {
	s := oneSite(t, teeJoint("eastern white pine", 100, 24, "kind: dowels, count: 2, diameter: 6 mm"))
	c := Choose(s, everything, []Forces{{BendU: 30}}, DefaultReserve)
	chosen, _ := c.Pick()
	kept, ok := c.Keeping("D01")
	if !ok || kept.Joint.breaks("D01") || kept.Joint.Kind != Dowels {
		t.Fatalf("%v, %s", ok, kept.Joint.Describe())
	}
	if kept.Reserve <= chosen.Reserve {
		t.Errorf("thicker dowels hold %v, thin ones %v", kept.Reserve, chosen.Reserve)
	}
	for _, b := range kept.Joint.Broken {
		if !chosen.Joint.breaks(b.Rule) {
			t.Errorf("keeping D01 breaks %s", b.Rule)
		}
	}
	for _, r := range c.Ranked {
		fresh := slices.ContainsFunc(r.Joint.Broken, func(b Broken) bool { return !chosen.Joint.breaks(b.Rule) })
		if r.Joint.Kind == Dowels && !r.Joint.breaks("D01") && !fresh && r.Reserve > kept.Reserve {
			t.Errorf("%s keeps the rule too and holds more", r.Joint.Describe())
		}
	}
	f := RuleFinding{Chosen: "2 dowels", Broken: Broken{"D01", "text", 0.25, 0.31, "of the thickness"}, As: 1.1, Kept: "2 thick dowels", With: 1.6, Guards: "thin dowels"}
	if got := f.String(); got != "2 dowels breaks rule D01: text (here 0.25 of the thickness, the rule says at least 0.31 of the thickness). As it is, the reserve is 1.1. Keeping the rule gives 1.6, with 2 thick dowels." {
		t.Error(got)
	}
	f.With = 0.9
	if got := f.String(); !strings.HasSuffix(got, "Keeping the rule leaves 0.9, with 2 thick dowels: here the rule costs strength. It guards against thin dowels.") {
		t.Error(got)
	}
	f.Kept = ""
	if got := f.String(); !strings.HasSuffix(got, "No joint of its kind keeps the rule here.") {
		t.Error(got)
	}
}

func TestEveryRuleHasLimitsAndOrigin(t *testing.T) {
	seen, known := map[string]bool{}, map[Kind]bool{}
	for _, k := range Kinds() {
		known[k] = true
		for _, r := range Rules(k) {
			if seen[r.ID+string(k)] || r.Kind != k || r.Text == "" || r.Guards == "" || r.Cite.Confidence == "" || (r.Least == 0 && r.Most == 0) || (r.Most > 0 && r.Most <= r.Least) {
				t.Errorf("%+v", r)
			}
			seen[r.ID+string(k)] = true
			if found, ok := RuleOf(r.ID); !ok || found.Text != r.Text {
				t.Errorf("rule %s is not found by its name", r.ID)
			}
		}
	}
	for k := range rules {
		if !known[k] {
			t.Errorf("rules for %q, which is no kind of joint", k)
		}
	}
	if len(seen) < 15 {
		t.Errorf("%d rules", len(seen))
	}
}

// Of equal work the joint that takes less wood away is the smaller one, and it is proposed if it holds.
func TestTheSmallestThatHoldsIsProposed(t *testing.T) {
	s := oneSite(t, teeJoint("eastern white pine", 100, 24, "kind: dowels"))
	s.Wish = nil
	for _, bend := range []float64{5, 15, 30, 60} {
		c := Choose(s, everything, []Forces{{BendU: unit.NewtonMetres(bend)}}, DefaultReserve)
		chosen, _ := c.Pick()
		if chosen.Verdict != Holds {
			continue
		}
		for _, r := range c.Ranked {
			if r.Verdict != Holds || r.Joint.Shows != Hidden {
				continue
			}
			if r.Joint.Minutes < chosen.Joint.Minutes || (r.Joint.Minutes == chosen.Joint.Minutes && r.Joint.cutAway() < chosen.Joint.cutAway()) {
				t.Errorf("%v N·m: %s is chosen, %s is smaller and holds", bend, chosen.Joint.Describe(), r.Joint.Describe())
			}
		}
	}
}
