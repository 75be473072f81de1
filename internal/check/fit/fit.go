// Package fit checks that what joints cut into a part leaves enough wood: bores and mortises that meet inside it,
// holes that come through its far side, walls too thin to stand.
//
// Check takes an assembly with its joints cut and returns findings with their place in space and the smallest change
// that mends them. Bores are cylinders with flat bottoms; mortises and slots are boxes, round ends or not. Whether parts
// move, hold or can be bought is for other packages.
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
	switch f.Kind {
	case assembly.Bore, assembly.Mortise, assembly.Slot, assembly.Notch, assembly.Groove, assembly.Rebate:
		return true
	}
	return false
}

// behind checks the wood left behind a hole.
func behind(p assembly.Part, f assembly.Feature, family unit.Family) (Finding, bool) {
	if !hollow(f) {
		return Finding{}, false
	}
	sin, cos := math.Sincos(float64(f.Tilt) * math.Pi / 180)
	wall := p.Size(f.Side.Axis()).MM() - f.Depth.MM()*cos - f.Diameter.MM()/2*math.Abs(sin)
	if wall >= LeastWall || math.Abs(wall) < meets {
		return Finding{}, false // what is exactly as deep as the part is meant to go through
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
	if !hollow(f) || !hollow(g) || f.For == g.For {
		return Finding{}, false
	}
	wall := wallBetween(p, f, g)
	if wall >= LeastWall-1e-9 {
		return Finding{}, false
	}
	found := Finding{Where: p.Name, At: p.OnSide(f.Side, f.U, f.V, f.Depth), Wall: wall,
		What:   fmt.Sprintf("%s leave %s between them", both(f, g), unit.MM(wall).Show(family)),
		Advice: fmt.Sprintf("shorten one by %s, or set them at different heights", unit.MM(LeastWall-wall).Show(family))}
	if wall <= 0 {
		found.What = both(f, g) + " meet inside"
	}
	return found, true
}

// both names two holes: "the bores for A and B", "the bore for A and the mortise for B".
func both(f, g assembly.Feature) string {
	if f.Kind == g.Kind {
		return fmt.Sprintf("the %ss for %s and %s", f.Kind, f.For, g.For)
	}
	return fmt.Sprintf("the %s for %s and the %s for %s", f.Kind, f.For, g.Kind, g.For)
}

// wallBetween returns the least wood between two holes, mm. Where they meet it is how far their boxes run into each other,
// negative.
func wallBetween(p assembly.Part, f, g assembly.Feature) float64 {
	if wall := distance(hole(p, f), hole(p, g)); wall > meets {
		return wall
	}
	return math.Min(0, -geom.Penetration(block(p, f), block(p, g)))
}

// hole returns a feature as a solid.
func hole(p assembly.Part, f assembly.Feature) solid {
	if f.Kind != assembly.Bore {
		return boxSolid{block(p, f)}
	}
	ua, _ := f.Side.UV()
	sin, cos := math.Sincos(float64(f.Tilt) * math.Pi / 180)
	along := p.Outward(f.Side).Scale(-cos).Add(p.Pose.Axes[ua].Scale(sin))
	mouth := p.OnSide(f.Side, f.U, f.V, 0)
	return cylinder{from: mouth, to: mouth.Add(along.Scale(f.Depth.MM())), radius: f.Diameter.MM() / 2}
}

// block returns a hole as a box.
func block(p assembly.Part, f assembly.Feature) geom.Box {
	length, width := f.Length, f.Width
	if f.Kind == assembly.Bore {
		length, width = f.Diameter, f.Diameter
	}
	if f.Kind == assembly.Groove || f.Kind == assembly.Rebate {
		f.U, f.V = f.U+length/2, f.V+width/2 // these are placed by their corner
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
