package markout

import (
	"fmt"
	"math"
	"strings"

	"longgrain/internal/design/assembly"
	"longgrain/internal/ground/source"
	"longgrain/internal/ground/unit"
	"longgrain/internal/ground/working"
	"longgrain/internal/trade/shop"
)

// Joint says how far apart the cuts of one kind of joint are likely to end up, for each ordinary way
// of marking it.
type Joint struct {
	Connections []int       `json:"connections"` // indices of the connections that this is about
	Ways        []WayToMark `json:"ways"`
	Best        int         `json:"best"` // index into Ways of the one with the least misfit
	// Play is the misfit that the joint closes over, mm. A way closes it likely when its likely misfit is no more, and surely when
	// its worst is no more.
	Play float64 `json:"play"`
}

// Closes says how surely a joint that is marked in this way closes: "surely", "likely" or "not surely".
func (j Joint) Closes(w WayToMark) string {
	switch {
	case math.Hypot(w.Along.Fit.Worst, w.Across.Fit.Worst) <= j.Play:
		return "surely"
	case w.fit() <= j.Play:
		return "likely"
	}
	return "not surely"
}

// Matters returns the direction of the best way whose error is largest: true for along, with its spread.
func (j Joint) Matters() (along bool, s Spread) {
	w := j.Ways[j.Best]
	if w.Along.Shift.Likely >= w.Across.Shift.Likely {
		return true, w.Along
	}
	return false, w.Across
}

// WayToMark is one way to bring the same positions onto two parts.
type WayToMark struct {
	Name string `json:"name"`
	// Along and Across are the errors in the two directions of the contact, those of A's mark.
	Along  Spread `json:"along"`
	Across Spread `json:"across"`
}

// fit returns the likely misfit of both directions together, mm.
func (w WayToMark) fit() float64 { return math.Hypot(w.Along.Fit.Likely, w.Across.Fit.Likely) }

// shift returns the likely shift of both directions together, mm.
func (w WayToMark) shift() float64 { return math.Hypot(w.Along.Shift.Likely, w.Across.Shift.Likely) }

// Spread is how far marks may be off in one direction.
type Spread struct {
	// Shift is the error of the joint as a whole: how far the parts stand out of line.
	Shift Band `json:"shift"`
	// Fit is the difference between the errors of two cuts of the joint: what keeps it from closing.
	// It is zero for a single cut.
	Fit Band `json:"fit"`
	// Most names the error that contributes most to Shift, with its share of the sum of squares.
	Most  string  `json:"most"`
	Share float64 `json:"share"`
}

// Band is a range of error to either side, mm.
type Band struct {
	Worst  float64 `json:"worst"`  // all errors at their greatest and in one direction
	Likely float64 `json:"likely"` // root of the sum of squares
}

// slip is one source of error with its half width.
type slip struct {
	name  string
	value float64
	cite  source.Cite
}

// slipOf names a tolerance of the shop.
func slipOf(name string, t shop.Tolerance) slip {
	if t.Given {
		name += " (shop file)"
	}
	return slip{name, t.Value.MM(), t.Cite}
}

// slips are the errors of a shop.
type slips struct {
	line, start, seat, strip, guide, closing, points, wander, size slip
}

func slipsOf(m shop.Marking) slips {
	return slips{
		line: slipOf("Width of the pencil line", m.Line), start: slipOf("Drill set on the mark by eye", m.Start),
		seat:  slipOf("Part laid against a fence or into a template", m.Seat),
		strip: slipOf("Strip that makes the set-back", m.Strip), guide: slipOf("Play of the drill in a template", m.Guide),
		closing: slipOf("Parts held in line while centre points are pressed in", m.Closing), points: slipOf("Play of centre points in their bores", m.Points),
		wander: slipOf("Bore runs out of square", m.Wander), size: slipOf("Width or thickness of a planed part", m.Size),
	}
}

// term is an error in a sum: how large, how often it comes in, and whether each cut has its own.
type term struct {
	slip
	times  int
	perCut bool
}

// reading is the error of a distance read to the nearest mark of a rule: half a mark.
func reading(smallest unit.Length) slip {
	return slip{"Distance read to the nearest mark", smallest.MM() / 2, source.Choice("markout.md, errors of marking")}
}

// wander is the error at half the depth of a bore that runs out of square.
//
//	e = k · t / 2
//
// k is the run-out per mm of depth, the shop's or assumed; t the depth in mm.
func wander(runOut slip, depth unit.Length) slip {
	runOut.value *= depth.MM() / 2 / 100 // the shop file gives it for 100 mm
	return runOut
}

// way names a way of marking and the errors that it brings in, in one direction.
type way struct {
	name  string
	terms func(c circumstances) []term
}

// circumstances are what the errors of a joint depend on, in one direction.
type circumstances struct {
	slips          slips
	smallest       unit.Length
	depthA, depthB unit.Length
	bored          bool
	across         bool // the direction is square to the fence
	setBack        bool // the references of the two parts do not lie in one plane
	opposite       bool // the parts are measured from sides that do not look the same way
}

// strip is the error of the strip that makes the set-back, where there is one.
func (c circumstances) strip() []term {
	if !c.setBack {
		return nil
	}
	return []term{{c.slips.strip, 1, false}}
}

