// Package chance works out how likely a piece is to fail in its life, from the scatter of wood, joints and loads.
//
// In goes the frame that package structure has solved, with the joints that were chosen; out comes the probability that any part or
// joint gives way under the heaviest load that it meets, with bounds, what gives way first, and the reserve that would bring a wanted
// probability. It is an estimate for comparing designs: the scatter of loads in a home is assumed, since nobody has published it.
//
// Wood scatters after the JCSS model code, joints as their models and tests do. With figures of the shop's own tests these take the
// place of the books', and both answers stand side by side. Not covered: knots beside joints, bad glue, damp, wear by repeated load,
// falls, tipping over. Equations stand in docs/methods/scatter.md.
package chance

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"longgrain/internal/check/structure"
	"longgrain/internal/design/assembly"
	"longgrain/internal/design/joint"
	"longgrain/internal/ground/working"
	"longgrain/internal/solve/reliability"
)

// Input is what the chance is worked out from.
type Input struct {
	Assembly assembly.Assembly
	Answer   structure.Answer
	Joints   []*joint.Joint // by connection; nil where there is none
	Lowest   joint.Reserve  // lowest reserve of strength that was found
}

// Options are how carefully it is worked out.
type Options struct {
	Trials int     // 0: QuickTrials
	Wanted float64 // probability of failing in a life that is accepted; 0: by the use of the piece
	// Stiff also lets the stiffness of parts and joints scatter, which moves load from one to another. The frame is solved again for
	// each part and joint.
	Stiff bool
	// Book takes joints as the book has them, without the shop's tests.
	Book bool
	// For checking: Free draws without aiming at what is likely to fail, Every keeps all load cases, Seed starts other draws.
	Free, Every bool
	Seed        uint64
}

// QuickTrials is the number of draws while a plan is being changed: the bounds are then some tenths of the answer, which is far less than
// what the assumptions leave open.
const QuickTrials = 500

// FullTrials is the number of draws where the answer was asked for.
const FullTrials = 10000

// seed starts the draws. Any would do; a fixed one gives the same answer each time.
const seed = 20260

// Estimate is a probability of failing in a life.
type Estimate struct {
	Probability float64 `json:"probability"`
	Low         float64 `json:"low"` // 95 % bounds of the drawing, not of the assumptions
	High        float64 `json:"high"`
	Index       float64 `json:"index"`             // reliability index
	Reserve     float64 `json:"reserve,omitempty"` // lowest reserve that would bring the wanted probability; 0 where none was found
	Causes      []Cause `json:"causes"`            // likeliest first
}

// Cause is something giving way first under a kind of load.
type Cause struct {
	What  string  `json:"what"`
	Load  string  `json:"load"`
	Share float64 `json:"share"` // of all failures
}

// Chance is how likely a piece is to fail.
type Chance struct {
	Known  bool    `json:"known"` // false when the frame has no answer
	Trials int     `json:"trials"`
	Wanted float64 `json:"wanted"` // probability that is accepted
	Stiff  bool    `json:"stiff,omitempty"`
	// Species is the answer if all that is known of the joints is the species, Own that with the shop's own tests, where there are any.
	Species     Estimate        `json:"species"`
	Own         *Estimate       `json:"own,omitempty"`
	Sentence    string          `json:"sentence"`
	Assumptions []string        `json:"assumptions"`
	Working     working.Working `json:"working"`
}

// Best returns the estimate that knows most.
func (a Chance) Best() Estimate {
	if a.Own != nil {
		return *a.Own
	}
	return a.Species
}

// Good tells whether the chance is no more than is accepted.
func (a Chance) Good() bool { return a.Best().Probability <= a.Wanted }

