package mesh

import (
	"bytes"
	"encoding/binary"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"longgrain/internal/ground/geom"
	"longgrain/internal/ground/solid"
)

func parts(t *testing.T) []Part {
	t.Helper()
	b, err := solid.Build(solid.Stock{Add: []solid.Block{{Hi: geom.Vec{X: 700, Y: 45, Z: 45}}},
		Rounds: []solid.Round{{Name: "bore", At: geom.Vec{X: 50, Y: 20}, Into: geom.Vec{Z: 1}, Radius: 5, Depth: 60}}})
	if err != nil {
		t.Fatal(err)
	}
	up := geom.Pose{Origin: geom.Vec{X: 100, Y: 200, Z: 300}, Axes: [3]geom.Vec{{Z: 1}, {X: 1}, {Y: 1}}}
	return []Part{{"leg", b.Mesh(), up, [3]float64{0.8, 0.6, 0.4}}, {"rail", b.Mesh(), geom.Upright, [3]float64{0.7, 0.5, 0.3}}}
}

// The Khronos validator finds neither errors nor warnings.
func TestTheValidatorAcceptsTheFile(t *testing.T) {
	file, err := GLB("table", parts(t))
	if err != nil {
		t.Fatal(err)
	}
	validator, err := filepath.Abs("../../../web/node_modules/gltf-validator")
	if err != nil {
		t.Fatal(err)
	}
	if _, err := os.Stat(validator); err != nil {
		t.Skip("NOT CHECKED: gltf-validator is missing; npm ci in web/ installs it")
	}
	name := filepath.Join(t.TempDir(), "table.glb")
	if err := os.WriteFile(name, file, 0o644); err != nil {
		t.Fatal(err)
	}
	script := `const v=require(process.argv[1]);v.validateBytes(new Uint8Array(require("fs").readFileSync(process.argv[2]))).then(r=>{console.log(r.issues.numErrors,r.issues.numWarnings,r.info.drawCallCount,r.info.totalTriangleCount,JSON.stringify(r.issues.messages))})`
	out, err := exec.Command("node", "-e", script, validator, name).CombinedOutput()
	if err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	if got := string(out); !strings.HasPrefix(got, "0 0 2 ") {
		t.Errorf("validator: %s", got)
	}
}

func TestAnSTLFileEnclosesTheVolumeInPlace(t *testing.T) {
	ps := parts(t)
	file := STL(ps[:1])
	var n uint32
	r := bytes.NewReader(file[80:])
	if err := binary.Read(r, binary.LittleEndian, &n); err != nil || len(file) != 84+50*int(n) {
		t.Fatalf("%d triangles in %d bytes, %v", n, len(file), err)
	}
	volume, low := 0.0, math.Inf(1)
	for range n {
		var c [12]float32
		var attribute uint16
		_ = binary.Read(r, binary.LittleEndian, &c)
		_ = binary.Read(r, binary.LittleEndian, &attribute)
		v := func(i int) geom.Vec { return geom.Vec{X: float64(c[i]), Y: float64(c[i+1]), Z: float64(c[i+2])} }
		volume += v(3).Dot(v(6).Cross(v(9))) / 6
		for _, i := range []int{3, 6, 9} {
			low = min(low, v(i).Z)
		}
	}
	want := 700*45*45 - 24*25*math.Sin(2*math.Pi/48)*45 // the hole as a prism of 48 sides
	if math.Abs(volume-want) > 1e-4*want || math.Abs(low-300) > 1e-3 {
		t.Errorf("encloses %.1f of %.1f mm³, lowest point at %.3f", volume, want, low)
	}
}
