package pdf

import (
	"longgrain/internal/paper/document"
	"longgrain/internal/paper/scene"
)

// piece is a strip of a page that is never cut: a line of text, a table row, a drawing. Its items lie
// with the top left corner of the strip at 0, 0 and y up, so that all of a strip has y <= 0.
type piece struct {
	height float64
	before float64 // free space above, dropped at the top of a page
	keep   bool    // stands on the same page as the next piece
	fresh  bool    // a page break; nothing else is set
	items  []scene.Item
	links  []link
	key    string          // entry of the index that stands here
	head   *piece          // printed again where this piece begins a page
	title  *document.Entry // a heading: goes into bookmarks and page header
	sheets []page          // whole pages to put in here instead of a strip
}

// page is one finished page.
type page struct {
	width, height float64
	items         []scene.Item // y up from the lower left corner of the page
	clipped       []clipped
	links         []link
	marks         []mark
	chapter       string // chapter the page belongs to, for its header
	bare          bool   // no header and footer
}

// clipped is a drawing of which only the part inside the box shows.
type clipped struct {
	box   scene.Box
	items []scene.Item
}

// mark is an index entry that stands on a page, with its height there; title is set for headings.
type mark struct {
	key   string
	top   float64
	title *document.Entry
}

// sheet is the paper and its margins, in millimetres.
type sheet struct {
	width, height            float64
	left, right, top, bottom float64
}

func (s sheet) frameWidth() float64  { return s.width - s.left - s.right }
func (s sheet) frameHeight() float64 { return s.height - s.top - s.bottom }

// isSpace reports whether the piece is only free paper, which opens no page of its own.
func (q piece) isSpace() bool { return q.height == 0 && len(q.items) == 0 && q.key == "" }

// paginator fills pages from top to bottom.
type paginator struct {
	sheet   sheet
	pages   []page
	y       float64 // top of the free space on the last page, up from its lower edge
	blank   bool    // nothing stands on the last page yet
	fresh   bool    // a page break waits for what comes next
	chapter string
}

// paginate puts the pieces on pages. Pieces that keep together move to the next page together; where
// they do not fit on one page they are cut like any others.
func paginate(s sheet, pieces []piece) []page {
	p := paginator{sheet: s}
	for i := 0; i < len(pieces); {
		n := 1
		for i+n < len(pieces) && pieces[i+n-1].keep && pieces[i+n].sheets == nil && !pieces[i+n].fresh {
			n++
		}
		p.unit(pieces[i : i+n])
		i += n
	}
	return p.pages
}

// unit places pieces that keep together.
func (p *paginator) unit(pieces []piece) {
	switch {
	case pieces[0].fresh:
		p.fresh = true
		return
	case len(pieces[0].sheets) > 0:
		p.wholePages(pieces[0])
		return
	case pieces[0].isSpace():
		p.y -= pieces[0].before
		if len(pieces) > 1 {
			p.unit(pieces[1:])
		}
		return
	case len(p.pages) == 0, !p.blank && (p.fresh || !p.fits(pieces)):
		p.newPage()
	}
	p.fresh = false
	for _, q := range pieces {
		if !p.fits([]piece{q}) && !p.blank && !q.isSpace() {
			p.newPage()
		}
		p.strip(q)
	}
}

// fits reports whether the pieces fit into the rest of the page.
func (p *paginator) fits(pieces []piece) bool {
	need := 0.0
	for i, q := range pieces {
		if i > 0 || !p.blank {
			need += q.before
		}
		need += q.height
	}
	return p.y-need >= p.sheet.bottom-rounding
}

func (p *paginator) newPage() {
	p.pages = append(p.pages, page{width: p.sheet.width, height: p.sheet.height, chapter: p.chapter})
	p.y, p.blank = p.sheet.height-p.sheet.top, true
}

// strip puts one piece on the page, under the repeated head where it has one.
func (p *paginator) strip(q piece) {
	if p.blank && q.head != nil {
		p.put(*q.head)
	}
	if !p.blank {
		p.y -= q.before
	}
	p.put(q)
}

func (p *paginator) put(q piece) {
	pg := &p.pages[len(p.pages)-1]
	d := scene.Point{X: p.sheet.left, Y: p.y}
	pg.items = append(pg.items, scene.Scene{Items: q.items}.Moved(1, d)...)
	for _, l := range q.links {
		pg.links = append(pg.links, link{scene.Box{Min: l.box.Min.Plus(d.X, d.Y), Max: l.box.Max.Plus(d.X, d.Y)}, l.ref})
	}
	if q.key != "" {
		pg.marks = append(pg.marks, mark{q.key, p.y, q.title})
	}
	if q.title != nil && q.title.Level == 1 {
		p.chapter = q.title.Title
		if p.blank {
			pg.chapter = p.chapter
		}
	}
	p.y -= q.height
	p.blank = false
}

// wholePages appends ready pages; what follows starts a page of its own.
func (p *paginator) wholePages(q piece) {
	for i, sheet := range q.sheets {
		sheet.chapter = p.chapter
		if i == 0 && q.key != "" {
			sheet.marks = append(sheet.marks, mark{key: q.key, top: sheet.height})
		}
		p.pages = append(p.pages, sheet)
	}
	p.y, p.blank, p.fresh = p.sheet.bottom, false, true
}

// pageNumbers returns on which page, from 1, each index entry stands.
func pageNumbers(pages []page) map[string]int {
	out := map[string]int{}
	for i, pg := range pages {
		for _, m := range pg.marks {
			out[m.key] = i + 1
		}
	}
	return out
}
