package glueup

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"longgrain/internal/design/assembly"
	"longgrain/internal/design/joint"
	"longgrain/internal/ground/geom"
	"longgrain/internal/ground/unit"
)

// glued tells whether a connection is held by glue, and its long-grain glue surface. Without a chosen joint, long grain
// on long grain is glued plain over its whole contact.
func (m *maker) glued(i int) (unit.SquareMetres, bool) {
	c := m.a.Connections[i]
	if j := m.joints[i]; j != nil {
		if j.Glue.LongGrain == 0 && j.Glued() {
			return j.Glue.EndGrain, true // a housing or rebate: glued all the same
		}
		return j.Glue.LongGrain, j.Glue.LongGrain > 0
	}
	if c.Purpose != assembly.Joint || c.A.Side.IsEnd() || c.B.Side.IsEnd() {
		return 0, false
	}
	return unit.Area(c.A.Area.SizeU(), c.A.Area.SizeV()), true
}

// frames plans the glue-ups that join parts: for each direction, shortest parts first, every connected group of joints
// that close in it.
func (m *maker) frames() {
	var all []int
	for i, c := range m.a.Connections {
		switch _, ok := m.glued(i); {
		case ok:
			all = append(all, i)
		case m.joints[i] == nil && c.Purpose == assembly.Joint:
			m.find(c.Name, "no joint is chosen, and glue on end grain holds nothing", "choose a joint, or change the tools of the shop")
		default:
			m.plan.Loose = append(m.plan.Loose, i)
		}
	}
	bodies := newBodies(len(m.a.Parts))
	whole := newBodies(len(m.a.Parts))
	for _, i := range all {
		whole.join(m.a.Connections[i])
	}
	directions := m.directions(all)
	for d, joints := range directions {
		for _, together := range m.connected(joints, bodies) {
			kind := Assembly
			for _, later := range directions[d+1:] {
				if slices.ContainsFunc(later, func(i int) bool {
					return whole.of(m.a.Connections[i].A.Part) == whole.of(m.a.Connections[together[0]].A.Part)
				}) {
					kind = Frame
				}
			}
			m.close(together, kind, bodies)
		}
		for _, i := range joints {
			bodies.join(m.a.Connections[i])
		}
	}
}

// directions groups joints by the direction in which they close, those with the shortest entering parts first.
func (m *maker) directions(all []int) [][]int {
	var out [][]int
	for _, i := range all {
		k := slices.IndexFunc(out, func(g []int) bool { return geom.Parallel(m.closing(g[0]), m.closing(i)) })
		if k < 0 {
			out = append(out, nil)
			k = len(out) - 1
		}
		out[k] = append(out[k], i)
	}
	longest := func(g []int) unit.Length {
		var l unit.Length
		for _, i := range g {
			c := m.a.Connections[i]
			l = max(l, m.a.Parts[c.A.Part].Size(c.A.Side.Axis()))
		}
		return l
	}
	slices.SortStableFunc(out, func(a, b []int) int { return cmp.Compare(longest(a), longest(b)) })
	return out
}

// closing is the direction in which a joint closes.
func (m *maker) closing(i int) geom.Vec {
	c := m.a.Connections[i]
	return m.a.Parts[c.A.Part].Outward(c.A.Side)
}

// connected groups joints of one direction that share bodies, in the order of their first joint.
func (m *maker) connected(joints []int, now bodies) [][]int {
	after := slices.Clone(now)
	for _, i := range joints {
		after.join(m.a.Connections[i])
	}
	var out [][]int
	index := map[int]int{}
	for _, i := range joints {
		body := after.of(m.a.Connections[i].A.Part)
		k, known := index[body]
		if !known {
			k = len(out)
			index[body] = k
			out = append(out, nil)
		}
		out[k] = append(out[k], i)
	}
	return out
}

// close adds the glue-up of joints that close together. Where no glue of the shop leaves the time, the joints at one
// end of the entering parts are glued first and those at the other end afterwards.
func (m *maker) close(joints []int, kind Kind, now bodies) {
	whole := m.frame(joints, kind, now)
	m.trial(&whole)
	var low, high []int
	for _, i := range joints {
		if m.closing(i).Dot(m.closing(joints[0])) > 0 {
			low = append(low, i)
		} else {
			high = append(high, i)
		}
	}
	if whole.onTime() || len(high) == 0 {
		m.addFrame(whole.Connections, kind, now, 1, 1)
		return
	}
	m.find(whole.Name, fmt.Sprintf("closing takes %.0f min and the glue leaves %.0f: it is glued in two goes, one end of each part after the other", float64(whole.Closing), float64(whole.Allowed)),
		"glue with a slower kind to close it in one go")
	m.addFrame(low, Frame, now, 1, 2)
	then := slices.Clone(now)
	for _, i := range low {
		then.join(m.a.Connections[i])
	}
	m.addFrame(high, kind, then, 2, 2)
}

func (m *maker) addFrame(joints []int, kind Kind, now bodies, set, sets int) {
	up := m.frame(joints, kind, now)
	up.Set, up.Sets = set, sets
	n := m.add(up)
	after := slices.Clone(now)
	for _, i := range joints {
		after.join(m.a.Connections[i])
	}
	body := after.of(m.a.Connections[joints[0]].A.Part)
	for p := range m.a.Parts {
		if after.of(p) == body {
			m.made[p] = []int{n}
		}
	}
}

