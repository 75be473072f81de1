package strict

import (
	"bytes"
	"fmt"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"go.yaml.in/yaml/v3"

	"longgrain/internal/ground/problem"
)

// Set returns the document text with a key of a mapping written anew, or added at its end. What is not that value, comments
// included, stays as it is. written is the value in flow style, see Flow. False when the text cannot be changed there.
func Set(text []byte, m Value, key, written string) ([]byte, bool) {
	if !m.IsMap() {
		return text, false
	}
	if k, v := m.entry(key); v != nil {
		_, keyEnd, ok := span(text, k)
		start, end, ok2 := span(text, v)
		if !ok || !ok2 {
			return text, false
		}
		if v.Line > k.Line { // a block below its key becomes a value beside it
			colon := bytes.IndexByte(text[keyEnd:], ':')
			if colon < 0 {
				return text, false
			}
			return checked(text, keyEnd+colon+1, end, " "+written)
		}
		if start == end { // a key without a value
			return checked(text, start, end, " "+written)
		}
		return checked(text, start, end, written)
	}
	entry := Quoted(key) + ": " + written
	if m.node.Style&yaml.FlowStyle != 0 || len(m.node.Content) == 0 {
		return beforeBracket(text, m.node, entry)
	}
	_, end, ok := span(text, m.node)
	if !ok {
		return text, false
	}
	return onNewLine(text, end, m.node.Content[0].Column, entry)
}

// Unset returns the document text without a key of a mapping. False when the key is not there or cannot be taken out by itself.
func Unset(text []byte, m Value, key string) ([]byte, bool) {
	k, v := m.entry(key)
	if v == nil {
		return text, false
	}
	start, _, ok := span(text, k)
	_, end, ok2 := span(text, v)
	if !ok || !ok2 {
		return text, false
	}
	if m.node.Style&yaml.FlowStyle != 0 {
		return checked(text, start, end, "", trimComma)
	}
	if strings.TrimSpace(string(text[lineStart(text, start):start])) != "" || len(m.node.Content) == 2 {
		return text, false // the first key of an item of a list, or the last one left
	}
	return checked(text, lineStart(text, start), nextLine(text, end), "")
}

// AddItem returns the document text with an item at the end of the list under a key of the root, which is made when it is not there.
func AddItem(text []byte, root Value, key, written string) ([]byte, bool) {
	k, v := root.entry(key)
	switch {
	case v == nil:
		if !root.IsMap() || root.node.Style&yaml.FlowStyle != 0 {
			return text, false
		}
		return onNewLine(text, len(text), 1, key+":\n  - "+written)
	case v.Kind == yaml.ScalarNode && v.Tag == "!!null":
		_, end, ok := span(text, k)
		if !ok {
			return text, false
		}
		return onNewLine(text, end, k.Column+2, "- "+written)
	case v.Kind != yaml.SequenceNode:
		return text, false
	case v.Style&yaml.FlowStyle != 0 || len(v.Content) == 0:
		return beforeBracket(text, v, written)
	}
	_, end, ok := span(text, v)
	if !ok {
		return text, false
	}
	return onNewLine(text, end, v.Column, "- "+written)
}

// AddMapping returns the document text with a key at its end that holds a mapping of one entry in block style. False when the key is there.
func AddMapping(text []byte, root Value, key, entry, written string) ([]byte, bool) {
	if _, v := root.entry(key); v != nil || !root.IsMap() || root.node.Style&yaml.FlowStyle != 0 {
		return text, false
	}
	return onNewLine(text, len(text), 1, key+":\n  "+Quoted(entry)+": "+written)
}

// RemoveItem returns the document text without an item of the list under a key of the root; the last item takes the key with it.
func RemoveItem(text []byte, root Value, key string, index int) ([]byte, bool) {
	k, v := root.entry(key)
	if v == nil || v.Kind != yaml.SequenceNode || index < 0 || index >= len(v.Content) {
		return text, false
	}
	if len(v.Content) == 1 {
		start, _, ok := span(text, k)
		_, end, ok2 := span(text, v)
		if !ok || !ok2 || start != lineStart(text, start) {
			return text, false
		}
		return checked(text, start, nextLine(text, end), "")
	}
	start, end, ok := span(text, v.Content[index])
	if !ok {
		return text, false
	}
	if v.Style&yaml.FlowStyle != 0 {
		return checked(text, start, end, "", trimComma)
	}
	from := lineStart(text, start)
	if strings.TrimSpace(string(text[from:start])) != "-" {
		return text, false
	}
	return checked(text, from, nextLine(text, end), "")
}

