package drawing

import (
	"fmt"
	"slices"

	"longgrain/internal/design/assembly"
	"longgrain/internal/ground/unit"
	"longgrain/internal/paper/scene"
	"longgrain/internal/work/markout"
)

// panel is one side of a part on a mark-out sheet, seen from outside: x to the right and y up on paper
// from the corner at its lower left.
type panel struct {
	part          assembly.Part
	sheet         markout.Sheet
	side          assembly.Side
	up            assembly.Side // the side that borders the panel at the top
	left          assembly.Side // the side that borders it on the left
	width, height float64       // on paper
	// across and upward take a distance from a side to paper.
	across func(from assembly.Side, d unit.Length) float64
	upward func(unit.Length) float64
	gaps   []span // where a long panel is interrupted, on paper
	kept   []span // what of it is drawn, in model mm from the reference end
}

// point returns the place on paper that lies at the given distances from two sides.
func (p panel) point(alongFrom assembly.Side, along unit.Length, acrossFrom assembly.Side, across unit.Length) scene.Point {
	var out scene.Point
	p.set(&out, alongFrom, along)
	p.set(&out, acrossFrom, across)
	return out
}

func (p panel) set(at *scene.Point, from assembly.Side, d unit.Length) {
	switch from {
	case p.left:
		at.X = p.across(from, d)
	case p.left.Opposite():
		at.X = p.width - p.across(from, d)
	case p.up:
		at.Y = p.height - p.upward(d)
	case p.up.Opposite():
		at.Y = p.upward(d)
	default:
		panic("drawing: a mark is measured from a side that borders its own")
	}
}

// corners returns the opposite corners on paper of a mark's outline.
func (p panel) corners(m markout.Mark) (a, b scene.Point) {
	along, across := m.AlongStations(), m.AcrossStations()
	return p.point(m.AlongFrom, along[0], m.AcrossFrom, across[0]),
		p.point(m.AlongFrom, along[len(along)-1], m.AcrossFrom, across[len(across)-1])
}

// marks returns the marks on the panel's side.
func (p panel) marks() []markout.Mark {
	var out []markout.Mark
	for _, m := range p.sheet.Marks {
		if m.Side == p.side && m.Bevel == nil {
			out = append(out, m)
		}
	}
	return out
}

// cutMark draws the sign of a cut: a circle for a bore, the outline of anything else, with centre lines.
func (p panel) cutMark(s *scene.Scene, m markout.Mark) {
	centre := p.point(m.AlongFrom, m.Along, m.AcrossFrom, m.Across)
	if m.Kind == assembly.Bore {
		r := p.radius(m)
		s.Add(scene.Circle{Style: scene.Detail, Centre: centre, Radius: r, Fill: scene.PaperFill})
		over := r + 1.2
		s.Line(scene.Construction, centre.Plus(-over, 0), centre.Plus(over, 0))
		s.Line(scene.Construction, centre.Plus(0, -over), centre.Plus(0, over))
		return
	}
	a, b := p.corners(m)
	if m.Kind == assembly.TaperCut {
		start := p.taperStart(m)
		s.Line(scene.Detail, scene.Point{X: start.X, Y: 0}, scene.Point{X: start.X, Y: p.height})
		return
	}
	hatch, fill := scene.NoHatch, scene.PaperFill
	if m.Kind == assembly.Groove || m.Kind == assembly.Rebate {
		hatch = scene.CrossHatch
	}
	if m.Kind == assembly.Tenon {
		fill = scene.PartFill2
	}
	pieces := without(ordered(a.X, b.X), p.gaps)
	for _, x := range pieces {
		outline := scene.Rectangle(scene.Detail, fill, scene.Point{X: x.low, Y: a.Y}, scene.Point{X: x.high, Y: b.Y})
		outline.Hatch = hatch
		if m.Rounded && len(pieces) == 1 {
			outline.Points = roundEnded(a, b)
		}
		s.Add(outline)
	}
}

// taperStart returns where on the middle of its side a taper begins.
func (p panel) taperStart(m markout.Mark) scene.Point {
	at := m.Along - m.Length/2
	if p.part.Features[m.Feature].Rising != (m.AlongFrom == assembly.EndLow) {
		at = m.Along + m.Length/2
	}
	return p.point(m.AlongFrom, at, m.AcrossFrom, m.Across)
}

// profiles draws the tapers of the neighbouring sides as lines to cut along, left out where the view is
// interrupted.
func (p panel) profiles(s *scene.Scene) {
	for _, m := range p.sheet.Marks {
		if m.Kind != assembly.TaperCut || (m.Side != p.up && m.Side != p.up.Opposite()) {
			continue
		}
		f := p.part.Features[m.Feature]
		start, end := f.U, f.U+f.Length
		if !f.Rising {
			start, end = end, start
		}
		from := measuredFrom(p.sheet.References.End, p.part.Length)
		begin, foot := from(start).MM(), from(end).MM()
		for _, k := range p.kept {
			seen := span{max(k.low, min(begin, foot)), min(k.high, max(begin, foot))}
			if seen.high <= seen.low {
				continue
			}
			at := func(x float64) scene.Point {
				var out scene.Point
				p.set(&out, p.sheet.References.End, unit.MM(x))
				p.set(&out, m.Side, f.Depth.Scale((x-begin)/(foot-begin)))
				return out
			}
			s.Line(scene.Cut, at(seen.low), at(seen.high))
		}
	}
}

