package workbook

import (
	"longgrain/internal/book/template"
	"longgrain/internal/paper/document"
)

// templates writes the paper templates, each at full size, under a heading.
func (b *book) templates() {
	b.fullSize(true)
}

// templatesAlone writes the paper templates as a chapter of their own.
func (b *book) templatesAlone() {
	b.fullSize(false)
}

func (b *book) fullSize(headed bool) {
	sheets := template.Make(b.plan.Assembly, b.plan.Markout, template.Room{Width: b.room.Width, Height: b.room.Height})
	if len(sheets) == 0 {
		return
	}
	if headed {
		b.Heading(2, "templates", "Full-size templates")
	}
	b.Paragraph("Print these sheets at 100 % and measure both bars before use: a print that is 1 % small puts a hole of a long part millimetres off. Cut along the thin lines. Lay the words on the sides of the part that are taped with them, prick the crosses through with an awl, and bore there. A template lies on the side that is named, printed side up.")
	for _, s := range sheets {
		b.Add(document.Template{ID: s.ID, Scene: s.Scene, Caption: s.Caption})
	}
}
