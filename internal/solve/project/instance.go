package project

import "fmt"

// AnyTime is the calendar of a task that can be worked on in every slot.
const AnyTime = -1

// Instance is one project. Slots are numbered from 0; every task ends by Horizon. The solvers read it only.
type Instance struct {
	Horizon   int
	Resources []Resource
	Calendars []Calendar
	Tasks     []Task
	Lags      []Lag
	Holds     []Hold
	Goal      int // index of the task whose end is minimised
}

// Resource is renewable: Capacity units are there in every slot.
type Resource struct {
	Name     string
	Capacity int
}

// Window is the slots First up to, not including, End.
type Window struct{ First, End int }

// Calendar is a list of windows, ascending and disjoint. Windows that touch stay separate sessions.
type Calendar struct {
	Name    string
	Windows []Window
}

// Task is a piece of work that is done once. With a calendar it lies wholly inside one window, or, if
// Splittable, is worked on in consecutive slots of the calendar and rests between windows, needing nothing
// meanwhile. A mode of duration 0 with a calendar may stand at any slot of a window or at the window's end.
type Task struct {
	Name       string
	Calendar   int // index in Instance.Calendars, or AnyTime
	Splittable bool
	Release    int // earliest start
	Deadline   int // latest end; 0 means the horizon
	Modes      []Mode
}

// Mode is one way to do a task.
type Mode struct {
	Name     string
	Duration int
	Needs    []Need
}

// Need is an amount of a resource taken while a task is worked on.
type Need struct{ Resource, Amount int }

// Lag bounds the time from the end (or start) of one task to the start of another, on the wall clock:
// Min <= start(To) - end(From), and, if Limited, start(To) - end(From) <= Max. Min may be negative.
type Lag struct {
	From, To  int
	FromStart bool // measure from the start of From instead of its end
	Min       int
	Limited   bool // Max applies
	Max       int
}

// Hold keeps Amount of Resource from the start of task From to the end of task To, in every slot between.
type Hold struct {
	Resource, Amount int
	From, To         int
}

// NewTask returns a task with one mode on the given calendar.
func NewTask(name string, calendar, duration int, needs ...Need) Task {
	return Task{Name: name, Calendar: calendar, Modes: []Mode{{Duration: duration, Needs: needs}}}
}

// check panics if an index is out of range, a task has no mode, or a duration, amount, capacity or window is
// negative or out of order: mistakes of the caller, not properties of a project.
func (in *Instance) check() {
	must := func(ok bool, format string, args ...any) {
		if !ok {
			panic("project: " + fmt.Sprintf(format, args...))
		}
	}
	must(in.Horizon >= 0 && in.Horizon <= maxHorizon, "horizon %d", in.Horizon)
	must(in.Goal >= 0 && in.Goal < len(in.Tasks), "goal %d of %d tasks", in.Goal, len(in.Tasks))
	for r, res := range in.Resources {
		must(res.Capacity >= 0, "resource %d has capacity %d", r, res.Capacity)
	}
	for c, cal := range in.Calendars {
		last := 0
		for _, w := range cal.Windows {
			must(w.First >= last && w.End >= w.First, "calendar %d: window %v out of order", c, w)
			last = w.End
		}
	}
	need := func(r, amount int) {
		must(r >= 0 && r < len(in.Resources), "resource %d of %d", r, len(in.Resources))
		must(amount >= 0, "amount %d of resource %d", amount, r)
	}
	for i, t := range in.Tasks {
		must(t.Calendar >= AnyTime && t.Calendar < len(in.Calendars), "task %d: calendar %d", i, t.Calendar)
		must(len(t.Modes) > 0, "task %d has no mode", i)
		for _, m := range t.Modes {
			must(m.Duration >= 0, "task %d has duration %d", i, m.Duration)
			for _, n := range m.Needs {
				need(n.Resource, n.Amount)
			}
		}
	}
	task := func(i int) { must(i >= 0 && i < len(in.Tasks), "task %d of %d", i, len(in.Tasks)) }
	for _, l := range in.Lags {
		task(l.From)
		task(l.To)
	}
	for _, h := range in.Holds {
		task(h.From)
		task(h.To)
		need(h.Resource, h.Amount)
	}
}

// maxHorizon keeps every sum of times and lags inside 32 bits.
const maxHorizon = 1 << 24

// deadline returns the latest end of task i.
func (in *Instance) deadline(i int) int {
	if d := in.Tasks[i].Deadline; d > 0 && d < in.Horizon {
		return d
	}
	return in.Horizon
}
