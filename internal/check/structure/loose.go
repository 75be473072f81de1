package structure

import (
	"fmt"
	"math"
	"slices"

	"longgrain/internal/design/assembly"
	"longgrain/internal/ground/geom"
	"longgrain/internal/ground/unit"
	"longgrain/internal/solve/spaceframe"
)

// drawer is a group of parts that slides: no part of the frame, but a weight on what carries it, and further out when it is open.
type drawer struct {
	parts    []int
	carriers []int    // what it rests on
	out      geom.Vec // the way it opens
	pull     float64  // how far it is taken to be open, mm
	lo, hi   geom.Vec // of its box, shut
}

// drawerShare is the share of its depth that a drawer is taken to be open: about as far as it goes before it drops. Assumed.
const drawerShare = 2.0 / 3

// drawerFill is the mass of clothes in a drawer, kg/m³ of its box. Source: [astm-f2057] 8.5 lb a cubic foot, from memory.
const drawerFill = 136

// findDrawers groups the parts of the role drawer that touch each other. A drawer that is joined to something else is reported.
func (f *frame) findDrawers() {
	group := map[int]int{}
	for i, p := range f.a.Parts {
		if p.Role != "drawer" {
			continue
		}
		group[i] = i
		f.parts[i].surface = true
	}
	for spread := true; spread; {
		spread = false
		for i := range f.a.Parts {
			for j := range i {
				_, one := group[i]
				_, two := group[j]
				if one && two && group[i] != group[j] && f.touching(i, j, geom.Touch) {
					low := min(group[i], group[j])
					group[i], group[j], spread = low, low, true
				}
			}
		}
	}
	for i := range f.a.Parts {
		if g, ok := group[i]; ok && g == i {
			d := drawer{}
			for j := range f.a.Parts {
				if h, ok := group[j]; ok && h == g {
					d.parts = append(d.parts, j)
				}
			}
			f.drawers = append(f.drawers, f.opened(d))
		}
	}
	for _, c := range f.a.Connections {
		one, two := f.a.Parts[c.A.Part], f.a.Parts[c.B.Part]
		if c.Purpose == assembly.Joint && (one.Role == "drawer") != (two.Role == "drawer") {
			f.findings = append(f.findings, Finding{What: fmt.Sprintf("%s is joined to %s, but one of them is a drawer and slides", one.Name, two.Name), Where: c.Name,
				Advice: "take the connection out, or give the part another role"})
		}
	}
}

// opened fills in the box of a drawer, the side of the piece that it opens to and what it rests on.
func (f *frame) opened(d drawer) drawer {
	for k, i := range d.parts {
		lo, hi := f.a.Parts[i].Box().Bounds()
		if k == 0 {
			d.lo, d.hi = lo, hi
		}
		d.lo = geom.Vec{X: math.Min(d.lo.X, lo.X), Y: math.Min(d.lo.Y, lo.Y), Z: math.Min(d.lo.Z, lo.Z)}
		d.hi = geom.Vec{X: math.Max(d.hi.X, hi.X), Y: math.Max(d.hi.Y, hi.Y), Z: math.Max(d.hi.Z, hi.Z)}
	}
	lo, hi := f.bodyBounds()
	near := math.Inf(1)
	for _, way := range []struct {
		to    geom.Vec
		depth float64
		clear float64 // behind the outside of the piece
	}{
		{geom.Vec{Y: -1}, d.hi.Y - d.lo.Y, d.lo.Y - lo.Y}, {geom.Vec{Y: 1}, d.hi.Y - d.lo.Y, hi.Y - d.hi.Y},
		{geom.Vec{X: -1}, d.hi.X - d.lo.X, d.lo.X - lo.X}, {geom.Vec{X: 1}, d.hi.X - d.lo.X, hi.X - d.hi.X},
	} {
		if way.clear < near-0.5 {
			near, d.out, d.pull = way.clear, way.to, drawerShare*way.depth
		}
	}
	for i := range f.a.Parts {
		if !slices.Contains(d.parts, i) && f.a.Parts[i].Role != "drawer" && slices.ContainsFunc(d.parts, func(j int) bool { return f.under(i, j) }) {
			d.carriers = append(d.carriers, i)
		}
	}
	return d
}

// bodyBounds returns the bounds of everything that stands still: without tops, which stand out, and lids and drawers.
func (f *frame) bodyBounds() (lo, hi geom.Vec) {
	first := true
	for i, p := range f.a.Parts {
		if f.parts[i].surface || p.Role == "drawer" || p.Role == "lid" || p.Role == "top" {
			continue
		}
		l, h := p.Box().Bounds()
		if first {
			lo, hi, first = l, h, false
		}
		lo = geom.Vec{X: math.Min(lo.X, l.X), Y: math.Min(lo.Y, l.Y), Z: math.Min(lo.Z, l.Z)}
		hi = geom.Vec{X: math.Max(hi.X, h.X), Y: math.Max(hi.Y, h.Y), Z: math.Max(hi.Z, h.Z)}
	}
	return lo, hi
}

// touching tells whether the boxes of two parts come within a gap of each other.
func (f *frame) touching(i, j int, gap float64) bool {
	a, b := f.a.Parts[i].Box(), f.a.Parts[j].Box()
	al, ah := a.Bounds()
	bl, bh := b.Bounds()
	for k := range 3 {
		if al.Along(k) > bh.Along(k)+gap || bl.Along(k) > ah.Along(k)+gap {
			return false
		}
	}
	return true
}

// restPlay is the gap over which one part still rests on another, mm: what slides has some play. Judgement.
const restPlay = 3.0

// under tells whether one part lies under another and carries it.
func (f *frame) under(below, above int) bool {
	_, ok := f.restArea(below, above)
	return ok
}

