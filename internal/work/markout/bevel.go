package markout

import (
	"fmt"
	"math"
	"strings"

	"longgrain/internal/design/angle"
	"longgrain/internal/design/assembly"
	"longgrain/internal/ground/geom"
	"longgrain/internal/ground/unit"
)

// Bevel is how a side is cut at an angle, as a maker marks and saws it from the references of the part. All angles count
// from a square cut.
type Bevel struct {
	// OnFace is the line across the reference face, OnEdge that across the reference edge; an edge that is bevelled has only the
	// one that is read on the end, which is OnFace where the face runs out at the bevel.
	OnFace unit.Degrees `json:"on_face"`
	OnEdge unit.Degrees `json:"on_edge"`
	// Saw is set with the part lying flat, its face up.
	Saw angle.Saw `json:"saw"`
	// Longest names where the side stands out furthest: the roles of one or two neighbouring sides.
	Longest []string `json:"longest"`
}

// newBevel reads a bevel off the references of its part.
func newBevel(p assembly.Part, f assembly.Feature, r References) *Bevel {
	off := map[int]unit.Degrees{}
	ua, va := f.Side.UV()
	off[ua], off[va] = f.OffU, f.OffV
	b := &Bevel{}
	for _, axis := range [2]int{r.Edge.Axis(), r.Face.Axis()} {
		if off[axis] == 0 || axis == f.Side.Axis() {
			continue
		}
		far := assembly.Side(2 * axis) // it goes deeper with the coordinate, so it is longest at the low side
		if off[axis] < 0 {
			far++
		}
		b.Longest = append(b.Longest, r.Role(far))
	}
	size := func(d unit.Degrees) unit.Degrees { return max(d, -d) }
	if f.Side.IsEnd() {
		b.OnFace, b.OnEdge = size(off[r.Edge.Axis()]), size(off[r.Face.Axis()])
		b.Saw = angle.Across(b.OnFace, b.OnEdge)
		return b
	}
	for _, axis := range [2]int{1, 2} {
		if axis != f.Side.Axis() {
			b.OnFace = size(off[axis])
		}
	}
	b.Saw.Tilt = b.OnFace
	return b
}

// gauge prints the angle that a bevel gauge is set to: the smaller one between stock and blade.
func gauge(off unit.Degrees) string { return fmt.Sprintf("%.1f°", 90-float64(off)) }

// Short says the angles in few words, for a note on a drawing.
func (b Bevel) Short(s assembly.Side) string {
	switch {
	case !s.IsEnd():
		return "bevel " + gauge(b.OnFace) + " to the face"
	case b.OnEdge == 0:
		return gauge(b.OnFace) + " on the face"
	case b.OnFace == 0:
		return gauge(b.OnEdge) + " on the edge"
	}
	return gauge(b.OnFace) + " on the face, " + gauge(b.OnEdge) + " on the edge"
}

// Note says how a side is marked, in one line of a drawing; role is what the side is called.
func (b Bevel) Note(s assembly.Side, role string) string {
	return fmt.Sprintf("%s: %s; %s", upperFirst(role), b.Short(s), b.longest())
}

func (b Bevel) longest() string { return "longest at the " + strings.Join(b.Longest, " and the ") }

// Sentence says how a side is marked and sawn; role is what the side is called.
func (b Bevel) Sentence(s assembly.Side, role string) string {
	if !s.IsEnd() {
		return fmt.Sprintf("%s: bevelled, %s, bevel gauge %s between it and the face. Blade tilted %.1f°, or planed to the gauge.", upperFirst(role), b.longest(), gauge(b.OnFace), float64(b.Saw.Tilt))
	}
	turned, tilted := "mitre gauge square", "blade upright"
	if b.Saw.Gauge != 0 {
		turned = fmt.Sprintf("mitre gauge %.1f° off square", float64(b.Saw.Gauge))
	}
	if b.Saw.Tilt != 0 {
		tilted = fmt.Sprintf("blade tilted %.1f°", float64(b.Saw.Tilt))
	}
	return fmt.Sprintf("%s: bevel gauge %s; %s. Saw, face up: %s, %s.", upperFirst(role), b.Short(s), b.longest(), turned, tilted)
}

