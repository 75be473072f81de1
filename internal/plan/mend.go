package plan

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"
	"strings"
	"sync"

	"longgrain/internal/check/structure"
	"longgrain/internal/design/joint"
	"longgrain/internal/ground/unit"
)

// Mend is a single change that brings something that does not hold to the wanted reserve. Short says that no single change that was
// tried does so, and that this one comes nearest.
type Mend struct {
	For    []Mended `json:"for"`
	Change string   `json:"change"` // "leg thickness 62 mm instead of 54 mm"
	// Sizes are the sizes of the pattern that the change sets, as they would be typed; empty for any other change.
	Sizes map[string]string `json:"sizes,omitempty"`
	Word  string            `json:"word"` // the verdict of the chapter after the change
	Left  string            `json:"left"` // what is then weakest
	Short bool              `json:"short,omitempty"`
	// Cost and Hours are what the whole piece then takes more than before, or less when negative.
	Cost  unit.Money `json:"cost"`
	Hours float64    `json:"hours"`

	subject string // what it changes, the same for every amount
}

// Mended is what a change mends: a check, with its reserve before and after.
type Mended struct {
	What   string        `json:"what"`
	Before joint.Reserve `json:"before"`
	After  joint.Reserve `json:"after"`
}

// Mended lists what a change mends, with the reserves: "sway 0.4 to 1.1, apron to leg 0.9 to 1.5".
func (m Mend) Mended() string {
	var out []string
	for _, f := range m.For {
		out = append(out, fmt.Sprintf("%s %s to %s", f.What, f.Before, f.After))
	}
	return strings.Join(out, ", ")
}

// Money is the difference in cost with its sign.
func (m Mend) Money(currency string) string {
	if m.Cost < 0 {
		return "-" + currency + (-m.Cost).String()
	}
	return "+" + currency + m.Cost.String()
}

// Bounds of the search. A change is tried at the given shares, and between the last that did not suffice and the first that did the
// smallest whole step is sought. Judgement: a part that is much thicker is another design.
var growth = []float64{0.08, 0.2, 0.4, 0.6}

const (
	mostMends  = 3  // for one thing that does not hold
	mostTrials = 14 // of one kind of change
	keepsSize  = 12 // mm by which a change may alter the whole piece
)

// standing is what a plan says of one thing that was checked, the worst of those alike.
type standing struct {
	what    string
	reserve joint.Reserve
	verdict joint.Verdict
}

// judgement is every check of a plan by a key that stays the same when sizes change.
type judgement map[string]standing

func (p *Plan) judgement() judgement {
	out := judgement{}
	if p.Assembly.Fixed != "" { // it cannot tip, whatever would tip it
		for _, what := range structure.TippingChecks() {
			out[what] = standing{what, joint.Reserve(math.Inf(1)), joint.Holds}
		}
	}
	put := func(key string, c structure.Check) {
		old, known := out[key]
		if !known || worse(string(c.Verdict), string(old.verdict)) || (c.Verdict == old.verdict && c.Reserve < old.reserve) {
			out[key] = standing{c.What, c.Reserve, c.Verdict}
		}
	}
	for _, g := range p.Joints {
		c := structure.Check{What: p.groupName(g), Reserve: g.Final.Reserve, Verdict: g.Final.Verdict}
		if !g.Made {
			c = structure.Check{What: "no joint fits, " + p.groupName(g), Verdict: joint.DoesNotHold}
		}
		put("joint "+p.groupKind(g), c) // the same for all groups of such parts: a change may split or join them
	}
	for _, c := range p.Structure.Members {
		i, ok := p.Assembly.PartNamed(c.Where)
		if !ok {
			put(c.What, c)
			continue
		}
		put("part "+roleName(p.Assembly.Parts[i].Role, c.Where), c)
	}
	for _, c := range slices.Concat(p.Structure.Sway, p.Structure.Sag, p.Structure.Tipping) {
		put(c.What, c)
	}
	return out
}

