package workbook

import (
	"math"
	"slices"
	"strings"
	"testing"

	"longgrain/examples"
	"longgrain/internal/ground/working"
	"longgrain/internal/paper/document"
	"longgrain/internal/plan"
)

// lessonSteps returns the steps of a plan in the order in which the book prints them.
func lessonSteps(p plan.Plan) working.Working {
	var out working.Working
	for _, g := range p.Joints {
		if s, ok := g.Final.Joint.GlueSurface(); ok {
			out = append(out, s)
		}
		out = append(out, g.Final.Joint.Strength.Working...)
	}
	out = append(out, p.Year.Parts[0].Movement.Working...)
	return append(out, p.GlueUps.GlueUps[0].Working...)
}

// Every step that a lesson asks for is worked out here again, with the formula as it is printed and nothing but the figures that
// the step prints or that came out of the steps before it: so a class can.
func TestWhatALessonAsksCanBeWorkedOutWithWhatItPrints(t *testing.T) {
	p := planOf(t, examples.PlayTable())
	found := map[string]float64{} // by symbol, the last result
	stresses := [2]float64{}
	done := 0
	for _, s := range lessonSteps(p) {
		in := map[string]float64{}
		for _, v := range s.Inputs {
			in[v.Symbol] = v.Number // of two with one symbol the last, which is of the part that is met
		}
		var got float64
		switch {
		case strings.HasPrefix(s.Title, "Glue surface"):
			got = in["n"] * math.Pi * in["D"] * (in["L₁"] + in["L₂"]) / 2 / 100
		case strings.HasPrefix(s.Title, "Bond stress"):
			got = 0.379 * math.Pow(in["L"], -0.11) * (0.95*in["S₁"] + in["S₂"]) * 0.9
			stresses[0], found["S₁"] = got, in["S₁"]
		case strings.HasPrefix(s.Title, "Wood round"):
			got = found["S₁"] * (1 + in["r"]) / 2
			stresses[1] = got
		case strings.HasPrefix(s.Title, "Pull of one"):
			got = min(stresses[0], stresses[1]) * math.Pi * in["D"] * in["L"]
		case strings.HasPrefix(s.Title, "Growth"):
			got = in["W"] * in["C"] * (in["M₁"] - in["M₀"])
		case strings.HasPrefix(s.Title, "Loss"):
			got = in["W"] * (in["M₁"] - in["M₀"]) / (100*in["F"]/in["S"] - in["F"] + in["M₀"])
		case strings.HasPrefix(s.Title, "Force on"):
			got = in["p"] * in["L"] * in["t"]
			found["F"] = got
		case strings.HasPrefix(s.Title, "Clamps by spacing"):
			got = math.Ceil((in["L"]-2*in["e"])/in["s"]) + 1
		case strings.HasPrefix(s.Title, "Clamps by force"):
			got = math.Ceil(found["F"] / in["F₁"])
		case strings.HasPrefix(s.Title, "Glue on"):
			got = in["A"] * in["f"] * in["s"]
		default:
			if slices.ContainsFunc(askedSteps, func(x string) bool { return strings.HasPrefix(s.Title, x) }) {
				t.Errorf("%s is asked, and this test does not know it", s.Title)
			}
			continue
		}
		done++
		if math.Abs(got-s.Result.Number) > 0.002*math.Abs(s.Result.Number) {
			t.Errorf("%s: %s gives %.5g with what is printed, the book says %s", s.Title, s.Formula, got, s.Result)
		}
	}
	if done < 15 {
		t.Errorf("only %d steps were found", done)
	}
}

func TestALessonTellsNoAnswerBesideItsQuestion(t *testing.T) {
	p := planOf(t, examples.PlayTable())
	d := Lesson(p, A4Room)
	for _, fault := range d.Check() {
		t.Error(fault)
	}
	words := plainText(d)
	questions, answers, ok := strings.Cut(words, "# Answers\n")
	if !ok {
		t.Fatal("there are no answers")
	}
	if n, m := strings.Count(questions, document.Blank), strings.Count(answers, document.Blank); n < 100 || m != 0 {
		t.Errorf("%d blanks before the answers, %d among them", n, m)
	}
	for _, s := range lessonSteps(p) {
		text := result(nil, s)
		if !slices.ContainsFunc(text, func(x document.Span) bool { return x.Open }) {
			continue
		}
		for line := range strings.Lines(questions) {
			if strings.Contains(line, s.Title+":") && strings.Contains(line, s.Result.String()+" ") {
				t.Errorf("told in the question: %s", line)
			}
		}
		if !strings.Contains(answers, s.Result.String()) {
			t.Errorf("%s: %s is not among the answers", s.Title, s.Result)
		}
	}
	for _, c := range p.Chapters {
		if asked(c) && (strings.Contains(questions, upperFirst(c.Answer)) || !strings.Contains(answers, upperFirst(c.Answer))) {
			t.Errorf("%s: %q stands before the answers, or not among them", c.ID, c.Answer)
		}
	}
	if strings.Contains(questions, "Board 5") {
		t.Error("how many boards are bought is told")
	}
}

func TestALessonNeverAsksWhetherSomethingHoldsThatDoesNot(t *testing.T) {
	p := planOf(t, strings.Replace(examples.PlayTable(), "leg: 54 mm", "leg: 30 mm", 1))
	words := plainText(Lesson(p, A4Room))
	for _, c := range p.Chapters {
		if c.Word == "does not hold" && strings.Count(words, upperFirst(c.Answer)) < 2 {
			t.Errorf("%s: %q is not told on the cover and in its chapter", c.ID, c.Answer)
		}
	}
}