// Of returns the chance that a piece fails in its life.
func Of(in Input, o Options) Chance {
	a := Chance{Species: Estimate{Causes: []Cause{}}, Assumptions: []string{}, Working: working.Working{}}
	frame, ok := in.Answer.Frame()
	if !ok {
		return a
	}
	if o.Trials <= 0 {
		o.Trials = QuickTrials
	}
	a.Known, a.Wanted, a.Stiff = true, o.Wanted, o.Stiff
	if a.Wanted <= 0 {
		a.Wanted = wantedFor(in.Assembly.Use)
	}
	m := newModel(in, frame, o)
	known := m.estimate(in.Lowest, a.Wanted, o)
	a.Species = known
	if tested(in.Joints) {
		o.Book = true
		a.Own, a.Species = &known, newModel(in, frame, o).estimate(in.Lowest, a.Wanted, o)
		a.Species.Reserve = 0 // the lowest reserve that was found is with the shop's tests
	}
	a.Trials = (o.Trials + reliability.Batches - 1) / reliability.Batches * reliability.Batches
	a.Assumptions = assumptions(o.Stiff)
	a.Working = m.working(a)
	a.Sentence = a.sentence(in.Assembly.Use)
	return a
}

// tested tells whether tests of the shop speak of any of the joints.
func tested(joints []*joint.Joint) bool {
	return slices.ContainsFunc(joints, func(j *joint.Joint) bool { return j != nil && fromShop(j) != nil })
}

// Reliability indices that are accepted, by what happens when a piece gives way.
//
// Source: [longgrain] docs/methods/scatter.md: no target for furniture was found; 2.3 for what is repaired and 3.1 for what people sit
// or stand on are judgement, after the classes of the JCSS model code.
const (
	repairIndex = 2.3
	personIndex = 3.1
)

// wantedFor returns the probability of failing in a life that is accepted for a use.
func wantedFor(use string) float64 {
	switch use {
	case "seat", "bench", "step", "chest":
		return probability(personIndex)
	}
	return probability(repairIndex)
}

// mostIndex is the largest reliability index that is told, either way: what never fails, or surely does, has none that is finite.
const mostIndex = 99

func (m *model) estimate(lowest joint.Reserve, wanted float64, o Options) Estimate {
	r := reliability.Solve(m.problem(), reliability.Options{Trials: o.Trials, Seed: cmp.Or(o.Seed, seed), Free: o.Free})
	e := Estimate{Probability: figures(r.Estimate), Low: figures(r.Low), High: figures(r.High), Index: math.Round(max(-mostIndex, min(r.Index, mostIndex))*100) / 100, Causes: []Cause{}}
	if scale, ok := r.Scale(wanted); ok && !math.IsInf(float64(lowest), 0) {
		e.Reserve = math.Round(float64(lowest)*scale*100) / 100
	}
	for _, c := range m.merge(r.Causes) {
		e.Causes = append(e.Causes, Cause{c.what, c.load, math.Round(c.probability/r.Estimate*1000) / 1000})
	}
	return e
}

// figures keeps three significant figures: more would be noise, and differ between machines.
func figures(x float64) float64 {
	if x == 0 {
		return 0
	}
	k := math.Pow(10, 2-math.Floor(math.Log10(x)))
	return math.Round(x*k) / k
}

// cause is a Cause before it is shown.
type cause struct {
	what, load  string
	probability float64
}

// leastShown is the share of failures below which a cause is not listed, and mostShown how many are.
const (
	leastShown = 0.02
	mostShown  = 6
)

// merge adds up causes that are told alike: all joints of one kind of connection, all parts of one role.
func (m *model) merge(found []reliability.Cause) []cause {
	var out []cause
	total := 0.0
	at := map[[2]string]int{}
	for _, c := range found {
		key := [2]string{m.components[c.Component].told, actionWords[m.actions[c.Load]]}
		k, known := at[key]
		if !known {
			k = len(out)
			at[key] = k
			out = append(out, cause{key[0], key[1], 0})
		}
		out[k].probability += c.Probability
		total += c.Probability
	}
	sortCauses(out)
	shown := out[:0]
	for _, c := range out {
		if len(shown) < mostShown && c.probability >= leastShown*total {
			shown = append(shown, c)
		}
	}
	return shown
}

// actionWords say a kind of load after "under".
var actionWords = map[string]string{"down": "a load from above", "push": "a push", "lift": "being lifted by a corner", "spread": "full shelves", "weight": "its own weight"}

// OneIn says a probability as people do: "1 in 3,200".
func OneIn(p float64) string {
	switch {
	case p <= 0:
		return "none"
	case p < 1e-7:
		return "less than 1 in 10 million"
	case p > 0.3:
		return fmt.Sprintf("%.0f in 100", 100*p)
	}
	return "1 in " + thousands(twoFigures(1/p))
}
