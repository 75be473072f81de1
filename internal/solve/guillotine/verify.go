package guillotine

import "fmt"

// Verify re-checks a plan from the sheets alone: plates fill their parents blade by blade, parts have their size and
// grain, stages and limits are kept, no part holds a defect, stock and demand are not exceeded, the value adds up and
// does not beat the bound. It returns everything that is wrong; an empty result means the plan can be sawn as printed.
// A Solution with NoPlan is checked like any other except that Missing must name exactly what lacks.
func Verify(in Instance, sol Solution) []Fault {
	v := verifier{in: in}
	if sol.Status == Invalid {
		return nil
	}
	for n, s := range sol.Sheets {
		v.path = fmt.Sprintf("sheets[%d]", n)
		v.sheet(s)
	}
	v.path = "solution"
	v.stockCounts(sol)
	v.demand(sol)
	if in.InOrder {
		v.order(sol)
	}
	if sol.Status == NoPlan {
		return v.faults
	}
	if want := v.value(sol); want != sol.Value {
		v.fault("value is %d, the sheets add up to %d", sol.Value, want)
	}
	v.bound(sol)
	return v.faults
}

type verifier struct {
	in     Instance
	path   string
	stock  Stock
	faults []Fault
}

func (v *verifier) fault(format string, args ...any) {
	v.faults = append(v.faults, Fault{v.path, fmt.Sprintf(format, args...)})
}

func (v *verifier) sheet(s Sheet) {
	if s.Stock < 0 || s.Stock >= len(v.in.Stock) {
		v.fault("stock %d does not exist", s.Stock)
		return
	}
	v.stock = v.in.Stock[s.Stock]
	t := v.stock.Trim
	r := s.Root
	if r.X != t.Left || r.Y != t.Bottom || r.X+r.W != v.stock.W-t.Right || r.Y+r.H != v.stock.H-t.Top {
		v.fault("root plate %s is not the stock less its margins", describe(r))
	}
	v.plate(r, 0)
}

// plate checks a plate made by a cut of the given stage (0 for the root) and everything below.
func (v *verifier) plate(p Plate, stage int) {
	if p.W <= 0 || p.H <= 0 {
		v.fault("plate %s is empty", describe(p))
	}
	if p.Cut == NoCut {
		v.undivided(p)
		return
	}
	own := v.stageOf(p, stage)
	v.children(p)
	if p.Use != Waste || p.Part >= 0 {
		v.fault("plate %s is divided and yet a part or an offcut", describe(p))
	}
	if own == v.in.Cuts.Stages+1 && v.in.Cuts.Stages != Unlimited {
		v.lastCut(p)
	} else if own > v.in.Cuts.Stages && v.in.Cuts.Stages != Unlimited {
		v.fault("plate %s is cut in stage %d of %d", describe(p), own, v.in.Cuts.Stages)
	}
	for _, child := range p.Children {
		if child.Cut == p.Cut {
			v.fault("plate %s is cut again in its parent's direction", describe(child))
		}
		v.limits(child, p.Cut, own)
		v.plate(child, own)
	}
}

// stageOf returns the stage in which the plate is divided. Stages alternate in direction; with a fixed first direction
// a root cut the other way is a cut of the second stage.
func (v *verifier) stageOf(p Plate, stage int) int {
	if stage == 0 && v.in.Cuts.First != NoCut && p.Cut != v.in.Cuts.First {
		return 2
	}
	return stage + 1
}

// children checks that the children fill the plate one blade apart.
func (v *verifier) children(p Plate) {
	at, end := p.X, p.X+p.W
	if p.Cut == Horizontal {
		at, end = p.Y, p.Y+p.H
	}
	for _, c := range p.Children {
		from, size, side, full := c.X, c.W, c.H == p.H && c.Y == p.Y, at
		if p.Cut == Horizontal {
			from, size, side = c.Y, c.H, c.W == p.W && c.X == p.X
		}
		if from != full || !side {
			v.fault("plate %s does not follow its neighbour in %s", describe(c), describe(p))
		}
		if from > p.X && p.Cut == Vertical || from > p.Y && p.Cut == Horizontal {
			v.cutLine(p, from-v.in.Kerf)
		}
		at = from + size + v.in.Kerf
	}
	rest := end - (at - v.in.Kerf)
	if len(p.Children) == 0 || rest < 0 || rest > v.in.Kerf {
		v.fault("children of plate %s leave %d at the far end", describe(p), rest)
	} else if rest > 0 {
		v.cutLine(p, at-v.in.Kerf)
	}
}

