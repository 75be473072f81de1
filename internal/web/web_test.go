package web_test

import (
	"context"
	"encoding/json"
	"errors"
	"io"
	"net/http"
	"net/http/httptest"
	"strings"
	"sync/atomic"
	"testing"
	"testing/fstest"

	"longgrain/cmd/longgrain/keeping"
	"longgrain/internal/book/cards"
	"longgrain/internal/ground/problem"
	"longgrain/internal/store"
	"longgrain/internal/web"
)

// fakePlanner stands for the real one. A piece text is its name; some names make it misbehave.
type fakePlanner struct {
	plans    atomic.Int32
	pictures atomic.Int32
}

const (
	badText      = "bad"       // has problems
	failingText  = "failing"   // the planner returns an error
	panicText    = "panicking" // the planner panics
	namelessText = "nameless"
)

func (p *fakePlanner) Plan(ctx context.Context, req web.PlanRequest) (web.PlanAnswer, error) {
	p.plans.Add(1)
	switch req.Text {
	case badText:
		return web.PlanAnswer{Text: req.Text, Problems: web.List[problem.Problem](problems())}, nil
	case failingText:
		return web.PlanAnswer{}, errors.New("secret detail")
	case panicText:
		panic("out of wood")
	}
	text := req.Text
	if height, ok := req.Sizes["height"]; ok {
		text += " " + height
	}
	answer := web.PlanAnswer{
		Text:    text,
		Piece:   &web.PlannedPiece{Name: req.Text, Units: "metric"},
		Scene:   &web.Scene{Parts: []web.ScenePart{{ID: "top", Size: web.Point{300, 200, 18}}}},
		Verdict: &web.Verdict{Word: web.Holds, Answer: "holds in the shop " + req.Shop.Text},
	}
	if req.Chapter != "" {
		answer.Open = &web.OpenChapter{ID: req.Chapter, HTML: "<p>why</p>"}
	}
	return answer, nil
}

func problems() problem.List {
	return problem.List{{Code: problem.BadLength, At: problem.Position{File: "piece", Line: 3, Column: 9, Path: "sizes.height"},
		What: `"300" has no unit`, Mend: "add mm or in"}}
}

func (p *fakePlanner) Mends(_ context.Context, req web.PlanRequest) (web.MendAnswer, error) {
	return web.MendAnswer{Mends: web.List[web.Mend]{{Change: "thicker " + req.Text, Mends: "sway", Word: web.Holds, Sizes: map[string]string{"leg": "60 mm"}}}}, nil
}

func (p *fakePlanner) Forces(_ context.Context, req web.ForcesRequest) (web.ForcesAnswer, error) {
	return web.ForcesAnswer{Part: req.Part, Case: req.Case, Words: req.Text + " in the shop " + req.Shop.Text}, nil
}

func (p *fakePlanner) Workbook(_ context.Context, text string, _ web.Workshop, print web.Print) ([]byte, error) {
	if text == badText {
		return nil, problems()
	}
	words := append([]string{"%PDF", print.Paper}, print.Chapters...)
	if print.Lesson {
		words = append(words, "lesson")
	}
	return []byte(strings.Join(words, " ")), nil
}

func (p *fakePlanner) Labels(_ context.Context, text string, _ web.Workshop, paper, address string) ([]byte, error) {
	if text == badText {
		return nil, problems()
	}
	return []byte("%PDF labels " + paper + " " + address), nil
}

func (p *fakePlanner) Export(_ context.Context, text string, _ web.Workshop, name string) ([]byte, string, error) {
	switch {
	case text == panicText:
		panic("out of ink")
	case name == "picture.svg":
		p.pictures.Add(1)
		return []byte("<svg>" + text + "</svg>"), "image/svg+xml", nil
	case name == "cutlist.csv":
		return []byte("part,length\n"), "text/csv", nil
	}
	return nil, "", web.ErrNoExport
}

// Work answers with the events that it was given, so that a test sees what arrived.
func (p *fakePlanner) Work(_ context.Context, req web.WorkRequest) (web.WorkAnswer, []byte, error) {
	if req.Text == badText {
		return web.WorkAnswer{}, nil, problems()
	}
	answer := web.WorkAnswer{Again: len(req.Events) > 0, End: req.Now.Format("2006-01-02T15:04")}
	for _, e := range req.Events {
		answer.Notes = append(answer.Notes, e.Task+" "+e.Action+" "+e.At+" "+e.Note)
	}
	if req.Text == namelessText {
		return answer, nil, nil
	}
	return answer, []byte("BEGIN:VCALENDAR\r\n"), nil
}

