package project

import (
	"context"
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
	conflicts := 0
	for b.Loop() {
		conflicts += Solve(context.Background(), in, Options{Schedules: 10, Conflicts: 5000}).Conflicts
	}
	b.ReportMetric(float64(conflicts)/b.Elapsed().Seconds(), "conflicts/s")
}
