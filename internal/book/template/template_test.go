package template

import (
	"fmt"
	"image"
	"image/color"
	_ "image/png"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"longgrain/internal/design/assembly"
	"longgrain/internal/ground/geom"
	"longgrain/internal/ground/unit"
	"longgrain/internal/paper/document"
	"longgrain/internal/paper/pdf"
	"longgrain/internal/paper/scene"
	"longgrain/internal/trial"
	"longgrain/internal/work/markout"
)

const mm = unit.Millimetre

var a4 = Room{Width: 166, Height: 234}

func tables(t *testing.T) map[string]assembly.Assembly {
	t.Helper()
	tapered := strings.Replace(trial.KeptTable, "below: low rails", "below: nothing\n  taper: 15 mm", 1)
	return map[string]assembly.Assembly{
		"rails":   trial.Dowelled(trial.Assembly(t, trial.KeptTable)),
		"tapered": trial.Dowelled(trial.Assembly(t, tapered)),
		"inches":  trial.Dowelled(trial.Assembly(t, strings.Replace(trial.KeptTable, "longgrain: 1", "longgrain: 1\nunits: in", 1))),
	}
}

// A template laid on its side, printed side up, puts every cross where the mark is: the place on paper, taken back to the wood from
// the corner of the side, is that of the mark, and right and up on paper turn the same way as on the wood seen from outside.
func TestATemplateLaidOnItsSidePutsEveryMarkInItsPlace(t *testing.T) {
	for name, a := range tables(t) {
		seen := 0
		for _, v := range views(a, markout.Make(a, markout.Options{})) {
			right, up, out := direction(v.left).Neg(), direction(v.up), direction(v.side)
			if right.Cross(up).Dot(out) < 0.999 {
				t.Errorf("%s: %s is printed as its mirror image", name, v.name(a))
			}
			var corner geom.Vec
			for _, s := range [3]assembly.Side{v.left, v.up.Opposite(), v.side} {
				if s.High() {
					corner = corner.Add(geom.Axis(s.Axis()).Scale(v.part.Size(s.Axis()).MM()))
				}
			}
			for _, m := range v.marks {
				c := v.centre(m)
				onPaper := corner.Add(right.Scale(c.X)).Add(up.Scale(c.Y))
				u, w := m.At(v.part)
				onWood := v.part.Pose.In(v.part.OnSide(v.side, u, w, 0))
				if d := onPaper.Sub(onWood).Length(); d > 1e-9 {
					t.Errorf("%s: %s, mark for %s is %.3f mm off", name, v.name(a), m.For, d)
				}
				if c.X < v.from || c.X > v.to {
					t.Errorf("%s: %s leaves the mark for %s out", name, v.name(a), m.For)
				}
				seen++
			}
		}
		if seen < 32 {
			t.Errorf("%s: only %d marks are on templates", name, seen)
		}
	}
}

func TestSmallTemplatesShareSheetsAndNoTextsOverlap(t *testing.T) {
	for name, a := range tables(t) {
		sheets := Make(a, markout.Make(a, markout.Options{}), a4)
		if len(sheets) == 0 || len(sheets) > 5 {
			t.Errorf("%s: %d sheets", name, len(sheets))
		}
		for _, s := range sheets {
			for _, c := range s.Scene.TextClashes() {
				t.Errorf("%s, %s: %q lies on %q", name, s.ID, c[0].Text, c[1].Text)
			}
			if w, h := s.Scene.Size(); (w > a4.Width || h > a4.Height) && name != "tapered" {
				t.Errorf("%s: %s is %.0f × %.0f mm", name, s.ID, w, h)
			}
		}
	}
}

