package drawing

import (
	"fmt"
	"math"

	"longgrain/internal/design/assembly"
	"longgrain/internal/ground/geom"
	"longgrain/internal/ground/unit"
	"longgrain/internal/paper/scene"
	"longgrain/internal/work/markout"
)

// How much of the parts a section shows beyond the joint, model mm.
const (
	sectionReach = 30.0  // beyond the deepest cut and beyond the contact
	sectionWhole = 110.0 // a part no larger than this is shown whole
	sectionHead  = 2.0   // paper mm between a section and its heading
)

// JointSection draws two sections through a connection, larger than the views: one across the width
// of the part that ends there, through its first cut, and one through its thickness, which shows all
// cuts of the row. Bores, mortises, tenons and slots are drawn in both parts with their depths, the
// distances from the reference faces and the set-back. pin is the length of the dowels; 0 leaves them
// out.
func JointSection(a assembly.Assembly, m markout.Markout, connection int, pin unit.Length, st Style) scene.Scene {
	c := a.Connections[connection]
	first := firstCut(a, c)
	cuts := []sectionCut{
		newSectionCut(a, m, c, c.U, first, pin),
		newSectionCut(a, m, c, c.V, first, pin),
	}
	s := st.largest(atMost(st.ratios(), 1), func(r scene.Ratio) *scene.Scene {
		out := scene.New("")
		out.Add(stack(panelGap, inLine(cuts[0].draw(st, r)), inLine(cuts[1].draw(st, r)))...)
		return out
	})
	s.ID, s.Title = fmt.Sprintf("joint-%d", connection+1), "Sections through the joint "+c.Name
	s.Description = "Two sections at " + s.Ratio.String() + " with depths and distances from the reference faces."
	return *s
}

// firstCut returns where the first cut of the connection lies in the world, or the middle of the contact.
func firstCut(a assembly.Assembly, c assembly.Connection) geom.Vec {
	p := a.Parts[c.A.Part]
	for _, f := range p.Features {
		if f.For == c.Name && f.Side == c.A.Side {
			return p.OnSide(f.Side, f.U, f.V, 0)
		}
	}
	at, _ := a.Middle(c)
	return at
}

// sectionCut is one section through a joint.
type sectionCut struct {
	a     assembly.Assembly
	m     markout.Markout
	c     assembly.Connection
	at    plane
	look  looking
	crop  scene.Box // what is shown, in the view, model mm
	pin   unit.Length
	mates []markout.Mate
}

func newSectionCut(a assembly.Assembly, m markout.Markout, c assembly.Connection, normal, through geom.Vec, pin unit.Length) sectionCut {
	// Seen from above, or from where the reference face of the ending part looks.
	face := a.Parts[c.A.Part].Outward(m.Sheets[c.A.Part].References.Face)
	toward := normal
	if toward.Dot(geom.Vec{Z: 1})+0.5*toward.Dot(face) < 0 {
		toward = toward.Neg()
	}
	up := geom.Vec{Z: 1}
	if math.Abs(toward.Z) > math.Sqrt2/2 {
		up = geom.Vec{Y: 1}
	}
	right := up.Cross(toward).Unit()
	s := sectionCut{a: a, m: m, c: c, at: plane{toward, toward.Dot(through)}, look: looking{right, toward.Cross(right), toward}, pin: pin}
	for _, mate := range m.Mates {
		if a.Connections[mate.Connection].Name == c.Name {
			s.mates = append(s.mates, mate)
		}
	}
	s.crop = s.window()
	return s
}

