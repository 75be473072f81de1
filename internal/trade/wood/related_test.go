package wood

import (
	"math"
	"slices"
	"testing"
)

// The recalled relations are held against every published mean of the species table. The medians of the misses are the
// figures that the comment of Related states.
func TestRelationsWithGravityMeetThePublishedMeans(t *testing.T) {
	for _, c := range []struct {
		p      Property
		group  Group
		median float64 // of the miss, whichever way
		bias   float64 // of the median ratio
		least  int
	}{
		{ShearParallel, Softwood, 0.10, 0.06, 15},
		{ShearParallel, Hardwood, 0.10, 0.06, 10},
		{CompressionPerpendicular, Softwood, 0.12, 0.08, 15},
		{CompressionPerpendicular, Hardwood, 0.17, 0.08, 10},
		{BendingStrength, Softwood, 0.10, 0.06, 15},
		{BendingStrength, Hardwood, 0.10, 0.08, 10}, // low, the safe side
	} {
		var ratios, misses []float64
		for _, id := range IDs() {
			s := species[id]
			published, ok := s.Mean(c.p)
			related, ok2 := s.Related(c.p)
			if s.Group != c.group || !ok || !ok2 || published.Cite.Key != "wood-handbook" {
				continue
			}
			ratio := float64(related.Value / published.Value)
			ratios, misses = append(ratios, ratio), append(misses, math.Abs(math.Log(ratio)))
		}
		if len(ratios) < c.least {
			t.Fatalf("%s of %s: only %d species to compare with", c.p, c.group, len(ratios))
		}
		slices.Sort(ratios)
		slices.Sort(misses)
		n := len(ratios)
		t.Logf("%s of %s: %d species, related over published %.2f to %.2f, median %.3f, half within %.3f", c.p, c.group, n, ratios[0], ratios[n-1], ratios[n/2], misses[n/2])
		if misses[n/2] > c.median {
			t.Errorf("%s of %s: half miss by more than %.1f %%", c.p, c.group, 100*misses[n/2])
		}
		if math.Abs(math.Log(ratios[n/2])) > c.bias {
			t.Errorf("%s of %s: the median lies off by %.3f", c.p, c.group, ratios[n/2])
		}
	}
}

func TestAPublishedFigureComesBeforeARelation(t *testing.T) {
	oak, pine := species["white-oak"], species["scots-pine"]
	published, _ := oak.At(ShearParallel, 12)
	if got, ok := oak.AtOrRelated(ShearParallel, 12); !ok || got != published {
		t.Errorf("white oak %v, published %v", got, published)
	}
	if _, ok := pine.At(ShearParallel, 12); ok {
		t.Fatal("Scots pine has a published shear strength now: use another species here")
	}
	// G = 550/1120, 16.6 G^0.85.
	want := 16.6 * math.Pow(550.0/1120, 0.85)
	if got, ok := pine.AtOrRelated(ShearParallel, 12); !ok || math.Abs(float64(got.Value)-want) > 1e-9 || got.Cite.Place != "table 5-11a" {
		t.Errorf("Scots pine %v, want %v", got, want)
	}
	if _, ok := pine.AtOrRelated(TensionPerpendicular, 12); ok {
		t.Error("a property without a relation is given")
	}
}
