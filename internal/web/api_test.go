package web_test

import (
	"encoding/json"
	"fmt"
	"net/http"
	"os"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"

	"longgrain/internal/web"
)

func TestAPieceIsSavedOpenedAndSavedAgain(t *testing.T) {
	s := newSite(t)
	saved := answer[web.SavedPiece](t, s, "POST", "/api/pieces", `{"text":"Step stool","note":"first"}`, 201)
	if saved.Name != "Step stool" || saved.Version != 1 || saved.ID == "" {
		t.Fatalf("saved as %+v", saved)
	}
	path := "/api/pieces/" + saved.ID
	again := answer[web.SavedPiece](t, s, "PUT", path, `{"text":"Step stool, higher","base":1}`, 200)
	if again.Version != 2 || again.Name != "Step stool, higher" {
		t.Errorf("saved again as %+v", again)
	}
	if got := answer[web.Piece](t, s, "GET", path, "", 200); got.Text != "Step stool, higher" || got.Version != 2 || got.Deleted != nil {
		t.Errorf("opened as %+v", got)
	}
	versions := answer[[]web.PieceVersion](t, s, "GET", path+"/versions", "", 200)
	if len(versions) != 2 || versions[0].Version != 2 || versions[1].Note != "first" {
		t.Errorf("versions are %+v", versions)
	}
	if got := answer[web.Piece](t, s, "GET", path+"/versions/1", "", 200); got.Text != "Step stool" {
		t.Errorf("version 1 opened as %+v", got)
	}
	refused(t, s, "GET", path+"/versions/3", "", 404, "nothing of that name")
	refused(t, s, "GET", path+"/versions/zero", "", 422, "path.n")
}

func TestASaveFromAnOldVersionIsAConflict(t *testing.T) {
	s := newSite(t)
	path := "/api/pieces/" + answer[web.SavedPiece](t, s, "POST", "/api/pieces", `{"text":"a"}`, 201).ID
	answer[web.SavedPiece](t, s, "PUT", path, `{"text":"b","base":1}`, 200)
	w := s.ask("PUT", path, `{"text":"c","base":1}`)
	var conflict struct{ Status, Current int }
	if err := json.Unmarshal(w.Body.Bytes(), &conflict); err != nil || w.Code != 409 || conflict.Current != 2 || conflict.Status != 409 {
		t.Errorf("status %d: %s", w.Code, w.Body)
	}
	if got := w.Header().Get("Content-Type"); got != "application/problem+json" {
		t.Errorf("the conflict comes as %s", got)
	}
	refused(t, s, "PUT", path, `{"text":"c","base":0}`, 422, "body.base")
	refused(t, s, "PUT", "/api/pieces/none", `{"text":"c","base":1}`, 404, "nothing of that name")
}

func TestADeletedPieceIsRestored(t *testing.T) {
	s := newSite(t)
	path := "/api/pieces/" + answer[web.SavedPiece](t, s, "POST", "/api/pieces", `{"text":"Toy chest"}`, 201).ID
	if w := s.ask("DELETE", path, ""); w.Code != 204 {
		t.Fatalf("status %d: %s", w.Code, w.Body)
	}
	shelf := answer[web.Shelf](t, s, "GET", "/api/shelf", "", 200)
	if len(shelf.Pieces) != 0 || len(shelf.Deleted) != 1 || shelf.Deleted[0].Name != "Toy chest" {
		t.Errorf("the shelf is %+v", shelf)
	}
	if got := answer[web.Piece](t, s, "GET", path, "", 200); got.Deleted == nil {
		t.Error("a deleted piece does not say so")
	}
	refused(t, s, "PUT", path, `{"text":"c","base":1}`, 410, "restore it first")
	if got := answer[web.Piece](t, s, "POST", path+"/restore", "", 200); got.Deleted != nil || got.Text != "Toy chest" {
		t.Errorf("restored as %+v", got)
	}
	refused(t, s, "DELETE", "/api/pieces/none", "", 404, "nothing of that name")
	refused(t, s, "POST", "/api/pieces/none/restore", "", 404, "nothing of that name")
}