// Slope is how positions run on a side at an angle: they are measured in the slope, from the lines that its neighbouring
// sides leave on it. Across is square to its reference; along runs along the other one.
type Slope struct {
	SizeU unit.Length `json:"size_u"` // of the sloping side, along its u and v
	SizeV unit.Length `json:"size_v"`
	Skew  float64     `json:"skew"` // how far its outline moves along u for each step along v
}

// inSlope measures a cut on a side at an angle from the references of its part.
func (m Mark) inSlope(p assembly.Part, f assembly.Feature, r References) Mark {
	frame := p.Frame(f.Side)
	round := func(x float64) unit.Length { return unit.MM(x).RoundTo(unit.Micrometre) }
	s := Slope{SizeU: round(frame.SizeU), SizeV: round(frame.SizeV), Skew: frame.Skew}
	m.Slope = &s
	ua, va := f.Side.UV()
	fromU, fromV := r.Across(ua), r.Across(va)
	u, v := f.U-s.shift(f.V), f.V
	if fromU.High() {
		u = s.SizeU - u
		m.Tilt = -m.Tilt
	}
	if fromV.High() {
		v = s.SizeV - v
	}
	m.AlongFrom, m.AcrossFrom, m.Along, m.Across = fromU, fromV, u, v
	if f.Side.IsEnd() && r.Edge.Axis() == va {
		m.AlongFrom, m.AcrossFrom, m.Along, m.Across = fromV, fromU, v, u
		m.Length, m.Width = m.Width, m.Length
	}
	m.Exact = [2]unit.Length{m.Along, m.Across}
	return m
}

// at returns the u and v of a mark on a side at an angle, as marked.
func (s Slope) at(m Mark) (u, v unit.Length) {
	ua, _ := m.Side.UV()
	fromU, fromV := m.AlongFrom, m.AcrossFrom
	if u, v = m.Along, m.Across; fromU.Axis() != ua {
		fromU, fromV, u, v = fromV, fromU, v, u
	}
	if fromV.High() {
		v = s.SizeV - v
	}
	if fromU.High() {
		u = s.SizeU - u
	}
	return u + s.shift(v), v
}

// shift returns how far the outline stands along u at v, from where u counts.
func (s Slope) shift(v unit.Length) unit.Length { return (v - s.SizeV/2).Scale(s.Skew) }

// datum returns a point from which a mark is measured in one direction, and the way the reference looks there, in the world.
func (m Mark) datum(p assembly.Part, from assembly.Side, distance unit.Length) (at, look geom.Vec) {
	if m.Slope == nil {
		return p.Facing(from)
	}
	exact := m
	exact.Along, exact.Across = m.Exact[0], m.Exact[1]
	u, v := exact.At(p)
	frame := p.Frame(m.Side)
	look = p.Pose.Turn(frame.U)
	if ua, _ := m.Side.UV(); from.Axis() != ua {
		look = p.Pose.Turn(frame.V)
	}
	if !from.High() {
		look = look.Neg()
	}
	return p.OnSide(m.Side, u, v, 0).Add(look.Scale(distance.MM())), look
}

// slopes writes down how a bevel leans after a turn.
func slopes(f assembly.Feature, t turn) string {
	ua, va := f.Side.UV()
	var off [3]float64
	for axis, d := range map[int]unit.Degrees{ua: f.OffU, va: f.OffV} {
		x := math.Round(float64(d)*1e6) / 1e6
		if t.flip[axis] {
			x = -x
		}
		off[t.to[axis]] = x + 0 // never a negative zero
	}
	return fmt.Sprint(off)
}
