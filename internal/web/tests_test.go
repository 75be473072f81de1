package web_test

import (
	"fmt"
	"strings"
	"testing"

	"longgrain/examples"
	"longgrain/internal/web"
	"longgrain/patterns"
)

// dowelTest is two dowels in a rail of 89 by 19 mm with every size that the book asks for.
const dowelTest = `{"joint":"dowels","species":"eastern white pine","count":2,"load":"%s","lever":"12 in","direction":"open","failure":"wood","tested":"%s",
	"sizes":{"rail width":"3 1/2 in","rail thickness":"19 mm","diameter":"8 mm","depth in rail":"20 mm","depth in leg":"20 mm","spacing":"2 in"}}`

func record(t *testing.T, s site, load, day string) web.JointTest {
	t.Helper()
	return answer[web.JointTest](t, s, "POST", "/api/tests", fmt.Sprintf(dowelTest, load, day), 201)
}

func TestATestIsKeptWithWhatTheBookGave(t *testing.T) {
	s := newSite(t)
	test := record(t, s, "100 lbf", "3 May")
	if test.Predicted == nil || test.Predicted.SI < 300 || test.Predicted.SI > 700 || !strings.HasSuffix(test.Predicted.Text, " N") {
		t.Fatalf("predicted %+v", test.Predicted)
	}
	bare := answer[web.JointTest](t, s, "POST", "/api/tests", `{"joint":"dowels","species":"pine","load":"45 kgf"}`, 201)
	if bare.Predicted != nil {
		t.Errorf("predicted %+v without sizes", bare.Predicted)
	}
	log := answer[[]web.LoggedTest](t, s, "GET", "/api/tests", "", 200)
	if len(log) != 2 || len(log[0].Lacks) != 0 || log[1].Number != 2 || !strings.Contains(strings.Join(log[1].Lacks, "; "), `a wood of the catalogue instead of "pine"`) {
		t.Errorf("the log is %+v", log)
	}
	// A correction has other sizes, so another prediction; the first one stays readable.
	path := "/api/tests/" + test.ID
	corrected := strings.Replace(fmt.Sprintf(dowelTest, "100 lbf", "3 May"), `"lever":"12 in"`, `"base":1,"lever":"6 in"`, 1)
	again := answer[web.JointTest](t, s, "POST", path+"/corrections", corrected, 201)
	if r := again.Predicted.SI / test.Predicted.SI; r < 1.999 || r > 2.001 {
		t.Errorf("half the lever gives %v times the load", r)
	}
	if versions := answer[[]web.JointTest](t, s, "GET", path+"/versions", "", 200); len(versions) != 2 || *versions[1].Predicted != *test.Predicted {
		t.Errorf("the versions are %+v", versions)
	}
}

func TestEveryFieldThatCannotBeReadIsNamedWithItsMend(t *testing.T) {
	s := newSite(t)
	w := s.ask("POST", "/api/tests", `{"joint":"dowels","species":"pine","load":"950","lever":"twelve","failure":"exploded","picture":"none","cure_hours":24}`)
	for _, want := range []string{`"location":"body.load"`, "has no unit; write for example 950 N", `"location":"body.lever"`, `"location":"body.failure"`, "nothing that gives way is called", `"location":"body.picture"`, "there is no such picture"} {
		if w.Code != 422 || !strings.Contains(w.Body.String(), want) {
			t.Errorf("status %d, no %s in %s", w.Code, want, w.Body)
		}
	}
}

func table(t *testing.T, s site, text string) web.ImportedTests {
	t.Helper()
	return answer[web.ImportedTests](t, s, "POST", "/api/tests/import", text, 200)
}

