package fasten

import (
	"fmt"
	"math"

	"longgrain/internal/design/assembly"
	"longgrain/internal/ground/geom"
	"longgrain/internal/ground/unit"
	"longgrain/internal/ground/working"
	"longgrain/internal/trade/wood"
)

// What turns and what slides.
const (
	Hinges    Way = "hinges"     // of a door
	LidHinges Way = "lid hinges" // of a lid, which falls: it also wants supports
	Runners   Way = "runners"    // strips of wood on which a drawer slides
)

// Hinges. Common practice: butt hinges 50 mm long, a sixth of the edge from each end, a third one where the edge is longer than 900 mm.
const (
	hingeLeaf = 50 * unit.Millimetre
	hingeLong = 900 * unit.Millimetre
	// lidWood is the moisture content at which a lid is weighed: wood that has stood indoors.
	lidWood wood.Moisture = 9
	// lidSupports is how many supports share a lid. Common practice: one at each end.
	lidSupports = 2
)

// hung places the hinges along an edge.
func hung(way Way, a assembly.Assembly, connection int, mark unit.Length) (Fastening, int) {
	c := a.Connections[connection]
	post, leaf := c.A, c.B
	if turns(a.Parts[post.Part].Role) {
		post, leaf = leaf, post
	}
	f := Fastening{Way: way, Connection: connection, Rail: a.Parts[post.Part].Name, Top: a.Parts[leaf.Part].Name, Fixed: -1}
	from, long := leaf.Area.U0, leaf.Area.SizeU()
	if leaf.Area.SizeV() > long {
		from, long = leaf.Area.V0, leaf.Area.SizeV()
	}
	n := 2
	if long > hingeLong {
		n = 3
	}
	inset := max(long/6, hingeLeaf/2)
	for k := range n {
		f.At = append(f.At, (from + inset + (long-2*inset)*unit.Length(k)/unit.Length(n-1)).RoundTo(mark))
	}
	f.Hardware = []Item{{"butt hinge " + hingeLeaf.Show(unit.Metric) + " with screws", n}}
	f.Minutes = minutes(way, n)
	return f, leaf.Part
}

// turns tells whether parts of a role hang on hinges.
func turns(role string) bool { return role == "door" || role == "lid" || role == "top" }

func doorHinges(a assembly.Assembly, connection int, _ func(unit.Length) Play, mark unit.Length) Fastening {
	f, _ := hung(Hinges, a, connection, mark)
	f.Hardware = append(f.Hardware, Item{"door catch, magnet", 1})
	return f
}

func lidHinges(a assembly.Assembly, connection int, _ func(unit.Length) Play, mark unit.Length) Fastening {
	f, lid := hung(LidHinges, a, connection, mark)
	f.Turning = lidMoment(a, lid, connection)
	f.Hardware = append(f.Hardware, Item{fmt.Sprintf("lid support that holds at every angle, for %s N·m or more", working.Figures(math.Ceil(10*f.Turning/lidSupports)/10)), lidSupports})
	f.Cautions = append(f.Cautions,
		fmt.Sprintf("the %s weighs on its hinges with %s N·m when it lies almost closed: two supports of half of that or more, sprung so that they hold it at every angle and need no setting. A lid without them falls on heads and necks; then leave it off", f.Top, working.Figures(math.Round(10*f.Turning)/10)),
		"no latch and no lock on what a child can climb into, and air at its edges when it is closed")
	return f
}

// lidMoment returns what the weight of a lid turns about its hinges with when it lies almost closed, N·m.
//
//	M = Σ m g e
//
// m is the mass of each part of the lid and e the distance of its middle from the line of the hinges, in the plane. Source: statics.
func lidMoment(a assembly.Assembly, lid, connection int) float64 {
	c := a.Connections[connection]
	hinge, _ := a.Middle(c)
	along := c.U
	if c.A.Area.SizeV() > c.A.Area.SizeU() {
		along = c.V
	}
	square := along.Cross(geom.Vec{Z: 1})
	moment := 0.0
	for _, i := range a.Body(lid) {
		p := a.Parts[i]
		species, _ := wood.Lookup(p.Species)
		rho, _ := species.Density(lidWood)
		mass := float64(rho.Value.Mass(unit.Volume(p.Length, p.Width, p.Thickness)))
		moment += mass * unit.Gravity * math.Abs(p.Box().Centre().Sub(hinge).Dot(square)) / 1000
	}
	return moment
}

// runners carry a drawer on strips of wood: its sides slide on their upper faces. Gap is what the side grows by in height, and what
// must be free over it.
func runners(a assembly.Assembly, connection int, travel func(unit.Length) Play, mark unit.Length) Fastening {
	c := a.Connections[connection]
	strip, box := c.A, c.B
	if a.Parts[strip.Part].Role == "drawer" {
		strip, box = box, strip
	}
	return Fastening{Way: Runners, Connection: connection, Rail: a.Parts[strip.Part].Name, Top: a.Parts[box.Part].Name, Fixed: -1,
		Gap: travel(a.Parts[box.Part].Width).Outward.CeilTo(mark), Minutes: minutes(Runners, 1)}
}
