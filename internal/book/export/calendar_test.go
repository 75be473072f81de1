package export

import (
	"bytes"
	"context"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	ics "github.com/arran4/golang-ical"

	"longgrain/examples"
	"longgrain/internal/plan"
	"longgrain/internal/work/schedule"
	"longgrain/patterns"
)

func planned(t *testing.T, piece, shop string) plan.Plan {
	t.Helper()
	in, problems := plan.Read(plan.Text{Name: "piece", Text: []byte(piece)}, plan.Text{Name: "shop", Text: []byte(shop)}, patterns.All())
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	p, problems := plan.Make(context.Background(), in)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	return p
}

// A library's parser reads the file back, and every event is the task that it was made from.
func TestCalendarIsReadByAnotherParser(t *testing.T) {
	p := planned(t, strings.Replace(examples.PlayTable(), "\nname: ", "\nname: Tisch; für Größe, und noch viel mehr Wörter in einer langen Zeile, ", 1), examples.Shop())
	file, ok, err := Make(p, CalendarName)
	if !ok || err != nil {
		t.Fatal("no calendar")
	}
	read, err := ics.ParseCalendar(bytes.NewReader(file.Data))
	if err != nil {
		t.Fatal(err)
	}
	type key struct{ start, end, title string }
	want := map[key]int{}
	for _, x := range p.Schedule.Tasks {
		spans := x.Sittings
		if x.Kind == schedule.Wait && x.End.After(x.Start.Time) {
			spans = []schedule.Span{{From: x.Start, To: x.End}}
		}
		for n, s := range spans {
			title := x.Name
			if n > 0 {
				title = "go on: " + title
			}
			want[key{s.From.Format(floating), s.To.Format(floating), p.Name + ": " + title}]++
		}
	}
	uids := map[string]bool{}
	for _, e := range read.Events() {
		value := func(p ics.ComponentProperty) string {
			if e.GetProperty(p) == nil {
				t.Fatalf("%s lacks %s", e.Id(), p)
			}
			return e.GetProperty(p).Value
		}
		k := key{value(ics.ComponentPropertyDtStart), value(ics.ComponentPropertyDtEnd), value(ics.ComponentPropertySummary)}
		if want[k] == 0 {
			t.Errorf("nobody planned %+v", k)
		}
		want[k]--
		if uids[e.Id()] || value(ics.ComponentPropertyDtstamp) == "" {
			t.Errorf("the UID %s stands twice, or has no stamp", e.Id())
		}
		uids[e.Id()] = true
		if _, err := e.GetDtStampTime(); err != nil {
			t.Error(err)
		}
	}
	for k, n := range want {
		if n > 0 {
			t.Errorf("%+v is not in the calendar", k)
		}
	}
}

// RFC 5545, 3.1 and 3.6: lines end in CRLF and have at most 75 octets, letters stay whole, and the parts nest.
func TestCalendarKeepsTheRulesOfLines(t *testing.T) {
	p := planned(t, strings.Replace(examples.PlayTable(), "\nname: ", "\nname: ÄÖÜ äöü ßßß ÄÖÜ äöü ßßß ÄÖÜ äöü ßßß ÄÖÜ äöü ßßß ", 1), examples.Shop())
	file, _, _ := Make(p, CalendarName)
	if !bytes.HasSuffix(file.Data, []byte("END:VCALENDAR\r\n")) || bytes.Count(file.Data, []byte("\n")) != bytes.Count(file.Data, []byte("\r\n")) {
		t.Error("a line does not end in CRLF")
	}
	folded := 0
	var open []string
	for _, line := range strings.Split(strings.TrimSuffix(string(file.Data), "\r\n"), "\r\n") {
		if len(line) > 75 || !utf8.ValidString(line) {
			t.Errorf("%d octets, whole letters %v: %q", len(line), utf8.ValidString(line), line)
		}
		if strings.HasPrefix(line, " ") {
			folded++
			continue
		}
		if part, ok := strings.CutPrefix(line, "BEGIN:"); ok {
			open = append(open, part)
		}
		if part, ok := strings.CutPrefix(line, "END:"); ok {
			if len(open) == 0 || open[len(open)-1] != part {
				t.Fatalf("%s ends within %v", part, open)
			}
			open = open[:len(open)-1]
		}
	}
	if folded == 0 || len(open) > 0 {
		t.Errorf("%d folds, open at the end: %v", folded, open)
	}
}

func TestCalendarOfWorkWithoutADayIsNone(t *testing.T) {
	shop := strings.Replace(examples.Shop(), "starts: 2026-10-06\n", "", 1)
	if _, ok, _ := Make(planned(t, examples.PlayTable(), shop), CalendarName); ok {
		t.Error("days that are only counted are in a calendar")
	}
}

func TestCalendarKeepsItsNamesWhenPlannedAgain(t *testing.T) {
	p := planned(t, examples.PlayTable(), examples.Shop())
	before, _, _ := Make(p, CalendarName)
	p.Schedule.Now = schedule.Local{Time: time.Date(2026, 10, 20, 18, 0, 0, 0, time.UTC)}
	p.Schedule.Tasks[0].State = schedule.Done
	after, _, _ := Make(p, CalendarName)
	uids := func(f File) map[string]bool {
		out := map[string]bool{}
		for _, line := range strings.Split(string(f.Data), "\r\n") {
			if strings.HasPrefix(line, "UID:") {
				out[line] = true
			}
		}
		return out
	}
	old := uids(before)
	again := uids(after)
	if len(again) != len(old)-1 {
		t.Errorf("%d events, then %d with one done", len(old), len(again))
	}
	for u := range again {
		if !old[u] {
			t.Errorf("%s is new", u)
		}
	}
	if !bytes.Contains(after.Data, []byte("DTSTAMP:20261020T180000Z")) {
		t.Error("the stamp is not that of planning again")
	}
}
