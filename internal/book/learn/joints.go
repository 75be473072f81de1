package learn

import (
	"fmt"
	"math"

	"longgrain/internal/design/strength"
	"longgrain/internal/ground/source"
	"longgrain/internal/ground/unit"
	"longgrain/internal/ground/working"
	"longgrain/internal/paper/scene"
	"longgrain/internal/trade/wood"
)

// The woods of the lessons: parts of the cheap pine that most pieces are made of, dowels of beech. Judgement.
const (
	partWood  = "eastern-white-pine"
	dowelWood = "american-beech"
)

// shearOf returns the shear strength along the grain of a wood that the catalogue has.
func shearOf(id string) (wood.Species, wood.Figure[unit.MPa]) {
	species, ok := wood.Lookup(id)
	figure, known := species.Mean(wood.ShearParallel)
	if !ok || !known {
		panic("learn: no shear strength of " + id)
	}
	return species, figure
}

// pullOf returns the pull of one dowel drawn from the side of a part, what holds it, and the stresses of both ways to fail.
func pullOf(d, l float64) (newtons, bond, round float64) {
	_, part := shearOf(partWood)
	_, dowel := shearOf(dowelWood)
	bond = float64(strength.BondStress(unit.MM(l), part.Value, dowel.Value))
	round = float64(strength.WoodRoundDowel(strength.Grain{Shear: part.Value, Rolling: strength.RollingSoft}, false))
	return math.Min(bond, round) * math.Pi * d * l, bond, round
}

var dowelLesson = lesson{
	Lesson: Lesson{ID: "dowel", Title: "Why a deeper dowel holds more",
		About: "A dowel holds by the glue on its round surface. Twice as deep is twice the surface; thicker helps as much, and weakens the part more.",
		Inputs: []Input{
			{"depth", "Depth in the leg", "mm", 5, 60, 1, 30},
			{"diameter", "Diameter", "mm", 6, 16, 1, 10},
		}},
	make: func(v map[string]float64) Answer {
		d, l := v["diameter"], v["depth"]
		pull, bond, round := pullOf(d, l)
		surface := math.Pi * d * l
		part, s1 := shearOf(partWood)
		dowel, s2 := shearOf(dowelWood)
		governs := "the wood of the leg round the dowel gives way first"
		if bond < round {
			governs = "the glue gives way first"
		}
		return Answer{
			Says:    fmt.Sprintf("%.1f cm² of glue hold about %s N; %s.", surface/100, working.Figures(three(pull)), governs),
			Picture: dowelPicture(d, l),
			Curve:   curve{title: "Pull of a dowel over its depth", across: "depth, mm", up: "pull of one dowel, N", from: 5, to: 60, now: l, of: func(x float64) float64 { p, _, _ := pullOf(d, x); return p }}.draw(),
			Working: working.Working{
				{Title: "Glue surface", Formula: "A = π D L", Inputs: []working.Value{{Symbol: "D", Name: "diameter", Number: d, Unit: "mm"}, {Symbol: "L", Name: "depth", Number: l, Unit: "mm"}},
					Result: working.Value{Symbol: "A", Number: surface, Unit: "mm²"}, Cite: source.Cite{Confidence: source.Exact}},
				{Title: "Stress at which the glue lets go", Formula: "τ = 0.379 L^-0.11 (0.95 S₁ + S₂) · 0.9",
					Inputs: []working.Value{{Symbol: "S₁", Name: "shear strength of " + part.Name, Number: float64(s1.Value), Unit: "MPa", Cite: s1.Cite}, {Symbol: "S₂", Name: "shear strength of " + dowel.Name, Number: float64(s2.Value), Unit: "MPa", Cite: s2.Cite}},
					Result: working.Value{Symbol: "τ", Number: bond, Unit: "MPa"}, Cite: strength.CiteBond},
				{Title: "Stress at which the wood round the dowel lets go", Formula: "τ = S₁ (1 + r)/2", Inputs: []working.Value{{Symbol: "r", Name: "rolling shear over shear along the grain", Number: strength.RollingSoft, Cite: strength.CiteRolling}},
					Result: working.Value{Symbol: "τ", Number: round, Unit: "MPa"}, Cite: source.Choice("docs/methods/joints.md")},
				{Title: "Pull of the dowel", Formula: "F = τ A, the lower τ", Result: working.Value{Symbol: "F", Number: pull, Unit: "N"}, Cite: strength.CiteBond, Note: "the mean; a plan counts what 95 of 100 reach, and the dowel torn in two"},
			}}
	},
}

