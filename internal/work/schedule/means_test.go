package schedule

import (
	"slices"
	"strings"
	"testing"
	"time"
)

// checkMeans counts, quarter hour by quarter hour and from what the plan prints alone, the people, benches, machine
// people and clamps that are taken, and finds nothing beyond what the shop has. It knows no solver.
func checkMeans(t testing.TB, in Input, p Plan) {
	t.Helper()
	if p.End.IsZero() {
		return
	}
	people, machines, benches := map[time.Time]int{}, map[time.Time]int{}, map[time.Time]int{}
	clamps := make([]map[time.Time]int, len(in.Shop.Clamps))
	for i := range clamps {
		clamps[i] = map[time.Time]int{}
	}
	each := func(from, to Local, do func(at time.Time)) {
		for at := from.Time; at.Before(to.Time); at = at.Add(time.Duration(Slot) * time.Minute) {
			do(at)
		}
	}
	for i, x := range p.Tasks {
		if x.Kind == Buy || x.State == Done {
			continue
		}
		for _, s := range x.Sittings {
			each(s.From, s.To, func(at time.Time) {
				people[at] += x.People
				if x.Machine {
					machines[at]++
				}
				if x.Bench {
					benches[at]++
				}
			})
		}
		if len(x.Clamps) == 0 {
			continue
		}
		off := slices.IndexFunc(p.Tasks, func(y Task) bool {
			return y.Kind == Scrape && slices.ContainsFunc(y.After, func(l Link) bool { return l.Task == i })
		})
		if off < 0 {
			t.Errorf("nobody takes the clamps of %s off", x.Name)
			continue
		}
		for _, c := range x.Clamps {
			each(x.Start, p.Tasks[off].End, func(at time.Time) { clamps[c.Row][at] += c.Count })
		}
	}
	within := func(what string, used map[time.Time]int, have int) {
		for at, n := range used {
			if n > have {
				t.Errorf("%v: %d %s taken of %d", at, n, what, have)
				return
			}
		}
	}
	within("people", people, in.Shop.Workers())
	within("people at machines", machines, max(1, newBuilder(in).operators()))
	within("benches", benches, max(1, in.Shop.Benches))
	for i, c := range in.Shop.Clamps {
		within(c.Kind.Name, clamps[i], c.Count)
	}
}

// checkOnce holds that every task has its own ID and its own place in the days, and that nothing of any copy is missing.
func checkOnce(t testing.TB, p Plan) {
	t.Helper()
	ids := map[string]bool{}
	told := map[int]int{}
	for _, x := range p.Tasks {
		if ids[x.ID] || x.ID == "" {
			t.Errorf("the ID %q of %s stands twice", x.ID, x.Name)
		}
		ids[x.ID] = true
	}
	for _, d := range p.Days {
		for _, e := range d.Entries {
			for _, i := range e.Tasks {
				told[i]++
			}
		}
	}
	of := map[string]map[int]int{} // ID without copy -> copy -> how often
	for i, x := range p.Tasks {
		want := len(x.Sittings)
		if x.Kind == Finished || x.Kind == Wait && x.End.After(x.Start.Time) {
			want = 1
		}
		if told[i] != want {
			t.Errorf("%s is told %d times, want %d", x.Name, told[i], want)
		}
		id, _, _ := strings.Cut(x.ID, "/")
		if of[id] == nil {
			of[id] = map[int]int{}
		}
		for _, c := range x.Copies {
			of[id][c]++
		}
	}
	for id, copies := range of {
		for c := 1; c <= p.Copies; c++ {
			if len(copies) > 0 && copies[c] != 1 {
				t.Errorf("%s is done %d times for piece %d", id, copies[c], c)
			}
		}
	}
}
