package web

import (
	"context"
	"encoding/json"
	"errors"
	"net/http"
	"reflect"
	"slices"
	"strings"

	"github.com/danielgtaylor/huma/v2"

	"longgrain/internal/ground/problem"
)

// add registers a handler. Handlers know nothing of HTTP: they take what was read from the request, and
// return what is to be sent or one of the errors that refuse knows.
func add[In, Out any](s *Server, op huma.Operation, handle func(context.Context, *In) (*Out, error)) {
	if op.MaxBodyBytes == 0 {
		op.MaxBodyBytes = maxBody
	}
	op.BodyReadTimeout = bodyLimit
	op.Errors = append(op.Errors, http.StatusInternalServerError)
	if slices.Contains(op.Errors, http.StatusConflict) {
		schema := s.api.OpenAPI().Components.Schemas.Schema(reflect.TypeFor[Conflict](), true, "")
		op.Responses = map[string]*huma.Response{"409": {
			Description: "Somebody else saved in between",
			Content:     map[string]*huma.MediaType{"application/problem+json": {Schema: schema}},
		}}
		op.Errors = slices.DeleteFunc(op.Errors, func(status int) bool { return status == http.StatusConflict })
	}
	huma.Register(s.api, op, func(ctx context.Context, in *In) (*Out, error) {
		out, err := handle(ctx, in)
		if err != nil {
			return nil, s.refuse(ctx, op.OperationID, err)
		}
		return out, nil
	})
}

// operation describes an endpoint; id is its name for programs, errors the statuses it may refuse with
// beside 500 and those of unreadable requests.
func operation(method, path, id, summary string, errors ...int) huma.Operation {
	return huma.Operation{Method: method, Path: path, OperationID: id, Summary: summary, Errors: errors}
}

// Conflict is the answer to a save that was made from a version that is no longer the newest.
type Conflict struct {
	huma.ErrorModel
	Current int `json:"current" doc:"the newest version"`
}

// refuse turns an error of a handler into the answer that says so. What a person cannot help is
// logged and not told.
func (s *Server) refuse(ctx context.Context, operation string, err error) error {
	var conflict *ConflictError
	var problems problem.List
	var status huma.StatusError
	switch {
	case errors.As(err, &status):
		return err
	case errors.As(err, &conflict):
		return &Conflict{Current: conflict.Current, ErrorModel: huma.ErrorModel{
			Title: http.StatusText(http.StatusConflict), Status: http.StatusConflict, Detail: conflict.Error()}}
	case errors.As(err, &problems):
		details := make([]error, len(problems))
		for i, p := range problems {
			details[i] = &huma.ErrorDetail{Message: p.Error(), Location: p.At.Path}
		}
		return huma.Error422UnprocessableEntity("the piece or the shop has problems", details...)
	case errors.Is(err, ErrNotFound):
		return huma.Error404NotFound("there is nothing of that name")
	case errors.Is(err, ErrNoExport):
		return huma.Error404NotFound(ErrNoExport.Error())
	case errors.Is(err, ErrDeleted):
		return huma.Error410Gone(ErrDeleted.Error())
	case ctx.Err() != nil: // the reader has gone away; nobody sees this answer
		return huma.Error503ServiceUnavailable("the request was given up")
	case errors.Is(err, context.DeadlineExceeded):
		s.Log.Warn("took too long", "operation", operation, "error", err)
		return huma.Error503ServiceUnavailable("this took too long and was stopped")
	}
	s.Log.Error("failed", "operation", operation, "error", err)
	return huma.Error500InternalServerError("something failed in the program; its log says what")
}

// writeProblem refuses a request outside of huma.
func writeProblem(w http.ResponseWriter, status int, detail string) {
	w.Header().Set("Content-Type", "application/problem+json")
	w.WriteHeader(status)
	body, err := json.Marshal(huma.ErrorModel{Title: http.StatusText(status), Status: status, Detail: detail})
	if err != nil {
		panic("web: a problem cannot be written: " + err.Error())
	}
	_, _ = w.Write(body) // a reader that has gone away needs no answer
}

// body is an answer with a JSON body.
type body[T any] struct{ Body T }

// file is an answer that is a file as it stands.
type file struct {
	ContentType string `header:"Content-Type"`
	Disposition string `header:"Content-Disposition"`
	Policy      string `header:"Content-Security-Policy"`
	Cache       string `header:"Cache-Control"`
	Body        []byte
}

// filePolicy keeps a file from doing anything when a browser shows it, such as an SVG with a script.
const filePolicy = "default-src 'none'; style-src 'unsafe-inline'; sandbox"

// fileResponse describes an answer of type file for OpenAPI.
func fileResponse(op huma.Operation, contentType string) huma.Operation {
	op.Responses = map[string]*huma.Response{"200": {
		Description: "OK",
		Content: map[string]*huma.MediaType{contentType: {
			Schema: &huma.Schema{Type: huma.TypeString, Format: "binary"}}},
	}}
	return op
}

// download makes a file that a browser saves under a name made from the name of a piece.
func download(pieceName, suffix, contentType string, data []byte) *file {
	return &file{
		ContentType: contentType,
		Disposition: `attachment; filename="` + fileName(pieceName) + suffix + `"`,
		Policy:      filePolicy,
		Cache:       "no-cache",
		Body:        data,
	}
}

// fileName makes a name that is safe in every file system: letters, digits and hyphens.
func fileName(name string) string {
	words := strings.FieldsFunc(strings.ToLower(name), func(r rune) bool {
		return (r < 'a' || r > 'z') && (r < '0' || r > '9')
	})
	safe := strings.Join(words, "-")
	if safe == "" {
		return "piece"
	}
	return safe[:min(len(safe), 60)]
}
