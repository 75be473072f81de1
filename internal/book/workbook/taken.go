package workbook

import (
	"strings"

	"longgrain/internal/paper/document"
)

// taken lists what the shop file does not say and what stands in for it.
func (b *book) taken() {
	if len(b.plan.Shop.Defaults) == 0 {
		return
	}
	b.Heading(2, "taken", "What the shop file does not say")
	b.Paragraph("For these the usual value was taken. Put your own under the name on the left, and the plan follows it.")
	t := document.NewTable(document.TextColumn("Name in the shop file"), document.TextColumn("Taken"), document.TextColumn("Source"))
	for _, d := range b.plan.Shop.Defaults {
		value := strings.ReplaceAll(d.Text, ";", ", ")
		if value == "" {
			value = "nothing"
		}
		if d.Note != "" {
			value += " (" + d.Note + ")"
		}
		t.Row(d.Path, value, b.cite(d.Cite))
	}
	b.Add(*t)
}
