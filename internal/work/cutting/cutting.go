// Package cutting decides which board gives which part: it chooses among the ways to get each part, buys timber,
// uses what is on hand first, and returns a diagram of every board with its cuts in sawing order.
//
// The ways of all parts are decided together, by what the whole job costs (decide.go). The arithmetic is that of the
// solvers in solve/cutstock (pieces as wide as the board) and solve/guillotine (rip and crosscut); this package
// translates, and says in words what they prove. Timber that does not suffice is a finding that names the part, its rough
// size and the largest board. What stays over is listed with its worth and not thrown away. docs/methods/boards.md has
// the rules.
package cutting

import (
	"cmp"
	"context"
	"slices"

	"longgrain/internal/design/assembly"
	"longgrain/internal/ground/unit"
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
	Rough     bool        `json:"rough,omitempty"`
	Panel     bool        `json:"panel,omitempty"` // glued by its maker
	Condition string      `json:"condition,omitempty"`
	Price     unit.Money  `json:"price"`
	Priced    bool        `json:"priced"` // false where the shop file gives no price
	Areas     []Area      `json:"areas"`
	Cuts      []Cut       `json:"cuts"`  // in sawing order
	Waste     float64     `json:"waste"` // share of the board that is neither part nor usable offcut

	index int // of the timber, board or offcut in the shop
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
	Milled bool        `json:"milled,omitempty"` // made after planing and jointing: the pieces are too short for the machines
}

// Purchase is a line of the buy list.
type Purchase struct {
	Name      string      `json:"name"`
	Species   string      `json:"species"`
	Thickness unit.Length `json:"thickness"`
	Width     unit.Length `json:"width"`
	Length    unit.Length `json:"length"`
	Rough     bool        `json:"rough,omitempty"`
	Panel     bool        `json:"panel,omitempty"`
	Condition string      `json:"condition,omitempty"`
	Count     int         `json:"count"`
	Each      unit.Money  `json:"each"`
	Total     unit.Money  `json:"total"`
	Priced    bool        `json:"priced"`
	Spare     int         `json:"spare,omitempty"` // how many more to ask for, in case one is bad
}

// Finding is something that the timber does not allow.
type Finding struct {
	What   string `json:"what"`
	Where  string `json:"where"`
	Advice string `json:"advice"`
}

// Plan is the whole cutting plan. Costs are counted as docs/methods/boards.md says: timber to buy at its price, boards on hand at
// a fiftieth of it, offcuts at nothing.
type Plan struct {
	Groups []blank.Group `json:"groups"`
	Ways   []blank.Way   `json:"ways"` // the chosen way of each group; Pieces is 0 where none is possible
	Boards []Board       `json:"boards"`
	Buy    []Purchase    `json:"buy"`
	Cost   unit.Money    `json:"cost"`   // of the boards that are bought
	Bound  unit.Money    `json:"bound"`  // no plan with these ways costs less
	Gap    unit.Money    `json:"gap"`    // how much cheaper one could be at most
	Proven bool          `json:"proven"` // no plan with these ways is cheaper

	Counted unit.Money `json:"counted"` // what the plan comes to with the rack and the work of gluing and planing counted
	Tried   int        `json:"tried"`   // sets of ways that were worked out
	AnyGap  unit.Money `json:"anyGap"`  // how much cheaper a plan with any ways could be at most, gluing and planing counted
	AllWays bool       `json:"allWays"` // every set of ways was worked out or is known to be dearer

	Rest     []Rest     `json:"rest"`     // what stays over and is worth keeping
	Worth    unit.Money `json:"worth"`    // of what stays over, by the rule
	Kept     string     `json:"kept"`     // how well the strips of one part come from one board, in words
	Unpriced []string   `json:"unpriced"` // timber in the plan without a price in the shop file
	Notes    []string   `json:"notes"`    // what to mind about the timber
	Findings []Finding  `json:"findings,omitempty"`
}

