package guillotine

import (
	"math"
	"slices"
	"sort"
)

// strips makes two-stage patterns in one direction of the first cut, for plates of any size.
//
// Idea: a strip as thick as some part is a knapsack along the strip over all parts no thicker; the plate is a knapsack
// of strips across (two-level knapsack). One table along the longest strip serves every shorter plate.
// Reference: Gilmore, Gomory, Multistage cutting stock problems of two and more dimensions, Operations Research 13 (1965),
// doi:10.1287/opre.13.1.94.
type strips struct {
	cut     Direction // of the first stage
	along   int       // longest strip, grown by one blade width
	thick   int       // most that strips share, grown by one blade width
	exact   bool      // all parts of a strip are as thick as the strip
	options []option  // by rising thickness
	classes []class   // by rising thickness
	points  []int     // positions along a strip
	levels  []int     // positions across
	onSums  bool      // points and levels hold every sum that can occur
	ends    []int     // the points where plates end

	// the table for the values, numbers and thickness of the last fill
	value  []float64
	left   []int
	filled int
	chunks []chunk
	best   []float64 // by point: best value of a strip in the making
	taken  []bool    // chunk by point
	worth  []float64 // class by end: best value of a strip
	down   map[int][]int32
}

// option is a part laid along a strip.
type option struct {
	part, along, across int
	leaf                *piece
}

// class is a thickness of strip: options up to end may be used, and chunks[from:to] were.
type class struct {
	thick, end int
	from, to   int
	down       []int32 // by level: level after cutting off a strip, -1 none
}

// chunk is n copies of an option, taken together or not at all.
type chunk struct {
	option, n int
	down      []int32
}

// stripPlate is the oracle for one size of plate.
type stripPlate struct {
	*strips
	along, thick int // grown by one blade width
	end          int // index into strips.ends
	top          int // level of the whole plate
	outer        []float64
	outerOf      []int32 // by level: class of a strip, or noStrip
}

const noStrip = -1

// newStrips returns the oracles of the direction for all plates, one each; they share their tables.
func newStrips(in Instance, plates []Rect, cut Direction) []*stripPlate {
	s := &strips{cut: cut, exact: in.Cuts.Last == NoLastCut && in.Cuts.Stages != Unlimited, down: map[int][]int32{}}
	var out []*stripPlate
	for _, u := range plates {
		v := &stripPlate{strips: s, along: u.W + in.Kerf, thick: u.H + in.Kerf}
		if cut == Vertical {
			v.along, v.thick = v.thick, v.along
		}
		s.along, s.thick = max(s.along, v.along), max(s.thick, v.thick)
		out = append(out, v)
	}
	s.list(in)
	for _, v := range out {
		p := last(s.points, v.along, s.onSums)
		if v.end = slices.Index(s.ends, p); v.end < 0 {
			v.end, s.ends = len(s.ends), append(s.ends, p)
		}
		v.top = last(s.levels, v.thick, s.onSums)
		v.outer, v.outerOf = make([]float64, v.top+1), make([]int32, v.top+1)
	}
	s.worth = make([]float64, len(s.classes)*len(s.ends))
	return out
}

// list makes options, classes and positions.
func (s *strips) list(in Instance) {
	for _, sh := range in.shapes() {
		o := option{part: sh.part, along: sh.w, across: sh.h, leaf: sh.leaf()}
		if s.cut == Vertical {
			o.along, o.across = o.across, o.along
		}
		if o.along <= s.along && o.across <= s.thick {
			s.options = append(s.options, o)
		}
	}
	sort.SliceStable(s.options, func(a, b int) bool { return s.options[a].across < s.options[b].across })
	var alongs, acrosses, limits []int
	for _, o := range s.options { // there are at most as many strips of a thickness as parts of it
		alongs, acrosses = append(alongs, o.along), append(acrosses, o.across)
		limits = append(limits, in.Parts[o.part].Demand)
	}
	var a, b bool
	s.points, a = sums(alongs, limits, s.along)
	s.levels, b = sums(acrosses, limits, s.thick)
	s.onSums = a && b
	for n, o := range s.options {
		if n+1 == len(s.options) || s.options[n+1].across > o.across {
			s.classes = append(s.classes, class{thick: o.across, end: n + 1, down: steps(s.levels, o.across, s.onSums)})
		}
	}
	s.best = make([]float64, len(s.points))
}

