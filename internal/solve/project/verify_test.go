package project

import (
	"context"
	"slices"
	"strings"
	"testing"
)

func TestVerifyFindsEveryKindOfFault(t *testing.T) {
	in := Instance{
		Horizon: 30, Goal: 2,
		Resources: []Resource{{"person", 1}, {"clamp", 2}},
		Calendars: []Calendar{{"evenings", []Window{{4, 10}, {14, 20}}}},
		Tasks: []Task{
			NewTask("glue", 0, 2, Need{0, 1}), NewTask("release", 0, 1, Need{0, 1}), NewTask("finish", AnyTime, 0),
			{Name: "sand", Calendar: 0, Splittable: true, Release: 1, Deadline: 19, Modes: []Mode{{Duration: 3, Needs: []Need{{0, 1}}}}},
		},
		Lags:  []Lag{{From: 0, To: 1, Min: 2, Limited: true, Max: 6}, {From: 1, To: 2}, {From: 3, To: 2, FromStart: true, Min: 3}},
		Holds: []Hold{{1, 2, 0, 1}},
	}
	right := Solution{Start: []int{4, 8, 16, 9}, End: []int{6, 9, 16, 16}, Mode: make([]int, 4), Value: 16, Bound: 15}
	if wrong := Verify(in, right); len(wrong) > 0 {
		t.Fatalf("a right schedule is refused: %v", wrong)
	}
	for _, c := range []struct {
		name, want string
		spoil      func(in *Instance, s *Solution)
	}{
		{"outside the window", "not inside one window", func(in *Instance, s *Solution) { s.Start[0], s.End[0] = 9, 15 }},
		{"wrong length", "needs 2", func(in *Instance, s *Solution) { s.End[0] = 10 }},
		{"start of split work at rest", "starts or ends outside", func(in *Instance, s *Solution) { s.Start[3] = 11; s.End[3] = 17 }},
		{"deadline", "deadline", func(in *Instance, s *Solution) { in.Tasks[3].Deadline = 15 }},
		{"release", "release", func(in *Instance, s *Solution) { in.Tasks[3].Release = 10 }},
		{"minimum lag", "lag", func(in *Instance, s *Solution) { in.Lags[0].Min = 6 }},
		{"maximum lag", "lag", func(in *Instance, s *Solution) { in.Lags[0].Min, in.Lags[0].Max = 0, 1 }},
		{"lag from the start", "lag", func(in *Instance, s *Solution) { in.Lags[2].Min = 9 }},
		{"need above capacity", "person", func(in *Instance, s *Solution) { s.Start[3], s.End[3] = 8, 15 }},
		{"hold above capacity", "clamp", func(in *Instance, s *Solution) { in.Resources[1].Capacity = 1 }},
		{"value", "value", func(in *Instance, s *Solution) { s.Value = 15 }},
		{"bound", "bound", func(in *Instance, s *Solution) { s.Bound = 17 }},
		{"mode", "no mode", func(in *Instance, s *Solution) { s.Mode[0] = 1 }},
		{"count", "4 tasks", func(in *Instance, s *Solution) { s.Start = s.Start[:3] }},
	} {
		t.Run(c.name, func(t *testing.T) {
			bad := in
			bad.Tasks, bad.Lags, bad.Resources = slices.Clone(in.Tasks), slices.Clone(in.Lags), slices.Clone(in.Resources)
			s := right
			s.Start, s.End, s.Mode = slices.Clone(right.Start), slices.Clone(right.End), slices.Clone(right.Mode)
			c.spoil(&bad, &s)
			if wrong := strings.Join(Verify(bad, s), "; "); !strings.Contains(wrong, c.want) {
				t.Errorf("found %q, want something about %q", wrong, c.want)
			}
		})
	}
	if s := solveVerified(t, in, Options{}); s.Status != Optimal {
		t.Errorf("got %v", s.Status)
	}
}

func TestMisusePanics(t *testing.T) {
	for name, in := range map[string]Instance{
		"no task":           {},
		"goal out of range": {Horizon: 5, Goal: 1, Tasks: []Task{NewTask("a", AnyTime, 1)}},
		"calendar":          {Horizon: 5, Tasks: []Task{NewTask("a", 0, 1)}},
		"no mode":           {Horizon: 5, Tasks: []Task{{Name: "a", Calendar: AnyTime}}},
		"duration":          {Horizon: 5, Tasks: []Task{NewTask("a", AnyTime, -1)}},
		"resource":          {Horizon: 5, Tasks: []Task{NewTask("a", AnyTime, 1, Need{0, 1})}},
		"lag":               {Horizon: 5, Tasks: []Task{NewTask("a", AnyTime, 1)}, Lags: []Lag{{From: 0, To: 1}}},
		"windows":           {Horizon: 5, Tasks: []Task{NewTask("a", AnyTime, 1)}, Calendars: []Calendar{{"c", []Window{{3, 5}, {4, 6}}}}},
	} {
		t.Run(name, func(t *testing.T) {
			defer func() {
				if recover() == nil {
					t.Error("no panic")
				}
			}()
			Solve(context.Background(), in, Options{})
		})
	}
}
