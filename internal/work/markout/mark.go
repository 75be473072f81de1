package markout

import (
	"fmt"
	"slices"
	"strings"

	"longgrain/internal/design/assembly"
	"longgrain/internal/ground/geom"
	"longgrain/internal/ground/unit"
)

// newMark measures one feature from the references of its part, not yet rounded.
func newMark(p assembly.Part, feature int, r References) Mark {
	f := p.Features[feature]
	ua, va := f.Side.UV()
	m := Mark{
		Feature: feature, Kind: f.Kind, What: what(f), Side: f.Side,
		Diameter: f.Diameter, Length: f.Length, Width: f.Width, Depth: f.Depth,
		Tilt: f.Tilt, Rounded: f.Rounded, Tool: f.Tool, For: f.For,
	}
	if f.Kind == assembly.TaperCut {
		m.Width = p.Size(va)
	}
	u, v := middle(p, f)
	if f.Kind == assembly.BevelCut {
		m.Bevel, m.Depth = newBevel(p, f, r), 0
	} else if _, angled := p.Bevel(f.Side); angled {
		return m.inSlope(p, f, r)
	}
	if f.Side.IsEnd() && r.Edge.Axis() == va {
		ua, va, u, v = va, ua, v, u
		m.Length, m.Width = m.Width, m.Length
	}
	m.AlongFrom, m.AcrossFrom = r.Across(ua), r.Across(va)
	m.Along, m.Across = measured(p, m.AlongFrom, u), measured(p, m.AcrossFrom, v)
	m.Exact = [2]unit.Length{m.Along, m.Across}
	if m.AlongFrom.High() {
		m.Tilt = -m.Tilt
	}
	return m
}

// middle returns the centre of a feature in the u and v of its side.
func middle(p assembly.Part, f assembly.Feature) (u, v unit.Length) {
	switch f.Kind {
	case assembly.Groove, assembly.Rebate, assembly.BevelCut:
		return f.U + f.Length/2, f.V + f.Width/2
	case assembly.TaperCut:
		_, va := f.Side.UV()
		return f.U + f.Length/2, p.Size(va) / 2
	}
	return f.U, f.V
}

// measured returns how far a local coordinate lies from a side square to its axis.
func measured(p assembly.Part, from assembly.Side, at unit.Length) unit.Length {
	if from.High() {
		return p.Size(from.Axis()) - at
	}
	return at
}

func what(f assembly.Feature) string {
	switch {
	case f.Kind == assembly.Bore && f.Tilt != 0:
		return "slanted bore"
	case f.Kind == assembly.BevelCut && f.Side.IsEnd():
		return "angled end"
	case f.Kind == assembly.BevelCut:
		return "bevel"
	}
	return string(f.Kind)
}

// At returns the local u and v of the mark, as marked, on its side of the part.
func (m Mark) At(p assembly.Part) (u, v unit.Length) {
	if m.Slope != nil {
		return m.Slope.at(m)
	}
	along, across := measured(p, m.AlongFrom, m.Along), measured(p, m.AcrossFrom, m.Across)
	if ua, _ := m.Side.UV(); m.AlongFrom.Axis() != ua {
		return across, along
	}
	return along, across
}

// AlongStations returns what is measured in the direction of Along: the middle of a bore, else where
// the cut begins and ends.
func (m Mark) AlongStations() []unit.Length { return stations(m.Along, m.Length, m.Kind) }

// AcrossStations returns what is measured in the direction of Across.
func (m Mark) AcrossStations() []unit.Length { return stations(m.Across, m.Width, m.Kind) }

func stations(middle, extent unit.Length, kind assembly.FeatureKind) []unit.Length {
	if kind == assembly.Bore || extent == 0 {
		return []unit.Length{middle}
	}
	return []unit.Length{middle - extent/2, middle - extent/2 + extent}
}