func TestAPieceKeepsItsNameWhileItsTextCannotBeRead(t *testing.T) {
	s := newSite(t)
	if got := answer[web.SavedPiece](t, s, "POST", "/api/pieces", `{"text":"nameless"}`, 201); got.Name != "Unnamed piece" {
		t.Errorf("called %q", got.Name)
	}
	saved := answer[web.SavedPiece](t, s, "POST", "/api/pieces", `{"text":"Book ledge"}`, 201)
	if got := answer[web.SavedPiece](t, s, "PUT", "/api/pieces/"+saved.ID, `{"text":"bad","base":1}`, 200); got.Name != "Book ledge" {
		t.Errorf("called %q", got.Name)
	}
	refused(t, s, "PUT", "/api/pieces/none", `{"text":"bad","base":1}`, 404, "nothing of that name")
}

func TestTheShelfShowsAVerdictForEveryPiece(t *testing.T) {
	s := newSite(t)
	for _, text := range []string{"Play table", badText, failingText, panicText} {
		answer[web.SavedPiece](t, s, "POST", "/api/pieces", `{"text":`+quoted(text)+`}`, 201)
	}
	words := map[string]web.Verdict{}
	for _, p := range answer[web.Shelf](t, s, "GET", "/api/shelf", "", 200).Pieces {
		words[p.Name] = p.Verdict
	}
	if got := words["Play table"]; got != (web.Verdict{Word: web.Holds, Answer: "holds in the shop class shop"}) {
		t.Errorf("the table: %+v", got)
	}
	if got := words["Unnamed piece"]; got.Word != web.CannotBePlanned || !strings.Contains(got.Answer, "has no unit") {
		t.Errorf("the piece with a problem: %+v", got)
	}
	for _, name := range []string{failingText, panicText} {
		if got := words[name]; got.Word != web.CannotBePlanned || strings.Contains(got.Answer, "secret") {
			t.Errorf("%s: %+v", name, got)
		}
	}
}

func TestTheShelfPlansAPieceOnce(t *testing.T) {
	s := newSite(t)
	answer[web.SavedPiece](t, s, "POST", "/api/pieces", `{"text":"Play table"}`, 201)
	stool := answer[web.SavedPiece](t, s, "POST", "/api/pieces", `{"text":"Step stool"}`, 201)
	plans := func() int32 {
		before := s.planner.plans.Load()
		for _, p := range answer[web.Shelf](t, s, "GET", "/api/shelf", "", 200).Pieces {
			if w := s.ask("GET", p.Picture, ""); w.Code != 200 || w.Body.String() != "<svg>"+p.Name+"</svg>" {
				t.Errorf("picture %s: status %d: %s", p.Picture, w.Code, w.Body)
			}
		}
		return s.planner.plans.Load() - before
	}
	if first, second := plans(), plans(); first != 2 || second != 0 {
		t.Errorf("the shelf planned %d pieces, then %d", first, second)
	}
	if n := s.planner.pictures.Load(); n != 2 {
		t.Errorf("%d pictures were drawn", n)
	}
	answer[web.SavedPiece](t, s, "PUT", "/api/pieces/"+stool.ID, `{"text":"Step stool, higher","base":1}`, 200)
	if n := plans(); n != 1 {
		t.Errorf("after a change the shelf planned %d pieces", n)
	}
	answer[web.Shop](t, s, "PUT", "/api/shop", `{"text":"new shop","base":0}`, 200)
	if n := plans(); n != 2 {
		t.Errorf("after a change of the shop the shelf planned %d pieces", n)
	}
}

