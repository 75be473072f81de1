package fasten

import (
	"fmt"

	"longgrain/internal/design/assembly"
	"longgrain/internal/ground/unit"
)

// The ways in which a part rests on, hangs from or slides in others without being held by glue.
const (
	ShelfPins Way = "shelf pins" // a loose shelf on four pins
	Rests     Way = "rests"      // lies on the other part by its weight, as a lid does
)

// Item is hardware to buy.
type Item struct {
	Name  string `json:"name"`
	Count int    `json:"count"`
}

// Pins of loose shelves. Common practice: pins of 5 mm, 10 mm deep, rows 32 mm apart, a place above and one below the planned one;
// their columns 40 mm from the edges of the shelf, or a quarter of its depth where that is less.
const (
	pinDiameter = 5 * unit.Millimetre
	pinDepth    = 10 * unit.Millimetre
	pinInset    = 40 * unit.Millimetre
	pinRow      = 32 * unit.Millimetre
	pinRows     = 3
	// pinWood is what stays between a row of holes and the place of another part. Judgement: three diameters.
	pinWood = 15 * unit.Millimetre
)

// shelfPins bores rows of holes for the pins of one end of a loose shelf: the middle row carries it where it is drawn.
func shelfPins(a assembly.Assembly, connection int, _ func(unit.Length) Play, mark unit.Length) Fastening {
	c := a.Connections[connection]
	s := seatOf(a, c)
	f := Fastening{Way: ShelfPins, Connection: connection, Rail: s.r.Name, Top: s.t.Name, Fixed: -1, SlotWidth: pinDiameter, SlotDepth: min(pinDepth, s.r.Thickness-bareWall)}
	area := s.rail.Area
	inset := min(pinInset, area.SizeV()/4)
	columns := []unit.Length{(area.V0 + inset).RoundTo(mark), (area.V1 - inset).RoundTo(mark)}
	up, under := unit.Length(1), area.U0-pinDiameter/2
	if s.r.Pose.Axes[0].Z < 0 {
		up, under = -1, area.U1+pinDiameter/2
	}
	rows := pinRows
	if c.Wish != nil && c.Wish.Count > 0 {
		rows = c.Wish.Count
	}
	taken := contactsOn(a, s.rail, connection)
	for k := range rows {
		u := (under + up*pinRow*unit.Length(k-(rows-1)/2)).RoundTo(mark)
		if k != (rows-1)/2 && !clearOf(u, taken, s.r.Length) {
			continue
		}
		f.At = append(f.At, u)
		for _, v := range columns {
			f.Features = append(f.Features, assembly.Feature{Kind: assembly.Bore, Side: s.rail.Side, U: u, V: v, Diameter: pinDiameter, Depth: f.SlotDepth, For: c.Name})
		}
	}
	f.Columns = columns
	f.Hardware = []Item{{fmt.Sprintf("shelf pin %s", pinDiameter.Show(unit.Metric)), len(columns)}}
	f.Minutes = minutes(ShelfPins, len(f.Features))
	return f
}

// contactsOn returns how far along a part its other contacts on or beside a side reach.
func contactsOn(a assembly.Assembly, at assembly.Place, except int) [][2]unit.Length {
	var out [][2]unit.Length
	for i, c := range a.Connections {
		for _, p := range [2]assembly.Place{c.A, c.B} {
			if i != except && p.Part == at.Part && !p.Side.IsEnd() && p.Side == at.Side {
				out = append(out, [2]unit.Length{p.Area.U0, p.Area.U1})
			}
		}
	}
	return out
}

// clearOf tells whether a row of holes keeps clear of other parts and of the ends.
func clearOf(u unit.Length, taken [][2]unit.Length, length unit.Length) bool {
	if u < 2*pinWood || u > length-2*pinWood {
		return false
	}
	for _, t := range taken {
		if u > t[0]-pinWood && u < t[1]+pinWood {
			return false
		}
	}
	return true
}

// rests is a part that lies on another by its weight.
func rests(a assembly.Assembly, connection int, _ func(unit.Length) Play, _ unit.Length) Fastening {
	s := seatOf(a, a.Connections[connection])
	return Fastening{Way: Rests, Connection: connection, Rail: s.r.Name, Top: s.t.Name, Fixed: -1}
}
