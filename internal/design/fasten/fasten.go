// Package fasten works out how a top, seat or shelf is held to a rail so that it can swell and shrink: wooden buttons in slots
// of the rail's face, or screws in slotted holes of its edge; and how parts that no glue holds rest on others: a shelf on pins.
//
// In go the assembly with its joints cut, a connection, and how far the top travels at a distance from the line at which it is
// held fast; out come places, slots and the cuts of the rail. Strength is not worked out: a top on fastenings never braces the
// frame.
package fasten

import (
	_ "embed"
	"math"
	"slices"

	"longgrain/internal/design/assembly"
	"longgrain/internal/ground/geom"
	"longgrain/internal/ground/source"
	"longgrain/internal/ground/unit"
	"longgrain/internal/trade/hardware"
)

// Way is a way to hold a top, in the words of the piece file.
type Way string

// The ways.
const (
	Buttons       Way = "buttons"
	SlottedScrews Way = "slotted screws"
)

//go:embed minutes.csv
var minutesCSV string

var times = readTimes()

func readTimes() map[Way][2]unit.Minutes {
	out := map[Way][2]unit.Minutes{}
	for _, r := range source.Table("minutes.csv", minutesCSV) {
		out[Way(r.Text("kind"))] = [2]unit.Minutes{unit.Minutes(r.Number("joint")), unit.Minutes(r.Number("each"))}
	}
	return out
}

// minutes returns the working time of n fastenings on one rail. Nobody has published such times: they are assumed.
func minutes(w Way, n int) unit.Minutes { return times[w][0] + unit.Minutes(n)*times[w][1] }

// bareWall is what stays standing of a thin rail. Common practice: rule D10 leaves 3 mm between bores.
const bareWall = 3 * unit.Millimetre

// Play is what a fastening at some distance from the line at which a top is held fast must allow: the
// tongue of its button may travel so far outward and inward.
type Play struct {
	Outward, Inward unit.Length
}

// Fastening holds a top, seat or shelf to a rail. With wooden buttons a tongue of each sits in a slot of the rail's inner face,
// and a screw goes up into the top; with slotted screws the screw goes up through the rail itself.
type Fastening struct {
	Way        Way                `json:"way"`
	Connection int                `json:"connection"` // index into the assembly
	Rail       string             `json:"rail"`
	Top        string             `json:"top"`
	Across     bool               `json:"across"` // the rail runs across the grain of the top, so that the top slides along it
	At         []unit.Length      `json:"at"`     // middles of the buttons or screws, from the low end of the rail
	Fixed      int                `json:"fixed"`  // index of the button or screw that holds the top fast; -1 when all move
	SlotLength []unit.Length      `json:"slotLength"`
	SlotWidth  unit.Length        `json:"slotWidth"`
	SlotDepth  unit.Length        `json:"slotDepth"`
	Gap        unit.Length        `json:"gap"`            // left between tongue and slot bottom when fitted; of buttons
	FromTop    unit.Length        `json:"fromTop"`        // from the upper edge of the rail to the slot; of buttons
	Seat       unit.Length        `json:"seat,omitempty"` // depth of the hole for the head, from the lower edge; of slotted screws
	Minutes    unit.Minutes       `json:"minutes"`
	Columns    []unit.Length      `json:"columns,omitempty"` // of the holes for pins, from the low edge of the upright
	Features   []assembly.Feature `json:"-"`                 // on the rail
	Hardware   []Item             `json:"hardware,omitempty"`
	Cautions   []string           `json:"cautions,omitempty"`
	Notes      []string           `json:"notes,omitempty"`
}

// Buttons: a tongue that stays at least hold deep in its slot. Common practice, docs/methods/joints.md.
const (
	buttonWidth  = 30 * unit.Millimetre
	buttonHold   = 6 * unit.Millimetre
	buttonInset  = 60 * unit.Millimetre // first and last button from the end of the rail, at most
	buttonsLeast = 2                    // but one on a rail too short for two
)

// made says how each way is worked out.
var made = map[Way]func(a assembly.Assembly, connection int, travel func(unit.Length) Play, mark unit.Length) Fastening{
	Buttons: buttons, SlottedScrews: slotted, ShelfPins: shelfPins, Rests: rests,
}

// Fasten works out the fastenings between a rail and a top: those that the maker fixed for the connection, else buttons. travel
// gives the play at a distance from the top's middle line, which is held fast. mark is the smallest mark of the shop.
func Fasten(a assembly.Assembly, connection int, travel func(distance unit.Length) Play, mark unit.Length) Fastening {
	c := a.Connections[connection]
	if c.Wish != nil {
		if make, ok := made[Way(c.Wish.Kind)]; ok {
			return make(a, connection, travel, mark)
		}
	}
	f := buttons(a, connection, travel, mark)
	if c.Wish != nil {
		f.Notes = append(f.Notes, c.Wish.Kind+" do not let a top move: buttons are worked out in their place")
	}
	return f
}

