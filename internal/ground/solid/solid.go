// Package solid turns a block of stuff with cuts into a closed body with exact flat and round faces.
//
// Blocks are put together and taken away, slanting planes cut off what lies beyond them, and round holes, slots with
// half-round ends and round-ended pegs are set into the flat faces that result. Every edge is shared by exactly two faces,
// so the body can be written as a boundary representation or meshed without gaps. What cannot be represented exactly that
// way, a hole that breaks out through an edge or meets another hole, is left out and named, never drawn wrong.
//
// Coordinates are float64 millimetres in one frame. The package knows no wood.
package solid

import (
	"fmt"
	"math"

	"longgrain/internal/ground/geom"
)

// Tiny is the distance below which two points are the same point, mm: far above float noise, far below what can be cut.
const Tiny = 1e-6

// Block is a box with sides along the axes.
type Block struct{ Lo, Hi geom.Vec }

// HalfSpace is everything on the side of a plane that Normal does not point to; Normal has length one.
type HalfSpace struct{ At, Normal geom.Vec }

// Round is a hole, a slot or a peg with half-round ends. Its middle line starts at At on the surface and runs along Into, of
// length one, for Depth. Half is half the distance between the middles of the two half-round ends of a slot, square to Into,
// and zero for a round hole. A peg stands out by Depth along Into instead.
type Round struct {
	Name   string
	At     geom.Vec
	Into   geom.Vec
	Half   geom.Vec
	Radius float64
	Depth  float64
	Peg    bool
}

// Peg is a rectangular piece that stands square on a flat face: Foot are the corners where it stands, in order round it, and
// Up leads from its foot to its top, out of the stuff.
type Peg struct {
	Name string
	Foot [4]geom.Vec
	Up   geom.Vec
}

// Stock says what a body is made of: the blocks Add less the blocks Take, inside every half space of Keep, with Rounds and
// Pegs.
type Stock struct {
	Add, Take []Block
	Keep      []HalfSpace
	Rounds    []Round
	Pegs      []Peg
}

// Curve is the kind of an edge.
type Curve int

// The kinds of edges.
const (
	Line Curve = iota
	Ellipse
)

// Edge runs from one vertex to another. An Ellipse runs counterclockwise about Axis, through Centre + A·Major and
// Centre + B·(Axis × Major); it is closed when From and To are the same vertex, and a circle when A equals B.
type Edge struct {
	From, To    int
	Curve       Curve
	Centre      geom.Vec
	Axis, Major geom.Vec
	A, B        float64
}

// Use is an edge as a loop passes it.
type Use struct {
	Edge     int
	Backward bool
}

// Surface is the kind of a face.
type Surface int

// The kinds of faces.
const (
	Flat Surface = iota
	Cylinder
)

// Face is a piece of the surface of a body. The loops run counterclockwise as seen from outside the body, the first around
// the face and the others around its holes. Normal of a flat face points out of the body; for a cylinder it is the direction
// of the axis through At, and Hollow says that the body lies outside the cylinder.
type Face struct {
	Surface Surface
	At      geom.Vec
	Normal  geom.Vec
	Radius  float64
	Hollow  bool
	Loops   [][]Use
}

// Body is a closed solid.
type Body struct {
	Vertices []geom.Vec
	Edges    []Edge
	Faces    []Face
	// Volume in mm³, added up from the blocks and holes that the body was built from.
	Volume float64
	// Left names what could not be represented, with the reason.
	Left []string
}

// Build makes the body of a stock. It returns an error when nothing is left, or when parts of the body would hang
// together by an edge only. Rounds that cannot be set into the flat faces exactly are named in Left.
func Build(s Stock) (Body, error) {
	c := newCells(s)
	b, err := c.body()
	if err != nil {
		return Body{}, err
	}
	for _, p := range s.Pegs {
		if why := b.stand(p); why != "" {
			b.Left = append(b.Left, fmt.Sprintf("%s: %s", p.Name, why))
		}
	}
	for _, r := range s.Rounds {
		if why := b.set(r); why != "" {
			b.Left = append(b.Left, fmt.Sprintf("%s: %s", r.Name, why))
		}
	}
	return b, nil
}

// Moved returns the body in the frame that a pose places it in.
func (b Body) Moved(p geom.Pose) Body {
	out := b
	out.Vertices = make([]geom.Vec, len(b.Vertices))
	for i, v := range b.Vertices {
		out.Vertices[i] = p.Out(v)
	}
	out.Edges = make([]Edge, len(b.Edges))
	for i, e := range b.Edges {
		e.Centre, e.Axis, e.Major = p.Out(e.Centre), p.Turn(e.Axis), p.Turn(e.Major)
		out.Edges[i] = e
	}
	out.Faces = make([]Face, len(b.Faces))
	for i, f := range b.Faces {
		f.At, f.Normal = p.Out(f.At), p.Turn(f.Normal)
		out.Faces[i] = f
	}
	return out
}

// across returns two directions that with n make a right-handed frame: a × b = n.
func across(n geom.Vec) (a, b geom.Vec) {
	pick := geom.Vec{X: 1}
	if math.Abs(n.X) > 0.8 {
		pick = geom.Vec{Y: 1}
	}
	a = pick.Sub(n.Scale(pick.Dot(n))).Unit()
	return a, n.Cross(a)
}
