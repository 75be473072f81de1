// Package assembly is the one model that everything after the description reads: parts as boxes with
// a grain direction, placed in space, with the features cut into them, and the connections that say
// which faces meet where.
//
// Build places the parts of a description and finds the faces that meet. Joints are added later with
// WithFeatures; nothing else ever changes an assembly. Lengths inside a part are exact; the poses of
// parts in the world are float64 millimetres. The package judges nothing: whether a joint holds or a
// top can move is for the packages that check.
package assembly

import (
	"fmt"

	"longgrain/internal/design/piece"
	"longgrain/internal/ground/geom"
	"longgrain/internal/ground/unit"
)

// Assembly is a piece in space. Treat it as read-only.
type Assembly struct {
	Name        string       `json:"name"`
	Use         string       `json:"use"`     // table, seat, bench, step, shelf, chest
	Setting     string       `json:"setting"` // home, school
	Family      unit.Family  `json:"-"`       // units for showing
	Copies      int          `json:"copies"`
	Parts       []Part       `json:"parts"`
	Connections []Connection `json:"connections"`
	Supports    []Support    `json:"supports"`
	Loads       []Load       `json:"loads,omitempty"` // of the maker's own
	Fixed       string       `json:"fixed,omitempty"` // wall, hung, or empty for a piece that stands free
	Walls       []Support    `json:"walls,omitempty"` // sides on the wall, of a piece that hangs there
}

// Load is a force that the maker wants tried.
type Load struct {
	Name   string   `json:"name"`
	Part   int      `json:"part"`
	Force  float64  `json:"force"`  // N
	Toward geom.Vec `json:"toward"` // direction in the world
	At     geom.Vec `json:"at"`     // place in the world
}

// Part is a straight piece of wood. In its local frame it is a box from the origin: x along the grain
// over Length, y across it over Width, z through the Thickness. Tenons stand out beyond that box, so
// Length is measured between shoulders.
type Part struct {
	Name      string      `json:"name"`
	Mark      string      `json:"mark"`      // short mark for the bench, such as A2: letter for the kind, number within it
	Role      string      `json:"role"`      // leg, apron, rail, stretcher, top, shelf, seat, ...
	Kind      int         `json:"kind"`      // parts of equal size, wood and cuts before joints share a number from 0
	Species   string      `json:"species"`   // id in package wood
	Condition string      `json:"condition"` // clear, small tight knots, ordinary knotty, poor
	Length    unit.Length `json:"length"`
	Width     unit.Length `json:"width"`
	Thickness unit.Length `json:"thickness"`
	Pose      geom.Pose   `json:"pose"`
	Build     string      `json:"build,omitempty"` // one board, laminated, panel; empty leaves it open
	Features  []Feature   `json:"features,omitempty"`
}

// Size returns the length, width or thickness for the local axis 0, 1 or 2.
func (p Part) Size(axis int) unit.Length {
	return [3]unit.Length{p.Length, p.Width, p.Thickness}[axis]
}

// Box returns the part as a box in the world, without tenons.
func (p Part) Box() geom.Box {
	return geom.Box{Pose: p.Pose, Size: geom.Vec{X: p.Length.MM(), Y: p.Width.MM(), Z: p.Thickness.MM()}}
}

// Side is one of the six sides of a part's box. The two ends cross the grain; the edges are the
// narrow long-grain sides, the faces the wide ones.
type Side int

// The sides: at the low and at the high coordinate of the local x, y and z axis.
const (
	EndLow Side = iota
	EndHigh
	EdgeLow
	EdgeHigh
	FaceLow
	FaceHigh
)

// Sides lists all six.
var Sides = [6]Side{EndLow, EndHigh, EdgeLow, EdgeHigh, FaceLow, FaceHigh}

// Axis returns the local axis that the side is square to: 0, 1 or 2.
func (s Side) Axis() int { return int(s) / 2 }

// High tells whether the side lies at the high coordinate of its axis.
func (s Side) High() bool { return s%2 == 1 }

// IsEnd tells whether the side shows end grain.
func (s Side) IsEnd() bool { return s.Axis() == 0 }

// Opposite returns the side across the part.
func (s Side) Opposite() Side { return s ^ 1 }

// UV returns the local axes that positions on the side are measured along: u and v are the two other
// axes in rising order. On a face u runs along the grain and v across; on an edge u runs along the
// grain and v through the thickness; on an end u runs across and v through the thickness.
func (s Side) UV() (u, v int) {
	switch s.Axis() {
	case 0:
		return 1, 2
	case 1:
		return 0, 2
	}
	return 0, 1
}

// String returns the side in words that need no picture: "end", "edge" or "face" and which.
func (s Side) String() string {
	return [6]string{"end A", "end B", "edge A", "edge B", "face A", "face B"}[s]
}

// MarshalText writes the side in words.
func (s Side) MarshalText() ([]byte, error) { return []byte(s.String()), nil }

