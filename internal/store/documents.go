package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"time"
)

// Draft is what a person wants to save.
type Draft struct {
	Name string // what the document is called in lists
	Text string // the whole text of the file
	Note string // why it was changed; may be empty
}

// Version is one saved state of a document. Lists leave Text empty.
type Version struct {
	Number int // from 1
	Draft
	Saved time.Time
}

// Document is a piece or a shop with one of its versions, the newest unless said otherwise.
type Document struct {
	ID      string
	Created time.Time
	Deleted time.Time // when it was put aside; zero while it is in use
	Version
}

// Documents is the part of a store that holds all documents of one kind.
type Documents struct {
	store *Store
	kind  string
}

// Pieces returns the described pieces.
func (s *Store) Pieces() Documents { return Documents{s, "piece"} }

// Shops returns the described shops.
func (s *Store) Shops() Documents { return Documents{s, "shop"} }

// Create saves a new document under a new name of its own, as version 1.
func (d Documents) Create(ctx context.Context, draft Draft) (Document, error) {
	return d.Save(ctx, d.store.newID(), 0, draft)
}

// Save adds a version that was made from version base; base 0 makes the document. It fails with a
// *ConflictError when base is not the newest version, with ErrDeleted when the document was put
// aside and with ErrNotFound. Saving the text and name that the newest version already has adds
// nothing and succeeds, whatever base is, so that a save whose answer was lost can be sent again.
func (d Documents) Save(ctx context.Context, id string, base int, draft Draft) (Document, error) {
	var saved Document
	err := d.store.write(ctx, fmt.Sprintf("save %s %s", d.kind, id), func(tx *sql.Tx) error {
		now := d.store.now()
		newest, err := d.get(ctx, tx, id, newestVersion)
		switch {
		case errors.Is(err, ErrNotFound) && base == 0:
			newest = Document{ID: id, Created: atMillis(now)}
			err = d.insert(ctx, tx, newest)
		case err != nil:
		case !newest.Deleted.IsZero():
			err = ErrDeleted
		case newest.Text == draft.Text && newest.Name == draft.Name:
			saved = newest
			return nil
		case newest.Number != base:
			err = &ConflictError{Base: base, Current: newest.Number}
		}
		if err != nil {
			return err
		}
		saved = newest
		saved.Version = Version{base + 1, draft, atMillis(now)}
		return addVersion(ctx, tx, saved)
	})
	if err != nil {
		return Document{}, err
	}
	return saved, nil
}

// Get returns the newest version of a document, also of one that was put aside.
func (d Documents) Get(ctx context.Context, id string) (Document, error) {
	return d.Open(ctx, id, newestVersion)
}

// Open returns a document in one of its versions, counted from 1.
func (d Documents) Open(ctx context.Context, id string, version int) (Document, error) {
	doc, err := d.get(ctx, d.store.reading, id, version)
	if err != nil {
		return Document{}, fmt.Errorf("open %s %s: %w", d.kind, id, err)
	}
	return doc, nil
}

// List returns the documents in use without their texts, the oldest first.
func (d Documents) List(ctx context.Context) ([]Document, error) {
	return d.list(ctx, `d.deleted IS NULL ORDER BY d.created, d.id`)
}

// ListDeleted returns the documents that were put aside, the last one first, without their texts.
func (d Documents) ListDeleted(ctx context.Context) ([]Document, error) {
	return d.list(ctx, `d.deleted IS NOT NULL ORDER BY d.deleted DESC, d.id`)
}

// Versions returns all versions of a document without their texts, the newest first.
func (d Documents) Versions(ctx context.Context, id string) ([]Version, error) {
	what := fmt.Sprintf("list versions of %s %s", d.kind, id)
	rows, err := d.store.reading.QueryContext(ctx, `
		SELECT v.version, v.name, v.note, v.saved
		FROM document_versions v JOIN documents d ON d.id = v.document
		WHERE d.id = ? AND d.kind = ? ORDER BY v.version DESC`, id, d.kind)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", what, err)
	}
	versions, err := collect(rows, func(rows *sql.Rows) (Version, error) {
		var v Version
		var saved int64
		err := rows.Scan(&v.Number, &v.Name, &v.Note, &saved)
		v.Saved = fromMillis(saved)
		return v, err
	})
	if err == nil && len(versions) == 0 {
		err = ErrNotFound
	}
	if err != nil {
		return nil, fmt.Errorf("%s: %w", what, err)
	}
	return versions, nil
}

// Delete puts a document aside. It keeps all its versions and can be restored. Deleting twice is
// no error.
func (d Documents) Delete(ctx context.Context, id string) error {
	return d.setDeleted(ctx, "delete", id, sql.NullInt64{Int64: toMillis(d.store.now()), Valid: true})
}

