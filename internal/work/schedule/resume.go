package schedule

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"longgrain/internal/ground/unit"
	"longgrain/internal/solve/project"
)

// Record is what was noted of a task at the bench.
type Record struct {
	Task   string       // ID
	Start  time.Time    // on the clock of the shop; zero when nobody noted it
	End    time.Time    // when it was done; zero while it is not
	Since  time.Time    // since when it is worked on; zero when it is not
	Worked unit.Minutes // in the stretches that were ended
	Note   string
}

// Action is what somebody does with a task on the list.
type Action string

// The actions.
const (
	StartWork Action = "start"
	StopWork  Action = "stop"
	TickOff   Action = "done"
	TakeBack  Action = "undo" // forgets everything that was noted of the task, but for its notes
	AddNote   Action = "note"
)

// Actions lists all of them.
var Actions = []Action{StartWork, StopWork, TickOff, TakeBack, AddNote}

// Event is an action at a time on the clock of the shop.
type Event struct {
	Task   string // ID
	Action Action
	At     time.Time
	Note   string
}

// Fold makes records of events, in the order of their times; events of one time stay in the order given. A start of what
// is worked on already and a stop of what is not change nothing.
func Fold(events []Event) []Record {
	events = slices.Clone(events)
	slices.SortStableFunc(events, func(a, b Event) int { return a.At.Compare(b.At) })
	var out []Record
	index := map[string]int{}
	for _, e := range events {
		k, known := index[e.Task]
		if !known {
			k = len(out)
			index[e.Task] = k
			out = append(out, Record{Task: e.Task})
		}
		r := &out[k]
		if e.Note != "" {
			r.Note = strings.TrimPrefix(r.Note+"; "+e.Note, "; ")
		}
		pause := func() {
			if !r.Since.IsZero() {
				r.Worked += unit.Minutes(e.At.Sub(r.Since).Minutes())
				r.Since = time.Time{}
			}
		}
		switch e.Action {
		case StartWork:
			if r.Since.IsZero() {
				r.Since, r.End = e.At, time.Time{}
			}
			if r.Start.IsZero() {
				r.Start = e.At
			}
		case StopWork:
			pause()
		case TickOff:
			pause()
			r.End = e.At
		case TakeBack:
			*r = Record{Task: r.Task, Note: r.Note}
		}
	}
	return out
}

// Measured compares what was planned with what was noted, for one kind of task.
type Measured struct {
	Kind    Kind         `json:"kind"`
	Tasks   int          `json:"tasks"`
	Planned unit.Minutes `json:"planned"`
	Actual  unit.Minutes `json:"actual"`
}

// slotOf returns the slot in which a time lies, counted from the first day.
func (b *builder) slotOf(t time.Time) int {
	return int(t.Sub(b.first) / (time.Duration(Slot) * time.Minute))
}

// resume fixes what was done at the times noted, shortens what was begun by what was worked on it, and puts all else at
// or after now. Limits that have run out are dropped, each with a finding.
func (b *builder) resume() {
	if b.in.Now.IsZero() {
		return
	}
	byID := map[string]int{}
	for i, t := range b.tasks {
		byID[t.ID] = i
	}
	for _, r := range b.in.Log {
		for _, t := range [2]time.Time{r.Start, r.End} {
			if day := t.Truncate(24 * time.Hour); !t.IsZero() && day.Before(b.first) {
				b.first = day
			}
		}
	}
	if day := b.in.Now.Truncate(24 * time.Hour); day.Before(b.first) && len(b.in.Log) > 0 {
		b.first = day
	}
	now := max(0, b.slotOf(b.in.Now.Add(time.Duration(Slot)*time.Minute-time.Nanosecond)))
	for _, r := range b.in.Log {
		i, known := byID[r.Task]
		if !known {
			b.notes = append(b.notes, fmt.Sprintf("Something was ticked off that is no longer in the plan (%s): the piece or the shop has changed since.", r.Task))
			continue
		}
		b.enterRecord(&b.tasks[i], r)
	}
	for i := range b.tasks {
		t := &b.tasks[i]
		if !t.fixed && t.calendar != project.AnyTime {
			t.release = now
		}
	}
	b.settleWaits(now)
	b.settleLinks(now)
	b.holds = slices.DeleteFunc(b.holds, func(h hold) bool { return b.tasks[h.to].fixed })
}