func TestBothTapersOfALegAreDrawnToTheirFoot(t *testing.T) {
	a := tables(t)["tapered"]
	found := 0
	for _, v := range views(a, markout.Make(a, markout.Options{})) {
		if !v.profile {
			continue
		}
		found++
		upper, lower := v.edges()
		foot := math.Min(upper[0].Y-lower[0].Y, upper[len(upper)-1].Y-lower[len(lower)-1].Y)
		if math.Abs(foot-(48-15)) > 1e-9 {
			t.Errorf("%s: %.2f mm wide at the foot", v.name(a), foot)
		}
	}
	if found != 8 {
		t.Errorf("%d tapered sides of 4 legs, 2 each", found)
	}
}

// longLeg is a tapered part of 2.4 m, more than anything a small shop makes.
func longLeg() assembly.Assembly {
	return assembly.Assembly{Name: "Post", Parts: []assembly.Part{{
		Name: "post", Mark: "A1", Role: "leg", Species: "eastern-white-pine", Length: 2400 * mm, Width: 60 * mm, Thickness: 60 * mm,
		Pose:     geom.Pose{Axes: [3]geom.Vec{{Z: 1}, {X: 1}, {Y: 1}}},
		Features: []assembly.Feature{{Kind: assembly.TaperCut, Side: assembly.EdgeHigh, U: 0, Length: 1800 * mm, Depth: 20 * mm}},
	}}}
}

// The sheets of a template of 2.4 m, laid together along their join lines, measure 2400 mm on the printed page. An independent program
// draws the first, the second and the last sheet; all between are as the second. On each the lines are measured within 0.1 mm, which is
// two dots of the raster: poppler moves thin lines to whole dots.
func TestALongTemplateMeasuresTrueOverItsSheets(t *testing.T) {
	if testing.Short() {
		t.Skip("slow: draws pages and measures them")
	}
	a := longLeg()
	for _, s := range Make(a, markout.Make(a, markout.Options{}), a4) {
		if w, _ := s.Scene.Size(); w < 2400 {
			continue
		}
		for _, paper := range []struct {
			paper pdf.Paper
			long  float64 // mm
		}{{pdf.A4, 297}, {pdf.Letter, 11 * 25.4}} {
			file := printed(t, document.Template{Scene: s.Scene, Caption: s.Caption}, paper.paper)
			const sheets, margins = 10, 24 + 12
			inner := paper.long - margins
			spans := map[int]float64{}
			for _, n := range []int{1, 2, sheets} {
				page, ok := raster(t, file, n)
				if !ok {
					t.Fatalf("there is no sheet %d", n)
				}
				lines := crossed(page)
				switch {
				case n == 1 && len(lines) == 3: // left of the post there is paper up to the join line
					spans[n] = lines[2] - lines[1]
				case n == 2 && len(lines) == 2, n == sheets && len(lines) == 4: // right of the post its reference and the join line
					spans[n] = lines[1] - lines[0]
				default:
					t.Fatalf("sheet %d: lines at %.2f", n, lines)
				}
			}
			if _, more := raster(t, file, sheets+1); more {
				t.Errorf("there are more than %d sheets", sheets)
			}
			ends := 2400 - (sheets-2)*inner
			t.Logf("%g mm paper: inner sheet %.3f of %.3f mm, both ends together %.3f of %.3f mm", paper.long, spans[2], inner, spans[1]+spans[sheets], ends)
			if math.Abs(spans[2]-inner) > 0.1 || math.Abs(spans[1]+spans[sheets]-ends) > 0.1 {
				t.Errorf("%g mm paper: inner sheet %.3f of %.3f mm, both ends together %.3f of %.3f mm", paper.long, spans[2], inner, spans[1]+spans[sheets], ends)
			}
		}
	}
}

