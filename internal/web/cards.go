package web

import (
	"context"
	"net/http"

	"longgrain/internal/book/cards"
	"longgrain/internal/phones"
)

// CardsAnswer is the cards of a piece with what was done so far.
type CardsAnswer struct {
	ID      string          `json:"id"`
	Version int             `json:"version" doc:"of the piece that the cards are made from"`
	Deck    cards.Deck      `json:"deck"`
	Clashes List[WorkClash] `json:"clashes" doc:"of what was just sent"`
}

// CardEvents are events of the bench to be kept, in the order in which they happened.
type CardEvents struct {
	Events  List[WorkEvent] `json:"events" maxItems:"500"`
	Now     string          `json:"now" doc:"the time on the clock of the shop, such as 2026-10-20T18:30"`
	Version int             `json:"version,omitempty" minimum:"0" doc:"version of the piece whose figures the page has; they are left out of the answer when it is still the newest"`
}

// CardShelf lists the pieces that there are cards of.
type CardShelf struct {
	Phone  string          `json:"phone" doc:"name of the phone that asks; empty at the desk"`
	Pieces List[CardPiece] `json:"pieces"`
}

// CardPiece is a piece that there are cards of.
type CardPiece struct {
	ID   string `json:"id"`
	Name string `json:"name"`
}

func (s *Server) addCards() {
	refusals := []int{http.StatusNotFound, http.StatusUnprocessableEntity, http.StatusServiceUnavailable}
	add(s, operation(http.MethodGet, "/api/cards", "listCards", "List the pieces that there are bench cards of"), s.listCards)
	add(s, operation(http.MethodGet, "/api/pieces/{id}/cards", "showCards", "Show the bench cards of a piece with what was done", refusals...), s.showCards)
	add(s, operation(http.MethodPost, "/api/pieces/{id}/cards", "tickCards", "Tick cards off, start and stop them, and note something", refusals...), s.tickCards)
	add(s, fileResponse(operation(http.MethodGet, "/api/pieces/{id}/cards.html", "carryCards",
		"Write all cards of a piece into one file that needs nothing else", refusals...), "text/html"), s.carryCards)
}

type cardsTicked struct {
	ID   string `path:"id"`
	Body CardEvents
}

func (s *Server) listCards(ctx context.Context, _ *struct{}) (*body[CardShelf], error) {
	pieces, err := s.Keeper.Pieces().List(ctx)
	if err != nil {
		return nil, err
	}
	out := CardShelf{Phone: phones.Name(ctx)}
	for _, p := range pieces {
		out.Pieces = append(out.Pieces, CardPiece{p.ID, p.Name})
	}
	return &body[CardShelf]{out}, nil
}

func (s *Server) showCards(ctx context.Context, in *workOf) (*body[CardsAnswer], error) {
	answer, err := s.cards(ctx, in.ID, "query.now", in.Now)
	return &body[CardsAnswer]{answer}, err
}

func (s *Server) tickCards(ctx context.Context, in *cardsTicked) (*body[CardsAnswer], error) {
	clashes, err := s.keepWork(ctx, in.ID, in.Body.Events)
	if err != nil {
		return nil, err
	}
	answer, err := s.cards(ctx, in.ID, "body.now", in.Body.Now)
	answer.Clashes = clashes
	if answer.Version == in.Body.Version {
		answer.Deck.Figures = []cards.Figure{}
	}
	return &body[CardsAnswer]{answer}, err
}

func (s *Server) carryCards(ctx context.Context, in *workOf) (*file, error) {
	answer, err := s.cards(ctx, in.ID, "query.now", in.Now)
	if err != nil {
		return nil, err
	}
	return download(answer.Deck.Piece, "-cards.html", "text/html; charset=utf-8", cards.File(answer.Deck, answer.ID)), nil
}

// cards makes the cards of the newest version of a piece with what was noted.
func (s *Server) cards(ctx context.Context, id, where, now string) (CardsAnswer, error) {
	piece, req, err := s.workRequest(ctx, id, where, now)
	if err != nil {
		return CardsAnswer{}, err
	}
	deck, err := work(ctx, s, func(ctx context.Context) (cards.Deck, error) { return s.Planner.Cards(ctx, req) })
	return CardsAnswer{ID: id, Version: piece.Version, Deck: deck}, err
}
