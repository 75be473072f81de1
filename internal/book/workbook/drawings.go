package workbook

import (
	"fmt"
	"math"
	"slices"

	"longgrain/internal/book/drawing"
	"longgrain/internal/design/assembly"
	"longgrain/internal/design/joint"
	"longgrain/internal/ground/unit"
	"longgrain/internal/paper/document"
	"longgrain/internal/paper/scene"
	"longgrain/internal/plan"
	"longgrain/internal/trade/wood"
	"longgrain/internal/work/cutting"
	"longgrain/internal/work/markout"
)

// style is how drawings of this book are made.
func (b *book) style() drawing.Style {
	return drawing.Style{Family: b.family, Width: b.room.Width, Height: b.room.Height - 20}
}

// Picture draws the whole piece for the shelf.
func Picture(p plan.Plan) scene.Scene {
	return drawing.Exploded(p.Assembly, drawing.Style{Family: p.Family})
}

func (b *book) viewsOf() {
	a := b.plan.Assembly
	b.Figure("views", drawing.Views(a, b.style()), "Front, side and plan, "+b.plan.Units)
	b.Figure("exploded", drawing.Exploded(a, b.style()), "Pulled apart, with the marks of the parts")
}

// seasonChart draws the moisture of the year and the width of the part that moves most, where the shop gives all months.
func (b *book) seasonChart() {
	y := b.plan.Year
	if len(y.Months) != 12 {
		return
	}
	season := drawing.Season{Title: "The year where it will stand"}
	moisture := drawing.SeasonCurve{Name: "moisture of the wood, %", Decimals: 1}
	for i, m := range y.Months {
		season.Months[i] = m.Name[:min(3, len(m.Name))]
		moisture.Values[i] = float64(m.Moisture)
	}
	season.Curves = append(season.Curves, moisture)
	figure := document.Figure{ID: "season", Caption: "Moisture and width through the year, if the wood follows each month fully"}
	if len(y.Parts) > 0 {
		alone := drawing.SeasonChart(season, b.style())
		figure.Open, figure.OpenCaption = &alone, "Moisture through the year. Sketch below how the width follows it"
		season.Curves = append(season.Curves, b.widthCurve(y.Parts[0]))
	}
	figure.Scene = drawing.SeasonChart(season, b.style())
	b.Add(figure)
}

// widthCurve lays the width of a part between its dry and its damp size as the moisture lies between theirs.
func (b *book) widthCurve(m plan.PartMovement) drawing.SeasonCurve {
	y := b.plan.Year
	curve := drawing.SeasonCurve{Name: fmt.Sprintf("width of the %s, %s", m.Name, b.plan.Units), Decimals: 1}
	scale := 1.0
	if b.family == unit.Imperial {
		scale, curve.Decimals = 1/unit.Inch.MM(), 2
	}
	low := (m.Movement.Width - m.Movement.Shrink).MM()
	span := float64(y.Moisture.Damp - y.Moisture.Dry)
	for i, month := range y.Months {
		share := 0.0
		if span > 0 {
			share = float64(month.Moisture-y.Moisture.Dry) / span
		}
		curve.Values[i] = (low + share*m.Movement.Total().MM()) * scale
	}
	return curve
}

// jointDrawing draws two sections through a joint, and the comparison of joints as a chart.
func (b *book) jointDrawing(i int, g plan.JointGroup) {
	s := drawing.JointSection(b.plan.Assembly, b.plan.Markout, g.Connections[0], g.Final.Joint.PinLength(), b.style())
	b.Figure(fmt.Sprintf("joint-section-%d", i), s, "Sections through "+b.plan.Assembly.Connections[g.Connections[0]].Name+", "+b.plan.Units)
}

// jointChart is the picture of the comparison: every kind, every size, by reserve.
func (b *book) jointChart(i int) {
	b.Figure(fmt.Sprintf("joint-chart-%d", i), jointPicture(b.plan.Compare(i), b.style()), "Every joint that the tools of the shop allow, a dot for each size. A reserve counts all forces together")
}

// JointPicture draws a comparison of joints for a page of the given options.
func JointPicture(c plan.Comparison, o Options) scene.Scene {
	return jointPicture(c, drawing.Style{Width: o.Width})
}

func jointPicture(c plan.Comparison, st drawing.Style) scene.Scene {
	chart := drawing.JointComparison{Title: "Joints compared: " + c.Title, Axis: "reserve: lower strength over load", Wanted: c.Wanted}
	unloaded := slices.ContainsFunc(c.Joints, func(j plan.Compared) bool { return math.IsInf(float64(j.Reserve), 1) })
	if unloaded {
		chart.Axis, chart.Wanted = "strength when bent the strong way, lower 5 %, N·m", 0
	}
	rows := map[joint.Kind]int{}
	least, most := map[joint.Kind]float64{}, map[joint.Kind]float64{}
	for _, j := range c.Joints { // strongest first, so the kinds come by their strongest
		k, known := rows[j.Kind]
		if !known {
			k = len(chart.Rows)
			rows[j.Kind] = k
			chart.Rows = append(chart.Rows, drawing.JointRow{Name: string(j.Kind)})
			least[j.Kind] = math.Inf(1)
		}
		least[j.Kind], most[j.Kind] = min(least[j.Kind], float64(j.Minutes)), max(most[j.Kind], float64(j.Minutes))
		value := float64(j.Reserve)
		if unloaded {
			value = j.Bending
		}
		chart.Rows[k].Dots = append(chart.Rows[k].Dots, drawing.JointDot{Name: j.Name, Value: value, Shows: j.Shows != joint.Hidden, Chosen: j.Chosen})
	}
	for kind, k := range rows {
		note := fmt.Sprintf("%.0f min", most[kind])
		if least[kind] < most[kind] {
			note = fmt.Sprintf("%.0f–%.0f min", least[kind], most[kind])
		}
		chart.Rows[k].Note = note
	}
	return drawing.JointChart(chart, st)
}

func (b *book) boardDrawing(i int, c cutting.Board) {
	species, _ := wood.Lookup(c.Species)
	caption := fmt.Sprintf("Board %d, %s: %s %s, %s × %s, %s long, %.0f %% waste", i+1, c.Source, c.Name, species.Name, b.show(c.Thickness), b.show(c.Width), b.show(c.Length), c.Waste*100)
	open, ask := b.emptyBoard(i)
	b.Add(document.Figure{ID: fmt.Sprintf("board-%d", i+1), Scene: drawing.BoardDiagram(drawing.BoardOf(c, i+1), b.style()), Caption: caption, Open: &open, OpenCaption: ask})
}

func (b *book) partDrawing(i int, _ markout.Sheet) {
	p := b.plan.Assembly.Parts[i]
	if !slices.ContainsFunc(p.Features, func(f assembly.Feature) bool { return f.For != "" || f.Kind != assembly.TaperCut }) {
		return
	}
	b.Figure("sheet-drawing-"+p.Mark, drawing.PartSheet(b.plan.Assembly, b.plan.Markout, i, b.style()), "Mark-out of "+p.Mark+", "+b.plan.Units)
}
