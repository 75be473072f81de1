package workbook

import (
	"fmt"
	"slices"
	"strings"

	"longgrain/internal/check/structure"
	"longgrain/internal/design/assembly"
	"longgrain/internal/design/joint"
	"longgrain/internal/ground/unit"
	"longgrain/internal/ground/working"
	"longgrain/internal/paper/document"
	"longgrain/internal/plan"
	"longgrain/internal/trade/wood"
)

// piece writes what is made: the parts and their sizes.
func (b *book) piece() {
	b.viewsOf()
	t := document.NewTable(document.TextColumn("Marks"), document.TextColumn("Part"), document.NumberColumn("Length"), document.NumberColumn("Width"), document.NumberColumn("Thickness"), document.TextColumn("Wood"))
	t.Caption = "Finished sizes, " + b.plan.Units + ". Length runs along the grain, between shoulders."
	for _, group := range kinds(b.plan.Assembly) {
		first := b.plan.Assembly.Parts[group[0]]
		var marks, names []string
		for _, i := range group {
			marks = append(marks, b.plan.Assembly.Parts[i].Mark)
			names = append(names, b.plan.Assembly.Parts[i].Name)
		}
		species, _ := wood.Lookup(first.Species)
		t.Row(strings.Join(marks, " "), assembly.Describe(names), first.Length.ShowNumber(b.family), first.Width.ShowNumber(b.family), first.Thickness.ShowNumber(b.family), species.Name)
	}
	b.Add(*t)
	b.byHand()
	b.dimensions()
	b.Add(document.Summary{Pairs: []document.Pair{
		{Name: "Mass", Value: document.Words(working.Figures(float64(int(b.plan.Structure.Mass*10+0.5))/10) + " kg, without hardware")},
		{Name: "Made", Value: document.Words(unit.Count(b.plan.Copies, "piece", "pieces"))},
	}})
}

// byHand writes what the maker changed in what the pattern makes.
func (b *book) byHand() {
	if len(b.plan.Changed) == 0 {
		return
	}
	t := document.NewTable(document.TextColumn("Changed by hand"), document.TextColumn("What"), document.TextColumn("Was"), document.TextColumn("Is"))
	for _, c := range b.plan.Changed {
		t.Row(c.Of, c.What, c.Was, c.Now)
	}
	b.Add(*t)
	for _, c := range b.plan.Changed {
		if c.Misfit != "" {
			b.Add(document.Box{Kind: document.Warning, Title: "A change by hand no longer fits", Text: []document.Text{
				document.Words(upperFirst(c.Misfit) + ". Take the change out, choose another joint, or other sizes.")}})
		}
	}
}

// dimensions writes the names that the piece gives to lengths and numbers.
func (b *book) dimensions() {
	if len(b.plan.Dimensions) == 0 {
		return
	}
	t := document.NewTable(document.TextColumn("Dimension"), document.TextColumn("Written"), document.TextColumn("Is"))
	for _, d := range b.plan.Dimensions {
		is := d.Value.String()
		if d.Value.IsLength {
			is = d.Value.Measure().Length.Show(b.family)
		}
		t.Row(d.Name, d.Text, is)
	}
	b.Add(*t)
}

// kinds groups part indices by kind, in the order of the parts.
func kinds(a assembly.Assembly) [][]int {
	var out [][]int
	at := map[int]int{}
	for i, p := range a.Parts {
		k, known := at[p.Kind]
		if !known {
			k = len(out)
			at[p.Kind] = k
			out = append(out, nil)
		}
		out[k] = append(out[k], i)
	}
	return out
}

