package export

import (
	"bytes"
	"fmt"
	"math"
	"slices"

	"longgrain/internal/plan"
	"longgrain/internal/solve/spaceframe"
)

// FrameDeck returns the piece's frame with its load cases as an input file of the CalculiX solver, so that anyone can solve it with
// another program. False when the piece has no frame that could be solved.
func FrameDeck(p plan.Plan) (File, bool) {
	f, ok := p.Structure.Frame()
	if !ok {
		return File{}, false
	}
	return File{"frame.inp", "text/plain; charset=utf-8", deckOf(p.Name, f.Model, f.Cases, f.Results)}, true
}

// Choices of the deck.
const (
	// elementLength is the length of an element, mm.
	elementLength = 60
	// acrossShare is the modulus across the grain as a share of that along it. It hardly matters for a beam; the ratios of Poisson are 0, so
	// that cross sections stay as they are where parts meet.
	acrossShare = 0.08
	// stubLength is the length of each of the two short bars that stand for a joint, mm: short beside any part, so that the moment hardly changes over
	// it. With 1 mm the play table moves 0.4 % more, with 0.1 mm 0.2 %.
	stubLength = 0.2
	// stiffModulus and stiffSize make a bar that stands for a rigid arm: a thousand times as stiff as wood, mm and MPa.
	stiffModulus = 1e7
	stiffSize    = 40
)

// deck writes a frame as an input file.
//
// Members become chains of quadratic beam elements, with a node wherever a load acts. The solver knows no springs between rotations and no
// equations that turn a beam's node, so a rigid arm is a stiff bar, and the springs at a member's end are two short bars in a row, which together are
// as stiff as the springs in all six directions. Feet are held as the solution left them: a lifted one is free in that case.
type deck struct {
	bytes.Buffer
	model   spaceframe.Model
	cases   []spaceframe.Case
	results []spaceframe.CaseResult
	at      map[string]int // nodes of the model; their numbers in the deck are one more
	places  []spaceframe.Vec
	bars    []bar // of the members first
	feet    [][]foot
	ties    []tie
	loose   [][2]int // arms of ties, to be made once all members stand
}

// tie is a member that only pulls and presses, as a spring between two plain nodes that move with nodes of bars.
type tie struct {
	ends, moveWith [2]int
	stiffness      float64
}

// bar is a chain of elements: a member, an arm or a joint.
type bar struct {
	name    string
	nodes   []int     // ends and middles in turn
	cuts    []float64 // where the nodes lie, from the low end
	b, h    float64   // b along its own y
	e       float64
	g, g2   float64 // for shear along its own y and z
	density float64
	axes    [3]spaceframe.Vec
}

// foot is a support that is a spring: the plain node that it acts on, and that of the ground.
type foot struct {
	plain, ground, direction int
	stiffness                float64
}

func deckOf(name string, m spaceframe.Model, cases []spaceframe.Case, results []spaceframe.CaseResult) []byte {
	d := &deck{model: m, at: map[string]int{}, feet: make([][]foot, len(m.Nodes))}
	for i, c := range cases {
		if results[i].Status == spaceframe.Solved {
			d.cases, d.results = append(d.cases, c), append(d.results, results[i])
		}
	}
	for i, n := range m.Nodes {
		d.at[n.Name] = i
		d.node(n.At)
	}
	for i, b := range m.Members {
		if pinned(b) {
			d.pull(i)
		} else {
			d.member(i)
		}
	}
	for i, b := range m.Members {
		if !pinned(b) {
			d.join(i)
		}
	}
	for _, b := range m.Bodies {
		d.tie(b)
	}
	for _, arm := range d.loose {
		d.arm("a tie", arm[0], arm[1])
	}
	d.pads()
	d.stand()
	d.print(name)
	return d.Bytes()
}

func (d *deck) node(at spaceframe.Vec) int {
	d.places = append(d.places, at)
	return len(d.places)
}

func add(v, w spaceframe.Vec, k float64) spaceframe.Vec {
	return spaceframe.Vec{v[0] + k*w[0], v[1] + k*w[1], v[2] + k*w[2]}
}

func length(v spaceframe.Vec) float64 { return math.Hypot(math.Hypot(v[0], v[1]), v[2]) }

// line returns where a member begins, its direction and its length.
func (d *deck) line(i int) (from, along spaceframe.Vec, long float64) {
	b := d.model.Members[i]
	from = add(d.model.Nodes[d.at[b.I]].At, b.OffsetI, 1)
	to := add(d.model.Nodes[d.at[b.J]].At, b.OffsetJ, 1)
	along = add(to, from, -1)
	long = length(along)
	return from, spaceframe.Vec{along[0] / long, along[1] / long, along[2] / long}, long
}

