package drawing

import (
	"fmt"
	"slices"
	"strings"

	"longgrain/internal/design/assembly"
	"longgrain/internal/ground/geom"
	"longgrain/internal/ground/unit"
	"longgrain/internal/paper/scene"
	"longgrain/internal/trade/wood"
	"longgrain/internal/work/markout"
)

// Margins of a mark-out sheet.
const (
	aroundMark = 14.0 // model mm kept beside a marked place
	panelGap   = 7.0  // paper mm between panels with their dimensions
	// tallestStrip is how wide across the grain a side is drawn at most, paper mm.
	tallestStrip = 50.0
)

// PartSheet draws the mark-out of one part: its reference face and every side that something is cut
// from, unfolded around the reference face, each with running dimensions from the reference end, edge
// or face, which are drawn heavy; and the ends that something is cut from, larger. Long stretches
// without a mark are left out.
func PartSheet(a assembly.Assembly, m markout.Markout, part int, st Style) scene.Scene {
	sheet := m.Sheets[part]
	p := a.Parts[part]
	ratios := atMost(st.ratios(), min(1, tallestStrip/max(p.Width, p.Thickness).MM()))
	s := st.largest(ratios, func(r scene.Ratio) *scene.Scene {
		out := scene.New("")
		var sides []*scene.Scene
		for _, q := range strips(p, sheet, r) {
			sides = append(sides, drawStrip(a, q, st))
		}
		out.Add(stack(panelGap, partHead(a, m, part, st, r), inLine(stack(panelGap, sides...)), inLine(endRow(a, sheet, st)))...)
		return out
	})
	s.ID, s.Title = "part-"+strings.ToLower(p.Mark), "Mark-out of "+p.Mark+" "+p.Name
	s.Description = fmt.Sprintf("Sides of the part with every cut, measured from %s, %s and %s.", sheet.FaceName, sheet.EdgeName, sheet.EndName)
	return *s
}

// partHead writes what the sheet is of and what it is measured from.
func partHead(a assembly.Assembly, m markout.Markout, part int, st Style, r scene.Ratio) *scene.Scene {
	sheet, p := m.Sheets[part], a.Parts[part]
	s := scene.New("")
	y := 0.0
	line := func(t scene.Text) {
		t.At.Y = y
		s.Add(t)
		y -= t.Height * 1.75
	}
	line(scene.Text{Text: p.Mark + "  " + p.Name, Height: heading, Weight: scene.Bold})
	species, _ := wood.Find(p.Species)
	line(words(scene.Point{}, fmt.Sprintf("%s × %s × %s %s, %s. Sides at %s.", st.show(p.Length), st.show(p.Width), st.show(p.Thickness), st.Family, species.Name, r)))
	line(words(scene.Point{}, "Heavy lines: measure from "+sheet.FaceName+", "+sheet.EdgeName+" and "+sheet.EndName+"."))
	for _, m := range sheet.Marks {
		if m.Bevel != nil {
			line(words(scene.Point{}, m.Bevel.Note(m.Side, sheet.References.Role(m.Side))))
		}
	}
	var same []int
	for _, other := range m.Sheets {
		if other.SameAs == sheet.SameAs && other.Part != part {
			same = append(same, other.Part)
		}
	}
	if len(same) > 0 {
		line(words(scene.Point{}, "Mark the same: "+strings.Join(partMarks(a, same), ", ")))
	}
	if len(sheet.Mirrors) > 0 {
		t := words(scene.Point{}, "Mirror image of "+strings.Join(partMarks(a, sheet.Mirrors), ", ")+": never swap them")
		t.Style, t.Weight = scene.Emphasis, scene.Bold
		line(t)
	}
	return s
}

func partMarks(a assembly.Assembly, parts []int) []string {
	out := make([]string, len(parts))
	for i, p := range parts {
		out[i] = a.Parts[p].Mark
	}
	return out
}

// strips returns the long sides to draw, unfolded around the reference face: the reference edge above
// it, the back edge below, the back below that.
func strips(p assembly.Part, sheet markout.Sheet, r scene.Ratio) []panel {
	refs := sheet.References
	var marked []unit.Length
	for _, m := range sheet.Marks {
		if !m.Side.IsEnd() && m.Bevel == nil {
			marked = append(marked, m.AlongStations()...)
		}
	}
	margin := aroundMark
	if len(marked) == 0 {
		margin = p.Length.MM() // nothing to enlarge: the whole side
	}
	along := shorten(p.Length, marked, margin, r)
	var out []panel
	for _, s := range []struct{ side, up assembly.Side }{
		{refs.Edge, refs.Face.Opposite()}, {refs.Face, refs.Edge},
		{refs.Edge.Opposite(), refs.Face}, {refs.Face.Opposite(), refs.Edge.Opposite()},
	} {
		q := panel{part: p, sheet: sheet, side: s.side, up: s.up, left: refs.End, width: along.total, height: p.Size(s.up.Axis()).MM() * r.Factor()}
		if !sheet.EndAtLeft() {
			q.left = refs.End.Opposite()
		}
		// The shortened length is measured from the reference end, on whichever hand that lies.
		q.across = func(from assembly.Side, d unit.Length) float64 {
			if from == refs.End {
				return along.at(d)
			}
			return along.total - along.at(p.Length-d)
		}
		q.upward = func(l unit.Length) float64 { return l.MM() * r.Factor() }
		q.gaps, q.kept = along.interruptions(), along.kept
		if q.left != refs.End {
			for i, g := range q.gaps {
				q.gaps[i] = span{along.total - g.high, along.total - g.low}
			}
			slices.Reverse(q.gaps)
		}
		if s.side == refs.Face || len(q.marks()) > 0 {
			out = append(out, q)
		}
	}
	return out
}

