package strict

import (
	"strings"
	"testing"

	"longgrain/internal/ground/problem"
)

const itemText = `name: A # the name
parts: # all of them
  # the first
  - {name: rail, at: [1 mm, 2 mm, 3"], note: "a, b} c"} # beside the rail
  - name: post
    width: 5 mm   # a width
    height: 9 mm
flow: [a, b, c]
empty: {}
none:
`

func root(t *testing.T, text []byte) Value {
	t.Helper()
	var problems problem.List
	r := Read("t", text, &problems)
	if len(problems) > 0 {
		t.Fatalf("%v in\n%s", problems, text)
	}
	return r
}

func TestItemsAreWrittenIntoTheTextAndNothingElseChanges(t *testing.T) {
	type edit func(text []byte, r Value) ([]byte, bool)
	for name, c := range map[string]struct {
		do       edit
		old, new string
	}{
		"a key of a flow item":     {func(x []byte, r Value) ([]byte, bool) { return Set(x, r.Item("parts", 0), "note", "b") }, `note: "a, b} c"}`, `note: b}`},
		"a list of a flow item":    {func(x []byte, r Value) ([]byte, bool) { return Set(x, r.Item("parts", 0), "at", "[0 mm]") }, `[1 mm, 2 mm, 3"]`, `[0 mm]`},
		"a new key of a flow item": {func(x []byte, r Value) ([]byte, bool) { return Set(x, r.Item("parts", 0), "out", "yes") }, `"a, b} c"}`, `"a, b} c", out: yes}`},
		"a key of a block item":    {func(x []byte, r Value) ([]byte, bool) { return Set(x, r.Item("parts", 1), "width", "6 mm") }, "width: 5 mm", "width: 6 mm"},
		"a new key of a block item": {func(x []byte, r Value) ([]byte, bool) { return Set(x, r.Item("parts", 1), "out", "yes") },
			"    height: 9 mm\n", "    height: 9 mm\n    out: yes\n"},
		"a key out of a flow item":  {func(x []byte, r Value) ([]byte, bool) { return Unset(x, r.Item("parts", 0), "note") }, `, note: "a, b} c"`, ""},
		"first key of a flow item":  {func(x []byte, r Value) ([]byte, bool) { return Unset(x, r.Item("parts", 0), "name") }, `{name: rail, at`, "{at"},
		"a key out of a block item": {func(x []byte, r Value) ([]byte, bool) { return Unset(x, r.Item("parts", 1), "width") }, "    width: 5 mm   # a width\n", ""},
		"a new item":                {func(x []byte, r Value) ([]byte, bool) { return AddItem(x, r, "parts", "{name: x}") }, "    height: 9 mm\n", "    height: 9 mm\n  - {name: x}\n"},
		"an item of a flow list":    {func(x []byte, r Value) ([]byte, bool) { return AddItem(x, r, "flow", "d") }, "c]", "c, d]"},
		"a new list":                {func(x []byte, r Value) ([]byte, bool) { return AddItem(x, r, "more", "{a: b}") }, "none:\n", "none:\nmore:\n  - {a: b}\n"},
		"an item under a bare key":  {func(x []byte, r Value) ([]byte, bool) { return AddItem(x, r, "none", "{a: b}") }, "none:\n", "none:\n  - {a: b}\n"},
		"a value of a bare key":     {func(x []byte, r Value) ([]byte, bool) { return Set(x, r, "none", "x") }, "none:\n", "none: x\n"},
		"a key of an empty mapping": {func(x []byte, r Value) ([]byte, bool) { return Set(x, r.Under("empty"), "a", "x") }, "empty: {}", "empty: {a: x}"},
		"an item out":               {func(x []byte, r Value) ([]byte, bool) { return RemoveItem(x, r, "parts", 1) }, "  - name: post\n    width: 5 mm   # a width\n    height: 9 mm\n", ""},
		"the first item out": {func(x []byte, r Value) ([]byte, bool) { return RemoveItem(x, r, "parts", 0) },
			"  - {name: rail, at: [1 mm, 2 mm, 3\"], note: \"a, b} c\"} # beside the rail\n", ""},
		"an item out of a flow list": {func(x []byte, r Value) ([]byte, bool) { return RemoveItem(x, r, "flow", 2) }, ", c]", "]"},
	} {
		got, ok := c.do([]byte(itemText), root(t, []byte(itemText)))
		if want := strings.Replace(itemText, c.old, c.new, 1); !ok || string(got) != want {
			t.Errorf("%s: %v\ngot\n%s\nwant\n%s", name, ok, got, want)
		}
		root(t, got)
	}
	text := []byte("a:\n  - {b: c}\nd: e\n")
	if got, ok := RemoveItem(text, root(t, text), "a", 0); !ok || string(got) != "d: e\n" {
		t.Errorf("the last item: %v %q", ok, got)
	}
}

func TestFlowReadsBack(t *testing.T) {
	v := map[string]any{"name": "leg: 1", "at": []any{"0 mm", `3/4"`}, "out": true, "count": 3.0, "deep": map[string]any{"x": "a, b", "": "#"}}
	text, ok := Flow(v, "name", "at")
	if !ok || !strings.HasPrefix(text, "{name: 'leg: 1', at:") {
		t.Fatalf("%v %s", ok, text)
	}
	back := root(t, []byte("v: "+text+"\n")).Under("v").Plain().(map[string]any)
	if back["name"] != "leg: 1" || back["count"] != "3" || back["deep"].(map[string]any)["x"] != "a, b" || back["at"].([]any)[1] != `3/4"` {
		t.Errorf("%v", back)
	}
}

func FuzzItems(f *testing.F) {
	f.Add(itemText, "parts", 0, "x", "{a: b}")
	f.Fuzz(func(t *testing.T, text, key string, index int, name, value string) {
		var problems problem.List
		r := Read("t", []byte(text), &problems)
		if !r.Here() {
			return
		}
		written := Quoted(value)
		for _, do := range []func() ([]byte, bool){
			func() ([]byte, bool) { return Set([]byte(text), r.Item(key, index), name, written) },
			func() ([]byte, bool) { return Set([]byte(text), r, name, written) },
			func() ([]byte, bool) { return Unset([]byte(text), r.Item(key, index), name) },
			func() ([]byte, bool) { return AddItem([]byte(text), r, key, written) },
			func() ([]byte, bool) { return RemoveItem([]byte(text), r, key, index) },
		} {
			if out, ok := do(); ok && !Read("t", out, &problems).Here() {
				t.Fatalf("%q became unreadable: %q", text, out)
			}
		}
	})
}
