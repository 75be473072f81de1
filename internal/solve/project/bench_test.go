package project

import (
	"context"
	"fmt"
	"testing"
)

func BenchmarkSchedulesOfLibraryProject(b *testing.B) {
	in := library(120, 1)
	net := newNetwork(&in)
	root, _ := newLearner(net)
	im := newImprover(net, root, 1)
	for b.Loop() {
		im.child()
	}
	b.ReportMetric(float64(b.Elapsed().Microseconds())/float64(im.passes()), "us/schedule")
}

func BenchmarkDeadEndsOfLibraryProject(b *testing.B) {
	in := library(60, 2)
	deadEnds := 0
	for b.Loop() {
		deadEnds += Solve(context.Background(), in, Options{Schedules: 10, DeadEnds: 5000}).DeadEnds
	}
	b.ReportMetric(float64(deadEnds)/b.Elapsed().Seconds(), "dead-ends/s")
}

// BenchmarkFurniture solves generated work on one to three pieces, within the live budget and to the proof.
func BenchmarkFurniture(b *testing.B) {
	for pieces := 1; pieces <= 3; pieces++ {
		for _, limit := range []struct {
			name string
			opt  Options
		}{{"live", Live()}, {"proof", Options{}}} {
			b.Run(fmt.Sprintf("%d pieces/%s", pieces, limit.name), func(b *testing.B) {
				n, found, proven, tasks, gap := 0, 0, 0, 0, 0.0
				for b.Loop() {
					in := furniture(pieces, 1+n%2, uint64(n%20))
					tasks = len(in.Tasks)
					s := Solve(context.Background(), in, limit.opt)
					n++
					if s.Start != nil {
						found++
						gap += 100 * float64(s.Value-s.Bound) / float64(s.Value)
					}
					if s.Status == Optimal || s.Status == Infeasible {
						proven++
					}
				}
				b.ReportMetric(float64(tasks), "tasks")
				b.ReportMetric(100*float64(found)/float64(n), "%found")
				b.ReportMetric(100*float64(proven)/float64(n), "%proven")
				b.ReportMetric(gap/float64(max(found, 1)), "%gap")
			})
		}
	}
}
