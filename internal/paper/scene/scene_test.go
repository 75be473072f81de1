package scene

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
)

// near is the tolerance for lengths in these tests, in millimetres: rounding of a few sums.
const near = 1e-9

func TestBoundsIncludeTextByItsMetrics(t *testing.T) {
	s := New("")
	s.Text(Point{10, 20}, 2.5, "H")
	b := s.Bounds()
	// H of DejaVu Sans is 1540 units wide at 2048 to the em, its capitals are 1493 high.
	if w := 1540.0 / 1493 * 2.5; math.Abs(b.Width()-w) > near {
		t.Errorf("width %v, want %v", b.Width(), w)
	}
	if b.Min.X != 10 || b.Min.Y >= 20 || b.Max.Y <= 22.5-near {
		t.Errorf("box %v does not hold the letter with room for descenders", b)
	}
}

func TestTextStartFollowsAlignmentAndRotation(t *testing.T) {
	w := TextWidth("Leg", 2, Regular)
	for _, c := range []struct {
		name string
		text Text
		want Point
	}{
		{"left on baseline", Text{}, Point{0, 0}},
		{"middle", Text{Align: Middle}, Point{-w / 2, 0}},
		{"right", Text{Align: Right}, Point{-w, 0}},
		{"mid height", Text{Rise: MidHeight}, Point{0, -1}},
		{"cap top", Text{Rise: CapTop}, Point{0, -2}},
		{"standing", Text{Align: Right, Rise: CapTop, Rotation: 90}, Point{2, -w}},
	} {
		c.text.Text, c.text.Height = "Leg", 2
		got := c.text.Start()
		if math.Hypot(got.X-c.want.X, got.Y-c.want.Y) > near {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
}

func TestCharacterOutsideTheFontIsReplaced(t *testing.T) {
	if got := Printable("a\t漢\x01b"); got != "a \uFFFDb" {
		t.Errorf("got %q", got)
	}
	if TextWidth("漢", 1, Regular) != TextWidth("\uFFFD", 1, Regular) {
		t.Error("a missing character is not measured as its replacement")
	}
}

func TestArcBoundsReachTheQuarterPoints(t *testing.T) {
	a := Arc{Centre: Point{0, 0}, Radius: 10, Start: 300, End: 60}
	b := a.bounds()
	half := 10 * math.Sqrt(3) / 2
	want := Box{Point{5, -half}, Point{10, half}}
	for _, d := range []float64{b.Min.X - want.Min.X, b.Min.Y - want.Min.Y, b.Max.X - want.Max.X, b.Max.Y - want.Max.Y} {
		if math.Abs(d) > near {
			t.Fatalf("box %v, want %v", b, want)
		}
	}
	if a.Sweep() != 120 {
		t.Errorf("sweep %v, want 120", a.Sweep())
	}
}

func TestFitRatioTakesTheLargestThatFits(t *testing.T) {
	for _, c := range []struct {
		w, h float64
		want string
		fits bool
	}{
		{160, 100, "1:1", true},
		{340, 100, "1:2", true},
		{341, 100, "1:2.5", true},
		{600, 900, "1:5", true},
		{100000, 1, "1:100", false},
		{10, 10, "10:1", true},
	} {
		got, ok := FitRatio(c.w, c.h, 170, 220, MetricRatios)
		if got.String() != c.want || ok != c.fits {
			t.Errorf("%v x %v: %v %v, want %v %v", c.w, c.h, got, ok, c.want, c.fits)
		}
	}
}

func TestViewScalesAboutItsOrigin(t *testing.T) {
	v := View{Ratio{1, 5}, Point{20, 30}}
	if got := v.At(100, 50); got != (Point{40, 40}) {
		t.Errorf("got %v", got)
	}
}

func TestHatchStaysInsideAndLeavesHolesFree(t *testing.T) {
	for _, h := range []Hatch{SectionHatch, SectionHatch2, EndGrainHatch, CrossHatch, GrainHatch} {
		p := Rectangle(Outline, NoFill, Point{0, 0}, Point{40, 30})
		p.Holes = [][]Point{{{10, 10}, {20, 10}, {20, 20}, {10, 20}}}
		p.Hatch = h
		lines := p.HatchLines()
		if len(lines) < 5 {
			t.Errorf("hatch %d: only %d lines", h, len(lines))
		}
		for _, l := range lines {
			m := between(l.From, l.To, 0.5)
			if m.X < -near || m.X > 40+near || m.Y < -near || m.Y > 30+near {
				t.Errorf("hatch %d: line through %v is outside", h, m)
			}
			if m.X > 10+near && m.X < 20-near && m.Y > 10+near && m.Y < 20-near {
				t.Errorf("hatch %d: line through %v is in the hole", h, m)
			}
		}
	}
}

func TestQuadsOverlapOnlyWhenTheyShareArea(t *testing.T) {
	a := Text{Text: "HHHH", Height: 2}.Quad()
	for _, c := range []struct {
		name string
		text Text
		want bool
	}{
		{"same place", Text{}, true},
		{"above", Text{At: Point{0, 5}}, false},
		{"standing through", Text{At: Point{3, -3}, Rotation: 90}, true},
		{"slanted past the corner", Text{At: Point{10, -6}, Rotation: 45}, false},
	} {
		c.text.Text, c.text.Height = "HHHH", 2
		if got := a.Overlaps(c.text.Quad(), 0); got != c.want {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
}

func TestSpreadKeepsPitchAndMovesLeast(t *testing.T) {
	got := spread([]float64{0, 1, 2, 20}, 4)
	want := []float64{-3, 1, 5, 20}
	for i := range want {
		if math.Abs(got[i]-want[i]) > near {
			t.Fatalf("got %v, want %v", got, want)
		}
	}
}

// crowded draws a plate with many bores and asks for every kind of dimension at random places.
func crowded(seed uint64) *Scene {
	r := rand.New(rand.NewPCG(seed, 1))
	s := New("crowded")
	w, h := 40+r.Float64()*100, 15+r.Float64()*60
	s.Rectangle(Outline, PartFill, Point{0, 0}, Point{w, h})
	var d Dimensions
	var rows [4][]Station
	for i := range 3 + r.IntN(8) {
		c := Point{r.Float64() * w, r.Float64() * h}
		s.Circle(Detail, c, 1+r.Float64()*3)
		label := fmt.Sprintf("%.1f", c.X*5)
		rows[r.IntN(4)] = append(rows[r.IntN(4)], Station{c, label})
		d.Diameter(c, 2, fmt.Sprintf("⌀%d", 6+i))
		if i%2 == 0 {
			d.Note(c, "bore from the face side")
			d.Linear(Side(r.IntN(4)), Point{0, 0}, c, label)
		}
		d.Label(Box{c, c.Plus(2+r.Float64()*20, 3+r.Float64()*8)}, "part P1")
	}
	for side, stations := range rows {
		d.Running(Side(side), Point{0, 0}, stations...)
		d.Linear(Side(side), Point{0, 0}, Point{w, h}, "all")
	}
	d.Aligned(Point{0, 0}, Point{w, h}, "across")
	d.Aligned(Point{w, 0}, Point{0, h}, "across")
	d.Place(s)
	return s
}

func TestNoTwoTextsOverlapHoweverCrowded(t *testing.T) {
	for seed := range uint64(60) {
		s := crowded(seed)
		if clash := s.TextClashes(); len(clash) > 0 {
			t.Errorf("seed %d: %d clashes, first %+v", seed, len(clash), clash[0])
		}
	}
}

func TestPlacingTwiceGivesTheSameDrawing(t *testing.T) {
	if a, b := fmt.Sprintf("%v", *crowded(7)), fmt.Sprintf("%v", *crowded(7)); a != b {
		t.Error("two runs differ")
	}
}

func TestShortDimensionsStandInsideLongOnes(t *testing.T) {
	s := New("")
	s.Rectangle(Outline, NoFill, Point{0, 0}, Point{100, 20})
	var d Dimensions
	d.Linear(Above, Point{0, 20}, Point{100, 20}, "500")
	d.Linear(Above, Point{20, 20}, Point{60, 20}, "200")
	d.Linear(Above, Point{60, 20}, Point{100, 20}, "200")
	d.Place(s)
	at := map[string][]float64{}
	for _, text := range s.Texts() {
		at[text.Text] = append(at[text.Text], text.At.Y)
	}
	if at["200"][0] != at["200"][1] {
		t.Errorf("neighbours in one row stand at %v", at["200"])
	}
	if at["500"][0] <= at["200"][0] {
		t.Error("the long dimension stands inside the short ones")
	}
}

func TestNarrowDimensionIsLabelledBesideItsArrows(t *testing.T) {
	s := New("")
	s.Rectangle(Outline, NoFill, Point{0, 0}, Point{100, 20})
	var d Dimensions
	d.Linear(Above, Point{50, 20}, Point{53, 20}, "15.5")
	d.Place(s)
	text := s.Texts()[0]
	if b := text.Quad().Bounds(); b.Min.X < 53 {
		t.Errorf("label at %v stands between its arrows", b)
	}
}

func TestDimensionsWithNothingAskedAddNothing(t *testing.T) {
	s := New("")
	new(Dimensions).Place(s)
	if len(s.Items) != 0 || !s.Bounds().Empty() {
		t.Error("something was added to an empty scene")
	}
}

func TestMovedKeepsTextProportion(t *testing.T) {
	s := New("")
	s.Text(Point{0, 0}, 2, "abc")
	s.Add(Group{ID: "g", Items: []Item{Circle{Centre: Point{5, 5}, Radius: 1}}})
	b := s.Bounds()
	m := Scene{Items: s.Moved(2, Point{3, 4})}.Bounds()
	if math.Abs(m.Width()-2*b.Width()) > near || math.Abs(m.Min.X-(2*b.Min.X+3)) > near {
		t.Errorf("moved %v from %v", m, b)
	}
}

func FuzzTextWidthIsSumOfItsPieces(f *testing.F) {
	f.Add("Leg ½″", "⌀10")
	f.Fuzz(func(t *testing.T, a, b string) {
		whole := TextWidth(a+b, 2.5, Bold)
		parts := TextWidth(a, 2.5, Bold) + TextWidth(b, 2.5, Bold)
		// a character cut in two by the join is read as two unknown ones, so only clean text counts
		if Printable(a+b) == Printable(a)+Printable(b) && math.Abs(whole-parts) > 1e-6 {
			t.Errorf("%q + %q: %v, parts %v", a, b, whole, parts)
		}
	})
}
