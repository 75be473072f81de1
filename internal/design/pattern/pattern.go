// Package pattern runs the scripts of furniture families: a script declares its sizes and turns them
// into parts and connections.
//
// A script is Starlark without files, network or clock. It runs inside bounds on steps and on memory
// (see guard.go), so that a broken or endless script is an error with its line and never harm. What comes
// out is a piece with parts and connections, in the same form as one written out by hand; the package
// does not place parts in space and judges no strength. docs/patterns.md describes the language.
package pattern

import (
	"fmt"
	"slices"
	"strings"

	"longgrain/internal/design/piece"
	"longgrain/internal/ground/problem"
	"longgrain/internal/ground/strict"
	"longgrain/internal/ground/unit"
)

// Script is the text of a pattern.
type Script struct {
	Name string // as in piece files: "leg-and-apron-table"
	Text string
}

// Library holds the patterns that are known, in order of name.
type Library []Script

// Find returns the script of a name.
func (l Library) Find(name string) (Script, bool) {
	for _, s := range l {
		if s.Name == name {
			return s, true
		}
	}
	return Script{}, false
}

// Names returns the names of all patterns.
func (l Library) Names() []string {
	names := make([]string, len(l))
	for i, s := range l {
		names[i] = s.Name
	}
	slices.Sort(names)
	return names
}

// SizeKind says what a size of a pattern is.
type SizeKind string

// The kinds of size.
const (
	LengthSize SizeKind = "length"
	CountSize  SizeKind = "count"
	ChoiceSize SizeKind = "choice"
	YesNoSize  SizeKind = "yes or no"
)

// Size is a size that a pattern declares, together with the value it has in one piece.
type Size struct {
	Name    string   `json:"name"`
	Title   string   `json:"title"` // short, for a form
	Kind    SizeKind `json:"kind"`
	Help    string   `json:"help"`
	Choices []string `json:"choices,omitempty"`

	Default, Low, High unit.Measure // of a length
	DefaultCount       int          // of a count
	LowCount           int
	HighCount          int
	DefaultText        string // of a choice; "yes" or "no" of a yes-or-no

	Length unit.Measure // value of a length
	Count  int          // value of a count
	Text   string       // value of a choice or a yes-or-no
	Given  bool         // the piece gives it; otherwise it is the default
}

// Info is what a pattern says of itself.
type Info struct {
	Name  string
	Title string
	Help  string
	Use   string
	Sizes []Size
}

// Describe returns what a pattern declares, with default values.
func Describe(s Script) (Info, problem.List) {
	var problems problem.List
	program, ok := load(s, problem.Position{File: s.Name}, &problems)
	if !ok {
		return Info{Name: s.Name}, problems
	}
	return program.info, problems
}

// Check returns what is wrong with the pattern and the sizes that a piece names, without working the pattern out. It serves
// to tell all faults of a file at once when others stand in the way of Expand.
func Check(p piece.Piece, library Library) problem.List {
	var problems problem.List
	if p.Pattern == "" {
		return nil
	}
	script, ok := find(p, library, &problems)
	if !ok {
		return problems
	}
	if program, ok := load(script, p.At("pattern"), &problems); ok {
		readSizes(p.Sizes.ReportTo(&problems), program.info.Sizes)
	}
	return problems
}

// find returns the script that a piece names.
func find(p piece.Piece, library Library, problems *problem.List) (Script, bool) {
	script, ok := library.Find(p.Pattern)
	if !ok {
		problems.Add(problem.Problem{Code: problem.UnknownName, At: p.At("pattern"),
			What: fmt.Sprintf("there is no pattern %q", p.Pattern), Mend: problem.DidYouMean(p.Pattern, library.Names())})
	}
	return script, ok
}

// Expand works out the pattern of a piece: it returns the piece with the pattern's parts and connections
// before those that the piece writes out itself, and the sizes with their values. A piece without
// a pattern comes back as it is.
func Expand(p piece.Piece, library Library) (piece.Piece, Info, problem.List) {
	var problems problem.List
	if p.Pattern == "" {
		return p, Info{}, nil
	}
	script, ok := find(p, library, &problems)
	if !ok {
		return p, Info{}, problems
	}
	program, ok := load(script, p.At("pattern"), &problems)
	if !ok {
		return p, Info{}, problems
	}
	info := program.info
	info.Sizes = readSizes(p.Sizes.ReportTo(&problems), info.Sizes)
	if len(problems) > 0 {
		problems.Sort()
		return p, info, problems
	}
	made, ok := program.build(info.Sizes, p.At("sizes"), &problems)
	if !ok {
		return p, info, problems
	}
	if p.Use == "" {
		p.Use = info.Use
	}
	from := func(made, written int, list string) []string {
		out := slices.Repeat([]string{"pattern"}, made)
		for i := range written {
			out = append(out, fmt.Sprintf("%s[%d]", list, i))
		}
		return out
	}
	p = p.From(from(len(made.parts), len(p.Parts), "parts"), from(len(made.connections), len(p.Connections), "connections"))
	p.Parts = append(made.parts, p.Parts...)
	p.Connections = append(made.connections, p.Connections...)
	checkNames(p, len(made.parts), &problems)
	problems.Sort()
	return p, info, problems
}

// readSizes gives each declared size the value that the piece writes for it, or its default. The
// value's own reader reports what is wrong.
func readSizes(given strict.Value, declared []Size) []Size {
	sizes := slices.Clone(declared)
	if !given.Here() {
		return sizes
	}
	fields := given.Fields()
	for i := range sizes {
		s := &sizes[i]
		v := fields.Optional(s.Name)
		if !v.Here() {
			continue
		}
		s.Given = true
		switch s.Kind {
		case LengthSize:
			if m, ok := v.Length(s.Low.Length, s.High.Length); ok {
				s.Length = m
			}
		case CountSize:
			if n, ok := v.Int(s.LowCount, s.HighCount); ok {
				s.Count = n
			}
		case ChoiceSize:
			if text, ok := v.Choice(s.Name, s.Choices); ok {
				s.Text = text
			}
		case YesNoSize:
			if yes, ok := v.Bool(); ok {
				s.Text = yesNo(yes)
			}
		}
	}
	fields.Done()
	return sizes
}

func yesNo(yes bool) string {
	if yes {
		return "yes"
	}
	return "no"
}

// checkNames reports parts that the piece writes out under a name that the pattern uses too.
func checkNames(p piece.Piece, made int, problems *problem.List) {
	seen := map[string]bool{}
	for i, part := range p.Parts {
		if i < made {
			if seen[part.Name] {
				problems.Add(problem.Problem{Code: problem.BadPattern, At: p.At("pattern"),
					What: fmt.Sprintf("the pattern makes two parts named %q", part.Name), Mend: "give each part a name of its own in the script"})
			}
		} else if seen[part.Name] {
			problems.Add(problem.Problem{Code: problem.DuplicateName, At: p.At(fmt.Sprintf("parts[%d].name", i)),
				What: fmt.Sprintf("the pattern already makes a part named %q", part.Name), Mend: "choose another name"})
		}
		seen[part.Name] = true
	}
}

// titleOf makes a form title of a name: "leg_thickness" becomes "Leg thickness".
func titleOf(name string) string {
	s := strings.ReplaceAll(name, "_", " ")
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}
