// Package blank goes from finished parts to rough pieces of timber: one board, strips laminated face to face,
// or staves glued edge to edge, with the allowances of the shop.
//
// Ways lists every way to get a part from the timber that the shop can have; package cutting decides among them
// by what the whole job costs. Sizes are rough: what has to come off the saw. The package chooses no boards.
package blank

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"longgrain/internal/design/assembly"
	"longgrain/internal/ground/source"
	"longgrain/internal/ground/unit"
	"longgrain/internal/ground/working"
	"longgrain/internal/trade/shop"
)

// Build says how a part is got from timber.
type Build string

// The builds, in the words of the piece file.
const (
	OneBoard  Build = "one board"
	Laminated Build = "laminated"
	Panel     Build = "panel"
)

// Group is a number of parts alike.
type Group struct {
	Name    string      `json:"name"` // of the first part; "and n more" is for the reader of the list
	Role    string      `json:"role"`
	Parts   []int       `json:"parts"` // indices into the assembly
	Species string      `json:"species"`
	Build   Build       `json:"build,omitempty"` // fixed by the description, or empty
	Length  unit.Length `json:"length"`          // finished, over tenons
	Width   unit.Length `json:"width"`
	Thick   unit.Length `json:"thick"`
}

// Way is one way to get each part of a group from timber of one thickness.
type Way struct {
	Group  int         `json:"group"`
	Build  Build       `json:"build"`
	Pieces int         `json:"pieces"` // strips or staves in each part
	Length unit.Length `json:"length"` // rough, of each piece
	Width  unit.Length `json:"width"`  // rough, of each piece
	// Stock is the thickness of the timber; Planed that of each piece when it is glued or finished.
	Stock  unit.Length `json:"stock"`
	Rough  bool        `json:"rough,omitempty"` // the timber is rough sawn
	Planed unit.Length `json:"planed"`
	// Whole says that the piece takes the full width of the board as sold, without ripping.
	Whole bool     `json:"whole"`
	Notes []string `json:"notes,omitempty"`
}

// Groups returns the parts of an assembly in groups alike, in the order of the first of each.
func Groups(a assembly.Assembly) []Group {
	var out []Group
	index := map[string]int{}
	for i, p := range a.Parts {
		g := Group{Name: p.Name, Role: p.Role, Species: p.Species, Build: Build(p.Build), Length: overTenons(p), Width: overTongues(p), Thick: p.Thickness}
		key := fmt.Sprint(p.Kind, g.Length, g.Width)
		k, known := index[key]
		if !known {
			k = len(out)
			index[key] = k
			out = append(out, g)
		}
		out[k].Parts = append(out[k].Parts, i)
	}
	return out
}

// overTenons returns the length of a part with the tenons that stand out of its ends.
func overTenons(p assembly.Part) unit.Length { return p.Length + standing(p, 0) }

// overTongues returns the width of a part with the tongues that stand out of its edges.
func overTongues(p assembly.Part) unit.Length { return p.Width + standing(p, 1) }

// standing returns how much stands out of the two sides that an axis is square to.
func standing(p assembly.Part, axis int) unit.Length {
	var low, high unit.Length
	for _, f := range p.Features {
		if f.Kind != assembly.Tenon || f.Side.Axis() != axis {
			continue
		}
		if f.Side.High() {
			high = max(high, f.Depth)
		} else {
			low = max(low, f.Depth)
		}
	}
	return low + high
}

// asSold is how near a finished size must be to a size as sold to be used without planing or jointing. Judgement: half
// a millimetre is within what planed boards differ.
const asSold = unit.Millimetre / 2

// most strips in a lamination and staves in a panel. Judgement: more is a sign of the wrong timber.
const (
	mostStrips = 6
	mostStaves = 30
)

// thicknesses returns the thicknesses of timber of a species that the shop has or can buy, thinnest first, and whether each
// is rough sawn.
func thicknesses(s shop.Shop, species string) []stockThickness {
	var out []stockThickness
	add := func(kind string, t unit.Length, rough bool) {
		x := stockThickness{t, rough}
		if kind == species && !slices.Contains(out, x) {
			out = append(out, x)
		}
	}
	for _, t := range s.Timber {
		add(t.Species, t.Thickness, t.Rough)
	}
	for _, b := range slices.Concat(s.Boards, s.Offcuts) {
		add(b.Species, b.Thickness, b.Rough)
	}
	slices.SortFunc(out, func(a, b stockThickness) int { return cmp.Compare(a.thick, b.thick) })
	return out
}

type stockThickness struct {
	thick unit.Length
	rough bool
}

// usable returns the thickness left after planing.
func (t stockThickness) usable(h shop.Habits) unit.Length {
	if t.rough {
		return t.thick - h.RoughThicknessAllowance
	}
	return t.thick - h.PlanedThicknessAllowance
}

// widest returns the widest board of a thickness.
func widest(s shop.Shop, species string, t stockThickness) unit.Length {
	var w unit.Length
	for _, x := range s.Timber {
		if x.Species == species && x.Thickness == t.thick && x.Rough == t.rough && !x.Panel {
			w = max(w, x.Width)
		}
	}
	for _, b := range slices.Concat(s.Boards, s.Offcuts) {
		if b.Species == species && b.Thickness == t.thick && b.Rough == t.rough {
			w = max(w, b.Width)
		}
	}
	return w
}

