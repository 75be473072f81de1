// Package forces shows what a part carries: pull, shear and bending both ways and twist along it under one load case, as figures
// and as a drawing under the part in its own proportions.
//
// In goes a plan with the part and the case; out comes a Diagram, which prints itself as a scene. The figures are those of
// check/structure; the package computes nothing but where they are greatest. A surface on fastenings is no part of the frame and has no
// diagram.
package forces

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"longgrain/internal/check/structure"
	"longgrain/internal/design/assembly"
	"longgrain/internal/ground/geom"
	"longgrain/internal/ground/unit"
	"longgrain/internal/plan"
)

// Diagram is what a part carries in a load case.
type Diagram struct {
	Part, Mark, Case string
	Length, Width    float64   // of the part, mm
	Ends             [2]string // where its low and its high end look: "left", "lower"
	Joints           []Joint   // along the part, from the low end
	Family           unit.Family
	Curves           []Curve // in the order of Kinds
}

// Joint is where another part is joined to the part.
type Joint struct {
	Mark, Name     string  // of the other part
	At             float64 // the middle of the contact along the part, mm from the low end
	From, To       float64 // the contact along the part, and
	Across, Beyond float64 // across its width, from its low edge
}

// Curve is one force along a part: places in mm from the low end, rising, and the force there. Two values at one place are a step.
type Curve struct {
	Name, Unit   string
	Above, Below string // what a value above and one below nothing does: "pulls", "stretches the lower edge"; empty where the sign says little
	At, Of       []float64
}

// kind is one of the six forces. Bending is positive where it stretches the high edge or the high face of the part: M_z presses what lies towards
// y, M_y stretches what lies towards z.
type kind struct {
	name, unit   string
	scale        int              // curves with the same number are drawn to one scale
	above, below string           // what it does,
	sides        [2]assembly.Side // or the sides that it stretches
	of           func(structure.Section) float64
}

var kinds = []kind{
	{name: "pull and pressure along it", unit: "N", above: "pulls", below: "presses", of: func(s structure.Section) float64 { return s.Pull }},
	{name: "shear across the width", unit: "N", scale: 1, of: func(s structure.Section) float64 { return s.ShearWidth }},
	{name: "shear through the thickness", unit: "N", scale: 1, of: func(s structure.Section) float64 { return s.ShearThickness }},
	{name: "bending across the width", unit: "N·m", scale: 2, sides: [2]assembly.Side{assembly.EdgeHigh, assembly.EdgeLow}, of: func(s structure.Section) float64 { return -s.BendWidth }},
	{name: "bending through the thickness", unit: "N·m", scale: 2, sides: [2]assembly.Side{assembly.FaceHigh, assembly.FaceLow}, of: func(s structure.Section) float64 { return s.BendThickness }},
	{name: "twist", unit: "N·m", scale: 2, of: func(s structure.Section) float64 { return s.Twist }},
}

// least is the force that counts as none: what rounding leaves of nothing, N and N·m.
const least = 1e-6

// Of returns what a part carries in a load case, both by index; false when the part is none of the frame or the case has no answer.
func Of(p plan.Plan, index, part int) (Diagram, bool) {
	along, ok := p.Structure.Along(index, part)
	if !ok || len(along) == 0 {
		return Diagram{}, false
	}
	a := p.Assembly
	x := a.Parts[part]
	d := Diagram{Part: x.Name, Mark: x.Mark, Case: p.Structure.Cases[index].Name, Length: x.Length.MM(), Width: x.Width.MM(), Family: p.Family}
	for k, s := range []assembly.Side{assembly.EndLow, assembly.EndHigh} {
		d.Ends[k] = strings.TrimSuffix(strings.TrimPrefix(a.SideName(part, s), "the "), " end")
	}
	for _, c := range a.Connections {
		if c.Purpose == assembly.Joint && (c.A.Part == part || c.B.Part == part) {
			d.Joints = append(d.Joints, jointOf(a, c, part))
		}
	}
	slices.SortStableFunc(d.Joints, func(x, y Joint) int { return cmp.Compare(x.At, y.At) })
	for _, k := range kinds {
		c := Curve{Name: k.name, Unit: k.unit, Above: k.above, Below: k.below}
		if k.sides != [2]assembly.Side{} {
			c.Above, c.Below = "stretches "+a.SideName(part, k.sides[0]), "stretches "+a.SideName(part, k.sides[1])
		}
		for _, s := range along {
			v := k.of(s)
			if math.Abs(v) < least {
				v = 0
			}
			c.At, c.Of = append(c.At, s.X), append(c.Of, v)
		}
		d.Curves = append(d.Curves, c)
	}
	return d, true
}