// window returns what the section shows: the contact and the cuts of the joint with some wood around
// them, and small parts whole.
func (s sectionCut) window() scene.Box {
	p := s.a.Parts[s.c.A.Part]
	area := s.c.A.Area
	var box scene.Box
	add := func(v geom.Vec, first bool) {
		q := s.look.onPaper(v)
		if first {
			box = scene.Box{Min: q, Max: q}
		}
		box = box.Union(scene.Box{Min: q, Max: q})
	}
	depth := unit.Length(0)
	for _, part := range [2]int{s.c.A.Part, s.c.B.Part} {
		for _, f := range s.a.Parts[part].Features {
			if f.For == s.c.Name {
				depth = max(depth, f.Depth)
			}
		}
	}
	for i, d := range [2]unit.Length{depth, -depth} {
		add(p.OnSide(s.c.A.Side, area.U0, area.V0, d), i == 0)
		add(p.OnSide(s.c.A.Side, area.U1, area.V1, d), false)
	}
	box = box.Grown(sectionReach)
	for _, part := range [2]int{s.c.A.Part, s.c.B.Part} {
		b := shadow(solids(s.a, part)[0], s.look)
		if b.Width() <= sectionWhole {
			box.Min.X, box.Max.X = min(box.Min.X, b.Min.X-1), max(box.Max.X, b.Max.X+1)
		}
		if b.Height() <= sectionWhole {
			box.Min.Y, box.Max.Y = min(box.Min.Y, b.Min.Y-1), max(box.Max.Y, b.Max.Y+1)
		}
	}
	return box
}

// cropPlanes returns the four planes that bound the window.
func (s sectionCut) cropPlanes() []plane {
	return []plane{
		{s.look.right, s.crop.Max.X}, {s.look.right.Neg(), -s.crop.Min.X},
		{s.look.up, s.crop.Max.Y}, {s.look.up.Neg(), -s.crop.Min.Y},
	}
}

// draw draws the section at a ratio.
func (s sectionCut) draw(st Style, r scene.Ratio) []scene.Item {
	out := scene.New("")
	v := scene.View{Ratio: r}
	for _, i := range s.drawnParts() {
		s.wood(out, v, i)
	}
	for _, i := range s.drawnParts() {
		s.hollows(out, v, i)
	}
	s.inserted(out, v)
	d := &scene.Dimensions{Height: Lettering}
	s.dimension(d, v, st)
	d.Place(out)
	b := out.Bounds()
	out.Add(scene.Text{Style: scene.Words, At: scene.Point{X: b.Min.X, Y: b.Max.Y + sectionHead}, Text: s.heading(st, r), Height: Lettering, Weight: scene.Bold})
	return out.Items
}

func (s sectionCut) heading(st Style, r scene.Ratio) string {
	view := "seen from the side"
	for _, w := range []struct {
		d    geom.Vec
		word string
	}{{geom.Vec{Z: 1}, "above"}, {geom.Vec{Y: -1}, "the front"}, {geom.Vec{Y: 1}, "the back"}, {geom.Vec{X: -1}, "the left"}, {geom.Vec{X: 1}, "the right"}} {
		if s.look.toward.Dot(w.d) > 0.8 {
			view = "seen from " + w.word
		}
	}
	bit := ""
	if len(s.mates) > 0 {
		if f := s.a.Parts[s.c.A.Part].Features[s.mates[0].A.Mark]; f.Kind == assembly.Bore {
			bit = ", Ø" + st.show(f.Diameter)
		}
	}
	return fmt.Sprintf("%s on %s cut open, %s, %s", s.a.Parts[s.c.A.Part].Mark, s.a.Parts[s.c.B.Part].Mark, view, r) + bit
}

// drawnParts lists the other parts in the window first, then the two of the joint.
func (s sectionCut) drawnParts() []int {
	var out []int
	for i := range s.a.Parts {
		if i != s.c.A.Part && i != s.c.B.Part && overlapping(shadow(solids(s.a, i)[0], s.look), s.crop) {
			out = append(out, i)
		}
	}
	return append(out, s.c.B.Part, s.c.A.Part)
}

// wood draws the cut surface of a part: hatched as end grain or along the cut, with the edges of the
// window left open.
func (s sectionCut) wood(out *scene.Scene, v scene.View, part int) {
	body := solids(s.a, part)[0]
	ring := s.clipped(body.section(s.at))
	if len(ring) < 3 {
		return
	}
	hatch, fill := s.cutWood(part)
	points := s.onPaper(ring, v)
	out.Add(scene.Polygon{Style: scene.NoLine, Points: points, Fill: fill, Hatch: hatch})
	for i, p := range points {
		q := points[(i+1)%len(points)]
		if s.onWindow(ring[i], ring[(i+1)%len(ring)]) {
			out.Add(scene.Polyline{Style: scene.Detail, Points: zigzagBetween(p, q)})
			continue
		}
		out.Line(scene.Outline, p, q)
	}
}

