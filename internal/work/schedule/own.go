package schedule

import (
	"fmt"
	"slices"
	"strings"

	"longgrain/internal/solve/project"
	"longgrain/internal/trade/shop"
	"longgrain/internal/work/glueup"
)

// stage returns the word of shop.Stages for a task; empty for those that no stage names.
func (b *builder) stage(t task) string {
	switch t.Kind {
	case Glue:
		if k := b.in.GlueUps.GlueUps[t.GlueUp-1].Kind; k == glueup.Frame || k == glueup.Assembly {
			return "assemble"
		}
		return "glue"
	case Screw:
		return "assemble"
	case Mask, Coat:
		return "finish"
	case Wait, Rags, Own:
		return ""
	}
	return string(t.Kind)
}

// ownTasks adds the tasks of the shop's own, of every copy or once for all, tied to the stages and own tasks that they name.
func (b *builder) ownTasks() {
	finished := len(b.tasks) - 1
	made := map[string][]int{} // own task -> its tasks
	for i, own := range b.in.Shop.Tasks {
		runs := [][]int{b.all()}
		if !own.Once {
			runs = runs[:0]
			for _, c := range b.all() {
				runs = append(runs, []int{c})
			}
		}
		for _, run := range runs {
			t := Task{ID: fmt.Sprintf("own-%d", i+1), What: own.Name, Kind: Own, People: own.People, Bench: own.Bench, Machine: own.Machine, Copies: run}
			made[own.Name] = append(made[own.Name], b.addTimed(t, own.Minutes))
		}
	}
	for _, own := range b.in.Shop.Tasks {
		for _, n := range made[own.Name] {
			b.tie(own, n, made, finished)
		}
	}
	// The end comes last, as the solver and the reader expect.
	if finished < len(b.tasks)-1 {
		b.moveToEnd(finished)
	}
}

// tie links one task of the shop's own to what it names.
func (b *builder) tie(own shop.OwnTask, n int, made map[string][]int, finished int) {
	wait := slots(own.Wait)
	for _, name := range own.After {
		for _, from := range b.named(name, n, made) {
			b.link(link{from: from, to: n, min: b.waitAfter(from), why: "own task"})
		}
	}
	for _, name := range own.Before {
		for _, to := range b.named(name, n, made) {
			b.link(link{from: n, to: to, min: wait, why: "own task"})
		}
	}
	b.link(link{from: n, to: finished, min: wait})
}

// waitAfter is the wait that an own task asks for before what names it may begin.
func (b *builder) waitAfter(n int) int {
	if t := b.tasks[n]; t.Kind == Own {
		for _, own := range b.in.Shop.Tasks {
			if own.Name == t.What {
				return slots(own.Wait)
			}
		}
	}
	return 0
}

// named returns the tasks that a stage or the name of an own task stands for, of the copies of task n.
func (b *builder) named(name string, n int, made map[string][]int) []int {
	var out []int
	for i, t := range b.tasks {
		same := t.Kind != Own && b.stage(t) == name || t.Kind == Own && slices.Contains(made[name], i)
		if same && i != n && shares(t.Copies, b.tasks[n].Copies) {
			out = append(out, i)
		}
	}
	return out
}

// shares tells whether two tasks are of a common copy; a task of no copy is of all.
func shares(x, y []int) bool {
	return len(x) == 0 || len(y) == 0 || slices.ContainsFunc(x, func(c int) bool { return slices.Contains(y, c) })
}

// moveToEnd makes a task the last one.
func (b *builder) moveToEnd(n int) {
	t := b.tasks[n]
	b.tasks = append(slices.Delete(b.tasks, n, n+1), t)
	moved := func(i int) int {
		switch {
		case i == n:
			return len(b.tasks) - 1
		case i > n:
			return i - 1
		}
		return i
	}
	for i := range b.links {
		b.links[i].from, b.links[i].to = moved(b.links[i].from), moved(b.links[i].to)
	}
}

// breakCycles finds own tasks that wait for each other in turn, names them, and plans without their order.
func (b *builder) breakCycles() {
	for {
		cycle := b.cycle()
		if cycle == nil {
			return
		}
		var names []string
		own := map[int]bool{}
		for _, n := range cycle {
			names = append(names, "\""+b.tasks[n].What+"\"")
			own[n] = b.tasks[n].Kind == Own
		}
		b.find("the shop's own tasks", strings.Join(append(names, names[0]), " comes before ")+": they wait for each other in turn, so none can begin",
			"take one after: or before: out; planned without the order of these own tasks")
		before := len(b.links)
		finished := len(b.tasks) - 1
		b.links = slices.DeleteFunc(b.links, func(l link) bool { return (own[l.from] || own[l.to]) && l.to != finished })
		if len(b.links) == before {
			b.links = slices.DeleteFunc(b.links, func(l link) bool { return own[l.from] || own[l.to] })
		}
	}
}

// cycle returns tasks of which each must end before the next begins, and the last before the first; nil when there are none.
func (b *builder) cycle() []int {
	next := make([][]int, len(b.tasks))
	for _, l := range b.links {
		next[l.from] = append(next[l.from], l.to)
	}
	state := make([]int, len(b.tasks)) // 0 not seen, 1 on the way, 2 done
	var way []int
	var visit func(n int) []int
	visit = func(n int) []int {
		state[n] = 1
		way = append(way, n)
		for _, m := range next[n] {
			switch state[m] {
			case 1:
				return slices.Clone(way[slices.Index(way, m):])
			case 0:
				if c := visit(m); c != nil {
					return c
				}
			}
		}
		state[n] = 2
		way = way[:len(way)-1]
		return nil
	}
	for n := range b.tasks {
		if state[n] == 0 {
			if c := visit(n); c != nil {
				return c
			}
		}
	}
	return nil
}

// judgeWaits reports waits that are longer than any calendar that is planned with.
func (b *builder) judgeWaits() {
	report := func(where string, n int) {
		b.find(where, fmt.Sprintf("it waits %.0f days, and the plan looks at most %d days ahead", float64(n)/float64(slotsADay), mostDays), "shorten the wait, or plan what follows as a piece of its own")
		b.stuck = true
	}
	for _, t := range b.tasks {
		if t.calendar == project.AnyTime && !t.fixed && t.slots > mostDays*slotsADay {
			report(t.What, t.slots)
		}
	}
	for _, l := range b.links {
		if l.min > mostDays*slotsADay {
			report(b.tasks[l.from].What, l.min)
		}
	}
}
