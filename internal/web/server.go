// Package web serves the workbench to a browser: the interface for programs under /api, its
// description in /openapi.json, and the built front end.
//
// A Server takes a Planner, which works pieces out, and a Keeper, which keeps what people save, and
// adds nothing to what they say: no engineering is done here. Wrong input to a plan is an answer with
// problems and status 200; a request that cannot be understood is refused as problem+json (RFC 9457).
// The server listens on the machine itself unless told otherwise, answers only to its own names and
// refuses writes from other sites. It knows no users: whoever reaches it may do everything. Phones come in by a door of their own,
// which is shut until somebody opens it, and may only read cards, tick and note; see package phones.
package web

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"log/slog"
	"net"
	"net/http"
	"runtime"
	"strings"
	"time"

	"github.com/danielgtaylor/huma/v2"
	"github.com/danielgtaylor/huma/v2/adapters/humago"

	"longgrain/internal/paper/html"
	"longgrain/internal/paper/svg"
	"longgrain/internal/phones"
)

// DefaultAddress is where the server listens unless told otherwise.
const DefaultAddress = "127.0.0.1:7474"

const (
	// maxBody is the largest body of a request, in bytes: twice the largest piece file, and enough
	// for a photograph that a browser has made smaller.
	maxBody = 2 << 20
	// bodyLimit is how long the body of a request may take to arrive: a photograph from a phone at the
	// far end of the shop.
	bodyLimit = 30 * time.Second
	// planLimit is how long a plan may take. Judgement: a plan takes well below a second; past this
	// something is wrong and the person should be told.
	planLimit = 30 * time.Second
	// shutdownLimit is how long requests under way may take when the server is told to stop.
	shutdownLimit = 10 * time.Second
)

// Config is what a Server is made of.
type Config struct {
	Planner     Planner
	Keeper      Keeper
	Files       fs.FS            // the built front end, or a folder with placeholder.html
	Log         *slog.Logger     // nil means no log
	Hosts       []string         // further host names that the server answers to; see allowedHost
	DefaultShop string           // the shop file until somebody saves one
	Version     string           // version of the program, for openapi.json
	PhoneDoor   string           // address at which phones come in, once somebody asks for it; empty takes phones.DefaultAddress
	Now         func() time.Time // the clock; nil means time.Now
}

// Server answers HTTP requests. Make one with New.
type Server struct {
	Config
	handler  http.Handler // of the desk
	phones   *phones.Phones
	atDoor   http.Handler // of phones
	api      huma.API
	verdicts memory[Verdict]
	pictures memory[exported]
	log      testMemory
	slots    chan struct{} // one for each plan that may be worked out at a time
}

// New returns a server. It fails when the front end cannot be read.
func New(c Config) (*Server, error) {
	if c.Log == nil {
		c.Log = slog.New(slog.DiscardHandler)
	}
	s := &Server{Config: c, slots: make(chan struct{}, runtime.GOMAXPROCS(0))}
	if c.PhoneDoor == "" {
		s.PhoneDoor = phones.DefaultAddress
	}
	s.phones = phones.New(c.Keeper, c.Now, c.Hosts)
	pages, err := readPages(c.Files)
	if err != nil {
		return nil, fmt.Errorf("read the front end: %w", err)
	}
	mux := http.NewServeMux()
	s.api = humago.New(mux, apiConfig(c.Version))
	s.addPatterns()
	s.addPieces()
	s.addByHand()
	s.addHistory()
	s.addShop()
	s.addPlan()
	s.addBoards()
	s.addExports()
	s.addWork()
	s.addCards()
	s.addPhones()
	s.addTests()
	s.addPictures()
	description, err := json.MarshalIndent(s.api.OpenAPI(), "", "  ")
	if err != nil {
		return nil, fmt.Errorf("describe the interface: %w", err)
	}
	mux.HandleFunc("GET /openapi.json", func(w http.ResponseWriter, _ *http.Request) {
		w.Header().Set("Content-Type", "application/json")
		_, _ = w.Write(description) // a reader that has gone away needs no answer
	})
	mux.HandleFunc("GET /paper.css", func(w http.ResponseWriter, _ *http.Request) {
		w.Header().Set("Content-Type", "text/css; charset=utf-8")
		w.Header().Set("Cache-Control", "no-cache")
		_, _ = w.Write([]byte(html.CSS() + svg.CSS()))
	})
	mux.HandleFunc("GET /healthz", func(w http.ResponseWriter, _ *http.Request) {
		w.Header().Set("Content-Type", "text/plain; charset=utf-8")
		_, _ = w.Write([]byte("ok\n"))
	})
	mux.HandleFunc("/api/", func(w http.ResponseWriter, r *http.Request) {
		writeProblem(w, http.StatusNotFound, "there is nothing at "+r.Method+" "+r.URL.Path)
	})
	mux.Handle("/", pages)
	s.handler, s.atDoor = s.guard(mux), s.guard(s.phones.Gate(mux))
	return s, nil
}