// Flow writes a value of texts, numbers, yes and no, lists and mappings in flow style on one line. Keys come in the order given, and
// the rest in order of name. False for any other kind of value.
func Flow(v any, order ...string) (string, bool) {
	switch v := v.(type) {
	case string:
		return Quoted(v), true
	case bool:
		if v {
			return "yes", true
		}
		return "no", true
	case int:
		return strconv.Itoa(v), true
	case float64:
		return strconv.FormatFloat(v, 'g', -1, 64), true
	case []any:
		items := make([]string, len(v))
		for i, x := range v {
			item, ok := Flow(x)
			if !ok {
				return "", false
			}
			items[i] = item
		}
		return "[" + strings.Join(items, ", ") + "]", true
	case map[string]any:
		var keys, entries []string
		for _, k := range order {
			if _, ok := v[k]; ok {
				keys = append(keys, k)
			}
		}
		var rest []string
		for k := range v {
			if !slices.Contains(keys, k) {
				rest = append(rest, k)
			}
		}
		slices.Sort(rest)
		for _, k := range append(keys, rest...) {
			item, ok := Flow(v[k])
			if !ok {
				return "", false
			}
			entries = append(entries, Quoted(k)+": "+item)
		}
		return "{" + strings.Join(entries, ", ") + "}", true
	}
	return "", false
}

// Plain returns what is written: a text for a scalar, as it stands; a list; a mapping. It is nil for what is not there.
func (v Value) Plain() any {
	if !v.Here() {
		return nil
	}
	switch v.node.Kind {
	case yaml.SequenceNode:
		out := make([]any, 0, len(v.node.Content))
		for _, n := range v.node.Content {
			out = append(out, Value{node: n}.Plain())
		}
		return out
	case yaml.MappingNode:
		out := map[string]any{}
		for i := 0; i+1 < len(v.node.Content); i += 2 {
			out[v.node.Content[i].Value] = Value{node: v.node.Content[i+1]}.Plain()
		}
		return out
	}
	return v.node.Value
}

// entry returns the nodes of a key of a mapping and of its value, nil when there is none.
func (v Value) entry(key string) (k, value *yaml.Node) {
	if !v.IsMap() {
		return nil, nil
	}
	for i := 0; i+1 < len(v.node.Content); i += 2 {
		if v.node.Content[i].Value == key {
			return v.node.Content[i], v.node.Content[i+1]
		}
	}
	return nil, nil
}

// span returns where a node stands in the text, in bytes. False for texts over several lines and for what does not stand where the
// node says.
func span(text []byte, n *yaml.Node) (start, end int, ok bool) {
	start = 0
	for range n.Line - 1 {
		next := bytes.IndexByte(text[start:], '\n')
		if next < 0 {
			return 0, 0, false
		}
		start += next + 1
	}
	for range n.Column - 1 { // columns count characters
		if start >= len(text) || text[start] == '\n' {
			return 0, 0, false
		}
		start++
		for start < len(text) && text[start]&0xC0 == 0x80 {
			start++
		}
	}
	switch {
	case n.Kind == yaml.ScalarNode && n.Value == "" && n.Style == 0:
		return start, start, true
	case n.Kind == yaml.ScalarNode && n.Style&(yaml.LiteralStyle|yaml.FoldedStyle) == 0:
		line, _, _ := bytes.Cut(text[start:], []byte("\n"))
		length, ok := scalarLength(string(line), n)
		return start, start + length, ok
	case n.Kind != yaml.ScalarNode && n.Style&yaml.FlowStyle != 0:
		end, ok = closing(text, start)
		return start, end + 1, ok
	case len(n.Content) > 0:
		_, end, ok = span(text, n.Content[len(n.Content)-1])
		return start, end, ok
	}
	return 0, 0, false
}

