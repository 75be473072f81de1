package step

import (
	"bufio"
	"bytes"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"longgrain/internal/ground/geom"
	"longgrain/internal/ground/solid"
)

func block(x, y, z float64) solid.Block { return solid.Block{Hi: geom.Vec{X: x, Y: y, Z: z}} }

func part(t *testing.T, name string, s solid.Stock, at geom.Vec) Part {
	t.Helper()
	b, err := solid.Build(s)
	if err != nil || len(b.Left) > 0 {
		t.Fatal(err, b.Left)
	}
	return Part{Number: name, Name: name, Body: b, Colour: [3]float64{0.8, 0.6, 0.4},
		Pose: geom.Pose{Origin: at, Axes: [3]geom.Vec{{Z: 1}, {X: 0.6, Y: 0.8}, {X: -0.8, Y: 0.6}}}}
}

// parts has every kind of cut.
func parts(t *testing.T) []Part {
	x, y, z := geom.Vec{X: 1}, geom.Vec{Y: 1}, geom.Vec{Z: 1}
	post := []solid.Block{block(700, 45, 45)}
	return []Part{
		part(t, "block", solid.Stock{Add: post}, geom.Vec{}),
		part(t, "bored", solid.Stock{Add: post, Rounds: []solid.Round{
			{Name: "through", At: geom.Vec{X: 50, Y: 20}, Into: z, Radius: 5, Depth: 60},
			{Name: "blind", At: geom.Vec{X: 90, Z: 20}, Into: y, Radius: 4, Depth: 30},
			{Name: "wide", At: geom.Vec{X: 150, Y: 20}, Into: z, Radius: 8, Depth: 12},
			{Name: "narrow", At: geom.Vec{X: 150, Y: 20}, Into: z, Radius: 3, Depth: 45},
			{Name: "leaning", At: geom.Vec{X: 300, Y: 22}, Into: geom.Vec{X: math.Cos(0.3), Z: math.Sin(0.3)}, Radius: 4, Depth: 60}}}, geom.Vec{X: 100}),
		part(t, "mortised", solid.Stock{Add: append([]solid.Block{{Lo: geom.Vec{X: 700, Y: 15, Z: 5}, Hi: geom.Vec{X: 730, Y: 30, Z: 40}}}, post...),
			Take: []solid.Block{{Lo: geom.Vec{X: 100, Y: 15}, Hi: geom.Vec{X: 150, Y: 30, Z: 30}}, {Lo: geom.Vec{X: 300, Z: 22.5}, Hi: geom.Vec{X: 345, Y: 50, Z: 50}}},
			Keep: []solid.HalfSpace{{At: geom.Vec{X: 400, Z: 45}, Normal: geom.Vec{X: 0.05, Z: 1}.Unit()}},
			Rounds: []solid.Round{{Name: "slot", At: geom.Vec{X: 200, Y: 22, Z: 45}, Into: z.Neg(), Half: x.Scale(20), Radius: 5, Depth: 25},
				{Name: "pin through the mortise", At: geom.Vec{X: 125, Z: 15}, Into: y, Radius: 3, Depth: 45},
				{Name: "through the taper", At: geom.Vec{X: 550, Y: 22}, Into: z, Radius: 6, Depth: 80}}}, geom.Vec{X: 200, Y: 50}),
		part(t, "peg's end", solid.Stock{Add: post, Rounds: []solid.Round{{Name: "t", At: geom.Vec{X: 700, Y: 22, Z: 22}, Into: x, Half: z.Scale(12), Radius: 5, Depth: 25, Peg: true}}}, geom.Vec{X: 300}),
	}
}

// Volumes opens a file in Open CASCADE, through gmsh, and returns the volume of each solid in it.
func Volumes(t *testing.T, file []byte) []float64 {
	t.Helper()
	gmsh, err := exec.LookPath("gmsh")
	if err != nil {
		t.Skip("NOT CHECKED: gmsh is missing, so Open CASCADE did not read the file; tools/need.sh gmsh installs it")
	}
	dir := t.TempDir()
	name := filepath.Join(dir, "solids.step")
	if err := os.WriteFile(name, file, 0o644); err != nil {
		t.Fatal(err)
	}
	script := filepath.Join(dir, "volumes.geo")
	text := fmt.Sprintf("SetFactory(\"OpenCASCADE\");\nv() = ShapeFromFile(%q);\nFor i In {0:#v()-1}\n m() = Mass Volume{v(i)};\n Printf(\"volume %%.9g\", m(0));\nEndFor\n", name)
	if err := os.WriteFile(script, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command(gmsh, "-0", script).CombinedOutput()
	if err != nil || bytes.Contains(out, []byte("Error")) || bytes.Contains(out, []byte("Warning")) {
		t.Fatalf("gmsh: %v\n%s", err, out)
	}
	var found []float64
	lines := bufio.NewScanner(bytes.NewReader(out))
	for lines.Scan() {
		var v float64
		if i := strings.Index(lines.Text(), "volume "); i >= 0 {
			if _, err := fmt.Sscanf(lines.Text()[i:], "volume %g", &v); err == nil {
				found = append(found, v)
			}
		}
	}
	return found
}

// Open CASCADE reads as many solids as were written, each of the volume that was worked out, within a millionth.
func TestOpenCascadeReadsTheSameVolumes(t *testing.T) {
	written := parts(t)
	found := Volumes(t, Write("a table", written))
	if len(found) != len(written) {
		t.Fatalf("%d solids, want %d", len(found), len(written))
	}
	for i, p := range written {
		if math.Abs(found[i]-p.Body.Volume) > 1e-6*p.Body.Volume {
			t.Errorf("%s: Open CASCADE finds %.4f mm³, want %.4f", p.Name, found[i], p.Body.Volume)
		}
	}
}

func TestEveryReferenceIsWritten(t *testing.T) {
	file := string(Write("Tisch «größer»", parts(t)))
	made := map[string]bool{}
	for _, m := range regexp.MustCompile(`(?m)^(#\d+)=`).FindAllStringSubmatch(file, -1) {
		made[m[1]] = true
	}
	for _, m := range regexp.MustCompile(`[(,](#\d+)`).FindAllStringSubmatch(file, -1) {
		if !made[m[1]] {
			t.Fatalf("%s is not written", m[1])
		}
	}
	for _, want := range []string{`'Tisch \X2\00AB\X0\gr\X2\00F6\X0\\X2\00DF\X0\er\X2\00BB\X0\'`, `'peg''s end'`, "COLOUR_RGB('',0.8,0.6,0.4)"} {
		if !strings.Contains(file, want) {
			t.Errorf("no %s in the file", want)
		}
	}
	if again := string(Write("Tisch «größer»", parts(t))); again != file {
		t.Error("the same parts give other bytes")
	}
}