// Restore takes a document that was put aside into use again. Restoring twice is no error.
func (d Documents) Restore(ctx context.Context, id string) error {
	return d.setDeleted(ctx, "restore", id, sql.NullInt64{})
}

// setDeleted writes the time of deletion, null for none. A document that already is as wished keeps
// its time.
func (d Documents) setDeleted(ctx context.Context, verb, id string, at sql.NullInt64) error {
	return d.store.write(ctx, fmt.Sprintf("%s %s %s", verb, d.kind, id), func(tx *sql.Tx) error {
		if _, err := d.get(ctx, tx, id, newestVersion); err != nil {
			return err
		}
		_, err := tx.ExecContext(ctx,
			`UPDATE documents SET deleted = ?1 WHERE id = ?2 AND (deleted IS NULL) <> (?1 IS NULL)`, at, id)
		return err
	})
}

// newestVersion asks get for the newest version.
const newestVersion = 0

// queryer is what *sql.DB and *sql.Tx have in common for reading one row.
type queryer interface {
	QueryRowContext(ctx context.Context, query string, args ...any) *sql.Row
}

func (d Documents) get(ctx context.Context, from queryer, id string, version int) (Document, error) {
	doc := Document{ID: id}
	var created, saved int64
	var deleted sql.NullInt64
	err := from.QueryRowContext(ctx, `
		SELECT d.created, d.deleted, v.version, v.name, v.text, v.note, v.saved
		FROM documents d
		JOIN document_versions v ON v.document = d.id AND v.version = CASE ?3 WHEN 0 THEN d.current ELSE ?3 END
		WHERE d.id = ?1 AND d.kind = ?2`, id, d.kind, version).
		Scan(&created, &deleted, &doc.Number, &doc.Name, &doc.Text, &doc.Note, &saved)
	doc.setTimes(created, deleted, saved)
	return doc, known(err)
}

func (d Documents) list(ctx context.Context, whereAndOrder string) ([]Document, error) {
	what := fmt.Sprintf("list %ss", d.kind)
	rows, err := d.store.reading.QueryContext(ctx, `
		SELECT d.id, d.created, d.deleted, v.version, v.name, v.note, v.saved
		FROM documents d JOIN document_versions v ON v.document = d.id AND v.version = d.current
		WHERE d.kind = ? AND `+whereAndOrder, d.kind)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", what, err)
	}
	docs, err := collect(rows, func(rows *sql.Rows) (Document, error) {
		var doc Document
		var created, saved int64
		var deleted sql.NullInt64
		err := rows.Scan(&doc.ID, &created, &deleted, &doc.Number, &doc.Name, &doc.Note, &saved)
		doc.setTimes(created, deleted, saved)
		return doc, err
	})
	if err != nil {
		return nil, fmt.Errorf("%s: %w", what, err)
	}
	return docs, nil
}

func (doc *Document) setTimes(created int64, deleted sql.NullInt64, saved int64) {
	doc.Created, doc.Saved = fromMillis(created), fromMillis(saved)
	if deleted.Valid {
		doc.Deleted = fromMillis(deleted.Int64)
	}
}

// insert makes a document that has no version yet.
func (d Documents) insert(ctx context.Context, tx *sql.Tx, doc Document) error {
	_, err := tx.ExecContext(ctx, `INSERT INTO documents (id, kind, created, current) VALUES (?, ?, ?, 0)`,
		doc.ID, d.kind, toMillis(doc.Created))
	return err
}

// addVersion keeps the version that doc shows and makes it the newest.
func addVersion(ctx context.Context, tx *sql.Tx, doc Document) error {
	_, err := tx.ExecContext(ctx, `
		INSERT INTO document_versions (document, version, name, text, note, saved) VALUES (?, ?, ?, ?, ?, ?)`,
		doc.ID, doc.Number, doc.Name, doc.Text, doc.Note, toMillis(doc.Saved))
	if err != nil {
		return err
	}
	_, err = tx.ExecContext(ctx, `UPDATE documents SET current = ? WHERE id = ?`, doc.Number, doc.ID)
	return err
}

// atMillis rounds a time to what the file keeps, so that what a save returns equals what is read.
func atMillis(t time.Time) time.Time { return fromMillis(toMillis(t)) }

// collect reads all rows and closes them.
func collect[T any](rows *sql.Rows, scan func(*sql.Rows) (T, error)) (all []T, err error) {
	defer func() { err = errors.Join(err, rows.Close()) }()
	for rows.Next() {
		one, err := scan(rows)
		if err != nil {
			return nil, err
		}
		all = append(all, one)
	}
	return all, rows.Err()
}
