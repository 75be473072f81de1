package main

import (
	"bytes"
	"flag"
	"os"
	"testing"
)

var update = flag.Bool("update", false, "rewrite golden files")

func TestPublishedSchemasAreThoseOfTheCode(t *testing.T) {
	for name, schema := range schemas {
		file := "../../docs/schema/" + name + ".json"
		if *update {
			if err := os.WriteFile(file, schema(), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		kept, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(kept, schema()) {
			t.Errorf("%s is not what the code gives: run go test ./cmd/longgrain -update and read the difference", file)
		}
	}
}
