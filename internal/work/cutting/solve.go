package cutting

import (
	"context"
	"slices"

	"longgrain/internal/ground/unit"
	"longgrain/internal/solve/cutstock"
	"longgrain/internal/solve/guillotine"
	"longgrain/internal/trade/shop"
)

// grid is the resolution that lengths are given to the solvers in; pieces are rounded up and boards down.
const grid = unit.Millimetre / 10

// effort says how long the solvers look.
type effort struct {
	steps  int64 // cutstock
	rounds int   // guillotine
	credit int   // permille of its price that timber left over counts; its bound is then that of the cost less the credit
}

// Efforts: quick compares sets of ways, a millisecond or two each; careful the best of them, some ten; thorough makes a plan
// that careful could not prove; sparing looks among plans that cost the same for the one that leaves most, which two rounds find as
// well as four.
var (
	quick    = effort{cutstock.InteractiveEffort, 1, 0}
	careful  = effort{cutstock.InteractiveEffort, 3, 0}
	thorough = effort{20_000_000, 4, 0}
	sparing  = effort{20_000_000, 2, offcutPermille}
)

// result is the cutting plan of one job.
type result struct {
	boards   []Board
	value    unit.Money // as the plan counts: to buy at the price, on hand at little, offcuts at nothing
	bound    unit.Money // no plan of the job has less
	findings []Finding  // why there is no plan
	apart    int        // parts whose pieces come from more than one board
}

func (r result) proven() bool { return len(r.findings) == 0 && r.value <= r.bound }

// left returns the area of usable offcuts of boards that are bought or on hand, in square metres.
func (r result) left() float64 {
	sum := 0.0
	for _, b := range r.boards {
		for _, a := range b.Areas {
			if a.Kind == OffcutArea && b.Source != Offcut {
				sum += float64(unit.Area(a.L, a.W))
			}
		}
	}
	return sum
}

// solve plans the boards of a job.
func (j job) solve(ctx context.Context, s shop.Shop, e effort) result {
	if f := j.misfits(s); len(f) > 0 {
		return result{findings: f}
	}
	available := j.stocks(s)
	width, crosscutOnly := j.oneWidth(available)
	if !crosscutOnly {
		best := j.ripAndCrosscut(ctx, available, s, e)
		if best.proven() {
			return best
		}
		if other, mixed := j.apart(ctx, available, s, e); mixed && len(other.findings) == 0 && (len(best.findings) > 0 || other.value < best.value) {
			other.bound = min(other.value, best.bound)
			return other
		}
		return best
	}
	plain := slices.DeleteFunc(slices.Clone(available), func(st stock) bool { return st.board.Width != width || len(st.bad) > 0 })
	best := j.crosscut(ctx, plain, s, e)
	if len(plain) == len(available) {
		return best
	}
	other := j.ripAndCrosscut(ctx, available, s, e) // wider and knotty boards too
	if len(best.findings) > 0 || len(other.findings) == 0 && other.value < best.value {
		return other
	}
	best.bound = min(best.value, other.bound)
	return best
}

// apart plans the pieces that keep a width as sold on boards of just that width, and the others on what is left; false when the
// job has not both. Together they may share boards, but a method that knows no widths to keep may also rip the former from wider
// boards, which is no plan.
func (j job) apart(ctx context.Context, available []stock, s shop.Shop, e effort) (result, bool) {
	rest := j
	rest.items = nil
	byWidth := map[unit.Length][]item{}
	var widths []unit.Length
	for _, x := range j.items {
		if !x.whole {
			rest.items = append(rest.items, x)
			continue
		}
		if byWidth[x.width] == nil {
			widths = append(widths, x.width)
		}
		byWidth[x.width] = append(byWidth[x.width], x)
	}
	if len(widths) == 0 || len(widths) == 1 && len(rest.items) == 0 {
		return result{}, false
	}
	slices.Sort(widths)
	available = slices.Clone(available)
	var out result
	take := func(r result) {
		for _, b := range r.boards {
			for i := range available {
				if st := &available[i]; b.Source != Buy && st.board.Source == b.Source && st.board.Name == b.Name {
					st.count--
				}
			}
		}
		out.boards, out.value, out.apart = append(out.boards, r.boards...), out.value+r.value, out.apart+r.apart
		out.findings = append(out.findings, r.findings...)
	}
	left := func(keep func(stock) bool) []stock {
		return slices.DeleteFunc(slices.Clone(available), func(st stock) bool { return st.count == 0 || !keep(st) })
	}
	for _, w := range widths {
		part := j
		part.items = byWidth[w]
		take(part.crosscut(ctx, left(func(st stock) bool { return st.board.Width == w && len(st.bad) == 0 }), s, e))
	}
	if len(rest.items) > 0 {
		take(rest.ripAndCrosscut(ctx, left(func(stock) bool { return true }), s, e))
	}
	return out, true
}

