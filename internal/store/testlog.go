package store

import (
	"context"
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"
	"time"
)

// Typed is a value as a person typed it, with its unit, beside what it is in SI: newtons for a
// force, metres for a length. The typed text is kept so that a record can be compared with the notes it
// was copied from.
type Typed struct {
	Text string  `json:"text"`
	SI   float64 `json:"si"`
}

// TestRecord is what was noted about one joint broken in the shop's rig. Zero values mean that
// nothing was noted. It is kept as JSON: a new field needs no migration, and none may change its meaning.
type TestRecord struct {
	Group     string           `json:"group,omitempty"`    // tests that belong together, a free name
	Joint     string           `json:"joint"`              // kind of joint
	Species   string           `json:"species"`            // wood of the parts
	Count     int              `json:"count,omitempty"`    // dowels, screws or biscuits in the joint
	Density   float64          `json:"density,omitempty"`  // kg/m³ as tested
	Moisture  float64          `json:"moisture,omitempty"` // moisture content, %
	Sizes     map[string]Typed `json:"sizes,omitempty"`    // named sizes of the joint and its parts
	Glue      string           `json:"glue,omitempty"`
	CureHours float64          `json:"cure_hours,omitempty"` // between gluing and testing
	Span      *Typed           `json:"span,omitempty"`       // between the supports of the rig
	Lever     *Typed           `json:"lever,omitempty"`      // from the load to the joint
	Direction string           `json:"direction,omitempty"`  // how the load acts: open, close, pull, shear
	Load      Typed            `json:"load"`                 // largest load
	Predicted *Typed           `json:"predicted,omitempty"`  // mean load that was worked out when this was recorded
	Failure   string           `json:"failure,omitempty"`    // what gave way
	Note      string           `json:"note,omitempty"`
	Picture   string           `json:"picture,omitempty"` // name of a kept picture
	Tested    string           `json:"tested,omitempty"`  // day of the test as the person wrote it
	Withdrawn bool             `json:"withdrawn,omitempty"`
}

// JointTest is one version of a test in the log.
type JointTest struct {
	ID       string
	Version  int // 1 is the first record, each correction adds one
	Recorded time.Time
	TestRecord
}

// AddTest records a test as version 1.
func (s *Store) AddTest(ctx context.Context, record TestRecord) (JointTest, error) {
	test := JointTest{ID: s.newID(), Version: 1, Recorded: atMillis(s.now()), TestRecord: record}
	err := s.write(ctx, "record joint test", func(tx *sql.Tx) error { return insertTest(ctx, tx, test) })
	if err != nil {
		return JointTest{}, err
	}
	return test, nil
}

// AddTests records tests as version 1, all of them or none, in the order given.
func (s *Store) AddTests(ctx context.Context, records []TestRecord) ([]JointTest, error) {
	tests := make([]JointTest, len(records))
	recorded := atMillis(s.now())
	err := s.write(ctx, "record joint tests", func(tx *sql.Tx) error {
		for i, record := range records {
			tests[i] = JointTest{ID: s.newID(), Version: 1, Recorded: recorded, TestRecord: record}
			if err := insertTest(ctx, tx, tests[i]); err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil {
		return nil, err
	}
	return tests, nil
}

// CorrectTest adds a version that replaces version base of a test in the log; the old one stays
// readable. It fails with a *ConflictError when base is not the newest version, and with ErrNotFound.
func (s *Store) CorrectTest(ctx context.Context, id string, base int, record TestRecord) (JointTest, error) {
	test := JointTest{ID: id, Version: base + 1, Recorded: atMillis(s.now()), TestRecord: record}
	err := s.write(ctx, "correct joint test "+id, func(tx *sql.Tx) error {
		var newest int
		err := tx.QueryRowContext(ctx, `SELECT coalesce(max(version), 0) FROM joint_tests WHERE id = ?`, id).Scan(&newest)
		switch {
		case err != nil:
			return err
		case newest == 0:
			return ErrNotFound
		case newest != base:
			return &ConflictError{Base: base, Current: newest}
		}
		return insertTest(ctx, tx, test)
	})
	if err != nil {
		return JointTest{}, err
	}
	return test, nil
}

// Tests returns the newest version of every test in the order in which they were first recorded.
func (s *Store) Tests(ctx context.Context) ([]JointTest, error) {
	return s.tests(ctx, "list joint tests", `
		SELECT t.id, t.version, t.recorded, t.record
		FROM joint_tests t JOIN joint_tests first ON first.id = t.id AND first.version = 1
		WHERE t.version = (SELECT max(version) FROM joint_tests WHERE id = t.id)
		ORDER BY first.recorded, first.rowid`) // of one table, in its order
}

// TestVersions returns every version of one test, the newest first.
func (s *Store) TestVersions(ctx context.Context, id string) ([]JointTest, error) {
	what := "list versions of joint test " + id
	tests, err := s.tests(ctx, what, `
		SELECT id, version, recorded, record FROM joint_tests WHERE id = ? ORDER BY version DESC`, id)
	if err == nil && len(tests) == 0 {
		err = fmt.Errorf("%s: %w", what, ErrNotFound)
	}
	return tests, err
}

func (s *Store) tests(ctx context.Context, what, query string, args ...any) ([]JointTest, error) {
	rows, err := s.reading.QueryContext(ctx, query, args...)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", what, err)
	}
	tests, err := collect(rows, func(rows *sql.Rows) (JointTest, error) {
		var t JointTest
		var recorded int64
		var record []byte
		err := rows.Scan(&t.ID, &t.Version, &recorded, &record)
		t.Recorded = fromMillis(recorded)
		return t, errors.Join(err, json.Unmarshal(record, &t.TestRecord))
	})
	if err != nil {
		return nil, fmt.Errorf("%s: %w", what, err)
	}
	return tests, nil
}

func insertTest(ctx context.Context, tx *sql.Tx, t JointTest) error {
	record, err := json.Marshal(t.TestRecord)
	if err != nil {
		return err
	}
	_, err = tx.ExecContext(ctx, `INSERT INTO joint_tests (id, version, recorded, record) VALUES (?, ?, ?, ?)`,
		t.ID, t.Version, toMillis(t.Recorded), string(record))
	return err
}
