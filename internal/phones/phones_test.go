package phones

import (
	"context"
	"errors"
	"io"
	"net"
	"net/http"
	"net/http/cookiejar"
	"net/http/httptest"
	"strings"
	"testing"
	"time"
)

// drawer keeps settings in memory.
type drawer map[string]string

func (d drawer) Setting(_ context.Context, key string) (string, error) { return d[key], nil }
func (d drawer) SetSetting(_ context.Context, key, value string) error { d[key] = value; return nil }

// shop is phones with a clock that a test moves.
type shop struct {
	*Phones
	kept drawer
	at   time.Time
}

func newShop() *shop {
	s := &shop{kept: drawer{}, at: time.Date(2026, 11, 25, 18, 0, 0, 0, time.UTC)}
	s.Phones = New(s.kept, func() time.Time { return s.at }, nil)
	return s
}

func TestACodeIsGoodOnce(t *testing.T) {
	s := newShop()
	code := s.NewCode()
	token, phone, err := s.Join(t.Context(), " "+strings.ToLower(strings.ReplaceAll(code.Text, "-", " ")))
	if err != nil || phone.Name != "phone 1" {
		t.Fatalf("%+v, %v", phone, err)
	}
	if _, _, err := s.Join(t.Context(), code.Text); !errors.Is(err, ErrUsed) {
		t.Errorf("the second phone: %v", err)
	}
	if got, ok, err := s.Of(t.Context(), token); err != nil || !ok || got.ID != phone.ID {
		t.Errorf("%+v, %v, %v", got, ok, err)
	}
	if strings.Contains(s.kept[settingKey], token) {
		t.Error("the token itself is kept")
	}
	// The program was started anew: the phone is still known, its code is not.
	again := New(s.kept, func() time.Time { return s.at }, nil)
	if _, ok, err := again.Of(t.Context(), token); err != nil || !ok {
		t.Errorf("after a restart: %v, %v", ok, err)
	}
	if _, _, err := again.Join(t.Context(), code.Text); !errors.Is(err, ErrWrong) {
		t.Errorf("a code after a restart: %v", err)
	}
}

func TestWrongAndOldCodesAreRefused(t *testing.T) {
	s := newShop()
	old := s.NewCode()
	s.at = s.at.Add(codeGood + time.Second)
	if _, _, err := s.Join(t.Context(), old.Text); !errors.Is(err, ErrExpired) {
		t.Errorf("an old code: %v", err)
	}
	good := s.NewCode()
	for range mostWrong {
		if _, _, err := s.Join(t.Context(), "2222-2222"); !errors.Is(err, ErrWrong) {
			t.Errorf("a wrong code: %v", err)
		}
	}
	if _, _, err := s.Join(t.Context(), good.Text); !errors.Is(err, ErrTooMany) {
		t.Errorf("after too many tries: %v", err)
	}
	fresh := s.NewCode()
	if _, _, err := s.Join(t.Context(), good.Text); !errors.Is(err, ErrWrong) {
		t.Errorf("a code that was made void: %v", err)
	}
	if _, _, err := s.Join(t.Context(), fresh.Text); err != nil {
		t.Errorf("a new code: %v", err)
	}
	if _, _, err := s.Join(t.Context(), ""); !errors.Is(err, ErrWrong) {
		t.Errorf("no code: %v", err)
	}
}

