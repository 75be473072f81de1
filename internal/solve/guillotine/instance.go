package guillotine

import (
	"fmt"
	"sort"
)

// Direction is the direction of a cutting line. A horizontal cut divides the height of a plate, a vertical one its width.
type Direction int8

const (
	NoCut      Direction = iota // in a Plate: not divided; in Cutting.First: the solver chooses per piece of stock
	Horizontal                  // the line is y = constant; the pieces lie above each other
	Vertical                    // the line is x = constant; the pieces lie side by side
)

// String returns the English word.
func (d Direction) String() string {
	return [...]string{"none", "horizontal", "vertical"}[d]
}

// across returns the other direction.
func (d Direction) across() Direction { return Horizontal + Vertical - d }

// LastCut says which one further cut a piece of the last stage may get.
type LastCut int8

const (
	TrimmingCut LastCut = iota // one cut that leaves one part and waste ("non-exact" in the literature)
	NoLastCut                  // none: the pieces of the last stage are parts or waste ("exact")
	PairCut                    // one cut that leaves two parts, or one part and waste
)

// Objective says what is optimised.
type Objective int8

const (
	MinCost   Objective = iota // all demand met by the cheapest stock, leftovers credited
	MaxProfit                  // most profit from one piece of the only stock kind; demand is an upper limit
)

// Unlimited as Stock.Count: as many pieces as needed. As Cutting.Stages: any number of stages.
const Unlimited = -1

// Instance is one cutting problem. It is read-only to this package. Choose the unit as coarse as the saw can be set, whole
// millimetres for boards: with more than maxPoints different sums of sizes along a board the methods fall back on a grid
// of positions, and both plan and bound get worse.
type Instance struct {
	Parts     []Part
	Stock     []Stock
	Kerf      int // width of material every cut destroys; a remainder narrower than it is destroyed with it
	Cuts      Cutting
	Objective Objective
	Leftover  Leftover
	// InOrder makes stock be used up in the order listed, without leaving one out, and parts with the same positive
	// Stack number be cut in the order listed (sheets in order, within a sheet by position in the tree).
	InOrder bool
}

// Part is a rectangle to be cut Demand times.
type Part struct {
	ID      string
	W, H    int
	Demand  int
	MayTurn bool  // may be turned by 90 degrees (no grain)
	Profit  int64 // of one copy, MaxProfit only
	Stack   int   // see Instance.InOrder; 0 means no order
}

// Stock is one kind of rectangle to cut from.
type Stock struct {
	ID   string
	W, H int
	Cost int64 // of one piece, MinCost only; zero is a free piece
	// Count is the number of pieces on hand, or Unlimited.
	Count int
	Trim  Margins
	// Defects in coordinates of the untrimmed piece, origin at the lower left. They sit in every piece of this kind,
	// so a kind with defects usually has Count 1.
	Defects []Rect
}

// Margins are removed from the four sides before the first stage, blade included.
type Margins struct{ Left, Right, Bottom, Top int }

// Rect is an axis-parallel rectangle with its lower left corner at X, Y.
type Rect struct{ X, Y, W, H int }

// Cutting says which trees of cuts are allowed.
type Cutting struct {
	// Stages is the number of times parallel cuts are made: 2, 3 or Unlimited. Trimming the margins is not a stage.
	Stages int
	First  Direction // of the first stage; NoCut leaves the choice per piece of stock
	Last   LastCut   // no meaning with Unlimited stages
	// Limits on strips, zero meaning none: size across of the pieces of the first and second stage (waste excepted),
	// and the least size across of any waste piece.
	MinFirst, MaxFirst, MinSecond, MinWaste int
	// AroundDefects forbids cutting lines through the inside of a defect (glass). Parts never contain one in any case.
	AroundDefects bool
}

