package plan

import (
	"context"
	"fmt"
	"slices"
	"time"

	"longgrain/internal/trade/shop"
	"longgrain/internal/work/cost"
	"longgrain/internal/work/finishing"
	"longgrain/internal/work/glueup"
	"longgrain/internal/work/schedule"
)

// work plans what is done at the bench: glue-ups, finish, order and cost.
func (p *Plan) work(ctx context.Context, in Input) {
	p.GlueUps, p.Finishing, p.Schedule = p.benchWork(ctx, in, in.Shop)
	if in.Changes && !p.Schedule.End.IsZero() {
		p.Schedule.Changes = p.changes(ctx, in)
	}
	p.Cost = cost.Make(cost.Input{Joints: p.jointList(), Held: p.held(), Cutting: p.Cutting, GlueUps: p.GlueUps, Finish: p.Finishing, Work: p.Schedule.Attended, Shop: in.Shop, Copies: p.Copies})
}

// benchWork plans glue-ups, finish and order for a shop, which may have more than that of the input.
func (p *Plan) benchWork(ctx context.Context, in Input, s shop.Shop) (glueup.Plan, finishing.Plan, schedule.Plan) {
	joints, air := p.jointList(), schedule.Air(s, s.Calendar.Starts)
	g := glueup.Make(p.Assembly, joints, p.Cutting.Groups, p.Cutting.Ways, s, air)
	f := finishing.Make(p.Assembly, s, finishOf(in), air)
	return g, f, schedule.Make(ctx, schedule.Input{Assembly: p.Assembly, Joints: joints, Held: p.Fastenings, Cutting: p.Cutting, GlueUps: g, Finish: f, Shop: s, Log: in.Log, Now: in.Now})
}

// moreClamps is how many clamps of a kind are tried more. Judgement: clamps work in pairs.
const moreClamps = 2

// changes plans the order again with one thing more in the shop, each by itself, and tells which of them end it earlier.
func (p *Plan) changes(ctx context.Context, in Input) []schedule.Change {
	out := []schedule.Change{}
	try := func(what string, change func(s *shop.Shop)) {
		s := in.Shop
		change(&s)
		_, _, again := p.benchWork(ctx, in, s)
		saved := p.Schedule.End.Sub(again.End.Time)
		if again.End.IsZero() || saved < time.Hour {
			return
		}
		days := int(p.Schedule.End.Truncate(24*time.Hour).Sub(again.End.Truncate(24*time.Hour)).Hours() / 24)
		out = append(out, schedule.Change{What: what, End: again.End, Proven: again.Proven, Days: days, Hours: int(saved.Hours())})
	}
	for i, c := range in.Shop.Clamps {
		try(fmt.Sprintf("%d more %ss that open %s", moreClamps, c.Kind.Name, c.Opening.Show(in.Shop.Family)), func(s *shop.Shop) {
			s.Clamps = slices.Clone(s.Clamps)
			s.Clamps[i].Count += moreClamps
		})
	}
	try("one more pair of hands", func(s *shop.Shop) {
		s.People = append(slices.Clone(s.People), shop.People{Name: "helper", Number: 1, Barred: barredFor(s.People)})
	})
	try("one more bench", func(s *shop.Shop) { s.Benches++ })
	try("one more drying place", func(s *shop.Shop) { s.DryingPlaces++ })
	if w, ok := freeEvening(in.Shop.Calendar); ok {
		try(fmt.Sprintf("opening on %ss too, %s to %s", w.Day, w.From, w.To), func(s *shop.Shop) {
			s.Calendar.Windows = append(slices.Clone(s.Calendar.Windows), w)
			slices.SortStableFunc(s.Calendar.Windows, func(a, b shop.Window) int {
				return (int(a.Day)+6)%7*24*60 + int(a.From) - (int(b.Day)+6)%7*24*60 - int(b.From)
			})
		})
	}
	slices.SortStableFunc(out, func(a, b schedule.Change) int { return a.End.Compare(b.End.Time) })
	return out
}

// barredFor lets a helper do what the least trained people of the shop may.
func barredFor(people []shop.People) []string {
	var most []string
	for _, x := range people {
		if len(x.Barred) > len(most) {
			most = x.Barred
		}
	}
	return most
}

// freeEvening returns a day of the working week on which the shop is closed, with the hours of its first session.
func freeEvening(c shop.Calendar) (shop.Window, bool) {
	if len(c.Windows) == 0 {
		return shop.Window{}, false
	}
	for day := time.Monday; day <= time.Saturday; day++ {
		if !slices.ContainsFunc(c.Windows, func(w shop.Window) bool { return w.Day == day }) {
			return shop.Window{Day: day, From: c.Windows[0].From, To: c.Windows[0].To}, true
		}
	}
	return shop.Window{}, false
}
