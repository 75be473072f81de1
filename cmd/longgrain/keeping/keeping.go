// Package keeping lets the server keep what people save in a store: it joins the packages web and
// store, which know nothing of each other. It decides nothing.
package keeping

import (
	"context"
	"errors"
	"fmt"

	"longgrain/internal/store"
	"longgrain/internal/web"
)

// In returns a keeper that keeps everything in the store.
func In(s *store.Store) web.Keeper { return keeper{s} }

type keeper struct{ store *store.Store }

func (k keeper) Pieces() web.Documents { return documents{k.store.Pieces()} }
func (k keeper) Shops() web.Documents  { return documents{k.store.Shops()} }

func (k keeper) AddTest(ctx context.Context, record web.TestRecord) (web.JointTest, error) {
	t, err := k.store.AddTest(ctx, toStore(record))
	return toWeb(t), translate(err)
}

func (k keeper) AddTests(ctx context.Context, records []web.TestRecord) error {
	_, err := k.store.AddTests(ctx, each(records, toStore))
	return translate(err)
}

func (k keeper) CorrectTest(ctx context.Context, id string, base int, record web.TestRecord) (web.JointTest, error) {
	t, err := k.store.CorrectTest(ctx, id, base, toStore(record))
	return toWeb(t), translate(err)
}

func (k keeper) Tests(ctx context.Context) ([]web.JointTest, error) {
	tests, err := k.store.Tests(ctx)
	return each(tests, toWeb), translate(err)
}

func (k keeper) TestVersions(ctx context.Context, id string) ([]web.JointTest, error) {
	tests, err := k.store.TestVersions(ctx, id)
	return each(tests, toWeb), translate(err)
}

func (k keeper) AddWork(ctx context.Context, piece string, events []web.WorkEvent) ([]web.WorkClash, error) {
	clashes, err := k.store.AddWork(ctx, piece, each(events, func(e web.WorkEvent) store.WorkEvent {
		return store.WorkEvent{ID: e.ID, Task: e.Task, Name: e.Name, Action: e.Action, At: e.At, Note: e.Note, By: e.By}
	}))
	return each(clashes, func(c store.Clash) web.WorkClash {
		return web.WorkClash{ID: c.Event.ID, Task: c.Event.Task, Name: c.Event.Name, At: c.Ticked.At, By: c.Ticked.By}
	}), translate(err)
}

func (k keeper) Setting(ctx context.Context, key string) (string, error) {
	value, err := k.store.Setting(ctx, key)
	return value, translate(err)
}

func (k keeper) SetSetting(ctx context.Context, key, value string) error {
	return translate(k.store.SetSetting(ctx, key, value))
}

func (k keeper) Work(ctx context.Context, piece string) ([]web.WorkEvent, error) {
	events, err := k.store.Work(ctx, piece)
	return each(events, func(e store.WorkEvent) web.WorkEvent {
		return web.WorkEvent{ID: e.ID, Task: e.Task, Name: e.Name, Action: e.Action, At: e.At, Note: e.Note, By: e.By}
	}), translate(err)
}

func (k keeper) AddPicture(ctx context.Context, contentType string, data []byte) (string, error) {
	id, err := k.store.AddPicture(ctx, store.Picture{Type: contentType, Data: data})
	return id, translate(err)
}

func (k keeper) Picture(ctx context.Context, id string) (contentType string, data []byte, err error) {
	p, err := k.store.Picture(ctx, id)
	return p.Type, p.Data, translate(err)
}

type documents struct{ kept store.Documents }

func (d documents) Create(ctx context.Context, draft web.Draft) (web.Document, error) {
	doc, err := d.kept.Create(ctx, store.Draft(draft))
	return document(doc), translate(err)
}

func (d documents) Save(ctx context.Context, id string, base int, draft web.Draft) (web.Document, error) {
	doc, err := d.kept.Save(ctx, id, base, store.Draft(draft))
	return document(doc), translate(err)
}

