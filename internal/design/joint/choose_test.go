package joint

import (
	"encoding/json"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"longgrain/internal/trade/hardware"
)

func TestWithoutToolsNothingCanBeMade(t *testing.T) {
	s := oneSite(t, corner("eastern white pine"))
	none := Means{Can: func(hardware.Job) bool { return false }, Dowels: hardware.Dowels(), Mark: mm / 2}
	if got := Possible(s, none); len(got) != 0 {
		t.Errorf("%d joints without a tool", len(got))
	}
	c := Choose(s, none, nil, DefaultReserve)
	if _, ok := c.Pick(); ok || c.Picked != -1 || !strings.Contains(c.Why, "no joint fits") {
		t.Errorf("picked %d: %q", c.Picked, c.Why)
	}
}

func TestEachKindNeedsItsOwnTools(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 3))
	for _, k := range kinds {
		m := everything
		m.Can = func(j hardware.Job) bool { return slices.Contains(k.needs, j) }
		made := 0
		for _, place := range meetings {
			for range 4 {
				for _, j := range Possible(oneSite(t, place.text(rng)), m) {
					if j.Kind == k.name {
						made++
					}
					other, _ := row(j.Kind)
					for _, job := range other.needs {
						if !m.Can(job) {
							t.Fatalf("%s with the tools for %s", j.Describe(), k.name)
						}
					}
				}
			}
		}
		if made == 0 {
			t.Errorf("no %s with the tools for it", k.name)
		}
		for _, missing := range k.needs {
			m.Can = func(j hardware.Job) bool { return j != missing }
			for _, place := range meetings {
				for _, j := range Possible(oneSite(t, place.text(rng)), m) {
					if j.Kind == k.name {
						t.Fatalf("%s without a tool to %s", j.Describe(), missing)
					}
				}
			}
		}
	}
}

func TestNoDowelsInTheDrawerMeansNoDowelJoints(t *testing.T) {
	m := everything
	m.Dowels = nil
	for _, j := range Possible(oneSite(t, corner("eastern white pine")), m) {
		if j.Kind == Dowels {
			t.Fatal(j.Describe())
		}
	}
}

func TestCheckWithoutLoadHolds(t *testing.T) {
	j := find(t, oneSite(t, corner("eastern white pine")), Dowels, 2, 8*mm, 40*mm)
	for name, sets := range map[string][]Forces{"no case": nil, "a case without force": {{}}, "pressure only": {{N: -5000}}} {
		r := Check(j, sets, DefaultReserve)
		if !math.IsInf(float64(r.Reserve), 1) || r.Verdict != Holds || r.Worst != -1 {
			t.Errorf("%s: %+v", name, r.Reserve)
		}
		if text, err := json.Marshal(r.Reserve); err != nil || string(text) != "null" {
			t.Errorf("%s: the reserve prints as %s, %v", name, text, err)
		}
	}
}

func TestCheckAddsUpWhatOpensTheJoint(t *testing.T) {
	res := func(x float64) Resistance { return Resistance{Lower5: x / LoadFactor} }
	j := Joint{Strength: Strength{Tension: res(1000), BendU: res(100), BendV: res(20), ShearU: res(500), ShearV: res(500), Twist: res(10)}}
	cases := []struct {
		name    string
		f       Forces
		reserve float64
		governs string
	}{
		{"pull and both bendings", Forces{N: 100, BendU: -30, BendV: 2}, 1 / (0.1 + 0.3 + 0.1), "bent the strong way"},
		{"pressure does not help", Forces{N: -900, BendU: 50}, 2, "bent the strong way"},
		{"shear and twist", Forces{ShearU: 100, ShearV: -50, Twist: 1}, 1 / (0.2 + 0.1 + 0.1), "sheared along its height"},
	}
	for _, c := range cases {
		r := Check(j, []Forces{{}, c.f}, DefaultReserve)
		if math.Abs(float64(r.Reserve)-c.reserve) > 1e-9 || r.Governs != c.governs || r.Worst != 1 {
			t.Errorf("%s: reserve %v by %s in set %d", c.name, float64(r.Reserve), r.Governs, r.Worst)
		}
	}
}

func TestDoubleTheLoadHalvesTheReserve(t *testing.T) {
	j := find(t, oneSite(t, corner("eastern white pine")), Dowels, 2, 8*mm, 40*mm)
	once := Forces{N: 200, ShearU: 100, BendU: 20, BendV: 2, Twist: 1}
	twice := Forces{N: 400, ShearU: 200, BendU: 40, BendV: 4, Twist: 2}
	a, b := Check(j, []Forces{once}, 1.3), Check(j, []Forces{twice}, 1.3)
	within(t, "reserve", float64(a.Reserve), 2*float64(b.Reserve), 1e-12)
}