func TestTheShopIsTheGivenOneUntilSaved(t *testing.T) {
	s := newSite(t)
	if got := answer[web.Shop](t, s, "GET", "/api/shop", "", 200); got.Text != "class shop" || got.Version != 0 || got.Saved != nil {
		t.Errorf("the shop is %+v", got)
	}
	if got := answer[web.Shop](t, s, "PUT", "/api/shop", `{"text":"bad","base":0}`, 200); got.Version != 1 || len(got.Problems) != 1 {
		t.Errorf("saved as %+v", got)
	}
	refused(t, s, "PUT", "/api/shop", `{"text":"another","base":0}`, 409, `"current":1`)
	got := answer[web.PlanAnswer](t, s, "POST", "/api/plan", `{"text":"Step stool"}`, 200)
	if got.Verdict.Answer != "holds in the shop bad" {
		t.Errorf("planned with another shop: %+v", got.Verdict)
	}
}

func TestAPlanComesWithSizesPutInAndTheChapterAskedFor(t *testing.T) {
	s := newSite(t)
	got := answer[web.PlanAnswer](t, s, "POST", "/api/plan", `{"text":"Step stool","sizes":{"height":"9 in"},"chapter":"joints"}`, 200)
	if got.Text != "Step stool 9 in" || got.Open == nil || got.Open.ID != "joints" || got.Scene.Parts[0].Size != (web.Point{300, 200, 18}) {
		t.Errorf("got %+v", got)
	}
	raw := s.ask("POST", "/api/plan", `{"text":"Step stool"}`).Body.String()
	for _, list := range []string{`"problems":[]`, `"chapters":[]`, `"sizes":[]`, `"features":[]`} {
		if !strings.Contains(raw, list) {
			t.Errorf("an empty list is not %s in %s", list, raw)
		}
	}
}

func TestTheForcesOfAPartAreAsked(t *testing.T) {
	got := answer[web.ForcesAnswer](t, newSite(t), "POST", "/api/forces", `{"text":"Step stool","part":"A1","case":"a push"}`, 200)
	if got.Part != "A1" || got.Case != "a push" || !strings.HasPrefix(got.Words, "Step stool in the shop ") || got.Curves == nil || got.Cases == nil {
		t.Errorf("got %+v", got)
	}
}

func TestTheChangesThatMendAPieceAreListed(t *testing.T) {
	got := answer[web.MendAnswer](t, newSite(t), "POST", "/api/mends", `{"text":"Step stool"}`, 200)
	if len(got.Mends) != 1 || got.Mends[0].Change != "thicker Step stool" || got.Mends[0].Sizes["leg"] != "60 mm" {
		t.Errorf("%+v", got)
	}
}

func TestWrongInputIsAnAnswer(t *testing.T) {
	got := answer[web.PlanAnswer](t, newSite(t), "POST", "/api/plan", `{"text":"bad"}`, 200)
	if len(got.Problems) != 1 || got.Problems[0].At.Line != 3 || got.Verdict != nil || got.Scene != nil {
		t.Errorf("got %+v", got)
	}
}

func TestAFailureOfThePlannerIsNotToldInDetail(t *testing.T) {
	s := newSite(t)
	for _, text := range []string{failingText, panicText} {
		w := s.ask("POST", "/api/plan", `{"text":`+quoted(text)+`}`)
		if body := w.Body.String(); w.Code != 500 || strings.Contains(body, "secret") || strings.Contains(body, "wood") {
			t.Errorf("%s: status %d: %s", text, w.Code, body)
		}
	}
	answer[web.PlanAnswer](t, s, "POST", "/api/plan", `{"text":"Step stool"}`, 200) // and the server goes on
}

