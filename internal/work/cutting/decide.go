package cutting

import (
	"cmp"
	"context"
	"math"
	"slices"

	"longgrain/internal/design/assembly"
	"longgrain/internal/ground/unit"
	"longgrain/internal/trade/shop"
	"longgrain/internal/work/blank"
)

// decision is the choice of one way for each group of parts, by what the whole job costs: the boards of all jobs as the
// plan counts them, and the work of gluing and planing.
//
// It starts from the way of each group that needs the cheapest timber by area, lays the boards out, and changes one group, or
// all groups that a kind of timber can give, as long as that costs less. Then it rules out by a bound what cannot
// be cheaper, and works out the rest where they are few. A set of ways without a plan counts as dearer than any with
// one, so that groups that compete for the same boards part ways.
type decision struct {
	assembly assembly.Assembly
	shop     shop.Shop
	copies   int
	groups   []blank.Group
	opt      Options

	kinds  []blank.Kind
	ways   [][]blank.Way
	kindOf [][]int // index of the kind of each way
	extra  [][]unit.Money
	least  [][]unit.Money // no plan spends less on the way's wood, boards on hand not counted
	onHand unit.Money     // at most so much of that is saved by boards on hand

	best     []int // chosen way of each group, -1 where there is none
	score    score
	tried    int
	effort   effort
	seen     map[string]score
	memo     map[string]result
	met      []met // every set that was worked out, as found
	solves   int
	anyBound unit.Money
	complete bool
}

// met is a set of ways with what it came to at the quick effort.
type met struct {
	chosen []int
	score  score
}

// score is what a set of ways comes to: jobs without a plan first, then money. Fractions of a cent in work are kept in bound.
type score struct {
	failed int
	cost   unit.Money
	bound  unit.Money
}

func (a score) less(b score) bool {
	return a.failed < b.failed || a.failed == b.failed && a.cost < b.cost
}

// Work is counted in money, so that free boards on the rack do not tempt into a bad build, nor a saved half board into gluing
// what one board gives. Judgement, all of them: what a maker takes beside what every way takes.
const (
	leastHour   = 1000 // cents that an hour counts at least, where the shop pays less or nothing; assumed
	glueMinutes = 20.0 // to set up, spread, clamp and clean one part
	lineMinutes = 3.0  // for each glue line of it
	passMinutes = 0.3  // for each millimetre planed off a piece
	edgeMinutes = 2.0  // to rip a piece and joint its edges; a piece as wide as the board needs neither
	byHand      = 4.0  // times as long without a planer
)

// Timber that loses more than a third of its thickness is the wrong timber: it moves, rests and is planed again, and most makers
// would rather resaw it; each millimetre beyond counts tenfold. Judgement.
const mostPlaned, beyond = 1.0 / 3, 10.0

// workOf returns what the work of a way counts for n parts.
func workOf(w blank.Way, n int, s shop.Shop) unit.Money {
	pass := passMinutes
	if !s.Has("planer") {
		pass *= byHand
	}
	off := (w.Stock - w.Planed).MM()
	off += (beyond - 1) * max(0, off-mostPlaned*w.Stock.MM())
	minutes := pass * off * float64(w.Pieces)
	if !w.Whole {
		minutes += edgeMinutes * float64(w.Pieces)
	}
	if w.Build == blank.Laminated || w.Build == blank.Panel {
		minutes += glueMinutes + lineMinutes*float64(w.Pieces-1)
	}
	return unit.Money(minutes / 60 * float64(n) * float64(max(leastHour, s.LabourRate)))
}

// Limits of the search. A job of furniture needs 20 to 60 solves of a millisecond or two.
const (
	mostSolves  = 400
	mostRounds  = 4
	mostChoices = 48 // sets of ways that are all worked out at the end
	// Sets that are compared with care, and how near the best they must lie.
	mostCompared = 6
	nearBest     = 0.05
	// farDearer is how much dearer by area a way may look and still be tried.
	farDearer = 1.6
)

