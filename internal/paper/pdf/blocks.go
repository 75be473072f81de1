package pdf

import (
	"fmt"
	"strconv"

	"longgrain/internal/paper/document"
	"longgrain/internal/paper/scene"
)

// Faces of running text.
var (
	bodyFace    = face{bodySize, bodyLeading, scene.Words, scene.Regular}
	captionFace = face{captionSize, bodyLeading, scene.Words, scene.Regular}
	smallFace   = face{smallSize, bodyLeading, scene.Muted, scene.Regular}
)

// headingFaces are the looks of heading levels 1, 2, 3 and deeper.
var headingFaces = [4]face{
	{points(19), 1.2, scene.Words, scene.Bold},
	{points(13), 1.25, scene.Words, scene.Bold},
	{points(10.5), 1.3, scene.Words, scene.Bold},
	{points(9.5), 1.3, scene.Words, scene.Oblique},
}

// Vertical space in millimetres above a block.
const (
	paragraphSpace = 2.2
	blockSpace     = 4.0
	itemSpace      = 0.9
)

var headingSpace = [4]float64{10, 7.5, 5.5, 4}

// measure is the widest line of running text in millimetres: about 85 letters, the most that reads well.
const measure = 152

// setter turns blocks into pieces.
type setter struct {
	sheet   sheet
	index   *document.Index
	wording document.Wording
	pages   map[string]int // page of each entry as found by the last pass
	next    int            // index of the next entry met
	out     []piece
}

// name returns the printed name of a reference, with its page once that is known.
func (s *setter) name(id string) string {
	name := s.index.Name(id)
	if e, ok := s.index.Find(id); ok {
		if n := s.pages[e.Key]; n > 0 {
			name += fmt.Sprintf(" (%s\u00A0%d)", s.wording.Page, n)
		}
	}
	return name
}

func (s *setter) add(p ...piece) { s.out = append(s.out, p...) }

// entry returns the index entry of the block now being set.
func (s *setter) entry() document.Entry {
	e := s.index.Entries[s.next]
	s.next++
	return e
}

func (s *setter) blocks(blocks []document.Block) {
	for _, b := range blocks {
		s.block(b)
	}
}

func (s *setter) block(b document.Block) {
	switch b := b.(type) {
	case document.Heading:
		s.heading(b)
	case document.Paragraph:
		s.text(bodyFace, b.Text, paragraphSpace)
	case document.SmallPrint:
		s.text(smallFace, b.Text, paragraphSpace)
	case document.List:
		s.list(b)
	case document.Checklist:
		for i, t := range b.Items {
			s.item(t, i, tickBox(0, bodyFace))
		}
	case document.Table:
		s.table(b)
	case *document.Table:
		s.table(*b)
	case document.Figure:
		s.figure(b)
	case document.Template:
		s.template(b)
	case document.Box:
		s.box(b)
	case document.Summary:
		s.summary(b.Pairs)
	case document.PageBreak:
		s.add(piece{fresh: true})
	case document.Together:
		s.together(b)
	default:
		panic(fmt.Sprintf("pdf: unknown block %T", b))
	}
}

// together sets blocks whose pieces all keep together.
func (s *setter) together(b document.Together) {
	from := len(s.out)
	s.blocks(b.Blocks)
	for i := from; i < len(s.out)-1; i++ {
		s.out[i].keep = true
	}
}

func (s *setter) heading(h document.Heading) {
	e := s.entry()
	level := min(max(h.Level, 1), len(headingFaces)) - 1
	f := headingFaces[level]
	text := document.Words(h.Text)
	indent := 0.0
	p := piece{before: headingSpace[level], keep: true, key: e.Key, title: &e}
	if e.Number != "" {
		indent = f.width(e.Number, f.weight) + scene.FontSize(f.height)*0.75
		p.items, _ = f.draw(f.set(document.Words(e.Number), indent, s.name), 0, indent, document.Start)
	}
	lines := f.set(text, s.sheet.frameWidth()-indent, s.name)
	items, _ := f.draw(lines, indent, s.sheet.frameWidth(), document.Start)
	p.items = append(p.items, items...)
	p.height = float64(len(lines)) * f.lineHeight()
	if level == 0 {
		p.height += 1.6
		y := -p.height
		p.items = append(p.items, scene.Line{Style: scene.Detail, From: scene.Point{Y: y}, To: scene.Point{X: s.sheet.frameWidth(), Y: y}})
		p.height += 1.2
	}
	s.add(p)
}

