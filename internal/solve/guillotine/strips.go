package guillotine

import (
	"math"
	"slices"
	"sort"
)

// strips makes two-stage patterns for one size of plate and one direction of the first cut.
//
// Idea: a strip as thick as some part is a knapsack along the strip over all parts no thicker; the plate is a knapsack
// of strips across (two-level knapsack). relax limits the demand only inside a strip, so its value bounds every real
// pattern; build takes strips from the same tables one after the other and keeps to the demand.
// Reference: Gilmore, Gomory, Multistage cutting stock problems of two and more dimensions, Operations Research 13 (1965),
// doi:10.1287/opre.13.1.94.
type strips struct {
	cut      Direction // of the first stage
	along    int       // length of the strips, grown by one blade width
	thick    int       // what the strips share, grown by one blade width
	exact    bool      // all parts of a strip are as thick as the strip
	options  []option  // by rising thickness
	classes  []class   // by rising thickness
	points   []int     // positions along a strip
	levels   []int     // positions across
	onSums   bool      // points and levels hold every sum that can occur
	chunks   []chunk
	best     []float64 // by point: best value of a strip in the making
	taken    []bool    // chunk by point
	outer    []float64 // by level: best value of strips
	outerOf  []int     // by level: class of the last strip, -1 none
	pointSub map[int][]int32
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
	worth      float64
	down       []int32 // by level: level after cutting off a strip, -1 none
}

// chunk is n copies of an option, taken together or not at all.
type chunk struct {
	option, n int
	down      []int32
}

