package guillotine

// Where a part of the tree search goes, and whether every cut and piece around it keeps to the rules. Coordinates are
// true ones from the corner of the usable plate; sizes and ends are grown by one blade width, so a cut that ends a piece
// at p removes what lies from p-kerf to p.

// place finds the first position for the node's part and sets its spot. A raised part goes above the defect in its way,
// waste below. met reports that a defect was in the way of the part at its first position.
func (s *planter) place(n *node) (ok, met bool) {
	at := s.openSpot(n)
	g := &s.plates[at.plate]
	n.start, n.px, n.py = at.x, at.x, at.y0
	w, h := n.shape.w, n.height()
	least := s.kerf + max(1, s.rules.MinWaste) // waste before or below the part
	for range 3*len(g.defects) + 3 {
		if n.px+w > g.w || n.py+h > g.h {
			return false, met
		}
		d, hit := g.overlap(Rect{n.px, n.py, w - s.kerf, h - s.kerf})
		met = met || hit
		switch {
		case hit && n.raised && n.py < d.Y+d.H:
			n.py = max(d.Y+d.H, at.y0+least)
		case hit:
			n.px, n.py = max(d.X+d.W, n.start+least), at.y0
		default:
			move := s.fit(n, g, at, w, h)
			if move <= 0 {
				return move == 0 && n.raised == (n.py > at.y0), met
			}
			n.px, n.py = max(n.px+move, n.start+least), at.y0
		}
	}
	return false, met
}

// height is that of the node's parts together.
func (n *node) height() int {
	if n.upper != nil {
		return n.shape.h + n.upper.h
	}
	return n.shape.h
}

// openSpot returns the spot the placement starts from.
func (s *planter) openSpot(n *node) spot {
	at := n.parent.at
	switch n.opens {
	case newRow:
		at.y0, at.x = at.y1, at.x0
	case newColumn:
		at = spot{plate: at.plate, x0: at.x1, x1: at.x1, x: at.x1}
	case newPlate:
		at = spot{plate: at.plate + 1}
	}
	if s.whole {
		at.x1 = s.plates[at.plate].w
	}
	return at
}

// overlap returns a defect inside the rectangle.
func (g *ground) overlap(r Rect) (Rect, bool) {
	for _, d := range g.defects {
		if d.X < r.X+r.W && r.X < d.X+d.W && d.Y < r.Y+r.H && r.Y < d.Y+d.H {
			return d, true
		}
	}
	return Rect{}, false
}

// upright returns the defect a vertical cut ending at x between y0 and y1 would pass through.
func (s *planter) upright(g *ground, x, y0, y1 int) (Rect, bool) {
	if s.rules.AroundDefects {
		for _, d := range g.defects {
			if d.X < x && x-s.kerf < d.X+d.W && d.Y < y1-s.kerf && y0 < d.Y+d.H {
				return d, true
			}
		}
	}
	return Rect{}, false
}

// level returns the defect a horizontal cut ending at y between x0 and x1 would pass through.
func (s *planter) level(g *ground, y, x0, x1 int) (Rect, bool) {
	if s.rules.AroundDefects {
		for _, d := range g.defects {
			if d.Y < y && y-s.kerf < d.Y+d.H && d.X < x1-s.kerf && x0 < d.X+d.W {
				return d, true
			}
		}
	}
	return Rect{}, false
}

// gap reports whether waste of that width, one blade width included, may be left at the end of a plate.
func (s *planter) gap(width int) bool {
	return width >= 0 && (width <= s.kerf || width-s.kerf >= s.rules.MinWaste)
}

// fit tries to close the row and the column around the part. It returns 0 and sets the node's spot if all rules can be
// kept, a distance by which to move the part to the right and try again, or -1.
func (s *planter) fit(n *node, g *ground, at spot, w, h int) int {
	end := n.px + w
	at.x = end
	if at.x1 < end {
		at.x1 = end
	}
	top := max(at.y1, n.py+h)
	if n.opens != inRow {
		top = n.py + h
	}
	for range 8 {
		y1, ok := s.closeRow(n, g, at, top)
		if !ok {
			return -1
		}
		if n.px > n.start {
			if d, hit := s.upright(g, n.px, at.y0, y1); hit {
				return d.X + d.W + s.kerf - n.px
			}
		}
		x1, ok := s.closeColumn(n, g, at, y1)
		if !ok {
			return -1
		}
		if end != x1 {
			if d, hit := s.upright(g, end, at.y0, y1); hit {
				return d.X + d.W + s.kerf - end
			}
		}
		if x1 == at.x1 {
			at.y1 = y1
			n.at = at
			if n.raised {
				n.py = y1 - h
				_, hit := g.overlap(Rect{n.px, n.py, w - s.kerf, h - s.kerf})
				if _, cut := s.level(g, n.py, n.px, end); hit || cut {
					return -1
				}
			}
			return 0
		}
		at.x1, top = x1, y1
	}
	return -1
}

