// Package fit checks that a piece with its joints cut can be made and put together: that holes leave enough wood between
// them, behind them and to the sides of their part, that no two parts claim the same space, that tops are not held against
// their movement, and that an order exists in which all parts go in.
//
// Check takes an assembly with its joints cut and returns findings, each with its place in space and, where one change mends
// it, the smallest such change, proved by checking the changed piece again. Plan finds the order of putting together. Distances
// are exact for bores, boxes, half-round ends and tapered parts. Whether parts hold or can be bought is for other
// packages; how well the marks of two parts agree is for package markout.
package fit

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"longgrain/internal/design/assembly"
	"longgrain/internal/design/fasten"
	"longgrain/internal/design/joint"
	"longgrain/internal/ground/geom"
	"longgrain/internal/ground/unit"
)

// Kind says what a finding is about.
type Kind string

// The kinds of finding.
const (
	Meet     Kind = "holes meet"        // two holes run into each other
	ThinWall Kind = "thin wall"         // too little wood between two holes
	Through  Kind = "comes through"     // a hole or screw comes out of a side
	ThinSide Kind = "thin side"         // too little wood behind a hole or beside it
	NearEnd  Kind = "near the end"      // a hole too near the end of its part
	Clash    Kind = "parts clash"       // two parts claim the same space
	NoSeat   Kind = "tenon has no seat" // a tenon finds no mortise, or not one that it goes into
	HeldFast Kind = "held fast"         // a top is held against its movement
	Stuck    Kind = "cannot go in"      // no order puts the parts together
)

// Finding is a place where a piece does not fit.
type Finding struct {
	Kind        Kind     `json:"kind"`
	What        string   `json:"what"`
	Where       string   `json:"where"` // name of the part
	Part        int      `json:"part"`
	Other       int      `json:"other"`       // the other part of a clash; -1 for none
	Connections []string `json:"connections"` // names of the connections it is about
	At          geom.Vec `json:"at"`          // in the world, mm
	Place       geom.Box `json:"place"`       // a box around the place, in the world
	Wall        float64  `json:"wall"`        // mm of wood left; 0 or less when holes meet or come through
	Advice      string   `json:"advice"`
	// Mends are single changes that make the finding go away without making another, the smallest first. Each was proved by
	// checking the changed piece.
	Mends []Mend `json:"mends,omitempty"`

	features [2]int        // of the holes, -1 for none
	overlap  [2]geom.Solid // bodies that run into each other; Wall is the overlap of the boxes around them until it is measured
	sides    []assembly.Side
}

// Least wood that must stay. Common practice, docs/methods/fit.md: rule D10 leaves 3 mm between bores that come in from two
// faces of a leg, rule D02 4 mm beside a bore, rule D08 one diameter between a bore and the end, rule M04 12 mm between
// a mortise and the end.
const (
	LeastWall = 3.0  // mm between two holes of different joints, and behind a hole
	ScrewWall = 2.0  // mm between a pocket screw and a side: the trade drives screws of 32 mm into boards of 19 mm; judgement
	BesideEnd = 12.0 // mm between a mortise and the end of its part
	BoreSide  = 4.0  // mm beside a bore
	BoreEnd   = 1.0  // diameters between a bore and the end of its part
	BoreEdge  = 1.0  // diameters between a bore in an end and the edge
)

// roundedMark is what rounding the middle of a pin to a mark of the rule may take from the edge distance, mm: half of the
// coarsest mark, 1/32 in, and a little.
const roundedMark = 0.5

// slack is the error allowed on every limit, mm: what rounding of exact designs may lose.
const slack = 1e-4

// Input is a piece with its joints cut.
type Input struct {
	Assembly   assembly.Assembly
	Joints     []*joint.Joint     // by connection, nil where there is none; may be empty
	Fastenings []fasten.Fastening // of tops; may be empty
	Smallest   unit.Length        // smallest mark of the maker, by which mends go; 0 takes that of the assembly's units
}

// Check returns all findings of a piece except those about the order of putting together, with their mends.
func Check(in Input) []Finding {
	out := findings(in)
	for i := range out {
		mend(in, out, &out[i])
	}
	return out
}

