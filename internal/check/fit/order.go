package fit

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"longgrain/internal/design/assembly"
	"longgrain/internal/ground/geom"
	"longgrain/internal/ground/unit"
)

// Order is an order in which the parts of a piece go together, one straight push at a time.
type Order struct {
	Possible bool   `json:"possible"`
	Steps    []Step `json:"steps"` // in the order of the work
	// Stuck are the parts that no straight push parts from each other, when the order is not possible; the steps are then those
	// around them.
	Stuck    []int     `json:"stuck,omitempty"`
	Findings []Finding `json:"findings,omitempty"`
}

// Step puts one part, or parts put together before, onto others.
type Step struct {
	Moving    []int    `json:"moving"` // parts that are moved
	Onto      []int    `json:"onto"`   // parts that stay
	Direction geom.Vec `json:"direction"`
	Travel    float64  `json:"travel"` // mm that they are pushed in, from where nothing holds them
	Closes    []int    `json:"closes"` // connections that close
}

// Plan finds an order of putting together.
//
// Idea: take the finished piece apart. For every direction of a joint, note which part would run into which other when moved
// that way: a part that goes must take along all parts that are in its way. When some parts can go without all, they go, and
// both halves are taken apart in the same manner. The steps read backwards put the piece together. Parts are pushed in straight
// lines, never turned or bent, and none is held by gravity. When nothing can go the parts are stuck: no straight push, of
// any group in any of the directions, parts them.
//
// Source: blocking graphs by direction, Wilson and Latombe 1994, from memory.
func Plan(in Input) Order {
	d := newDismantler(in, nil)
	all := make([]int, len(in.Assembly.Parts))
	for i := range all {
		all[i] = i
	}
	d.apart(all)
	slices.Reverse(d.order.Steps)
	d.order.Possible = len(d.order.Stuck) == 0
	if !d.order.Possible {
		d.order.Findings = []Finding{stuckFinding(in, d.order.Stuck)}
	}
	return d.order
}

type dismantler struct {
	in         Input
	directions []geom.Vec
	// blocked[k][i] lists the parts that part i runs into when it is moved in direction k.
	blocked [][][]int
	order   Order
}

// newDismantler works out what is in the way of what. Connections in loose are taken to have no pins.
func newDismantler(in Input, loose map[int]bool) *dismantler {
	d := &dismantler{in: in, directions: directionsOf(in.Assembly)}
	a := in.Assembly
	lo, hi := a.Bounds()
	far := 2*hi.Sub(lo).Length() + 1
	held := allowedWays(a, d.directions, loose)
	pieces := piecesOf(a)
	for k, dir := range d.directions {
		rows := make([][]int, len(a.Parts))
		for i := range a.Parts {
			for j := range a.Parts {
				if i == j {
					continue
				}
				ways, joined := held[[2]int{i, j}]
				switch {
				case joined && !ways[k]:
					rows[i] = append(rows[i], j)
				case joined && lapped(a, i, j):
				case joined: // what stands in the cuts is free in this direction; the bodies may still be in the way
					if runsInto(pieces[i][:1], pieces[j][:1], dir, far) {
						rows[i] = append(rows[i], j)
					}
				case runsInto(pieces[i], pieces[j], dir, far):
					rows[i] = append(rows[i], j)
				}
			}
		}
		d.blocked = append(d.blocked, rows)
	}
	return d
}

// contactSlack is how far parts are made smaller when they are moved past each other, mm, so that faces that touch can slide.
const contactSlack = 0.01

// piecesOf returns the convex bodies of each part, a little smaller: itself and then its tenons.
func piecesOf(a assembly.Assembly) [][]geom.Solid {
	out := make([][]geom.Solid, len(a.Parts))
	for i, p := range a.Parts {
		out[i] = append(out[i], bodyOf(p, contactSlack))
	}
	for _, t := range tongues(a) {
		out[t.part] = append(out[t.part], smaller(t.solid))
	}
	return out
}

// smaller returns a tenon made a little smaller.
func smaller(s geom.Solid) geom.Solid {
	switch t := s.(type) {
	case geom.Box:
		return t.Grown(-contactSlack)
	case geom.Oblong:
		t.Diameter -= 2 * contactSlack
		return t
	case geom.Hull:
		middle, out := t.Middle(), make(geom.Hull, len(t))
		for i, p := range t {
			away := p.Sub(middle)
			out[i] = middle.Add(away.Scale(1 - 2*contactSlack/max(away.Length(), 1)))
		}
		return out
	}
	return s
}

