package schedule

import (
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"longgrain/examples"
	"longgrain/internal/trial"
)

func at(text string) time.Time {
	x, err := time.Parse("2006-01-02T15:04", text)
	if err != nil {
		panic(err)
	}
	return x
}

// doneUntil ticks off every task of a plan that ends by a time, as planned.
func doneUntil(p Plan, now time.Time) []Record {
	var log []Record
	for _, x := range p.Tasks {
		if x.Kind != Wait && x.Kind != Finished && !x.End.After(now) {
			log = append(log, Record{Task: x.ID, Start: x.Start.Time, End: x.End.Time})
		}
	}
	return log
}

func TestWorkDoneAsPlannedKeepsThePlan(t *testing.T) {
	for _, copies := range []string{"", "copies: 2\n"} {
		in := input(t, examples.PlayTable()+copies, trial.Shop(t, examples.Shop()), "dye-and-oil")
		before := plan(t, in)
		for _, now := range []string{"2026-10-06T08:00", "2026-10-17T13:30", "2026-10-24T14:00", "2026-11-05T23:00", "2026-11-20T12:00"} {
			in.Now, in.Log = at(now), doneUntil(before, at(now))
			after := plan(t, in)
			checkMeans(t, in, after)
			checkOnce(t, after)
			if !after.End.Equal(before.End.Time) && (before.Proven || after.End.After(before.End.Time)) {
				t.Errorf("%q, at %s with %d done: ends %v, before %v; %+v", copies, now, after.Done, after.End, before.End, after.Findings)
			}
			if after.Done != len(in.Log) {
				t.Errorf("%d ticked off, %d known as done", len(in.Log), after.Done)
			}
			for i, x := range after.Tasks {
				switch {
				case x.ID != before.Tasks[i].ID:
					t.Fatalf("%s became %s", before.Tasks[i].ID, x.ID)
				case x.State == Done && x.Kind != Wait && (!x.Start.Equal(before.Tasks[i].Start.Time) || !x.End.Equal(before.Tasks[i].End.Time)):
					t.Errorf("%s was done from %v to %v and is told from %v to %v", x.Name, before.Tasks[i].Start, before.Tasks[i].End, x.Start, x.End)
				case x.State == "" && x.Kind != Wait && x.Kind != Finished && x.Start.Before(in.Now):
					t.Errorf("at %s %s is put at %v", now, x.Name, x.Start)
				}
			}
		}
	}
}

func TestLateWorkMovesTheEnd(t *testing.T) {
	in := demo(t)
	before := plan(t, in)
	in.Now, in.Log = at("2026-10-27T18:00"), doneUntil(before, at("2026-10-17T13:30")) // a week missed
	after := plan(t, in)
	if !after.End.After(before.End.Time) || after.Done != len(in.Log) || !after.Proven {
		t.Errorf("end %v, before %v, %d done, proven %v", after.End, before.End, after.Done, after.Proven)
	}
	if after.Now.IsZero() || len(after.Measured) == 0 {
		t.Errorf("now %v, measured %+v", after.Now, after.Measured)
	}
}

func TestTaskThatWasBegunIsShorter(t *testing.T) {
	in := demo(t)
	before := plan(t, in)
	log := doneUntil(before, at("2026-10-16T12:00"))
	in.Now = at("2026-10-17T10:00")
	in.Log = append(log, Record{Task: "cut", Start: at("2026-10-17T09:00"), Since: at("2026-10-17T09:00")})
	p := plan(t, in)
	cut := taskNamed(t, p, "cut the boards to rough sizes")
	whole := taskNamed(t, before, "cut the boards to rough sizes")
	left := cut.Sittings[0].To.Sub(cut.Sittings[0].From.Time)
	if cut.State != Started || !cut.Start.Equal(at("2026-10-17T09:00")) || cut.Sittings[0].From.Before(in.Now) ||
		left != whole.End.Sub(whole.Start.Time)-time.Hour {
		t.Errorf("%v, from %v, %v left of %v", cut.State, cut.Start, left, whole.End.Sub(whole.Start.Time))
	}
	// Stopped after half an hour: that much less is left, whatever the clock says.
	in.Log[len(in.Log)-1].Since, in.Log[len(in.Log)-1].Worked = time.Time{}, 30
	cut = taskNamed(t, plan(t, in), "cut the boards to rough sizes")
	if left := cut.Sittings[0].To.Sub(cut.Sittings[0].From.Time); left != whole.End.Sub(whole.Start.Time)-30*time.Minute {
		t.Errorf("stopped: %v left", left)
	}
}

