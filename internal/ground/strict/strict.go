// Package strict reads YAML documents that a person wrote, and misses nothing wrong in them.
//
// A Value is a node of the document with its position and path. Its typed getters return what was
// written or report a problem and go on, so that one reading finds every problem. A Fields value
// is a mapping whose keys are ticked off as they are read; Done reports the rest as unknown, with the
// nearest known key. Aliases, anchors and custom tags are not accepted: a described piece is plain.
package strict

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"go.yaml.in/yaml/v3"

	"longgrain/internal/ground/formula"
	"longgrain/internal/ground/problem"
	"longgrain/internal/ground/unit"
)

// MaxSize is the largest document that is read, in bytes. Judgement: a hundred times the size of a
// large piece, and small enough to read in a blink.
const MaxSize = 1 << 20

// maxDepth bounds the nesting of a document; the deepest format in use needs six.
const maxDepth = 32

// Value is a node of a document. The zero Value is "not there".
type Value struct {
	node     *yaml.Node
	file     string
	path     string
	problems *problem.List
	named    map[string]formula.Value // see WithNames; nil where formulas are not read
}

// Read parses a document and returns its root. Problems are added to the list; when the text is no
// YAML at all the root is not there.
func Read(file string, text []byte, problems *problem.List) Value {
	at := problem.Position{File: file, Line: 1, Column: 1}
	if len(text) > MaxSize {
		problems.Add(problem.Problem{Code: problem.TooLarge, At: at,
			What: "is too long", Expected: "at most 1 MiB", Mend: "check that this is the right file"})
		return Value{}
	}
	var doc yaml.Node
	if err := yaml.Unmarshal(text, &doc); err != nil {
		line, what := splitYAMLError(err.Error())
		at.Line, at.Column = line, 1
		problems.Add(problem.Problem{Code: problem.NotYAML, At: at, What: what, Mend: "check brackets, quotes and indentation near this line"})
		return Value{}
	}
	if len(doc.Content) == 0 || doc.Content[0].Kind == yaml.ScalarNode && doc.Content[0].Tag == "!!null" {
		problems.Add(problem.Problem{Code: problem.Empty, At: at, What: "has no content", Mend: "start with longgrain: 1, or longgrain-shop: 1 in a shop file, and a name"})
		return Value{}
	}
	root := Value{node: doc.Content[0], file: file, problems: problems}
	if !root.plain(0) {
		return Value{}
	}
	return root
}

var yamlErrorLine = regexp.MustCompile(`line (\d+): `)

// splitYAMLError takes the line out of the library's message.
func splitYAMLError(message string) (line int, what string) {
	line = 1
	if m := yamlErrorLine.FindStringSubmatch(message); m != nil {
		line, _ = strconv.Atoi(m[1])
		message = strings.Replace(message, m[0], "", 1)
	}
	return line, "cannot be read: " + strings.TrimPrefix(message, "yaml: ")
}

// plain reports nodes that the formats do not use: aliases, anchors, own tags, too deep nesting.
func (v Value) plain(depth int) bool {
	if v.node.Kind == yaml.AliasNode || v.node.Anchor != "" {
		v.Report(problem.WrongKind, "uses an anchor or alias", "a plain value", "write the value out")
		return false
	}
	if depth > maxDepth {
		v.Report(problem.WrongKind, "is nested too deep", "", "take out the needless nesting")
		return false
	}
	ok := true
	for i, child := range v.node.Content {
		path := v.path
		if v.node.Kind == yaml.SequenceNode {
			path = fmt.Sprintf("%s[%d]", v.path, i)
		}
		ok = v.child(child, path).plain(depth+1) && ok
	}
	return ok
}

// child returns a node below this one.
func (v Value) child(n *yaml.Node, path string) Value {
	v.node, v.path = n, path
	return v
}

// Here tells whether the value is there.
func (v Value) Here() bool { return v.node != nil }

// ReportTo returns the value with another list to report to, for a part of a document that is read later.
func (v Value) ReportTo(problems *problem.List) Value {
	v.problems = problems
	return v
}

// Position returns where the value stands.
func (v Value) Position() problem.Position {
	p := problem.Position{File: v.file, Path: v.path}
	if v.node != nil {
		p.Line, p.Column = v.node.Line, v.node.Column
	}
	return p
}

// Report adds a problem at this value.
func (v Value) Report(code problem.Code, what, expected, mend string) {
	v.problems.Add(problem.Problem{Code: code, At: v.Position(), What: what, Expected: expected, Mend: mend})
}

