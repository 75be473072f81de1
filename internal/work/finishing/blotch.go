package finishing

import (
	"slices"

	"longgrain/internal/design/assembly"
	"longgrain/internal/ground/source"
	"longgrain/internal/trade/coating"
	"longgrain/internal/trade/wood"
)

// Risk says how likely colour comes out in patches.
type Risk string

// The risks.
const (
	NoRisk      Risk = "none"
	LowRisk     Risk = "low"
	SomeRisk    Risk = "some"
	HighRisk    Risk = "high"
	UnknownRisk Risk = "not known"
)

// Blotch is the risk of patchy colour with its reason.
type Blotch struct {
	Risk Risk        `json:"risk"`
	Why  string      `json:"why"`
	Cite source.Cite `json:"cite,omitzero"`
}

// blotch judges the colour of a finish on the woods of a piece. The ranking of the ways is published for pine; other
// softwoods are taken to be like it, which is a judgement, and nothing is claimed of hardwoods.
func blotch(a assembly.Assembly, finish coating.Schedule) Blotch {
	var colour, before string
	for _, s := range finish.Steps {
		if s.Action == coating.Colour && colour == "" {
			colour = s.Product
			if i := slices.IndexFunc(finish.Steps, func(x coating.Step) bool { return x.Action == coating.Condition }); i >= 0 && finish.Steps[i].Product != "" {
				before = finish.Steps[i].Product
			}
		}
	}
	if colour == "" {
		return Blotch{Risk: NoRisk, Why: "Nothing in this finish colours the wood; clear coats only deepen its own colour."}
	}
	soft, hard := false, false
	for _, p := range a.Parts {
		s, ok := wood.Lookup(p.Species)
		soft, hard = soft || ok && s.Group == wood.Softwood, hard || ok && s.Group == wood.Hardwood
	}
	cite := source.At("finishing-columnist", "colour on pine", source.Read)
	cause := "The soft early wood of pine drinks, the dense late wood does not, and pockets of resin draw oil stain. "
	switch {
	case !soft && hard:
		return Blotch{UnknownRisk, "No figure is published for this hardwood: the test piece decides.", source.Cite{}}
	case colour == "water-dye" || colour == "spirit-dye":
		return Blotch{LowRisk, cause + "Dye goes into both and evens out better than pigment; keep a wet edge, and wet end grain first.", cite}
	case colour == "gel-stain":
		return Blotch{LowRisk, cause + "Gel stain lies on the surface, so it shows this least of the pigment stains.", cite}
	case before != "":
		return Blotch{SomeRisk, cause + "The conditioner fills the thirsty places before the stain; how well depends on its drying, on which sources disagree. A patch comes out only by cutting away up to 0.8 mm.", cite}
	}
	return Blotch{HighRisk, cause + "Pigment on bare pine is the least safe way: choose no colour, gel stain, dye, or a washcoat first. A patch comes out only by cutting away up to 0.8 mm.", cite}
}