// holds writes what was checked, worst first.
func (b *book) holds() {
	p := b.plan
	for _, f := range p.Structure.Findings {
		b.Add(document.Box{Kind: document.Warning, Title: f.What, Text: []document.Text{document.Words(upperFirst(f.Advice) + ".")}})
	}
	for _, n := range p.Structure.Notes {
		b.Add(document.Box{Kind: document.Caution, Text: []document.Text{document.Words(upperFirst(n) + ".")}})
	}
	checks := p.HoldsChecks()
	t := document.NewTable(document.TextColumn("What"), document.NumberColumn("Carries"), document.NumberColumn("Can carry"), document.NumberColumn("Reserve"), document.TextColumn("Verdict"), document.TextColumn("Hardest case"))
	t.Caption = fmt.Sprintf("Strength, stiffness and stand, worst first, and what breaks before what is only felt. A reserve of %.1f is wanted for strength.", p.Wanted)
	for _, c := range checks {
		demand, capacity := "", ""
		if c.Demand.Unit != "" {
			demand, capacity = number(c.Demand), number(c.Capacity)
		}
		reserve, verdict := reserveCells(c)
		t.Cells(document.WordCell(upperFirst(c.What)), document.WordCell(demand), document.WordCell(capacity), reserve, verdict, document.WordCell(c.Case))
	}
	b.Add(*t)
	b.mends()
	b.Paragraph("The reserve is the lower strength, which 95 of 100 such parts or joints reach, over the load. Sway, wobble, sag and the push that tips before it slides are compared with a limit of comfort: nothing breaks there, they need no reserve, and up to twice the limit they count as tight. Members count with the knots that the condition of the wood allows; joints belong in clear wood: no knot within two dowel diameters.")
	b.bent()
	b.loads()
	for _, c := range firstOf(checks, 3) {
		b.working(c.Working)
	}
	b.chance()
	b.Add(document.Box{Kind: document.Caution, Title: "What was not checked", Text: []document.Text{
		document.Words("Falls and jumps, loose or badly glued joints, damp, and damage by use. Children climb: watch them, and take a piece out of use when a joint works loose.")}})
}

// mends lists the single changes that bring what does not hold to the wanted reserve.
func (b *book) mends() {
	p := b.plan
	if len(p.Mends) == 0 {
		return
	}
	t := document.NewTable(document.TextColumn("Change"), document.TextColumn("Mends, from and to"), document.TextColumn("Then the piece"), document.NumberColumn("Cost"), document.NumberColumn("Hours"))
	t.Caption = "One change at a time, the smallest that is enough, each worked out as a whole plan; cheapest first. Cost and hours are what the piece then takes more."
	short := false
	for _, m := range p.Mends {
		change := upperFirst(m.Change)
		if m.Short {
			change, short = change+" *", true
		}
		t.Cells(document.WordCell(change), document.WordCell(upperFirst(m.Mended())), verdictCell(joint.Verdict(m.Word)), document.WordCell(m.Money(p.Cost.Currency)), document.WordCell(fmt.Sprintf("%+.1f", m.Hours)))
	}
	b.Add(*t)
	if short {
		b.Paragraph("* Not enough, but what comes nearest: no single change that was tried brings this to the wanted reserve. Change several things.")
	}
}

func number(v working.Value) string {
	return strings.TrimSpace(working.Figures(round3(v.Number)) + " " + v.Unit)
}

// round3 keeps three significant figures, as much as strengths deserve.
func round3(x float64) float64 {
	k := 1.0
	for abs := x; abs >= 1000; abs /= 10 {
		k *= 10
	}
	return float64(int64(x/k*100+0.5)) / 100 * k
}

func firstOf(checks []structure.Check, n int) []structure.Check {
	var out []structure.Check
	for _, c := range checks {
		if len(c.Working) > 0 && len(out) < n {
			out = append(out, c)
		}
	}
	return out
}

// loads lists the load cases once per kind, with their origin.
func (b *book) loads() {
	t := document.NewTable(document.TextColumn("Load"), document.NumberColumn("Force, N"), document.NumberColumn("With, kg"), document.TextColumn("Where"), document.TextColumn("Source"))
	t.Caption = fmt.Sprintf("Loads in the style of published tests, for a %s at %s. Places and directions were searched: %d cases.", b.plan.Assembly.Use, b.plan.Assembly.Setting, len(b.plan.Structure.Cases))
	seen := map[string]bool{}
	for _, c := range b.plan.Structure.Cases {
		if seen[c.Note] {
			continue
		}
		seen[c.Note] = true
		mass := ""
		if c.Mass > 0 {
			mass = fmt.Sprintf("%.0f", c.Mass)
		}
		t.Row(upperFirst(c.Action), fmt.Sprintf("%.0f", c.Force), mass, upperFirst(c.Note), b.cite(c.Cite))
	}
	b.Add(*t)
}

