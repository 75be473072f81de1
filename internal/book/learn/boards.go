package learn

import (
	"fmt"
	"math"

	"longgrain/internal/check/movement"
	"longgrain/internal/check/structure"
	"longgrain/internal/ground/source"
	"longgrain/internal/ground/unit"
	"longgrain/internal/ground/working"
	"longgrain/internal/paper/scene"
	"longgrain/internal/trade/adhesive"
	"longgrain/internal/trade/wood"
	"longgrain/internal/work/glueup"
)

// moved returns the change of width of a board, mm, and the coefficient of the angle of its rings.
func moved(width, angle, from, to float64) (mm float64, c wood.ChangeCoefficient, cite source.Cite) {
	species, _ := wood.Lookup(partWood)
	radial, _ := species.Change(wood.QuarterSawn)
	tangential, known := species.Change(wood.FlatSawn)
	if !known {
		panic("learn: no change coefficient of " + partWood)
	}
	c = wood.ChangeAtRingAngle(radial.Value, tangential.Value, unit.Degrees(angle))
	return movement.PanelMovement(unit.MM(width), c, wood.Moisture(from), wood.Moisture(to)).MM(), c, tangential.Cite
}

var yearLesson = lesson{
	Lesson: Lesson{ID: "year", Title: "Why a top moves",
		About: "Wood takes water from damp air and gives it up in a heated room. It then grows and shrinks across its fibres, most along the rings, and hardly at all along its length. A top that is held fast must split or cup.",
		Inputs: []Input{
			{"width", "Width of the top", "mm", 100, 1200, 10, 560},
			{"from", "Moisture of the wood when it was made", "%", 6, 14, 0.5, 8},
			{"to", "Moisture of the wood later", "%", 6, 14, 0.5, 11},
			{"rings", "Angle of the rings to the face", "°", 0, 90, 5, 0},
		}},
	make: func(v map[string]float64) Answer {
		w, from, to, angle := v["width"], v["from"], v["to"], v["rings"]
		d, c, cite := moved(w, angle, from, to)
		does := "grows by"
		if d < 0 {
			does = "shrinks by"
		}
		return Answer{
			Says:    fmt.Sprintf("The top %s %s mm.", does, working.Figures(three(math.Abs(d)))),
			Picture: yearPicture(w, d, angle),
			Curve:   curve{title: "Movement of a top over its width", across: "width of the top, mm", up: "movement, mm", from: 100, to: 1200, now: w, of: func(x float64) float64 { mm, _, _ := moved(x, angle, from, to); return math.Abs(mm) }}.draw(),
			Working: working.Working{
				{Title: "Coefficient at the angle of the rings", Formula: "C = C_R sin²a + C_T cos²a", Inputs: []working.Value{{Symbol: "a", Number: angle, Unit: "°"}}, Result: working.Value{Symbol: "C", Number: float64(c), Unit: "1/%"}, Cite: cite, Note: "0° is flat-sawn, 90° quarter-sawn"},
				{Title: "Change in width", Formula: "ΔW = W · C · (M₁ − M₀)", Inputs: []working.Value{{Symbol: "W", Number: w, Unit: "mm"}, {Symbol: "M₀", Number: from, Unit: "%"}, {Symbol: "M₁", Number: to, Unit: "%"}},
					Result: working.Value{Symbol: "ΔW", Number: d, Unit: "mm"}, Cite: source.At("wood-handbook", "equation 13-2", source.Read)},
			}}
	},
}

