package glueup

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"longgrain/internal/ground/source"
	"longgrain/internal/ground/unit"
	"longgrain/internal/ground/working"
	"longgrain/internal/trade/hardware"
	"longgrain/internal/trade/shop"
)

// tooWeak is the force below which a clamp only holds parts in place. Judgement: a spring clamp of 150 N, sold for
// positioning, lies below; every screw clamp of the table lies above.
const tooWeak unit.Newtons = 300

// Force returns the force that presses a glue line.
//
//	F = p L t
//
// p is the pressure in MPa, L and t the sides of the glue line; F in newtons. In a stack every line sees the whole
// force, so that one line counts. Panics when a side is negative.
//
// Source: definition of pressure; [wood-professor] for stacks, read.
func Force(p unit.MPa, l, t unit.Length) unit.Newtons {
	if l < 0 || t < 0 {
		panic("glueup: glue line has negative size")
	}
	return unit.Newtons(float64(p) * l.MM() * t.MM())
}

// ForceCount returns how many clamps alike press with a force.
//
//	n = ceil(F / F₁)
//
// F is the wanted force, F₁ that of one clamp, above 0. Panics when F₁ is not.
//
// Source: closed form.
func ForceCount(force, one unit.Newtons) int {
	if one <= 0 {
		panic("glueup: clamp without force")
	}
	return int(math.Ceil(float64(force/one) - 1e-9))
}

// SpacingCount returns how many clamps stand along a glue line.
//
//	n = ceil((L - 2e) / s) + 1, at least 1
//
// L is the length of the line, e the distance of the first clamp from the end, s the spacing, above 0. Panics when
// s is not.
//
// Source: spacing and end distance [pva-guidance], read; the count is closed form.
func SpacingCount(l, end, spacing unit.Length) int {
	if spacing <= 0 {
		panic("glueup: clamp spacing is not positive")
	}
	return max(0, int(math.Ceil(float64(l-2*end)/float64(spacing)-1e-9))) + 1
}

// CaulThickness returns how thick a stiff batten must be so that the pressure cones of neighbouring clamps meet at the
// glue line.
//
//	c = s/2 - d, at least 0
//
// s is the distance between clamps, d the wood between the jaw and the glue line.
//
// Source: pressure spreads at 45°, common practice.
func CaulThickness(spacing, cover unit.Length) unit.Length { return max(0, spacing/2-cover) }

// Apart returns how far the clamps of a press stand from each other when so many are set evenly, the outer ones a little from
// the ends; zero for one clamp.
func (p Press) Apart(clamps int) unit.Length {
	if clamps < 2 {
		return 0
	}
	return max(0, (p.Length-2*hardware.ClampFromEnd)/unit.Length(clamps-1)).CeilTo(unit.Millimetre)
}

// spacingCount is the least number of clamps of a press.
func (p Press) spacingCount() int {
	if p.shoulder {
		return int((p.Length + hardware.ClampSpacing - 1) / hardware.ClampSpacing)
	}
	return SpacingCount(p.Length, hardware.ClampFromEnd, hardware.ClampSpacing)
}

// serves tells whether a row of clamps opens, reaches and presses far enough. A band goes round frames only; wedges press
// panels, which need no reach.
func (p Press) serves(c shop.Clamps) bool {
	if c.Force < tooWeak || c.Count == 0 {
		return false
	}
	switch c.Kind.ID {
	case "band":
		return p.around > 0 && c.Opening >= p.around
	case "wedges":
		return p.panel && c.Opening >= p.Opening
	}
	return c.Opening >= p.Opening && c.Reach >= p.Reach
}

// choose gives every press its clamps out of those that are left, the most demanding first, and tells whether all
// have enough. A press takes the fewest clamps of one row that suffice, of equal numbers the weakest, so that strong
// and long clamps stay free; where no row suffices alone it takes the strongest of all rows until it has enough.
func choose(presses []Press, clamps []shop.Clamps) (out []Press, enough bool) {
	left := make([]int, len(clamps))
	for i, c := range clamps {
		left[i] = c.Count
	}
	out = slices.Clone(presses)
	order := make([]int, len(out))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(i, j int) int {
		return cmp.Or(cmp.Compare(out[j].Opening, out[i].Opening), cmp.Compare(out[j].Force, out[i].Force))
	})
	enough = true
	for _, i := range order {
		out[i].take(clamps, left)
		enough = enough && out[i].enough()
	}
	return out, enough
}

func (p Press) enough() bool {
	n := 0
	for _, c := range p.Clamps {
		n += c.Count
	}
	return n >= p.BySpacing && p.Reached >= p.Force*(1-1e-9)
}