// text sets running text, a piece for each line; the first two and the last two lines of a paragraph
// stay together.
func (s *setter) text(f face, t document.Text, before float64) {
	s.indented(f, t, before, 0, nil)
}

// indented sets text at an indent with something to the left of its first line.
func (s *setter) indented(f face, t document.Text, before, indent float64, mark []scene.Item) {
	width := min(measure, s.sheet.frameWidth()) - indent
	lines := f.set(t, width, s.name)
	for i, l := range lines {
		items, links := f.draw([]line{l}, indent, width, document.Start)
		p := piece{height: f.lineHeight(), items: items, links: links}
		if i == 0 {
			p.before = before
			p.items = append(p.items, mark...)
		}
		p.keep = i < len(lines)-1 && (i == 0 || i == len(lines)-2)
		s.add(p)
	}
}

// itemIndent is where the text of a list item begins.
const itemIndent = 6.0

func (s *setter) list(l document.List) {
	for i, t := range l.Items {
		sign := "•"
		if l.Ordered {
			sign = strconv.Itoa(i+1) + "."
		}
		lines := bodyFace.set(document.Words(sign), itemIndent, s.name)
		mark, _ := bodyFace.draw(lines, 0, itemIndent-1.5, document.End)
		if !l.Ordered {
			mark, _ = bodyFace.draw(lines, 1.2, itemIndent, document.Start)
		}
		s.item(t, i, mark)
	}
}

// item sets one point of a list with its mark.
func (s *setter) item(t document.Text, i int, mark []scene.Item) {
	before := itemSpace
	if i == 0 {
		before = paragraphSpace
	}
	s.indented(bodyFace, t, before, itemIndent, mark)
}

// tickBox returns an empty box to tick, standing in the first line of text at x.
func tickBox(x float64, f face) []scene.Item {
	side := f.height * 1.35
	y := -f.firstBaseline() - f.height*0.2
	return []scene.Item{scene.Rectangle(scene.Detail, scene.NoFill, scene.Point{X: x, Y: y}, scene.Point{X: x + side, Y: y + side})}
}

// Sizes of boxes and summaries in millimetres.
const (
	boxPadding = 3.2
	boxBar     = 1.4
)

// boxLook gives the ground of a box and the style of its bar by rank.
func boxLook(k document.CautionKind) (scene.Fill, scene.Fill) {
	switch k {
	case document.Warning:
		return scene.BadFill, scene.InkFill
	case document.Caution:
		return scene.WatchFill, scene.InkFill
	}
	return scene.NoteFill, scene.WasteFill
}

// box sets a caution as one piece: a tinted ground with a bar at its left and the word in bold.
func (s *setter) box(b document.Box) {
	word := [...]string{s.wording.Note, s.wording.Caution, s.wording.Warning}[b.Kind]
	if b.Kind == document.Warning {
		word = "⚠ " + word
	}
	if b.Title != "" {
		word += ": " + b.Title
	}
	ground, bar := boxLook(b.Kind)
	width := s.sheet.frameWidth()
	inner := width - boxBar - 2*boxPadding
	x := boxBar + boxPadding
	y := -boxPadding + 0.8
	var items []scene.Item
	var links []link
	for i, t := range append([]document.Text{document.Text{}.Strong(word)}, b.Text...) {
		if i > 1 {
			y -= itemSpace
		}
		lines := bodyFace.set(t, inner, s.name)
		its, lks := bodyFace.draw(lines, x, inner, document.Start)
		items = append(items, scene.Scene{Items: its}.Moved(1, scene.Point{Y: y})...)
		for _, l := range lks {
			links = append(links, link{scene.Box{Min: l.box.Min.Plus(0, y), Max: l.box.Max.Plus(0, y)}, l.ref})
		}
		y -= float64(len(lines)) * bodyFace.lineHeight()
	}
	height := -y + boxPadding - 0.8
	if height > s.sheet.frameHeight() {
		s.longBox(b)
		return
	}
	back := []scene.Item{
		scene.Rectangle(scene.NoLine, ground, scene.Point{}, scene.Point{X: width, Y: -height}),
		scene.Rectangle(scene.NoLine, bar, scene.Point{}, scene.Point{X: boxBar, Y: -height}),
	}
	s.add(piece{height: height, before: blockSpace, items: append(back, items...), links: links})
	s.space(blockSpace - paragraphSpace)
}

