package assembly

import (
	"fmt"
	"math"

	"longgrain/internal/design/angle"
	"longgrain/internal/design/piece"
	"longgrain/internal/ground/geom"
	"longgrain/internal/ground/problem"
	"longgrain/internal/ground/unit"
)

// Noise of angles and lengths that come out of sines, far below what can be cut.
const (
	levelNoise = 1e-9                // slope below which a side counts as square
	lengthStep = unit.Nanometre * 10 // lengths that are worked out are whole steps of this, so that mirrored parts are alike
)

// stand turns and cuts the parts that do not lie along the three directions.
func (b *builder) stand() {
	sides := make([]map[string]Side, len(b.out.Parts))
	for i, d := range b.piece.Parts {
		if d.Stands() {
			sides[i] = named(b.out.Parts[i])
			b.turn(i)
		}
	}
	for _, ends := range [2]bool{false, true} {
		for i := range b.out.Parts {
			for k, cut := range b.piece.Parts[i].Angled {
				if s := sides[i][cut.Side]; s.IsEnd() == ends {
					b.angle(i, s, cut, fmt.Sprintf("parts[%d].angled[%d]", i, k))
				}
			}
		}
	}
	for i, d := range b.piece.Parts {
		if d.Stands() {
			b.dress(i, sides[i])
		}
	}
}

// named returns the sides of a part by the words for where they look.
func named(p Part) map[string]Side {
	out := map[string]Side{}
	for word, direction := range directions {
		out[word] = p.Looking(direction)
	}
	return out
}

// turn leans a part about its middle and turns it about an upright line.
//
// A part that leans by A as seen from the front and by B as seen from the side leans by B about the line from left to right
// and, in the plane that this tilts, by atan(tan A cos B): its upright direction then runs tan A to the right and tan B back
// for each unit of height.
//
// Source: geometry, closed form; docs/methods/angles.md.
func (b *builder) turn(i int) {
	d, p := b.piece.Parts[i], &b.out.Parts[i]
	middle := p.Box().Centre()
	if l := d.Lean; l != nil && (l.Right != 0 || l.Back != 0) {
		back := l.Back * math.Pi / 180
		right := math.Atan(math.Tan(l.Right*math.Pi/180) * math.Cos(back))
		p.Pose = p.Pose.Turned(middle, geom.Axis(1), right).Turned(middle, geom.Axis(0), -back)
	}
	if n := len(d.About); n != 0 && n != 2 {
		b.report(problem.WrongKind, fmt.Sprintf("parts[%d].about", i), fmt.Sprintf("has %d lengths", n), "write two: right, back")
		return
	}
	if d.Turn != 0 {
		about := middle
		if len(d.About) == 2 {
			about = geom.Vec{X: d.About[0].Length.MM(), Y: d.About[1].Length.MM()}
		}
		p.Pose = p.Pose.Turned(about, geom.Axis(2), d.Turn*math.Pi/180)
	}
}

// angle cuts a side of a part so that it lies on the floor or on a side of its neighbour.
func (b *builder) angle(i int, s Side, cut piece.Angled, path string) {
	p := &b.out.Parts[i]
	onto, ok := b.target(i, s, cut, path)
	if !ok {
		return
	}
	o := p.Pose.TurnIn(onto.Out.Neg()) // the way the cut looks, in the part's own frame
	k := s.Axis()
	u, v := s.UV()
	square := p.outward(s).Dot(o)
	offU, offV := o.Along(u)/square, o.Along(v)/square
	if square <= math.Cos(float64(angle.Steepest)*math.Pi/180) {
		b.report(problem.BadGeometry, path, fmt.Sprintf("the cut would run more than %.0f° off square", float64(angle.Steepest)),
			"turn the part so that this side looks toward what it meets")
		return
	}
	if !s.IsEnd() && math.Abs(offU) > levelNoise {
		b.report(problem.BadGeometry, path, fmt.Sprintf("the %s side of %q would run %.1f° against its grain", cut.Side, p.Name, math.Abs(math.Atan(offU))*180/math.Pi),
			"only an end may be cut across the grain; make a taper of it, or turn the part")
		return
	}
	f := Feature{Kind: BevelCut, Side: s, Length: p.Size(u), Width: p.Size(v), OffU: degrees(offU), OffV: degrees(offV)}
	// How far the highest corner of the cut now stands out beyond the side of the box, along the part's own axis.
	a, c := f.slopes()
	low := p.onSide(s, 0, 0).Sub(p.outward(s).Scale(f.deepest(a, c, p.Size(u).MM(), p.Size(v).MM())))
	gap := (onto.At - p.Pose.Out(low).Dot(onto.Out)) / onto.Out.Dot(p.Pose.Turn(p.outward(s)))
	axis := p.Pose.Axes[k]
	if !s.High() {
		gap = -gap
	}
	switch {
	case !s.IsEnd(): // the part moves until it touches
		p.Pose.Origin = p.Pose.Origin.Add(axis.Scale(gap))
	case s.High():
		p.Length = (p.Length + unit.MM(gap)).RoundTo(lengthStep)
	default:
		p.Length = (p.Length - unit.MM(gap)).RoundTo(lengthStep)
		p.Pose.Origin = p.Pose.Origin.Add(axis.Scale(gap))
	}
	if p.Length <= 0 {
		b.report(problem.BadGeometry, path, fmt.Sprintf("nothing is left of %q", p.Name), "make it longer or move it")
		return
	}
	f.Depth = unit.MM(math.Abs(a)*f.Length.MM() + math.Abs(c)*f.Width.MM())
	if f.OffU != 0 || f.OffV != 0 {
		p.Features = append(p.Features, f)
	}
}

// degrees returns the angle of a slope. What is square but for noise is square.
func degrees(slope float64) unit.Degrees {
	if math.Abs(slope) < levelNoise {
		return 0
	}
	return unit.Degrees(math.Atan(slope) * 180 / math.Pi)
}

// target returns the surface that a side of a part is cut to, as the plane of what lies behind it.
func (b *builder) target(i int, s Side, cut piece.Angled, path string) (geom.Plane, bool) {
	if cut.To == piece.Floor {
		return geom.Plane{Out: geom.Axis(2)}, true
	}
	other, ok := b.out.PartNamed(cut.To)
	if !ok || other == i {
		b.report(problem.UnknownName, path+".to", fmt.Sprintf("there is no part %q to meet", cut.To), problem.DidYouMean(cut.To, append(b.partNames(), piece.Floor)))
		return geom.Plane{}, false
	}
	q := b.out.Parts[other]
	return q.Planes()[q.Looking(b.out.Parts[i].Pose.Turn(b.out.Parts[i].outward(s)).Neg())], true
}

// dress fits the bevels of a part to its size now that all its sides are cut, and tapers it.
func (b *builder) dress(i int, sides map[string]Side) {
	p := &b.out.Parts[i]
	for k, f := range p.Features {
		u, v := f.Side.UV()
		p.Features[k].Length, p.Features[k].Width = p.Size(u), p.Size(v)
	}
	if from, to := p.Between(); from >= to {
		b.report(problem.BadGeometry, fmt.Sprintf("parts[%d].angled", i), fmt.Sprintf("the cuts leave nothing of %q", p.Name), "make it longer")
		return
	}
	b.taperAll(i, sides)
}
