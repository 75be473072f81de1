package schedule

import (
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"longgrain/examples"
	"longgrain/internal/solve/project"
	"longgrain/internal/trade/shop"
	"longgrain/internal/trial"
)

// Proven ends of the same tasks only get earlier with more means, and later with longer waits.
func TestMoreMeansNeverEndLaterAndLongerWaitsNeverEarlier(t *testing.T) {
	rounds := 12
	if testing.Short() {
		rounds = 4
	}
	r := rand.New(rand.NewPCG(6, 3))
	for range rounds {
		s := trial.Shop(t, examples.Shop())
		s.People = s.People[:1+r.IntN(2)]
		s.Benches, s.DryingPlaces, s.Pace = 1+r.IntN(2), 1+r.IntN(2), 1+r.Float64()
		in := input(t, examples.PlayTable()+[]string{"", "copies: 2\n"}[r.IntN(2)], s, []string{"wax-oil", "water-clear", "oil-only"}[r.IntN(3)])
		in.Search = project.Options{Schedules: 200, DeadEnds: 3000}
		before := plan(t, in)
		if !before.Proven {
			continue
		}
		more := func(what string, change func(in *Input)) {
			again := in
			again.Shop.Clamps, again.Shop.People = slices.Clone(in.Shop.Clamps), slices.Clone(in.Shop.People)
			change(&again)
			p := plan(t, again)
			checkMeans(t, again, p)
			if p.Bound.After(before.End.Time) || p.Proven && p.End.After(before.End.Time) {
				t.Errorf("%s: ends %v (bound %v), before %v", what, p.End, p.Bound, before.End)
			}
		}
		k := r.IntN(len(s.Clamps))
		more("two more clamps for the same glue-ups", func(in *Input) { in.Shop.Clamps[k].Count += 2 })
		more("one more person", func(in *Input) { in.Shop.People = append(in.Shop.People, shop.People{Name: "helper", Number: 1}) })
		more("one more bench", func(in *Input) { in.Shop.Benches++ })
		more("one more drying place", func(in *Input) { in.Shop.DryingPlaces++ })
		longer := in
		longer.Finish.Steps = slices.Clone(in.Finish.Steps)
		for i := range longer.Finish.Steps {
			longer.Finish.Steps[i].Wait *= 1.5
		}
		// A longer wait may run over the limit of the step after it, which is then dropped: compared without limits.
		for _, x := range []*Input{&longer, &in} {
			x.Finish.Steps = slices.Clone(x.Finish.Steps)
			for i := range x.Finish.Steps {
				x.Finish.Steps[i].Within = 0
			}
		}
		short, long := plan(t, in), plan(t, longer)
		if short.Proven && long.Bound.Before(short.Bound.Time) && long.End.Before(short.End.Time) {
			t.Errorf("longer waits end %v, shorter ones %v", long.End, short.End)
		}
		if p := plan(t, in); strings.Contains(p.End.String(), "0001") {
			t.Error("no end")
		}
	}
}

func TestRandomShopsKeepTheirMeans(t *testing.T) {
	rounds := 20
	if testing.Short() {
		rounds = 5
	}
	r := rand.New(rand.NewPCG(4, 9))
	for range rounds {
		s := trial.Shop(t, examples.Shop())
		s.People = s.People[:1+r.IntN(2)]
		s.Benches, s.DryingPlaces, s.Pace = 1+r.IntN(3), 1+r.IntN(3), 1+r.Float64()
		s.Clamps = s.Clamps[:r.IntN(len(s.Clamps)+1)]
		in := input(t, examples.PlayTable()+[]string{"", "copies: 2\n", "copies: 4\n"}[r.IntN(3)], s, []string{"wax-oil", "paint", "dye-and-oil"}[r.IntN(3)])
		p := plan(t, in)
		checkMeans(t, in, p)
		checkOnce(t, p)
	}
}
