package cutstock_test

import (
	"context"
	"testing"

	"longgrain/internal/solve/cutstock"
)

func solve(t testing.TB, in cutstock.Instance, opt cutstock.Options) cutstock.Solution {
	t.Helper()
	sol := cutstock.Solve(context.Background(), in, opt)
	if err := cutstock.Verify(in, sol); err != nil {
		t.Fatalf("plan does not add up: %v", err)
	}
	return sol
}

func TestThreeItemsShareABoardWhenKerfAllows(t *testing.T) {
	in := cutstock.Instance{
		Stock: []cutstock.Stock{{ID: "B", Length: 1000, Cost: 7, Available: cutstock.Unlimited}},
		Items: []cutstock.Item{{ID: "A", Length: 330, Demand: 3}},
		Kerf:  5,
	}
	if sol := solve(t, in, cutstock.Options{}); sol.Cost != 7 || sol.Status != cutstock.Optimal {
		t.Errorf("with kerf 5: cost %d, %s; want 7, optimal", sol.Cost, sol.Status)
	}
	in.Kerf = 6
	if sol := solve(t, in, cutstock.Options{}); sol.Cost != 14 || sol.Status != cutstock.Optimal {
		t.Errorf("with kerf 6: cost %d, %s; want 14, optimal", sol.Cost, sol.Status)
	}
}