// Leftover is the rule by which unused material is credited. A waste plate of at least MinW x MinH is worth
//
//	floor(stock cost * Permille * plate area / (1000 * stock area))
//
// Permille 0 switches the credit off. With LastOnly only the last piece of stock counts, and of it only what lies
// behind the last cut of the first stage.
type Leftover struct {
	MinW, MinH int
	Permille   int
	LastOnly   bool
}

// Fault is something wrong with an instance or a plan: where, and what.
type Fault struct{ Path, Message string }

// String joins path and message.
func (f Fault) String() string { return f.Path + ": " + f.Message }

// limits that keep every sum inside int64 and tables in memory.
const (
	maxSize   = 10_000_000
	maxDemand = 1_000_000
	maxMoney  = 10_000_000_000
)

// Check returns everything that makes the instance meaningless or certain to have no plan, in order of position.
// A demand larger than the stock on hand is not found here unless the area alone shows it.
func (in Instance) Check() []Fault {
	var faults []Fault
	add := func(path, format string, args ...any) {
		faults = append(faults, Fault{path, fmt.Sprintf(format, args...)})
	}
	if in.Kerf < 0 || in.Kerf > maxSize {
		add("kerf", "must be between 0 and %d, is %d", maxSize, in.Kerf)
	}
	if s := in.Cuts.Stages; s != 2 && s != 3 && s != Unlimited {
		add("cuts.stages", "must be 2, 3 or Unlimited, is %d", s)
	}
	if l := in.Leftover; l.Permille < 0 || l.Permille > 1000 {
		add("leftover.permille", "must be between 0 and 1000, is %d", l.Permille)
	}
	if len(in.Parts) == 0 {
		add("parts", "there is no part")
	}
	if len(in.Stock) == 0 {
		add("stock", "there is no stock")
	}
	if in.Objective == MaxProfit && len(in.Stock) > 1 {
		add("stock", "profit is earned on one kind of stock, there are %d", len(in.Stock))
	}
	for k, s := range in.Stock {
		s.check(fmt.Sprintf("stock[%d]", k), add)
	}
	for i, p := range in.Parts {
		p.check(fmt.Sprintf("parts[%d]", i), add)
	}
	if len(faults) > 0 {
		return faults
	}
	for i, p := range in.Parts {
		if in.Objective == MinCost && p.Demand > 0 && !in.fitsSomewhere(p) {
			add(fmt.Sprintf("parts[%d]", i), "part %s, %d x %d, is larger than every piece of stock after trimming", p.ID, p.W, p.H)
		}
	}
	if len(faults) == 0 && in.Objective == MinCost && !in.enoughArea() {
		add("stock", "the parts have more area than all stock on hand")
	}
	return faults
}

func (s Stock) check(path string, add func(path, format string, args ...any)) {
	if s.W <= 0 || s.H <= 0 || s.W > maxSize || s.H > maxSize {
		add(path, "stock %s must have sizes between 1 and %d, is %d x %d", s.ID, maxSize, s.W, s.H)
		return
	}
	if s.Cost < 0 || s.Cost > maxMoney {
		add(path+".cost", "must be between 0 and %d, is %d", int64(maxMoney), s.Cost)
	}
	if s.Count < 0 && s.Count != Unlimited {
		add(path+".count", "must not be negative, is %d", s.Count)
	}
	t := s.Trim
	if t.Left < 0 || t.Right < 0 || t.Bottom < 0 || t.Top < 0 {
		add(path+".trim", "must not be negative")
	} else if t.Left+t.Right >= s.W || t.Bottom+t.Top >= s.H {
		add(path+".trim", "leaves nothing of stock %s, %d x %d", s.ID, s.W, s.H)
	}
	for j, d := range s.Defects {
		if d.W <= 0 || d.H <= 0 || d.X < 0 || d.Y < 0 || d.X+d.W > s.W || d.Y+d.H > s.H {
			add(fmt.Sprintf("%s.defects[%d]", path, j), "must be a rectangle inside stock %s, %d x %d", s.ID, s.W, s.H)
		}
	}
}

