package strength

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"longgrain/internal/ground/unit"
)

const mm = unit.Millimetre

func within(t *testing.T, what string, got, want, share float64) {
	t.Helper()
	if math.Abs(got-want) > share*math.Abs(want) {
		t.Errorf("%s is %.6g, want %.6g within %.2g %%", what, got, want, share*100)
	}
}

// The worked example is D 9.5, L 25.4, S1 6.2, S2 14: 4.0 kN and 5.3 MPa for a plain dowel. Fluted ones reach 0.9 of
// it.
func TestBondStressOfTheWorkedExample(t *testing.T) {
	const d, l = 9.5, 25.4
	plain := float64(BondStress(unit.MM(l), 6.2, 14)) / 0.9
	within(t, "plain bond stress", plain, 5.3, 0.01)
	within(t, "plain pull", plain*math.Pi*d*l, 4000, 0.01)
}

// Around a dowel in side grain half of the wood rolls: 6 (1 + 0.2)/2 MPa. In end grain none does.
func TestWoodRoundADowel(t *testing.T) {
	g := Grain{Shear: 6, Rolling: 0.2}
	within(t, "across", float64(WoodRoundDowel(g, false)), 3.6, 1e-12)
	within(t, "along", float64(WoodRoundDowel(g, true)), 6, 1e-12)
}

// G 0.35, D 4.17 mm, L 25 mm: 1.38 kN. The inch form 15,700 G² D L in pounds gives the same.
func TestScrewWithdrawalOfTheWorkedExample(t *testing.T) {
	got := float64(ScrewWithdrawal(0.35, unit.MM(4.17), 25*mm))
	within(t, "withdrawal", got, 1380, 0.005)
	within(t, "withdrawal in pounds", got/4.4482216, 15700*0.35*0.35*4.17/25.4*25/25.4, 0.001)
}

// Hand-worked: f = 20 MPa and d = 8 mm, so f d = 160 N/mm.
func TestLateralYieldModes(t *testing.T) {
	cases := []struct {
		name           string
		f1, f2, t1, t2 float64
		my, want       float64
	}{
		{"a: the first part crushed, 20·5·8", 20, 20, 5, 200, 1e6, 800},
		{"b: the second part crushed, 20·5·8", 20, 20, 200, 5, 1e6, 800},
		{"c: both turn, 4800/2 (√8 − 2)", 20, 20, 30, 30, 1e6, 1988.225},
		{"c: second part half as hard, 4800/1.5 (√2.125 − 1)", 20, 10, 30, 30, 1e6, 1464.761},
		{"d: one hinge, 1120 (√5.875 − 1)", 20, 20, 20, 200, 10000, 1594.702},
		{"e: one hinge, the parts changed over", 20, 20, 200, 20, 10000, 1594.702},
		{"f: two hinges, 1.15 √(2·5000·160)", 20, 20, 30, 30, 5000, 1454.648},
	}
	for _, c := range cases {
		got := Lateral(unit.MPa(c.f1), unit.MPa(c.f2), unit.MM(c.t1), unit.MM(c.t2), 8*mm, c.my)
		within(t, c.name, float64(got), c.want, 1e-5)
	}
}

func TestEmbeddingOfPine(t *testing.T) {
	// 0.082 (1 - 0.08) 400 = 30.176; across the grain divided by 1.35 + 0.12.
	within(t, "along", float64(Embedding(8*mm, 400, false)), 30.176, 1e-9)
	within(t, "across", float64(Embedding(8*mm, 400, true)), 30.176/1.47, 1e-9)
}

// One pin at 50 mm with 1000 N and q = 100 N/mm: c = 10 mm, M = 1000·50 − 100·10²/2 = 45,000 N·mm.
func TestPinMomentOfOnePin(t *testing.T) {
	m, c, wood := PinMoment([]Pin{{50, 1000}}, Bed{Load: 100})
	within(t, "moment", m, 45000, 1e-9)
	within(t, "contact", c, 10, 1e-9)
	if wood {
		t.Error("the pin governs")
	}
}

func TestPinMomentWhereTheWoodGivesWayFirst(t *testing.T) {
	// The wood can press back with no more than 100 N/mm over 50 mm: M = 100·50²/2.
	m, c, wood := PinMoment([]Pin{{20, 9000}, {50, 9000}}, Bed{Load: 100})
	within(t, "moment", m, 125000, 1e-9)
	within(t, "contact", c, 50, 1e-9)
	if !wood {
		t.Error("the wood governs")
	}
}

