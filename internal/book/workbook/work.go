package workbook

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"longgrain/internal/book/drawing"
	"longgrain/internal/ground/unit"
	"longgrain/internal/paper/document"
	"longgrain/internal/trade/coating"
	"longgrain/internal/work/cost"
	"longgrain/internal/work/finishing"
	"longgrain/internal/work/glueup"
	"longgrain/internal/work/schedule"
)

// glueups writes what is glued and clamped in one go, with its clamps and times.
func (b *book) glueups() {
	g := b.plan.GlueUps
	b.findings(len(g.Findings), func(i int) (string, string, string) {
		return g.Findings[i].Where, g.Findings[i].What, g.Findings[i].Advice
	})
	t := document.NewTable(document.NumberColumn("No."), document.TextColumn("Glue-up"), document.NumberColumn("Glue, g"), document.NumberColumn("Clamps"), document.TextColumn("Pressure"), document.NumberColumn("Closed within"), document.NumberColumn("Clamped"), document.NumberColumn("Scrape after"))
	t.Caption = fmt.Sprintf("Glue: %s, at %.0f °C. The label of the bottle comes first.", g.Glue.Name, float64(g.Air.Temperature))
	for _, u := range g.GlueUps {
		t.Cells(document.WordCell(fmt.Sprint(u.Number)), document.WordCell(upperFirst(u.Name)), document.WordCell(fmt.Sprintf("%.0f", float64(u.Grams))), document.WordCell(fmt.Sprint(u.ClampCount())),
			pressureCell(u), document.WordCell(minutes(u.Allowed)), document.WordCell(minutes(u.ClampTime)), document.WordCell(minutes(u.Scrape.Value)))
	}
	b.Add(*t)
	for _, c := range g.Cautions {
		b.Add(document.Box{Kind: document.Caution, Text: []document.Text{document.Words(upperFirst(c))}})
	}
	for _, u := range g.GlueUps {
		b.glueup(u)
	}
	if len(g.GlueUps) > 0 {
		b.Heading(2, "glueup-working", "Working of the first glue-up")
		b.working(g.GlueUps[0].Working)
	}
	b.working(g.Working)
}

func pressureCell(u glueup.GlueUp) document.Cell {
	if u.Enough {
		return document.ToneCell(document.Good, "enough")
	}
	return document.ToneCell(document.Watch, fmt.Sprintf("%.2f of %.2f MPa", float64(u.Reached), float64(u.Pressure.Value)))
}

// minutes prints a time for the bench: minutes up to two hours, then hours.
func minutes(m unit.Minutes) string {
	switch {
	case m <= 0:
		return "–"
	case m < 120:
		return fmt.Sprintf("%.0f min", float64(m))
	case m < 48*60:
		return strings.TrimSuffix(fmt.Sprintf("%.1f", float64(m)/60), ".0") + " h"
	}
	return strings.TrimSuffix(fmt.Sprintf("%.1f", float64(m)/60/24), ".0") + " days"
}