// dowelPicture shows the dowel in a section of the leg, and its surface unrolled at the same scale.
func dowelPicture(d, l float64) scene.Scene {
	s := scene.New("A dowel in a leg, and its glue surface unrolled")
	const k, thick, rail = 0.75, 70.0, 24.0 // paper mm per mm; leg and rail as drawn, mm
	s.Polygon(scene.Outline, scene.PartFill, scene.Point{X: 0, Y: 0}, scene.Point{X: thick * k, Y: 0}, scene.Point{X: thick * k, Y: 46}, scene.Point{X: 0, Y: 46})
	mouth, mid := thick*k, 23.0
	s.Polygon(scene.Outline, scene.PartFill2, scene.Point{X: mouth, Y: 8}, scene.Point{X: mouth + rail*k, Y: 8}, scene.Point{X: mouth + rail*k, Y: 38}, scene.Point{X: mouth, Y: 38})
	s.Polygon(scene.Emphasis, scene.InkFill, scene.Point{X: mouth - l*k, Y: mid - d*k/2}, scene.Point{X: mouth + rail*k*0.8, Y: mid - d*k/2}, scene.Point{X: mouth + rail*k*0.8, Y: mid + d*k/2}, scene.Point{X: mouth - l*k, Y: mid + d*k/2})
	s.Polygon(scene.NoLine, scene.PaperFill, scene.Point{X: mouth - l*k + 0.5, Y: mid - d*k/2 + 0.5}, scene.Point{X: mouth + rail*k*0.8 - 0.5, Y: mid - d*k/2 + 0.5}, scene.Point{X: mouth + rail*k*0.8 - 0.5, Y: mid + d*k/2 - 0.5}, scene.Point{X: mouth - l*k + 0.5, Y: mid + d*k/2 - 0.5})
	measure(s, scene.Point{X: mouth - l*k, Y: 50}, scene.Point{X: mouth, Y: 50}, fmt.Sprintf("%.0f", l))
	label(s, scene.Point{X: 2, Y: 2}, "leg", scene.Left)
	label(s, scene.Point{X: mouth + rail*k - 1, Y: 10}, "rail", scene.Right)
	left := mouth + rail*k + 14
	high := math.Pi * d * k
	s.Polygon(scene.Emphasis, scene.PartFill2, scene.Point{X: left, Y: 4}, scene.Point{X: left + l*k, Y: 4}, scene.Point{X: left + l*k, Y: 4 + high}, scene.Point{X: left, Y: 4 + high})
	measure(s, scene.Point{X: left + l*k + 3, Y: 4}, scene.Point{X: left + l*k + 3, Y: 4 + high}, fmt.Sprintf("%.0f round", math.Pi*d))
	label(s, scene.Point{X: left, Y: 0}, "its glue, unrolled", scene.Left)
	return *s
}

// rowOf returns the moment of two dowels that stand about the middle of a rail, N·m.
func rowOf(high, apart, pull float64) float64 {
	return float64(strength.RowRule([]float64{(high - apart) / 2, (high + apart) / 2}, high, pull))
}