// own tells whether the end of a member needs a node of its own.
func own(arm spaceframe.Vec, springs spaceframe.Springs) bool {
	return arm != (spaceframe.Vec{}) || len(springs) > 0
}

// pinned tells whether a member turns freely at both ends, and so only pulls and presses.
func pinned(m spaceframe.Member) bool {
	for _, s := range []spaceframe.Springs{m.SpringsI, m.SpringsJ} {
		for _, d := range []spaceframe.DOF{spaceframe.RY, spaceframe.RZ} {
			if k, given := s[d]; !given || k > 0 {
				return false
			}
		}
	}
	return true
}

// pull makes a spring of a pinned member. It keeps its place among the bars as one without elements.
func (d *deck) pull(i int) {
	b := d.model.Members[i]
	from, along, long := d.line(i)
	out := tie{stiffness: b.Material.E * b.Section.Area / long}
	for k, end := range []struct {
		node    string
		arm, at spaceframe.Vec
	}{{b.I, b.OffsetI, from}, {b.J, b.OffsetJ, add(from, along, long)}} {
		out.moveWith[k] = d.at[end.node] + 1
		if length(end.arm) > 1e-6 {
			out.moveWith[k] = d.node(end.at)
			d.loose = append(d.loose, [2]int{d.at[end.node] + 1, out.moveWith[k]})
		}
		out.ends[k] = d.node(end.at)
	}
	d.ties = append(d.ties, out)
	d.bars = append(d.bars, bar{name: b.Name})
}

// member makes the elements of a member, with nodes at its ends, at loads, and in equal steps between them.
func (d *deck) member(i int) {
	b := d.model.Members[i]
	from, along, long := d.line(i)
	at := []float64{0, long}
	for _, c := range d.cases {
		for _, p := range c.Point {
			if p.Member == b.Name {
				at = append(at, min(max(p.At, 0), long))
			}
		}
	}
	slices.Sort(at)
	var stops []float64
	for _, x := range at {
		if len(stops) == 0 || x-stops[len(stops)-1] > 1e-6*long {
			stops = append(stops, x)
		}
	}
	first, last := d.at[b.I]+1, d.at[b.J]+1
	if own(b.OffsetI, b.SpringsI) {
		first = d.node(from)
	}
	if own(b.OffsetJ, b.SpringsJ) {
		last = d.node(add(from, along, long))
	}
	s := b.Section
	out := bar{name: b.Name, nodes: []int{first}, cuts: []float64{0}, b: math.Sqrt(12 * s.Iz / s.Area), h: math.Sqrt(12 * s.Iy / s.Area),
		e: b.Material.E, g: shearShare * b.Material.G, g2: shearShare * b.Material.G, density: b.Material.Density, axes: axesOf(along, b.YAxis)}
	for k := 1; k < len(stops); k++ {
		n := max(1, int(math.Ceil((stops[k]-stops[k-1])/elementLength)))
		for s := range 2 * n {
			x := stops[k-1] + (stops[k]-stops[k-1])*float64(s+1)/float64(2*n)
			id := last
			if k < len(stops)-1 || s < 2*n-1 {
				id = d.node(add(from, along, x))
			}
			out.cuts, out.nodes = append(out.cuts, x), append(out.nodes, id)
		}
	}
	d.bars = append(d.bars, out)
}

// shearShare is the share of the shear modulus with which the solver's beams are as stiff in shear as a rectangle: they are bricks with one element
// over the section, whose shear strain is even over it, so that the whole area works. A square then twists 1.2 % more than it does.
const shearShare = spaceframe.RectangleShearCoefficient

// twistLost returns how much less the bricks of a member twist between their ends than the member does, for one end with springs, in radians for each
// N·mm: the stub there makes up for it.
//
//	θ/T = L/(G J) − (L/(G J') − D²/(S² G J') 2 tanh(a L/2)/a),  a² = G J'/(E I)
//	S = g_y I_y + g_z I_z,  D = g_y I_y − g_z I_z,  G J' = 4 g_y g_z I_y I_z/S,  I = b³ h³/144
//
// Bricks with one element over the section warp by ψ y z, so that their shear is (ψ − θ') z and (ψ + θ') y; where bars meet the solver holds ψ at
// nothing. The law is what makes the energy of shear and of ψ' least under a twist T. N, mm.
//
// Source: derived here from the shape of the bricks; docs/methods/structure.md.
func (d *deck) twistLost(member int) float64 {
	m, b := d.model.Members[member], d.bars[member]
	ends := 0
	for _, s := range []spaceframe.Springs{m.SpringsI, m.SpringsJ} {
		if len(s) > 0 {
			ends++
		}
	}
	iy, iz := m.Section.Iy, m.Section.Iz
	l := b.cuts[len(b.cuts)-1]
	sum, difference := b.g*iy+b.g2*iz, b.g*iy-b.g2*iz
	twist := 4 * b.g * b.g2 * iy * iz / sum
	a := math.Sqrt(twist / (b.e * math.Pow(b.b*b.h, 3) / 144))
	bricks := l/twist - difference*difference/(sum*sum*twist)*2*math.Tanh(a*l/2)/a
	return (l/(m.Material.G*m.Section.J) - bricks) / float64(ends)
}

