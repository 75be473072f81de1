package piece

import (
	"fmt"

	"longgrain/internal/ground/formula"
	"longgrain/internal/ground/problem"
	"longgrain/internal/ground/strict"
	"longgrain/internal/ground/unit"
)

// MaxDimensions bounds the names of a piece. Judgement: more is a slip.
const MaxDimensions = 200

// Dimension is a name for a length or a number, as written and as worked out.
type Dimension struct {
	Name  string
	Text  string
	Value formula.Value
}

// Place says where one side of a part lies, measured from a side of another.
type Place struct {
	Side string `json:"side" jsonschema:"enum=left,enum=right,enum=front,enum=back,enum=bottom,enum=top,enum=middle x,enum=middle y,enum=middle z" jsonschema_description:"The side of this part, or its middle from left to right (x), front to back (y), bottom to top (z)"`
	Of   string `json:"of" jsonschema_description:"The other part"`
	// To is empty for the side of the same name.
	To  string       `json:"to,omitempty" jsonschema:"enum=left,enum=right,enum=front,enum=back,enum=bottom,enum=top,enum=middle x,enum=middle y,enum=middle z" jsonschema_description:"The side of the other part; that of the same name when left out"`
	In  unit.Measure `json:"in,omitempty" span:"-10 m..10 m" jsonschema_description:"How far from that side into the other part, such as 20 mm from the front"`
	Out unit.Measure `json:"out,omitempty" span:"-10 m..10 m" jsonschema_description:"How far from that side away from the other part"`
}

// Repeat copies parts with the connections between them, and with those to parts that are not copied where the copy touches them.
type Repeat struct {
	Parts  []string `json:"parts" jsonschema_description:"Names of the parts to copy"`
	Mirror *Mirror  `json:"mirror,omitempty" jsonschema_description:"Copied as in a mirror"`
	Turn   *Turn    `json:"turn,omitempty" jsonschema_description:"Copied by turning"`
	// Step is nothing when parts are mirrored or turned only.
	Step   [3]unit.Measure `json:"step,omitempty" span:"-10 m..10 m" jsonschema_description:"How far each copy lies from the one before: right, back, up"`
	Count  int             `json:"count,omitempty" span:"1..200" jsonschema_description:"How many copies are made beside the first; one when left out"`
	Rename []string        `json:"rename,omitempty" jsonschema_description:"A word of the names, and what it becomes in the copy, such as [left, right]; without it copies are numbered"`
	Alone  bool            `json:"alone,omitempty" jsonschema_description:"Copied without the connections to parts that are not copied"`
}

// Mirror is a plane that parts are mirrored in.
type Mirror struct {
	Across string       `json:"across" jsonschema:"enum=x,enum=y,enum=z" jsonschema_description:"Direction square to the mirror: x left to right, y front to back, z bottom to top"`
	At     unit.Measure `json:"at" span:"-10 m..10 m" jsonschema_description:"Where the mirror stands in that direction"`
}

// Turn is a turn by quarters of a circle.
type Turn struct {
	About    string          `json:"about" jsonschema:"enum=x,enum=y,enum=z" jsonschema_description:"Direction of the axis"`
	Quarters int             `json:"quarters,omitempty" span:"-3..3" jsonschema_description:"Quarters of a circle, seen against the axis to the left; one when left out"`
	At       [3]unit.Measure `json:"at" span:"-10 m..10 m" jsonschema_description:"A point of the axis: right, back, up"`
}

// dimensions reads the named dimensions, so that formulas may use them in what is read after.
func (p *Piece) dimensions(root *strict.Value) {
	written := root.Under("dimensions")
	order, named := written.Dimensions(MaxDimensions)
	for _, name := range order {
		if v := named[name]; v != strict.Unknown {
			p.Named = append(p.Named, Dimension{name, written.Under(name).Raw(), v})
		}
	}
	*root = root.WithNames(named)
}

// written tells whether the file has a value at a path.
func (p *Piece) has(path string) bool { _, ok := p.places[path]; return ok }

// checkFree reports sizes that are missing and that nothing gives, and what is said twice.
func (p *Piece) checkFree(i int, report func(code problem.Code, path, what, mend string)) {
	part, path := p.Parts[i], fmt.Sprintf("parts[%d]", i)
	if n := len(part.Between); n != 0 && n != 2 {
		report(problem.WrongKind, path+".between", fmt.Sprintf("has %d items", n), "name the two parts that it reaches between")
	}
	if len(part.Between) == 2 && p.has(path+".length") {
		report(problem.BadGeometry, path+".length", "has a length and reaches between two parts", "take out length: or between:")
	}
	given := part.Like != "" || len(part.Place) > 1
	for _, size := range []struct {
		key, help string
		given     bool
	}{{"length", "along the grain, between shoulders", given || len(part.Between) > 0}, {"width", "across the grain", given}, {"thickness", "the smallest size", given}} {
		if !size.given && !p.has(path+"."+size.key) {
			report(problem.MissingKey, path, fmt.Sprintf("the key %q is missing", size.key), "add "+size.key+": "+size.help)
		}
	}
	for k, place := range part.Place {
		at := fmt.Sprintf("%s.place[%d]", path, k)
		if p.has(at+".in") && p.has(at+".out") {
			report(problem.BadGeometry, at, "lies both into and away from the other part", "take out in: or out:")
		}
		if place.To != "" && place.Side != "" && axisOfSide[place.To] != axisOfSide[place.Side] {
			report(problem.BadGeometry, at+".to", fmt.Sprintf("the %s cannot lie at the %s of another part", place.Side, place.To), "name two sides of one direction, such as left and right")
		}
	}
}

// axisOfSide numbers the direction that a side is square to.
var axisOfSide = map[string]int{"left": 0, "right": 0, "middle x": 0, "front": 1, "back": 1, "middle y": 1, "bottom": 2, "top": 2, "middle z": 2}

// checkRepeats reports repeats that say too little or too much.
func (p *Piece) checkRepeats(report func(code problem.Code, path, what, mend string)) {
	for i, r := range p.Repeats {
		path := fmt.Sprintf("repeats[%d]", i)
		ways := 0
		for _, way := range []bool{r.Mirror != nil, r.Turn != nil, p.has(path + ".step")} {
			if way {
				ways++
			}
		}
		switch {
		case ways != 1:
			report(problem.MissingKey, path, "must say one way of copying", "add mirror:, turn: or step:, and only one of them")
		case len(r.Parts) == 0:
			report(problem.MissingKey, path+".parts", "names no parts", "name the parts to copy")
		case r.Rename != nil && len(r.Rename) != 2:
			report(problem.WrongKind, path+".rename", fmt.Sprintf("has %d items", len(r.Rename)), "write a word of the names and what it becomes")
		case r.Mirror != nil && r.Count > 1:
			report(problem.OutOfRange, path+".count", "a mirror makes one copy", "take count: out")
		}
	}
}
