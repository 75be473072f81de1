// Package examples embeds the described pieces and the shop of the toy library, which the program comes with.
package examples

import (
	"embed"
	"strings"
)

//go:embed *.yaml
var files embed.FS

// shopFile is the name of the shop among the examples.
const shopFile = "shop.yaml"

// Shop returns the shop file.
func Shop() string { return read(shopFile) }

// PlayTable returns the file of the play table, the first piece of the toy library.
func PlayTable() string { return read("play-table.yaml") }

// Pieces returns the piece files in order of name.
func Pieces() []string {
	entries, err := files.ReadDir(".")
	if err != nil {
		panic("examples: " + err.Error())
	}
	var out []string
	for _, e := range entries {
		if e.Name() != shopFile && strings.HasSuffix(e.Name(), ".yaml") {
			out = append(out, read(e.Name()))
		}
	}
	return out
}

func read(name string) string {
	text, err := files.ReadFile(name)
	if err != nil {
		panic("examples: " + err.Error())
	}
	return string(text)
}
