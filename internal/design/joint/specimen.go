package joint

import (
	"fmt"
	"maps"
	"math"
	"slices"

	"longgrain/internal/design/assembly"
	"longgrain/internal/ground/unit"
	"longgrain/internal/trade/hardware"
	"longgrain/internal/trade/wood"
)

// Action says how a rig loads a joint.
type Action string

// How a rig loads a joint. Bent means the strong way, in the plane of the rail's width, opened or closed.
const (
	Bent         Action = "bent"
	BentSideways Action = "bent sideways"
	Pulled       Action = "pulled"
	Sheared      Action = "sheared" // along the width of the rail
)

// Specimen is a joint made to be broken: the end of a rail (A) in the middle of the side of another part (B). A size
// of zero was not noted.
type Specimen struct {
	Kind     Kind
	SpeciesA string        // name or id of the rail's wood
	SpeciesB string        // of the other part; empty means the same
	Moisture wood.Moisture // zero: 12 %
	// Width and Thickness are those of the rail: what meets of the two parts.
	Width, Thickness unit.Length
	// Sizes are those of the joint: Count, Diameter, DepthA and DepthB of pins; Thickness, Width and DepthB of a tenon;
	// Count and Width (length of the plate) of biscuits; Count and DepthB (thread in the wood) of pocket screws.
	Sizes Sizes
	// Spacing is the distance between the middles of pins, Edge that from the edge of the rail to the middle of the first
	// pin, or to the tenon. Either places pins; a row with neither is not placed. A tenon without Edge stands in the middle.
	Spacing, Edge unit.Length
	Action        Action
	Lever         unit.Length // from the load to the joint; zero: only the strength of the joint is asked for
}

// Prediction is what the book says of a specimen.
type Prediction struct {
	Resistance Resistance   // N, or N·m where the joint is bent
	Load       unit.Newtons // mean load at the lever, or the resistance itself; zero when bent at a lever that is not known
	Strength   Strength     // against every force, with its working
}

// Predict returns the strength of a specimen as Possible gives that of a joint in a piece, or the names of everything
// that is missing to work it out. Rules of the trade are not asked: a test joint may break them.
//
//	F = M / L
//
// M is the bending strength, L the lever from the load to the joint. Source: definition of a moment.
func (p Specimen) Predict() (Prediction, []string) {
	makes, known := specimens[p.Kind]
	if !known {
		makes, known = faced[p.Kind]
	}
	if !known {
		return Prediction{}, []string{fmt.Sprintf("a model of %q", p.Kind)}
	}
	site, missing := p.site()
	missing = append(missing, makes.missing(p)...)
	if !slices.Contains([]Action{Bent, BentSideways, Pulled, Sheared}, p.Action) {
		missing = append(missing, NotLoaded)
	}
	if len(missing) > 0 {
		return Prediction{}, missing
	}
	st := makes.strength(p, site)
	out := Prediction{Strength: st}
	switch p.Action {
	case Pulled:
		out.Resistance = st.Tension
	case Sheared:
		out.Resistance = st.ShearU
	case BentSideways:
		out.Resistance = st.BendV
	default:
		out.Resistance = st.BendU
	}
	switch {
	case p.Action == Pulled || p.Action == Sheared:
		out.Load = unit.Newtons(out.Resistance.Mean)
	case p.Lever > 0:
		out.Load = unit.Newtons(out.Resistance.Mean / p.Lever.Metres())
	}
	return out, nil
}

// NotLoaded is what is missing of a specimen without Action.
const NotLoaded = "how the joint was loaded"

// UnknownWood is what is missing of a specimen in a wood without published strengths.
func UnknownWood(name string) string { return fmt.Sprintf("published strengths of %q", name) }

// site returns the specimen as a site, and what is missing of woods and rail.
func (p Specimen) site() (Site, []string) {
	s := Site{A: assembly.Part{Name: "the rail"}, B: assembly.Part{Name: "the other part"}}
	s.Connection.A.Area = assembly.Rect{U1: p.Width, V1: p.Thickness}
	m := p.Moisture
	if m == 0 {
		m = 12 // what strengths are published at
	}
	var missing []string
	of := func(name string) Timber {
		if name == "" {
			missing = append(missing, "the wood")
			return Timber{}
		}
		id := name
		if found, ok := wood.Find(name); ok {
			id = found.ID
		}
		t, err := timber(id, m)
		if err != nil {
			missing = append(missing, UnknownWood(name))
		}
		return t
	}
	s.TimberA = of(p.SpeciesA)
	s.TimberB = s.TimberA
	if p.SpeciesB != "" && p.SpeciesB != p.SpeciesA {
		s.TimberB = of(p.SpeciesB)
	}
	if p.Width <= 0 {
		missing = append(missing, "the width of the rail")
	}
	if p.Thickness <= 0 {
		missing = append(missing, "the thickness of the rail")
	}
	return s, missing
}

// makesSpecimen says, for a kind of joint, which sizes a specimen must have and how strong it is then.
type makesSpecimen struct {
	missing  func(Specimen) []string
	strength func(Specimen, Site) Strength
}

