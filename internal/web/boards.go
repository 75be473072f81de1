package web

import (
	"context"
	"fmt"
	"net/http"

	"github.com/danielgtaylor/huma/v2"

	"longgrain/internal/ground/problem"
)

// BoardsBody asks what the boards of a piece come to, as they are and with something changed.
type BoardsBody struct {
	Text  string            `json:"text" doc:"the piece file"`
	Sizes map[string]string `json:"sizes,omitempty" doc:"sizes to put in, by name, as they were typed"`
	If    *WhatIf           `json:"if,omitempty" doc:"what to change; nothing of it is saved"`
}

// WhatIf is one change of the shop that is tried and not saved.
type WhatIf struct {
	Kerf   string      `json:"kerf,omitempty" doc:"another width of the saw cut, as it was typed"`
	Timber string      `json:"timber,omitempty" doc:"size as sold that gets one more length"`
	Length string      `json:"length,omitempty" doc:"that length, as it was typed"`
	Price  float64     `json:"price,omitempty" minimum:"0" doc:"price of one such piece; by the price of the other lengths when it is 0"`
	Board  *ExtraBoard `json:"board,omitempty" doc:"one more board on hand"`
}

// ExtraBoard is one more board on hand, its sizes as they were typed.
type ExtraBoard struct {
	Species   string `json:"species"`
	Thickness string `json:"thickness"`
	Width     string `json:"width"`
	Length    string `json:"length"`
}

// BoardsAnswer says what the boards come to, and what stands on the rack.
type BoardsAnswer struct {
	Problems List[problem.Problem] `json:"problems"`
	Now      *BoardsSummary        `json:"now,omitempty"`
	Then     *BoardsSummary        `json:"then,omitempty" doc:"with the change"`
	Rest     List[string]          `json:"rest" doc:"what stays over, a line each"`
	Timber   List[string]          `json:"timber" doc:"sizes as sold"`
	Rack     List[RackBoard]       `json:"rack" doc:"boards and offcuts on hand"`
}

// BoardsSummary is a cutting plan in short.
type BoardsSummary struct {
	Cost   string       `json:"cost" doc:"of the boards to buy, with the sign of the currency"`
	Cents  int64        `json:"cents" doc:"the same in hundredths"`
	Bought int          `json:"bought" doc:"boards to buy"`
	OnHand int          `json:"onHand" doc:"boards from the rack"`
	Waste  float64      `json:"waste" doc:"share of all boards that is thrown away"`
	Proof  string       `json:"proof" doc:"how good the plan is"`
	Buy    List[string] `json:"buy" doc:"what to ask for, a line each"`
	Fault  string       `json:"fault,omitempty" doc:"why there is no plan"`
}

// RackBoard is a board on hand with its defects, mm from the marked end and from the left edge.
type RackBoard struct {
	Name      string           `json:"name"`
	Species   string           `json:"species"`
	Length    float64          `json:"length"`
	Width     float64          `json:"width"`
	Thickness float64          `json:"thickness"`
	Offcut    bool             `json:"offcut"`
	Used      bool             `json:"used" doc:"the plan cuts it"`
	Defects   List[RackDefect] `json:"defects"`
}

// RackDefect is a place of a board that no part may use, mm.
type RackDefect struct {
	Kind  string  `json:"kind" enum:"knot,check,split,wane,pith,stain,nail,other"`
	From  float64 `json:"from" minimum:"0"`
	To    float64 `json:"to" minimum:"0"`
	Left  float64 `json:"left" minimum:"0"`
	Right float64 `json:"right" minimum:"0"`
}

// ChangedDefects are the defects of one board on hand, to be saved into the shop.
type ChangedDefects struct {
	Board   string       `json:"board"`
	Defects []RackDefect `json:"defects" maxItems:"200"`
	Base    int          `json:"base" minimum:"0" doc:"the version of the shop that the change was made from"`
}

// DoneJob says that the boards of a piece were cut, so that what stays over goes on the rack.
type DoneJob struct {
	Text  string            `json:"text" doc:"the piece file"`
	Sizes map[string]string `json:"sizes,omitempty"`
	Base  int               `json:"base" minimum:"0" doc:"the version of the shop that the boards were planned with"`
}

func (s *Server) addBoards() {
	add(s, operation(http.MethodPost, "/api/boards", "boards", "Say what the boards of a piece come to, and with a change of the shop that is not saved",
		http.StatusServiceUnavailable), s.boards)
	add(s, operation(http.MethodPut, "/api/shop/defects", "saveDefects", "Save the defects of a board on hand into the shop",
		http.StatusConflict, http.StatusUnprocessableEntity), s.saveDefects)
	add(s, operation(http.MethodPost, "/api/shop/rack", "putOnRack", "Take the boards of a piece off the rack and put what stays over on it",
		http.StatusConflict, http.StatusUnprocessableEntity, http.StatusServiceUnavailable), s.putOnRack)
}

func (s *Server) boards(ctx context.Context, in *body[BoardsBody]) (*body[BoardsAnswer], error) {
	shop, err := s.workshop(ctx)
	if err != nil {
		return nil, err
	}
	answer, err := work(ctx, s, func(ctx context.Context) (BoardsAnswer, error) {
		return s.Planner.Boards(ctx, PlanRequest{Text: in.Body.Text, Shop: shop, Sizes: in.Body.Sizes}, in.Body.If)
	})
	if err != nil {
		return nil, err
	}
	return &body[BoardsAnswer]{answer}, nil
}

// based returns the shop when it is the version that a change was made from.
func (s *Server) based(ctx context.Context, base int) (Document, error) {
	shop, err := s.currentShop(ctx)
	if err == nil && shop.Version != base {
		err = &ConflictError{shop.Version}
	}
	return shop, err
}

func (s *Server) saveDefects(ctx context.Context, in *body[ChangedDefects]) (*body[Shop], error) {
	shop, err := s.based(ctx, in.Body.Base)
	if err != nil {
		return nil, err
	}
	text, err := s.Planner.WithDefects(shop.Text, in.Body.Board, in.Body.Defects)
	if err != nil {
		return nil, huma.Error422UnprocessableEntity(err.Error())
	}
	return s.saveShop(ctx, &body[ChangedShop]{ChangedShop{Text: text, Base: in.Body.Base, Note: fmt.Sprintf("defects of board %s", in.Body.Board)}})
}

func (s *Server) putOnRack(ctx context.Context, in *body[DoneJob]) (*body[Shop], error) {
	shop, err := s.based(ctx, in.Body.Base)
	if err != nil {
		return nil, err
	}
	with, err := s.log.shop(ctx, s.Keeper, shop.Text)
	if err != nil {
		return nil, err
	}
	text, err := work(ctx, s, func(ctx context.Context) (string, error) {
		return s.Planner.AfterJob(ctx, PlanRequest{Text: in.Body.Text, Shop: with, Sizes: in.Body.Sizes})
	})
	if err != nil {
		return nil, err
	}
	return s.saveShop(ctx, &body[ChangedShop]{ChangedShop{Text: text, Base: in.Body.Base, Note: "the rack after " + s.Planner.Name(in.Body.Text)}})
}