// finish makes the plan of a job from the careful one: proven, or else worked out thoroughly. Of plans that cost the same it takes the
// one that keeps more parts together, then the one that leaves more.
func (j job) finish(ctx context.Context, s shop.Shop, best result) result {
	if !best.proven() {
		if next := j.solve(ctx, s, thorough); len(next.findings) == 0 || len(best.findings) > 0 {
			best = next
		}
	}
	for _, e := range []effort{sparing, quick} {
		next := j.solve(ctx, s, e)
		bound := best.bound
		switch {
		case len(next.findings) > 0:
			continue
		case len(best.findings) > 0:
			best = next
		case next.value < best.value, next.value == best.value && next.apart < best.apart,
			next.value == best.value && next.apart == best.apart && next.left() > best.left()*1.001:
			best = next
		}
		best.bound = min(bound, best.value)
	}
	return best
}

func up(l unit.Length) int64   { return int64((l + grid - 1) / grid) }
func down(l unit.Length) int64 { return int64(l / grid) }

// crosscut plans boards that are only cut to length.
func (j job) crosscut(ctx context.Context, available []stock, s shop.Shop, e effort) result {
	ends := unit.Length(0)
	if len(available) > 0 {
		ends = trim(available[0].board, s)
	}
	in := cutstock.Instance{Kerf: up(s.Habits.Kerf), Trim: up(ends),
		Leftover: cutstock.Leftover{MinLength: down(offcutLength), SharePerMille: int64(e.credit)}}
	for _, st := range available {
		in.Stock = append(in.Stock, cutstock.Stock{ID: st.board.Name, Length: down(st.board.Length), Cost: st.cost, Available: int64(st.count)})
	}
	for _, x := range j.items {
		in.Items = append(in.Items, cutstock.Item{ID: x.pieces[0].labels[0].mark, Length: up(x.length), Demand: int64(len(x.pieces))})
	}
	answer := cutstock.Solve(ctx, in, cutstock.Options{Effort: e.steps})
	if !answer.Solved() {
		reason := answer.Reason
		if answer.Status == cutstock.Stopped {
			reason = "the search was stopped before it found a plan"
		}
		return j.unsolved(reason)
	}
	if err := cutstock.Verify(in, answer); err != nil {
		return j.unsolved("the plan that was found does not add up: " + err.Error())
	}
	r := result{}
	var slots []slot
	for _, layout := range answer.Layouts {
		for range layout.Count {
			b := available[layout.Stock].board
			r.value += unit.Money(available[layout.Stock].cost)
			at := ends
			b.trimEnd(ends)
			for _, c := range layout.Cuts {
				for range c.Count {
					x := j.items[c.Item]
					slots = append(slots, slot{len(r.boards), len(b.Areas), c.Item})
					b.Areas = append(b.Areas, Area{Kind: PartArea, X: at, L: x.length, W: b.Width})
					at += x.length
					if at < b.Length {
						b.cut(false, at, 0, b.Width)
					}
					at += s.Habits.Kerf
				}
			}
			b.keep(at, 0, b.Length-ends-at, b.Width, nil)
			r.boards = append(r.boards, b)
		}
	}
	r.bound = min(r.value, unit.Money(answer.Bound))
	j.label(&r, slots, s)
	return r
}

// stages of cuts: boards are ripped and crosscut in either order, with a trimming cut; panels as often as they allow.
const boardStages = 2

