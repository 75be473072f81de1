package blank

import (
	"fmt"
	"math"
	"slices"

	"longgrain/internal/ground/unit"
	"longgrain/internal/trade/shop"
)

// most strips in a lamination and staves in a panel. Judgement: more is a sign of the wrong timber.
const (
	mostStrips = 6
	mostStaves = 30
)

// widestStave is how wide a stave may be beside the habit of the shop when the board as sold is that wide. Judgement: half as
// wide again cups by half as much more, and saves a rip.
const widestStave = 1.5

// Ways returns every way to get the parts of a group from the shop's timber: from one board, as a lamination, as a panel
// of staves, from a panel glued by its maker. An empty list means that no timber of the species is thick or wide enough.
func Ways(index int, g Group, s shop.Shop) []Way {
	var out []Way
	for _, k := range Kinds(s, g.Species) {
		f := finder{index, g, s, k}
		if k.Ready {
			out = append(out, f.ready()...)
			continue
		}
		out = append(out, f.oneBoard()...)
		out = append(out, f.laminated()...)
		out = append(out, f.staves()...)
	}
	return slices.DeleteFunc(out, func(w Way) bool {
		return g.Build != "" && w.Build != g.Build && !(w.Build == Ready && g.Build == Panel)
	})
}

// finder finds the ways to get the parts of one group from one kind of timber.
type finder struct {
	index int
	group Group
	shop  shop.Shop
	kind  Kind
}

// way is a way with what all have in common: rough length and width, and the timber from a thickness upwards.
func (f finder) way(b Build, pieces int, low, high, planed unit.Length) Way {
	h := f.shop.Habits
	return Way{Group: f.index, Build: b, Pieces: pieces, Stock: low, Thickest: high, Rough: f.kind.Rough, Ready: f.kind.Ready, Planed: planed,
		Length: f.group.Length + h.LengthAllowance, Width: f.group.Width + h.WidthAllowance}
}

// unplaned returns the thicknesses of the kind that the part can have as they are sold.
func (f finder) unplaned() (low, high unit.Length, ok bool) {
	for _, t := range f.kind.thick {
		if f.kind.Rough || (t-f.group.Thick).Abs() > asSold {
			continue
		}
		if !ok {
			low, ok = t, true
		}
		high = t
	}
	return low, high, ok
}

// oneBoard needs timber that is thick enough after planing, or just as thick as sold, and wide enough.
func (f finder) oneBoard() []Way {
	var out []Way
	if low, high, ok := f.unplaned(); ok {
		out = append(out, f.ripped(f.way(OneBoard, 1, low, high, f.group.Thick), false)...)
	}
	if low, ok := f.kind.from(func(t unit.Length) bool { return f.kind.usable(t, f.shop.Habits) >= f.group.Thick }); ok {
		out = append(out, f.ripped(f.way(OneBoard, 1, low, f.kind.High, f.group.Thick), true)...)
	}
	return out
}

// ripped gives a way its width: ripped with an allowance, and that of the board as well where it is just right.
func (f finder) ripped(w Way, planed bool) []Way {
	var out []Way
	for _, x := range f.kind.widths(f.shop) {
		if (x.width - f.group.Width).Abs() <= asSold {
			whole := w
			whole.Width, whole.Whole = x.width, true
			whole.Notes = []string{"used at the width as sold"}
			out = append(out, f.milled(whole, planed, false))
			break
		}
	}
	if w.Width <= f.kind.widest(f.shop, w.Stock) {
		out = append(out, f.milled(w, planed, true))
	}
	return out
}

// laminated glues strips face to face so that the planed stack gives the thickness, with as few strips as the thinnest and
// the thickest timber of the kind allow.
func (f finder) laminated() []Way {
	h, g := f.shop.Habits, f.group
	var out []Way
	for _, t := range []unit.Length{f.kind.Low, f.kind.High} {
		usable := f.kind.usable(t, h)
		n := int(math.Ceil(float64(g.Thick) / float64(max(1, usable))))
		if usable <= 0 || n < 2 || n > mostStrips || len(out) > 0 && out[0].Pieces == n {
			continue
		}
		strip := g.Thick / unit.Length(n)
		low, ok := f.kind.from(func(t unit.Length) bool { return f.kind.usable(t, h) >= strip })
		if !ok || g.Width+h.WidthAllowance > f.kind.widest(f.shop, low) {
			continue
		}
		w := f.way(Laminated, n, low, f.kind.High, strip)
		w.Notes = []string{fmt.Sprintf("each strip is planed to %s before gluing", strip.Show(f.shop.Family))}
		out = append(out, f.milled(w, true, true))
	}
	return out
}

// ringNote says how to lay the staves. Common practice.
const ringNote = "turn the rings of neighbouring staves alternately up and down to keep the panel flat; all one way where it is held flat and should look alike"

