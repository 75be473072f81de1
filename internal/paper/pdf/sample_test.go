package pdf

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"longgrain/internal/paper/document"
	"longgrain/internal/paper/scene"
)

var keep = flag.String("keep", "", "folder to leave the test's PDF files in, to look at")

func keepFile(t *testing.T, name string, data []byte) {
	t.Helper()
	if *keep == "" {
		return
	}
	if err := os.WriteFile(filepath.Join(*keep, name), data, 0o644); err != nil {
		t.Fatal(err)
	}
}

// sampleTable is a front view of a small table with dimensions on all sides.
func sampleTable() scene.Scene {
	s := scene.New("Front view")
	s.ID, s.Ratio = "front", scene.Ratio{Paper: 1, Model: 5}
	v := scene.View{Ratio: s.Ratio}
	s.Rectangle(scene.Outline, scene.PartFill, v.At(0, 452), v.At(600, 470))
	for _, x := range []float64{30, 525} {
		s.Rectangle(scene.Outline, scene.PartFill, v.At(x, 0), v.At(x+45, 452))
	}
	s.Rectangle(scene.Outline, scene.PartFill2, v.At(75, 370), v.At(525, 452))
	s.Line(scene.Hidden, v.At(40, 375), v.At(75, 375))
	s.Line(scene.Hidden, v.At(40, 445), v.At(75, 445))
	s.Line(scene.Centre, v.At(300, -20), v.At(300, 490))
	s.Circle(scene.Detail, v.At(52, 410), 2)
	var d scene.Dimensions
	d.Linear(scene.Above, v.At(0, 470), v.At(600, 470), "600")
	d.Linear(scene.Above, v.At(30, 452), v.At(75, 452), "45")
	d.Linear(scene.Above, v.At(75, 452), v.At(525, 452), "450")
	d.Linear(scene.Below, v.At(30, 0), v.At(570, 0), "540")
	d.Linear(scene.LeftOf, v.At(0, 470), v.At(30, 0), "470")
	d.Linear(scene.LeftOf, v.At(0, 470), v.At(0, 452), "18")
	d.Linear(scene.RightOf, v.At(525, 370), v.At(525, 452), "82")
	d.Running(scene.RightOf, v.At(570, 0), scene.Station{At: v.At(570, 370), Label: "370"}, scene.Station{At: v.At(570, 378), Label: "378"},
		scene.Station{At: v.At(570, 410), Label: "410"}, scene.Station{At: v.At(600, 452), Label: "452"})
	d.Diameter(v.At(52, 410), 2, "⌀10")
	d.Note(v.At(300, 400), "apron, 18 thick")
	d.Label(scene.Box{Min: v.At(75, 370), Max: v.At(525, 452)}, "A2")
	d.Label(scene.Box{Min: v.At(30, 0), Max: v.At(75, 370)}, "leg L1")
	d.Label(scene.Box{Min: v.At(0, 452), Max: v.At(600, 470)}, "top")
	d.Place(s)
	return *s
}

// sampleSection shows the hatches, styles and aligned dimensions.
func sampleSection() scene.Scene {
	s := scene.New("Hatches and lines")
	for i, h := range []scene.Hatch{scene.SectionHatch, scene.SectionHatch2, scene.EndGrainHatch, scene.CrossHatch, scene.GrainHatch} {
		x := float64(i) * 30
		a := scene.Point{X: x}
		p := scene.Rectangle(scene.Outline, scene.PartFill, a, a.Plus(25, 25))
		p.Hatch = h
		if h == scene.SectionHatch {
			p.Holes = [][]scene.Point{{a.Plus(8, 8), a.Plus(17, 8), a.Plus(17, 17), a.Plus(8, 17)}}
		}
		s.Add(p)
	}
	for i, st := range scene.Styles() {
		y := 35 + 4*float64(i)
		s.Line(st, scene.Point{X: 30, Y: y}, scene.Point{X: 90, Y: y})
		s.Add(scene.Text{At: scene.Point{X: 0, Y: y - 1}, Text: st.String(), Height: scene.SmallHeight, Style: st})
	}
	s.Add(scene.Arc{Style: scene.Emphasis, Centre: scene.Point{X: 120, Y: 60}, Radius: 18, Start: 20, End: 200})
	s.Polyline(scene.Outline, scene.Point{X: 100, Y: 80}, scene.Point{X: 140, Y: 95})
	var d scene.Dimensions
	d.Aligned(scene.Point{X: 100, Y: 80}, scene.Point{X: 140, Y: 95}, "42.7")
	d.Place(s)
	return *s
}