// ripAndCrosscut plans boards that are cut along and across.
func (j job) ripAndCrosscut(ctx context.Context, available []stock, s shop.Shop, e effort) result {
	in := guillotine.Instance{Kerf: int(up(s.Habits.Kerf)), Cuts: guillotine.Cutting{Stages: boardStages, First: guillotine.NoCut, Last: guillotine.TrimmingCut},
		Leftover: guillotine.Leftover{MinW: int(down(offcutLength)), MinH: int(down(offcutWidth)), Permille: e.credit}}
	if j.kind.Ready {
		in.Cuts.Stages = guillotine.Unlimited
	}
	for _, st := range available {
		ends := int(up(trim(st.board, s)))
		x := guillotine.Stock{ID: st.board.Name, W: int(down(st.board.Length)), H: int(down(st.board.Width)), Cost: st.cost, Count: st.count,
			Trim: guillotine.Margins{Left: ends, Right: ends}}
		for _, d := range st.bad {
			x.Defects = append(x.Defects, onGrid(d, x.W, x.H))
		}
		in.Stock = append(in.Stock, x)
	}
	for _, x := range j.items {
		part := guillotine.Part{ID: x.pieces[0].labels[0].mark, W: int(up(x.length)), H: int(up(x.width)), Demand: len(x.pieces)}
		if x.whole {
			part.H = int(down(x.width)) // a board of just this width gives it, whatever its tenths of a millimetre
		}
		in.Parts = append(in.Parts, part)
	}
	answer := guillotine.Solve(ctx, in, guillotine.Options{Rounds: e.rounds})
	if answer.Status == guillotine.NoPlan || answer.Status == guillotine.Invalid {
		reason := "the boards do not suffice"
		switch {
		case ctx.Err() != nil:
			reason = "the search was stopped before it found a plan"
		case len(answer.Faults) > 0:
			reason = answer.Faults[0].Message
		}
		return j.unsolved(reason)
	}
	if faults := guillotine.Verify(in, answer); len(faults) > 0 {
		return j.unsolved("the plan that was found does not add up: " + faults[0].String())
	}
	r := result{}
	var slots []slot
	for _, sheet := range answer.Sheets {
		st := available[sheet.Stock]
		b := st.board
		if j.sawn(sheet.Root, b) {
			no := j.unsolved("a piece that is used at the width as sold would be ripped from a wider board")
			no.bound = unit.Money(answer.Bound)
			return no
		}
		r.value += unit.Money(st.cost)
		for _, d := range st.bad {
			b.Areas = append(b.Areas, Area{Kind: DefectArea, Label: d.Kind, X: d.From, Y: d.Left, L: d.To - d.From, W: d.Right - d.Left})
		}
		b.trimEnd(trim(b, s))
		b.take(sheet.Root, len(r.boards), st.bad, &slots)
		r.boards = append(r.boards, b)
	}
	r.bound = min(r.value, unit.Money(answer.Bound))
	j.label(&r, slots, s)
	return r
}

// sawn tells whether a piece that should keep the width as sold lies on a board that is wider.
func (j job) sawn(root guillotine.Plate, b Board) bool {
	found := false
	root.Walk(func(p guillotine.Plate) {
		found = found || p.Use == guillotine.Item && j.items[p.Part].whole && b.Width > j.items[p.Part].width+unit.Millimetre/2
	})
	return found
}

// onGrid returns a defect on the grid, grown to whole steps and kept inside the board.
func onGrid(d shop.Defect, w, h int) guillotine.Rect {
	x, y := min(int(down(d.From)), w-1), min(int(down(d.Left)), h-1)
	return guillotine.Rect{X: x, Y: y, W: max(1, min(int(up(d.To)), w)-x), H: max(1, min(int(up(d.Right)), h)-y)}
}

// take walks a tree of cuts and adds areas and cuts in sawing order.
func (b *Board) take(p guillotine.Plate, board int, bad []shop.Defect, slots *[]slot) {
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
			b.take(child, board, bad, slots)
		}
	case p.Use == guillotine.Item:
		*slots = append(*slots, slot{board, len(b.Areas), p.Part})
		b.Areas = append(b.Areas, Area{Kind: PartArea, X: at(p.X), Y: at(p.Y), L: at(p.W), W: at(p.H)})
	default:
		b.keep(at(p.X), at(p.Y), at(p.W), at(p.H), bad)
	}
}

func (b *Board) trimEnd(by unit.Length) {
	if by > 0 {
		b.cut(false, by, 0, b.Width)
	}
}

func (b *Board) cut(rip bool, at, from, to unit.Length) {
	b.Cuts = append(b.Cuts, Cut{Number: len(b.Cuts) + 1, Rip: rip, At: at, From: from, To: to})
}

// waste works out the share of the board that is neither part nor usable offcut.
func (b *Board) waste() {
	used := 0.0
	for _, a := range b.Areas {
		if a.Kind == PartArea || a.Kind == OffcutArea {
			used += float64(unit.Area(a.L, a.W))
		}
	}
	b.Waste = 1 - used/float64(unit.Area(b.Length, b.Width))
}

func (j job) unsolved(reason string) result {
	return result{findings: []Finding{{What: "no cutting plan: " + reason, Where: j.items[0].pieces[0].labels[0].part,
		Advice: "add boards to the shop's timber list, or raise their number"}}}
}
