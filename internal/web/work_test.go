package web_test

import (
	"context"
	"net/http"
	"slices"
	"strings"
	"testing"
	"time"

	"longgrain/examples"
	"longgrain/internal/web"
	"longgrain/patterns"
)

func TestWorkIsTickedOffAndPlannedAgain(t *testing.T) {
	s := newSite(t)
	path := "/api/pieces/" + answer[web.SavedPiece](t, s, "POST", "/api/pieces", `{"text":"Play table"}`, 201).ID + "/work"
	if got := answer[web.WorkAnswer](t, s, "GET", path, "", 200); got.Again {
		t.Errorf("before anything was noted: %+v", got)
	}
	events := `{"now":"2026-10-17T10:30","events":[
		{"id":"event-0001","task":"cut","name":"cut the boards","action":"start","at":"2026-10-17T09:00"},
		{"id":"event-0002","task":"cut","action":"done","at":"2026-10-17T10:25","note":"dull blade"}]}`
	want := []string{"cut start 2026-10-17T09:00 ", "cut done 2026-10-17T10:25 dull blade"}
	for range 2 { // an answer that was lost on the way
		got := answer[web.WorkAnswer](t, s, "POST", path, events, 200)
		if !got.Again || got.End != "2026-10-17T10:30" || !slices.Equal(got.Notes, want) {
			t.Errorf("%+v", got)
		}
	}
	if got := answer[web.WorkAnswer](t, s, "GET", path+"?now=2026-10-18T08:00", "", 200); got.End != "2026-10-18T08:00" || !slices.Equal(got.Notes, want) {
		t.Errorf("%+v", got)
	}
	w := s.ask("GET", path+"/order.ics?now=2026-10-18T08:00", "")
	if w.Code != 200 || !strings.HasPrefix(w.Header().Get("Content-Type"), "text/calendar") || !strings.Contains(w.Header().Get("Content-Disposition"), "play-table-order.ics") {
		t.Errorf("status %d, %v", w.Code, w.Header())
	}
}

func TestWorkThatCannotBeReadIsRefused(t *testing.T) {
	s := newSite(t)
	path := "/api/pieces/" + answer[web.SavedPiece](t, s, "POST", "/api/pieces", `{"text":"Play table"}`, 201).ID + "/work"
	event := func(id, action, at string) string {
		return `{"now":"2026-10-17T10:30","events":[{"id":"` + id + `","task":"cut","action":"` + action + `","at":"` + at + `"}]}`
	}
	refused(t, s, "POST", path, event("event-0001", "done", "yesterday"), 422, "2026-10-20T18:30")
	refused(t, s, "POST", path, event("event-0001", "burn", "2026-10-17T10:00"), 422, "action")
	refused(t, s, "POST", path, event("x", "done", "2026-10-17T10:00"), 422, "id")
	if got := answer[web.WorkAnswer](t, s, "GET", path, "", 200); got.Again {
		t.Error("a refused event was kept")
	}
	answer[web.WorkAnswer](t, s, "POST", path, event("event-0001", "done", "2026-10-17T10:00"), 200)
	refused(t, s, "GET", path, "", 422, "query.now")
	refused(t, s, "GET", path+"?now=soon", "", 422, "query.now")
	refused(t, s, "GET", "/api/pieces/none/work", "", 404, "nothing of that name")
	refused(t, s, "POST", "/api/pieces/none/work", event("event-0009", "done", "2026-10-17T10:00"), 404, "nothing of that name")
	bad := "/api/pieces/" + answer[web.SavedPiece](t, s, "POST", "/api/pieces", `{"text":"bad"}`, 201).ID + "/work"
	refused(t, s, "GET", bad, "", 422, "has no unit")
	undated := "/api/pieces/" + answer[web.SavedPiece](t, s, "POST", "/api/pieces", `{"text":"nameless"}`, 201).ID + "/work"
	refused(t, s, "GET", undated+"/order.ics", "", http.StatusNotFound, "")
}

// The whole way with the real planner: a table, its first tasks ticked off, the rest planned from now.
func TestTheDemoTableGoesOnFromWhatWasDone(t *testing.T) {
	plans := web.NewPlans(patterns.All())
	req := web.WorkRequest{Text: examples.PlayTable(), Shop: web.Workshop{Text: examples.Shop()}}
	before, calendar, err := plans.Work(context.Background(), req)
	if err != nil || before.Again || before.Done != 0 || len(calendar) == 0 || !strings.Contains(before.HTML, "<svg") || before.Days[0].Tasks[0].ID != "buy" {
		t.Fatalf("%v, %+v", err, before)
	}
	req.Now = time.Date(2026, 10, 17, 10, 15, 0, 0, time.UTC)
	req.Events = []web.WorkEvent{
		{ID: "1", Task: "buy", Action: "done", At: "2026-10-06T10:00"},
		{ID: "2", Task: "cut", Action: "start", At: "2026-10-17T09:00"},
		{ID: "3", Task: "test", Action: "start", At: "2026-10-17T09:00"},
		{ID: "4", Task: "test", Action: "stop", At: "2026-10-17T09:30", Note: "no oil left"},
	}
	after, _, err := plans.Work(context.Background(), req)
	if err != nil || !after.Again || after.Done != 1 {
		t.Fatalf("%v, %+v", err, after)
	}
	states := map[string]web.WorkTask{}
	for _, d := range after.Days {
		for _, x := range d.Tasks {
			states[x.ID] = x
		}
	}
	if states["buy"].State != "done" || states["cut"].State != "running" || states["test"].State != "started" || states["test"].Note != "no oil left" || states["fit"].State != "open" {
		t.Errorf("buy %+v, cut %+v, test %+v, fit %+v", states["buy"], states["cut"], states["test"], states["fit"])
	}
}