// cutWood returns how the cut surface of a part is drawn: as end grain, or hatched along the cut.
func (s sectionCut) cutWood(part int) (scene.Hatch, scene.Fill) {
	switch {
	case math.Abs(s.look.toward.Dot(s.a.Parts[part].Pose.Axes[0])) > 0.9:
		return scene.EndGrainHatch, scene.PartFill2
	case part == s.c.B.Part:
		return scene.SectionHatch2, scene.PartFill
	}
	return scene.SectionHatch, scene.PartFill
}

// clipped returns the part of a ring that lies in the window.
func (s sectionCut) clipped(ring []geom.Vec) []geom.Vec {
	for _, c := range s.cropPlanes() {
		if len(ring) < 3 {
			return nil
		}
		ring = clipRing(ring, c)
	}
	return ring
}

// clippedLine returns the two ends of the part of a line that lies in the window.
func (s sectionCut) clippedLine(a, b geom.Vec) ([]geom.Vec, bool) {
	inside := span{0, 1}
	for _, c := range s.cropPlanes() {
		inside = inside.where(c.d-c.n.Dot(a), -c.n.Dot(b.Sub(a)))
	}
	along := b.Sub(a)
	return []geom.Vec{a.Add(along.Scale(inside.low)), a.Add(along.Scale(inside.high))}, inside.high > inside.low
}

func (s sectionCut) onPaper(ring []geom.Vec, v scene.View) []scene.Point {
	out := make([]scene.Point, len(ring))
	for i, p := range ring {
		q := s.look.onPaper(p)
		out[i] = v.At(q.X, q.Y)
	}
	return out
}

// onWindow tells whether an edge lies on the border of the window.
func (s sectionCut) onWindow(a, b geom.Vec) bool {
	for _, c := range s.cropPlanes() {
		if math.Abs(c.n.Dot(a)-c.d) < tiny && math.Abs(c.n.Dot(b)-c.d) < tiny {
			return true
		}
	}
	return false
}

// zigzagBetween returns a break line from p to q.
func zigzagBetween(p, q scene.Point) []scene.Point {
	d := direction(p, q)
	at := func(share, aside float64) scene.Point { return mix(p, q, share).Plus(-d.Y*aside, d.X*aside) }
	return []scene.Point{p, at(0.44, 0), at(0.48, 1.4), at(0.52, -1.4), at(0.56, 0), q}
}

// hollows draws the bores, mortises, slots and grooves of a part that the section meets.
func (s sectionCut) hollows(out *scene.Scene, v scene.View, part int) {
	p := s.a.Parts[part]
	for _, f := range p.Features {
		switch f.Kind {
		case assembly.Tenon, assembly.TaperCut, assembly.BevelCut:
			continue
		case assembly.Bore:
			s.bore(out, v, p, f)
			continue
		}
		ring := s.clipped(newSolid(part, boxFaces(sunk(p, f))).section(s.at))
		if len(ring) < 3 {
			continue
		}
		if s.c.Lap > 0 && f.For == s.c.Name {
			// The other part fills the notch.
			hatch, fill := s.cutWood(s.c.A.Part + s.c.B.Part - part)
			out.Add(scene.Polygon{Style: scene.Outline, Fill: fill, Hatch: hatch, Points: s.onPaper(ring, v)})
			continue
		}
		out.Polygon(scene.Detail, scene.PaperFill, s.onPaper(ring, v)...)
	}
}

func (s sectionCut) inWindow(v geom.Vec) bool {
	q := s.look.onPaper(v)
	return q.X > s.crop.Min.X && q.X < s.crop.Max.X && q.Y > s.crop.Min.Y && q.Y < s.crop.Max.Y
}

// axisOf returns the mouth of a bore and the direction into the wood.
func axisOf(p assembly.Part, f assembly.Feature) (mouth, into geom.Vec) {
	return p.OnSide(f.Side, f.U, f.V, 0), p.Into(f)
}