var pairLesson = lesson{
	Lesson: Lesson{ID: "pair", Title: "Why two dowels far apart beat two close together",
		About: "A rail that is bent presses on one edge and pulls at the dowels. The further a dowel is from that edge, the longer its lever; the nearer one hardly counts.",
		Inputs: []Input{
			{"apart", "Distance of the dowels", "mm", 16, 160, 2, 60},
			{"height", "Width of the rail", "mm", 60, 200, 5, 110},
			{"depth", "Depth of each dowel", "mm", 10, 60, 1, 30},
			{"diameter", "Diameter", "mm", 6, 16, 1, 10},
		}},
	make: func(v map[string]float64) Answer {
		h, d := v["height"], v["diameter"]
		widest := h - 2*d // as much wood beside a dowel as it is thick. Common practice.
		apart := math.Min(v["apart"], widest)
		v["apart"] = apart
		pull, _, _ := pullOf(d, v["depth"])
		m, close := rowOf(h, apart, pull), rowOf(h, math.Min(16, widest), pull)
		return Answer{
			Says:    fmt.Sprintf("%.0f mm apart they hold %s N·m, %.1f times as much as the same two %.0f mm apart.", apart, working.Figures(three(m)), m/close, math.Min(16, widest)),
			Picture: pairPicture(h, apart, d),
			Curve:   curve{title: "Moment of two dowels over their distance", across: "distance of the dowels, mm", up: "moment, N·m", from: math.Min(16, widest), to: widest, now: apart, of: func(x float64) float64 { return rowOf(h, x, pull) }}.draw(),
			Working: working.Working{
				{Title: "Pull of one dowel", Formula: "F, see the lesson on the depth of a dowel", Result: working.Value{Symbol: "F", Number: pull, Unit: "N"}, Cite: strength.CiteBond},
				{Title: "Moment of two dowels", Formula: "M = F (d₁ + d₂/2)", Inputs: []working.Value{{Symbol: "d₁", Name: "distance of the dowels", Number: apart, Unit: "mm"}, {Symbol: "d₂", Name: "from the nearer dowel to the pressed edge", Number: (h - apart) / 2, Unit: "mm"}},
					Result: working.Value{Symbol: "M", Number: m, Unit: "N·m"}, Cite: source.At("eckelman-dowel", "rule for two pins", source.Memory), Note: "a plan also weighs the wood that is pressed, and takes the lower"},
			}}
	},
}

// pairPicture shows the end of a rail with both dowels, their levers and the edge that is pressed.
func pairPicture(h, apart, d float64) scene.Scene {
	s := scene.New("Two dowels in the end of a rail that is bent")
	k := pictureHigh / 200
	s.Polygon(scene.Outline, scene.PartFill, scene.Point{X: 0, Y: 0}, scene.Point{X: 70, Y: 0}, scene.Point{X: 70, Y: h * k}, scene.Point{X: 0, Y: h * k})
	s.Polygon(scene.Outline, scene.PartFill2, scene.Point{X: 70, Y: -6}, scene.Point{X: 88, Y: -6}, scene.Point{X: 88, Y: 200*k + 2}, scene.Point{X: 70, Y: 200*k + 2})
	pressed := (h - apart) / 4 * k
	for _, at := range []float64{(h - apart) / 2, (h + apart) / 2} {
		y := at * k
		s.Polygon(scene.Detail, scene.PaperFill, scene.Point{X: 58, Y: y - d*k/2}, scene.Point{X: 82, Y: y - d*k/2}, scene.Point{X: 82, Y: y + d*k/2}, scene.Point{X: 58, Y: y + d*k/2})
	}
	s.Arrow(scene.Emphasis, scene.Point{X: 60, Y: (h + apart) / 2 * k}, scene.Point{X: 40, Y: (h + apart) / 2 * k})
	label(s, scene.Point{X: 39, Y: (h+apart)/2*k - 1}, "pulls", scene.Right)
	s.Arrow(scene.Emphasis, scene.Point{X: 56, Y: pressed}, scene.Point{X: 69, Y: pressed})
	label(s, scene.Point{X: 55, Y: pressed - 1}, "presses", scene.Right)
	measure(s, scene.Point{X: 94, Y: pressed}, scene.Point{X: 94, Y: (h + apart) / 2 * k}, fmt.Sprintf("lever %.0f", apart+(h-apart)/4))
	s.Line(scene.Dimension, scene.Point{X: 70, Y: pressed}, scene.Point{X: 96, Y: pressed})
	s.Line(scene.Dimension, scene.Point{X: 82, Y: (h + apart) / 2 * k}, scene.Point{X: 96, Y: (h + apart) / 2 * k})
	label(s, scene.Point{X: 2, Y: h*k - letter - 2}, "rail", scene.Left)
	label(s, scene.Point{X: 79, Y: -11}, "leg", scene.Middle)
	return *s
}

