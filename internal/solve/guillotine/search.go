package guillotine

import (
	"container/heap"
	"context"
	"slices"
)

// planter is an anytime tree search that places parts one after the other where the last one left off: in the same row,
// in a new row above, in a new column beside, or on the next plate. It knows where it is on which plate, so it can keep
// off defects, obey limits on strips and waste and the order of stacks; the tables of the other methods cannot.
//
// The tree is searched best first with a bounded list; the list is cleared of its worst nodes when full, and the whole
// search repeated with a longer list. Nodes are compared by the share of the area behind the front that is waste,
// divided by the mean size of the parts placed, so that large parts go first.
// Reference: Libralesso, Fontan, An anytime tree search algorithm for the 2018 ROADEF/EURO challenge glass cutting
// problem, EJOR 291 (2021), doi:10.1016/j.ejor.2020.10.050.
type planter struct {
	rules  Cutting
	kerf   int
	plates []ground
	stacks [][]int // parts in the order they must come off
	shapes [][]shape
	worth  []float64 // of a part, in units of area
	whole  bool      // the only column is the whole plate (two stages)
	behind []float64 // area of all plates before plate n
	uppers map[int][]upper

	best      *node
	bestValue float64 // smaller is better
	sequence  bool    // all parts must be placed; otherwise as much worth as possible on one plate
}

// ground is a plate without its margins, grown by one blade width, with the defects in its coordinates.
type ground struct {
	w, h    int
	defects []Rect
}

// spot is where the last part was placed: the column from x0 to x1, the row from y0 to y1, and the end of the row.
type spot struct{ plate, x0, x1, y0, y1, x int }

// level says what a placement opens.
type level int8

const (
	inRow level = iota
	newRow
	newColumn
	newPlate
)

// node is a partial plan: the parent's and one more part, or two with the second on top of the first.
type node struct {
	parent   *node
	at       spot
	opens    level
	shape    *shape
	upper    *shape // on top of shape, nil for none
	px, py   int    // lower left corner
	raised   bool   // the waste is below the part
	start    int    // end of the row before the part
	stack    int
	upperOf  int // stack of upper
	placed   int
	area     float64 // worth of the parts
	size     float64 // true area of the parts
	guide    float64
	hash     uint64
	position []uint16 // by stack: parts taken; filled when the node is opened
}

// newPlanter makes a search over the plates in order for the first cut. All is turned so that columns are cut first,
// or rows with two stages; turned tells.
func newPlanter(in Instance, stock []Stock, first Direction, left []int) (s *planter, turned bool) {
	s = &planter{rules: in.Cuts, kerf: in.Kerf, whole: in.Cuts.Stages == 2, uppers: map[int][]upper{}}
	turned = s.whole == (first == Vertical)
	s.behind = append(s.behind, 0)
	for _, st := range stock {
		u := st.usable()
		g := ground{w: u.W + in.Kerf, h: u.H + in.Kerf}
		for _, d := range st.Defects {
			g.defects = append(g.defects, Rect{d.X - u.X, d.Y - u.Y, d.W, d.H})
		}
		if turned {
			g = g.turn()
		}
		s.plates = append(s.plates, g)
		s.behind = append(s.behind, s.behind[len(s.behind)-1]+float64(g.w)*float64(g.h))
	}
	s.shapes = make([][]shape, len(in.Parts))
	for _, sh := range in.shapes() {
		if turned {
			sh.w, sh.h = sh.h, sh.w
		}
		s.shapes[sh.part] = append(s.shapes[sh.part], sh)
	}
	byStack := map[int]int{}
	for i, p := range in.Parts {
		s.worth = append(s.worth, float64(p.W+in.Kerf)*float64(p.H+in.Kerf))
		if left[i] == 0 {
			continue
		}
		n, known := byStack[p.Stack]
		if !known || p.Stack == 0 || !in.InOrder {
			n = len(s.stacks)
			s.stacks = append(s.stacks, nil)
			byStack[p.Stack] = n
		}
		for range left[i] {
			s.stacks[n] = append(s.stacks[n], i)
		}
	}
	return s, turned
}

