package drawing

import (
	"math"
	"strings"
	"testing"

	"longgrain/internal/paper/scene"
	"longgrain/internal/paper/svg"
)

// sampleTests is made up.
var sampleTests = TestResults{Title: "Joint tests", Axis: "moment, N·m", Rows: []TestRow{
	{Name: "dowels, pine", Note: "5 tests, lower 5 % 196 N·m", Mean: 293, Low: 252, High: 334, Lower: 196, Predicted: 270,
		Dots: []TestDot{{285, false}, {283, false}, {311, false}, {294, true}, {311, false}}},
	{Name: "mortise and tenon, pine", Note: "3 tests, lower 5 % 303 N·m", Mean: 457, Low: 370, High: 544, Lower: 303, Predicted: 360,
		Dots: []TestDot{{450, false}, {495, false}, {426, false}}},
	{Name: "biscuits, pine", Note: "1 test, no bound", Mean: 240, Dots: []TestDot{{240, false}}},
	{Name: "half lap, pine", Note: "2 tests, no bound", Dots: []TestDot{{520, true}, {505, true}}},
	{Name: "pocket screws, pine", Note: "no test that counts"},
}}

func manyTests(n int) TestRow {
	r := TestRow{Name: "a long series of joints of one kind with a name that takes the width of a page", Note: "lower 5 %: 120 N·m", Mean: 200, Low: 199, High: 201, Lower: 120}
	for i := range n {
		r.Dots = append(r.Dots, TestDot{200 + 40*math.Sin(float64(i)), i%7 == 0})
	}
	return r
}

func TestChartsOfTestsAreReadable(t *testing.T) {
	check(t, "tests", TestChart(sampleTests, Style{}), Style{})
	check(t, "narrow", TestChart(sampleTests, Style{Width: 110}), Style{Width: 110})
	check(t, "no group", TestChart(TestResults{Title: "none", Axis: "load, N"}, Style{}), Style{})
	golden(t, "tests", svg.File(TestChart(sampleTests, Style{})))
}

func TestOfManyTestsAnEvenChoiceIsDrawn(t *testing.T) {
	row := manyTests(100_000)
	s := TestChart(TestResults{Title: "many", Axis: "moment, N·m", Rows: []TestRow{row}}, Style{})
	check(t, "many", s, Style{})
	dots := 0
	s.Walk(func(item scene.Item) {
		if _, ok := item.(scene.Circle); ok {
			dots++
		}
	})
	if dots != mostDots+2 { // and two in the legend
		t.Errorf("%d dots", dots)
	}
	told := false
	for _, text := range s.Texts() {
		told = told || strings.HasSuffix(text.Text, "(150 of 100000 tests drawn)")
	}
	if !told {
		t.Error("nobody is told that dots are missing")
	}
	few := fewerDots(row.Dots)
	if few[0].Value > 160.001 || few[mostDots-1].Value < 239.999 {
		t.Errorf("drawn from %v to %v", few[0], few[mostDots-1])
	}
}

// An interval of two tests can be many times as wide as they lie apart; the other rows must stay readable.
func TestAnEndlessIntervalDoesNotPressTheTestsTogether(t *testing.T) {
	row := TestRow{Name: "dowels", Dots: []TestDot{{Value: 100}, {Value: 110}, {Value: 120}}, Mean: 110, Low: 85, High: 135}
	apart := func(high float64) float64 {
		wild := TestRow{Name: "biscuits", Dots: []TestDot{{Value: 40}, {Value: 120}}, Mean: 80, Low: 0, High: high}
		s := TestChart(TestResults{Title: "t", Axis: "load, N", Rows: []TestRow{row, wild}}, Style{})
		var dots []float64 // those of the first row come first, by strength
		for _, item := range s.Items {
			if c, ok := item.(scene.Circle); ok {
				dots = append(dots, c.Centre.X)
			}
		}
		return dots[2] - dots[0]
	}
	if narrow, wide := apart(130), apart(1e6); wide < narrow*0.7 {
		t.Errorf("the dots lie %.1f mm apart beside an endless interval, %.1f without", wide, narrow)
	}
}