// yearPicture shows the end of a board as it was made and, dashed, as it is later, with the movement drawn larger.
func yearPicture(w, d, angle float64) scene.Scene {
	const times = 10
	s := scene.New("A board from its end, as made and later")
	k := (pictureWide - 30) / 1400
	half, high := w*k/2, 9.0
	mid := pictureWide / 2
	ends := func(half float64) []scene.Point {
		return []scene.Point{{X: mid - half, Y: 20}, {X: mid + half, Y: 20}, {X: mid + half, Y: 20 + high}, {X: mid - half, Y: 20 + high}}
	}
	later := half + d*times*k/2
	s.Add(scene.Polygon{Style: scene.Outline, Fill: scene.PartFill, Points: ends(half)})
	// Rings cross the end of the board at their angle.
	lean := math.Tan((90 - angle) * math.Pi / 180)
	for x := -half + 2; x < half; x += 3 {
		dx := math.Min(high*lean, half-x)
		if angle < 1 {
			break
		}
		s.Line(scene.Grain, scene.Point{X: mid + x, Y: 20}, scene.Point{X: mid + x + dx, Y: 20 + dx/math.Max(lean, 1e-6)})
	}
	for y := 22.0; angle < 1 && y < 20+high; y += 2.2 {
		s.Line(scene.Grain, scene.Point{X: mid - half, Y: y}, scene.Point{X: mid + half, Y: y})
	}
	s.Add(scene.Polygon{Style: scene.Hidden, Points: ends(later)})
	measure(s, scene.Point{X: mid - half, Y: 14}, scene.Point{X: mid + half, Y: 14}, fmt.Sprintf("%.0f", w))
	label(s, scene.Point{X: mid, Y: 36}, fmt.Sprintf("dashed: later, the movement drawn %d times as large", times), scene.Middle)
	label(s, scene.Point{X: mid, Y: 6}, "from its end; the lines are the rings", scene.Middle)
	return *s
}

// Shelf: width across the grain when the lesson does not ask, and the share of its span that may be seen.
const shelfShare = 1.0 / 144

// sagOf returns the sag of a shelf under a load in kg per metre, mm.
func sagOf(span, thick, wide, load float64) (mm, force, e, g float64, cite source.Cite) {
	species, _ := wood.Lookup(partWood)
	modulus, ok := species.LongitudinalModulus(12)
	ratio, known := species.ElasticRatio(wood.ShearLT)
	if !ok || !known {
		panic("learn: no modulus of " + partWood)
	}
	e = float64(modulus.Value)
	g = e * ratio.Value
	force = load * 9.81 * span / 1000
	return structure.SpreadStripSag(e, g, thick, span, wide, force), force, e, g, modulus.Cite
}

var shelfLesson = lesson{
	Lesson: Lesson{ID: "shelf", Title: "Why thickness counts three times",
		About: "A shelf twice as thick sags an eighth as much, one half as long a sixteenth. Width only shares the load.",
		Inputs: []Input{
			{"thickness", "Thickness", "mm", 10, 45, 1, 19},
			{"span", "Between its supports", "mm", 300, 1800, 10, 800},
			{"width", "Width from front to back", "mm", 120, 450, 10, 250},
			{"load", "What stands on it", "kg/m", 5, 80, 1, 30},
		}},
	make: func(v map[string]float64) Answer {
		t, span, wide, load := v["thickness"], v["span"], v["width"], v["load"]
		w, force, e, g, cite := sagOf(span, t, wide, load)
		limit := span * shelfShare
		verdict := "less than the eye minds"
		if w > limit {
			verdict = "more than the eye minds"
		}
		return Answer{
			Says:    fmt.Sprintf("It sags %s mm, %s (%.1f mm, a 144th of its span).", working.Figures(three(w)), verdict, limit),
			Picture: shelfPicture(span, t, w),
			Curve: curve{title: "Sag of a shelf over its thickness", across: "thickness, mm", up: "sag, mm", from: 10, to: 45, now: t, limit: limit, limitWords: "a 144th of the span",
				of: func(x float64) float64 { mm, _, _, _, _ := sagOf(span, x, wide, load); return mm }}.draw(),
			Working: working.Working{
				{Title: "Load", Formula: "P = q g L", Inputs: []working.Value{{Symbol: "q", Number: load, Unit: "kg/m"}, {Symbol: "L", Number: span, Unit: "mm"}}, Result: working.Value{Symbol: "P", Number: force, Unit: "N"}, Cite: source.Cite{Confidence: source.Exact}},
				{Title: "Sag at once", Formula: "w = 5 P L³/(384 E I) + 0.15 P L/(G A), I = b t³/12, A = b t", Inputs: []working.Value{{Symbol: "b", Number: wide, Unit: "mm"}, {Symbol: "t", Number: t, Unit: "mm"}, {Symbol: "E", Number: e, Unit: "MPa", Cite: cite}, {Symbol: "G", Number: g, Unit: "MPa"}},
					Result: working.Value{Symbol: "w", Number: w, Unit: "mm"}, Cite: source.At("timber-theory", "spread load on two supports", source.Exact), Note: "what stays there for years adds about as much again"},
				{Title: "What may be seen", Formula: "w ≤ L/144", Result: working.Value{Symbol: "w", Number: limit, Unit: "mm"}, Cite: source.At("aws-2009", "1.2.21", source.Read)},
			}}
	},
}

