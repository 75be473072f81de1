// Package schedule decides in which session of the shop each task is done: from buying the timber to the end of the cure,
// with people, benches, clamps and drying places, waits that nobody attends and limits that must not run out.
//
// In go the chapters before it (cutting, glue-ups, finish), the shop with its hours, own tasks and own times, and what has
// been done so far; out comes a Plan with every task of every copy at a date and time, day by day, and how much earlier
// the end could be at most. Durations come from the time model of the shop (assumed until it measured its own), from the
// times of the joints, and from the pace of the shop. The mathematics is that of solve/project. There is no clock: the
// first day is given, or days are counted from a Monday.
//
// Limits that the sessions of the shop can never keep (a coat to be sanded within a day, when the shop opens every
// third) are dropped, and each is a finding. Tasks in turn with each other, waits beyond the calendar and a shop without
// hours are findings too.
package schedule

import (
	"context"
	"time"

	"longgrain/internal/design/assembly"
	"longgrain/internal/design/fasten"
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
	Joints   []*joint.Joint     // by connection, nil where there is none
	Held     []fasten.Fastening // what is held without glue
	Cutting  cutting.Plan
	GlueUps  glueup.Plan
	Finish   finishing.Plan
	Shop     shop.Shop
	Start    time.Time       // first day, midnight UTC; zero takes that of the shop
	Search   project.Options // limits of the search; zero takes a budget for live views
	Log      []Record        // what was done so far
	Now      time.Time       // on the clock of the shop; nothing undone is put before it. Zero where nothing is logged
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
	Own      Kind = "own task"
	Finished Kind = "finished"
)

// Plan is the order of work.
type Plan struct {
	Dated    bool         `json:"dated"` // false when days are counted from a Monday because no first day is known
	Copies   int          `json:"copies"`
	Start    Local        `json:"start"`
	End      Local        `json:"end"`    // everything done and cured; null when there is no schedule
	Bound    Local        `json:"bound"`  // no order of the same tasks ends earlier
	Proven   bool         `json:"proven"` // the end cannot be earlier
	Now      Local        `json:"now"`    // null unless the plan goes on from what was done
	Tasks    []Task       `json:"tasks"`
	Days     []Day        `json:"days"`
	Use      []Use        `json:"use"`      // of people, benches, drying places and clamps over time
	Sessions int          `json:"sessions"` // in which somebody works
	Attended unit.Minutes `json:"attended"` // working time of all people together, pace counted
	Elapsed  unit.Minutes `json:"elapsed"`  // from the start of the first task to the end
	Waiting  unit.Minutes `json:"waiting"`  // of Elapsed, when nobody works on the piece
	Done     int          `json:"done"`     // tasks that were ticked off
	Measured []Measured   `json:"measured,omitempty"`
	Changes  []Change     `json:"changes,omitempty"` // what one thing more would bring, each planned again
	Findings []Finding    `json:"findings,omitempty"`
	Notes    []string     `json:"notes,omitempty"`
}

// State says how far a task is.
type State string

// The states. A task without one is still to be done.
const (
	Started State = "started"
	Done    State = "done"
)

// Task is one piece of work, or a wait.
type Task struct {
	ID       string            `json:"id"`   // the same as long as the piece and the shop are: "glue-2", "step-5/3" for copy 3
	Name     string            `json:"name"` // with the copy, where several are made
	What     string            `json:"what"` // the name without the copy
	Copies   []int             `json:"copies,omitempty"`
	Kind     Kind              `json:"kind"`
	State    State             `json:"state,omitempty"`
	Start    Local             `json:"start"`
	End      Local             `json:"end"`
	Work     unit.Minutes      `json:"work"` // of each person, pace counted; 0 for waits
	People   int               `json:"people"`
	Machine  bool              `json:"machine,omitempty"` // by somebody who may use the machines
	Bench    bool              `json:"bench,omitempty"`
	Clamps   []glueup.ClampUse `json:"clamps,omitempty"` // taken until the task that takes them off ends
	GlueUp   int               `json:"glueUp,omitempty"` // number in the glue-up plan; 0 for other tasks
	Parts    []int             `json:"parts,omitempty"`  // indices into the assembly of what is worked on; none where it is the whole piece or no part
	Joints   []int             `json:"joints,omitempty"` // indices of the connections that are cut, closed or fastened
	Steps    []int             `json:"steps,omitempty"`  // numbers in the finish
	After    []Link            `json:"after,omitempty"`
	Sittings []Span            `json:"sittings,omitempty"` // the stretches in which it is worked on
	Critical bool              `json:"critical"`           // the end waits for it
	Cautions []string          `json:"cautions,omitempty"` // of vapours and of rags, where such a product is in hand
	Note     string            `json:"note,omitempty"`     // what was noted at the bench
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

// Use is how much of something is taken over time.
type Use struct {
	Name     string  `json:"name"`
	Capacity int     `json:"capacity"`
	Most     int     `json:"most"`
	Clamps   bool    `json:"clamps,omitempty"`
	Taken    []Taken `json:"taken,omitempty"` // in rising time, where it is more than nothing
}

// Taken is an amount over a stretch of time.
type Taken struct {
	Span
	Amount int `json:"amount"`
}

// Day is what is done on one day.
type Day struct {
	Date    Local   `json:"date"`
	Title   string  `json:"title"` // "Saturday 10 October"
	Entries []Entry `json:"entries"`
}

// Entry is a line of a day. What is done to several copies at the same time is one entry.
type Entry struct {
	At    Local  `json:"at"`
	Tasks []int  `json:"tasks"` // indices
	Text  string `json:"text"`  // "9:00 laminate legs A1 and A2, 10 clamps"
	Done  bool   `json:"done,omitempty"`
}

// Change is one thing more in the shop, and the end of the order planned again with it.
type Change struct {
	What   string `json:"what"` // "2 more pipe clamps"
	End    Local  `json:"end"`
	Proven bool   `json:"proven"`
	Days   int    `json:"days"` // earlier, in whole calendar days
	Hours  int    `json:"hours"`
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
	b.ownTasks()
	b.breakCycles()
	b.alike()
	b.resume()
	plan := Plan{Dated: !b.first.Equal(undated), Copies: b.copies, Start: Local{b.first}, Now: Local{in.Now}}
	for _, t := range b.tasks {
		plan.Tasks = append(plan.Tasks, t.Task)
		plan.Attended += t.Work * unit.Minutes(t.People)
		if t.State == Done && t.Kind != Wait {
			plan.Done++
		}
	}
	plan.Attended *= unit.Minutes(b.made / b.copies)
	plan.Measured = b.measured()
	b.judgeWaits()
	if len(in.Shop.Calendar.Windows) == 0 || b.longest == 0 {
		b.find("the shop", "it has no working hours, so that nothing can be dated", "give hours: with days, from and to")
		b.stuck = true
	}
	plan.Findings, plan.Notes = b.findings, b.notes
	if !b.stuck {
		b.place(ctx, &plan)
	}
	return plan
}

func (p *Plan) find(where, what, advice string) {
	p.Findings = append(p.Findings, Finding{What: what, Where: where, Advice: advice})
}