func (g ground) turn() ground {
	out := ground{w: g.h, h: g.w}
	for _, d := range g.defects {
		out.defects = append(out.defects, Rect{d.Y, d.X, d.H, d.W})
	}
	return out
}

// run searches once with lists of the given length.
func (s *planter) run(ctx context.Context, length int, bySize bool) {
	total := 0
	for _, st := range s.stacks {
		total += len(st)
	}
	root := &node{position: make([]uint16, len(s.stacks)), at: spot{plate: -1}}
	open := &queue{root}
	seen := map[uint64][]spot{}
	for n := 0; open.Len() > 0; n++ {
		if n%64 == 0 && ctx.Err() != nil {
			return
		}
		parent := heap.Pop(open).(*node)
		if s.sequence && s.cost(parent) >= s.bestValue {
			continue
		}
		for _, child := range s.children(parent) {
			s.rate(child, bySize)
			if !s.sequence || child.placed == total {
				s.keep(child)
				if s.sequence {
					continue
				}
			}
			if s.sequence && s.cost(child) >= s.bestValue || s.dominated(seen, child) {
				continue
			}
			heap.Push(open, child)
		}
		if open.Len() > 2*length {
			slices.SortFunc(*open, func(a, b *node) int {
				switch {
				case a.guide < b.guide:
					return -1
				case a.guide > b.guide:
					return 1
				}
				return 0
			})
			clear((*open)[length:])
			*open = (*open)[:length] // a sorted list is a heap
		}
	}
}

// queue orders nodes by guide.
type queue []*node

func (q queue) Len() int           { return len(q) }
func (q queue) Less(a, b int) bool { return q[a].guide < q[b].guide }
func (q queue) Swap(a, b int)      { q[a], q[b] = q[b], q[a] }

// Push is for container/heap.
func (q *queue) Push(x any) { *q = append(*q, x.(*node)) }

// Pop is for container/heap.
func (q *queue) Pop() any {
	old := *q
	n := old[len(old)-1]
	old[len(old)-1] = nil
	*q = old[:len(old)-1]
	return n
}

// front is the area that can no longer be used, and the parts in it.
func (s *planter) front(n *node) float64 {
	a := n.at
	g := s.plates[a.plate]
	return s.behind[a.plate] + float64(a.x0)*float64(g.h) + float64(a.x1-a.x0)*float64(a.y0) + float64(a.x-a.x0)*float64(a.y1-a.y0)
}

// cost is the least area a plan through the node uses; of a complete plan, the area up to the last column.
func (s *planter) cost(n *node) float64 {
	if n.at.plate < 0 {
		return 0
	}
	g := s.plates[n.at.plate]
	return s.behind[n.at.plate] + float64(n.at.x1)*float64(g.h)
}

// rate sets the guide.
func (s *planter) rate(n *node, bySize bool) {
	front := s.front(n)
	n.guide = (front - n.area) / front
	if bySize {
		n.guide /= n.size / float64(n.placed)
	}
}

// keep remembers the node if it is the best plan.
func (s *planter) keep(n *node) {
	value := -n.area
	if s.sequence {
		value = s.cost(n)
	}
	if s.best == nil || value < s.bestValue {
		s.best, s.bestValue = n, value
	}
}

// dominated reports whether another node with the same parts left has used no more of any kind, and remembers the node.
// With defects this may drop a better plan; it is a heuristic.
func (s *planter) dominated(seen map[uint64][]spot, n *node) bool {
	list := seen[n.hash]
	for _, o := range list {
		if o.noFarther(n.at) {
			return true
		}
	}
	seen[n.hash] = append(list, n.at)
	return false
}

func (o spot) noFarther(n spot) bool {
	switch {
	case o.plate != n.plate:
		return o.plate < n.plate
	case o.x1 <= n.x0:
		return true
	case o.x0 > n.x0 || o.x1 > n.x1:
		return false
	case o.y1 <= n.y0:
		return true
	}
	return o.y0 <= n.y0 && o.y1 <= n.y1 && o.x <= n.x
}

