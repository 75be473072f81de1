package cutting

import (
	"cmp"
	"context"
	"fmt"
	"slices"

	"longgrain/internal/ground/unit"
	"longgrain/internal/solve/cutstock"
	"longgrain/internal/solve/guillotine"
	"longgrain/internal/trade/shop"
)

// grid is the resolution that lengths are given to the solvers in; pieces are rounded up and boards down.
const grid = unit.Millimetre / 10

// Usable offcuts are at least this long and wide, and are credited with half of what they cost, so that the solvers
// leave one long piece rather than many short ones. Judgement.
const (
	offcutLength   = 300 * unit.Millimetre
	offcutWidth    = 45 * unit.Millimetre
	offcutPermille = 500
)

// effort of the solvers in a plan that follows the hand: a few milliseconds for a piece of furniture.
const guillotineRounds = 1

// stock is a kind of board that a job may use.
type stock struct {
	board Board
	count int // guillotine.Unlimited for timber at the yard
	bad   []shop.Defect
}

// stocks lists the boards of a job: offcuts, then boards on hand, then timber to buy.
func stocks(key jobKey, s shop.Shop) []stock {
	var out []stock
	hand := func(list []shop.Board, from Source) {
		for _, b := range list {
			if b.Species == key.species && b.Thickness == key.thickness && b.Rough == key.rough {
				out = append(out, stock{Board{Source: from, Name: b.Name, Species: b.Species, Length: b.Length, Width: b.Width, Thickness: b.Thickness}, max(1, b.Count), b.Defects})
			}
		}
	}
	hand(s.Offcuts, Offcut)
	hand(s.Boards, OnHand)
	for _, t := range s.Timber {
		if t.Species != key.species || t.Thickness != key.thickness || t.Rough != key.rough || t.Panel {
			continue
		}
		count := guillotine.Unlimited
		if t.Count > 0 {
			count = t.Count
		}
		for _, piece := range t.Pieces {
			out = append(out, stock{Board{Source: Buy, Name: t.Size, Species: t.Species, Length: piece.Length, Width: t.Width, Thickness: t.Thickness, Price: piece.Price}, count, nil})
		}
	}
	return out
}

// solve adds the boards of one job to the plan.
func (p *Plan) solve(ctx context.Context, j job, s shop.Shop) {
	available := stocks(j.key, s)
	if !p.checkFit(j, available, s) {
		return
	}
	if width, ok := j.oneWidth(available); ok {
		p.crosscut(ctx, j, available, width, s)
		return
	}
	p.ripAndCrosscut(ctx, j, available, s)
}

// checkFit reports the items that no board can hold.
func (p *Plan) checkFit(j job, available []stock, s shop.Shop) bool {
	ok := true
	for _, x := range j.items {
		fits := slices.ContainsFunc(available, func(st stock) bool {
			return st.board.Length-2*s.Habits.EndTrim >= x.length && st.board.Width >= x.width
		})
		if fits {
			continue
		}
		ok = false
		f := Finding{Where: x.labels[0].part, Advice: "buy longer timber, or scarf two pieces; or change the size"}
		f.What = fmt.Sprintf("%s needs a rough piece of %s × %s, and no board of %s timber holds it", x.labels[0].part, x.length.Show(s.Family), x.width.Show(s.Family), j.key.thickness.Show(s.Family))
		if len(available) > 0 {
			big := slices.MaxFunc(available, func(a, b stock) int { return cmp.Compare(a.board.Length, b.board.Length) })
			f.What += fmt.Sprintf("; the longest is %s × %s, less %s at each end", big.board.Length.Show(s.Family), big.board.Width.Show(s.Family), s.Habits.EndTrim.Show(s.Family))
		}
		p.Findings = append(p.Findings, f)
	}
	return ok
}

// oneWidth tells whether the job is one of crosscutting only: every piece takes the whole width of boards of one width.
func (j job) oneWidth(available []stock) (unit.Length, bool) {
	width := j.items[0].width
	for _, x := range j.items {
		if !x.whole || x.width != width {
			return 0, false
		}
	}
	return width, slices.ContainsFunc(available, func(st stock) bool { return st.board.Width == width })
}

