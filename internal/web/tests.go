package web

import (
	"context"
	"errors"
	"maps"
	"net/http"
	"strconv"
	"sync"

	"github.com/danielgtaylor/huma/v2"

	"longgrain/internal/check/testlog"
	"longgrain/internal/ground/problem"
)

const (
	// maxTable is the largest table of tests that is imported, in bytes: some 100,000 tests.
	maxTable = 16 << 20
	// mostProblems is how many problems of a table are sent; a table of many rows repeats the same few.
	mostProblems = 100
)

func (s *Server) addTests() {
	add(s, operation(http.MethodGet, "/api/tests", "listTests", "List the joint tests, each in its newest version"), s.listTests)
	record := operation(http.MethodPost, "/api/tests", "recordTest", "Record a joint test")
	record.DefaultStatus = http.StatusCreated
	add(s, record, s.recordTest)
	add(s, operation(http.MethodGet, "/api/tests/form", "testForm", "Say what to ask for a joint test"), s.testForm)
	add(s, operation(http.MethodGet, "/api/tests/report", "reportTests", "Say what the joint tests mean",
		http.StatusServiceUnavailable), s.reportTests)
	table := operation(http.MethodPost, "/api/tests/import", "importTests", "Record a table of joint tests: every row, or none when one has a problem")
	table.MaxBodyBytes = maxTable
	add(s, table, s.importTests)
	add(s, fileResponse(operation(http.MethodGet, "/api/tests/log.csv", "exportTests", "Write the joint tests as a table that can be imported"),
		"text/csv"), s.exportTests)
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

type sentTable struct {
	RawBody []byte `contentType:"text/csv"`
}

// testMemory keeps the log, so that it is not read again while a size is dragged. The zero value is ready.
type testMemory struct {
	lock    sync.Mutex
	edition int // of what is kept in the store
	held    int // edition of tests, 0 while they were never read
	tests   []JointTest
	records []TestRecord // of tests
}

// read returns the newest version of every test, and the edition of the log.
func (m *testMemory) read(ctx context.Context, k Keeper) ([]JointTest, int, error) {
	m.lock.Lock()
	defer m.lock.Unlock()
	if m.held != m.edition+1 {
		tests, err := k.Tests(ctx)
		if err != nil {
			return nil, 0, err
		}
		m.tests, m.records, m.held = tests, recordsOf(tests), m.edition+1
	}
	return m.tests, m.held, nil
}

// shop returns a shop with the joints that it broke.
func (m *testMemory) shop(ctx context.Context, k Keeper, text string) (Workshop, error) {
	_, edition, err := m.read(ctx, k)
	m.lock.Lock()
	defer m.lock.Unlock()
	return Workshop{Text: text, Tests: m.records, Edition: edition}, err
}

// changed says that the store holds something else.
func (m *testMemory) changed() {
	m.lock.Lock()
	defer m.lock.Unlock()
	m.edition++
}

func (s *Server) listTests(ctx context.Context, _ *struct{}) (*body[List[LoggedTest]], error) {
	tests, _, err := s.log.read(ctx, s.Keeper)
	if err != nil {
		return nil, err
	}
	out := make([]LoggedTest, len(tests))
	beside := testlog.Beside(testsOf(recordsOf(tests)))
	for i, t := range tests {
		out[i] = LoggedTest{JointTest: t, Number: i + 1, Lacks: beside[i]}
	}
	return &body[List[LoggedTest]]{out}, nil
}

func (s *Server) recordTest(ctx context.Context, in *body[NewTest]) (*body[JointTest], error) {
	record, err := s.readTest(ctx, in.Body)
	if err != nil {
		return nil, err
	}
	test, err := s.Keeper.AddTest(ctx, record)
	s.log.changed()
	return &body[JointTest]{test}, err
}

func (s *Server) correctTest(ctx context.Context, in *testCorrection) (*body[JointTest], error) {
	record, err := s.readTest(ctx, in.Body.NewTest)
	if err != nil {
		return nil, err
	}
	test, err := s.Keeper.CorrectTest(ctx, in.ID, in.Body.Base, record)
	s.log.changed()
	return &body[JointTest]{test}, err
}

func (s *Server) listTestVersions(ctx context.Context, in *testID) (*body[List[JointTest]], error) {
	tests, err := s.Keeper.TestVersions(ctx, in.ID)
	return &body[List[JointTest]]{tests}, err
}

// importTests records a table. Problems of the table are an answer, as those of a piece are.
func (s *Server) importTests(ctx context.Context, in *sentTable) (*body[ImportedTests], error) {
	tests, problems := testlog.Read("table", in.RawBody)
	if n := len(problems); n > 0 {
		return &body[ImportedTests]{ImportedTests{Problems: List[problem.Problem](problems[:min(n, mostProblems)]), More: max(0, n-mostProblems)}}, nil
	}
	records := make([]TestRecord, len(tests))
	for i, t := range tests {
		t.Picture = "" // a picture is kept here or it is none
		records[i] = recordOf(t)
	}
	if err := s.Keeper.AddTests(ctx, records); err != nil {
		return nil, err
	}
	s.log.changed()
	return &body[ImportedTests]{ImportedTests{Added: len(records)}}, nil
}

func (s *Server) exportTests(ctx context.Context, _ *struct{}) (*file, error) {
	tests, _, err := s.log.read(ctx, s.Keeper)
	if err != nil {
		return nil, err
	}
	return download("test-log", ".csv", "text/csv; charset=utf-8", testlog.Write(testsOf(recordsOf(tests)))), nil
}

// readTest reads what a person noted of a test. The error names every field that cannot be read.
func (s *Server) readTest(ctx context.Context, t NewTest) (TestRecord, error) {
	fields := map[string]string{"group": t.Group, "joint": t.Joint, "species": t.Species, "glue": t.Glue, "span": t.Span, "lever": t.Lever,
		"direction": t.Direction, "load": t.Load, "failure": t.Failure, "note": t.Note, "picture": t.Picture, "tested": t.Tested}
	for name, number := range map[string]float64{"count": float64(t.Count), "density": t.Density, "moisture": t.Moisture, "cure_hours": t.CureHours} {
		if number != 0 {
			fields[name] = strconv.FormatFloat(number, 'f', -1, 64)
		}
	}
	if t.Withdrawn {
		fields["withdrawn"] = "yes"
	}
	for name, text := range t.Sizes {
		fields["sizes."+name] = text
	}
	test, problems := testlog.ReadOne(fields)
	var told []error
	for _, p := range problems {
		words := p.What
		if p.Mend != "" {
			words += "; " + p.Mend
		}
		told = append(told, &huma.ErrorDetail{Location: "body." + p.At.Path, Value: fields[p.At.Path], Message: words})
	}
	if t.Picture != "" {
		switch _, _, err := s.Keeper.Picture(ctx, t.Picture); {
		case errors.Is(err, ErrNotFound):
			told = append(told, &huma.ErrorDetail{Location: "body.picture", Value: t.Picture, Message: "there is no such picture; send it first"})
		case err != nil:
			return TestRecord{}, err
		}
	}
	if len(told) > 0 {
		return TestRecord{}, huma.Error422UnprocessableEntity("the test has values that cannot be read", told...)
	}
	return recordOf(test), nil
}

// recordOf returns a test as it is kept, with what the book says of it today.
func recordOf(t testlog.Test) TestRecord {
	r := TestRecord{Group: t.Group, Joint: t.Joint, Species: t.Species, Count: t.Count, Density: t.Density, Moisture: t.Moisture, Glue: t.Glue, CureHours: t.CureHours,
		Span: (*Typed)(t.Span), Lever: (*Typed)(t.Lever), Direction: t.Direction, Load: Typed(t.Load), Predicted: (*Typed)(t.Predicted), Failure: string(t.Failure),
		Note: t.Note, Picture: t.Picture, Tested: t.Tested, Withdrawn: t.Withdrawn}
	for name, v := range t.Sizes {
		if r.Sizes == nil {
			r.Sizes = map[string]Typed{}
		}
		r.Sizes[name] = Typed(v)
	}
	if newtons, _ := testlog.Forecast(t); newtons > 0 {
		r.Predicted = &Typed{Text: strconv.FormatFloat(newtons, 'f', 0, 64) + " N", SI: newtons}
	}
	return r
}

func recordsOf(tests []JointTest) []TestRecord {
	out := make([]TestRecord, len(tests))
	for i, t := range tests {
		out[i] = t.TestRecord
	}
	return out
}

// testsOf returns records as package testlog knows them.
func testsOf(records []TestRecord) []testlog.Test {
	out := make([]testlog.Test, len(records))
	for i, r := range records {
		out[i] = testlog.Test{Group: r.Group, Joint: r.Joint, Species: r.Species, Count: r.Count, Density: r.Density, Moisture: r.Moisture, Glue: r.Glue, CureHours: r.CureHours,
			Span: (*testlog.Typed)(r.Span), Lever: (*testlog.Typed)(r.Lever), Direction: r.Direction, Load: testlog.Typed(r.Load), Predicted: (*testlog.Typed)(r.Predicted),
			Failure: testlog.Failure(r.Failure), Note: r.Note, Picture: r.Picture, Tested: r.Tested, Withdrawn: r.Withdrawn}
		if r.Sizes != nil {
			out[i].Sizes = map[string]testlog.Typed{}
			for name, v := range maps.All(r.Sizes) {
				out[i].Sizes[name] = testlog.Typed(v)
			}
		}
	}
	return out
}