func TestVerdictsFollowTheWantedReserve(t *testing.T) {
	for _, c := range []struct {
		reserve Reserve
		wanted  float64
		want    Verdict
	}{{1.3, 1.3, Holds}, {1.29, 1.3, Tight}, {1, 1.3, Tight}, {0.99, 1.3, DoesNotHold}, {1.4, 1.5, Tight}, {0, 1.3, DoesNotHold}} {
		if got := VerdictOf(c.reserve, c.wanted); got != c.want {
			t.Errorf("%v of %v: %s, want %s", float64(c.reserve), c.wanted, got, c.want)
		}
	}
}

func TestAFixedJointIsKept(t *testing.T) {
	cases := map[string]struct {
		wish string
		want func(z Sizes) bool
	}{
		"dowels by count and diameter": {"kind: dowels, count: 2, diameter: 8 mm", func(z Sizes) bool { return z.Count == 2 && z.Diameter == 8*mm }},
		"dowels by depth":              {"kind: dowels, diameter: 8 mm, depth: 17 mm", func(z Sizes) bool { return z.Diameter == 8*mm && z.DepthB == 17*mm }},
		"a tenon by all its sizes":     {"kind: mortise and tenon, thickness: 9 mm, depth: 27 mm, width: 41 mm", func(z Sizes) bool { return z.Thickness == 9*mm && z.DepthB == 27*mm && z.Width == 41*mm }},
		"pocket screws":                {"kind: pocket screws", func(z Sizes) bool { return z.Count >= 2 }},
		"biscuits":                     {"kind: biscuits, count: 1", func(z Sizes) bool { return z.Count == 1 }},
	}
	for name, c := range cases {
		// A load that no joint holds: the maker's wish still stands.
		got := Choose(oneSite(t, teeJoint("eastern white pine", 63.5, 19, c.wish)), everything, []Forces{{BendU: 1e5}}, DefaultReserve)
		r, ok := got.Pick()
		if !ok || !got.Fixed || len(got.Problems) > 0 || !c.want(r.Joint.Sizes) {
			t.Errorf("%s: %+v, fixed %v, problems %v", name, r.Joint.Sizes, got.Fixed, got.Problems)
		}
		if r.Verdict != DoesNotHold {
			t.Errorf("%s: %s under 100 kN·m", name, r.Verdict)
		}
	}
}

func TestAnImpossibleWishIsReported(t *testing.T) {
	for name, c := range map[string]struct {
		wish  string
		fixed bool // the kind at least is kept
	}{
		"a tenon thicker than half the rail": {"kind: mortise and tenon, thickness: 15 mm", true},
		"a tenon longer than the stile":      {"kind: mortise and tenon, depth: 90 mm", true},
		"a tenon wider than the rail":        {"kind: mortise and tenon, width: 80 mm", false},
		"ten dowels":                         {"kind: dowels, count: 10", true},
		"dowels as thick as the rail":        {"kind: dowels, diameter: 20 mm", true},
		"screws through too much wood":       {"kind: screws", false},
		"a housing in a frame":               {"kind: housing", false},
		"a lap thicker than the rail":        {"kind: half-lap, thickness: 25 mm", false},
	} {
		got := Choose(oneSite(t, teeJoint("eastern white pine", 63.5, 19, c.wish)), everything, nil, DefaultReserve)
		if len(got.Problems) != 1 || got.Fixed != c.fixed {
			t.Errorf("%s: fixed %v, problems %v", name, got.Fixed, got.Problems)
		}
		if _, ok := got.Pick(); !ok {
			t.Errorf("%s: nothing is proposed in its place", name)
		}
	}
}

func TestTheLeastWorkThatHoldsIsProposed(t *testing.T) {
	s := oneSite(t, corner("eastern white pine"))
	first := Choose(s, everything, nil, DefaultReserve)
	if r, _ := first.Pick(); r.Joint.Shows != Hidden {
		t.Errorf("before the loads %s is proposed", r.Joint.Describe())
	}
	light := Choose(s, everything, []Forces{{BendU: 1}}, DefaultReserve)
	r, _ := light.Pick()
	for _, other := range light.Ranked {
		if other.Verdict == Holds && other.Joint.Shows == Hidden && other.Joint.Minutes < r.Joint.Minutes {
			t.Errorf("%s takes %v min, %s only %v", r.Joint.Describe(), r.Joint.Minutes, other.Joint.Describe(), other.Joint.Minutes)
		}
	}
	heavy := Choose(s, everything, []Forces{{BendU: 1e4}}, DefaultReserve)
	if r, _ := heavy.Pick(); heavy.Picked != 0 || r.Verdict != DoesNotHold || !strings.Contains(heavy.Why, "does not reach") {
		t.Errorf("under too much load %d is picked: %q", heavy.Picked, heavy.Why)
	}
}

func TestRankedFromStrongToWeak(t *testing.T) {
	c := Choose(oneSite(t, corner("eastern white pine")), everything, []Forces{{BendU: 20, N: 100}}, DefaultReserve)
	for i := 1; i < len(c.Ranked); i++ {
		if c.Ranked[i].Reserve > c.Ranked[i-1].Reserve {
			t.Fatalf("place %d holds more than place %d", i, i-1)
		}
	}
}
