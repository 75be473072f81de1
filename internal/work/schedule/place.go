package schedule

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"longgrain/internal/ground/unit"
	"longgrain/internal/solve/project"
)

// mostDays bounds the calendar. Judgement: a piece that takes more than two years is not planned in quarter hours.
const mostDays = 730

// place finds a time for every task. When there is no schedule, the horizon is doubled, and then the limits are dropped.
func (b *builder) place(ctx context.Context, plan *Plan) {
	options := b.in.Search
	if options.Schedules == 0 && options.DeadEnds == 0 {
		options = project.Live()
	}
	days := b.horizon()
	answer, k := b.solve(ctx, days, options)
	if answer.Start == nil && days < mostDays {
		answer, k = b.solve(ctx, min(2*days, mostDays), options)
	}
	if answer.Start == nil {
		plan.find("the order of work", "no schedule keeps every limit: "+answer.Conflict.Reason, "the limits of scraping and recoating are left out of the plan below; add sessions, clamps or drying places")
		b.dropLimits()
		answer, k = b.solve(ctx, min(2*days, mostDays), options)
	}
	if answer.Start == nil {
		plan.find("the order of work", "no schedule was found: "+answer.Conflict.Reason, "add sessions, people or clamps")
		return
	}
	b.enter(plan, answer, k)
}

// horizon returns how many days surely suffice for most plans: all waits one after the other, the work at half the
// hours of the shop, and two weeks for holidays.
func (b *builder) horizon() int {
	week, _, _ := sessionsAWeek(b.in.Shop.Calendar)
	wait, work := 0, 0
	for _, t := range b.tasks {
		if t.calendar == project.AnyTime {
			wait += t.slots
		} else {
			work += t.slots
		}
	}
	for _, l := range b.links {
		wait += max(0, l.min)
	}
	days := wait/slotsADay + 7*(2*work/max(1, week)+1) + 14
	return min(days, mostDays)
}

func (b *builder) dropLimits() {
	for i := range b.links {
		if b.links[i].max > 0 {
			b.links[i].limited = false
		}
	}
}

// solve hands the tasks to the solver.
func (b *builder) solve(ctx context.Context, days int, options project.Options) (project.Solution, clock) {
	k := newClock(b.in.Shop.Calendar, b.first, days)
	in := project.Instance{Horizon: days * slotsADay, Resources: b.capacity, Calendars: []project.Calendar{k.open, k.yard}, Goal: len(b.tasks) - 1}
	for _, t := range b.tasks {
		in.Tasks = append(in.Tasks, project.Task{Name: t.Name, Calendar: t.calendar, Splittable: t.split, Modes: []project.Mode{{Duration: t.slots, Needs: t.needs}}})
	}
	for _, l := range b.links {
		in.Lags = append(in.Lags, project.Lag{From: l.from, To: l.to, Min: l.min, Limited: l.limited, Max: l.max})
	}
	for _, h := range b.holds {
		in.Holds = append(in.Holds, project.Hold{Resource: h.resource, Amount: h.amount, From: h.from, To: h.to})
	}
	answer := project.Solve(ctx, in, options)
	if answer.Start != nil {
		if wrong := project.Verify(in, answer); len(wrong) > 0 {
			panic("schedule: the schedule breaks its rules: " + strings.Join(wrong, "; "))
		}
	}
	return answer, k
}

// enter writes a schedule into the plan.
func (b *builder) enter(plan *Plan, answer project.Solution, k clock) {
	plan.End, plan.Bound, plan.Proven = k.at(answer.Value), k.at(answer.Bound), answer.Status == project.Optimal
	critical := b.critical(answer, k)
	worked := map[int]bool{} // slots in which somebody works
	sessions := map[int]bool{}
	first := answer.Value
	for i := range plan.Tasks {
		t := &plan.Tasks[i]
		start, end := answer.Start[i], answer.End[i]
		t.Start, t.End, t.Critical = k.at(start), k.at(end), critical[i]
		first = min(first, start)
		if b.tasks[i].calendar != project.AnyTime {
			for _, s := range b.sittings(i, start, end, k) {
				t.Sittings = append(t.Sittings, Span{k.at(s.First), k.at(s.End)})
				for slot := s.First; slot < s.End; slot++ {
					worked[slot] = true
				}
				if w := slices.IndexFunc(k.open.Windows, func(w project.Window) bool { return s.First >= w.First && s.First < w.End }); w >= 0 {
					sessions[w] = true
				}
			}
		}
	}
	for _, l := range b.links {
		plan.Tasks[l.to].After = append(plan.Tasks[l.to].After, Link{l.from, unit.Minutes(l.min) * Slot, unit.Minutes(l.max) * Slot, l.limited, l.why})
	}
	plan.Sessions = len(sessions)
	plan.Elapsed = unit.Minutes(answer.Value-first) * Slot
	plan.Waiting = plan.Elapsed - unit.Minutes(len(worked))*Slot
	plan.days()
}

// sittings returns the stretches in which a task is worked on.
func (b *builder) sittings(i, start, end int, k clock) []project.Window {
	windows := k.open.Windows
	switch b.tasks[i].calendar {
	case yardHours:
		windows = k.yard.Windows
	case project.AnyTime:
		windows = []project.Window{{First: start, End: end}}
	}
	var out []project.Window
	for _, w := range windows {
		if from, to := max(start, w.First), min(end, w.End); from < to {
			out = append(out, project.Window{First: from, End: to})
		}
	}
	return out
}