// planedWidths returns the widths of planed boards of a thickness; rough-sawn ones have no width that could be used as sold.
func planedWidths(s shop.Shop, species string, t stockThickness) []unit.Length {
	var out []unit.Length
	for _, x := range s.Timber {
		if x.Species == species && x.Thickness == t.thick && !x.Rough && !t.rough && !x.Panel {
			out = append(out, x.Width)
		}
	}
	return out
}

// Ways returns every way to get the parts of a group from the shop's timber: from one board, as a lamination, as a
// panel. An empty list means that no timber of the species is thick or wide enough.
func Ways(index int, g Group, s shop.Shop) []Way {
	var out []Way
	for _, t := range thicknesses(s, g.Species) {
		out = append(out, oneBoard(index, g, s, t)...)
		out = append(out, laminated(index, g, s, t)...)
		out = append(out, panel(index, g, s, t)...)
	}
	return slices.DeleteFunc(out, func(w Way) bool { return g.Build != "" && w.Build != g.Build })
}

// oneBoard needs timber that is thick enough after planing, or just as thick as sold, and wide enough.
func oneBoard(index int, g Group, s shop.Shop, t stockThickness) []Way {
	h := s.Habits
	if g.Thick > t.usable(h) && (t.rough || (g.Thick-t.thick).Abs() > asSold) {
		return nil
	}
	w := Way{Group: index, Build: OneBoard, Pieces: 1, Stock: t.thick, Rough: t.rough, Planed: g.Thick,
		Length: g.Length + h.LengthAllowance, Width: g.Width + h.WidthAllowance}
	for _, sold := range planedWidths(s, g.Species, t) {
		if (sold - g.Width).Abs() <= asSold {
			whole := w
			whole.Width, whole.Whole = sold, true
			whole.Notes = append(millingNotes(g, s), "used at the width as sold")
			return []Way{whole}
		}
	}
	if w.Width > widest(s, g.Species, t) {
		return nil
	}
	w.Notes = millingNotes(g, s)
	return []Way{w}
}

// laminated glues strips face to face so that the planed stack gives the thickness.
func laminated(index int, g Group, s shop.Shop, t stockThickness) []Way {
	h := s.Habits
	n := int(math.Ceil(float64(g.Thick) / float64(max(1, t.usable(h)))))
	if t.usable(h) <= 0 || n < 2 || n > mostStrips || g.Width+h.WidthAllowance > widest(s, g.Species, t) {
		return nil
	}
	return []Way{{Group: index, Build: Laminated, Pieces: n, Stock: t.thick, Rough: t.rough, Planed: g.Thick / unit.Length(n),
		Length: g.Length + h.LengthAllowance, Width: g.Width + h.WidthAllowance,
		Notes: append(millingNotes(g, s), fmt.Sprintf("each strip is planed to %s before gluing", (g.Thick/unit.Length(n)).Show(s.Family)))}}
}

// panel glues staves edge to edge. Staves are as wide as the habit of the shop says, and never wider than the boards.
func panel(index int, g Group, s shop.Shop, t stockThickness) []Way {
	h := s.Habits
	if g.Thick+h.PanelAllowance > t.usable(h)+h.PlanedThicknessAllowance || g.Thick > t.thick {
		return nil
	}
	stave := min(h.StaveWidth, widest(s, g.Species, t)-h.GluedEdgeAllowance)
	if stave <= 0 {
		return nil
	}
	over := g.Width + h.WidthAllowance
	n := int(math.Ceil(float64(over) / float64(stave)))
	if n < 2 || n > mostStaves {
		return nil
	}
	width := (over + unit.Length(n) - 1) / unit.Length(n)
	return []Way{{Group: index, Build: Panel, Pieces: n, Stock: t.thick, Rough: t.rough, Planed: g.Thick,
		Length: g.Length + h.LengthAllowance, Width: (width + h.GluedEdgeAllowance).CeilTo(unit.Millimetre / 10),
		Notes: append(millingNotes(g, s), fmt.Sprintf("%d staves, about %s wide when jointed", n, width.Show(s.Family)))}}
}

// millingNotes says what a short part needs at the planer and jointer.
func millingNotes(g Group, s shop.Shop) []string {
	least := max(s.Habits.PlanerMinimumLength, s.Habits.JointerMinimumLength)
	if g.Length+s.Habits.LengthAllowance >= least {
		return nil
	}
	return []string{fmt.Sprintf("shorter than %s: plane it as part of a longer piece and cut it off afterwards", least.Show(s.Family))}
}

// Working says how the rough sizes of a way follow from the finished ones.
func (w Way) Working(g Group, h shop.Habits) working.Working {
	step := working.Step{Title: "Rough size of " + g.Name, Formula: "finished size and the shop's allowances",
		Inputs: []working.Value{
			{Symbol: "L", Name: "finished length", Number: g.Length.MM(), Unit: "mm"}, {Symbol: "W", Name: "finished width", Number: g.Width.MM(), Unit: "mm"}, {Symbol: "T", Name: "finished thickness", Number: g.Thick.MM(), Unit: "mm"},
			{Symbol: "a_L", Name: "allowance in length", Number: h.LengthAllowance.MM(), Unit: "mm"}, {Symbol: "a_W", Name: "allowance in width", Number: h.WidthAllowance.MM(), Unit: "mm"},
			{Symbol: "n", Name: "pieces in each part", Number: float64(w.Pieces)},
		},
		Result: working.Value{Symbol: "rough", Text: fmt.Sprintf("%d × %.0f × %.0f mm from %.0f mm timber", w.Pieces, w.Length.MM(), w.Width.MM(), w.Stock.MM())},
		Cite:   source.Practice()}
	return working.Working{step}
}
