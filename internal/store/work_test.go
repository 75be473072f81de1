package store

import (
	"errors"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
)

func TestWorkIsKeptInTheOrderInWhichItArrived(t *testing.T) {
	s := openTest(t, t.TempDir())
	ctx := t.Context()
	table := must[Document](t)(s.Pieces().Create(ctx, Draft{"Play table", "longgrain: 1\n", ""}))
	other := must[Document](t)(s.Pieces().Create(ctx, Draft{"Bench", "longgrain: 1\n", ""}))
	events := []WorkEvent{
		{ID: "b", Task: "cut", Name: "cut the boards", Action: "start", At: "2026-10-17T09:00"},
		{ID: "a", Task: "cut", Action: "done", At: "2026-10-17T10:30", Note: "the saw burns; blade is dull"},
	}
	for range 2 { // the page sends again what was not answered
		if err := s.AddWork(ctx, table.ID, events); err != nil {
			t.Fatal(err)
		}
	}
	again := slices.Clone(events[:1])
	again[0].At = "2026-10-17T08:00" // the same event is not changed by another that bears its name
	again = append(again, WorkEvent{ID: "c", Task: "mill-1", Action: "start", At: "2026-10-17T10:30"})
	if err := s.AddWork(ctx, table.ID, again); err != nil {
		t.Fatal(err)
	}
	got := must[[]WorkEvent](t)(s.Work(ctx, table.ID))
	if diff := cmp.Diff(append(slices.Clone(events), again[1]), got, cmpopts.IgnoreFields(WorkEvent{}, "Recorded")); diff != "" {
		t.Error(diff)
	}
	if got[0].Recorded.IsZero() || got[2].Recorded.Before(got[0].Recorded) {
		t.Errorf("recorded at %v and %v", got[0].Recorded, got[2].Recorded)
	}
	if got := must[[]WorkEvent](t)(s.Work(ctx, other.ID)); len(got) != 0 {
		t.Errorf("the bench has %+v", got)
	}
	for _, sql := range []string{"UPDATE work_events SET event = '{}'", "DELETE FROM work_events"} {
		if _, err := s.writing.ExecContext(ctx, sql); err == nil {
			t.Errorf("%q was done", sql)
		}
	}
}

func TestWorkOnNoPieceIsRefused(t *testing.T) {
	s := openTest(t, t.TempDir())
	if err := s.AddWork(t.Context(), "none", []WorkEvent{{ID: "a", Action: "done"}}); !errors.Is(err, ErrNotFound) {
		t.Errorf("added: %v", err)
	}
	if _, err := s.Work(t.Context(), "none"); !errors.Is(err, ErrNotFound) {
		t.Errorf("listed: %v", err)
	}
}