// kind names what was written, for messages.
func (v Value) kind() string {
	switch v.node.Kind {
	case yaml.MappingNode:
		return "a mapping"
	case yaml.SequenceNode:
		return "a list"
	}
	switch v.node.Tag {
	case "!!null":
		return "nothing"
	case "!!int", "!!float":
		return "a bare number"
	case "!!bool":
		return "true or false"
	case "!!str":
		return "a text"
	}
	return "something of the kind " + v.node.Tag
}

func (v Value) wrongKind(expected, mend string) {
	v.Report(problem.WrongKind, "is "+v.kind(), expected, mend)
}

func (v Value) scalar() bool { return v.node != nil && v.node.Kind == yaml.ScalarNode }

// Text returns a text that is not empty.
func (v Value) Text() (string, bool) {
	if !v.Here() {
		return "", false
	}
	if !v.scalar() || v.node.Tag == "!!null" || v.node.Tag == "!!bool" {
		v.wrongKind("a text", "write a text, in quotes if need be")
		return "", false
	}
	s := strings.TrimSpace(v.node.Value)
	if s == "" {
		v.Report(problem.WrongKind, "is empty", "a text", "write a text")
		return "", false
	}
	if len(s) > 4000 {
		v.Report(problem.OutOfRange, "is longer than 4,000 characters", "", "shorten it")
		return "", false
	}
	return s, true
}

// Raw returns the scalar as written, without any check; empty for mappings and lists.
func (v Value) Raw() string {
	if !v.scalar() {
		return ""
	}
	return v.node.Value
}

// Length returns a length with its unit, between lo and hi.
func (v Value) Length(lo, hi unit.Length) (unit.Measure, bool) {
	if !v.Here() {
		return unit.Measure{}, false
	}
	if !v.scalar() || v.node.Tag == "!!null" || v.node.Tag == "!!bool" {
		v.wrongKind("a length with a unit", "write for example 18 mm or 3/4 in")
		return unit.Measure{}, false
	}
	m, err := unit.ParseMeasure(v.node.Value)
	if err != nil && v.named != nil {
		worked, formula, ok := v.formula(true)
		if formula && !ok {
			return unit.Measure{}, false
		}
		if formula {
			m, err = worked.Measure(), nil
		}
	}
	if err != nil {
		e := err.(*unit.LengthError)
		v.Report(problem.BadLength, fmt.Sprintf("%q %s", e.Text, e.What), "a length with a unit", e.Mend)
		return unit.Measure{}, false
	}
	if m.Length < lo || m.Length > hi {
		v.Report(problem.OutOfRange, fmt.Sprintf("%s is out of range", m),
			fmt.Sprintf("%s to %s", lo.Show(m.Family), hi.Show(m.Family)), "check the number and its unit")
		return unit.Measure{}, false
	}
	return m, true
}

// Number returns a number between lo and hi.
func (v Value) Number(lo, hi float64) (float64, bool) {
	if !v.Here() {
		return 0, false
	}
	x, err := strconv.ParseFloat(strings.ReplaceAll(v.Raw(), "_", ""), 64)
	if err != nil && v.named != nil {
		worked, formula, ok := v.formula(false)
		if formula && !ok {
			return 0, false
		}
		if formula {
			x, err = worked.Number(), nil
		}
	}
	if !v.scalar() || err != nil || math.IsNaN(x) || math.IsInf(x, 0) {
		v.Report(problem.WrongKind, fmt.Sprintf("is %s", v.kindOrText()), "a number", "write a plain number")
		return 0, false
	}
	if x < lo || x > hi {
		v.Report(problem.OutOfRange, fmt.Sprintf("%g is out of range", x), fmt.Sprintf("%g to %g", lo, hi), "check the number")
		return 0, false
	}
	return x, true
}

func (v Value) kindOrText() string {
	if v.scalar() && v.node.Value != "" {
		return strconv.Quote(v.node.Value)
	}
	return v.kind()
}

// Int returns a whole number between lo and hi.
func (v Value) Int(lo, hi int) (int, bool) {
	x, ok := v.Number(float64(lo), float64(hi))
	if !ok {
		return 0, false
	}
	if x != math.Trunc(x) {
		v.Report(problem.WrongKind, fmt.Sprintf("%g is not a whole number", x), "a whole number", "write a whole number")
		return 0, false
	}
	return int(x), true
}