func (d documents) Get(ctx context.Context, id string) (web.Document, error) {
	doc, err := d.kept.Get(ctx, id)
	return document(doc), translate(err)
}

func (d documents) Open(ctx context.Context, id string, version int) (web.Document, error) {
	doc, err := d.kept.Open(ctx, id, version)
	return document(doc), translate(err)
}

func (d documents) Versions(ctx context.Context, id string) ([]web.Document, error) {
	versions, err := d.kept.Versions(ctx, id)
	return each(versions, func(v store.Version) web.Document {
		return document(store.Document{ID: id, Version: v})
	}), translate(err)
}

func (d documents) List(ctx context.Context) ([]web.Document, error) {
	docs, err := d.kept.List(ctx)
	return each(docs, document), translate(err)
}

func (d documents) ListDeleted(ctx context.Context) ([]web.Document, error) {
	docs, err := d.kept.ListDeleted(ctx)
	return each(docs, document), translate(err)
}

func (d documents) Delete(ctx context.Context, id string) error {
	return translate(d.kept.Delete(ctx, id))
}

func (d documents) Restore(ctx context.Context, id string) error {
	return translate(d.kept.Restore(ctx, id))
}

func document(d store.Document) web.Document {
	return web.Document{ID: d.ID, Created: d.Created, Deleted: d.Deleted,
		Version: d.Number, Saved: d.Saved, Draft: web.Draft(d.Draft)}
}

func toWeb(t store.JointTest) web.JointTest {
	r := t.TestRecord
	return web.JointTest{ID: t.ID, Version: t.Version, Recorded: t.Recorded, TestRecord: web.TestRecord{
		Group: r.Group, Joint: r.Joint, Species: r.Species, Count: r.Count, Density: r.Density, Moisture: r.Moisture,
		Sizes: values(r.Sizes, func(v store.Typed) web.Typed { return web.Typed(v) }),
		Glue:  r.Glue, CureHours: r.CureHours, Span: (*web.Typed)(r.Span), Lever: (*web.Typed)(r.Lever),
		Direction: r.Direction, Load: web.Typed(r.Load), Predicted: (*web.Typed)(r.Predicted), Failure: r.Failure, Note: r.Note,
		Picture: r.Picture, Tested: r.Tested, Withdrawn: r.Withdrawn}}
}

func toStore(r web.TestRecord) store.TestRecord {
	return store.TestRecord{
		Group: r.Group, Joint: r.Joint, Species: r.Species, Count: r.Count, Density: r.Density, Moisture: r.Moisture,
		Sizes: values(r.Sizes, func(v web.Typed) store.Typed { return store.Typed(v) }),
		Glue:  r.Glue, CureHours: r.CureHours, Span: (*store.Typed)(r.Span), Lever: (*store.Typed)(r.Lever),
		Direction: r.Direction, Load: store.Typed(r.Load), Predicted: (*store.Typed)(r.Predicted), Failure: r.Failure, Note: r.Note,
		Picture: r.Picture, Tested: r.Tested, Withdrawn: r.Withdrawn}
}

// translate turns the store's kinds of error into those that web knows.
func translate(err error) error {
	var conflict *store.ConflictError
	switch {
	case errors.As(err, &conflict):
		return &web.ConflictError{Current: conflict.Current}
	case errors.Is(err, store.ErrNotFound):
		return fmt.Errorf("%w: %w", web.ErrNotFound, err)
	case errors.Is(err, store.ErrDeleted):
		return fmt.Errorf("%w: %w", web.ErrDeleted, err)
	}
	return err
}

func each[A, B any](from []A, change func(A) B) []B {
	var to []B
	for _, a := range from {
		to = append(to, change(a))
	}
	return to
}

func values[A, B any](from map[string]A, change func(A) B) map[string]B {
	if from == nil {
		return nil
	}
	to := make(map[string]B, len(from))
	for name, a := range from {
		to[name] = change(a)
	}
	return to
}
