package joint

import (
	"math"

	"longgrain/internal/design/assembly"
	"longgrain/internal/ground/geom"
	"longgrain/internal/ground/unit"
	"longgrain/internal/trade/hardware"
)

// Buttons hold a top to a rail and let it move.
const Buttons Kind = "buttons"

// Play is what a fastening at some distance from the line at which a top is held fast must allow: the
// tongue of its button may travel so far outward and inward.
type Play struct {
	Outward, Inward unit.Length
}

// Fastening holds a top, seat or shelf to a rail with wooden buttons: a tongue of each sits in a slot of the
// rail's inner face, and a screw goes up into the top.
type Fastening struct {
	Connection int                `json:"connection"` // index into the assembly
	Rail       string             `json:"rail"`
	Top        string             `json:"top"`
	Across     bool               `json:"across"` // the rail runs across the grain of the top, so buttons slide along it
	At         []unit.Length      `json:"at"`     // middles of the buttons, from the low end of the rail
	Fixed      int                `json:"fixed"`  // index of the button that holds the top fast; -1 when all move
	SlotLength []unit.Length      `json:"slotLength"`
	SlotWidth  unit.Length        `json:"slotWidth"`
	SlotDepth  unit.Length        `json:"slotDepth"`
	Gap        unit.Length        `json:"gap"`     // left between tongue and slot bottom when fitted
	FromTop    unit.Length        `json:"fromTop"` // from the upper edge of the rail to the slot
	Minutes    unit.Minutes       `json:"minutes"`
	Features   []assembly.Feature `json:"-"` // on the rail
	Notes      []string           `json:"notes,omitempty"`
}

// Buttons: a tongue that stays at least hold deep in its slot. Common practice, docs/methods/joints.md.
const (
	buttonWidth  = 30 * unit.Millimetre
	buttonHold   = 6 * unit.Millimetre
	buttonInset  = 60 * unit.Millimetre // first and last button from the end of the rail, at most
	buttonsLeast = 2                    // but one on a rail too short for two
)

// Fasten works out the buttons between a rail and a top. travel gives the play at a distance from the top's
// middle line, which is held fast. mark is the smallest mark of the shop.
func Fasten(a assembly.Assembly, connection int, travel func(distance unit.Length) Play, mark unit.Length) Fastening {
	c := a.Connections[connection]
	rail, top := c.A, c.B
	if isSurface(a.Parts[rail.Part]) {
		rail, top = top, rail
	}
	r, t := a.Parts[rail.Part], a.Parts[top.Part]
	button := hardware.Fastenings()[0]
	f := Fastening{Connection: connection, Rail: r.Name, Top: t.Name, Fixed: -1, SlotWidth: button.GrooveWidth, FromTop: button.GrooveFromTop,
		Across: geom.Parallel(r.Pose.Axes[0], t.Pose.Axes[1])}
	inner := innerSide(a, rail, top)
	middle := t.Pose.Out(geom.Vec{X: t.Length.MM() / 2, Y: t.Width.MM() / 2})
	away := func(x unit.Length) unit.Length {
		return unit.MM(math.Abs(r.OnSide(inner, x, 0, 0).Sub(middle).Dot(t.Pose.Axes[1])))
	}
	longest := buttonWidth
	if most := travel(max(away(0), away(r.Length))); f.Across {
		longest += (most.Outward + most.Inward).CeilTo(mark)
	}
	hollow := cutBack(r)
	if hollow > 0 {
		hollow += bareWall + longest/2
	}
	f.At = places(r.Length, hollow, button.Spacing, f.Across, mark)
	f.Minutes = minutes(Buttons, len(f.At))
	for i, x := range f.At {
		distance := away(x)
		play := travel(distance)
		length := buttonWidth
		if f.Across {
			length += (play.Outward + play.Inward).CeilTo(mark)
			if distance < buttonWidth/2 {
				f.Fixed, length = i, buttonWidth
			}
			f.SlotDepth = max(f.SlotDepth, button.GrooveDepth)
		} else {
			f.Gap = play.Outward.CeilTo(mark)
			f.SlotDepth = max(f.SlotDepth, (play.Outward + play.Inward + buttonHold).CeilTo(mark), button.GrooveDepth)
		}
		f.SlotLength = append(f.SlotLength, length)
	}
	if f.SlotDepth > r.Thickness-bareWall {
		f.SlotDepth = r.Thickness - bareWall
		f.Notes = append(f.Notes, "the rail is too thin for the full travel of the tongue: use a thicker rail or slotted screws")
	}
	f.features(a, rail, inner, c.Name)
	return f
}

func isSurface(p assembly.Part) bool {
	switch p.Role {
	case "top", "seat", "shelf", "tread":
		return true
	}
	return false
}

// cutBack returns how far from its ends a rail is hollow already: bores and slots in the ends, and pocket holes that come out of
// its face.
func cutBack(r assembly.Part) unit.Length {
	var most unit.Length
	for _, f := range r.Features {
		reach := f.Depth
		switch {
		case f.Kind == assembly.Tenon || f.Kind == assembly.TaperCut || (!f.Side.IsEnd() && f.Tilt == 0):
			continue
		case !f.Side.IsEnd():
			mouth := f.Diameter.Scale(0.5 / math.Cos(float64(f.Tilt)*math.Pi/180))
			reach = min(f.U, r.Length-f.U) + mouth
		}
		most = max(most, reach)
	}
	return most
}

// places spreads buttons along a rail, near its ends but no nearer than what is cut there allows, and at most the spacing
// apart. On a rail across the grain of the top their number is odd, so that one stands in the middle and holds the top fast.
func places(length, nearest, spacing unit.Length, odd bool, mark unit.Length) []unit.Length {
	inset := min(max(min(buttonInset, length/4), nearest), length/2)
	n := max(buttonsLeast, int(math.Ceil(float64(length-2*inset)/float64(spacing)))+1)
	if odd && n%2 == 0 {
		n++
	}
	for n > 1 && (length-2*inset)/unit.Length(n-1) < 2*buttonWidth {
		n -= 2 // a short rail has room for one
	}
	if n < 2 {
		return []unit.Length{(length / 2).RoundTo(mark)}
	}
	out := make([]unit.Length, n)
	for i := range out {
		out[i] = (inset + (length-2*inset)*unit.Length(i)/unit.Length(n-1)).RoundTo(mark)
	}
	return out
}

// innerSide returns the wide face of a rail that looks to the middle of the top.
func innerSide(a assembly.Assembly, rail, top assembly.Place) assembly.Side {
	r, t := a.Parts[rail.Part], a.Parts[top.Part]
	if t.Box().Centre().Sub(r.Box().Centre()).Dot(r.Pose.Axes[2]) > 0 {
		return assembly.FaceHigh
	}
	return assembly.FaceLow
}

// features cuts the slots into the rail's inner face, FromTop below the side that meets the top.
func (f *Fastening) features(a assembly.Assembly, rail assembly.Place, inner assembly.Side, name string) {
	r := a.Parts[rail.Part]
	v := f.FromTop + f.SlotWidth/2
	if rail.Side.High() {
		v = r.Width - v
	}
	for i, x := range f.At {
		f.Features = append(f.Features, assembly.Feature{Kind: assembly.Slot, Side: inner, U: x, V: v,
			Length: f.SlotLength[i], Width: f.SlotWidth, Depth: f.SlotDepth, Rounded: true, For: name})
	}
}
