package testlog

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"longgrain/internal/ground/problem"
	"longgrain/internal/ground/unit"
)

// sizePrefix begins the heading of a column with a size of the joint, such as "sizes.diameter".
const sizePrefix = "sizes."

// column is a column of the table of tests: its heading, how a cell is read, how it is written.
type column struct {
	name     string
	required bool
	read     func(cell) func(*Test)
	write    func(Test) string
}

// columns lists the columns in the order in which they are written. The headings are the names of the
// fields in JSON.
var columns = []column{
	{"group", false, text(200, func(t *Test) *string { return &t.Group }), func(t Test) string { return t.Group }},
	{"joint", true, text(200, func(t *Test) *string { return &t.Joint }), func(t Test) string { return t.Joint }},
	{"species", true, text(200, func(t *Test) *string { return &t.Species }), func(t Test) string { return t.Species }},
	{"count", false, readCount, func(t Test) string { return number(float64(t.Count)) }},
	{"density", false, quantity("kg/m³", 1500, func(t *Test) *float64 { return &t.Density }), func(t Test) string { return number(t.Density) }},
	{"moisture", false, quantity("%", 100, func(t *Test) *float64 { return &t.Moisture }), func(t Test) string { return number(t.Moisture) }},
	{"glue", false, text(200, func(t *Test) *string { return &t.Glue }), func(t Test) string { return t.Glue }},
	{"cure_hours", false, quantity("h", 100_000, func(t *Test) *float64 { return &t.CureHours }), func(t Test) string { return number(t.CureHours) }},
	{"span", false, optional(length, func(t *Test) **Typed { return &t.Span }), func(t Test) string { return typed(t.Span) }},
	{"lever", false, optional(length, func(t *Test) **Typed { return &t.Lever }), func(t Test) string { return typed(t.Lever) }},
	{"direction", false, text(200, func(t *Test) *string { return &t.Direction }), func(t Test) string { return t.Direction }},
	{"load", true, readLoad, func(t Test) string { return t.Load.Text }},
	{"predicted", false, optional(force, func(t *Test) **Typed { return &t.Predicted }), func(t Test) string { return typed(t.Predicted) }},
	{"failure", false, readFailure, func(t Test) string { return string(t.Failure) }},
	{"note", false, text(4000, func(t *Test) *string { return &t.Note }), func(t Test) string { return t.Note }},
	{"picture", false, text(64, func(t *Test) *string { return &t.Picture }), func(t Test) string { return t.Picture }},
	{"tested", false, text(40, func(t *Test) *string { return &t.Tested }), func(t Test) string { return t.Tested }},
	{"withdrawn", false, readWithdrawn, func(t Test) string { return map[bool]string{true: "yes"}[t.Withdrawn] }},
}

// Columns returns the headings of the table of tests. Sizes of the joint have further columns, each
// headed "sizes." and the name of the size.
func Columns() []string {
	names := make([]string, len(columns))
	for i, c := range columns {
		names[i] = c.name
	}
	return names
}

// cell is a filled cell that is being read: its text without blanks around it, and how to complain.
type cell struct {
	text   string
	report func(code problem.Code, what, expected, mend string)
}

// The readers below return what the cell does to a test; nil when it cannot be read. A reader is called
// once for each text of a column, however many rows repeat it.

func text(longest int, field func(*Test) *string) func(cell) func(*Test) {
	return func(c cell) func(*Test) {
		if len(c.text) > longest {
			c.report(problem.TooLarge, fmt.Sprintf("is %d bytes long", len(c.text)), fmt.Sprintf("at most %d", longest), "shorten it")
			return nil
		}
		return func(t *Test) { *field(t) = c.text }
	}
}

