package phones

import (
	"context"
	"encoding/json"
	"net"
	"net/http"
	"slices"
	"strings"
)

// CookieName is the cookie that carries the token.
const CookieName = "longgrain-phone"

// Cookie returns the cookie for a token. It is not marked Secure: in the shop there is plain http.
func Cookie(token string) http.Cookie {
	return http.Cookie{Name: CookieName, Value: token, Path: "/", MaxAge: int(tokenGood.Seconds()), HttpOnly: true, SameSite: http.SameSiteStrictMode}
}

type nameKey struct{}

// Name returns the name of the phone that a request comes from; empty for the desk.
func Name(ctx context.Context) string {
	name, _ := ctx.Value(nameKey{}).(string)
	return name
}

// open lists what every phone may ask for: the page itself, which holds no data, and the way in.
var open = []string{
	"GET /cards", "GET /cards/", "GET /cards.html", "GET /assets/", "GET /paper.css", "GET /board.svg", "GET /healthz",
	"GET /cards.webmanifest", "GET /cards-worker.js", "POST /api/phones/join",
}

// known lists what a phone with a token may ask for besides: read cards, tick and note, carry them away.
var known = []string{
	"GET /api/cards", "GET /api/pieces/{id}/cards", "POST /api/pieces/{id}/cards", "GET /api/pieces/{id}/cards.html",
}

// Gate lets requests of phones through to a handler as far as they may go.
func (p *Phones) Gate(h http.Handler) http.Handler {
	mux := http.NewServeMux()
	for _, pattern := range open {
		mux.Handle(pattern, h)
	}
	for _, pattern := range known {
		mux.Handle(pattern, p.withToken(h))
	}
	mux.HandleFunc("GET /{$}", func(w http.ResponseWriter, r *http.Request) { http.Redirect(w, r, "/cards", http.StatusSeeOther) })
	mux.HandleFunc("/", func(w http.ResponseWriter, _ *http.Request) {
		refuse(w, http.StatusForbidden, "a phone may read the cards, tick and note, and nothing else")
	})
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if !p.called(r) {
			refuse(w, http.StatusMisdirectedRequest, "this door does not answer to the name "+r.Host)
			return
		}
		mux.ServeHTTP(w, r)
	})
}

// called tells whether a request names the very address at which it arrived, or a host that was allowed. A name of another site
// that points to this machine is neither, so its pages cannot read the cards.
func (p *Phones) called(r *http.Request) bool {
	name, _, err := net.SplitHostPort(r.Host)
	if err != nil {
		name = strings.Trim(r.Host, "[]")
	}
	name = strings.ToLower(strings.TrimSuffix(name, "."))
	if slices.Contains(p.hosts, name) {
		return true
	}
	local, ok := r.Context().Value(http.LocalAddrContextKey).(*net.TCPAddr)
	if !ok {
		return false
	}
	if name == "localhost" {
		return local.IP.IsLoopback()
	}
	ip := net.ParseIP(name)
	return ip != nil && ip.Equal(local.IP)
}

// withToken lets a request through that shows the token of a known phone, and notes which.
func (p *Phones) withToken(h http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		cookie, err := r.Cookie(CookieName)
		if err != nil {
			refuse(w, http.StatusUnauthorized, "this phone is not known here: ask for a code at the desk")
			return
		}
		phone, ok, err := p.Of(r.Context(), cookie.Value)
		if err != nil {
			refuse(w, http.StatusInternalServerError, "something failed in the program; its log says what")
			return
		}
		if !ok {
			refuse(w, http.StatusUnauthorized, "this phone is not known here any more: ask for a code at the desk")
			return
		}
		h.ServeHTTP(w, r.WithContext(context.WithValue(r.Context(), nameKey{}, phone.Name)))
	})
}

// refuse answers with a problem (RFC 9457).
func refuse(w http.ResponseWriter, status int, detail string) {
	w.Header().Set("Content-Type", "application/problem+json")
	w.WriteHeader(status)
	// A reader that has gone away needs no answer.
	_ = json.NewEncoder(w).Encode(map[string]any{"title": http.StatusText(status), "status": status, "detail": detail})
}