func sampleDocument() document.Document {
	d := document.Document{
		Title: "Play table", Subtitle: "Workbook for the toy library", Author: "Shop class",
		Contents: true, Footer: "Measures in millimetres unless marked",
	}
	front := sampleTable()
	pairs := []document.Pair{
		{Name: "Size", Value: document.Words("600 × 400 × 470 mm")},
		{Name: "Timber", Value: document.Words("pine, 18 mm and 45 mm")},
		{Name: "Mass", Value: document.Words("6.4 kg")},
		{Name: "Does it hold", Value: document.Words("yes, 1.8 times the load"), Tone: document.Good},
		{Name: "Through the year", Value: document.Words("top moves 4.1 mm: fasten with slots"), Tone: document.Watch},
		{Name: "Time", Value: document.Words("11 h over 4 evenings")},
		{Name: "Cost", Value: document.Words("€ 38.20")},
	}
	d.Cover = &document.Cover{Figure: &front, Summary: pairs, Lines: []string{"The program informs; local codes, product labels and licensed practice decide."}}
	d.Heading(1, "piece", "The piece")
	d.Add(document.Paragraph{Text: document.Words("A low table that children will climb on. Four legs of ").Strong("45 × 45 mm").Plain(", glued up from strips, carry a top of staves. The drawing is ").See("fig-front").Plain("; the boring of the legs is in ").See("tab-bore").Plain(", and the joint is chosen in ").See("joints").Plain(". ").Slanted("Measure before marking").Plain(", because sawn timber is not square.")})
	d.Figure("fig-front", front, "Front view with the measures that are marked first")
	d.Add(document.Box{Kind: document.Warning, Title: "oily rags", Text: []document.Text{document.Words("Rags with oil can catch fire by themselves. Spread them out to dry outdoors or keep them under water in a closed metal can.")}})
	d.Heading(2, "sizes", "Sizes and parts")
	d.Add(document.Summary{Pairs: pairs})
	t := document.NewTable(document.TextColumn("Part"), document.NumberColumn("Number"), document.NumberColumn("Length"), document.NumberColumn("Width"), document.NumberColumn("Thickness"), document.TextColumn("Remarks"), document.CentreColumn("Cut"))
	t.Caption = "Parts with finished sizes"
	t.ID = "tab-parts"
	t.Group("Underframe")
	for i := range 24 {
		t.Cells(document.WordCell(fmt.Sprintf("leg L%d", i+1)), document.WordCell("1"), document.WordCell("452"), document.WordCell("45"), document.WordCell("45"),
			document.WordCell([]string{"glued up from three strips, the best face outwards and the growth rings turned so that the outer faces are edge grain", "as L1", ""}[i%3]), document.TickCell())
	}
	t.Total("All", "24", "10 848", "", "", "", "")
	d.Add(t)
	d.Heading(1, "joints", "Joints")
	d.Paragraph("Every feasible joint is compared on strength, glue surface, time and tools. The smallest size that holds is taken; it is not always the quickest.")
	c := document.NewTable(document.TextColumn("Joint"), document.NumberColumn("Demand N·m"), document.NumberColumn("Capacity N·m"), document.TextColumn("Verdict"))
	c.Caption = "Joints compared"
	c.Cells(document.WordCell("two dowels ⌀10"), document.WordCell("41.0"), document.WordCell("58.3"), document.ToneCell(document.Good, "holds"))
	c.Cells(document.WordCell("two dowels ⌀8"), document.WordCell("41.0"), document.WordCell("43.9"), document.ToneCell(document.Watch, "just holds"))
	c.Cells(document.WordCell("two screws"), document.WordCell("41.0"), document.WordCell("19.5"), document.ToneCell(document.Bad, "fails"))
	d.Add(c)
	d.Heading(3, "", "Why dowels")
	d.Add(document.List{Items: []document.Text{document.Words("They need a drill and a jig only."), document.Words("Glue joins long grain to long grain over ½″ of depth on each side, which is where the strength of the joint comes from; end grain counts for next to nothing, whatever the glue says on the bottle.")}})
	d.Add(document.List{Ordered: true, Items: []document.Text{document.Words("Mark from the face edge."), document.Words("Bore the aprons first.")}})
	d.Add(document.Checklist{Items: []document.Text{document.Words("dry fit done"), document.Words("clamps set to size")}})
	d.Add(document.Box{Kind: document.Caution, Text: []document.Text{document.Words("Open time is 8 minutes at 20 °C.")}}, document.Box{Title: "spacers", Text: []document.Text{document.Words("Two blocks of 18 mm save all measuring.")}})
	b := document.NewTable(document.TextColumn("Bore"), document.NumberColumn("x"), document.NumberColumn("y"))
	b.ID, b.Caption = "tab-bore", "Bores of the leg"
	b.Row("a", "9", "22.5")
	b.Row("b", "73", "22.5")
	d.Add(b, document.Figure{ID: "fig-hatch", Scene: sampleSection(), Caption: "All hatches and lines"})
	d.Add(document.SmallPrint{Text: document.Words("Source: common practice; values marked “assumed” were published by nobody.")})
	d.Heading(1, "templates", "Templates")
	d.Paragraph("Cut these out and lay them on the wood.")
	d.Add(document.Template{ID: "tpl-leg", Scene: sampleTemplate(80, 60), Caption: "bores of the leg"})
	d.Add(document.Template{ID: "tpl-rail", Scene: sampleTemplate(450, 82), Caption: "curved rail"})
	d.Heading(1, "sources", "Sources")
	d.Paragraph("None.")
	return d
}

func sampleTemplate(w, h float64) scene.Scene {
	s := scene.New("template")
	s.Ratio = scene.Full
	s.Rectangle(scene.Outline, scene.NoFill, scene.Point{}, scene.Point{X: w, Y: h})
	for x := 20.0; x < w; x += 40 {
		s.Circle(scene.Detail, scene.Point{X: x, Y: h / 2}, 5)
		s.Line(scene.Centre, scene.Point{X: x, Y: h/2 - 8}, scene.Point{X: x, Y: h/2 + 8})
	}
	return *s
}

func TestSampleDocumentIsWritten(t *testing.T) {
	d := sampleDocument()
	if wrong := d.Check(); len(wrong) > 0 {
		t.Fatal(wrong)
	}
	for name, paper := range map[string]Paper{"a4": A4, "letter": Letter} {
		out, err := Write(d, Options{Paper: paper})
		if err != nil {
			t.Fatal(err)
		}
		keepFile(t, name+".pdf", out)
	}
}
