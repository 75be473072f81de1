// Package pdf writes a document, or a single drawing, as PDF on A4 or Letter paper.
//
// The work has three steps. Blocks are set into strips that are never cut (lines of text, table rows,
// drawings); strips are put on pages, with heads repeated and headings kept to what follows; pages are
// painted. Setting and paging are plain geometry in millimetres; only the painting knows the outside
// library. Page numbers in contents and references are found by setting the document again until they
// no longer change. Fonts are embedded, dates fixed, and the same document gives the same bytes.
//
// The package does not kern, does not hyphenate, and writes no tagged structure for screen readers;
// the pages of package html are the accessible form.
package pdf

import (
	"bytes"
	_ "embed"
	"fmt"
	"maps"
	"time"

	"codeberg.org/go-pdf/fpdf"

	"longgrain/internal/paper/document"
	"longgrain/internal/paper/scene"
)

// Paper is a size of sheet.
type Paper int

// The two sizes.
const (
	A4 Paper = iota
	Letter
)

// Margins of a page in millimetres.
const (
	sideMargin   = 22.0
	topMargin    = 25.0
	bottomMargin = 22.0
	headerHeight = 13.5 // of the header's baseline below the upper edge
	footerHeight = 11.5 // of the footer's baseline above the lower edge
)

func (p Paper) sheet() sheet {
	w, h := 210.0, 297.0
	if p == Letter {
		w, h = 8.5*inch, 11*inch
	}
	return sheet{w, h, sideMargin, sideMargin, topMargin, bottomMargin}
}

// Frame returns the width and height in millimetres that a page leaves for figures and tables. A scene
// no wider than this, and a caption's height less tall, is printed at its true size.
func (p Paper) Frame() (width, height float64) {
	s := p.sheet()
	return s.frameWidth(), s.frameHeight() - captionRoom
}

// Options says how to print.
type Options struct {
	Paper Paper
	// Date goes into the file's properties; the zero value means a fixed day, so that files repeat.
	Date time.Time
}

// fixedDate stands in files whose caller gives no date.
var fixedDate = time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC)

// Fonts: a cut of DejaVu Sans 2.37, see docs/decisions/0003-paper-font.md.
var (
	//go:embed font/DejaVuSans.ttf
	regularFont []byte
	//go:embed font/DejaVuSans-Bold.ttf
	boldFont []byte
	//go:embed font/DejaVuSans-Oblique.ttf
	obliqueFont []byte
)

const fontFamily = "dejavu"

var fontStyle = map[scene.Weight]string{scene.Regular: "", scene.Bold: "B", scene.Oblique: "I"}

// maxPasses bounds the search for stable page numbers. Two passes are usual: references change the
// length of lines only where a page number gains a digit.
const maxPasses = 6

// Write returns the document as a PDF file. The error is one of the PDF library; no document known to
// this program causes one.
func Write(d document.Document, o Options) ([]byte, error) {
	pages := setPages(d, o.Paper.sheet())
	return paint(pages, d, o, hasTemplate(d.Blocks))
}

// Drawing returns a single scene as a PDF file of one page, upright or lying, at its true size where
// the page is large enough, its title and scale below it.
func Drawing(s scene.Scene, o Options) ([]byte, error) {
	d := document.Document{Title: s.Title}
	sh := o.Paper.sheet()
	st := newSetter(d, sh, nil)
	p, k := st.drawing(s, 0, sh.frameHeight()-captionRoom)
	if k < 1 {
		lying := sh
		lying.width, lying.height = sh.height, sh.width
		turned := newSetter(d, lying, nil)
		if q, larger := turned.drawing(s, 0, lying.frameHeight()-captionRoom); larger > k {
			sh, st, p, k = lying, turned, q, larger
		}
	}
	st.add(p)
	words := s.Title
	if scale := st.scaleWords(s.Ratio, k); scale != "" {
		words = sentence(words) + scale + "."
	}
	st.text(captionFace, document.Words(words), captionSpace)
	pages := paginate(sh, st.out)
	for i := range pages {
		pages[i].bare = true
	}
	return paint(pages, d, o, k == 1)
}

func hasTemplate(blocks []document.Block) bool {
	for _, b := range blocks {
		switch b := b.(type) {
		case document.Template:
			return true
		case document.Together:
			if hasTemplate(b.Blocks) {
				return true
			}
		}
	}
	return false
}

func newSetter(d document.Document, s sheet, numbers map[string]int) *setter {
	return &setter{sheet: s, index: d.Index(), wording: d.Words(), pages: numbers}
}