// joints writes the comparison of joints for each kind of connection.
func (b *book) joints() {
	p := b.plan
	for i, g := range p.Joints {
		b.Heading(2, fmt.Sprintf("joint-%d", i), upperFirst(p.GroupName(g)))
		if !g.Made {
			b.Add(document.Box{Kind: document.Warning, Title: "No joint", Text: []document.Text{document.Words(upperFirst(g.Choice.Why) + ".")}})
			continue
		}
		j := g.Final.Joint
		text := document.Words("").Strong(upperFirst(j.Describe())).Plain(": " + fullStop(g.Choice.Why))
		if g.Final.Worst >= 0 {
			text = text.Plain(fmt.Sprintf(" Reserve %s, %s when %s, under %s.", g.Final.Reserve, g.Final.Verdict, g.Final.Governs, g.Case))
		} else {
			text = text.Plain(b.unloaded(g))
		}
		b.Add(document.Paragraph{Text: b.markedOn(text, g)})
		for _, problem := range g.Choice.Problems {
			b.Add(document.Box{Kind: document.Caution, Text: []document.Text{document.Words(upperFirst(problem) + ".")}})
		}
		b.known(j)
		b.jointDrawing(i, g)
		b.jointChart(i)
		b.jointTable(i)
		var steps working.Working
		if surface, ok := j.GlueSurface(); ok {
			steps = append(steps, surface)
		}
		b.working(append(steps, j.Strength.Working...))
		for _, note := range j.Notes {
			b.Paragraph(upperFirst(note) + ".")
		}
	}
	b.misfits(p.Fit)
	b.Paragraph("Strength is the least of the limits that apply: glue surface, fastener, and the wood crushed or split beside it. Published rankings of joints contradict each other, so none is used. Give of the joints and working times are assumed: nobody has published them. Break test joints of your own and enter them in the test log: it shifts this table.")
	b.tests()
}

// markedOn says where the marks of the parts of a joint stand.
func (b *book) markedOn(text document.Text, g plan.JointGroup) document.Text {
	c := b.plan.Assembly.Connections[g.Connections[0]]
	words := " Marks: "
	for _, at := range [2]assembly.Place{c.A, c.B} {
		sheet := b.plan.Markout.Sheets[at.Part].SameAs
		text = b.refer(text, words, plan.MarkingChapter, "sheet-"+b.plan.Assembly.Parts[sheet].Mark)
		words = " and "
	}
	return text
}

// unloaded says why a joint has no reserve: the frame ties long sides that are joined stiffly and works no force out there.
func (b *book) unloaded(g plan.JointGroup) string {
	c := b.plan.Assembly.Connections[g.Connections[0]]
	if !c.A.Side.IsEnd() || c.B.Side.IsEnd() {
		return " The frame takes this joint as stiff, so the force on it is not worked out: its strength below is to be compared, not checked."
	}
	return " It carries no load in any load case."
}