// measuredFrom returns what takes a coordinate along the grain to a distance from an end.
func measuredFrom(end assembly.Side, length unit.Length) func(unit.Length) unit.Length {
	return func(at unit.Length) unit.Length {
		if end.High() {
			return length - at
		}
		return at
	}
}

// radius of a bore on paper: to scale, at least large enough to be seen; 0 for other cuts.
func (p panel) radius(m markout.Mark) float64 {
	if m.Kind != assembly.Bore {
		return 0
	}
	return max(p.upward(m.Diameter)/2, 0.5)
}

// roundEnded returns the outline of an elongated hole between two opposite corners.
func roundEnded(a, b scene.Point) []scene.Point {
	lo, hi := scene.Point{X: min(a.X, b.X), Y: min(a.Y, b.Y)}, scene.Point{X: max(a.X, b.X), Y: max(a.Y, b.Y)}
	w, h := hi.X-lo.X, hi.Y-lo.Y
	r := min(w, h) / 2
	first, second, start := scene.Point{X: hi.X - r, Y: hi.Y - r}, scene.Point{X: lo.X + r, Y: lo.Y + r}, -90.0
	if h > w {
		start = 0
	}
	var out []scene.Point
	for i := range 13 {
		out = append(out, onCircle(first, r, start+15*float64(i)))
	}
	for i := range 13 {
		out = append(out, onCircle(second, r, start+180+15*float64(i)))
	}
	return out
}

func onCircle(c scene.Point, r, degrees float64) scene.Point {
	p, _ := (scene.Arc{Centre: c, Radius: r, Start: degrees, End: degrees}).Ends()
	return p
}

// dimension asks for the running dimensions of all marks of a panel, each position once, and notes the
// sizes of the cuts where they differ.
func (p panel) dimension(d *scene.Dimensions, st Style, level, upright scene.Side) {
	var x, y row
	for _, m := range p.marks() {
		x.add(m.AlongFrom, m.AlongStations(), p.part.Size(m.AlongFrom.Axis()))
		if m.Kind != assembly.TaperCut {
			y.add(m.AcrossFrom, m.AcrossStations(), p.part.Size(m.AcrossFrom.Axis()))
		}
	}
	x.ask(p, d, st, level, upright)
	y.ask(p, d, st, level, upright)
	sizes, of := p.sizes(st)
	if len(sizes) > 1 {
		for _, size := range sizes {
			p.note(d, size, of[size])
		}
	}
}

// sizes returns the different sizes of the cuts on a panel, in order of first use, and the cuts of each.
func (p panel) sizes(st Style) (order []string, of map[string][]markout.Mark) {
	of = map[string][]markout.Mark{}
	for _, m := range p.marks() {
		size := m.Size(st.Family)
		if of[size] == nil {
			order = append(order, size)
		}
		of[size] = append(of[size], m)
	}
	return order, of
}

// counted writes "3 × Ø10, 30 deep", without the number for a single one.
func counted(n int, size string) string {
	if n == 1 {
		return size
	}
	return fmt.Sprintf("%d × %s", n, size)
}

// row collects distances measured from one side.
type row struct {
	from assembly.Side
	at   []unit.Length
}

// add takes distances into the row, without those that only say that a cut runs out at a border.
func (r *row) add(from assembly.Side, at []unit.Length, size unit.Length) {
	r.from = from
	for _, l := range at {
		if l > 0 && l < size && !slices.Contains(r.at, l) {
			r.at = append(r.at, l)
		}
	}
}

// ask puts the row beside the panel: level measures lie above or below it, upright ones left or right.
func (r row) ask(p panel, d *scene.Dimensions, st Style, level, upright scene.Side) {
	if len(r.at) == 0 {
		return
	}
	slices.Sort(r.at)
	side := upright
	if r.from == p.left || r.from == p.left.Opposite() {
		side = level
	}
	edge := scene.Point{X: 0, Y: 0}
	if side == scene.RightOf {
		edge.X = p.width
	}
	if side == scene.Above {
		edge.Y = p.height
	}
	place := func(l unit.Length) scene.Point {
		at := edge
		p.set(&at, r.from, l)
		return at
	}
	var stations []scene.Station
	for _, l := range r.at {
		stations = append(stations, scene.Station{At: place(l), Label: st.show(l)})
	}
	d.Running(side, place(0), stations...)
}

// note leads the size of like cuts to the one of them that lies furthest from the reference.
func (p panel) note(d *scene.Dimensions, size string, like []markout.Mark) {
	label := counted(len(like), size)
	last := like[0]
	for _, m := range like {
		if m.Along > last.Along {
			last = m
		}
	}
	centre := p.point(last.AlongFrom, last.Along, last.AcrossFrom, last.Across)
	if last.Kind == assembly.TaperCut {
		centre = p.taperStart(last)
	}
	if last.Kind == assembly.Bore {
		d.Diameter(centre, p.radius(last), label)
		return
	}
	d.Note(centre, label)
}
