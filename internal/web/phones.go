package web

import (
	"context"
	"errors"
	"fmt"
	"net"
	"net/http"
	"net/url"
	"time"

	"github.com/danielgtaylor/huma/v2"

	"longgrain/internal/book/drawing"
	"longgrain/internal/paper/svg"
	"longgrain/internal/phones"
)

// PhoneState says whether phones may come in, and which did.
type PhoneState struct {
	Open      bool              `json:"open" doc:"phones in the same network can reach the cards"`
	Addresses List[string]      `json:"addresses" doc:"where they find them, such as http://192.168.1.20:7475"`
	Phones    List[PhoneOfShop] `json:"phones"`
}

// PhoneOfShop is a phone that may read cards, tick and note.
type PhoneOfShop struct {
	ID      string    `json:"id"`
	Name    string    `json:"name"`
	Joined  time.Time `json:"joined"`
	Seen    time.Time `json:"seen" doc:"within the hour"`
	Expires time.Time `json:"expires"`
}

// PhoneDoor opens or shuts the door for phones.
type PhoneDoor struct {
	Open bool `json:"open"`
}

// PhoneCodeFor asks for a code.
type PhoneCodeFor struct {
	Piece   string `json:"piece,omitempty" maxLength:"64" doc:"piece whose cards the code leads to"`
	Address string `json:"address,omitempty" maxLength:"200" doc:"one of the addresses of the door; the first when none is given"`
}

// PhoneCode is a code for one phone.
type PhoneCode struct {
	Code    string    `json:"code" doc:"good once, to be typed on the phone"`
	Address string    `json:"address" doc:"where to type it"`
	Expires time.Time `json:"expires"`
	SVG     string    `json:"svg" doc:"address and code for the camera of the phone"`
}

// PhoneJoin hands a code in.
type PhoneJoin struct {
	Code string `json:"code" minLength:"1" maxLength:"40"`
}

// PhoneJoined says that a phone is known now.
type PhoneJoined struct {
	Name    string    `json:"name"`
	Expires time.Time `json:"expires"`
}

func (s *Server) addPhones() {
	add(s, operation(http.MethodGet, "/api/phones", "showPhones", "Show whether phones may come in, and which did"), s.showPhones)
	add(s, operation(http.MethodPut, "/api/phones", "openToPhones", "Open or shut the door for phones", http.StatusUnprocessableEntity), s.openToPhones)
	add(s, operation(http.MethodPost, "/api/phones/code", "makePhoneCode", "Make a code for one phone", http.StatusUnprocessableEntity), s.makePhoneCode)
	add(s, operation(http.MethodPost, "/api/phones/join", "joinPhone", "Hand a code in, once", http.StatusForbidden), s.joinPhone)
	add(s, operation(http.MethodDelete, "/api/phones/{id}", "revokePhone", "Take the rights of a phone back", http.StatusNotFound), s.revokePhone)
}

func (s *Server) phoneState(ctx context.Context) (*body[PhoneState], error) {
	addresses, err := s.phones.Addresses()
	if err != nil {
		return nil, err
	}
	known, err := s.phones.List(ctx)
	if err != nil {
		return nil, err
	}
	state := PhoneState{Open: addresses != nil, Addresses: addresses}
	for _, p := range known {
		state.Phones = append(state.Phones, PhoneOfShop{ID: p.ID, Name: p.Name, Joined: p.Joined, Seen: p.Seen, Expires: p.Expires})
	}
	return &body[PhoneState]{state}, nil
}

func (s *Server) showPhones(ctx context.Context, _ *struct{}) (*body[PhoneState], error) {
	return s.phoneState(ctx)
}

func (s *Server) openToPhones(ctx context.Context, in *body[PhoneDoor]) (*body[PhoneState], error) {
	if !in.Body.Open {
		if err := s.phones.Close(); err != nil {
			return nil, err
		}
		return s.phoneState(ctx)
	}
	if _, err := s.LetPhonesIn(context.WithoutCancel(ctx)); err != nil {
		return nil, huma.Error422UnprocessableEntity(err.Error())
	}
	return s.phoneState(ctx)
}

func (s *Server) makePhoneCode(_ context.Context, in *body[PhoneCodeFor]) (*body[PhoneCode], error) {
	addresses, err := s.phones.Addresses()
	if err != nil {
		return nil, err
	}
	if len(addresses) == 0 {
		return nil, huma.Error422UnprocessableEntity("phones cannot come in yet: open the door first, and see that this machine is in a network")
	}
	at := addresses[0]
	for _, a := range addresses {
		if a == in.Body.Address {
			at = a
		}
	}
	at += "/cards"
	if in.Body.Piece != "" {
		at += "/" + url.PathEscape(in.Body.Piece)
	}
	code := s.phones.NewCode()
	// The code stands behind the #, which a browser sends to nobody: it is in no log.
	picture, ok := drawing.Code("Code for the phone", at+"#code="+code.Text)
	if !ok {
		return nil, fmt.Errorf("the address %s is too long for a code", at)
	}
	return &body[PhoneCode]{PhoneCode{Code: code.Text, Address: at, Expires: code.Expires, SVG: svg.Inline(picture, "code-", true)}}, nil
}

type joined struct {
	SetCookie http.Cookie `header:"Set-Cookie"`
	Body      PhoneJoined
}

func (s *Server) joinPhone(ctx context.Context, in *body[PhoneJoin]) (*joined, error) {
	token, phone, err := s.phones.Join(ctx, in.Body.Code)
	switch {
	case errors.Is(err, phones.ErrWrong), errors.Is(err, phones.ErrUsed), errors.Is(err, phones.ErrExpired), errors.Is(err, phones.ErrTooMany):
		return nil, huma.Error403Forbidden(err.Error())
	case err != nil:
		return nil, err
	}
	return &joined{SetCookie: phones.Cookie(token), Body: PhoneJoined{Name: phone.Name, Expires: phone.Expires}}, nil
}

type phoneOf struct {
	ID string `path:"id"`
}

func (s *Server) revokePhone(ctx context.Context, in *phoneOf) (*body[PhoneState], error) {
	if err := s.phones.Revoke(ctx, in.ID); errors.Is(err, phones.ErrUnknown) {
		return nil, huma.Error404NotFound(err.Error())
	} else if err != nil {
		return nil, err
	}
	return s.phoneState(ctx)
}

// seenFrom returns where this server is seen from a phone: what the page was called by, or the door for phones where that is this
// machine's name for itself.
func (s *Server) seenFrom(at string) string {
	called, err := url.Parse(at)
	if err != nil {
		return at
	}
	ip := net.ParseIP(called.Hostname())
	if called.Hostname() != "localhost" && (ip == nil || !ip.IsLoopback()) {
		return at
	}
	if addresses, err := s.phones.Addresses(); err == nil && len(addresses) > 0 {
		return addresses[0]
	}
	return at
}
