package schedule

import (
	"context"
	"slices"
	"strings"

	"longgrain/internal/ground/unit"
	"longgrain/internal/solve/project"
)

// mostDays bounds the calendar. Judgement: a piece that takes more than two years is not planned in quarter hours.
const mostDays = 730

// manyTasks is the number of tasks up to which the whole budget of a live view is spent. Past it the budget falls as the
// number rises, because each schedule and each dead end costs more. Measured: docs/methods/schedule.md.
const manyTasks = 480

// live is the budget of the search for a number of tasks.
func live(tasks int) project.Options {
	o := project.Live()
	if tasks > manyTasks {
		o.Schedules, o.DeadEnds = max(1, o.Schedules*manyTasks/tasks), max(1, o.DeadEnds*manyTasks/tasks)
	}
	return o
}

// place finds a time for every task. When there is no schedule, the horizon is doubled, and then the limits are dropped.
func (b *builder) place(ctx context.Context, plan *Plan) {
	options := b.in.Search
	if options.Schedules == 0 && options.DeadEnds == 0 {
		options = live(len(b.tasks))
	}
	days := b.horizon()
	if !b.in.Now.IsZero() {
		days = min(days+max(0, b.slotOf(b.in.Now))/slotsADay, mostDays)
	}
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
		x := project.Task{Name: t.Name, Calendar: t.calendar, Splittable: t.split, Release: t.release, Modes: []project.Mode{{Duration: t.slots, Needs: t.needs}}}
		if t.pair != nil && !t.fixed {
			x.Modes = append(x.Modes, project.Mode{Name: "two people", Duration: t.pair.slots, Needs: t.pair.needs})
		}
		if t.fixed {
			x.Release, x.Deadline = t.at, max(1, t.at+t.slots)
		}
		in.Tasks = append(in.Tasks, x)
	}
	for _, l := range b.links {
		in.Lags = append(in.Lags, project.Lag{From: l.from, To: l.to, FromStart: l.fromStart, Min: l.min, Limited: l.limited, Max: l.max})
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
	b.choose(answer.Mode, plan.Tasks)
	b.layOut(answer, k)
	plan.End, plan.Bound, plan.Proven = k.at(answer.Value), k.at(answer.Bound), answer.Status == project.Optimal
	critical := b.critical(answer, k)
	worked := map[int]bool{} // slots in which somebody works
	sessions := map[int]bool{}
	first := answer.Value
	for i := range plan.Tasks {
		t := &plan.Tasks[i]
		start, end := answer.Start[i], answer.End[i]
		if t.State != Done || t.Kind == Wait {
			if t.State != Started {
				t.Start = k.at(start)
			}
			t.End = k.at(end)
		}
		t.Critical = critical[i]
		first = min(first, start)
		if t.Kind != Wait && t.Kind != Finished {
			for _, s := range b.spans[i] {
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
		if l.fromStart {
			continue
		}
		plan.Tasks[l.to].After = append(plan.Tasks[l.to].After, Link{l.from, unit.Minutes(l.min) * Slot, unit.Minutes(l.max) * Slot, l.limited, l.why})
	}
	plan.Sessions = len(sessions)
	plan.Elapsed = unit.Minutes(answer.Value-first) * Slot
	plan.Waiting = plan.Elapsed - unit.Minutes(len(worked))*Slot
	plan.Use = b.use(k)
	plan.days()
}