// seat says what a fastening goes between, and where the middle of the top lies.
type seat struct {
	rail, top assembly.Place
	r, t      assembly.Part
	inner     assembly.Side // face of the rail that looks to the middle of the top
	across    bool          // the rail runs across the grain of the top
}

func seatOf(a assembly.Assembly, c assembly.Connection) seat {
	s := seat{rail: c.A, top: c.B}
	if isSurface(a.Parts[s.rail.Part]) {
		s.rail, s.top = s.top, s.rail
	}
	s.r, s.t = a.Parts[s.rail.Part], a.Parts[s.top.Part]
	s.inner = innerSide(a, s.rail, s.top)
	s.across = geom.Parallel(s.r.Pose.Axes[0], s.t.Pose.Axes[1])
	return s
}

// away returns how far a place of the rail lies from the middle line of the top.
func (s seat) away(x unit.Length) unit.Length {
	middle := s.t.Pose.Out(geom.Vec{X: s.t.Length.MM() / 2, Y: s.t.Width.MM() / 2})
	return unit.MM(math.Abs(s.r.OnSide(s.inner, x, 0, 0).Sub(middle).Dot(s.t.Pose.Axes[1])))
}

// buttons works out wooden buttons.
func buttons(a assembly.Assembly, connection int, travel func(distance unit.Length) Play, mark unit.Length) Fastening {
	c := a.Connections[connection]
	s := seatOf(a, c)
	rail, inner, r, t, away := s.rail, s.inner, s.r, s.t, s.away
	button := hardware.Fastenings()[0]
	f := Fastening{Connection: connection, Rail: r.Name, Top: t.Name, Fixed: -1, SlotWidth: button.GrooveWidth, FromTop: button.GrooveFromTop,
		Across: s.across, Way: Buttons}
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

// Slotted screws. Common practice: number 8 or 4.5 mm, washers under the head, 25 mm of rail above the seat, 12 mm of thread in
// the top at most two thirds of its thickness.
const (
	slotScrew = 9 * unit.Millimetre / 2
	slotFree  = unit.Millimetre / 2 // of the shank in its slot, on either side
	slotSeat  = 12 * unit.Millimetre
	slotWood  = 25 * unit.Millimetre
)

// slotted works out screws through slots in the edge of the rail: along the rail where the top slides along it, else across its
// thickness. Their heads sit in holes bored from the lower edge, deep enough to leave the same wood everywhere.
func slotted(a assembly.Assembly, connection int, travel func(distance unit.Length) Play, mark unit.Length) Fastening {
	c := a.Connections[connection]
	s := seatOf(a, c)
	f := Fastening{Way: SlottedScrews, Connection: connection, Rail: s.r.Name, Top: s.t.Name, Fixed: -1, Across: s.across, SlotDepth: min(slotWood, s.r.Size(s.rail.Side.Axis()))}
	f.Seat = s.r.Size(s.rail.Side.Axis()) - f.SlotDepth
	f.SlotWidth = slotScrew + slotFree
	hollow := cutBack(s.r)
	if hollow > 0 {
		hollow += bareWall + slotSeat
	}
	way := hardware.Fastenings()[0]
	for _, h := range hardware.Fastenings() {
		if h.ID == "slotted-screw" {
			way = h
		}
	}
	f.At = places(s.r.Length, hollow, way.Spacing, f.Across, mark)
	f.Minutes = minutes(SlottedScrews, len(f.At))
	u, v := s.rail.Side.UV()
	thick := s.r.Size(v)
	for i, x := range f.At {
		play := travel(s.away(x))
		length := f.SlotWidth + (play.Outward + play.Inward).CeilTo(mark)
		if f.Across && s.away(x) < slotSeat {
			f.Fixed, length = i, f.SlotWidth
		}
		if most := thick - 2*bareWall; !f.Across && length > most {
			length = most
			f.Notes = append(f.Notes, "the rail is too thin for the full travel of its screws: use a thicker rail or buttons")
		}
		f.SlotLength = append(f.SlotLength, length)
		cut := assembly.Feature{Kind: assembly.Slot, Side: s.rail.Side, U: x, V: thick / 2, Length: length, Width: f.SlotWidth, Depth: f.SlotDepth, Rounded: true, For: c.Name}
		if !f.Across {
			cut.Length, cut.Width = cut.Width, cut.Length
		}
		if u != 0 {
			cut.U, cut.V, cut.Length, cut.Width = cut.V, cut.U, cut.Width, cut.Length
		}
		f.Features = append(f.Features, cut)
		if f.Seat > 0 {
			f.Features = append(f.Features, assembly.Feature{Kind: assembly.Bore, Side: s.rail.Side.Opposite(), U: cut.U, V: cut.V, Diameter: min(slotSeat, thick-2*bareWall), Depth: f.Seat, For: c.Name})
		}
	}
	f.Notes = dedupe(f.Notes)
	return f
}

func dedupe(notes []string) []string {
	var out []string
	for _, n := range notes {
		if !slices.Contains(out, n) {
			out = append(out, n)
		}
	}
	return out
}
