package piece

import (
	"bytes"
	"maps"
	"slices"
	"strings"

	"longgrain/internal/ground/problem"
	"longgrain/internal/ground/strict"
)

// WithSizes returns the text of a piece file with sizes of its pattern written anew, by name, as they were typed. What is
// not a size, comments included, stays as it is. A text that cannot be read comes back unchanged: Parse then
// says what is wrong with it.
func WithSizes(text []byte, sizes map[string]string) []byte {
	for _, name := range slices.Sorted(maps.Keys(sizes)) {
		text = withSize(text, name, strings.TrimSpace(sizes[name]))
	}
	return text
}

func withSize(text []byte, name, value string) []byte {
	var problems problem.List
	root := strict.Read("", text, &problems)
	if !root.IsMap() {
		return text
	}
	mapping := root.Fields().Optional("sizes")
	if !mapping.IsMap() {
		if !bytes.HasSuffix(text, []byte("\n")) {
			text = append(text[:len(text):len(text)], '\n')
		}
		return append(text[:len(text):len(text)], "sizes:\n  "+name+": "+strict.Quoted(value)+"\n"...)
	}
	if v := mapping.Fields().Optional(name); v.Here() {
		text, _ = strict.Replace(text, v, value)
		return text
	}
	text, _ = strict.Insert(text, mapping, name, value)
	return text
}
