package testlog

import (
	"fmt"
	"slices"
	"strings"

	"longgrain/internal/design/joint"
	"longgrain/internal/ground/problem"
	"longgrain/internal/ground/unit"
	"longgrain/internal/trade/wood"
)

// SizeName is a size of a test joint by the name that the log knows it under.
type SizeName struct {
	Name  string       // "depth in rail", as in the heading "sizes.depth in rail"
	Help  string       // what is measured
	Kinds []joint.Kind // that have it; none: all
	set   func(*joint.Specimen, unit.Length)
}

// tenons are the kinds that are cut from the rail.
var tenons = []joint.Kind{joint.Tenon, joint.ThroughTenon, joint.HaunchedTenon, joint.TwinTenons}

// sizeNames lists the sizes that the book asks for. A test may have others; they are kept and not used.
var sizeNames = []SizeName{
	{"rail width", "width of the rail, at right angles to the load's pull", nil, func(p *joint.Specimen, l unit.Length) { p.Width = l }},
	{"rail thickness", "thickness of the rail", nil, func(p *joint.Specimen, l unit.Length) { p.Thickness = l }},
	{"diameter", "diameter of the dowels", []joint.Kind{joint.Dowels}, func(p *joint.Specimen, l unit.Length) { p.Sizes.Diameter = l }},
	{"depth in rail", "glued depth of the dowels in the rail", []joint.Kind{joint.Dowels}, func(p *joint.Specimen, l unit.Length) { p.Sizes.DepthA = l }},
	{"depth in leg", "glued depth in the leg; of a pocket screw, its thread in the leg", []joint.Kind{joint.Dowels, joint.PocketScrews}, func(p *joint.Specimen, l unit.Length) { p.Sizes.DepthB = l }},
	{"spacing", "between the middles of neighbouring pins", []joint.Kind{joint.Dowels, joint.PocketScrews, joint.Biscuits}, func(p *joint.Specimen, l unit.Length) { p.Spacing = l }},
	{"edge", "from the edge of the rail to the middle of the first pin, or to the tenon; leave out when it stands in the middle", nil, func(p *joint.Specimen, l unit.Length) { p.Edge = l }},
	{"thickness", "thickness of the tenon", tenons, func(p *joint.Specimen, l unit.Length) { p.Sizes.Thickness = l }},
	{"width", "width of the tenon, along the width of the rail", tenons, func(p *joint.Specimen, l unit.Length) { p.Sizes.Width = l }},
	{"length", "length of the tenon, or of the biscuits", append([]joint.Kind{joint.Biscuits}, tenons...), func(p *joint.Specimen, l unit.Length) {
		if p.Kind == joint.Biscuits {
			p.Sizes.Width = l
			return
		}
		p.Sizes.DepthB = l
	}},
}

// SizeNames returns the sizes that the book asks for a kind of joint, in the order in which to ask.
func SizeNames(kind joint.Kind) []SizeName {
	return slices.DeleteFunc(slices.Clone(sizeNames), func(s SizeName) bool { return s.Kinds != nil && !slices.Contains(s.Kinds, kind) })
}

// Counted tells whether a joint of a kind is made of a number of pins that must be told.
func Counted(kind joint.Kind) bool { return !slices.Contains(tenons, kind) }

// Directions lists the words for how a rig loads a joint.
func Directions() []string { return []string{"open", "close", "pull", "shear"} }

// specimen returns a test as a specimen of package joint.
func (b *book) specimen(t Test) joint.Specimen {
	p := joint.Specimen{Kind: b.kinds.of(t.Joint), SpeciesA: t.Species, Moisture: wood.Moisture(t.Moisture)}
	p.Sizes.Count = t.Count
	for name, typed := range t.Sizes {
		if set := b.size(name); set != nil {
			set(&p, metres(typed))
		}
	}
	switch {
	case strings.EqualFold(t.Direction, "pull"):
		p.Action = joint.Pulled
	case strings.EqualFold(t.Direction, "shear"):
		p.Action = joint.Sheared
	case t.bends():
		p.Action, p.Lever = joint.Bent, metres(*t.Lever)
	}
	return p
}

// size returns what a size of a name sets; nil when the book does not ask for it.
func (b *book) size(name string) func(*joint.Specimen, unit.Length) {
	set, known := b.sizes[name]
	if !known {
		i := slices.IndexFunc(sizeNames, func(s SizeName) bool { return problem.SameName(strings.ReplaceAll(name, "_", " "), s.Name) })
		if i >= 0 {
			set = sizeNames[i].set
		}
		b.sizes[name] = set
	}
	return set
}

func metres(v Typed) unit.Length { return unit.MM(v.SI * 1000) }

// forecast is what the book says of a test.
type forecast struct {
	load    float64 // N, mean; 0 when it cannot be worked out
	cov     float64
	tested  joint.Tested // what it speaks of
	missing []string
}

// book works tests out as package joint does, each set of sizes once.
type book struct {
	known map[joint.Specimen]forecast
	kinds kindMemory
	sizes map[string]func(*joint.Specimen, unit.Length)
}

func newBook() *book {
	return &book{map[joint.Specimen]forecast{}, kindMemory{}, map[string]func(*joint.Specimen, unit.Length){}}
}

func (b *book) of(t Test) forecast {
	p := b.specimen(t)
	f, ok := b.known[p]
	if !ok {
		f = forecastOf(p)
		b.known[p] = f
	}
	return f
}

func forecastOf(p joint.Specimen) forecast {
	got, missing := p.Predict()
	for i, what := range missing {
		switch what {
		case joint.NotLoaded:
			missing[i] = "how it was loaded: a lever, or pull or shear as direction"
		case joint.UnknownWood(p.SpeciesA):
			missing[i] = instead(p.SpeciesA)
		}
	}
	switch {
	case len(missing) > 0:
		return forecast{missing: missing}
	case got.Resistance.Governs == joint.RailItself:
		return forecast{load: float64(got.Load), missing: []string{"a rail that is stronger than its joint: the book expects the rail to break first"}}
	}
	species, _ := wood.Find(p.SpeciesA)
	return forecast{load: float64(got.Load), cov: got.Resistance.COV, tested: joint.Tested{Kind: p.Kind, Wood: species.Group, Way: p.Action.Way()}}
}

// instead names a wood of the catalogue for one that is not in it, or whose strength nobody has published.
func instead(name string) string {
	if _, ok := wood.Find(name); ok {
		return joint.UnknownWood(name)
	}
	near := problem.Nearest(strings.ToLower(name), wood.Names())
	if near == "" {
		near = "eastern white pine"
	}
	return fmt.Sprintf("a wood of the catalogue instead of %q, such as %s", name, near)
}

// Forecast returns the mean load in newtons that the book gives for a test, and what is missing to use the test: sizes,
// a wood of the catalogue, or a rail that is stronger than its joint.
func Forecast(t Test) (newtons float64, missing []string) {
	f := newBook().of(t)
	return f.load, f.missing
}

// Beside returns, for each test, what is missing to set it beside the book: nothing, or names. A withdrawn test lacks
// nothing, as it is not used.
func Beside(tests []Test) [][]string {
	b, out := newBook(), make([][]string, len(tests))
	for i, t := range tests {
		if !t.Withdrawn && t.counts() {
			out[i] = b.of(t).missing
		}
	}
	return out
}
