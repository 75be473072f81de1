package markout

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"longgrain/internal/design/assembly"
	"longgrain/internal/ground/unit"
)

// Setup is one setting of a fence with one tool, and everything that is cut with it before the fence
// is moved. Mates share a setting: the set-back between them is made once, by a spacer against the
// fence, and not by a second setting.
type Setup struct {
	Kind     assembly.FeatureKind `json:"kind"`
	Diameter unit.Length          `json:"diameter,omitempty"` // of a bore
	Width    unit.Length          `json:"width,omitempty"`    // of a mortise, slot, groove or rebate, square to the fence
	Tool     string               `json:"tool,omitempty"`
	Fence    unit.Length          `json:"fence"` // from the fence to the middle of the cut
	Uses     []Use                `json:"uses"`
}

// Use is a row of parts that pass a set-up without anything being changed.
type Use struct {
	Spacer unit.Length `json:"spacer"` // thickness of the strip laid between fence and part; 0 for none
	Stop   unit.Length `json:"stop"`   // depth stop
	Cuts   []Cuts      `json:"cuts"`
	Where  string      `json:"where"` // the same in words: "both ends of all four aprons"
}

// Cuts is one side of one part in a set-up.
type Cuts struct {
	Part    int           `json:"part"`
	Side    assembly.Side `json:"side"`
	Against string        `json:"against"` // reference that is laid against the fence or stick: "face", "edge" or "end"
	Number  int           `json:"number"`  // how many cuts
}

// fenced tells whether a cut is made against a fence that stands square to its Across.
func fenced(m Mark) bool {
	switch m.Kind {
	case assembly.Bore:
		return m.Tilt == 0
	case assembly.Mortise, assembly.Slot, assembly.Groove, assembly.Rebate:
		return true
	}
	return false
}

// setting is what must be equal for cuts to share a set-up, and use what for sharing a use of it.
type setting struct {
	kind            assembly.FeatureKind
	tool            string
	diameter, width unit.Length
	fence           unit.Length
}

type use struct {
	spacer, stop unit.Length
}

// findSetups groups the cuts of all parts by the settings they share.
func findSetups(a assembly.Assembly, m Markout) []Setup {
	strips := spacers(m)
	found := map[setting]map[use]tally{}
	for i, s := range m.Sheets {
		for k, mark := range s.Marks {
			if !fenced(mark) {
				continue
			}
			spacer := strips[Place{i, k}]
			key := setting{mark.Kind, mark.Tool, mark.Diameter, mark.Width, mark.Across + spacer}
			if mark.Kind == assembly.Bore {
				key.width = 0
			}
			u := use{spacer, mark.Stop}
			if found[key] == nil {
				found[key] = map[use]tally{}
			}
			if found[key][u] == nil {
				found[key][u] = tally{}
			}
			found[key][u][Cuts{Part: i, Side: mark.Side, Against: s.References.Role(mark.AcrossFrom)}]++
		}
	}
	var out []Setup
	for key, uses := range found {
		out = append(out, newSetup(a, key, uses))
	}
	slices.SortFunc(out, func(x, y Setup) int {
		return cmp.Or(comparePlace(x.first(), y.first()), cmp.Compare(x.Fence, y.Fence),
			cmp.Compare(x.Kind, y.Kind), cmp.Compare(x.Diameter, y.Diameter), cmp.Compare(x.Width, y.Width), cmp.Compare(x.Tool, y.Tool))
	})
	return out
}

// spacers returns the strip that a mark needs so that the fence can stay where it is for its mate.
// The fence stands where the part with the greater distance needs it, and the strip keeps the other
// part away from it.
func spacers(m Markout) map[Place]unit.Length {
	out := map[Place]unit.Length{}
	for _, mate := range m.Mates {
		d := mate.Directions[1]
		if d.BAlong || !d.Same {
			continue
		}
		if d.Set > 0 {
			out[mate.A] = d.Set
		} else if d.Set < 0 {
			out[mate.B] = -d.Set
		}
	}
	return out
}

// tally counts cuts by part and side; the number in its keys is not used.
type tally map[Cuts]int

// sorted returns the cuts in the order of parts and sides.
func (t tally) sorted() []Cuts {
	var out []Cuts
	for c, n := range t {
		c.Number = n
		out = append(out, c)
	}
	slices.SortFunc(out, comparePlace)
	return out
}

