package cutstock_test

import (
	"context"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"longgrain/internal/solve/cutstock"
)

// solve runs the solver and fails the test when the plan does not add up.
func solve(t testing.TB, in cutstock.Instance, opt cutstock.Options) cutstock.Solution {
	t.Helper()
	sol := cutstock.Solve(context.Background(), in, opt)
	if err := cutstock.Verify(in, sol); err != nil {
		t.Fatalf("plan does not add up: %v", err)
	}
	return sol
}

// board and part make short instances readable.
func board(length, cost, available int64) cutstock.Stock {
	return cutstock.Stock{ID: "board", Length: length, Cost: cost, Available: available}
}

func part(id string, length, demand int64) cutstock.Item {
	return cutstock.Item{ID: id, Length: length, Demand: demand}
}

func TestWorkedExamples(t *testing.T) {
	const many = cutstock.Unlimited
	for _, tc := range []struct {
		name string
		in   cutstock.Instance
		cost int64
	}{
		{"nothing asked for costs nothing", cutstock.Instance{}, 0},
		{"three parts and two kerfs end where the board ends", cutstock.Instance{
			Stock: []cutstock.Stock{board(1000, 7, many)}, Items: []cutstock.Item{part("A", 330, 3)}, Kerf: 5}, 7},
		{"a kerf wider by one needs a second board", cutstock.Instance{
			Stock: []cutstock.Stock{board(1000, 7, many)}, Items: []cutstock.Item{part("A", 330, 3)}, Kerf: 6}, 14},
		{"both ends are trimmed", cutstock.Instance{
			Stock: []cutstock.Stock{board(1000, 7, many)}, Items: []cutstock.Item{part("A", 330, 3)}, Kerf: 1, Trim: 5}, 14},
		{"a dearer long board is cheaper than two short ones", cutstock.Instance{
			Stock: []cutstock.Stock{board(1000, 10, many), board(2000, 19, many)},
			Items: []cutstock.Item{part("A", 900, 1), part("B", 700, 1)}}, 19},
		{"a cheap offcut is used before a board is bought", cutstock.Instance{
			Stock: []cutstock.Stock{board(2400, 50, many), board(800, 1, 1)},
			Items: []cutstock.Item{part("A", 750, 4)}}, 51},
		{"parts of equal length are one kind of part", cutstock.Instance{
			Stock: []cutstock.Stock{board(100, 1, many)},
			Items: []cutstock.Item{part("A", 50, 1), part("B", 50, 2), part("C", 50, 1)}}, 2},
		// 1000 holds 600 and leaves 400, worth 0.5 * 100 * 400/1000 = 20.
		{"a usable leftover counts against the price", cutstock.Instance{
			Stock: []cutstock.Stock{board(1000, 100, many)}, Items: []cutstock.Item{part("A", 600, 1)},
			Leftover: cutstock.Leftover{MinLength: 400, SharePerMille: 500}}, 80},
		{"a leftover below the usable length counts for nothing", cutstock.Instance{
			Stock: []cutstock.Stock{board(1000, 100, many)}, Items: []cutstock.Item{part("A", 600, 1)},
			Leftover: cutstock.Leftover{MinLength: 401, SharePerMille: 500}}, 100},
		{"lengths in nanometres are as easy as in millimetres", cutstock.Instance{
			Stock: []cutstock.Stock{board(2_438_400_000, 100, many)},
			Items: []cutstock.Item{part("A", 304_800_001, 7), part("B", 396_875, 5)}, Kerf: 3_175_000}, 100},
	} {
		t.Run(tc.name, func(t *testing.T) {
			sol := solve(t, tc.in, cutstock.Options{})
			if sol.Status != cutstock.Optimal || sol.Cost != tc.cost {
				t.Errorf("%s with cost %d, bound %d; want optimal with cost %d", sol.Status, sol.Cost, sol.Bound, tc.cost)
			}
		})
	}
}

