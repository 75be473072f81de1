package markout

import (
	_ "embed"
	"encoding/csv"
	"fmt"
	"math"
	"strconv"
	"strings"

	"longgrain/internal/design/assembly"
	"longgrain/internal/ground/source"
	"longgrain/internal/ground/unit"
	"longgrain/internal/ground/working"
)

// Joint says how far apart the cuts of one kind of joint are likely to end up, for each ordinary way
// of marking it.
type Joint struct {
	Connections []int       `json:"connections"` // indices of the connections that this is about
	Ways        []WayToMark `json:"ways"`
	Best        int         `json:"best"` // index into Ways of the one with the least Fit
}

// WayToMark is one way to bring the same positions onto two parts.
type WayToMark struct {
	Name string `json:"name"`
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

// slip is one source of error, from errors.csv.
type slip struct {
	id, name string
	value    float64
	cite     source.Cite
}

//go:embed errors.csv
var errorsCSV string

var slips = mustReadSlips(errorsCSV)

// mustReadSlips reads the table of errors. It panics on a bad row, because the table is part of the
// program.
func mustReadSlips(text string) map[string]slip {
	rows, err := csv.NewReader(strings.NewReader(text)).ReadAll()
	if err != nil {
		panic(fmt.Sprintf("markout: errors.csv: %v", err))
	}
	out := map[string]slip{}
	for _, r := range rows[1:] {
		value, err := strconv.ParseFloat(r[2], 64)
		if err != nil || r[6] == "" {
			panic(fmt.Sprintf("markout: errors.csv: bad row %q", r[0]))
		}
		out[r[0]] = slip{r[0], r[1], value, source.Cite{Key: r[5], Confidence: source.Confidence(r[6])}}
	}
	return out
}

// term is an error in a sum: how large, how often it comes in, and whether each cut has its own.
type term struct {
	slip
	times  int
	perCut bool
}

// reading is the error of a distance read to the nearest mark of a rule: half a mark.
func reading(smallest unit.Length) slip {
	return slip{"reading", "Distance read to the nearest mark", smallest.MM() / 2,
		source.Choice("markout.md, errors of marking")}
}

// wander is the error at half the depth of a bore that runs out of square.
//
//	e = k · t / 2
//
// k is the run-out per mm of depth, assumed; t the depth in mm.
func wander(depth unit.Length) slip {
	s := slips["wander"]
	s.value *= depth.MM() / 2
	return s
}

// way names a way of marking and the errors that it brings in.
type way struct {
	name  string
	terms func(c circumstances) []term
}

// circumstances are what the errors of a joint depend on.
type circumstances struct {
	smallest       unit.Length
	depthA, depthB unit.Length
	bored          bool
	setBack        bool // the references of the two parts do not lie in one plane
	opposite       bool // the parts are measured from sides that do not look the same way
}

var ways = []way{
	{"each part measured with the rule", func(c circumstances) []term {
		return []term{{reading(c.smallest), 2, true}, {slips["line"], 2, true}, {slips["start"], 2, true}}
	}},
	{"one fence setting for both parts", func(c circumstances) []term {
		t := []term{{slips["seat"], 2, false}}
		if c.setBack {
			t = append(t, term{slips["spacer"], 1, false})
		}
		return t
	}},
	{"one template for both parts", func(c circumstances) []term {
		t := []term{{slips["guide"], 2, true}, {slips["seat"], 2, false}}
		if c.setBack {
			t = append(t, term{slips["spacer"], 1, false})
		}
		return t
	}},
	{"centre points in the bores of the first part", func(c circumstances) []term {
		return []term{{slips["points"], 1, true}, {slips["start"], 1, true}, {slips["closing"], 1, false}}
	}},
}

// suits tells whether a way can be used for a joint: centre points need bores.
func (w way) suits(c circumstances) bool {
	return c.bored || !strings.Contains(w.name, "centre points")
}

// all returns the errors of a way with those that every way has.
func (w way) all(c circumstances) []term {
	t := w.terms(c)
	if c.bored {
		t = append(t, term{wander(c.depthA), 1, true}, term{wander(c.depthB), 1, true})
	}
	if c.opposite {
		t = append(t, term{slips["size"], 1, false})
	}
	return t
}

// expectErrors works out the errors of every kind of joint that has mates.
func expectErrors(a assembly.Assembly, m Markout) ([]Joint, working.Working) {
	var joints []Joint
	var steps working.Working
	seen := map[string]int{}
	for _, group := range byConnection(m.Mates) {
		c := circumstancesOf(m, group)
		connection := group[0].Connection
		key := fmt.Sprint(c, len(group) > 1, a.Connections[connection].Group)
		if k, ok := seen[key]; ok {
			joints[k].Connections = append(joints[k].Connections, connection)
			continue
		}
		seen[key] = len(joints)
		j := Joint{Connections: []int{connection}}
		for _, w := range ways {
			if !w.suits(c) {
				continue
			}
			terms := w.all(c)
			result := sum(terms, len(group) > 1)
			result.Name = w.name
			if len(j.Ways) == 0 || better(result, j.Ways[j.Best]) {
				j.Best = len(j.Ways)
			}
			j.Ways = append(j.Ways, result)
			steps = append(steps, step(a.Connections[connection].Name, terms, result))
		}
		joints = append(joints, j)
	}
	return joints, steps
}

func better(x, y WayToMark) bool {
	if x.Fit.Likely != y.Fit.Likely {
		return x.Fit.Likely < y.Fit.Likely
	}
	return x.Shift.Likely < y.Shift.Likely
}

func circumstancesOf(m Markout, group []Mate) circumstances {
	first := group[0]
	onA, onB := m.mark(first.A), m.mark(first.B)
	c := circumstances{smallest: m.Smallest, depthA: onA.Depth, depthB: onB.Depth, bored: onA.Kind == assembly.Bore}
	for _, d := range first.Directions {
		c.setBack = c.setBack || d.Set != 0
		c.opposite = c.opposite || !d.Same
	}
	return c
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
func sum(terms []term, several bool) WayToMark {
	var w WayToMark
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

func step(joint string, terms []term, w WayToMark) working.Step {
	s := working.Step{
		Title:   fmt.Sprintf("Error of the joint %s: %s", joint, w.Name),
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
