package guillotine

import "context"

// Options bound the work. The zero value suits a person who waits a second.
type Options struct {
	// Rounds is how often the search is widened, each time about doubling the work. 1 answers a workshop job in
	// milliseconds. Zero means defaultRounds. The result depends on it and on nothing else, unless the context ends
	// first.
	Rounds int
	// Progress, if given, is called with value and bound whenever one of them improves; value is -1 without a plan.
	Progress func(value, bound int64)
}

// defaultRounds takes about half a second on workshop jobs.
const defaultRounds = 4

func (o Options) rounds() int {
	if o.Rounds > 0 {
		return o.Rounds
	}
	return defaultRounds
}

func (o Options) report(value, bound int64) {
	if o.Progress != nil {
		o.Progress(value, bound)
	}
}

// Solve returns the best plan found within the options and a proven bound. It stops early when the plan is proven
// optimal or the context ends; the plan so far is returned. The same instance and options give the same plan as long
// as the context does not end.
func Solve(ctx context.Context, in Instance, opt Options) Solution {
	if faults := in.Check(); len(faults) > 0 {
		return Solution{Status: Invalid, Faults: faults}
	}
	if in.Objective == MaxProfit {
		return solveProfit(ctx, in, opt)
	}
	if in.InOrder {
		return solveOrdered(ctx, in, opt)
	}
	return solveCover(ctx, in, opt)
}

// oracles returns, by piece of stock, the oracles that together know every pattern, or a bound on every pattern.
func (in Instance) oracles(stock []Stock) [][]oracle {
	out := make([][]oracle, len(stock))
	var plates []Rect
	var at []int
	for k, s := range stock {
		if in.needsSearch(s) {
			out[k] = newSpotted(in, s)
			continue
		}
		plates, at = append(plates, s.usable()), append(at, k)
	}
	for n, list := range in.tableOracles(plates) {
		out[at[n]] = list
	}
	return out
}

// tableOracles returns, by plate, oracles for every pattern. With more than two stages the first one knows them all, or
// all with its direction of the first cut; those for two stages are added because they search their patterns better.
func (in Instance) tableOracles(plates []Rect) [][]oracle {
	out := make([][]oracle, len(plates))
	directions := in.Cuts.directions()
	for n, u := range plates {
		switch in.Cuts.Stages {
		case Unlimited:
			out[n] = append(out[n], newTable(in, u))
		case 3:
			for _, d := range directions {
				out[n] = append(out[n], newColumns(in, u, d))
			}
		}
	}
	if in.Cuts.Stages != 2 {
		directions = []Direction{Horizontal, Vertical} // the first stage may be passed without a cut
	}
	for _, d := range directions {
		for n, o := range newStrips(in, plates, d) {
			out[n] = append(out[n], o)
		}
	}
	return out
}