func (p Part) check(path string, add func(path, format string, args ...any)) {
	if p.W <= 0 || p.H <= 0 || p.W > maxSize || p.H > maxSize {
		add(path, "part %s must have sizes between 1 and %d, is %d x %d", p.ID, maxSize, p.W, p.H)
	}
	if p.Demand < 0 || p.Demand > maxDemand {
		add(path+".demand", "must be between 0 and %d, is %d", maxDemand, p.Demand)
	}
	if p.Profit < 0 || p.Profit > maxMoney {
		add(path+".profit", "must be between 0 and %d, is %d", int64(maxMoney), p.Profit)
	}
}

// usable returns the piece of stock without its margins.
func (s Stock) usable() Rect {
	return Rect{s.Trim.Left, s.Trim.Bottom, s.W - s.Trim.Left - s.Trim.Right, s.H - s.Trim.Bottom - s.Trim.Top}
}

func (in Instance) fitsSomewhere(p Part) bool {
	for _, s := range in.Stock {
		u := s.usable()
		if s.Count != 0 && (p.W <= u.W && p.H <= u.H || p.MayTurn && p.H <= u.W && p.W <= u.H) {
			return true
		}
	}
	return false
}

func (in Instance) enoughArea() bool {
	need := 0.0
	for _, p := range in.Parts {
		need += float64(p.Demand) * float64(p.W) * float64(p.H)
	}
	have := 0.0
	for _, s := range in.Stock {
		if s.Count == Unlimited {
			return true
		}
		u := s.usable()
		have += float64(s.Count) * float64(u.W) * float64(u.H)
	}
	return have >= need
}

// demands returns the demand of every part.
func (in Instance) demands() []int {
	d := make([]int, len(in.Parts))
	for i, p := range in.Parts {
		d[i] = p.Demand
	}
	return d
}

// shape is one way to lay a part: as drawn or turned. Sizes include one blade width, so that shapes and plates grown
// by one blade width can be cut as if the blade were a line: w + k = (a + k) + (b + k) when w = a + k + b.
type shape struct {
	part   int
	w, h   int
	turned bool
}

// shapes returns the ways to lay all parts that are wanted, in order of parts.
func (in Instance) shapes() []shape {
	var out []shape
	for i, p := range in.Parts {
		if p.Demand == 0 {
			continue
		}
		out = append(out, shape{part: i, w: p.W + in.Kerf, h: p.H + in.Kerf})
		if p.MayTurn && p.W != p.H {
			out = append(out, shape{part: i, w: p.H + in.Kerf, h: p.W + in.Kerf, turned: true})
		}
	}
	return out
}

// maxPoints bounds the positions a table of strips is built over. Every board in whole millimetres stays below it.
const maxPoints = 4096

// sums returns, in rising order, every sum of whole multiples of the sizes (each at most limit[i] times) that does not
// exceed the capacity, and the capacity itself. These are the only positions a cut needs ("normal patterns", Herz 1972).
// With more than maxPoints sums it returns an even grid instead and exact is false.
func sums(sizes, limit []int, capacity int) (points []int, exact bool) {
	reach := make([]bool, capacity+1)
	reach[0] = true
	points = []int{0}
	for i, size := range sizes {
		front := points
		for n := 0; n < limit[i] && len(front) > 0; n++ {
			var next []int
			for _, p := range front {
				if q := p + size; q <= capacity && !reach[q] {
					reach[q] = true
					next = append(next, q)
				}
			}
			points = append(points, next...) // front ends before what is appended
			front = next
			if len(points) > maxPoints {
				return grid(capacity), false
			}
		}
	}
	if !reach[capacity] {
		points = append(points, capacity)
	}
	sort.Ints(points)
	return points, true
}

// grid returns maxPoints positions evenly spread from 0 to the capacity.
func grid(capacity int) []int {
	points := make([]int, maxPoints)
	for i := range points {
		points[i] = int(int64(capacity) * int64(i) / (maxPoints - 1))
	}
	return points
}
