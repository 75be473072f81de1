package web

import (
	"context"

	"longgrain/internal/book/drawing"
	"longgrain/internal/check/testlog"
	"longgrain/internal/design/joint"
	"longgrain/internal/paper/svg"
	"longgrain/internal/trade/wood"
)

func (s *Server) testForm(context.Context, *struct{}) (*body[TestForm], error) {
	form := TestForm{Species: wood.Names(), Directions: testlog.Directions()}
	for _, f := range testlog.Failures() {
		form.Failures = append(form.Failures, string(f))
	}
	for _, k := range joint.SpecimenKinds() {
		kind := TestKind{Name: string(k), Counted: testlog.Counted(k)}
		for _, z := range testlog.SizeNames(k) {
			kind.Sizes = append(kind.Sizes, TestSize{z.Name, z.Help})
		}
		form.Kinds = append(form.Kinds, kind)
	}
	return &body[TestForm]{form}, nil
}

// reportTests works the log out, within the limits of a plan.
func (s *Server) reportTests(ctx context.Context, _ *struct{}) (*body[TestReport], error) {
	tests, _, err := s.log.read(ctx, s.Keeper)
	if err != nil {
		return nil, err
	}
	report, err := work(ctx, s, func(context.Context) (TestReport, error) { return reportOf(testsOf(recordsOf(tests))), nil })
	return &body[TestReport]{report}, err
}

// mostReasons is how many reasons for leaving tests out are sent.
const mostReasons = 50

// mostCharted is how many groups are drawn in one chart; a page of more is not looked at.
const mostCharted = 12

func reportOf(tests []testlog.Test) TestReport {
	r := testlog.Analyse(tests)
	out := TestReport{Tests: r.Tests, Notes: r.Notes}
	charts := map[string][]testlog.Summary{}
	for _, g := range r.Groups {
		x := TestGroup{Name: g.Group, Quantity: g.Quantity.Name, Unit: g.Quantity.Unit, Tests: g.Failed + g.Held, Held: g.Held, Withdrawn: g.Withdrawn,
			Predicted: filled(g.Predicted), Mean: filled(g.Mean), Sentence: g.Sentence, Warnings: g.Warnings}
		if g.Failed > 1 {
			x.Spread = &g.COV
		}
		if g.Lower5 != nil {
			x.Lower5 = &g.Lower5.Value
		}
		out.Groups = append(out.Groups, x)
		charts[g.Quantity.Name] = append(charts[g.Quantity.Name], g)
	}
	for _, c := range r.Comparisons {
		out.Comparisons = append(out.Comparisons, c.Sentence)
	}
	for _, k := range r.Calibration.Kinds {
		out.Book = append(out.Book, BookAnswer{k.Sentence, k.Warning})
	}
	for i, u := range r.Calibration.Unused {
		if i == mostReasons {
			break
		}
		out.Unused = append(out.Unused, u.Sentence())
	}
	for _, quantity := range []string{"moment", "load"} {
		if groups := charts[quantity]; len(groups) > 0 {
			scene := drawing.TestChart(drawing.TestResultsOf(groups[:min(len(groups), mostCharted)]), drawing.Style{})
			out.Charts = append(out.Charts, TestChart{Title: "Joint tests, " + quantity, SVG: svg.Inline(scene, quantity+"-", true)})
		}
	}
	return out
}

// filled returns a figure that is above nothing.
func filled(v float64) *float64 {
	if v > 0 {
		return &v
	}
	return nil
}