// wrong returns the keys of what does not hold, or where nothing is as bad, of what is tight, in order.
func (j judgement) wrong() []string {
	for _, v := range []joint.Verdict{joint.DoesNotHold, joint.Tight} {
		var keys []string
		for k, s := range j {
			if s.verdict == v {
				keys = append(keys, k)
			}
		}
		if len(keys) > 0 {
			slices.Sort(keys)
			return keys
		}
	}
	return nil
}

// mends tells whether a changed piece holds at the key and is nowhere worse than before; what is new must hold.
func (j judgement) mends(key string, before judgement) bool {
	if s, known := j[key]; !known || s.verdict != joint.Holds {
		return false
	}
	for k, s := range j {
		old := string(joint.Holds)
		if b, known := before[k]; known {
			old = string(b.verdict)
		}
		if worse(string(s.verdict), old) {
			return false
		}
	}
	return true
}

// nearer tells whether a changed piece comes nearer to holding at the key than another and is nowhere else worse than before.
func (j judgement) nearer(key string, than standing, before judgement) bool {
	s, known := j[key]
	if !known || worse(string(s.verdict), string(than.verdict)) || s.reserve <= than.reserve {
		return false
	}
	without := judgement{key: {verdict: joint.Holds}}
	for k, s := range j {
		if k != key {
			without[k] = s
		}
	}
	return without.mends(key, before)
}

// tried is a changed input and what came of it.
type tried struct {
	mend   Mend
	input  Input
	judged judgement // nil when it cannot be made or brings new findings
}

// WithMends returns the plan with the smallest single changes that bring what does not hold, or where nothing is so bad what is tight,
// to the wanted reserve. Each is a whole plan of its own, compared in money and hours, cheapest first. A plan that holds, or whose frame has
// no answer, comes back as it is. The search is bounded in trials; ctx may end it early, and then what was found by then is kept.
func WithMends(ctx context.Context, in Input, p Plan) Plan {
	before := p.judgement()
	keys := before.wrong()
	if len(keys) == 0 || len(p.Structure.Findings) > 0 {
		return p
	}
	changes := p.remedies(in)
	found := make([]attempt, len(changes))
	work := make(chan int)
	var done sync.WaitGroup
	for range 2 {
		done.Go(func() {
			for i := range work {
				found[i] = p.try(ctx, changes[i], keys, before)
			}
		})
	}
	for i := range changes {
		work <- i
	}
	close(work)
	done.Wait()
	p.Mends = p.pick(ctx, found, keys, before)
	return p
}

// attempt is what came of one kind of change: the smallest amount that mends, by key, and the one that comes nearest.
type attempt struct{ mends, near map[string]tried }

// try looks for the smallest amount of a change that mends each key.
func (p *Plan) try(ctx context.Context, c change, keys []string, before judgement) attempt {
	found := attempt{map[string]tried{}, map[string]tried{}}
	seen := map[int]tried{}
	at := func(n int) (tried, bool) {
		if t, known := seen[n]; known {
			return t, true
		}
		if len(seen) >= mostTrials || ctx.Err() != nil {
			return tried{}, false
		}
		t := c.at(n)
		if t.mend.Change != "" {
			t.judged = p.outcome(t.input)
		}
		seen[n] = t
		return t, true
	}
	for _, key := range keys {
		low := 0
		for _, high := range c.ladder {
			t, ok := at(high)
			if !ok {
				break
			}
			if !t.judged.mends(key, before) {
				best := before[key]
				if n, some := found.near[key]; some {
					best = n.judged[key]
				}
				if t.judged.nearer(key, best, before) {
					found.near[key] = t
				}
				low = high
				continue
			}
			for high-low > 1 {
				middle, ok := at((low + high) / 2)
				if !ok {
					break
				}
				if middle.judged.mends(key, before) {
					high, t = (low+high)/2, middle
				} else {
					low = (low + high) / 2
				}
			}
			found.mends[key] = t
			break
		}
	}
	return found
}