// mix turns a stack and a position in it into bits to add up to a fingerprint of what is left (splitmix64).
func mix(stack, position int) uint64 {
	z := uint64(stack)<<32 + uint64(position) + 0x9e3779b97f4a7c15
	z = (z ^ z>>30) * 0xbf58476d1ce4e5b9
	z = (z ^ z>>27) * 0x94d049bb133111eb
	return z ^ z>>31
}

// children returns every way to place the next part of any stack.
func (s *planter) children(n *node) []*node {
	s.open(n)
	if s.rules.Last == PairCut {
		s.listUppers(n)
	}
	var out []*node
	for opens := inRow; opens <= newPlate; opens++ {
		if n.at.plate < 0 && opens != newPlate || opens == newColumn && s.whole {
			continue
		}
		if opens == newPlate && (len(out) > 0 || n.at.plate+1 == len(s.plates)) {
			break
		}
		for st, parts := range s.stacks {
			at := int(n.position[st])
			if at == len(parts) {
				continue
			}
			for i := range s.shapes[parts[at]] {
				out = s.add(out, n, opens, st, &s.shapes[parts[at]][i])
			}
		}
	}
	return out
}

// open fills the node's positions.
func (s *planter) open(n *node) {
	if n.parent == nil {
		return
	}
	n.position = slices.Clone(n.parent.position)
	n.position[n.stack]++
	if n.upper != nil {
		n.position[n.upperOf]++
	}
}

// add appends the placements of the shape: alone, on top of waste if a defect is in the way, and with a second part of
// the same width on top where the rules allow pairs.
func (s *planter) add(out []*node, n *node, opens level, st int, sh *shape) []*node {
	child := &node{parent: n, opens: opens, shape: sh, stack: st}
	ok, met := s.place(child)
	if ok {
		out = append(out, s.count(child))
	}
	if met && s.rules.Last != NoLastCut {
		raised := &node{parent: n, opens: opens, shape: sh, stack: st, raised: true}
		if ok, _ := s.place(raised); ok {
			out = append(out, s.count(raised))
		}
	}
	if s.rules.Last != PairCut {
		return out
	}
	for _, u := range s.uppers[sh.w] {
		if u.second != (u.stack == st) {
			continue
		}
		pair := &node{parent: n, opens: opens, shape: sh, upper: u.shape, stack: st, upperOf: u.stack}
		if ok, _ := s.place(pair); ok {
			out = append(out, s.count(pair))
		}
	}
	return out
}

// upper is a shape that can go on top of one of the same width: the next part of another stack, or the second of the
// same one.
type upper struct {
	stack  int
	second bool
	shape  *shape
}

// listUppers fills uppers by width for the node.
func (s *planter) listUppers(n *node) {
	clear(s.uppers)
	for st, parts := range s.stacks {
		for at := int(n.position[st]); at < min(len(parts), int(n.position[st])+2); at++ {
			for i := range s.shapes[parts[at]] {
				sh := &s.shapes[parts[at]][i]
				s.uppers[sh.w] = append(s.uppers[sh.w], upper{st, at > int(n.position[st]), sh})
			}
		}
	}
}

// count adds up the parts of the node.
func (s *planter) count(n *node) *node {
	p := n.parent
	n.placed, n.area, n.size = p.placed+1, p.area+s.worth[n.shape.part], p.size+float64(n.shape.w)*float64(n.shape.h)
	n.hash = p.hash + mix(n.stack, int(p.position[n.stack]))
	if n.upper != nil {
		n.placed++
		n.area += s.worth[n.upper.part]
		n.size += float64(n.upper.w) * float64(n.upper.h)
		at := int(p.position[n.upperOf])
		if n.upperOf == n.stack {
			at++
		}
		n.hash += mix(n.upperOf, at)
	}
	return n
}