// findings returns all findings without mends, in the order of the parts.
func findings(in Input) []Finding {
	out := roughFindings(in, func(int) bool { return true })
	for i := range out {
		if f := &out[i]; f.overlap[0] != nil {
			f.Wall = -overlapDepth(in.Assembly.Parts[f.Part], f.overlap[0], f.overlap[1])
			if f.Kind == Clash {
				f.What += ", " + unit.MM(-f.Wall).Show(in.Assembly.Family) + " deep"
			}
		}
	}
	return out
}

// roughFindings returns the findings about cuts in some parts, and all others. How deep bodies run into each other is left
// rough: it takes most of the time, and proving a mend does without.
func roughFindings(in Input, parts func(int) bool) []Finding {
	var out []Finding
	screws, loose := screwHoles(in), looseOf(in.Assembly)
	for i, p := range in.Assembly.Parts {
		if parts(i) {
			out = append(out, ofPart(in.Assembly, i, append(holesOf(p, loose), screws[i]...))...)
		}
	}
	out = append(out, clashes(in.Assembly)...)
	out = append(out, seats(in.Assembly)...)
	return append(out, heldFast(in)...)
}

// ofPart checks the holes of one part against each other and against its sides.
func ofPart(a assembly.Assembly, part int, holes []hole) []Finding {
	p := a.Parts[part]
	planes := sidesOf(p)
	var out []Finding
	for i, h := range holes {
		out = append(out, h.sides(a, part, planes)...)
		for _, g := range holes[i+1:] {
			if found, ok := between(a, part, h, g); ok {
				out = append(out, found)
			}
		}
	}
	return worstOfEach(append(out, overhang(a, part)...))
}

// worstOfEach keeps, of findings of one kind about the same connections, the one with the least wood.
func worstOfEach(all []Finding) []Finding {
	var out []Finding
	index := map[string]int{}
	for _, f := range all {
		key := f.key()
		if k, seen := index[key]; !seen {
			index[key] = len(out)
			out = append(out, f)
		} else if f.Wall < out[k].Wall-slack {
			out[k] = f
		}
	}
	return out
}

// key is equal for findings that tell the same thing.
func (f Finding) key() string {
	kind := f.Kind
	switch kind {
	case Meet:
		kind = ThinWall
	case Through, NearEnd:
		kind = ThinSide
	}
	return fmt.Sprint(kind, f.Part, f.Other, f.Connections, f.sides)
}

// between checks the wood between two holes of one part. Holes of one joint are placed by its own rules and only must not meet.
// Open cuts may run into each other: whether what stands in them collides is another question.
func between(a assembly.Assembly, part int, f, g hole) (Finding, bool) {
	least := LeastWall
	if f.connection == g.connection {
		least = 0
		if f.open || g.open || counterbored(f, g) {
			return Finding{}, false
		}
	}
	if f.open && g.open {
		return Finding{}, false
	}
	if boxesApart(f.solid, g.solid) > least {
		return Finding{}, false
	}
	gap := geom.Between(f.solid, g.solid)
	meets := gap.Distance < geom.Touch
	if !meets && gap.Distance >= least-slack {
		return Finding{}, false
	}
	found := Finding{Kind: ThinWall, Where: a.Parts[part].Name, Part: part, Other: -1, Wall: gap.Distance, features: [2]int{f.feature, g.feature},
		Connections: named(f, g), At: gap.A.Add(gap.B).Scale(0.5), Place: around(gap.A, gap.B)}
	if meets {
		found.Kind, found.Wall = Meet, boxesApart(f.solid, g.solid)
		found.overlap = [2]geom.Solid{f.solid, g.solid}
		found.Place = common(f.solid, g.solid)
		found.At = found.Place.Centre()
		found.What = both(f, g) + " meet inside"
	} else {
		found.What = fmt.Sprintf("%s leave %s between them", both(f, g), unit.MM(gap.Distance).Show(a.Family))
	}
	return found, true
}

