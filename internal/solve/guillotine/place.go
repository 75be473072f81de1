package guillotine

// piece is a plate in the making: no coordinates, sizes grown by one blade width (see shape), so that the sizes of the
// children along the cutting direction add up to at most the size of the plate. Pieces are shared between patterns and
// never changed once made.
type piece struct {
	w, h   int
	cut    Direction
	kids   []*piece
	part   int // index of the part if this is a leaf, -1 for waste; the part may be smaller than the plate
	turned bool
}

// leaf returns a piece just large enough for the shape.
func (s shape) leaf() *piece {
	return &piece{w: s.w, h: s.h, part: s.part, turned: s.turned}
}

// stack joins pieces in the cutting direction into one just large enough.
func stack(cut Direction, kids []*piece) *piece {
	p := &piece{cut: cut, kids: kids, part: -1}
	for _, kid := range kids {
		if cut == Horizontal {
			p.w, p.h = max(p.w, kid.w), p.h+kid.h
		} else {
			p.w, p.h = p.w+kid.w, max(p.h, kid.h)
		}
	}
	return p
}

// count adds the parts in the piece to counts.
func (p *piece) count(counts []int) {
	if p.cut == NoCut {
		if p.part >= 0 {
			counts[p.part]++
		}
		return
	}
	for _, kid := range p.kids {
		kid.count(counts)
	}
}

// placer turns pieces into plates of one kind of stock.
type placer struct {
	in    Instance
	stock Stock
}

// sheet cuts piece p from one piece of the stock kind.
func (in Instance) sheet(kind int, p *piece) Sheet {
	u := in.Stock[kind].usable()
	return Sheet{Stock: kind, Root: placer{in, in.Stock[kind]}.plate(p, u, NoCut)}
}

// plate puts the piece at the lower left of the room (true sizes), which a cut in direction before has made, and makes
// plates of what it leaves. A part is freed from its room by cutting across that direction first.
func (pl placer) plate(p *piece, room Rect, before Direction) Plate {
	if p.cut == NoCut {
		return pl.part(p, room, before)
	}
	out := Plate{X: room.X, Y: room.Y, W: room.W, H: room.H, Cut: p.cut, Part: -1}
	at, end := room.X, room.X+room.W
	if p.cut == Horizontal {
		at, end = room.Y, room.Y+room.H
	}
	for _, kid := range p.kids {
		size := kid.w - pl.in.Kerf
		if p.cut == Horizontal {
			size = kid.h - pl.in.Kerf
		}
		child := pl.plate(kid, slice(room, p.cut, at, min(size, end-at)), p.cut)
		out.Children = append(out.Children, child)
		at += size + pl.in.Kerf
	}
	if at < end {
		out.Children = append(out.Children, pl.waste(slice(room, p.cut, at, end-at)))
	}
	if c := out.Children; len(c) == 1 && c[0].W == out.W && c[0].H == out.H && (c[0].Cut == NoCut || c[0].Cut != before) {
		return c[0]
	}
	return out
}

// slice returns the part of the room from position at, of the given size in the cutting direction.
func slice(room Rect, cut Direction, at, size int) Rect {
	if cut == Horizontal {
		return Rect{room.X, at, room.W, size}
	}
	return Rect{at, room.Y, size, room.H}
}

// part places a part (or waste) at the lower left of the room.
func (pl placer) part(p *piece, room Rect, before Direction) Plate {
	if p.part < 0 {
		return pl.waste(room)
	}
	w, h := pl.in.Parts[p.part].W, pl.in.Parts[p.part].H
	if p.turned {
		w, h = h, w
	}
	switch {
	case room.W == w && room.H == h:
		return Plate{X: room.X, Y: room.Y, W: w, H: h, Use: Item, Part: p.part, Turned: p.turned}
	case room.W == w || room.H > h && before == Vertical:
		inner := &piece{w: p.w, h: h + pl.in.Kerf, part: p.part, turned: p.turned}
		return pl.plate(&piece{cut: Horizontal, kids: []*piece{inner}, part: -1}, room, before)
	default:
		inner := &piece{w: w + pl.in.Kerf, h: p.h, part: p.part, turned: p.turned}
		return pl.plate(&piece{cut: Vertical, kids: []*piece{inner}, part: -1}, room, before)
	}
}

// waste returns an undivided plate without a part.
func (pl placer) waste(room Rect) Plate {
	p := Plate{X: room.X, Y: room.Y, W: room.W, H: room.H, Part: -1}
	rule := pl.in.Leftover
	if rule.Permille > 0 && p.W >= rule.MinW && p.H >= rule.MinH {
		p.Use = Offcut
	}
	return p
}
