package blank

import (
	"cmp"
	"slices"

	"longgrain/internal/ground/unit"
	"longgrain/internal/trade/shop"
)

// asSold is how near a finished size must be to a size as sold to be used without planing or jointing, and how near two
// thicknesses must lie to be one kind of timber. Judgement: half a millimetre is within what planed boards differ.
const asSold = unit.Millimetre / 2

// Kind is timber that is cut and planed together: one species, rough sawn or planed, boards or ready glued panels, of
// thicknesses that follow each other at most half a millimetre apart. A board measured at 38 mm on the rack and one sold
// as 38.1 mm are one kind.
type Kind struct {
	Species   string
	Low, High unit.Length
	Rough     bool
	Ready     bool // a panel glued by its maker
	thick     []unit.Length
}

// Has tells whether timber is of the kind.
func (k Kind) Has(species string, thick unit.Length, rough, ready bool) bool {
	return k.Species == species && k.Rough == rough && k.Ready == ready && k.Low <= thick && thick <= k.High
}

// Kinds returns the kinds of timber of a species that the shop has or can buy: boards before panels, planed before rough
// sawn, thinnest first.
func Kinds(s shop.Shop, species string) []Kind {
	type stuff struct {
		thick        unit.Length
		rough, ready bool
	}
	var all []stuff
	for _, t := range s.Timber {
		if t.Species == species {
			all = append(all, stuff{t.Thickness, t.Rough, t.Panel})
		}
	}
	for _, b := range slices.Concat(s.Boards, s.Offcuts) {
		if b.Species == species {
			all = append(all, stuff{b.Thickness, b.Rough, b.Panel})
		}
	}
	order := func(x bool) int {
		if x {
			return 1
		}
		return 0
	}
	slices.SortFunc(all, func(a, b stuff) int {
		return cmp.Or(cmp.Compare(order(a.ready), order(b.ready)), cmp.Compare(order(a.rough), order(b.rough)), cmp.Compare(a.thick, b.thick))
	})
	var out []Kind
	for _, x := range all {
		last := len(out) - 1
		if last < 0 || out[last].Rough != x.rough || out[last].Ready != x.ready || x.thick-out[last].High > asSold {
			out = append(out, Kind{species, x.thick, x.thick, x.rough, x.ready, []unit.Length{x.thick}})
			continue
		}
		if x.thick > out[last].High {
			out[last].High = x.thick
			out[last].thick = append(out[last].thick, x.thick)
		}
	}
	return out
}

// usable returns the thickness left of timber of the kind after planing.
func (k Kind) usable(thick unit.Length, h shop.Habits) unit.Length {
	if k.Rough {
		return thick - h.RoughThicknessAllowance
	}
	return thick - h.PlanedThicknessAllowance
}

// from returns the thinnest timber of the kind that serves, and false when none does.
func (k Kind) from(serves func(unit.Length) bool) (unit.Length, bool) {
	if i := slices.IndexFunc(k.thick, serves); i >= 0 {
		return k.thick[i], true
	}
	return 0, false
}

// saleWidth is a width of planed timber at the yard, or a panel with its lengths.
type saleWidth struct {
	width   unit.Length
	lengths []unit.Length
}

// widths returns the widths that timber of a kind is sold in, narrowest first; rough-sawn boards have none that could be used
// as sold.
func (k Kind) widths(s shop.Shop) []saleWidth {
	var out []saleWidth
	for _, t := range s.Timber {
		if k.Rough || !k.Has(t.Species, t.Thickness, t.Rough, t.Panel) {
			continue
		}
		i := slices.IndexFunc(out, func(x saleWidth) bool { return x.width == t.Width })
		if i < 0 {
			i = len(out)
			out = append(out, saleWidth{width: t.Width})
		}
		for _, p := range t.Pieces {
			out[i].lengths = append(out[i].lengths, p.Length)
		}
	}
	slices.SortStableFunc(out, func(a, b saleWidth) int { return cmp.Compare(a.width, b.width) })
	return out
}

// widest returns the widest board of a kind that is at least low thick.
func (k Kind) widest(s shop.Shop, low unit.Length) unit.Length {
	var w unit.Length
	for _, t := range s.Timber {
		if t.Thickness >= low && k.Has(t.Species, t.Thickness, t.Rough, t.Panel) {
			w = max(w, t.Width)
		}
	}
	for _, b := range slices.Concat(s.Boards, s.Offcuts) {
		if b.Thickness >= low && k.Has(b.Species, b.Thickness, b.Rough, b.Panel) {
			w = max(w, b.Width)
		}
	}
	return w
}