func TestATableIsImportedWholeOrNotAtAll(t *testing.T) {
	s := newSite(t)
	bad := table(t, s, "joint,species,load,lever\ndowels,pine,950 N,300 mm\ntenon,pine,212,12\n")
	if bad.Added != 0 || len(bad.Problems) != 2 || bad.Problems[0].At.Line != 3 || bad.Problems[0].At.Path != "load" {
		t.Errorf("answered %+v", bad)
	}
	if log := answer[[]web.LoggedTest](t, s, "GET", "/api/tests", "", 200); len(log) != 0 {
		t.Errorf("recorded %+v", log)
	}
	good := table(t, s, "joint;species;load;lever;note\ndowels;pine;950 N;300 mm;first\ntenon;pine;212 lbf;12 in;second\nbiscuit;pine;96 kgf;;third\n")
	if good.Added != 3 || len(good.Problems) != 0 {
		t.Errorf("answered %+v", good)
	}
	log := answer[[]web.LoggedTest](t, s, "GET", "/api/tests", "", 200)
	if len(log) != 3 || log[0].Note != "first" || log[2].Note != "third" || log[1].Load.Text != "212 lbf" {
		t.Errorf("the log is %+v", log)
	}
	csv := s.ask("GET", "/api/tests/log.csv", "")
	if csv.Code != 200 || !strings.Contains(csv.Body.String(), "212 lbf") || !strings.Contains(csv.Header().Get("Content-Disposition"), "test-log.csv") {
		t.Errorf("status %d: %s", csv.Code, csv.Body)
	}
	if again := table(t, newSite(t), csv.Body.String()); again.Added != 3 {
		t.Errorf("the exported table is read as %+v", again)
	}
	many := table(t, s, "joint,species,load\n"+strings.Repeat("dowels,pine,x\n", 150))
	if len(many.Problems) != 100 || many.More != 50 {
		t.Errorf("%d problems and %d more", len(many.Problems), many.More)
	}
	refused(t, s, "POST", "/api/tests/import", strings.Repeat("x", 17<<20), 413, "")
	refused(t, s, "POST", "/api/tests", `{"joint":"`+strings.Repeat("x", 3<<20)+`"}`, 413, "")
}

func TestTheReportHasGroupsSentencesAndADrawing(t *testing.T) {
	s := newSite(t)
	if r := answer[web.TestReport](t, s, "GET", "/api/tests/report", "", 200); r.Tests != 0 || len(r.Notes) != 1 || len(r.Charts) != 0 {
		t.Errorf("an empty log says %+v", r)
	}
	for i, load := range []string{"100 lbf", "46 kgf", "430 N", "0.45 kN"} {
		record(t, s, load, fmt.Sprintf("day %d", i/2))
	}
	r := answer[web.TestReport](t, s, "GET", "/api/tests/report", "", 200)
	if r.Tests != 4 || len(r.Groups) != 1 || r.Groups[0].Tests != 4 || r.Groups[0].Lower5 == nil || *r.Groups[0].Mean < 130 || *r.Groups[0].Mean > 140 {
		t.Errorf("the report is %+v", r)
	}
	if len(r.Book) != 1 || !strings.Contains(r.Book[0].Sentence, "by 4 tests in 2 batches") || len(r.Charts) != 1 || !strings.HasPrefix(r.Charts[0].SVG, "<svg") {
		t.Errorf("the report is %+v", r)
	}
	form := answer[web.TestForm](t, s, "GET", "/api/tests/form", "", 200)
	if len(form.Kinds) < 4 || len(form.Species) < 20 || len(form.Failures) != 4 || len(form.Kinds[0].Sizes) < 3 {
		t.Errorf("the form asks for %+v", form)
	}
}

// The log belongs to the shop: a test recorded over the interface shifts the next plan, and a withdrawn one lets go again.
func TestATestShiftsThePlan(t *testing.T) {
	s := newSite(t, func(c *web.Config) { c.Planner, c.DefaultShop = web.NewPlans(patterns.All()), examples.Shop() })
	chapter := func() string {
		return answer[web.PlanAnswer](t, s, "POST", "/api/plan", `{"text":`+quoted(examples.PlayTable())+`,"chapter":"joints"}`, 200).Open.HTML
	}
	const own = "With your own test log"
	if strings.Contains(chapter(), own) {
		t.Error("a plan without tests speaks of them")
	}
	test := record(t, s, "100 lbf", "3 May")
	if !strings.Contains(chapter(), own) {
		t.Error("the test does not shift the plan")
	}
	withdrawn := strings.Replace(fmt.Sprintf(dowelTest, "100 lbf", "3 May"), `{"joint"`, `{"base":1,"withdrawn":true,"joint"`, 1)
	answer[web.JointTest](t, s, "POST", "/api/tests/"+test.ID+"/corrections", withdrawn, 201)
	if strings.Contains(chapter(), own) {
		t.Error("a withdrawn test still shifts the plan")
	}
}
