package web

import (
	"context"
	"net/http"
)

func (s *Server) addPatterns() {
	add(s, operation(http.MethodGet, "/api/patterns", "listPatterns", "List the families of furniture"), s.listPatterns)
	add(s, fileResponse(operation(http.MethodGet, "/api/patterns/{name}/source", "patternSource",
		"Read the script of a family", http.StatusNotFound), "text/plain"), s.patternSource)
}

type patternName struct {
	Name string `path:"name"`
}

func (s *Server) listPatterns(context.Context, *struct{}) (*body[List[PatternInfo]], error) {
	return &body[List[PatternInfo]]{s.Planner.Patterns()}, nil
}

func (s *Server) patternSource(_ context.Context, in *patternName) (*file, error) {
	for _, p := range s.Planner.Patterns() {
		if p.Name == in.Name {
			return &file{ContentType: "text/plain; charset=utf-8", Policy: filePolicy, Cache: "no-cache", Body: []byte(p.Source)}, nil
		}
	}
	return nil, ErrNotFound
}