// Outward returns the direction that a side of the part looks in, in the world.
func (p Part) Outward(s Side) geom.Vec {
	if _, angled := p.Bevel(s); angled {
		return p.Pose.Turn(p.Frame(s).Out)
	}
	d := p.Pose.Axes[s.Axis()]
	if s.High() {
		return d
	}
	return d.Neg()
}

// OnSide takes the position u, v on a side, and the depth below it, to the world. Depth is negative
// outside the wood.
func (p Part) OnSide(s Side, u, v, depth unit.Length) geom.Vec {
	if _, angled := p.Bevel(s); angled {
		return p.Pose.Out(p.Frame(s).at(u.MM(), v.MM(), depth.MM()))
	}
	at := [3]unit.Length{}
	ua, va := s.UV()
	at[ua], at[va] = u, v
	if s.High() {
		at[s.Axis()] = p.Size(s.Axis()) - depth
	} else {
		at[s.Axis()] = depth
	}
	return p.Pose.Out(geom.Vec{X: at[0].MM(), Y: at[1].MM(), Z: at[2].MM()})
}

// Looking returns the side of the part that looks most nearly in a direction of the world.
func (p Part) Looking(direction geom.Vec) Side {
	best, most := EndLow, -2.0
	for _, s := range Sides {
		if d := p.Outward(s).Dot(direction); d > most+1e-9 {
			best, most = s, d
		}
	}
	return best
}

// FeatureKind names what is cut into or left standing on a part.
type FeatureKind string

// The kinds of feature, with the fields of Feature that each uses besides Side, U and V.
const (
	Bore     FeatureKind = "bore"    // round hole: Diameter, Depth; Tilt for a pocket hole
	Mortise  FeatureKind = "mortise" // rectangular or round-ended hole centred on U, V: Length along u, Width along v, Depth, Rounded
	Tenon    FeatureKind = "tenon"   // left standing on an end or edge, centred on U, V: Length along u, Width along v, Depth is how far it stands out
	Notch    FeatureKind = "notch"   // mortise that is open to one or more neighbouring sides, same fields: a lap, a socket between fingers, an open mortise
	Groove   FeatureKind = "groove"  // channel from U by Length, V by Width: Depth
	Rebate   FeatureKind = "rebate"  // step along an edge: from U by Length, V by Width: Depth
	Slot     FeatureKind = "slot"    // elongated hole through or into the side, centred on U, V: Length, Width, Depth
	BevelCut FeatureKind = "bevel"   // the whole side cut at an angle: OffU, OffV; the highest corner stays in the side of the box
	TaperCut FeatureKind = "taper"   // wood taken off the side: starts at U along the grain, reaches Depth after Length, toward the high end when Rising
)

// Feature is one cut, or one tenon, on a side of a part. U and V are measured on the side from the
// part's local origin, see Side.UV.
type Feature struct {
	Kind     FeatureKind `json:"kind"`
	Side     Side        `json:"side"`
	U        unit.Length `json:"u"`
	V        unit.Length `json:"v"`
	Diameter unit.Length `json:"diameter,omitempty"`
	Length   unit.Length `json:"length,omitempty"`
	Width    unit.Length `json:"width,omitempty"`
	Depth    unit.Length `json:"depth,omitempty"`
	// Tilt leans a bore from square to the side towards rising u, or falling u when negative.
	Tilt unit.Degrees `json:"tilt,omitempty"`
	// OffU and OffV are how far a bevel is off square, as a bevel gauge shows it along u and along v of its side: on an end OffU
	// is read on the face and OffV on the edge. Positive where the cut goes deeper with rising u or v.
	OffU    unit.Degrees `json:"off_u,omitempty"`
	OffV    unit.Degrees `json:"off_v,omitempty"`
	Rounded bool         `json:"rounded,omitempty"` // ends of a mortise or tenon are half round
	// Flare is how much wider a tail or its socket is at its far end than at the mouth, on either side, along the width of
	// its part.
	Flare   unit.Length `json:"flare,omitempty"`
	Through bool        `json:"through,omitempty"` // meant to come out at the far side
	Rising  bool        `json:"rising,omitempty"`  // a taper takes off more towards the high end
	For     string      `json:"for,omitempty"`     // name of the connection it belongs to
	Tool    string      `json:"tool,omitempty"`    // what it is made with, in words, when that is decided
}

// Rect is a rectangle on a side of a part, in the side's u and v.
type Rect struct {
	U0, U1, V0, V1 unit.Length
}

// Centre returns the middle of the rectangle.
func (r Rect) Centre() (u, v unit.Length) { return (r.U0 + r.U1) / 2, (r.V0 + r.V1) / 2 }

// SizeU returns the extent along u, SizeV along v.
func (r Rect) SizeU() unit.Length { return r.U1 - r.U0 }

// SizeV returns the extent along v.
func (r Rect) SizeV() unit.Length { return r.V1 - r.V0 }

