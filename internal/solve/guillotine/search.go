package guillotine

import (
	"cmp"
	"container/heap"
	"context"
	"slices"
)

// planter is an anytime tree search that places parts one after the other where the last one left off: in the same row,
// in a new row above, in a new column beside, or on the next plate. It knows where it is on which plate, so it can keep
// off defects, obey limits on strips and waste and the order of stacks; the tables of the other methods cannot.
//
// Plans are opened in order of how much of the plates lies behind their front. Of plans about as far on only the best so
// many are opened, and the whole search is repeated with twice as many. They are compared by the share of the area
// behind the front that is waste, divided in one variant by the mean size of the parts placed, so that large parts go
// first.
// Reference: the placements and the guide follow Libralesso, Fontan, An anytime tree search algorithm for the 2018
// ROADEF/EURO challenge glass cutting problem, EJOR 291 (2021), doi:10.1016/j.ejor.2020.10.050.
type planter struct {
	rules  Cutting
	kerf   int
	plates []ground
	stacks [][]int // parts in the order they must come off
	shapes [][]form
	worth  []float64 // of a part, in units of area
	all    float64   // worth of all parts in the stacks
	turned bool      // axes are exchanged, so that columns are cut first, or rows with two stages
	whole  bool      // the only column is the whole plate (two stages)
	behind []float64 // area of all plates before plate n

	seen    fronts
	uppers  [][]upper // by number of the width, for the node being opened
	guesses []guess   // what may come next
	found   []node    // its children
	order   []*node   // the same, best first

	best      *node
	bestValue float64 // smaller is better
	sequence  bool    // all parts must be placed; otherwise as much worth as possible on one plate
}

// form is a shape with the number of its width, equal widths having equal numbers.
type form struct {
	shape
	width int
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
	shape    *form
	upper    *form // on top of shape, nil for none
	px, py   int   // lower left corner
	raised   bool  // the waste is below the part
	start    int   // end of the row before the part
	stack    int
	upperOf  int // stack of upper
	placed   int
	area     float64 // worth of the parts
	size     float64 // true area of the parts
	guide    float64
	hash     uint64
	position []uint16 // by stack: parts taken; filled when the node is opened
}

// newPlanter makes a search over the plates in order for the first cut. With unlimited stages it uses three and pairs.
func newPlanter(in Instance, stock []Stock, first Direction, left []int) *planter {
	s := &planter{rules: in.Cuts, kerf: in.Kerf, whole: in.Cuts.Stages == 2}
	if in.Cuts.Stages == Unlimited {
		s.rules.Last = PairCut
	}
	s.turned = s.whole == (first == Vertical)
	s.behind = append(s.behind, 0)
	for _, st := range stock {
		u := st.usable()
		g := ground{w: u.W + in.Kerf, h: u.H + in.Kerf}
		for _, d := range st.Defects {
			g.defects = append(g.defects, Rect{d.X - u.X, d.Y - u.Y, d.W, d.H})
		}
		if s.turned {
			g = g.turn()
		}
		s.plates = append(s.plates, g)
		s.behind = append(s.behind, s.behind[len(s.behind)-1]+float64(g.w)*float64(g.h))
	}
	s.shapes = make([][]form, len(in.Parts))
	widths := map[int]int{}
	for _, sh := range in.shapes() {
		if s.turned {
			sh.w, sh.h = sh.h, sh.w
		}
		if s.whole && sh.w-s.kerf < in.Cuts.MinSecond {
			continue // with two stages the second makes the parts
		}
		n, known := widths[sh.w]
		if !known {
			n = len(widths)
			widths[sh.w] = n
		}
		s.shapes[sh.part] = append(s.shapes[sh.part], form{sh, n})
	}
	s.uppers = make([][]upper, len(widths))
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
			s.all += s.worth[i]
		}
	}
	s.mergeStacks(in)
	return s
}

