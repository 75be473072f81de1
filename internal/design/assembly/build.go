package assembly

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"longgrain/internal/design/piece"
	"longgrain/internal/ground/geom"
	"longgrain/internal/ground/problem"
	"longgrain/internal/ground/unit"
	"longgrain/internal/trade/wood"
)

// Defaults of a description that does not say. Judgement: the most common case of the trade.
const (
	DefaultSpecies   = "eastern-white-pine"
	DefaultCondition = "small tight knots"
	DefaultUse       = "table"
	DefaultSetting   = "home"
)

// Build places the parts of a piece whose pattern has been worked out, and finds the faces that meet
// in each connection. The list holds every fault: parts that do not touch, names that do not exist,
// parts that run through each other without being connected.
func Build(p piece.Piece) (Assembly, problem.List) {
	b := builder{piece: p}
	b.out = Assembly{
		Name: p.Name, Use: orDefault(p.Use, DefaultUse), Setting: orDefault(p.Setting, DefaultSetting),
		Family: p.Family(), Copies: p.Number(), Fixed: p.Fixed,
	}
	for i := range p.Parts {
		b.addPart(i)
	}
	if len(b.problems) == 0 {
		b.stand()
	}
	if len(b.problems) > 0 {
		return b.out, b.problems
	}
	for i := range p.Connections {
		b.connect(i)
	}
	b.applyWishes()
	b.placeLoads()
	b.findSupports()
	b.checkOverlaps()
	b.setApart()
	b.number()
	b.problems.Sort()
	return b.out, b.problems
}

func orDefault(s, fallback string) string {
	if s == "" {
		return fallback
	}
	return s
}

type builder struct {
	piece    piece.Piece
	out      Assembly
	problems problem.List
}

func (b *builder) report(code problem.Code, path, what, mend string) {
	b.problems.Add(problem.Problem{Code: code, At: b.piece.At(path), What: what, Mend: mend})
}

var axisOf = map[string]int{"x": 0, "y": 1, "z": 2}

// addPart turns a described part into a box in space. Parts without directions lie along x and
// across y, which is how a board lies on the bench.
func (b *builder) addPart(i int) {
	d := b.piece.Parts[i]
	along, across := axisOf[orDefault(d.Along, "x")], 0
	if d.Across != "" {
		across = axisOf[d.Across]
	} else if along == 0 {
		across = 1
	}
	if along == across {
		b.report(problem.BadGeometry, fmt.Sprintf("parts[%d]", i), fmt.Sprintf("length and width of %q lie in the same direction", d.Name), "give along and across different directions")
		return
	}
	species, _ := wood.Find(orDefault(orDefault(d.Species, b.piece.Wood.Species), DefaultSpecies))
	part := Part{
		Name: d.Name, Role: orDefault(d.Role, "other"), Species: species.ID,
		Condition: orDefault(b.piece.Wood.Condition, DefaultCondition), Build: d.Build,
		Length: d.Length.Length, Width: d.Width.Length, Thickness: d.Thickness.Length,
	}
	at := geom.Vec{X: d.At[0].Length.MM(), Y: d.At[1].Length.MM(), Z: d.At[2].Length.MM()}
	part.Pose = placed(at, along, across, part.Thickness)
	b.out.Parts = append(b.out.Parts, part)
	if !d.Stands() {
		b.taperAll(i, named(part))
	}
}

// taperAll tapers a part; sides names its sides.
func (b *builder) taperAll(i int, sides map[string]Side) {
	for k, t := range b.piece.Parts[i].Tapers {
		p := &b.out.Parts[i]
		if f, ok := b.taper(*p, t, sides, fmt.Sprintf("parts[%d].tapers[%d]", i, k)); ok {
			p.Features = append(p.Features, f)
		}
	}
}

