package drawing

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"longgrain/internal/ground/unit"
	"longgrain/internal/paper/scene"
)

// PieceKind says what becomes of a piece of a board.
type PieceKind int

// The kinds of piece.
const (
	PartPiece   PieceKind = iota // becomes a part
	OffcutPiece                  // is kept
	WastePiece                   // is thrown away: trim, snipe
	FaultPiece                   // a knot or check to be cut round
)

// BoardPiece is a rectangle on a board, measured from its lower left corner.
type BoardPiece struct {
	X, Y, Length, Width unit.Length
	Label               string
	Kind                PieceKind
}

// BoardCut is a saw cut through a board or a piece of one, in the order of Number.
type BoardCut struct {
	Number         int
	X0, Y0, X1, Y1 unit.Length
}

// Board is a board with what is cut from it.
type Board struct {
	Name          string
	Length, Width unit.Length
	Pieces        []BoardPiece
	Cuts          []BoardCut
}

// Sizes of a cutting diagram, paper mm.
const (
	numberRadius = 2.6  // of the ring round the number of a cut
	numberPitch  = 6.0  // between rings
	ripInset     = 3.5  // how far from its right end a rip is numbered
	tallestBoard = 45.0 // how wide a board is drawn at most
	clearBoard   = 30.0 // how wide a board is drawn so that its strips can be told apart
	mostStretch  = 6    // times as large across the board as along it
)

// BoardDiagram draws a board to scale with its pieces and its numbered cuts. A long narrow board is drawn to a larger scale
// across than along, and both are written above it. Pieces that are kept are light, waste is hatched. Distances below are
// measured from the left end of the board.
func BoardDiagram(b Board, st Style) scene.Scene {
	ratios := atMost(st.ratios(), tallestBoard/b.Width.MM())
	s := st.largest(ratios, func(r scene.Ratio) *scene.Scene { return drawBoard(b, st, r) })
	s.Title = "Cutting diagram of " + b.Name
	s.Description = fmt.Sprintf("%d pieces and %d cuts, at %s.", len(b.Pieces), len(b.Cuts), scales(b, s.Ratio))
	return *s
}

// stretch returns how many times larger a board is drawn across than along.
func stretch(b Board, r scene.Ratio) float64 {
	drawn := b.Width.MM() * r.Factor()
	return math.Floor(max(1, min(mostStretch, clearBoard/drawn)))
}

// scales names the scale along the board, and that across where it is another.
func scales(b Board, r scene.Ratio) string {
	k := stretch(b, r)
	if k == 1 {
		return r.String()
	}
	return fmt.Sprintf("%s along, 1:%.3g across", r, r.Model/r.Paper/k)
}

func drawBoard(b Board, st Style, r scene.Ratio) *scene.Scene {
	s := scene.New("")
	v := scene.View{Ratio: r}
	k := stretch(b, r)
	at := func(x, y unit.Length) scene.Point { return v.At(x.MM(), k*y.MM()) }
	d := &scene.Dimensions{Height: Lettering}
	for _, p := range b.Pieces {
		drawPiece(s, p, at)
	}
	s.Rectangle(scene.Outline, scene.NoFill, at(0, 0), at(b.Length, b.Width))
	crossAt := numberCuts(s, b, at)
	for _, p := range b.Pieces {
		labelPiece(s, d, p, at)
	}
	var stations []scene.Station
	for _, x := range crossAt {
		stations = append(stations, scene.Station{At: at(x, 0), Label: st.show(x)})
	}
	stations = append(stations, scene.Station{At: at(b.Length, 0), Label: st.show(b.Length)})
	d.Running(scene.Below, at(0, 0), stations...)
	measure(d, scene.LeftOf, at(0, 0), at(0, b.Width), st.show(b.Width))
	d.Place(s)
	box := s.Bounds()
	s.Add(scene.Text{Style: scene.Words, At: scene.Point{X: box.Min.X, Y: box.Max.Y + 2}, Text: b.Name + ", " + scales(b, r), Height: Lettering, Weight: scene.Bold})
	return s
}

