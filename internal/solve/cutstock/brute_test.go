package cutstock_test

import (
	"fmt"
	"testing"

	"longgrain/internal/solve/cutstock"
)

// enumeration finds the least cost by trying every pattern for the first item that is still needed. It shares no code
// with the package but the rules of the instance.
type enumeration struct {
	in   cutstock.Instance
	memo map[string]int64
}

const noPlan = int64(1) << 60

func leastCost(in cutstock.Instance) int64 {
	e := enumeration{in: in, memo: map[string]int64{}}
	var need, free []int64
	for _, it := range in.Items {
		need = append(need, it.Demand)
	}
	for _, st := range in.Stock {
		free = append(free, st.Available)
	}
	return e.least(need, free)
}

func (e *enumeration) least(need, free []int64) int64 {
	first := 0
	for first < len(need) && need[first] == 0 {
		first++
	}
	if first == len(need) {
		return 0
	}
	key := fmt.Sprint(need, free)
	if v, ok := e.memo[key]; ok {
		return v
	}
	best := noPlan
	for s := range free {
		if free[s] == 0 {
			continue
		}
		free[s]--
		e.fill(s, first, first, 0, 0, need, free, &best)
		free[s]++
	}
	e.memo[key] = best
	return best
}

// fill tries every number of item i and later ones on a piece of stock s that must hold item first.
func (e *enumeration) fill(s, first, i int, length, count int64, need, free []int64, best *int64) {
	if i == len(need) {
		cost := e.in.Stock[s].Cost - e.in.LeftoverValue(s, e.in.Remainder(s, length, count))
		if rest := e.least(need, free); rest < noPlan {
			*best = min(*best, cost+rest)
		}
		return
	}
	for q := int64(0); q <= need[i]; q++ {
		l, n := length+q*e.in.Items[i].Length, count+q
		if n > 0 && l+(n-1)*e.in.Kerf > e.in.UsableLength(s) {
			break
		}
		if i == first && q == 0 {
			continue
		}
		need[i] -= q
		e.fill(s, first, i+1, l, n, need, free, best)
		need[i] += q
	}
}

func TestSmallInstancesAreSolvedLikeEnumerationDoes(t *testing.T) {
	n := 3000
	if testing.Short() {
		n = 400
	}
	open := 0
	for seed := range n {
		in := newGenerator(int64(seed)).small()
		sol := solve(t, in, cutstock.Options{Effort: 50_000_000})
		want := leastCost(in)
		switch {
		case want == noPlan && sol.Status != cutstock.Infeasible:
			t.Errorf("seed %d: %s, cost %d; there is no plan: %+v", seed, sol.Status, sol.Cost, in)
		case want == noPlan:
		case !sol.Solved():
			t.Errorf("seed %d: %s (%s); a plan costs %d: %+v", seed, sol.Status, sol.Reason, want, in)
		case sol.Bound > want || sol.Cost < want:
			t.Errorf("seed %d: cost %d, bound %d; the least cost is %d: %+v", seed, sol.Cost, sol.Bound, want, in)
		case sol.Status != cutstock.Optimal:
			open++
			t.Logf("seed %d: cost %d, bound %d, least %d", seed, sol.Cost, sol.Bound, want)
		}
	}
	t.Logf("%d of %d not proven", open, n)
}