// enterRecord takes what was noted into a task.
func (b *builder) enterRecord(t *task, r Record) {
	t.Note = r.Note
	switch {
	case !r.End.IsZero():
		start := r.Start
		if start.IsZero() || start.After(r.End) {
			start = r.End.Add(-time.Duration(t.slots) * time.Duration(Slot) * time.Minute)
		}
		from := max(0, b.slotOf(start))
		to := max(from, b.slotOf(r.End.Add(time.Duration(Slot)*time.Minute-time.Nanosecond)))
		t.State, t.fixed, t.at, t.slots, t.needs, t.calendar, t.split = Done, true, from, to-from, nil, project.AnyTime, false
		t.Start, t.End = Local{start}, Local{r.End}
	case !r.Start.IsZero() || r.Worked > 0:
		worked := r.Worked
		if !r.Since.IsZero() {
			worked += unit.Minutes(max(0, b.in.Now.Sub(r.Since).Minutes()))
		}
		t.State, t.Start = Started, Local{r.Start}
		t.slots = max(1, t.slots-slots(worked))
		if t.pair != nil {
			t.pair.slots = (t.slots + 1) / 2
		}
	}
}

// settleWaits lets a wait whose work is all done begin when that ended, in the past or not.
func (b *builder) settleWaits(now int) {
	for i := range b.tasks {
		t := &b.tasks[i]
		if t.Kind != Wait || t.fixed {
			continue
		}
		begin, settled, any := 0, true, false
		for _, l := range b.links {
			if l.to != i {
				continue
			}
			any = true
			from := b.tasks[l.from]
			settled = settled && from.fixed
			begin = max(begin, from.at+from.slots+l.min)
		}
		if settled && any {
			t.fixed, t.at = true, begin
			if begin+t.slots <= now {
				t.State = Done
			}
		}
	}
}

// settleLinks drops what links between tasks can no longer ask for.
func (b *builder) settleLinks(now int) {
	k := newClock(b.in.Shop.Calendar, b.first, min(now/slotsADay+60, mostDays))
	var kept []link
	for _, l := range b.links {
		from, to := b.tasks[l.from], b.tasks[l.to]
		switch {
		case to.fixed && from.fixed:
			continue
		case to.fixed:
			if from.Kind != Wait {
				b.notes = append(b.notes, fmt.Sprintf("\"%s\" is ticked off and \"%s\" before it is not: tick it off too, or it is planned.", to.Name, from.Name))
			}
			continue
		case from.fixed && l.limited && to.calendar != project.AnyTime:
			end := from.at + from.slots
			if start, _ := b.fits(l.to, max(now, end+l.min), k); start < 0 || start > end+l.max {
				advice := "do it as the first thing"
				if to.Kind == Rags {
					advice = "see to the rags now: they can catch fire by themselves"
				}
				b.find(to.Name, fmt.Sprintf("it should have begun by %s: %s", Local{k.at(end + l.max).Time}.moment(), l.why), advice)
				l.limited = false
			}
		}
		kept = append(kept, l)
	}
	b.links = kept
}

// moment prints a time in words: "Saturday 10 October, 9:00".
func (l Local) moment() string { return l.Date() + ", " + l.Clock() }

// measured compares planned and noted times of what was done, by kind.
func (b *builder) measured() []Measured {
	var out []Measured
	for _, r := range b.in.Log {
		i := slices.IndexFunc(b.tasks, func(t task) bool { return t.ID == r.Task })
		if i < 0 || r.End.IsZero() || r.Start.IsZero() || b.tasks[i].Work == 0 {
			continue
		}
		actual := r.Worked
		if actual == 0 {
			actual = unit.Minutes(r.End.Sub(r.Start).Minutes())
		}
		t := b.tasks[i]
		k := slices.IndexFunc(out, func(m Measured) bool { return m.Kind == t.Kind })
		if k < 0 {
			out = append(out, Measured{Kind: t.Kind})
			k = len(out) - 1
		}
		out[k].Tasks++
		out[k].Planned += t.Work
		out[k].Actual += actual
	}
	if len(out) > 0 {
		planned, actual := unit.Minutes(0), unit.Minutes(0)
		for _, m := range out {
			planned, actual = planned+m.Planned, actual+m.Actual
		}
		b.notes = append(b.notes, fmt.Sprintf("What was noted took %.1f times as long as planned; a pace of %.1f in the shop file would have told so.", float64(actual/planned), b.pace()*float64(actual/planned)))
	}
	return out
}
