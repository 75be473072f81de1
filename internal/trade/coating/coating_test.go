package coating

import (
	"slices"
	"testing"
)

func TestEveryOilyStepWarnsOfRags(t *testing.T) {
	for _, id := range ScheduleIDs() {
		s, _ := LookupSchedule(id)
		for i, step := range s.Steps {
			p, ok := LookupProduct(step.Product)
			if ok && p.SelfHeats && !slices.Contains(step.Cautions, "rags") {
				t.Errorf("%s step %d (%s) does not warn of rags", id, i+1, step.Product)
			}
			if ok && p.Solvent && !slices.Contains(step.Cautions, "solvent") {
				t.Errorf("%s step %d (%s) does not warn of solvent", id, i+1, step.Product)
			}
			if step.Action == Sand && !slices.Contains(step.Cautions, "dust") {
				t.Errorf("%s step %d does not warn of dust", id, i+1)
			}
		}
	}
}

func TestSchedulesAreSound(t *testing.T) {
	actions := []Action{Sand, RaiseGrain, Condition, Colour, Seal, OilIn, Rub, Coat, Wait}
	for _, id := range ScheduleIDs() {
		s, ok := LookupSchedule(id)
		if !ok || len(s.Steps) == 0 || s.ChildNote == "" {
			t.Fatalf("%s: %+v", id, s)
		}
		for i, step := range s.Steps {
			if !slices.Contains(actions, step.Action) || step.Cite.Confidence == "" {
				t.Errorf("%s step %d: %+v", id, i+1, step)
			}
			if step.Action == OilIn && (i+1 == len(s.Steps) || s.Steps[i+1].Action != Rub || s.Steps[i+1].WithinHours == 0) {
				t.Errorf("%s step %d: oil is not wiped off in time", id, i+1)
			}
			if p, ok := LookupProduct(step.Product); ok && step.Action != OilIn && step.WaitHours < p.RecoatLow {
				t.Errorf("%s step %d: waits %v hours after %s", id, i+1, step.WaitHours, step.Product)
			}
		}
	}
	s, _ := LookupSchedule("condition-stain-varnish")
	products, coats := s.Coats()
	if !slices.Equal(products, []string{"conditioner", "oil-stain", "oil-varnish"}) || !slices.Equal(coats, []int{1, 1, 3}) {
		t.Errorf("coats of the stain schedule: %v %v", products, coats)
	}
	oil, _ := LookupSchedule("oil-only")
	clear, _ := LookupSchedule("water-clear")
	if !oil.SelfHeats() || clear.SelfHeats() {
		t.Error("which finish leaves dangerous rags is wrong")
	}
}

func TestCoatsStayWithinWhatTheProductIsFor(t *testing.T) {
	for _, id := range ScheduleIDs() {
		s, _ := LookupSchedule(id)
		products, coats := s.Coats()
		for i, p := range products {
			product, _ := LookupProduct(p)
			if coats[i] < product.CoatsLow || coats[i] > product.CoatsHigh {
				t.Errorf("%s: %d coats of %s", id, coats[i], p)
			}
		}
	}
}

func TestProductsAndHazardsAreWhole(t *testing.T) {
	for _, id := range ProductIDs() {
		p, ok := LookupProduct(id)
		if !ok || !(p.CoverageLow <= p.Coverage && p.Coverage <= p.CoverageHigh && p.Rate > 0 && p.RecoatLow <= p.RecoatHigh) {
			t.Errorf("%s: %+v", id, p)
		}
	}
	for _, h := range Hazards() {
		if h.Control == "" || len(h.When) == 0 || h.Cite.Confidence == "" {
			t.Errorf("hazard %+v", h)
		}
	}
	if h, _ := LookupHazard("rags"); h.Figure != "14070" || h.Stop == "" {
		t.Errorf("rags: %+v", h)
	}
}

func TestDryingSlowsInTheColdAndDamp(t *testing.T) {
	for _, c := range []struct{ t, humidity, want float64 }{
		{20, 50, 1}, {25, 50, 1}, {15, 50, 1.5}, {10, 50, 2}, {0, 50, 2}, {22, 90, 2},
	} {
		if got := DryingFactor(c.t, c.humidity); got != c.want {
			t.Errorf("%v °C, %v %%: %v, want %v", c.t, c.humidity, got, c.want)
		}
	}
}
