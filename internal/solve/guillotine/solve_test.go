package guillotine

import (
	"context"
	"testing"
	"time"
)

func TestBoardJobs(t *testing.T) {
	for seed := range uint64(12) {
		in := boardJob(seed, 12)
		for _, rounds := range []int{1, 2, 4, 6} {
			t0 := time.Now()
			sol := Solve(context.Background(), in, Options{Rounds: rounds})
			t.Log(seed, sum(in.demands()), rounds, sol, time.Since(t0))
			for _, f := range Verify(in, sol) {
				t.Error(f)
			}
		}
	}
}

func BenchmarkBoardJob(b *testing.B) {
	for b.Loop() {
		for seed := range uint64(12) {
			Solve(context.Background(), boardJob(seed, 12), Options{Rounds: 1})
		}
	}
}
