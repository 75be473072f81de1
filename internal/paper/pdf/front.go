package pdf

import (
	"strconv"

	"longgrain/internal/paper/document"
	"longgrain/internal/paper/scene"
)

// Faces of cover and contents.
var (
	coverTitle    = face{points(30), 1.15, scene.Words, scene.Bold}
	coverSubtitle = face{points(14), 1.3, scene.Muted, scene.Regular}
	contentsFaces = [2]face{
		{points(10.5), 1.3, scene.Words, scene.Bold},
		{points(9.5), 1.3, scene.Words, scene.Regular},
	}
)

// Sizes of the cover in millimetres.
const (
	coverTop        = 8.0
	coverFigureTall = 105.0
)

// front sets cover and contents.
func (s *setter) front(d document.Document) {
	if d.Cover != nil {
		s.cover(d)
		s.add(piece{fresh: true})
	}
	if d.Contents {
		s.contents()
		s.add(piece{fresh: true})
	}
}

func (s *setter) cover(d document.Document) {
	s.add(piece{height: coverTop})
	width := s.sheet.frameWidth()
	put := func(f face, text string, before float64) {
		lines := f.set(document.Words(text), width, s.name)
		items, _ := f.draw(lines, 0, width, document.Start)
		s.add(piece{height: float64(len(lines)) * f.lineHeight(), before: before, items: items})
	}
	put(coverTitle, d.Title, 0)
	if d.Subtitle != "" {
		put(coverSubtitle, d.Subtitle, 2)
	}
	s.add(piece{height: 1, before: 4, items: []scene.Item{level(scene.Outline, 0, width)}})
	if d.Cover.Figure != nil {
		p, _ := s.drawing(*d.Cover.Figure, 0, coverFigureTall)
		p.before = 10
		s.add(p)
	}
	if len(d.Cover.Summary) > 0 {
		s.space(6)
		s.summary(d.Cover.Summary)
	}
	for i, l := range d.Cover.Lines {
		before := itemSpace
		if i == 0 {
			before = 6
		}
		s.text(smallFace, document.Words(l), before)
	}
}

// contents sets the table of contents: chapters in bold, sections below them, with dots that lead to
// the page number.
func (s *setter) contents() {
	f := headingFaces[0]
	width := s.sheet.frameWidth()
	items, _ := f.draw(f.set(document.Words(s.wording.Contents), width, s.name), 0, width, document.Start)
	y := -f.lineHeight() - 1.6
	s.add(piece{height: f.lineHeight() + 2.8, items: append(items, level(scene.Detail, y, width)), keep: true})
	for _, e := range s.index.Entries {
		if e.Kind == document.HeadingEntry && e.Level <= len(contentsFaces) {
			s.contentsLine(e)
		}
	}
}

// contentsIndent is where the titles of chapters and of sections begin, in millimetres.
var contentsIndent = [2]float64{9, 20}

func (s *setter) contentsLine(e document.Entry) {
	level := max(e.Level, 1) - 1
	f := contentsFaces[level]
	width := s.sheet.frameWidth()
	const numberRoom = 14
	indent := contentsIndent[level]
	lines := f.set(document.Words(e.Title), width-indent-numberRoom, s.name)
	items, _ := f.draw(lines, indent, width, document.Start)
	if e.Number != "" {
		start := 0.0
		if level > 0 {
			start = contentsIndent[level-1]
		}
		number, _ := f.draw(f.set(document.Words(e.Number), width, s.name), start, width, document.Start)
		items = append(items, number...)
	}
	height := float64(len(lines)) * f.lineHeight()
	base := height - f.lineHeight() + f.firstBaseline()
	page := strconv.Itoa(s.pages[e.Key])
	pageText := scene.Text{Style: f.style, Text: page, Height: f.height, Weight: f.weight, Align: scene.Right, At: scene.Point{X: width, Y: -base}}
	items = append(items, pageText)
	items = append(items, dots(indent+lines[len(lines)-1].width+2, width-pageText.Width()-2, -base)...)
	p := piece{height: height, before: 0.3, items: items, links: []link{{scene.Box{Min: scene.Point{Y: -height}, Max: scene.Point{X: width}}, e.Key}}}
	if level == 0 {
		p.before, p.keep = 2.0, true
	}
	s.add(p)
}

// dots returns a row of dots on a grid common to all lines, so that they stand below each other.
func dots(from, to, y float64) []scene.Item {
	const pitch, dot = 1.8, 0.3
	var items []scene.Item
	for x := float64(int(from/pitch)+1) * pitch; x < to; x += pitch {
		items = append(items, scene.Line{Style: scene.Frame, From: scene.Point{X: x, Y: y + 0.15}, To: scene.Point{X: x + dot, Y: y + 0.15}})
	}
	return items
}