// Forces and moments are added up again from the contact depth alone: the pulls balance the pressed wood, the couple
// is the same about any point, no pin exceeds its pull, and the outermost reaches it.
func TestPinMomentIsInEquilibrium(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 7))
	for range 500 {
		depth, pull, q := 20+rng.Float64()*150, 200+rng.Float64()*5000, 20+rng.Float64()*500
		pins := make([]Pin, 1+rng.IntN(5))
		far := 0.0
		for i := range pins {
			pins[i] = Pin{rng.Float64() * depth, pull}
			far = math.Max(far, pins[i].At)
		}
		slices.SortFunc(pins, func(a, b Pin) int { return cmp.Compare(b.At, a.At) })
		m, c, wood := rowMoment(pins, Bed{Load: q})
		if best, _, _ := PinMoment(pins, Bed{Load: q}); best < m*(1-1e-12) {
			t.Fatalf("%v with some of the pins, %v with all", best, m)
		}
		if wood {
			within(t, "contact of crushed wood", c, far, 1e-9)
			within(t, "moment of crushed wood", m, q*far*far/2, 1e-9)
			continue
		}
		sum, aboutEdge, aboutTop := 0.0, 0.0, 0.0
		for _, p := range pins {
			if p.At <= c {
				continue
			}
			force := pull * (p.At - c) / (far - c)
			if force > pull*(1+1e-9) {
				t.Fatalf("a pin pulls %v of %v", force, pull)
			}
			sum += force
			aboutEdge += force * p.At
			aboutTop += force * (p.At - depth)
		}
		within(t, "sum of pulls", sum, q*c, 1e-6)
		within(t, "moment about the pressed edge", m, aboutEdge-q*c*c/2, 1e-6)
		within(t, "moment about the other edge", m, aboutTop-q*c*(c/2-depth), 1e-6)
	}
}

// Along the grain the wood beside the strip carries as much again up to 30 mm: 1000 N on 200 N/mm give c = 5 mm, and
// 12 kN on 200 N/mm up to 30 mm and 100 N/mm beyond give c = 90 mm.
func TestTheWoodBesideThePressedStripHelpsAlongTheGrain(t *testing.T) {
	bed := Bed{Load: 100, Along: true}
	within(t, "short contact", bed.Press(5), 1000, 1e-12)
	within(t, "long contact", bed.Press(90), 12000, 1e-12)
	m, c, _ := PinMoment([]Pin{{50, 1000}}, bed)
	within(t, "contact", c, 5, 1e-9)
	within(t, "moment", m, 1000*(50-2.5), 1e-9)
}

// More pull, more pins and a harder bed never lower the moment, and it is always one that is in balance: not above what the
// pins at full pull give about the pressed edge.
func TestPinMomentNeverFalls(t *testing.T) {
	rng := rand.New(rand.NewPCG(4, 9))
	for range 2000 {
		bed := Bed{20 + rng.Float64()*500, rng.IntN(4) > 0}
		pins := make([]Pin, 1+rng.IntN(4))
		bound := 0.0
		for i := range pins {
			pins[i] = Pin{2 + rng.Float64()*250, 100 + rng.Float64()*40000}
		}
		far := 0.0
		for i := range pins {
			pins[i].Pull = pins[0].Pull
			far = math.Max(far, pins[i].At)
			bound += pins[i].Pull * pins[i].At
		}
		m, _, _ := PinMoment(pins, bed)
		if m > math.Min(bound, bed.Press(far)*far)*(1+1e-9) {
			t.Fatalf("%v N·mm is more than %v pins or wood could carry", m, bound)
		}
		stronger := slices.Clone(pins)
		for i := range stronger {
			stronger[i].Pull *= 1.05
		}
		harder := bed
		harder.Load *= 1.05
		for what, more := range map[string]func() (float64, float64, bool){
			"more pull":    func() (float64, float64, bool) { return PinMoment(stronger, bed) },
			"a harder bed": func() (float64, float64, bool) { return PinMoment(pins, harder) },
		} {
			if got, _, _ := more(); got < m*(1-1e-9) {
				t.Fatalf("%s: %v after %v for %+v on %+v", what, got, m, pins, bed)
			}
		}
	}
}

func TestTwistOfARowOfPins(t *testing.T) {
	// Pins at 10, 40 and 70: middle 40, sum r² = 1800, outermost 30: 100·1800/30 = 6000 N·mm.
	within(t, "three pins", TwistOf([]float64{10, 40, 70}, 100), 6, 1e-9)
	if got := TwistOf([]float64{30}, 100); got <= 0 {
		t.Errorf("a single pin holds %v", got)
	}
}

// Two pins 30 mm apart, the nearer one 15 mm from the edge, 2500 N each: 2500 · (30 + 7.5) = 93.75 N·m, worked by hand.
// Source of the rule: [eckelman-dowel], from memory.
func TestTheRuleForARowOfPins(t *testing.T) {
	if m := RowRule([]float64{15, 45}, 60, 2500); math.Abs(float64(m)-93.75) > 1e-9 {
		t.Errorf("two pins: %v N·m", m)
	}
	// Nearer to one edge: the pressure lies closer to that edge when it is pressed, and the other way counts.
	if m := RowRule([]float64{10, 40}, 60, 2500); math.Abs(float64(m)-2.5*35) > 1e-9 {
		t.Errorf("off the middle: %v N·m", m)
	}
	// A third pin between them: x of 37.5 and 22.5 from the pressure.
	if m := RowRule([]float64{15, 30, 45}, 60, 2500); math.Abs(float64(m)-2.5*(37.5+22.5*22.5/37.5)) > 1e-9 {
		t.Errorf("three pins: %v N·m", m)
	}
	if m := RowRule([]float64{30, 30}, 60, 2500); !math.IsInf(float64(m), 1) {
		t.Errorf("two pins side by side: %v N·m", m)
	}
	if m, name := BothWaysOn([]float64{15, 45}, 60, 2500, Bed{Load: 1000}); math.Abs(float64(m)-93.75) > 1e-9 || name != "pins pulled, by the rule for a row" {
		t.Errorf("in hard wood the rule governs: %v N·m, %s", m, name)
	}
}
