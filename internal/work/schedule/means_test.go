package schedule

import (
	"fmt"
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
				switch {
				case x.Bench && x.People == 2 && (x.Kind == Sand || x.Kind == Plane || x.Kind == Mask || x.Kind == Joints):
					benches[at] += 2 // shared by two people, each at a bench
				case x.Bench:
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
	of := map[Kind]map[int]int{} // kind -> copy -> how often
	twice := map[string]bool{}   // ID without copy, and copy
	for i, x := range p.Tasks {
		want := len(x.Sittings)
		if x.Kind == Finished || x.Kind == Wait && x.End.After(x.Start.Time) {
			want = 1
		}
		if told[i] != want {
			t.Errorf("%s is told %d times, want %d", x.Name, told[i], want)
		}
		id, _, _ := strings.Cut(x.ID, "/")
		if of[x.Kind] == nil {
			of[x.Kind] = map[int]int{}
		}
		for _, c := range x.Copies {
			of[x.Kind][c]++
			key := fmt.Sprint(id, "|", c)
			if twice[key] {
				t.Errorf("%s is done twice for piece %d", id, c)
			}
			twice[key] = true
		}
	}
	for kind, copies := range of {
		for c := 2; c <= p.Copies; c++ {
			if copies[c] != copies[1] {
				t.Errorf("%d tasks of kind %q for piece %d, %d for piece 1", copies[c], kind, c, copies[1])
			}
		}
	}
}
