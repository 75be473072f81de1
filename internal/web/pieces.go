package web

import (
	"cmp"
	"context"
	"net/http"
	"time"
)

// unnamed is what a piece is called whose text gives no name.
const unnamed = "Unnamed piece"

func (s *Server) addPieces() {
	add(s, operation(http.MethodGet, "/api/shelf", "showShelf", "Show all pieces with their verdicts"), s.showShelf)
	create := operation(http.MethodPost, "/api/pieces", "createPiece", "Save a new piece")
	create.DefaultStatus = http.StatusCreated
	add(s, create, s.createPiece)
	add(s, operation(http.MethodGet, "/api/pieces/{id}", "openPiece", "Open the newest version of a piece",
		http.StatusNotFound), s.openPiece)
	add(s, operation(http.MethodPut, "/api/pieces/{id}", "savePiece", "Save a new version of a piece",
		http.StatusNotFound, http.StatusConflict, http.StatusGone), s.savePiece)
	add(s, operation(http.MethodDelete, "/api/pieces/{id}", "deletePiece", "Put a piece aside",
		http.StatusNotFound), s.deletePiece)
	add(s, operation(http.MethodPost, "/api/pieces/{id}/restore", "restorePiece", "Take a piece into use again",
		http.StatusNotFound), s.restorePiece)
}

func (s *Server) addHistory() {
	add(s, operation(http.MethodGet, "/api/pieces/{id}/versions", "listPieceVersions", "List the versions of a piece, the newest first",
		http.StatusNotFound), s.listVersions)
	add(s, operation(http.MethodGet, "/api/pieces/{id}/versions/{n}", "openPieceVersion", "Open a version of a piece",
		http.StatusNotFound), s.openVersion)
}

type pieceID struct {
	ID string `path:"id"`
}

type pieceVersion struct {
	ID      string `path:"id"`
	Version int    `path:"n" minimum:"1"`
}

type pieceChange struct {
	ID   string `path:"id"`
	Body ChangedPiece
}

func (s *Server) createPiece(ctx context.Context, in *body[NewPiece]) (*body[SavedPiece], error) {
	name := cmp.Or(s.Planner.Name(in.Body.Text), unnamed)
	doc, err := s.Keeper.Pieces().Create(ctx, Draft{Name: name, Text: in.Body.Text, Note: in.Body.Note})
	return savedPiece(doc), err
}

// savePiece keeps the name that the piece had while its text cannot be read.
func (s *Server) savePiece(ctx context.Context, in *pieceChange) (*body[SavedPiece], error) {
	name := s.Planner.Name(in.Body.Text)
	if name == "" {
		before, err := s.Keeper.Pieces().Get(ctx, in.ID)
		if err != nil {
			return nil, err
		}
		name = before.Name
	}
	doc, err := s.Keeper.Pieces().Save(ctx, in.ID, in.Body.Base, Draft{Name: name, Text: in.Body.Text, Note: in.Body.Note})
	return savedPiece(doc), err
}

func (s *Server) openPiece(ctx context.Context, in *pieceID) (*body[Piece], error) {
	doc, err := s.Keeper.Pieces().Get(ctx, in.ID)
	return pieceBody(doc), err
}

func (s *Server) deletePiece(ctx context.Context, in *pieceID) (*struct{}, error) {
	return nil, s.Keeper.Pieces().Delete(ctx, in.ID)
}

func (s *Server) restorePiece(ctx context.Context, in *pieceID) (*body[Piece], error) {
	if err := s.Keeper.Pieces().Restore(ctx, in.ID); err != nil {
		return nil, err
	}
	return s.openPiece(ctx, in)
}

func (s *Server) listVersions(ctx context.Context, in *pieceID) (*body[List[PieceVersion]], error) {
	docs, err := s.Keeper.Pieces().Versions(ctx, in.ID)
	if err != nil {
		return nil, err
	}
	var versions List[PieceVersion]
	for _, doc := range docs {
		versions = append(versions, PieceVersion{doc.Version, doc.Name, doc.Saved, doc.Note})
	}
	return &body[List[PieceVersion]]{versions}, nil
}

func (s *Server) openVersion(ctx context.Context, in *pieceVersion) (*body[Piece], error) {
	doc, err := s.Keeper.Pieces().Open(ctx, in.ID, in.Version)
	return pieceBody(doc), err
}

func savedPiece(doc Document) *body[SavedPiece] {
	return &body[SavedPiece]{SavedPiece{ID: doc.ID, Name: doc.Name, Version: doc.Version, Saved: doc.Saved}}
}

func pieceBody(doc Document) *body[Piece] {
	return &body[Piece]{Piece{ID: doc.ID, Name: doc.Name, Text: doc.Text, Version: doc.Version, Saved: doc.Saved,
		Note: doc.Note, Created: doc.Created, Deleted: given(doc.Deleted)}}
}

// given returns nil for a time that is not set.
func given(t time.Time) *time.Time {
	if t.IsZero() {
		return nil
	}
	return &t
}
