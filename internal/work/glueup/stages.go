package glueup

import (
	"fmt"
	"slices"
	"strings"

	"longgrain/internal/design/assembly"
	"longgrain/internal/ground/unit"
	"longgrain/internal/work/blank"
)

// mostStacked is how many laminations lie on each other in the same clamps. Judgement: three slide on wet glue.
const mostStacked = 2

func caul() unit.Length { return unit.MM(figure("caul").value) }

// laminations plans the glue-ups of a group of parts made of strips: each in clamps of its own where the clamps
// suffice for all at once, else two on each other with paper between, which takes no more clamps, else in sets. Where
// clamps and time suffice for more than one piece, as many copies as they allow go in together.
func (m *maker) laminations(g blank.Group, w blank.Way) {
	stacked, stacks := m.arrange(g.Parts, w, 1)
	if sets := deal(g.Parts, stacked*stacks); len(sets) > 1 {
		for k, set := range sets {
			up := m.lamination(set, w, 1, stacked)
			up.Set, up.Sets = k+1, len(sets)
			m.addParts(up)
		}
		return
	}
	together := 1
	for together < m.plan.Copies {
		k, q := m.arrange(g.Parts, w, together+1)
		if k*q < len(g.Parts)*(together+1) {
			break
		}
		together++
	}
	var numbers []int
	for _, runs := range alike(goes(m.plan.Copies, together)) {
		k, _ := m.arrange(g.Parts, w, len(runs[0]))
		up := m.lamination(g.Parts, w, len(runs[0]), k)
		up.Runs = runs
		numbers = append(numbers, m.add(up))
	}
	for _, p := range g.Parts {
		m.made[p] = numbers
	}
}

// goes splits copies into as few goes of at most most as possible, as even as possible, the smaller ones first.
func goes(copies, most int) [][]int {
	all := make([]int, copies)
	for i := range all {
		all[i] = i + 1
	}
	runs := deal(all, most)
	slices.SortStableFunc(runs, func(a, b []int) int { return len(a) - len(b) })
	return runs
}

// alike gathers goes that take equally many, which lie beside each other.
func alike(runs [][]int) [][][]int {
	var out [][][]int
	for _, r := range runs {
		if n := len(out); n > 0 && len(out[n-1][0]) == len(r) {
			out[n-1] = append(out[n-1], r)
			continue
		}
		out = append(out, [][]int{r})
	}
	return out
}

// arrange returns how many parts lie on each other and how many such stacks are clamped at once, of the parts of some
// copies.
func (m *maker) arrange(parts []int, w blank.Way, pieces int) (stacked, stacks int) {
	n, best := len(parts)*pieces, 0
	for k := 1; k <= min(n, mostStacked); k++ {
		for q := (n + k - 1) / k; q >= 1; q-- {
			up := m.someLaminations(parts, w, min(n, k*q), k)
			if !m.trial(&up) {
				continue
			}
			if k*q > best {
				best, stacked, stacks = k*q, k, q
			}
			break
		}
	}
	if best > 0 {
		return stacked, stacks
	}
	// The clamps do not suffice for one: a stack of two presses no worse and halves the number of sets.
	for k := min(n, mostStacked); k > 1; k-- {
		up := m.someLaminations(parts, w, k, k)
		m.trial(&up)
		if up.Closing <= up.Allowed && slices.ContainsFunc(up.Presses, func(p Press) bool { return p.Kind != "" }) {
			return k, 1
		}
	}
	return 1, 1
}

// someLaminations is a trial of so many laminations of a group, whichever they are.
func (m *maker) someLaminations(parts []int, w blank.Way, count, stacked int) GlueUp {
	if count <= len(parts) {
		return m.lamination(parts[:count], w, 1, stacked)
	}
	return m.lamination(parts, w, (count+len(parts)-1)/len(parts), stacked)
}

// trial works out a glue-up and tells whether clamps and time suffice, without reporting anything.
func (m *maker) trial(g *GlueUp) bool {
	quiet := *m
	quiet.plan.Findings = nil
	quiet.fit(g)
	return g.Enough && g.onTime()
}

// deal splits parts into as few sets of at most n as possible, as even as possible.
func deal(parts []int, n int) [][]int {
	sets := (len(parts) + n - 1) / n
	var out [][]int
	for k := range sets {
		out = append(out, parts[k*len(parts)/sets:(k+1)*len(parts)/sets])
	}
	return out
}

