package solid

import (
	"math"

	"longgrain/internal/ground/geom"
)

// stand sets a peg on a flat face. It returns why it cannot, and then leaves the body as it was.
func (b *Body) stand(p Peg) string {
	if p.Up.Length() < Tiny {
		return "it has no size"
	}
	up := p.Up.Unit()
	foot := p.Foot
	size := area(foot[:], up)
	if size < 0 { // counterclockwise about Up
		foot[1], foot[3] = foot[3], foot[1]
		size = -size
	}
	if size < Tiny*Tiny {
		return "it has no size"
	}
	for f, face := range b.Faces {
		if face.Surface != Flat || face.Normal.Dot(up) < 1-square || math.Abs(face.At.Sub(foot[0]).Dot(up)) > 1e-3 || !b.covers(f, middleOf(foot)) {
			continue
		}
		if !b.clear(f, foot) {
			return "it stands over the edge of its shoulder"
		}
		b.raisePeg(f, foot, p.Up)
		b.Volume += size * p.Up.Length()
		return ""
	}
	return "there is no flat shoulder for it to stand on"
}

func middleOf(foot [4]geom.Vec) geom.Vec {
	return foot[0].Add(foot[1]).Add(foot[2]).Add(foot[3]).Scale(0.25)
}

// clear tells whether the whole foot lies on a face, with nothing of the face's rim in it.
func (b *Body) clear(f int, foot [4]geom.Vec) bool {
	rings, u, v := b.rings(f, b.Faces[f].Normal)
	at := func(p geom.Vec) [2]float64 { return [2]float64{p.Dot(u), p.Dot(v)} }
	var mine [][2]float64
	for _, c := range foot {
		mine = append(mine, at(c))
	}
	for _, ring := range rings {
		for i, p := range ring {
			if contains(mine, p) {
				return false
			}
			for k, a := range mine {
				if apart(p, ring[(i+1)%len(ring)], a, mine[(k+1)%len(mine)]) < Tiny {
					return false
				}
			}
		}
	}
	return true
}

// raisePeg makes the sides and the top of a peg. Seen along Up its foot runs counterclockwise.
func (b *Body) raisePeg(f int, foot [4]geom.Vec, up geom.Vec) {
	var low, high, upright [4]int
	first := len(b.Vertices)
	b.Vertices = append(b.Vertices, foot[:]...)
	for _, c := range foot {
		b.Vertices = append(b.Vertices, c.Add(up))
	}
	edge := func(from, to int) int {
		b.Edges = append(b.Edges, Edge{From: first + from, To: first + to})
		return len(b.Edges) - 1
	}
	for i := range 4 {
		low[i], high[i], upright[i] = edge(i, (i+1)%4), edge(4+i, 4+(i+1)%4), edge(i, 4+i)
	}
	b.Faces[f].Loops = append(b.Faces[f].Loops, backward(low[:]))
	b.Faces = append(b.Faces, Face{At: foot[0].Add(up), Normal: up.Unit(), Loops: [][]Use{forward(high[:])}})
	for i := range 4 {
		next := (i + 1) % 4
		out := foot[next].Sub(foot[i]).Cross(up).Unit()
		b.Faces = append(b.Faces, Face{At: foot[i], Normal: out, Loops: [][]Use{{{low[i], false}, {upright[next], false}, {high[i], true}, {upright[i], true}}}})
	}
}
