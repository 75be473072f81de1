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
		if _, err := s.AddWork(ctx, table.ID, events); err != nil {
			t.Fatal(err)
		}
	}
	again := slices.Clone(events[:1])
	again[0].At = "2026-10-17T08:00" // the same event is not changed by another that bears its name
	again = append(again, WorkEvent{ID: "c", Task: "mill-1", Action: "start", At: "2026-10-17T10:30"})
	if _, err := s.AddWork(ctx, table.ID, again); err != nil {
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
	if _, err := s.AddWork(t.Context(), "none", []WorkEvent{{ID: "a", Action: "done"}}); !errors.Is(err, ErrNotFound) {
		t.Errorf("added: %v", err)
	}
	if _, err := s.Work(t.Context(), "none"); !errors.Is(err, ErrNotFound) {
		t.Errorf("listed: %v", err)
	}
}

func TestATickOfWhatIsTickedOffIsToldAndNotKept(t *testing.T) {
	s := openTest(t, t.TempDir())
	ctx := t.Context()
	table := must[Document](t)(s.Pieces().Create(ctx, Draft{"Play table", "longgrain: 1\n", ""}))
	add := func(events ...WorkEvent) []Clash { return must[[]Clash](t)(s.AddWork(ctx, table.ID, events)) }
	first := WorkEvent{ID: "a", Task: "cut", Action: "done", At: "2026-10-17T10:30", By: "phone 1"}
	if got := add(first); len(got) != 0 {
		t.Errorf("the first tick clashes: %+v", got)
	}
	late := WorkEvent{ID: "b", Task: "cut", Action: "done", At: "2026-10-17T10:10", By: "phone 2", Note: "knot in board 3"}
	got := add(late, WorkEvent{ID: "c", Task: "cut", Action: "start", At: "2026-10-17T10:40"}, WorkEvent{ID: "d", Task: "mill-1", Action: "done", At: "2026-10-17T11:00"})
	if len(got) != 2 || got[0].Event.ID != "b" || got[0].Ticked.At != first.At || got[0].Ticked.By != "phone 1" || got[1].Event.ID != "c" {
		t.Errorf("%+v", got)
	}
	if got := add(first); len(got) != 0 {
		t.Errorf("the same tick sent twice clashes with itself: %+v", got)
	}
	var kept []string
	for _, e := range must[[]WorkEvent](t)(s.Work(ctx, table.ID)) {
		kept = append(kept, e.ID+" "+e.Action+" "+e.Note)
	}
	if want := []string{"a done ", "b note knot in board 3", "d done "}; !slices.Equal(kept, want) {
		t.Errorf("kept %q, want %q", kept, want)
	}
	if got := add(WorkEvent{ID: "e", Task: "cut", Action: "undo", At: "2026-10-17T12:00"}, WorkEvent{ID: "f", Task: "cut", Action: "done", At: "2026-10-17T12:30"}); len(got) != 0 {
		t.Errorf("a task that was taken back cannot be ticked off again: %+v", got)
	}
}
