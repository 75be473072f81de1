// Package schedule decides in which session of the shop each task is done: from buying the timber to the end of the cure,
// with people, benches, clamps and drying places, waits that nobody attends and limits that must not run out.
//
// In go the chapters before it (cutting, glue-ups, finish) and the shop with its hours; out comes a Plan with every task at
// a date and time, day by day, and how much earlier the end could be at most. Durations come from a time model whose rates
// are assumed (rates.csv), from the times of the joints, and from the pace of the shop. The plan is for one piece. The
// mathematics is that of solve/project. There is no clock: the first day is given, or days are counted from a Monday.
//
// Limits that the sessions of the shop can never keep (a coat to be sanded within a day, when the shop opens every
// third) are dropped, and each is a finding.
package schedule

import (
	"context"
	"time"

	"longgrain/internal/design/assembly"
	"longgrain/internal/design/joint"
	"longgrain/internal/ground/unit"
	"longgrain/internal/solve/project"
	"longgrain/internal/trade/shop"
	"longgrain/internal/work/cutting"
	"longgrain/internal/work/finishing"
	"longgrain/internal/work/glueup"
)

// Input is what a schedule is made from.
type Input struct {
	Assembly assembly.Assembly
	Joints   []*joint.Joint // by connection, nil where there is none
	Cutting  cutting.Plan
	GlueUps  glueup.Plan
	Finish   finishing.Plan
	Shop     shop.Shop
	Start    time.Time       // first day, midnight UTC; zero takes that of the shop
	Search   project.Options // limits of the search; zero takes a budget for live views
}

// Kind says what sort of task it is.
type Kind string

// The kinds.
const (
	Buy      Kind = "buy"
	Wait     Kind = "wait" // nobody attends
	Cut      Kind = "cut"
	Mill     Kind = "mill"
	Glue     Kind = "glue"
	Scrape   Kind = "clamps off"
	Plane    Kind = "plane"
	Joints   Kind = "joints"
	Fit      Kind = "dry fit"
	Sand     Kind = "sand"
	Mask     Kind = "mask"
	Coat     Kind = "finish"
	Rags     Kind = "rags"
	Screw    Kind = "screw together"
	FixTop   Kind = "fix top"
	Finished Kind = "finished"
)

// Plan is the order of work.
type Plan struct {
	Dated    bool         `json:"dated"` // false when days are counted from a Monday because no first day is known
	Start    Local        `json:"start"`
	End      Local        `json:"end"`    // everything done and cured; null when there is no schedule
	Bound    Local        `json:"bound"`  // no order of the same tasks ends earlier
	Proven   bool         `json:"proven"` // the end cannot be earlier
	Tasks    []Task       `json:"tasks"`
	Days     []Day        `json:"days"`
	Sessions int          `json:"sessions"` // in which somebody works
	Attended unit.Minutes `json:"attended"` // working time of all people together, pace counted
	Elapsed  unit.Minutes `json:"elapsed"`  // from the start of the first task to the end
	Waiting  unit.Minutes `json:"waiting"`  // of Elapsed, when nobody works on the piece
	Findings []Finding    `json:"findings,omitempty"`
	Notes    []string     `json:"notes,omitempty"`
}

// Task is one piece of work, or a wait.
type Task struct {
	Name     string            `json:"name"`
	Kind     Kind              `json:"kind"`
	Start    Local             `json:"start"`
	End      Local             `json:"end"`
	Work     unit.Minutes      `json:"work"` // of each person, pace counted; 0 for waits
	People   int               `json:"people"`
	Machine  bool              `json:"machine,omitempty"` // by somebody who may use the machines
	Bench    bool              `json:"bench,omitempty"`
	Clamps   []glueup.ClampUse `json:"clamps,omitempty"` // taken until the task that takes them off ends
	GlueUp   int               `json:"glueUp,omitempty"` // number in the glue-up plan; 0 for other tasks
	Steps    []int             `json:"steps,omitempty"`  // numbers in the finish
	After    []Link            `json:"after,omitempty"`
	Sittings []Span            `json:"sittings,omitempty"` // the stretches in which it is worked on
	Critical bool              `json:"critical"`           // the end waits for it
}

// Link says what a task waits for.
type Link struct {
	Task    int          `json:"task"`    // index
	AtLeast unit.Minutes `json:"atLeast"` // from its end
	AtMost  unit.Minutes `json:"atMost,omitempty"`
	Limited bool         `json:"limited,omitempty"` // AtMost applies
	Why     string       `json:"why,omitempty"`
}

// Span is a stretch of time.
type Span struct {
	From Local `json:"from"`
	To   Local `json:"to"`
}

// Day is what is done on one day.
type Day struct {
	Date    Local   `json:"date"`
	Title   string  `json:"title"` // "Saturday 10 October"
	Entries []Entry `json:"entries"`
}

// Entry is a line of a day.
type Entry struct {
	At   Local  `json:"at"`
	Task int    `json:"task"` // index
	Text string `json:"text"` // "9:00 laminate legs A1 and A2, 10 clamps"
}

// Finding is something that the hours or the means of the shop do not allow.
type Finding struct {
	What   string `json:"what"`
	Where  string `json:"where"`
	Advice string `json:"advice"`
}

// Make plans the order of work. ctx may end the search early; the plan is then the best so far.
func Make(ctx context.Context, in Input) Plan {
	b := newBuilder(in)
	b.prepare()
	b.glue()
	b.finish()
	plan := Plan{Dated: !b.first.Equal(undated), Start: Local{b.first}, Findings: b.findings, Notes: b.notes}
	for _, t := range b.tasks {
		plan.Tasks = append(plan.Tasks, t.Task)
		plan.Attended += t.Work * unit.Minutes(t.People)
	}
	if len(in.Shop.Calendar.Windows) == 0 || b.longest == 0 {
		plan.find("the shop", "it has no working hours, so that nothing can be dated", "give hours: with days, from and to")
		return plan
	}
	b.place(ctx, &plan)
	return plan
}

func (p *Plan) find(where, what, advice string) {
	p.Findings = append(p.Findings, Finding{What: what, Where: where, Advice: advice})
}
