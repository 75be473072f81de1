// Package cutting decides which board gives which part: it chooses among the ways to get each part, buys timber,
// uses what is on hand first, and returns a diagram of every board with its cuts in sawing order.
//
// The arithmetic is that of the solvers in solve/cutstock (pieces as wide as the board) and solve/guillotine (rip and
// crosscut); this package translates, and says in words what they prove. Timber that does not suffice is a finding
// that names the part, its rough size and the largest board. What stays over is listed and not thrown away.
package cutting

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"longgrain/internal/design/assembly"
	"longgrain/internal/ground/unit"
	"longgrain/internal/solve/guillotine"
	"longgrain/internal/trade/shop"
	"longgrain/internal/work/blank"
)

// Source says where a board comes from.
type Source string

// The sources, in the order in which they are used.
const (
	Offcut Source = "offcut"
	OnHand Source = "on hand"
	Buy    Source = "to buy"
)

// Board is one board and how it is cut. X runs along the board from its marked end, Y across from its lower edge.
type Board struct {
	Source    Source      `json:"source"`
	Name      string      `json:"name"` // as sold, or the name of a board on hand
	Species   string      `json:"species"`
	Length    unit.Length `json:"length"`
	Width     unit.Length `json:"width"`
	Thickness unit.Length `json:"thickness"`
	Price     unit.Money  `json:"price"`
	Areas     []Area      `json:"areas"`
	Cuts      []Cut       `json:"cuts"`  // in sawing order
	Waste     float64     `json:"waste"` // share of the board that is neither part nor usable offcut
}

// AreaKind says what a rectangle of a board becomes.
type AreaKind string

// The kinds.
const (
	PartArea   AreaKind = "part"
	OffcutArea AreaKind = "offcut"
	WasteArea  AreaKind = "waste"
	DefectArea AreaKind = "defect"
)

// Area is a rectangle of a board.
type Area struct {
	Kind  AreaKind    `json:"kind"`
	Label string      `json:"label,omitempty"` // "A1 strip 2": mark of the part and number of the strip
	Part  string      `json:"part,omitempty"`  // name of the part
	X     unit.Length `json:"x"`
	Y     unit.Length `json:"y"`
	L     unit.Length `json:"l"`
	W     unit.Length `json:"w"`
}

// Cut is one saw cut, numbered from 1 in sawing order.
type Cut struct {
	Number int         `json:"number"`
	Rip    bool        `json:"rip"` // along the grain; otherwise across
	At     unit.Length `json:"at"`  // distance from the edge (rip) or from the marked end (crosscut) of the board
	From   unit.Length `json:"from"`
	To     unit.Length `json:"to"`
}

// Purchase is a line of the buy list.
type Purchase struct {
	Name   string      `json:"name"`
	Length unit.Length `json:"length"`
	Count  int         `json:"count"`
	Each   unit.Money  `json:"each"`
	Total  unit.Money  `json:"total"`
	Priced bool        `json:"priced"`
}

// Finding is something that the timber does not allow.
type Finding struct {
	What   string `json:"what"`
	Where  string `json:"where"`
	Advice string `json:"advice"`
}

// Plan is the whole cutting plan.
type Plan struct {
	Groups   []blank.Group `json:"groups"`
	Ways     []blank.Way   `json:"ways"` // the chosen way of each group; Pieces is 0 where none is possible
	Boards   []Board       `json:"boards"`
	Buy      []Purchase    `json:"buy"`
	Cost     unit.Money    `json:"cost"`   // of the boards that are bought
	Bound    unit.Money    `json:"bound"`  // no plan with these ways costs less, leftovers credited
	Gap      unit.Money    `json:"gap"`    // how much cheaper one could be at most
	Proven   bool          `json:"proven"` // no plan with these ways is cheaper, leftovers credited
	Kept     string        `json:"kept"`   // how well the strips of one part come from one board, in words
	Findings []Finding     `json:"findings,omitempty"`
}