// closing returns where the bracket that opens at a place is closed.
func closing(text []byte, open int) (int, bool) {
	depth := 0
	for i := open; i < len(text); i++ {
		switch c := text[i]; c {
		case '{', '[':
			depth++
		case '}', ']':
			if depth--; depth == 0 {
				return i, true
			}
		case '\'', '"':
			// A quote within a plain text, such as the inch mark of 3", opens nothing.
			if before := bytes.TrimRight(text[:i], " "); len(before) == 0 || !bytes.ContainsRune([]byte(",:{[\n"), rune(before[len(before)-1])) {
				continue
			}
			length, ok := quotedLength(text[i:], c)
			if !ok {
				return 0, false
			}
			i += length - 1
		case '#':
			if i > 0 && (text[i-1] == ' ' || text[i-1] == '\n') {
				i = nextLine(text, i) - 1
			}
		}
	}
	return 0, false
}

func quotedLength(text []byte, quote byte) (int, bool) {
	style := yaml.SingleQuotedStyle
	if quote == '"' {
		style = yaml.DoubleQuotedStyle
	}
	return scalarLength(string(text), &yaml.Node{Style: style})
}

func beforeBracket(text []byte, n *yaml.Node, entry string) ([]byte, bool) {
	start, end, ok := span(text, n)
	if !ok || end-start < 2 {
		return text, false
	}
	inside := bytes.TrimRight(text[start+1:end-1], " ")
	at := start + 1 + len(inside)
	if len(inside) > 0 {
		entry = ", " + entry
	}
	return checked(text, at, end-1, entry)
}

func lineStart(text []byte, at int) int { return bytes.LastIndexByte(text[:at], '\n') + 1 }

func nextLine(text []byte, at int) int {
	if i := bytes.IndexByte(text[at:], '\n'); i >= 0 {
		return at + i + 1
	}
	return len(text)
}

// onNewLine writes a line below the one that holds a place, at a column.
func onNewLine(text []byte, at, column int, entry string) ([]byte, bool) {
	below := nextLine(text, at)
	line := strings.Repeat(" ", column-1) + entry + "\n"
	if below > 0 && text[below-1] != '\n' {
		line = "\n" + line
	}
	return checked(text, below, below, line)
}

// trimComma widens what is taken out by the comma that parted it from its neighbours.
func trimComma(text []byte, start, end int) (int, int) {
	if rest := bytes.TrimLeft(text[end:], " "); len(rest) > 0 && rest[0] == ',' {
		after := bytes.TrimLeft(rest[1:], " ")
		return start, len(text) - len(after)
	}
	if before := bytes.TrimRight(text[:start], " "); len(before) > 0 && before[len(before)-1] == ',' {
		return len(bytes.TrimRight(before[:len(before)-1], " ")), end
	}
	return start, end
}

// checked replaces a stretch of the text and makes sure that what comes out can be read as well as before.
func checked(text []byte, start, end int, by string, widen ...func([]byte, int, int) (int, int)) ([]byte, bool) {
	for _, w := range widen {
		start, end = w(text, start, end)
	}
	out := slices.Concat(text[:start], []byte(by), text[end:])
	var problems problem.List
	if !Read("", out, &problems).Here() {
		return text, false
	}
	return out, true
}

// Item returns an item of the list under a key of the root, or one that is not there.
func (v Value) Item(key string, index int) Value {
	_, list := v.entry(key)
	if list == nil || list.Kind != yaml.SequenceNode || index < 0 || index >= len(list.Content) {
		return Value{}
	}
	return v.child(list.Content[index], fmt.Sprintf("%s[%d]", key, index))
}

// Under returns the value of a key of a mapping, or one that is not there, and marks nothing as read.
func (v Value) Under(key string) Value {
	if _, n := v.entry(key); n != nil {
		return v.child(n, key)
	}
	return Value{}
}

// Words returns the words that a key of a struct that Decode fills may have; none when any text may stand there.
func Words(target any, key string) []string {
	t := reflect.TypeOf(target)
	for i := range t.NumField() {
		if name, _ := jsonKey(t.Field(i)); name == key {
			return enumWords(t.Field(i).Tag)
		}
	}
	return nil
}