// Options are what a plan may be made with beside its input.
type Options struct {
	// Progress, if not nil, is called when a cheaper set of ways is found and when a job is done: how many sets were worked out,
	// and what the best costs so far, work counted.
	Progress func(tried int, cost unit.Money)
	// Quick leaves out what only compares good plans with care and looks for better ones: a plan for a hand that is still moving
	// sizes, some per cent dearer at times. Its bound holds.
	Quick bool
}

// Make plans the boards for an assembly. copies is how many pieces are made at once. ctx may end the search early;
// the plan is then the best so far.
func Make(ctx context.Context, a assembly.Assembly, s shop.Shop, copies int) Plan {
	return MakeWith(ctx, a, s, copies, Options{})
}

// MakeWith is Make with options.
func MakeWith(ctx context.Context, a assembly.Assembly, s shop.Shop, copies int, opt Options) Plan {
	p := Plan{Groups: blank.Groups(a), Proven: true, Rest: []Rest{}, Unpriced: []string{}, Notes: []string{}}
	p.Ways = make([]blank.Way, len(p.Groups))
	d := newDecision(a, s, copies, p.Groups, opt)
	for i := range p.Groups {
		if len(d.ways[i]) == 0 {
			p.Findings = append(p.Findings, noTimber(p.Groups[i], s))
		}
	}
	d.search(ctx)
	for i, w := range d.best {
		if w >= 0 {
			p.Ways[i] = d.ways[i][w]
		}
	}
	p.Tried = d.tried
	for _, j := range d.jobs(d.best) {
		r := d.memo[j.key()]
		if !opt.Quick {
			r = j.finish(ctx, s, r)
		}
		p.Findings = append(p.Findings, r.findings...)
		p.Boards = append(p.Boards, r.boards...)
		p.Bound += r.bound
		p.Gap += r.value - r.bound
		p.Proven = p.Proven && r.proven()
	}
	d.prove(&p)
	p.buyList(s)
	p.rest(s)
	p.Kept = kept(p.Boards)
	p.mind(a, s)
	return p
}

// buyList gathers the boards to buy by name and length, and the money.
func (p *Plan) buyList(s shop.Shop) {
	for _, b := range p.Boards {
		if b.Source != Buy {
			continue
		}
		k := slices.IndexFunc(p.Buy, func(x Purchase) bool {
			return x.Name == b.Name && x.Species == b.Species && x.Length == b.Length && x.Rough == b.Rough && x.Panel == b.Panel && x.Condition == b.Condition
		})
		if k < 0 {
			p.Buy = append(p.Buy, Purchase{Name: b.Name, Species: b.Species, Thickness: b.Thickness, Width: b.Width, Length: b.Length, Rough: b.Rough, Panel: b.Panel,
				Condition: b.Condition, Each: b.Price, Priced: b.Priced})
			k = len(p.Buy) - 1
		}
		p.Buy[k].Count++
		p.Buy[k].Total += b.Price
		p.Cost += b.Price
		if name := b.Name; !b.Priced && !slices.Contains(p.Unpriced, name) {
			p.Unpriced = append(p.Unpriced, name)
		}
	}
	slices.SortStableFunc(p.Buy, func(a, b Purchase) int {
		return cmp.Or(cmp.Compare(a.Thickness, b.Thickness), cmp.Compare(a.Width, b.Width), cmp.Compare(a.Name, b.Name), cmp.Compare(a.Length, b.Length))
	})
	for k := range p.Buy {
		p.Buy[k].Spare = spare(p.Buy[k])
	}
}

// sparePerBoards is one spare board for so many of a kind. Judgement: a bad knot or twist shows in one of ten knotty boards
// when they are planed; clear boards and panels need none.
const sparePerBoards = 10

func spare(x Purchase) int {
	if x.Panel || x.Condition == "clear" {
		return 0
	}
	return (x.Count + sparePerBoards/2) / sparePerBoards
}
