package web_test

import (
	"context"
	"math"
	"strings"
	"testing"

	"longgrain/examples"
	"longgrain/internal/web"
	"longgrain/patterns"
)

func sceneOfTheDemo(t *testing.T) *web.Scene {
	t.Helper()
	answer, err := web.NewPlans(patterns.All()).Plan(context.Background(), web.PlanRequest{Text: examples.PlayTable(), Shop: web.Workshop{Text: examples.Shop()}})
	if err != nil || answer.Scene == nil {
		t.Fatal(answer.Problems, err)
	}
	return answer.Scene
}

// The handbook's change coefficient of eastern white pine, tangential, is 0.00212 per percent ([wood-handbook] table 13-5): a
// top of 560 mm moves by 1.19 mm for each percent, and the months of the shop say how many there are.
func TestTheYearOfASceneFollowsTheHandbook(t *testing.T) {
	year := sceneOfTheDemo(t).Year
	if year == nil || len(year.Months) != 12 || year.Times < 2 {
		t.Fatalf("no year: %+v", year)
	}
	most := 0.0
	for _, p := range year.Parts {
		if p.ID == "F1" {
			most = p.Width
		}
	}
	low, high := 1.0, -1.0
	for _, m := range year.Months {
		low, high = min(low, m.Share), max(high, m.Share)
		if !strings.HasPrefix(m.Words, m.Name+": wood at ") || !strings.Contains(m.Words, "top") {
			t.Errorf("%q does not say what the top does in %s", m.Words, m.Name)
		}
	}
	if high != 1 || low >= 0 || low < -1-1e-9 {
		t.Errorf("shares from %.3f to %.3f: the most is 1, and the shop has dry months too", low, high)
	}
	if perPercent := 0.00212 * 560; most/perPercent < 2 || most/perPercent > 4 {
		t.Errorf("the top grows by %.2f mm, as in %.1f %% of moisture: the shop's July is at 11.1 %%, the wood is worked at about 8.3", most, most/perPercent)
	}
}

func TestJointsOfASceneNameBothPartsAndLieOnThem(t *testing.T) {
	scene := sceneOfTheDemo(t)
	known := map[string]bool{}
	for _, p := range scene.Parts {
		known[p.ID] = true
	}
	if len(scene.Joints) != 20 {
		t.Errorf("%d joints, a table with low rails has 16 and four places that hold its top", len(scene.Joints))
	}
	for _, j := range scene.Joints {
		if len(j.Parts) != 2 || !known[j.Parts[0]] || !known[j.Parts[1]] || j.Words == "" {
			t.Errorf("%+v is not a joint of two parts in words", j)
		}
		for k := range 3 {
			if j.At[k] < j.From[k] || j.At[k] > j.To[k] || math.IsInf(j.From[k], 0) {
				t.Errorf("%s lies at %v, outside of %v to %v", j.Name, j.At, j.From, j.To)
			}
		}
	}
}

// A top of seven staves has six glue lines at equal distances, and a leg of four strips three.
func TestGlueLinesOfASceneStandWherePiecesMeet(t *testing.T) {
	for _, p := range sceneOfTheDemo(t).Parts {
		if p.Glued == nil {
			continue
		}
		size := p.Size[1]
		if p.Glued.Across == "thickness" {
			size = p.Size[2]
		}
		n := float64(len(p.Glued.At) + 1)
		for k, at := range p.Glued.At {
			if math.Abs(at-size*float64(k+1)/n) > 1e-6 {
				t.Errorf("%s: glue line %d of %.0f at %.2f of %.2f mm", p.ID, k+1, n, at, size)
			}
		}
		if p.ID == "F1" && (p.Glued.Across != "width" || len(p.Glued.At) == 0) {
			t.Errorf("the top is glued up across its width: %+v", p.Glued)
		}
	}
}
