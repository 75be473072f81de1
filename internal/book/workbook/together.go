package workbook

import (
	"fmt"

	"longgrain/internal/book/drawing"
	"longgrain/internal/check/fit"
	"longgrain/internal/paper/document"
)

// together writes the order in which the parts go in, with small pictures, as a list to tick off in the dry fit.
func (b *book) together() {
	o := b.plan.Together
	b.misfits(o.Findings)
	if len(o.Steps) == 0 {
		return
	}
	b.Heading(2, "assembly-order", "What goes in first")
	if o.Possible {
		b.Paragraph("Each step was tried: pushed straight in this direction, nothing runs into anything. Parts are pushed in straight lines only, never turned or bent.")
	}
	for from := 0; from < len(o.Steps); from += drawing.StepsPerPicture {
		to := min(from+drawing.StepsPerPicture, len(o.Steps))
		caption := fmt.Sprintf("Steps %d to %d. Dark: what comes. Arrow: which way it is pushed", from+1, to)
		b.Figure(fmt.Sprintf("together-%d", from+1), drawing.Together(b.plan.Assembly, o, from, to, b.style()), caption)
	}
	b.Heading(2, "dry-fit", "Dry fit")
	b.Paragraph("Put everything together dry first, with all clamps and battens set to width, and time it. Mark each joint on both parts before taking it apart. If it takes more than 60 % of the time that the glue leaves, split the glue-up (assumed).")
	var items []document.Text
	for i, s := range o.Steps {
		items = append(items, document.Words("").Strong(fmt.Sprintf("%d. ", i+1)).Plain(upperFirst(b.plan.StepWords(s))))
	}
	items = append(items,
		document.Words("Shoulders closed all round, by hand pressure alone. A joint that needs a hammer now will not close with glue."),
		document.Words("Both diagonals equal within 1 mm for each metre (assumed), and no wind over two straight sticks."),
		document.Words("Everything wide that moves through the year slides in its fastenings."))
	b.Add(document.Checklist{Items: items})
}

// misfits prints findings of the fit check, those without wood left first.
func (b *book) misfits(all []fit.Finding) {
	for _, f := range fit.Worst(all) {
		b.Add(document.Box{Kind: document.Warning, Title: upperFirst(f.Where), Text: []document.Text{document.Words(fullStop(f.What) + " " + fullStop(f.Advice))}})
	}
}
