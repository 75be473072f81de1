package web

import (
	"context"
	"fmt"
	"strings"
	"time"

	"longgrain/internal/book/export"
	"longgrain/internal/book/workbook"
	"longgrain/internal/paper/html"
	"longgrain/internal/paper/svg"
	"longgrain/internal/plan"
	"longgrain/internal/work/schedule"
)

// Work plans the order of work with what was noted, and writes what is left as a calendar, nil when nothing is dated.
func (p *Plans) Work(ctx context.Context, req WorkRequest) (WorkAnswer, []byte, error) {
	workshop, problems := p.shop(req.Shop.Text)
	in, more := plan.ReadPiece(plan.Text{Name: "piece", Text: []byte(req.Text)}, workshop, p.Library)
	if problems = append(more, problems...); len(problems) > 0 {
		return WorkAnswer{}, nil, problems
	}
	in.Tests = p.tests(req.Shop)
	events := scheduleEvents(req.Events)
	in.Log = schedule.Fold(events)
	if len(in.Log) > 0 {
		in.Now = req.Now
	} else {
		in.Changes = true // before anything is begun, what would help is worth knowing
	}
	made, problems := plan.Make(ctx, in)
	if len(problems) > 0 {
		return WorkAnswer{}, nil, problems
	}
	answer := workAnswer(made, in.Log)
	if doc, ok := workbook.Chapter(made, plan.OrderChapter, workbook.A4Room); ok {
		answer.HTML = html.Fragment(doc, html.Options{Draw: svg.Inline})
	}
	calendar, _, err := export.Make(made, export.CalendarName)
	return answer, calendar.Data, err
}

// scheduleEvents reads events; one whose time cannot be read was refused when it came, and is left out.
func scheduleEvents(events []WorkEvent) []schedule.Event {
	var out []schedule.Event
	for _, e := range events {
		if at, err := time.Parse(clockLayout, e.At); err == nil {
			out = append(out, schedule.Event{Task: e.Task, Action: schedule.Action(e.Action), At: at, Note: e.Note})
		}
	}
	return out
}

func workAnswer(made plan.Plan, log []schedule.Record) WorkAnswer {
	s := made.Schedule
	running := map[string]bool{}
	for _, r := range log {
		running[r.Task] = !r.Since.IsZero()
	}
	answer := WorkAnswer{Again: !s.Now.IsZero(), Done: s.Done, Notes: s.Notes}
	for _, f := range s.Findings {
		answer.Findings = append(answer.Findings, WorkFind{Where: f.Where, What: f.What, Advice: f.Advice})
	}
	for _, t := range s.Tasks {
		if t.Kind != schedule.Wait && t.Kind != schedule.Finished {
			answer.Tasks++
		}
	}
	if s.End.IsZero() {
		return answer
	}
	answer.End, answer.Proof = workbook.EndOf(s), workbook.ProofOfEnd(s)
	for _, d := range s.Days {
		day := WorkDay{Title: d.Title}
		for _, e := range d.Entries {
			for _, i := range e.Tasks {
				if t := s.Tasks[i]; t.Kind != schedule.Finished {
					day.Tasks = append(day.Tasks, workTask(t, e.At, running[t.ID]))
				}
			}
		}
		if len(day.Tasks) > 0 {
			answer.Days = append(answer.Days, day)
		}
	}
	return answer
}

func workTask(t schedule.Task, at schedule.Local, running bool) WorkTask {
	x := WorkTask{ID: t.ID, Name: t.Name, At: at.Clock(), Wait: t.Kind == schedule.Wait, State: "open", Minutes: int(t.Work + 0.5), People: t.People, Critical: t.Critical, Cautions: t.Cautions, Note: t.Note}
	switch {
	case t.State == schedule.Done:
		x.State = "done"
	case running:
		x.State = "running"
	case t.State == schedule.Started:
		x.State = "started"
	}
	if x.Wait {
		x.Until = t.End.Date() + ", " + t.End.Clock()
	}
	var clamps []string
	for _, c := range t.Clamps {
		clamps = append(clamps, fmt.Sprintf("%d × %s", c.Count, c.Name))
	}
	x.Clamps = strings.Join(clamps, ", ")
	return x
}
