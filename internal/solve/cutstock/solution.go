package cutstock

import (
	"fmt"
	"math"
)

// Status says how far an answer goes.
type Status int

const (
	// Invalid: the instance makes no sense; Reason names the value.
	Invalid Status = iota
	// Infeasible: it is proven that no plan exists; Reason says why.
	Infeasible
	// Stopped: the limit was reached before a plan was found; whether one exists is open.
	Stopped
	// Feasible: there is a plan; Bound says how much cheaper another one could be at most.
	Feasible
	// Optimal: there is a plan and it is proven that none is cheaper.
	Optimal
)

var statusNames = [...]string{"invalid", "infeasible", "stopped", "feasible", "optimal"}

func (s Status) String() string { return statusNames[s] }

// Cut is a number of equal items cut from one piece of stock.
type Cut struct {
	Item  int // index into Instance.Items
	Count int64
}

// Layout is a number of equal pieces of stock that are cut alike.
type Layout struct {
	Stock     int // index into Instance.Stock
	Count     int64
	Cuts      []Cut // in the order of cutting, longest item first
	Remainder int64 // length left over on each piece, see Instance.Remainder
}

// Solution is an answer to an instance.
type Solution struct {
	Status  Status
	Reason  string   // for Invalid and Infeasible
	Layouts []Layout // for Feasible and Optimal; sorted by stock, then by cuts
	Cost    int64    // prices less the value of leftovers
	Bound   int64    // no plan costs less than this
	Effort  int64    // elementary steps spent, see Options.Effort
}

// Solved reports whether the answer holds a plan.
func (s *Solution) Solved() bool { return s.Status == Feasible || s.Status == Optimal }

// Gap returns the share of the cost that is not proven to be necessary: (cost - bound) / cost, 0 when nothing is
// spent, NaN without a plan.
func (s *Solution) Gap() float64 {
	switch {
	case !s.Solved():
		return math.NaN()
	case s.Cost == s.Bound || s.Cost == 0:
		return 0
	}
	return float64(s.Cost-s.Bound) / math.Abs(float64(s.Cost))
}

// Verify re-adds a plan from its layouts and returns the first thing that is wrong with it, or nil. It adds the
// lengths, the kerf and the trim of every layout, the pieces taken of each stock, the items cut, the remainders and
// the cost, and checks that bound and status agree with the cost. It does not check that the bound is true. A
// solution without a plan is right when it claims no cost and holds no layouts.
func Verify(in Instance, sol Solution) error {
	if !sol.Solved() {
		if len(sol.Layouts) != 0 {
			return fmt.Errorf("status %s with %d layouts", sol.Status, len(sol.Layouts))
		}
		return nil
	}
	taken := make([]int64, len(in.Stock))
	cut := make([]int64, len(in.Items))
	cost := int64(0)
	for n, lay := range sol.Layouts {
		if err := verifyLayout(&in, lay); err != nil {
			return fmt.Errorf("layout %d: %w", n+1, err)
		}
		taken[lay.Stock] += lay.Count
		for _, c := range lay.Cuts {
			cut[c.Item] += c.Count * lay.Count
		}
		cost += lay.Count * (in.Stock[lay.Stock].Cost - in.LeftoverValue(lay.Stock, lay.Remainder))
	}
	for s, n := range taken {
		if a := in.Stock[s].Available; a != Unlimited && n > a {
			return fmt.Errorf("%s: %d pieces taken, %d available", nameOf("stock", in.Stock[s].ID, s), n, a)
		}
	}
	for i, n := range cut {
		if n != in.Items[i].Demand {
			return fmt.Errorf("%s: %d pieces cut, %d asked for", nameOf("item", in.Items[i].ID, i), n, in.Items[i].Demand)
		}
	}
	switch {
	case cost != sol.Cost:
		return fmt.Errorf("cost is given as %d and adds up to %d", sol.Cost, cost)
	case sol.Bound > sol.Cost:
		return fmt.Errorf("bound %d lies above the cost %d", sol.Bound, sol.Cost)
	case (sol.Status == Optimal) != (sol.Bound == sol.Cost):
		return fmt.Errorf("status %s with cost %d and bound %d", sol.Status, sol.Cost, sol.Bound)
	}
	return nil
}

// verifyLayout saws one piece of stock step by step: trim, then item and kerf in turn, then trim.
func verifyLayout(in *Instance, lay Layout) error {
	if lay.Stock < 0 || lay.Stock >= len(in.Stock) {
		return fmt.Errorf("no stock %d", lay.Stock)
	}
	if lay.Count <= 0 {
		return fmt.Errorf("count %d", lay.Count)
	}
	if len(lay.Cuts) == 0 {
		return fmt.Errorf("nothing is cut from it")
	}
	end := in.Stock[lay.Stock].Length - in.Trim
	at, length, count := in.Trim, int64(0), int64(0)
	for _, c := range lay.Cuts {
		if c.Item < 0 || c.Item >= len(in.Items) {
			return fmt.Errorf("no item %d", c.Item)
		}
		if c.Count <= 0 {
			return fmt.Errorf("%d cuts of %s", c.Count, nameOf("item", in.Items[c.Item].ID, c.Item))
		}
		for range c.Count {
			if count > 0 {
				at += in.Kerf
			}
			at += in.Items[c.Item].Length
			length += in.Items[c.Item].Length
			count++
			if at > end {
				return fmt.Errorf("%s ends at %d, the usable stock at %d", nameOf("item", in.Items[c.Item].ID, c.Item), at, end)
			}
		}
	}
	if want := max(0, end-at-in.Kerf); want != lay.Remainder {
		return fmt.Errorf("remainder is given as %d and is %d", lay.Remainder, want)
	}
	return nil
}
