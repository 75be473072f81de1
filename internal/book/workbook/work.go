package workbook

import (
	"fmt"
	"slices"
	"strings"

	"longgrain/internal/ground/unit"
	"longgrain/internal/paper/document"
	"longgrain/internal/plan"
	"longgrain/internal/trade/coating"
	"longgrain/internal/work/cost"
	"longgrain/internal/work/finishing"
)

func texts(lines []string) []document.Text {
	out := make([]document.Text, len(lines))
	for i, l := range lines {
		out[i] = document.Words(upperFirst(l))
	}
	return out
}

// findings prints boxes for findings of any chapter.
func (b *book) findings(n int, of func(i int) (where, what, advice string)) {
	for i := range n {
		where, what, advice := of(i)
		b.Add(document.Box{Kind: document.Caution, Title: upperFirst(where), Text: []document.Text{document.Words(fullStop(what) + " " + fullStop(advice))}})
	}
}

// finish writes the steps of the finish with cautions where the materials appear.
func (b *book) finish() {
	f := b.plan.Finishing
	b.findings(len(f.Findings), func(i int) (string, string, string) {
		return f.Findings[i].Where, f.Findings[i].What, f.Findings[i].Advice
	})
	if f.TestPiece != "" {
		b.Add(document.Box{Kind: document.Note, Title: "First a test piece", Text: []document.Text{document.Words(upperFirst(f.TestPiece))}})
	}
	if len(f.Products) > 0 {
		t := document.NewTable(document.TextColumn("Product"), document.NumberColumn("Coats"), document.NumberColumn("Litres"), document.NumberColumn("Tins"), document.TextColumn("Note"))
		t.Caption = "What to have ready, losses counted" + forAll(b.plan.Copies) + ". The label decides about coverage and drying."
		for _, p := range f.Products {
			tins := "–"
			if p.Tins > 0 {
				tins = fmt.Sprintf("%d of %.2f L", p.Tins, float64(p.Tin))
			}
			t.Row(upperFirst(p.Name), fmt.Sprint(p.Coats), fmt.Sprintf("%.2f", float64(p.Litres)), tins, productNote(p))
		}
		b.Add(*t)
	}
	b.steps(f, true, "On the single parts, before gluing together")
	b.masks(f)
	b.steps(f, false, "On the piece")
	b.Add(document.Paragraph{Text: document.Words("").Strong("Blotches, " + string(f.Blotch.Risk) + ": ").Plain(upperFirst(f.Blotch.Why) + " " + b.cite(f.Blotch.Cite))})
	for _, n := range f.Notes {
		b.Paragraph(upperFirst(n))
	}
	b.working(f.Working)
}

// covers prints how far a litre goes; litres what a step takes.
func covers(s finishing.Step) string {
	if s.Covers == 0 {
		return "–"
	}
	return fmt.Sprintf("%.0f m²/L", s.Covers)
}

func litres(s finishing.Step) string {
	if s.Covers == 0 {
		return "–"
	}
	return fmt.Sprintf("%.2f", float64(s.Litres))
}

// eachOf says that a table is of one piece, where several are made.
func eachOf(copies int) string {
	if copies < 2 {
		return ""
	}
	return fmt.Sprintf("; each of the %d pieces", copies)
}

// productNote tells how much dye powder is weighed.
func productNote(p finishing.ProductUse) string {
	if p.Powder == 0 {
		return p.Note
	}
	return fmt.Sprintf("about %.0f g of powder; %s", float64(p.Powder), p.Note)
}

// forAll says that a figure is of all copies, where there are several.
func forAll(copies int) string {
	if copies < 2 {
		return ""
	}
	return fmt.Sprintf(", for all %d pieces", copies)
}

func (b *book) steps(f finishing.Plan, before bool, title string) {
	t := document.NewTable(document.CentreColumn(""), document.TextColumn("Step"), document.NumberColumn("Area"), document.NumberColumn("Covers"), document.NumberColumn("Litres"), document.NumberColumn("Work"), document.NumberColumn("Then wait"), document.TextColumn("Note"))
	t.Caption = title + eachOf(f.Copies)
	var hazards []coating.Hazard
	for _, s := range f.Steps {
		if s.Before != before {
			continue
		}
		name := string(s.Action)
		if s.Product != "" {
			name += " " + s.Product
		}
		if s.Grit != "" {
			name += " " + s.Grit
		}
		t.Cells(document.TickCell(), document.WordCell(upperFirst(name)), document.WordCell(fmt.Sprintf("%.2f m²", float64(s.Area))), document.WordCell(covers(s)), document.WordCell(litres(s)), document.WordCell(minutes(s.Work)), document.WordCell(minutes(s.Wait)), document.WordCell(upperFirst(s.Note)))
		for _, h := range s.Hazards {
			if !slices.ContainsFunc(hazards, func(x coating.Hazard) bool { return x.ID == h.ID }) {
				hazards = append(hazards, h)
			}
		}
	}
	if len(t.Rows) == 0 {
		return
	}
	b.Add(*t)
	for _, h := range hazards {
		text := document.Words(fullStop(h.Control))
		if h.Stop != "" {
			text = text.Plain(" ").Strong(fullStop(h.Stop))
		}
		b.Add(document.Box{Kind: document.Warning, Title: upperFirst(h.Hazard), Text: []document.Text{text}})
	}
}

