package wood

import (
	_ "embed"
	"fmt"
	"math"
	"slices"

	"longgrain/internal/ground/source"
	"longgrain/internal/ground/unit"
)

// Class is a strength class of graded timber. Strengths are characteristic values: 5 % of pieces lie
// below. All figures are of one table and share the cite.
type Class struct {
	Name                     string                      `json:"name"`                     // "C24"
	Bending                  unit.MPa                    `json:"bending"`                  // f_m,k
	TensionParallel          unit.MPa                    `json:"tensionParallel"`          // f_t,0,k
	TensionPerpendicular     unit.MPa                    `json:"tensionPerpendicular"`     // f_t,90,k
	CompressionParallel      unit.MPa                    `json:"compressionParallel"`      // f_c,0,k
	CompressionPerpendicular unit.MPa                    `json:"compressionPerpendicular"` // f_c,90,k
	Shear                    unit.MPa                    `json:"shear"`                    // f_v,k
	Modulus                  unit.MPa                    `json:"modulus"`                  // E_0,mean
	Modulus5                 unit.MPa                    `json:"modulus5"`                 // E_0,05
	ModulusPerpendicular     unit.MPa                    `json:"modulusPerpendicular"`     // E_90,mean
	ShearModulus             unit.MPa                    `json:"shearModulus"`             // G_mean
	Density5                 unit.KilogramsPerCubicMetre `json:"density5"`                 // rho_k
	Density                  unit.KilogramsPerCubicMetre `json:"density"`                  // rho_mean
	Cite                     source.Cite                 `json:"cite"`
}

//go:embed classes.csv
var classesCSV string

var classes = readClasses()

func readClasses() map[string]Class {
	out := map[string]Class{}
	for _, r := range source.Table("classes.csv", classesCSV) {
		name, v := r.Text("class"), valueOf(r)
		c := out[name]
		c.Name, c.Cite = name, r.Cite()
		switch p := r.Text("property"); p {
		case "fm":
			c.Bending = unit.MPa(v)
		case "ft0":
			c.TensionParallel = unit.MPa(v)
		case "ft90":
			c.TensionPerpendicular = unit.MPa(v)
		case "fc0":
			c.CompressionParallel = unit.MPa(v)
		case "fc90":
			c.CompressionPerpendicular = unit.MPa(v)
		case "fv":
			c.Shear = unit.MPa(v)
		case "E0":
			c.Modulus = unit.MPa(v)
		case "E005":
			c.Modulus5 = unit.MPa(v)
		case "E90":
			c.ModulusPerpendicular = unit.MPa(v)
		case "G":
			c.ShearModulus = unit.MPa(v)
		case "rho_k":
			c.Density5 = unit.KilogramsPerCubicMetre(v)
		case "rho":
			c.Density = unit.KilogramsPerCubicMetre(v)
		default:
			panic(fmt.Sprintf("wood: classes.csv has property %q", p))
		}
		out[name] = c
	}
	return out
}

// LookupClass returns a strength class by its name ("C24", "D30").
//
// Source: [en-338] tables 1 and 3.
func LookupClass(name string) (Class, bool) {
	c, ok := classes[name]
	return c, ok
}

// ClassNames returns the names of the strength classes, sorted.
func ClassNames() []string {
	names := make([]string, 0, len(classes))
	for n := range classes {
		names = append(names, n)
	}
	slices.Sort(names)
	return names
}

// DepthFactor returns the rise of bending and tension strength of a small section.
//
//	k_h = min((150/h)^0.2, 1.3)
//
// h is the depth in bending or the larger side in tension, above 0; it counts below 150 mm and for a
// characteristic density up to 700 kg/m³, else the factor is 1. Panics when h is not above 0.
//
// Source: [en-1995-1-1] clause 3.2(3), read.
func DepthFactor(h unit.Length, density5 unit.KilogramsPerCubicMetre) float64 {
	if h <= 0 {
		panic("wood: depth is not above 0")
	}
	if h >= 150*unit.Millimetre || density5 > 700 {
		return 1
	}
	return min(math.Pow(150/h.MM(), 0.2), 1.3)
}