// bore draws a bore whose axis lies in the section or square to it.
func (s sectionCut) bore(out *scene.Scene, v scene.View, p assembly.Part, f assembly.Feature) {
	mouth, into := axisOf(p, f)
	off := s.at.n.Dot(mouth) - s.at.d
	r := f.Diameter.MM() / 2
	switch lean := s.at.n.Dot(into); {
	case math.Abs(lean) < 1e-6 && math.Abs(off) < r:
		half := math.Sqrt(r*r - off*off)
		ring := s.clipped(bar(mouth, into, s.at.n, f.Depth.MM(), half))
		if len(ring) < 3 {
			return
		}
		out.Polygon(scene.Detail, scene.PaperFill, s.onPaper(ring, v)...)
		if seen, ok := s.clippedLine(mouth.Sub(into.Scale(2)), mouth.Add(into.Scale(f.Depth.MM()+3))); ok {
			ends := s.onPaper(seen, v)
			out.Line(scene.Centre, ends[0], ends[1])
		}
	case math.Abs(lean) > 1-1e-6 && off*lean < 0 && math.Abs(off) < f.Depth.MM() && s.inWindow(mouth):
		c := s.onPaper([]geom.Vec{mouth}, v)[0]
		out.Add(scene.Circle{Style: scene.Detail, Centre: c, Radius: v.Length(r), Fill: scene.PaperFill})
	}
}

// bar returns the rectangle along a direction from a point, half wide to either side.
func bar(from, along, normal geom.Vec, length, half float64) []geom.Vec {
	side := normal.Cross(along).Scale(half)
	to := from.Add(along.Scale(length))
	return []geom.Vec{from.Sub(side), to.Sub(side), to.Add(side), from.Add(side)}
}

// inserted draws what stands in the hollows: tenons, and dowels where their length is known.
func (s sectionCut) inserted(out *scene.Scene, v scene.View) {
	for _, i := range s.drawnParts() {
		p := s.a.Parts[i]
		for _, f := range p.Features {
			if f.Kind != assembly.Tenon {
				continue
			}
			if ring := s.clipped(newSolid(i, boxFaces(standing(p, f))).section(s.at)); len(ring) >= 3 {
				out.Add(scene.Polygon{Style: scene.Outline, Fill: scene.PartFill, Hatch: scene.SectionHatch, Points: s.onPaper(ring, v)})
			}
		}
	}
	for _, mate := range s.mates {
		p, q := s.a.Parts[mate.A.Part], s.a.Parts[mate.B.Part]
		f, g := p.Features[mate.A.Mark], q.Features[mate.B.Mark]
		mouth, into := axisOf(p, f)
		off := s.at.n.Dot(mouth) - s.at.d
		r := f.Diameter.MM() / 2
		if s.pin <= 0 || f.Kind != assembly.Bore || math.Abs(off) >= r || math.Abs(s.at.n.Dot(into)) > 1e-6 {
			continue
		}
		// The dowel leaves the same room at both ends.
		room := (f.Depth + g.Depth - s.pin).MM() / 2
		start := mouth.Add(into.Scale(f.Depth.MM() - room))
		ring := s.onPaper(bar(start, into.Neg(), s.at.n, s.pin.MM(), math.Sqrt(r*r-off*off)), v)
		out.Add(scene.Polygon{Style: scene.Detail, Fill: scene.PartFill2, Points: ring})
	}
}

// dimension asks for depths, distances from the reference faces and the set-back.
func (s sectionCut) dimension(d *scene.Dimensions, v scene.View, st Style) {
	if len(s.mates) == 0 {
		return
	}
	into := s.look.onPaper(s.a.Parts[s.c.A.Part].Outward(s.c.A.Side))
	level := math.Abs(into.X) > math.Abs(into.Y)
	s.depths(d, v, st, level)
	sideA, sideB := s.sides(into, level)
	datumA, onA := s.distances(v, st, false)
	datumB, onB := s.distances(v, st, true)
	d.Running(sideA, datumA, onA...)
	d.Running(sideB, datumB, onB...)
	if dir := s.inSection(s.mates[0]); dir.Set != 0 && dir.Same && dir.Set.Abs() <= s.widest(s.mates[0].A.Part) {
		from := scene.Point{X: datumA.X, Y: datumB.Y}
		if !level {
			from = scene.Point{X: datumB.X, Y: datumA.Y}
		}
		measure(d, sideA, from, datumA, "set-back "+st.show(dir.Set.Abs()))
	}
}

