package joint

import (
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"longgrain/internal/ground/unit"
)

// specimenOf is a joint of a site as a specimen, bent the strong way. False where its pins do not stand at even
// distances, as whole marks make them.
func specimenOf(s Site, j Joint) (Specimen, bool) {
	p := Specimen{Kind: j.Kind, SpeciesA: s.A.Species, SpeciesB: s.B.Species, Width: unit.MM(s.Height()), Thickness: unit.MM(s.Thick()), Sizes: j.Sizes, Action: Bent}
	p.Edge = j.spots[0].u
	if cutFromRail(j.Kind) {
		p.Edge -= j.Sizes.Width / 2
		return p, true
	}
	if len(j.spots) > 1 {
		p.Spacing = j.spots[1].u - j.spots[0].u
	}
	at := p.pins()
	for i := range j.spots {
		if at[i] != j.spots[i].u {
			return p, false
		}
	}
	return p, true
}

func cutFromRail(k Kind) bool {
	return slices.Contains([]Kind{Tenon, ThroughTenon, HaunchedTenon, TwinTenons}, k)
}

func TestASpecimenIsAsStrongAsTheSameJointInAPiece(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 1))
	compared := map[Kind]int{}
	for range 60 {
		s := randomSite(t, rng)
		s.NearLow, s.Contact.Corner = !s.NearHigh, true // so that a haunch fits too
		for _, j := range Possible(s, everything) {
			p, even := specimenOf(s, j)
			if _, known := specimens[j.Kind]; !known || !even || p.Edge == 0 {
				continue
			}
			if j.Sizes.Count == 1 && !cutFromRail(j.Kind) {
				p.Edge = 0 // one pin stands in the middle
				if at := p.pins(); at[0] != j.spots[0].u {
					continue
				}
			}
			got, missing := p.Predict()
			if len(missing) > 0 {
				t.Fatalf("%s: missing %v", j.Describe(), missing)
			}
			compared[j.Kind]++
			for name, want := range resistances(j.Strength) {
				within(t, j.Describe()+" "+name, resistances(got.Strength)[name], want, 1e-9)
			}
			within(t, "resistance", got.Resistance.Mean, j.Strength.BendU.Mean, 1e-9)
		}
	}
	for kind := range specimens {
		if compared[kind] < 20 {
			t.Errorf("%d specimens of %s compared", compared[kind], kind)
		}
	}
}

func oakTenon() Specimen {
	return Specimen{Kind: Tenon, SpeciesA: "Northern red oak", Width: unit.MM(63.5), Thickness: unit.MM(22.2),
		Sizes: Sizes{Count: 1, Thickness: unit.MM(9.5), Width: 38 * mm, DepthB: 32 * mm}, Action: Bent, Lever: 254 * mm}
}

// The load of a specimen times its lever is its moment: M = F L.
func TestLoadAtTheLever(t *testing.T) {
	got, missing := oakTenon().Predict()
	if len(missing) > 0 {
		t.Fatal(missing)
	}
	within(t, "load", float64(got.Load), got.Resistance.Mean/0.254, 1e-12)
	p := oakTenon()
	p.Action = Pulled
	if got, _ = p.Predict(); float64(got.Load) != got.Strength.Tension.Mean {
		t.Errorf("pulled off at %v, tension %v", got.Load, got.Strength.Tension.Mean)
	}
	p.Action, p.Lever = Bent, 0
	if got, missing = p.Predict(); got.Load != 0 || len(missing) > 0 || got.Resistance.Mean <= 0 {
		t.Errorf("without lever: load %v, missing %v", got.Load, missing)
	}
}

func TestAllThatASpecimenLacksIsNamed(t *testing.T) {
	cases := []struct {
		what    string
		p       Specimen
		missing string
	}{
		{"nothing but a kind", Specimen{Kind: Dowels}, "the wood, the width of the rail, the thickness of the rail, the diameter of the dowels, the depth of the dowels in the rail, the depth of the dowels in the other part, the number of dowels, how the joint was loaded"},
		{"a kind without a model", Specimen{Kind: "nailed butt joint"}, `a model of "nailed butt joint"`},
		{"dowels that stand nowhere", Specimen{Kind: Dowels, SpeciesA: "sugar pine", Width: 60 * mm, Thickness: 20 * mm, Sizes: Sizes{Count: 2, Diameter: 8 * mm, DepthA: 20 * mm, DepthB: 20 * mm}, Action: Bent}, "the spacing of the dowels"},
		{"dowels outside the rail", Specimen{Kind: Dowels, SpeciesA: "sugar pine", Width: 60 * mm, Thickness: 20 * mm, Spacing: 60 * mm, Sizes: Sizes{Count: 2, Diameter: 8 * mm, DepthA: 20 * mm, DepthB: 20 * mm}, Action: Bent}, "places of the dowels that lie within the rail"},
		{"an unknown wood", Specimen{Kind: Tenon, SpeciesA: "crate wood", Width: 60 * mm, Thickness: 20 * mm, Sizes: Sizes{Thickness: 8 * mm, Width: 40 * mm, DepthB: 30 * mm}, Action: Bent}, `published strengths of "crate wood"`},
		{"a tenon wider than its rail", Specimen{Kind: Tenon, SpeciesA: "sugar pine", Width: 60 * mm, Thickness: 20 * mm, Sizes: Sizes{Thickness: 8 * mm, Width: 70 * mm, DepthB: 30 * mm}, Action: Bent}, "a tenon that is no wider than its rail"},
		{"no way of loading", Specimen{Kind: Tenon, SpeciesA: "sugar pine", Width: 60 * mm, Thickness: 20 * mm, Sizes: Sizes{Thickness: 8 * mm, Width: 40 * mm, DepthB: 30 * mm}}, "how the joint was loaded"},
		{"a biscuit that nobody sells", Specimen{Kind: Biscuits, SpeciesA: "sugar pine", Width: 60 * mm, Thickness: 20 * mm, Sizes: Sizes{Count: 1, Width: 40 * mm}, Action: Bent}, "a biscuit of a length that is sold"},
		{"a thousand dowels", Specimen{Kind: Dowels, SpeciesA: "sugar pine", Width: 60 * mm, Thickness: 20 * mm, Sizes: Sizes{Count: 1000, Diameter: 8 * mm, DepthA: 20 * mm, DepthB: 20 * mm}, Action: Pulled}, "a number of dowels up to 50"},
	}
	for _, c := range cases {
		if _, missing := c.p.Predict(); strings.Join(missing, ", ") != c.missing {
			t.Errorf("%s: missing %q, want %q", c.what, strings.Join(missing, ", "), c.missing)
		}
	}
}

// A row that is pulled or sheared needs no places: they take no part in the strength.
func TestPulledDowelsNeedNoPlaces(t *testing.T) {
	p := Specimen{Kind: Dowels, SpeciesA: "sugar pine", Width: 60 * mm, Thickness: 20 * mm, Sizes: Sizes{Count: 3, Diameter: 8 * mm, DepthA: 20 * mm, DepthB: 20 * mm}}
	for _, p.Action = range []Action{Pulled, Sheared, BentSideways} {
		got, missing := p.Predict()
		q := p
		q.Spacing = 18 * mm
		placed, _ := q.Predict()
		if len(missing) > 0 || got.Resistance.Mean != placed.Resistance.Mean {
			t.Errorf("%s: missing %v, %v beside %v", p.Action, missing, got.Resistance.Mean, placed.Resistance.Mean)
		}
	}
	if !slices.IsSorted(p.pins()) {
		t.Error("pins out of order")
	}
}
