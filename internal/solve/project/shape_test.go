package project

import (
	"math/rand/v2"
	"testing"
)

// TestShapeAgreesWithTryingEverySlot compares every question to a shape with the answer found by trying all
// starts and ends, which workedSlots allows.
func TestShapeAgreesWithTryingEverySlot(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 300 {
		horizon := 12 + r.IntN(8)
		var windows []Window
		for at := r.IntN(4); at < horizon+3; {
			end := at + 1 + r.IntN(5)
			windows = append(windows, Window{at, end})
			at = end + r.IntN(4)
		}
		in := Instance{Horizon: horizon, Calendars: []Calendar{{"c", windows}}}
		task := Task{Calendar: r.IntN(2) - 1, Splittable: r.IntN(2) == 0}
		mode := Mode{Duration: r.IntN(6)}
		end := map[int]int{}
		for s := 0; s <= horizon; s++ {
			for e := s + mode.Duration; e <= horizon; e++ {
				if _, problem := workedSlots(in, task, mode, s, e); problem == "" {
					end[s] = e
				}
			}
		}
		shape := newShape(horizon, mode.Duration, windows, task.Calendar == AnyTime, task.Splittable)
		least := func(ok func(s int) bool) int {
			for s := 0; s <= horizon; s++ {
				if _, possible := end[s]; possible && ok(s) {
					return s
				}
			}
			return shape.never()
		}
		greatest := func(ok func(s int) bool) int {
			for s := horizon; s >= 0; s-- {
				if _, possible := end[s]; possible && ok(s) {
					return s
				}
			}
			return -1
		}
		for at := -2; at <= horizon+2; at++ {
			for _, q := range []struct {
				name      string
				got, want int
			}{
				{"up", shape.up(at), least(func(s int) bool { return s >= at })},
				{"down", shape.down(at), greatest(func(s int) bool { return s <= at })},
				{"startEndingFrom", shape.startEndingFrom(at), least(func(s int) bool { return end[s] >= at })},
				{"startEndingBy", shape.startEndingBy(at), greatest(func(s int) bool { return end[s] <= at })},
			} {
				if q.got != q.want {
					t.Fatalf("%s(%d) is %d, want %d (task %+v, mode %+v, windows %v, horizon %d)", q.name, at, q.got, q.want, task, mode, windows, horizon)
				}
			}
		}
		for s, e := range end {
			if shape.end(s) != e || shape.nth(shape.rank(s)) != s {
				t.Fatalf("start %d: end %d, want %d; nth of rank %d", s, shape.end(s), e, shape.nth(shape.rank(s)))
			}
		}
	}
}