func TestFilesAreDownloadedUnderTheNameOfThePiece(t *testing.T) {
	s := newSite(t)
	path := "/api/pieces/" + answer[web.SavedPiece](t, s, "POST", "/api/pieces", `{"text":"Ada's \"Step\" stool\r\n"}`, 201).ID
	cases := []struct{ path, contentType, disposition, body string }{
		{"/workbook.pdf", "application/pdf", `attachment; filename="ada-s-step-stool.pdf"`, "%PDF a4"},
		{"/workbook.pdf?paper=letter", "application/pdf", `attachment; filename="ada-s-step-stool.pdf"`, "%PDF letter"},
		{"/workbook.pdf?chapters=timber,marking", "application/pdf", `attachment; filename="ada-s-step-stool-timber-marking.pdf"`, "%PDF a4 timber marking"},
		{"/workbook.pdf?chapters=glueups&lesson=true", "application/pdf", `attachment; filename="ada-s-step-stool-glueups-lesson.pdf"`, "%PDF a4 glueups lesson"},
		{"/labels.pdf", "application/pdf", `attachment; filename="ada-s-step-stool-labels.pdf"`, "%PDF labels a4 "},
		{"/labels.pdf?paper=letter&version=1&at=http%3A%2F%2Fworkshop%3A7474", "application/pdf", `attachment; filename="ada-s-step-stool-labels.pdf"`, "%PDF labels letter http://workshop:7474/cards" + strings.TrimPrefix(path, "/api/pieces")},
		{"/export/cutlist.csv", "text/csv", `attachment; filename="ada-s-step-stool-cutlist.csv"`, "part,length\n"},
		{"/export/cutlist.csv?version=1", "text/csv", `attachment; filename="ada-s-step-stool-cutlist.csv"`, "part,length\n"},
	}
	for _, c := range cases {
		w := s.ask("GET", path+c.path, "")
		if w.Code != 200 || w.Header().Get("Content-Type") != c.contentType ||
			w.Header().Get("Content-Disposition") != c.disposition || w.Body.String() != c.body {
			t.Errorf("%s: status %d, %v: %s", c.path, w.Code, w.Header(), w.Body)
		}
	}
	refused(t, s, "GET", path+"/workbook.pdf?paper=a3", "", 422, "query.paper")
	refused(t, s, "GET", path+"/workbook.pdf?chapters=timber,nonsense", "", 422, "query.chapters")
	refused(t, s, "GET", path+"/export/everything.zip", "", 404, "no such export")
	refused(t, s, "GET", path+"/export/cutlist.csv?version=9", "", 404, "nothing of that name")
	refused(t, s, "GET", "/api/pieces/none/workbook.pdf", "", 404, "nothing of that name")
	bad := answer[web.SavedPiece](t, s, "POST", "/api/pieces", `{"text":"bad"}`, 201)
	refused(t, s, "GET", "/api/pieces/"+bad.ID+"/workbook.pdf", "", 422, "has no unit")
}

func TestAnSVGCanDoNothingInABrowser(t *testing.T) {
	s := newSite(t)
	id := answer[web.SavedPiece](t, s, "POST", "/api/pieces", `{"text":"<script>alert(1)</script>"}`, 201).ID
	w := s.ask("GET", "/api/pieces/"+id+"/picture.svg", "")
	if policy := w.Header().Get("Content-Security-Policy"); !strings.Contains(policy, "sandbox") || strings.Contains(policy, "'self'") {
		t.Errorf("the policy is %q", policy)
	}
	if disposition, sent := w.Header()["Content-Disposition"]; sent {
		t.Errorf("the picture comes as %q", disposition)
	}
}

func TestPatternsAreListedWithTheirSource(t *testing.T) {
	s := newSite(t)
	patterns := answer[[]web.PatternInfo](t, s, "GET", "/api/patterns", "", 200)
	if len(patterns) != 1 || patterns[0].Sizes[0].Default != "225 mm" {
		t.Errorf("patterns are %+v", patterns)
	}
	if w := s.ask("GET", "/api/patterns/step-stool/source", ""); w.Code != 200 || w.Body.String() != "def parts(): pass\n" {
		t.Errorf("status %d: %s", w.Code, w.Body)
	}
	refused(t, s, "GET", "/api/patterns/none/source", "", 404, "nothing of that name")
}