func (b *book) masks(f finishing.Plan) {
	if len(f.Masks) == 0 {
		return
	}
	byWhat := map[string][]string{}
	var order []string
	for _, m := range f.Masks {
		key := m.Where + ", " + m.What
		if byWhat[key] == nil {
			order = append(order, key)
		}
		byWhat[key] = append(byWhat[key], m.Mark)
	}
	var items []document.Text
	for _, key := range order {
		items = append(items, document.Words("").Strong(strings.Join(byWhat[key], " ")).Plain(": "+key))
	}
	b.Add(document.Paragraph{Text: document.Words("").Strong("Tape over before colouring: ").Plain("glue does not hold on finish.")}, document.Checklist{Items: items})
}

// cost writes the estimate, with room for what it really came to.
func (b *book) cost() {
	p := b.plan.Cost
	t := document.NewTable(document.TextColumn("What"), document.NumberColumn("Quantity"), document.TextColumn("Unit"), document.NumberColumn("Each"), document.NumberColumn("Total"), document.TextColumn("Price from"), document.TextColumn("Actual"))
	t.Caption = fmt.Sprintf("Estimate, %s, for %s", p.Currency, unit.Count(p.Copies, "piece", "pieces"))
	for _, c := range cost.Chapters {
		var rows []cost.Row
		for _, r := range p.Rows {
			if r.Chapter == c {
				rows = append(rows, r)
			}
		}
		if len(rows) == 0 {
			continue
		}
		t.Group(upperFirst(string(c)) + ", " + p.Sums[c].String())
		for _, r := range rows {
			each, total := r.Each.String(), r.Total.String()
			if !r.Priced {
				each, total = "no price", ""
			}
			t.Row(upperFirst(r.Name), strings.TrimSuffix(strings.TrimRight(fmt.Sprintf("%.2f", r.Quantity), "0"), "."), r.Unit, each, total, r.Source, "")
		}
	}
	t.Total("Total", "", "", "", p.Total.String(), "", "")
	b.Add(*t)
	if len(p.Missing) > 0 {
		b.Paragraph("Without a price: " + strings.Join(p.Missing, ", ") + ". Add prices to the shop file.")
	}
	b.Paragraph("Tools, rent and power are not counted.")
}

// assembly writes in what order the parts go together.
func (b *book) assembly() {
	b.together()
	b.Heading(2, "assembly-glue", "With glue")
	items := b.panelSteps()
	for _, u := range b.plan.GlueUps.GlueUps {
		if len(u.Connections) == 0 {
			continue
		}
		var joints []string
		for _, c := range u.Connections {
			joints = append(joints, b.plan.Assembly.Connections[c].Name)
		}
		text := document.Words("").Strong(fmt.Sprintf("Glue-up %d, %s", u.Number, u.Name)).Plain(": " + strings.Join(joints, "; ") + ". Check both diagonals and sight for wind before the glue sets.")
		items = append(items, b.refer(text, " Clamps and times: ", plan.GlueupsChapter, fmt.Sprintf("glueup-%d", u.Number)))
	}
	for _, i := range b.plan.GlueUps.Loose {
		if c := b.plan.Assembly.Connections[i]; c.Purpose == "joint" {
			items = append(items, document.Words("").Strong("Screwed").Plain(": "+c.Name+"."))
		}
	}
	items = append(items, b.heldSteps()...)
	b.Add(document.List{Ordered: true, Items: items})
	b.wall()
	b.Add(document.Box{Kind: document.Caution, Title: "Children", Text: []document.Text{document.Words("Round every edge and corner that a child can fall against, leave no hole between 7 and 12 mm that holds a finger, and keep small parts fixed. Common practice; the rules for children's furniture where you live come first.")}})
}
