package joint

import (
	"fmt"
	"os"
	"testing"

	"longgrain/internal/design/assembly"
	"longgrain/internal/design/pattern"
	"longgrain/internal/design/piece"
	"longgrain/internal/ground/unit"
	"longgrain/internal/trade/hardware"
	"longgrain/patterns"
)

var everything = Means{Can: func(hardware.Job) bool { return true }, Dowels: hardware.Dowels(), Mark: unit.Millimetre / 2}

func build(t *testing.T, text string) assembly.Assembly {
	t.Helper()
	p, problems := piece.Parse("test.yaml", []byte(text))
	if len(problems) == 0 {
		p, _, problems = pattern.Expand(p, patterns.All())
	}
	var a assembly.Assembly
	if len(problems) == 0 {
		a, problems = assembly.Build(p)
	}
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	return a
}

func sites(t *testing.T, text string) []Site {
	t.Helper()
	s, err := Sites(build(t, text), 12)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func playTable(t *testing.T) string {
	t.Helper()
	text, err := os.ReadFile("../../../examples/play-table.yaml")
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

const corner = `
longgrain: 1
name: Corner
wood: {species: eastern white pine}
parts:
  - {name: stile, length: 200 mm, width: 63.5 mm, thickness: 19 mm, along: z, across: x}
  - {name: rail, length: 200 mm, width: 63.5 mm, thickness: 19 mm, at: [63.5 mm, 0 mm, 136.5 mm], along: x, across: z}
connections:
  - between: [rail, stile]
`

func TestExplore(t *testing.T) {
	for name, text := range map[string]string{"corner": corner, "table": playTable(t)} {
		for _, s := range sites(t, text) {
			fmt.Println(name, s.Connection.Name, s.Connection.Group, "room", s.Room.MM(), "near", s.NearLow, s.NearHigh, s.Height(), s.Thick())
			for _, j := range Possible(s, everything) {
				fmt.Printf("   %-50s %5.1f N·m  weak %5.1f  pull %6.0f  shear %6.0f %6.0f twist %5.1f K %6.1f kNm/rad  glue %5.1f cm2 (%s)\n", j.Describe(), j.Strength.BendU.Mean, j.Strength.BendV.Mean, j.Strength.Tension.Mean, j.Strength.ShearU.Mean, j.Strength.ShearV.Mean, j.Strength.Twist.Mean, float64(j.Stiffness.BendU)/1000, float64(j.Glue.LongGrain)*1e4, j.Strength.BendU.Governs)
			}
			if name == "table" {
				break
			}
		}
	}
}