// Place is where a connection touches one of its parts.
type Place struct {
	Part int  `json:"part"` // index into Assembly.Parts
	Side Side `json:"side"`
	Area Rect `json:"area"` // the surface that meets the other part, on that side
}

// Purpose of a connection.
const (
	Joint        = "joint"         // holds the frame together
	TopFastening = "top fastening" // holds a top, seat or shelf without glue, so that it can swell and shrink or be taken out
)

// Connection says which faces of two parts meet. Where an end meets a side, A has the end.
type Connection struct {
	Name    string `json:"name"`
	A       Place  `json:"a"`
	B       Place  `json:"b"`
	Purpose string `json:"purpose"`
	// U and V are the directions, in the world, of the sides of the contact rectangle along A's u and v.
	U geom.Vec `json:"u"`
	V geom.Vec `json:"v"`
	// Lap is how far the two parts run through each other where they cross, each cut from the side of its place; zero
	// where they only touch.
	Lap   unit.Length  `json:"lap,omitempty"`
	Wish  *piece.Joint `json:"wish,omitempty"` // the joint that the maker fixed
	Group int          `json:"group"`          // connections alike in parts, sides and contact share a number from 0
}

// Meeting says how grain meets grain in a connection.
type Meeting string

// The meetings.
const (
	EndToFace  Meeting = "end to face"
	EndToEdge  Meeting = "end to edge"
	EndToEnd   Meeting = "end to end"
	EdgeToEdge Meeting = "edge to edge"
	EdgeToFace Meeting = "edge to face"
	FaceToFace Meeting = "face to face"
)

// Meeting returns how the two sides meet.
func (c Connection) Meeting() Meeting {
	name := [3]string{"end", "edge", "face"}
	a, b := c.A.Side.Axis(), c.B.Side.Axis()
	if a > b {
		a, b = b, a
	}
	return Meeting(name[a] + " to " + name[b])
}

// Middle returns the centre of the contact in the world, and the direction out of A into B.
func (a Assembly) Middle(c Connection) (at, into geom.Vec) {
	p := a.Parts[c.A.Part]
	u, v := c.A.Area.Centre()
	return p.OnSide(c.A.Side, u, v, 0), p.Outward(c.A.Side)
}

// Hung is the value of Fixed of a piece that hangs on a wall: nothing stands on the floor.
const Hung = "hung"

// Support is a side of a part that stands on the floor.
type Support struct {
	Part int  `json:"part"`
	Side Side `json:"side"`
}

// PartNamed returns the index of a part.
func (a Assembly) PartNamed(name string) (int, bool) {
	for i, p := range a.Parts {
		if p.Name == name {
			return i, true
		}
	}
	return 0, false
}

// WithRole returns the indices of the parts with one of the roles, in order.
func (a Assembly) WithRole(roles ...string) []int {
	var out []int
	for i, p := range a.Parts {
		for _, r := range roles {
			if p.Role == r {
				out = append(out, i)
			}
		}
	}
	return out
}

// WithFeatures returns a copy of the assembly with features added to parts, keyed by part index.
func (a Assembly) WithFeatures(added map[int][]Feature) Assembly {
	parts := make([]Part, len(a.Parts))
	copy(parts, a.Parts)
	for i := range parts {
		if extra := added[i]; len(extra) > 0 {
			parts[i].Features = append(append([]Feature(nil), parts[i].Features...), extra...)
		}
	}
	a.Parts = parts
	return a
}

// Bounds returns the lowest and highest corner of the whole piece.
func (a Assembly) Bounds() (lo, hi geom.Vec) {
	for i, p := range a.Parts {
		l, h := p.Bounds()
		if i == 0 {
			lo, hi = l, h
			continue
		}
		lo = geom.Vec{X: min(lo.X, l.X), Y: min(lo.Y, l.Y), Z: min(lo.Z, l.Z)}
		hi = geom.Vec{X: max(hi.X, h.X), Y: max(hi.Y, h.Y), Z: max(hi.Z, h.Z)}
	}
	return lo, hi
}

// SideName says in words which side of a part is meant, by where it looks in the finished piece:
// "the front face", "the top end". Sides that look askew are named by their letter.
func (a Assembly) SideName(part int, s Side) string {
	kind := [3]string{"end", "edge", "face"}[s.Axis()]
	d := a.Parts[part].Outward(s)
	words := []struct {
		toward geom.Vec
		word   string
	}{
		{geom.Vec{X: 1}, "right"}, {geom.Vec{X: -1}, "left"},
		{geom.Vec{Y: 1}, "back"}, {geom.Vec{Y: -1}, "front"},
		{geom.Vec{Z: 1}, "upper"}, {geom.Vec{Z: -1}, "lower"},
	}
	for _, w := range words {
		if d.Dot(w.toward) > 0.8 {
			return fmt.Sprintf("the %s %s", w.word, kind)
		}
	}
	return s.String()
}
