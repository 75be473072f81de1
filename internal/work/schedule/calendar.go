package schedule

import (
	"fmt"
	"time"

	"longgrain/internal/ground/unit"
	"longgrain/internal/solve/project"
	"longgrain/internal/trade/shop"
)

// Slot is the grain of time: every task starts on a quarter of an hour. Judgement: finer than anyone plans an evening.
const Slot unit.Minutes = 15

const (
	slotsADay = 24 * 60 / int(Slot)
	// The yard is taken to be open from Monday to Saturday between these hours. Assumed.
	yardOpens, yardCloses = 9 * 60 / int(Slot), 17 * 60 / int(Slot)
)

// Local is a date and time on the clock of the shop, without a zone; changes of summer time are not counted.
type Local struct{ time.Time }

// MarshalJSON writes the time as "2026-10-10T09:00", and null for the zero time.
func (l Local) MarshalJSON() ([]byte, error) {
	if l.IsZero() {
		return []byte("null"), nil
	}
	return []byte(l.Format(`"2006-01-02T15:04"`)), nil
}

// UnmarshalJSON reads what MarshalJSON writes.
func (l *Local) UnmarshalJSON(text []byte) error {
	if string(text) == "null" {
		*l = Local{}
		return nil
	}
	t, err := time.Parse(`"2006-01-02T15:04"`, string(text))
	if err != nil {
		return fmt.Errorf("schedule: %w", err)
	}
	*l = Local{t}
	return nil
}

// Date prints the day in words: "Saturday 10 October".
func (l Local) Date() string { return l.Format("Monday 2 January") }

// DateFrom prints the date, with the year when it is not that of the start: "Monday 3 January 2028".
func (l Local) DateFrom(start Local) string {
	if l.Year() == start.Year() {
		return l.Date()
	}
	return l.Format("Monday 2 January 2006")
}

// Clock prints the time of day: "9:00".
func (l Local) Clock() string { return fmt.Sprintf("%d:%02d", l.Hour(), l.Minute()) }

// undated is the Monday from which days are counted when nobody says when work begins.
var undated = time.Date(2001, time.January, 1, 0, 0, 0, 0, time.UTC)

// Air returns the weather that gluing and finishing are planned for: that of the month in which work starts where the
// shop gives twelve months and a date, else the coldest, in which everything takes longest.
func Air(s shop.Shop, start time.Time) shop.Weather {
	w := s.Workshop.Weather
	if len(w) == 0 {
		return shop.Weather{Name: "not given", Humidity: 50, Temperature: 20} // what the tables of glue and finish are for
	}
	if start.IsZero() {
		start = s.Calendar.Starts
	}
	if len(w) == 12 && !start.IsZero() {
		return w[start.Month()-1]
	}
	coldest := w[0]
	for _, x := range w[1:] {
		if x.Temperature < coldest.Temperature {
			coldest = x
		}
	}
	return coldest
}

// clock turns the hours of the shop into slots counted from midnight of the first day.
type clock struct {
	first time.Time
	days  int
	open  project.Calendar // sessions of the shop
	yard  project.Calendar
}

// newClock lays out the calendar of a number of days.
func newClock(c shop.Calendar, first time.Time, days int) clock {
	k := clock{first: first, days: days, open: project.Calendar{Name: "sessions"}, yard: project.Calendar{Name: "yard hours"}}
	holiday := map[time.Time]bool{}
	for _, h := range c.Holidays {
		holiday[h] = true
	}
	for d := range days {
		day := first.AddDate(0, 0, d)
		if holiday[day] {
			continue
		}
		base := d * slotsADay
		for _, w := range c.Windows {
			from, to := (int(w.From)+int(Slot)-1)/int(Slot), int(w.To)/int(Slot)
			if w.Day == day.Weekday() && to > from {
				k.open.Windows = append(k.open.Windows, project.Window{First: base + from, End: base + to})
			}
		}
		if day.Weekday() != time.Sunday {
			k.yard.Windows = append(k.yard.Windows, project.Window{First: base + yardOpens, End: base + yardCloses})
		}
	}
	return k
}

// at returns the time at which a slot begins.
func (k clock) at(slot int) Local {
	return Local{k.first.Add(time.Duration(slot) * time.Duration(Slot) * time.Minute)}
}

// sessionsAWeek returns the slots of an ordinary week, its longest and its shortest session.
func sessionsAWeek(c shop.Calendar) (week, longest, shortest int) {
	for _, w := range c.Windows {
		n := int(w.To)/int(Slot) - (int(w.From)+int(Slot)-1)/int(Slot)
		if n <= 0 {
			continue
		}
		week += n
		longest = max(longest, n)
		if shortest == 0 || n < shortest {
			shortest = n
		}
	}
	return week, longest, shortest
}

// reachable tells whether the sessions of the shop allow a second task to begin between least and most slots after the end
// of a first one, given how long both take.
func reachable(c shop.Calendar, first, second, least, most int) bool {
	const weeks = 2
	k := newClock(shop.Calendar{Windows: c.Windows}, undated, 7*weeks+1)
	for _, w := range k.open.Windows {
		if w.First >= 7*slotsADay || w.End-w.First < first {
			continue
		}
		for _, v := range k.open.Windows {
			earliest, latest := v.First-w.End, v.End-second-w.First-first
			if v == w {
				earliest = 0
			}
			if v.First >= w.First && v.End-v.First >= second && max(earliest, least) <= min(latest, most) {
				return true
			}
		}
	}
	return false
}
