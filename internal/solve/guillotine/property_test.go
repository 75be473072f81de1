package guillotine

import (
	"context"
	"reflect"
	"testing"
)

func TestEveryPlanOfAnyInstancePassesVerify(t *testing.T) {
	count := uint64(1500)
	if testing.Short() {
		count = 300
	}
	solved := 0
	for seed := range count {
		in := anyInstance(seed)
		sol := Solve(context.Background(), in, Options{Rounds: 1})
		for _, f := range Verify(in, sol) {
			t.Errorf("seed %d: %v: %v", seed, sol, f)
		}
		if sol.Status == Optimal || sol.Status == Feasible {
			solved++
		}
	}
	if solved < int(count)/2 {
		t.Errorf("only %d of %d instances were solved; the generator no longer tests much", solved, count)
	}
}

func TestSameInstanceGivesSamePlan(t *testing.T) {
	for seed := range uint64(40) {
		in := anyInstance(seed)
		a, b := Solve(context.Background(), in, Options{Rounds: 2}), Solve(context.Background(), in, Options{Rounds: 2})
		if !reflect.DeepEqual(a, b) {
			t.Fatalf("seed %d: two runs differ: %v and %v", seed, a, b)
		}
	}
}
