package cutstock

import "slices"

// rounded turns the present solution of the relaxation into runs: whole parts of the pattern counts first, then the
// rest of the needs by filling.
func (g *colgen) rounded() []run {
	need := slices.Clone(g.need)
	free := slices.Clone(g.free)
	var runs []run
	for r, v := range g.master.basis {
		if v < 0 {
			continue
		}
		n := min(int64(g.master.x[r]+1e-4), free[g.master.cols[v].kind])
		if n <= 0 {
			continue
		}
		before := len(runs)
		runs = g.p.take(runs, run{g.master.cols[v].pattern, n}, need)
		for _, t := range runs[before:] {
			free[t.kind] -= t.count
		}
	}
	rest, _ := g.p.construct(need, free, g.p.fillTight)
	return append(runs, rest...)
}
