package web

import (
	"cmp"
	"context"
	"errors"
	"net/http"
)

// shopID is the name under which the one shop of this server is kept.
const shopID = "shop"

func (s *Server) addShop() {
	add(s, operation(http.MethodGet, "/api/shop", "openShop", "Open the shop"), s.openShop)
	add(s, operation(http.MethodPut, "/api/shop", "saveShop", "Save a new version of the shop",
		http.StatusConflict), s.saveShop)
}

// currentShop returns the saved shop, or the one that the program comes with as version 0.
func (s *Server) currentShop(ctx context.Context) (Document, error) {
	doc, err := s.Keeper.Shops().Get(ctx, shopID)
	if errors.Is(err, ErrNotFound) {
		return Document{Draft: Draft{Text: s.DefaultShop}}, nil
	}
	return doc, err
}

// workshop returns the current shop with the joints that it broke.
func (s *Server) workshop(ctx context.Context) (Workshop, error) {
	doc, err := s.currentShop(ctx)
	if err != nil {
		return Workshop{}, err
	}
	return s.log.shop(ctx, s.Keeper, doc.Text)
}

func (s *Server) openShop(ctx context.Context, _ *struct{}) (*body[Shop], error) {
	doc, err := s.currentShop(ctx)
	if err != nil {
		return nil, err
	}
	return s.checkedShop(ctx, doc)
}

func (s *Server) saveShop(ctx context.Context, in *body[ChangedShop]) (*body[Shop], error) {
	name := cmp.Or(s.Planner.Name(in.Body.Text), "Shop")
	doc, err := s.Keeper.Shops().Save(ctx, shopID, in.Body.Base, Draft{Name: name, Text: in.Body.Text, Note: in.Body.Note})
	if err != nil {
		return nil, err
	}
	return s.checkedShop(ctx, doc)
}

func (s *Server) checkedShop(ctx context.Context, doc Document) (*body[Shop], error) {
	problems, err := s.Planner.CheckShop(ctx, doc.Text)
	if err != nil {
		return nil, err
	}
	return &body[Shop]{Shop{Text: doc.Text, Version: doc.Version, Saved: given(doc.Saved), Problems: problems}}, nil
}