func TestTestsAreRecordedAsTypedAndInSI(t *testing.T) {
	s := newSite(t)
	test := answer[web.JointTest](t, s, "POST", "/api/tests", `{"joint":"dowel","species":"pine","density":430,"load":"212 lbf",
		"lever":"12 in","span":"600 mm","sizes":{"diameter":"3/8 in"},"failure":"wood","note":"rail split"}`, 201)
	// 212 lbf at 4.4482216152605 N each, exact by definition.
	if test.Load.Text != "212 lbf" || fmt.Sprintf("%.5f", test.Load.SI) != "943.02298" {
		t.Errorf("the load is %+v", test.Load)
	}
	if test.Version != 1 || *test.Lever != (web.Typed{Text: "12 in", SI: 0.3048}) || test.Sizes["diameter"].SI != 0.009525 || test.Span.SI != 0.6 {
		t.Errorf("recorded as %+v", test)
	}
	path := "/api/tests/" + test.ID
	corrected := answer[web.JointTest](t, s, "POST", path+"/corrections", `{"base":1,"joint":"dowel","species":"pine","load":"1.2 kN"}`, 201)
	if corrected.Version != 2 || corrected.Load.SI != 1200 || corrected.Lever != nil {
		t.Errorf("corrected to %+v", corrected)
	}
	refused(t, s, "POST", path+"/corrections", `{"base":1,"joint":"dowel","species":"pine","load":"1 kN"}`, 409, `"current":2`)
	if all := answer[[]web.JointTest](t, s, "GET", "/api/tests", "", 200); len(all) != 1 || all[0].Version != 2 {
		t.Errorf("the log is %+v", all)
	}
	if all := answer[[]web.JointTest](t, s, "GET", path+"/versions", "", 200); len(all) != 2 || all[1].Load.Text != "212 lbf" {
		t.Errorf("the versions are %+v", all)
	}
	refused(t, s, "GET", "/api/tests/none/versions", "", 404, "nothing of that name")
	refused(t, s, "POST", "/api/tests/none/corrections", `{"base":1,"joint":"dowel","species":"pine","load":"1 kN"}`, 404, "nothing")
}

func TestEveryUnreadableValueOfATestIsNamed(t *testing.T) {
	s := newSite(t)
	for load, names := range map[string]string{
		"212": "no unit", "": "is empty", "N": "not a number", "-5 N": "not between", "0 N": "not between", "NaN N": "not between",
		"Inf kN": "not between", "1e9 N": "not between", "5 stone": "unknown unit stone", "5 \u00b5N": "not a number",
	} {
		w := s.ask("POST", "/api/tests", `{"joint":"dowel","species":"pine","load":`+quoted(load)+`,"lever":"12","sizes":{"width":"-3 mm"}}`)
		for _, want := range []string{names, "body.load", "body.lever", "body.sizes.width"} {
			if w.Code != 422 || !strings.Contains(w.Body.String(), want) {
				t.Errorf("load %q: status %d, no %q in %s", load, w.Code, want, w.Body)
			}
		}
	}
	refused(t, s, "POST", "/api/tests", `{"joint":"","species":"pine","load":"5 N"}`, 422, "body.joint")
}

func TestPicturesAreKeptByWhatTheyAre(t *testing.T) {
	s := newSite(t)
	png := "\x89PNG\r\n\x1a\n and so on"
	send := request("POST", "/api/pictures", png)
	send.Header.Set("Content-Type", "text/html")
	w := s.send(send)
	var kept web.KeptPicture
	if err := json.Unmarshal(w.Body.Bytes(), &kept); err != nil || w.Code != 201 {
		t.Fatalf("status %d: %s", w.Code, w.Body)
	}
	got := s.ask("GET", "/api/pictures/"+kept.ID, "")
	if got.Code != 200 || got.Header().Get("Content-Type") != "image/png" || got.Body.String() != png {
		t.Errorf("status %d as %s: %q", got.Code, got.Header().Get("Content-Type"), got.Body)
	}
	refused(t, s, "POST", "/api/pictures", `<svg xmlns="http://www.w3.org/2000/svg"><script/></svg>`, 415, "JPEG, PNG or WebP")
	refused(t, s, "GET", "/api/pictures/none", "", 404, "nothing of that name")
}