// staves glues boards edge to edge: as wide as is the habit of the shop, and for each width at the yard that is not much wider
// also as wide as the board is, which saves ripping.
func (f finder) staves() []Way {
	h, g := f.shop.Habits, f.group
	flat := h.PanelAllowance - h.PlanedThicknessAllowance // staves of planed boards go into the glue as they are
	low, ok := f.kind.from(func(t unit.Length) bool { return f.kind.usable(t, h) >= g.Thick+flat && t >= g.Thick })
	if !ok {
		return nil
	}
	over := g.Width + h.WidthAllowance
	widest := f.kind.widest(f.shop, low) - h.GluedEdgeAllowance
	var out []Way
	add := func(n int, width unit.Length, whole bool, note string) {
		if n < 2 || n > mostStaves || slices.ContainsFunc(out, func(w Way) bool { return w.Pieces == n && w.Width == width }) {
			return
		}
		w := f.way(Panel, n, low, f.kind.High, g.Thick)
		w.Width, w.Whole = width, whole
		w.Notes = []string{note, ringNote}
		out = append(out, f.milled(w, true, !whole))
	}
	equal := func(n int) {
		if n < 2 {
			return
		}
		width := (over + unit.Length(n) - 1) / unit.Length(n)
		add(n, (width + h.GluedEdgeAllowance).CeilTo(unit.Millimetre/10), false, fmt.Sprintf("%d staves, about %s wide when jointed", n, width.Show(f.shop.Family)))
	}
	number := func(stave unit.Length) int {
		if stave <= 0 {
			return 0
		}
		return int((over + stave - 1) / stave)
	}
	equal(number(min(h.StaveWidth, widest)))
	for _, b := range slices.Concat(f.shop.Boards, f.shop.Offcuts) {
		if stave := b.Width - h.GluedEdgeAllowance; f.kind.Has(b.Species, b.Thickness, b.Rough, b.Panel) && stave <= h.StaveWidth.Scale(widestStave) {
			equal(number(stave))
		}
	}
	for _, x := range f.kind.widths(f.shop) {
		stave := x.width - h.GluedEdgeAllowance
		if n := number(stave); n >= 2 && stave <= h.StaveWidth.Scale(widestStave) {
			add(n, x.width, true, fmt.Sprintf("%d staves over the whole width of the boards, about %s wide when jointed; the last is ripped to width when the panel is glued", n, stave.Show(f.shop.Family)))
			equal(n)
		}
	}
	return out
}

// ready takes a part that is wider than a stave from a panel glued by its maker. It has the thickness as sold, or is planed
// where the planer is wide enough; its length and width as sold are used as they are where they are just right.
func (f finder) ready() []Way {
	h, g := f.shop.Habits, f.group
	if g.Width <= h.StaveWidth {
		return nil
	}
	w, planed := f.way(Ready, 1, 0, 0, g.Thick), false
	var ok bool
	if w.Stock, w.Thickest, ok = f.unplaned(); !ok {
		w.Stock, ok = f.kind.from(func(t unit.Length) bool { return f.kind.usable(t, h) >= g.Thick })
		w.Thickest, planed = f.kind.High, true
		if !ok || w.Width > h.PlanerMaximumWidth || !f.has("planer") {
			return nil
		}
	}
	for _, x := range f.kind.widths(f.shop) {
		if (x.width - g.Width).Abs() > asSold {
			continue
		}
		w.Width, w.Whole = x.width, true
		for _, l := range x.lengths {
			if (l - g.Length).Abs() <= asSold {
				w.Length = l
			}
		}
	}
	if w.Width > f.kind.widest(f.shop, w.Stock) {
		return nil
	}
	w.Notes = []string{"cut from a panel glued by its maker; nothing is known of its glue, so keep it indoors and dry"}
	return []Way{f.milled(w, planed, !w.Whole)}
}

func (f finder) has(tool string) bool { return f.shop.Has(tool) }

// milled adds what the machines ask of a piece: a shortest length, below which it is milled as part of a longer one, a widest
// width, and what the planer spoils at the ends.
func (f finder) milled(w Way, planed, jointed bool) Way {
	h := f.shop.Habits
	if planed && f.has("planer") {
		w.Least = h.PlanerMinimumLength
		if w.Width > h.PlanerMaximumWidth {
			w.Least = 0
			w.Notes = append(w.Notes, fmt.Sprintf("wider than the %s that the planer takes: flatten it by hand", h.PlanerMaximumWidth.Show(f.shop.Family)))
		} else if spare := h.LengthAllowance / 2; h.Snipe > spare {
			w.Notes = append(w.Notes, fmt.Sprintf("the planer spoils %s at each end and only %s are cut off there: feed the pieces end to end, with a scrap of the same thickness before the first and behind the last", h.Snipe.Show(f.shop.Family), spare.Show(f.shop.Family)))
		}
	}
	if jointed && f.has("jointer") {
		w.Least = max(w.Least, h.JointerMinimumLength)
	}
	if w.Length >= w.Least {
		w.Least = 0
		return w
	}
	w.Notes = append(w.Notes, fmt.Sprintf("shorter than the %s that the machines need: milled as part of a longer piece and cut off afterwards", w.Least.Show(f.shop.Family)))
	return w
}
