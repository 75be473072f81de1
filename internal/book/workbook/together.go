package workbook

import (
	"fmt"
	"strings"

	"longgrain/internal/book/drawing"
	"longgrain/internal/check/fit"
	"longgrain/internal/design/assembly"
	"longgrain/internal/ground/geom"
	"longgrain/internal/ground/unit"
	"longgrain/internal/paper/document"
	"longgrain/internal/plan"
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
		items = append(items, document.Words("").Strong(fmt.Sprintf("%d. ", i+1)).Plain(b.stepWords(s)))
	}
	items = append(items,
		document.Words("Shoulders closed all round, by hand pressure alone. A joint that needs a hammer now will not close with glue."),
		document.Words("Both diagonals equal within 1 mm for each metre (assumed), and no wind over two straight sticks."),
		document.Words("Everything wide that moves through the year slides in its fastenings."))
	b.Add(document.Checklist{Items: items})
}

// StepWords says what a step of putting a plan's piece together does: "Low rail left onto leg front left, pushed to the front
// by 19 mm".
func StepWords(p plan.Plan, s fit.Step) string { return newBook(p, Options{}).stepWords(s) }

func (b *book) stepWords(s fit.Step) string {
	text := upperFirst(b.partList(s.Moving)) + " onto " + b.partList(s.Onto) + ", " + pushed(s.Direction)
	if s.Travel > 0 {
		text += " by " + unit.MM(s.Travel).Show(b.family)
	}
	var closes []string
	for _, c := range s.Closes {
		closes = append(closes, b.plan.Assembly.Connections[c].Name)
	}
	if len(s.Moving)+len(s.Onto) > 2 && len(closes) > 0 {
		text += ". Closes " + strings.Join(closes, "; ")
	}
	return text + "."
}

// partList names parts with their marks; of many, how many they are.
func (b *book) partList(parts []int) string {
	const most = 4
	var names []string
	for _, i := range parts {
		p := b.plan.Assembly.Parts[i]
		if len(parts) > most {
			names = append(names, p.Mark)
		} else {
			names = append(names, p.Name+" "+p.Mark)
		}
	}
	if len(parts) > most {
		return "what is together: " + strings.Join(names, ", ")
	}
	return assembly.Describe(names)
}

// pushed says which way something goes.
func pushed(d geom.Vec) string {
	words := []struct {
		toward geom.Vec
		word   string
	}{
		{geom.Vec{X: 1}, "pushed to the right"}, {geom.Vec{X: -1}, "pushed to the left"}, {geom.Vec{Y: 1}, "pushed to the back"},
		{geom.Vec{Y: -1}, "pushed to the front"}, {geom.Vec{Z: 1}, "pushed up"}, {geom.Vec{Z: -1}, "set down"},
	}
	best, most := "", -2.0
	for _, w := range words {
		if x := d.Dot(w.toward); x > most+1e-9 {
			best, most = w.word, x
		}
	}
	return best
}

// misfits prints findings of the fit check, those without wood left first.
func (b *book) misfits(all []fit.Finding) {
	for _, f := range fit.Worst(all) {
		b.Add(document.Box{Kind: document.Warning, Title: upperFirst(f.Where), Text: []document.Text{document.Words(fullStop(f.What) + " " + fullStop(f.Advice))}})
	}
}