func TestManyMaySaveAtOnce(t *testing.T) {
	s := newSite(t)
	path := "/api/pieces/" + answer[web.SavedPiece](t, s, "POST", "/api/pieces", `{"text":"start"}`, 201).ID
	var group sync.WaitGroup
	codes := make([]int, 8)
	for n := range codes {
		group.Go(func() {
			codes[n] = s.ask("PUT", path, fmt.Sprintf(`{"text":"by %d","base":1}`, n)).Code
			s.ask("GET", "/api/shelf", "")
		})
	}
	group.Wait()
	slices.Sort(codes)
	if want := []int{200, 409, 409, 409, 409, 409, 409, 409}; !slices.Equal(codes, want) {
		t.Errorf("statuses are %v", codes)
	}
}

func TestTheDescriptionNamesNoHostAndIsStable(t *testing.T) {
	first := newSite(t).ask("GET", "/openapi.json", "").Body.String()
	if strings.Contains(first, "$schema") || strings.Contains(first, "localhost") || strings.Contains(first, "https://example.com/openapi") {
		t.Error("the description has a host or a $schema")
	}
	if second := newSite(t).ask("GET", "/openapi.json", "").Body.String(); first != second {
		t.Error("the description differs between two servers")
	}
	if body := newSite(t).ask("GET", "/api/patterns", "").Body.String(); strings.Contains(body, "$schema") {
		t.Error("answers have a $schema")
	}
}

// TestEveryEndpointIsInTheGuide compares docs/api.md with the description.
func TestEveryEndpointIsInTheGuide(t *testing.T) {
	guide, err := os.ReadFile("../../docs/api.md")
	if err != nil {
		t.Fatal(err)
	}
	var described []string
	description := answer[struct {
		Paths map[string]map[string]any
	}](t, newSite(t), "GET", "/openapi.json", "", 200)
	for path, methods := range description.Paths {
		for method := range methods {
			described = append(described, strings.ToUpper(method)+" "+path)
		}
	}
	var guided []string
	for _, found := range regexp.MustCompile("(?m)^\\| `([A-Z]+ /api/[^`]*)` \\|").FindAllStringSubmatch(string(guide), -1) {
		guided = append(guided, found[1])
	}
	slices.Sort(described)
	slices.Sort(guided)
	if !slices.Equal(described, guided) {
		t.Errorf("described:\n%s\nin the guide:\n%s", strings.Join(described, "\n"), strings.Join(guided, "\n"))
	}
}

// FuzzPlanBody sends anything as the body of a plan: the server answers, never with a failure.
func FuzzPlanBody(f *testing.F) {
	for _, seed := range []string{`{"text":"a"}`, `{"text":"bad","sizes":{"height":"9 in"}}`, `{"text":1}`, `{`, `null`, `[]`,
		`{"text":"\ud800","sizes":null}`, `{"text":"a","more":1}`, "", strings.Repeat("[", 2000)} {
		f.Add(seed)
	}
	fuzzBody(f, "/api/plan")
}

// FuzzTestBody does the same with the record of a joint test.
func FuzzTestBody(f *testing.F) {
	for _, load := range []string{"212 lbf", "1.2 kN", "", "N", "1e400 N", "0x1p4 kg"} {
		f.Add(`{"joint":"dowel","species":"pine","load":` + quoted(load) + `,"lever":"1' 2 1/2\"","sizes":{"a":"3 mm"}}`)
	}
	fuzzBody(f, "/api/tests")
}

func fuzzBody(f *testing.F, path string) {
	s := newSite(f)
	f.Fuzz(func(t *testing.T, text string) {
		if strings.Contains(text, failingText) || strings.Contains(text, panicText) {
			t.Skip("the fake planner fails on purpose")
		}
		w := s.ask("POST", path, text)
		if w.Code >= http.StatusInternalServerError || !json.Valid(w.Body.Bytes()) {
			t.Errorf("%q: status %d: %s", text, w.Code, w.Body)
		}
	})
}
