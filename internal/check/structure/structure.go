// Package structure checks whether a piece holds: it turns the assembly into a frame with semi-rigid joints, puts
// people and pushes on it, and compares what joints and members carry with what they can.
//
// Analyse works out forces for given joints; the reserve of each joint follows in package joint, that of members,
// sway, sag and tipping here. Loads are in the style of published furniture tests and never a claim of
// conformity. A finding is part of the result: nothing here is an error. The top is taken to slide on its
// fastenings, so it never braces the frame; knots are covered by the condition of the wood; impact is not covered.
package structure

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"longgrain/internal/design/assembly"
	"longgrain/internal/design/joint"
	"longgrain/internal/ground/source"
	"longgrain/internal/ground/working"
	"longgrain/internal/solve/spaceframe"
	"longgrain/internal/trade/wood"
)

// Check is one thing that was checked.
type Check struct {
	What     string          `json:"what"`  // "bending of the apron front"
	Where    string          `json:"where"` // part or connection
	Demand   working.Value   `json:"demand"`
	Capacity working.Value   `json:"capacity"`
	Reserve  joint.Reserve   `json:"reserve"` // capacity over demand
	Verdict  joint.Verdict   `json:"verdict"`
	Case     string          `json:"case"` // the load case that governs
	Working  working.Working `json:"working,omitempty"`
	Cite     source.Cite     `json:"cite,omitzero"`
	Advice   string          `json:"advice,omitempty"`
	// Comfort says that the capacity is a limit of comfort or stand, not a strength, and needs no reserve.
	Comfort bool `json:"comfort,omitempty"`
	// Wanted is the reserve that counts as holding where it is not that of the piece.
	Wanted float64 `json:"wanted,omitempty"`
}

// Finding is something that the frame shows to be wrong beside its strength.
type Finding struct {
	What   string `json:"what"`
	Where  string `json:"where"`
	Advice string `json:"advice"`
}

// Answer is the result of one analysis.
type Answer struct {
	Cases    []Case           `json:"cases"`
	Forces   [][]joint.Forces `json:"-"` // by connection and case; empty for connections that are no joints
	Members  []Check          `json:"members"`
	Sway     []Check          `json:"sway"`
	Sag      []Check          `json:"sag"`
	Tipping  []Check          `json:"tipping"`
	Findings []Finding        `json:"findings,omitempty"`
	Notes    []string         `json:"notes,omitempty"` // what to mind that has no figure to compare
	Mass     float64          `json:"mass"`            // kg, of the whole piece

	frame   *frame
	results []spaceframe.CaseResult
}

// Shape is the deflected shape of a case: a line of points for each part, moved by the displacement in mm.
type Shape struct {
	Case  string
	Lines [][]spaceframe.Vec // by part: displacement at equal steps along its length
}

// Shape returns the deflected shape of a case by its index in Cases, for drawing; false when it has no answer.
func (a Answer) Shape(index int) (Shape, bool) {
	if index < 0 || index >= len(a.results) || a.results[index].Status != spaceframe.Solved {
		return Shape{}, false
	}
	return a.frame.shape(&a.results[index]), true
}

// Lowest returns the check with the lowest reserve, and false when there is none.
func (a Answer) Lowest() (Check, bool) {
	all := slices.Concat(a.Members, a.Sway, a.Sag, a.Tipping)
	if len(all) == 0 {
		return Check{}, false
	}
	return slices.MinFunc(all, func(x, y Check) int { return cmp.Compare(x.Reserve, y.Reserve) }), true
}

// Forces works out only what each joint carries in each load case, by connection: what is needed while joints are
// being chosen. It is nil when the frame has no answer; Analyse then says why.
func Forces(a assembly.Assembly, joints []*joint.Joint, m wood.Moisture) [][]joint.Forces {
	f := newFrame(a, joints, m)
	if len(f.findings) > 0 {
		return nil
	}
	var cases []spaceframe.Case
	for _, c := range f.cases() {
		cases = append(cases, c.load)
	}
	forces := make([][]joint.Forces, len(a.Connections))
	result := spaceframe.Solve(f.model, cases, spaceframe.Options{})
	for i := range result.Cases {
		if result.Cases[i].Status == spaceframe.Solved {
			f.takeForces(&result.Cases[i], forces)
		}
	}
	return forces
}

