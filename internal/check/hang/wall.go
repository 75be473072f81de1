package hang

import (
	"fmt"
	"math"

	"longgrain/internal/check/structure"
	"longgrain/internal/design/assembly"
	"longgrain/internal/design/joint"
	"longgrain/internal/design/strength"
	"longgrain/internal/ground/geom"
	"longgrain/internal/ground/source"
	"longgrain/internal/ground/unit"
	"longgrain/internal/ground/working"
	"longgrain/internal/trade/wood"
)

// Screws in the wall. Common practice: 5 mm screws, one for every stud or at most 400 mm apart, the first within 60 mm of an end or
// a quarter of the length; 35 mm of thread in solid wood behind a lining of 12.5 mm. A stud is taken as light spruce or pine.
const (
	ScrewDiameter = 5 * unit.Millimetre
	screwHole     = 11 * unit.Millimetre / 2
	screwApart    = 400 * unit.Millimetre
	screwInset    = 60 * unit.Millimetre
	screwEdge     = 25 * unit.Millimetre
	screwThread   = 35 * unit.Millimetre
	lining        = 13 * unit.Millimetre
	studGravity   = 0.36
)

// Fixing is how a piece is screwed to the wall: a row of screws through the highest board that lies on it.
type Fixing struct {
	Part     int                `json:"part"`
	Side     assembly.Side      `json:"side"` // that lies on the wall
	At       []unit.Length      `json:"at"`   // along the grain
	FromEdge unit.Length        `json:"fromEdge"`
	Length   unit.Length        `json:"length"` // of the screws, at least
	Features []assembly.Feature `json:"-"`
}

// FixingOf returns the row of screws of a piece that hangs on the wall, rounded to the smallest mark of the shop; false when no board
// lies on the wall.
func FixingOf(a assembly.Assembly, mark unit.Length) (Fixing, bool) {
	best, height := -1, math.Inf(-1)
	for k, w := range a.Walls {
		if _, hi := a.Parts[w.Part].Box().Bounds(); hi.Z > height && math.Abs(a.Parts[w.Part].Pose.Axes[0].X) > 0.8 {
			best, height = k, hi.Z
		}
	}
	if best < 0 {
		return Fixing{}, false
	}
	w := a.Walls[best]
	p := a.Parts[w.Part]
	f := Fixing{Part: w.Part, Side: w.Side, Length: p.Size(w.Side.Axis()) + lining + screwThread}
	inset := min(screwInset, p.Length/4)
	n := max(2, int(math.Ceil(float64(p.Length-2*inset)/float64(screwApart)))+1)
	up := p.Looking(geom.Vec{Z: 1})
	wide := p.Size(up.Axis())
	f.FromEdge = min(screwEdge, wide/2).RoundTo(mark)
	for k := range n {
		f.At = append(f.At, (inset + (p.Length-2*inset)*unit.Length(k)/unit.Length(n-1)).RoundTo(mark))
	}
	v := f.FromEdge
	if up.High() {
		v = wide - f.FromEdge
	}
	for _, u := range f.At {
		f.Features = append(f.Features, assembly.Feature{Kind: assembly.Bore, Side: w.Side.Opposite(), U: u, V: v, Diameter: screwHole, Depth: p.Size(w.Side.Axis()), Through: true})
	}
	return f, true
}

// wallScrews checks the pull on each screw of the wall: the piece turns about its lower edge.
//
//	T = M / (n z),  V = F / n
//
// M is the moment of load and weight about the lower edge on the wall, N·mm, z the height of the screws above that edge less a tenth
// for the strip that presses on the wall, n the number of screws, F the whole load, N. The screw is taken to reach a stud of light
// softwood.
//
// Source: statics; withdrawal [wood-handbook], from memory; the stud and the thread in it are common practice.
func (h hung) wallScrews(loads []load, wanted float64) []structure.Check {
	f, ok := FixingOf(h.a, unit.Millimetre)
	if !ok {
		return nil
	}
	p := h.a.Parts[f.Part]
	lo, hi := p.Box().Bounds()
	wall := geom.Vec{X: (lo.X + hi.X) / 2, Y: hi.Y, Z: lo.Z}
	for _, w := range h.a.Walls {
		l, _ := h.a.Parts[w.Part].Box().Bounds()
		wall.Z = math.Min(wall.Z, l.Z)
	}
	z := 0.9 * (hi.Z - f.FromEdge.MM() - wall.Z)
	all := make([]bool, len(h.a.Parts))
	for i := range all {
		all[i] = true
	}
	pull, shear, turning, share, governs := 0.0, 0.0, 0.0, 0.0, ""
	for _, l := range loads {
		force, moment, _ := h.carried(l, all, wall)
		n := float64(len(f.At))
		if l.point {
			n = math.Min(n, 2) // those nearest to it take it
		}
		if t := math.Abs(moment.X) / (n * z); t > pull {
			pull, shear, turning, share, governs = t, -force.Z/n, math.Abs(moment.X), n, l.name
		}
	}
	scatter, _ := joint.ModelScatter(joint.Screws)
	mean := float64(strength.ScrewWithdrawal(studGravity, ScrewDiameter, screwThread))
	lower := float64(wood.Lower5(unit.MPa(mean), scatter)) * joint.LoadFactor
	c := structure.Check{What: "pull on each screw in the wall", Where: p.Name, Case: governs, Cite: strength.CiteScrew,
		Demand:   working.Value{Symbol: "T", Name: "pull", Number: pull, Unit: "N"},
		Capacity: working.Value{Symbol: "R", Name: "lower withdrawal from a stud", Number: lower, Unit: "N"},
		Advice:   "more screws, a higher board on the wall, or a shallower shelf",
		Working: working.Working{
			{Title: "Pull on each screw in the wall", Formula: "T = M / (n z)",
				Inputs: []working.Value{{Symbol: "M", Name: "moment about the lower edge", Number: turning, Unit: "N·mm"}, {Symbol: "z", Name: "lever of the screws", Number: z, Unit: "mm"},
					{Symbol: "n", Name: "screws that share it", Number: share}},
				Result: working.Value{Symbol: "T", Number: pull, Unit: "N"}, Cite: source.At("longgrain", "docs/methods/hang.md", source.Exact),
				Note: fmt.Sprintf("with %.0f N along the wall on each", shear)},
			{Title: "A screw in a stud", Formula: "R = 0.9 R05",
				Inputs: []working.Value{{Symbol: "G", Name: "specific gravity of the stud", Number: studGravity, Cite: source.Assumption()}, {Symbol: "l", Name: "thread in it", Number: screwThread.MM(), Unit: "mm", Cite: source.Assumption()}},
				Result: working.Value{Symbol: "R", Number: lower, Unit: "N"}, Cite: strength.CiteScrew},
		}}
	c.Reserve = joint.Reserve(math.Inf(1))
	if pull > 0 {
		c.Reserve = joint.Reserve(lower / pull)
	}
	c.Verdict = joint.VerdictOf(c.Reserve, wanted)
	return []structure.Check{c}
}

