package plan

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"longgrain/internal/check/fit"
	"longgrain/internal/check/structure"
	"longgrain/internal/design/assembly"
	"longgrain/internal/design/fasten"
	"longgrain/internal/design/joint"
	"longgrain/internal/ground/unit"
	"longgrain/internal/ground/working"
)

// Chapter ids, in the order of the work.
const (
	PieceChapter    = "piece"
	HoldsChapter    = "holds"
	JointsChapter   = "joints"
	YearChapter     = "year"
	TimberChapter   = "timber"
	BoardsChapter   = "boards"
	MarkingChapter  = "marking"
	GlueupsChapter  = "glueups"
	FinishChapter   = "finish"
	OrderChapter    = "order"
	CostChapter     = "cost"
	AssemblyChapter = "assembly"
)

// answer writes the one-line answer of every chapter and the verdict of the whole.
func (p *Plan) answer() {
	holds := p.holdsAnswer()
	p.Chapters = []Chapter{
		p.pieceAnswer(),
		holds,
		p.jointsAnswer(),
		p.yearAnswer(),
		p.timberAnswer(),
		p.boardsAnswer(),
		p.markingAnswer(),
		p.glueupsAnswer(),
		p.finishAnswer(),
		p.orderAnswer(),
		p.costAnswer(),
		p.assemblyAnswer(),
	}
	p.Verdict = Verdict{holds.Word, holds.Answer}
	for _, c := range p.Chapters {
		// What is tight at the bench, such as too few clamps, is told in its chapter and does not colour the whole.
		if worse(c.Word, p.Verdict.Word) && c.Word == string(joint.DoesNotHold) {
			p.Verdict = Verdict{c.Word, c.Title + ": " + c.Answer}
		}
	}
}

// about marks the answers that hang on the boards of a plan made at a glance: the full plan may find cheaper ones.
func (p *Plan) about() {
	for i, c := range p.Chapters {
		switch c.ID {
		case TimberChapter, BoardsChapter, GlueupsChapter, OrderChapter, CostChapter:
			if c.Word == "" {
				p.Chapters[i].Answer = "so far " + c.Answer
			}
		}
	}
}

var badness = map[string]int{"": 0, string(joint.Holds): 1, string(joint.Tight): 2, string(joint.DoesNotHold): 3}

func worse(a, b string) bool { return badness[a] > badness[b] }

func (p *Plan) pieceAnswer() Chapter {
	lo, hi := p.Assembly.Bounds()
	size := hi.Sub(lo)
	f := p.Family
	c := Chapter{ID: PieceChapter, Title: "The piece"}
	c.Answer = fmt.Sprintf("%s, %s long, %s deep, %s high, %s kg", unit.Count(len(p.Assembly.Parts), "part", "parts"),
		unit.MM(size.X).Show(f), unit.MM(size.Y).Show(f), unit.MM(size.Z).Show(f), working.Figures(round(p.Structure.Mass, 1)))
	if n := len(p.Changed); n > 0 {
		c.Answer += fmt.Sprintf("; %d changed by hand", n)
	}
	for _, change := range p.Changed {
		if change.Misfit != "" {
			c.Word = string(joint.Tight)
			c.Answer += ", one of which no longer fits: " + change.Misfit
			break
		}
	}
	return c
}

// misfits notes which joints that were changed by hand cannot be made so.
func (p *Plan) misfits() {
	p.Changed = slices.Clone(p.Changed)
	for i := range p.Changed {
		c := &p.Changed[i]
		for _, g := range p.Joints {
			for _, k := range g.Connections {
				j := p.Assembly.Connections[k]
				if c.What == "joint" && len(c.Parts) == 2 && slices.Contains(c.Parts, j.A.Part) && slices.Contains(c.Parts, j.B.Part) && len(g.Choice.Problems) > 0 {
					c.Misfit = g.Choice.Problems[0]
				}
			}
		}
	}
}

