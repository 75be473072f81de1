package piece

import "longgrain/internal/ground/unit"

// Stance says how a part is turned out of the three directions, and which of its sides are cut at an angle so that it
// meets the floor or its neighbours. It is worked out in this order: the part leans about its middle, is turned about an
// upright line, then its long sides and last its ends are cut.
type Stance struct {
	Lean *Lean `json:"lean,omitempty" jsonschema_description:"How far the part leans"`
	// Turn is anticlockwise as seen from above.
	Turn   float64        `json:"turn,omitempty" span:"-360..360" jsonschema_description:"Degrees that the part is turned about an upright line, anticlockwise as seen from above"`
	About  []unit.Measure `json:"about,omitempty" span:"-10 m..10 m" jsonschema_description:"The upright line that it is turned about, as right, back; the middle of the part when left out"`
	Angled []Angled       `json:"angled,omitempty" jsonschema_description:"Sides cut at an angle to meet something"`
}

// Lean is how far a part leans from the way it was placed, in degrees, as seen from the front and from the side.
type Lean struct {
	Right float64 `json:"right,omitempty" span:"-60..60" jsonschema_description:"Degrees that its upper side leans to the right as seen from the front; below 0 to the left"`
	Back  float64 `json:"back,omitempty" span:"-60..60" jsonschema_description:"Degrees that its upper side leans to the back as seen from the side; below 0 to the front"`
}

// Angled is one side cut at an angle. An end is cut where it meets the other side, and the part becomes as long as that
// takes; a long side keeps its size, and the part moves until it touches.
type Angled struct {
	Side string `json:"side" jsonschema:"enum=left,enum=right,enum=front,enum=back,enum=bottom,enum=top" jsonschema_description:"The side, by where it looks before the part leans and turns"`
	To   string `json:"to" jsonschema_description:"What it meets: floor, or the name of a part"`
}

// Floor is what a side of a part meets that stands on the floor.
const Floor = "floor"

// Stands tells whether the stance says anything.
func (s Stance) Stands() bool {
	return s.Lean != nil || s.Turn != 0 || len(s.About) > 0 || len(s.Angled) > 0
}