// drawStrip draws one long side with its marks, dimensions and heading.
func drawStrip(a assembly.Assembly, p panel, st Style) *scene.Scene {
	s := scene.New("")
	brokenOutline(s, p.width, p.height, p.gaps)
	p.standOut(s)
	for _, m := range p.marks() {
		p.cutMark(s, m)
	}
	p.profiles(s)
	p.angledEnds(s)
	p.references(s)
	p.tapes(s)
	d := &scene.Dimensions{Height: Lettering}
	upright := scene.LeftOf
	if p.left != p.sheet.References.End {
		upright = scene.RightOf
	}
	p.dimension(d, st, scene.Above, upright)
	if p.side == p.sheet.References.Face {
		measure(d, scene.Below, scene.Point{}, scene.Point{X: p.width}, st.show(p.part.Length))
		far := scene.RightOf
		if upright == scene.RightOf {
			far = scene.LeftOf
		}
		x := p.width
		if far == scene.LeftOf {
			x = 0
		}
		measure(d, far, scene.Point{X: x}, scene.Point{X: x, Y: p.height}, st.show(p.part.Size(p.up.Axis())))
	}
	d.Place(s)
	p.heading(a, s, st)
	return s
}

// standOut draws the tenons at the ends of a strip.
func (p panel) standOut(s *scene.Scene) {
	for _, m := range p.sheet.Marks {
		if m.Kind != assembly.Tenon || !m.Side.IsEnd() {
			continue
		}
		from, at := m.AcrossFrom, m.AcrossStations()
		if from != p.up && from != p.up.Opposite() {
			from, at = m.AlongFrom, m.AlongStations()
		}
		var low, high scene.Point
		p.set(&low, from, at[0])
		p.set(&high, from, at[1])
		out := p.upward(m.Depth)
		x0, x1 := -out, 0.0
		if m.Side != p.left {
			x0, x1 = p.width, p.width+out
		}
		s.Rectangle(scene.Outline, scene.PartFill2, scene.Point{X: x0, Y: low.Y}, scene.Point{X: x1, Y: high.Y})
	}
}

// references draws the borders that are measured from in heavy lines.
func (p panel) references(s *scene.Scene) {
	r := p.sheet.References
	at := func(x, y float64) scene.Point { return scene.Point{X: x, Y: y} }
	for _, side := range [3]assembly.Side{r.Face, r.Edge, r.End} {
		switch side {
		case p.left:
			s.Line(scene.Emphasis, at(0, 0), at(0, p.height))
		case p.left.Opposite():
			s.Line(scene.Emphasis, at(p.width, 0), at(p.width, p.height))
		case p.up:
			p.heavyLevel(s, p.height)
		case p.up.Opposite():
			p.heavyLevel(s, 0)
		}
	}
}

// heavyLevel draws a heavy line along a strip, left out where the view is interrupted.
func (p panel) heavyLevel(s *scene.Scene, y float64) {
	for _, part := range without(span{0, p.width}, p.gaps) {
		s.Line(scene.Emphasis, scene.Point{X: part.low, Y: y}, scene.Point{X: part.high, Y: y})
	}
}

// tapeInset is how far inside the border of a side its taped word stands, mm on paper.
const tapeInset = 1.5

// tapes writes what is taped on the borders of a strip, where the marks leave room for it.
func (p panel) tapes(s *scene.Scene) {
	for _, t := range p.sheet.Tapes {
		w := words(scene.Point{X: p.width / 2, Y: p.height / 2}, t.Text)
		w.Style, w.Align = scene.Emphasis, scene.Middle
		switch t.Side {
		case p.left:
			w.At.X, w.Rotation, w.Rise = tapeInset, 90, scene.CapTop
		case p.left.Opposite():
			w.At.X, w.Rotation = p.width-tapeInset, 90
		case p.up:
			w.At.Y, w.Rise = p.height-tapeInset, scene.CapTop
		case p.up.Opposite():
			w.At.Y = tapeInset
		default:
			continue
		}
		if p.roomFor(w) {
			s.Add(w)
		}
	}
}

