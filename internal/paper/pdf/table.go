package pdf

import (
	"longgrain/internal/paper/document"
	"longgrain/internal/paper/scene"
)

// Faces and sizes of tables, in millimetres.
var (
	cellFace  = face{tableSize, tableLeading, scene.Words, scene.Regular}
	headFace  = face{points(8), tableLeading, scene.Words, scene.Bold}
	totalFace = face{tableSize, tableLeading, scene.Words, scene.Bold}
	faintFace = face{tableSize, tableLeading, scene.Muted, scene.Regular}
)

const (
	cellPadX  = 1.9
	cellPadY  = 1.0
	fullShare = 0.55 // a table that wants this share of the page is drawn over the whole width

	widestNumber = 30.0 // what is wider than this in a column of figures is taken for words
)

// table sets caption, head and rows; the head is repeated on each page, the caption keeps to the head
// and the head to the first two rows.
func (s *setter) table(t document.Table) {
	e := s.entry()
	widths := s.columnWidths(t)
	if t.Numbered() {
		s.caption(e, t.Caption, blockSpace, true)
	}
	head := s.headRow(t, widths)
	first := head
	first.keep, first.before, first.key = true, 1.0, ""
	if !t.Numbered() {
		first.before, first.key = blockSpace, e.Key
	}
	s.add(first)
	last := len(t.Rows) - 1
	for i, r := range t.Rows {
		parts := s.row(t, r, widths)
		for j := range parts {
			parts[j].head = &head
		}
		parts[len(parts)-1].keep = i == 0 && last > 0 || i == last-1 || r.Heading && i < last
		s.add(parts...)
	}
	s.space(blockSpace - paragraphSpace)
}

// caption sets "Figure 3: words" in the caption face.
func (s *setter) caption(e document.Entry, words string, before float64, keep bool) {
	t := document.Text{}.Strong(s.index.Caption(e.Kind) + "\u00A0" + e.Number + "\u00A0")
	if words != "" {
		t = t.Plain(" " + words)
	}
	from := len(s.out)
	s.text(captionFace, t, before)
	for i := from; i < len(s.out); i++ {
		s.out[i].keep = i < len(s.out)-1 || keep
	}
	s.out[from].key = e.Key
}

// columnWidths shares the page among the columns. Each gets at least its widest word, a column of
// figures its longest figure, so that figures are not broken at their spaces.
func (s *setter) columnWidths(t document.Table) []float64 {
	n := len(t.Columns)
	natural, least := make([]float64, n), make([]float64, n)
	grow := func(i int, f face, text document.Text, extra float64) {
		a, b := f.natural(text, s.name)
		if t.Columns[i].Align == document.End && a < widestNumber {
			b = a
		}
		natural[i] = max(natural[i], a+extra+2*cellPadX)
		least[i] = max(least[i], b+extra+2*cellPadX)
	}
	for i, c := range t.Columns {
		grow(i, headFace, document.Words(c.Head), 0)
	}
	for _, r := range t.Rows {
		if r.Heading {
			continue
		}
		for i, c := range r.Cells {
			if i < n {
				grow(i, cellFaceOf(r, c), c.Text, boxWidth(c))
			}
		}
	}
	widths := share(natural, least, s.sheet.frameWidth())
	if sum(natural) > s.sheet.frameWidth() && sum(least) < s.sheet.frameWidth() {
		s.balance(t, widths, least)
	}
	return widths
}

// share returns column widths that sum to no more than total. Where the columns want more than there
// is, narrow ones get what they want and the wide ones are cut to one common width.
func share(natural, least []float64, total float64) []float64 {
	wanted, needed := sum(natural), sum(least)
	switch {
	case wanted <= total*fullShare:
		return natural
	case wanted > total && needed > total:
		return capped(least, make([]float64, len(least)), total)
	case wanted > total:
		return capped(natural, least, total)
	}
	out := make([]float64, len(natural))
	for i := range out {
		out[i] = natural[i] * total / wanted
	}
	return out
}

// capped cuts columns to a common width, none below its least, so that they sum to total. The common
// width is found by halving; forty halvings of a page leave no error that could be seen.
func capped(natural, least []float64, total float64) []float64 {
	out := make([]float64, len(natural))
	low, high := 0.0, sum(natural)
	for range 40 {
		limit := (low + high) / 2
		for i := range out {
			out[i] = max(least[i], min(natural[i], limit))
		}
		if sum(out) > total {
			high = limit
		} else {
			low = limit
		}
	}
	for i := range out {
		out[i] = max(least[i], min(natural[i], low))
	}
	return out
}

func sum(v []float64) float64 {
	total := 0.0
	for _, x := range v {
		total += x
	}
	return total
}

func cellFaceOf(r document.Row, c document.Cell) face {
	switch {
	case r.Total || r.Heading || c.Tone == document.Bad:
		return totalFace
	case c.Tone == document.Faint:
		return faintFace
	}
	return cellFace
}

// boxWidth returns the room a tick box takes before the text of a cell.
func boxWidth(c document.Cell) float64 {
	switch {
	case !c.Box:
		return 0
	case c.Text.String() == "":
		return cellFace.height * 1.35
	}
	return cellFace.height*1.35 + 1.4
}

