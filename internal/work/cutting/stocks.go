package cutting

import (
	"cmp"
	"slices"

	"longgrain/internal/ground/unit"
	"longgrain/internal/solve/guillotine"
	"longgrain/internal/trade/shop"
	"longgrain/internal/trade/wood"
	"longgrain/internal/work/blank"
)

// What is usable of what stays over, and what it is worth: half of the yard's price by area. Judgement: shorter or narrower
// pieces are kept and never used; the half is what a maker would pay for a board that may not fit the next job.
const (
	offcutLength   = 300 * unit.Millimetre
	offcutWidth    = 45 * unit.Millimetre
	offcutPermille = 500
)

// wearPermille is the share of the yard's price that a board on hand counts in a plan, so that no more boards are taken from
// the rack than the job needs. Small, so that the rack is always used before the yard; offcuts count nothing and come first.
const wearPermille = 20

// knotPermille is what timber counts more for each step that it is knottier than the piece is reckoned with: of such boards some of
// the length is cut away and thrown out. Judgement.
const knotPermille = 250

// knotty returns a cost with the steps that timber is worse than wanted counted.
func (j job) knotty(cost int64, c wood.Condition) int64 {
	have, want := slices.Index(wood.Conditions, string(c)), slices.Index(wood.Conditions, j.wanted)
	if want < 0 || have <= want {
		return cost
	}
	return cost + cost*knotPermille*int64(have-want)/1000
}

// assumedRate is the price of a cubic metre when the shop file has no price of the species: then the plan needs the least
// wood. In cents; its size does not matter.
const assumedRate = 100_000

// stock is a kind of board that a job may use.
type stock struct {
	board Board
	cost  int64 // that the plan counts
	count int   // guillotine.Unlimited for timber at the yard
	bad   []shop.Defect
}

// rates are prices by area of timber of one kind, in cents a square metre.
type rates struct {
	area   float64 // lowest price at the yard, or by volume from other timber of the species, or assumed
	volume float64 // lowest price of a cubic metre of the species
	priced bool    // the yard has timber of this kind with a price
}

// ratesOf returns the prices of a kind of timber.
func ratesOf(k blank.Kind, s shop.Shop) rates {
	var r rates
	found := false
	for _, t := range s.Timber {
		for _, piece := range t.Pieces {
			if t.Species != k.Species || !piece.Priced {
				continue
			}
			area := float64(piece.Price) / float64(unit.Area(piece.Length, t.Width))
			if k.Has(t.Species, t.Thickness, t.Rough, t.Panel) && (!r.priced || area < r.area) {
				r.area, r.priced = area, true
			}
			if volume := area / t.Thickness.Metres(); !t.Panel && (!found || volume < r.volume) {
				r.volume, found = volume, true
			}
		}
	}
	if !found {
		r.volume = assumedRate
	}
	if !r.priced {
		r.area = r.volume * k.Low.Metres()
	}
	return r
}

// stocks lists the boards of a job: offcuts, then boards on hand, then timber to buy. Boards that cannot hold any piece are left
// out.
func (j job) stocks(s shop.Shop) []stock {
	r := ratesOf(j.kind, s)
	var out []stock
	add := func(st stock) {
		if slices.ContainsFunc(j.items, func(x item) bool { return j.holds(st.board, x, s) }) {
			out = append(out, st)
		}
	}
	hand := func(list []shop.Board, from Source) {
		for i, b := range list {
			if !j.takes(b.Species, b.Thickness, b.Rough, b.Panel) {
				continue
			}
			st := stock{Board{Source: from, Name: b.Name, Species: b.Species, Length: b.Length, Width: b.Width, Thickness: b.Thickness, Rough: b.Rough, Panel: b.Panel,
				Condition: string(b.Condition), index: i}, 0, max(1, b.Count), b.Defects}
			if from == OnHand {
				st.cost = j.knotty(max(1, int64(r.area*float64(unit.Area(b.Length, b.Width))*wearPermille/1000)), b.Condition)
			}
			add(st)
		}
	}
	hand(s.Offcuts, Offcut)
	hand(s.Boards, OnHand)
	for i, t := range s.Timber {
		if !j.takes(t.Species, t.Thickness, t.Rough, t.Panel) {
			continue
		}
		count := guillotine.Unlimited
		if t.Count > 0 {
			count = t.Count
		}
		for _, piece := range t.Pieces {
			cost := int64(piece.Price)
			if !piece.Priced {
				cost = max(1, int64(r.volume*float64(unit.Volume(piece.Length, t.Width, t.Thickness))))
			}
			add(stock{Board{Source: Buy, Name: t.Size, Species: t.Species, Length: piece.Length, Width: t.Width, Thickness: t.Thickness, Rough: t.Rough, Panel: t.Panel,
				Condition: string(t.Condition), Price: piece.Price, Priced: piece.Priced, index: i}, j.knotty(cost, t.Condition), count, nil})
		}
	}
	return out
}

