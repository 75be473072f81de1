package web

import (
	"errors"
	"net"
	"net/http"
	"runtime/debug"
	"slices"
	"strings"
	"time"
)

// guard wraps a handler in everything that holds for every request, the outermost first: the log, the
// net below a panic, headers, the check of the host, the refusal of writes from other sites, compression.
func (s *Server) guard(h http.Handler) http.Handler {
	crossOrigin := http.NewCrossOriginProtection()
	crossOrigin.SetDenyHandler(http.HandlerFunc(func(w http.ResponseWriter, _ *http.Request) {
		writeProblem(w, http.StatusForbidden, "another site may not change anything here")
	}))
	h = compress(h)
	h = crossOrigin.Handler(h)
	h = s.checkHost(h)
	h = secure(h)
	h = s.catch(h)
	return s.logRequests(h)
}

// contentPolicy lets the page use only what this server sends. Pictures may also come from the page
// itself: photographs before they are sent, and what the 3-D view draws.
const contentPolicy = "default-src 'self'; img-src 'self' data: blob:; object-src 'none'; base-uri 'none'; " +
	"form-action 'self'; frame-ancestors 'none'"

// secure sets the headers that keep a browser from being used against its user.
func secure(h http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		header := w.Header()
		header.Set("Content-Security-Policy", contentPolicy)
		header.Set("X-Content-Type-Options", "nosniff")
		header.Set("Referrer-Policy", "no-referrer")
		header.Set("Cross-Origin-Opener-Policy", "same-origin")
		header.Set("Cross-Origin-Resource-Policy", "same-origin")
		header.Set("Permissions-Policy", "camera=(), geolocation=(), microphone=()")
		if strings.HasPrefix(r.URL.Path, "/api/") {
			header.Set("Cache-Control", "no-store")
		}
		h.ServeHTTP(w, r)
	})
}

// checkHost refuses requests to a name that is not one of the server's. Otherwise another site could
// have its own name point to this machine and read the answers.
func (s *Server) checkHost(h http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if !allowedHost(r.Host, s.Hosts) {
			writeProblem(w, http.StatusMisdirectedRequest, "this server does not answer to the name "+r.Host)
			return
		}
		h.ServeHTTP(w, r)
	})
}

// allowedHost tells whether a Host header names this server: localhost, any plain address (no other
// site can own one), or one of the further names, with any port.
func allowedHost(host string, further []string) bool {
	name, _, err := net.SplitHostPort(host)
	if err != nil {
		name = strings.TrimSuffix(strings.TrimPrefix(host, "["), "]")
	}
	name = strings.ToLower(strings.TrimSuffix(name, "."))
	return name == "localhost" || net.ParseIP(name) != nil || slices.Contains(further, name)
}

// catch answers 500 when a handler panics, and keeps the server going.
func (s *Server) catch(h http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		seen := &watched{ResponseWriter: w}
		defer func() {
			cause := recover()
			if cause == nil {
				return
			}
			if err, ok := cause.(error); ok && errors.Is(err, http.ErrAbortHandler) {
				panic(cause) // how a handler asks for the connection to be cut
			}
			s.Log.Error("panic", "path", r.URL.Path, "cause", cause, "stack", string(debug.Stack()))
			if seen.status == 0 {
				writeProblem(seen, http.StatusInternalServerError, "something failed in the program; its log says what")
			}
		}()
		h.ServeHTTP(seen, r)
	})
}

// logRequests writes a line for every request, without what was in it.
func (s *Server) logRequests(h http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		start := time.Now()
		seen := &watched{ResponseWriter: w}
		h.ServeHTTP(seen, r)
		s.Log.Info("request", "method", r.Method, "path", r.URL.Path, "status", seen.status,
			"bytes", seen.bytes, "took", time.Since(start))
	})
}

// watched notes what is answered.
type watched struct {
	http.ResponseWriter
	status int // 0 until the answer has begun
	bytes  int
}

func (w *watched) WriteHeader(status int) {
	if w.status == 0 {
		w.status = status
	}
	w.ResponseWriter.WriteHeader(status)
}

func (w *watched) Write(data []byte) (int, error) {
	if w.status == 0 {
		w.status = http.StatusOK
	}
	n, err := w.ResponseWriter.Write(data)
	w.bytes += n
	return n, err
}

// Unwrap lets http.ResponseController reach the connection.
func (w *watched) Unwrap() http.ResponseWriter { return w.ResponseWriter }
