package plan

import (
	"context"
	"strings"
	"testing"
	"time"

	"longgrain/examples"
)

// The bar is a second for the whole order of work; it is asserted with room for a busy machine, and told.
func TestEveryDemoPieceHasAProvenOrder(t *testing.T) {
	for _, text := range examples.Pieces() {
		in := input(t, text, examples.Shop())
		p := made(t, in)
		begun := time.Now()
		_, _, again := p.benchWork(context.Background(), in, in.Shop)
		took := time.Since(begun)
		t.Logf("%s: %d tasks, ends %v, %v", p.Name, len(again.Tasks), again.End, took)
		if !again.Proven || again.End.IsZero() {
			t.Errorf("%s: ends %v, bound %v, %+v", p.Name, again.End, again.Bound, again.Findings)
		}
		if took > 5*time.Second {
			t.Errorf("%s: the order took %v", p.Name, took)
		}
	}
}

func TestEachChangeIsPlannedAnew(t *testing.T) {
	in := demo(t)
	// Two clamps that press: every lamination and every frame has to wait for them.
	in.Shop.Clamps = in.Shop.Clamps[:1]
	in.Shop.Clamps[0].Count = 2
	plain := made(t, in)
	if len(plain.Schedule.Changes) > 0 {
		t.Error("changes were worked out unasked")
	}
	in.Changes = true
	p := made(t, in)
	if len(p.Schedule.Changes) == 0 {
		t.Fatal("nothing would help a shop with two clamps")
	}
	for i, c := range p.Schedule.Changes {
		if !c.End.Before(p.Schedule.End.Time) || c.Days < 0 || i > 0 && c.End.Before(p.Schedule.Changes[i-1].End.Time) {
			t.Errorf("%+v, the order ends %v", c, p.Schedule.End)
		}
		day, open := strings.CutPrefix(c.What, "opening on ")
		if !open {
			continue
		}
		// The same by hand: the shop file with that day in it.
		name, _, _ := strings.Cut(day, "s too")
		shop := strings.Replace(examples.Shop(), "hours:\n", "hours:\n  - {days: ["+strings.ToLower(name)+"], from: 18:30, to: 21:00}\n", 1)
		by := input(t, examples.PlayTable(), shop)
		by.Shop.Clamps = in.Shop.Clamps
		if q := made(t, by); !q.Schedule.End.Equal(c.End.Time) {
			t.Errorf("%s: told %v, by hand %v", c.What, c.End, q.Schedule.End)
		}
	}
}
