package piece

import (
	"strings"
	"testing"
)

func TestEditsAreWrittenIntoTheTextAndCommentsStay(t *testing.T) {
	const text = "longgrain: 1\nname: A\npattern: leg-and-apron-table # ours\nchanges:\n  # the oak rail\n  - {part: apron front, thickness: 20 mm} # thicker\n"
	for name, c := range map[string]struct {
		edit     Edit
		old, new string
	}{
		"a new change": {Edit{In: "changes", Index: -1, Set: map[string]any{"species": "northern red oak", "part": "top"}}, "# thicker\n", "# thicker\n  - {part: top, species: northern red oak}\n"},
		"one more key": {Edit{In: "changes", Index: 0, Set: map[string]any{"out": true}, Unset: []string{"thickness"}}, "thickness: 20 mm", "out: yes"},
		"taken out":    {Edit{In: "changes", Index: 0, Remove: true}, "changes:\n  # the oak rail\n  - {part: apron front, thickness: 20 mm} # thicker\n", ""},
		"a joint": {Edit{In: "changes", Index: -1, Set: map[string]any{"between": []any{"a", "b"}, "joint": map[string]any{"kind": "twin tenons"}}},
			"# thicker\n", "# thicker\n  - {between: [a, b], joint: {kind: twin tenons}}\n"},
		"a dimension": {Edit{In: "dimensions", Set: map[string]any{"inner": "900 mm - 2 * leg", "leg": "45 mm"}}, "# thicker\n", "# thicker\ndimensions:\n  inner: 900 mm - 2 * leg\n  leg: 45 mm\n"},
		"the use":     {Edit{Set: map[string]any{"use": "table"}}, "# thicker\n", "# thicker\nuse: table\n"},
	} {
		got, ok := Apply([]byte(text), c.edit)
		if want := strings.Replace(text, c.old, c.new, 1); !ok || string(got) != want {
			t.Errorf("%s: %v\ngot\n%s\nwant\n%s", name, ok, got, want)
		}
	}
	for name, e := range map[string]Edit{
		"no such list": {In: "secrets", Index: -1, Set: map[string]any{"a": "b"}}, "no such item": {In: "changes", Index: 4, Remove: true},
		"nothing that can be written": {In: "changes", Index: 0, Set: map[string]any{"a": struct{}{}}},
	} {
		if got, ok := Apply([]byte(text), e); ok || string(got) != text {
			t.Errorf("%s: allowed", name)
		}
	}
}
