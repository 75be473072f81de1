package web_test

import (
	"bytes"
	"compress/gzip"
	"context"
	"io"
	"log/slog"
	"net/http"
	"os"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"longgrain/internal/web"
)

func TestMalformedRequestsAreRefused(t *testing.T) {
	s := newSite(t)
	refused(t, s, "POST", "/api/plan", `{"text":`, 400, "unexpected end")
	refused(t, s, "POST", "/api/plan", "", 400, "body is required")
	refused(t, s, "POST", "/api/plan", `{"text":7}`, 422, "body.text")
	refused(t, s, "POST", "/api/plan", `{}`, 422, "text")
	refused(t, s, "POST", "/api/plan", `{"text":"a","textt":"b"}`, 422, "textt")
	refused(t, s, "POST", "/api/pieces", `null`, 422, "object")
	refused(t, s, "GET", "/api/nothing", "", 404, "/api/nothing")
	refused(t, s, "PATCH", "/api/shop", "{}", 404, "PATCH /api/shop")
}

func TestABodyThatIsTooLargeIsRefused(t *testing.T) {
	s := newSite(t)
	text := strings.Repeat("a", 2<<20)
	refused(t, s, "POST", "/api/plan", `{"text":"`+text+`"}`, 413, "too large")
	refused(t, s, "POST", "/api/pictures", "\x89PNG\r\n\x1a\n"+text, 413, "too large")
	answer[web.PlanAnswer](t, s, "POST", "/api/plan", `{"text":"`+text[:1<<20]+`"}`, 200)
}

func TestOnlyTheServersOwnNamesAreAnswered(t *testing.T) {
	s := newSite(t, func(c *web.Config) { c.Hosts = []string{"classroom.local"} })
	for host, status := range map[string]int{
		"localhost": 200, "localhost:7474": 200, "LOCALHOST.:1": 200, "127.0.0.1:7474": 200, "[::1]:7474": 200, "[::1]": 200,
		"192.168.1.20:7474": 200, "classroom.local:7474": 200, "Classroom.local": 200,
		"evil.example": 421, "localhost.evil.example:7474": 421, "127.0.0.1.evil.example": 421, "": 421, "classroom": 421,
	} {
		r := request("GET", "/api/shop", "")
		r.Host = host
		if w := s.send(r); w.Code != status {
			t.Errorf("host %q: status %d, want %d", host, w.Code, status)
		}
	}
}

func TestAnotherSiteMayNotWrite(t *testing.T) {
	s := newSite(t)
	for name, header := range map[string][2]string{
		"by fetch metadata":  {"Sec-Fetch-Site", "cross-site"},
		"same site, as well": {"Sec-Fetch-Site", "same-site"},
		"by origin":          {"Origin", "http://evil.example"},
		"another port":       {"Origin", "http://localhost:8000"},
	} {
		r := request("POST", "/api/pieces", `{"text":"a"}`)
		r.Header.Set(header[0], header[1])
		checkRefused(t, s.send(r), name, 403, "another site")
	}
	own := request("POST", "/api/pieces", `{"text":"a"}`)
	own.Header.Set("Sec-Fetch-Site", "same-origin")
	if w := s.send(own); w.Code != 201 {
		t.Errorf("the page itself: status %d", w.Code)
	}
	if shelf := answer[web.Shelf](t, s, "GET", "/api/shelf", "", 200); len(shelf.Pieces) != 1 {
		t.Errorf("%d pieces were saved", len(shelf.Pieces))
	}
}