// acrossGrain checks boards that are held along an edge: the load bends them across their grain, where wood is weak.
//
//	σ = 6 M / (b t²)
//
// M is the moment at the joint, N·mm, b the length along which it spreads and t the thickness, mm. The strength is that in tension
// across the grain, which is below that in bending.
//
// Source: bending of a rectangle, [timber-theory].
func (h hung) acrossGrain(loads []load, wanted float64, m wood.Moisture) []structure.Check {
	var out []structure.Check
	for _, i := range h.order {
		if h.parent[i] < 0 {
			continue
		}
		c, p := h.a.Connections[h.parent[i]], h.a.Parts[i]
		at := c.A
		if c.B.Part == i {
			at = c.B
		}
		species, _ := wood.Lookup(p.Species)
		f, known := species.At(wood.TensionPerpendicular, m)
		if at.Side.IsEnd() || !known {
			continue
		}
		lower := float64(wood.Lower5(f.Value, wood.Variation(wood.TensionPerpendicular).Value)) * joint.LoadFactor
		worst, governs := 0.0, ""
		for _, l := range loads {
			if moment := math.Abs(float64(h.forces(i, l).BendV)) * 1000; moment > worst {
				worst, governs = moment, l.name
			}
		}
		if worst == 0 {
			continue
		}
		t, b := p.Thickness.MM(), at.Area.SizeU().MM()
		sigma := 6 * worst / (b * t * t)
		check := structure.Check{What: "bending of the " + p.Name + " across its grain", Where: p.Name, Case: governs, Cite: source.At("timber-theory", "bending of a rectangle", source.Exact),
			Demand:   working.Value{Symbol: "σ", Name: "stress", Number: sigma, Unit: "MPa"},
			Capacity: working.Value{Symbol: "f_t,90", Name: "lower strength across the grain", Number: lower, Unit: "MPa", Cite: f.Cite},
			Advice:   "a thicker or narrower board, or brackets under it",
			Working: working.Working{{Title: "Bending of the " + p.Name + " across its grain", Formula: "σ = 6 M / (b t²)",
				Inputs: []working.Value{{Symbol: "M", Name: "moment, over the length that it spreads", Number: worst, Unit: "N·mm"}, {Symbol: "b", Number: b, Unit: "mm"}, {Symbol: "t", Number: t, Unit: "mm"}},
				Result: working.Value{Symbol: "σ", Number: sigma, Unit: "MPa"}, Cite: source.At("timber-theory", "bending of a rectangle", source.Exact)}}}
		check.Reserve = joint.Reserve(math.Inf(1))
		if sigma > 0 {
			check.Reserve = joint.Reserve(lower / sigma)
		}
		check.Verdict = joint.VerdictOf(check.Reserve, wanted)
		out = append(out, check)
	}
	return out
}

// notes says what to mind at the wall.
func (h hung) notes(joints []*joint.Joint) []string {
	out := []string{"screw it into studs, battens or solid masonry: plasterboard by itself lets go without warning. What a plug holds is on its label and not in this plan; ask for the pull above with the wanted reserve, on each screw",
		"look for pipes and cables before drilling; hang nothing heavy where a child sleeps or plays below it, and load it only once every screw is tight"}
	var idle []string
	for i, c := range h.a.Connections {
		used := false
		for _, k := range h.parent {
			used = used || k == i
		}
		if !used && c.Purpose == assembly.Joint && joints[i] != nil {
			idle = append(idle, c.Name)
		}
	}
	if len(idle) > 0 {
		out = append(out, "taken to carry nothing, although they help: "+assembly.Describe(idle))
	}
	return out
}
