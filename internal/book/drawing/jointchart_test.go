package drawing

import (
	"math"
	"strings"
	"testing"

	"longgrain/internal/paper/scene"
	"longgrain/internal/paper/svg"
)

// sampleJoints is made up.
var sampleJoints = JointComparison{Title: "Joints compared", Axis: "reserve: lower strength over load", Wanted: 1.3, Rows: []JointRow{
	{Name: "mortise and tenon", Note: "32 min", Dots: []JointDot{{"tenon 10 × 92 × 28", 2.2, false, false}, {"tenon 8 × 92 × 20", 1.5, false, false}}},
	{Name: "dowels", Note: "9–18 min", Dots: []JointDot{{"4 dowels 10 × 60", 1.38, false, false}, {"3 dowels 10 × 50", 1.31, false, true}, {"2 dowels 8 × 40", 0.74, false, false}}},
	{Name: "pocket screws", Note: "4–7 min", Dots: []JointDot{{"4 pocket screws", 0.78, true, false}, {"2 pocket screws", 0.47, true, false}}},
	{Name: "loose tenon", Note: "8 min", Dots: []JointDot{{"loose tenon", 25, false, false}}},
}}

func TestJointChartsAreReadable(t *testing.T) {
	check(t, "joints", JointChart(sampleJoints, Style{}), Style{})
	check(t, "narrow", JointChart(sampleJoints, Style{Width: 110}), Style{Width: 110})
	check(t, "nothing to compare", JointChart(JointComparison{Title: "none", Wanted: 1.3}, Style{}), Style{})
	unloaded := JointComparison{Title: "no load", Axis: "bending, N·m", Rows: []JointRow{{Name: "dowels", Note: "9 min", Dots: []JointDot{{"2 dowels", 140, false, true}, {"3 dowels", 190, false, false}}}}}
	endless := JointComparison{Title: "endless", Axis: "reserve", Wanted: 1.3, Rows: []JointRow{{Name: "dowels", Dots: []JointDot{{"2 dowels", math.Inf(1), false, true}}}}}
	check(t, "endless", JointChart(endless, Style{}), Style{})
	check(t, "no load", JointChart(unloaded, Style{}), Style{})
	golden(t, "joints", svg.File(JointChart(sampleJoints, Style{})))
}

func TestEveryComparedJointIsADot(t *testing.T) {
	s := JointChart(sampleJoints, Style{})
	dots := 0
	s.Walk(func(item scene.Item) {
		if c, ok := item.(scene.Circle); ok && c.Radius == dotRadius {
			dots++
		}
	})
	if dots != 8+3 { // and three in the legend
		t.Errorf("%d dots", dots)
	}
	named := false
	for _, text := range s.Texts() {
		named = named || strings.HasPrefix(text.Text, "chosen: 3 dowels")
	}
	if !named {
		t.Error("the chosen joint is not named")
	}
}