// runsInto tells whether bodies that are moved in a direction run into others.
func runsInto(moving, staying []geom.Solid, dir geom.Vec, far float64) bool {
	for _, m := range moving {
		swept := geom.Swept{Solid: m, By: dir.Scale(far)}
		for _, s := range staying {
			if boxesApart(swept, s) <= 0 && geom.Between(swept, s).Distance == 0 {
				return true
			}
		}
	}
	return false
}

// directionsOf returns the directions worth trying: those of the joints and of the world, both ways.
func directionsOf(a assembly.Assembly) []geom.Vec {
	var out []geom.Vec
	add := func(v geom.Vec) {
		for _, d := range [2]geom.Vec{v, v.Neg()} {
			if !slices.ContainsFunc(out, func(u geom.Vec) bool { return u.Dot(d) > 1-1e-9 }) {
				out = append(out, d)
			}
		}
	}
	for axis := range 3 {
		add(geom.Axis(axis))
	}
	for _, c := range a.Connections {
		_, into := a.Middle(c)
		add(into)
	}
	return out
}

// allowedWays returns, by moving and staying part, which of the directions the cuts of their joints let the first go in: out of
// the mouth of a bore, mortise or slot, and through the open sides of others. A flared tail does not come out of the mouth.
func allowedWays(a assembly.Assembly, directions []geom.Vec, loose map[int]bool) map[[2]int][]bool {
	out := map[[2]int][]bool{}
	for i, c := range a.Connections {
		if loose[i] || !hasPins(a, c) {
			continue
		}
		p, q := c.A.Part, c.B.Part
		for _, pair := range [2][2]int{{p, q}, {q, p}} {
			if out[pair] == nil {
				out[pair] = slices.Repeat([]bool{true}, len(directions))
			}
		}
		for k, d := range directions {
			if !opens(a, c.A, c.Name, d.Neg()) || !opens(a, c.B, c.Name, d) {
				out[[2]int{p, q}][k] = false
			}
			if !opens(a, c.A, c.Name, d) || !opens(a, c.B, c.Name, d.Neg()) {
				out[[2]int{q, p}][k] = false
			}
		}
	}
	return out
}

// opens tells whether what stands in the cuts of a place can leave them in a direction.
func opens(a assembly.Assembly, at assembly.Place, name string, d geom.Vec) bool {
	p := a.Parts[at.Part]
	for _, f := range p.Features {
		if f.For != name || f.Side != at.Side || !hollow(f.Kind) {
			continue
		}
		ways := openings(p, f)
		if f.Flare > 0 {
			ways = ways[1:]
		}
		if !slices.ContainsFunc(ways, func(w geom.Vec) bool { return w.Dot(d) > 1-1e-9 }) {
			return false
		}
	}
	return true
}

// hasPins tells whether dowels, a tenon, biscuits, a lap or the tongue of a floating panel cross a connection: both parts are cut for it where they meet, or one
// stands in the other. Screws are driven when the parts are in place; their hole goes right through one part.
func hasPins(a assembly.Assembly, c assembly.Connection) bool {
	for _, at := range [2]assembly.Place{c.A, c.B} {
		p, cut := a.Parts[at.Part], false
		for _, f := range p.Features {
			if f.For != c.Name || f.Side != at.Side || f.Tilt != 0 {
				continue
			}
			cut = true
			if f.Kind == assembly.Bore && f.Depth >= p.Size(f.Side.Axis()) {
				return false
			}
		}
		if !cut {
			return false
		}
	}
	return true
}

// split is one way to take a group of parts in two.
type split struct {
	going, staying []int
	direction      int
	broken         []int // connections that open
	glued          bool  // some of them have pins
	whole          bool  // both halves hang together
	slides         int   // connections whose faces slide along each other instead of parting
	entering       unit.Length
}