func TestAPhoneRunsOutAndCanBeForgotten(t *testing.T) {
	s := newShop()
	join := func() (string, Phone) {
		token, phone, err := s.Join(t.Context(), s.NewCode().Text)
		if err != nil {
			t.Fatal(err)
		}
		return token, phone
	}
	first, one := join()
	second, two := join()
	if two.Name != "phone 2" {
		t.Errorf("the second is %s", two.Name)
	}
	if err := s.Revoke(t.Context(), one.ID); err != nil {
		t.Fatal(err)
	}
	if _, ok, _ := s.Of(t.Context(), first); ok {
		t.Error("a phone that was forgotten is known")
	}
	if err := s.Revoke(t.Context(), one.ID); !errors.Is(err, ErrUnknown) {
		t.Errorf("forgotten twice: %v", err)
	}
	s.at = s.at.Add(2 * time.Hour)
	if got, ok, _ := s.Of(t.Context(), second); !ok || !got.Seen.Equal(s.at) {
		t.Errorf("seen %v, want %v", got.Seen, s.at)
	}
	s.at = two.Expires.Add(time.Second)
	if _, ok, _ := s.Of(t.Context(), second); ok {
		t.Error("a phone that has run out is known")
	}
	if all, err := s.List(t.Context()); err != nil || len(all) != 0 {
		t.Errorf("%+v, %v", all, err)
	}
}

// behind answers with the name of the phone that asks.
func behind(w http.ResponseWriter, r *http.Request) {
	_, _ = io.WriteString(w, "for "+Name(r.Context()))
}

func TestTheGateLetsCardsThroughAndNothingElse(t *testing.T) {
	s := newShop()
	server := httptest.NewServer(s.Gate(http.HandlerFunc(behind)))
	defer server.Close()
	jar, _ := cookiejar.New(nil)
	client := &http.Client{Jar: jar, CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }}
	ask := func(method, path string) (int, string) {
		r, _ := http.NewRequestWithContext(t.Context(), method, server.URL+path, nil)
		answer, err := client.Do(r)
		if err != nil {
			t.Fatal(err)
		}
		defer answer.Body.Close()
		text, _ := io.ReadAll(answer.Body)
		return answer.StatusCode, string(text)
	}
	check := func(when string, known int) {
		t.Helper()
		for what, want := range map[string]int{
			"GET /cards": 200, "GET /cards/abc": 200, "GET /assets/x.js": 200, "POST /api/phones/join": 200, "GET /": 303,
			"GET /api/cards": known, "GET /api/pieces/a/cards": known, "POST /api/pieces/a/cards": known, "GET /api/pieces/a/cards.html": known,
			"GET /api/pieces/a": 403, "PUT /api/pieces/a": 403, "DELETE /api/pieces/a": 403, "GET /api/shelf": 403, "GET /api/shop": 403, "PUT /api/shop": 403,
			"POST /api/plan": 403, "GET /api/phones": 403, "PUT /api/phones": 403, "POST /api/phones/code": 403, "DELETE /api/phones/x": 403, "DELETE /api/phones/join": 403,
			"GET /piece/a": 403, "GET /openapi.json": 403, "POST /api/pieces/a/work": 403, "GET /api/pieces/a/workbook.pdf": 403, "POST /api/pieces": 403, "GET /index.html": 403,
			"GET /cards/../api/shop": 403, "GET /api/pieces/a/cards/../../../shop": 403, "GET //api/shop": 403, "GET /api/pieces/a%2Fcards": 403,
		} {
			method, path, _ := strings.Cut(what, " ")
			got, text := ask(method, path)
			if got == http.StatusTemporaryRedirect || got == http.StatusMovedPermanently { // a path that is put in order first
				continue
			}
			if got != want {
				t.Errorf("%s: %s is answered with %d, want %d: %s", when, what, got, want, text)
			}
		}
	}
	check("unknown", 401)
	token, phone, err := s.Join(t.Context(), s.NewCode().Text)
	if err != nil {
		t.Fatal(err)
	}
	cookie := Cookie(token)
	r, _ := http.NewRequestWithContext(t.Context(), "GET", server.URL, nil)
	jar.SetCookies(r.URL, []*http.Cookie{&cookie})
	check("known", 200)
	if _, text := ask("GET", "/api/cards"); text != "for phone 1" {
		t.Errorf("the request is %q", text)
	}
	if err := s.Revoke(t.Context(), phone.ID); err != nil {
		t.Fatal(err)
	}
	check("forgotten", 401)
	if !cookie.HttpOnly || cookie.SameSite != http.SameSiteStrictMode {
		t.Errorf("the cookie can be read or sent by others: %+v", cookie)
	}
}