func comparePlace(x, y Cuts) int {
	return cmp.Or(cmp.Compare(x.Part, y.Part), cmp.Compare(x.Side, y.Side), cmp.Compare(x.Against, y.Against))
}

// first returns the first part and side of a set-up in the order of the assembly.
func (s Setup) first() Cuts {
	out := s.Uses[0].Cuts[0]
	for _, u := range s.Uses[1:] {
		if comparePlace(u.Cuts[0], out) < 0 {
			out = u.Cuts[0]
		}
	}
	return out
}

func newSetup(a assembly.Assembly, key setting, uses map[use]tally) Setup {
	s := Setup{Kind: key.kind, Diameter: key.diameter, Width: key.width, Tool: key.tool, Fence: key.fence}
	for u, cuts := range uses {
		row := Use{Spacer: u.spacer, Stop: u.stop, Cuts: cuts.sorted()}
		row.Where = where(a, row.Cuts)
		s.Uses = append(s.Uses, row)
	}
	slices.SortFunc(s.Uses, func(x, y Use) int {
		return cmp.Or(cmp.Compare(x.Spacer, y.Spacer), comparePlace(x.Cuts[0], y.Cuts[0]), cmp.Compare(x.Stop, y.Stop))
	})
	return s
}

// where says in words which sides of which parts are meant.
func where(a assembly.Assembly, cuts []Cuts) string {
	parts, sides, ends := []int{}, map[int]int{}, true
	for _, c := range cuts {
		if sides[c.Part] == 0 {
			parts = append(parts, c.Part)
		}
		sides[c.Part]++
		ends = ends && c.Side.IsEnd()
	}
	each := sides[parts[0]]
	for _, n := range sides {
		if n != each {
			each = 0
		}
	}
	who := partsInWords(a, parts)
	switch {
	case ends && each == 2:
		return "both ends of " + who
	case ends && each == 1:
		return "one end of " + who
	case each == 1 && len(parts) == 1:
		return SideName(a, parts[0], cuts[0].Side) + " of " + who
	case each == 1:
		return "one side of " + who
	case each == 2:
		return "two sides of " + who
	}
	return "the marked sides of " + who
}

// partsInWords names parts: "all four aprons" where they are all of a role, else by name.
func partsInWords(a assembly.Assembly, parts []int) string {
	if len(parts) > 1 {
		role := a.Parts[parts[0]].Role
		if slices.Equal(a.WithRole(role), parts) {
			return "all " + numberWord(len(parts)) + " " + plural(role)
		}
	}
	names := make([]string, len(parts))
	for i, p := range parts {
		names[i] = a.Parts[p].Name
	}
	return assembly.Describe(names)
}

func numberWord(n int) string {
	words := []string{"no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"}
	if n < len(words) {
		return words[n]
	}
	return fmt.Sprint(n)
}

func plural(role string) string {
	if stem, ok := strings.CutSuffix(role, "shelf"); ok {
		return stem + "shelves"
	}
	return role + "s"
}

// Sentence says what to set and what to cut with it.
func (s Setup) Sentence(f unit.Family) string {
	var b strings.Builder
	switch {
	case s.Kind == assembly.Bore:
		fmt.Fprintf(&b, "Bit %s, ", s.Diameter.Show(f))
	case s.Width > 0:
		fmt.Fprintf(&b, "%s %s wide, ", upperFirst(string(s.Kind)), s.Width.Show(f))
	}
	fmt.Fprintf(&b, "fence %s from the middle of the cut.", s.Fence.Show(f))
	for _, u := range s.Uses {
		where := u.Where
		switch {
		case u.Spacer > 0:
			fmt.Fprintf(&b, " With a strip of %s between fence and part: ", u.Spacer.Show(f))
		case len(s.Uses) > 1:
			b.WriteString(" Straight against the fence: ")
		default:
			b.WriteString(" ")
			where = upperFirst(where)
		}
		fmt.Fprintf(&b, "%s, stop at %s.", where, u.Stop.Show(f))
	}
	return b.String()
}

func upperFirst(s string) string { return strings.ToUpper(s[:1]) + s[1:] }
