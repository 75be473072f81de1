// Package problem holds what is wrong with an input: where, what, and how to mend it.
//
// A reader of a piece or shop file collects every problem in a List and goes on, so that a person
// sees all of them at once, in the order of the file. Each problem has a stable code from codes.go.
// Findings about the design (a joint that does not hold) are results, not problems.
package problem

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// Position is a place in an input. Line and Column count from 1; zero means not known. Path names
// the value inside the document, such as "parts[3].length".
type Position struct {
	File   string `json:"file,omitempty"`
	Line   int    `json:"line,omitempty"`
	Column int    `json:"column,omitempty"`
	Path   string `json:"path,omitempty"`
}

// String prints "file:line:column", leaving out what is not known.
func (p Position) String() string {
	s := p.File
	if p.Line > 0 {
		s += fmt.Sprintf(":%d", p.Line)
		if p.Column > 0 {
			s += fmt.Sprintf(":%d", p.Column)
		}
	}
	return s
}

// Problem is one thing wrong with an input.
type Problem struct {
	Code     Code      `json:"code"`
	At       Position  `json:"at"`
	What     string    `json:"what"`               // what is wrong, a clause without a full stop
	Expected string    `json:"expected,omitempty"` // what was expected, where that helps
	Mend     string    `json:"mend"`               // how to mend it
	Also     *Position `json:"also,omitempty"`     // a second place that matters, such as the first use of a name
}

// Error prints the problem in one line for a terminal.
func (p Problem) Error() string {
	var b strings.Builder
	if at := p.At.String(); at != "" {
		b.WriteString(at + ": ")
	}
	if p.At.Path != "" {
		b.WriteString(p.At.Path + ": ")
	}
	b.WriteString(p.What)
	if p.Expected != "" {
		b.WriteString("; expected " + p.Expected)
	}
	if p.Mend != "" {
		b.WriteString("; " + p.Mend)
	}
	if p.Also != nil {
		b.WriteString(" (see also " + p.Also.String() + ")")
	}
	return b.String() + " [" + string(p.Code) + "]"
}

// List collects problems. The zero value is empty and ready. It is an error when it is not empty;
// use Err to get it as one.
type List []Problem

// Add appends a problem.
func (l *List) Add(p Problem) { *l = append(*l, p) }

// Sort orders the problems by file, line, column and code.
func (l List) Sort() {
	slices.SortStableFunc(l, func(a, b Problem) int {
		return cmp.Or(
			cmp.Compare(a.At.File, b.At.File),
			cmp.Compare(a.At.Line, b.At.Line),
			cmp.Compare(a.At.Column, b.At.Column),
			cmp.Compare(a.At.Path, b.At.Path),
			cmp.Compare(a.Code, b.Code),
		)
	})
}

// Err returns the sorted list as an error, or nil when it is empty.
func (l List) Err() error {
	if len(l) == 0 {
		return nil
	}
	l.Sort()
	return l
}

// Error prints every problem on a line of its own.
func (l List) Error() string {
	lines := make([]string, len(l))
	for i, p := range l {
		lines[i] = p.Error()
	}
	return strings.Join(lines, "\n")
}

// Nearest returns the known name most like the given one, or "" when none is close. Close means an
// edit distance of at most a third of the longer name, and at least one edit is always allowed.
func Nearest(name string, known []string) string {
	best, bestDistance := "", 1<<30
	for _, k := range known {
		limit := max(1, max(len(name), len(k))/3)
		if d := editDistance(strings.ToLower(name), strings.ToLower(k)); d <= limit && d < bestDistance {
			best, bestDistance = k, d
		}
	}
	return best
}

// SameName tells whether two names are the same apart from case and from blanks or hyphens between
// their words, as people write them: "Table-saw" and "table saw".
func SameName(a, b string) bool {
	words := func(s string) string {
		return strings.Join(strings.FieldsFunc(s, func(r rune) bool { return r == ' ' || r == '-' }), " ")
	}
	return strings.EqualFold(words(a), words(b))
}

// DidYouMean returns the mend for an unknown name: the nearest known one, or the list of all.
func DidYouMean(name string, known []string) string {
	if near := Nearest(name, known); near != "" {
		return fmt.Sprintf("did you mean %q?", near)
	}
	sorted := slices.Sorted(slices.Values(known))
	if len(sorted) > 12 {
		return "use one of " + strings.Join(sorted[:12], ", ") + ", …"
	}
	return "use one of " + strings.Join(sorted, ", ")
}

// editDistance is the Levenshtein distance with adjacent swaps counted as one edit.
func editDistance(a, b string) int {
	before, above := []int(nil), make([]int, len(b)+1)
	for j := range above {
		above[j] = j
	}
	for i := 1; i <= len(a); i++ {
		row := make([]int, len(b)+1)
		row[0] = i
		for j := 1; j <= len(b); j++ {
			cost := 1
			if a[i-1] == b[j-1] {
				cost = 0
			}
			row[j] = min(above[j]+1, row[j-1]+1, above[j-1]+cost)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				row[j] = min(row[j], before[j-2]+1)
			}
		}
		before, above = above, row
	}
	return above[len(b)]
}