func newDecision(a assembly.Assembly, s shop.Shop, copies int, groups []blank.Group, opt Options) *decision {
	d := &decision{assembly: a, shop: s, copies: copies, groups: groups, opt: opt, effort: quick, seen: map[string]score{}, memo: map[string]result{}}
	first := map[string]int{} // of the kinds of a species
	count := map[string]int{}
	for i, g := range groups {
		if _, known := first[g.Species]; !known {
			kinds := blank.Kinds(s, g.Species)
			first[g.Species], count[g.Species] = len(d.kinds), len(kinds)
			d.kinds = append(d.kinds, kinds...)
		}
		from := first[g.Species]
		var ways []blank.Way
		var kindOf []int
		var extra, least []unit.Money
		all := blank.Ways(i, g, s)
		enough := make([]bool, len(all))
		for n, w := range all {
			k := from + slices.IndexFunc(d.kinds[from:from+count[g.Species]], func(k blank.Kind) bool { return k.Has(g.Species, w.Stock, w.Rough, w.Ready) })
			kindOf = append(kindOf, k)
			j := d.single(i, w, k)
			enough[n] = j.suffices(w.Pieces*len(g.Parts)*copies, w, s)
			ways = append(ways, w)
			extra = append(extra, workOf(w, len(g.Parts)*copies, s))
			least = append(least, unit.Money(j.leastRate(s)*float64(unit.Area(w.Length+s.Habits.Kerf, w.Width+s.Habits.Kerf))*float64(w.Pieces*len(g.Parts)*copies)))
		}
		// A way that too few boards could give if they gave nothing else is left out unless all are like that.
		if slices.Contains(enough, true) {
			n := 0
			for k := range ways {
				if enough[k] {
					ways[n], kindOf[n], extra[n], least[n] = ways[k], kindOf[k], extra[k], least[k]
					n++
				}
			}
			ways, kindOf, extra, least = ways[:n], kindOf[:n], extra[:n], least[:n]
		}
		d.ways, d.kindOf, d.extra, d.least = append(d.ways, ways), append(d.kindOf, kindOf), append(d.extra, extra), append(d.least, least)
	}
	d.onHand = d.handValue()
	return d
}

// single returns a job of one way alone.
func (d *decision) single(g int, w blank.Way, kind int) job {
	j := job{kind: d.kinds[kind], low: w.Stock, high: w.Thickest}
	j.want(d.assembly.Parts[d.groups[g].Parts[0]].Condition)
	j.items = []item{{length: w.Length, width: w.Width, whole: w.Whole}}
	return j
}

// suffices tells whether the boards could give n pieces of a way if they gave nothing else.
func (j job) suffices(n int, w blank.Way, s shop.Shop) bool {
	total := 0
	for _, st := range j.stocks(s) {
		along := (st.board.Length - 2*trim(st.board, s) + s.Habits.Kerf) / (w.Length + s.Habits.Kerf)
		across := (st.board.Width + s.Habits.Kerf) / (w.Width + s.Habits.Kerf)
		if st.count < 0 {
			return true
		}
		total += int(along*across) * st.count
	}
	return total >= n
}

// leastRate returns the least that a square metre of pieces, kerf included, can cost from timber at the yard: a board gives at most
// its trimmed length and its width, each grown by a kerf.
func (j job) leastRate(s shop.Shop) float64 {
	best := math.Inf(1)
	for _, st := range j.stocks(s) {
		if st.board.Source == Buy {
			best = min(best, float64(st.cost)/j.room(st.board, s))
		}
	}
	if math.IsInf(best, 1) {
		return 0
	}
	return best
}

func (j job) room(b Board, s shop.Shop) float64 {
	return float64(unit.Area(b.Length-2*trim(b, s)+s.Habits.Kerf, b.Width+s.Habits.Kerf))
}