// jointTable compares the best of each kind and size: the strongest few of every kind, and the chosen one. Below it stands
// what the rules of the trade that the chosen one breaks cost.
func (b *book) jointTable(i int) {
	c := b.plan.Compare(i)
	// Where every strength is from the book, a column need not say so.
	tested := len(b.plan.Tests.Kinds) > 0
	columns := []document.Column{document.TextColumn("Joint"), document.NumberColumn("Reserve"), document.TextColumn("Verdict"), document.NumberColumn("Lower 5 %")}
	if tested {
		columns = append(columns, document.TextColumn("From"))
	}
	t := document.NewTable(append(columns, document.TextColumn("Gives way first"), document.NumberColumn("Glue"), document.NumberColumn("Min"), document.NumberColumn("Cost"), document.TextColumn("Rules"))...)
	t.Caption = "The joints that the tools of the shop allow, strongest of each kind; those that show are named so. Lower 5 % is that of bending the strong way, N·m. Glue is long grain on long grain, cm², and behind the stroke end grain, which counts for nothing. Min is the work in minutes, cost that of the hardware. The last column names the rules of the trade that a joint breaks; they decide nothing."
	shown := map[joint.Kind]int{}
	var broken []joint.Broken
	for k, j := range c.Joints {
		if shown[j.Kind] >= jointsShown && !j.Chosen {
			continue
		}
		shown[j.Kind]++
		name := strings.ReplaceAll(upperFirst(j.Name), " mm × ", " × ")
		if j.Shows != joint.Hidden {
			name += ", shows"
		}
		if j.Chosen {
			name += " (chosen)"
		}
		var names []string
		for _, x := range j.Broken {
			names = append(names, x.Rule)
			if !slices.ContainsFunc(broken, func(y joint.Broken) bool { return y.Rule == x.Rule }) {
				broken = append(broken, x)
			}
		}
		cells := []document.Cell{document.WordCell(name), document.WordCell(j.Reserve.String()), verdictCell(j.Verdict), document.WordCell(fmt.Sprintf("%.0f", j.Bending))}
		if tested {
			cells = append(cells, document.WordCell(origin(b.plan.Joints[i].Choice.Ranked[k].Joint)))
		}
		t.Cells(append(cells, document.WordCell(j.Limit), document.WordCell(fmt.Sprintf("%.0f / %.0f", float64(j.Glue.LongGrain)*1e4, float64(j.Glue.EndGrain)*1e4)), document.WordCell(fmt.Sprintf("%.0f", float64(j.Minutes))), document.WordCell(j.Cost(c.Currency)), document.WordCell(strings.Join(names, " ")))...)
	}
	b.Add(*t)
	if len(broken) > 0 {
		var words []string
		for _, x := range broken {
			rule, _ := joint.RuleOf(x.Rule)
			words = append(words, fmt.Sprintf("%s, %s (%s)", x.Rule, x.Text, rule.Cite))
		}
		b.Paragraph("Rules: " + strings.Join(words, "; ") + ".")
	}
	for _, f := range c.Rules {
		b.Add(document.Box{Kind: document.Note, Title: "Rule " + f.Broken.Rule, Text: []document.Text{document.Words(f.String())}})
	}
}

// jointsShown is how many joints of a kind stand in the table; the picture shows all.
const jointsShown = 2

// year writes how the wood moves and how tops are held.
func (b *book) year() {
	y := b.plan.Year
	if !y.Known {
		b.Add(document.Box{Kind: document.Caution, Title: "No climate", Text: []document.Text{document.Words("The shop file gives no climate of the place of use, so nothing can be said about movement. Add climate: use: with the humidity of the seasons.")}})
		return
	}
	b.seasonChart()
	b.Add(document.Summary{Pairs: []document.Pair{
		{Name: "Wood when built", Value: document.Words(fmt.Sprintf("%.1f %% moisture", y.Moisture.Built))},
		{Name: "Driest", Value: document.Words(fmt.Sprintf("%.1f %%", y.Moisture.Dry))},
		{Name: "Dampest", Value: document.Words(fmt.Sprintf("%.1f %%", y.Moisture.Damp))},
	}})
	if len(y.Parts) > 0 {
		t := document.NewTable(document.TextColumn("Part"), document.NumberColumn("Width as built"), document.NumberColumn("Grows"), document.NumberColumn("Shrinks"), document.NumberColumn("Whole swing"))
		t.Caption = "Movement across the grain, " + b.plan.Units + ", for flat-sawn boards, the safe choice. Along the grain wood hardly moves."
		for _, m := range y.Parts {
			t.Cells(askedRow([]int{2, 3, 4}, upperFirst(m.Name), m.Movement.Width.ShowNumber(b.family), m.Movement.Swell.ShowNumber(b.family), m.Movement.Shrink.ShowNumber(b.family), m.Movement.Total().ShowNumber(b.family))...)
		}
		b.Add(*t)
		b.working(y.Parts[0].Movement.Working)
	}
	b.fastenings()
	for _, c := range y.Crossed {
		b.Add(document.Box{Kind: document.Caution, Title: c.Connection, Text: []document.Text{document.Words(fmt.Sprintf("%s of wood is held across its grain, %.1f times the width that is left without a second thought. Split the tenon, glue only its middle, or let one dowel sit dry.", b.show(c.Conflict.Span), c.Conflict.Ratio))}})
	}
	b.working(y.Working)
}

func contains(list []string, s string) bool {
	for _, x := range list {
		if x == s {
			return true
		}
	}
	return false
}
