// Package guillotine cuts rectangles from rectangular stock with straight cuts that run from edge to edge.
//
// In: stock kinds (size, price, count, trimmed margins, defects), parts (size, demand, whether they may be turned,
// profit), the width of the blade, how many times the cutting direction may change, and what is wanted: the cheapest
// stock that gives all parts, or the most profit from one plate. Out: one cut tree per piece of stock, the value, a
// proven bound and a status. Sizes are whole numbers in any one unit, money is a whole number of any one unit.
//
// It knows no wood. It does not cover nested or free-form parts, cuts that stop inside a plate, setup cost of cuts, or
// due dates. Verify re-checks a plan from the plan alone; it shares nothing with
// the methods that make it but the formula of the credit for leftovers.
//
// To read it, begin with Instance, Solution and Verify, then Solve. MinCost is cover.go (plans) and columns.go (bounds),
// MaxProfit is profit.go; both ask an oracle for patterns: strips.go (two stages), threestage.go, table.go with ways.go
// (any number of stages), spotted.go with search.go, branch.go and spot.go (defects, limits and order). The bounds are
// derived in docs/methods/guillotine.md.
package guillotine