// placed returns the pose of a box with its lowest corner at the point, its length along one world
// axis and its width along another. The third local axis follows by the right-hand rule; where that
// points backwards the origin moves to the far side, so that the box fills the same space.
func placed(at geom.Vec, along, across int, thickness unit.Length) geom.Pose {
	x, y := geom.Axis(along), geom.Axis(across)
	z := x.Cross(y)
	origin := at
	if z.X+z.Y+z.Z < 0 {
		origin = at.Sub(z.Scale(thickness.MM()))
	}
	return geom.Pose{Origin: origin, Axes: [3]geom.Vec{x, y, z}}
}

var directions = map[string]geom.Vec{
	"left": {X: -1}, "right": {X: 1}, "front": {Y: -1}, "back": {Y: 1}, "bottom": {Z: -1}, "top": {Z: 1},
}

func (b *builder) taper(p Part, t piece.Taper, sides map[string]Side, path string) (Feature, bool) {
	side, end := sides[t.Side], sides[t.Toward]
	if side.IsEnd() || !end.IsEnd() {
		b.report(problem.BadGeometry, path, fmt.Sprintf("%q cannot be tapered on its %s side toward its %s", p.Name, t.Side, t.Toward), "taper a long side toward an end")
		return Feature{}, false
	}
	run := p.Length - t.Start.Length
	if run <= 0 || t.By.Length >= p.Size(side.Axis()) {
		b.report(problem.OutOfRange, path, fmt.Sprintf("the taper of %q leaves no wood", p.Name), "start it earlier than the end and take off less than the part is thick")
		return Feature{}, false
	}
	f := Feature{Kind: TaperCut, Side: side, Length: run, Depth: t.By.Length, Rising: end.High()}
	if end.High() {
		f.U = t.Start.Length
	}
	return f, true
}

// connect finds the faces in which the two parts of a connection meet.
func (b *builder) connect(i int) {
	d, path := b.piece.Connections[i], fmt.Sprintf("connections[%d]", i)
	var part [2]int
	for k, name := range d.Between {
		index, ok := b.out.PartNamed(name)
		if !ok {
			b.report(problem.UnknownName, fmt.Sprintf("%s.between[%d]", path, k), fmt.Sprintf("there is no part %q", name), problem.DidYouMean(name, b.partNames()))
			return
		}
		part[k] = index
	}
	contact, ok := b.contact(part[0], part[1], d.Faces, playOf(d))
	if lap, crosses := b.crossing(part[0], part[1]); crosses && len(d.Faces) == 0 {
		contact, ok = lap, true
	}
	if !ok && len(d.Faces) == 2 {
		b.report(problem.NotConnected, path+".faces", fmt.Sprintf("the %s of %q does not lie on the %s of %q", d.Faces[0], d.Between[0], d.Faces[1], d.Between[1]), "name the sides that touch, or take faces: out")
		return
	}
	if !ok {
		mend := "move them together, or take the connection out"
		if hand := b.byHand(path, part[0], part[1]); strings.HasPrefix(hand, "changes[") {
			path, mend = hand, "change less, say which side stays:, or take the change out"
		}
		b.report(problem.NotConnected, path, fmt.Sprintf("%q and %q do not touch face to face", d.Between[0], d.Between[1]), mend)
		return
	}
	if contact.B.Side.IsEnd() && !contact.A.Side.IsEnd() {
		contact.A, contact.B = contact.B, contact.A
		contact = b.directed(contact)
	}
	contact.Name = orDefault(d.Name, b.out.Parts[contact.A.Part].Name+" to "+b.out.Parts[contact.B.Part].Name)
	contact.Purpose = orDefault(d.Purpose, Joint)
	if d.Purpose == "fastening" { // the wider word for what holds without glue
		contact.Purpose = TopFastening
	}
	contact.Wish = d.Joint
	if off := b.askew(contact); off > 0 && contact.Purpose == Joint {
		b.report(problem.NotConnected, path, fmt.Sprintf("%q meets %q askew, %.2f° out of line: no joint is cut that way", d.Between[0], d.Between[1], off),
			"let it lean as the other part does when seen along it, or turn it in line")
		return
	}
	if slices.ContainsFunc(b.out.Connections, func(c Connection) bool { return c.Name == contact.Name }) {
		b.report(problem.DuplicateName, path, fmt.Sprintf("there are two connections named %q", contact.Name), "give each connection a name of its own, and connect two parts only once")
		return
	}
	b.out.Connections = append(b.out.Connections, contact)
}

