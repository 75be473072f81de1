package fit

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"longgrain/internal/design/assembly"
	"longgrain/internal/design/joint"
	"longgrain/internal/ground/geom"
	"longgrain/internal/ground/unit"
)

// Mend is one change that makes a finding go away.
type Mend struct {
	How string      `json:"how"` // "set the pins of A 6 mm lower"
	By  unit.Length `json:"by"`
	// What is changed: the cuts of a connection are moved in the world, or made shallower in one part or both.
	Connection string   `json:"connection"`
	Move       geom.Vec `json:"move"`            // mm
	Shorten    bool     `json:"shorten"`         // By is taken off what goes into the part
	Carry      int      `json:"carry,omitempty"` // part that moves as a whole, with all its joints; -1 for none
}

// Apply returns a piece with the change made.
func (m Mend) Apply(in Input, part int) Input {
	a := in.Assembly
	parts := slices.Clone(a.Parts)
	change := func(i int, f func(p assembly.Part, x *assembly.Feature)) {
		features := slices.Clone(parts[i].Features)
		for k := range features {
			f(parts[i], &features[k])
		}
		parts[i].Features = features
	}
	for i, c := range a.Connections {
		switch {
		case m.Carry >= 0 && (c.A.Part == m.Carry || c.B.Part == m.Carry):
			change(mateOf(c, m.Carry), func(p assembly.Part, x *assembly.Feature) {
				if x.For == c.Name {
					shift(p, x, m.Move)
				}
			})
		case m.Carry >= 0 || c.Name != m.Connection:
		case m.Shorten:
			in.Joints = shortened(in.Joints, i, m.By)
			for _, k := range [2]int{c.A.Part, c.B.Part} {
				change(k, func(_ assembly.Part, x *assembly.Feature) {
					if x.For == c.Name && (k == part || x.Kind == assembly.Tenon) {
						x.Depth -= m.By
					}
				})
			}
		default:
			for _, k := range [2]int{c.A.Part, c.B.Part} {
				change(k, func(p assembly.Part, x *assembly.Feature) {
					if x.For == c.Name {
						shift(p, x, m.Move)
					}
				})
			}
		}
	}
	if m.Carry >= 0 {
		parts[m.Carry].Pose.Origin = parts[m.Carry].Pose.Origin.Add(m.Move)
	}
	a.Parts = parts
	in.Assembly = a
	return in
}

// shift moves a feature on its side by a vector of the world.
func shift(p assembly.Part, f *assembly.Feature, by geom.Vec) {
	ua, va := f.Side.UV()
	f.U += unit.MM(by.Dot(p.Pose.Axes[ua]))
	f.V += unit.MM(by.Dot(p.Pose.Axes[va]))
}

// shortened returns the joints with the screws of one connection shorter.
func shortened(joints []*joint.Joint, connection int, by unit.Length) []*joint.Joint {
	if connection >= len(joints) || joints[connection] == nil || joints[connection].Kind != joint.PocketScrews {
		return joints
	}
	out := slices.Clone(joints)
	j := *joints[connection]
	j.Sizes.DepthB -= by
	out[connection] = &j
	return out
}

// Least that may be left of a pin when it is shortened. Common practice: rule D03 gives a dowel two diameters at least; a
// tenon of 15 mm is the shortest that package joint makes, and a screw keeps half its thread.
const (
	leastPin   = 2.0 // diameters
	leastTenon = 15.0
)

// mostShift is how far a mend may move anything, mm. Judgement: what must move further is a new design.
const mostShift = 60.0

