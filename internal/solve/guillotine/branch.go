package guillotine

import (
	"cmp"
	"slices"
)

// How the tree search goes on from a plan: guess what may come next, place the best guesses, count what they make.

// children returns about as many of the most promising ways to place the next part as asked for. They are only valid
// until the next call.
func (s *planter) children(n *node, most int, v variant) []*node {
	s.open(n)
	if s.rules.Last == PairCut {
		s.listUppers(n)
	}
	s.found = s.found[:0]
	narrow := false // some part fits without widening the column
	for opens := inRow; opens <= newPlate; opens++ {
		if n.at.plate < 0 && opens != newPlate || opens == newColumn && (s.whole || v.deep && narrow) {
			continue
		}
		if opens == newPlate && (len(s.found) > 0 || n.at.plate+1 == len(s.plates)) {
			break
		}
		s.guess(n, opens, v)
		s.choose(n, opens, most, v)
		for i := range s.found {
			narrow = narrow || s.found[i].at.x1 == n.at.x1
		}
	}
	s.order = s.order[:0]
	for i := range s.found {
		s.order = append(s.order, &s.found[i])
	}
	slices.SortFunc(s.order, byGuide)
	return s.order
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

// guess lists every part that may come next in guesses, rated as if there were neither defects nor limits.
func (s *planter) guess(n *node, opens level, v variant) {
	s.guesses = s.guesses[:0]
	base := node{parent: n, opens: opens}
	at := s.openSpot(&base)
	g := &s.plates[at.plate]
	for st, parts := range s.stacks {
		position := int(n.position[st])
		if position == len(parts) {
			continue
		}
		base.stack = st
		for i := range s.shapes[parts[position]] {
			base.shape, base.upper = &s.shapes[parts[position]][i], nil
			s.guessOne(&base, at, g, v)
			if s.rules.Last != PairCut {
				continue
			}
			for _, u := range s.uppers[base.shape.width] {
				if u.second == (u.stack == st) {
					base.upper, base.upperOf = u.shape, u.stack
					s.guessOne(&base, at, g, v)
				}
			}
		}
	}
}

// guessOne adds the node to the guesses if it fits the plate.
func (s *planter) guessOne(n *node, at spot, g *ground, v variant) {
	at.x += n.shape.w
	at.x1 = max(at.x1, at.x)
	top := at.y0 + n.height()
	if n.opens == inRow {
		top = max(top, at.y1)
	}
	if at.y1 = top; at.x > g.w || top > g.h {
		return
	}
	n.at = at
	s.total(n)
	s.rate(n, v)
	s.guesses = append(s.guesses, guess{n.guide, n.shape, n.upper, int32(n.stack), int32(n.upperOf)})
}

// guess is a part, or two, that may come next.
type guess struct {
	guide          float64
	shape, upper   *form
	stack, upperOf int32
}

// choose places guesses, best first, until enough have found a place.
func (s *planter) choose(n *node, opens level, most int, v variant) {
	placed := 0
	for rest := s.guesses; len(rest) > 0 && placed < most; {
		few := min(len(rest), 2*most+8)
		selectFirst(rest, few)
		slices.SortFunc(rest[:few], func(a, b guess) int { return cmp.Compare(a.guide, b.guide) })
		for _, c := range rest[:few] {
			if placed >= most {
				break
			}
			child := node{parent: n, opens: opens, shape: c.shape, upper: c.upper, stack: int(c.stack), upperOf: int(c.upperOf)}
			ok, met := s.try(child, v)
			if ok {
				placed++
			}
			if met && c.upper == nil && s.rules.Last != NoLastCut {
				child.raised = true
				if ok, _ := s.try(child, v); ok {
					placed++
				}
			}
		}
		rest = rest[few:]
	}
}

// selectFirst moves the n guesses with the lowest guides to the front (quickselect, middle pivot).
func selectFirst(list []guess, n int) {
	for lo, hi := 0, len(list)-1; lo < hi; {
		pivot := list[(lo+hi)/2].guide
		i, j := lo, hi
		for i <= j {
			for list[i].guide < pivot {
				i++
			}
			for list[j].guide > pivot {
				j--
			}
			if i <= j {
				list[i], list[j] = list[j], list[i]
				i, j = i+1, j-1
			}
		}
		switch {
		case n <= j:
			hi = j
		case n > i:
			lo = i
		default:
			return
		}
	}
}

// try lists the node if it can be placed. met reports whether a defect was in the way.
func (s *planter) try(child node, v variant) (ok, met bool) {
	if ok, met = s.place(&child); ok {
		s.total(&child)
		s.mark(&child)
		s.rate(&child, v)
		s.found = append(s.found, child)
	}
	return ok, met
}

// upper is a shape that can go on top of one of the same width: the next part of another stack, or the second of the
// same one.
type upper struct {
	stack  int
	second bool
	shape  *form
}

// listUppers fills uppers by width for the node.
func (s *planter) listUppers(n *node) {
	for w := range s.uppers {
		s.uppers[w] = s.uppers[w][:0]
	}
	for st, parts := range s.stacks {
		for at := int(n.position[st]); at < min(len(parts), int(n.position[st])+2); at++ {
			for i := range s.shapes[parts[at]] {
				sh := &s.shapes[parts[at]][i]
				s.uppers[sh.width] = append(s.uppers[sh.width], upper{st, at > int(n.position[st]), sh})
			}
		}
	}
}

// total adds up the parts of the node.
func (s *planter) total(n *node) {
	p := n.parent
	n.placed, n.area, n.size = p.placed+1, p.area+s.worth[n.shape.part], p.size+float64(n.shape.w)*float64(n.shape.h)
	if n.upper != nil {
		n.placed++
		n.area += s.worth[n.upper.part]
		n.size += float64(n.upper.w) * float64(n.upper.h)
	}
}

// mark sets the fingerprint of the parts left.
func (s *planter) mark(n *node) {
	p := n.parent
	at := int(p.position[n.stack])
	n.hash = p.hash + mix(n.stack, at)
	if n.upper != nil {
		if at++; n.upperOf != n.stack {
			at = int(p.position[n.upperOf])
		}
		n.hash += mix(n.upperOf, at)
	}
}
