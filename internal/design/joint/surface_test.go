package joint

import (
	"math/rand/v2"
	"testing"
)

// The printed formula gives the surface that the joint was worked out with, for every dowelled and tenoned joint of every size; of
// other kinds none is printed.
func TestTheGlueSurfaceIsShownAsItWasWorkedOut(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 7))
	shown := map[Kind]int{}
	for _, place := range meetings {
		for _, j := range Possible(oneSite(t, place.text(rng)), everything) {
			step, ok := j.GlueSurface()
			switch j.Kind {
			case Dowels, DowelRows, Tenon, TwinTenons:
				if !ok {
					t.Errorf("%s: the formula gives another surface than %s", j.Describe(), step.Result)
				}
				shown[j.Kind]++
			default:
				if ok && j.Glue.LongGrain > 0 {
					t.Errorf("%s: a formula is shown that is not its own", j.Describe())
				}
			}
		}
	}
	for _, k := range []Kind{Dowels, DowelRows, Tenon, TwinTenons} {
		if shown[k] == 0 {
			t.Errorf("no joint of the kind %s was tried", k)
		}
	}
}