// A classic case (from memory) in which the rounded relaxation is below the optimum: 2/3 + 3/4 + 6/11 of a board is
// less than two boards, and two boards do not do. Only the fit test can prove it.
func TestPlanThatMissesTheRoundedRelaxationIsProven(t *testing.T) {
	in := cutstock.Instance{
		Stock: []cutstock.Stock{board(132, 1, cutstock.Unlimited)},
		Items: []cutstock.Item{part("A", 44, 2), part("B", 33, 3), part("C", 12, 6)},
	}
	sol := solve(t, in, cutstock.Options{})
	if sol.Status != cutstock.Optimal || sol.Cost != 3 {
		t.Errorf("%s with %d boards, bound %d; want 3, proven", sol.Status, sol.Cost, sol.Bound)
	}
}

func TestBadInputIsNamed(t *testing.T) {
	const many = cutstock.Unlimited
	for _, tc := range []struct {
		name   string
		in     cutstock.Instance
		status cutstock.Status
		reason string
	}{
		{"no stock", cutstock.Instance{Items: []cutstock.Item{part("rail", 5, 1)}},
			cutstock.Infeasible, `no stock to cut item "rail" from`},
		{"stock with count zero", cutstock.Instance{Stock: []cutstock.Stock{board(10, 1, 0)}, Items: []cutstock.Item{part("rail", 5, 1)}},
			cutstock.Infeasible, `no stock to cut item "rail" from`},
		{"item longer than any stock", cutstock.Instance{Stock: []cutstock.Stock{board(10, 1, many)}, Trim: 1,
			Items: []cutstock.Item{part("stile", 8, 1), part("rail", 9, 1)}},
			cutstock.Infeasible, `item "rail" is 9 long; the longest stock gives 8`},
		{"too little stock for one item", cutstock.Instance{Stock: []cutstock.Stock{board(10, 1, 2)}, Items: []cutstock.Item{part("rail", 5, 5)}},
			cutstock.Infeasible, `at most 4 of the 5 pieces of item "rail"`},
		{"too little stock together", cutstock.Instance{Stock: []cutstock.Stock{board(10, 1, 2)},
			Items: []cutstock.Item{part("rail", 6, 2), part("stile", 5, 1)}},
			cutstock.Infeasible, "cannot give all items together"},
		{"item of length zero", cutstock.Instance{Stock: []cutstock.Stock{board(10, 1, many)}, Items: []cutstock.Item{part("rail", 0, 1)}},
			cutstock.Invalid, `item "rail" has length 0`},
		{"negative item", cutstock.Instance{Stock: []cutstock.Stock{board(10, 1, many)}, Items: []cutstock.Item{part("", -3, 1)}},
			cutstock.Invalid, "item 1 has length -3"},
		{"negative demand", cutstock.Instance{Stock: []cutstock.Stock{board(10, 1, many)}, Items: []cutstock.Item{part("rail", 3, -1)}},
			cutstock.Invalid, `item "rail" has demand -1`},
		{"too many items", cutstock.Instance{Stock: []cutstock.Stock{board(10, 1, many)},
			Items: []cutstock.Item{part("a", 3, cutstock.MaxDemand), part("b", 3, 1)}}, cutstock.Invalid, "1048577 items in all"},
		{"stock of length zero", cutstock.Instance{Stock: []cutstock.Stock{board(0, 1, many)}}, cutstock.Invalid, `stock "board" has length 0`},
		{"negative cost", cutstock.Instance{Stock: []cutstock.Stock{board(10, -1, many)}}, cutstock.Invalid, `stock "board" costs -1`},
		{"negative count", cutstock.Instance{Stock: []cutstock.Stock{board(10, 1, -2)}}, cutstock.Invalid, `stock "board" has count -2`},
		{"negative kerf", cutstock.Instance{Kerf: -1}, cutstock.Invalid, "kerf is -1"},
		{"negative trim", cutstock.Instance{Trim: -1}, cutstock.Invalid, "end trim is -1"},
		{"share above one", cutstock.Instance{Leftover: cutstock.Leftover{SharePerMille: 1001}}, cutstock.Invalid, "leftover share is 1001"},
		{"negative usable length", cutstock.Instance{Leftover: cutstock.Leftover{MinLength: -1}}, cutstock.Invalid, "usable leftover length is -1"},
	} {
		t.Run(tc.name, func(t *testing.T) {
			sol := solve(t, tc.in, cutstock.Options{})
			if sol.Status != tc.status || !strings.Contains(sol.Reason, tc.reason) {
				t.Errorf("%s: %q; want %s: %q", sol.Status, sol.Reason, tc.status, tc.reason)
			}
		})
	}
}