// Bool returns true or false; yes and no are taken too, as people write them.
func (v Value) Bool() (value, ok bool) {
	if !v.Here() {
		return false, false
	}
	switch strings.ToLower(v.Raw()) {
	case "true", "yes":
		return true, true
	case "false", "no":
		return false, true
	}
	v.Report(problem.WrongKind, "is "+v.kindOrText(), "yes or no", "write yes or no")
	return false, false
}

// Choice returns one of the known words.
func (v Value) Choice(what string, known []string) (string, bool) {
	s, ok := v.Text()
	if !ok {
		return "", false
	}
	if !slices.Contains(known, s) {
		v.Report(problem.UnknownName, fmt.Sprintf("there is no %s %q", what, s), "", problem.DidYouMean(s, known))
		return "", false
	}
	return s, true
}

// List returns the items of a list; none when the value is not there.
func (v Value) List() []Value {
	if !v.Here() {
		return nil
	}
	if v.node.Kind != yaml.SequenceNode {
		v.wrongKind("a list", "start each item on a line of its own with a dash")
		return nil
	}
	items := make([]Value, len(v.node.Content))
	for i, n := range v.node.Content {
		items[i] = v.child(n, fmt.Sprintf("%s[%d]", v.path, i))
	}
	return items
}

// IsMap tells whether the value is a mapping.
func (v Value) IsMap() bool { return v.node != nil && v.node.Kind == yaml.MappingNode }

// IsList tells whether the value is a list.
func (v Value) IsList() bool { return v.node != nil && v.node.Kind == yaml.SequenceNode }

// Is tells whether the document is of the format that begins with own. One that begins with the word of the other format instead is
// reported as a whole, since every key of it would be unknown.
func (v Value) Is(own, other string) bool {
	if !v.IsMap() {
		return v.Here()
	}
	var keys []string
	for i := 0; i+1 < len(v.node.Content); i += 2 {
		keys = append(keys, v.node.Content[i].Value)
	}
	if slices.Contains(keys, own) || !slices.Contains(keys, other) {
		return true
	}
	v.Report(problem.WrongKind, "is a file of the kind that begins with "+other, "one that begins with "+own, "check that the files are not swapped")
	return false
}

// Fields is a mapping that is being read.
type Fields struct {
	of    Value
	keys  []string
	value map[string]Value
	key   map[string]Value
	read  []string
}

// Fields returns the value as a mapping; doubled keys are reported. When the value is not a mapping
// that is reported and the result has no keys.
func (v Value) Fields() *Fields {
	f := &Fields{of: v, value: map[string]Value{}, key: map[string]Value{}}
	if !v.Here() {
		return f
	}
	if v.node.Kind != yaml.MappingNode {
		v.wrongKind("a mapping of keys and values", "write key: value lines")
		return f
	}
	for i := 0; i+1 < len(v.node.Content); i += 2 {
		k := v.node.Content[i]
		path := k.Value
		if v.path != "" {
			path = v.path + "." + k.Value
		}
		key := v.child(k, path)
		if first, double := f.key[k.Value]; double {
			at := first.Position()
			v.problems.Add(problem.Problem{Code: problem.DuplicateKey, At: key.Position(),
				What: fmt.Sprintf("the key %q stands twice", k.Value), Mend: "take one of them out", Also: &at})
			continue
		}
		f.keys = append(f.keys, k.Value)
		f.key[k.Value] = key
		f.value[k.Value] = v.child(v.node.Content[i+1], path)
	}
	return f
}

// Optional returns the value of a key, or one that is not there.
func (f *Fields) Optional(key string) Value {
	f.read = append(f.read, key)
	return f.value[key]
}

// Required returns the value of a key and reports when it is missing.
func (f *Fields) Required(key, mend string) Value {
	v := f.Optional(key)
	if !v.Here() && f.of.IsMap() {
		f.of.Report(problem.MissingKey, fmt.Sprintf("the key %q is missing", key), "", mend)
	}
	return v
}

// Keys returns all keys in the order of the document.
func (f *Fields) Keys() []string { return f.keys }

// Key returns the key itself as a value, for reporting at its position.
func (f *Fields) Key(name string) Value { return f.key[name] }

// Done reports every key that was not asked for, with the nearest one that was.
func (f *Fields) Done() {
	for _, k := range f.keys {
		if slices.Contains(f.read, k) {
			continue
		}
		f.key[k].Report(problem.UnknownKey, fmt.Sprintf("there is no key %q here", k), "", problem.DidYouMean(k, f.read))
	}
}