// mend finds the changes that make a finding go away, proves each and writes them into the finding.
func mend(in Input, all []Finding, f *Finding) {
	step := in.Smallest
	if step <= 0 {
		step = in.Assembly.Family.SmallestMark()
	}
	for _, try := range candidates(in, *f) {
		if m, ok := smallest(in, all, *f, try, step); ok {
			f.Mends = append(f.Mends, m)
		}
	}
	slices.SortStableFunc(f.Mends, func(x, y Mend) int { return cmp.Compare(x.By, y.By) })
	var ways []string
	for _, m := range f.Mends[:min(3, len(f.Mends))] {
		ways = append(ways, m.How)
	}
	if mitred(in.Assembly, *f) {
		ways = append(ways, "or keep both and mitre the ends of the tenons, with 1 to 2 mm between them")
	}
	switch {
	case len(ways) > 0:
		f.Advice = strings.Join(ways, "; ")
		if len(f.Mends) > 1 {
			f.Advice = strings.Join(ways, "; or ")
			f.Advice = strings.ReplaceAll(f.Advice, "or or ", "or ")
		}
	case f.Advice == "":
		f.Advice = "no single shift or shorter pin mends it: use a thicker part, a smaller joint, or move one of the parts"
	}
}

// candidate is a mend without its amount.
type candidate struct {
	Mend
	direction geom.Vec
	need      float64 // a lower bound of the amount, mm
	words     string  // "%s" stands for the amount
}

func (c candidate) by(amount unit.Length, f unit.Family) Mend {
	m := c.Mend
	m.By = amount
	m.Move = plain(c.direction.Scale(amount.MM()))
	m.How = fmt.Sprintf(c.words, amount.Show(f))
	return m
}

// smallest returns the smallest amount of a candidate, in whole marks, that makes the finding go away and no other come.
// A wall is a convex function of a shift, so once the least amount is known from the geometry, it is enough to try a few
// marks above it: other holes may stand in the way.
func smallest(in Input, all []Finding, f Finding, c candidate, step unit.Length) (Mend, bool) {
	const tries = 4
	amount := max(unit.MM(c.need-slack).CeilTo(step), step)
	for range tries {
		if amount.MM() > mostShift {
			return Mend{}, false
		}
		m := c.by(amount, in.Assembly.Family)
		if m.Carry >= 0 && !stays(in.Assembly, m.Carry, m.Move) {
			return Mend{}, false
		}
		if Proves(in, all, f, m) {
			return m, true
		}
		amount += step
	}
	return Mend{}, false
}

// Proves tells whether a change makes a finding go away and makes no other, nor another worse.
func Proves(in Input, all []Finding, f Finding, m Mend) bool {
	before := map[string]float64{}
	for _, x := range all {
		before[x.key()] = x.rough()
	}
	for _, x := range roughFindings(m.Apply(in, f.Part), m.touches(in.Assembly)) {
		wall, known := before[x.key()]
		if x.key() == f.key() || !known || x.rough() < wall-slack {
			return false
		}
	}
	return true
}

// rough is the wall of a finding, or the overlap of the boxes around what runs into each other.
func (f Finding) rough() float64 {
	if f.overlap[0] != nil {
		return boxesApart(f.overlap[0], f.overlap[1])
	}
	return f.Wall
}

// touches tells which parts a change cuts differently.
func (m Mend) touches(a assembly.Assembly) func(int) bool {
	touched := map[int]bool{}
	for _, c := range a.Connections {
		if m.Carry >= 0 && (c.A.Part == m.Carry || c.B.Part == m.Carry) || m.Carry < 0 && c.Name == m.Connection {
			touched[c.A.Part], touched[c.B.Part] = true, true
		}
	}
	return func(part int) bool { return touched[part] }
}