// Size says how large the cut is, for a note on a drawing: "Ø10, 30 deep".
func (m Mark) Size(f unit.Family) string {
	var size string
	switch m.Kind {
	case assembly.Bore:
		size = "Ø" + m.Diameter.ShowNumber(f)
	case assembly.BevelCut:
		return m.Bevel.Short(m.Side)
	case assembly.TaperCut:
		return fmt.Sprintf("taper to %s off", m.Depth.ShowNumber(f))
	case assembly.Tenon:
		return fmt.Sprintf("tenon %s × %s, %s long", m.Length.ShowNumber(f), m.Width.ShowNumber(f), m.Depth.ShowNumber(f))
	default:
		size = fmt.Sprintf("%s %s × %s", m.What, m.Length.ShowNumber(f), m.Width.ShowNumber(f))
	}
	if m.Tilt != 0 {
		size += fmt.Sprintf(" at %.0f°", max(float64(m.Tilt), -float64(m.Tilt)))
	}
	if m.Stop > 0 {
		size += ", " + m.Stop.ShowNumber(f) + " deep"
	}
	return size
}

// tapes returns the words that the maker puts on the references of a part: the mark of the part on
// the face, and on each what it is. A side that looks up in the finished piece says so.
func tapes(p assembly.Part, r References) []Tape {
	out := []Tape{{r.Face, p.Mark + " FACE"}, {r.Edge, "EDGE"}, {r.End, "END"}}
	for i := range out {
		if p.Outward(out[i].Side).Dot(geom.Vec{Z: 1}) > 0.8 {
			out[i].Text += ", TOP"
		}
	}
	return out
}

// sameSheets finds sheets that read alike, mark for mark, so that one drawing serves several parts.
func sameSheets(sheets []Sheet) {
	first := map[string]int{}
	for i := range sheets {
		key := sheets[i].reading()
		if k, seen := first[key]; seen {
			sheets[i].SameAs = k
		} else {
			first[key] = sheets[i].Part
		}
	}
}

// reading writes a sheet without the names of sides and connections: what the maker reads off it.
func (s Sheet) reading() string {
	r := s.References
	lines := make([]string, len(s.Marks))
	for i, m := range s.Marks {
		lines[i] = fmt.Sprint(m.What, r.Role(m.Side), r.Role(m.AlongFrom), r.Role(m.AcrossFrom), m.Along, m.Across, m.Diameter,
			m.Length, m.Width, m.Stop, m.Tilt, m.Rounded, m.Tool)
		if m.Bevel != nil {
			lines[i] += fmt.Sprintf("%s longest at %v", m.Bevel.Short(m.Side), m.Bevel.Longest)
		}
	}
	slices.Sort(lines)
	return fmt.Sprintf("shape %d hand %t\n%s", s.Shape, r.rightHanded(), strings.Join(lines, "\n"))
}

// rightHanded tells on which hand the reference end lies when the maker looks at the reference face
// with the reference edge up: true for the left hand.
func (r References) rightHanded() bool {
	return r.outward(r.Face).Cross(r.outward(r.Edge)).Dot(r.outward(r.End)) > 0
}

// EndAtLeft tells whether the reference end is at the left hand of a maker who looks at the reference
// face with the reference edge away from him, up on a drawing.
func (s Sheet) EndAtLeft() bool { return s.References.rightHanded() }

func (References) outward(s assembly.Side) geom.Vec {
	d := geom.Axis(s.Axis())
	if s.High() {
		return d
	}
	return d.Neg()
}

// SideName says in words which side of a part is meant, like the assembly does, but calls the long
// sides of a square part sides: nobody can tell its faces from its edges.
func SideName(a assembly.Assembly, part int, s assembly.Side) string {
	name := a.SideName(part, s)
	if p := a.Parts[part]; p.Width == p.Thickness {
		name = strings.NewReplacer("face", "side", "edge", "side").Replace(name)
	}
	return name
}