func round(x float64, decimals int) float64 {
	k := 1.0
	for range decimals {
		k *= 10
	}
	return float64(int64(x*k+0.5)) / k
}

// after orders what is of comfort after what is of strength.
func after(a, b bool) int {
	switch {
	case a == b:
		return 0
	case a:
		return 1
	}
	return -1
}

// HoldsChecks returns every check of strength and stiffness, worst first, and strength before comfort: joints, members, sway, sag and
// tipping.
func (p *Plan) HoldsChecks() []structure.Check {
	var all []structure.Check
	for _, g := range p.Joints {
		if !g.Made {
			continue
		}
		all = append(all, structure.Check{What: p.groupName(g), Where: g.Where, Reserve: g.Final.Reserve, Verdict: g.Final.Verdict, Case: g.Case})
	}
	all = append(all, p.Structure.Members...)
	all = append(all, p.Structure.Sway...)
	all = append(all, p.Structure.Sag...)
	all = append(all, p.Structure.Tipping...)
	slices.SortStableFunc(all, func(a, b structure.Check) int {
		return cmp.Or(cmp.Compare(badness[string(b.Verdict)], badness[string(a.Verdict)]), after(a.Comfort, b.Comfort), cmp.Compare(a.Reserve, b.Reserve))
	})
	return all
}

// groupKind names the parts that a group of joints ties, by their roles: "apron to leg".
func (p *Plan) groupKind(g JointGroup) string {
	c := p.Assembly.Connections[g.Connections[0]]
	return fmt.Sprintf("%s to %s", roleName(p.Assembly.Parts[c.A.Part].Role, p.Assembly.Parts[c.A.Part].Name), roleName(p.Assembly.Parts[c.B.Part].Role, p.Assembly.Parts[c.B.Part].Name))
}

// groupName names a group of joints: "apron to leg", and where several groups tie such parts which ones, "apron to leg, front and
// back".
func (p *Plan) groupName(g JointGroup) string {
	kind := p.groupKind(g)
	same := 0
	for _, other := range p.Joints {
		if p.groupKind(other) == kind {
			same++
		}
	}
	if same < 2 {
		return kind
	}
	var names []string
	for _, k := range g.Connections {
		a := p.Assembly.Parts[p.Assembly.Connections[k].A.Part]
		short, role := strings.CutPrefix(a.Name, roleName(a.Role, a.Name)+" ")
		if !role {
			short = a.Name
		}
		if !slices.Contains(names, short) {
			names = append(names, short)
		}
	}
	const most = 3 // names that are read at a glance
	if len(names) > most {
		names = []string{names[0], fmt.Sprintf("%d more", len(names)-1)}
	}
	return kind + ", " + assembly.Describe(names)
}

// GroupName names a group of joints by the roles of its parts: "apron to leg, 4 joints".
func (p *Plan) GroupName(g JointGroup) string {
	if len(g.Connections) == 1 {
		return p.groupName(g) + ", 1 joint"
	}
	return p.groupName(g) + ", " + unit.Count(len(g.Connections), "joint", "joints")
}

func roleName(role, name string) string {
	switch role {
	case "other", "":
		return name
	case "stretcher":
		return "low rail"
	}
	return role
}

func (p *Plan) holdsAnswer() Chapter {
	c := Chapter{ID: HoldsChapter, Title: "Does it hold"}
	if len(p.Structure.Findings) > 0 {
		f := p.Structure.Findings[0]
		c.Word, c.Answer = string(joint.DoesNotHold), f.What
		return c
	}
	checks := p.HoldsChecks()
	if len(checks) == 0 {
		c.Answer = "nothing here carries a load"
		return c
	}
	worst := checks[0]
	if worst.Verdict == joint.Holds {
		// All hold: the reserve worth naming is that of strength, not a limit of comfort.
		if i := slices.IndexFunc(checks, func(k structure.Check) bool { return !k.Comfort }); i >= 0 {
			worst = checks[i]
		}
	}
	c.Word = string(worst.Verdict)
	c.Answer = fmt.Sprintf("lowest reserve %s, %s", worst.Reserve, worst.What)
	if worst.Case != "" {
		c.Answer += " under " + worst.Case
	}
	return c
}