// takes tells whether timber is of the job's kind and thickness.
func (j job) takes(species string, thick unit.Length, rough, panel bool) bool {
	return j.kind.Has(species, thick, rough, panel) && j.low <= thick && thick <= j.high
}

// trim returns what is cut off each end of a board before it is used; panels come with clean ends.
func trim(b Board, s shop.Shop) unit.Length {
	if b.Panel {
		return 0
	}
	return s.Habits.EndTrim
}

// holds tells whether a board is long and wide enough for an item.
func (j job) holds(b Board, x item, s shop.Shop) bool {
	return b.Length-2*trim(b, s) >= x.length && b.Width >= x.width
}

// Rest is a piece that stays over and is worth keeping.
type Rest struct {
	Board     int           `json:"board"` // index into the plan's boards
	Of        string        `json:"of"`    // name of the board
	Species   string        `json:"species"`
	Length    unit.Length   `json:"length"`
	Width     unit.Length   `json:"width"`
	Thickness unit.Length   `json:"thickness"`
	Rough     bool          `json:"rough,omitempty"`
	Panel     bool          `json:"panel,omitempty"`
	Condition string        `json:"condition,omitempty"`
	Worth     unit.Money    `json:"worth"` // by the rule
	Defects   []shop.Defect `json:"defects,omitempty"`
}

// rest lists what stays over, board by board, and what it is worth.
func (p *Plan) rest(s shop.Shop) {
	for i, b := range p.Boards {
		kinds := blank.Kinds(s, b.Species)
		k := slices.IndexFunc(kinds, func(k blank.Kind) bool { return k.Has(b.Species, b.Thickness, b.Rough, b.Panel) })
		for _, a := range b.Areas {
			if a.Kind != OffcutArea || k < 0 {
				continue
			}
			x := Rest{Board: i, Of: b.Name, Species: b.Species, Length: a.L, Width: a.W, Thickness: b.Thickness, Rough: b.Rough, Panel: b.Panel, Condition: b.Condition}
			if r := ratesOf(kinds[k], s); r.priced {
				x.Worth = unit.Money(r.area * float64(unit.Area(a.L, a.W)) * offcutPermille / 1000)
			}
			for _, d := range b.Areas {
				if d.Kind == DefectArea && overlap(a, d) {
					x.Defects = append(x.Defects, shop.Defect{Kind: d.Label, From: max(0, d.X-a.X), To: min(a.L, d.X+d.L-a.X), Left: max(0, d.Y-a.Y), Right: min(a.W, d.Y+d.W-a.Y)})
				}
			}
			p.Rest = append(p.Rest, x)
			p.Worth += x.Worth
		}
	}
}

func overlap(a, b Area) bool {
	return a.X < b.X+b.L && b.X < a.X+a.L && a.Y < b.Y+b.W && b.Y < a.Y+a.W
}

// keep adds a plate that is cut off and not used to the areas, where it is worth keeping: without what a defect over its
// whole width spoils.
func (b *Board) keep(x, y, l, w unit.Length, bad []shop.Defect) {
	if w < offcutWidth || l < offcutLength {
		return
	}
	through := []shop.Defect{}
	for _, d := range bad {
		if d.Left <= y && d.Right >= y+w && d.To > x && d.From < x+l {
			through = append(through, d)
		}
	}
	slices.SortFunc(through, func(p, q shop.Defect) int { return cmp.Compare(p.From, q.From) })
	at := x
	piece := func(to unit.Length) {
		if to-at >= offcutLength {
			b.Areas = append(b.Areas, Area{Kind: OffcutArea, X: at, Y: y, L: to - at, W: w})
		}
	}
	for _, d := range through {
		piece(d.From)
		at = max(at, d.To)
	}
	piece(x + l)
}
