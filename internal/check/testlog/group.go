package testlog

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"

	"longgrain/internal/design/joint"
	"longgrain/internal/ground/unit"
)

// group is the tests that are taken together, in the order of the log.
type group struct {
	name     string
	tests    []Test
	quantity Quantity
}

// gather sorts tests into groups in the order in which they first appear. Tests with a name of a group
// belong together; others when joint, number of pins, wood, glue, direction, sizes and span are alike. The lever need not
// be, since the moment takes it in.
func gather(tests []Test) []group {
	var out []group
	place := map[string]int{}
	kinds := kindMemory{}
	for _, t := range tests {
		name, origin := t.Group, "named "
		if name == "" {
			name, origin = description(t, kinds), "alike "
		}
		key := origin + strings.ToLower(name)
		i, there := place[key]
		if !there {
			i = len(out)
			place[key] = i
			out = append(out, group{name: t.Group})
		}
		out[i].tests = append(out[i].tests, t)
	}
	nameGroups(out, kinds)
	for i := range out {
		out[i].quantity = quantityOf(out[i].tests)
	}
	return out
}

// nameGroups names the groups of tests alike by what they are, and those that would have one name also by the sizes in
// which they differ: "dowels, eastern white pine, spacing 50 mm".
func nameGroups(groups []group, kinds kindMemory) {
	same := map[string][]int{}
	for i, g := range groups {
		if g.name == "" {
			short := strings.Join(what(g.tests[0], kinds), ", ")
			same[short] = append(same[short], i)
		}
	}
	for short, members := range same {
		seen := map[string]map[string]int{} // of each size, how often it is what in these groups
		for _, i := range members {
			for name, text := range allSizes(groups[i].tests[0]) {
				if seen[name] == nil {
					seen[name] = map[string]int{}
				}
				seen[name][text]++
			}
		}
		for _, i := range members {
			parts := []string{short}
			mine := allSizes(groups[i].tests[0])
			for _, name := range slices.Sorted(maps.Keys(mine)) {
				if seen[name][mine[name]] < len(members) {
					parts = append(parts, name+" "+mine[name])
				}
			}
			if len(parts) == 1 && len(members) > 1 {
				parts = append(parts, "no sizes noted")
			}
			groups[i].name = strings.Join(parts, ", ")
		}
	}
}

// kindMemory keeps the kinds that words stand for.
type kindMemory map[string]joint.Kind

func (m kindMemory) of(words string) joint.Kind {
	kind, ok := m[words]
	if !ok {
		kind = KindOf(words)
		m[words] = kind
	}
	return kind
}

// what says what a test is of, without its sizes: "2 dowels, pine, PVA, open".
func what(t Test, kinds kindMemory) []string {
	kind := string(kinds.of(t.Joint))
	if t.Count > 0 {
		kind = fmt.Sprintf("%d × %s", t.Count, kind)
	}
	return slices.DeleteFunc([]string{kind, t.Species, t.Glue, t.Direction}, func(s string) bool { return s == "" })
}

// allSizes returns the sizes and the span of a test in millimetres, so that 3/8 in and 9.525 mm are one.
func allSizes(t Test) map[string]string {
	out := map[string]string{}
	for name, v := range t.Sizes {
		out[name] = millimetres(v)
	}
	if t.Span != nil {
		out["span"] = millimetres(*t.Span)
	}
	return out
}

// description names everything that a test has in common with others of its group.
func description(t Test, kinds kindMemory) string {
	parts := what(t, kinds)
	sizes := allSizes(t)
	for _, name := range slices.Sorted(maps.Keys(sizes)) {
		parts = append(parts, name+" "+sizes[name])
	}
	return strings.Join(parts, ", ")
}

func millimetres(v Typed) string {
	// whole nanometres, so that one length typed in two units gives one text
	return strconv.FormatFloat(unit.MM(v.SI*1000).MM(), 'f', -1, 64) + " mm"
}

// quantityOf returns what a group is judged by: the moment when every test has its lever, else the load.
func quantityOf(tests []Test) Quantity {
	if slices.ContainsFunc(tests, func(t Test) bool { return !t.bends() }) {
		return load
	}
	return moment
}

// mixed warns of what a named group has thrown together.
func (g group) mixed() []string {
	var out []string
	differ := func(what string, of func(Test) string) {
		first := of(g.tests[0])
		if i := slices.IndexFunc(g.tests, func(t Test) bool { return of(t) != first }); i >= 0 {
			out = append(out, fmt.Sprintf("The group mixes %s: %s and %s.", what, named(first), named(of(g.tests[i]))))
		}
	}
	kinds := kindMemory{}
	differ("kinds of joint", func(t Test) string { return string(kinds.of(t.Joint)) })
	differ("woods", func(t Test) string { return strings.ToLower(t.Species) })
	differ("glues", func(t Test) string { return strings.ToLower(t.Glue) })
	differ("directions", func(t Test) string { return strings.ToLower(t.Direction) })
	if g.quantity == load {
		differ("levers, and not every test has one, so that loads are compared", func(t Test) string {
			if t.Lever == nil {
				return ""
			}
			return millimetres(*t.Lever)
		})
	}
	return out
}

func named(s string) string {
	if s == "" {
		return "none noted"
	}
	return s
}

// figures prints a value with three significant figures, as exact as a shop's rig.
func figures(v float64) string {
	if v == 0 || math.IsNaN(v) || math.IsInf(v, 0) {
		return strconv.FormatFloat(v, 'f', -1, 64)
	}
	power := math.Pow(10, 2-math.Floor(math.Log10(math.Abs(v))))
	return strconv.FormatFloat(math.Round(v*power)/power, 'f', -1, 64)
}

func percent(v float64) string { return strconv.Itoa(int(math.Round(100*v))) + " %" }

// count prints a number of things, with the plural that adds an s.
func count(n int, thing string) string {
	if n == 1 {
		return "1 " + thing
	}
	return strconv.Itoa(n) + " " + thing + "s"
}