// outcome works a changed piece out as far as its checks; nil when it cannot be made, or something fits worse, or it is another piece.
func (p *Plan) outcome(in Input) judgement {
	q, bare, problems := design(in)
	if len(problems) > 0 {
		return nil
	}
	lo, hi := p.Assembly.Bounds()
	lo2, hi2 := q.Assembly.Bounds()
	size, size2 := hi.Sub(lo), hi2.Sub(lo2)
	if d := size.Sub(size2); max(math.Abs(d.X), math.Abs(d.Y), math.Abs(d.Z)) > keepsSize {
		return nil
	}
	q.judge(bare)
	if len(q.Structure.Findings) > 0 || len(q.Fit) > len(p.Fit)-len(p.Together.Findings) {
		return nil
	}
	return q.judgement()
}

// nearest returns the changes that come nearest to holding at each key that no change mends.
func nearest(found []attempt, keys []string) map[string]tried {
	out := map[string]tried{}
	for _, key := range keys {
		if slices.ContainsFunc(found, func(a attempt) bool { _, ok := a.mends[key]; return ok }) {
			continue
		}
		for _, a := range found {
			t, ok := a.near[key]
			if best, some := out[key]; ok && (!some || t.judged[key].reserve > best.judged[key].reserve) {
				out[key] = t
			}
		}
	}
	return out
}

// pick works the candidates out in full, and keeps the cheapest of each thing that does not hold.
func (p *Plan) pick(ctx context.Context, found []attempt, keys []string, before judgement) []Mend {
	var mends []Mend
	at := map[string]int{}
	put := func(key string, t tried, short bool) {
		if _, known := at[t.mend.Change]; !known {
			t.input.Changes = false
			full, problems := Make(ctx, t.input)
			if len(problems) > 0 {
				return
			}
			m, then := t.mend, full.judgement()
			for _, k := range keys {
				if (short && k == key) || (!short && then[k].verdict == joint.Holds) {
					m.For = append(m.For, Mended{before[k].what, before[k].reserve, then[k].reserve})
				}
			}
			holds := full.holdsAnswer()
			m.Word, m.Left, m.Short = holds.Word, holds.Answer, short
			m.Cost, m.Hours = full.Cost.Total-p.Cost.Total, math.Round(10*(full.Cost.Hours-p.Cost.Hours))/10
			at[m.Change], mends = len(mends), append(mends, m)
		}
	}
	near := nearest(found, keys)
	for _, key := range keys {
		for _, of := range found {
			if t, ok := of.mends[key]; ok {
				put(key, t, false)
			}
		}
		if t, ok := near[key]; ok {
			put(key, t, true)
		}
	}
	slices.SortStableFunc(mends, func(a, b Mend) int {
		return cmp.Or(after(a.Short, b.Short), cmp.Compare(badness[a.Word], badness[b.Word]), cmp.Compare(a.Cost, b.Cost), cmp.Compare(a.Hours, b.Hours), cmp.Compare(a.Change, b.Change))
	})
	return fewest(mends)
}

// covers tells whether a mend changes the same thing as another and mends all that the other does.
func (m Mend) covers(other Mend) bool {
	if m.subject == "" || m.subject != other.subject {
		return false
	}
	for _, f := range other.For {
		if !slices.ContainsFunc(m.For, func(g Mended) bool { return g.What == f.What }) {
			return false
		}
	}
	return true
}

// fewest keeps the first mends of each thing, in order, and of several amounts of one change the one that mends more.
func fewest(mends []Mend) []Mend {
	count := map[string]int{}
	var out []Mend
	for _, m := range mends {
		wanted := false
		for _, f := range m.For {
			wanted = wanted || count[f.What] < mostMends
		}
		if !wanted || slices.ContainsFunc(out, func(kept Mend) bool { return kept.covers(m) }) {
			continue
		}
		for _, f := range m.For {
			count[f.What]++
		}
		out = append(out, m)
	}
	return out
}