func (p *Plan) jointsAnswer() Chapter {
	c := Chapter{ID: JointsChapter, Title: "Joints"}
	for i, g := range p.Joints {
		if !g.Made {
			c.Word, c.Answer = string(joint.DoesNotHold), g.Choice.Why
			return c
		}
		if worse(string(g.Final.Verdict), c.Word) {
			c.Word = string(g.Final.Verdict)
		}
		if i == 0 {
			c.Answer = fmt.Sprintf("%s: %s", p.groupName(g), g.Final.Joint.Describe())
		}
	}
	if n := len(p.Joints); n > 1 {
		c.Answer += fmt.Sprintf("; %s of joint", unit.Count(n-1, "more kind", "more kinds"))
	}
	if worst := fit.Worst(p.Fit); len(worst) > 0 {
		c.Word, c.Answer = string(joint.DoesNotHold), worst[0].What
		if more := len(worst) - 1; more > 0 {
			c.Answer += "; " + unit.Count(more, "more place does", "more places do") + " not fit"
		}
	}
	if c.Answer == "" {
		c.Answer = "no joints"
	}
	return c
}

func (p *Plan) yearAnswer() Chapter {
	c := Chapter{ID: YearChapter, Title: "Through the year"}
	switch {
	case !p.Year.Known:
		c.Answer = "no climate is known of the place where it will stand"
	case len(p.Year.Parts) == 0:
		c.Answer = "nothing moves enough to matter"
	default:
		c.Answer = p.Year.Parts[0].Span(p.Family)
	}
	for _, f := range p.Fastenings {
		if len(f.Notes) > 0 {
			c.Word, c.Answer = string(joint.Tight), f.Notes[0]
		}
	}
	return c
}

func (p *Plan) timberAnswer() Chapter {
	c := Chapter{ID: TimberChapter, Title: "Timber"}
	if len(p.Cutting.Findings) > 0 {
		c.Word, c.Answer = string(joint.DoesNotHold), p.Cutting.Findings[0].What
		return c
	}
	bought := 0
	for _, b := range p.Cutting.Buy {
		bought += b.Count
	}
	own := len(p.Cutting.Boards) - bought
	if bought == 0 && own > 0 {
		c.Answer = fmt.Sprintf("nothing to buy, %s from the shop", unit.Count(own, "board", "boards"))
		return c
	}
	c.Answer = fmt.Sprintf("%s to buy for %s%s, %d from the shop", unit.Count(bought, "board", "boards"), p.Shop.Currency, p.Cutting.Cost, own)
	return c
}

func (p *Plan) boardsAnswer() Chapter {
	c := Chapter{ID: BoardsChapter, Title: "Boards"}
	waste, area := 0.0, 0.0
	for _, b := range p.Cutting.Boards {
		a := float64(unit.Area(b.Length, b.Width))
		area += a
		waste += a * b.Waste
	}
	if area == 0 {
		c.Answer = "no boards to cut"
		return c
	}
	c.Answer = fmt.Sprintf("%s, %.0f %% waste", unit.Count(len(p.Cutting.Boards), "board", "boards"), 100*waste/area)
	if p.Cutting.Proven {
		c.Answer += ", proven cheapest"
	} else {
		c.Answer += fmt.Sprintf(", at most %s%s from the cheapest", p.Shop.Currency, p.Cutting.Gap)
	}
	return c
}

