package strict

import (
	"bytes"
	"strings"

	"go.yaml.in/yaml/v3"
)

// Replace returns the document text with the scalar v written anew; everything else, comments included,
// stays as it is. False when v is not a scalar on one line of this text.
func Replace(text []byte, v Value, scalar string) ([]byte, bool) {
	if !v.scalar() || v.node.Style&(yaml.LiteralStyle|yaml.FoldedStyle) != 0 {
		return text, false
	}
	lines := bytes.SplitAfter(text, []byte("\n"))
	if v.node.Line < 1 || v.node.Line > len(lines) {
		return text, false
	}
	line := []rune(string(lines[v.node.Line-1]))
	start := v.node.Column - 1
	if start < 0 || start > len(line) {
		return text, false
	}
	length, ok := scalarLength(string(line[start:]), v.node)
	if !ok {
		return text, false
	}
	changed := string(line[:start]) + Quoted(scalar) + string(line[start:])[length:]
	lines[v.node.Line-1] = []byte(changed)
	return bytes.Join(lines, nil), true
}

// scalarLength returns how many bytes the source of a scalar takes at the start of the text.
func scalarLength(source string, n *yaml.Node) (int, bool) {
	switch n.Style & (yaml.SingleQuotedStyle | yaml.DoubleQuotedStyle) {
	case yaml.SingleQuotedStyle:
		for i := 1; i < len(source); i++ {
			if source[i] != '\'' {
				continue
			}
			if i+1 < len(source) && source[i+1] == '\'' {
				i++
				continue
			}
			return i + 1, true
		}
		return 0, false
	case yaml.DoubleQuotedStyle:
		for i := 1; i < len(source); i++ {
			switch source[i] {
			case '\\':
				i++
			case '"':
				return i + 1, true
			}
		}
		return 0, false
	}
	return len(n.Value), strings.HasPrefix(source, n.Value)
}

// Insert returns the document text with "key: scalar" added at the end of a mapping in block style. False when m is
// not such a mapping.
func Insert(text []byte, m Value, key, scalar string) ([]byte, bool) {
	if !m.IsMap() || m.node.Style&yaml.FlowStyle != 0 || len(m.node.Content) == 0 {
		return text, false
	}
	first := m.node.Content[0]
	after := lastLine(m.node)
	lines := bytes.SplitAfter(text, []byte("\n"))
	if after > len(lines) {
		return text, false
	}
	if last := lines[after-1]; !bytes.HasSuffix(last, []byte("\n")) {
		lines[after-1] = append(last[:len(last):len(last)], '\n')
	}
	line := strings.Repeat(" ", first.Column-1) + key + ": " + Quoted(scalar) + "\n"
	out := bytes.Join(lines[:after], nil)
	out = append(out[:len(out):len(out)], line...)
	return append(out, bytes.Join(lines[after:], nil)...), true
}

func lastLine(n *yaml.Node) int {
	line := n.Line
	for _, c := range n.Content {
		line = max(line, lastLine(c))
	}
	return line
}

// Quoted returns a text as a YAML scalar on one line: plain where that reads back as the same text.
func Quoted(s string) string {
	var back yaml.Node
	plain := s != "" && !strings.ContainsAny(s, "\n\r\t#{}[],") && !strings.Contains(s, ": ") && strings.TrimSpace(s) == s
	if plain && yaml.Unmarshal([]byte("k: "+s), &back) == nil && len(back.Content) == 1 && back.Content[0].Kind == yaml.MappingNode {
		if v := back.Content[0].Content[1]; v.Kind == yaml.ScalarNode && v.Value == s && v.Style == 0 {
			return s
		}
	}
	s = strings.Map(func(r rune) rune {
		if r < ' ' {
			return ' '
		}
		return r
	}, s)
	return "'" + strings.ReplaceAll(s, "'", "''") + "'"
}
