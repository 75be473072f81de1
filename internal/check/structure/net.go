package structure

import (
	"math"
	"slices"

	"longgrain/internal/design/assembly"
	"longgrain/internal/ground/working"
	"longgrain/internal/solve/spaceframe"
)

// net is what joints leave of the section of a part over a stretch of it.
type net struct {
	from, to   float64 // mm from the low end
	area       float64
	wy, wz     float64 // moduli for bending about the own y and z, to the farthest fibre that is left, mm³
	offY, offZ float64 // of the centre of what is left from that of the whole, mm
	cuts       []string
	weakest    float64 // the lower of both moduli as a share of the whole section's
}

// cut is a rectangle that a feature takes out of the section over a stretch of the part, mm in the part's own directions.
type cut struct {
	from, to float64
	lo, hi   [2]float64 // in y and z
	why      string
}

// cutOf returns what a feature takes out of the section; false for what stands out, for tapers, which the section has already, and for what is cut into
// an end, which is the joint's own.
func cutOf(p assembly.Part, f assembly.Feature) (cut, bool) {
	if f.Side.IsEnd() || f.Kind == assembly.Tenon || f.Kind == assembly.TaperCut {
		return cut{}, false
	}
	long, wide, u, v := f.Length.MM(), f.Width.MM(), f.U.MM(), f.V.MM()
	switch f.Kind {
	case assembly.Bore:
		long, wide = f.Diameter.MM(), f.Diameter.MM()
		u, v = u-long/2, v-wide/2
		if lean := f.Depth.MM() * math.Sin(float64(f.Tilt)*math.Pi/180); lean != 0 {
			u, long = u+math.Min(0, lean), long+math.Abs(lean)
		}
	case assembly.Groove, assembly.Rebate:
	default:
		wide += 2 * f.Flare.MM()
		u, v = u-long/2, v-wide/2
	}
	through := f.Side.Axis() - 1 // index of the depth among y and z
	size := [2]float64{p.Width.MM(), p.Thickness.MM()}
	depth := f.Depth.MM()
	if f.Through {
		depth = size[through]
	}
	c := cut{from: math.Max(0, u), to: math.Min(p.Length.MM(), u+long), why: f.For}
	c.lo[1-through], c.hi[1-through] = math.Max(0, v), math.Min(size[1-through], v+wide)
	c.hi[through] = math.Min(size[through], depth)
	if f.Side.High() {
		c.lo[through], c.hi[through] = math.Max(0, size[through]-depth), size[through]
	}
	return c, c.to > c.from && c.hi[0] > c.lo[0] && c.hi[1] > c.lo[1]
}

// netsOf returns the stretches of a part over which joints have weakened it, from its low end.
func netsOf(p assembly.Part, gross spaceframe.Section) []net {
	var cuts []cut
	var at []float64
	for _, f := range p.Features {
		if c, ok := cutOf(p, f); ok {
			cuts = append(cuts, c)
			at = append(at, c.from, c.to)
		}
	}
	slices.Sort(at)
	var out []net
	for k := 1; k < len(at); k++ {
		if at[k]-at[k-1] < 1e-6 {
			continue
		}
		var here []cut
		for _, c := range cuts {
			if middle := (at[k] + at[k-1]) / 2; c.from < middle && middle < c.to {
				here = append(here, c)
			}
		}
		if len(here) > 0 {
			out = append(out, netOf(p, gross, at[k-1], at[k], here))
		}
	}
	return out
}