// last returns the index of the last position within the size, or on a grid of the first one not below it.
func last(positions []int, size int, onSums bool) int {
	if onSums {
		return sort.SearchInts(positions, size+1) - 1
	}
	return sort.SearchInts(positions, size)
}

// steps returns for every position the index of the position left after taking size away, or -1. When positions are
// only a grid the next higher position stands for the true one, which can only overrate what fits.
func steps(positions []int, size int, onSums bool) []int32 {
	down := make([]int32, len(positions))
	j := 0
	for i, p := range positions {
		down[i] = -1
		if p < size {
			continue
		}
		for j+1 < len(positions) && positions[j+1] <= p-size {
			j++
		}
		down[i] = int32(j)
		if !onSums && positions[j] < p-size {
			down[i]++
		}
	}
	return down
}

// fill computes the worth of every class up to the thickness when at most left[i] copies of part i are used in a strip.
// It keeps the table of the last call if that serves.
func (s *strips) fill(value []float64, left []int, thick int) {
	if thick <= s.filled && slices.Equal(value, s.value) && slices.Equal(left, s.left) {
		return
	}
	s.filled, s.value, s.left = thick, append(s.value[:0], value...), append(s.left[:0], left...)
	s.chunks, s.taken = s.chunks[:0], s.taken[:0]
	clear(s.best)
	first := 0
	for c := range s.classes {
		cl := &s.classes[c]
		if cl.thick > thick {
			break
		}
		if s.exact {
			clear(s.best)
			cl.from = len(s.chunks)
		}
		for o := first; o < cl.end; o++ {
			part, size := s.options[o].part, s.options[o].along
			if value[part] <= 0 {
				continue
			}
			rest := min(left[part], s.along/size)
			for n := 1; rest > 0; n *= 2 {
				n = min(n, rest)
				rest -= n
				s.addChunk(o, n, float64(n)*value[part])
			}
		}
		first, cl.to = cl.end, len(s.chunks)
		for e, p := range s.ends {
			s.worth[c*len(s.ends)+e] = s.best[p]
		}
	}
}

func (s *strips) addChunk(o, n int, value float64) {
	size := n * s.options[o].along
	down, ok := s.down[size]
	if !ok {
		down = steps(s.points, size, s.onSums)
		s.down[size] = down
	}
	s.chunks = append(s.chunks, chunk{o, n, down})
	base := len(s.taken)
	s.taken = slices.Grow(s.taken, len(s.points))[:base+len(s.points)]
	row, best := s.taken[base:][:len(down)], s.best[:len(down)]
	for p := len(down) - 1; p >= 0; p-- {
		j := down[p]
		if j < 0 {
			clear(row[:p+1])
			return
		}
		v := best[j] + value
		row[p] = v > best[p]+1e-12
		if row[p] {
			best[p] = v
		}
	}
}

// combine fills the plate with strips, any number of each class, and returns the value.
func (v *stripPlate) combine() float64 {
	clear(v.outer)
	for l := range v.outerOf {
		v.outerOf[l] = noStrip
	}
	most := 0.0
	for c := range v.classes {
		if v.classes[c].thick > min(v.thick, v.filled) {
			break
		}
		// a strip worth no more than a thinner one is never needed
		if w := v.worth[c*len(v.ends)+v.end]; w > most || v.exact && w > 0 {
			v.addClass(c, w)
			most = w
		}
	}
	return v.outer[v.top]
}