func drawPiece(s *scene.Scene, p BoardPiece, at func(x, y unit.Length) scene.Point) {
	looks := map[PieceKind]struct {
		style scene.Style
		fill  scene.Fill
		hatch scene.Hatch
	}{
		PartPiece:   {scene.Detail, scene.PartFill, scene.NoHatch},
		OffcutPiece: {scene.Offcut, scene.OffcutFill, scene.NoHatch},
		WastePiece:  {scene.Offcut, scene.WasteFill, scene.SectionHatch},
		FaultPiece:  {scene.Detail, scene.WasteFill, scene.CrossHatch},
	}
	l := looks[p.Kind]
	outline := scene.Rectangle(l.style, l.fill, at(p.X, p.Y), at(p.X+p.Length, p.Y+p.Width))
	outline.Hatch = l.hatch
	s.Add(outline)
}

// labelPiece writes the label inside the piece where it fits at full lettering, on two lines or upright where it must be, else
// leads it out. Waste needs no label that does not fit.
func labelPiece(s *scene.Scene, d *scene.Dimensions, p BoardPiece, at func(x, y unit.Length) scene.Point) {
	low, high := at(p.X, p.Y), at(p.X+p.Length, p.Y+p.Width)
	middle := scene.Point{X: (low.X + high.X) / 2, Y: (low.Y + high.Y) / 2}
	t := words(middle, p.Label)
	t.Align, t.Rise = scene.Middle, scene.MidHeight
	t.Backed = p.Kind == WastePiece || p.Kind == FaultPiece
	fits := func(lines ...scene.Text) bool {
		for _, t := range lines {
			b := t.Quad().Bounds()
			if b.Width() >= high.X-low.X-1 || b.Min.Y <= low.Y+0.2 || b.Max.Y >= high.Y-0.2 {
				return false
			}
		}
		for _, t := range lines {
			s.Add(t)
		}
		return true
	}
	if fits(t) {
		return
	}
	if first, second, two := strings.Cut(p.Label, " "); two {
		upper, lower := t, t
		upper.Text, lower.Text = first, second
		upper.At.Y, lower.At.Y = middle.Y+linePitch*Lettering/2, middle.Y-linePitch*Lettering/2
		if fits(upper, lower) {
			return
		}
	}
	if t.Rotation = 90; fits(t) {
		return
	}
	if p.Kind != WastePiece && p.Label != "" {
		d.Note(t.At, p.Label)
	}
}

// linePitch is the distance of the two lines of a label over the height of its lettering.
const linePitch = 1.6

// numberCuts draws the cuts with their numbers in rings above the board, each led to its cut: a crosscut
// at the edge, a rip near its right end. It returns where the board is crosscut, in rising order, each
// once.
func numberCuts(s *scene.Scene, b Board, at func(x, y unit.Length) scene.Point) []unit.Length {
	type called struct {
		number int
		tip    scene.Point
	}
	var calls []called
	var crossAt []unit.Length
	edge := at(0, b.Width).Y
	for _, c := range b.Cuts {
		from, to := at(c.X0, c.Y0), at(c.X1, c.Y1)
		s.Line(scene.Cut, from, to)
		if c.X0 == c.X1 {
			calls = append(calls, called{c.Number, scene.Point{X: from.X, Y: max(from.Y, to.Y)}})
			if !slices.Contains(crossAt, c.X0) {
				crossAt = append(crossAt, c.X0)
			}
			continue
		}
		calls = append(calls, called{c.Number, scene.Point{X: max(from.X, to.X) - ripInset, Y: from.Y}})
	}
	slices.SortStableFunc(calls, func(x, y called) int { return cmp.Or(cmp.Compare(x.tip.X, y.tip.X), cmp.Compare(x.number, y.number)) })
	x := make([]float64, len(calls))
	for i, c := range calls {
		x[i] = -c.tip.X // spreadDown takes falling values
	}
	for i, u := range spreadDown(x, numberPitch) {
		c := calls[i]
		centre := scene.Point{X: -u, Y: edge + numberRadius + 5}
		s.Line(scene.Dimension, scene.Point{X: centre.X, Y: centre.Y - numberRadius}, c.tip)
		if c.tip.Y < edge-0.1 {
			s.Add(scene.Circle{Style: scene.Dimension, Centre: c.tip, Radius: 0.5, Fill: scene.InkFill})
		}
		ring(s, centre, c.number)
	}
	slices.Sort(crossAt)
	return crossAt
}

func ring(s *scene.Scene, centre scene.Point, number int) {
	s.Add(scene.Circle{Style: scene.Detail, Centre: centre, Radius: numberRadius, Fill: scene.PaperFill},
		scene.Text{Style: scene.Words, At: centre, Text: fmt.Sprint(number), Height: Lettering, Align: scene.Middle, Rise: scene.MidHeight})
}