// placeLoads puts the maker's own loads where they act.
func (b *builder) placeLoads() {
	for i, l := range b.piece.Loads {
		part, ok := b.out.PartNamed(l.On)
		if !ok {
			b.report(problem.UnknownName, fmt.Sprintf("loads[%d].on", i), fmt.Sprintf("there is no part %q", l.On), problem.DidYouMean(l.On, b.partNames()))
			continue
		}
		lo, hi := b.out.Parts[part].Bounds()
		load := Load{Name: l.Name, Part: part, Force: l.Force, Toward: directions["bottom"], At: geom.Vec{X: (lo.X + hi.X) / 2, Y: (lo.Y + hi.Y) / 2, Z: hi.Z}}
		if d, ok := directions[l.Toward]; ok {
			load.Toward = d
		} else if l.Toward == "up" {
			load.Toward = directions["top"]
		}
		if len(l.At) == 3 {
			load.At = geom.Vec{X: l.At[0].Length.MM(), Y: l.At[1].Length.MM(), Z: l.At[2].Length.MM()}
			if outside(lo, hi, load.At) > loadReach {
				b.report(problem.OutOfRange, fmt.Sprintf("loads[%d].at", i), fmt.Sprintf("the load %q lies away from the %s", l.Name, l.On), "place it on the part, or up to 600 mm beside it, as on an open drawer")
			}
		}
		b.out.Loads = append(b.out.Loads, load)
	}
}

// outside returns how far a point lies outside a box, mm.
func outside(lo, hi, at geom.Vec) float64 {
	d := 0.0
	for k := range 3 {
		d = max(d, lo.Along(k)-at.Along(k), at.Along(k)-hi.Along(k))
	}
	return d
}

// loadReach is how far beside its part a load may act, mm: the depth of an open drawer. Judgement.
const loadReach = 600

func (b *builder) partNames() []string {
	names := make([]string, len(b.out.Parts))
	for i, p := range b.out.Parts {
		names[i] = p.Name
	}
	return names
}

// plays are the gaps over which parts that are not glued count as touching, by the kind of fastening: what rests on pins stands a
// little clear of what carries it.
var plays = map[string]float64{"shelf pins": 3, "hinges": 5, "lid hinges": 3, "runners": 1}

// playOf returns the gap, in mm, over which a connection may reach.
func playOf(c piece.Connection) float64 {
	if c.Joint == nil || c.Purpose == "" || c.Purpose == Joint {
		return geom.Touch
	}
	return geom.Touch + plays[c.Joint.Kind]
}

// contact returns the largest rectangle in which a face of one part lies on a face of the other, or stands across no more than the
// play from it; of the faces that look in two directions when these are named.
func (b *builder) contact(i, j int, faces []string, play float64) (Connection, bool) {
	var best Connection
	bestArea := 0.0
	for _, s := range Sides {
		for _, t := range Sides {
			if len(faces) == 2 && (s != b.out.Parts[i].Looking(directions[faces[0]]) || t != b.out.Parts[j].Looking(directions[faces[1]])) {
				continue
			}
			c, area := b.meet(i, s, j, t, play)
			if area > bestArea {
				best, bestArea = c, area
			}
		}
	}
	return best, bestArea > 0
}

// meet returns the contact of two sides and its area in mm², zero when they do not lie on each other.
// The sides' edges must be parallel: skewed rectangles are not joined.
func (b *builder) meet(i int, s Side, j int, t Side, play float64) (Connection, float64) {
	p, q := b.out.Parts[i], b.out.Parts[j]
	if p.Outward(s).Dot(q.Outward(t)) > -1+1e-9 {
		return Connection{}, 0
	}
	onP := p.OnSide(s, 0, 0, 0)
	if gap := q.OnSide(t, 0, 0, 0).Sub(onP).Dot(p.Outward(s)); gap < -geom.Touch || gap > play {
		return Connection{}, 0
	}
	areaP, areaQ, ok := shared(p, s, q, t)
	if !ok {
		return Connection{}, 0
	}
	c := b.directed(Connection{A: Place{i, s, areaP}, B: Place{j, t, areaQ}})
	return c, areaP.SizeU().MM() * areaP.SizeV().MM()
}

