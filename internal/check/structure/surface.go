package structure

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"longgrain/internal/design/assembly"
	"longgrain/internal/ground/geom"
	"longgrain/internal/ground/unit"
	"longgrain/internal/solve/spaceframe"
)

// plane is a loaded surface: the part and how high and wide it lies.
type plane struct {
	surface
	lo, hi geom.Vec
}

func (p plane) middle() geom.Vec { return p.lo.Add(p.hi).Scale(0.5) }

// spot is a place for a load on a surface.
type spot struct {
	name string
	at   geom.Vec
}

// spots returns the places where a load is tried: the middle, the middle of each edge and each corner, inset mm from the
// edges, and half way between the middle and each edge.
func (p plane) spots(inset float64) []spot {
	m := p.middle()
	x0, x1 := math.Min(p.lo.X+inset, m.X), math.Max(p.hi.X-inset, m.X)
	y0, y1 := math.Min(p.lo.Y+inset, m.Y), math.Max(p.hi.Y-inset, m.Y)
	at := func(x, y float64) geom.Vec { return geom.Vec{X: x, Y: y, Z: p.hi.Z} }
	return []spot{
		{"in the middle", at(m.X, m.Y)},
		{"at the front edge", at(m.X, y0)}, {"at the back edge", at(m.X, y1)},
		{"at the left edge", at(x0, m.Y)}, {"at the right edge", at(x1, m.Y)},
		{"at the front left corner", at(x0, y0)}, {"at the front right corner", at(x1, y0)},
		{"at the back left corner", at(x0, y1)}, {"at the back right corner", at(x1, y1)},
		{"half way to the front", at(m.X, (m.Y+y0)/2)}, {"half way to the left", at((m.X+x0)/2, m.Y)},
	}
}

// loadedSurface returns the highest surface on fastenings, or else the highest flat part of the frame.
func (f *frame) loadedSurface() (plane, bool) {
	var best plane
	found := false
	for _, p := range f.flats() {
		fastened, before := len(p.carriers) > 0, len(best.carriers) > 0
		if !found || (fastened && !before) || (fastened == before && p.hi.Z > best.hi.Z) {
			best, found = p, true
		}
	}
	return best, found
}

// flats returns every flat part that people load: on fastenings, and as parts of the frame.
func (f *frame) flats() []plane {
	var out []plane
	for i, p := range f.a.Parts {
		if !slices.Contains(surfaceRoles, p.Role) || math.Abs(p.Pose.Axes[2].Z) < 0.8 {
			continue
		}
		s := surface{part: i}
		if k := slices.IndexFunc(f.surfaces, func(s surface) bool { return s.part == i }); k >= 0 {
			s = f.surfaces[k]
		}
		lo, hi := p.Box().Bounds()
		out = append(out, plane{s, lo, hi})
	}
	return out
}

// press puts a downward force on a surface at a place. A surface that is a member is loaded itself. One that hangs on
// rails loads the nearest pair of opposite rails by the lever rule, which also holds outside them. One that lies on
// the ends of uprights loads all of them as a stiff board. What presses above the head of an upright goes into that.
func (f *frame) press(c *spaceframe.Case, p plane, at geom.Vec, force float64) {
	if len(p.carriers) == 0 {
		f.pointLoad(c, p.part, at, force)
		return
	}
	if slices.ContainsFunc(p.carriers, f.upright) {
		f.pressUprights(c, p, at, force)
		return
	}
	if part, ok := f.headUnder(p, at); ok {
		f.pointLoad(c, part, at, force)
		return
	}
	near, far, ok := f.opposite(p.carriers, at)
	if !ok {
		f.pointLoad(c, near, at, force)
		return
	}
	square := f.square(near)
	a := f.centreLine(near, 0).Dot(square)
	b := f.centreLine(far, 0).Dot(square)
	share := (at.Dot(square) - a) / (b - a)
	f.pointLoad(c, near, at, force*(1-share))
	f.pointLoad(c, far, at, force*share)
}

// headUnder returns the upright whose upper end touches the surface below a place, such as the leg under the corner of a top on
// aprons: what presses there goes into it.
func (f *frame) headUnder(p plane, at geom.Vec) (int, bool) {
	under, _ := f.a.Parts[p.part].Box().Bounds()
	for i := range f.a.Parts {
		if f.parts[i].surface || !f.upright(i) {
			continue
		}
		lo, hi := f.a.Parts[i].Box().Bounds()
		if math.Abs(hi.Z-under.Z) < geom.Touch && at.X >= lo.X && at.X <= hi.X && at.Y >= lo.Y && at.Y <= hi.Y {
			return i, true
		}
	}
	return 0, false
}