// setPages sets the document until the page numbers it prints are the ones it has.
func setPages(d document.Document, s sheet) []page {
	var numbers map[string]int
	for pass := 1; ; pass++ {
		st := newSetter(d, s, numbers)
		st.front(d)
		st.blocks(d.Blocks)
		pages := paginate(s, st.out)
		found := pageNumbers(pages)
		if maps.Equal(found, numbers) || pass == maxPasses {
			st.frame(pages, d)
			return pages
		}
		numbers = found
	}
}

// frame adds header and footer to each page that has them.
func (s *setter) frame(pages []page, d document.Document) {
	for i := range pages {
		pg := &pages[i]
		if pg.bare || i == 0 && d.Cover != nil {
			continue
		}
		right := pg.width - s.sheet.right
		top := pg.height - headerHeight
		bar := top - 2.2
		number := fmt.Sprintf("%s %d %s %d", s.wording.Page, i+1, s.wording.Of, len(pages))
		put := func(text string, x, y float64, align scene.Align, room float64) {
			pg.items = append(pg.items, scene.Text{
				Style: scene.Muted, Text: smallFace.cut(text, room), Height: smallSize,
				At: scene.Point{X: x, Y: y}, Align: align,
			})
		}
		half := (right - s.sheet.left) / 2
		put(d.Title, s.sheet.left, top, scene.Left, half-3)
		put(pg.chapter, right, top, scene.Right, half-3)
		put(d.Footer, s.sheet.left, footerHeight, scene.Left, half*1.4)
		put(number, right, footerHeight, scene.Right, half*0.6)
		pg.items = append(pg.items, scene.Line{Style: scene.Rule, From: scene.Point{X: s.sheet.left, Y: bar}, To: scene.Point{X: right, Y: bar}})
	}
}

// cut shortens text to a width, with an ellipsis where something is left out.
func (f face) cut(s string, width float64) string {
	if f.width(s, f.weight) <= width {
		return s
	}
	letters := []rune(s)
	for len(letters) > 0 && f.width(string(letters)+"…", f.weight) > width {
		letters = letters[:len(letters)-1]
	}
	return string(letters) + "…"
}

// paint draws pages with fpdf and returns the file. With exact set, viewers are asked not to scale.
func paint(pages []page, d document.Document, o Options, exact bool) ([]byte, error) {
	f := newFile(d, o)
	targets := map[string]int{}
	for _, pg := range pages {
		for _, m := range pg.marks {
			targets[m.key] = f.AddLink()
		}
	}
	depth := -1
	for i, pg := range pages {
		f.AddPageFormat("P", fpdf.SizeType{Wd: pg.width, Ht: pg.height})
		p := painter{f, pg.height}
		for _, c := range pg.clipped {
			p.clipped(c)
		}
		p.items(pg.items)
		for _, m := range pg.marks {
			f.SetLink(targets[m.key], pg.height-m.top, i+1)
			if m.title != nil {
				depth = min(m.title.Level-1, depth+1)
				// fpdf turns y round with the height of the last page, whatever page the mark is on
				f.Bookmark(bookmark(*m.title), depth, pages[len(pages)-1].height-m.top)
			}
		}
		for _, l := range pg.links {
			if id, ok := targets[l.ref]; ok {
				f.Link(l.box.Min.X, pg.height-l.box.Max.Y, l.box.Width(), l.box.Height(), id)
			}
		}
	}
	var out bytes.Buffer
	if err := f.Output(&out); err != nil {
		return nil, fmt.Errorf("write PDF: %w", err)
	}
	return withViewerPreferences(out.Bytes(), exact), nil
}

// bookmark returns the words of a heading in the outline of the file. The outline of fpdf starts at
// level 0 and must not skip a level.
func bookmark(e document.Entry) string {
	if e.Number == "" {
		return e.Title
	}
	return e.Number + "  " + e.Title
}

// newFile returns an empty file with fonts and properties set.
func newFile(d document.Document, o Options) *fpdf.Fpdf {
	f := fpdf.New("P", "mm", "A4", "")
	date := o.Date
	if date.IsZero() {
		date = fixedDate
	}
	f.SetCreationDate(date)
	f.SetModificationDate(date)
	f.SetCatalogSort(true)
	f.SetProducer("Longgrain", true)
	f.SetTitle(d.Title, true)
	f.SetSubject(d.Subtitle, true)
	f.SetAuthor(d.Author, true)
	language := d.Language
	if language == "" {
		language = "en"
	}
	f.SetLang(language)
	f.SetMargins(0, 0, 0)
	f.SetAutoPageBreak(false, 0)
	f.SetLineJoinStyle("round")
	f.AddUTF8FontFromBytes(fontFamily, "", regularFont)
	f.AddUTF8FontFromBytes(fontFamily, "B", boldFont)
	f.AddUTF8FontFromBytes(fontFamily, "I", obliqueFont)
	return f
}
