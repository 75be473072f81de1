package svg

import (
	"bytes"
	"encoding/xml"
	"flag"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"longgrain/internal/paper/scene"
)

var update = flag.Bool("update", false, "rewrite golden files")

func sample() scene.Scene {
	s := scene.New("Leg <L1> & rail")
	s.ID, s.Description = "leg", "A leg with one bore."
	part := scene.Rectangle(scene.Outline, scene.PartFill, scene.Point{X: 0, Y: 0}, scene.Point{X: 60, Y: 12})
	part.Holes = [][]scene.Point{{{X: 40, Y: 4}, {X: 50, Y: 4}, {X: 50, Y: 8}, {X: 40, Y: 8}}}
	part.Hatch = scene.EndGrainHatch
	s.Add(scene.Group{ID: "L1", Title: "Leg L1", Items: []scene.Item{
		part,
		scene.Circle{Style: scene.Detail, Centre: scene.Point{X: 10, Y: 6}, Radius: 2.5},
		scene.Arc{Style: scene.Hidden, Centre: scene.Point{X: 25, Y: 6}, Radius: 4, Start: 0, End: 270},
	}})
	var d scene.Dimensions
	d.Linear(scene.Above, scene.Point{X: 0, Y: 12}, scene.Point{X: 60, Y: 12}, `23 5/8"`)
	d.Linear(scene.LeftOf, scene.Point{}, scene.Point{Y: 12}, "60")
	d.Diameter(scene.Point{X: 10, Y: 6}, 2.5, "⌀10")
	d.Place(s)
	s.Add(scene.Text{At: scene.Point{X: 30, Y: -8}, Text: "face side", Height: 2.5, Align: scene.Middle, Weight: scene.Bold, Backed: true})
	return *s
}

func wellFormed(t *testing.T, file []byte) {
	t.Helper()
	in := xml.NewDecoder(bytes.NewReader(file))
	for {
		_, err := in.Token()
		if err == io.EOF {
			return
		}
		if err != nil {
			t.Fatalf("%v in\n%s", err, file)
		}
	}
}

func TestFileIsWellFormedWithTrueSize(t *testing.T) {
	s := scene.New("square")
	s.Rectangle(scene.Outline, scene.NoFill, scene.Point{}, scene.Point{X: 100, Y: 50})
	got := File(*s)
	wellFormed(t, got)
	if want := `width="103mm" height="53mm" viewBox="0 0 103 53"`; !strings.Contains(string(got), want) {
		t.Errorf("no %s in\n%s", want, got)
	}
	if want := `M1.5 51.5 L101.5 51.5 L101.5 1.5 L1.5 1.5 Z`; !strings.Contains(string(got), want) {
		t.Errorf("y is not turned round: no %s in\n%s", want, got)
	}
}

func TestInlineHasPrefixedIdsAndNoStyles(t *testing.T) {
	got := Inline(sample(), "fig1-", true)
	wellFormed(t, []byte(got))
	for _, want := range []string{`id="fig1-leg"`, `id="fig1-L1" data-id="L1"`, "<title>Leg L1</title>", "<desc>A leg with one bore.</desc>", "Leg &lt;L1&gt; &amp; rail"} {
		if !strings.Contains(got, want) {
			t.Errorf("no %s", want)
		}
	}
	for _, refused := range []string{"style=", "<style", "<script", `width="6`, "mm\""} {
		if strings.Contains(got, refused) {
			t.Errorf("contains %s", refused)
		}
	}
}

func TestEmptySceneIsStillAPicture(t *testing.T) { wellFormed(t, File(scene.Scene{})) }

func TestStyleSheetNamesEveryClassInUse(t *testing.T) {
	css := CSS()
	for _, s := range scene.Styles() {
		if !strings.Contains(css, ".ink-"+s.String()+" ") {
			t.Errorf("no rule for %s", s)
		}
	}
}

func TestGoldenSVG(t *testing.T) {
	got := File(sample())
	if !bytes.Equal(got, File(sample())) {
		t.Error("two runs differ")
	}
	path := filepath.Join("testdata", "sample.svg")
	if *update {
		if err := os.WriteFile(path, got, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, want) {
		t.Errorf("%s differs; read the difference, then run with -update", path)
	}
}
