// Package blank goes from finished parts to rough pieces of timber: one board, strips laminated face to face,
// staves glued edge to edge, or a cut from a panel glued by its maker, with the allowances of the shop.
//
// Kinds says which timber of the shop is cut and planed together. Ways lists every way to get a part from it; package
// cutting decides among them by what the whole job costs. Sizes are rough: what has to come off the saw. Pieces too
// short for planer and jointer are milled several in one length. The package chooses no boards.
package blank

import (
	"fmt"

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
	Ready     Build = "ready panel" // from a panel glued by its maker; a description that asks for a panel allows it
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

// Way is one way to get each part of a group from timber of one kind.
type Way struct {
	Group  int         `json:"group"`
	Build  Build       `json:"build"`
	Pieces int         `json:"pieces"` // strips or staves in each part
	Length unit.Length `json:"length"` // rough, of each piece
	Width  unit.Length `json:"width"`  // rough, of each piece
	// Stock is the thinnest timber that serves and Thickest the thickest; Planed is each piece when it is glued or finished.
	Stock    unit.Length `json:"stock"`
	Thickest unit.Length `json:"thickest"`
	Rough    bool        `json:"rough,omitempty"` // the timber is rough sawn
	Ready    bool        `json:"ready,omitempty"` // the timber is a panel glued by its maker
	Planed   unit.Length `json:"planed"`
	// Whole says that the piece takes the full width of the board as sold, without ripping.
	Whole bool `json:"whole"`
	// Least is the shortest length that the machines take, when the piece is shorter: several are then milled in one length.
	Least unit.Length `json:"least,omitempty"`
	Notes []string    `json:"notes,omitempty"`
}

// Gang returns how many pieces are milled in one length that the machines take, and how long that is; one piece and its own
// length where that is long enough. n is the number of pieces that there are.
//
//	k = min(n, ceil((S + s) / (L + s))),  length = max(S, k L + (k - 1) s)
//
// S is the shortest length that the machines take, L the rough length of a piece, s the kerf. Derived: k pieces and the
// cuts between them. Panics when there is no piece.
func (w Way) Gang(n int, kerf unit.Length) (pieces int, length unit.Length) {
	if n < 1 {
		panic("blank: a gang of no pieces")
	}
	if w.Least <= w.Length {
		return 1, w.Length
	}
	pieces = min(n, int((w.Least+kerf+w.Length+kerf-1)/(w.Length+kerf)))
	return pieces, max(w.Least, w.Length*unit.Length(pieces)+kerf*unit.Length(pieces-1))
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
		out := f.Depth
		if _, angled := p.Bevel(f.Side); angled {
			out = beyond(p, f)
		}
		if f.Side.High() {
			high = max(high, out)
		} else {
			low = max(low, out)
		}
	}
	return low + high
}

// beyond returns how far a tenon on a side at an angle reaches beyond the longest point of its part.
func beyond(p assembly.Part, f assembly.Feature) unit.Length {
	box := p.Under(f.Side, f.U-f.Length/2, f.V-f.Width/2, f.Length, f.Width, -f.Depth)
	at, out := p.Facing(f.Side)
	return max(0, unit.MM(box.Support(out).Sub(at).Dot(out)).CeilTo(unit.Millimetre/10))
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