// A page of another site whose name points here (DNS rebinding) calls the door by that name.
func TestTheGateAnswersOnlyToTheAddressThatWasCalled(t *testing.T) {
	s := newShop()
	s.hosts = []string{"workshop.local"}
	server := httptest.NewServer(s.Gate(http.HandlerFunc(behind)))
	defer server.Close()
	_, port, _ := net.SplitHostPort(server.Listener.Addr().String())
	for host, want := range map[string]int{
		"127.0.0.1:" + port: 200, "127.0.0.1": 200, "localhost:" + port: 200, "workshop.local:7475": 200,
		"evil.example": 421, "evil.example:" + port: 421, "127.0.0.2:" + port: 421, "192.168.1.20": 421, "localhost.evil.example": 421, "[::1]": 421, "0.0.0.0": 421,
	} {
		r, _ := http.NewRequestWithContext(t.Context(), "GET", server.URL+"/healthz", nil)
		r.Host = host
		answer, err := server.Client().Do(r)
		if err != nil {
			t.Fatal(err)
		}
		answer.Body.Close()
		if answer.StatusCode != want {
			t.Errorf("called %s: %d, want %d", host, answer.StatusCode, want)
		}
	}
	w := httptest.NewRecorder()
	s.Gate(http.HandlerFunc(behind)).ServeHTTP(w, httptest.NewRequest("GET", "http://127.0.0.1/healthz", nil))
	if w.Code != 421 {
		t.Errorf("an unknown address of its own lets %d through", w.Code)
	}
}

func TestTheDoorOpensAndShuts(t *testing.T) {
	s := newShop()
	open := func() string {
		t.Helper()
		if err := s.Open(t.Context(), "127.0.0.1:0", &http.Server{Handler: http.HandlerFunc(behind), ReadHeaderTimeout: time.Second}); err != nil {
			t.Fatal(err)
		}
		all, err := s.Addresses()
		if err != nil || len(all) != 1 {
			t.Fatalf("%q, %v", all, err)
		}
		return all[0]
	}
	if all, err := s.Addresses(); err != nil || all != nil {
		t.Errorf("open without being asked: %q, %v", all, err)
	}
	get := func(at string) error {
		r, _ := http.NewRequestWithContext(t.Context(), "GET", at, nil)
		answer, err := http.DefaultClient.Do(r)
		if err == nil {
			answer.Body.Close()
		}
		return err
	}
	at := open()
	if again := open(); again != at {
		t.Errorf("opened twice: %s and %s", at, again)
	}
	if err := get(at); err != nil {
		t.Error(err)
	}
	for range 2 {
		if err := s.Close(); err != nil {
			t.Error(err)
		}
	}
	if err := get(at); err == nil {
		t.Error("a shut door answers")
	}
	if err := get(open()); err != nil {
		t.Errorf("opened again: %v", err)
	}
	if err := s.Close(); err != nil {
		t.Error(err)
	}
	if err := s.Open(t.Context(), "203.0.113.1:1", &http.Server{ReadHeaderTimeout: time.Second}); err == nil || !strings.Contains(err.Error(), "203.0.113.1:1") {
		t.Errorf("an address of another machine: %v", err)
	}
}

func TestAddressesOfTheShopComeFirst(t *testing.T) {
	parse := func(text string) net.Addr {
		ip, network, err := net.ParseCIDR(text)
		if err != nil {
			t.Fatal(err)
		}
		return &net.IPNet{IP: ip, Mask: network.Mask}
	}
	got := reachable([]net.Addr{parse("127.0.0.1/8"), parse("203.0.113.9/24"), parse("fe80::1/64"), parse("192.168.1.20/24"), parse("169.254.3.4/16"), parse("10.0.0.5/8")})
	var text []string
	for _, a := range got {
		text = append(text, a.String())
	}
	if want := "10.0.0.5 192.168.1.20 203.0.113.9"; strings.Join(text, " ") != want {
		t.Errorf("%s, want %s", strings.Join(text, " "), want)
	}
}
