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
	a := Solve(context.Background(), in, Options{Seed: 5, Conflicts: 2000})
	b := Solve(context.Background(), in, Options{Seed: 5, Conflicts: 2000})
	if diff := cmp.Diff(a, b); diff != "" {
		t.Error(diff)
	}
}
