package guillotine

import (
	"fmt"
	"math/bits"
)

// Status says how much is known about a Solution.
type Status int8

const (
	Optimal  Status = iota // the plan is complete and its value equals the bound
	Feasible               // the plan is complete; Gap says how far from the bound
	NoPlan                 // no complete plan was found; Sheets hold a partial one, Missing what it lacks
	Invalid                // Faults say what is wrong with the instance
)

// String returns the English word.
func (s Status) String() string {
	return [...]string{"optimal", "feasible", "no plan", "invalid"}[s]
}

// Use says what a plate that is not divided becomes.
type Use int8

const (
	Waste  Use = iota
	Item       // the part Plate.Part
	Offcut     // waste large enough to be credited, see Leftover
)

// Plate is a node of a cut tree. Coordinates are those of the untrimmed piece of stock, origin at the lower left.
// When Cut is not NoCut, Children lie in rising X (vertical cuts) or Y (horizontal cuts), one Kerf apart, and fill the
// plate; the last blade width may be missing at the far end. A plate with one child of its own size passes a stage
// without a cut.
type Plate struct {
	X, Y, W, H int
	Cut        Direction
	Children   []Plate
	Use        Use
	Part       int // index into Instance.Parts when Use is Item, otherwise -1
	Turned     bool
}

// Sheet is one piece of stock and how it is cut. Root is the piece without its margins.
type Sheet struct {
	Stock int // index into Instance.Stock
	Root  Plate
}

// Solution is a plan with what is known about its quality.
type Solution struct {
	Status Status
	Sheets []Sheet
	// Value is the cost of the stock used less the credit for leftovers (MinCost), or the profit (MaxProfit).
	Value int64
	// Bound: no plan costs less (MinCost) or earns more (MaxProfit). It is proven whatever the Status.
	Bound   int64
	Missing []int // copies of each part not in the plan; nil if none
	Faults  []Fault
}

// Gap returns |Value - Bound| / Value, zero for an optimal plan. Without a complete plan it is 1.
func (s Solution) Gap() float64 {
	switch {
	case s.Status == NoPlan || s.Status == Invalid:
		return 1
	case s.Value == s.Bound:
		return 0
	case s.Value == 0:
		return 1
	}
	gap := float64(s.Value-s.Bound) / float64(s.Value)
	return max(gap, -gap)
}

// Walk calls visit for the plate and everything below it, in sawing order.
func (p Plate) Walk(visit func(Plate)) {
	visit(p)
	for _, child := range p.Children {
		child.Walk(visit)
	}
}

// Counts returns how often each part occurs in the sheets.
func Counts(in Instance, sheets []Sheet) []int {
	counts := make([]int, len(in.Parts))
	for _, s := range sheets {
		s.Root.Walk(func(p Plate) {
			if p.Use == Item {
				counts[p.Part]++
			}
		})
	}
	return counts
}

// credit returns what a plate of w x h left over from a piece of stock is worth.
//
//	floor(C * r * w * h / (1000 * W * H)) if w >= MinW and h >= MinH, else 0
//
// C is the cost and W, H the size of the stock, r the Permille of the rule. Own rule, see Leftover.
func (l Leftover) credit(s Stock, w, h int) int64 {
	if l.Permille == 0 || w <= 0 || h <= 0 || w < l.MinW || h < l.MinH {
		return 0
	}
	hi, lo := bits.Mul64(uint64(s.Cost)*uint64(l.Permille), uint64(w)*uint64(h))
	worth, _ := bits.Div64(hi, lo, 1000*uint64(s.W)*uint64(s.H))
	return int64(worth)
}

// value returns the cost or the profit of complete sheets.
func (in Instance) value(sheets []Sheet) int64 {
	if in.Objective == MaxProfit {
		total := int64(0)
		for i, n := range Counts(in, sheets) {
			total += int64(n) * in.Parts[i].Profit
		}
		return total
	}
	total := int64(0)
	for n, s := range sheets {
		total += in.Stock[s.Stock].Cost - in.sheetCredit(s, n == len(sheets)-1)
	}
	return total
}

// sheetCredit returns the credit for the leftovers of one sheet.
func (in Instance) sheetCredit(s Sheet, last bool) int64 {
	rule, stock := in.Leftover, in.Stock[s.Stock]
	if rule.LastOnly {
		if n := len(s.Root.Children); last && n > 0 && s.Root.Children[n-1].Use == Offcut {
			end := s.Root.Children[n-1]
			return rule.credit(stock, end.W, end.H)
		}
		return 0
	}
	total := int64(0)
	s.Root.Walk(func(p Plate) {
		if p.Use == Offcut {
			total += rule.credit(stock, p.W, p.H)
		}
	})
	return total
}

// String returns one line: status, value, bound, gap and number of sheets.
func (s Solution) String() string {
	return fmt.Sprintf("%v: value %d, bound %d, gap %.2f %%, %d sheets", s.Status, s.Value, s.Bound, 100*s.Gap(), len(s.Sheets))
}
