package joint

import (
	"math/rand/v2"
	"testing"

	"longgrain/internal/ground/unit"
	"longgrain/internal/trade/hardware"
)

// exactly spreads pins without rounding to marks, which moves the middle of a row by up to half a mark.
const exactly unit.Length = 1

// resistances lists the strengths of a joint with the words that Check uses.
func resistances(s Strength) map[string]float64 {
	return map[string]float64{
		"pulled apart": s.Tension.Mean, "sheared along its height": s.ShearU.Mean, "sheared through its thickness": s.ShearV.Mean,
		"bent the strong way": s.BendU.Mean, "bent the weak way": s.BendV.Mean, "twisted": s.Twist.Mean,
	}
}

// neverLower reports every strength that fell.
func neverLower(t *testing.T, change string, before, after Strength) {
	t.Helper()
	more := resistances(after)
	for name, was := range resistances(before) {
		if more[name] < was*(1-1e-9) {
			t.Errorf("%s lowers the strength when %s from %.3f to %.3f", change, name, was, more[name])
		}
	}
}

// randomSite is a rail end of a random size against a leg of pine.
func randomSite(t *testing.T, rng *rand.Rand) Site {
	t.Helper()
	s := oneSite(t, corner("eastern white pine"))
	r := &s.Connection.A.Area
	r.U1 = r.U0 + unit.Length(30+rng.IntN(150))*mm
	r.V1 = r.V0 + unit.Length(16+rng.IntN(24))*mm
	s.NearLow, s.NearHigh = rng.IntN(2) == 0, rng.IntN(2) == 0
	return s
}

// denser raises every figure of a wood that goes with its density.
func denser(w Timber) Timber {
	const more = 1.07
	w.Shear, w.Bending, w.CrushPerp, w.Modulus = w.Shear*more, w.Bending*more, w.CrushPerp*more, w.Modulus*more
	w.Splitting *= more
	w.Gravity, w.Density = w.Gravity*more, w.Density*more
	return w
}

func TestMoreOfADowelJointNeverHoldsLess(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 1))
	for range 300 {
		s := randomSite(t, rng)
		d := unit.Length(6+rng.IntN(7)) * mm
		n := 2 + rng.IntN(3)
		at, ok := s.spread(n, d.Scale(dowelEdge), d.Scale(dowelSpacing), exactly)
		if !ok {
			continue
		}
		inA, inB := d.Scale(2+2*rng.Float64()), d.Scale(2+2*rng.Float64())
		base := dowelStrength(s, d, at, inA, inB)
		neverLower(t, "a deeper hole in A", base, dowelStrength(s, d, at, inA+mm, inB))
		neverLower(t, "a deeper hole in B", base, dowelStrength(s, d, at, inA, inB+mm))
		neverLower(t, "a thicker dowel in the same place", base, dowelStrength(s, d+mm/2, at, inA, inB))
		if more, ok := s.spread(n+1, d.Scale(dowelEdge), d.Scale(dowelSpacing), exactly); ok {
			neverLower(t, "one more dowel", base, dowelStrength(s, d, more, inA, inB))
		}
		harder := s
		harder.TimberB = denser(s.TimberB)
		neverLower(t, "denser wood in B", base, dowelStrength(harder, d, at, inA, inB))
		harder.TimberA = denser(s.TimberA)
		neverLower(t, "denser wood", base, dowelStrength(harder, d, at, inA, inB))
	}
}

func TestMoreOfATenonNeverHoldsLess(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 2))
	for range 300 {
		s := randomSite(t, rng)
		h := unit.MM(s.Height())
		width, thick, l := h.Scale(0.3+0.4*rng.Float64()), unit.MM(s.Thick()).Scale(0.3+0.15*rng.Float64()), unit.Length(15+rng.IntN(25))*mm
		middle := s.Height() / 2
		base := tenonStrength(s, thick, width, l, middle)
		neverLower(t, "a longer tenon", base, tenonStrength(s, thick, width, l+mm, middle))
		neverLower(t, "a thicker tenon", base, tenonStrength(s, thick+mm/2, width, l, middle))
		neverLower(t, "a wider tenon", base, tenonStrength(s, thick, width+mm, l, middle))
		harder := s
		harder.TimberA, harder.TimberB = denser(s.TimberA), denser(s.TimberB)
		neverLower(t, "denser wood", base, tenonStrength(harder, thick, width, l, middle))
	}
}

func TestMoreScrewsAndBiscuitsNeverHoldLess(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 3))
	for range 300 {
		s := randomSite(t, rng)
		harder := s
		harder.TimberA, harder.TimberB = denser(s.TimberA), denser(s.TimberB)
		bite, n := unit.Length(12+rng.IntN(20))*mm, 2+rng.IntN(3)
		if at, ok := s.spread(n, pocketEdge, pocketSpacing, exactly); ok {
			base := pocketStrength(s, at, bite)
			neverLower(t, "a longer screw", base, pocketStrength(s, at, bite+mm))
			neverLower(t, "denser wood", base, pocketStrength(harder, at, bite))
			if more, ok := s.spread(n+1, pocketEdge, pocketSpacing, exactly); ok {
				neverLower(t, "one more screw", base, pocketStrength(s, more, bite))
			}
		}
		b := hardware.Biscuits()[rng.IntN(len(hardware.Biscuits()))]
		m := 1 + rng.IntN(2)
		if at, ok := s.spread(m, b.Length/2+biscuitGap, b.Length+biscuitGap, exactly); ok {
			base := biscuitStrength(s, b, at, halfPlate(b))
			neverLower(t, "denser wood round a biscuit", base, biscuitStrength(harder, b, at, halfPlate(b)))
			if more, ok := s.spread(m+1, b.Length/2+biscuitGap, b.Length+biscuitGap, exactly); ok {
				neverLower(t, "one more biscuit", base, biscuitStrength(s, b, more, halfPlate(b)))
			}
		}
	}
}

func TestEveryPossibleJointHasPositiveFiniteStrengthAndStiffness(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	for range 100 {
		for _, j := range Possible(randomSite(t, rng), everything) {
			for name, v := range resistances(j.Strength) {
				if !(v > 0 && v < 1e7) {
					t.Fatalf("%s %s: %v", j.Describe(), name, v)
				}
			}
			k := j.Stiffness
			for _, v := range []float64{float64(k.Axial), float64(k.Shear), float64(k.BendU), float64(k.BendV), float64(k.Twist)} {
				if !(v > 0 && v < 1e12) {
					t.Fatalf("%s: stiffness %+v", j.Describe(), k)
				}
			}
			if j.Minutes <= 0 || j.Glue.LongGrain < 0 || j.Glue.EndGrain < 0 {
				t.Fatalf("%s: %v minutes, glue %+v", j.Describe(), j.Minutes, j.Glue)
			}
		}
	}
}