// restArea returns the rectangle, seen from above, in which one part lies on another.
func (f *frame) restArea(below, above int) (area [2]geom.Vec, ok bool) {
	bl, bh := f.a.Parts[below].Box().Bounds()
	al, ah := f.a.Parts[above].Box().Bounds()
	if gap := al.Z - bh.Z; gap < -geom.Touch || gap > restPlay {
		return area, false
	}
	lo := geom.Vec{X: math.Max(al.X, bl.X), Y: math.Max(al.Y, bl.Y), Z: bh.Z}
	hi := geom.Vec{X: math.Min(ah.X, bh.X), Y: math.Min(ah.Y, bh.Y), Z: bh.Z}
	return [2]geom.Vec{lo, hi}, hi.X-lo.X > 1 && hi.Y-lo.Y > 1
}

// restsOn adds to the carriers of a lid what it rests on without being fastened to it: a lid is hinged at one side and lies on the others.
func (f *frame) restsOn(s surface) surface {
	for i := range f.a.Parts {
		if i != s.part && f.a.Parts[i].Role != "drawer" && !slices.Contains(s.carriers, i) && f.under(i, s.part) {
			s.carriers = append(s.carriers, i)
		}
	}
	return s
}

// weighDrawers puts the weight of drawers, shut and empty, on what they rest on: in equal shares on the parts under them, or where these are no
// parts of the frame on all that stand.
func (f *frame) weighDrawers(c *spaceframe.Case) {
	for _, d := range f.drawers {
		mass := 0.0
		var moment geom.Vec
		for _, i := range d.parts {
			mass += f.parts[i].mass
			moment = moment.Add(f.a.Parts[i].Box().Centre().Scale(f.parts[i].mass))
		}
		var on []int
		for _, i := range d.carriers {
			if len(f.parts[i].members) > 0 {
				on = append(on, i)
			}
		}
		for i := range f.a.Parts {
			if len(d.carriers) == 0 && f.stands(i) && len(f.parts[i].members) > 0 {
				on = append(on, i)
			}
		}
		for _, i := range on {
			f.forceAt(c, i, moment.Scale(1/mass), geom.Vec{Z: -mass * unit.Gravity / float64(len(on))})
		}
	}
}

// stance is a way in which a piece may stand when it tips: shut, with its drawers out, with its lid open.
type stance struct {
	words  string // ", drawers two thirds out (assumed)"
	weight float64
	centre geom.Vec
	open   []plane  // fronts of drawers on which a child may stand
	lid    int      // part that stands open, -1 for none
	toward geom.Vec // the side that the lid opens to
}

// stances returns the ways in which the piece may stand, shut first.
func (f *frame) stances() []stance {
	shut := stance{weight: f.mass * unit.Gravity, centre: f.centre, lid: -1}
	out := []stance{shut}
	if len(f.drawers) > 0 {
		out = append(out, f.drawersOut(shut, 0, ", drawers two thirds out (assumed)"), f.drawersOut(shut, drawerFill, ", full drawers two thirds out (assumed)"))
	}
	for i, p := range f.a.Parts {
		if p.Role == "lid" && f.parts[i].surface && f.mass > 0 {
			out = append(out, f.lidOpen(shut, i))
		}
	}
	return out
}

// moved returns a stance with a mass added at one place and, where it is a part that moved, taken away at another.
func (s stance) moved(mass float64, from, to geom.Vec) stance {
	s.centre = s.centre.Add(to.Sub(from).Scale(mass * unit.Gravity / s.weight))
	return s
}

func (f *frame) drawersOut(s stance, fill float64, words string) stance {
	s.words = words
	for _, d := range f.drawers {
		shift := d.out.Scale(d.pull)
		for _, i := range d.parts {
			at := f.a.Parts[i].Box().Centre()
			s = s.moved(f.parts[i].mass, at, at.Add(shift))
		}
		size := d.hi.Sub(d.lo)
		added := fill * size.X * size.Y * size.Z * 1e-9 * unit.Gravity
		middle := d.lo.Add(d.hi).Scale(0.5).Add(shift)
		s.centre = s.centre.Scale(s.weight / (s.weight + added)).Add(middle.Scale(added / (s.weight + added)))
		s.weight += added
		s.open = append(s.open, plane{surface: surface{part: d.parts[0]}, lo: d.lo.Add(shift), hi: d.hi.Add(shift)})
	}
	return s
}

// lidOpen stands a lid upright on the edge by which it is hinged: the one on the side of its hinges, or else of the last of its
// fastenings, or the back. What it only rests on does not turn it.
func (f *frame) lidOpen(s stance, lid int) stance {
	lo, hi := f.a.Parts[lid].Box().Bounds()
	middle, toward := lo.Add(hi).Scale(0.5), geom.Vec{Y: 1}
	for _, c := range f.a.Connections {
		if c.A.Part != lid && c.B.Part != lid || c.Wish != nil && c.Wish.Kind == "rests" {
			continue
		}
		at, _ := f.a.Middle(c)
		if d := at.Sub(middle); math.Abs(d.X) > math.Abs(d.Y) {
			toward = geom.Vec{X: math.Copysign(1, d.X)}
		} else {
			toward = geom.Vec{Y: math.Copysign(1, d.Y)}
		}
		if c.Wish != nil && c.Wish.Kind == "lid hinges" {
			break
		}
	}
	size := hi.Sub(lo)
	deep := math.Abs(size.Dot(toward))
	to := middle.Add(toward.Scale(deep/2 + size.Z/2))
	to.Z = lo.Z + deep/2
	s = s.moved(f.parts[lid].mass, middle, to)
	s.words, s.lid, s.toward = ", lid open (assumed upright)", lid, toward
	return s
}
