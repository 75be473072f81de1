package cutstock

import "context"

// budget counts elementary steps (a table cell filled, a number of the inverse changed, a node visited). It is the only
// limit of a run that depends on nothing but the instance; cancelling the context is the other one.
type budget struct {
	ctx     context.Context
	used    int64
	limit   int64
	nextAsk int64 // steps after which the context is asked again
	over    bool
}

// askEvery is how many steps pass between two looks at the context: well under a millisecond's work.
const askEvery = 200_000

func newBudget(ctx context.Context, limit int64) *budget {
	return &budget{ctx: ctx, limit: limit}
}

// spend counts n steps and reports whether work may go on.
func (b *budget) spend(n int64) bool {
	b.used += n
	if b.used >= b.nextAsk {
		b.nextAsk = b.used + askEvery
		b.over = b.over || b.ctx.Err() != nil
	}
	return !b.over && b.used < b.limit
}

// done reports whether the work must end.
func (b *budget) done() bool { return !b.spend(0) }

// within runs f with the limit lowered to at most n further steps, and restores the limit.
func (b *budget) within(n int64, f func()) {
	limit := b.limit
	b.limit = min(limit, b.used+n)
	f()
	b.limit = limit
}