func TestEveryAnswerHasTheHeadersThatProtect(t *testing.T) {
	s := newSite(t)
	for _, path := range []string{"/", "/api/shop", "/api/nothing", "/assets/none.js", "/healthz"} {
		header := s.ask("GET", path, "").Header()
		for name, want := range map[string]string{
			"Content-Security-Policy": "default-src 'self'", "X-Content-Type-Options": "nosniff", "Referrer-Policy": "no-referrer",
			"Cross-Origin-Opener-Policy": "same-origin", "Cross-Origin-Resource-Policy": "same-origin",
		} {
			if got := header.Get(name); !strings.HasPrefix(got, want) {
				t.Errorf("%s: %s is %q", path, name, got)
			}
		}
	}
	if policy := s.ask("GET", "/", "").Header().Get("Content-Security-Policy"); strings.Contains(policy, "unsafe") {
		t.Errorf("the policy of the page is %q", policy)
	}
}

func TestTheBuiltPageIsServed(t *testing.T) {
	s := newSite(t)
	cases := []struct {
		path, contentType, cache, begins string
		status                           int
	}{
		{"/", "text/html; charset=utf-8", "no-cache", "<!doctype", 200},
		{"/index.html", "text/html; charset=utf-8", "no-cache", "<!doctype", 200},
		{"/piece/abc", "text/html; charset=utf-8", "no-cache", "<!doctype", 200}, // an address that the page itself reads
		{"/assets/index-4fGh12.js", "text/javascript; charset=utf-8", "public, max-age=31536000, immutable", "export", 200},
		{"/manifest.webmanifest", "application/manifest+json", "no-cache", "{}", 200},
		{"/assets/old-123.js", "application/problem+json", "", "{", 404},
		{"/../../etc/passwd", "text/html; charset=utf-8", "no-cache", "<!doctype", 200},
	}
	for _, c := range cases {
		r := request("GET", "/", "")
		r.URL.Path = c.path
		w := s.send(r)
		if w.Code == http.StatusMovedPermanently || w.Code == http.StatusTemporaryRedirect {
			continue // the router cleans the path first
		}
		if w.Code != c.status || w.Header().Get("Content-Type") != c.contentType || w.Header().Get("Cache-Control") != c.cache ||
			!strings.HasPrefix(w.Body.String(), c.begins) {
			t.Errorf("%s: status %d, %v: %.40s", c.path, w.Code, w.Header(), w.Body)
		}
	}
	refused(t, s, "POST", "/", "{}", 405, "only be read")
	if w := s.ask("GET", "/healthz", ""); w.Code != 200 || w.Body.String() != "ok\n" {
		t.Errorf("healthz: status %d: %s", w.Code, w.Body)
	}
}

func TestAnUnchangedPageIsNotSentAgain(t *testing.T) {
	s := newSite(t)
	r := request("GET", "/", "")
	r.Header.Set("If-None-Match", s.ask("GET", "/", "").Header().Get("ETag"))
	if w := s.send(r); w.Code != 304 || w.Body.Len() != 0 {
		t.Errorf("status %d, %d bytes", w.Code, w.Body.Len())
	}
}

func TestWithoutAFrontEndThePageSaysHowToBuildIt(t *testing.T) {
	placeholder, err := os.ReadFile("../../web/dist/placeholder.html")
	if err != nil {
		t.Fatal(err)
	}
	s := newSite(t, func(c *web.Config) { c.Files = fstest.MapFS{"placeholder.html": {Data: placeholder}} })
	if w := s.ask("GET", "/", ""); w.Code != 200 || !strings.Contains(w.Body.String(), "make web") {
		t.Errorf("status %d: %s", w.Code, w.Body)
	}
	if _, err := web.New(web.Config{Files: fstest.MapFS{}}); err == nil {
		t.Error("a server without any page was made")
	}
}