// headRow returns the head of a table: bold words standing on a rule.
func (s *setter) headRow(t document.Table, widths []float64) piece {
	p := piece{}
	sets := make([][]line, len(t.Columns))
	for i, c := range t.Columns {
		sets[i] = headFace.set(document.Words(c.Head), widths[i]-2*cellPadX, s.name)
		p.height = max(p.height, float64(len(sets[i]))*headFace.lineHeight())
	}
	p.height += 2 * cellPadY
	x := 0.0
	for i, c := range t.Columns {
		items, _ := headFace.draw(sets[i], x+cellPadX, widths[i]-2*cellPadX, c.Align)
		drop := p.height - cellPadY - float64(len(sets[i]))*headFace.lineHeight()
		p.items = append(p.items, scene.Scene{Items: items}.Moved(1, scene.Point{Y: -drop})...)
		x += widths[i]
	}
	p.items = append(p.items, level(scene.Detail, -p.height, x))
	return p
}

// level returns a level line from the left edge.
func level(style scene.Style, y, width float64) scene.Line {
	return scene.Line{Style: style, From: scene.Point{Y: y}, To: scene.Point{X: width, Y: y}}
}

// tallRow is the share of a page above which a row may be cut, and linesAtOnce how many of its lines
// then stay together.
const (
	tallRow     = 1.0 / 3
	linesAtOnce = 4
)

// row returns one row of a table with the rule below it: one piece, or several where a cell is very
// long.
func (s *setter) row(t document.Table, r document.Row, widths []float64) []piece {
	if r.Heading {
		widths = []float64{sum(widths)}
	}
	sets := make([][]line, len(widths))
	longest := 1
	for i := range min(len(widths), len(r.Cells)) {
		c := r.Cells[i]
		sets[i] = cellFaceOf(r, c).set(c.Text, widths[i]-2*cellPadX-boxWidth(c), s.name)
		longest = max(longest, len(sets[i]))
	}
	atOnce := longest
	if float64(longest)*cellFace.lineHeight() > s.sheet.frameHeight()*tallRow {
		atOnce = linesAtOnce
	}
	var out []piece
	for from := 0; from < longest; from += atOnce {
		part := make([][]line, len(sets))
		for i, lines := range sets {
			part[i] = lines[min(from, len(lines)):min(from+atOnce, len(lines))]
		}
		out = append(out, s.rowPart(t, r, part, widths, from == 0, from+atOnce >= longest))
	}
	if r.Total {
		out[0].items = append(out[0].items, level(scene.Detail, 0, sum(widths)))
	}
	out[len(out)-1] = out[len(out)-1].ruled(sum(widths))
	return out
}

// rowPart draws some lines of each cell of a row. Only the first part has free paper above and boxes to
// tick, only the last has free paper below.
func (s *setter) rowPart(t document.Table, r document.Row, sets [][]line, widths []float64, first, last bool) piece {
	longest := 1
	for _, lines := range sets {
		longest = max(longest, len(lines))
	}
	top, bottom := 0.0, 0.0
	if first {
		top = cellPadY
		if r.Heading {
			top = 2 * cellPadY
		}
	}
	if last {
		bottom = cellPadY
	}
	p := piece{height: top + float64(longest)*cellFace.lineHeight() + bottom}
	x := 0.0
	for i := range min(len(widths), len(r.Cells)) {
		c := r.Cells[i]
		c.Box = c.Box && first
		align := document.Start
		if !r.Heading {
			align = t.Columns[i].Align
		}
		items, links := s.cell(r, c, sets[i], widths[i], align, p.height, top)
		p.items = append(p.items, scene.Scene{Items: items}.Moved(1, scene.Point{X: x})...)
		for _, l := range links {
			p.links = append(p.links, link{scene.Box{Min: l.box.Min.Plus(x, 0), Max: l.box.Max.Plus(x, 0)}, l.ref})
		}
		x += widths[i]
	}
	return p
}

// ruled adds the light rule under a row.
func (p piece) ruled(width float64) piece {
	p.items = append(p.items, level(scene.Rule, -p.height, width))
	return p
}

// cell draws one cell of a row of the given height, its left edge at 0 and its text below top.
func (s *setter) cell(r document.Row, c document.Cell, lines []line, width float64, align document.Align, height, top float64) ([]scene.Item, []link) {
	const inset = 0.25 // keeps the ground of a cell off the rules around it
	var items []scene.Item
	if fill := toneFill(c.Tone); fill != scene.NoFill {
		items = append(items, scene.Rectangle(scene.NoLine, fill, scene.Point{X: inset, Y: -inset}, scene.Point{X: width - inset, Y: inset - height}))
	}
	y := -top
	left, room := cellPadX, width-2*cellPadX
	if c.Box {
		x := left
		if c.Text.String() == "" && align == document.Centre {
			x = (width - boxWidth(c)) / 2
		}
		items = append(items, scene.Scene{Items: tickBox(x, cellFace)}.Moved(1, scene.Point{Y: y})...)
		left, room = left+boxWidth(c), room-boxWidth(c)
	}
	texts, links := cellFaceOf(r, c).draw(lines, left, room, align)
	items = append(items, scene.Scene{Items: texts}.Moved(1, scene.Point{Y: y})...)
	for i := range links {
		links[i].box.Min.Y += y
		links[i].box.Max.Y += y
	}
	return items, links
}
