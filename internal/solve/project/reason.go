package project

import (
	"context"
	"fmt"
	"slices"
	"strings"
)

// obvious finds what makes an instance infeasible without any search: a task that no mode or window can
// hold, or lags that contradict each other.
func (net *network) obvious() Conflict {
	in := net.in
	for i, t := range in.Tasks {
		reason := ""
		for k, m := range t.Modes {
			shape := net.shapes[i][k]
			first := shape.up(t.Release)
			if r := in.tooMuch(m); r >= 0 {
				reason = fmt.Sprintf("task %q needs more of %q than its capacity %d", t.Name, in.Resources[r].Name, in.Resources[r].Capacity)
			} else if shape.up(0) > in.Horizon {
				reason = fmt.Sprintf("task %q takes %d slots and no window of its calendar is that long", t.Name, m.Duration)
			} else if first > in.Horizon || shape.end(first) > in.deadline(i) {
				reason = fmt.Sprintf("task %q takes %d slots and does not fit between its release %d and its deadline %d", t.Name, m.Duration, t.Release, in.deadline(i))
			} else {
				reason = ""
				break
			}
		}
		if reason != "" {
			return Conflict{Reason: reason, Tasks: []int{i}}
		}
	}
	if cycle := net.positiveCycle(); cycle != nil {
		return net.cycleConflict(cycle)
	}
	return Conflict{}
}

// positiveCycle returns the lags of a cycle that no schedule can keep, in order, nil if there is none: the
// longest-path check over starts and ends with shortest and longest durations (Bellman and Ford).
func (net *network) positiveCycle() []arc {
	n := 2 * len(net.in.Tasks)
	arcs := append([]arc(nil), net.arcs...)
	for i := range net.in.Tasks {
		least, most, rests := net.shortest(i), 0, false
		for _, s := range net.shapes[i] {
			most = max(most, s.duration)
			rests = rests || s.endTable != nil
		}
		arcs = append(arcs, arc{startOf(i), endOf(i), least, -1})
		if !rests {
			arcs = append(arcs, arc{endOf(i), startOf(i), -most, -1})
		}
	}
	dist, parent := make([]int, n), make([]int, n)
	for round := 0; ; round++ {
		changed := -1
		for a, arc := range arcs {
			if d := dist[arc.from] + arc.weight; d > dist[arc.to] {
				dist[arc.to], parent[arc.to] = d, a
				changed = int(arc.to)
			}
		}
		if changed < 0 {
			return nil
		}
		if round < n {
			continue
		}
		node := changed
		for range n {
			node = int(arcs[parent[node]].from)
		}
		var cycle []arc
		for at := node; ; {
			a := arcs[parent[at]]
			cycle = append([]arc{a}, cycle...)
			if at = int(a.from); at == node {
				return cycle
			}
		}
	}
}

// cycleConflict says in words which lags of a cycle contradict each other.
func (net *network) cycleConflict(cycle []arc) Conflict {
	var c Conflict
	var words []string
	for _, a := range cycle {
		if !slices.Contains(c.Tasks, a.to.task()) {
			c.Tasks = append(c.Tasks, a.to.task())
		}
		if a.lag >= 0 && !slices.Contains(c.Lags, a.lag) {
			c.Lags = append(c.Lags, a.lag)
			words = append(words, net.in.describe(net.in.Lags[a.lag]))
		}
	}
	c.Reason = "these lags contradict each other: " + strings.Join(words, "; ")
	return c
}

// describe says a lag in words.
func (in *Instance) describe(l Lag) string {
	from := "end"
	if l.FromStart {
		from = "start"
	}
	text := fmt.Sprintf("from the %s of %q to the start of %q at least %d", from, in.Tasks[l.From].Name, in.Tasks[l.To].Name, l.Min)
	if l.Limited {
		text += fmt.Sprintf(" and at most %d", l.Max)
	}
	return text + " slots"
}

// rule is one condition of an instance that could be given up.
type rule struct {
	words string
	tasks []int
	lag   int // -1 if the rule is not a lag
	drop  func(in *Instance)
}