// cutLine checks that a cut at the position does not pass through a defect.
func (v *verifier) cutLine(p Plate, at int) {
	if !v.in.Cuts.AroundDefects {
		return
	}
	for _, d := range v.stock.Defects {
		through := d.X < at+v.in.Kerf && at < d.X+d.W && d.Y < p.Y+p.H && p.Y < d.Y+d.H
		if p.Cut == Horizontal {
			through = d.Y < at+v.in.Kerf && at < d.Y+d.H && d.X < p.X+p.W && p.X < d.X+d.W
		}
		if through {
			v.fault("a cut of plate %s at %d passes through the defect %v", describe(p), at, d)
		}
	}
}

// lastCut checks the one cut allowed after the last stage.
func (v *verifier) lastCut(p Plate) {
	parts, other := 0, 0
	for _, c := range p.Children {
		if c.Use == Item {
			parts++
		} else {
			other++
		}
	}
	trimmed := parts == 1 && other <= 1
	switch v.in.Cuts.Last {
	case TrimmingCut:
		if trimmed {
			return
		}
	case PairCut:
		if trimmed || parts == 2 && other == 0 {
			return
		}
	}
	v.fault("plate %s is cut after the last stage", describe(p))
}

// limits checks the sizes of strips and waste made by a cut of the given direction and stage.
func (v *verifier) limits(p Plate, cut Direction, stage int) {
	size := p.W
	if cut == Horizontal {
		size = p.H
	}
	c := v.in.Cuts
	if p.Use != Item && p.Cut == NoCut {
		if size < c.MinWaste {
			v.fault("waste %s is narrower than %d", describe(p), c.MinWaste)
		}
		return
	}
	if stage == 1 && (size < c.MinFirst || c.MaxFirst > 0 && size > c.MaxFirst) {
		v.fault("strip %s of the first stage is outside %d to %d", describe(p), c.MinFirst, c.MaxFirst)
	}
	if stage == 2 && size < c.MinSecond {
		v.fault("strip %s of the second stage is narrower than %d", describe(p), c.MinSecond)
	}
}

func (v *verifier) undivided(p Plate) {
	if len(p.Children) > 0 {
		v.fault("plate %s has children but no cut", describe(p))
	}
	rule := v.in.Leftover
	switch p.Use {
	case Item:
		v.item(p)
	case Offcut:
		if rule.Permille == 0 || p.W < rule.MinW || p.H < rule.MinH {
			v.fault("plate %s is too small for an offcut", describe(p))
		}
	}
	if p.Use != Item && p.Part != -1 {
		v.fault("waste %s names part %d", describe(p), p.Part)
	}
}

func (v *verifier) item(p Plate) {
	if p.Part < 0 || p.Part >= len(v.in.Parts) {
		v.fault("plate %s names part %d, which does not exist", describe(p), p.Part)
		return
	}
	part := v.in.Parts[p.Part]
	w, h := part.W, part.H
	if p.Turned {
		w, h = h, w
		if !part.MayTurn {
			v.fault("part %s at %s is turned against its grain", part.ID, describe(p))
		}
	}
	if p.W != w || p.H != h {
		v.fault("part %s at %s should be %d x %d", part.ID, describe(p), w, h)
	}
	for _, d := range v.stock.Defects {
		if d.X < p.X+p.W && p.X < d.X+d.W && d.Y < p.Y+p.H && p.Y < d.Y+d.H {
			v.fault("part %s at %s contains the defect %v", part.ID, describe(p), d)
		}
	}
}