var ways = []way{
	{"each part measured with the rule", func(c circumstances) []term {
		return []term{{reading(c.smallest), 2, true}, {c.slips.line, 2, true}, {c.slips.start, 2, true}}
	}},
	{"one stick and one fence setting for both parts", func(c circumstances) []term {
		if !c.across {
			return append([]term{{c.slips.line, 2, true}, {c.slips.start, 2, true}}, c.strip()...)
		}
		return append([]term{{c.slips.seat, 2, false}}, c.strip()...)
	}},
	{"one template for both parts", func(c circumstances) []term {
		return append([]term{{c.slips.guide, 2, true}, {c.slips.seat, 2, false}}, c.strip()...)
	}},
	{"centre points in the bores of the first part", func(c circumstances) []term {
		return []term{{c.slips.points, 1, true}, {c.slips.start, 1, true}, {c.slips.closing, 1, false}}
	}},
}

// suits tells whether a way can be used for a joint: centre points need bores.
func (w way) suits(bored bool) bool {
	return bored || !strings.Contains(w.name, "centre points")
}

// all returns the errors of a way with those that every way has.
func (w way) all(c circumstances) []term {
	t := w.terms(c)
	if c.bored {
		t = append(t, term{wander(c.slips.wander, c.depthA), 1, true}, term{wander(c.slips.wander, c.depthB), 1, true})
	}
	if c.opposite {
		t = append(t, term{c.slips.size, 1, false})
	}
	return t
}

// expectErrors works out the errors of every kind of joint that has mates.
func expectErrors(a assembly.Assembly, m Markout, marking shop.Marking) ([]Joint, working.Working) {
	var joints []Joint
	var steps working.Working
	seen := map[string]int{}
	for _, group := range byConnection(m.Mates) {
		c := circumstancesOf(m, group[0], slipsOf(marking))
		connection := group[0].Connection
		key := fmt.Sprint(c, len(group) > 1, a.Connections[connection].Group)
		if k, ok := seen[key]; ok {
			joints[k].Connections = append(joints[k].Connections, connection)
			continue
		}
		seen[key] = len(joints)
		j, more := expectJoint(a.Connections[connection].Name, c, len(group) > 1)
		j.Connections, j.Play = []int{connection}, marking.Play.Value.MM()
		joints, steps = append(joints, j), append(steps, more...)
	}
	return joints, steps
}

// expectJoint works out the errors of one joint for every way that suits it. The circumstances are
// those along and across; several tells that the joint has more than one cut.
func expectJoint(name string, c [2]circumstances, several bool) (Joint, working.Working) {
	var j Joint
	var steps working.Working
	for _, w := range ways {
		if !w.suits(c[0].bored) {
			continue
		}
		along, across := w.all(c[0]), w.all(c[1])
		result := WayToMark{Name: w.name, Along: sum(along, several), Across: sum(across, several)}
		if len(j.Ways) > 0 && better(result, j.Ways[j.Best]) {
			j.Best = len(j.Ways)
		}
		j.Ways = append(j.Ways, result)
		steps = append(steps, step(name, w.name+", along", along, result.Along), step(name, w.name+", across", across, result.Across))
	}
	return j, steps
}

func better(x, y WayToMark) bool {
	if x.fit() != y.fit() {
		return x.fit() < y.fit()
	}
	return x.shift() < y.shift()
}

func circumstancesOf(m Markout, mate Mate, s slips) [2]circumstances {
	onA, onB := m.mark(mate.A), m.mark(mate.B)
	var out [2]circumstances
	for i, d := range mate.Directions {
		out[i] = circumstances{
			slips: s, smallest: m.Smallest, depthA: onA.Depth, depthB: onB.Depth, bored: onA.Kind == assembly.Bore,
			across: i == 1 && !d.BAlong, setBack: d.Set != 0, opposite: !d.Same,
		}
	}
	return out
}

// sum adds up independent errors.
//
//	worst = Σ n·e,  likely = √(Σ n·e²)
//
// e is the half width of an error in mm, n how often it comes in. For the difference between two
// cuts only the errors count that each cut has for itself, and each of them counts twice.
//
// Source: [longgrain] markout.md, errors of marking: sum of limits and root sum of squares, the two
// usual ways to add tolerances.
func sum(terms []term, several bool) Spread {
	var w Spread
	var squares, fitSquares, most float64
	for _, t := range terms {
		n := float64(t.times)
		w.Shift.Worst += n * t.value
		squares += n * t.value * t.value
		if t.perCut && several {
			w.Fit.Worst += 2 * n * t.value
			fitSquares += 2 * n * t.value * t.value
		}
		if share := n * t.value * t.value; share > most {
			most, w.Most = share, t.name
		}
	}
	w.Shift.Likely, w.Fit.Likely = math.Sqrt(squares), math.Sqrt(fitSquares)
	if squares > 0 {
		w.Share = most / squares
	}
	return w
}

func step(joint, way string, terms []term, w Spread) working.Step {
	s := working.Step{
		Title:   fmt.Sprintf("Error of the joint %s: %s", joint, way),
		Formula: "e = √(Σ n·eᵢ²)",
		Result:  working.Value{Symbol: "e", Name: "how far the parts may stand out of line", Number: w.Shift.Likely, Unit: "mm"},
		Cite:    source.Choice("markout.md, errors of marking"),
		Note: fmt.Sprintf("Worst case %s mm. Between two cuts of the joint: likely %s mm, at worst %s mm.",
			working.Figures(w.Shift.Worst), working.Figures(w.Fit.Likely), working.Figures(w.Fit.Worst)),
	}
	for _, t := range terms {
		s.Inputs = append(s.Inputs, working.Value{
			Symbol: fmt.Sprintf("%d × e", t.times), Name: strings.ToLower(t.name[:1]) + t.name[1:], Number: t.value, Unit: "mm", Cite: t.cite,
		})
	}
	return s
}