// mergeStacks joins stacks that hold nothing but parts of one size: which of them a part comes from makes no difference.
func (s *planter) mergeStacks(in Instance) {
	type size struct {
		w, h int
		turn bool
	}
	of := func(i int) size { return size{in.Parts[i].W, in.Parts[i].H, in.Parts[i].MayTurn} }
	known := map[size]int{}
	var out [][]int
	for _, st := range s.stacks {
		key := of(st[0])
		if slices.ContainsFunc(st, func(i int) bool { return of(i) != key }) {
			out = append(out, st)
			continue
		}
		if n, seen := known[key]; seen {
			out[n] = append(out[n], st...)
			continue
		}
		known[key] = len(out)
		out = append(out, slices.Clone(st))
	}
	s.stacks = out
}

func (g ground) turn() ground {
	out := ground{w: g.h, h: g.w}
	for _, d := range g.defects {
		out.defects = append(out.defects, Rect{d.Y, d.X, d.H, d.W})
	}
	return out
}

// variant is a way to search; see variants.
type variant struct {
	bySize bool // divide the guide by the mean size of parts
	deep   bool // open a new column only if no part fits without widening the present one
}

func byGuide(a, b *node) int { return cmp.Compare(a.guide, b.guide) }

// run searches once, opening at most the given number of plans of about equal progress.
func (s *planter) run(ctx context.Context, length int, v variant) {
	total := 0
	for _, st := range s.stacks {
		total += len(st)
	}
	levels := make([]queue, bucketsPerPlate*len(s.plates)+1)
	levels[0] = queue{{position: make([]uint16, len(s.stacks)), at: spot{plate: -1}}}
	s.seen = fronts{first: map[uint64]int32{}}
	for l := range levels {
		heap.Init(&levels[l])
		for opened := 0; len(levels[l]) > 0 && opened < length; {
			parent := heap.Pop(&levels[l]).(*node)
			if s.hopeless(parent) || s.seen.dominate(parent) {
				continue
			}
			if opened++; opened%16 == 0 && ctx.Err() != nil {
				return
			}
			for _, child := range s.children(parent, min(length, mostChildren), v) {
				if child.placed == total || !s.sequence {
					s.keep(child)
				}
				if child.placed < total && !s.hopeless(child) {
					kept := *child
					to := &levels[s.bucket(&kept)]
					*to = append(*to, &kept)
					if to == &levels[l] {
						heap.Fix(to, len(*to)-1)
					}
				}
			}
		}
		levels[l] = nil
	}
}

// bucketsPerPlate is how finely progress over a plate is told apart, and mostChildren how many ways to go on are kept of
// each kind of placement. Both were chosen by trial on the 2018 challenge's instances; half or twice as much is little
// worse.
const (
	bucketsPerPlate = 64
	mostChildren    = 24
)

func (s *planter) bucket(n *node) int {
	p := n.at.plate
	return bucketsPerPlate*p + int(bucketsPerPlate*(s.front(n)-s.behind[p])/(s.behind[p+1]-s.behind[p]))
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

// hopeless reports that no plan through the node can be better than the best: the parts left need at least their area
// beyond the front.
func (s *planter) hopeless(n *node) bool {
	if !s.sequence || n.parent == nil {
		return false
	}
	return max(s.cost(n), s.front(n)+s.all-n.area) >= s.bestValue
}

// cost is the area up to the end of the node's column.
func (s *planter) cost(n *node) float64 {
	if n.at.plate < 0 {
		return 0
	}
	g := s.plates[n.at.plate]
	return s.behind[n.at.plate] + float64(n.at.x1)*float64(g.h)
}

// rate sets the guide.
func (s *planter) rate(n *node, v variant) {
	front := s.front(n)
	n.guide = (front - n.area) / front
	if v.bySize {
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
		kept := *n
		s.best, s.bestValue = &kept, value
	}
}

// fronts remembers, by fingerprint of the parts left, how far plans had come.
type fronts struct {
	first map[uint64]int32
	list  []frontAt
}

type frontAt struct {
	at   spot
	next int32 // in the list, -1 at the end
}

// dominate reports whether another node with the same parts left has used no more of any kind, and remembers the node.
// With defects this may drop a better plan; it is a heuristic.
func (f *fronts) dominate(n *node) bool {
	first, known := f.first[n.hash]
	if !known {
		first = -1
	}
	for i := first; i >= 0; i = f.list[i].next {
		if f.list[i].at.noFarther(n.at) {
			return true
		}
	}
	f.first[n.hash] = int32(len(f.list))
	f.list = append(f.list, frontAt{n.at, first})
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