// Cards answers with a card for every event that it was given.
func (p *fakePlanner) Cards(_ context.Context, req web.WorkRequest) (cards.Deck, error) {
	if req.Text == badText {
		return cards.Deck{}, problems()
	}
	deck := cards.Deck{Piece: req.Text, Cards: []cards.Card{}, Figures: []cards.Figure{{ID: "a", SVG: "<svg></svg>"}}}
	for _, e := range req.Events {
		deck.Cards = append(deck.Cards, cards.Card{Title: e.Task + " " + e.Action + " " + e.At + " " + e.Note + " by " + e.By})
	}
	return deck, nil
}

func (p *fakePlanner) Patterns() []web.PatternInfo {
	return []web.PatternInfo{{Name: "step-stool", Title: "Step stool", Source: "def parts(): pass\n",
		Sizes: []web.PatternSize{{Name: "height", Kind: "length", Default: "225 mm", Min: 150, Max: 300, Step: 5}}}}
}

func (p *fakePlanner) Name(text string) string {
	if text == namelessText || text == badText {
		return ""
	}
	return text
}

func (p *fakePlanner) CheckShop(_ context.Context, text string) ([]problem.Problem, error) {
	if text == badText {
		return problems(), nil
	}
	return nil, nil
}

// site is a server on a store of its own.
type site struct {
	*web.Server
	planner *fakePlanner
}

var builtFiles = fstest.MapFS{
	"index.html":              {Data: []byte("<!doctype html><title>Longgrain</title>")},
	"assets/index-4fGh12.js":  {Data: []byte(strings.Repeat("export const grain = 'long';\n", 100))},
	"assets/atkinson.woff2":   {Data: []byte(strings.Repeat("font", 1000))},
	"manifest.webmanifest":    {Data: []byte("{}")},
	"placeholder.html":        {Data: []byte("build it with make web")},
	"assets/index-4fGh12.css": {Data: []byte("body{}")},
}

func newSite(t testing.TB, change ...func(*web.Config)) site {
	t.Helper()
	kept, err := store.Open(t.Context(), store.Options{Folder: t.TempDir()})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := kept.Close(); err != nil {
			t.Error(err)
		}
	})
	planner := &fakePlanner{}
	config := web.Config{Planner: planner, Keeper: keeping.In(kept), Files: builtFiles, DefaultShop: "class shop", Version: "test"}
	for _, c := range change {
		c(&config)
	}
	server, err := web.New(config)
	if err != nil {
		t.Fatal(err)
	}
	return site{server, planner}
}

// ask sends a request as the page would and returns the answer.
func (s site) ask(method, path, body string) *httptest.ResponseRecorder {
	return s.send(request(method, path, body))
}

func request(method, path, body string) *http.Request {
	r := httptest.NewRequest(method, path, strings.NewReader(body))
	r.Host = "localhost:7474"
	if body != "" {
		r.Header.Set("Content-Type", "application/json")
	}
	return r
}

func (s site) send(r *http.Request) *httptest.ResponseRecorder {
	w := httptest.NewRecorder()
	s.ServeHTTP(w, r)
	return w
}

// answer sends a request, checks the status and reads the JSON answer.
func answer[T any](t testing.TB, s site, method, path, body string, status int) T {
	t.Helper()
	var v T
	w := s.ask(method, path, body)
	if w.Code != status {
		t.Fatalf("%s %s: status %d, want %d: %s", method, path, w.Code, status, w.Body)
	}
	if err := json.Unmarshal(w.Body.Bytes(), &v); err != nil {
		t.Fatalf("%s %s: %v in %s", method, path, err, w.Body)
	}
	return v
}

// refused sends a request and checks that it is refused with a problem that names something.
func refused(t testing.TB, s site, method, path, body string, status int, names string) {
	t.Helper()
	checkRefused(t, s.ask(method, path, body), method+" "+path, status, names)
}

func checkRefused(t testing.TB, w *httptest.ResponseRecorder, what string, status int, names string) {
	t.Helper()
	if w.Code != status || w.Header().Get("Content-Type") != "application/problem+json" {
		t.Errorf("%s: status %d, want %d, as %s: %s", what, w.Code, status, w.Header().Get("Content-Type"), w.Body)
	}
	if text, _ := io.ReadAll(w.Body); !strings.Contains(string(text), names) {
		t.Errorf("%s: the answer does not name %q: %s", what, names, text)
	}
}

func quoted(text string) string {
	b, _ := json.Marshal(text)
	return string(b)
}
