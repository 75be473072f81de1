package web_test

import (
	"context"
	"encoding/json"
	"io"
	"net/http"
	"net/http/cookiejar"
	"strings"
	"testing"
	"time"

	"longgrain/examples"
	"longgrain/internal/web"
	"longgrain/patterns"
)

func TestCardsAreTickedAndASecondTickIsTold(t *testing.T) {
	s := newSite(t)
	id := answer[web.SavedPiece](t, s, "POST", "/api/pieces", `{"text":"Play table"}`, 201).ID
	path := "/api/pieces/" + id + "/cards"
	if shelf := answer[web.CardShelf](t, s, "GET", "/api/cards", "", 200); shelf.Phone != "" || len(shelf.Pieces) != 1 || shelf.Pieces[0].ID != id {
		t.Errorf("%+v", shelf)
	}
	before := answer[web.CardsAnswer](t, s, "GET", path, "", 200)
	if before.Version != 1 || before.ID != id || len(before.Deck.Figures) != 1 {
		t.Errorf("%+v", before)
	}
	tick := func(id, at string) string {
		return `{"now":"2026-10-17T12:00","version":1,"events":[{"id":"` + id + `","task":"cut","name":"cut the boards","action":"done","at":"` + at + `"}]}`
	}
	first := answer[web.CardsAnswer](t, s, "POST", path, tick("event-0001", "2026-10-17T10:30"), 200)
	if len(first.Clashes) != 0 || len(first.Deck.Cards) != 1 || len(first.Deck.Figures) != 0 {
		t.Errorf("%+v", first)
	}
	second := answer[web.CardsAnswer](t, s, "POST", path, tick("event-0002", "2026-10-17T10:10"), 200)
	if len(second.Clashes) != 1 || second.Clashes[0].At != "2026-10-17T10:30" || second.Clashes[0].Name != "cut the boards" || len(second.Deck.Cards) != 1 {
		t.Errorf("%+v", second)
	}
	if got := answer[web.WorkAnswer](t, s, "POST", "/api/pieces/"+id+"/work", tick("event-0003", "2026-10-17T11:00"), 422); len(got.Clashes) != 0 {
		t.Errorf("a version does not belong there: %+v", got)
	}
	if got := answer[web.WorkAnswer](t, s, "POST", "/api/pieces/"+id+"/work", strings.Replace(tick("event-0003", "2026-10-17T11:00"), `"version":1,`, "", 1), 200); len(got.Clashes) != 1 {
		t.Errorf("at the desk: %+v", got)
	}
	refused(t, s, "POST", path, tick("event-0004", "soon"), 422, "2026-10-20T18:30")
	refused(t, s, "GET", "/api/pieces/none/cards", "", 404, "nothing of that name")
	w := s.ask("GET", path+".html?now=2026-10-17T12:00", "")
	if w.Code != 200 || !strings.HasPrefix(w.Header().Get("Content-Type"), "text/html") || !strings.Contains(w.Header().Get("Content-Disposition"), "play-table-cards.html") {
		t.Errorf("status %d, %v", w.Code, w.Header())
	}
}

func TestCardsOfAPieceWithFaultsAreRefused(t *testing.T) {
	s := newSite(t)
	id := answer[web.SavedPiece](t, s, "POST", "/api/pieces", `{"text":"bad"}`, 201).ID
	refused(t, s, "GET", "/api/pieces/"+id+"/cards", "", 422, "has no unit")
}

