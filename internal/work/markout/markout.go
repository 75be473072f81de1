// Package markout works out where every cut goes on every part, measured the way a maker measures:
// on each part from one face, one edge and one end, chosen so that parts that meet are measured from
// sides that lie together; never from one mark to the next.
//
// In goes an assembly with its joints cut in as features, and the smallest mark of the maker's rule.
// Out come one sheet per part, the set-ups that several parts share, the pairs of cuts that must meet
// with what is left between them, and the errors to be expected of ordinary ways of marking. Marks
// are rounded once per pair, on the part that ends in the joint, and the mate is derived from it, so
// that rounding never opens a gap. The package does not choose joints or sizes, and it does not look
// for bores that run into each other.
package markout

import (
	"longgrain/internal/design/assembly"
	"longgrain/internal/ground/unit"
	"longgrain/internal/ground/working"
	"longgrain/internal/trade/shop"
)

// Options are the habits of the shop that mark-out depends on.
type Options struct {
	// Smallest is the smallest mark that the maker measures to; 0 takes that of the assembly's units.
	Smallest unit.Length
	// GlueSpace is added to the depth of bores, mortises and slots that have a mate when the stop of
	// the tool is set. Leave it 0 when the features are already as deep as they are to be cut.
	GlueSpace unit.Length
	// Marking is how exactly the shop marks and bores; the zero value takes what is assumed of any shop.
	Marking shop.Marking
	// Enters returns how deep what is inserted goes into the two parts of a connection, A's first, where that is known and less than
	// the cut is deep; it may be nil.
	Enters func(connection int) (a, b unit.Length)
}

// Markout is the mark-out of a whole piece. Treat it as read-only.
type Markout struct {
	Smallest unit.Length     `json:"smallest"`
	Sheets   []Sheet         `json:"sheets"` // one per part, in the order of the assembly
	Mates    []Mate          `json:"mates"`
	Joints   []Joint         `json:"joints"` // what errors to expect, one entry per kind of joint
	Setups   []Setup         `json:"setups"`
	Gauges   []Gauge         `json:"gauges"`
	Sticks   []Stick         `json:"sticks"`
	Working  working.Working `json:"working"`
}

// References are the three sides that a part is measured from.
type References struct {
	Face assembly.Side `json:"face"`
	Edge assembly.Side `json:"edge"`
	End  assembly.Side `json:"end"`
}

// Across returns the reference side square to the local axis.
func (r References) Across(axis int) assembly.Side {
	for _, s := range [3]assembly.Side{r.Face, r.Edge, r.End} {
		if s.Axis() == axis {
			return s
		}
	}
	panic("markout: references are not square to each other")
}

// Role says what the side is in the words of the references: "face", "edge" or "end", or "back",
// "back edge" or "far end" for the sides opposite to them.
func (r References) Role(s assembly.Side) string {
	switch s {
	case r.Face:
		return "face"
	case r.Edge:
		return "edge"
	case r.End:
		return "end"
	case r.Face.Opposite():
		return "back"
	case r.Edge.Opposite():
		return "back edge"
	}
	return "far end"
}

// Tape is a word that the maker tapes or pencils on a side before any other mark.
type Tape struct {
	Side assembly.Side `json:"side"`
	Text string        `json:"text"`
}

// Sheet is the mark-out of one part.
type Sheet struct {
	Part       int        `json:"part"` // index into Assembly.Parts
	References References `json:"references"`
	FaceName   string     `json:"face_name"` // "the front face": where the reference looks in the finished piece
	EdgeName   string     `json:"edge_name"`
	EndName    string     `json:"end_name"`
	Tapes      []Tape     `json:"tapes"`
	Marks      []Mark     `json:"marks"` // one per feature, in the same order
	// Shape numbers parts that can take each other's place, from 0.
	Shape   int   `json:"shape"`
	Alike   []int `json:"alike"`             // the other parts of this shape
	Mirrors []int `json:"mirrors,omitempty"` // parts that are the mirror image of this one: never to be swapped
	// SameAs is the first part whose sheet reads exactly like this one; Part itself when it is the first.
	SameAs int `json:"same_as"`
}