// quantity reads a number in a fixed unit, which may stand behind it.
func quantity(name string, most float64, field func(*Test) *float64) func(cell) func(*Test) {
	return func(c cell) func(*Test) {
		bare := c.text
		for _, suffix := range []string{name, strings.ReplaceAll(name, "³", "3")} {
			bare = strings.TrimSpace(strings.TrimSuffix(bare, suffix))
		}
		value, err := strconv.ParseFloat(bare, 64)
		switch {
		case err != nil:
			c.report(problem.WrongKind, fmt.Sprintf("%q is not a number in %s", c.text, name), "", "write for example "+number(most/10)+", or leave the cell empty")
			return nil
		case !(value > 0 && value <= most): // also refuses what is not a number
			c.report(problem.OutOfRange, fmt.Sprintf("%q is out of range", c.text), fmt.Sprintf("more than 0 and at most %s %s", number(most), name), "leave the cell empty when it was not measured")
			return nil
		}
		return func(t *Test) { *field(t) = value }
	}
}

func optional(read func(cell) (Typed, bool), field func(*Test) **Typed) func(cell) func(*Test) {
	return func(c cell) func(*Test) {
		value, ok := read(c)
		if !ok {
			return nil
		}
		return func(t *Test) { v := value; *field(t) = &v }
	}
}

// mostCounted is the largest number of pins in one joint that is believed. Judgement.
const mostCounted = 50

func readCount(c cell) func(*Test) {
	n, err := strconv.Atoi(c.text)
	switch {
	case err != nil:
		c.report(problem.WrongKind, fmt.Sprintf("%q is not a whole number", c.text), "", "write how many dowels, screws or biscuits the joint has, such as 2")
		return nil
	case n < 1 || n > mostCounted:
		c.report(problem.OutOfRange, fmt.Sprintf("%d is out of range", n), fmt.Sprintf("1 to %d", mostCounted), "write how many dowels, screws or biscuits one joint has")
		return nil
	}
	return func(t *Test) { t.Count = n }
}

func readLoad(c cell) func(*Test) {
	value, ok := force(c)
	if !ok {
		return nil
	}
	return func(t *Test) { t.Load = value }
}

func readSize(name string) func(cell) func(*Test) {
	return func(c cell) func(*Test) {
		value, ok := length(c)
		if !ok {
			return nil
		}
		return func(t *Test) {
			if t.Sizes == nil {
				t.Sizes = map[string]Typed{}
			}
			t.Sizes[name] = value
		}
	}
}

// length reads a length above nothing, metric or in inches as each cell has it.
func length(c cell) (Typed, bool) {
	m, err := unit.ParseMeasure(c.text)
	var bad *unit.LengthError
	switch {
	case errors.As(err, &bad):
		c.report(problem.BadLength, fmt.Sprintf("%q %s", bad.Text, bad.What), "", bad.Mend)
		return Typed{}, false
	case m.Length <= 0:
		c.report(problem.OutOfRange, fmt.Sprintf("%q is not above nothing", c.text), "", "check the sign")
		return Typed{}, false
	}
	return Typed{Text: c.text, SI: m.Length.Metres()}, true
}

func force(c cell) (Typed, bool) {
	f, err := unit.ParseForce(c.text)
	var bad *unit.ForceError
	if errors.As(err, &bad) {
		c.report(problem.BadForce, fmt.Sprintf("%q %s", bad.Text, bad.What), "", bad.Mend)
		return Typed{}, false
	}
	return Typed{Text: c.text, SI: float64(f)}, true
}

func readFailure(c cell) func(*Test) {
	var known []string
	for _, f := range Failures() {
		if problem.SameName(c.text, string(f)) {
			return func(t *Test) { t.Failure = f }
		}
		known = append(known, string(f))
	}
	c.report(problem.UnknownName, fmt.Sprintf("nothing that gives way is called %q", c.text), "", problem.DidYouMean(c.text, known)+"; details go into the note")
	return nil
}

func readWithdrawn(c cell) func(*Test) {
	switch strings.ToLower(c.text) {
	case "yes", "true", "x", "1":
		return func(t *Test) { t.Withdrawn = true }
	case "no", "false", "0":
		return func(t *Test) { t.Withdrawn = false }
	}
	c.report(problem.WrongKind, fmt.Sprintf("%q is neither yes nor no", c.text), "", "write yes, or leave the cell empty")
	return nil
}

// number prints a number so that it reads back as the same; nothing for 0.
func number(v float64) string {
	if v == 0 {
		return ""
	}
	return strconv.FormatFloat(v, 'f', -1, 64)
}

func typed(v *Typed) string {
	if v == nil {
		return ""
	}
	return v.Text
}
