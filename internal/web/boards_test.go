package web_test

import (
	"context"
	"errors"
	"strings"
	"testing"

	"longgrain/examples"
	"longgrain/internal/web"
	"longgrain/patterns"
)

func (p *fakePlanner) Boards(context.Context, web.PlanRequest, *web.WhatIf) (web.BoardsAnswer, error) {
	return web.BoardsAnswer{}, nil
}

func (p *fakePlanner) AfterJob(context.Context, web.PlanRequest) (string, error) {
	return "", errors.New("no job")
}

func (p *fakePlanner) WithDefects(string, string, []web.RackDefect) (string, error) {
	return "", errors.New("no board")
}

// toyLibrary is a server with the real planner and the shop of the examples.
func toyLibrary(t *testing.T) site {
	return newSite(t, func(c *web.Config) {
		c.Planner, c.DefaultShop = web.NewPlans(patterns.All()), examples.Shop()
	})
}

func playTable() string { return quoted(examples.PlayTable()) }

func TestWhatIfIsAnsweredAndNothingIsSaved(t *testing.T) {
	s := toyLibrary(t)
	ask := func(change string) web.BoardsAnswer {
		return answer[web.BoardsAnswer](t, s, "POST", "/api/boards", `{"text":`+playTable()+change+`}`, 200)
	}
	plain := ask("")
	if plain.Now == nil || plain.Then != nil || plain.Now.Cents <= 0 || len(plain.Timber) < 5 || len(plain.Rack) != 6 || len(plain.Rest) == 0 {
		t.Fatalf("%+v", plain)
	}
	for name, c := range map[string]struct {
		change string
		right  func(now, then web.BoardsSummary) bool
	}{
		"a wide board for the top costs no more": {`"board":{"species":"eastern white pine","thickness":"25.4 mm","width":"620 mm","length":"1 m"}`,
			func(now, then web.BoardsSummary) bool { return then.Cents < now.Cents && then.OnHand >= 1 }},
		"one more length costs no more":             {`"timber":"5/4x4","length":"14 ft"`, func(now, then web.BoardsSummary) bool { return then.Cents <= now.Cents }},
		"a kerf of 8 mm costs at least as much":     {`"kerf":"8 mm"`, func(now, then web.BoardsSummary) bool { return then.Cents >= now.Cents }},
		"a length at a price that nobody would pay": {`"timber":"5/4x4","length":"14 ft","price":900`, func(now, then web.BoardsSummary) bool { return then.Cents == now.Cents }},
	} {
		got := ask(`,"if":{` + c.change + `}`)
		if got.Then == nil || !c.right(*got.Now, *got.Then) {
			t.Errorf("%s: now %+v, then %+v, %v", name, got.Now, got.Then, got.Problems)
		}
	}
	for change, says := range map[string]string{`"kerf":"0 mm"`: "out of range", `"kerf":"3"`: "unit", `"timber":"7x7","length":"8 ft"`: `no timber \"7x7\"`,
		`"board":{"species":"pinewood","thickness":"19 mm","width":"100 mm","length":"1 m"}`: "no species"} {
		raw := s.ask("POST", "/api/boards", `{"text":`+playTable()+`,"if":{`+change+`}}`).Body.String()
		if !strings.Contains(raw, says) || strings.Contains(raw, `"then"`) {
			t.Errorf("%s: %s", change, raw)
		}
	}
	if got := answer[web.Shop](t, s, "GET", "/api/shop", "", 200); got.Version != 0 {
		t.Errorf("the shop was saved as version %d", got.Version)
	}
}

func TestWhatStaysOverGoesOnTheRackOnce(t *testing.T) {
	s := toyLibrary(t)
	before := answer[web.BoardsAnswer](t, s, "POST", "/api/boards", `{"text":`+playTable()+`}`, 200)
	shop := answer[web.Shop](t, s, "POST", "/api/shop/rack", `{"text":`+playTable()+`,"base":0}`, 200)
	if shop.Version != 1 || len(shop.Problems) > 0 || !strings.Contains(shop.Text, "rest") {
		t.Errorf("%+v", shop)
	}
	after := answer[web.BoardsAnswer](t, s, "POST", "/api/boards", `{"text":`+playTable()+`}`, 200)
	used := 0
	for _, b := range before.Rack {
		if b.Used {
			used++
		}
	}
	if used == 0 || len(after.Rack) != len(before.Rack)-used+len(before.Rest) {
		t.Errorf("%d on the rack, %d used, %d over, then %d", len(before.Rack), used, len(before.Rest), len(after.Rack))
	}
	refused(t, s, "POST", "/api/shop/rack", `{"text":`+playTable()+`,"base":0}`, 409, `"current":1`)
	refused(t, s, "POST", "/api/shop/rack", `{"text":"longgrain: 1\nname: Bad\n","base":1}`, 422, "")
}

func TestDefectsAreSavedIntoTheShop(t *testing.T) {
	s := toyLibrary(t)
	shop := answer[web.Shop](t, s, "PUT", "/api/shop/defects", `{"board":"A2","base":0,"defects":[{"kind":"knot","from":1000,"to":1040,"left":20,"right":60}]}`, 200)
	if shop.Version != 1 || len(shop.Problems) > 0 {
		t.Errorf("%+v", shop)
	}
	got := answer[web.BoardsAnswer](t, s, "POST", "/api/boards", `{"text":`+playTable()+`}`, 200)
	for _, b := range got.Rack {
		if b.Name == "A2" && (len(b.Defects) != 1 || b.Defects[0] != web.RackDefect{Kind: "knot", From: 1000, To: 1040, Left: 20, Right: 60}) {
			t.Errorf("%+v", b)
		}
	}
	for body, status := range map[string]int{
		`{"board":"A2","base":0,"defects":[]}`: 409,
		`{"board":"Z","base":1,"defects":[]}`:  422,
		`{"board":"A2","base":1,"defects":[{"kind":"knot","from":9000,"to":9040,"left":20,"right":60}]}`: 422,
		`{"board":"A2","base":1,"defects":[{"kind":"hole","from":10,"to":40,"left":20,"right":60}]}`:     422,
	} {
		refused(t, s, "PUT", "/api/shop/defects", body, status, "")
	}
}
