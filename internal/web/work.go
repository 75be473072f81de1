package web

import (
	"context"
	"net/http"
	"slices"
	"time"

	"github.com/danielgtaylor/huma/v2"

	"longgrain/internal/phones"
)

// WorkEvent is something done with a task at the bench. The page names it, so that it may be sent twice.
type WorkEvent struct {
	ID     string `json:"id" minLength:"8" maxLength:"64" doc:"a name of the event's own, made by the page"`
	Task   string `json:"task" minLength:"1" maxLength:"200" doc:"id of the task in the order of work"`
	Name   string `json:"name,omitempty" maxLength:"400" doc:"the task in words, to be read later"`
	Action string `json:"action" enum:"start,stop,done,undo,note"`
	At     string `json:"at" doc:"on the clock of the shop, without a zone, such as 2026-10-20T18:30"`
	Note   string `json:"note,omitempty" maxLength:"2000"`
	By     string `json:"-"` // the phone that sent it, empty for the desk
}

// WorkClash is a tick that came too late: somebody else had ticked the task off before. The first tick stays.
type WorkClash struct {
	ID   string `json:"id" doc:"of the event that was not kept"`
	Task string `json:"task"`
	Name string `json:"name"`
	At   string `json:"at" doc:"when it was ticked off first"`
	By   string `json:"by" doc:"where it was ticked off first: the name of a phone, or empty for the desk"`
}

// WorkEvents are events to be kept, in the order in which they happened.
type WorkEvents struct {
	Events List[WorkEvent] `json:"events" maxItems:"500"`
	Now    string          `json:"now" doc:"the time on the clock of the shop, such as 2026-10-20T18:30"`
}

// WorkAnswer is the order of work with what was done so far, planned again from now once anything was noted.
type WorkAnswer struct {
	Again    bool            `json:"again" doc:"true when it was planned again from what was noted"`
	End      string          `json:"end" doc:"when everything is done, in words; empty when nothing could be dated"`
	Proof    string          `json:"proof" doc:"whether the end could be earlier, in words"`
	Done     int             `json:"done"`
	Tasks    int             `json:"tasks" doc:"tasks that somebody does"`
	Days     List[WorkDay]   `json:"days"`
	Notes    List[string]    `json:"notes"`
	Findings List[WorkFind]  `json:"findings"`
	Clashes  List[WorkClash] `json:"clashes" doc:"of what was just sent"`
	HTML     string          `json:"html" doc:"the chapter of the order of work, with its charts, as HTML made by the program"`
}

// WorkFind is something that the hours or means of the shop do not allow, or a limit that has run out.
type WorkFind struct {
	Where  string `json:"where"`
	What   string `json:"what"`
	Advice string `json:"advice"`
}

// WorkDay is a day of the order of work.
type WorkDay struct {
	Title string         `json:"title"`
	Tasks List[WorkTask] `json:"tasks"`
}

// WorkTask is a task on its day, or a wait.
type WorkTask struct {
	ID       string       `json:"id"`
	Name     string       `json:"name"`
	At       string       `json:"at" doc:"time of day at which it begins or goes on"`
	Until    string       `json:"until,omitempty" doc:"of a wait, in words"`
	Wait     bool         `json:"wait" doc:"nobody attends it, and it is not ticked off"`
	State    string       `json:"state" enum:"open,started,running,done"`
	Minutes  int          `json:"minutes" doc:"planned working time of each person"`
	People   int          `json:"people"`
	Clamps   string       `json:"clamps,omitempty" doc:"what to have at hand, in words"`
	Critical bool         `json:"critical" doc:"the end waits for it"`
	Cautions List[string] `json:"cautions" doc:"of vapours and rags, to be shown beside it"`
	Note     string       `json:"note,omitempty"`
}

// WorkRequest is what Planner.Work works from.
type WorkRequest struct {
	Text   string   // the piece file
	Shop   Workshop // with its tests
	Events []WorkEvent
	Now    time.Time // on the clock of the shop
}

const clockLayout = "2006-01-02T15:04"