func (v *verifier) stockCounts(sol Solution) {
	used := make([]int, len(v.in.Stock))
	for _, s := range sol.Sheets {
		if s.Stock >= 0 && s.Stock < len(used) {
			used[s.Stock]++
		}
	}
	for k, s := range v.in.Stock {
		if s.Count != Unlimited && used[k] > s.Count {
			v.fault("%d pieces of stock %s are used, there are %d", used[k], s.ID, s.Count)
		}
	}
	if v.in.Objective == MaxProfit && len(sol.Sheets) > 1 {
		v.fault("%d pieces of stock are used, profit is earned on one", len(sol.Sheets))
	}
}

func (v *verifier) demand(sol Solution) {
	made := make([]int, len(v.in.Parts))
	for _, p := range v.items(sol) {
		made[p.Part]++
	}
	for i, part := range v.in.Parts {
		missing := 0
		if sol.Missing != nil {
			missing = sol.Missing[i]
		}
		switch {
		case made[i] > part.Demand:
			v.fault("part %s is cut %d times, %d are wanted", part.ID, made[i], part.Demand)
		case v.in.Objective == MinCost && made[i]+missing != part.Demand:
			v.fault("part %s is cut %d times and missing %d times, %d are wanted", part.ID, made[i], missing, part.Demand)
		}
	}
	if v.in.Objective == MinCost && sol.Status != NoPlan && sol.Missing != nil {
		v.fault("parts are missing and the status is %v", sol.Status)
	}
}

// items returns the parts of the plan in sawing order.
func (v *verifier) items(sol Solution) []Plate {
	var out []Plate
	for _, s := range sol.Sheets {
		s.Root.Walk(func(p Plate) {
			if p.Use == Item && p.Part >= 0 && p.Part < len(v.in.Parts) {
				out = append(out, p)
			}
		})
	}
	return out
}

// order checks that stock is used in the order listed and stacks come off in order.
func (v *verifier) order(sol Solution) {
	kind, left := 0, 0
	for k := range v.in.Stock {
		if kind = k; v.in.Stock[k].Count != 0 {
			left = v.in.Stock[k].Count
			break
		}
	}
	for n, s := range sol.Sheets {
		for left == 0 && kind+1 < len(v.in.Stock) {
			kind++
			left = v.in.Stock[kind].Count
		}
		if s.Stock != kind {
			v.fault("sheet %d is of stock %d, the order asks for %d", n, s.Stock, kind)
			return
		}
		left--
	}
	last := map[int]int{}
	for _, p := range v.items(sol) {
		stack := v.in.Parts[p.Part].Stack
		if before, seen := last[stack]; stack > 0 && seen && before > p.Part {
			v.fault("part %s comes off after part %s of the same stack", v.in.Parts[p.Part].ID, v.in.Parts[before].ID)
		}
		last[stack] = p.Part
	}
}

// value adds up the plan by the rules of Objective and Leftover.
func (v *verifier) value(sol Solution) int64 {
	total := int64(0)
	if v.in.Objective == MaxProfit {
		for _, p := range v.items(sol) {
			total += v.in.Parts[p.Part].Profit
		}
		return total
	}
	rule := v.in.Leftover
	for n, s := range sol.Sheets {
		stock := v.in.Stock[s.Stock]
		total += stock.Cost
		if rule.LastOnly {
			if c := s.Root.Children; n == len(sol.Sheets)-1 && len(c) > 0 && c[len(c)-1].Use == Offcut {
				total -= rule.credit(stock, c[len(c)-1].W, c[len(c)-1].H)
			}
			continue
		}
		s.Root.Walk(func(p Plate) {
			if p.Use == Offcut {
				total -= rule.credit(stock, p.W, p.H)
			}
		})
	}
	return total
}

func (v *verifier) bound(sol Solution) {
	short := sol.Value < sol.Bound
	if v.in.Objective == MaxProfit {
		short = sol.Value > sol.Bound
	}
	if short {
		v.fault("value %d beats the bound %d", sol.Value, sol.Bound)
	}
	if sol.Status == Optimal && sol.Value != sol.Bound {
		v.fault("called optimal, but value %d differs from bound %d", sol.Value, sol.Bound)
	}
}

func describe(p Plate) string { return fmt.Sprintf("%dx%d at %d,%d", p.W, p.H, p.X, p.Y) }
