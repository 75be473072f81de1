-- What is ticked off, started, stopped and noted at the bench, as it happened. An event keeps the name
-- that the page gave it, so that one sent twice is kept once.

-- +goose Up
CREATE TABLE work_events (
    id       TEXT PRIMARY KEY,
    piece    TEXT NOT NULL REFERENCES documents (id),
    number   INTEGER NOT NULL,        -- order in which the events of the piece arrived, from 1
    recorded INTEGER NOT NULL,
    event    TEXT NOT NULL CHECK (json_valid(event)),
    UNIQUE (piece, number)
) STRICT;

-- +goose StatementBegin
CREATE TRIGGER work_events_stay BEFORE UPDATE ON work_events
BEGIN SELECT RAISE(ABORT, 'a recorded event is never changed'); END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER work_events_remain BEFORE DELETE ON work_events
BEGIN SELECT RAISE(ABORT, 'a recorded event is never removed'); END;
-- +goose StatementEnd