// candidates lists the changes worth trying for a finding.
func candidates(in Input, f Finding) []candidate {
	switch f.Kind {
	case Meet, ThinWall, Through, ThinSide, NearEnd:
	default:
		return nil
	}
	a := in.Assembly
	var out []candidate
	holes := append(holesOf(a.Parts[f.Part], looseOf(a)), screwHoles(in)[f.Part]...)
	pair := concerned(holes, f)
	for i, h := range pair {
		k := connectionNamed(a, h.connection)
		if k < 0 {
			continue
		}
		c := a.Connections[k]
		if anchored(a, c) {
			continue
		}
		need := func(d geom.Vec) float64 {
			if len(pair) == 2 {
				return geom.Apart(h.solid, pair[1-i].solid, d, limit(h, pair[1-i]))
			}
			return clearOf(a, f.Part, h, f.sides[0], d)
		}
		back := a.Parts[f.Part].Outward(h.side)
		if h.tilted && h.feature < 0 {
			back = h.solid.(geom.Bore).From.Sub(h.solid.(geom.Bore).To).Unit()
		}
		if n := shorter(a, h, pair, i, f, back); n > 0 && n <= spare(a.Parts[f.Part], h) {
			out = append(out, candidate{Mend{Connection: c.Name, Shorten: true, Carry: -1}, geom.Vec{}, n, shortWords(h)})
		}
		for _, axis := range [2]geom.Vec{c.U, c.V} {
			for _, d := range [2]geom.Vec{axis, axis.Neg()} {
				n := need(d)
				if math.IsInf(n, 1) {
					continue
				}
				out = append(out, candidate{Mend{Connection: c.Name, Carry: -1}, d, n, "set the cuts of " + c.Name + " %s " + toward(d)})
				if carried := mateOf(c, f.Part); carries(a, carried, d) {
					out = append(out, candidate{Mend{Carry: carried}, d, n, "set " + a.Parts[carried].Name + " %s " + toward(d)})
				}
			}
		}
	}
	return out
}

// anchored tells whether the cuts of a connection reach to the sides of their parts, so that moving them makes no sense.
func anchored(a assembly.Assembly, c assembly.Connection) bool {
	for _, part := range [2]int{c.A.Part, c.B.Part} {
		for _, f := range a.Parts[part].Features {
			if f.For == c.Name && open(f.Kind) {
				return true
			}
		}
	}
	return false
}

// concerned returns the holes of a finding.
func concerned(holes []hole, f Finding) []hole {
	var out []hole
	for k, name := range [2]string{f.Connections[0], f.Connections[len(f.Connections)-1]} {
		if k == 1 && len(f.sides) > 0 {
			break
		}
		for _, h := range holes {
			if h.feature == f.features[k] && h.connection == name {
				out = append(out, h)
				break
			}
		}
	}
	return out
}

// limit is the wood that must stay between two holes, mm.
func limit(f, g hole) float64 {
	if f.connection == g.connection {
		return geom.Touch
	}
	return LeastWall
}

// clearOf returns how far a hole must move in a direction to leave the wood that it must to a side, infinite when moving that
// way does not help.
func clearOf(a assembly.Assembly, part int, h hole, side assembly.Side, d geom.Vec) float64 {
	most := 0.0
	for _, s := range sidesOf(a.Parts[part]) {
		if s.side != side {
			continue
		}
		short := h.least(s.side, s.side == h.side.Opposite(), h.narrow(a, part)) - s.plane.Inside(h.solid)
		if short <= 0 {
			continue
		}
		gain := -s.plane.Out.Dot(d)
		if gain < 1e-3 {
			return math.Inf(1)
		}
		most = max(most, short/gain)
	}
	return most
}

// shorter returns by how much a hole must be shallower, mm; 0 when that does not help.
func shorter(a assembly.Assembly, h hole, pair []hole, i int, f Finding, back geom.Vec) float64 {
	p := a.Parts[f.Part]
	if len(pair) < 2 {
		n := clearOf(a, f.Part, h, f.sides[0], back)
		if math.IsInf(n, 1) {
			return 0
		}
		return n
	}
	// The bottom is drawn back and the mouth stays, so the hole that is left is the old one cut off: it is part of the hole
	// drawn back, and clears the other as soon as that does.
	other := pair[1-i]
	lo, hi := 0.0, depthOf(p, h)
	near := func(t float64) bool {
		return geom.Between(cutOff(p, h, t), other.solid).Distance < limit(h, other)
	}
	if near(hi - slack) {
		return 0
	}
	for range 40 {
		if mid := (lo + hi) / 2; near(mid) {
			lo = mid
		} else {
			hi = mid
		}
	}
	return hi
}

// depthOf returns how deep a hole is along its own direction, mm.
func depthOf(p assembly.Part, h hole) float64 {
	if h.feature >= 0 {
		return p.Features[h.feature].Depth.MM()
	}
	b := h.solid.(geom.Bore)
	return b.From.Distance(b.To)
}

