// Package patterns embeds the scripts of the furniture families that ship with the program.
package patterns

import (
	"embed"
	"strings"

	"longgrain/internal/design/pattern"
)

//go:embed *.star
var files embed.FS

// All returns the embedded patterns in order of name.
func All() pattern.Library {
	entries, err := files.ReadDir(".")
	if err != nil {
		panic("patterns: " + err.Error())
	}
	var all pattern.Library
	for _, e := range entries {
		text, err := files.ReadFile(e.Name())
		if err != nil {
			panic("patterns: " + err.Error())
		}
		all = append(all, pattern.Script{Name: strings.TrimSuffix(e.Name(), ".star"), Text: string(text)})
	}
	return all
}