// apart takes a group of parts apart and writes down the steps, last first.
func (d *dismantler) apart(group []int) {
	if len(group) < 2 {
		return
	}
	best, ok := d.best(group)
	if !ok {
		d.order.Stuck = append(d.order.Stuck, group...)
		return
	}
	going, staying := best.going, best.staying
	out := d.directions[best.direction]
	if d.heavier(going, staying) {
		going, staying, out = staying, going, out.Neg()
	}
	d.order.Steps = append(d.order.Steps, Step{Moving: going, Onto: staying, Direction: plain(out.Neg()), Travel: d.travel(best.broken), Closes: best.broken})
	d.apart(going)
	d.apart(staying)
}

// plain returns a vector without negative zeros.
func plain(v geom.Vec) geom.Vec { return v.Add(geom.Vec{}) }

// heavier tells whether the parts that would be moved have more wood than those that stay: then the others are moved.
func (d *dismantler) heavier(going, staying []int) bool {
	volume := func(parts []int) float64 {
		sum := 0.0
		for _, i := range parts {
			s := d.in.Assembly.Parts[i].Box().Size
			sum += s.X * s.Y * s.Z
		}
		return sum
	}
	return volume(going) > volume(staying)*(1+1e-9) && !d.onlyRests(going, staying)
}

// onlyRests tells whether no pins hold the moving parts: a top is laid on its frame, however heavy.
func (d *dismantler) onlyRests(going, staying []int) bool {
	for _, i := range d.between(going, staying) {
		if hasPins(d.in.Assembly, d.in.Assembly.Connections[i]) {
			return false
		}
	}
	return true
}

// best returns the best way to take a group in two. What is only laid on or screwed comes off first, so that it is put on last.
// Then the joints of the longest parts open: end frames of short parts are put together first (common practice, rule A02).
// Both halves should hang together, and many joints should close in one go.
func (d *dismantler) best(group []int) (split, bool) {
	var best split
	found := false
	for k := range d.directions {
		for _, start := range group {
			going := d.closure(k, start, group)
			if len(going) == len(group) {
				continue
			}
			s := d.newSplit(k, going, group)
			if !found || better(s, best) {
				best, found = s, true
			}
		}
	}
	return best, found
}

func better(x, y split) bool {
	no := func(b bool) int {
		if b {
			return 1
		}
		return 0
	}
	return cmp.Or(cmp.Compare(no(x.glued), no(y.glued)), cmp.Compare(no(y.whole), no(x.whole)), cmp.Compare(x.slides, y.slides), cmp.Compare(y.entering, x.entering),
		cmp.Compare(len(y.broken), len(x.broken)), cmp.Compare(len(x.going), len(y.going))) < 0
}

func (d *dismantler) newSplit(direction int, going, group []int) split {
	s := split{going: going, direction: direction}
	for _, i := range group {
		if !slices.Contains(going, i) {
			s.staying = append(s.staying, i)
		}
	}
	s.broken = d.between(s.going, s.staying)
	a := d.in.Assembly
	for _, i := range s.broken {
		c := a.Connections[i]
		if _, into := a.Middle(c); math.Abs(into.Dot(d.directions[direction])) < 1-1e-9 {
			s.slides++
		}
		if hasPins(a, c) {
			s.glued = true
			s.entering = max(s.entering, a.Parts[c.A.Part].Size(c.A.Side.Axis()))
		}
	}
	s.whole = d.hangsTogether(s.going) && d.hangsTogether(s.staying)
	return s
}

// closure returns the parts that must go when one goes in a direction, in the order of the assembly.
func (d *dismantler) closure(direction, start int, group []int) []int {
	going := map[int]bool{start: true}
	queue := []int{start}
	for len(queue) > 0 {
		i := queue[0]
		queue = queue[1:]
		for _, j := range d.blocked[direction][i] {
			if !going[j] && slices.Contains(group, j) {
				going[j] = true
				queue = append(queue, j)
			}
		}
	}
	var out []int
	for _, i := range group {
		if going[i] {
			out = append(out, i)
		}
	}
	return out
}

// between returns the connections between two groups.
func (d *dismantler) between(x, y []int) []int {
	var out []int
	for i, c := range d.in.Assembly.Connections {
		p, q := c.A.Part, c.B.Part
		if slices.Contains(x, p) && slices.Contains(y, q) || slices.Contains(x, q) && slices.Contains(y, p) {
			out = append(out, i)
		}
	}
	return out
}