// take picks the clamps of one press and lowers what is left.
func (p *Press) take(clamps []shop.Clamps, left []int) {
	p.BySpacing, p.Clamps, p.Reached, p.ByForce = p.spacingCount(), nil, 0, 0
	var rows []int
	for r, c := range clamps {
		if p.serves(c) {
			rows = append(rows, r)
		}
	}
	best, bestCount := -1, 0
	for _, r := range rows {
		n := max(p.BySpacing, ForceCount(p.Force, clamps[r].Force))
		if n > left[r] {
			continue
		}
		if best < 0 || n < bestCount || n == bestCount && clamps[r].Force < clamps[best].Force {
			best, bestCount = r, n
		}
	}
	if best >= 0 {
		p.grab(clamps, left, best, bestCount)
		p.name(clamps, best)
		return
	}
	slices.SortStableFunc(rows, func(x, y int) int { return cmp.Compare(clamps[y].Force, clamps[x].Force) })
	have := 0
	for _, r := range rows {
		for left[r] > 0 && (p.Reached < p.Force || have < p.BySpacing) {
			p.grab(clamps, left, r, 1)
			have++
		}
	}
	if len(rows) > 0 {
		p.name(clamps, rows[0])
	}
}

func (p *Press) grab(clamps []shop.Clamps, left []int, row, n int) {
	left[row] -= n
	p.Reached += clamps[row].Force * unit.Newtons(n)
	p.Clamps = addUse(p.Clamps, ClampUse{row, clamps[row].Kind.Name, n})
}

// name notes what the count by force is of one kind.
func (p *Press) name(clamps []shop.Clamps, row int) {
	p.Kind, p.row, p.ByForce = clamps[row].Kind.Name, row, ForceCount(p.Force, clamps[row].Force)
	p.Governs = "spacing"
	if p.ByForce > p.BySpacing {
		p.Governs = "force"
	}
}

func addUse(list []ClampUse, u ClampUse) []ClampUse {
	for i := range list {
		if list[i].Row == u.Row {
			list[i].Count += u.Count
			return list
		}
	}
	list = append(list, u)
	slices.SortFunc(list, func(x, y ClampUse) int { return cmp.Compare(x.Row, y.Row) })
	return list
}

// clamp gives a glue-up its clamps and reports what they do not reach.
func (m *maker) clamp(g *GlueUp) {
	for i := range g.Presses {
		p := &g.Presses[i]
		pressure := g.Pressure.Value
		if p.shoulder {
			pressure = g.Pressure.Low
		}
		p.Force = Force(pressure, p.Length, p.Width)
	}
	g.Presses, g.Enough = choose(g.Presses, m.shop.Clamps)
	g.Reached = 0
	for i, p := range g.Presses {
		if area := p.Length.MM() * p.Width.MM(); area > 0 {
			if reached := unit.MPa(float64(p.Reached) / area); i == 0 || reached < g.Reached {
				g.Reached = reached
			}
		}
		for _, u := range p.Clamps {
			g.Clamps = addUse(g.Clamps, u)
		}
		n := 0
		for _, u := range p.Clamps {
			n += u.Count
		}
		if !p.shoulder && n > 1 {
			g.Caul = max(g.Caul, CaulThickness(p.Apart(n), p.cover).CeilTo(unit.Millimetre))
		}
	}
	m.judgeClamps(g)
}

// sideBySide finds further sets of clamps that do the same glue-up for other copies while the first clamps are on.
func (m *maker) sideBySide(g *GlueUp) {
	if !g.Enough || g.ClampCount() == 0 {
		return
	}
	quiet := *m
	quiet.plan.Findings = nil
	quiet.shop.Clamps = slices.Clone(m.shop.Clamps)
	taken := g.Clamps
	for len(g.Others)+1 < len(g.Runs) {
		for _, u := range taken {
			quiet.shop.Clamps[u.Row].Count -= u.Count
		}
		next := *g
		next.Presses, next.Cautions = slices.Clone(g.Presses), nil
		quiet.fit(&next)
		if !next.Enough || !next.onTime() || next.Glue.ID != g.Glue.ID {
			return
		}
		taken = next.Clamps
		g.Others = append(g.Others, Others{next.Clamps, next.Closing})
	}
}