// besideHeads returns the places next to each upright that carries the surface, a pad's width clear of it along both edges: there the
// joint beside it is sheared hardest.
func (f *frame) besideHeads(p plane, inset float64) []spot {
	var out []spot
	m := p.middle()
	under, _ := f.a.Parts[p.part].Box().Bounds()
	for i, part := range f.a.Parts {
		lo, hi := part.Box().Bounds()
		if f.parts[i].surface || !f.upright(i) || part.Width >= wideShare*part.Thickness || math.Abs(hi.Z-under.Z) >= geom.Touch {
			continue
		}
		beside := func(lo, hi, middle float64) float64 {
			if (lo+hi)/2 < middle {
				return hi + loadPad/2
			}
			return lo - loadPad/2
		}
		edge := func(lo, hi, middle, from, to float64) (float64, int) {
			if (lo+hi)/2 < middle {
				return math.Min(from+inset, middle), 0
			}
			return math.Max(to-inset, middle), 1
		}
		x, k := edge(lo.X, hi.X, m.X, p.lo.X, p.hi.X)
		y, l := edge(lo.Y, hi.Y, m.Y, p.lo.Y, p.hi.Y)
		out = append(out, spot{fmt.Sprintf("beside the %s, along the %s edge", part.Name, [2]string{"front", "back"}[l]), geom.Vec{X: beside(lo.X, hi.X, m.X), Y: y, Z: p.hi.Z}},
			spot{fmt.Sprintf("beside the %s, along the %s edge", part.Name, [2]string{"left", "right"}[k]), geom.Vec{X: x, Y: beside(lo.Y, hi.Y, m.Y), Z: p.hi.Z}})
	}
	return out
}

// square returns the horizontal direction square to a part's length.
func (f *frame) square(part int) geom.Vec {
	return geom.Vec{Z: 1}.Cross(f.a.Parts[part].Pose.Axes[0]).Unit()
}

// opposite returns the carrier nearest to a place and the parallel carrier farthest from it.
func (f *frame) opposite(carriers []int, at geom.Vec) (near, far int, ok bool) {
	distance := func(i int) float64 {
		return math.Abs(at.Sub(f.centreLine(i, 0)).Dot(f.square(i)))
	}
	near = slices.MinFunc(carriers, func(a, b int) int { return cmp.Compare(distance(a), distance(b)) })
	most := 1.0
	for _, i := range carriers {
		if !geom.Parallel(f.a.Parts[i].Pose.Axes[0], f.a.Parts[near].Pose.Axes[0]) {
			continue
		}
		if d := math.Abs(f.centreLine(i, 0).Sub(f.centreLine(near, 0)).Dot(f.square(near))); d > most {
			most, far, ok = d, i, true
		}
	}
	return near, far, ok
}

// pointLoad puts a downward force on a part at the place of its centre line nearest to the point.
func (f *frame) pointLoad(c *spaceframe.Case, part int, at geom.Vec, force float64) {
	fp := f.parts[part]
	x := f.within(part, f.a.Parts[part].Pose.In(at).X)
	k := len(fp.members) - 1
	for k > 0 && fp.stations[k].x > x {
		k--
	}
	load := spaceframe.PointLoad{Member: fp.members[k], At: x - fp.stations[k].x, Force: spaceframe.Vec{0, 0, -force}}
	if f.upright(part) {
		// A force beside the centre line of an upright also bends it; across the thickness of a board that is left out, for it
		// evens out in its width.
		p := f.a.Parts[part]
		beside := at.Sub(f.centreLine(part, x))
		arm := p.Pose.Axes[1].Scale(beside.Dot(p.Pose.Axes[1]))
		if p.Width < wideShare*p.Thickness {
			arm = arm.Add(p.Pose.Axes[2].Scale(beside.Dot(p.Pose.Axes[2])))
		}
		load.Moment = vec(arm.Cross(geom.Vec{Z: -force}))
	}
	c.Point = append(c.Point, load)
}