// hangsTogether tells whether connections hold a group together.
func (d *dismantler) hangsTogether(group []int) bool {
	if len(group) < 2 {
		return true
	}
	reached := []int{group[0]}
	for i := 0; i < len(reached); i++ {
		for _, c := range d.in.Assembly.Connections {
			for _, pair := range [2][2]int{{c.A.Part, c.B.Part}, {c.B.Part, c.A.Part}} {
				if pair[0] == reached[i] && slices.Contains(group, pair[1]) && !slices.Contains(reached, pair[1]) {
					reached = append(reached, pair[1])
				}
			}
		}
	}
	return len(reached) == len(group)
}

// travel returns how far parts are pushed in: the depth of the deepest pin that crosses a connection.
func (d *dismantler) travel(connections []int) float64 {
	a := d.in.Assembly
	deepest := 0.0
	for _, i := range connections {
		c := a.Connections[i]
		if !hasPins(a, c) {
			continue
		}
		for _, at := range [2]assembly.Place{c.A, c.B} {
			for _, f := range a.Parts[at.Part].Features {
				if f.For == c.Name && f.Side == at.Side {
					deepest = max(deepest, f.Depth.MM())
				}
			}
		}
	}
	return deepest
}

// stuckFinding says why parts are stuck, and which one joint without pins would free them.
func stuckFinding(in Input, stuck []int) Finding {
	a := in.Assembly
	part, joints := crossed(a, stuck)
	names := make([]string, 0, len(stuck))
	for _, i := range stuck {
		names = append(names, a.Parts[i].Name)
	}
	f := Finding{Kind: Stuck, Where: a.Parts[part].Name, Part: part, Other: -1, features: [2]int{-1, -1}, At: a.Parts[part].Box().Centre(),
		What: fmt.Sprintf("%s cannot be put together: every way of pushing one in is blocked", assembly.Describe(names))}
	lo, hi := a.Parts[part].Box().Bounds()
	f.Place = around(lo, hi)
	if len(joints) == 2 {
		var into [2]geom.Vec
		for k, i := range joints {
			c := a.Connections[i]
			f.Connections = append(f.Connections, c.Name)
			_, into[k] = a.Middle(c)
		}
		f.What = fmt.Sprintf("%s cannot be put in: the pins of %s and those of %s point two ways, and %s hold each other",
			a.Parts[part].Name, f.Connections[0], f.Connections[1], assembly.Describe(names))
	}
	var free []string
	for i, c := range a.Connections {
		if slices.Contains(stuck, c.A.Part) && slices.Contains(stuck, c.B.Part) && hasPins(a, c) && frees(in, map[int]bool{i: true}) {
			free = append(free, c.Name)
		}
	}
	switch {
	case len(free) > 0:
		f.Advice = "join " + strings.Join(free[:min(2, len(free))], " or ") + " without dowels, biscuits or tenon, with screws for instance: then an order exists"
	default:
		f.Advice = "join one of these parts with screws instead of pins, or leave it out; no single joint without pins is enough"
	}
	return f
}

// frees tells whether an order exists when some connections have no pins.
func frees(in Input, loose map[int]bool) bool {
	d := newDismantler(in, loose)
	all := make([]int, len(in.Assembly.Parts))
	for i := range all {
		all[i] = i
	}
	d.apart(all)
	return len(d.order.Stuck) == 0
}

// crossed returns a part of a group with two joints whose pins point two ways, and those joints; without one, the first part.
func crossed(a assembly.Assembly, group []int) (part int, joints []int) {
	for _, p := range group {
		var mine []int
		for i, c := range a.Connections {
			if (c.A.Part == p || c.B.Part == p) && slices.Contains(group, mateOf(c, p)) && hasPins(a, c) {
				mine = append(mine, i)
			}
		}
		for k, i := range mine {
			for _, j := range mine[k+1:] {
				_, x := a.Middle(a.Connections[i])
				_, y := a.Middle(a.Connections[j])
				if math.Abs(x.Dot(y)) < 1-1e-6 && mateOf(a.Connections[i], p) != mateOf(a.Connections[j], p) {
					return p, []int{i, j}
				}
			}
		}
	}
	return group[0], nil
}
