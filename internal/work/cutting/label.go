package cutting

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"longgrain/internal/ground/unit"
	"longgrain/internal/trade/shop"
)

// slot is a place on a board that a piece of an item is cut from.
type slot struct{ board, area, item int }

// label says which piece is cut from which place, so that the pieces of one part come from one board wherever the boards allow
// it, and divides the pieces that are milled in one length.
//
// Parts with most pieces choose first, each the board with the fewest places that still hold all of them; a part that no board
// holds takes from the boards with most places left. With parts of equal numbers of pieces no other choice keeps more together:
// a board with c places holds floor(c / n) whole parts, and each is used.
func (j job) label(r *result, slots []slot, s shop.Shop) {
	type divided struct {
		board, area int
		piece       piece
	}
	var cuts []divided
	for i, x := range j.items {
		places := make([][]int, len(r.boards)) // areas by board, in sawing order
		for _, p := range slots {
			if p.item == i {
				places[p.board] = append(places[p.board], p.area)
			}
		}
		for board, list := range places {
			slices.SortStableFunc(list, func(a, b int) int {
				p, q := r.boards[board].Areas[a], r.boards[board].Areas[b]
				return cmp.Or(cmp.Compare(p.X, q.X), cmp.Compare(p.Y, q.Y))
			})
		}
		give := func(board int, p piece) {
			area := places[board][0]
			places[board] = places[board][1:]
			a := &r.boards[board].Areas[area]
			a.Label, a.Part = p.labels[0].mark, p.labels[0].part
			if len(p.labels) > 1 || a.L > p.each+unit.Millimetre {
				cuts = append(cuts, divided{board, area, p})
			}
		}
		var late []piece
		for _, run := range runs(x.pieces) {
			best := -1
			for b, list := range places {
				if len(list) >= len(run) && (best < 0 || len(list) < len(places[best])) {
					best = b
				}
			}
			if best < 0 {
				r.apart++
			}
			for _, p := range run {
				if best < 0 {
					late = append(late, p)
				} else {
					give(best, p)
				}
			}
		}
		for _, p := range late {
			most := 0
			for b, list := range places {
				if len(list) > len(places[most]) {
					most = b
				}
			}
			give(most, p)
		}
	}
	for _, d := range cuts {
		r.boards[d.board].divide(d.area, d.piece, s.Habits.Kerf)
	}
	for i := range r.boards {
		r.boards[i].waste()
	}
}

// runs gathers the pieces of each part, parts of most pieces first.
func runs(pieces []piece) [][]piece {
	var out [][]piece
	for _, p := range pieces {
		last := len(out) - 1
		if last >= 0 && out[last][0].run() == p.run() {
			out[last] = append(out[last], p)
			continue
		}
		out = append(out, []piece{p})
	}
	slices.SortStableFunc(out, func(a, b []piece) int { return cmp.Compare(len(b), len(a)) })
	return out
}

// divide cuts an area into the short parts that are milled in one length, after planing; what is over is waste.
func (b *Board) divide(area int, p piece, kerf unit.Length) {
	a := b.Areas[area]
	at, end := a.X, a.X+a.L
	for i, l := range p.labels {
		x := Area{Kind: PartArea, Label: l.mark, Part: l.part, X: at, Y: a.Y, L: p.each, W: a.W}
		if i == 0 {
			b.Areas[area] = x
		} else {
			b.Areas = append(b.Areas, x)
		}
		at += p.each
		if at < end {
			b.cut(false, at, a.Y, a.Y+a.W)
			b.Cuts[len(b.Cuts)-1].Milled = true
		}
		at += kerf
	}
	if at < end {
		b.Areas = append(b.Areas, Area{Kind: WasteArea, X: at, Y: a.Y, L: end - at, W: a.W})
	}
}

// kept says how many of the parts made of several pieces have all of them from one board.
func kept(boards []Board) string {
	of := map[string][]int{}
	var parts []string
	for i, b := range boards {
		for _, area := range b.Areas {
			if area.Kind != PartArea {
				continue
			}
			mark, piece, _ := strings.Cut(area.Label, " ") // one part of one copy
			if piece == "" {
				continue
			}
			if of[mark] == nil {
				parts = append(parts, mark)
			}
			of[mark] = append(of[mark], i)
		}
	}
	glued := 0
	var apart []string
	for _, part := range parts {
		from := slices.Compact(slices.Sorted(slices.Values(of[part])))
		glued++
		if len(from) > 1 {
			apart = append(apart, fmt.Sprintf("%s from %d", part, len(from)))
		}
	}
	if glued == 0 {
		return ""
	}
	text := fmt.Sprintf("%d of %d glued-up parts have all their pieces from one board", glued-len(apart), glued)
	if len(apart) > 0 && len(apart) <= mostNamed {
		text += "; " + strings.Join(apart, ", ")
	}
	return text
}

// mostNamed is how many parts that are not kept together are named.
const mostNamed = 6

// Frees returns the labels of the parts on the piece that the k-th cut takes off: those between the cut and the one before it
// along the same way. The first crosscut squares the marked end and takes off none.
func (b Board) Frees(k int) []string {
	c := b.Cuts[k]
	start := unit.Length(0)
	for _, o := range b.Cuts[:k] {
		if o.Rip == c.Rip && o.At < c.At && o.From <= c.From && o.To >= c.To {
			start = max(start, o.At)
		}
	}
	var out []string
	for _, a := range b.Areas {
		from, to, low, high := a.X, a.X+a.L, a.Y, a.Y+a.W
		if c.Rip {
			from, to, low, high = a.Y, a.Y+a.W, a.X, a.X+a.L
		}
		if a.Kind == PartArea && from >= start && to <= c.At+grid && low >= c.From && high <= c.To+grid {
			out = append(out, a.Label)
		}
	}
	return out
}