// jointOf returns where a connection lies on one of its parts.
func jointOf(a assembly.Assembly, c assembly.Connection, part int) Joint {
	p, other := a.Parts[part], a.Parts[c.A.Part+c.B.Part-part]
	middle, _ := a.Middle(c)
	u, v := c.U.Scale(c.A.Area.SizeU().MM()/2), c.V.Scale(c.A.Area.SizeV().MM()/2)
	j := Joint{Mark: other.Mark, Name: other.Name}
	lo, hi := geom.Vec{X: math.Inf(1), Y: math.Inf(1)}, geom.Vec{X: math.Inf(-1), Y: math.Inf(-1)}
	for _, s := range [4][2]float64{{1, 1}, {1, -1}, {-1, 1}, {-1, -1}} {
		at := p.Pose.In(middle.Add(u.Scale(s[0])).Add(v.Scale(s[1])))
		lo.X, lo.Y, hi.X, hi.Y = min(lo.X, at.X), min(lo.Y, at.Y), max(hi.X, at.X), max(hi.Y, at.Y)
	}
	within := func(x, most float64) float64 { return min(max(x, 0), most) }
	j.From, j.To = within(lo.X, p.Length.MM()), within(hi.X, p.Length.MM())
	j.Across, j.Beyond = within(lo.Y, p.Width.MM()), within(hi.Y, p.Width.MM())
	j.At = (j.From + j.To) / 2
	return j
}

// Extremes returns the indices of the greatest and of the least value. Of a stretch of equal values the middle is taken.
func (c Curve) Extremes() (most, least int) {
	of := func(sense float64) int {
		best := math.Inf(-1)
		for _, v := range c.Of {
			best = max(best, sense*v)
		}
		first, last := -1, -1
		for i, v := range c.Of {
			if sense*v >= best-1e-9*math.Abs(best) && (first < 0 || last == i-1) {
				if first < 0 {
					first = i
				}
				last = i
			}
		}
		middle := (c.At[first] + c.At[last]) / 2
		near := first
		for i := first; i <= last; i++ {
			if math.Abs(c.At[i]-middle) < math.Abs(c.At[near]-middle)-1e-9 {
				near = i
			}
		}
		return near
	}
	return of(1), of(-1)
}

// Size returns the largest value of a curve without its sign.
func (c Curve) Size() float64 {
	most, least := c.Extremes()
	return max(math.Abs(c.Of[most]), math.Abs(c.Of[least]))
}

// Words says the most that the part carries in a sentence.
func (d Diagram) Words() string {
	bend := d.Curves[3]
	if d.Curves[4].Size() > bend.Size() {
		bend = d.Curves[4]
	}
	i, k := bend.Extremes()
	does := bend.Above
	if math.Abs(bend.Of[k]) > math.Abs(bend.Of[i]) {
		i, does = k, bend.Below
	}
	return fmt.Sprintf("Under %s the %s bends most %s: %s, which %s.", d.Case, d.Part, d.Place(bend.At[i]), show(math.Abs(bend.Of[i]), bend.Unit), does)
}

// Place says where along the part a place is: "at the left end", "120 mm from the left end".
func (d Diagram) Place(at float64) string {
	end, from := d.Ends[0], at
	if at > d.Length/2 {
		end, from = d.Ends[1], d.Length-at
	}
	if from < 0.5 {
		return "at the " + end + " end"
	}
	return fmt.Sprintf("%s from the %s end", unit.MM(from).Show(d.Family), end)
}

// show prints a force to three figures.
func show(v float64, unit string) string { return number(v) + " " + unit }

func number(v float64) string {
	switch size := math.Abs(v); {
	case size < 0.05:
		return "0"
	case size < 9.95:
		return fmt.Sprintf("%.1f", v)
	}
	return fmt.Sprintf("%.0f", v)
}

// Most says the most of a curve above its line and below it, each with its place and what it does; "none" where it has none.
func (d Diagram) Most(c Curve) (above, below string) {
	most, least := c.Extremes()
	say := func(i int, sense float64) string {
		if v := c.Of[i] * sense; v > 0 {
			return show(v, c.Unit) + " " + d.Place(c.At[i]) + prefixed(", ", c.does(sense))
		}
		return "none"
	}
	return say(most, 1), say(least, -1)
}

func (c Curve) does(sense float64) string {
	if sense > 0 {
		return c.Above
	}
	return c.Below
}

func prefixed(before, text string) string {
	if text == "" {
		return ""
	}
	return before + text
}