// counterbored tells whether two holes of one joint have one middle line: a screw's hole and that of its plug, or the slot that a
// screw travels in and the hole for its head.
func counterbored(f, g hole) bool {
	a, b, okA := middleLine(f.solid)
	c, d, okB := middleLine(g.solid)
	if !okA || !okB {
		return false
	}
	along := b.Sub(a).Unit()
	return onLine(a, along, c) && onLine(a, along, d)
}

// middleLine returns the line down the middle of a bore or a slot.
func middleLine(s geom.Solid) (from, to geom.Vec, ok bool) {
	switch h := s.(type) {
	case geom.Bore:
		return h.From, h.To, true
	case geom.Oblong:
		middle := h.From.Add(h.To).Scale(0.5)
		return middle, middle.Add(h.Deep), true
	}
	return from, to, false
}

func onLine(from, along, p geom.Vec) bool { return p.Sub(from).Cross(along).Length() < geom.Touch }

func named(holes ...hole) []string {
	var out []string
	for _, h := range holes {
		if !slices.Contains(out, h.connection) {
			out = append(out, h.connection)
		}
	}
	return out
}

// both names two holes: "the bores for A and B", "the bore for A and the mortise for B", "two bores for A".
func both(f, g hole) string {
	switch {
	case f.kind == g.kind && f.connection == g.connection:
		return fmt.Sprintf("two %ss for %s", f.kind, f.connection)
	case f.kind == g.kind:
		return fmt.Sprintf("the %ss for %s and %s", f.kind, f.connection, g.connection)
	}
	return fmt.Sprintf("the %s for %s and the %s for %s", f.kind, f.connection, g.kind, g.connection)
}

// overlapDepth returns how far two holes run into each other, mm: the shortest way along the axes of the part that parts them.
func overlapDepth(p assembly.Part, a, b geom.Solid) float64 {
	depth := math.Inf(1)
	for _, axis := range p.Pose.Axes {
		for _, d := range [2]geom.Vec{axis, axis.Neg()} {
			depth = min(depth, geom.Apart(a, b, d, 0))
		}
	}
	return depth
}

// boxesApart returns a lower bound of the distance of two bodies from the boxes around them, mm.
func boxesApart(a, b geom.Solid) float64 {
	alo, ahi := geom.Around(a)
	blo, bhi := geom.Around(b)
	return max(alo.X-bhi.X, blo.X-ahi.X, alo.Y-bhi.Y, blo.Y-ahi.Y, alo.Z-bhi.Z, blo.Z-ahi.Z)
}

// placeMargin is how far the box around a thin place stands out from it, mm, so that it can be seen.
const placeMargin = 1.0

// around returns an upright box around two points.
func around(p, q geom.Vec) geom.Box {
	lo := geom.Vec{X: min(p.X, q.X) - placeMargin, Y: min(p.Y, q.Y) - placeMargin, Z: min(p.Z, q.Z) - placeMargin}
	hi := geom.Vec{X: max(p.X, q.X) + placeMargin, Y: max(p.Y, q.Y) + placeMargin, Z: max(p.Z, q.Z) + placeMargin}
	return geom.Box{Pose: geom.Pose{Origin: lo, Axes: geom.Upright.Axes}, Size: hi.Sub(lo)}
}

// common returns an upright box around what two bodies share: where the boxes around both overlap.
func common(a, b geom.Solid) geom.Box {
	alo, ahi := geom.Around(a)
	blo, bhi := geom.Around(b)
	lo := geom.Vec{X: max(alo.X, blo.X), Y: max(alo.Y, blo.Y), Z: max(alo.Z, blo.Z)}
	hi := geom.Vec{X: max(lo.X, min(ahi.X, bhi.X)), Y: max(lo.Y, min(ahi.Y, bhi.Y)), Z: max(lo.Z, min(ahi.Z, bhi.Z))}
	return around(lo, hi)
}

// Worst returns the findings, those without wood left first.
func Worst(all []Finding) []Finding {
	out := slices.Clone(all)
	slices.SortStableFunc(out, func(x, y Finding) int { return cmp.Compare(x.Wall, y.Wall) })
	return out
}
