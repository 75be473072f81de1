package web

import (
	"context"
	"net/http"
	"net/url"
	"path"
	"strings"
)

func (s *Server) addExports() {
	refusals := []int{http.StatusNotFound, http.StatusUnprocessableEntity, http.StatusServiceUnavailable}
	add(s, fileResponse(operation(http.MethodGet, "/api/pieces/{id}/workbook.pdf", "workbook",
		"Print the workbook of a piece", refusals...), "application/pdf"), s.workbook)
	add(s, fileResponse(operation(http.MethodGet, "/api/pieces/{id}/labels.pdf", "labels",
		"Print labels to stick on the parts", refusals...), "application/pdf"), s.labels)
	add(s, fileResponse(operation(http.MethodGet, "/api/pieces/{id}/export/{name}", "export",
		"Write a piece in an open format", refusals...), "application/octet-stream"), s.export)
	add(s, fileResponse(operation(http.MethodGet, "/api/pieces/{id}/picture.svg", "picture",
		"Draw a piece for the shelf", refusals...), "image/svg+xml"), s.picture)
}

type workbookOf struct {
	ID       string   `path:"id"`
	Paper    string   `query:"paper" enum:"a4,letter" default:"a4"`
	Chapters []string `query:"chapters" maxItems:"20" enum:"piece,holds,joints,year,timber,boards,marking,glueups,finish,order,cost,assembly,buy-list,mark-out,templates" doc:"what to print, with commas between; without it the whole book"`
	Lesson   bool     `query:"lesson" doc:"true for a class: questions left open, answers with their working at the end"`
	Version  int      `query:"version" minimum:"0" doc:"version of the piece; 0 or none for the newest"`
}

type labelsOf struct {
	ID      string `path:"id"`
	Paper   string `query:"paper" enum:"a4,letter" default:"a4"`
	Version int    `query:"version" minimum:"0" doc:"version of the piece; 0 or none for the newest"`
	At      string `query:"at" maxLength:"200" pattern:"^https?://[^\\s/?#]+$" doc:"where this server is seen from a phone, such as http://workshop:7474; the code of each label leads there"`
}

type exportOf struct {
	ID      string `path:"id"`
	Name    string `path:"name" doc:"name of the file, such as cutlist.csv"`
	Version int    `query:"version" minimum:"0" doc:"version of the piece; 0 or none for the newest"`
}

type pictureOf struct {
	ID      string `path:"id"`
	Version int    `query:"version" minimum:"0" doc:"version of the piece; 0 or none for the newest"`
}

// pieceAndShop returns what files are made from.
func (s *Server) pieceAndShop(ctx context.Context, id string, version int) (piece Document, shop Workshop, err error) {
	if version == 0 {
		piece, err = s.Keeper.Pieces().Get(ctx, id)
	} else {
		piece, err = s.Keeper.Pieces().Open(ctx, id, version)
	}
	if err != nil {
		return piece, shop, err
	}
	shop, err = s.workshop(ctx)
	return piece, shop, err
}

func (s *Server) workbook(ctx context.Context, in *workbookOf) (*file, error) {
	piece, shop, err := s.pieceAndShop(ctx, in.ID, in.Version)
	if err != nil {
		return nil, err
	}
	pdf, err := work(ctx, s, func(ctx context.Context) ([]byte, error) {
		return s.Planner.Workbook(ctx, piece.Text, shop, Print{in.Paper, in.Chapters, in.Lesson})
	})
	if err != nil {
		return nil, err
	}
	suffix := strings.Join(append([]string{""}, in.Chapters...), "-")
	if in.Lesson {
		suffix += "-lesson"
	}
	return download(piece.Name, suffix+".pdf", "application/pdf", pdf), nil
}

func (s *Server) labels(ctx context.Context, in *labelsOf) (*file, error) {
	piece, shop, err := s.pieceAndShop(ctx, in.ID, in.Version)
	if err != nil {
		return nil, err
	}
	address := ""
	if in.At != "" {
		address = s.seenFrom(in.At) + "/cards/" + url.PathEscape(in.ID)
	}
	pdf, err := work(ctx, s, func(ctx context.Context) ([]byte, error) {
		return s.Planner.Labels(ctx, piece.Text, shop, in.Paper, address)
	})
	if err != nil {
		return nil, err
	}
	return download(piece.Name, "-labels.pdf", "application/pdf", pdf), nil
}

// exported is what Planner.Export returns.
type exported struct {
	data        []byte
	contentType string
}

func (s *Server) exportFile(ctx context.Context, piece Document, shop Workshop, name string) (exported, error) {
	return work(ctx, s, func(ctx context.Context) (exported, error) {
		data, contentType, err := s.Planner.Export(ctx, piece.Text, shop, name)
		return exported{data, contentType}, err
	})
}

func (s *Server) export(ctx context.Context, in *exportOf) (*file, error) {
	piece, shop, err := s.pieceAndShop(ctx, in.ID, in.Version)
	if err != nil {
		return nil, err
	}
	out, err := s.exportFile(ctx, piece, shop, in.Name)
	if err != nil {
		return nil, err
	}
	// The planner knows the name, so what is asked for is one of its own words.
	extension := path.Ext(in.Name)
	suffix := "-" + fileName(strings.TrimSuffix(in.Name, extension)) + extension
	return download(piece.Name, suffix, out.contentType, out.data), nil
}

func (s *Server) picture(ctx context.Context, in *pictureOf) (*file, error) {
	piece, shop, err := s.pieceAndShop(ctx, in.ID, in.Version)
	if err != nil {
		return nil, err
	}
	key := keyOf(piece.Text, shop)
	out, ok := s.pictures.get(key)
	if !ok {
		if out, err = s.exportFile(ctx, piece, shop, "picture.svg"); err != nil {
			return nil, err
		}
		s.pictures.put(key, out)
	}
	return &file{ContentType: out.contentType, Policy: filePolicy, Cache: "no-cache", Body: out.data}, nil
}
