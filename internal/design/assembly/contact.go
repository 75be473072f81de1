package assembly

import (
	"math"
	"slices"

	"longgrain/internal/ground/geom"
	"longgrain/internal/ground/unit"
)

// Contact is the class of a connection: how its two parts meet, as far as the choice of a joint depends on it.
type Contact struct {
	Meeting Meeting `json:"meeting"`
	// Corner says that an end meets a side at the very end of its part, so that the two end flush.
	Corner bool `json:"corner,omitempty"`
	// Crossing says that the two parts run through each other.
	Crossing bool `json:"crossing,omitempty"`
	// Along says that the grain of both parts runs the same way.
	Along bool `json:"along,omitempty"`
}

// Contact classifies a connection.
func (a Assembly) Contact(c Connection) Contact {
	p, q := a.Parts[c.A.Part], a.Parts[c.B.Part]
	out := Contact{Meeting: c.Meeting(), Crossing: c.Lap > 0, Along: geom.Parallel(p.Pose.Axes[0], q.Pose.Axes[0])}
	if c.A.Side.IsEnd() && !c.B.Side.IsEnd() {
		lo, hi := c.B.Area.U0, c.B.Area.U1 // u runs along the grain on every long side
		touch := unit.MM(geom.Touch)
		out.Corner = lo <= touch || hi >= q.Length-touch
	}
	return out
}

// String names the class in words: "end to face, at the corner".
func (c Contact) String() string {
	switch {
	case c.Crossing:
		return "crossing"
	case c.Corner:
		return string(c.Meeting) + ", at the corner"
	}
	return string(c.Meeting)
}

// crossing returns the connection of two parts that run through each other at a right angle and lie side by side in the
// third direction, each reaching out beyond the other on one side or flush with it: a lap can be cut half from the one and
// half from the other. A is cut from its side of the connection down to the middle of the lap, B from the opposite side.
func (b *builder) crossing(i, j int) (Connection, bool) {
	p, q := b.out.Parts[i], b.out.Parts[j]
	if geom.Penetration(p.Box(), q.Box()) <= geom.Touch*10 || math.Abs(p.Pose.Axes[0].Dot(q.Pose.Axes[0])) > 1e-9 {
		return Connection{}, false
	}
	for _, s := range []Side{FaceHigh, EdgeHigh, FaceLow, EdgeLow} {
		down := p.Outward(s).Neg()
		t := q.Looking(down)
		if t.IsEnd() || q.Outward(t).Dot(down) < 1-1e-9 {
			continue
		}
		// Heights above A's lower side, along the outward direction of s.
		top := p.Size(s.Axis())
		base := p.OnSide(s, 0, 0, top)
		low := unit.MM(q.OnSide(t, 0, 0, 0).Sub(base).Dot(p.Outward(s)))
		high := low + q.Size(t.Axis())
		touch := unit.MM(geom.Touch)
		if low < -touch || high < top-touch || low >= top {
			continue // B is not above A, or does not reach through to its upper side
		}
		areaP, okP := overlap(p, s, q, t)
		areaQ, okQ := overlap(q, t, p, s)
		_, v := s.UV()
		_, w := t.UV()
		if !okP || !okQ || areaP.SizeV() < p.Size(v)-touch || areaQ.SizeV() < q.Size(w)-touch {
			continue // one part is wider than the other is long there
		}
		c := b.directed(Connection{A: Place{i, s, areaP}, B: Place{j, t, areaQ}})
		c.Lap = top - max(low, 0)
		return c, true
	}
	return Connection{}, false
}

// lapped tells whether two parts run through each other because they are joined so.
func (b *builder) lapped(i, j int) bool {
	return slices.ContainsFunc(b.out.Connections, func(c Connection) bool {
		return c.Lap > 0 && ((c.A.Part == i && c.B.Part == j) || (c.A.Part == j && c.B.Part == i))
	})
}
