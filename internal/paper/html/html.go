// Package html writes a document, or one part of it, as HTML: semantic headings, tables with column
// heads, figures as inline pictures, ids that links point at.
//
// All text is escaped. The output has classes only, no script, no style element and no style
// attribute, so that a strict content security policy has nothing to refuse; CSS returns the style
// sheet that goes with it, for screen and print, light and dark. How a scene becomes a picture is
// handed in, because writers of different formats do not know each other: pass svg.Inline. The output
// expects to stand in an element of class "document".
//
// Page breaks and keep-together have no meaning on a screen and become classes for printing. A
// full-size template becomes a figure with a note that only the printed workbook has the true size.
package html

import (
	"fmt"
	"strconv"
	"strings"

	"longgrain/internal/paper/document"
	"longgrain/internal/paper/scene"
)

// Draw turns a scene into an inline picture. Ids inside it begin with prefix; a fluid picture takes
// the width of its place.
type Draw func(s scene.Scene, prefix string, fluid bool) string

// Options says how to write.
type Options struct {
	// Draw makes the pictures; without it figures have captions only.
	Draw Draw
	// StyleSheet is the address of a style sheet a whole page links to; empty links to none.
	StyleSheet string
}

// Page returns the document as one complete HTML page.
func Page(d document.Document, o Options) string {
	w := newWriter(d, o)
	language := d.Language
	if language == "" {
		language = "en"
	}
	w.printf("<!DOCTYPE html>\n<html lang=\"%s\">\n<head>\n<meta charset=\"utf-8\">\n", escape(language))
	w.printf("<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n<title>%s</title>\n", escape(d.Title))
	if o.StyleSheet != "" {
		w.printf("<link rel=\"stylesheet\" href=\"%s\">\n", escape(o.StyleSheet))
	}
	w.printf("</head>\n<body>\n<main class=\"document\">\n")
	w.front(d)
	w.blocks(d.Blocks)
	w.printf("</main>\n</body>\n</html>\n")
	return w.out.String()
}

// Fragment returns all blocks of the document without page, cover and contents.
func Fragment(d document.Document, o Options) string {
	w := newWriter(d, o)
	w.blocks(d.Blocks)
	return w.out.String()
}

// Chapter returns the part of the document from the heading with the given ID to the next heading of
// the same or a higher level, numbered as in the whole document. It reports false if there is no such
// heading outside a Together block.
func Chapter(d document.Document, id string, o Options) (string, bool) {
	w := newWriter(d, o)
	level := 0
	for _, b := range d.Blocks {
		h, ok := b.(document.Heading)
		switch {
		case ok && level == 0 && h.ID == id:
			level = max(h.Level, 1)
		case ok && level > 0 && h.Level <= level:
			return w.out.String(), true
		}
		if level > 0 {
			w.block(b)
		} else {
			w.skip(b)
		}
	}
	return w.out.String(), level > 0
}

// writer builds the text block by block, with the index entries in step.
type writer struct {
	out     strings.Builder
	index   *document.Index
	wording document.Wording
	draw    Draw
	next    int // index of the next entry met
}

func newWriter(d document.Document, o Options) *writer {
	return &writer{index: d.Index(), wording: d.Words(), draw: o.Draw}
}

func (w *writer) printf(format string, args ...any) { fmt.Fprintf(&w.out, format, args...) }

func (w *writer) entry() document.Entry {
	e := w.index.Entries[w.next]
	w.next++
	return e
}

// skip passes over a block that is not written, so that numbers stay right.
func (w *writer) skip(b document.Block) {
	switch b := b.(type) {
	case document.Heading, document.Figure, document.Table, *document.Table, document.Template:
		w.entry()
	case document.Together:
		for _, inner := range b.Blocks {
			w.skip(inner)
		}
	}
}

