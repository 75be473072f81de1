package dxf

import (
	"bufio"
	"bytes"
	"flag"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"longgrain/internal/paper/scene"
)

var update = flag.Bool("update", false, "rewrite golden files")

func sample() scene.Scene {
	s := scene.New("Bore plan")
	s.Ratio = scene.Ratio{Paper: 1, Model: 5}
	s.Rectangle(scene.Outline, scene.PartFill, scene.Point{X: 0, Y: 0}, scene.Point{X: 100, Y: 20})
	s.Circle(scene.Detail, scene.Point{X: 15, Y: 10}, 5)
	s.Line(scene.Hidden, scene.Point{X: 0, Y: 5}, scene.Point{X: 100, Y: 5})
	s.Line(scene.Centre, scene.Point{X: 15, Y: 0}, scene.Point{X: 15, Y: 20})
	s.Add(scene.Arc{Style: scene.Detail, Centre: scene.Point{X: 80, Y: 10}, Radius: 5, Start: 270, End: 90})
	section := scene.Rectangle(scene.Outline, scene.NoFill, scene.Point{X: 110, Y: 0}, scene.Point{X: 120, Y: 10})
	section.Hatch = scene.SectionHatch
	s.Add(scene.Group{ID: "g", Items: []scene.Item{section}})
	s.Add(scene.Text{Style: scene.Dimension, At: scene.Point{X: 50, Y: 10}, Text: "⌀10 ±0.2 ½″", Height: 2.5, Align: scene.Middle, Rotation: -90})
	return *s
}

// pair is a group code with its value.
type pair struct {
	code  int
	value string
}

// readPairs reads the file strictly: a code line and a value line each, nothing left over.
func readPairs(t *testing.T, file []byte) []pair {
	t.Helper()
	var out []pair
	in := bufio.NewScanner(bytes.NewReader(file))
	for in.Scan() {
		code, err := strconv.Atoi(strings.TrimSpace(in.Text()))
		if err != nil {
			t.Fatalf("pair %d: %v", len(out), err)
		}
		if !in.Scan() {
			t.Fatalf("code %d without a value", code)
		}
		for _, r := range in.Text() {
			if r > '~' {
				t.Fatalf("value %q is not ASCII", in.Text())
			}
		}
		out = append(out, pair{code, in.Text()})
	}
	return out
}

// structure checks sections and tables and returns the entities with their pairs.
func structure(t *testing.T, pairs []pair) [][]pair {
	t.Helper()
	var entities [][]pair
	section, table := "", ""
	for i, p := range pairs {
		if p.code != 0 {
			if section == "ENTITIES" && len(entities) > 0 {
				last := len(entities) - 1
				entities[last] = append(entities[last], p)
			}
			continue
		}
		switch p.value {
		case "SECTION":
			if section != "" {
				t.Fatalf("section inside section %s", section)
			}
			section = pairs[i+1].value
		case "ENDSEC":
			section = ""
		case "TABLE":
			table = pairs[i+1].value
		case "ENDTAB":
			if table == "" {
				t.Fatal("end of a table that did not begin")
			}
			table = ""
		case "EOF":
			if i != len(pairs)-1 || section != "" || table != "" {
				t.Fatal("file ends inside something")
			}
		default:
			if section == "ENTITIES" {
				entities = append(entities, []pair{p})
			}
		}
	}
	return entities
}

func value(e []pair, code int) string {
	for _, p := range e {
		if p.code == code {
			return p.value
		}
	}
	return ""
}

func TestEveryEntityStandsOnADeclaredLayer(t *testing.T) {
	pairs := readPairs(t, Write(sample(), Options{}))
	layers := map[string]bool{}
	lineTypes := map[string]bool{}
	for i, p := range pairs {
		if p.code == 0 && p.value == "LTYPE" {
			lineTypes[pairs[i+1].value] = true
		}
		if p.code == 0 && p.value == "LAYER" {
			layers[pairs[i+1].value] = true
			if lt := pairs[i+4]; lt.code != 6 || !lineTypes[lt.value] {
				t.Errorf("layer %s has undeclared line type %v", pairs[i+1].value, lt)
			}
		}
	}
	entities := structure(t, pairs)
	if len(entities) == 0 {
		t.Fatal("no entities")
	}
	for _, e := range entities {
		if !layers[value(e, 8)] {
			t.Errorf("entity %s on undeclared layer %q", e[0].value, value(e, 8))
		}
	}
}

func TestFullSizeAndInchesScaleEverything(t *testing.T) {
	for _, c := range []struct {
		name   string
		o      Options
		radius float64
	}{
		{"paper", Options{}, 5},
		{"full", Options{Full: true}, 25},
		{"inches", Options{Inches: true}, 5 / 25.4},
		{"full inches", Options{Full: true, Inches: true}, 25 / 25.4},
	} {
		hatches := 0
		for _, e := range structure(t, readPairs(t, Write(sample(), c.o))) {
			if e[0].value == "CIRCLE" {
				got, err := strconv.ParseFloat(value(e, 40), 64)
				if err != nil || math.Abs(got-c.radius) > 1e-6 {
					t.Errorf("%s: radius %v, want %v", c.name, got, c.radius)
				}
			}
			if value(e, 8) == "SECTION" {
				hatches++
			}
		}
		// 2.2 mm apart on a diagonal of 14.1 mm, on a grid fixed to the paper
		if want := 7; hatches != want {
			t.Errorf("%s: %d hatch lines, want %d at every scale", c.name, hatches, want)
		}
	}
}

func TestSignsOutsideASCIIAreCoded(t *testing.T) {
	if got, want := ascii("⌀10 ±0.2 30° ½ 50%"), `%%c10 %%p0.2 30%%d \U+00BD 50%%%`; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
}

func TestGoldenDXF(t *testing.T) {
	got := Write(sample(), Options{Full: true})
	if !bytes.Equal(got, Write(sample(), Options{Full: true})) {
		t.Error("two runs differ")
	}
	path := filepath.Join("testdata", "sample.dxf")
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

// auditScript reads a file with ezdxf, audits it and prints what it found.
const auditScript = `
import sys, ezdxf
doc = ezdxf.readfile(sys.argv[1])
audit = doc.audit()
msp = doc.modelspace()
line = [e for e in msp.query("LINE") if e.dxf.layer == "HIDDEN"][0]
text = msp.query("TEXT")[0]
print(len(audit.errors), len(audit.fixes), len(msp), "%.6f" % (line.dxf.end - line.dxf.start).magnitude,
      "%.6f" % msp.query("CIRCLE")[0].dxf.radius, text.dxf.layer, text.plain_text())
`

func TestIndependentReaderAcceptsTheFile(t *testing.T) {
	if testing.Short() {
		t.Skip("slow: starts another program")
	}
	python := ""
	for _, p := range []string{"python3", "/usr/bin/python3"} {
		if exec.Command(p, "-c", "import ezdxf").Run() == nil {
			python = p
			break
		}
	}
	if python == "" {
		t.Skip("SKIPPED: python3 with ezdxf is not installed, so no independent program has read the DXF file")
	}
	file := filepath.Join(t.TempDir(), "sample.dxf")
	if err := os.WriteFile(file, Write(sample(), Options{}), 0o644); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command(python, "-c", auditScript, file).CombinedOutput()
	if err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	got := strings.Fields(string(out))
	// 2 polylines, 2 lines, circle, arc, 7 hatch lines, text
	want := "0 0 14 100.000000 5.000000 DIMENSION"
	if strings.Join(got[:6], " ") != want {
		t.Errorf("got %q, want %q and the text", got, want)
	}
	t.Logf("%s", out)
}