func (s *Server) addWork() {
	refusals := []int{http.StatusNotFound, http.StatusServiceUnavailable}
	add(s, operation(http.MethodGet, "/api/pieces/{id}/work", "showWork", "Show the order of work with what was done", refusals...), s.showWork)
	add(s, operation(http.MethodPost, "/api/pieces/{id}/work", "recordWork", "Tick tasks off, start and stop them, and plan the rest again", refusals...), s.recordWork)
	add(s, fileResponse(operation(http.MethodGet, "/api/pieces/{id}/work/order.ics", "workCalendar",
		"Write what is left to do as a calendar", refusals...), "text/calendar"), s.workCalendar)
}

type workOf struct {
	ID  string `path:"id"`
	Now string `query:"now" doc:"the time on the clock of the shop, such as 2026-10-20T18:30; needed once something was noted"`
}

type workDone struct {
	ID   string `path:"id"`
	Body WorkEvents
}

func (s *Server) showWork(ctx context.Context, in *workOf) (*body[WorkAnswer], error) {
	answer, _, err := s.planWork(ctx, in.ID, "query.now", in.Now)
	return &body[WorkAnswer]{answer}, err
}

func (s *Server) recordWork(ctx context.Context, in *workDone) (*body[WorkAnswer], error) {
	clashes, err := s.keepWork(ctx, in.ID, in.Body.Events)
	if err != nil {
		return nil, err
	}
	answer, _, err := s.planWork(ctx, in.ID, "body.now", in.Body.Now)
	answer.Clashes = clashes
	return &body[WorkAnswer]{answer}, err
}

// keepWork keeps events whose times can be read, with the phone that they come from.
func (s *Server) keepWork(ctx context.Context, piece string, events []WorkEvent) ([]WorkClash, error) {
	var wrong []error
	for i, e := range events {
		if _, err := time.Parse(clockLayout, e.At); err != nil {
			wrong = append(wrong, &huma.ErrorDetail{Location: "body.events", Value: e.At, Message: "is not a time such as 2026-10-20T18:30"})
		}
		events[i].By = phones.Name(ctx)
	}
	if len(wrong) > 0 {
		return nil, huma.Error422UnprocessableEntity("an event has no time that can be read", wrong...)
	}
	return s.Keeper.AddWork(ctx, piece, events)
}

func (s *Server) workCalendar(ctx context.Context, in *workOf) (*file, error) {
	piece, err := s.Keeper.Pieces().Get(ctx, in.ID)
	if err != nil {
		return nil, err
	}
	_, calendar, err := s.planWork(ctx, in.ID, "query.now", in.Now)
	if err != nil {
		return nil, err
	}
	if calendar == nil {
		return nil, ErrNoExport
	}
	return download(piece.Name, "-order.ics", "text/calendar; charset=utf-8", calendar), nil
}

// workRequest gathers what the work on the newest version of a piece is planned from.
func (s *Server) workRequest(ctx context.Context, id, where, now string) (Document, WorkRequest, error) {
	piece, shop, err := s.pieceAndShop(ctx, id, 0)
	if err != nil {
		return piece, WorkRequest{}, err
	}
	events, err := s.Keeper.Work(ctx, id)
	if err != nil {
		return piece, WorkRequest{}, err
	}
	req := WorkRequest{Text: piece.Text, Shop: shop, Events: events}
	if now != "" || len(events) > 0 {
		if req.Now, err = time.Parse(clockLayout, now); err != nil {
			return piece, WorkRequest{}, huma.Error422UnprocessableEntity("the time cannot be read", &huma.ErrorDetail{Location: where, Value: now, Message: "is not a time such as 2026-10-20T18:30"})
		}
	}
	return piece, req, nil
}

// planWork plans the newest version of a piece with what was noted.
func (s *Server) planWork(ctx context.Context, id, where, now string) (WorkAnswer, []byte, error) {
	_, req, err := s.workRequest(ctx, id, where, now)
	if err != nil {
		return WorkAnswer{}, nil, err
	}
	type result struct {
		answer   WorkAnswer
		calendar []byte
	}
	out, err := work(ctx, s, func(ctx context.Context) (result, error) {
		answer, calendar, err := s.Planner.Work(ctx, req)
		return result{answer, calendar}, err
	})
	return out.answer, slices.Clip(out.calendar), err
}