// apiConfig sets huma up without what the page does not need: no viewer for the description (it comes from
// another host), no $schema in answers, and the description served by New.
func apiConfig(version string) huma.Config {
	c := huma.DefaultConfig("Longgrain", version)
	c.Info.Description = "Works a small piece of solid-wood furniture out before the first cut."
	c.DocsPath, c.SchemasPath, c.OpenAPIPath = "", "", ""
	c.CreateHooks = nil
	return c
}

// ServeHTTP answers one request.
func (s *Server) ServeHTTP(w http.ResponseWriter, r *http.Request) { s.handler.ServeHTTP(w, r) }

// Listen opens the address for Serve. An address without a host, such as ":8080", means this
// machine alone; to be reached from others an address must say so, such as "0.0.0.0:8080".
func Listen(ctx context.Context, address string) (net.Listener, error) {
	if strings.HasPrefix(address, ":") {
		address = "127.0.0.1" + address
	}
	var config net.ListenConfig
	listener, err := config.Listen(ctx, "tcp", address)
	if err != nil {
		return nil, fmt.Errorf("listen on %s: %w", address, err)
	}
	return listener, nil
}

// Serve answers requests until ctx ends, then lets those under way come to their end. It closes
// the listener.
func (s *Server) Serve(ctx context.Context, listener net.Listener) error {
	server := s.serverOf(s)
	ended := make(chan error, 1)
	go func() { ended <- server.Serve(listener) }()
	s.Log.Info("listening", "address", listener.Addr().String())
	select {
	case err := <-ended:
		return fmt.Errorf("serve: %w", err)
	case <-ctx.Done():
	}
	s.Log.Info("stopping")
	limit, cancel := context.WithTimeout(context.WithoutCancel(ctx), shutdownLimit)
	defer cancel()
	if err := s.phones.Close(); err != nil {
		s.Log.Warn("stop", "error", err)
	}
	if err := server.Shutdown(limit); err != nil {
		return fmt.Errorf("stop serving: %w", errors.Join(err, server.Close()))
	}
	return nil
}

// serverOf returns a server with the limits that hold for every door.
func (s *Server) serverOf(h http.Handler) *http.Server {
	return &http.Server{
		Handler:           h,
		ReadHeaderTimeout: 5 * time.Second,
		ReadTimeout:       bodyLimit + 5*time.Second,
		WriteTimeout:      planLimit + 30*time.Second, // a slow answer, then a slow line
		IdleTimeout:       2 * time.Minute,
		MaxHeaderBytes:    64 << 10,
		ErrorLog:          slog.NewLogLogger(s.Log.Handler(), slog.LevelWarn),
	}
}

// LetPhonesIn opens the door for phones and returns the addresses at which they find it.
func (s *Server) LetPhonesIn(ctx context.Context) ([]string, error) {
	if err := s.phones.Open(ctx, s.PhoneDoor, s.serverOf(s.atDoor)); err != nil {
		return nil, err
	}
	return s.phones.Addresses()
}
