package web

import (
	"context"
	"net/http"

	"longgrain/internal/book/learn"
	"longgrain/internal/ground/working"
	"longgrain/internal/paper/svg"
)

// LessonInfo is a lesson with what may be changed about it.
type LessonInfo struct {
	ID     string            `json:"id"`
	Title  string            `json:"title"`
	About  string            `json:"about"`
	Inputs List[LessonInput] `json:"inputs"`
}

// LessonInput is a quantity that a reader changes.
type LessonInput struct {
	Name    string  `json:"name"`
	Title   string  `json:"title"`
	Unit    string  `json:"unit"`
	Min     float64 `json:"min"`
	Max     float64 `json:"max"`
	Step    float64 `json:"step"`
	Default float64 `json:"default"`
}

// LessonBody asks for a lesson at some values; those that are missing are the defaults.
type LessonBody struct {
	Values map[string]float64 `json:"values,omitempty" doc:"by name of the input"`
}

// LessonAnswer is what a lesson says for some values.
type LessonAnswer struct {
	Values  map[string]float64 `json:"values" doc:"as they were used: within their ranges"`
	Says    string             `json:"says"`
	Picture string             `json:"picture" doc:"SVG made by the program"`
	Curve   string             `json:"curve" doc:"SVG made by the program: the answer over the input that matters most"`
	Working List[LessonStep]   `json:"working"`
}

// LessonStep is one step of the working.
type LessonStep struct {
	Title   string       `json:"title"`
	Formula string       `json:"formula"`
	Inputs  List[string] `json:"inputs"`
	Result  string       `json:"result"`
	Source  string       `json:"source"`
	Note    string       `json:"note"`
}

type lessonQuestion struct {
	ID   string `path:"id" maxLength:"40"`
	Body LessonBody
}

func (s *Server) addLessons() {
	add(s, operation(http.MethodGet, "/api/lessons", "listLessons", "The lessons and what may be changed in each"), s.listLessons)
	add(s, operation(http.MethodPost, "/api/lessons/{id}", "makeLesson", "A lesson at some values, with its pictures and its working", http.StatusNotFound), s.lesson)
}

func (s *Server) listLessons(context.Context, *struct{}) (*body[List[LessonInfo]], error) {
	var out List[LessonInfo]
	for _, l := range learn.Lessons() {
		x := LessonInfo{ID: l.ID, Title: l.Title, About: l.About}
		for _, in := range l.Inputs {
			x.Inputs = append(x.Inputs, LessonInput(in))
		}
		out = append(out, x)
	}
	return &body[List[LessonInfo]]{out}, nil
}

func (s *Server) lesson(_ context.Context, in *lessonQuestion) (*body[LessonAnswer], error) {
	a, ok := learn.Make(in.ID, in.Body.Values)
	if !ok {
		return nil, ErrNotFound
	}
	out := LessonAnswer{Values: a.Values, Says: a.Says, Picture: svg.Inline(a.Picture, "picture-", true), Curve: svg.Inline(a.Curve, "curve-", true)}
	for _, step := range a.Working {
		out.Working = append(out.Working, lessonStep(step))
	}
	return &body[LessonAnswer]{out}, nil
}

func lessonStep(s working.Step) LessonStep {
	x := LessonStep{Title: s.Title, Formula: s.Formula, Result: s.Result.String(), Source: s.Cite.String(), Note: s.Note}
	for _, v := range s.Inputs {
		text := v.String()
		if v.Name != "" {
			text += " (" + v.Name + ")"
		}
		if v.Cite.String() != "" {
			text += ", " + v.Cite.String()
		}
		x.Inputs = append(x.Inputs, text)
	}
	return x
}
