package pattern

import (
	"testing"

	"longgrain/internal/design/piece"
)

// sixtyParts is a pattern of 60 parts with a connection for each but the first.
const sixtyParts = `
title = "Fence"
use = "shelf"
sizes = [length("gap", "20 mm", "5 mm", "50 mm", "Gap")]
def build(s):
    rail = part("rail", "rail", size = (60 * (mm(30) + s.gap), mm(80), mm(20)), at = (mm(0), mm(20), mm(0)), along = "x", across = "z")
    made = [rail]
    for i in range(59):
        slat = part("slat %d" % (i + 1), "other", size = (mm(200), mm(30), mm(20)), at = ((mm(30) + s.gap) * i, mm(0), mm(0)), along = "z", across = "x")
        made += [slat, connect(slat, rail)]
    return made
`

func BenchmarkSixtyParts(b *testing.B) {
	library := Library{{"fence", sixtyParts}}
	p := piece.Piece{Pattern: "fence"}
	for b.Loop() {
		made, _, problems := Expand(p, library)
		if len(problems) > 0 || len(made.Parts) != 60 || len(made.Connections) != 59 {
			b.Fatal(problems, len(made.Parts))
		}
	}
}
