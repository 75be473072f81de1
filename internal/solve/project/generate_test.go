package project

import (
	"fmt"
	"math/rand/v2"
)

// small returns a random project small enough to try every schedule: calendars, splittable tasks, holds,
// several modes, minimum and maximum lags, releases and deadlines.
func small(seed uint64) Instance {
	r := rand.New(rand.NewPCG(seed, 7))
	in := Instance{Horizon: 8 + r.IntN(4), Resources: []Resource{{"person", 1 + r.IntN(2)}, {"clamp", 1 + r.IntN(3)}}}
	in.Calendars = []Calendar{{"evenings", []Window{{1, 4}, {5, 6 + r.IntN(3)}, {9, 12}}}}
	n := 3 + r.IntN(2)
	for i := range n {
		t := Task{Name: fmt.Sprint("task ", i), Calendar: r.IntN(2) - 1, Splittable: r.IntN(3) == 0}
		for range 1 + r.IntN(5)/4 {
			t.Modes = append(t.Modes, Mode{Duration: r.IntN(4), Needs: []Need{{0, 1 + r.IntN(2)}, {1, r.IntN(2)}}})
		}
		if r.IntN(6) == 0 {
			t.Release = r.IntN(4)
		}
		if r.IntN(6) == 0 {
			t.Deadline = 5 + r.IntN(5)
		}
		in.Tasks = append(in.Tasks, t)
	}
	for range n {
		a, b := r.IntN(n), r.IntN(n)
		if a == b {
			continue
		}
		l := Lag{From: min(a, b), To: max(a, b), FromStart: r.IntN(2) == 0, Min: r.IntN(4) - 1}
		if r.IntN(3) == 0 {
			l.Limited, l.Max = true, l.Min+r.IntN(4)
		}
		in.Lags = append(in.Lags, l)
	}
	if r.IntN(2) == 0 {
		in.Holds = append(in.Holds, Hold{Resource: 1, Amount: 1 + r.IntN(2), From: r.IntN(n - 1), To: n - 1})
	}
	in.Tasks = append(in.Tasks, NewTask("finish", AnyTime, 0))
	in.Goal = n
	for i := range n {
		in.Lags = append(in.Lags, Lag{From: i, To: n})
	}
	return in
}

// shortest tries every schedule and returns the least end of the goal, -1 if there is no schedule.
func shortest(in Instance) int {
	n := len(in.Tasks)
	s := Solution{Start: make([]int, n), End: make([]int, n), Mode: make([]int, n)}
	best := -1
	var try func(i int)
	try = func(i int) {
		if i == n {
			s.Value = s.End[in.Goal]
			if (best < 0 || s.Value < best) && len(Verify(in, s)) == 0 {
				best = s.Value
			}
			return
		}
		for m, mode := range in.Tasks[i].Modes {
			for start := 0; start <= in.Horizon; start++ {
				for end := start + mode.Duration; end <= in.Horizon; end++ {
					if _, problem := workedSlots(in, in.Tasks[i], mode, start, end); problem != "" {
						continue
					}
					s.Start[i], s.End[i], s.Mode[i] = start, end, m
					if lagsHold(in, s, i) {
						try(i + 1)
					}
				}
			}
		}
	}
	try(0)
	return best
}

// lagsHold checks the lags among the tasks up to i.
func lagsHold(in Instance, s Solution, i int) bool {
	for _, l := range in.Lags {
		from := s.End[l.From]
		if l.FromStart {
			from = s.Start[l.From]
		}
		if lag := s.Start[l.To] - from; max(l.From, l.To) <= i && (lag < l.Min || (l.Limited && lag > l.Max)) {
			return false
		}
	}
	return true
}

// library returns a random project of the kind of the standard benchmark sets: n tasks in a network of
// precedences, four resources, no calendar.
func library(n int, seed uint64) Instance {
	r := rand.New(rand.NewPCG(seed, 11))
	in := Instance{Horizon: 10 * n}
	for k := range 4 {
		in.Resources = append(in.Resources, Resource{fmt.Sprint("R", k), 10 + r.IntN(5)})
	}
	for i := range n {
		var needs []Need
		for k := range 4 {
			if r.IntN(2) == 0 {
				needs = append(needs, Need{k, 1 + r.IntN(9)})
			}
		}
		in.Tasks = append(in.Tasks, NewTask(fmt.Sprint("job ", i), AnyTime, 1+r.IntN(9), needs...))
		for range 2 {
			if i > 3 && r.IntN(4) > 0 {
				in.Lags = append(in.Lags, Lag{From: max(0, i-3-r.IntN(8)), To: i})
			}
		}
	}
	in.Tasks = append(in.Tasks, NewTask("finish", AnyTime, 0))
	in.Goal = n
	for i := range n {
		in.Lags = append(in.Lags, Lag{From: i, To: n})
	}
	return in
}

