package web

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"time"

	"longgrain/internal/book/cards"
	"longgrain/internal/book/export"
	"longgrain/internal/book/workbook"
	"longgrain/internal/ground/problem"
	"longgrain/internal/paper/html"
	"longgrain/internal/paper/svg"
	"longgrain/internal/plan"
	"longgrain/internal/work/schedule"
)

// Work plans the order of work with what was noted, and writes what is left as a calendar, nil when nothing is dated.
func (p *Plans) Work(ctx context.Context, req WorkRequest) (WorkAnswer, []byte, error) {
	in, problems := p.workInput(req)
	if len(problems) > 0 {
		return WorkAnswer{}, nil, problems
	}
	in.Changes = len(in.Log) == 0 // before anything is begun, what would help is worth knowing
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

// workInput reads a piece with what was noted of the work on it.
func (p *Plans) workInput(req WorkRequest) (plan.Input, problem.List) {
	in, problems := p.read(req.Text, req.Shop)
	if len(problems) > 0 {
		return in, problems
	}
	if in.Log = schedule.Fold(scheduleEvents(req.Events)); len(in.Log) > 0 {
		in.Now = req.Now
	}
	return in, nil
}

// Cards puts the order of work on bench cards, with what was noted of it.
func (p *Plans) Cards(ctx context.Context, req WorkRequest) (cards.Deck, error) {
	in, problems := p.workInput(req)
	if len(problems) > 0 {
		return cards.Deck{}, problems
	}
	made, problems := plan.Make(ctx, in)
	if len(problems) > 0 {
		return cards.Deck{}, problems
	}
	deck := cards.Make(made, cards.Options{})
	for _, c := range deck.Cards {
		for i, t := range c.Tasks {
			c.Tasks[i].Running = slices.ContainsFunc(in.Log, func(r schedule.Record) bool { return r.Task == t.ID && !r.Since.IsZero() })
		}
	}
	return deck, nil
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