// short appends a bar of one element.
func (d *deck) short(b bar, from, to int) {
	middle := d.node(add(d.places[from-1], add(d.places[to-1], d.places[from-1], -1), 0.5))
	b.nodes = []int{from, middle, to}
	d.bars = append(d.bars, b)
}

// arm joins two nodes by a stiff bar. It needs none where they are at one place.
func (d *deck) arm(name string, from, to int) {
	along := add(d.places[to-1], d.places[from-1], -1)
	n := length(along)
	along = spaceframe.Vec{along[0] / n, along[1] / n, along[2] / n}
	side := spaceframe.Vec{1, 0, 0}
	if math.Abs(along[0]) > 0.9 {
		side = spaceframe.Vec{0, 1, 0}
	}
	d.short(bar{name: "arm to " + name, b: stiffSize, h: stiffSize, e: stiffModulus, g: stiffModulus / 2, g2: stiffModulus / 2, axes: axesOf(along, side)}, from, to)
}

// join connects the ends of a member to the nodes that they go with.
func (d *deck) join(i int) {
	b := d.model.Members[i]
	_, along, _ := d.line(i)
	nodes := d.bars[i].nodes
	for _, side := range []struct {
		node    string
		end     int
		arm     spaceframe.Vec
		springs spaceframe.Springs
		out     float64 // sense of the member's direction that leaves it here
	}{{b.I, nodes[0], b.OffsetI, b.SpringsI, -1}, {b.J, nodes[len(nodes)-1], b.OffsetJ, b.SpringsJ, 1}} {
		node := d.at[side.node] + 1
		switch {
		case !own(side.arm, side.springs):
		case len(side.springs) == 0:
			d.arm(b.Name, node, side.end)
		default:
			between := d.node(add(d.places[side.end-1], along, side.out*stubLength))
			reach := d.node(add(d.places[side.end-1], along, side.out*2*stubLength))
			if length(add(d.places[reach-1], d.places[node-1], -1)) > 1e-6 {
				d.arm(b.Name, node, reach)
			} else {
				reach = node
			}
			bends, shears := stubsOf(side.springs, d.twistLost(i))
			for _, stub := range []*bar{&bends, &shears} {
				stub.name, stub.axes = "joint of "+b.Name, axesOf(along, b.YAxis)
			}
			if side.out < 0 {
				d.short(shears, reach, between)
				d.short(bends, between, side.end)
			} else {
				d.short(bends, side.end, between)
				d.short(shears, between, reach)
			}
		}
	}
}

// What a rigid direction of a joint is given in a stub, in the units of springs.
const (
	rigidShift = 1e8  // N/mm
	rigidTurn  = 1e11 // N·mm
)

// stubsOf returns two bars, each of the length of a stub, that are in a row as stiff as springs are: the first gives way to pull and bending, the
// second to shear and twist. lost comes from twistLost.
//
//	E b h/l = k_a,  E b h³/(12 l) = k_y,  E h b³/(12 l) = k_z       and      g_y s²/l = k_sy,  g_z s²/l = k_sz,  (g_y + g_z) s⁴/(12 l) = k_x
//
// k_a is the stiffness along the bar, k_y and k_z those against bending about its own y and z, k_x that against twist, k_sy and k_sz those against
// shear; l is the length of a stub. So h² = 12 k_y/k_a, b² = 12 k_z/k_a and s² = 12 k_x/(k_sy + k_sz): the ends of a stub stay plane, since the solver
// makes the nodes of a place where bars meet one stiff body. N and mm.
func stubsOf(springs spaceframe.Springs, lost float64) (bends, shears bar) {
	of := func(d spaceframe.DOF, rigid float64) float64 {
		if k, given := springs[d]; given {
			return min(k, rigid)
		}
		return rigid
	}
	ka, ky, kz := of(spaceframe.UX, rigidShift), of(spaceframe.RY, rigidTurn), of(spaceframe.RZ, rigidTurn)
	b, h := math.Sqrt(12*kz/ka), math.Sqrt(12*ky/ka)
	bends = bar{b: b, h: h, e: ka * stubLength / (b * h), g: rigidShift * stubLength / (b * h)}
	bends.g2 = bends.g
	kx, ksy, ksz := min(rigidTurn, 1/max(1/rigidTurn, 1/of(spaceframe.RX, rigidTurn)+lost)), of(spaceframe.UY, rigidShift), of(spaceframe.UZ, rigidShift)
	side := math.Sqrt(12 * kx / (ksy + ksz))
	shears = bar{b: side, h: side, e: rigidShift * stubLength / (side * side), g: ksy * stubLength / (side * side), g2: ksz * stubLength / (side * side)}
	return bends, shears
}

