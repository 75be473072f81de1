package drawing

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"testing"

	"longgrain/internal/paper/scene"
	"longgrain/internal/paper/svg"
	"longgrain/internal/work/markout"
)

var update = flag.Bool("update", false, "write the golden files anew")

func TestDrawingsOfThePlayTable(t *testing.T) {
	a := playTable(t)
	m := markout.Make(a, markout.Options{})
	leg, _ := a.PartNamed("leg front right")
	for name, s := range map[string]scene.Scene{
		"views-third-angle": Views(a, Style{Projection: ThirdAngle}),
		"exploded":          Exploded(a, Style{}),
		"sheet-leg":         PartSheet(a, m, leg, Style{}),
		"joint":             JointSection(a, m, 0, 57*mm, Style{}),
		"board":             BoardDiagram(sampleBoard, Style{}),
	} {
		golden(t, name, svg.File(s))
	}
}

func golden(t *testing.T, name string, got []byte) {
	t.Helper()
	path := filepath.Join("testdata", name+".svg")
	if *update {
		if err := os.MkdirAll("testdata", 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, got, 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, want) {
		t.Errorf("%s differs from its golden file: run with -update and look at the difference", name)
	}
}