// judgeClamps turns missing clamps into findings, one for each glue-up.
func (m *maker) judgeClamps(g *GlueUp) {
	if g.Enough {
		return
	}
	fam := m.shop.Family
	for _, p := range g.Presses {
		if p.Kind == "" {
			m.find(g.Name, fmt.Sprintf("no clamp of the shop serves %s: it must open %s and reach %s", p.Where, p.Opening.Show(fam), p.Reach.Show(fam)),
				m.clampAdvice(p))
			return
		}
	}
	for _, p := range g.Presses {
		if p.enough() {
			continue
		}
		n := 0
		for _, u := range p.Clamps {
			n += u.Count
		}
		switch {
		case n < p.BySpacing:
			m.find(g.Name, fmt.Sprintf("%d clamps serve %s and %d are wanted", n, p.Where, p.BySpacing),
				fmt.Sprintf("borrow %d more that open %s, or press with stiff cauls and wedges between", p.BySpacing-n, p.Opening.Show(fam)))
		case g.Reached >= g.Pressure.Low:
			g.Cautions = append(g.Cautions, fmt.Sprintf("all clamps that serve press %.2f MPa: within the published range, below the %.2f MPa planned with", float64(g.Reached), float64(g.Pressure.Value)))
			return
		default:
			m.find(g.Name, fmt.Sprintf("the clamps that serve press %.2f MPa at %s; %.2f to %.2f MPa are published for this wood", float64(g.Reached), p.Where, float64(g.Pressure.Low), float64(g.Pressure.High)),
				"fit the joint so that it closes without force, use stiff cauls, or borrow stronger clamps")
		}
		return
	}
}

// clampAdvice says what to borrow, and what the shop's longest clamp opens.
func (m *maker) clampAdvice(p Press) string {
	var longest unit.Length
	for _, c := range m.shop.Clamps {
		if c.Force >= tooWeak {
			longest = max(longest, c.Opening)
		}
	}
	n := p.BySpacing
	if longest == 0 {
		return fmt.Sprintf("the shop lists no clamps that press: get at least %d that open %s", n, p.Opening.Show(m.shop.Family))
	}
	return fmt.Sprintf("the longest clamp opens %s: get at least %d that open %s, or press with wedges between stops", longest.Show(m.shop.Family), n, p.Opening.Show(m.shop.Family))
}

// pressSteps shows how the two counts of a press come about.
func (m *maker) pressSteps(g GlueUp, p Press) working.Working {
	mm := func(symbol, name string, l unit.Length) working.Value {
		return working.Value{Symbol: symbol, Name: name, Number: l.MM(), Unit: "mm"}
	}
	pressure := working.Value{Symbol: "p", Name: "pressure", Number: float64(g.Pressure.Value), Unit: "MPa", Cite: g.Pressure.Cite}
	note := ""
	if p.shoulder {
		pressure.Number, note = float64(g.Pressure.Low), "the shoulder is only to close: the low pressure"
	}
	steps := working.Working{{Title: "Force on " + p.Where, Formula: "F = p · L · t", Inputs: []working.Value{pressure, mm("L", "length", p.Length), mm("t", "width of the glue line", p.Width)},
		Result: working.Value{Symbol: "F", Number: float64(p.Force), Unit: "N"}, Cite: source.At("wood-professor", "one line of a stack counts", source.Read), Note: note}}
	if p.shoulder {
		steps = append(steps, working.Step{Title: "Clamps by spacing", Formula: "n = ⌈L / s⌉", Inputs: []working.Value{mm("L", "length", p.Length), mm("s", "spacing", hardware.ClampSpacing)},
			Result: working.Value{Symbol: "n", Number: float64(p.BySpacing)}, Cite: source.Choice("docs/methods/glueup.md")})
	} else {
		steps = append(steps, working.Step{Title: "Clamps by spacing", Formula: "n = ⌈(L − 2e) / s⌉ + 1", Inputs: []working.Value{mm("L", "length", p.Length), mm("e", "first clamp from the end", hardware.ClampFromEnd), mm("s", "spacing", hardware.ClampSpacing)},
			Result: working.Value{Symbol: "n", Number: float64(p.BySpacing)}, Cite: source.At("pva-guidance", "clamps 200 to 300 mm apart", source.Read)})
	}
	if p.Kind == "" {
		return steps
	}
	c := m.shop.Clamps[p.row]
	return append(steps, working.Step{Title: "Clamps by force", Formula: "n = ⌈F / F₁⌉",
		Inputs: []working.Value{{Symbol: "F₁", Name: p.Kind, Number: float64(c.Force), Unit: "N", Cite: c.Kind.Cite}},
		Result: working.Value{Symbol: "n", Number: float64(p.ByForce)}, Note: p.Governs + " governs"})
}