// Make plans the boards for an assembly. copies is how many pieces are made at once. ctx may end the search early;
// the plan is then the best so far.
func Make(ctx context.Context, a assembly.Assembly, s shop.Shop, copies int) Plan {
	p := Plan{Groups: blank.Groups(a)}
	p.Ways = make([]blank.Way, len(p.Groups))
	jobs := map[jobKey]*job{}
	var order []jobKey
	for i, g := range p.Groups {
		way, ok := cheapest(blank.Ways(i, g, s), g, s, copies)
		if !ok {
			p.Findings = append(p.Findings, noTimber(g, s))
			continue
		}
		p.Ways[i] = way
		key := jobKey{g.Species, way.Stock, way.Rough}
		if jobs[key] == nil {
			jobs[key] = &job{key: key}
			order = append(order, key)
		}
		jobs[key].add(a, g, way, copies)
	}
	slices.SortFunc(order, func(x, y jobKey) int {
		return cmp.Or(cmp.Compare(x.species, y.species), cmp.Compare(x.thickness, y.thickness), compareRough(x.rough, y.rough))
	})
	p.Proven = true
	for _, key := range order {
		p.solve(ctx, *jobs[key], s)
	}
	p.buyList()
	p.Kept = kept(p.Boards)
	return p
}

// jobKey names timber that is cut together: one species, one thickness, planed or rough sawn.
type jobKey struct {
	species   string
	thickness unit.Length
	rough     bool
}

func compareRough(a, b bool) int {
	switch {
	case a == b:
		return 0
	case b:
		return -1
	}
	return 1
}

// job is everything to be cut from timber of one kind.
type job struct {
	key   jobKey
	items []item
}

// item is a rough piece that is needed a number of times; each has a label.
type item struct {
	length, width unit.Length
	whole         bool
	labels        []label
}

type label struct{ mark, part string }

// add puts the pieces of a group on the list; pieces of equal size are one item.
func (j *job) add(a assembly.Assembly, g blank.Group, w blank.Way, copies int) {
	k := slices.IndexFunc(j.items, func(x item) bool { return x.length == w.Length && x.width == w.Width })
	if k < 0 {
		k = len(j.items)
		j.items = append(j.items, item{length: w.Length, width: w.Width, whole: w.Whole})
	}
	word := map[blank.Build]string{blank.Laminated: "strip", blank.Panel: "stave"}[w.Build]
	for c := range copies {
		for _, index := range g.Parts {
			part := a.Parts[index]
			for n := range w.Pieces {
				mark := part.Mark
				if copies > 1 {
					mark = fmt.Sprintf("%d.%s", c+1, mark)
				}
				if word != "" {
					mark += fmt.Sprintf(" %s %d", word, n+1)
				}
				j.items[k].labels = append(j.items[k].labels, label{mark, part.Name})
			}
		}
	}
}

// cheapest returns the way whose timber costs least by area, before the boards are laid out. Free timber on hand counts
// with the price of the same thickness at the yard, so that it does not tempt into a bad build. Ways that glue more are
// chosen only when they cost a tenth less: gluing is work.
//
// planingShare is added for each millimetre that is planed away. Judgement: a pass of the planer takes about a millimetre
// and as long as walking to the yard for better timber.
//
// A way whose pieces no board is long enough for, or too few boards on hand, is taken only when all are like that; the plan
// then says what is missing.
func cheapest(ways []blank.Way, g blank.Group, s shop.Shop, copies int) (blank.Way, bool) {
	const workShare, planingShare = 1.1, 0.05
	best, bestCost, found := blank.Way{}, 0.0, false
	suffices := func(w blank.Way) bool {
		return holds(stocks(jobKey{g.Species, w.Stock, w.Rough}, s), w, s) >= w.Pieces*len(g.Parts)*copies
	}
	if slices.ContainsFunc(ways, suffices) {
		ways = slices.DeleteFunc(slices.Clone(ways), func(w blank.Way) bool { return !suffices(w) })
	}
	for _, w := range ways {
		rate, ok := areaPrice(s, g.Species, w.Stock)
		if !ok {
			rate = 1e6 // timber on hand only: taken when nothing else serves
		}
		cost := rate * float64(unit.Area(w.Length, w.Width)) * float64(w.Pieces)
		cost *= 1 + planingShare*(w.Stock-w.Planed).MM()
		if w.Build != blank.OneBoard {
			cost *= workShare
		}
		if !found || cost < bestCost {
			best, bestCost, found = w, cost, true
		}
	}
	return best, found
}