// The whole way of a phone, through its own door: code, cookie, cards, tick; then it is forgotten.
func TestAPhoneComesInByItsOwnDoor(t *testing.T) {
	now := time.Date(2026, 11, 25, 18, 0, 0, 0, time.UTC)
	s := newSite(t, func(c *web.Config) {
		c.PhoneDoor = "127.0.0.1:0"
		c.Now = func() time.Time { return now }
	})
	id := answer[web.SavedPiece](t, s, "POST", "/api/pieces", `{"text":"Play table"}`, 201).ID
	if state := answer[web.PhoneState](t, s, "GET", "/api/phones", "", 200); state.Open || len(state.Addresses) != 0 {
		t.Errorf("open without being asked: %+v", state)
	}
	refused(t, s, "POST", "/api/phones/code", `{}`, 422, "open the door first")
	state := answer[web.PhoneState](t, s, "PUT", "/api/phones", `{"open":true}`, 200)
	if !state.Open || len(state.Addresses) != 1 {
		t.Fatalf("%+v", state)
	}
	t.Cleanup(func() { answer[web.PhoneState](t, s, "PUT", "/api/phones", `{"open":false}`, 200) })
	code := answer[web.PhoneCode](t, s, "POST", "/api/phones/code", `{"piece":"`+id+`"}`, 200)
	if code.Address != state.Addresses[0]+"/cards/"+id || !strings.Contains(code.SVG, "#code="+code.Code) {
		t.Errorf("%+v", code)
	}
	if labels := s.ask("GET", "/api/pieces/"+id+"/labels.pdf?at=http%3A%2F%2Flocalhost%3A7474", "").Body.String(); labels != "%PDF labels a4 "+state.Addresses[0]+"/cards/"+id {
		t.Errorf("labels lead to %s", labels)
	}

	jar, _ := cookiejar.New(nil)
	phone := &http.Client{Jar: jar}
	ask := func(client *http.Client, method, path, body string, header ...string) (int, string) {
		t.Helper()
		r, _ := http.NewRequestWithContext(t.Context(), method, state.Addresses[0]+path, strings.NewReader(body))
		r.Header.Set("Content-Type", "application/json")
		for i := 0; i+1 < len(header); i += 2 {
			r.Header.Set(header[i], header[i+1])
		}
		got, err := client.Do(r)
		if err != nil {
			t.Fatal(err)
		}
		defer got.Body.Close()
		text, _ := io.ReadAll(got.Body)
		return got.StatusCode, string(text)
	}
	cards := "/api/pieces/" + id + "/cards"
	tick := `{"now":"2026-10-17T12:00","events":[{"id":"event-0001","task":"cut","action":"done","at":"2026-10-17T10:30"}]}`
	for _, c := range []struct {
		why, method, path, body string
		status                  int
		header                  []string
	}{
		{"before it is known", "GET", cards, "", 401, nil},
		{"a wrong code", "POST", "/api/phones/join", `{"code":"2222-2222"}`, 403, nil},
		{"from another site", "POST", "/api/phones/join", `{"code":"` + code.Code + `"}`, 403, []string{"Sec-Fetch-Site", "cross-site"}},
		{"from another site by origin", "POST", "/api/phones/join", `{"code":"` + code.Code + `"}`, 403, []string{"Origin", "http://evil.example"}},
		{"the code", "POST", "/api/phones/join", `{"code":"` + code.Code + `"}`, 200, nil},
		{"cards", "GET", cards, "", 200, nil},
		{"a tick", "POST", cards, tick, 200, nil},
		{"a tick from another site", "POST", cards, tick, 403, []string{"Sec-Fetch-Site", "cross-site"}},
		{"the list", "GET", "/api/cards", "", 200, nil},
		{"the piece", "GET", "/api/pieces/" + id, "", 403, nil},
		{"a new code", "POST", "/api/phones/code", `{}`, 403, nil},
		{"the shop", "PUT", "/api/shop", `{}`, 403, nil},
	} {
		if status, text := ask(phone, c.method, c.path, c.body, c.header...); status != c.status {
			t.Errorf("%s: status %d, want %d: %s", c.why, status, c.status, text)
		}
	}
	other := &http.Client{}
	if status, text := ask(other, "POST", "/api/phones/join", `{"code":"`+code.Code+`"}`); status != 403 || !strings.Contains(text, "used already") {
		t.Errorf("a used code: %d %s", status, text)
	}
	old := answer[web.PhoneCode](t, s, "POST", "/api/phones/code", `{}`, 200)
	now = now.Add(time.Hour)
	if status, text := ask(other, "POST", "/api/phones/join", `{"code":"`+old.Code+`"}`); status != 403 || !strings.Contains(text, "run out") {
		t.Errorf("an old code: %d %s", status, text)
	}
	got := answer[web.CardsAnswer](t, s, "GET", cards+"?now=2026-10-17T12:00", "", 200)
	if len(got.Deck.Cards) != 1 || !strings.HasSuffix(got.Deck.Cards[0].Title, "by phone 1") {
		t.Errorf("the desk sees %+v", got.Deck.Cards)
	}
	known := answer[web.PhoneState](t, s, "GET", "/api/phones", "", 200).Phones
	if len(known) != 1 || known[0].Name != "phone 1" {
		t.Fatalf("%+v", known)
	}
	if text, _ := json.Marshal(known); strings.Contains(string(text), "sum") {
		t.Errorf("the sum of a token is told: %s", text)
	}
	answer[web.PhoneState](t, s, "DELETE", "/api/phones/"+known[0].ID, "", 200)
	refused(t, s, "DELETE", "/api/phones/"+known[0].ID, "", 404, "no such phone")
	if status, _ := ask(phone, "GET", cards, ""); status != 401 {
		t.Errorf("a phone that was forgotten reads cards: %d", status)
	}
}

// With the real planner: cards with their drawings, and what runs is told.
func TestTheCardsOfTheDemoTable(t *testing.T) {
	plans := web.NewPlans(patterns.All())
	req := web.WorkRequest{Text: examples.PlayTable(), Shop: web.Workshop{Text: examples.Shop()}, Now: time.Date(2026, 10, 17, 10, 15, 0, 0, time.UTC),
		Events: []web.WorkEvent{{ID: "1", Task: "buy", Action: "done", At: "2026-10-06T10:00"}, {ID: "2", Task: "cut", Action: "start", At: "2026-10-17T09:00"}}}
	deck, err := plans.Cards(context.Background(), req)
	if err != nil || len(deck.Cards) < 20 || len(deck.Figures) < 20 {
		t.Fatalf("%v, %d cards, %d figures", err, len(deck.Cards), len(deck.Figures))
	}
	for _, c := range deck.Cards {
		if c.Tasks[0].ID == "cut" != c.Tasks[0].Running || c.Tasks[0].ID == "buy" != c.Done {
			t.Errorf("%s: done %v, running %v", c.Title, c.Done, c.Tasks[0].Running)
		}
	}
	text, err := json.Marshal(deck)
	if err != nil || strings.Contains(string(text), ":null") {
		t.Errorf("a list of the deck is null: %v", err)
	}
}
