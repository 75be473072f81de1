// Package fit checks that what joints cut into a part leaves enough wood: bores and mortises that meet inside it,
// holes that come through its far side, walls too thin to stand.
//
// Check takes an assembly with its joints cut and returns findings with their place in space and the smallest change
// that mends them. Bores are exact cylinders; mortises and slots are boxes. Whether parts move, hold or can be bought is
// for other packages.
package fit

import (
	"fmt"
	"math"

	"longgrain/internal/design/assembly"
	"longgrain/internal/ground/geom"
	"longgrain/internal/ground/unit"
)

// Finding is a place where the cuts do not leave enough wood.
type Finding struct {
	What   string   `json:"what"`
	Where  string   `json:"where"` // name of the part
	At     geom.Vec `json:"at"`    // in the world, mm
	Wall   float64  `json:"wall"`  // mm of wood left; negative when they meet
	Advice string   `json:"advice"`
}

// LeastWall is the least wood between two cuts of different joints, and behind a hole. Common practice: rule D10 leaves
// 3 mm between bores that come in from two faces of a leg.
const LeastWall = 3.0

// Check returns all findings of an assembly, in the order of its parts.
func Check(a assembly.Assembly) []Finding {
	var out []Finding
	for _, p := range a.Parts {
		for i, f := range p.Features {
			if found, ok := behind(p, f, a.Family); ok {
				out = append(out, found)
			}
			for _, g := range p.Features[i+1:] {
				if found, ok := between(p, f, g, a.Family); ok {
					out = append(out, found)
				}
			}
		}
	}
	return out
}

// hollow tells whether a feature is a hole.
func hollow(f assembly.Feature) bool {
	return f.Kind == assembly.Bore || f.Kind == assembly.Mortise || f.Kind == assembly.Slot
}

// behind checks the wood left behind a hole.
func behind(p assembly.Part, f assembly.Feature, family unit.Family) (Finding, bool) {
	if !hollow(f) || f.Tilt != 0 {
		return Finding{}, false
	}
	wall := (p.Size(f.Side.Axis()) - f.Depth).MM()
	if wall >= LeastWall {
		return Finding{}, false
	}
	found := Finding{Where: p.Name, At: p.OnSide(f.Side, f.U, f.V, f.Depth), Wall: wall,
		What:   fmt.Sprintf("a %s for %s leaves %s of wood behind it", f.Kind, f.For, unit.MM(wall).Show(family)),
		Advice: fmt.Sprintf("make it %s shallower", unit.MM(LeastWall-wall).Show(family))}
	if wall < 0 {
		found.What = fmt.Sprintf("a %s for %s comes through the far side", f.Kind, f.For)
	}
	return found, true
}

// between checks the wood between two holes of different joints in one part.
func between(p assembly.Part, f, g assembly.Feature, family unit.Family) (Finding, bool) {
	if !hollow(f) || !hollow(g) || f.For == g.For || f.Side == g.Side {
		return Finding{}, false
	}
	wall := wallBetween(p, f, g)
	if wall >= LeastWall-1e-9 {
		return Finding{}, false
	}
	found := Finding{Where: p.Name, At: p.OnSide(f.Side, f.U, f.V, f.Depth), Wall: wall,
		What:   fmt.Sprintf("the %ss for %s and %s leave %s between them", f.Kind, f.For, g.For, unit.MM(wall).Show(family)),
		Advice: fmt.Sprintf("shorten one by %s, or set them at different heights", unit.MM(LeastWall-wall).Show(family))}
	if wall <= 0 {
		found.What = fmt.Sprintf("the %ss for %s and %s meet inside", f.Kind, f.For, g.For)
	}
	return found, true
}

// wallBetween returns the least wood between two holes, mm.
func wallBetween(p assembly.Part, f, g assembly.Feature) float64 {
	if f.Kind == assembly.Bore && g.Kind == assembly.Bore {
		return geom.Wall(bore(p, f), bore(p, g))
	}
	return -geom.Penetration(block(p, f), block(p, g))
}

// bore returns a round hole as a cylinder. Its flat bottom is drawn as a round one by geom.Wall, so the cylinder is
// shortened by its radius and its reach stays right along the axis.
func bore(p assembly.Part, f assembly.Feature) geom.Bore {
	bottom := max(f.Depth-f.Diameter/2, 0)
	return geom.Bore{From: p.OnSide(f.Side, f.U, f.V, 0), To: p.OnSide(f.Side, f.U, f.V, bottom), Diameter: f.Diameter.MM()}
}

// block returns a hole as a box.
func block(p assembly.Part, f assembly.Feature) geom.Box {
	length, width := f.Length, f.Width
	if f.Kind == assembly.Bore {
		length, width = f.Diameter, f.Diameter
	}
	ua, va := f.Side.UV()
	var size [3]float64
	size[ua], size[va], size[f.Side.Axis()] = length.MM(), width.MM(), f.Depth.MM()
	a := p.OnSide(f.Side, f.U-length/2, f.V-width/2, 0)
	b := p.OnSide(f.Side, f.U-length/2, f.V-width/2, f.Depth)
	la, lb := p.Pose.In(a), p.Pose.In(b)
	low := geom.Vec{X: math.Min(la.X, lb.X), Y: math.Min(la.Y, lb.Y), Z: math.Min(la.Z, lb.Z)}
	return geom.Box{Pose: geom.Pose{Origin: p.Pose.Out(low), Axes: p.Pose.Axes}, Size: geom.Vec{X: size[0], Y: size[1], Z: size[2]}}
}