// padLength is the length of a pad, mm.
const padLength = 10

// pads gives every node at which only one bar ends a short stiff bar that goes on from there. It carries nothing, but where bars meet the solver keeps
// the section of each plane; a force or a foot on a lone end would press one place of its bricks in.
func (d *deck) pads() {
	for i := range d.model.Members {
		b := d.bars[i]
		if len(b.nodes) == 0 {
			continue
		}
		for _, end := range []struct {
			node int
			out  float64
		}{{b.nodes[0], -1}, {b.nodes[len(b.nodes)-1], 1}} {
			if end.node <= len(d.model.Nodes) && d.barsAt(end.node) == 1 {
				d.arm("the end of "+b.name, end.node, d.node(add(d.places[end.node-1], b.axes[0], end.out*padLength)))
			}
		}
	}
}

func (d *deck) barsAt(node int) (n int) {
	for _, b := range d.bars {
		if slices.Contains(b.nodes, node) {
			n++
		}
	}
	return n
}

// tie joins the nodes of a body to its first by stiff bars. A node at the same place that no member ends at moves with it instead: see stand.
func (d *deck) tie(b spaceframe.Body) {
	first := d.at[b.Nodes[0]] + 1
	for _, name := range b.Nodes[1:] {
		n := d.at[name] + 1
		if length(add(d.places[n-1], d.places[first-1], -1)) > 1e-6 {
			d.arm(b.Name, first, n)
		}
	}
}

// stand makes the nodes of supports that are springs: a plain one that moves with the node, since springs do not join nodes of beams, and one of
// the ground, so that a foot can be let go in a step.
func (d *deck) stand() {
	for i, n := range d.model.Nodes {
		plain := 0
		for k := range 3 {
			h := n.Support.Hold[k]
			if h == 0 || math.IsInf(h, 1) {
				continue
			}
			if plain == 0 {
				plain = d.node(n.At)
			}
			d.feet[i] = append(d.feet[i], foot{plain, d.node(n.At), k + 1, h})
		}
	}
}

// carrier returns the number of the node that a node of the model moves with: itself where a bar ends, else the one of its body at the same
// place.
func (d *deck) carrier(node int) int {
	if d.inBar(node) {
		return node
	}
	for _, b := range d.model.Bodies {
		if slices.Contains(b.Nodes, d.model.Nodes[node-1].Name) {
			for _, name := range b.Nodes {
				if other := d.at[name] + 1; d.inBar(other) && length(add(d.places[other-1], d.places[node-1], -1)) <= 1e-6 {
					return other
				}
			}
		}
	}
	panic(fmt.Sprintf("export: node %q of the frame moves with nothing", d.model.Nodes[node-1].Name))
}

func (d *deck) inBar(node int) bool {
	return slices.ContainsFunc(d.bars, func(b bar) bool { return slices.Contains(b.nodes, node) })
}

// axesOf returns the own directions of a bar, as spaceframe takes them: y in the plane of the bar and yAxis.
func axesOf(x, yAxis spaceframe.Vec) [3]spaceframe.Vec {
	if yAxis == (spaceframe.Vec{}) {
		if yAxis = (spaceframe.Vec{-x[1], x[0], 0}); length(yAxis) < 1e-6 {
			yAxis = spaceframe.Vec{0, 1, 0}
		}
	}
	y := add(yAxis, x, -(yAxis[0]*x[0] + yAxis[1]*x[1] + yAxis[2]*x[2]))
	k := 1 / length(y)
	y = spaceframe.Vec{y[0] * k, y[1] * k, y[2] * k}
	return [3]spaceframe.Vec{x, y, {x[1]*y[2] - x[2]*y[1], x[2]*y[0] - x[0]*y[2], x[0]*y[1] - x[1]*y[0]}}
}
