package guillotine

import "context"

// spotted is the oracle for a piece of stock with defects, or under limits on strips, waste or pairs that the tables do
// not know. The bound is that of the same piece without them; patterns come from the tree search.
type spotted struct {
	in     Instance
	stock  Stock
	first  Direction
	clear  oracle // the same without defects and limits
	length int    // of the lists of the search
}

// spottedLength is the length to begin with. It is doubled every round but not more often than widest, so that one
// pattern never takes long.
const (
	spottedLength = 8
	widest        = 4
)

// needsSearch reports whether only the tree search knows the rules for the stock.
func (in Instance) needsSearch(s Stock) bool {
	c := in.Cuts
	pairs := c.Last == PairCut && c.Stages != Unlimited
	return len(s.Defects) > 0 || c.MinFirst > 0 || c.MaxFirst > 0 || c.MinSecond > 0 || c.MinWaste > 0 || pairs
}

// newSpotted returns one oracle per direction of the first cut.
func newSpotted(in Instance, s Stock) []oracle {
	plain := in
	if in.Cuts.Last == PairCut {
		plain.Cuts.Stages = Unlimited // a pair is a cut of one stage more
	}
	var out []oracle
	for _, d := range in.Cuts.directions() {
		plain.Cuts.First = d
		clear := plain.tableOracles([]Rect{s.usable()})[0][0]
		out = append(out, &spotted{in: in, stock: s, first: d, clear: clear, length: spottedLength})
	}
	return out
}

func (o *spotted) bound(value []float64, demand []int) float64 { return o.clear.bound(value, demand) }

// relaxed has no pattern: the one without defects may not be possible.
func (o *spotted) relaxed() *piece { return nil }

func (o *spotted) widen(round int) { o.length = spottedLength << min(round, widest) }

func (o *spotted) build(value []float64, left []int) *piece {
	wanted := make([]int, len(left))
	density := 0.0
	for i, n := range left {
		if value[i] > 0 {
			wanted[i] = n
			density = max(density, value[i]/(float64(o.in.Parts[i].W)*float64(o.in.Parts[i].H)))
		}
	}
	if density == 0 {
		return nil
	}
	s := newPlanter(o.in, []Stock{o.stock}, o.first, wanted)
	for i, v := range value {
		s.worth[i] = max(0, v) / density // at most the area, so that waste stays a share of the front
	}
	s.run(context.Background(), o.length, variant{})
	if s.best == nil {
		return nil
	}
	return s.pieces(s.best)[0]
}