// critical marks the tasks that the end waits for: backwards from the end, every task whose end or whose wait fixes the
// start of a marked one, and, where no lag does, those whose people, bench or clamps it had to wait for.
func (b *builder) critical(answer project.Solution, k clock) []bool {
	marked := make([]bool, len(b.tasks))
	stack := []int{len(b.tasks) - 1}
	marked[len(b.tasks)-1] = true
	mark := func(i int) {
		if !marked[i] {
			marked[i] = true
			stack = append(stack, i)
		}
	}
	for len(stack) > 0 {
		i := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		held := false
		for _, l := range b.links {
			if l.to == i && b.firstStart(i, answer.End[l.from]+l.min, k) == answer.Start[i] {
				mark(l.from)
				held = true
			}
		}
		if held {
			continue
		}
		for j := range b.tasks {
			if j != i && answer.End[j] <= answer.Start[i] && b.firstStart(i, answer.End[j], k) == answer.Start[i] && b.gives(j, i, answer, k) {
				mark(j)
			}
		}
	}
	return marked
}

// firstStart returns the first start of a task at or after a slot that its calendar allows and that leaves the tasks tied
// to it by a limit a start in time; -1 when there is none.
func (b *builder) firstStart(i, from int, k clock) int {
	for {
		start, end := b.fits(i, from, k)
		if start < 0 || b.leavesRoom(i, end, k) {
			return start
		}
		from = start + 1
	}
}

// leavesRoom tells whether the tasks that must follow a task within a limit find a start when it ends at a slot.
func (b *builder) leavesRoom(i, end int, k clock) bool {
	for _, l := range b.links {
		if l.from != i || !l.limited || b.tasks[l.to].calendar == project.AnyTime {
			continue
		}
		if start, _ := b.fits(l.to, end+l.min, k); start < 0 || start > end+l.max {
			return false
		}
	}
	return true
}

// fits returns the first start at or after a slot that the calendar of a task allows, and the end that belongs to it; -1
// when there is none.
func (b *builder) fits(i, from int, k clock) (start, end int) {
	t := b.tasks[i]
	windows := k.open.Windows
	switch t.calendar {
	case project.AnyTime:
		return from, from + t.slots
	case yardHours:
		windows = k.yard.Windows
	}
	start, left := -1, t.slots
	for _, w := range windows {
		first := max(from, w.First)
		switch {
		case first >= w.End:
		case first+left <= w.End:
			if start < 0 {
				start = first
			}
			return start, first + left
		case t.split:
			if start < 0 {
				start = first
			}
			left -= w.End - first
		}
	}
	return -1, -1
}

// gives tells whether a task gives back, when it ends, what another had too little of until then.
func (b *builder) gives(j, i int, answer project.Solution, k clock) bool {
	slot := answer.End[j] - 1
	for _, mine := range b.takes(i) {
		var inUse, given int
		for t := range b.tasks {
			for _, n := range b.tasks[t].needs {
				if n.Resource == mine.Resource && slices.ContainsFunc(b.sittings(t, answer.Start[t], answer.End[t], k), func(w project.Window) bool { return w.First <= slot && slot < w.End }) {
					inUse += n.Amount
					if t == j {
						given += n.Amount
					}
				}
			}
		}
		for _, h := range b.holds {
			if h.resource == mine.Resource && answer.Start[h.from] <= slot && slot < answer.End[h.to] {
				inUse += h.amount
				if h.to == j {
					given += h.amount
				}
			}
		}
		if given > 0 && inUse+mine.Amount > b.capacity[mine.Resource].Capacity {
			return true
		}
	}
	return false
}

// takes returns what a task takes when it starts.
func (b *builder) takes(i int) []project.Need {
	out := slices.Clone(b.tasks[i].needs)
	for _, h := range b.holds {
		if h.from == i {
			out = append(out, project.Need{Resource: h.resource, Amount: h.amount})
		}
	}
	return out
}

// days lists what is done day by day, with waits at the day on which they begin.
func (p *Plan) days() {
	type line struct {
		at   Local
		task int
		text string
	}
	var lines []line
	for i, t := range p.Tasks {
		switch {
		case t.Kind == Wait && t.End.Sub(t.Start.Time) > 0:
			lines = append(lines, line{t.Start, i, fmt.Sprintf("%s until %s, %s", t.Name, t.End.Date(), t.End.Clock())})
		case t.Kind == Finished:
			lines = append(lines, line{t.Start, i, t.Name})
		}
		for n, s := range t.Sittings {
			text := t.Name
			if n > 0 {
				text = "go on: " + text
			}
			count := 0
			for _, c := range t.Clamps {
				count += c.Count
			}
			if count > 0 {
				text += fmt.Sprintf(", %d clamps", count)
			}
			if t.People > 1 {
				text += fmt.Sprintf(", %d people", t.People)
			}
			lines = append(lines, line{s.From, i, text})
		}
	}
	slices.SortStableFunc(lines, func(a, b line) int { return a.at.Compare(b.at.Time) })
	for _, l := range lines {
		title := l.at.Date()
		if !p.Dated {
			day := int(l.at.Sub(p.Start.Time).Hours() / 24)
			title = fmt.Sprintf("week %d, %s", day/7+1, l.at.Weekday())
		}
		if n := len(p.Days); n == 0 || p.Days[n-1].Title != title {
			p.Days = append(p.Days, Day{Date: Local{l.at.Truncate(24 * 60 * 60 * 1e9)}, Title: title})
		}
		d := &p.Days[len(p.Days)-1]
		d.Entries = append(d.Entries, Entry{l.at, l.task, l.at.Clock() + " " + l.text})
	}
}