func (p *Plan) markingAnswer() Chapter {
	c := Chapter{ID: MarkingChapter, Title: "Marking"}
	marks := 0
	for _, s := range p.Markout.Sheets {
		marks += len(s.Marks)
	}
	c.Answer = fmt.Sprintf("%s, %s, every mate checked", unit.Count(marks, "mark", "marks"), unit.Count(len(p.Markout.Setups), "set-up", "set-ups"))
	return c
}

func (p *Plan) glueupsAnswer() Chapter {
	c := Chapter{ID: GlueupsChapter, Title: "Glue-ups"}
	n, short := len(p.GlueUps.GlueUps), 0
	for _, g := range p.GlueUps.GlueUps {
		if !g.Enough {
			short++
		}
	}
	switch {
	case n == 0:
		c.Answer = "nothing is glued"
	case short > 0:
		c.Word = string(joint.Tight)
		c.Answer = fmt.Sprintf("%s; the clamps of the shop do not reach the wanted pressure in %d of them", unit.Count(n, "glue-up", "glue-ups"), short)
	default:
		c.Answer = unit.Count(n, "glue-up", "glue-ups") + ", the clamps of the shop suffice for all"
	}
	if len(p.GlueUps.Findings) > 0 {
		c.Word, c.Answer = string(joint.Tight), p.GlueUps.Findings[0].What
	}
	return c
}

func (p *Plan) finishAnswer() Chapter {
	c := Chapter{ID: FinishChapter, Title: "Finish", Answer: p.Finishing.Name}
	if len(p.Finishing.Products) == 0 {
		return c
	}
	litres := unit.Litres(0)
	for _, x := range p.Finishing.Products {
		litres += x.Litres
	}
	c.Answer = fmt.Sprintf("%s, %.1f m² of surface, %.2f L in all", p.Finishing.Name, float64(p.Finishing.Exposed), float64(litres))
	return c
}

func (p *Plan) orderAnswer() Chapter {
	c := Chapter{ID: OrderChapter, Title: "Order of work"}
	s := p.Schedule
	if len(s.Findings) > 0 && len(s.Days) == 0 {
		c.Word, c.Answer = string(joint.Tight), s.Findings[0].What
		return c
	}
	c.Answer = fmt.Sprintf("%s, %.0f hours of work, done on %s", unit.Count(s.Sessions, "session", "sessions"), float64(s.Attended)/60, s.End.DateFrom(s.Start))
	if s.Proven {
		c.Answer += ", proven the earliest"
	}
	return c
}

func (p *Plan) costAnswer() Chapter {
	c := Chapter{ID: CostChapter, Title: "Cost", Answer: fmt.Sprintf("%s%s", p.Cost.Currency, p.Cost.Total)}
	if n := len(p.Cost.Missing); n > 0 {
		c.Answer += ", without what has no price: " + p.Cost.Missing[0]
		if n > 1 {
			c.Answer += fmt.Sprintf(" and %d more", n-1)
		}
	}
	return c
}

func (p *Plan) assemblyAnswer() Chapter {
	c := Chapter{ID: AssemblyChapter, Title: "Assembly"}
	if !p.Together.Possible {
		c.Word, c.Answer = string(joint.DoesNotHold), p.Together.Findings[0].What
		return c
	}
	n := 0
	for _, g := range p.GlueUps.GlueUps {
		if len(g.Connections) > 0 {
			n++
		}
	}
	c.Answer = fmt.Sprintf("%s in an order that can be put together; %s", unit.Count(len(p.Together.Steps), "step", "steps"), unit.Count(n, "glue-up", "glue-ups"))
	if len(p.Fastenings) > 0 {
		then := ", then what is held without glue goes in"
		if slices.ContainsFunc(p.Fastenings, func(f fasten.Fastening) bool { return f.Way == fasten.Buttons || f.Way == fasten.SlottedScrews }) {
			then = ", then the top is fixed"
		}
		c.Answer += then
	}
	if p.Assembly.Fixed != "" {
		c.Answer += ", then it is fixed to the wall"
	}
	return c
}
