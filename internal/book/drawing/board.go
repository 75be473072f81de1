package drawing

import (
	"cmp"
	"fmt"
	"slices"

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
)

// BoardDiagram draws a board to scale with its pieces and its numbered cuts. Pieces that are kept are
// light, waste is hatched. Distances below are measured from the left end of the board.
func BoardDiagram(b Board, st Style) scene.Scene {
	ratios := atMost(st.ratios(), tallestBoard/b.Width.MM())
	s := st.largest(ratios, func(r scene.Ratio) *scene.Scene { return drawBoard(b, st, r) })
	s.Title = "Cutting diagram of " + b.Name
	s.Description = fmt.Sprintf("%d pieces and %d cuts, at %s.", len(b.Pieces), len(b.Cuts), s.Ratio)
	return *s
}

func drawBoard(b Board, st Style, r scene.Ratio) *scene.Scene {
	s := scene.New("")
	v := scene.View{Ratio: r}
	at := func(x, y unit.Length) scene.Point { return v.At(x.MM(), y.MM()) }
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
	s.Add(scene.Text{Style: scene.Words, At: scene.Point{X: box.Min.X, Y: box.Max.Y + 2}, Text: b.Name + ", " + r.String(), Height: Lettering, Weight: scene.Bold})
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

// labelPiece writes the label inside the piece where it fits at full lettering, else leads it out.
// Waste needs no label that does not fit.
func labelPiece(s *scene.Scene, d *scene.Dimensions, p BoardPiece, at func(x, y unit.Length) scene.Point) {
	low, high := at(p.X, p.Y), at(p.X+p.Length, p.Y+p.Width)
	t := words(scene.Point{X: (low.X + high.X) / 2, Y: (low.Y + high.Y) / 2}, p.Label)
	t.Align, t.Rise = scene.Middle, scene.MidHeight
	t.Backed = p.Kind == WastePiece || p.Kind == FaultPiece
	for _, t.Rotation = range []float64{0, 90} {
		if b := t.Quad().Bounds(); b.Width() < high.X-low.X-1 && b.Height() < high.Y-low.Y-0.4 {
			s.Add(t)
			return
		}
	}
	if p.Kind != WastePiece && p.Label != "" {
		d.Note(t.At, p.Label)
	}
}

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
