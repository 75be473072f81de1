package drawing

import (
	"math"
	"slices"

	"longgrain/internal/design/assembly"
	"longgrain/internal/ground/geom"
	"longgrain/internal/paper/scene"
)

// The directions of sight of the views. From the left, the front lies at the right hand.
var (
	fromFront = looking{geom.Vec{X: 1}, geom.Vec{Z: 1}, geom.Vec{Y: -1}}
	fromLeft  = looking{geom.Vec{Y: -1}, geom.Vec{Z: 1}, geom.Vec{X: -1}}
	fromRight = looking{geom.Vec{Y: 1}, geom.Vec{Z: 1}, geom.Vec{X: 1}}
	fromAbove = looking{geom.Vec{X: 1}, geom.Vec{Y: 1}, geom.Vec{Z: 1}}
)

// viewGap is the free paper between two views with their dimensions, mm.
const viewGap = 9

// Views draws the whole piece from the front, from one side and from above, to scale, with hidden
// edges dashed, overall and main inner dimensions. In first angle the side is seen from the left and
// drawn to the right of the front, and the view from above is drawn below it; in third angle the side
// is seen from the right and drawn to the right, and the view from above is drawn above.
func Views(a assembly.Assembly, st Style) scene.Scene {
	all := bodies(a)
	side := fromLeft
	if st.Projection == ThirdAngle {
		side = fromRight
	}
	front := strokes(all, fromFront)
	beside := strokes(all, side)
	above := strokes(all, fromAbove)
	s := st.largest(st.ratios(), func(r scene.Ratio) *scene.Scene {
		f := drawView(front, "from the front", r)
		frontDimensions(a, st, fromFront, r, true).Place(f)
		b := drawView(beside, map[Projection]string{FirstAngle: "from the left", ThirdAngle: "from the right"}[st.Projection], r)
		frontDimensions(a, st, side, r, false).Place(b)
		t := drawView(above, "from above", r)
		return arrange(f, b, t, st.Projection, r)
	})
	s.ID, s.Title = "views", "Views of "+a.Name
	s.Description = "The piece from the front, from the side and from above, at " + s.Ratio.String() + ". Hidden edges are dashed."
	return *s
}

// drawView draws strokes at a ratio with the name of the view below.
func drawView(lines []stroke, name string, r scene.Ratio) *scene.Scene {
	s := scene.New(name)
	v := scene.View{Ratio: r}
	for _, hidden := range []bool{true, false} { // full lines last, so that they lie on top
		style := scene.Outline
		if hidden {
			style = scene.Hidden
		}
		for _, l := range lines {
			if l.hidden == hidden {
				s.Line(style, v.At(l.from.X, l.from.Y), v.At(l.to.X, l.to.Y))
			}
		}
	}
	return s
}

// arrange puts the three views and the sign of the projection on one sheet. Views stay in line with
// the front view.
func arrange(front, side, above *scene.Scene, p Projection, r scene.Ratio) *scene.Scene {
	out := scene.New("")
	out.Add(front.Items...)
	f, b, t := front.Bounds(), side.Bounds(), above.Bounds()
	dx := f.Max.X + viewGap - b.Min.X
	out.Add(side.Moved(1, scene.Point{X: dx})...)
	row := f.Union(scene.Box{Min: b.Min.Plus(dx, 0), Max: b.Max.Plus(dx, 0)})
	dy := row.Min.Y - viewGap - t.Max.Y
	if p == ThirdAngle {
		dy = row.Max.Y + viewGap - t.Min.Y
	}
	out.Add(above.Moved(1, scene.Point{Y: dy})...)
	for _, v := range []struct {
		s      *scene.Scene
		dx, dy float64
	}{{front, 0, 0}, {side, dx, 0}, {above, 0, dy}} {
		box := v.s.Bounds()
		at := scene.Point{X: box.Centre().X + v.dx, Y: box.Min.Y + v.dy - 2 - Lettering}
		out.Add(scene.Text{Style: scene.Muted, At: at, Text: v.s.Title, Height: Lettering, Align: scene.Middle})
	}
	// The free corner beside the view from above holds the sign and the scale.
	corner := scene.Point{X: dx + b.Centre().X, Y: t.Centre().Y + dy}
	out.Add(projectionSign(corner, p)...)
	out.Add(scene.Text{Style: scene.Muted, At: corner.Plus(0, -18), Text: "scale " + r.String(), Height: Lettering, Align: scene.Middle})
	return out
}

