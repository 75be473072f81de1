package wood

import (
	_ "embed"
	"math"

	"longgrain/internal/ground/source"
	"longgrain/internal/ground/unit"
)

//go:embed relations.csv
var relationsCSV string

type relation struct {
	coefficient, power float64
	cite               source.Cite
}

type relationKey struct {
	group    Group
	property Property
}

var relations = readRelations()

func readRelations() map[relationKey]relation {
	out := map[relationKey]relation{}
	for _, r := range source.Table("relations.csv", relationsCSV) {
		out[relationKey{Group(r.Text("group")), Property(r.Text("property"))}] = relation{r.Number("coefficient"), r.Number("power"), r.Cite()}
	}
	return out
}

// Related returns a property of clear wood at 12 % moisture as it goes with specific gravity among the woods of a
// group.
//
//	P = k G^n
//
// G is the specific gravity at 12 %, published for woods of about 0.3 to 0.75; k and n belong to the property and to
// softwood or hardwood. False when the species has no gravity or the property no relation.
//
// Source: [wood-handbook] table 5-11a, from memory; measured against the published means of the species beside it:
// half of the shear strengths lie within 9 %, half of the
// compressions across the grain within 6 % in softwood and 17 % in hardwood. Single species miss by up to a third.
func (s Species) Related(p Property) (Figure[unit.MPa], bool) {
	r, known := relations[relationKey{s.Group, p}]
	g, ok := s.Gravity()
	if !known || !ok {
		return Figure[unit.MPa]{}, false
	}
	cite := r.cite
	cite.Confidence = source.Weaker(cite.Confidence, g.Cite.Confidence)
	return Figure[unit.MPa]{unit.MPa(r.coefficient * math.Pow(float64(g.Value), r.power)), cite}, true
}

// AtOrRelated is At where a figure of the species is published, and else Related brought to the moisture content by
// MoistureFactor.
func (s Species) AtOrRelated(p Property, m Moisture) (Figure[unit.MPa], bool) {
	if f, ok := s.At(p, m); ok {
		return f, true
	}
	f, ok := s.Related(p)
	if !ok {
		return f, false
	}
	factor := MoistureFactor(p, m)
	f.Value *= unit.MPa(factor.Value)
	if m != 12 {
		f.Cite.Confidence = source.Weaker(f.Cite.Confidence, factor.Cite.Confidence)
	}
	return f, true
}