// handValue returns the most that boards on hand can save: their area at the dearest of the least rates that count for them.
func (d *decision) handValue() unit.Money {
	sum := 0.0
	for k, kind := range d.kinds {
		rate := 0.0
		for g := range d.ways {
			for w := range d.ways[g] {
				if d.kindOf[g][w] == k {
					rate = max(rate, d.single(g, d.ways[g][w], k).leastRate(d.shop))
				}
			}
		}
		for _, b := range slices.Concat(d.shop.Boards, d.shop.Offcuts) {
			if kind.Has(b.Species, b.Thickness, b.Rough, b.Panel) {
				sum += rate * job{}.room(Board{Length: b.Length, Width: b.Width, Panel: b.Panel}, d.shop) * float64(max(1, b.Count))
			}
		}
	}
	return unit.Money(sum) + 1
}

// cost works a set of ways out. Jobs met before are not solved again.
func (d *decision) cost(ctx context.Context, chosen []int) score {
	jobs := d.jobs(chosen)
	key := ""
	for _, j := range jobs {
		key += j.key() + "/"
	}
	if known, ok := d.seen[key]; ok {
		return known
	}
	var out score
	for _, j := range jobs {
		k := j.key()
		r, known := d.memo[k]
		if !known {
			r = j.solve(ctx, d.shop, d.effort)
			d.memo[k] = r
			d.solves++
		}
		if len(r.findings) > 0 {
			out.failed += len(r.findings)
			continue
		}
		out.cost += r.value
		out.bound += r.bound
	}
	for g, w := range chosen {
		if w >= 0 {
			out.cost += d.extra[g][w]
			out.bound += d.extra[g][w]
		}
	}
	d.seen[key] = out
	if d.effort == quick {
		d.tried++
		d.met = append(d.met, met{slices.Clone(chosen), out})
	}
	return out
}

// offer takes a set of ways if it is the best so far.
func (d *decision) offer(ctx context.Context, chosen []int) bool {
	s := d.cost(ctx, chosen)
	if d.best != nil && !s.less(d.score) {
		return false
	}
	d.best, d.score = slices.Clone(chosen), s
	if d.opt.Progress != nil {
		d.opt.Progress(d.tried, s.cost)
	}
	return true
}

func (d *decision) spent(ctx context.Context) bool { return d.solves >= mostSolves || ctx.Err() != nil }

// search finds the best set of ways.
func (d *decision) search(ctx context.Context) {
	chosen := make([]int, len(d.groups))
	for g := range chosen {
		chosen[g] = d.cheapest(g)
	}
	d.offer(ctx, chosen)
	for range mostRounds {
		improved := d.moveKinds(ctx)
		improved = d.moveGroups(ctx) || improved
		if !improved || d.spent(ctx) {
			break
		}
	}
	if d.opt.Quick {
		return
	}
	d.exhaust(ctx)
	d.compare(ctx)
}

// compare works the best sets out again with more care, since the quick plans of two sets may lie apart by chance.
func (d *decision) compare(ctx context.Context) {
	slices.SortStableFunc(d.met, func(a, b met) int {
		return cmp.Or(cmp.Compare(a.score.failed, b.score.failed), cmp.Compare(a.score.cost, b.score.cost))
	})
	limit := unit.Money(float64(d.score.cost) * (1 + nearBest))
	list := d.met[:min(len(d.met), mostCompared)]
	d.effort, d.seen, d.memo = careful, map[string]score{}, map[string]result{}
	d.best = nil
	for i, m := range list {
		if i > 0 && (m.score.failed != d.score.failed || m.score.cost > limit || m.score.bound >= d.score.cost || ctx.Err() != nil) {
			continue
		}
		d.offer(ctx, m.chosen)
	}
}

// looks is what a way seems to cost: its wood by area at the yard's price, and its work.
func (d *decision) looks(g, w int) unit.Money {
	way := d.ways[g][w]
	area := float64(unit.Area(way.Length, way.Width)) * float64(way.Pieces*len(d.groups[g].Parts)*d.copies)
	return unit.Money(ratesOf(d.kinds[d.kindOf[g][w]], d.shop).area*area) + d.extra[g][w]
}

// cheapest returns the way that looks cheapest, -1 when there is none.
func (d *decision) cheapest(g int) int {
	best := -1
	for w := range d.ways[g] {
		if best < 0 || d.looks(g, w) < d.looks(g, best) {
			best = w
		}
	}
	return best
}