// longBox sets a box too tall for a page: in two boxes, or, where one paragraph alone is too tall, as
// running text.
func (s *setter) longBox(b document.Box) {
	if half := len(b.Text) / 2; half > 0 {
		first, second := b, b
		first.Text, second.Text = b.Text[:half], b.Text[half:]
		s.box(first)
		s.box(second)
		return
	}
	for _, t := range b.Text {
		s.text(bodyFace, t, paragraphSpace)
	}
}

// space adds free paper that vanishes at the top of a page.
func (s *setter) space(h float64) { s.add(piece{before: h}) }

// summary sets facts in two columns of name and value, read down the first column, then the second.
func (s *setter) summary(pairs []document.Pair) {
	half := (len(pairs) + 1) / 2
	gap := 8.0
	column := (s.sheet.frameWidth() - gap) / 2
	for i := range half {
		p := piece{before: 0, keep: i < half-1}
		if i == 0 {
			p.before = blockSpace
		}
		for j, k := range []int{i, i + half} {
			if k >= len(pairs) {
				continue
			}
			x := float64(j) * (column + gap)
			items, links, h := s.pair(pairs[k], x, column)
			p.items, p.links = append(p.items, items...), append(p.links, links...)
			p.height = max(p.height, h)
		}
		for j, k := range []int{i, i + half} {
			if k < len(pairs) {
				x := float64(j) * (column + gap)
				p.items = append(p.items, scene.Line{Style: scene.Rule, From: scene.Point{X: x, Y: -p.height}, To: scene.Point{X: x + column, Y: -p.height}})
			}
		}
		s.add(p)
	}
	s.space(blockSpace - paragraphSpace)
}

// nameShare is the part of a summary column that names take.
const nameShare = 0.42

func (s *setter) pair(p document.Pair, x, width float64) ([]scene.Item, []link, float64) {
	nameFace := face{tableSize, tableLeading, scene.Muted, scene.Regular}
	valueFace := face{points(9), tableLeading, scene.Words, scene.Bold}
	left := width * nameShare
	names := nameFace.set(document.Words(p.Name), left-2, s.name)
	values := valueFace.set(p.Value, width-left, s.name)
	const pad = 1.0
	height := max(float64(len(names))*nameFace.lineHeight(), float64(len(values))*valueFace.lineHeight()) + 2*pad
	var items []scene.Item
	if fill := toneFill(p.Tone); fill != scene.NoFill {
		items = append(items, scene.Rectangle(scene.NoLine, fill, scene.Point{X: x + left - 1.5, Y: 0}, scene.Point{X: x + width, Y: -height}))
	}
	a, _ := nameFace.draw(names, x, left, document.Start)
	// both share the first baseline, though their sizes differ
	drop := valueFace.firstBaseline() - nameFace.firstBaseline()
	items = append(items, scene.Scene{Items: a}.Moved(1, scene.Point{Y: -pad - drop})...)
	b, links := valueFace.draw(values, x+left, width-left, document.Start)
	items = append(items, scene.Scene{Items: b}.Moved(1, scene.Point{Y: -pad})...)
	for i := range links {
		links[i].box.Min.Y -= pad
		links[i].box.Max.Y -= pad
	}
	return items, links, height
}

func toneFill(t document.Tone) scene.Fill {
	switch t {
	case document.Good:
		return scene.GoodFill
	case document.Watch:
		return scene.WatchFill
	case document.Bad:
		return scene.BadFill
	}
	return scene.NoFill
}