func (v *stripPlate) addClass(c int, worth float64) {
	down, outer, of := v.classes[c].down[:len(v.outer)], v.outer, v.outerOf[:len(v.outer)]
	for l, j := range down {
		if j < 0 {
			continue
		}
		if w := outer[j] + worth; w > outer[l]+1e-12 {
			outer[l], of[l] = w, int32(c)
		}
	}
}

// chosen returns the classes of the strips behind the outer value at the level, thickest first.
func (v *stripPlate) chosen(level int) []int {
	var out []int
	for v.outerOf[level] != noStrip {
		c := int(v.outerOf[level])
		out = append(out, c)
		level = int(v.classes[c].down[level])
	}
	sort.Sort(sort.Reverse(sort.IntSlice(out)))
	return out
}

// contents returns the options of the best strip of a class with their numbers.
func (v *stripPlate) contents(c int) []chunk {
	cl, p := v.classes[c], v.ends[v.end]
	var out []chunk
	for k := cl.to - 1; k >= cl.from; k-- {
		if v.taken[k*len(v.points)+p] {
			out = append(out, v.chunks[k])
			p = int(v.chunks[k].down[p])
		}
	}
	return out
}

// bound returns an upper bound on the value of any two-stage pattern: parts are limited to the demand only within a
// strip.
func (v *stripPlate) bound(value []float64, demand []int) float64 {
	v.fill(value, demand, v.strips.thick)
	if !v.onSums && len(v.classes) > 0 && v.classes[0].thick < v.strips.thick/maxPoints+2 {
		return math.Inf(1) // a strip may be thinner than the grid
	}
	return v.combine()
}

// relaxed returns the pattern of the bound; there is none on a grid of positions.
func (v *stripPlate) relaxed() *piece {
	if !v.onSums {
		return nil
	}
	var made []*piece
	for _, c := range v.chosen(v.top) {
		if strip := v.strip(v.contents(c), nil); strip != nil {
			made = append(made, strip)
		}
	}
	return stack(v.cut, made)
}

// build returns a pattern that uses at most left[i] copies of part i, nil if nothing fits.
func (v *stripPlate) build(value []float64, left []int) *piece {
	rest := slices.Clone(left)
	var made []*piece
	for room := v.thick; ; {
		v.fill(value, rest, room)
		v.combine()
		progress := false
		for n, c := range v.chosen(last(v.levels, room, true)) {
			contents := v.contents(c)
			if v.classes[c].thick > room || n > 0 && !v.available(contents, rest) {
				break
			}
			strip := v.strip(contents, rest)
			if strip == nil {
				break
			}
			made = append(made, strip)
			room -= strip.across(v.cut)
			progress = true
		}
		if !progress {
			break
		}
	}
	if len(made) == 0 {
		return nil
	}
	return stack(v.cut, made)
}

func (v *stripPlate) available(contents []chunk, left []int) bool {
	for n, c := range contents {
		part, need := v.options[c.option].part, 0
		for _, d := range contents[:n+1] {
			if v.options[d.option].part == part {
				need += d.n
			}
		}
		if need > left[part] {
			return false
		}
	}
	return true
}

// strip makes a strip of the contents as far as they fit, taking the parts from left if that is given.
func (v *stripPlate) strip(contents []chunk, left []int) *piece {
	var kids []*piece
	length := 0
	for _, c := range contents {
		o := v.options[c.option]
		for range c.n {
			if length+o.along > v.along || left != nil && left[o.part] == 0 {
				break
			}
			if left != nil {
				left[o.part]--
			}
			length += o.along
			kids = append(kids, o.leaf)
		}
	}
	if len(kids) == 0 {
		return nil
	}
	return stack(v.cut.across(), kids)
}

// across returns the size in the direction in which the cut divides.
func (p *piece) across(cut Direction) int {
	if cut == Horizontal {
		return p.h
	}
	return p.w
}

// widen does nothing; strips are chosen one way only.
func (v *stripPlate) widen(int) {}