var grainLesson = lesson{
	Lesson: Lesson{ID: "grain", Title: "Why end grain does not count",
		About: "Glue on long grain is as strong as the wood itself. Across the fibres the wood rolls apart sooner, and end grain drinks the glue away. This is why a mortise with wide cheeks holds, and a butt joint does not.",
		Inputs: []Input{
			{"long", "Length of the glued face", "mm", 10, 150, 5, 60},
			{"high", "Width of the glued face", "mm", 10, 150, 5, 40},
		}},
	make: func(v map[string]float64) Answer {
		species, s1 := shearOf(partWood)
		area := v["long"] * v["high"]
		tau := float64(s1.Value)
		long, side, end := tau*area, tau*strength.RollingSoft*area, tau*strength.EndGrainShare*area
		return Answer{
			Says:    fmt.Sprintf("%.0f cm² on long grain hold %s kN; the same glue across the grain %s kN, and on end grain about %s kN.", area/100, working.Figures(three(long/1000)), working.Figures(three(side/1000)), working.Figures(three(end/1000))),
			Picture: grainPicture(long, side, end),
			Curve:   curve{title: "Shear of a glue face on long grain over its length", across: "length of the glued face, mm", up: "force on long grain, kN", from: 10, to: 150, now: v["long"], of: func(x float64) float64 { return tau * x * v["high"] / 1000 }}.draw(),
			Working: working.Working{
				{Title: "Along the grain", Formula: "F = S A", Inputs: []working.Value{{Symbol: "S", Name: "shear strength of " + species.Name, Number: tau, Unit: "MPa", Cite: s1.Cite}, {Symbol: "A", Number: area, Unit: "mm²"}}, Result: working.Value{Symbol: "F", Number: long, Unit: "N"}, Cite: s1.Cite},
				{Title: "Across the grain, where the fibres roll", Formula: "F = r S A", Inputs: []working.Value{{Symbol: "r", Name: "rolling shear over shear along the grain", Number: strength.RollingSoft, Cite: strength.CiteRolling}}, Result: working.Value{Symbol: "F", Number: side, Unit: "N"}, Cite: strength.CiteRolling},
				{Title: "On end grain", Formula: "F = 0.1 S A", Result: working.Value{Symbol: "F", Number: end, Unit: "N"}, Cite: source.Assumption(), Note: "nobody has published the tenth; a plan counts no end grain as glue surface"},
			}}
	},
}

// grainPicture sets the three forces beside one another as bars, each with the way its fibres lie.
func grainPicture(long, side, end float64) scene.Scene {
	s := scene.New("The same glue face on long grain, across the grain and on end grain")
	for i, bar := range []struct {
		name  string
		force float64
		hatch scene.Hatch
	}{{"long grain on long grain", long, scene.GrainHatch}, {"long grain across long grain", side, scene.SectionHatch2}, {"end grain", end, scene.EndGrainHatch}} {
		y := 44 - float64(i)*18
		width := bar.force / long * (pictureWide - 40)
		s.Add(scene.Polygon{Style: scene.Outline, Fill: scene.PartFill, Hatch: bar.hatch, Points: []scene.Point{{X: 0, Y: y}, {X: width, Y: y}, {X: width, Y: y + 9}, {X: 0, Y: y + 9}}})
		s.Add(scene.Text{Style: scene.Words, At: scene.Point{X: width + 2, Y: y + 4.5}, Text: fmt.Sprintf("%s kN", working.Figures(three(bar.force/1000))), Height: letter * 1.2, Weight: scene.Bold, Rise: scene.MidHeight})
		label(s, scene.Point{X: 0, Y: y + 11}, bar.name, scene.Left)
	}
	return *s
}
