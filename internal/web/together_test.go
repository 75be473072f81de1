package web_test

import (
	"context"
	"math"
	"slices"
	"testing"

	"longgrain/examples"
	"longgrain/internal/web"
	"longgrain/patterns"
)

// The steps of an answer are enough to play the assembly: every part comes into it once, what is pushed was put together before,
// and all parts are together at the end.
func TestTheOrderOfAssemblyCanBePlayed(t *testing.T) {
	plans := web.NewPlans(patterns.All())
	answer, err := plans.Plan(context.Background(), web.PlanRequest{Text: examples.PlayTable(), Shop: web.Workshop{Text: examples.Shop()}})
	if err != nil || answer.Together == nil || !answer.Together.Possible || len(answer.Together.Stuck) > 0 {
		t.Fatalf("no order: %+v, %v", answer.Together, err)
	}
	group := map[string]int{} // the parts that are together have one number
	for i, p := range answer.Scene.Parts {
		group[p.ID] = i
	}
	one := func(ids []string) int {
		for _, id := range ids {
			if n, known := group[id]; !known || n != group[ids[0]] {
				t.Fatalf("%v are not together before they are used", ids)
			}
		}
		return group[ids[0]]
	}
	for i, s := range answer.Together.Steps {
		from, to := one(s.Moving), one(s.Onto)
		if from == to {
			t.Errorf("step %d pushes parts that are already together", i+1)
		}
		for id, n := range group {
			if n == from {
				if !slices.Contains(s.Moving, id) {
					t.Errorf("step %d leaves %s behind", i+1, id)
				}
				group[id] = to
			}
		}
		d := s.Direction
		if length := math.Sqrt(d[0]*d[0] + d[1]*d[1] + d[2]*d[2]); math.Abs(length-1) > 1e-9 {
			t.Errorf("step %d: direction %v has the length %g", i+1, d, length)
		}
		if s.Distance <= 0 || s.Distance < 3*s.Travel || s.Words == "" {
			t.Errorf("step %d: distance %g, travel %g, %q", i+1, s.Distance, s.Travel, s.Words)
		}
	}
	if len(answer.Together.Steps) != len(answer.Scene.Parts)-1 {
		t.Errorf("%d steps for %d parts", len(answer.Together.Steps), len(answer.Scene.Parts))
	}
}