// closeRow returns the least upper end of the row, at least top, that keeps the rules for the column as wide as at.x1.
func (s *planter) closeRow(n *node, g *ground, at spot, top int) (int, bool) {
	least := s.rules.MinSecond
	if s.whole { // the row is a strip of the first stage
		least = s.rules.MinFirst
	}
	y := max(top, at.y0+least+s.kerf)
	if s.rules.Last == NoLastCut && y > top {
		return 0, false
	}
	for again := true; again; {
		again = false
		if !s.gap(g.h - y) {
			if y > g.h {
				return 0, false
			}
			y, again = g.h, true
		}
		if y != g.h {
			if d, hit := s.level(g, y, at.x0, at.x1); hit {
				y, again = d.Y+d.H+s.kerf, true
			}
		}
		next, ok := s.rowParts(n, g, at, y)
		if !ok || next > g.h {
			return 0, false
		}
		again = again || next > y
		y = max(y, next)
	}
	if m := s.rules.MaxFirst; s.whole && m > 0 && y-at.y0-s.kerf > m {
		return 0, false
	}
	return y, true
}

// rowParts checks every part of the row against its upper end y and returns a higher end to try if one does not fit.
func (s *planter) rowParts(n *node, g *ground, at spot, y int) (int, bool) {
	for m := n; ; m = m.parent {
		top := m.py + m.height()
		switch {
		case m == n && m.raised:
			if s.rules.Last == NoLastCut {
				return 0, false
			}
		case top > y:
			return top, true
		case top < y:
			if m.raised || m.upper != nil || s.rules.Last == NoLastCut {
				return 0, false
			}
			if !s.gap(y - top) {
				return top + s.kerf + s.rules.MinWaste, true
			}
			if _, hit := s.level(g, top, m.px, m.px+m.shape.w); hit {
				return 0, false
			}
		}
		if m.upper != nil {
			if _, hit := s.level(g, m.py+m.shape.h, m.px, m.px+m.shape.w); hit {
				return 0, false
			}
		}
		if m != n {
			if _, hit := s.upright(g, m.px+m.shape.w, at.y0, y); hit {
				return 0, false
			}
			if m.px > m.start {
				if _, hit := s.upright(g, m.px, at.y0, y); hit {
					return 0, false
				}
			}
		}
		if m.opens != inRow {
			return y, true
		}
	}
}

// closeColumn returns the least right end of the column, at least at.x1, that keeps the rules.
func (s *planter) closeColumn(n *node, g *ground, at spot, y1 int) (int, bool) {
	if s.whole {
		return at.x1, s.rowEnds(n, g, at, at.x1, y1) == at.x1
	}
	x := max(at.x1, at.x0+s.rules.MinFirst+s.kerf)
	for again := true; again; {
		again = false
		if !s.gap(g.w - x) {
			if x > g.w {
				return 0, false
			}
			x, again = g.w, true
		}
		if x != g.w {
			if d, hit := s.upright(g, x, 0, g.h); hit {
				x, again = d.X+d.W+s.kerf, true
			}
		}
		next := s.rowEnds(n, g, at, x, y1)
		if next < 0 || next > g.w {
			return 0, false
		}
		again = again || next > x
		x = max(x, next)
	}
	if m := s.rules.MaxFirst; m > 0 && x-at.x0-s.kerf > m {
		return 0, false
	}
	return x, true
}

// rowEnds checks the rows of the column against its right end x and returns a farther end to try if one does not fit,
// -1 if none can.
func (s *planter) rowEnds(n *node, g *ground, at spot, x, y1 int) int {
	end, top := at.x, y1
	for m := n; ; m = m.parent {
		if !s.gap(x - end) {
			if x < end {
				return end
			}
			return end + s.kerf + s.rules.MinWaste
		}
		if top != g.h {
			if _, hit := s.level(g, top, at.x0, x); hit {
				return -1
			}
		}
		for m.opens == inRow {
			m = m.parent
		}
		if m.opens != newRow {
			return x
		}
		end, top = m.parent.at.x, m.parent.at.y1
	}
}