func up(l unit.Length) int64   { return int64((l + grid - 1) / grid) }
func down(l unit.Length) int64 { return int64(l / grid) }

// crosscut plans boards that are only cut to length.
func (p *Plan) crosscut(ctx context.Context, j job, available []stock, width unit.Length, s shop.Shop) {
	available = slices.DeleteFunc(available, func(st stock) bool { return st.board.Width != width || len(st.bad) > 0 })
	in := cutstock.Instance{Kerf: up(s.Habits.Kerf), Trim: up(s.Habits.EndTrim),
		Leftover: cutstock.Leftover{MinLength: down(offcutLength), SharePerMille: offcutPermille}}
	for _, st := range available {
		in.Stock = append(in.Stock, cutstock.Stock{ID: st.board.Name, Length: down(st.board.Length), Cost: int64(st.board.Price), Available: int64(st.count)})
	}
	for _, x := range j.items {
		in.Items = append(in.Items, cutstock.Item{ID: x.labels[0].mark, Length: up(x.length), Demand: int64(len(x.labels))})
	}
	answer := cutstock.Solve(ctx, in, cutstock.Options{Effort: cutstock.InteractiveEffort})
	if !answer.Solved() {
		p.unsolved(j, answer.Reason)
		return
	}
	if err := cutstock.Verify(in, answer); err != nil {
		p.unsolved(j, "the plan that was found does not add up: "+err.Error())
		return
	}
	next := make([]int, len(j.items))
	for _, layout := range answer.Layouts {
		for range layout.Count {
			b := available[layout.Stock].board
			at := s.Habits.EndTrim
			b.cut(false, at, 0, b.Width)
			for _, c := range layout.Cuts {
				for range c.Count {
					x := j.items[c.Item]
					l := x.labels[next[c.Item]]
					next[c.Item]++
					b.Areas = append(b.Areas, Area{PartArea, l.mark, l.part, at, 0, x.length, b.Width})
					at += x.length
					b.cut(false, at, 0, b.Width)
					at += s.Habits.Kerf
				}
			}
			if rest := b.Length - s.Habits.EndTrim - at; rest >= offcutLength {
				b.Areas = append(b.Areas, Area{Kind: OffcutArea, X: at, L: rest, W: b.Width})
			}
			p.finish(b)
		}
	}
	p.prove(answer.Bound, answer.Cost, answer.Status == cutstock.Optimal)
}

// ripAndCrosscut plans boards that are cut along and across.
func (p *Plan) ripAndCrosscut(ctx context.Context, j job, available []stock, s shop.Shop) {
	trim := int(up(s.Habits.EndTrim))
	in := guillotine.Instance{Kerf: int(up(s.Habits.Kerf)), Cuts: guillotine.Cutting{Stages: 2, First: guillotine.NoCut, Last: guillotine.TrimmingCut},
		Leftover: guillotine.Leftover{MinW: int(down(offcutLength)), MinH: int(down(offcutWidth)), Permille: offcutPermille}}
	for _, st := range available {
		x := guillotine.Stock{ID: st.board.Name, W: int(down(st.board.Length)), H: int(down(st.board.Width)), Cost: int64(st.board.Price), Count: st.count,
			Trim: guillotine.Margins{Left: trim, Right: trim}}
		for _, d := range st.bad {
			x.Defects = append(x.Defects, guillotine.Rect{X: int(down(d.From)), Y: int(down(d.Left)), W: int(up(d.To - d.From)), H: int(up(d.Right - d.Left))})
		}
		in.Stock = append(in.Stock, x)
	}
	for _, x := range j.items {
		part := guillotine.Part{ID: x.labels[0].mark, W: int(up(x.length)), H: int(up(x.width)), Demand: len(x.labels)}
		if x.whole {
			part.H = int(down(x.width)) // a board of just this width gives it, whatever its tenths of a millimetre
		}
		in.Parts = append(in.Parts, part)
	}
	answer := guillotine.Solve(ctx, in, guillotine.Options{Rounds: guillotineRounds})
	if answer.Status == guillotine.NoPlan || answer.Status == guillotine.Invalid {
		reason := "the boards do not suffice"
		switch {
		case ctx.Err() != nil:
			reason = "the search was stopped before it found a plan"
		case len(answer.Faults) > 0:
			reason = answer.Faults[0].Message
		}
		p.unsolved(j, reason)
		return
	}
	if faults := guillotine.Verify(in, answer); len(faults) > 0 {
		p.unsolved(j, "the plan that was found does not add up: "+faults[0].String())
		return
	}
	next := make([]int, len(j.items))
	for _, sheet := range answer.Sheets {
		b := available[sheet.Stock].board
		for _, d := range available[sheet.Stock].bad {
			b.Areas = append(b.Areas, Area{Kind: DefectArea, Label: d.Kind, X: d.From, Y: d.Left, L: d.To - d.From, W: d.Right - d.Left})
		}
		b.cut(false, s.Habits.EndTrim, 0, b.Width)
		b.take(sheet.Root, j, next)
		p.finish(b)
	}
	p.prove(answer.Bound, answer.Value, answer.Status == guillotine.Optimal)
}

