package html

import (
	"encoding/xml"
	"flag"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"longgrain/internal/paper/document"
	"longgrain/internal/paper/scene"
)

var update = flag.Bool("update", false, "rewrite golden files")

func draw(s scene.Scene, prefix string, fluid bool) string {
	return `<svg id="` + prefix + s.ID + `"></svg>`
}

func sample() document.Document {
	d := document.Document{Title: "Step <stool>", Contents: true, Cover: &document.Cover{Lines: []string{"for the class"}}}
	d.Heading(1, "a", "Sizes & parts")
	d.Add(document.Paragraph{Text: document.Words("See ").See("t").Plain(" and ").See("b").Plain("; ").Strong("<b>not bold</b>").Plain(".")})
	t := document.NewTable(document.TextColumn("Part"), document.NumberColumn("Length"), document.CentreColumn("Cut"))
	t.ID, t.Caption = "t", "Parts"
	t.Group("Frame")
	t.Cells(document.Cell{Text: document.Words("leg")}, document.Cell{Text: document.Words(`17 3/4"`), Tone: document.Bad}, document.Cell{Box: true})
	t.Total("all", "1")
	d.Add(t, document.PageBreak{})
	d.Heading(2, "a2", "Notes")
	d.Add(document.Box{Kind: document.Warning, Title: "dust", Text: []document.Text{document.Words("Wear a mask.")}})
	d.Heading(1, "b", "Joints")
	d.Add(
		document.Together{Blocks: []document.Block{
			document.Figure{ID: "f", Scene: scene.Scene{ID: "s"}, Caption: "A joint"},
			document.Summary{Pairs: []document.Pair{{Name: "Glue", Value: document.Words("PVA"), Tone: document.Good}}},
		}},
		document.Template{ID: "tpl", Caption: "bores"},
		document.List{Ordered: true, Items: []document.Text{document.Words("one")}},
		document.Checklist{Items: []document.Text{document.Words("done")}},
		document.SmallPrint{Text: document.Words("common practice")},
	)
	return d
}

// wellFormed reads a fragment as XML, which HTML without void elements is.
func wellFormed(t *testing.T, fragment string) {
	t.Helper()
	in := xml.NewDecoder(strings.NewReader("<div>" + fragment + "</div>"))
	for {
		_, err := in.Token()
		if err == io.EOF {
			return
		}
		if err != nil {
			t.Fatalf("%v in\n%s", err, fragment)
		}
	}
}

func TestFragmentIsWellFormedAndFreeOfInlineCode(t *testing.T) {
	got := Fragment(sample(), Options{Draw: draw})
	wellFormed(t, got)
	for _, refused := range []string{" style=", "<style", "<script", " onclick", "javascript:", "<b>"} {
		if strings.Contains(got, refused) {
			t.Errorf("fragment contains %q", refused)
		}
	}
}

func TestChapterIsNumberedAsInTheWholeDocument(t *testing.T) {
	got, ok := Chapter(sample(), "b", Options{Draw: draw})
	if !ok {
		t.Fatal("chapter not found")
	}
	wellFormed(t, got)
	for _, want := range []string{`<h2 id="b"><span class="number">2</span> Joints</h2>`, `<svg id="f-s">`, "Figure 1"} {
		if !strings.Contains(got, want) {
			t.Errorf("no %q in\n%s", want, got)
		}
	}
	if strings.Contains(got, "Sizes") {
		t.Error("the chapter before is in it")
	}
}

func TestChapterEndsAtTheNextOfItsLevel(t *testing.T) {
	got, ok := Chapter(sample(), "a", Options{Draw: draw})
	if !ok || !strings.Contains(got, "Wear a mask.") || strings.Contains(got, "Joints</h2>") {
		t.Errorf("%v\n%s", ok, got)
	}
	if _, ok := Chapter(sample(), "none", Options{}); ok {
		t.Error("an unknown chapter was found")
	}
}

func TestGoldenPage(t *testing.T) {
	got := Page(sample(), Options{Draw: draw, StyleSheet: "document.css"})
	if got != Page(sample(), Options{Draw: draw, StyleSheet: "document.css"}) {
		t.Error("two runs differ")
	}
	path := filepath.Join("testdata", "page.html")
	if *update {
		if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if got != string(want) {
		t.Errorf("%s differs; read the difference, then run with -update", path)
	}
}