// netOf works out what rectangles leave of a section.
//
//	A = Σ a,  I = Σ (a d²/12 + a e²),  W = I/c
//
// over the rectangles that are left: d is the side of one square to the axis, e the distance of its middle from the centre of all, c the distance
// of the farthest fibre that is left. A bore counts with its whole diameter. A tapered part is as thick here as the section that the frame has.
//
// Source: [timber-theory] moments of area; that what fills a cut does not help is the safe side.
func netOf(p assembly.Part, gross spaceframe.Section, from, to float64, cuts []cut) net {
	size := [2]float64{p.Width.MM(), p.Thickness.MM()}
	lines := [2][]float64{{0, size[0]}, {0, size[1]}}
	n := net{from: from, to: to}
	for _, c := range cuts {
		for d := range 2 {
			lines[d] = append(lines[d], c.lo[d], c.hi[d])
		}
		if c.why != "" && !slices.Contains(n.cuts, c.why) {
			n.cuts = append(n.cuts, c.why)
		}
	}
	slices.Sort(lines[0])
	slices.Sort(lines[1])
	type cell struct{ middle, size [2]float64 }
	var left []cell
	var moment [2]float64
	for i := 1; i < len(lines[0]); i++ {
		for j := 1; j < len(lines[1]); j++ {
			x := cell{middle: [2]float64{(lines[0][i] + lines[0][i-1]) / 2, (lines[1][j] + lines[1][j-1]) / 2}, size: [2]float64{lines[0][i] - lines[0][i-1], lines[1][j] - lines[1][j-1]}}
			gone := slices.ContainsFunc(cuts, func(c cut) bool {
				return c.lo[0] < x.middle[0] && x.middle[0] < c.hi[0] && c.lo[1] < x.middle[1] && x.middle[1] < c.hi[1]
			})
			area := x.size[0] * x.size[1]
			if gone || area <= 0 {
				continue
			}
			left = append(left, x)
			n.area += area
			for d := range 2 {
				moment[d] += area * x.middle[d]
			}
		}
	}
	if n.area <= 0 {
		return n
	}
	var inertia, far [2]float64
	centre := [2]float64{moment[0] / n.area, moment[1] / n.area}
	for _, x := range left {
		for d := range 2 {
			e := x.middle[d] - centre[d]
			inertia[d] += x.size[0] * x.size[1] * (x.size[d]*x.size[d]/12 + e*e)
			far[d] = math.Max(far[d], math.Abs(e)+x.size[d]/2)
		}
	}
	n.offY, n.offZ = centre[0]-size[0]/2, centre[1]-size[1]/2
	n.wz, n.wy = inertia[0]/far[0], inertia[1]/far[1]
	// A taper has made the section thinner than the box of the part.
	share := gross.Area / (size[0] * size[1])
	n.area, n.wy, n.wz = n.area*share, n.wy*share, n.wz*share
	n.weakest = math.Min(n.wy/(gross.Iy/(size[1]/2)), n.wz/(gross.Iz/(size[0]/2)))
	return n
}

// netAt returns the weakest stretch at a place; nil where nothing is cut.
func netAt(nets []net, x float64) *net {
	var out *net
	for k := range nets {
		if n := &nets[k]; n.from-1e-6 <= x && x <= n.to+1e-6 && (out == nil || n.weakest < out.weakest) {
			out = n
		}
	}
	return out
}

// bending returns the share of the bending strength that a weakened section uses, as sectionForces.bending does; a force along the part also bends what
// is left, by its arm to the centre of it.
func (n *net) bending(s sectionForces, fp framePart) float64 {
	if n.area <= 0 || n.wy <= 0 || n.wz <= 0 {
		return math.Inf(1)
	}
	my, mz := s.my+s.n*math.Abs(n.offZ), s.mz+s.n*math.Abs(n.offY)
	return s.n/n.area/s.axialStrength(fp) + (my/n.wy+mz/n.wz)/fp.strength
}

func (n *net) shearing(s sectionForces, fp framePart) float64 {
	if n.area <= 0 {
		return math.Inf(1)
	}
	return 1.5 * s.v / n.area / fp.shear
}

// inputs are what the working shows of a weakened section.
func (n *net) inputs() []working.Value {
	return []working.Value{{Symbol: "A", Name: "left at the cut", Number: n.area, Unit: "mm²"}, {Symbol: "W_y", Name: "left", Number: n.wy, Unit: "mm³"}, {Symbol: "W_z", Name: "left", Number: n.wz, Unit: "mm³"}}
}
