package workbook

import (
	"fmt"
	"slices"
	"strings"

	"longgrain/internal/ground/unit"
	"longgrain/internal/paper/document"
	"longgrain/internal/work/glueup"
)

// glueups writes what is glued and clamped in one go, with its clamps and times.
func (b *book) glueups() {
	g := b.plan.GlueUps
	b.findings(len(g.Findings), func(i int) (string, string, string) {
		return g.Findings[i].Where, g.Findings[i].What, g.Findings[i].Advice
	})
	t := document.NewTable(document.NumberColumn("No."), document.TextColumn("Glue-up"), document.NumberColumn("Glue, g"), document.NumberColumn("Clamps"), document.TextColumn("Pressure"), document.NumberColumn("Closed within"), document.NumberColumn("Clamped"), document.NumberColumn("Scrape after"))
	t.Caption = fmt.Sprintf("Glue: %s, at %.0f °C. The label of the bottle comes first.", g.Glue.Name, float64(g.Air.Temperature))
	if g.Copies > 1 {
		t.Caption += fmt.Sprintf(" Grams and clamps are for one go; all %d pieces take %s.", g.Copies, glueInAll(g))
	}
	for _, u := range g.GlueUps {
		t.Cells(document.WordCell(fmt.Sprint(u.Number)), document.WordCell(upperFirst(u.Name)), document.AskedCell(fmt.Sprintf("%.0f", float64(u.Grams))), document.AskedCell(fmt.Sprint(u.ClampCount())),
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

// glueInAll tells how much of each glue all copies take, losses counted.
func glueInAll(g glueup.Plan) string {
	var out []string
	for _, u := range g.Use {
		out = append(out, fmt.Sprintf("%.0f g of %s", float64(u.Grams), u.Glue.Name))
	}
	return strings.Join(out, ", ")
}

func (b *book) glueup(u glueup.GlueUp) {
	b.Heading(2, fmt.Sprintf("glueup-%d", u.Number), fmt.Sprintf("Glue-up %d: %s", u.Number, u.Name))
	pairs := []document.Pair{
		{Name: "Clamps", Value: document.Text{}.Asked(clampWords(u.Clamps), document.Plain, "")},
		{Name: "Glue surface", Value: document.Words(fmt.Sprintf("%.0f cm²", float64(u.Area)*1e4))},
		{Name: "Spread and close", Value: document.Words(fmt.Sprintf("about %s of %s allowed", minutes(u.Closing), minutes(u.Allowed)))},
		{Name: "Machine after", Value: document.Words(minutes(u.MachineAfter))},
	}
	switch {
	case u.Pressure.Value > 0 && (u.Kind == glueup.Frame || u.Kind == glueup.Assembly) && u.Enough:
		pairs = append(pairs, document.Pair{Name: "Pressure", Value: document.Words("tighten until the shoulders close, no more")})
	case u.Pressure.Value > 0:
		pairs = append(pairs, document.Pair{Name: "Pressure", Value: document.Words(fmt.Sprintf("%.2f MPa reached, %.2f to %.2f are published", float64(u.Reached), float64(u.Pressure.Low), float64(u.Pressure.High)))})
	}
	if len(u.After) > 0 {
		pairs = append(pairs, document.Pair{Name: "After", Value: document.Words("glue-up " + numbers(u.After))})
	}
	if u.Sets > 1 {
		pairs = append(pairs, document.Pair{Name: "Set", Value: document.Words(fmt.Sprintf("%d of %d: clamps or time do not suffice for all at once", u.Set, u.Sets))})
	}
	if n := len(u.Runs); n > 1 || u.Pieces() > 1 {
		text := fmt.Sprintf("%d goes, one for each piece", n)
		if u.Pieces() > 1 {
			text = fmt.Sprintf("%d goes, %d pieces to a go", n, u.Pieces())
		}
		if more := len(u.Others); more > 0 {
			text += fmt.Sprintf("; clamps suffice for %d at a time", more+1)
		}
		pairs = append(pairs, document.Pair{Name: "For the copies", Value: document.Words(text)})
	}
	b.Add(document.Summary{Pairs: pairs})
	b.presses(u)
	if len(u.Instructions) > 0 {
		b.Add(document.Checklist{Items: texts(u.Instructions)})
	}
	if len(u.Cautions) > 0 {
		b.Add(document.Box{Kind: document.Caution, Text: texts(u.Cautions)})
	}
}

func clampWords(uses []glueup.ClampUse) string {
	var out []string
	for _, c := range uses {
		out = append(out, fmt.Sprintf("%d × %s", c.Count, c.Name))
	}
	if len(out) == 0 {
		return "none of the shop serves"
	}
	return strings.Join(out, ", ")
}

func numbers(list []int) string {
	var out []string
	for _, n := range list {
		out = append(out, fmt.Sprint(n))
	}
	return strings.Join(out, ", ")
}

// presses lists every line of clamps: force, clamps by kind, how far apart, and what they must open and reach. Lines alike
// stand in one row.
func (b *book) presses(u glueup.GlueUp) {
	f := b.plan.Family
	t := document.NewTable(document.TextColumn("Where"), document.NumberColumn("Force"), document.TextColumn("Clamps"), document.NumberColumn("Apart"), document.NumberColumn("Opens"), document.NumberColumn("Reaches"), document.NumberColumn("By force"), document.NumberColumn("By spacing"))
	type row struct {
		where []string
		cells []string
	}
	var rows []row
	for _, p := range u.Presses {
		count := 0
		for _, c := range p.Clamps {
			count += c.Count
		}
		by := "–"
		if p.ByForce > 0 {
			by = fmt.Sprint(p.ByForce)
		}
		apart := "–"
		if count > 1 {
			apart = p.Apart(count).Show(f)
		}
		cells := []string{fmt.Sprintf("%.1f kN", float64(p.Force)/1000), clampWords(p.Clamps), apart, p.Opening.Show(f), p.Reach.Show(f), by, fmt.Sprint(p.BySpacing)}
		if n := len(rows); n > 0 && slices.Equal(rows[n-1].cells, cells) {
			rows[n-1].where = append(rows[n-1].where, p.Where)
			continue
		}
		rows = append(rows, row{[]string{p.Where}, cells})
	}
	for _, r := range rows {
		t.Cells(askedRow([]int{1, 2, 3, 6, 7}, append([]string{upperFirst(strings.Join(r.where, ", "))}, r.cells...)...)...)
	}
	if len(rows) > 0 {
		b.Add(*t)
	}
}