// holds returns how many pieces of a way the boards could give if they gave nothing else.
func holds(boards []stock, w blank.Way, s shop.Shop) int {
	total := 0
	for _, st := range boards {
		along := (st.board.Length - 2*s.Habits.EndTrim + s.Habits.Kerf) / (w.Length + s.Habits.Kerf)
		across := (st.board.Width + s.Habits.Kerf) / (w.Width + s.Habits.Kerf)
		if along <= 0 || across <= 0 {
			continue
		}
		if st.count == guillotine.Unlimited {
			return math.MaxInt32
		}
		total += int(along*across) * st.count
	}
	return total
}

// areaPrice returns the lowest price of a square metre of timber of a thickness, in cents.
func areaPrice(s shop.Shop, species string, thickness unit.Length) (float64, bool) {
	best, found := 0.0, false
	for _, t := range s.Timber {
		if t.Species != species || t.Thickness != thickness || t.Panel {
			continue
		}
		for _, piece := range t.Pieces {
			if !piece.Priced {
				continue
			}
			if rate := float64(piece.Price) / float64(unit.Area(piece.Length, t.Width)); !found || rate < best {
				best, found = rate, true
			}
		}
	}
	return best, found
}

// noTimber says why a part cannot be got from the shop's timber.
func noTimber(g blank.Group, s shop.Shop) Finding {
	f := Finding{Where: g.Name,
		What:   fmt.Sprintf("no timber gives the %s: it needs %s × %s × %s finished", g.Name, g.Length.Show(s.Family), g.Width.Show(s.Family), g.Thick.Show(s.Family)),
		Advice: "add thicker or wider timber of that species to the shop's timber list, or change the size"}
	if g.Build != "" {
		f.Advice = fmt.Sprintf("the description asks for %s; leave build: out, or add timber that allows it", g.Build)
	}
	return f
}

// buyList gathers the boards to buy by name and length.
func (p *Plan) buyList() {
	for _, b := range p.Boards {
		if b.Source != Buy {
			continue
		}
		k := slices.IndexFunc(p.Buy, func(x Purchase) bool { return x.Name == b.Name && x.Length == b.Length })
		if k < 0 {
			p.Buy = append(p.Buy, Purchase{Name: b.Name, Length: b.Length, Each: b.Price, Priced: b.Price > 0})
			k = len(p.Buy) - 1
		}
		p.Buy[k].Count++
		p.Buy[k].Total += b.Price
		p.Cost += b.Price
	}
	slices.SortFunc(p.Buy, func(a, b Purchase) int { return cmp.Or(cmp.Compare(a.Name, b.Name), cmp.Compare(a.Length, b.Length)) })
}

// kept says how many of the parts made of several pieces have all of them from one board.
func kept(boards []Board) string {
	of := map[string][]int{}
	var parts []string
	for i, b := range boards {
		for _, area := range b.Areas {
			if area.Kind != PartArea {
				continue
			}
			mark, _, _ := strings.Cut(area.Label, " ") // one part of one copy
			if of[mark] == nil {
				parts = append(parts, mark)
			}
			of[mark] = append(of[mark], i)
		}
	}
	glued, together := 0, 0
	for _, part := range parts {
		from := of[part]
		if len(from) < 2 {
			continue
		}
		glued++
		if slices.Min(from) == slices.Max(from) {
			together++
		}
	}
	if glued == 0 {
		return ""
	}
	return fmt.Sprintf("%d of %d glued-up parts have all their pieces from one board", together, glued)
}