// frame describes the glue-up of some joints that close in one direction.
func (m *maker) frame(joints []int, kind Kind, now bodies) GlueUp {
	up := GlueUp{Kind: kind, Connections: joints, Set: 1, Sets: 1, Lines: len(joints)}
	var entering, receiving []int
	for _, i := range joints {
		c := m.a.Connections[i]
		entering, receiving = appendNew(entering, c.A.Part), appendNew(receiving, c.B.Part)
		area, _ := m.glued(i)
		up.Area += area
		up.Pins += pins(m.joints[i])
	}
	all := slices.Clone(receiving)
	for _, p := range entering {
		all = appendNew(all, p)
	}
	slices.Sort(all)
	up.Parts = m.parts(all)
	verb := "glue the frame of"
	if kind == Assembly {
		verb = "assemble"
	}
	up.Name = fmt.Sprintf("%s %s with %s", verb, m.marked(receiving), m.marked(entering))
	for _, p := range entering {
		up.Presses = append(up.Presses, m.press(p, joints, now))
	}
	return up
}

func pins(j *joint.Joint) int {
	if j == nil {
		return 0
	}
	return j.LoosePieces()
}

// press is the line of clamps that closes the joints of one entering part. Both of its ends lie in one line of force, so
// that the larger contact counts once.
func (m *maker) press(part int, joints []int, now bodies) Press {
	p := Press{Where: m.a.Parts[part].Name, shoulder: true}
	var direction, across geom.Vec
	touched := []int{part}
	for _, i := range joints {
		c := m.a.Connections[i]
		if c.A.Part != part {
			continue
		}
		direction = m.closing(i)
		touched = appendNew(touched, c.B.Part)
		long, wide := c.A.Area.SizeU(), c.A.Area.SizeV()
		narrow := c.V
		if wide > long {
			long, wide, narrow = wide, long, c.U
		}
		if m.joints[i] == nil || !c.A.Side.IsEnd() {
			p.shoulder = false // a glue face wants pressure all over
		}
		if long > p.Length || wide > p.Width {
			p.Length, p.Width, across = max(p.Length, long), max(p.Width, wide), narrow
		}
		at, _ := m.a.Middle(c)
		reach := m.reach(c.B.Part, at, across)
		if most := caul(); reach > most && m.spanned(c) {
			p.Batten, reach = true, most
		}
		p.Reach = max(p.Reach, reach)
	}
	low, high := m.extent(touched, direction)
	p.Opening = unit.MM(high-low) + 2*caul()
	p.cover = caul()
	if !p.shoulder {
		p.cover += m.a.Parts[part].Thickness
	}
	l, h := m.extent(touched, across)
	p.around = 2 * (unit.MM(high-low) + unit.MM(h-l))
	return p
}

// reach returns how far a contact lies from the nearer side of a part, in the direction in which a clamp reaches over it.
func (m *maker) reach(part int, at, across geom.Vec) unit.Length {
	low, high := m.extent([]int{part}, across)
	x := at.Dot(across)
	return unit.MM(max(0, min(x-low, high-x)))
}

// battenBridge is how far a batten over a joint may reach beyond it to where its clamps stand. Judgement: a batten of twice that
// still presses.
const battenBridge = 60 * unit.Millimetre

// spanned tells whether the end of A covers B nearly from side to side, as a shelf does the side of a case: then a batten laid over
// B along the joint is pressed by clamps at its two ends, which stand beside B and need no reach.
func (m *maker) spanned(c assembly.Connection) bool {
	p, q := m.a.Parts[c.A.Part], m.a.Parts[c.B.Part]
	if !c.A.Side.IsEnd() || c.B.Side.Axis() != 2 {
		return false
	}
	r := c.A.Area
	along, from, to := c.U, p.OnSide(c.A.Side, r.U0, r.V0, 0), p.OnSide(c.A.Side, r.U1, r.V0, 0)
	if r.SizeV() > r.SizeU() {
		along, to = c.V, p.OnSide(c.A.Side, r.U0, r.V1, 0)
	}
	if !geom.Parallel(along, q.Pose.Axes[1]) {
		return false
	}
	low, high := m.extent([]int{c.B.Part}, along)
	return from.Dot(along)-low <= battenBridge.MM() && high-to.Dot(along) <= battenBridge.MM()
}

// extent returns the lowest and highest coordinate of some parts in a direction, mm.
func (m *maker) extent(parts []int, direction geom.Vec) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for _, k := range parts {
		for _, corner := range m.a.Parts[k].Box().Corners() {
			x := corner.Dot(direction)
			low, high = min(low, x), max(high, x)
		}
	}
	return low, high
}

// bodies says which parts are glued to each other so far: body[i] is the lowest part of the body of part i.
type bodies []int

func newBodies(n int) bodies {
	b := make(bodies, n)
	for i := range b {
		b[i] = i
	}
	return b
}

func (b bodies) of(part int) int { return b[part] }

// join makes one body of the two that a connection joins.
func (b bodies) join(c assembly.Connection) {
	x, y := b[c.A.Part], b[c.B.Part]
	for i := range b {
		if b[i] == x || b[i] == y {
			b[i] = min(x, y)
		}
	}
}