func TestTextIsCompressedForThoseWhoTakeIt(t *testing.T) {
	s := newSite(t)
	script := string(builtFiles["assets/index-4fGh12.js"].Data)
	cases := []struct {
		path, accept string
		zipped       bool
	}{
		{"/assets/index-4fGh12.js", "gzip, deflate, br", true},
		{"/assets/index-4fGh12.js", "br;q=1, gzip;q=0.5", true},
		{"/assets/index-4fGh12.js", "*", true},
		{"/assets/index-4fGh12.js", "gzip;q=0", false},
		{"/assets/index-4fGh12.js", "gzip; q=0.0", false},
		{"/assets/index-4fGh12.js", "br", false},
		{"/assets/index-4fGh12.js", "", false},
		{"/assets/index-4fGh12.css", "gzip", false}, // too small to gain
		{"/assets/atkinson.woff2", "gzip", false},   // packed already
		{"/openapi.json", "gzip", true},
	}
	for _, c := range cases {
		r := request("GET", c.path, "")
		r.Header.Set("Accept-Encoding", c.accept)
		w := s.send(r)
		if zipped := w.Header().Get("Content-Encoding") == "gzip"; zipped != c.zipped || w.Header().Get("Vary") != "Accept-Encoding" {
			t.Errorf("%s with %q: compressed is %v, Vary %q", c.path, c.accept, zipped, w.Header().Get("Vary"))
			continue
		}
		var body io.Reader = w.Body
		if c.zipped {
			unzipped, err := gzip.NewReader(body)
			if err != nil {
				t.Fatal(err)
			}
			body = unzipped
		}
		text, err := io.ReadAll(body)
		if err != nil || strings.HasSuffix(c.path, ".js") && string(text) != script {
			t.Errorf("%s with %q: %d bytes came through: %v", c.path, c.accept, len(text), err)
		}
	}
}

func TestAPanicIsAnsweredAndLogged(t *testing.T) {
	var lines bytes.Buffer
	s := newSite(t, func(c *web.Config) {
		c.Log = slog.New(slog.NewTextHandler(&lines, nil))
		c.Planner = nil // every use of it panics
	})
	refused(t, s, "GET", "/api/patterns", "", 500, "failed in the program")
	for _, want := range []string{"level=ERROR", "stack=", "status=500", "path=/api/patterns"} {
		if !strings.Contains(lines.String(), want) {
			t.Errorf("the log has no %s:\n%s", want, &lines)
		}
	}
}

func TestAnAddressWithoutAHostMeansThisMachineAlone(t *testing.T) {
	listener, err := web.Listen(t.Context(), ":0")
	if err != nil {
		t.Fatal(err)
	}
	defer listener.Close()
	if address := listener.Addr().String(); !strings.HasPrefix(address, "127.0.0.1:") {
		t.Errorf("listens on %s", address)
	}
	if _, err := web.Listen(t.Context(), listener.Addr().String()); err == nil || !strings.Contains(err.Error(), "listen on 127.0.0.1:") {
		t.Errorf("a taken address: %v", err)
	}
}

func TestARequestUnderWayIsFinishedWhenTheServerStops(t *testing.T) {
	planner := &slowPlanner{begun: make(chan struct{}), goOn: make(chan struct{})}
	s := newSite(t, func(c *web.Config) { c.Planner = planner })
	ctx, stop := context.WithCancel(t.Context())
	listener, err := web.Listen(ctx, "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	ended := make(chan error, 1)
	go func() { ended <- s.Serve(ctx, listener) }()
	status := make(chan int, 1)
	go func() {
		answer, err := http.Post("http://"+listener.Addr().String()+"/api/plan", "application/json", strings.NewReader(`{"text":"a"}`))
		if err != nil {
			t.Error(err)
			status <- 0
			return
		}
		status <- answer.StatusCode
		_ = answer.Body.Close()
	}()
	<-planner.begun
	stop()
	time.Sleep(20 * time.Millisecond) // lets Serve begin to stop while the request is under way
	close(planner.goOn)
	if got := <-status; got != 200 {
		t.Errorf("status %d", got)
	}
	if err := <-ended; err != nil {
		t.Errorf("Serve ended with %v", err)
	}
}

// slowPlanner waits to be told before it answers.
type slowPlanner struct {
	fakePlanner
	begun, goOn chan struct{}
}

func (p *slowPlanner) Plan(context.Context, web.PlanRequest) (web.PlanAnswer, error) {
	close(p.begun)
	<-p.goOn
	return web.PlanAnswer{}, nil
}