// Analyse works out the frame of an assembly for the given joints, by connection; connections without a joint
// are nil. wanted is the reserve that counts as holding; m is the moisture content of use.
func Analyse(a assembly.Assembly, joints []*joint.Joint, wanted float64, m wood.Moisture) Answer {
	f := newFrame(a, joints, m)
	var answer Answer
	answer.Mass = f.mass
	answer.Forces = make([][]joint.Forces, len(a.Connections))
	answer.Findings = f.findings
	if len(answer.Findings) > 0 {
		return answer
	}
	answer.Cases = f.cases()
	answer.Tipping = tipping(a, f, wanted)
	answer.Notes = f.notes(answer.Tipping, wanted)
	if a.Fixed != "" {
		answer.Tipping = nil
	}
	var cases []spaceframe.Case
	for _, c := range answer.Cases {
		cases = append(cases, c.load)
	}
	result := spaceframe.Solve(f.model, cases, spaceframe.Options{})
	if result.Status == spaceframe.BadInput || len(result.Cases) == 0 {
		for _, found := range result.Findings {
			answer.Findings = append(answer.Findings, f.named(found))
		}
		return answer
	}
	var failed []int
	for i := range result.Cases {
		c := &result.Cases[i]
		if c.Status != spaceframe.Solved {
			failed = append(failed, i)
			continue
		}
		f.takeForces(c, answer.Forces)
	}
	answer.frame, answer.results = f, result.Cases
	if len(failed) > 0 {
		answer.Findings = append(answer.Findings, f.failedCases(answer.Cases, result.Cases, failed)...)
	}
	answer.Members = append(f.memberChecks(result.Cases, wanted), f.boardChecks(m, wanted)...)
	answer.Members = append(answer.Members, f.panelChecks(result.Cases, wanted)...)
	answer.Members = append(answer.Members, f.slenderChecks(answer.Cases, result.Cases)...)
	answer.Sway = f.swayChecks()
	answer.Sag = f.sagChecks()
	return answer
}

// failedCases says which cases have no answer, once for each reason.
func (f *frame) failedCases(cases []Case, results []spaceframe.CaseResult, failed []int) []Finding {
	var out []Finding
	first := map[spaceframe.Status]int{}
	more := map[spaceframe.Status]int{}
	for _, i := range failed {
		status := results[i].Status
		if _, known := first[status]; known {
			more[status]++
			continue
		}
		first[status] = len(out)
		out = append(out, f.caseFinding(cases[i], &results[i]))
	}
	for status, k := range first {
		if n := more[status]; n > 0 {
			out[k].What += fmt.Sprintf(", and so in %d more load cases", n)
		}
	}
	return out
}

// caseFinding says in words why a case could not be solved.
func (f *frame) caseFinding(c Case, r *spaceframe.CaseResult) Finding {
	found := Finding{What: fmt.Sprintf("under %s the frame %s", c.Name, r.Status), Where: c.Name}
	switch r.Status {
	case spaceframe.Mechanism:
		found.What = "the frame can move without resistance under " + c.Name
		found.Advice = "connect the loose part, or add a joint that resists turning"
	case spaceframe.TipsOver:
		found.Advice = "set the feet wider, or make the piece heavier low down"
	case spaceframe.Unstable:
		found.Advice = "make the legs thicker"
	case spaceframe.NotConverged:
		found.What = "no steady state was found under " + c.Name + ": the piece rocks on its feet or is very soft"
		found.Advice = "set the feet wider, and see that every part is joined"
	}
	if len(r.Findings) > 0 {
		found.Where = r.Findings[0].Message
	}
	return found
}

func (f *frame) named(found spaceframe.Finding) Finding {
	return Finding{What: found.Message, Where: cmp.Or(found.Member, found.Node, found.Body), Advice: "check that every part is connected and stands on something"}
}

// verdict fills reserve and verdict of a check from demand and capacity.
func (c *Check) verdict(wanted float64) {
	c.Reserve = joint.Reserve(math.Inf(1))
	if c.Demand.Number > 0 {
		c.Reserve = joint.Reserve(c.Capacity.Number / c.Demand.Number)
	}
	c.Verdict = joint.VerdictOf(c.Reserve, wanted)
}
