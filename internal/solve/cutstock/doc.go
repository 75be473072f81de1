// Package cutstock solves the one-dimensional cutting stock problem with several stock lengths.
//
// It decides which stock to take and which items to cut from each piece so that every demand is met at the
// least cost. In: stock with length, price and count (or no limit), items with length and demand, one kerf, one
// end trim, one rule for the value of leftovers. Out: a plan that Verify can re-add, its cost, a lower bound that
// is proven with whole numbers, and a status. All lengths are whole numbers of any one unit, all costs whole
// numbers of any one unit. The package knows no material, no grain, no defects and no second dimension.
//
// Statement. With usable length U = L - 2*trim, items of lengths l cut from one piece must satisfy
//
//	sum(l + kerf) <= U + kerf
//
// because the last item may end where the usable length ends. Minimise the sum over pieces of price - value of
// its leftover. Item l becomes a size l+kerf and stock becomes a capacity U+kerf; nothing else in the package
// knows about kerf and trim except Verify, which re-adds them from the plan.
//
// Methods, cheapest first (each file's header says what it does and what it leaves out): constructive fills (fill.go),
// bounds by dual feasible functions (dff.go), column generation with a bounded knapsack as pricing (colgen.go, master.go,
// simplex.go, knapsack.go), dives that fix patterns and price again (dive.go), branching on stock counts (counts.go) and an
// exact fit test for given counts (fit.go). docs/methods/cutstock.md has the formulas with their sources.
package cutstock