// widest is the larger side of the end of a part. A part that stands further in than that is not set back: it joins somewhere
// along the other, and the distances of the cuts say where.
func (s sectionCut) widest(part int) unit.Length {
	p := s.a.Parts[part]
	return max(p.Width, p.Thickness)
}

// distances returns the cuts of one of the two parts as stations from its reference side, the one that
// this section is square to.
func (s sectionCut) distances(v scene.View, st Style, onB bool) (datum scene.Point, at []scene.Station) {
	for _, mate := range s.mates {
		place, along := mate.A, s.alongInSection(mate)
		if onB {
			place, along = mate.B, s.inSection(mate).BAlong
		}
		p, m := s.a.Parts[place.Part], s.m.Sheets[place.Part].Marks[place.Mark]
		from, distance := m.AcrossFrom, m.Across
		if along {
			from, distance = m.AlongFrom, m.Along
		}
		f := p.Features[place.Mark]
		mouth := s.onPaper([]geom.Vec{p.OnSide(f.Side, f.U, f.V, 0)}, v)[0]
		at = appendStation(at, mouth, st.show(distance))
		datum = s.datum(p, from, mouth, v)
	}
	return datum, at
}

// alongInSection tells whether A's Along is what this section shows; the other direction is square to it.
func (s sectionCut) alongInSection(mate markout.Mate) bool {
	m := s.m.Sheets[mate.A.Part].Marks[mate.A.Mark]
	return math.Abs(s.a.Parts[mate.A.Part].Outward(m.AlongFrom).Dot(s.at.n)) < math.Sqrt2/2
}

// inSection returns the direction of a mate that lies in this section.
func (s sectionCut) inSection(mate markout.Mate) markout.Direction {
	if s.alongInSection(mate) {
		return mate.Directions[0]
	}
	return mate.Directions[1]
}

// sides returns beside which border of the drawing the distances on A and on B are written.
func (s sectionCut) sides(into scene.Point, level bool) (onA, onB scene.Side) {
	switch {
	case level && into.X > 0:
		return scene.LeftOf, scene.RightOf
	case level:
		return scene.RightOf, scene.LeftOf
	case into.Y > 0:
		return scene.Below, scene.Above
	}
	return scene.Above, scene.Below
}

// datum returns the point of a reference side that lies level with, or straight above, a point on paper.
func (s sectionCut) datum(p assembly.Part, from assembly.Side, at scene.Point, v scene.View) scene.Point {
	on := s.onPaper([]geom.Vec{p.OnSide(from, 0, 0, 0)}, v)[0]
	n := s.look.onPaper(p.Outward(from))
	if math.Abs(n.X) > math.Abs(n.Y) {
		return scene.Point{X: on.X, Y: at.Y}
	}
	return scene.Point{X: at.X, Y: on.Y}
}

// depths asks for the depth of the first cut in either part, measured from the contact.
func (s sectionCut) depths(d *scene.Dimensions, v scene.View, st Style, level bool) {
	mate := s.mates[0]
	p, q := s.a.Parts[mate.A.Part], s.a.Parts[mate.B.Part]
	f, g := p.Features[mate.A.Mark], q.Features[mate.B.Mark]
	mouth, into := axisOf(p, f)
	side := scene.Below
	if !level {
		side = scene.LeftOf
	}
	deepA := mouth.Add(into.Scale(f.Depth.MM()))
	if f.Kind == assembly.Tenon {
		deepA = mouth.Sub(into.Scale(f.Depth.MM()))
	}
	mouthB, deepB := mouth, mouth.Sub(into.Scale(g.Depth.MM()))
	if s.c.Lap > 0 {
		mouthB, into = axisOf(q, g)
		deepB = mouthB.Add(into.Scale(g.Depth.MM()))
	}
	at := s.onPaper([]geom.Vec{mouth, deepA, mouthB, deepB}, v)
	measure(d, side, at[0], at[1], st.show(f.Depth))
	measure(d, side, at[2], at[3], st.show(g.Depth))
}

func appendStation(in []scene.Station, at scene.Point, label string) []scene.Station {
	for _, s := range in {
		if s.Label == label {
			return in
		}
	}
	return append(in, scene.Station{At: at, Label: label})
}