// furniture returns the work on some pieces of furniture in slots of 15 minutes over six weeks of evenings
// and weekends: milling that may be split, leg laminations in batches, panels, a frame and coats, with
// clamps held over night, two drying places, a bench, scrape windows, recoat windows and, for heavy steps,
// a second mode with two people.
func furniture(pieces, people int, seed uint64) Instance {
	r := rand.New(rand.NewPCG(seed, 13))
	const day = 96
	in := Instance{Horizon: 42 * day, Calendars: []Calendar{{Name: "evenings and weekends"}}}
	for d := range 42 {
		if weekday := d % 7; weekday < 5 {
			in.Calendars[0].Windows = append(in.Calendars[0].Windows, Window{d*day + 72, d*day + 84})
		} else {
			in.Calendars[0].Windows = append(in.Calendars[0].Windows, Window{d*day + 36, d*day + 48}, Window{d*day + 52, d*day + 68})
		}
	}
	const person, bench, clamps, places = 0, 1, 2, 3
	in.Resources = []Resource{{"person", people}, {"bench", 1}, {"clamp", 8}, {"drying place", 2}}
	add := func(name string, duration int, after ...Lag) int {
		t := NewTask(name, 0, duration, Need{person, 1})
		in.Tasks = append(in.Tasks, t)
		for _, l := range after {
			l.To = len(in.Tasks) - 1
			in.Lags = append(in.Lags, l)
		}
		return len(in.Tasks) - 1
	}
	glue := func(name string, amount, duration int, after ...Lag) int {
		a := add(name+": glue and clamp", duration, after...)
		in.Tasks[a].Modes[0].Needs = append(in.Tasks[a].Modes[0].Needs, Need{bench, 1})
		s := add(name+": scrape", 1, Lag{From: a, Min: 4, Limited: true, Max: 8})
		u := add(name+": unclamp", 1, Lag{From: s}, Lag{From: a, Min: 24})
		in.Holds = append(in.Holds, Hold{clamps, amount, a, u})
		return u
	}
	var last []Lag
	for p := range pieces {
		name := func(s string) string { return fmt.Sprintf("piece %d %s", p+1, s) }
		mill := add(name("mill"), 10+r.IntN(8))
		in.Tasks[mill].Splittable = true
		var parts []Lag
		for k := range 1 + r.IntN(2) {
			parts = append(parts, Lag{From: glue(name(fmt.Sprint("legs ", k+1)), 3+r.IntN(3), 2, Lag{From: mill, Limited: true, Max: 3 * day}), Min: day})
		}
		panel := glue(name("panel"), 4+r.IntN(3), 2, Lag{From: mill, Limited: true, Max: 4 * day})
		joints := add(name("joints"), 8+r.IntN(4), parts...)
		flatten := add(name("flatten panel"), 4, Lag{From: panel, Min: day})
		in.Tasks[flatten].Modes = append(in.Tasks[flatten].Modes, Mode{Name: "two people", Duration: 2, Needs: []Need{{person, 2}}})
		sand := add(name("sand"), 6, Lag{From: joints})
		in.Tasks[sand].Splittable = true
		frame := glue(name("frame"), 6, 3, Lag{From: sand})
		dye := add(name("dye"), 2, Lag{From: frame}, Lag{From: flatten})
		coat := add(name("coat 1"), 2, Lag{From: dye, Min: 32})
		first := coat
		for k := range 1 + r.IntN(2) {
			coat = add(name(fmt.Sprint("coat ", k+2)), 2, Lag{From: coat, Min: 48, Limited: true, Max: 3 * day})
		}
		collect := add(name("collect"), 1, Lag{From: coat, Min: 72})
		in.Holds = append(in.Holds, Hold{places, 1, first, collect})
		last = append(last, Lag{From: collect})
	}
	in.Goal = add("finish", 0, last...)
	in.Tasks[in.Goal].Calendar, in.Tasks[in.Goal].Modes = AnyTime, []Mode{{}}
	return in
}