// lamination is the glue-up of parts made of strips, each of them so many times as there are pieces in the go.
func (m *maker) lamination(parts []int, w blank.Way, pieces, stacked int) GlueUp {
	up := GlueUp{Kind: Lamination, Parts: m.parts(parts), Set: 1, Sets: 1, Stacked: stacked}
	up.Name = "laminate " + m.marked(parts)
	count := len(parts) * pieces
	if pieces > 1 {
		up.Name += fmt.Sprintf(" of %d pieces", pieces)
	}
	up.Lines = count * (w.Pieces - 1)
	up.Area = unit.SquareMetres(up.Lines) * unit.Area(w.Length, w.Width)
	thick := w.Planed * unit.Length(w.Pieces)
	for k := 0; k < count; k += stacked {
		inStack := min(stacked, count-k)
		var in []int
		for i := k; i < k+inStack; i++ {
			if p := parts[i%len(parts)]; !slices.Contains(in, p) {
				in = append(in, p)
			}
		}
		where := "the strips of " + m.marked(in)
		if pieces > 1 {
			where += fmt.Sprintf(", piece %d", k/len(parts)+1)
		}
		up.Presses = append(up.Presses, Press{Where: where, Length: w.Length, Width: w.Width,
			Opening: thick*unit.Length(inStack) + 2*caul(), Reach: w.Width / 2, cover: w.Planed + caul()})
	}
	return up
}

// panels plans the glue-ups of a group of parts made of staves: whole where glue and clamps allow, else in groups of
// staves that are joined afterwards.
func (m *maker) panels(g blank.Group, w blank.Way) {
	for _, part := range g.Parts {
		groups := m.staveGroups(part, w)
		if len(groups) == 1 {
			m.addParts(m.panel(part, w, groups[0], 0))
			continue
		}
		var after []int
		for k, staves := range groups {
			if staves.count == 1 {
				continue
			}
			up := m.panel(part, w, staves, 0)
			up.Set, up.Sets = k+1, len(groups)
			after = append(after, m.add(up))
		}
		m.made[part] = after
		m.addParts(m.panel(part, w, run{1, w.Pieces}, len(groups)))
	}
}

// run is some staves beside each other, the first counted from 1.
type run struct{ first, count int }

// staveGroups splits the staves of a panel into the fewest groups that can be glued in time.
func (m *maker) staveGroups(part int, w blank.Way) []run {
	for n := 1; n <= w.Pieces; n++ {
		var groups []run
		for k := range n {
			first := k * w.Pieces / n
			groups = append(groups, run{first + 1, (k+1)*w.Pieces/n - first})
		}
		up := m.panel(part, w, groups[n-1], 0)
		m.trial(&up)
		joined := m.panel(part, w, run{1, w.Pieces}, n)
		m.trial(&joined)
		if up.onTime() && (n == 1 || joined.onTime()) {
			return groups
		}
	}
	return []run{{1, w.Pieces}}
}

// panel is the glue-up of some staves, or, with groups above 1, of so many groups of staves to the whole panel.
func (m *maker) panel(part int, w blank.Way, staves run, groups int) GlueUp {
	p := m.a.Parts[part]
	h := m.shop.Habits
	up := GlueUp{Kind: Panel, Parts: m.parts([]int{part}), Set: 1, Sets: 1, Lines: staves.count - 1}
	switch {
	case groups > 1:
		up.Lines = groups - 1
		up.Name = fmt.Sprintf("join the %d glued groups of staves of %s", groups, m.marked([]int{part}))
	case staves.count < w.Pieces:
		up.Name = fmt.Sprintf("glue staves %d to %d of %s", staves.first, staves.first+staves.count-1, m.marked([]int{part}))
	default:
		up.Name = fmt.Sprintf("glue the %d staves of %s", w.Pieces, m.marked([]int{part}))
	}
	thick := min(w.Stock, w.Planed+h.PanelAllowance)
	width := w.Width - h.GluedEdgeAllowance
	up.Area = unit.SquareMetres(up.Lines) * unit.Area(w.Length, thick)
	up.Presses = []Press{{Where: "the staves of " + p.Name, Length: w.Length, Width: thick, panel: true,
		Opening: width*unit.Length(staves.count) + 2*caul(), Reach: thick / 2, cover: width + caul()}}
	return up
}

func (m *maker) marked(parts []int) string { return Marked(m.a, parts) }

// Marked names parts of an assembly by their roles and marks: "legs A1 and A2, apron C1".
func Marked(a assembly.Assembly, parts []int) string {
	var roles []string
	marks := map[string][]string{}
	for _, k := range parts {
		role := a.Parts[k].Role
		if marks[role] == nil {
			roles = append(roles, role)
		}
		marks[role] = append(marks[role], a.Parts[k].Mark)
	}
	for i, role := range roles {
		roles[i] = plural(role, len(marks[role])) + " " + inWords(marks[role])
	}
	return strings.Join(roles, ", ")
}

// plural names parts by their role.
func plural(role string, n int) string {
	switch {
	case role == "other" && n == 1:
		return "part"
	case role == "other":
		return "parts"
	case n == 1:
		return role
	case role == "shelf":
		return "shelves"
	case role == "bench":
		return "benches"
	}
	return role + "s"
}

// inWords lists names: "A1, A2 and A3".
func inWords(names []string) string {
	if len(names) == 1 {
		return names[0]
	}
	return strings.Join(names[:len(names)-1], ", ") + " and " + names[len(names)-1]
}
