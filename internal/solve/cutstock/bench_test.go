package cutstock_test

import (
	"testing"

	"longgrain/internal/solve/cutstock"
)

// BenchmarkTableJob is a table-sized job: 20 parts of 12 lengths, six stock lengths.
func BenchmarkTableJob(b *testing.B) {
	in := newGenerator(7).workshop(3, 3, 12)
	for b.Loop() {
		solve(b, in, cutstock.Options{Effort: cutstock.InteractiveEffort})
	}
}

// BenchmarkTableJobWithLeftovers is the same job when leftovers are worth half the price of the stock.
func BenchmarkTableJobWithLeftovers(b *testing.B) {
	in := newGenerator(7).workshop(3, 3, 12)
	in.Leftover = cutstock.Leftover{MinLength: 4000, SharePerMille: 500}
	for b.Loop() {
		solve(b, in, cutstock.Options{Effort: cutstock.InteractiveEffort})
	}
}
