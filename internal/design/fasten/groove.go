package fasten

import (
	"longgrain/internal/design/assembly"
	"longgrain/internal/ground/unit"
)

// PanelGroove holds a panel in grooves of a frame, where it swells and shrinks.
const PanelGroove Way = "panel groove"

// Panels in grooves. Common practice: a groove at least 8 mm deep and a third of the frame's thickness wide at most, 6 mm of it always
// filled, and a millimetre of air behind the ends, which hardly move.
const (
	grooveLeast = 8 * unit.Millimetre
	grooveHold  = 6 * unit.Millimetre
	grooveAir   = unit.Millimetre
	tongueLeast = 4 * unit.Millimetre
)

// panelGroove cuts a groove into a part of the frame and a tongue on the side of the panel that stands in it. The panel is held on its
// middle line: each long side travels with half its width.
//
//	depth = swell/2 + shrink/2 + 2 c + 6 mm, 8 mm at least;  gap = swell/2 + c
//
// c is the clearance of package movement, which comes in with the travel. The corners of the panel are cut away by the depth of the
// tongues, where the joints of the frame are. Source: proportion, closed form; 6 and 8 mm are common practice.
func panelGroove(a assembly.Assembly, connection int, travel func(unit.Length) Play, mark unit.Length) Fastening {
	c := a.Connections[connection]
	frame, in := c.A, c.B
	if a.Parts[frame.Part].Role == "panel" {
		frame, in = in, frame
	}
	r, p := a.Parts[frame.Part], a.Parts[in.Part]
	f := Fastening{Way: PanelGroove, Connection: connection, Rail: r.Name, Top: p.Name, Fixed: -1, Across: in.Side.Axis() == 1, Minutes: minutes(PanelGroove, 1)}
	play := travel(p.Width / 2)
	f.SlotDepth = max(grooveLeast, (play.Outward + play.Inward + grooveHold).CeilTo(mark))
	f.Gap = grooveAir
	if f.Across {
		f.Gap = play.Outward.CeilTo(mark)
	}
	_, v := frame.Side.UV()
	thick := r.Size(v)
	f.SlotWidth = p.Thickness
	if third := (thick / 3).RoundTo(mark); thick == r.Thickness && f.SlotWidth > third {
		f.SlotWidth = max(tongueLeast, third)
	}
	if f.SlotDepth > r.Size(frame.Side.Axis())-bareWall {
		f.Notes = append(f.Notes, "the frame is too narrow for the groove that the panel wants: make the frame wider or the panel narrower")
		f.SlotDepth = r.Size(frame.Side.Axis()) - bareWall
	}
	u, w := frame.Area.Centre()
	long := max(frame.Area.SizeU(), frame.Area.SizeV())
	cut := assembly.Feature{Kind: assembly.Groove, Side: frame.Side, Length: long, Width: f.SlotWidth, Depth: f.SlotDepth, For: c.Name}
	if frame.Area.SizeV() > frame.Area.SizeU() {
		cut.Length, cut.Width = cut.Width, cut.Length
	}
	cut.U, cut.V = u-cut.Length/2, w-cut.Width/2 // a groove is placed by its corner
	f.Features = []assembly.Feature{cut}
	u, w = in.Area.Centre()
	tongue := assembly.Feature{Kind: assembly.Tenon, Side: in.Side, U: u, V: w, Length: long, Width: f.SlotWidth, Depth: f.SlotDepth - f.Gap, For: c.Name}
	if in.Area.SizeV() > in.Area.SizeU() {
		tongue.Length, tongue.Width = tongue.Width, tongue.Length
	}
	f.OnTop = []assembly.Feature{tongue}
	f.SlotLength, f.At = []unit.Length{long}, []unit.Length{u}
	return f
}
