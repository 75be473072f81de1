package drawing

import (
	"math"

	"longgrain/internal/paper/scene"
)

// labelMargin is the free room on a dimension line that a label needs beside itself, mm.
const labelMargin = 1.2

// measure asks for a dimension in the book's lettering. A label that does not fit between its arrows
// would be set in small letters there; no-break spaces make it too wide for that too, so that it is set
// beside the arrows in full size, where it can be read at arm's length.
func measure(d *scene.Dimensions, side scene.Side, from, to scene.Point, label string) {
	room := math.Abs(to.X - from.X)
	if side == scene.LeftOf || side == scene.RightOf {
		room = math.Abs(to.Y - from.Y)
	}
	if scene.TextWidth(label, Lettering, scene.Regular) > room-labelMargin {
		for scene.TextWidth(label, scene.SmallHeight, scene.Regular) <= room {
			label = "\u00a0" + label + "\u00a0"
		}
	}
	d.Linear(side, from, to, label)
}