func (w *writer) front(d document.Document) {
	w.printf("<header class=\"cover\">\n<h1 class=\"document-title\">%s</h1>\n", escape(d.Title))
	if d.Subtitle != "" {
		w.printf("<p class=\"subtitle\">%s</p>\n", escape(d.Subtitle))
	}
	if c := d.Cover; c != nil {
		if c.Figure != nil && w.draw != nil {
			w.printf("<div class=\"picture\">%s</div>\n", w.draw(*c.Figure, "cover-", true))
		}
		w.summary(c.Summary)
		for _, l := range c.Lines {
			w.printf("<p class=\"small-print\">%s</p>\n", escape(l))
		}
	}
	w.printf("</header>\n")
	if d.Contents {
		w.contents()
	}
}

// contents writes chapters and sections as a list of links.
func (w *writer) contents() {
	w.printf("<nav class=\"contents\" aria-label=\"%s\">\n<h2>%s</h2>\n<ul>\n", escape(w.wording.Contents), escape(w.wording.Contents))
	for _, e := range w.index.Entries {
		if e.Kind != document.HeadingEntry || e.Level > 2 {
			continue
		}
		w.printf("<li class=\"level-%d\"><a href=\"#%s\">%s</a></li>\n", max(e.Level, 1), escape(e.Key), w.numbered(e))
	}
	w.printf("</ul>\n</nav>\n")
}

// numbered returns the title of a heading after its number.
func (w *writer) numbered(e document.Entry) string {
	if e.Number == "" {
		return escape(e.Title)
	}
	return fmt.Sprintf(`<span class="number">%s</span> %s`, e.Number, escape(e.Title))
}

func (w *writer) blocks(blocks []document.Block) {
	for _, b := range blocks {
		w.block(b)
	}
}

func (w *writer) block(b document.Block) {
	switch b := b.(type) {
	case document.Heading:
		e := w.entry()
		// h1 is the title of the page
		tag := "h" + strconv.Itoa(min(max(b.Level, 1)+1, 6))
		w.printf("<%s id=\"%s\">%s</%s>\n", tag, escape(e.Key), w.numbered(e), tag)
	case document.Paragraph:
		w.printf("<p>%s</p>\n", w.text(b.Text))
	case document.SmallPrint:
		w.printf("<p class=\"small-print\">%s</p>\n", w.text(b.Text))
	case document.List:
		w.list(b)
	case document.Checklist:
		w.checklist(b)
	case document.Table:
		w.table(b)
	case *document.Table:
		w.table(*b)
	case document.Figure:
		w.figure(b.Scene, b.Caption, b.Width, "")
	case document.Template:
		w.figure(b.Scene, b.Caption, 0, w.wording.NotToScale)
	case document.Box:
		w.box(b)
	case document.Summary:
		w.summary(b.Pairs)
	case document.PageBreak:
		w.printf("<div class=\"page-break\"></div>\n")
	case document.Together:
		w.printf("<div class=\"together\">\n")
		w.blocks(b.Blocks)
		w.printf("</div>\n")
	default:
		panic(fmt.Sprintf("html: unknown block %T", b))
	}
}

func (w *writer) list(l document.List) {
	tag := "ul"
	if l.Ordered {
		tag = "ol"
	}
	w.printf("<%s>\n", tag)
	for _, t := range l.Items {
		w.printf("<li>%s</li>\n", w.text(t))
	}
	w.printf("</%s>\n", tag)
}

// checklist writes boxes as plain signs: ticking is the business of the page around, not of this one.
func (w *writer) checklist(l document.Checklist) {
	w.printf("<ul class=\"checklist\">\n")
	for _, t := range l.Items {
		w.printf("<li>%s %s</li>\n", tickBox, w.text(t))
	}
	w.printf("</ul>\n")
}

const tickBox = `<span class="tick-box" aria-hidden="true">☐</span>`

// figure writes a picture with its caption. The scale is left out: on a screen nothing has a true size.
func (w *writer) figure(s scene.Scene, caption string, width float64, note string) {
	e := w.entry()
	w.printf("<figure id=\"%s\">\n", escape(e.Key))
	if w.draw != nil {
		w.printf("<div class=\"picture\">%s</div>\n", w.draw(s, e.Key+"-", width > 0))
	}
	w.printf("<figcaption><strong>%s %s</strong> %s", escape(w.index.Caption(e.Kind)), e.Number, escape(caption))
	if note != "" {
		w.printf(" <span class=\"note\">(%s)</span>", escape(note))
	}
	w.printf("</figcaption>\n</figure>\n")
}