func TestCancelledRunStillHasPlanAndBound(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	in := newGenerator(3).workshop(3, 3, 20)
	sol := cutstock.Solve(ctx, in, cutstock.Options{})
	if err := cutstock.Verify(in, sol); err != nil {
		t.Fatal(err)
	}
	if !sol.Solved() || sol.Bound <= 0 {
		t.Errorf("%s, cost %d, bound %d; want a plan and a bound", sol.Status, sol.Cost, sol.Bound)
	}
}

func TestRunStoppedBeforeAPlanSaysSo(t *testing.T) {
	stopped := 0
	for seed := range int64(3000) {
		in := newGenerator(seed).small()
		if sol := solve(t, in, cutstock.Options{Effort: 1}); sol.Status == cutstock.Stopped {
			stopped++
			if again := solve(t, in, cutstock.Options{}); again.Status == cutstock.Stopped {
				t.Errorf("seed %d: stopped at the default effort too", seed)
			}
		}
	}
	if stopped == 0 {
		t.Error("no run of 3000 was stopped before it had a plan")
	}
}

func TestLargestNumbersDoNotOverflow(t *testing.T) {
	in := cutstock.Instance{
		Stock: []cutstock.Stock{board(cutstock.MaxLength, cutstock.MaxCost, cutstock.Unlimited), board(cutstock.MaxLength/3, cutstock.MaxCost/4, 5)},
		Items: []cutstock.Item{part("a", cutstock.MaxLength/2-7, 1000), part("b", cutstock.MaxLength/5+3, 2001), part("c", 1, cutstock.MaxDemand-4000)},
		Kerf:  1, Trim: 3,
		Leftover: cutstock.Leftover{MinLength: cutstock.MaxLength / 10, SharePerMille: 1000},
	}
	for range 2 {
		if sol := solve(t, in, cutstock.Options{Effort: 20_000_000}); !sol.Solved() || sol.Cost <= 0 {
			t.Errorf("%s %q, cost %d, bound %d", sol.Status, sol.Reason, sol.Cost, sol.Bound)
		}
		in.Leftover = cutstock.Leftover{}
	}
}

func TestEffortIsALimit(t *testing.T) {
	in := newGenerator(4).workshop(3, 3, 40)
	for _, limit := range []int64{1, 100_000, 3_000_000} {
		sol := solve(t, in, cutstock.Options{Effort: limit})
		// a single pricing round or pivot is not interrupted
		if sol.Effort > limit+1_000_000 {
			t.Errorf("limit %d: %d steps spent", limit, sol.Effort)
		}
		if !sol.Solved() {
			t.Errorf("limit %d: %s", limit, sol.Status)
		}
	}
}

func TestSameInstanceGivesSameAnswer(t *testing.T) {
	for seed := range int64(5) {
		in := newGenerator(seed).workshop(3, 3, 15)
		in.Leftover = cutstock.Leftover{MinLength: 4000, SharePerMille: 500}
		opt := cutstock.Options{Effort: 10_000_000}
		if diff := cmp.Diff(solve(t, in, opt), solve(t, in, opt)); diff != "" {
			t.Errorf("seed %d: two runs differ:\n%s", seed, diff)
		}
	}
}

func TestProgressOnlyGetsBetter(t *testing.T) {
	calls, lastCost, lastBound := 0, int64(1)<<60, int64(0)
	opt := cutstock.Options{Effort: 20_000_000, Progress: func(cost, bound int64) {
		if cost > lastCost || bound < lastBound || bound > cost {
			t.Errorf("progress went from %d/%d to %d/%d", lastCost, lastBound, cost, bound)
		}
		calls, lastCost, lastBound = calls+1, cost, bound
	}}
	sol := solve(t, newGenerator(5).workshop(3, 3, 20), opt)
	if calls == 0 || lastCost != sol.Cost || lastBound != sol.Bound {
		t.Errorf("%d calls, last %d/%d; the answer is %d/%d", calls, lastCost, lastBound, sol.Cost, sol.Bound)
	}
}