func (b *builder) directed(c Connection) Connection {
	u, v := c.A.Side.UV()
	p := b.out.Parts[c.A.Part]
	c.U, c.V = p.Pose.Axes[u], p.Pose.Axes[v]
	if _, angled := p.Bevel(c.A.Side); angled {
		f := p.Frame(c.A.Side)
		c.U, c.V = p.Pose.Turn(f.U), p.Pose.Turn(f.V)
	}
	return c
}

// overlap returns the part of side s of p that is covered by side t of q, in the u and v of s.
func overlap(p Part, s Side, q Part, t Side) (Rect, bool) {
	pu, pv := s.UV()
	qu, qv := t.UV()
	if !geom.Parallel(p.Pose.Axes[pu], q.Pose.Axes[qu]) && !geom.Parallel(p.Pose.Axes[pu], q.Pose.Axes[qv]) {
		return Rect{}, false
	}
	a := p.Pose.In(q.OnSide(t, 0, 0, 0))
	b := p.Pose.In(q.OnSide(t, q.Size(qu), q.Size(qv), 0))
	span := func(axis int) (lo, hi unit.Length) {
		x, y := a.Along(axis), b.Along(axis)
		return max(0, unit.MM(min(x, y))), min(p.Size(axis), unit.MM(max(x, y)))
	}
	var r Rect
	r.U0, r.U1 = span(pu)
	r.V0, r.V1 = span(pv)
	least := unit.MM(geom.Touch)
	return r, r.SizeU() > least && r.SizeV() > least
}

// applyWishes gives the joints that the maker fixed for roles or parts to the connections.
func (b *builder) applyWishes() {
	for i, w := range b.piece.Joints {
		used := false
		for k := range b.out.Connections {
			c := &b.out.Connections[k]
			p, q := b.out.Parts[c.A.Part], b.out.Parts[c.B.Part]
			if (is(p, w.Between[0]) && is(q, w.Between[1])) || (is(p, w.Between[1]) && is(q, w.Between[0])) {
				used = true
				if c.Wish == nil {
					joint := w.Joint
					c.Wish = &joint
				}
			}
		}
		if !used {
			b.report(problem.UnknownName, fmt.Sprintf("joints[%d].between", i),
				fmt.Sprintf("nothing is connected between %q and %q", w.Between[0], w.Between[1]),
				"name two roles or parts that a connection joins, such as "+b.someConnection())
		}
	}
}

func (b *builder) someConnection() string {
	if len(b.out.Connections) == 0 {
		return "[apron, leg]"
	}
	c := b.out.Connections[0]
	return fmt.Sprintf("[%s, %s]", b.out.Parts[c.A.Part].Role, b.out.Parts[c.B.Part].Role)
}

func is(p Part, name string) bool { return p.Name == name || p.Role == name }

// findSupports takes every side that lies on the floor as a support. The floor is at the lowest point. Of a piece that hangs, the wall
// is at the hindmost point, and nothing stands.
func (b *builder) findSupports() {
	if len(b.out.Parts) == 0 {
		return
	}
	if b.out.Fixed == Hung {
		_, hi := b.out.Bounds()
		for i, p := range b.out.Parts {
			s := p.Looking(geom.Vec{Y: 1})
			if p.Outward(s).Y > 0.8 && !s.IsEnd() && math.Abs(p.OnSide(s, 0, 0, 0).Y-hi.Y) < geom.Touch {
				b.out.Walls = append(b.out.Walls, Support{i, s})
			}
		}
		return
	}
	lo, _ := b.out.Bounds()
	for i, p := range b.out.Parts {
		s := p.Looking(geom.Vec{Z: -1})
		if p.Outward(s).Z < -0.8 && math.Abs(p.OnSide(s, 0, 0, 0).Z-lo.Z) < geom.Touch {
			b.out.Supports = append(b.out.Supports, Support{i, s})
		}
	}
}