// take walks a tree of cuts and adds areas and cuts in sawing order.
func (b *Board) take(p guillotine.Plate, j job, next []int) {
	at := func(n int) unit.Length { return unit.Length(n) * grid }
	switch {
	case p.Cut != guillotine.NoCut:
		for i, child := range p.Children {
			if i+1 < len(p.Children) || child.Use != guillotine.Waste {
				if p.Cut == guillotine.Horizontal && child.Y+child.H < p.Y+p.H {
					b.cut(true, at(child.Y+child.H), at(p.X), at(p.X+p.W))
				}
				if p.Cut == guillotine.Vertical && child.X+child.W < p.X+p.W {
					b.cut(false, at(child.X+child.W), at(p.Y), at(p.Y+p.H))
				}
			}
		}
		for _, child := range p.Children {
			b.take(child, j, next)
		}
	case p.Use == guillotine.Item:
		l := j.items[p.Part].labels[next[p.Part]]
		next[p.Part]++
		b.Areas = append(b.Areas, Area{PartArea, l.mark, l.part, at(p.X), at(p.Y), at(p.W), at(p.H)})
	case p.Use == guillotine.Offcut:
		b.Areas = append(b.Areas, Area{Kind: OffcutArea, X: at(p.X), Y: at(p.Y), L: at(p.W), W: at(p.H)})
	}
}

func (b *Board) cut(rip bool, at, from, to unit.Length) {
	b.Cuts = append(b.Cuts, Cut{len(b.Cuts) + 1, rip, at, from, to})
}

// finish works out the waste share of a board and adds it to the plan.
func (p *Plan) finish(b Board) {
	used := 0.0
	for _, a := range b.Areas {
		if a.Kind == PartArea || a.Kind == OffcutArea {
			used += float64(unit.Area(a.L, a.W))
		}
	}
	b.Waste = 1 - used/float64(unit.Area(b.Length, b.Width))
	p.Boards = append(p.Boards, b)
}

// prove adds what is known of a job's cost. Leftovers are credited in both figures, so the bound on the money spent is
// the bound of the solver with the plan's own credit put back.
func (p *Plan) prove(bound, value int64, proven bool) {
	p.Bound += unit.Money(bound)
	p.Gap += unit.Money(value - bound)
	p.Proven = p.Proven && proven
}

func (p *Plan) unsolved(j job, reason string) {
	p.Proven = false
	var names []string
	for _, x := range j.items {
		if name := x.labels[0].part; !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	p.Findings = append(p.Findings, Finding{What: "no cutting plan: " + reason, Where: names[0], Advice: "add boards to the shop's timber list, or raise their number"})
}