// Mark is one cut as it is marked on the side that it is cut from. On a long side Along is measured
// from the reference end and Across from the reference edge or face. On an end Along is measured
// from the reference edge and Across from the reference face. Both lead to the middle of the cut.
type Mark struct {
	Feature    int                  `json:"feature"` // index into Part.Features
	Kind       assembly.FeatureKind `json:"kind"`
	What       string               `json:"what"` // in words: "slanted bore"
	Side       assembly.Side        `json:"side"`
	AlongFrom  assembly.Side        `json:"along_from"`
	AcrossFrom assembly.Side        `json:"across_from"`
	Along      unit.Length          `json:"along"` // rounded to what can be measured
	Across     unit.Length          `json:"across"`
	Exact      [2]unit.Length       `json:"exact"` // along and across before rounding
	Diameter   unit.Length          `json:"diameter,omitempty"`
	Length     unit.Length          `json:"length,omitempty"` // extent in the direction of Along
	Width      unit.Length          `json:"width,omitempty"`  // extent in the direction of Across
	Depth      unit.Length          `json:"depth,omitempty"`
	Stop       unit.Length          `json:"stop,omitempty"`   // depth stop of the tool: Depth and glue space
	Enters     unit.Length          `json:"enters,omitempty"` // how deep the dowel, tenon or biscuit goes in; the rest is room for glue
	Tilt       unit.Degrees         `json:"tilt,omitempty"`   // leans towards growing Along
	Rounded    bool                 `json:"rounded,omitempty"`
	Tool       string               `json:"tool,omitempty"`
	For        string               `json:"for,omitempty"`   // name of the connection
	Bevel      *Bevel               `json:"bevel,omitempty"` // how a side is cut at an angle
	Slope      *Slope               `json:"slope,omitempty"` // on a side at an angle: how its measures run
	Mate       *Place               `json:"mate,omitempty"`
}

// Place points at a mark on the sheet of a part.
type Place struct {
	Part int `json:"part"`
	Mark int `json:"mark"`
}

// Make marks out a piece.
func Make(a assembly.Assembly, o Options) Markout {
	if o.Smallest <= 0 {
		o.Smallest = a.Family.SmallestMark()
	}
	if o.Marking == (shop.Marking{}) {
		o.Marking = shop.Unknown().Marking
	}
	m := Markout{Smallest: o.Smallest}
	shapes := findShapes(a)
	refs := chooseReferences(a, shapes)
	for i := range a.Parts {
		m.Sheets = append(m.Sheets, newSheet(a, i, refs[i], shapes))
	}
	m.Mates = pairUp(a, m.Sheets, o.Smallest)
	setStops(m.Sheets, o.GlueSpace)
	setEnters(m.Sheets, m.Mates, o.Enters)
	sameSheets(m.Sheets)
	m.Setups = findSetups(a, m)
	m.Gauges = findGauges(a, m)
	m.Sticks = findSticks(a, m)
	m.Joints, m.Working = expectErrors(a, m, o.Marking)
	return m
}

func newSheet(a assembly.Assembly, part int, r References, shapes []shape) Sheet {
	s := Sheet{
		Part: part, References: r, SameAs: part,
		FaceName: SideName(a, part, r.Face), EdgeName: SideName(a, part, r.Edge), EndName: SideName(a, part, r.End),
		Tapes: tapes(a.Parts[part], r),
	}
	s.Shape, s.Alike, s.Mirrors = relatives(shapes, part)
	for f := range a.Parts[part].Features {
		s.Marks = append(s.Marks, newMark(a.Parts[part], f, r))
	}
	return s
}

// setStops gives every cut with a depth the setting of its stop.
func setStops(sheets []Sheet, glueSpace unit.Length) {
	for i := range sheets {
		for k := range sheets[i].Marks {
			m := &sheets[i].Marks[k]
			m.Stop = m.Depth
			if m.Mate != nil && m.Kind != assembly.Tenon && m.Depth > 0 {
				m.Stop += glueSpace
			}
		}
	}
}

// setEnters notes how deep what is inserted goes into the cuts of each mate: a tenon as far as it is long, a dowel as its joint
// says.
func setEnters(sheets []Sheet, mates []Mate, enters func(int) (unit.Length, unit.Length)) {
	for _, m := range mates {
		onA, onB := &sheets[m.A.Part].Marks[m.A.Mark], &sheets[m.B.Part].Marks[m.B.Mark]
		switch {
		case onA.Kind == assembly.Tenon:
			onB.Enters = onA.Depth
		case onB.Kind == assembly.Tenon:
			onA.Enters = onB.Depth
		case enters != nil:
			da, db := enters(m.Connection)
			onA.Enters, onB.Enters = min(da, onA.Depth), min(db, onB.Depth)
		}
	}
}
