package web_test

import (
	"strings"
	"testing"

	"longgrain/examples"
	"longgrain/internal/web"
)

func TestAPartIsChangedInTheTextAndPlanned(t *testing.T) {
	s := toyLibrary(t)
	edited := answer[web.EditedText](t, s, "POST", "/api/edit", `{"text":`+playTable()+`,"sizes":{"length":"950 mm"},"edits":[
		{"in":"changes","index":-1,"set":{"part":"apron front","thickness":"26 mm"}},
		{"in":"changes","index":-1,"set":{"between":["apron front","leg front left"],"joint":{"kind":"mortise and tenon"}}}]}`, 200)
	want := strings.Replace(examples.PlayTable(), "length: 900 mm", "length: 950 mm", 1) +
		"changes:\n  - {part: apron front, thickness: 26 mm}\n  - {between: [apron front, leg front left], joint: {kind: mortise and tenon}}\n"
	if edited.Text != want {
		t.Fatalf("got\n%s", edited.Text)
	}
	a := answer[web.PlanAnswer](t, s, "POST", "/api/plan", `{"text":`+quoted(edited.Text)+`}`, 200)
	if len(a.Problems) > 0 || len(a.ByHand.Changed) != 2 || a.ByHand.Changed[0].Was != "23 mm" || len(a.ByHand.Parts) != len(a.Scene.Parts) {
		t.Fatalf("%v %+v", a.Problems, a.ByHand)
	}
	for i, part := range a.Scene.Parts {
		if (part.Name == "apron front") != (a.ByHand.Parts[i] == "changes[0]") {
			t.Errorf("%s comes from %s", part.Name, a.ByHand.Parts[i])
		}
	}
	tenons := 0
	for _, j := range a.ByHand.Joints {
		if j.Fixed && j.Kind == "mortise and tenon" && j.Between == [2]string{"apron front", "leg front left"} && len(j.Kinds) > 2 {
			tenons++
		}
	}
	if tenons != 1 {
		t.Errorf("%+v", a.ByHand.Joints)
	}
	words := answer[web.EditWords](t, s, "GET", "/api/edit/words", "", 200)
	if len(words.Species) < 10 || len(words.Roles) < 10 || len(words.Joints) < 10 || len(words.Builds) != 3 {
		t.Errorf("%+v", words)
	}
	refused(t, s, "POST", "/api/edit", `{"text":"a: b","edits":[{"in":"changes","index":3,"remove":true}]}`, 422, "change it under Text")
}