// projectionSign draws the sign of the projection: a blunt cone from the side and from its narrow end,
// which lies at the left.
//
// Source: [iso-5456] part 2, from memory.
func projectionSign(centre scene.Point, p Projection) []scene.Item {
	const (
		small, large = 2.0, 4.0 // radii
		length       = 8.0
		apart        = 12.0
	)
	cone := centre.Plus(-apart/2-length/2+2, 0)
	rings := centre.Plus(apart/2+2, 0)
	if p == ThirdAngle {
		cone, rings = centre.Plus(4, 0), centre.Plus(-apart/2-2, 0)
	}
	name := "first angle"
	if p == ThirdAngle {
		name = "third angle"
	}
	line := func(from, to scene.Point) scene.Item {
		return scene.Line{Style: scene.Centre, From: from, To: to}
	}
	return []scene.Item{
		scene.Polygon{Style: scene.Detail, Points: []scene.Point{cone.Plus(0, -small), cone.Plus(length, -large), cone.Plus(length, large), cone.Plus(0, small)}},
		scene.Circle{Style: scene.Detail, Centre: rings, Radius: small},
		scene.Circle{Style: scene.Detail, Centre: rings, Radius: large},
		line(cone.Plus(-2, 0), cone.Plus(length+2, 0)),
		line(rings.Plus(-large-2, 0), rings.Plus(large+2, 0)),
		line(rings.Plus(0, -large-2), rings.Plus(0, large+2)),
		scene.Text{Style: scene.Muted, At: centre.Plus(0, -large-3-Lettering), Text: name, Height: Lettering, Align: scene.Middle},
	}
}

// frontDimensions asks for the dimensions of an upright view: overall width, overhang, legs and the
// clear width between them below, and on the left, where wanted, the heights above the floor.
func frontDimensions(a assembly.Assembly, st Style, l looking, r scene.Ratio, heights bool) *scene.Dimensions {
	d := &scene.Dimensions{Height: Lettering}
	v := scene.View{Ratio: r}
	whole := viewBox(a, l)
	floor := whole.Min.Y
	at := func(x, y float64) scene.Point { return v.At(x, y) }
	ask := func(from, to float64) {
		if to-from > geom.Touch {
			measure(d, scene.Below, at(from, floor), at(to, floor), st.showMM(to-from))
		}
	}
	ask(whole.Min.X, whole.Max.X)
	legs := standingSpans(a, l)
	if n := len(legs); n > 0 && n <= 6 {
		ask(whole.Min.X, legs[0].low)
		for i, leg := range legs {
			if i == 0 || !near(leg.high-leg.low, legs[i-1].high-legs[i-1].low) {
				ask(leg.low, leg.high)
			}
			if i > 0 {
				ask(legs[i-1].high, leg.low)
			}
		}
	}
	if heights {
		var stations []scene.Station
		for _, z := range levels(a, l) {
			stations = append(stations, scene.Station{At: at(whole.Min.X, z), Label: st.showMM(z - floor)})
		}
		d.Running(scene.LeftOf, at(whole.Min.X, floor), stations...)
	}
	return d
}

func near(a, b float64) bool { return math.Abs(a-b) < geom.Touch }

// viewBox returns the extent of the whole piece in a view, model mm.
func viewBox(a assembly.Assembly, l looking) scene.Box {
	var out scene.Box
	for i, s := range bodies(a) {
		b := shadow(s, l)
		if i == 0 {
			out = b
		}
		out = out.Union(b)
	}
	return out
}

// standingSpans returns where parts stand on the floor in a view, joined where they overlap.
func standingSpans(a assembly.Assembly, l looking) []span {
	var out []span
	for _, s := range a.Supports {
		p := a.Parts[s.Part]
		u, v := s.Side.UV()
		from := l.onPaper(p.OnSide(s.Side, 0, 0, 0)).X
		to := l.onPaper(p.OnSide(s.Side, p.Size(u), p.Size(v), 0)).X
		out = append(out, ordered(from, to))
	}
	return union(out, geom.Touch)
}

// mostLevels is how many heights a view names at most, so that the row stays readable.
const mostLevels = 12

// levels returns the heights at which something level begins or ends: the lower and upper sides of
// every part, each once, the floor left out.
func levels(a assembly.Assembly, l looking) []float64 {
	lo, hi := a.Bounds()
	heights := []float64{hi.Z}
	for _, p := range a.Parts {
		low, high := p.Box().Bounds()
		for _, z := range [2]float64{low.Z, high.Z} {
			if z-lo.Z > geom.Touch && !slices.ContainsFunc(heights, func(h float64) bool { return near(h, z) }) {
				heights = append(heights, z)
			}
		}
	}
	if len(heights) > mostLevels {
		heights = heights[:1]
	}
	slices.Sort(heights)
	return heights
}