// The crosses of the bores of an end are as far from each other on the printed page as on the mark-out.
func TestBoresMeasureTrueOnTheRaster(t *testing.T) {
	if testing.Short() {
		t.Skip("slow: draws a page and measures it")
	}
	a := tables(t)["rails"]
	v := views(a, markout.Make(a, markout.Options{}))
	for _, x := range v {
		if !x.side.IsEnd() || len(x.marks) < 2 {
			continue
		}
		s := scene.New("")
		var want []float64
		for _, m := range x.marks {
			x.cut(s, m)
			want = append(want, x.centre(m).Y)
		}
		page, ok := raster(t, printed(t, document.Template{Scene: *s}, pdf.A4), 1)
		if !ok {
			t.Fatal("no page")
		}
		// Just outside the circles to the left, only the level centre lines are dark.
		first := x.centre(x.marks[0])
		column := 24 + (210-36)/2 - (first.X - x.centre(x.marks[0]).X) - 5 - centreOver/2
		got := dark(page, column, true, 40, 297-45)
		span := math.Abs(want[len(want)-1] - want[0])
		if len(got) != len(want) || math.Abs(got[len(got)-1]-got[0]-span) > 0.1 {
			t.Errorf("%s: lines at %.2f, %.2f mm apart wanted", x.name(a), got, span)
		}
		t.Logf("%s: %.3f mm measured, %.3f marked", x.name(a), got[len(got)-1]-got[0], span)
		return
	}
	t.Error("no end has two bores")
}

func printed(t *testing.T, block document.Template, paper pdf.Paper) string {
	t.Helper()
	d := document.Document{Title: "templates"}
	d.Add(block)
	data, err := pdf.Write(d, pdf.Options{Paper: paper})
	if err != nil {
		t.Fatal(err)
	}
	name := filepath.Join(t.TempDir(), "templates.pdf")
	if err := os.WriteFile(name, data, 0o600); err != nil {
		t.Fatal(err)
	}
	return name
}

const dpi = 600

// raster draws one page with poppler; false when there is no such page.
func raster(t *testing.T, file string, page int) (image.Image, bool) {
	t.Helper()
	n := fmt.Sprint(page)
	if out, err := exec.Command("pdftoppm", "-r", fmt.Sprint(dpi), "-f", n, "-l", n, "-gray", "-singlefile", "-png", file, file+n).CombinedOutput(); err != nil {
		if strings.Contains(string(out), "Wrong page range") {
			return nil, false
		}
		t.Fatalf("pdftoppm: %v: %s", err, out)
	}
	in, err := os.Open(file + n + ".png")
	if err != nil {
		return nil, false
	}
	defer in.Close()
	picture, _, err := image.Decode(in)
	if err != nil {
		t.Fatal(err)
	}
	return picture, true
}

// dark returns the middles of the dark stretches along a line of the page, mm.
func dark(page image.Image, line float64, upright bool, from, to float64) []float64 {
	px := func(v float64) int { return int(v / 25.4 * dpi) }
	var out []float64
	ink, moment := 0.0, 0.0
	for i := px(from); i <= px(to); i++ {
		x, y := i, px(line)
		if upright {
			x, y = y, i
		}
		w := 255 - float64(color.GrayModel.Convert(page.At(x, y)).(color.Gray).Y)
		switch {
		case w > 4:
			ink, moment = ink+w, moment+w*(float64(i)+0.5)
		case ink > 60:
			out = append(out, moment/ink/dpi*25.4)
			ink, moment = 0, 0
		default:
			ink, moment = 0, 0
		}
	}
	return out
}

// crossed returns where a level line through the post, 12 mm below its reference edge, crosses its ends, the heavy line beside its
// reference end and the join lines.
func crossed(page image.Image) []float64 {
	b := page.Bounds()
	width, height := float64(b.Dx())/dpi*25.4, float64(b.Dy())/dpi*25.4
	// The heavy line of the reference runs along the whole of the post: the row with most of its length dark.
	row := 0.0
	for y := 30.0; y < height-30; y += 0.1 {
		n := 0
		for x := 26.0; x < width-14; x++ {
			if color.GrayModel.Convert(page.At(int(x/25.4*dpi), int(y/25.4*dpi))).(color.Gray).Y < 100 {
				n++
			}
		}
		if float64(n) > 0.2*width {
			row = y
			break
		}
	}
	return dark(page, row+12, false, 20, width-4)
}
