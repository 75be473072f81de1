package project

import (
	"context"
	"slices"
	"strings"
	"testing"
)

// evenings is a calendar of three windows of six slots.
var evenings = []Calendar{{"evenings", []Window{{4, 10}, {20, 26}, {36, 42}}}}

func TestReasonNamesWhatStandsInTheWay(t *testing.T) {
	for _, c := range []struct {
		name  string
		in    Instance
		words []string
		tasks []int
		lags  []int
	}{
		{
			name: "maximum lag shorter than the minimum lags between",
			in: Instance{Horizon: 40, Goal: 2,
				Tasks: []Task{NewTask("spread", AnyTime, 1), NewTask("cure", AnyTime, 5), NewTask("scrape", AnyTime, 1)},
				Lags:  []Lag{{From: 0, To: 1}, {From: 1, To: 2, Min: 2}, {From: 0, To: 2, Limited: true, Max: 4}}},
			words: []string{"contradict", `"spread"`, `"scrape"`, "at most 4"}, tasks: []int{0, 1, 2}, lags: []int{0, 1, 2},
		},
		{
			name: "no window long enough",
			in: Instance{Horizon: 50, Calendars: evenings,
				Tasks: []Task{NewTask("mill", 0, 7)}},
			words: []string{`"mill"`, "7 slots", "no window"}, tasks: []int{0},
		},
		{
			name: "demand above capacity",
			in: Instance{Horizon: 50, Resources: []Resource{{"person", 1}},
				Tasks: []Task{NewTask("lift", AnyTime, 2, Need{0, 2})}},
			words: []string{`"lift"`, `"person"`, "capacity 1"}, tasks: []int{0},
		},
		{
			name: "hold above capacity",
			in: Instance{Horizon: 50, Goal: 1, Resources: []Resource{{"clamp", 3}},
				Tasks: []Task{NewTask("clamp up", AnyTime, 1), NewTask("release", AnyTime, 1)},
				Lags:  []Lag{{From: 0, To: 1, Min: 2}}, Holds: []Hold{{0, 4, 0, 1}}},
			words: []string{"hold", `"clamp up"`, `"release"`, "4", "capacity 3"}, tasks: []int{0, 1},
		},
		{
			name: "release after deadline",
			in: Instance{Horizon: 50,
				Tasks: []Task{{Name: "oil", Calendar: AnyTime, Release: 10, Deadline: 12, Modes: []Mode{{Duration: 3}}}}},
			words: []string{`"oil"`, "release 10", "deadline 12"}, tasks: []int{0},
		},
		{
			name: "calendar breaks a maximum lag",
			in: Instance{Horizon: 42, Calendars: evenings, Goal: 1,
				Tasks: []Task{NewTask("first coat", 0, 6), NewTask("second coat", 0, 2)},
				Lags:  []Lag{{From: 0, To: 1, Limited: true, Max: 9}}},
			words: []string{"giving up one", `"second coat"`, "at most 9", `"first coat"`}, tasks: []int{0, 1}, lags: []int{0},
		},
		{
			name: "two maximum lags from a work that takes the whole window",
			in: Instance{Horizon: 42, Calendars: evenings, Goal: 0, Resources: []Resource{{"person", 1}},
				Tasks: []Task{NewTask("mill", 0, 2, Need{0, 1}), NewTask("leg a", 0, 3, Need{0, 1}), NewTask("leg b", 0, 3, Need{0, 1})},
				Lags:  []Lag{{From: 0, To: 1, Limited: true, Max: 4}, {From: 0, To: 2, Limited: true, Max: 4}}},
			words: []string{"giving up one", `"leg a"`, `"leg b"`}, tasks: []int{0, 1, 2}, lags: []int{0, 1},
		},
		{
			name: "too much work",
			in: Instance{Horizon: 12, Calendars: evenings, Goal: 1, Resources: []Resource{{"person", 1}},
				Tasks: []Task{NewTask("saw", 0, 4, Need{0, 1}), NewTask("plane", 0, 4, Need{0, 1})}},
			words: []string{"does not fit", "slot 12"},
		},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := Solve(context.Background(), c.in, Options{})
			if s.Status != Infeasible {
				t.Fatalf("got %v, want infeasible", s.Status)
			}
			for _, w := range c.words {
				if !strings.Contains(s.Conflict.Reason, w) {
					t.Errorf("reason %q does not say %q", s.Conflict.Reason, w)
				}
			}
			slices.Sort(s.Conflict.Tasks)
			slices.Sort(s.Conflict.Lags)
			if !slices.Equal(s.Conflict.Tasks, c.tasks) || !slices.Equal(s.Conflict.Lags, c.lags) {
				t.Errorf("conflict of tasks %v lags %v, want %v and %v", s.Conflict.Tasks, s.Conflict.Lags, c.tasks, c.lags)
			}
		})
	}
}

func TestRulesToBeGivenUpTogetherAreNamedTogether(t *testing.T) {
	// Two pairs, each impossible by itself: no single rule given up is enough.
	in := Instance{Horizon: 42, Calendars: evenings, Goal: 0,
		Tasks: []Task{NewTask("a", 0, 6), NewTask("b", 0, 1), NewTask("c", 0, 6), NewTask("d", 0, 1)},
		Lags:  []Lag{{From: 0, To: 1, Limited: true, Max: 5}, {From: 2, To: 3, Limited: true, Max: 5}}}
	s := Solve(context.Background(), in, Options{})
	if s.Status != Infeasible || !slices.Equal(s.Conflict.Lags, []int{0, 1}) || !strings.Contains(s.Conflict.Reason, "together") {
		t.Errorf("got %v, %+v", s.Status, s.Conflict)
	}
}
