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
	By     string `json:"by,omitempty"` // the phone that it was done on; empty at the desk
	// Recorded is when the event arrived.
	Recorded time.Time `json:"-"`
}

// Clash is an event that came too late: somebody else had ticked the task off before. The first tick stays.
type Clash struct {
	Event  WorkEvent // as it was sent; of it only a note was kept
	Ticked WorkEvent // the tick that stays
}

// AddWork records events of a piece in the order given. Those whose ID is known are left out, whatever they say. A tick or a start
// of a task that is ticked off already is left out too, and returned, so that two people never overwrite each other unseen. It
// fails with ErrNotFound for a piece that does not exist.
func (s *Store) AddWork(ctx context.Context, piece string, events []WorkEvent) (clashes []Clash, err error) {
	err = s.write(ctx, "record work on piece "+piece, func(tx *sql.Tx) error {
		if _, err := s.Pieces().get(ctx, tx, piece, newestVersion); err != nil {
			return err
		}
		before, err := workOf(ctx, tx, piece)
		if err != nil {
			return err
		}
		ticked := map[string]*WorkEvent{}
		for i := range before {
			tick(ticked, &before[i])
		}
		number := len(before)
		for _, e := range events {
			var known bool
			if err := tx.QueryRowContext(ctx, `SELECT EXISTS (SELECT 1 FROM work_events WHERE id = ?)`, e.ID).Scan(&known); err != nil {
				return err
			}
			if known {
				continue
			}
			if first := ticked[e.Task]; first != nil && (e.Action == "done" || e.Action == "start") {
				clashes = append(clashes, Clash{e, *first})
				if e.Note == "" {
					continue
				}
				e.Action = "note"
			}
			text, err := json.Marshal(e)
			if err != nil {
				return err
			}
			number++
			if _, err := tx.ExecContext(ctx, `INSERT INTO work_events (id, piece, number, recorded, event) VALUES (?, ?, ?, ?, ?)`,
				e.ID, piece, number, toMillis(s.now()), string(text)); err != nil {
				return err
			}
			tick(ticked, &e)
		}
		return nil
	})
	if err != nil {
		return nil, err
	}
	return clashes, nil
}

// tick notes in ticked whether a task is ticked off after an event.
func tick(ticked map[string]*WorkEvent, e *WorkEvent) {
	switch e.Action {
	case "done":
		ticked[e.Task] = e
	case "undo":
		delete(ticked, e.Task)
	}
}

// Work returns the events of a piece in the order in which they arrived.
func (s *Store) Work(ctx context.Context, piece string) ([]WorkEvent, error) {
	what := "list work on piece " + piece
	if _, err := s.Pieces().get(ctx, s.reading, piece, newestVersion); err != nil {
		return nil, fmt.Errorf("%s: %w", what, err)
	}
	events, err := workOf(ctx, s.reading, piece)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", what, err)
	}
	return events, nil
}

// lister reads rows: the reading pool, or a transaction.
type lister interface {
	QueryContext(ctx context.Context, query string, args ...any) (*sql.Rows, error)
}

func workOf(ctx context.Context, q lister, piece string) ([]WorkEvent, error) {
	rows, err := q.QueryContext(ctx, `SELECT id, recorded, event FROM work_events WHERE piece = ? ORDER BY number`, piece)
	if err != nil {
		return nil, err
	}
	return collect(rows, func(rows *sql.Rows) (WorkEvent, error) {
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
}
