// Package wood knows the properties of wood: species with their published figures, moisture and its
// effects, the step from clear wood to a knotty board, strength classes and duration of load.
//
// A Species answers with figures, each carrying the place it was taken from and how sure it is. A
// figure that no source gives is missing: the method returns false and nothing is invented. The
// tables are embedded CSV, one value per row, in the unit in which the source prints it; values
// come out in the units of package unit. The package knows nothing of boards, joints or pieces: sizes
// as sold are in lumber, movement of a part is in check/movement.
package wood

import (
	_ "embed"
	"fmt"
	"slices"

	"longgrain/internal/ground/source"
	"longgrain/internal/ground/unit"
)

// Figure is one value of a property with its origin.
type Figure[T ~float64] struct {
	Value T           `json:"value"`
	Cite  source.Cite `json:"cite"`
}

// Group is the botanical group that strength relations are given for.
type Group string

// The two groups.
const (
	Softwood Group = "softwood"
	Hardwood Group = "hardwood"
)

// Species is one species or commercial group of species. The zero value is no species.
type Species struct {
	ID        string      `json:"id"`        // as written in piece and shop files: "eastern-white-pine"
	Name      string      `json:"name"`      // as printed: "Eastern white pine"
	Botanical string      `json:"botanical"` // botanical name
	Group     Group       `json:"group"`
	Cite      source.Cite `json:"cite"` // of the name and group

	combination string // species combination in the fastener tables; may be empty
}

// quantity names a column of properties.csv.
type quantity string

const (
	specificGravity quantity = "sg"
	density         quantity = "density"
	hardness        quantity = "hardness"
	shrinkRadial    quantity = "shrink_r"
	shrinkTangent   quantity = "shrink_t"
	shrinkVolume    quantity = "shrink_v"
	changeRadial    quantity = "change_r"
	changeTangent   quantity = "change_t"
	intersection    quantity = "mp"
)

// The two moisture states that strength tables are printed for, and none.
const (
	at12    = "12"
	green   = "green"
	noState = ""
)

type place struct {
	species  string
	quantity quantity
	state    string
}

//go:embed species.csv
var speciesCSV string

//go:embed properties.csv
var propertiesCSV string

var (
	species    = readSpecies()
	properties = readProperties()
)

func readSpecies() map[string]Species {
	out := map[string]Species{}
	for _, r := range source.Table("species.csv", speciesCSV) {
		id := r.Text("id")
		out[id] = Species{ID: id, Name: r.Text("name"), Botanical: r.Text("botanical"),
			Group: Group(r.Text("group")), Cite: r.Cite(), combination: r.Text("nds")}
	}
	return out
}

// toOurUnit gives the factor from a unit of the tables to the unit of package unit.
var toOurUnit = map[string]float64{
	"": 1, "%": 1, "1/%": 1, "kg/m3": 1, "MPa": 1, "N": 1, "GPa": 1000,
	"psi": unit.MPaPerPSI, "million psi": 1e6 * unit.MPaPerPSI, "lbf": unit.NewtonsPerPoundForce,
}

func valueOf(r source.Row) float64 {
	factor, ok := toOurUnit[r.Text("unit")]
	if !ok {
		panic(fmt.Sprintf("wood: unknown unit %q", r.Text("unit")))
	}
	return r.Number("value") * factor
}

func readProperties() map[place]Figure[float64] {
	out := map[place]Figure[float64]{}
	for _, r := range source.Table("properties.csv", propertiesCSV) {
		key := place{r.Text("species"), quantity(r.Text("property")), r.Text("moisture")}
		if _, known := species[key.species]; !known {
			panic(fmt.Sprintf("wood: properties.csv names unknown species %q", key.species))
		}
		if _, twice := out[key]; twice {
			panic(fmt.Sprintf("wood: properties.csv gives %v twice", key))
		}
		out[key] = Figure[float64]{valueOf(r), r.Cite()}
	}
	return out
}

// Lookup returns the species of an id.
func Lookup(id string) (Species, bool) {
	s, ok := species[id]
	return s, ok
}

// IDs returns the ids of all species, sorted.
func IDs() []string {
	ids := make([]string, 0, len(species))
	for id := range species {
		ids = append(ids, id)
	}
	slices.Sort(ids)
	return ids
}

func (s Species) figure(q quantity, state string) (Figure[float64], bool) {
	f, ok := properties[place{s.ID, q, state}]
	return f, ok
}

// convert gives a figure the type of its quantity.
func convert[T ~float64](f Figure[float64], ok bool) (Figure[T], bool) {
	return Figure[T]{T(f.Value), f.Cite}, ok
}

// computed is a figure worked out from another one by a formula; it is never surer than its origin.
func computed[T ~float64](v T, from source.Cite) Figure[T] {
	from.Confidence = source.Weaker(from.Confidence, source.Computed)
	return Figure[T]{v, from}
}

// Hardness returns the side hardness at 12 % moisture: the force that presses a ball of 11.3 mm half
// way in. False when no source gives it.
func (s Species) Hardness() (Figure[unit.Newtons], bool) {
	return convert[unit.Newtons](s.figure(hardness, at12))
}

// IntersectionMoisture returns the moisture content below which strength rises with drying, and 25 %
// for a species that the table does not list.
//
// Source: [wood-handbook] table 5-14, from memory.
func (s Species) IntersectionMoisture() Figure[Moisture] {
	if f, ok := convert[Moisture](s.figure(intersection, noState)); ok {
		return f
	}
	return Figure[Moisture]{25, source.At("wood-handbook", "table 5-14, all other species", source.Memory)}
}