// alike is what two contacts may differ by and still be of one group: what comes out of sines differs in the last places.
const alike = 10 * unit.Micrometre

// number gives parts their kind and mark, and connections their group.
func (b *builder) number() {
	kinds := map[string]int{}
	count := map[int]int{}
	for i := range b.out.Parts {
		p := &b.out.Parts[i]
		key := fmt.Sprint(p.Role, p.Length, p.Width, p.Thickness, p.Species, p.Build, tapers(*p))
		kind, known := kinds[key]
		if !known {
			kind = len(kinds)
			kinds[key] = kind
		}
		count[kind]++
		p.Kind = kind
		p.Mark = kindLetters(kind) + fmt.Sprint(count[kind])
	}
	groups := map[string]int{}
	for i := range b.out.Connections {
		c := &b.out.Connections[i]
		key := fmt.Sprint(b.out.Parts[c.A.Part].Kind, b.out.Parts[c.B.Part].Kind, c.A.Side.Axis(), c.B.Side.Axis(),
			c.A.Area.SizeU().RoundTo(alike), c.A.Area.SizeV().RoundTo(alike), c.Purpose)
		if _, known := groups[key]; !known {
			groups[key] = len(groups)
		}
		c.Group = groups[key]
	}
}

// tapers lists the sizes of the tapers of a part, whatever the side: mirrored legs are alike.
func tapers(p Part) []string {
	var out []string
	for _, f := range p.Features {
		if f.Kind == BevelCut {
			out = append(out, fmt.Sprintf("%d %.6f %.6f", f.Side.Axis(), math.Abs(float64(f.OffU)), math.Abs(float64(f.OffV))))
			continue
		}
		out = append(out, fmt.Sprint(f.Length, f.Depth))
	}
	slices.Sort(out)
	return out
}

// kindLetters returns A, B, ... Z, AA, AB, ...
func kindLetters(n int) string {
	if n < 26 {
		return string(rune('A' + n))
	}
	return kindLetters(n/26-1) + string(rune('A'+n%26))
}

// checkOverlaps reports parts that run through each other. Joints are cut later, so two boxes may
// touch but never share space.
func (b *builder) checkOverlaps() {
	for i := range b.out.Parts {
		for j := i + 1; j < len(b.out.Parts); j++ {
			depth := penetration(b.out.Parts[i], b.out.Parts[j])
			if depth <= geom.Touch*10 || b.lapped(i, j) {
				continue
			}
			path, mend := b.byHand("", j, i), "shorten one or move them apart"
			if strings.HasPrefix(path, "changes[") {
				mend = "change less, say which side stays:, or take the change out"
			}
			b.report(problem.BadGeometry, path,
				fmt.Sprintf("%q and %q run %s into each other", b.out.Parts[i].Name, b.out.Parts[j].Name, unit.MM(depth).Show(b.out.Family)), mend)
		}
	}
}

// byHand returns the place in the file of the first of the parts that the maker wrote or changed, so that a fault is told where it
// can be mended; without one, the path.
func (b *builder) byHand(path string, parts ...int) string {
	for _, list := range []string{"changes[", "parts[", "repeats["} {
		for _, i := range parts {
			if from := b.piece.PartFrom(i); strings.HasPrefix(from, list) {
				return from
			}
		}
	}
	return path
}

// Describe lists part names in words: "leg front left, leg front right and 2 more".
func Describe(names []string) string {
	switch {
	case len(names) == 0:
		return "nothing"
	case len(names) == 1:
		return names[0]
	case len(names) > 4:
		return fmt.Sprintf("%s and %d more", strings.Join(names[:3], ", "), len(names)-3)
	}
	return strings.Join(names[:len(names)-1], ", ") + " and " + names[len(names)-1]
}