// worth tells whether a way is worth trying: while a job has no plan every way is.
func (d *decision) worth(g, w int) bool {
	return d.score.failed > 0 || float64(d.looks(g, w)) <= farDearer*float64(d.looks(g, d.cheapest(g)))
}

// moveGroups gives one group after the other its best way while the others keep theirs.
func (d *decision) moveGroups(ctx context.Context) bool {
	improved := false
	for g := range d.groups {
		for w := range d.ways[g] {
			if d.spent(ctx) {
				return improved
			}
			if w == d.best[g] || !d.worth(g, w) {
				continue
			}
			next := slices.Clone(d.best)
			next[g] = w
			improved = d.offer(ctx, next) || improved
		}
	}
	return improved
}

// moveKinds gets all groups that a kind of timber can give from it, each in the way that looks cheapest.
func (d *decision) moveKinds(ctx context.Context) bool {
	improved := false
	for k := range d.kinds {
		if d.spent(ctx) {
			return improved
		}
		next := slices.Clone(d.best)
		for g := range d.groups {
			to := -1
			for w := range d.ways[g] {
				if d.kindOf[g][w] == k && d.worth(g, w) && (to < 0 || d.looks(g, w) < d.looks(g, to)) {
					to = w
				}
			}
			if to >= 0 {
				next[g] = to
			}
		}
		if !slices.Equal(next, d.best) {
			improved = d.offer(ctx, next) || improved
		}
	}
	return improved
}

// exhaust rules out ways by the bound and works out every set of those that are left, where they are few.
//
//	bound(g, w) = least(g, w) + extra(g, w) + sum over other groups of min (least + extra) - onHand
//
// A way whose bound is not below the best cost is in no cheaper plan. Derived; see docs/methods/boards.md.
func (d *decision) exhaust(ctx context.Context) {
	if d.score.failed > 0 {
		return
	}
	floor := make([]unit.Money, len(d.groups))
	total := -d.onHand
	for g := range d.groups {
		for w := range d.ways[g] {
			if b := d.least[g][w] + d.extra[g][w]; w == 0 || b < floor[g] {
				floor[g] = b
			}
		}
		total += floor[g]
	}
	left := make([][]int, len(d.groups))
	sets := 1
	for g := range d.groups {
		for w := range d.ways[g] {
			if w == d.best[g] || total-floor[g]+d.least[g][w]+d.extra[g][w] < d.score.cost {
				left[g] = append(left[g], w)
			}
		}
		if n := len(left[g]); n > 0 {
			sets = min(sets*n, mostChoices+1)
		}
	}
	d.anyBound = max(0, total)
	if sets > mostChoices {
		return
	}
	d.complete = true
	lowest := unit.Money(math.MaxInt64)
	next := slices.Clone(d.best)
	var walk func(g int, sum unit.Money)
	walk = func(g int, sum unit.Money) {
		if d.spent(ctx) {
			d.complete = false
			return
		}
		if g == len(d.groups) {
			if sum-d.onHand >= d.score.cost {
				lowest = min(lowest, sum-d.onHand)
				return
			}
			s := d.cost(ctx, next)
			known := sum - d.onHand // no plan found is no proof that there is none
			if s.failed == 0 {
				known = max(known, s.bound)
			}
			lowest = min(lowest, known)
			d.offer(ctx, next)
			return
		}
		if len(left[g]) == 0 {
			next[g] = -1
			walk(g+1, sum)
			return
		}
		for _, w := range left[g] {
			next[g] = w
			walk(g+1, sum+d.least[g][w]+d.extra[g][w])
		}
	}
	walk(0, 0)
	if d.complete {
		d.anyBound = max(d.anyBound, lowest)
	}
}

// prove says how far the plan may lie from the cheapest with any ways, work counted.
func (d *decision) prove(p *Plan) {
	value := p.Bound + p.Gap
	for g, w := range d.best {
		if w >= 0 {
			value += d.extra[g][w]
		}
	}
	p.Counted = value
	p.AllWays = d.complete && len(p.Findings) == 0
	p.AnyGap = max(0, value-d.anyBound)
}
