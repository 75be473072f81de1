package joint

import (
	"math/rand/v2"
	"slices"
	"testing"
)

// grown tells whether b is a with more of something that should make it stronger, in the same place: deeper, thicker pins,
// more pins between the same ends.
func grown(a, b Joint) bool {
	x, y := a.Sizes, b.Sizes
	if a.Kind != b.Kind || x.Thickness != y.Thickness || x.Width != y.Width || x.Flare != y.Flare || x.Rounded != y.Rounded {
		return false
	}
	if y.Count < x.Count || y.Diameter < x.Diameter || y.DepthA < x.DepthA || y.DepthB < x.DepthB {
		return false
	}
	if x.Count == y.Count && !slices.Equal(a.spots, b.spots) {
		return false // a thicker dowel stands further from the edge: another joint
	}
	if x.Count != y.Count && (a.Kind == BoxJoint || a.Kind == Dovetails || x.Diameter != y.Diameter) {
		return false // fingers of another pitch
	}
	return x.Count != y.Count || x.Diameter != y.Diameter || x.DepthA != y.DepthA || x.DepthB != y.DepthB
}

func TestMoreOfAnyKindNeverHoldsLess(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 5))
	m := everything
	m.Mark = exactly
	compared := map[Kind]int{}
	for _, place := range meetings {
		for range sizesEach() {
			joints := Possible(oneSite(t, place.text(rng)), m)
			for i, a := range joints {
				for _, b := range joints[max(0, i-60):] {
					if grown(a, b) {
						compared[a.Kind]++
						neverLower(t, b.Describe()+" instead of "+a.Describe(), a.Strength, b.Strength)
					}
				}
			}
			if t.Failed() {
				t.FailNow()
			}
		}
	}
	// Of these kinds every size has its own thickness or width, or only one is made.
	single := []Kind{HalfLap, Bridle, ThroughTenon, BoxJoint, Dovetails, Glued, CornerBlock, PocketScrews, Biscuits}
	for _, k := range Kinds() {
		if compared[k] == 0 && !slices.Contains(single, k) {
			t.Errorf("no two sizes of %s were compared", k)
		}
	}
}

func TestDenserWoodNeverHoldsLessInAnyKind(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	for _, place := range meetings {
		for range sizesEach() {
			s := oneSite(t, place.text(rng))
			onA, onB := s, s
			onA.TimberA, onB.TimberB = denser(s.TimberA), denser(s.TimberB)
			joints, moreA, moreB := Possible(s, everything), Possible(onA, everything), Possible(onB, everything)
			if len(joints) != len(moreA) || len(joints) != len(moreB) {
				t.Fatalf("%s: %d joints, in denser wood %d and %d", place.name, len(joints), len(moreA), len(moreB))
			}
			for i, j := range joints {
				neverLower(t, "denser wood in A of "+j.Describe(), j.Strength, moreA[i].Strength)
				neverLower(t, "denser wood in B of "+j.Describe(), j.Strength, moreB[i].Strength)
			}
			if t.Failed() {
				t.FailNow()
			}
		}
	}
}

// Every strength is above nothing and of a size that wood can have, and the lower value below the mean.
func TestEveryKindHasPositiveFiniteStrengthAndStiffness(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 7))
	for _, place := range meetings {
		for range sizesEach() {
			for _, j := range Possible(oneSite(t, place.text(rng)), everything) {
				for _, r := range []Resistance{j.Strength.Tension, j.Strength.ShearU, j.Strength.ShearV, j.Strength.BendU, j.Strength.BendV, j.Strength.Twist} {
					model, _ := ModelScatter(j.Kind)
					if !(r.Mean > 0 && r.Mean < 1e7) || !(r.Lower5 > 0 && r.Lower5 < r.Mean) || r.COV < model || r.Governs == "" || len(r.Limits) == 0 {
						t.Fatalf("%s, %s: %+v", place.name, j.Describe(), r)
					}
					for _, l := range r.Limits {
						if l.Name == "" || l.Cite.Confidence == "" {
							t.Fatalf("%s: limit %+v", j.Describe(), l)
						}
					}
				}
				k := j.Stiffness
				for _, v := range []float64{float64(k.Axial), float64(k.Shear), float64(k.BendU), float64(k.BendV), float64(k.Twist)} {
					if !(v > 0 && v < 1e12) {
						t.Fatalf("%s: stiffness %+v", j.Describe(), k)
					}
				}
				if j.Minutes <= 0 || j.Glue.LongGrain < 0 || j.Glue.EndGrain < 0 || j.Shows == "" || len(j.Jobs) == 0 || len(j.Strength.Working) == 0 {
					t.Fatalf("%s: %v minutes, glue %+v, shows %q, jobs %v", j.Describe(), j.Minutes, j.Glue, j.Shows, j.Jobs)
				}
			}
		}
	}
}
