package pdf

import (
	"bytes"
	"flag"
	"fmt"
	"image"
	"image/color"
	_ "image/png"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"longgrain/internal/paper/document"
	"longgrain/internal/paper/scene"
)

var update = flag.Bool("update", false, "rewrite golden files and the table of advances")

func write(t *testing.T, d document.Document, o Options) []byte {
	t.Helper()
	out, err := Write(d, o)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// tool finds a program or skips the test with a word about what was not checked.
func tool(t *testing.T, name string) string {
	t.Helper()
	path, err := exec.LookPath(name)
	if err != nil {
		t.Skipf("SKIPPED: %s is not installed, so the PDF file was not checked by another program", name)
	}
	return path
}

func outputOf(t *testing.T, name string, args ...string) string {
	t.Helper()
	out, err := exec.Command(tool(t, name), args...).CombinedOutput()
	if err != nil {
		t.Fatalf("%s: %v\n%s", name, err, out)
	}
	return string(out)
}

func saved(t *testing.T, data []byte) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "file.pdf")
	if err := os.WriteFile(path, data, 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

func TestAwkwardDocumentIsWritten(t *testing.T) {
	keepFile(t, "awkward.pdf", write(t, awkwardDocument(), Options{}))
}

func TestSameDocumentGivesSameBytes(t *testing.T) {
	first := write(t, sampleDocument(), Options{})
	for range 3 {
		if !bytes.Equal(first, write(t, sampleDocument(), Options{})) {
			t.Fatal("two runs differ")
		}
	}
}

func TestNoTextOverlapsOrLeavesThePage(t *testing.T) {
	for _, paper := range []Paper{A4, Letter} {
		for name, d := range map[string]document.Document{"sample": sampleDocument(), "awkward": awkwardDocument()} {
			for i, pg := range setPages(d, paper.sheet()) {
				s := scene.Scene{Items: pg.items}
				if clash := s.TextClashes(); len(clash) > 0 {
					t.Errorf("%s, page %d: %d clashes, first %q at %v and %q at %v", name, i+1, len(clash),
						clash[0][0].Text, clash[0][0].At, clash[0][1].Text, clash[0][1].At)
				}
				b := s.Bounds()
				left, right, low := sideMargin, pg.width-sideMargin, footerHeight-3
				if len(pg.clipped) > 0 {
					left, right, low = 5, pg.width-5, 5
				}
				if b.Min.X < left-0.6 || b.Max.X > right+0.6 || b.Min.Y < low || b.Max.Y > pg.height-5 {
					t.Errorf("%s, page %d: content %v leaves the margins", name, i+1, b)
				}
			}
		}
	}
}

// awkwardDocument has what breaks a page: words without spaces, cells longer than a page, many
// columns, a drawing larger than the paper, empty things.
func awkwardDocument() document.Document {
	long := strings.Repeat("ordinary words that go on and on ", 400)
	d := document.Document{Title: strings.Repeat("Long title ", 30), Footer: strings.Repeat("foot ", 80), Contents: true}
	d.Heading(1, "", strings.Repeat("heading ", 30))
	d.Paragraph(strings.Repeat("x", 700) + " end")
	d.Paragraph("")
	t := document.NewTable(document.TextColumn("short"), document.TextColumn("long"), document.NumberColumn("n"))
	t.Row("a", long, "1")
	t.Row("b", strings.Repeat("y", 500), "2", "one cell too many")
	t.Row("c")
	d.Add(t)
	wide := document.NewTable()
	for i := range 14 {
		wide.Columns = append(wide.Columns, document.NumberColumn(fmt.Sprintf("column %d", i)))
	}
	wide.Row(slices.Repeat([]string{"1234.5678"}, 14)...)
	d.Add(wide, document.NewTable())
	d.Add(document.Box{Kind: document.Caution, Text: []document.Text{document.Words(long), document.Words(long)}})
	big := scene.New("big")
	big.Ratio = scene.Full
	big.Rectangle(scene.Outline, scene.NoFill, scene.Point{}, scene.Point{X: 900, Y: 2000})
	d.Figure("", *big, "larger than the page")
	d.Figure("", scene.Scene{}, "")
	d.Add(document.PageBreak{}, document.PageBreak{}, document.Summary{}, document.List{}, document.Together{})
	d.Add(document.Template{Scene: scene.Scene{}})
	d.Add(document.PageBreak{})
	return d
}

func TestHeadIsRepeatedOnEachPageOfATable(t *testing.T) {
	d := document.Document{}
	table := document.NewTable(document.TextColumn("Part"), document.TextColumn("Length"))
	for i := range 120 {
		table.Row(fmt.Sprintf("part %d", i), "452")
	}
	d.Add(table)
	pages := setPages(d, A4.sheet())
	if len(pages) < 2 {
		t.Fatalf("%d pages", len(pages))
	}
	for i, pg := range pages {
		heads := 0
		for _, text := range (scene.Scene{Items: pg.items}).Texts() {
			if text.Text == "Part" {
				heads++
			}
		}
		if heads != 1 {
			t.Errorf("page %d has %d heads", i+1, heads)
		}
	}
}

func TestHeadingIsNeverLeftAtTheFootOfAPage(t *testing.T) {
	for lines := range 60 {
		d := document.Document{}
		for range lines {
			d.Paragraph("line")
		}
		d.Heading(2, "h", "Heading")
		d.Paragraph("words under the heading")
		for i, pg := range setPages(d, A4.sheet()) {
			texts := (scene.Scene{Items: pg.items}).Texts()
			for j, text := range texts {
				if text.Text == "Heading" && !strings.HasPrefix(texts[j+1].Text, "words") {
					t.Errorf("after %d lines the heading ends page %d", lines, i+1)
				}
			}
		}
	}
}

func TestReferencesNameThePageOfTheirTarget(t *testing.T) {
	d := document.Document{Contents: true}
	d.Heading(1, "first", "First")
	d.Add(document.Paragraph{Text: document.Words("see ").See("second").Plain(" and ").See("nowhere")})
	d.Add(document.PageBreak{}, document.PageBreak{})
	d.Heading(1, "second", "Second")
	pages := setPages(d, A4.sheet())
	if len(pages) != 3 {
		t.Fatalf("%d pages, want 3", len(pages))
	}
	var words []string
	for _, text := range (scene.Scene{Items: pages[1].items}).Texts() {
		words = append(words, text.Text)
	}
	if got, want := strings.Join(words, " "), "see chapter\u00a02 (page\u00a03) and (missing)"; !strings.Contains(got, want) {
		t.Errorf("got %q, want %q in it", got, want)
	}
}

func TestPagesReadBackAsText(t *testing.T) {
	path := saved(t, write(t, sampleDocument(), Options{}))
	text := outputOf(t, "pdftotext", "-layout", path, "-")
	for _, want := range []string{"Play table", "45 × 45 mm", "½″ of depth", "⌀10", "10 848", "just holds", "page 3 of 10", "figure 1", "⚠ Warning: oily rags",
		"Not to scale"} { // the sample's front view is 4 mm wider than A4 leaves
		if !strings.Contains(strings.ReplaceAll(text, "\u00a0", " "), want) {
			t.Errorf("no %q in the text of the pages", want)
		}
	}
	info := outputOf(t, "pdfinfo", path)
	for _, want := range []string{"Title:           Play table", "Pages:           10", "Author:          Shop class"} {
		if !strings.Contains(info, want) {
			t.Errorf("no %q in\n%s", want, info)
		}
	}
}

func TestCatalogueAsksNotToScaleOnlyForTemplates(t *testing.T) {
	with := write(t, sampleDocument(), Options{})
	if !bytes.Contains(with, []byte("/PrintScaling /None")) || !bytes.Contains(with, []byte("/Lang (en)")) {
		t.Error("no request to print without scaling, or no language")
	}
	d := document.Document{}
	d.Paragraph("words")
	if bytes.Contains(write(t, d, Options{}), []byte("/PrintScaling")) {
		t.Error("a document without templates asks for it too")
	}
	if out := outputOf(t, "qpdf", "--check", saved(t, with)); !strings.Contains(out, "No syntax or stream encoding errors") {
		t.Error(out)
	}
}

// dpi is the resolution pages are drawn at for measuring: a pixel of 0.064 mm.
const dpi = 400

// raster draws one page of a file as a grey picture.
func raster(t *testing.T, file []byte, page int) image.Image {
	t.Helper()
	path := saved(t, file)
	n := fmt.Sprint(page)
	outputOf(t, "pdftoppm", "-r", fmt.Sprint(dpi), "-f", n, "-l", n, "-gray", "-singlefile", "-png", path, path)
	in, err := os.Open(path + ".png")
	if err != nil {
		t.Fatal(err)
	}
	defer in.Close()
	picture, _, err := image.Decode(in)
	if err != nil {
		t.Fatal(err)
	}
	return picture
}

// extent returns the first and last dark pixel along a line of the picture, in millimetres.
func extent(picture image.Image, row, from, to float64, upright bool) float64 {
	px := func(mm float64) int { return int(mm / 25.4 * dpi) }
	first, last := -1, -1
	for i := px(from); i < px(to); i++ {
		x, y := i, px(row)
		if upright {
			x, y = y, i
		}
		if color.GrayModel.Convert(picture.At(x, y)).(color.Gray).Y < 128 {
			if first < 0 {
				first = i
			}
			last = i
		}
	}
	return float64(last-first+1) / dpi * 25.4
}

// TestCheckBarsMeasureTrueOnTheRaster measures the bars between the outer edges of their end ticks,
// which is the length plus one line width.
func TestCheckBarsMeasureTrueOnTheRaster(t *testing.T) {
	if testing.Short() {
		t.Skip("slow: draws a page and measures it")
	}
	d := document.Document{Title: "bars"}
	d.Add(document.Template{Scene: sampleTemplate(80, 60), Caption: "bars"})
	pg := raster(t, write(t, d, Options{}), 1)
	line := scene.Dimension.Pen().Width
	const height = 297.0
	for _, c := range []struct {
		name     string
		row      float64
		from, to float64
		upright  bool
		want     float64
	}{
		{"100 mm across", height - barNear - 1, barStart - 3, barStart + metricBar + 1.5, false, metricBar},
		{"4 in across", height - barFar - 1, barStart - 3, barStart + inchBar + 1.5, false, inchBar},
		{"100 mm up", barNear - 1, height - barStart - metricBar - 1.5, height - barStart + 3, true, metricBar},
		{"4 in up", barFar - 1, height - barStart - inchBar - 1.5, height - barStart + 3, true, inchBar},
	} {
		got := extent(pg, c.row, c.from, c.to, c.upright) - line
		t.Logf("%s: %.3f mm", c.name, got)
		if math.Abs(got-c.want) > 0.1 {
			t.Errorf("%s measures %.3f mm", c.name, got)
		}
	}
}

func TestTemplateSheetsShareTheDrawingWithoutGapOrScale(t *testing.T) {
	sc := sampleTemplate(450, 300)
	st := newSetter(document.Document{}, A4.sheet(), nil)
	pages := st.templatePages(document.Template{Scene: sc}, document.Entry{})
	g := bestTiling(A4.sheet(), sc.Bounds().Grown(drawingMargin))
	if len(pages) != g.cols*g.rows || len(pages) < 4 {
		t.Fatalf("%d pages for %d x %d", len(pages), g.cols, g.rows)
	}
	first := scene.Scene{Items: pages[0].clipped[0].items}.Bounds()
	for i, pg := range pages {
		b := scene.Scene{Items: pg.clipped[0].items}.Bounds()
		col, row := i%g.cols, i/g.cols
		if math.Abs(b.Width()-450) > 1e-9 || math.Abs(b.Height()-300) > 1e-9 {
			t.Errorf("sheet %d shows the drawing %v x %v", i+1, b.Width(), b.Height())
		}
		dx, dy := first.Min.X-b.Min.X, b.Min.Y-first.Min.Y
		if math.Abs(dx-float64(col)*g.sheet.frameWidth()) > 1e-9 || math.Abs(dy-float64(row)*g.sheet.frameHeight()) > 1e-9 {
			t.Errorf("sheet %d is moved by %v, %v", i+1, dx, dy)
		}
	}
}

func TestDrawingKeepsItsTrueSize(t *testing.T) {
	if testing.Short() {
		t.Skip("slow: draws a page and measures it")
	}
	s := scene.New("bar")
	s.Ratio = scene.Full
	s.Line(scene.Dimension, scene.Point{}, scene.Point{X: 100})
	s.Line(scene.Dimension, scene.Point{Y: -3}, scene.Point{Y: 3})
	s.Line(scene.Dimension, scene.Point{X: 100, Y: -3}, scene.Point{X: 100, Y: 3})
	file, err := Drawing(*s, Options{})
	if err != nil {
		t.Fatal(err)
	}
	got := extent(raster(t, file, 1), topMargin+1, 10, 150, false) - scene.Dimension.Pen().Width
	t.Logf("%.3f mm", got)
	if math.Abs(got-100) > 0.1 {
		t.Errorf("100 mm measure %.3f mm", got)
	}
}

func TestBookmarkPointsAtItsHeadingBeforeALyingSheet(t *testing.T) {
	d := document.Document{}
	d.Heading(1, "", "First")
	d.Add(document.Template{Scene: sampleTemplate(250, 80)})
	file := write(t, d, Options{})
	top := (297 - topMargin) / millimetresPerPoint
	if want := fmt.Sprintf("/Dest [3 0 R /XYZ 0 %.2f null]", top); !bytes.Contains(file, []byte(want)) {
		t.Errorf("no %s in the file", want)
	}
}

func TestWideDrawingLiesOnItsPage(t *testing.T) {
	s := sampleTemplate(240, 60)
	file, err := Drawing(s, Options{})
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Contains(file, []byte("/MediaBox [0 0 841.89 595.28]")) {
		t.Error("the page is not lying")
	}
}

func TestTextWidthOnPaperIsTheOneMeasured(t *testing.T) {
	f := newFile(document.Document{}, Options{})
	for _, w := range []scene.Weight{scene.Regular, scene.Bold, scene.Oblique} {
		const words = "Through the year: 4.1 mm ± ½″, Øx ⌀10 ≤ √2"
		f.SetFont(fontFamily, fontStyle[w], 10)
		got, want := f.GetStringWidth(words), scene.TextWidth(words, points(10), w)
		// the file stores advances in thousandths of the font size
		if tolerance := 0.0005 * 10 * millimetresPerPoint * float64(len(words)); math.Abs(got-want) > tolerance {
			t.Errorf("weight %d: %.4f mm in the file, %.4f measured", w, got, want)
		}
	}
}

func BenchmarkSampleDocument(b *testing.B) {
	d := sampleDocument()
	for b.Loop() {
		if _, err := Write(d, Options{}); err != nil {
			b.Fatal(err)
		}
	}
}