// rules lists the conditions worth giving up: maximum lags, deadlines, releases and holds.
func (in *Instance) rules() []rule {
	var list []rule
	for k, l := range in.Lags {
		tasks := []int{l.From, l.To}
		if l.Limited {
			from := "end"
			if l.FromStart {
				from = "start"
			}
			words := fmt.Sprintf("%q starts at most %d slots after the %s of %q", in.Tasks[l.To].Name, l.Max, from, in.Tasks[l.From].Name)
			list = append(list, rule{words: words, tasks: tasks, lag: k, drop: func(in *Instance) { in.Lags[k].Limited = false }})
		}
		if l.Min < 0 {
			words := fmt.Sprintf("%q starts at most %d slots before %q", in.Tasks[l.To].Name, -l.Min, in.Tasks[l.From].Name)
			list = append(list, rule{words: words, tasks: tasks, lag: k, drop: func(in *Instance) { in.Lags[k].Min = -in.Horizon }})
		}
	}
	for i, t := range in.Tasks {
		if t.Deadline > 0 && t.Deadline < in.Horizon {
			words := fmt.Sprintf("%q ends by slot %d", t.Name, t.Deadline)
			list = append(list, rule{words: words, tasks: []int{i}, lag: -1, drop: func(in *Instance) { in.Tasks[i].Deadline = 0 }})
		}
		if t.Release > 0 {
			words := fmt.Sprintf("%q starts no earlier than slot %d", t.Name, t.Release)
			list = append(list, rule{words: words, tasks: []int{i}, lag: -1, drop: func(in *Instance) { in.Tasks[i].Release = 0 }})
		}
	}
	for k, h := range in.Holds {
		words := fmt.Sprintf("%d of %q are held from %q to %q", h.Amount, in.Resources[h.Resource].Name, in.Tasks[h.From].Name, in.Tasks[h.To].Name)
		list = append(list, rule{words: words, tasks: []int{h.From, h.To}, lag: -1, drop: func(in *Instance) { in.Holds[k].Amount = 0 }})
	}
	return list
}

// without returns a copy of the instance in which the given rules are dropped.
func (in *Instance) without(rules ...rule) *Instance {
	less := *in
	less.Lags, less.Tasks, less.Holds = slices.Clone(in.Lags), slices.Clone(in.Tasks), slices.Clone(in.Holds)
	for _, r := range rules {
		r.drop(&less)
	}
	return &less
}

// relaxedEffort is the number of dead ends allowed to find out whether a relaxed instance has a schedule.
const relaxedEffort = 300

// leastReasonEffort is the number of dead ends allowed in all to find the reason, however small the limit of
// the search itself: a "no" without a reason helps nobody.
const leastReasonEffort = 2000

// explainInfeasible names the rules that stand in the way of a schedule of an instance proven to have none:
// each that suffices alone when dropped or, if no single one does, a set that suffices together.
func explainInfeasible(ctx context.Context, in *Instance, effort int) Conflict {
	for _, h := range in.Holds {
		if c := in.Resources[h.Resource].Capacity; h.Amount > c {
			return Conflict{Reason: fmt.Sprintf("the hold from %q to %q takes %d of %q, capacity %d", in.Tasks[h.From].Name, in.Tasks[h.To].Name, h.Amount, in.Resources[h.Resource].Name, c), Tasks: []int{h.From, h.To}}
		}
	}
	rules := in.rules()
	effort, undecided := max(effort, leastReasonEffort), false
	solvable := func(dropped []rule) bool {
		if effort <= 0 || ctx.Err() != nil {
			undecided = true
			return false
		}
		l, ok := newLearner(newNetwork(in.without(dropped...)))
		if !ok {
			return false
		}
		result := l.search(ctx, l.endsBy(endOf(in.Goal), in.Horizon), min(effort, relaxedEffort))
		effort -= l.deadEnds
		undecided = undecided || result == limitReached
		return result == foundSchedule
	}
	var single []rule
	for _, r := range rules {
		if solvable([]rule{r}) {
			single = append(single, r)
		}
	}
	if len(single) > 0 {
		return conflictOf("no schedule keeps every rule; giving up one of these would be enough: ", single)
	}
	switch enough := solvable(rules); {
	case !enough && undecided:
		return Conflict{Reason: "proven that no schedule keeps every rule; which rules to give up was not found within the limit"}
	case !enough:
		return Conflict{Reason: fmt.Sprintf("the work does not fit into the windows and resources up to slot %d, whatever maximum lags, deadlines and holds are given up", in.Horizon)}
	}
	return conflictOf("no schedule keeps every rule; giving up these together would be enough: ", correction(rules, solvable))
}

// correction takes rules back one by one as long as there is a schedule, and returns those left: giving them
// up together is enough, and none of them can be kept in addition.
func correction(rules []rule, solvable func([]rule) bool) []rule {
	dropped := slices.Clone(rules)
	for _, r := range rules {
		less := slices.DeleteFunc(slices.Clone(dropped), func(d rule) bool { return d.words == r.words })
		if solvable(less) {
			dropped = less
		}
	}
	return dropped
}

func conflictOf(head string, rules []rule) Conflict {
	var c Conflict
	var words []string
	for _, r := range rules {
		words = append(words, r.words)
		for _, i := range r.tasks {
			if !slices.Contains(c.Tasks, i) {
				c.Tasks = append(c.Tasks, i)
			}
		}
		if r.lag >= 0 && !slices.Contains(c.Lags, r.lag) {
			c.Lags = append(c.Lags, r.lag)
		}
	}
	c.Reason = head + strings.Join(words, "; ")
	return c
}
