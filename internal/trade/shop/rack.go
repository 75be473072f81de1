package shop

import (
	"bytes"
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strings"

	"longgrain/internal/ground/strict"
	"longgrain/internal/ground/unit"
	"longgrain/internal/trade/wood"
)

// RackChange is what a job does to the timber on hand.
type RackChange struct {
	Take []Taken // boards and offcuts that are cut up
	Put  []Board // what stays over, put among the offcuts; a name that is empty or in use is made
}

// Taken is a number of boards of one name.
type Taken struct {
	Name  string `json:"name"`
	Count int    `json:"count"`
}

// ChangeRack returns the text of a shop file with the timber on hand as it is after a job. Everything else in the file stays
// as it was written, comments too; only boards that change are written anew. The text must be a shop file without
// problems. It fails when a board that is taken is not on hand.
func ChangeRack(text []byte, c RackChange) ([]byte, error) {
	f, s, err := readWhole(text)
	if err != nil {
		return nil, err
	}
	boards, offcuts := newShelf("boards", f.Boards, s.Boards), newShelf("offcuts", f.Offcuts, s.Offcuts)
	for _, t := range c.Take {
		if !boards.take(t) && !offcuts.take(t) {
			return nil, fmt.Errorf("there are not %d boards named %q on hand", t.Count, t.Name)
		}
	}
	used := map[string]bool{}
	for _, b := range slices.Concat(s.Boards, s.Offcuts) {
		used[b.Name] = true
	}
	for _, b := range c.Put {
		base := b.Name
		if base == "" {
			base = "rest"
		}
		for n := 2; b.Name == "" || used[b.Name]; n++ {
			b.Name = fmt.Sprintf("%s %d", base, n)
		}
		used[b.Name] = true
		offcuts.put(fileOf(b, s.Family))
	}
	return checked(offcuts.write(boards.write(text)), s)
}

// ChangeDefects returns the text of a shop file with the defects of one board on hand replaced.
func ChangeDefects(text []byte, name string, defects []Defect) ([]byte, error) {
	f, s, err := readWhole(text)
	if err != nil {
		return nil, err
	}
	for _, on := range []struct {
		shelf *shelf
		hand  []Board
	}{{newShelf("boards", f.Boards, s.Boards), s.Boards}, {newShelf("offcuts", f.Offcuts, s.Offcuts), s.Offcuts}} {
		i := slices.IndexFunc(on.hand, func(b Board) bool { return b.Name == name })
		if i < 0 {
			continue
		}
		e := &on.shelf.entries[i]
		family := e.file.Length.Family
		e.file.Name, e.changed = name, true
		e.file.Defects = defectFiles(defects, on.hand[i].Width, family)
		return checked(on.shelf.write(text), s)
	}
	return nil, fmt.Errorf("there is no board named %q on hand", name)
}

// PutBoard returns the text of a shop file with one more board on hand.
func PutBoard(text []byte, b Board) ([]byte, error) {
	f, s, err := readWhole(text)
	if err != nil {
		return nil, err
	}
	boards := newShelf("boards", f.Boards, s.Boards)
	boards.put(fileOf(b, s.Family))
	return checked(boards.write(text), s)
}

// readWhole reads a shop file both as written and as understood.
func readWhole(text []byte) (File, Shop, error) {
	s, problems := Parse("shop", text)
	if len(problems) > 0 {
		return File{}, s, problems
	}
	r := reader{}
	root := strict.Read("shop", text, &r.problems)
	root.Decode(&r.file)
	return r.file, s, nil
}

// checked returns the text when it is still a shop file that says the same beside the boards.
func checked(text []byte, before Shop) ([]byte, error) {
	after, problems := Parse("shop", text)
	if len(problems) > 0 {
		return nil, problems
	}
	if after.Name != before.Name || len(after.Timber) != len(before.Timber) || len(after.Tools) != len(before.Tools) {
		return nil, errors.New("the file is written in a way that its boards cannot be changed in; write boards and offcuts as lists with a dash")
	}
	return text, nil
}

// shelf is the list of boards or of offcuts in a file.
type shelf struct {
	key     string
	entries []entry
}

type entry struct {
	file    BoardFile
	name    string
	changed bool
	gone    bool
	fresh   bool
}

func newShelf(key string, files []BoardFile, hand []Board) *shelf {
	s := &shelf{key: key}
	for i, f := range files {
		s.entries = append(s.entries, entry{file: f, name: hand[i].Name})
	}
	return s
}

func (s *shelf) take(t Taken) bool {
	for i := range s.entries {
		e := &s.entries[i]
		if e.name != t.Name || e.gone || max(1, e.file.Count) < t.Count {
			continue
		}
		e.changed = true
		e.file.Name, e.file.Count = e.name, max(1, e.file.Count)-t.Count
		e.gone = e.file.Count == 0
		return true
	}
	return false
}

func (s *shelf) put(f BoardFile) {
	s.entries = append(s.entries, entry{file: f, name: f.Name, fresh: true})
}

// topKey begins a key of the document itself.
var topKey = regexp.MustCompile(`^[A-Za-z_][\w-]*:`)

