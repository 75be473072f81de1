-- Times are milliseconds since 1970 in UTC. Nothing here is ever overwritten: documents point to
-- their newest version, and the triggers refuse to change or remove a row of history.

-- +goose Up
CREATE TABLE documents (
    id      TEXT PRIMARY KEY,
    kind    TEXT NOT NULL CHECK (kind IN ('piece', 'shop')),
    created INTEGER NOT NULL,
    deleted INTEGER,                -- NULL while the document is in use
    current INTEGER NOT NULL        -- number of the newest version
) STRICT;

CREATE INDEX documents_by_kind ON documents (kind, created, id);

CREATE TABLE document_versions (
    document TEXT NOT NULL REFERENCES documents (id),
    version  INTEGER NOT NULL CHECK (version >= 1),
    name     TEXT NOT NULL,
    text     TEXT NOT NULL,
    note     TEXT NOT NULL,
    saved    INTEGER NOT NULL,
    PRIMARY KEY (document, version)
) STRICT;

CREATE TABLE joint_tests (
    id       TEXT NOT NULL,
    version  INTEGER NOT NULL CHECK (version >= 1),
    recorded INTEGER NOT NULL,
    record   TEXT NOT NULL CHECK (json_valid(record)),
    PRIMARY KEY (id, version)
) STRICT;

CREATE TABLE pictures (
    id    TEXT PRIMARY KEY,         -- SHA-256 of the data, hexadecimal
    type  TEXT NOT NULL,            -- media type
    data  BLOB NOT NULL,
    added INTEGER NOT NULL
) STRICT;

CREATE TABLE settings (
    key   TEXT PRIMARY KEY,
    value TEXT NOT NULL
) STRICT;

-- +goose StatementBegin
CREATE TRIGGER document_versions_stay BEFORE UPDATE ON document_versions
BEGIN SELECT RAISE(ABORT, 'a saved version is never changed'); END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER document_versions_remain BEFORE DELETE ON document_versions
BEGIN SELECT RAISE(ABORT, 'a saved version is never removed'); END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER joint_tests_stay BEFORE UPDATE ON joint_tests
BEGIN SELECT RAISE(ABORT, 'a recorded test is never changed'); END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER joint_tests_remain BEFORE DELETE ON joint_tests
BEGIN SELECT RAISE(ABORT, 'a recorded test is never removed'); END;
-- +goose StatementEnd