// shelfPicture shows the shelf on its supports, straight and, dashed, bent five times as much as it is.
func shelfPicture(span, t, sag float64) scene.Scene {
	const times, n = 5, 24
	s := scene.New("A shelf between two supports")
	k := (pictureWide - 24) / 1800
	half, mid, top := span*k/2, pictureWide/2, 44.0
	thick := math.Max(t*k*2, 1.2) // twice as thick as to scale, so that a thickness can be seen
	for _, side := range []float64{-1, 1} {
		x := mid + side*half
		s.Rectangle(scene.Outline, scene.PartFill2, scene.Point{X: x - 2, Y: 4}, scene.Point{X: x + 2, Y: top - thick})
	}
	s.Rectangle(scene.Outline, scene.PartFill, scene.Point{X: mid - half - 2, Y: top - thick}, scene.Point{X: mid + half + 2, Y: top})
	var bent []scene.Point
	down := math.Min(sag*times*k, top-thick-8)
	for i := 0; i <= n; i++ {
		// The line of a beam under a spread load: 16/5 (x - 2x³ + x⁴) of its sag.
		x := float64(i) / n
		bent = append(bent, scene.Point{X: mid - half + 2*half*x, Y: top - thick - down*16/5*(x-2*x*x*x+x*x*x*x)})
	}
	s.Polyline(scene.Emphasis, bent...)
	for i := range 7 {
		x := mid - half + 2*half*(float64(i)+0.5)/7
		s.Arrow(scene.Detail, scene.Point{X: x, Y: top + 7}, scene.Point{X: x, Y: top + 0.8})
	}
	measure(s, scene.Point{X: mid - half, Y: 1}, scene.Point{X: mid + half, Y: 1}, fmt.Sprintf("%.0f", span))
	label(s, scene.Point{X: mid, Y: top + 10}, fmt.Sprintf("heavy line: the lower face under load, %d times as large; thickness twice as large", times), scene.Middle)
	return *s
}

// pressureOf returns the pressure of clamps on a glue line, MPa.
func pressureOf(count, force, long, thick float64) float64 { return count * force / (long * thick) }

