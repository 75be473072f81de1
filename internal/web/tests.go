package web

import (
	"context"
	"maps"
	"net/http"
	"slices"

	"github.com/danielgtaylor/huma/v2"

	"longgrain/internal/ground/unit"
)

func (s *Server) addTests() {
	add(s, operation(http.MethodGet, "/api/tests", "listTests", "List the joint tests, each in its newest version"), s.listTests)
	record := operation(http.MethodPost, "/api/tests", "recordTest", "Record a joint test")
	record.DefaultStatus = http.StatusCreated
	add(s, record, s.recordTest)
	correct := operation(http.MethodPost, "/api/tests/{id}/corrections", "correctTest", "Correct a joint test",
		http.StatusNotFound, http.StatusConflict)
	correct.DefaultStatus = http.StatusCreated
	add(s, correct, s.correctTest)
	add(s, operation(http.MethodGet, "/api/tests/{id}/versions", "listTestVersions", "List the versions of a joint test, the newest first",
		http.StatusNotFound), s.listTestVersions)
}

type testID struct {
	ID string `path:"id"`
}

type testCorrection struct {
	ID   string `path:"id"`
	Body Correction
}

func (s *Server) listTests(ctx context.Context, _ *struct{}) (*body[List[JointTest]], error) {
	tests, err := s.Keeper.Tests(ctx)
	return &body[List[JointTest]]{tests}, err
}

func (s *Server) recordTest(ctx context.Context, in *body[NewTest]) (*body[JointTest], error) {
	record, err := readTest(in.Body)
	if err != nil {
		return nil, err
	}
	test, err := s.Keeper.AddTest(ctx, record)
	return &body[JointTest]{test}, err
}

func (s *Server) correctTest(ctx context.Context, in *testCorrection) (*body[JointTest], error) {
	record, err := readTest(in.Body.NewTest)
	if err != nil {
		return nil, err
	}
	test, err := s.Keeper.CorrectTest(ctx, in.ID, in.Body.Base, record)
	return &body[JointTest]{test}, err
}

func (s *Server) listTestVersions(ctx context.Context, in *testID) (*body[List[JointTest]], error) {
	tests, err := s.Keeper.TestVersions(ctx, in.ID)
	return &body[List[JointTest]]{tests}, err
}

// readTest reads the typed values of a test. The error names every one that cannot be read.
func readTest(t NewTest) (TestRecord, error) {
	r := typedReader{}
	record := TestRecord{Group: t.Group, Joint: t.Joint, Species: t.Species, Density: t.Density, Moisture: t.Moisture,
		Glue: t.Glue, CureHours: t.CureHours, Direction: t.Direction, Failure: t.Failure, Note: t.Note,
		Picture: t.Picture, Tested: t.Tested, Withdrawn: t.Withdrawn}
	record.Span = r.optionalLength("body.span", t.Span)
	record.Lever = r.optionalLength("body.lever", t.Lever)
	record.Load = r.force("body.load", t.Load)
	for _, name := range slices.Sorted(maps.Keys(t.Sizes)) {
		if record.Sizes == nil {
			record.Sizes = map[string]Typed{}
		}
		record.Sizes[name] = r.length("body.sizes."+name, t.Sizes[name])
	}
	if len(r.problems) > 0 {
		return TestRecord{}, huma.Error422UnprocessableEntity("the test has values that cannot be read", r.problems...)
	}
	return record, nil
}

// typedReader reads typed values and collects what is wrong with them.
type typedReader struct{ problems []error }

func (r *typedReader) report(at, text, what string) {
	r.problems = append(r.problems, &huma.ErrorDetail{Location: at, Value: text, Message: what})
}

// length reads a positive length.
func (r *typedReader) length(at, text string) Typed {
	l, err := unit.ParseMeasure(text)
	switch {
	case err != nil:
		r.report(at, text, err.Error())
	case l.Length <= 0:
		r.report(at, text, "a length is more than nothing")
	}
	return Typed{Text: text, SI: l.Length.Metres()}
}

func (r *typedReader) optionalLength(at, text string) *Typed {
	if text == "" {
		return nil
	}
	l := r.length(at, text)
	return &l
}

func (r *typedReader) force(at, text string) Typed {
	f, err := unit.ParseForce(text)
	if err != nil {
		r.report(at, text, err.Error())
	}
	return Typed{Text: text, SI: float64(f)}
}
