package guillotine

import "slices"

// way is one way to cut a plate within the demand.
type way struct {
	rank   float64 // its value, by which ways are kept
	priced float64 // its value at the prices of the filter
	counts []uint64
	cut    Direction
	a, b   *way
	shape  *shape
}

// piece makes the pattern of the way.
func (w *way) piece() *piece {
	if w.shape != nil {
		return w.shape.leaf()
	}
	return join(w.cut, w.a.piece(), w.b.piece())
}

// mostCopies is the largest demand the packed counters of ways can hold with a bit to spare for comparing.
const mostCopies = 127

// build returns a good pattern within left, nil if nothing fits.
func (t *table) build(value []float64, left []int) *piece {
	w, _ := t.lower.ways(waySearch{value: value, left: left, width: t.width})
	if w == nil {
		return nil
	}
	return w.piece()
}

// filter drops ways that cannot be part of a plan better than the best known.
type filter struct {
	value []float64 // of the parts at prices
	need  []float64 // by plate: least value at prices of a way worth keeping
}

// filter makes the filter for plans of more than the value in excess, all at the prices in value. The most the rest of
// the largest plate can add to a plate within it comes from going through the filled table backwards.
func (t *halves) filter(value []float64, excess float64) *filter {
	t.fill(value)
	nx := len(t.xs)
	rest := make([]float64, len(t.best)) // by plate: most value of everything around it
	for n := range rest {
		rest[n] = -1
	}
	rest[len(rest)-1] = 0
	raise := func(n int, v float64) { rest[n] = max(rest[n], v) }
	for j := len(t.ys) - 1; j > 0; j-- {
		for i := nx - 1; i > 0; i-- {
			r := rest[j*nx+i]
			if r < 0 {
				continue
			}
			raise(j*nx+i-1, r)
			raise((j-1)*nx+i, r)
			for a, b := range t.downX[i] {
				raise(j*nx+a+1, r+t.best[j*nx+int(b)])
				raise(j*nx+int(b), r+t.best[j*nx+a+1])
			}
			for a, b := range t.downY[j] {
				raise((a+1)*nx+i, r+t.best[int(b)*nx+i])
				raise(int(b)*nx+i, r+t.best[(a+1)*nx+i])
			}
		}
	}
	f := &filter{value: value, need: rest}
	for n, r := range rest {
		f.need[n] = excess - r
	}
	return f
}

// waySearch is what ways works with.
type waySearch struct {
	value  []float64 // of the parts, to rank ways by
	left   []int
	width  int         // most ways kept per plate
	filter *filter     // nil keeps everything
	stop   func() bool // nil never stops
}

// ways fills every plate with at most width ways and returns the best one for the largest plate. all reports that no
// way was dropped for lack of width, so that the best one that passes the filter, if any, is the best there is.
func (t *halves) ways(s waySearch) (best *way, all bool) {
	nx := len(t.xs)
	plates := make([][]*way, nx*len(t.ys))
	k := newKeeper(s)
	all = true
	for _, n := range s.left {
		all = all && n <= mostCopies
	}
	first := t.singles(s, len(k.limit))
	for j := 1; j < len(t.ys); j++ {
		for i := 1; i < nx; i++ {
			if s.stop != nil && i%8 == 0 && s.stop() {
				return nil, false
			}
			k.start(j*nx+i, s.filter)
			for _, list := range [][]*way{plates[j*nx+i-1], plates[(j-1)*nx+i], first[j*nx+i]} {
				for _, w := range list {
					k.keep(w)
				}
			}
			for a, b := range t.downX[i] {
				k.join(Vertical, plates[j*nx+a+1], plates[j*nx+int(b)])
			}
			for a, b := range t.downY[j] {
				k.join(Horizontal, plates[(a+1)*nx+i], plates[int(b)*nx+i])
			}
			plates[j*nx+i] = slices.Clone(k.list)
		}
	}
	if list := plates[len(plates)-1]; len(list) > 0 {
		best = list[0]
	}
	return best, all && !k.dropped
}

// singles returns the ways that are one part, by plate.
func (t *halves) singles(s waySearch, words int) map[int][]*way {
	out := map[int][]*way{}
	for n := range t.shapes {
		sh := &t.shapes[n]
		if s.left[sh.part] == 0 || s.value[sh.part] <= 0 {
			continue
		}
		w := &way{rank: s.value[sh.part], counts: make([]uint64, words), shape: sh}
		if s.filter != nil {
			w.priced = s.filter.value[sh.part]
		}
		w.counts[sh.part/8] = 1 << (8 * (sh.part % 8))
		at := t.atY[n]*len(t.xs) + t.atX[n]
		out[at] = append(out[at], w)
	}
	return out
}

// keeper collects the best ways of one plate, best first.
type keeper struct {
	limit   []uint64 // demand, one byte a part
	width   int
	need    float64 // least priced value
	list    []*way
	dropped bool // some way was left out for lack of width, at any plate
}

func newKeeper(s waySearch) *keeper {
	k := &keeper{limit: make([]uint64, (len(s.left)+7)/8), width: s.width}
	for i, n := range s.left {
		k.limit[i/8] |= uint64(min(n, mostCopies)) << (8 * (i % 8))
	}
	return k
}

// start empties the list for the next plate.
func (k *keeper) start(plate int, f *filter) {
	k.list, k.need = k.list[:0], -1
	if f != nil {
		k.need = f.need[plate]
	}
}

// highBits is the top bit of every byte.
const highBits = 0x8080808080808080

// join offers every combination of two ways that keeps to the demand.
func (k *keeper) join(cut Direction, as, bs []*way) {
	for _, a := range as {
		for _, b := range bs {
			if a.priced+b.priced < k.need || !k.within(a.counts, b.counts) {
				continue
			}
			rank := a.rank + b.rank
			if len(k.list) == k.width && rank <= k.list[k.width-1].rank+1e-9 {
				k.dropped = true
				break // later ones rank lower still
			}
			k.insert(rank, cut, a, b)
		}
	}
}

// within reports whether the counts add up to at most the limit. Bytes stay below 128, so with the top bit set in the
// limit no subtraction borrows from the next byte.
func (k *keeper) within(a, b []uint64) bool {
	for i, l := range k.limit {
		if ((l|highBits)-(a[i]+b[i]))&highBits != highBits {
			return false
		}
	}
	return true
}

func (k *keeper) insert(rank float64, cut Direction, a, b *way) {
	counts := make([]uint64, len(k.limit))
	for i := range counts {
		counts[i] = a.counts[i] + b.counts[i]
	}
	k.keep(&way{rank: rank, priced: a.priced + b.priced, counts: counts, cut: cut, a: a, b: b})
}

// keep inserts the way unless one with the same parts is there.
func (k *keeper) keep(w *way) {
	if w.priced < k.need {
		return
	}
	at := len(k.list)
	for at > 0 && k.list[at-1].rank < w.rank-1e-9 {
		at--
	}
	for n := at - 1; n >= 0 && k.list[n].rank <= w.rank+1e-9; n-- {
		if slices.Equal(k.list[n].counts, w.counts) {
			return
		}
	}
	if at == k.width {
		k.dropped = true
		return
	}
	if len(k.list) == k.width {
		k.dropped = true
		k.list = k.list[:k.width-1]
	}
	k.list = slices.Insert(k.list, at, w)
}