// cutOff returns a hole that is shallower by t mm.
func cutOff(p assembly.Part, h hole, t float64) geom.Solid {
	if h.feature >= 0 {
		f := p.Features[h.feature]
		f.Depth -= unit.MM(t)
		return room(p, f)
	}
	b := h.solid.(geom.Bore)
	b.To = b.To.Sub(b.To.Sub(b.From).Unit().Scale(t))
	return b
}

// spare is how much may be taken off what goes into a hole, mm.
func spare(p assembly.Part, h hole) float64 {
	deep := depthOf(p, h)
	switch {
	case h.kind == "screw":
		return deep / 2
	case h.diameter > 0:
		return deep - leastPin*h.diameter
	case h.kind == string(assembly.Mortise):
		return deep - leastTenon
	}
	return 0 // a biscuit has one depth
}

func shortWords(h hole) string {
	switch h.kind {
	case "screw":
		return "drive a screw %s shorter for " + h.connection
	case string(assembly.Mortise):
		return "make the tenon and mortise of " + h.connection + " %s shorter"
	}
	return "bore %s less deep for " + h.connection + ", with a shorter dowel"
}

// carries tells whether a part can be moved in a direction with all its joints: each must lie square to the direction.
func carries(a assembly.Assembly, part int, d geom.Vec) bool {
	joined := 0
	for _, c := range a.Connections {
		if c.A.Part != part && c.B.Part != part {
			continue
		}
		joined++
		if math.Abs(a.Parts[c.A.Part].Outward(c.A.Side).Dot(d)) > 1e-6 {
			return false
		}
	}
	return joined > 0
}

// stays tells whether a part that is moved still meets the parts that it is joined to with the whole of each contact.
func stays(a assembly.Assembly, part int, by geom.Vec) bool {
	for _, c := range a.Connections {
		if c.A.Part != part && c.B.Part != part {
			continue
		}
		from, to, move := a.Parts[c.A.Part], a.Parts[c.B.Part], by
		if c.B.Part == part {
			move = by.Neg()
		}
		u, v := c.B.Side.UV()
		for _, corner := range [2][2]unit.Length{{c.A.Area.U0, c.A.Area.V0}, {c.A.Area.U1, c.A.Area.V1}} {
			at := to.Pose.In(from.OnSide(c.A.Side, corner[0], corner[1], 0).Add(move))
			for _, axis := range [2]int{u, v} {
				if x := at.Along(axis); x < -geom.Touch || x > to.Size(axis).MM()+geom.Touch {
					return false
				}
			}
		}
	}
	return true
}

// toward says in which direction of the finished piece something is moved.
func toward(d geom.Vec) string {
	words := []struct {
		toward geom.Vec
		word   string
	}{
		{geom.Vec{X: 1}, "further right"}, {geom.Vec{X: -1}, "further left"}, {geom.Vec{Y: 1}, "further back"}, {geom.Vec{Y: -1}, "further to the front"},
		{geom.Vec{Z: 1}, "higher"}, {geom.Vec{Z: -1}, "lower"},
	}
	best, most := "", -2.0
	for _, w := range words {
		if x := d.Dot(w.toward); x > most+1e-9 {
			best, most = w.word, x
		}
	}
	return best
}

// mitred tells whether a finding is about two tenons that enter a part square to each other: then both can be mitred instead.
func mitred(a assembly.Assembly, f Finding) bool {
	if f.Kind != Meet && f.Kind != ThinWall && f.Kind != Clash || len(f.Connections) != 2 {
		return false
	}
	var into [2]geom.Vec
	for i, name := range f.Connections {
		found := false
		for _, t := range tongues(a) {
			if t.connection >= 0 && a.Connections[t.connection].Name == name {
				p := a.Parts[t.part]
				into[i], found = p.Outward(p.Features[t.feature].Side), true
			}
		}
		if !found {
			return false
		}
	}
	return math.Abs(into[0].Dot(into[1])) < 1e-6
}
