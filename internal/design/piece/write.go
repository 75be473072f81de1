package piece

import (
	"slices"

	"longgrain/internal/ground/problem"
	"longgrain/internal/ground/strict"
)

// Edit is one change of the text of a piece file: keys that are written anew and taken out of a mapping, or an item of a list that is
// added or taken out.
type Edit struct {
	In     string         // the list or mapping: parts, dimensions, ...; empty for the file itself
	Index  int            // of the item of a list; -1 adds one
	Set    map[string]any // texts, numbers, yes and no, lists and mappings of these
	Unset  []string
	Remove bool // take the item out
}

// lists and mappings of the file that Apply can change.
var (
	lists    = []string{"parts", "connections", "repeats", "changes", "joints", "loads"}
	mappings = []string{"dimensions", "sizes", "wood"}
	keyOrder = []string{"name", "part", "parts", "between", "role", "length", "width", "thickness", "at", "along", "across"}
)

// Apply carries an edit out. What it does not touch stays as it is, comments included. False when the text does not allow it, such as a
// value over several lines: that must be changed by hand.
func Apply(text []byte, e Edit) ([]byte, bool) {
	var problems problem.List
	read := func(text []byte) strict.Value { return strict.Read("", text, &problems) }
	root := read(text)
	if !root.IsMap() {
		return text, false
	}
	switch {
	case slices.Contains(lists, e.In) && e.Remove:
		return strict.RemoveItem(text, root, e.In, e.Index)
	case slices.Contains(lists, e.In) && e.Index < 0:
		written, ok := strict.Flow(e.Set, keyOrder...)
		if !ok {
			return text, false
		}
		return strict.AddItem(text, root, e.In, written)
	}
	find := func(root strict.Value) strict.Value {
		switch {
		case e.In == "":
			return root
		case slices.Contains(mappings, e.In):
			return root.Under(e.In)
		}
		return root.Item(e.In, e.Index)
	}
	out := text
	for _, key := range sortedKeys(e.Set) {
		written, ok := strict.Flow(e.Set[key], keyOrder...)
		switch of := find(read(out)); {
		case !ok:
		case slices.Contains(mappings, e.In) && !root.Under(e.In).Here() && !of.IsMap():
			out, ok = strict.AddMapping(out, read(out), e.In, key, written)
		default:
			out, ok = strict.Set(out, of, key, written)
		}
		if !ok {
			return text, false
		}
	}
	for _, key := range e.Unset {
		of := find(read(out))
		if !of.Under(key).Here() {
			continue
		}
		ok := true
		if out, ok = strict.Unset(out, of, key); !ok && slices.Contains(mappings, e.In) {
			out, ok = strict.Unset(out, read(out), e.In) // the last one takes the mapping with it
		}
		if !ok {
			return text, false
		}
	}
	return out, true
}

// sortedKeys returns the keys in the order in which to write them.
func sortedKeys(set map[string]any) []string {
	var keys, rest []string
	for _, k := range keyOrder {
		if _, ok := set[k]; ok {
			keys = append(keys, k)
		}
	}
	for k := range set {
		if !slices.Contains(keys, k) {
			rest = append(rest, k)
		}
	}
	slices.Sort(rest)
	return append(keys, rest...)
}

// Written returns what the file says in its lists and mappings, as it stands: texts, lists and mappings of these.
func Written(text []byte) map[string]any {
	var problems problem.List
	root := strict.Read("", text, &problems)
	out := map[string]any{}
	for _, key := range slices.Concat(lists, mappings) {
		if v := root.Under(key); v.Here() {
			out[key] = v.Plain()
		}
	}
	return out
}