func (b *book) glueup(u glueup.GlueUp) {
	b.Heading(2, fmt.Sprintf("glueup-%d", u.Number), fmt.Sprintf("Glue-up %d: %s", u.Number, u.Name))
	var clamps []string
	for _, c := range u.Clamps {
		clamps = append(clamps, fmt.Sprintf("%d × %s", c.Count, c.Name))
	}
	b.Add(document.Summary{Pairs: []document.Pair{
		{Name: "Clamps", Value: document.Words(strings.Join(clamps, ", "))},
		{Name: "Glue surface", Value: document.Words(fmt.Sprintf("%.0f cm²", float64(u.Area)*1e4))},
		{Name: "Spread and close", Value: document.Words(fmt.Sprintf("about %s of %s allowed", minutes(u.Closing), minutes(u.Allowed)))},
		{Name: "Machine after", Value: document.Words(minutes(u.MachineAfter))},
	}})
	if len(u.Instructions) > 0 {
		b.Add(document.Checklist{Items: texts(u.Instructions)})
	}
	if len(u.Cautions) > 0 {
		b.Add(document.Box{Kind: document.Caution, Text: texts(u.Cautions)})
	}
}

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
		t.Caption = "What to have ready, losses counted. The label decides about coverage and drying."
		for _, p := range f.Products {
			tins := "–"
			if p.Tins > 0 {
				tins = fmt.Sprintf("%d of %.2f L", p.Tins, float64(p.Tin))
			}
			t.Row(upperFirst(p.Name), fmt.Sprint(p.Coats), fmt.Sprintf("%.2f", float64(p.Litres)), tins, p.Powder)
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

func (b *book) steps(f finishing.Plan, before bool, title string) {
	t := document.NewTable(document.CentreColumn(""), document.TextColumn("Step"), document.NumberColumn("Area"), document.NumberColumn("Work"), document.NumberColumn("Then wait"), document.TextColumn("Note"))
	t.Caption = title
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
		t.Cells(document.TickCell(), document.WordCell(upperFirst(name)), document.WordCell(fmt.Sprintf("%.2f m²", float64(s.Area))), document.WordCell(minutes(s.Work)), document.WordCell(minutes(s.Wait)), document.WordCell(upperFirst(s.Note)))
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

// order writes what is done on which day.
func (b *book) order() {
	s := b.plan.Schedule
	b.findings(len(s.Findings), func(i int) (string, string, string) {
		return s.Findings[i].Where, s.Findings[i].What, s.Findings[i].Advice
	})
	if len(s.Days) == 0 {
		return
	}
	b.timeChart()
	b.Add(document.Summary{Pairs: []document.Pair{
		{Name: "Work", Value: document.Words(fmt.Sprintf("%.1f hours of all people together", float64(s.Attended)/60))},
		{Name: "Sessions", Value: document.Words(fmt.Sprint(s.Sessions))},
		{Name: "Waiting", Value: document.Words(minutes(s.Waiting))},
		{Name: "Done", Value: document.Words(s.End.Date() + ", " + proofOfEnd(s))},
	}})
	for _, n := range s.Notes {
		b.Paragraph(upperFirst(n))
	}
	for _, d := range s.Days {
		var items []document.Text
		for _, e := range d.Entries {
			items = append(items, document.Words(e.Text))
		}
		b.Add(document.Together{Blocks: []document.Block{document.Heading{Level: 3, Text: d.Title, Plain: true}, document.Checklist{Items: items}}})
	}
	b.Paragraph("Working times are assumed; write down what a task really took, and the next plan is better.")
}

func proofOfEnd(s schedule.Plan) string {
	if s.Proven {
		return "no order of these tasks ends earlier"
	}
	return "no order ends before " + s.Bound.Date()
}

// chartRows is the number of tasks on one time chart: more make its lettering too small.
const chartRows = 24

// timeChart draws the tasks over the days, on as many charts as it takes.
func (b *book) timeChart() {
	s := b.plan.Schedule
	first := s.Days[0].Date
	day := func(l schedule.Local) float64 { return l.Sub(first.Time).Hours() / 24 }
	var rows []drawing.TimeRow
	for _, t := range s.Tasks {
		row := drawing.TimeRow{Name: shortened(t.Name)}
		for _, span := range t.Sittings {
			row.Bars = append(row.Bars, drawing.TimeBar{From: day(span.From), To: day(span.To), Kind: drawing.WorkBar})
		}
		if len(t.Sittings) == 0 && t.Kind == schedule.Wait {
			row.Bars = append(row.Bars, drawing.TimeBar{From: day(t.Start), To: day(t.End), Kind: drawing.WaitBar})
		}
		if len(row.Bars) > 0 {
			rows = append(rows, row)
		}
	}
	number := 0
	for chunk := range slices.Chunk(rows, chartRows) {
		number++
		chart := drawing.Times{Title: fmt.Sprintf("Order of work, %d", number), Rows: chunk, Marks: weeks(first, s.End)}
		b.Figure(fmt.Sprintf("order-%d", number), drawing.TimeChart(chart, b.style()), "Solid: hands are busy. Open: drying, curing, resting")
	}
}

// weeks marks the first day and every Monday after it; the last mark ends the chart.
func weeks(first, end schedule.Local) []drawing.TimeMark {
	var marks []drawing.TimeMark
	days := 0
	for d := first.Time; !d.After(end.Time); d = d.AddDate(0, 0, 1) {
		if days == 0 || d.Weekday() == time.Monday {
			marks = append(marks, drawing.TimeMark{At: float64(days), Name: d.Format("2 Jan")})
		}
		days++
	}
	return append(marks, drawing.TimeMark{At: float64(days)})
}

// longestTask is how many letters of a task's name a time chart shows.
const longestTask = 34

func shortened(name string) string {
	runes := []rune(name)
	if len(runes) <= longestTask {
		return name
	}
	return strings.TrimSpace(string(runes[:longestTask-1])) + "…"
}

// cost writes the estimate, with room for what it really came to.
func (b *book) cost() {
	p := b.plan.Cost
	t := document.NewTable(document.TextColumn("What"), document.NumberColumn("Quantity"), document.TextColumn("Unit"), document.NumberColumn("Each"), document.NumberColumn("Total"), document.TextColumn("Price from"), document.TextColumn("Actual"))
	t.Caption = fmt.Sprintf("Estimate, %s, for %s", p.Currency, plural(p.Copies, "piece", "pieces"))
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
	var items []document.Text
	for _, u := range b.plan.GlueUps.GlueUps {
		if len(u.Connections) == 0 {
			continue
		}
		var joints []string
		for _, c := range u.Connections {
			joints = append(joints, b.plan.Assembly.Connections[c].Name)
		}
		items = append(items, document.Words("").Strong(fmt.Sprintf("Glue-up %d, %s", u.Number, u.Name)).Plain(": "+strings.Join(joints, "; ")+". Check both diagonals and sight for wind before the glue sets."))
	}
	for _, i := range b.plan.GlueUps.Loose {
		if c := b.plan.Assembly.Connections[i]; c.Purpose == "joint" {
			items = append(items, document.Words("").Strong("Screwed").Plain(": "+c.Name+"."))
		}
	}
	if len(b.plan.Fastenings) > 0 {
		tops := map[string][]string{}
		var order []string
		for _, f := range b.plan.Fastenings {
			if tops[f.Top] == nil {
				order = append(order, f.Top)
			}
			tops[f.Top] = append(tops[f.Top], f.Rail)
		}
		for _, top := range order {
			items = append(items, document.Words("").Strong("Fix the "+top).Plain(": lay it on its face, centre the frame on it, and screw the buttons so that their tongues stand as the slots ask, on "+strings.Join(tops[top], ", ")+". No glue."))
		}
	}
	b.Add(document.List{Ordered: true, Items: items})
	b.Add(document.Box{Kind: document.Caution, Title: "Children", Text: []document.Text{document.Words("Round every edge and corner that a child can fall against, leave no hole between 7 and 12 mm that holds a finger, and keep small parts fixed. Common practice; the rules for children's furniture where you live come first.")}})
}