func TestLimitThatRanOutIsAFinding(t *testing.T) {
	in := demo(t)
	before := plan(t, in)
	oil := taskNamed(t, before, "put on hardening wax oil, rub dry")
	rags := slices.IndexFunc(before.Tasks, func(x Task) bool { return x.Kind == Rags })
	in.Now = oil.End.Add(3 * time.Hour)
	for _, r := range doneUntil(before, in.Now) {
		if r.Task != before.Tasks[rags].ID {
			in.Log = append(in.Log, r)
		}
	}
	p := plan(t, in)
	if p.End.IsZero() || !slices.ContainsFunc(p.Findings, func(f Finding) bool { return strings.Contains(f.Advice, "catch fire") }) {
		t.Errorf("end %v, findings %+v", p.End, p.Findings)
	}
}

func TestTicksThatDoNotFitAreTold(t *testing.T) {
	in := demo(t)
	in.Now = at("2026-10-20T18:00")
	in.Log = []Record{{Task: "gone-7", End: at("2026-10-17T09:30")}, {Task: "fit", Start: at("2026-10-17T09:00"), End: at("2026-10-17T10:00")}}
	p := plan(t, in)
	text := strings.Join(p.Notes, "\n")
	if p.End.IsZero() || !strings.Contains(text, "no longer in the plan (gone-7)") || !strings.Contains(text, "before it is not") {
		t.Errorf("end %v, %s", p.End, text)
	}
}

func TestWorkBeforeTheFirstDayCounts(t *testing.T) {
	in := demo(t)
	in.Now = at("2026-10-05T20:00")
	in.Log = []Record{{Task: "buy", Start: at("2026-10-02T10:00"), End: at("2026-10-02T11:30"), Note: "the yard had no 1x5"}}
	p := plan(t, in)
	buy := p.Tasks[0]
	if buy.State != Done || buy.Note == "" || !buy.End.Equal(at("2026-10-02T11:30")) || p.Start.After(buy.Start.Time) || p.End.IsZero() {
		t.Errorf("%+v, plan from %v", buy, p.Start)
	}
	if air := taskNamed(t, p, "timber takes on the air of the shop"); !air.Start.Equal(at("2026-10-02T11:30")) {
		t.Errorf("the timber lies from %v", air.Start)
	}
}

func TestEverythingDoneIsDone(t *testing.T) {
	in := demo(t)
	before := plan(t, in)
	in.Now, in.Log = before.End.Add(48*time.Hour), doneUntil(before, before.End.Time)
	p := plan(t, in)
	if !p.End.Equal(before.End.Time) || p.Sessions != before.Sessions {
		t.Errorf("end %v, was %v; %d sessions, were %d", p.End, before.End, p.Sessions, before.Sessions)
	}
}

func TestEventsAreFoldedIntoRecords(t *testing.T) {
	events := []Event{
		{"mill-1", TickOff, at("2026-10-17T12:00"), "good boards"},
		{"mill-1", StartWork, at("2026-10-17T09:00"), ""}, // arrives late: a phone without network
		{"mill-1", StopWork, at("2026-10-17T10:00"), ""},
		{"mill-1", StopWork, at("2026-10-17T10:05"), ""}, // twice
		{"mill-1", StartWork, at("2026-10-17T11:30"), ""},
		{"mill-1", AddNote, at("2026-10-17T12:30"), "sharpen the planer"},
		{"glue-1", StartWork, at("2026-10-20T18:30"), ""},
		{"glue-1", StartWork, at("2026-10-20T18:40"), ""},
		{"fit", TickOff, at("2026-10-20T19:00"), "wrong line"},
		{"fit", TakeBack, at("2026-10-20T19:01"), ""},
		{"test", StopWork, at("2026-10-20T19:00"), ""},
	}
	want := []Record{
		{Task: "mill-1", Start: at("2026-10-17T09:00"), End: at("2026-10-17T12:00"), Worked: 90, Note: "good boards; sharpen the planer"},
		{Task: "glue-1", Start: at("2026-10-20T18:30"), Since: at("2026-10-20T18:30")},
		{Task: "fit", Note: "wrong line"},
		{Task: "test"},
	}
	if diff := cmp.Diff(want, Fold(events)); diff != "" {
		t.Error(diff)
	}
	if Fold(nil) != nil {
		t.Error("nothing is something")
	}
}
