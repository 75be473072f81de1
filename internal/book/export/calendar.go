package export

import (
	"bytes"
	"fmt"
	"hash/fnv"
	"strings"
	"time"
	"unicode/utf8"

	"longgrain/internal/plan"
	"longgrain/internal/work/schedule"
)

// CalendarName is the name of the calendar file.
const CalendarName = "order.ics"

// inCalendar writes the order of work as an iCalendar file (RFC 5545): an event for each stretch in which somebody works, one
// that takes no time of anybody for each wait, with a reminder where clamps come off or rags must be seen to. Times are
// those of the shop's clock without a zone ("floating"), so that every calendar shows them as they stand on paper. Nil
// when no first day is known or nothing could be dated.
//
// The same event keeps its UID when the order is planned again; DTSTAMP is the time that was planned from.
func inCalendar(p plan.Plan) ([]byte, error) {
	s := p.Schedule
	if !s.Dated || s.End.IsZero() {
		return nil, nil
	}
	c := calendar{piece: p.Name, stamp: s.Start.Time}
	if !s.Now.IsZero() {
		c.stamp = s.Now.Time
	}
	c.line("BEGIN", "VCALENDAR")
	c.line("VERSION", "2.0")
	c.line("PRODID", "-//Longgrain//Order of work//EN")
	c.line("CALSCALE", "GREGORIAN")
	c.line("METHOD", "PUBLISH")
	c.line("X-WR-CALNAME", escaped(p.Name))
	for _, t := range s.Tasks {
		switch {
		case t.State == schedule.Done || t.Kind == schedule.Finished && len(s.Tasks) > 1:
		case t.Kind == schedule.Wait:
			if t.End.After(t.Start.Time) {
				c.event(t, 0, schedule.Span{From: t.Start, To: t.End})
			}
		default:
			for n, span := range t.Sittings {
				c.event(t, n, span)
			}
		}
	}
	c.line("END", "VCALENDAR")
	return c.out.Bytes(), nil
}

// calendar writes content lines.
type calendar struct {
	out   bytes.Buffer
	piece string
	stamp time.Time
}

// mostOctets is how long a content line may be, without its end. Source: RFC 5545, 3.1.
const mostOctets = 75

// line writes a content line, folded between letters where it is too long.
func (c *calendar) line(name, value string) {
	text, room := name+":"+value, mostOctets
	for len(text) > room {
		n := room
		for !utf8.RuneStart(text[n]) {
			n--
		}
		c.out.WriteString(text[:n] + "\r\n ")
		text, room = text[n:], mostOctets-1
	}
	c.out.WriteString(text + "\r\n")
}

// escaped writes a text value. Source: RFC 5545, 3.3.11.
func escaped(text string) string {
	return strings.NewReplacer(`\`, `\\`, ";", `\;`, ",", `\,`, "\r\n", `\n`, "\n", `\n`, "\r", `\n`).Replace(text)
}

const (
	floating = "20060102T150405"  // a time of day wherever one is
	utc      = "20060102T150405Z" // stamps have a zone always
)

func (c *calendar) event(t schedule.Task, sitting int, span schedule.Span) {
	name := fnv.New64a()
	fmt.Fprintf(name, "%s|%s|%s|%d", c.piece, t.ID, t.Name, sitting)
	c.line("BEGIN", "VEVENT")
	c.line("UID", fmt.Sprintf("%016x@longgrain", name.Sum64()))
	c.line("DTSTAMP", c.stamp.Format(utc))
	c.line("DTSTART", span.From.Format(floating))
	c.line("DTEND", span.To.Format(floating))
	title := t.Name
	if sitting > 0 {
		title = "go on: " + title
	}
	c.line("SUMMARY", escaped(c.piece+": "+title))
	if about := aboutTask(t); about != "" {
		c.line("DESCRIPTION", escaped(about))
	}
	c.line("CATEGORIES", escaped(string(t.Kind)))
	if t.Kind == schedule.Wait {
		c.line("TRANSP", "TRANSPARENT")
	}
	if (t.Kind == schedule.Scrape || t.Kind == schedule.Rags) && sitting == 0 {
		c.line("BEGIN", "VALARM")
		c.line("ACTION", "DISPLAY")
		c.line("TRIGGER", "PT0S")
		c.line("DESCRIPTION", escaped(title))
		c.line("END", "VALARM")
	}
	c.line("END", "VEVENT")
}

// aboutTask says what a task takes.
func aboutTask(t schedule.Task) string {
	var lines []string
	if t.Work > 0 {
		lines = append(lines, fmt.Sprintf("About %.0f min", float64(t.Work)))
	}
	if t.People > 1 {
		lines = append(lines, fmt.Sprintf("%d people", t.People))
	}
	for _, c := range t.Clamps {
		lines = append(lines, fmt.Sprintf("%d × %s", c.Count, c.Name))
	}
	if t.Critical {
		lines = append(lines, "The end waits for this")
	}
	return strings.Join(append(lines, t.Cautions...), "\n")
}