// weighSurfaces puts the weight of surfaces on their carriers, in equal shares where these are rails.
func (f *frame) weighSurfaces(c *spaceframe.Case) {
	f.weighPanels(c)
	for _, s := range f.surfaces {
		p := f.a.Parts[s.part]
		weight := f.parts[s.part].density * f.parts[s.part].section.Area * p.Length.MM() * unit.Gravity * 1000
		if slices.ContainsFunc(s.carriers, f.upright) {
			f.pressUprights(c, plane{surface: s}, p.Box().Centre(), weight)
			continue
		}
		for _, carrier := range s.carriers {
			f.pointLoad(c, carrier, p.Box().Centre(), weight/float64(len(s.carriers)))
		}
	}
}

// spreadOnShelves puts a mass per square metre on every flat surface.
func (f *frame) spreadOnShelves(c *spaceframe.Case, mass float64) {
	for i, p := range f.a.Parts {
		if !slices.Contains(surfaceRoles, p.Role) || math.Abs(p.Pose.Axes[2].Z) < 0.8 {
			continue
		}
		total := mass * float64(unit.Area(p.Length, p.Width)) * unit.Gravity
		if f.parts[i].surface {
			for _, s := range f.surfaces {
				if s.part == i {
					f.press(c, plane{surface: s}, p.Box().Centre(), total)
				}
			}
			continue
		}
		for _, m := range f.parts[i].members {
			c.Spread = append(c.Spread, spaceframe.Uniform(m, spaceframe.Vec{0, 0, -total / p.Length.MM()}))
		}
	}
}

// upright tells whether a part stands: the end of it carries, not its side.
func (f *frame) upright(part int) bool { return math.Abs(f.a.Parts[part].Pose.Axes[0].Z) > 0.5 }

// bearing is a point on which a stiff board lies.
type bearing struct {
	part int
	at   geom.Vec
}

// bearings returns the points on which a surface lies: two for each long contact, at the distance from its middle that
// gives them the same second moment as the line, one for a short contact.
func (f *frame) bearings(s surface) []bearing {
	var out []bearing
	for _, c := range f.a.Connections {
		part := c.A.Part + c.B.Part - s.part
		if c.Purpose != assembly.TopFastening || (c.A.Part != s.part && c.B.Part != s.part) {
			continue
		}
		middle, _ := f.a.Middle(c)
		along, long, short := c.U, c.A.Area.SizeU().MM(), c.A.Area.SizeV().MM()
		if short > long {
			along, long, short = c.V, short, long
		}
		if long < 2*short {
			out = append(out, bearing{part, middle})
			continue
		}
		reach := along.Scale(long / (2 * math.Sqrt(3)))
		out = append(out, bearing{part, middle.Add(reach)}, bearing{part, middle.Sub(reach)})
	}
	return out
}

// pressUprights shares a force among the bearings of a surface as a stiff board on equal springs does.
//
//	p_i = F/n + a x_i + b y_i
//
// x and y are measured from the middle of the n bearings; a and b follow from the moments of F. Where all bearings lie
// on one line only the moment along it can be taken: the rest is left to the check of tipping.
func (f *frame) pressUprights(c *spaceframe.Case, p plane, at geom.Vec, force float64) {
	on := f.bearings(p.surface)
	var middle geom.Vec
	for _, b := range on {
		middle = middle.Add(b.at.Scale(1 / float64(len(on))))
	}
	var xx, yy, xy float64
	for _, b := range on {
		r := b.at.Sub(middle)
		xx, yy, xy = xx+r.X*r.X, yy+r.Y*r.Y, xy+r.X*r.Y
	}
	e := at.Sub(middle)
	var slope geom.Vec
	det, sum := xx*yy-xy*xy, xx+yy
	switch {
	case det > 1e-6*sum*sum:
		slope = geom.Vec{X: (e.X*yy - e.Y*xy) / det, Y: (e.Y*xx - e.X*xy) / det}
	case xx > 0 && xx >= yy:
		line := geom.Vec{X: xx, Y: xy}.Unit()
		slope = line.Scale(e.Dot(line) / sum)
	case yy > 0:
		line := geom.Vec{X: xy, Y: yy}.Unit()
		slope = line.Scale(e.Dot(line) / sum)
	}
	for _, b := range on {
		f.pointLoad(c, b.part, b.at, force*(1/float64(len(on))+slope.Dot(b.at.Sub(middle))))
	}
}
