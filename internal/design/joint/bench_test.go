package joint

import (
	"math/rand/v2"
	"testing"
)

// BenchmarkCompare works out and compares every joint of one connection, as the table of the workbook does: a corner of a
// frame in a shop with every tool and every dowel on sale.
func BenchmarkCompare(b *testing.B) {
	s := oneSite(b, meetings[0].text(rand.New(rand.NewPCG(5, 2))))
	sets := []Forces{{N: 300, BendU: 40, ShearV: 100}, {ShearU: 250, BendV: 5, Twist: 3}}
	for b.Loop() {
		c := Choose(s, everything, sets, DefaultReserve)
		b.ReportMetric(float64(len(c.Ranked)), "joints")
	}
}