func (w *writer) box(b document.Box) {
	class := [...]string{"note", "caution", "warning"}[b.Kind]
	word := [...]string{w.wording.Note, w.wording.Caution, w.wording.Warning}[b.Kind]
	if b.Title != "" {
		word += ": " + b.Title
	}
	w.printf("<aside class=\"box %s\" role=\"note\">\n<p class=\"box-title\">%s</p>\n", class, escape(word))
	for _, t := range b.Text {
		w.printf("<p>%s</p>\n", w.text(t))
	}
	w.printf("</aside>\n")
}

func (w *writer) summary(pairs []document.Pair) {
	if len(pairs) == 0 {
		return
	}
	w.printf("<dl class=\"summary\">\n")
	for _, p := range pairs {
		w.printf("<div><dt>%s</dt><dd%s>%s</dd></div>\n", escape(p.Name), classes(toneClass(p.Tone)), w.text(p.Value))
	}
	w.printf("</dl>\n")
}

func (w *writer) table(t document.Table) {
	e := w.entry()
	// the box around lets a wide table scroll on a narrow screen instead of the page
	w.printf("<div class=\"table-box\" tabindex=\"0\">\n<table id=\"%s\">\n", escape(e.Key))
	if t.Numbered() {
		w.printf("<caption><strong>%s %s</strong> %s</caption>\n", escape(w.wording.Table), e.Number, escape(t.Caption))
	}
	w.printf("<thead>\n<tr>")
	for _, c := range t.Columns {
		w.printf("<th scope=\"col\"%s>%s</th>", classes(alignClass(c.Align)), escape(c.Head))
	}
	w.printf("</tr>\n</thead>\n<tbody>\n")
	for _, r := range t.Rows {
		w.row(t, r)
	}
	w.printf("</tbody>\n</table>\n</div>\n")
}

func (w *writer) row(t document.Table, r document.Row) {
	if r.Heading {
		text := ""
		if len(r.Cells) > 0 {
			text = w.text(r.Cells[0].Text)
		}
		w.printf("<tr class=\"group\"><th colspan=\"%d\" scope=\"colgroup\">%s</th></tr>\n", len(t.Columns), text)
		return
	}
	total := ""
	if r.Total {
		total = "total"
	}
	w.printf("<tr%s>", classes(total))
	for i, c := range t.Columns {
		var cell document.Cell
		if i < len(r.Cells) {
			cell = r.Cells[i]
		}
		box := ""
		if cell.Box {
			box = tickBox
		}
		w.printf("<td%s>%s%s</td>", classes(alignClass(c.Align), toneClass(cell.Tone)), box, w.text(cell.Text))
	}
	w.printf("</tr>\n")
}

// text writes spans with their marks; a reference becomes a link.
func (w *writer) text(t document.Text) string {
	var b strings.Builder
	for _, s := range t {
		words := escape(s.Text)
		if s.Ref != "" {
			words += escape(w.index.Name(s.Ref))
		}
		switch s.Mark {
		case document.Strong:
			words = "<strong>" + words + "</strong>"
		case document.Slanted:
			words = "<em>" + words + "</em>"
		}
		if e, ok := w.index.Find(s.Ref); ok && s.Ref != "" {
			words = fmt.Sprintf(`<a href="#%s">%s</a>`, escape(e.Key), words)
		}
		b.WriteString(words)
	}
	return b.String()
}

func alignClass(a document.Align) string {
	return [...]string{"", "centre", "end"}[a]
}

func toneClass(t document.Tone) string {
	return [...]string{"", "tone-good", "tone-watch", "tone-bad", "tone-faint"}[t]
}

// classes returns a class attribute with a space before it, or nothing if all names are empty.
func classes(names ...string) string {
	var used []string
	for _, n := range names {
		if n != "" {
			used = append(used, n)
		}
	}
	if len(used) == 0 {
		return ""
	}
	return ` class="` + strings.Join(used, " ") + `"`
}

var escaper = strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;", `"`, "&quot;", "'", "&#39;")

func escape(s string) string { return escaper.Replace(s) }