func newStrips(in Instance, u Rect, cut Direction) *strips {
	s := &strips{cut: cut, along: u.W + in.Kerf, thick: u.H + in.Kerf, exact: in.Cuts.Last == NoLastCut && in.Cuts.Stages == 2,
		pointSub: map[int][]int32{}}
	if cut == Vertical {
		s.along, s.thick = s.thick, s.along
	}
	for _, sh := range in.shapes() {
		o := option{part: sh.part, along: sh.w, across: sh.h, leaf: sh.leaf()}
		if cut == Vertical {
			o.along, o.across = o.across, o.along
		}
		if o.along <= s.along && o.across <= s.thick {
			s.options = append(s.options, o)
		}
	}
	sort.SliceStable(s.options, func(a, b int) bool { return s.options[a].across < s.options[b].across })
	var alongs, acrosses, limits, many []int
	for _, o := range s.options {
		alongs, acrosses = append(alongs, o.along), append(acrosses, o.across)
		limits = append(limits, in.Parts[o.part].Demand)
		many = append(many, s.thick/o.across)
	}
	var a, b bool
	s.points, a = sums(alongs, limits, s.along)
	s.levels, b = sums(acrosses, many, s.thick)
	s.onSums = a && b
	for n, o := range s.options {
		if n+1 == len(s.options) || s.options[n+1].across > o.across {
			s.classes = append(s.classes, class{thick: o.across, end: n + 1, down: steps(s.levels, o.across, s.onSums)})
		}
	}
	s.best = make([]float64, len(s.points))
	s.outer = make([]float64, len(s.levels))
	s.outerOf = make([]int, len(s.levels))
	return s
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

// fill computes the value of the best strip of every class when at most left[i] copies of part i are used in it.
func (s *strips) fill(value []float64, left []int) {
	s.chunks, s.taken = s.chunks[:0], s.taken[:0]
	clear(s.best)
	first := 0
	for c := range s.classes {
		cl := &s.classes[c]
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
		first = cl.end
		cl.to, cl.worth = len(s.chunks), s.best[len(s.best)-1]
	}
}

func (s *strips) addChunk(o, n int, value float64) {
	size := n * s.options[o].along
	down, ok := s.pointSub[size]
	if !ok {
		down = steps(s.points, size, s.onSums)
		s.pointSub[size] = down
	}
	s.chunks = append(s.chunks, chunk{o, n, down})
	base := len(s.taken)
	s.taken = slices.Grow(s.taken, len(s.points))[:base+len(s.points)]
	row := s.taken[base:]
	for p := len(s.points) - 1; p >= 0; p-- {
		row[p] = false
		if j := down[p]; j >= 0 && s.best[j]+value > s.best[p]+1e-12 {
			s.best[p], row[p] = s.best[j]+value, true
		}
	}
}

// combine fills the plate with strips, any number of each class, and returns the value.
func (s *strips) combine() float64 {
	for l := range s.levels {
		s.outer[l], s.outerOf[l] = 0, -1
		if l > 0 {
			s.outer[l], s.outerOf[l] = s.outer[l-1], -2
		}
		for c := range s.classes {
			cl := &s.classes[c]
			if cl.thick > s.levels[l] {
				break
			}
			if j := cl.down[l]; cl.worth > 0 && int(j) < l && s.outer[j]+cl.worth > s.outer[l]+1e-12 {
				s.outer[l], s.outerOf[l] = s.outer[j]+cl.worth, c
			}
		}
	}
	return s.outer[len(s.levels)-1]
}

// chosen returns the classes of the strips behind the outer value at the level, thickest first.
func (s *strips) chosen(level int) []int {
	var out []int
	for level > 0 {
		c := s.outerOf[level]
		switch {
		case c == -1:
			level = 0
		case c == -2:
			level--
		default:
			out = append(out, c)
			level = int(s.classes[c].down[level])
		}
	}
	sort.Sort(sort.Reverse(sort.IntSlice(out)))
	return out
}

// contents returns the options of the best strip of a class, longest last, with their numbers.
func (s *strips) contents(c int) []chunk {
	cl, p := s.classes[c], len(s.points)-1
	var out []chunk
	for k := cl.to - 1; k >= cl.from; k-- {
		if s.taken[k*len(s.points)+p] {
			out = append(out, s.chunks[k])
			p = int(s.chunks[k].down[p])
		}
	}
	return out
}

// relax returns an upper bound on the value of any two-stage pattern and a pattern that has it; the pattern may use a
// part more often than demanded, but not within one strip. On a grid of positions the pattern may be missing.
func (s *strips) relax(value []float64, demand []int) (float64, *piece) {
	s.fill(value, demand)
	bound := s.combine()
	if !s.onSums {
		if len(s.classes) > 0 && s.classes[0].thick < s.thick/maxPoints+2 {
			return math.Inf(1), nil // a strip may be thinner than the grid
		}
		return bound, nil
	}
	var made []*piece
	for _, c := range s.chosen(len(s.levels) - 1) {
		if strip := s.strip(s.contents(c), nil); strip != nil {
			made = append(made, strip)
		}
	}
	return bound, stack(s.cut, made)
}

// build returns a pattern that uses at most left[i] copies of part i, nil if nothing fits.
func (s *strips) build(value []float64, left []int) *piece {
	rest := slices.Clone(left)
	var made []*piece
	level := len(s.levels) - 1
	room := s.thick
	for {
		s.fill(value, rest)
		s.combine()
		progress := false
		for n, c := range s.chosen(level) {
			contents := s.contents(c)
			if n > 0 && !s.available(contents, rest) {
				break
			}
			if s.classes[c].thick > room {
				break // only on a grid of positions
			}
			strip := s.strip(contents, rest)
			if strip == nil {
				break
			}
			made = append(made, strip)
			room -= strip.thickness(s.cut)
			progress = true
		}
		level = sort.SearchInts(s.levels, room+1) - 1
		if !progress || level <= 0 {
			break
		}
	}
	if len(made) == 0 {
		return nil
	}
	return stack(s.cut, made)
}

func (s *strips) available(contents []chunk, left []int) bool {
	need := map[int]int{}
	for _, c := range contents {
		part := s.options[c.option].part
		if need[part] += c.n; need[part] > left[part] {
			return false
		}
	}
	return true
}

// strip makes a strip of the contents as far as they fit, taking the parts from left if that is given.
func (s *strips) strip(contents []chunk, left []int) *piece {
	var kids []*piece
	length := 0
	for _, c := range contents {
		o := s.options[c.option]
		for range c.n {
			if length+o.along > s.along || left != nil && left[o.part] == 0 {
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
	return stack(s.cut.across(), kids)
}

func (p *piece) thickness(cut Direction) int {
	if cut == Horizontal {
		return p.h
	}
	return p.w
}
