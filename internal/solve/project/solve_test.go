package project

import (
	"context"
	"testing"

	"github.com/google/go-cmp/cmp"
)

func solveVerified(t *testing.T, in Instance, opt Options) Solution {
	t.Helper()
	s := Solve(context.Background(), in, opt)
	if s.Start != nil {
		if wrong := Verify(in, s); len(wrong) > 0 {
			t.Fatalf("schedule breaks rules: %v", wrong)
		}
	}
	return s
}

func TestSmallProjectsAgreeWithTryingEverySchedule(t *testing.T) {
	count := uint64(2000)
	if testing.Short() {
		count = 120
	}
	feasible := 0
	for seed := range count {
		in := small(seed)
		want := shortest(in)
		for _, schedules := range []int{1, 30} {
			s := solveVerified(t, in, Options{Schedules: schedules})
			switch {
			case want < 0 && s.Status != Infeasible:
				t.Fatalf("seed %d: no schedule exists, got %v value %d", seed, s.Status, s.Value)
			case want < 0 && s.Conflict.Reason == "":
				t.Fatalf("seed %d: infeasible without a reason", seed)
			case want >= 0 && (s.Status != Optimal || s.Value != want || s.Bound != want):
				t.Fatalf("seed %d: shortest %d, got %v value %d bound %d (%s)", seed, want, s.Status, s.Value, s.Bound, s.Conflict.Reason)
			}
		}
		if want >= 0 {
			feasible++
		}
	}
	if feasible < int(count)/4 {
		t.Errorf("only %d of %d projects have a schedule: the test is too narrow", feasible, count)
	}
}

func TestSameSeedGivesSameSolution(t *testing.T) {
	in := library(40, 3)
	a := Solve(context.Background(), in, Options{Seed: 5, DeadEnds: 2000})
	b := Solve(context.Background(), in, Options{Seed: 5, DeadEnds: 2000})
	if diff := cmp.Diff(a, b); diff != "" {
		t.Error(diff)
	}
}

// TestMoreFreedomNeverEndsLater solves a project to the proof, gives it more of something and solves again.
func TestMoreFreedomNeverEndsLater(t *testing.T) {
	for _, c := range []struct {
		name string
		more func(in *Instance)
	}{
		{"one more of every resource", func(in *Instance) {
			for r := range in.Resources {
				in.Resources[r].Capacity++
			}
		}},
		{"longer maximum lags", func(in *Instance) {
			for l := range in.Lags {
				in.Lags[l].Max++
			}
		}},
		{"shorter minimum lags", func(in *Instance) {
			for l := range in.Lags {
				in.Lags[l].Min--
			}
		}},
		{"no holds", func(in *Instance) { in.Holds = nil }},
		{"a longer window", func(in *Instance) {
			w := in.Calendars[0].Windows
			w[len(w)-1].End++
		}},
		{"another mode", func(in *Instance) {
			m := in.Tasks[0].Modes
			in.Tasks[0].Modes = append(m[:len(m):len(m)], Mode{Duration: 1, Needs: []Need{{0, 1}}})
		}},
	} {
		t.Run(c.name, func(t *testing.T) {
			for seed := range uint64(100) {
				before := solveVerified(t, small(seed), Options{})
				in := small(seed)
				c.more(&in)
				after := solveVerified(t, in, Options{})
				if before.Status == Optimal && (after.Status != Optimal || after.Value > before.Value) {
					t.Fatalf("seed %d: %v %d became %v %d", seed, before.Status, before.Value, after.Status, after.Value)
				}
			}
		})
	}
}

func TestFinerSlotsGiveTheSameDate(t *testing.T) {
	for _, name := range []string{"shop_s03_shelf.json", "shop_s10_cabinet.json", "shop_s13_table_bench.json"} {
		half, quarter := solveVerified(t, readShop(t, name, 1), Options{}), solveVerified(t, readShop(t, name, 2), Options{})
		if half.Status != Optimal || quarter.Status != Optimal || quarter.Value != 2*half.Value {
			t.Errorf("%s: %v %d in slots of 30 minutes, %v %d in slots of 15", name, half.Status, half.Value, quarter.Status, quarter.Value)
		}
	}
}

func TestLiveBudgetFindsAScheduleForEveryWorkshopProject(t *testing.T) {
	names, best := bestKnown(t)
	for _, name := range names {
		s := solveVerified(t, readShop(t, name, 1), Live())
		if best[name] >= 0 && (s.Start == nil || s.Bound > best[name]) {
			t.Errorf("%s: %v value %d bound %d, proven end %d", name, s.Status, s.Value, s.Bound, best[name])
		}
	}
}

func TestProgressClosesIn(t *testing.T) {
	value, bound := 1<<30, 0
	s := Solve(context.Background(), library(30, 4), Options{Progress: func(v, b int) {
		if v > value || b < bound || b > v {
			t.Errorf("value %d bound %d after value %d bound %d", v, b, value, bound)
		}
		value, bound = v, b
	}})
	if s.Value != value || s.Bound != bound {
		t.Errorf("ended with %d, %d; last told %d, %d", s.Value, s.Bound, value, bound)
	}
}

func TestEndedContextStopsWithWhatIsKnown(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	s := Solve(ctx, library(60, 1), Options{})
	if s.Status != Stopped || s.Bound <= 0 {
		t.Errorf("got %v with bound %d", s.Status, s.Bound)
	}
}

func TestNegativeLimitMeansHeuristicsAlone(t *testing.T) {
	s := solveVerified(t, library(60, 1), Options{DeadEnds: -1, Schedules: 50})
	if s.Status != Feasible || s.DeadEnds != 0 || s.Schedules > 100 {
		t.Errorf("got %v after %d schedules, %d dead ends", s.Status, s.Schedules, s.DeadEnds)
	}
}

func TestLubyRunLengths(t *testing.T) {
	want := []int{1, 1, 2, 1, 1, 2, 4, 1, 1, 2, 1, 1, 2, 4, 8}
	for k, w := range want {
		if got := luby(k + 1); got != w {
			t.Errorf("term %d is %d, want %d", k+1, got, w)
		}
	}
}

// TestEnergyRefutesNothingThatTimeTablesAllow proves optima with the energy check and once more without it.
func TestEnergyRefutesNothingThatTimeTablesAllow(t *testing.T) {
	count := uint64(150)
	if testing.Short() {
		count = 30
	}
	for seed := range count {
		in := library(12+int(seed%10), seed)
		s := solveVerified(t, in, Options{})
		if s.Status != Optimal {
			t.Fatalf("seed %d: %v", seed, s.Status)
		}
		net := newNetwork(&in)
		l, _ := newLearner(net)
		goal := endOf(in.Goal)
		if l.fails(l.endsBy(goal, s.Value)) {
			t.Errorf("seed %d: the optimum %d fails at once", seed, s.Value)
		}
		if got := l.search(context.Background(), l.endsBy(goal, s.Value-1), 1_000_000); got != refuted && got != exhausted {
			t.Errorf("seed %d: optimum %d, but without energy the search for %d ends with %d", seed, s.Value, s.Value-1, got)
		}
	}
}