// specimens holds the kinds that can be worked out from sizes alone.
var specimens = map[Kind]makesSpecimen{
	Dowels: {
		func(p Specimen) []string {
			return append(lacking(size{"the diameter of the dowels", p.Sizes.Diameter}, size{"the depth of the dowels in the rail", p.Sizes.DepthA},
				size{"the depth of the dowels in the other part", p.Sizes.DepthB}), p.placing("dowels")...)
		},
		func(p Specimen, s Site) Strength {
			return dowelStrength(s, p.Sizes.Diameter, p.pins(), p.Sizes.DepthA, p.Sizes.DepthB)
		},
	},
	Tenon:         {lacksTenon, tenonAlone},
	ThroughTenon:  {lacksTenon, tenonAlone},
	HaunchedTenon: {lacksTenon, tenonAlone}, // the haunch is not counted
	TwinTenons:    {lacksTenon, func(p Specimen, s Site) Strength { return doubled(tenonAlone(p, s)) }},
	PocketScrews: {
		func(p Specimen) []string {
			return append(lacking(size{"the length of thread in the other part", p.Sizes.DepthB}), p.placing("screws")...)
		},
		func(p Specimen, s Site) Strength { return pocketStrength(s, p.pins(), p.Sizes.DepthB) },
	},
	Biscuits: {
		func(p Specimen) []string {
			out := append(lacking(size{"the length of the biscuits", p.Sizes.Width}), p.placing("biscuits")...)
			if _, ok := p.biscuit(); p.Sizes.Width > 0 && !ok {
				out = append(out, "a biscuit of a length that is sold")
			}
			return out
		},
		func(p Specimen, s Site) Strength {
			b, _ := p.biscuit()
			return biscuitStrength(s, b, p.pins(), halfPlate(b))
		},
	},
}

// SpecimenKinds returns the kinds that Predict knows, by name.
func SpecimenKinds() []Kind { return slices.Sorted(maps.Keys(specimens)) }

func lacksTenon(p Specimen) []string {
	out := lacking(size{"the thickness of the tenon", p.Sizes.Thickness}, size{"the width of the tenon", p.Sizes.Width}, size{"the length of the tenon", p.Sizes.DepthB})
	if p.Width > 0 && p.Sizes.Width+p.Edge > p.Width {
		out = append(out, "a tenon that is no wider than its rail")
	}
	return out
}

// tenonAlone returns the strength of one tenon, without what a round end takes off its width.
func tenonAlone(p Specimen, s Site) Strength {
	middle, width := s.Height()/2, p.Sizes.Width
	if p.Edge > 0 {
		middle = (p.Edge + p.Sizes.Width/2).MM()
	}
	if p.Sizes.Rounded {
		width -= p.Sizes.Thickness.Scale(1 - math.Pi/4)
	}
	return tenonStrength(s, p.Sizes.Thickness, width, p.Sizes.DepthB, middle)
}

// size is a size that a specimen needs, by name.
type size struct {
	name   string
	length unit.Length
}

func lacking(sizes ...size) []string {
	var out []string
	for _, z := range sizes {
		if z.length <= 0 {
			out = append(out, z.name)
		}
	}
	return out
}

// placing returns what is missing to say where the pins stand. A joint that is not bent the strong way does not ask.
func (p Specimen) placing(pins string) []string {
	n := p.Sizes.Count
	switch {
	case n <= 0:
		return []string{"the number of " + pins}
	case n > mostPins:
		return []string{fmt.Sprintf("a number of %s up to %d", pins, mostPins)}
	case n == 1 || p.Action == Pulled || p.Action == Sheared || p.Action == BentSideways:
		return nil
	case p.Spacing <= 0 && p.Edge <= 0:
		return []string{"the spacing of the " + pins}
	}
	if at := p.pins(); p.Width > 0 && (p.step() <= 0 || at[0] <= 0 || at[n-1] >= p.Width) {
		return []string{"places of the " + pins + " that lie within the rail"}
	}
	return nil
}

// mostPins bounds the pins of a row. Judgement: no rail of furniture has room for more.
const mostPins = 50

// step is the distance between the middles of neighbouring pins.
func (p Specimen) step() unit.Length {
	n := unit.Length(max(p.Sizes.Count, 2))
	switch {
	case p.Spacing > 0:
		return p.Spacing
	case p.Edge > 0:
		return (p.Width - 2*p.Edge) / (n - 1)
	}
	return p.Width / n // no strength that asks for places is taken then
}

// pins returns the middles of the pins along the width of the rail, as far from both edges unless both spacing and
// edge are known.
func (p Specimen) pins() []unit.Length {
	out := make([]unit.Length, p.Sizes.Count)
	first := (p.Width - p.step()*unit.Length(len(out)-1)) / 2
	if p.Spacing > 0 && p.Edge > 0 {
		first = p.Edge
	}
	for i := range out {
		out[i] = first + p.step()*unit.Length(i)
	}
	return out
}

// biscuit returns the biscuit that is as long as the specimen's; half a millimetre is forgiven.
func (p Specimen) biscuit() (hardware.Biscuit, bool) {
	all := hardware.Biscuits()
	i := slices.IndexFunc(all, func(b hardware.Biscuit) bool { return same(p.Sizes.Width, b.Length) })
	if i < 0 || p.Sizes.Width <= 0 {
		return hardware.Biscuit{}, false
	}
	return all[i], true
}