// roomFor tells whether words fit on the strip beside all marks, interruptions and other words.
func (p panel) roomFor(t scene.Text) bool {
	b := t.Quad().Bounds()
	if b.Min.X < 0 || b.Min.Y < 0 || b.Max.X > p.width || b.Max.Y > p.height {
		return false
	}
	for _, m := range p.marks() {
		low, high := p.corners(m)
		r := p.radius(m) + 1.5
		if overlapping(b, scene.Box{Min: scene.Point{X: min(low.X, high.X) - r, Y: min(low.Y, high.Y) - r}, Max: scene.Point{X: max(low.X, high.X) + r, Y: max(low.Y, high.Y) + r}}) {
			return false
		}
	}
	for _, g := range p.gaps {
		if b.Min.X < g.high+2 && g.low-2 < b.Max.X {
			return false
		}
	}
	return true
}

// heading names the side above everything drawn so far, with the word taped on it and, where all cuts
// are of one size, that size.
func (p panel) heading(a assembly.Assembly, s *scene.Scene, st Style) {
	b := s.Bounds()
	at := scene.Point{X: min(b.Min.X, 0), Y: b.Max.Y + 2}
	if sizes, of := p.sizes(st); len(sizes) == 1 {
		s.Add(words(at, counted(len(of[sizes[0]]), sizes[0])))
		at.Y += Lettering * 1.7
	}
	name := strings.TrimPrefix(markout.SideName(a, p.sheet.Part, p.side), "the ")
	name = strings.ToUpper(name[:1]) + name[1:]
	for _, t := range p.sheet.Tapes {
		if t.Side == p.side {
			name += ", taped: " + t.Text
		}
	}
	s.Add(scene.Text{Style: scene.Words, At: at, Text: name, Height: Lettering, Weight: scene.Bold})
}

// Room for one end on a sheet, mm on paper.
const (
	endWidth  = 50
	endHeight = 60
)

// endRow draws the ends that something is cut from, side by side.
func endRow(a assembly.Assembly, sheet markout.Sheet, st Style) []scene.Item {
	p := a.Parts[sheet.Part]
	refs := sheet.References
	row := scene.New("")
	x := 0.0
	for _, side := range [2]assembly.Side{refs.End, refs.End.Opposite()} {
		w, h := endSize(p, side, refs)
		ratio, _ := scene.FitRatio(w, h, endWidth, endHeight, atMost(st.ratios(), 1))
		q := panel{part: p, sheet: sheet, side: side, up: refs.Edge, left: refs.Face, width: w * ratio.Factor(), height: h * ratio.Factor()}
		q.upward = func(l unit.Length) float64 { return l.MM() * ratio.Factor() }
		q.across = func(_ assembly.Side, d unit.Length) float64 { return q.upward(d) }
		if right := sideDirection(refs.Edge).Cross(sideDirection(side)); right.Dot(sideDirection(refs.Face)) > 0 {
			q.left = refs.Face.Opposite()
		}
		if len(q.marks()) == 0 {
			continue
		}
		s := drawEnd(a, q, st, ratio)
		b := s.Bounds()
		row.Add(s.Moved(1, scene.Point{X: x - b.Min.X, Y: -b.Max.Y})...)
		x += b.Width() + 2*panelGap
	}
	return row.Items
}

// endSize returns the size of an end across its face and across its edge, in its slope where it is cut at an angle.
func endSize(p assembly.Part, side assembly.Side, refs markout.References) (w, h float64) {
	f := p.Frame(side)
	if ua, _ := side.UV(); ua == refs.Face.Axis() {
		return f.SizeU, f.SizeV
	}
	return f.SizeV, f.SizeU
}

// sideDirection returns the direction that a side looks in, in the frame of its part.
func sideDirection(s assembly.Side) geom.Vec {
	if s.High() {
		return geom.Axis(s.Axis())
	}
	return geom.Axis(s.Axis()).Neg()
}

func drawEnd(a assembly.Assembly, p panel, st Style, r scene.Ratio) *scene.Scene {
	s := scene.New("")
	outline := scene.Rectangle(scene.Outline, scene.PartFill2, scene.Point{}, scene.Point{X: p.width, Y: p.height})
	outline.Hatch = scene.EndGrainHatch
	s.Add(outline)
	for _, m := range p.marks() {
		p.cutMark(s, m)
	}
	p.references(s)
	d := &scene.Dimensions{Height: Lettering}
	upright := scene.LeftOf
	if p.left != p.sheet.References.Face {
		upright = scene.RightOf
	}
	p.dimension(d, st, scene.Below, upright)
	d.Place(s)
	p.heading(a, s, st)
	b := s.Bounds()
	s.Add(scene.Text{Style: scene.Muted, At: scene.Point{X: b.Min.X, Y: b.Min.Y - 2 - Lettering}, Text: "scale " + r.String(), Height: Lettering})
	return s
}
