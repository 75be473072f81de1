package fasten

import (
	"testing"

	"longgrain/internal/ground/unit"
	"longgrain/internal/trial"
)

// TestATopSlidesBothWaysOnARailThatRunsAskew turns a rail under a seat: the tongue then needs room along the rail as one
// across the grain does, and depth as one along the grain does.
func TestATopSlidesBothWaysOnARailThatRunsAskew(t *testing.T) {
	text := func(turn string) string {
		return `longgrain: 1
name: Board
parts:
  - {name: rail, role: rail, length: 400 mm, width: 80 mm, thickness: 22 mm, along: x, across: z, at: [100 mm, 60 mm, 0 mm], ` + turn + `}
  - {name: seat, role: seat, length: 600 mm, width: 500 mm, thickness: 25 mm, at: [0 mm, 0 mm, 80 mm]}
connections:
  - {between: [rail, seat], purpose: top fastening}`
	}
	along := fastenings(t, trial.Assembly(t, text("")), steady)[0]
	askew := fastenings(t, trial.Assembly(t, text("turn: 30, angled: [{side: top, to: seat}]")), steady)[0]
	if askew.Across || askew.Fixed >= 0 {
		t.Errorf("a rail that runs askew holds the seat fast: %+v", askew)
	}
	longer := false
	for i, l := range askew.SlotLength {
		longer = longer || l > along.SlotLength[min(i, len(along.SlotLength)-1)]
	}
	if !longer || askew.SlotDepth < 6*unit.Millimetre {
		t.Errorf("slots %v, %v deep; along the grain %v, %v deep", askew.SlotLength, askew.SlotDepth, along.SlotLength, along.SlotDepth)
	}
}
