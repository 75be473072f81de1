package store

import (
	"context"
	"database/sql"
	"encoding/json"
	"fmt"
	"time"
)

// WorkEvent is what somebody did with a task at the bench. It is kept as JSON: a new field needs no migration, and none may
// change its meaning.
type WorkEvent struct {
	ID     string `json:"-"`    // given by the page, so that an event sent twice is kept once
	Task   string `json:"task"` // ID of the task in the order of work
	Name   string `json:"name,omitempty"`
	Action string `json:"action"` // start, stop, done, undo, note
	At     string `json:"at"`     // on the clock of the shop: "2026-10-20T18:30"
	Note   string `json:"note,omitempty"`
	// Recorded is when the event arrived.
	Recorded time.Time `json:"-"`
}

// AddWork records events of a piece in the order given. Those whose ID is known are left out, whatever they say. It fails with
// ErrNotFound for a piece that does not exist.
func (s *Store) AddWork(ctx context.Context, piece string, events []WorkEvent) error {
	return s.write(ctx, "record work on piece "+piece, func(tx *sql.Tx) error {
		if _, err := s.Pieces().get(ctx, tx, piece, newestVersion); err != nil {
			return err
		}
		var number int
		if err := tx.QueryRowContext(ctx, `SELECT coalesce(max(number), 0) FROM work_events WHERE piece = ?`, piece).Scan(&number); err != nil {
			return err
		}
		for _, e := range events {
			text, err := json.Marshal(e)
			if err != nil {
				return err
			}
			result, err := tx.ExecContext(ctx, `INSERT INTO work_events (id, piece, number, recorded, event) VALUES (?, ?, ?, ?, ?) ON CONFLICT (id) DO NOTHING`,
				e.ID, piece, number+1, toMillis(s.now()), string(text))
			if err != nil {
				return err
			}
			added, err := result.RowsAffected()
			if err != nil {
				return err
			}
			number += int(added)
		}
		return nil
	})
}

// Work returns the events of a piece in the order in which they arrived.
func (s *Store) Work(ctx context.Context, piece string) ([]WorkEvent, error) {
	what := "list work on piece " + piece
	if _, err := s.Pieces().get(ctx, s.reading, piece, newestVersion); err != nil {
		return nil, fmt.Errorf("%s: %w", what, err)
	}
	rows, err := s.reading.QueryContext(ctx, `SELECT id, recorded, event FROM work_events WHERE piece = ? ORDER BY number`, piece)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", what, err)
	}
	events, err := collect(rows, func(rows *sql.Rows) (WorkEvent, error) {
		var e WorkEvent
		var recorded int64
		var text []byte
		err := rows.Scan(&e.ID, &recorded, &text)
		if err == nil {
			err = json.Unmarshal(text, &e)
		}
		e.Recorded = fromMillis(recorded)
		return e, err
	})
	if err != nil {
		return nil, fmt.Errorf("%s: %w", what, err)
	}
	return events, nil
}
