package web

import (
	"context"
	"net/http"
	"slices"

	"github.com/danielgtaylor/huma/v2"
)

// pictureTypes are the kinds of picture that are kept. SVG is not one: it can hold scripts.
var pictureTypes = []string{"image/jpeg", "image/png", "image/webp"}

func (s *Server) addPictures() {
	send := operation(http.MethodPost, "/api/pictures", "sendPicture", "Keep a picture of a test", http.StatusUnsupportedMediaType)
	send.DefaultStatus = http.StatusCreated
	add(s, send, s.sendPicture)
	add(s, fileResponse(operation(http.MethodGet, "/api/pictures/{id}", "openPicture", "Open a kept picture",
		http.StatusNotFound), "image/*"), s.openPicture)
}

type sentPicture struct {
	RawBody []byte `contentType:"application/octet-stream"`
}

type pictureID struct {
	ID string `path:"id"`
}

// sendPicture goes by what the picture is, not by what the request says it is.
func (s *Server) sendPicture(ctx context.Context, in *sentPicture) (*body[KeptPicture], error) {
	contentType := http.DetectContentType(in.RawBody)
	if !slices.Contains(pictureTypes, contentType) {
		return nil, huma.Error415UnsupportedMediaType("a picture is JPEG, PNG or WebP")
	}
	id, err := s.Keeper.AddPicture(ctx, contentType, in.RawBody)
	return &body[KeptPicture]{KeptPicture{id}}, err
}

// openPicture lets a browser keep the picture: its name depends on what it is.
func (s *Server) openPicture(ctx context.Context, in *pictureID) (*file, error) {
	contentType, data, err := s.Keeper.Picture(ctx, in.ID)
	return &file{ContentType: contentType, Policy: filePolicy, Cache: "private, max-age=31536000, immutable", Body: data}, err
}
