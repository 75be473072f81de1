package workbook

import (
	"fmt"
	"slices"
	"strings"

	"longgrain/internal/book/drawing"
	"longgrain/internal/design/assembly"
	"longgrain/internal/paper/document"
	"longgrain/internal/plan"
)

// Labels writes pages of labels to cut out, one for each part of each copy. address is where the piece is to be seen, such as
// "http://workshop:8080/piece/7": the code of a label then leads to its part; without it the code says what the label says.
func Labels(p plan.Plan, o Options, address string) document.Document {
	b := newBook(p, o)
	var labels []drawing.Label
	for n := range max(1, p.Copies) {
		for i := range p.Assembly.Parts {
			labels = append(labels, b.label(i, n, address))
		}
	}
	number := 0
	for page := range slices.Chunk(labels, drawing.LabelsPerPage(o.Height-labelMargin)) {
		if number > 0 {
			b.Add(document.PageBreak{})
		}
		number++
		b.Figure(fmt.Sprintf("labels-%d", number), drawing.Labels(page), "Labels. Stick each on the face of its part, the arrow to the edge; they come off before finishing")
	}
	return b.Document
}

// labelMargin is the height that the caption below the labels takes, mm.
const labelMargin = 20

// label returns the label of a part of one copy, the first being 0.
func (b *book) label(part, copied int, address string) drawing.Label {
	a := b.plan.Assembly
	p, s := a.Parts[part], b.plan.Markout.Sheets[part]
	l := drawing.Label{Mark: p.Mark, Name: p.Name, Piece: b.plan.Name, Face: s.FaceName, EndAtLeft: s.EndAtLeft(), Size: b.partSize(p)}
	if b.plan.Copies > 1 {
		l.Mark = fmt.Sprintf("%d.%s", copied+1, p.Mark)
	}
	for i, t := range s.Tapes {
		if strings.HasSuffix(t.Text, "TOP") {
			l.Top = [3]string{"face", "edge", "end"}[i]
		}
	}
	if address != "" {
		l.Link = strings.TrimSuffix(address, "/") + "#part-" + p.Mark
	} else {
		l.Link = strings.Join([]string{l.Piece, l.Mark, l.Name, l.Size}, " · ")
	}
	return l
}

// partSize prints length, width and thickness.
func (b *book) partSize(p assembly.Part) string {
	return p.Length.ShowNumber(b.family) + " × " + p.Width.ShowNumber(b.family) + " × " + p.Thickness.Show(b.family)
}