var clampLesson = lesson{
	Lesson: Lesson{ID: "clamps", Title: "How many clamps a glue line wants",
		About: "Glue wants a pressure over its whole line, and each clamp brings only so much force. Thicker boards are a larger line and want more clamps.",
		Inputs: []Input{
			{"count", "Clamps", "", 1, 16, 1, 5},
			{"force", "Force of one clamp", "N", 300, 6000, 100, 2500},
			{"long", "Length of the boards", "mm", 200, 1800, 10, 900},
			{"thick", "Thickness of the boards", "mm", 12, 50, 1, 22},
		}},
	make: func(v map[string]float64) Answer {
		n := math.Round(v["count"])
		v["count"] = n
		force, long, thick := v["force"], v["long"], v["thick"]
		p := pressureOf(n, force, long, thick)
		species, _ := wood.Lookup(partWood)
		density, _ := species.Density(12)
		glue, _ := adhesive.Lookup("yellow-pva")
		want, ok := glue.Pressure(density.Value)
		if !ok {
			panic("learn: no pressure of yellow-pva")
		}
		enough := glueup.ForceCount(glueup.Force(want.Low, unit.MM(long), unit.MM(thick)), unit.Newtons(force))
		word := "enough"
		switch {
		case p < float64(want.Low):
			word = "too little"
		case p > float64(want.High):
			word = "more than the glue wants: it may be pressed out"
		}
		return Answer{
			Says:    fmt.Sprintf("%.0f clamps press with %s MPa, %s; %d would reach the least that is published.", n, working.Figures(three(p)), word, enough),
			Picture: clampPicture(n, long),
			Curve: curve{title: "Pressure over the number of clamps", across: "clamps", up: "pressure on the glue line, MPa (published for light wood: " + working.Figures(float64(want.Low)) + " to " + working.Figures(float64(want.High)) + ")", from: 1, to: 16, now: n, points: true, low: float64(want.Low), high: float64(want.High),
				of: func(x float64) float64 { return pressureOf(x, force, long, thick) }}.draw(),
			Working: working.Working{
				{Title: "Pressure", Formula: "p = n F₁/(L t)", Inputs: []working.Value{{Symbol: "n", Number: n}, {Symbol: "F₁", Number: force, Unit: "N"}, {Symbol: "L", Number: long, Unit: "mm"}, {Symbol: "t", Number: thick, Unit: "mm"}}, Result: working.Value{Symbol: "p", Number: p, Unit: "MPa"}, Cite: source.Cite{Confidence: source.Exact}},
				{Title: "Pressure that the glue wants", Formula: "by the density of the wood", Inputs: []working.Value{{Symbol: "p", Name: "least", Number: float64(want.Low), Unit: "MPa"}, {Symbol: "p", Name: "most", Number: float64(want.High), Unit: "MPa"}}, Result: working.Value{Symbol: "p", Number: float64(want.Value), Unit: "MPa"}, Cite: want.Cite},
				{Title: "Clamps for the least pressure", Formula: "n = ceil(p L t/F₁)", Result: working.Value{Symbol: "n", Number: float64(enough)}, Cite: source.Cite{Confidence: source.Exact}},
			}}
	},
}

// clampPicture shows two boards edge to edge under clamps whose pressure spreads at 45° to the glue line.
func clampPicture(n, long float64) scene.Scene {
	s := scene.New("Two boards under clamps")
	const width = 90.0 // of one board, mm. Judgement: a usual stave.
	k := (pictureWide - 6) / 1800
	half, mid, line := long*k/2, pictureWide/2, 28.0
	board := width * k * 1.6
	s.Rectangle(scene.Outline, scene.PartFill, scene.Point{X: mid - half, Y: line}, scene.Point{X: mid + half, Y: line + board})
	s.Rectangle(scene.Outline, scene.PartFill, scene.Point{X: mid - half, Y: line - board}, scene.Point{X: mid + half, Y: line})
	for i := range int(n) {
		x := mid
		if n > 1 {
			x = mid - half*0.92 + 2*half*0.92*float64(i)/(n-1)
		}
		left, right := math.Max(x-board, mid-half), math.Min(x+board, mid+half)
		s.Add(scene.Polygon{Style: scene.Detail, Fill: scene.PartFill2, Points: []scene.Point{{X: x, Y: line + board}, {X: left, Y: line}, {X: right, Y: line}}})
		s.Arrow(scene.Emphasis, scene.Point{X: x, Y: line + board + 9}, scene.Point{X: x, Y: line + board + 0.5})
		s.Arrow(scene.Emphasis, scene.Point{X: x, Y: line - board - 9}, scene.Point{X: x, Y: line - board - 0.5})
	}
	s.Line(scene.Emphasis, scene.Point{X: mid - half, Y: line}, scene.Point{X: mid + half, Y: line})
	label(s, scene.Point{X: mid, Y: line - board - 15}, "pressure spreads at 45° to the glue line (common practice)", scene.Middle)
	return *s
}