// write returns the text with the list as it is now. Entries that did not change keep their text where the list is written with
// a dash for each; else the whole list is written anew.
func (s *shelf) write(text []byte) []byte {
	if !slices.ContainsFunc(s.entries, func(e entry) bool { return e.changed || e.fresh }) {
		return text
	}
	lines := strings.SplitAfter(string(text), "\n")
	if lines[len(lines)-1] == "" {
		lines = lines[:len(lines)-1]
	} else {
		lines[len(lines)-1] += "\n"
	}
	from := slices.IndexFunc(lines, func(l string) bool { return strings.HasPrefix(l, s.key+":") })
	var out bytes.Buffer
	join := func(list []string) {
		for _, l := range list {
			out.WriteString(l)
		}
	}
	if from < 0 {
		join(lines)
		out.WriteString("\n" + s.key + ":\n")
		s.writeEntries(&out, nil, "  ")
		return out.Bytes()
	}
	to := from + 1
	for to < len(lines) && !topKey.MatchString(lines[to]) && !strings.HasPrefix(lines[to], "---") {
		to++
	}
	for to > from+1 && (strings.TrimSpace(lines[to-1]) == "" || strings.HasPrefix(lines[to-1], "#")) {
		to-- // what stands above the next key belongs to it
	}
	join(lines[:from])
	head, indent, chunks := splitList(lines[from:to])
	if len(chunks) != len(s.entries)-s.count(func(e entry) bool { return e.fresh }) {
		head, indent, chunks = []string{s.key + ":\n"}, "  ", nil
	}
	if s.count(func(e entry) bool { return !e.gone }) == 0 {
		out.WriteString(s.key + ": []\n")
	} else {
		join(head)
		s.writeEntries(&out, chunks, indent)
	}
	join(lines[to:])
	return out.Bytes()
}

func (s *shelf) count(is func(entry) bool) int {
	n := 0
	for _, e := range s.entries {
		if is(e) {
			n++
		}
	}
	return n
}

// splitList splits the lines of a list into the line of its key with comments below it and the lines of each entry.
func splitList(lines []string) (head []string, indent string, chunks []string) {
	key, inline, _ := strings.Cut(lines[0], ":")
	if inline = strings.TrimSpace(inline); inline != "" && !strings.HasPrefix(inline, "#") {
		return []string{key + ":\n"}, "  ", nil // in brackets
	}
	first := slices.IndexFunc(lines, func(l string) bool { return strings.HasPrefix(strings.TrimLeft(l, " "), "- ") })
	if first < 0 {
		return lines[:1], "  ", nil
	}
	indent = lines[first][:strings.Index(lines[first], "-")]
	for _, l := range lines[first:] {
		if strings.HasPrefix(l, indent+"- ") {
			chunks = append(chunks, l)
			continue
		}
		chunks[len(chunks)-1] += l
	}
	return lines[:first], indent, chunks
}

func (s *shelf) writeEntries(out *bytes.Buffer, chunks []string, indent string) {
	for i, e := range s.entries {
		switch {
		case e.gone:
		case i < len(chunks) && !e.changed:
			out.WriteString(chunks[i])
		default:
			out.WriteString(indent + "- " + e.file.line() + "\n")
		}
	}
}

// line writes a board on one line.
func (f BoardFile) line() string {
	var parts []string
	add := func(key, value string) { parts = append(parts, key+": "+value) }
	words := func(key, value string) {
		if value != "" {
			add(key, strict.Quoted(value))
		}
	}
	words("name", f.Name)
	words("species", f.Species)
	add("thickness", f.Thickness.String())
	add("width", f.Width.String())
	add("length", f.Length.String())
	if f.Count > 1 {
		add("count", fmt.Sprint(f.Count))
	}
	words("condition", f.Condition)
	if f.Moisture > 0 {
		add("moisture", fmt.Sprint(f.Moisture))
	}
	if f.Rough {
		add("rough", "yes")
	}
	if f.Panel {
		add("panel", "yes")
	}
	if len(f.Defects) > 0 {
		var list []string
		for _, d := range f.Defects {
			text := fmt.Sprintf("kind: %s, from: %s, to: %s", strict.Quoted(d.Kind), d.From, d.To)
			if d.Left.Length > 0 {
				text += ", left: " + d.Left.String()
			}
			if d.Right.Length > 0 {
				text += ", right: " + d.Right.String()
			}
			list = append(list, "{"+text+"}")
		}
		add("defects", "["+strings.Join(list, ", ")+"]")
	}
	return "{" + strings.Join(parts, ", ") + "}"
}

// fileOf writes a board as a person would, in a family of units.
func fileOf(b Board, family unit.Family) BoardFile {
	m := func(l unit.Length) unit.Measure { return unit.Measure{Length: l, Family: family} }
	f := BoardFile{Name: b.Name, Species: b.Species, Thickness: m(b.Thickness), Width: m(b.Width), Length: m(b.Length), Rough: b.Rough, Panel: b.Panel,
		Condition: string(b.Condition), Defects: defectFiles(b.Defects, b.Width, family)}
	if species, ok := wood.Lookup(b.Species); ok {
		f.Species = species.Name
	}
	if b.Count > 1 {
		f.Count = b.Count
	}
	f.Moisture = float64(b.Moisture)
	return f
}

func defectFiles(defects []Defect, width unit.Length, family unit.Family) []DefectFile {
	var out []DefectFile
	for _, d := range defects {
		m := func(l unit.Length) unit.Measure { return unit.Measure{Length: l, Family: family} }
		f := DefectFile{Kind: d.Kind, From: m(d.From), To: m(d.To), Left: m(d.Left)}
		if d.Right < width {
			f.Right = m(d.Right)
		}
		out = append(out, f)
	}
	return out
}
